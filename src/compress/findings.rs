//! What to look at in the building that is built.

use super::alternative::{Alternative, Beyond, Standing};
use super::case::Case;
use super::snap;
use crate::elevation::Built;
use crate::elevation::SpanKind;
use crate::finding::{Finding, Subject};
use crate::quantity::slack::TOUCH;
use crate::quantity::{Compressed, CompressedLength, FullSize, Length};

/// Everything about the alternative that is built.
pub(crate) fn all(
    case: &Case<'_>,
    alternative: &Alternative,
    built: &Built,
    is_chosen: bool,
) -> Vec<Finding> {
    let subject = Subject::Alternative(alternative.key.clone());
    let mut findings = Vec::new();
    if !is_chosen {
        findings.push(Finding::note(
            subject.clone(),
            format!("no alternative is chosen yet; the first is built: {}", alternative.words),
        ));
    }
    if alternative.standing != Standing::Offered {
        findings.push(Finding::trouble(
            subject.clone(),
            format!("what is built {}: {}", is(&alternative.standing), alternative.standing.why()),
            "choose one that is offered, or change the bound or the space",
        ));
    }
    findings.extend(units(case, built, &subject));
    findings.extend(ridge(case, built, &subject));
    findings.extend(platform(case, built, &subject));
    findings.extend(tight_bays(case, built));
    findings.extend(heads(case, built));
    findings
}

/// What is built, as a sentence goes on.
fn is(standing: &Standing) -> String {
    match standing {
        Standing::OutOfBounds(Beyond::Squeezed | Beyond::Stretched, _) => {
            format!("is {}", standing.word())
        }
        Standing::OutOfBounds(Beyond::Miscounted, _) => "breaks a count".to_owned(),
        Standing::ShownOnly(_) => "is a plan that is shown only".to_owned(),
        Standing::Forbidden(_) => "is forbidden".to_owned(),
        Standing::DoesNotFit(_) | Standing::Offered => standing.word().to_owned(),
    }
}

fn show<S: FullSize>(case: &Case<'_>, length: Length<S>) -> String {
    case.job.about.full_notation().show(&length)
}

/// A length that is no whole number of boards or sheets.
fn units(case: &Case<'_>, built: &Built, subject: &Subject) -> Option<Finding> {
    let (_, unit) = snap::upright(case)?;
    let unit = CompressedLength::kept(unit);
    let count = built.body.length / unit;
    if (count - count.round()).abs() < 1e-3 {
        return None;
    }
    let word = snap::whole(case)?.word();
    let (down, up) = (unit * count.floor(), unit * count.ceil());
    let fits = up.in_inches() <= case.longest() + TOUCH;
    let or = if fits { format!(" or {}", show(case, up)) } else { String::new() };
    Some(Finding::look(
        subject.clone(),
        format!("{} is {count:.1} {word} of {}", show(case, built.body.length), show(case, unit)),
        format!("make it {}{or}, or cut one at a corner", show(case, down)),
    ))
}

fn ridge(case: &Case<'_>, built: &Built, subject: &Subject) -> Option<Finding> {
    let drop = CompressedLength::kept(case.faces.body.ridge) - built.body.ridge;
    (drop > CompressedLength::inches(0.01)).then(|| {
        let model = case.job.about.model_notation().show(&case.scale.reduce(drop));
        Finding::note(
            subject.clone(),
            format!(
                "the ridge comes down from {} to {}: {model} on the model",
                show(case, case.faces.body.ridge),
                show(case, built.body.ridge),
            ),
        )
    })
}

/// How many cars can be spotted.
fn platform(case: &Case<'_>, built: &Built, subject: &Subject) -> Option<Finding> {
    let car = case.job.space.as_ref()?.car.as_ref()?.length();
    let count = |length: Length<Compressed>| length / CompressedLength::kept(car);
    let (was, is) =
        (count(CompressedLength::kept(case.faces.body.length)), count(built.body.length));
    (is.floor() < was.floor()).then(|| {
        Finding::look(
            subject.clone(),
            format!(
                "{:.0} cars of {} can be spotted, not {:.0}",
                is.floor(),
                show(case, car),
                was.floor()
            ),
            "a platform too short for its cars is of no use to the trains",
        )
    })
}

/// Bays with less than two boards beside their trim (common practice, no source).
fn tight_bays(case: &Case<'_>, built: &Built) -> Option<Finding> {
    let (_, unit) = snap::upright(case)?;
    let front = built.faces.get(case.faces.front)?;
    let tight = front.holes.iter().find_map(|hole| {
        let bay = front.spans.iter().find(|span| {
            span.kind == SpanKind::Bay && span.left <= hole.left && span.right >= hole.right()
        })?;
        let beside = bay.right - bay.left - hole.width - hole.trim * 2.0;
        (beside < CompressedLength::kept(unit) * 2.0 - CompressedLength::inches(TOUCH))
            .then_some((bay, hole))
    })?;
    let (bay, hole) = tight;
    Some(Finding::look(
        Subject::Element(format!("{}/{}", front.name, bay.label)),
        format!(
            "a bay of {} leaves the {} less than two boards beside its trim",
            show(case, bay.right - bay.left),
            hole.kind
        ),
        "widen the bay, or take a narrower opening",
    ))
}

/// Openings that an eave set by hand, or taken out storeys, cut into.
fn heads(case: &Case<'_>, built: &Built) -> Vec<Finding> {
    let slack = CompressedLength::inches(1.0 / 160.0);
    let cut = built.faces.iter().filter_map(|face| {
        let top = if face.gable { face.ridge } else { face.height };
        face.holes.iter().find(|hole| hole.head() > top + slack).map(|hole| (face, hole, top))
    });
    cut.map(|(face, hole, top)| {
        Finding::trouble(
            Subject::Element(format!("{}/{}", face.name, hole.label)),
            format!(
                "the {} \"{}\" reaches {}, the wall as built ends at {}",
                hole.kind,
                hole.label,
                show(case, hole.head()),
                show(case, top),
            ),
            "set the eave higher, or lower the opening",
        )
    })
    .collect()
}
