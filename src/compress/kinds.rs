//! The best of each kind, side by side.

use std::collections::BTreeMap;

use super::alternative::{self, Alternative, Standing};
use super::build::ends;
use super::case::Case;
use super::fit::{Freedom, Widths, fit};
use super::roof::{Roofed, body, options};
use super::score::score;
use super::search::{Found, Kind, search};
use super::tally::Counts;
use super::{Decision, Lines, snap, words};
use crate::finding::Stop;
use crate::job::place::RoofFollows;
use crate::quantity::CompressedLength;

/// A decision on its way to become an alternative.
pub(crate) struct Draft {
    pub(crate) kind: String,
    pub(crate) kind_words: String,
    pub(crate) decision: Decision,
    pub(crate) exact: Option<Decision>,
    pub(crate) best_of_kind: bool,
}

/// Every alternative worth showing.
pub(crate) struct All {
    pub(crate) alternatives: Vec<Alternative>,
    pub(crate) complete: bool,
    pub(crate) steps: usize,
}

/// Rounding may cost this much before the exact widths are kept instead.
const ROUNDING: f64 = 0.5;

/// Finds the alternatives, cheapest first.
pub(crate) fn all(case: &Case<'_>, go_on: &mut dyn FnMut(usize) -> bool) -> All {
    let longest = case.longest();
    let mut best = search(case, longest, Kind::Best, go_on);
    let full = search(case, longest, Kind::Full, go_on);
    let steps = best.steps + full.steps;
    let complete = best.complete && full.complete;
    best.found.extend(full.found);
    let roofs = roofs(case);
    let mut out = Vec::new();
    lengths(case, best.found, &roofs, &mut out);
    originals(case, &roofs, &mut out);
    out.sort_by(order);
    if let Some(first) = out.iter().find(|it| it.is_offered()).cloned() {
        out.extend(other_roofs(case, &first, &roofs));
        out.extend(whole_units(case, &first));
    }
    out.extend(uniform(case));
    out.sort_by(order);
    distinct(&mut out);
    All { alternatives: out, complete, steps }
}

/// By cost; what has no cost last.
fn order(a: &Alternative, b: &Alternative) -> std::cmp::Ordering {
    let cost = |it: &Alternative| it.cost().unwrap_or(f64::INFINITY);
    cost(a).total_cmp(&cost(b))
}

/// Drops alternatives that come to the same building as one before them.
fn distinct(alternatives: &mut Vec<Alternative>) {
    let mut kept: Vec<Alternative> = Vec::new();
    for alternative in alternatives.drain(..) {
        let same = |other: &Alternative| {
            other.key == alternative.key
                || matches!((&other.decision, &alternative.decision), (Some(a), Some(b)) if a.near(b))
        };
        if !kept.iter().any(same) {
            kept.push(alternative);
        }
    }
    *alternatives = kept;
}

impl Decision {
    /// Whether two decisions come to the same building, to a tenth of a
    /// sixteenth.
    pub(crate) fn near(&self, other: &Self) -> bool {
        let close = |a: CompressedLength, b: CompressedLength| {
            a.agrees(b, CompressedLength::inches(1.0 / 160.0))
        };
        let widths = |a: &BTreeMap<String, CompressedLength>, b: &BTreeMap<_, _>| {
            a.iter().all(|(key, width)| b.get(key).is_none_or(|other| close(*width, *other)))
        };
        self.counts == other.counts
            && self.roof == other.roof
            && self.wedge == other.wedge
            && close(self.depth, other.depth)
            && widths(&self.widths, &other.widths)
    }
}

/// Ways to treat depth and roof, cheapest first; those that fit under the shelf
/// before the rest.
fn roofs(case: &Case<'_>) -> Vec<Roofed> {
    let mut roofs = options(&case.faces.body, case.roof, &case.limits);
    let full = CompressedLength::kept(case.faces.body.length);
    let key = |roofed: &Roofed| {
        let decision = case.decision(&Counts::new(), &Widths::new(), *roofed);
        let ridge = body(&case.faces.body, case.roof, full, *roofed).ridge;
        let high = case.limits.height.is_some_and(|limit| ridge > limit);
        (high, score(case, &decision).total())
    };
    roofs.sort_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    roofs
}

/// The best counts of each kind of length, and the other counts.
fn lengths(case: &Case<'_>, found: Vec<Found>, roofs: &[Roofed], out: &mut Vec<Alternative>) {
    let Some(roofed) = roofs.first() else { return };
    let mut found = found;
    found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut seen = Vec::new();
    for one in found {
        let kind = length_kind(case, &one);
        let best_of_kind = !seen.contains(&kind);
        seen.push(kind);
        let decision = case.decision(&one.counts, &one.widths, *roofed);
        out.push(finished(case, kind, decision, best_of_kind));
    }
}

fn length_kind(case: &Case<'_>, found: &Found) -> &'static str {
    let slots = case.slots();
    let kept = slots.iter().all(|(key, times)| found.counts.get(key) == Some(&times.count));
    match (kept, found.trimmed) {
        (true, false) => "full",
        (true, true) => "trim",
        (false, false) => "drop",
        (false, true) => "drop-and-trim",
    }
}

/// An alternative on half boards or whole inches, where that costs little.
fn finished(case: &Case<'_>, kind: &str, decision: Decision, best_of_kind: bool) -> Alternative {
    let before = score(case, &decision).total();
    let rounded = (snap::usual(case).iter())
        .filter_map(|step| snap::snap(case, &decision.counts, &decision.widths, step.size))
        .map(|widths| Decision { widths, ..decision.clone() })
        .find(|rounded| score(case, rounded).total() <= before + ROUNDING);
    let exact =
        rounded.as_ref().filter(|rounded| !rounded.near(&decision)).map(|_| decision.clone());
    let mut decision = rounded.unwrap_or(decision);
    ends(case, &mut decision);
    alternative::of(case, draft(case, kind, decision, exact, best_of_kind))
}

fn draft(
    case: &Case<'_>,
    kind: &str,
    decision: Decision,
    exact: Option<Decision>,
    best_of_kind: bool,
) -> Draft {
    let full = CompressedLength::kept(case.faces.body.depth);
    let roof = match decision.roof {
        RoofFollows::KeepPitch if decision.depth.agrees(full, super::roof::slack()) => "",
        RoofFollows::KeepPitch => "/keep-pitch",
        RoofFollows::KeepRidge => "/keep-ridge",
        RoofFollows::HalfRelief => "/half-relief",
        RoofFollows::Flat => "/flat",
    };
    Draft {
        kind: format!("{kind}{roof}"),
        kind_words: words::kind(case, kind, roof),
        decision,
        exact,
        best_of_kind,
    }
}

/// All counts kept, the length taken out of plain wall in different ways.
fn originals(case: &Case<'_>, roofs: &[Roofed], out: &mut Vec<Alternative>) {
    let Some(roofed) = roofs.first() else { return };
    let counts: Counts = case.slots().into_iter().map(|(key, times)| (key, times.count)).collect();
    let longest = case.longest();
    if longest >= case.full_length() - 1e-6 {
        return;
    }
    let groups: Vec<String> =
        case.tally(0, &counts, false).groups.iter().map(|group| group.name.clone()).collect();
    let mut ways = vec![("trim".to_owned(), Freedom::All)];
    if groups.len() > 1 {
        ways.push(("trim-alike".to_owned(), Freedom::Alike));
        ways.extend(
            groups.into_iter().map(|name| (format!("trim-only-{name}"), Freedom::One(name))),
        );
    }
    for (kind, freedom) in ways {
        let within = fit(case, &counts, &freedom, longest, false);
        let widths = within.or_else(|_| fit(case, &counts, &freedom, longest, true));
        if let Ok(widths) = widths {
            let decision = case.decision(&counts, &widths, *roofed);
            out.push(finished(case, &kind, decision, true));
        }
    }
}

/// The first choice with each other way to treat the depth.
fn other_roofs(case: &Case<'_>, first: &Alternative, roofs: &[Roofed]) -> Vec<Alternative> {
    let Some(decision) = &first.decision else { return Vec::new() };
    let kind = first.kind.split('/').next().unwrap_or_default();
    (roofs.iter().skip(1))
        .map(|roofed| {
            let mut decision = case.decision(&decision.counts, &decision.widths, *roofed);
            ends(case, &mut decision);
            alternative::of(case, draft(case, kind, decision, None, true))
        })
        .collect()
}

/// The first choice on whole boards or sheets.
fn whole_units(case: &Case<'_>, first: &Alternative) -> Option<Alternative> {
    let decision = first.decision.as_ref()?;
    let step = snap::whole(case)?;
    let widths = snap::snap(case, &decision.counts, &decision.widths, step.size)?;
    let decision = Decision { widths, ..decision.clone() };
    let kind = step.word.replace(' ', "-");
    Some(alternative::of(case, draft(case, &kind, decision, None, true)))
}

/// Everything reduced evenly: shown for what it does to doors, never offered.
fn uniform(case: &Case<'_>) -> Option<Alternative> {
    let factor = case.longest() / case.full_length();
    if factor >= 1.0 - 1e-9 {
        return None;
    }
    let mut body = case.body(&case.decision(&Counts::new(), &Widths::new(), case.as_found()));
    for size in [&mut body.length, &mut body.depth, &mut body.eave, &mut body.ridge] {
        *size = *size * factor;
    }
    let why = words::shrunk(case, factor);
    Some(Alternative {
        key: "uniform".to_owned(),
        kind: "uniform".to_owned(),
        kind_words: "reduce everything evenly".to_owned(),
        words: format!("everything x {factor:.3}"),
        lost: vec![why.clone()],
        decision: None,
        model_length: case.scale.reduce(body.length),
        body,
        lines: Lines::default(),
        exact: None,
        standing: Standing::Forbidden(why),
        best_of_kind: true,
    })
}

/// Why nothing can be offered: the shortest that could, and what binds.
pub(crate) fn nothing_fits(case: &Case<'_>) -> Stop {
    let show = |inches: f64| case.job.about.full_notation().show(&CompressedLength::inches(inches));
    let slots = case.slots();
    let counts = |pick: fn(&crate::job::face::Times) -> u32| -> Counts {
        slots.iter().map(|(key, times)| (key.clone(), pick(times))).collect()
    };
    let shortest = |counts: &Counts| {
        (0..case.originals.len())
            .map(|at| super::tally::length(&case.tally(at, counts, false), |item| item.least))
            .fold(0.0, f64::max)
    };
    let (least, kept) =
        (shortest(&counts(|times| times.at_least)), shortest(&counts(|times| times.count)));
    let longest = case.longest();
    if least <= longest + 1e-6 {
        return Stop::new(
            "fitting the building to its space",
            "every alternative is too deep or too high",
            "look at the depth and height of the space",
        );
    }
    let as_it_is = if slots.is_empty() {
        String::new()
    } else {
        format!("; with {}: shortest is {}", words::counted(case, &counts(|t| t.count)), show(kept))
    };
    Stop::new(
        "fitting the building to its space",
        format!(
            "the space takes {}, the shortest it can be is {}{as_it_is}",
            show(longest),
            show(least),
        ),
        "what binds is the shortest each plain wall or bay may become: lower `least` or \
         `at-least`, or find a longer place",
    )
}
