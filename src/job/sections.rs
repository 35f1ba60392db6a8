//! The names under which sections of the building ask for stock.

use super::body::Body;
use super::building::CladdingKind;
use super::model::Job;

/// Trim boards, by the name of their section.
const BOARDS: [&str; 4] = ["corner board", "frieze", "water table", "fascia"];

/// Strips of roofs and corners, by the name of their section.
const STRIPS: [&str; 3] = ["wall ledger", "roof ledger", "corner post"];

/// Every name that a material or a pick of stock may be for: a member, a
/// cladding, a layer, an opening or a deck as a whole, and each section of it.
pub(super) fn sections(job: &Job) -> Vec<String> {
    let mut names: Vec<String> = ["core", "rafter", "corner", "water"].map(str::to_owned).into();
    names.extend(BOARDS.map(str::to_owned));
    names.extend(STRIPS.map(str::to_owned));
    names.extend(job.layers.iter().map(|layer| layer.name.clone()));
    names.extend(job.members.iter().map(|member| member.name.clone()));
    for cladding in &job.claddings {
        let pieces: &[&str] = match cladding.kind {
            CladdingKind::BoardAndBatten | CladdingKind::Boards => &["board", "batten", "sheet"],
            CladdingKind::Clapboard | CladdingKind::Shingle => &["strip"],
            CladdingKind::Corrugated | CladdingKind::Brick => &["sheet"],
        };
        with(&mut names, &cladding.name, pieces);
    }
    job.openings.iter().for_each(|opening| with(&mut names, &opening.name, &["casing", "leaf"]));
    job.decks.iter().for_each(|deck| with(&mut names, &deck.name, &["plank", "stringer"]));
    let has_tails = |body: &&Body| body.roof.as_ref().is_some_and(|roof| roof.tails.is_some());
    job.bodies.iter().filter(has_tails).for_each(|body| with(&mut names, &body.name, &["tail"]));
    names
}

fn with(names: &mut Vec<String>, name: &str, pieces: &[&str]) {
    names.push(name.to_owned());
    names.extend(pieces.iter().map(|piece| format!("{name} {piece}")));
}
