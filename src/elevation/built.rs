//! The building as it will be built: its body, its faces, and what was taken out
//! of its heights.

use std::collections::BTreeMap;

use super::sized::Storey;
use super::{Body, Elevation};
use crate::job::place::RoofFollows;
use crate::quantity::{Compressed, CompressedLength, Length};

/// The building that will be built: the chosen alternative laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// Its body.
    pub body: Body<Compressed>,
    /// How the roof follows the depth.
    pub roof: RoofFollows,
    /// Heights of the prototype that were taken out with their storeys.
    pub heights: Heights,
    /// Its faces, in the order of those of the prototype.
    pub faces: Vec<Elevation<Compressed>>,
}

/// Heights set by hand, as they were found right on the mock-up; what is not set
/// follows from the storeys, the depth and the roof.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SetHeights {
    /// Foot of the wall to eave.
    pub eave: Option<CompressedLength>,
    /// Foot of the wall to ridge.
    pub ridge: Option<CompressedLength>,
}

/// Storeys kept, by name.
pub(crate) type Kept = BTreeMap<String, u32>;

/// The heights that are taken out of the prototype, from the foot of the wall up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Heights {
    /// From and to.
    out: Vec<[CompressedLength; 2]>,
}

impl Heights {
    /// The heights that go when these storeys are kept: the uppermost of each
    /// kind.
    pub(crate) fn of(storeys: &[Storey], kept: &Kept) -> Self {
        let mut out = Vec::new();
        let mut foot = CompressedLength::ZERO;
        for storey in storeys {
            let height = CompressedLength::kept(storey.height);
            let stay = kept.get(&storey.name).map_or(storey.count, |kept| *kept.min(&storey.count));
            let top = foot + height * f64::from(storey.count);
            if stay < storey.count {
                out.push([foot + height * f64::from(stay), top]);
            }
            foot = top;
        }
        Self { out }
    }

    /// All of what is taken out.
    #[must_use]
    pub fn taken(&self) -> CompressedLength {
        self.out.iter().map(|[from, to]| *to - *from).sum()
    }

    /// Where a height of the prototype comes to stand.
    #[must_use]
    pub fn lowered(&self, height: CompressedLength) -> CompressedLength {
        let below = self.out.iter().map(|[from, to]| (height.min(*to) - *from).max(Length::ZERO));
        height - below.sum()
    }

    fn is_out(&self, height: CompressedLength) -> bool {
        self.out.iter().any(|[from, to]| height >= *from && height < *to)
    }

    /// Takes the storeys out of a face: openings that stand in them go.
    pub(crate) fn take_from(&self, face: &mut Elevation<Compressed>) {
        face.holes.retain(|hole| !self.is_out(hole.foot));
        for hole in &mut face.holes {
            hole.foot = self.lowered(hole.foot);
        }
        face.height = self.lowered(face.height);
    }

    /// Takes the storeys out of the body.
    pub(crate) fn lower(&self, body: &mut Body<Compressed>) {
        body.eave -= self.taken();
        body.ridge -= self.taken();
    }
}
