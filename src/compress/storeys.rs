//! Storeys left out: the ground storey and the top stay, heights come down by what
//! is taken from between.

use std::collections::BTreeMap;

use crate::elevation::sized::Storey;
use crate::elevation::{Body, Elevation};
use crate::quantity::{Compressed, CompressedLength, Length};

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

/// Every way to leave out one storey or more, fewest first.
pub(crate) fn ways(storeys: &[Storey]) -> Vec<Kept> {
    let mut ways = vec![Kept::new()];
    for storey in storeys.iter().filter(|storey| storey.at_least < storey.count) {
        ways = (storey.at_least..=storey.count)
            .rev()
            .flat_map(|count| {
                let name = storey.name.clone();
                ways.iter().map(move |known| {
                    let mut with = known.clone();
                    with.insert(name.clone(), count);
                    with
                })
            })
            .collect();
    }
    let out = |kept: &Kept| -> u32 {
        storeys.iter().map(|it| it.count - kept.get(&it.name).copied().unwrap_or(it.count)).sum()
    };
    ways.retain(|kept| out(kept) > 0);
    ways.sort_by_key(out);
    ways.truncate(MOST);
    ways
}

/// Ways looked at.
const MOST: usize = 6;
