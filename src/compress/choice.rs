//! From the choice in the job to a decision, and back.

use std::collections::BTreeMap;

use super::alternative::{self, Alternative};
use super::case::Case;
use super::kind::{AlternativeKind, Beside};
use super::kinds::Draft;
use super::{Decision, Shape, words};
use crate::elevation::SetHeights;
use crate::finding::Stop;
use crate::job::body::RoofKind;
use crate::job::edit::Chosen;
use crate::job::place::{Choice, RoofFollows};
use crate::job::said::Said;
use crate::quantity::{Compressed, CompressedLength};

/// The decision a choice stands for. What it does not say stays as it was; a
/// roof it does not say keeps its pitch.
pub(crate) fn decision(case: &Case<'_>, choice: &Choice) -> Result<Decision, Stop> {
    let slots = case.slots();
    let unknown = |what: &str, name: &str| {
        Stop::new(
            "reading the choice",
            format!("no {what} is called \"{name}\""),
            "choose again, or mend the name",
        )
    };
    if let Some(name) = choice.counts.keys().find(|name| !slots.iter().any(|(key, _)| key == *name))
    {
        return Err(unknown("repeated element", name));
    }
    let counts = (slots.iter())
        .map(|(key, times)| (key.clone(), choice.counts.get(key).copied().unwrap_or(times.count)))
        .collect::<BTreeMap<_, _>>();
    let known = case.widths_known();
    if let Some(name) = choice.widths.keys().find(|name| !known.contains(*name)) {
        return Err(unknown("element that may stretch", name));
    }
    let mut widths = BTreeMap::new();
    for (group, item) in case.grouped(&counts) {
        let said = choice.widths.get(&item.key).or_else(|| choice.widths.get(&group));
        let width = said.map_or(CompressedLength::inches(item.original), |said| said.length());
        if !width.is_finite() || width <= CompressedLength::ZERO {
            return Err(Stop::new(
                "reading the choice",
                format!("the width of \"{}\" is not above zero", item.key),
                "choose again, or mend the width",
            ));
        }
        widths.insert(item.key, width);
    }
    for (name, said) in choice.widths.iter().filter(|(name, _)| case.is_across(name)) {
        widths.insert(name.clone(), said.length());
    }
    let roof = choice.roof.unwrap_or(RoofFollows::KeepPitch);
    let full = CompressedLength::kept(case.faces.body.depth);
    let depth = choice.depth.as_ref().map_or_else(
        || match roof {
            RoofFollows::HalfRelief => full / 2.0,
            RoofFollows::Flat => CompressedLength::ZERO,
            RoofFollows::KeepPitch | RoofFollows::KeepRidge => full,
        },
        |said| said.length(),
    );
    if let Some(name) = unknown_storey(case, choice) {
        return Err(unknown("storey", name));
    }
    let shape = shape(&kind_of(choice))?;
    let storeys = choice.storeys.clone();
    let decision = Decision { counts, widths, depth, roof, storeys, shape, set: set(choice) };
    heights(case, &decision)?;
    Ok(decision)
}

fn kind_of(choice: &Choice) -> AlternativeKind {
    let Ok(kind) = choice.kind.parse();
    kind
}

/// What a kind does to the plan.
///
/// # Errors
/// Where it is a kind that is shown and never built. A wedge is laid out square,
/// and said to be shown only.
fn shape(kind: &AlternativeKind) -> Result<Shape, Stop> {
    let what = match kind.beside {
        Some(Beside::Wedge) => return Ok(Shape::Wedge),
        Some(Beside::SceneEdge) => "run off the edge of the scene",
        Some(Beside::SmallerBehind) => "with a smaller ratio behind its front",
        _ if kind.is_uniform() => "reduced evenly, doors and all,",
        _ => return Ok(Shape::Square),
    };
    Err(Stop::new(
        format!("reading the choice \"{kind}\""),
        format!("a building {what} is shown beside the others and never built here"),
        "choose one that is offered",
    ))
}

fn set(choice: &Choice) -> SetHeights {
    let length = |said: &Option<Said<Compressed>>| said.as_ref().map(Said::length);
    SetHeights { eave: length(&choice.eave), ridge: length(&choice.ridge) }
}

/// Refuses heights set by hand that no building has.
fn heights(case: &Case<'_>, decision: &Decision) -> Result<(), Stop> {
    let stop = |trouble: &str| {
        let hint = "eave and ridge both count from the foot of the wall";
        Err(Stop::new("reading the choice", trouble, hint))
    };
    let set = &decision.set;
    let body = case.body(decision);
    if set.eave.is_some_and(|eave| !eave.is_finite() || eave <= CompressedLength::ZERO) {
        return stop("the eave set is not above the foot of the wall");
    }
    if set.ridge.is_some() && case.roof == RoofKind::Flat {
        return stop("a flat roof has no ridge to be set");
    }
    if (set.eave.is_some() || set.ridge.is_some()) && body.ridge < body.eave {
        return stop("the ridge comes below the eave");
    }
    Ok(())
}

/// A storey that the choice names and the building does not have.
fn unknown_storey<'c>(case: &Case<'_>, choice: &'c Choice) -> Option<&'c String> {
    let storeys = &case.faces.storeys;
    choice.storeys.keys().find(|name| !storeys.iter().any(|storey| storey.name == **name))
}

/// The place of the choice among the alternatives; it is added where it is none
/// of them.
pub(crate) fn adopt(
    case: &Case<'_>,
    choice: &Choice,
    alternatives: &mut Vec<Alternative>,
) -> Result<usize, Stop> {
    let decision = decision(case, choice)?;
    let same = |it: &Alternative| it.decision.as_ref().is_some_and(|known| known.near(&decision));
    if let Some(at) = alternatives.iter().position(same) {
        // To the last figure as it is written in the job.
        let known = &alternatives[at];
        let draft = Draft {
            kind: known.kind.clone(),
            kind_words: known.kind_words.clone(),
            decision,
            exact: known.exact.as_ref().map(|exact| exact.decision.clone()),
            best_of_kind: known.best_of_kind,
        };
        let key = known.key.clone();
        alternatives[at] = Alternative { key, ..alternative::of(case, draft) };
        return Ok(at);
    }
    let draft = Draft {
        kind: kind_of(choice),
        kind_words: words::own(&choice.kind),
        decision,
        exact: None,
        best_of_kind: true,
    };
    alternatives
        .insert(0, Alternative { key: "chosen".to_owned(), ..alternative::of(case, draft) });
    Ok(0)
}

/// The choice that reproduces an alternative; nothing for an even reduction, which
/// is no choice. The reason and the date are the person's.
#[must_use]
pub fn choice_of(alternative: &Alternative) -> Option<Chosen> {
    alternative.decision.as_ref().map(|decision| chosen(&alternative.kind, decision))
}

/// The choice of a decision of that kind.
pub(super) fn chosen(kind: &AlternativeKind, decision: &Decision) -> Chosen {
    Chosen {
        kind: kind.to_string(),
        counts: decision.counts.clone(),
        storeys: decision.storeys.clone(),
        widths: decision.widths.clone(),
        // A front alone has no depth to write.
        depth: (decision.depth > CompressedLength::ZERO).then_some(decision.depth),
        roof: Some(decision.roof),
        eave: decision.set.eave,
        ridge: decision.set.ridge,
        ..Chosen::default()
    }
}
