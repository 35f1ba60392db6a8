//! What parts are called.

use scantling::building::{Layer, Role};
use scantling::job::Job;
use scantling::job::building::{Cladding, CladdingKind};
use scantling::job::wall::Grain;
use scantling::quantity::CompressedLength;

/// Sizes nearer than this at full size, in inches, are alike.
const ALIKE: f64 = 0.005;

/// What a layer is called on its wall, with each cladding it is made of from
/// the foot up; a sheet without boards has none.
pub(crate) fn kinds<'a>(job: &'a Job, layer: &Layer) -> Vec<(&'static str, Option<&'a Cladding>)> {
    if layer.role == Role::Core || layer.claddings.is_empty() {
        return vec![("core", None)];
    }
    let said = |name: &String| job.claddings.iter().find(|it| it.name == *name);
    layer.claddings.iter().filter_map(said).map(|it| (cladding(it), Some(it))).collect()
}

/// What a cladding is called on a wall.
pub(crate) fn cladding(cladding: &Cladding) -> &'static str {
    match cladding.kind {
        CladdingKind::BoardAndBatten | CladdingKind::Boards if cladding.scribed => "engraved",
        CladdingKind::BoardAndBatten | CladdingKind::Boards => "boards",
        CladdingKind::Clapboard => "clapboard",
        CladdingKind::Corrugated => "iron",
        CladdingKind::Brick => "brick",
        CladdingKind::Shingle => "shingles",
    }
}

/// Which way the grain of a sheet runs on its wall; nothing where it has none.
pub(crate) fn grain(grain: Grain) -> Option<&'static str> {
    match grain {
        Grain::Along => Some("along"),
        Grain::Up => Some("up"),
        Grain::None => None,
    }
}

/// Things of some lengths as sets of those alike, the longest first.
pub(crate) fn sets<T>(
    things: impl IntoIterator<Item = T>,
    length: impl Fn(&T) -> CompressedLength,
) -> Vec<Vec<T>> {
    let mut things: Vec<T> = things.into_iter().collect();
    things.sort_by(|a, b| length(b).total_cmp(&length(a)));
    let mut sets: Vec<Vec<T>> = Vec::new();
    for thing in things {
        let slack = CompressedLength::inches(ALIKE);
        match sets.last_mut() {
            Some(set) if length(&set[0]).agrees(length(&thing), slack) => set.push(thing),
            _ => sets.push(vec![thing]),
        }
    }
    sets
}
