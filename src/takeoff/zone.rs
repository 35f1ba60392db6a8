//! The stretch of a wall that one cladding covers.

use std::sync::Arc;

use super::Shop;
use super::skin::{Skin, foot};
use crate::building::{Origin, Why};
use crate::finding::{Finding, Subject};
use crate::job::building::Cladding;
use crate::job::said::Size;
use crate::quantity::CompressedLength;
use crate::quantity::slack::TOUCH;

/// A cladding on a wall, from one height to another.
pub(super) struct Zone<'a> {
    pub(super) cladding: &'a Cladding,
    pub(super) from: CompressedLength,
    /// The gable counts in: this may be the ridge.
    pub(super) to: CompressedLength,
    /// Why it begins and ends there; its end only where the job says one.
    pub(super) why: (Arc<Origin>, Option<Arc<Origin>>),
}

/// The zones of a layer, from the ground up.
pub(super) fn zones<'a>(shop: &mut Shop<'a>, skin: &Skin<'_>) -> Vec<Zone<'a>> {
    let job = shop.job;
    let wall = &skin.wall;
    let mut zones = Vec::new();
    for name in &skin.layer.claddings {
        let Some(cladding) = job.claddings.iter().find(|cladding| &cladding.name == name) else {
            continue;
        };
        // Heights of the prototype come down where a storey is left out.
        let lowered = |size: &Size, otherwise| {
            let found = shop.size(Some(size), otherwise);
            let low = shop.built.heights.lowered(found);
            let what = format!("where {name} begins or ends");
            let why = if low.agrees(found, CompressedLength::inches(TOUCH)) {
                Why::Said(size.clone())
            } else {
                Why::Chosen("storeys left out".to_owned())
            };
            (low, Origin::plain(what, low.in_inches(), why))
        };
        let from = cladding.from.as_ref().map(|from| lowered(from, CompressedLength::ZERO));
        let to = cladding.to.as_ref().map(|to| lowered(to, wall.height()));
        let (from, why_from) = from.unwrap_or((CompressedLength::ZERO, foot()));
        let (to, why_to) = match to {
            Some((to, why)) => (to, Some(why)),
            None => (wall.height(), None),
        };
        if from >= to {
            shop.findings.push(Finding::look(
                Subject::Member(name.clone()),
                format!("{name} on {} ends where it begins", wall.name),
                "look at `from` and `to` of the cladding",
            ));
            continue;
        }
        let (to, why_to) = if to > wall.height() { (wall.height(), None) } else { (to, why_to) };
        zones.push(Zone { cladding, from, to, why: (why_from, why_to) });
    }
    zones
}
