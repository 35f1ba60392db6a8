//! The last judge of a plan, before anything is printed or cut.
//!
//! It knows nothing of how parts, layouts and clearances came about, and holds
//! them only against what no building can break: sizes are finite and more
//! than nothing, a part is no larger than its wall, a stick no longer than its
//! stock, a hole stands in its wall, sums are equal. What fails is taken out of
//! the lists and named, and nothing beside it is called proven.

use std::collections::HashMap;

use crate::clearance::Clearance;
use crate::cutting::parts::Layout;
use crate::finding::{Finding, Subject, short};
use crate::quantity::ModelLength;
use crate::takeoff::{Kind, Part, Takeoff, Wall};

/// What a part may be over its wall at full size: trim turns corners.
const OVER_INCHES: f64 = 24.0;
/// Slack of the bench: a tenth of a thou.
const SLACK_INCHES: f64 = 1e-4;

/// Takes out parts that cannot be.
pub(super) fn parts(takeoff: &mut Takeoff) -> Vec<Finding> {
    let walls: HashMap<&str, &Wall> =
        takeoff.walls.iter().map(|wall| (wall.name.as_str(), wall)).collect();
    let faults: Vec<Option<String>> = takeoff
        .parts
        .iter()
        .map(|part| fault(part, walls.get(part.face.as_str()).copied()))
        .collect();
    let mut findings = Vec::new();
    let mut at = 0;
    takeoff.parts.retain(|part| {
        let fault = faults[at].as_ref();
        at += 1;
        if let Some(fault) = fault {
            findings.push(taken_out(part.subject(), &part.label, fault));
        }
        fault.is_none()
    });
    findings
}

fn taken_out(subject: Subject, name: &str, fault: &str) -> Finding {
    Finding::trouble(
        subject,
        format!("{} is taken out of the lists: {fault}", short::word(name)),
        "look at the sizes it is made from: takeoff --why names them",
    )
}

/// What cannot be about a part.
fn fault(part: &Part, wall: Option<&Wall>) -> Option<String> {
    let sizes = [part.length, part.width].map(|size| size.in_inches());
    let cut = [part.model_length, part.model_width].map(ModelLength::in_inches);
    let all = || sizes.into_iter().chain(cut);
    if all().any(|size| !size.is_finite()) {
        return Some("its size is no number".to_owned());
    }
    if sizes[0] <= 0.0 || cut[0] <= 0.0 || all().any(|size| size < 0.0) {
        return Some(format!("it would be {:.3} by {:.3} in on the model", cut[0], cut[1]));
    }
    if part.count == 0 {
        return Some("there is none of it".to_owned());
    }
    let wall = wall?;
    let (wide, high) = (wall.width.in_inches(), highest(wall));
    let on_wall = !matches!(part.kind, Kind::Casting | Kind::Doubler | Kind::Bracing);
    if on_wall && sizes[0] > wide.hypot(high) + OVER_INCHES {
        return Some(format!("{:.1} in long, it is longer than its wall {}", sizes[0], wall.name));
    }
    let above = part.places.iter().any(|place| {
        let head = (place.foot + place.high).in_inches();
        matches!(part.kind, Kind::Casing | Kind::Sill) && head > high + OVER_INCHES
    });
    above.then(|| format!("it stands above its wall {}", wall.name))
}

fn highest(wall: &Wall) -> f64 {
    wall.top.iter().map(|(_, height)| height.in_inches()).fold(0.0, f64::max)
}

/// Takes out sticks and sheets whose pieces cannot be cut from them, and holds
/// the sums against what is wanted.
pub(super) fn layout(layout: &mut Layout) -> Vec<Finding> {
    let mut findings = Vec::new();
    for group in &mut layout.sticks {
        let (kerf, parts, strips) = (group.kerf, &group.parts, &group.strips);
        let holds = |cut: &crate::cutting::sticks::StickCut| {
            cut.each.iter().all(|strip| {
                let pieces: ModelLength = strip.iter().map(|at| parts[*at].length).sum();
                let cuts = strip.len().saturating_sub(1) as f64;
                (pieces + kerf * cuts).in_inches()
                    <= strips[cut.stock].length.in_inches() + SLACK_INCHES
            })
        };
        let before = group.layout.cuts.len();
        group.layout.cuts.retain(holds);
        let mut laid = vec![0_u64; parts.len()];
        for cut in &group.layout.cuts {
            cut.each.iter().flatten().for_each(|at| laid[*at] += 1);
        }
        let misfits = &group.layout.misfits;
        let agree = (0..parts.len())
            .all(|at| misfits.contains(&at) || laid[at] == u64::from(parts[at].quantity));
        if before != group.layout.cuts.len() || !agree {
            group.layout.proven = false;
            findings.push(unequal(&group.stock));
        }
    }
    for group in &mut layout.sheets {
        let (parts, sheets) = (&group.parts, &group.sheets);
        let holds = |sheet: &crate::cutting::sheets::SheetCut| {
            let (wide, high) = (sheets[sheet.stock].width, sheets[sheet.stock].height);
            sheet.parts.iter().all(|part| {
                let (right, top) = (part.area.x + part.area.width, part.area.y + part.area.height);
                let inside = |end: ModelLength, room: ModelLength| {
                    end.in_inches() <= room.in_inches() + SLACK_INCHES
                };
                inside(right, wide) && inside(top, high)
            })
        };
        let before = group.layout.sheets.len();
        group.layout.sheets.retain(holds);
        let mut laid = vec![0_u64; parts.len()];
        for sheet in &group.layout.sheets {
            sheet.parts.iter().for_each(|part| laid[part.part] += 1);
        }
        group.layout.unplaced.iter().for_each(|(at, count)| laid[*at] += count);
        let misfits = &group.layout.misfits;
        let agree = (0..parts.len())
            .all(|at| misfits.contains(&at) || laid[at] == u64::from(parts[at].quantity));
        if before != group.layout.sheets.len() || !agree {
            group.layout.proven = false;
            findings.push(unequal(&group.stock));
        }
    }
    findings
}

fn unequal(stock: &str) -> Finding {
    Finding::trouble(
        Subject::Stock(stock.to_owned()),
        format!("the layout of {} does not hold what is wanted of it", short::word(stock)),
        "count its pieces by hand before cutting, and tell what the job is",
    )
}

/// Takes out clearances that are no number.
pub(super) fn clearance(clearance: &mut Clearance) -> Vec<Finding> {
    let mut findings = Vec::new();
    for checked in &mut clearance.checked {
        let is_no_number = checked.held.iter().flatten().any(|held| {
            ![held.clear, held.want, held.along, held.out].iter().all(|it| it.is_finite())
        });
        if is_no_number {
            checked.held.iter_mut().for_each(|held| *held = None);
            let subject = checked.subject.clone();
            findings.push(taken_out(subject, &checked.name, "its clearance is no number"));
        }
    }
    findings
}
