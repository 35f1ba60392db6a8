//! The names under which sections of the building ask for stock.

use super::building::CladdingKind;
use super::model::Job;

/// Trim boards, by the name of their section.
const BOARDS: [&str; 4] = ["corner board", "frieze", "water table", "fascia"];

/// Every name that a material or a pick of stock may be for: a member, a
/// cladding, an opening or a deck as a whole, and each section of it.
pub(super) fn sections(job: &Job) -> Vec<String> {
    let mut names: Vec<String> = ["core", "rafter", "corner", "water"].map(str::to_owned).into();
    names.extend(BOARDS.map(str::to_owned));
    names.extend(job.members.iter().map(|member| member.name.clone()));
    for cladding in &job.claddings {
        let pieces: &[&str] = match cladding.kind {
            CladdingKind::BoardAndBatten | CladdingKind::Boards => &["board", "batten", "sheet"],
            CladdingKind::Clapboard | CladdingKind::Shingle => &["strip"],
            CladdingKind::Corrugated | CladdingKind::Brick => &["sheet"],
        };
        with(&mut names, &cladding.name, pieces);
    }
    job.openings.iter().for_each(|opening| with(&mut names, &opening.name, &["casing"]));
    job.decks.iter().for_each(|deck| with(&mut names, &deck.name, &["plank", "stringer"]));
    names
}

fn with(names: &mut Vec<String>, name: &str, pieces: &[&str]) {
    names.push(name.to_owned());
    names.extend(pieces.iter().map(|piece| format!("{name} {piece}")));
}
