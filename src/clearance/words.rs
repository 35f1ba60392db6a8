//! What the clearance finds, in words.

use super::check::{Checked, Fix, Held};
use super::spots::{AtDoor, AtFloor, Spots};
use super::standard::Kind;
use super::things::What;
use super::{Clearance, Laid, Told};
use crate::finding::{Finding, Subject};
use crate::quantity::{CompressedLength, ModelLength, PrototypeLength};

/// What wants a look.
pub(super) fn noticed(given: Laid<'_>, found: &Clearance) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (at, told) in found.standards.iter().enumerate() {
        findings.extend(shorts(given, found, at, told));
    }
    for floor in found.floors.iter().filter(|floor| !floor.rolls()) {
        findings.push(floor_finding(given, floor));
    }
    let doors = found.spots.iter().flat_map(|spots| &spots.doors);
    let shut: Vec<&AtDoor> = doors.filter(|door| !door.meets()).collect();
    if let (Some(spots), Some(first)) = (&found.spots, shut.first()) {
        findings.push(door_finding(given, spots, first, shut.len()));
    }
    findings
}

/// The worst of one standard, and how many more.
fn shorts(given: Laid<'_>, found: &Clearance, at: usize, told: &Told) -> Option<Finding> {
    let held = |it: &Checked| it.held.get(at).and_then(Clone::clone);
    let short: Vec<(&Checked, Held)> = (found.checked.iter())
        .filter_map(|it| Some((it, held(it)?)))
        .filter(|(_, held)| held.is_short())
        .collect();
    // The first of those that are equally short.
    let (worst, held) = short.iter().rev().max_by(|a, b| a.1.short().total_cmp(&b.1.short()))?;
    let model = |inches: f64| given.job.about.model_notation().show(&ModelLength::inches(inches));
    let more = match short.len() - 1 {
        0 => String::new(),
        more => format!("; {more} more short of it"),
    };
    let hits = if held.clear < 0.0 && told.kind == Kind::Car { "they meet: " } else { "" };
    let message = format!("{}: {hits}{}{more}", told.name, told_short(worst, held, &model));
    let hint = fix_words(worst, held, &model);
    Some(match told.kind {
        Kind::Car if held.clear < 0.0 => Finding::trouble(worst.subject.clone(), message, hint),
        _ => Finding::look(worst.subject.clone(), message, hint),
    })
}

/// `canopy-post 3, head, 0.041 in short`.
#[must_use]
pub fn told_short(checked: &Checked, held: &Held, model: &dyn Fn(f64) -> String) -> String {
    let part = if held.part.is_empty() { String::new() } else { format!(", {}", held.part) };
    format!("{}{part}, {} short", checked.name, model(held.short()))
}

/// `move 0.166 in out, or shorten the brace`.
#[must_use]
pub fn fix_words(checked: &Checked, held: &Held, model: &dyn Fn(f64) -> String) -> String {
    match held.fix {
        None => String::new(),
        Some(Fix::Raise(by)) => format!("raise it {}", model(by)),
        Some(Fix::Move { by, legs }) => {
            let moved = match checked.what {
                What::Platform | What::Wall | What::Steps | What::Terrace => {
                    format!("set it back {}", model(by))
                }
                What::Roof | What::Rafter => {
                    format!("set back or shorten the overhang {}", model(by))
                }
                _ => format!("move it {} out", model(by)),
            };
            match (checked.what, legs) {
                (What::Brace, Some(legs)) => {
                    format!("{moved}, or shorten its legs to {:.0} percent", (legs * 100.0).floor())
                }
                (What::Brace, None) => format!("{moved}; no shorter brace clears there"),
                _ => moved,
            }
        }
    }
}

fn floor_finding(given: Laid<'_>, floor: &AtFloor) -> Finding {
    let full = |length: PrototypeLength| given.job.about.full_notation().show(&length);
    let side = if floor.above() > PrototypeLength::ZERO { "above" } else { "under" };
    Finding::look(
        Subject::Obstacle(floor.platform.clone()),
        format!(
            "{} stands {} {side} the floor of the {}",
            floor.platform,
            full(floor.above().abs()),
            floor.car
        ),
        "a platform is level with the car floor or a little under it",
    )
}

fn door_finding(given: Laid<'_>, spots: &Spots, door: &AtDoor, count: usize) -> Finding {
    let full = |length: CompressedLength| given.job.about.full_notation().show(&length);
    let more = if count > 1 { format!("; {} more", count - 1) } else { String::new() };
    Finding::look(
        Subject::Obstacle(door.door.clone()),
        format!(
            "door {}: {} of {} open to a car, with cars every {}{more}",
            door.door,
            full(door.open),
            full(door.full),
            full(spots.pitch)
        ),
        "spot cars uncoupled, or move the doors to the pitch of the cars",
    )
}
