//! The stretch of a wall that one cladding covers.

use super::Shop;
use super::wall::Wall;
use crate::finding::{Finding, Subject};
use crate::job::building::Cladding;
use crate::quantity::CompressedLength;

/// A cladding on a wall, from one height to another.
pub(super) struct Zone<'a> {
    pub(super) cladding: &'a Cladding,
    pub(super) from: CompressedLength,
    /// The gable counts in: this may be the ridge.
    pub(super) to: CompressedLength,
}

/// The zones of a wall, from the ground up.
pub(super) fn zones<'a>(shop: &mut Shop<'a>, wall: &Wall) -> Vec<Zone<'a>> {
    let job = shop.job;
    let mut zones = Vec::new();
    for name in &wall.claddings {
        let Some(cladding) = job.claddings.iter().find(|cladding| &cladding.name == name) else {
            continue;
        };
        let from = shop.size(cladding.from.as_ref(), CompressedLength::ZERO);
        // Heights of the prototype come down where a storey is left out.
        let heights = &shop.built.heights;
        let from = heights.lowered(from);
        let to = (cladding.to.as_ref())
            .map_or(wall.height(), |to| heights.lowered(shop.size(Some(to), wall.height())));
        if from >= to {
            shop.findings.push(Finding::look(
                Subject::Member(name.clone()),
                format!("{name} on {} ends where it begins", wall.name),
                "look at `from` and `to` of the cladding",
            ));
            continue;
        }
        zones.push(Zone { cladding, from, to: to.min(wall.height()) });
    }
    zones
}
