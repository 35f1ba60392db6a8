//! The best of each kind, side by side.

use std::collections::BTreeMap;

use super::alternative::{self, Alternative, Standing};
use super::build::ends;
use super::case::Case;
use super::fit::{Freedom, Widths, fit};
use super::kind::{Along, AlternativeKind, Beside};
use super::roof::{Roofed, body, options};
use super::score::score;
use super::search::{Found, Kind, search};
use super::tally::Counts;
use super::{Decision, Lines, Shape, snap, words};
use crate::finding::Stop;
use crate::job::body::RoofKind;
use crate::job::place::RoofFollows;
use crate::quantity::CompressedLength;
use crate::quantity::slack::{NOTHING, TOUCH, WHOLE};

/// A decision on its way to become an alternative.
pub(crate) struct Draft {
    pub(crate) kind: AlternativeKind,
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
/// Boards and bricks may cost this much more than whole inches: nothing that the
/// printed tenth would show.
const COARSE: f64 = 0.05;

/// Finds the alternatives, cheapest first.
pub(crate) fn all(case: &Case<'_>, go_on: &mut dyn FnMut(usize) -> bool) -> All {
    let roofs = roofs(case);
    let mut all = All { alternatives: Vec::new(), complete: true, steps: 0 };
    // On a straight space the depth does not change the length: one search does.
    // On a ground every depth has a front of its own.
    let searched = if case.ground.is_some() { roofs.len() } else { 1 };
    for roofed in roofs.iter().take(searched) {
        one_depth(case, *roofed, false, &mut all, go_on);
    }
    if case.ground.is_some() {
        one_depth(case, case.as_found(), true, &mut all, go_on);
    }
    let mut out = all.alternatives;
    best_of_kinds(case, &mut out);
    if let Some(first) = out.iter().find(|it| it.is_offered()).cloned() {
        out.extend(other_roofs(case, &first, &roofs));
        out.extend(fewer_storeys(case, &first));
        out.extend(whole_units(case, &first));
    }
    out.extend(scene_edge(case));
    out.extend(smaller_behind(case, &out));
    out.extend(uniform(case));
    out.sort_by(order);
    distinct(&mut out);
    All { alternatives: out, ..all }
}

/// Everything at one depth under one roof, with square ends or a slanted one.
fn one_depth(
    case: &Case<'_>,
    roofed: Roofed,
    wedge: bool,
    all: &mut All,
    go_on: &mut dyn FnMut(usize) -> bool,
) {
    let plot = Plot { roofed, wedge, longest: case.longest_at(roofed, wedge) };
    let mut found = search(case, plot.longest, Kind::Best, go_on);
    let full = search(case, plot.longest, Kind::Full, go_on);
    all.steps += found.steps + full.steps;
    all.complete &= found.complete && full.complete;
    found.found.extend(full.found);
    lengths(case, found.found, &plot, &mut all.alternatives);
    originals(case, &plot, &mut all.alternatives);
}

/// A depth with its roof, and the front it leaves.
struct Plot {
    roofed: Roofed,
    wedge: bool,
    longest: f64,
}

impl Plot {
    fn decision(&self, case: &Case<'_>, counts: &Counts, widths: &Widths) -> Decision {
        Decision {
            shape: if self.wedge { Shape::Wedge } else { Shape::Square },
            ..case.decision(counts, widths, self.roofed)
        }
    }
}

/// Marks the best of each kind. Other counts stay only at the depth that is
/// cheapest by itself, so that one building is not shown at every depth.
fn best_of_kinds(case: &Case<'_>, out: &mut Vec<Alternative>) {
    out.sort_by(order);
    let depth = roofs(case).first().map(|roofed| roofed.depth);
    let mut seen: Vec<AlternativeKind> = Vec::new();
    for it in out.iter_mut() {
        it.best_of_kind = !seen.contains(&it.kind);
        seen.push(it.kind.clone());
        it.key = alternative::key(it);
    }
    out.retain(|it| {
        let same =
            |d: &Decision| depth.is_some_and(|depth| depth.agrees(d.depth, super::roof::slack()));
        it.best_of_kind || it.decision.as_ref().is_some_and(|d| !d.is_wedge() && same(d))
    });
}

/// By cost, what is only shown behind what could be built; what has no cost last.
fn order(a: &Alternative, b: &Alternative) -> std::cmp::Ordering {
    let shown = |it: &Alternative| matches!(it.standing, Standing::ShownOnly(_));
    let cost = |it: &Alternative| it.cost().unwrap_or(f64::INFINITY);
    let last = |it: &Alternative| it.cost().is_none();
    (last(a), shown(a)).cmp(&(last(b), shown(b))).then(cost(a).total_cmp(&cost(b)))
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

impl Shape {
    fn near(self, other: Self) -> bool {
        match (self, other) {
            (Self::SceneEdge(a), Self::SceneEdge(b)) => {
                a.agrees(b, CompressedLength::inches(1.0 / 160.0))
            }
            _ => self == other,
        }
    }
}

impl Decision {
    /// Whether two decisions come to the same building, to a tenth of a
    /// sixteenth.
    pub(crate) fn near(&self, other: &Self) -> bool {
        let close = |a: CompressedLength, b: CompressedLength| {
            a.agrees(b, CompressedLength::inches(1.0 / 160.0))
        };
        let height = |a: Option<CompressedLength>, b: Option<CompressedLength>| match (a, b) {
            (Some(a), Some(b)) => close(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        let widths = |a: &BTreeMap<String, CompressedLength>, b: &BTreeMap<_, _>| {
            a.iter().all(|(key, width)| b.get(key).is_none_or(|other| close(*width, *other)))
        };
        self.counts == other.counts
            && self.roof == other.roof
            && self.shape.near(other.shape)
            && self.storeys == other.storeys
            && close(self.depth, other.depth)
            && height(self.set.eave, other.set.eave)
            && height(self.set.ridge, other.set.ridge)
            && widths(&self.widths, &other.widths)
    }
}

/// On a ground that does not take the whole front at the whole depth, depths a
/// foot apart down to six tenths, and half relief.
fn shallower(case: &Case<'_>, roofs: &mut Vec<Roofed>) {
    let Some(first) = roofs.first().copied() else { return };
    let all = case.longest_at(first, false) >= case.full_length() - TOUCH;
    if case.ground.is_none() || all || first.roof != RoofFollows::KeepPitch {
        return;
    }
    let feet = first.depth.in_feet();
    let mut depth = (feet - WHOLE).floor();
    while depth >= feet * super::LEAST_SHARE && depth >= 1.0 {
        let depth_of = CompressedLength::feet(depth);
        roofs.push(Roofed { depth: depth_of, roof: RoofFollows::KeepPitch });
        depth -= 1.0;
    }
    let half = CompressedLength::kept(case.faces.body.depth) / 2.0;
    let ridged = case.roof.has_gables() || case.roof == RoofKind::Hip;
    if ridged && !roofs.iter().any(|roofed| roofed.roof == RoofFollows::HalfRelief) {
        roofs.push(Roofed { depth: half, roof: RoofFollows::HalfRelief });
    }
}

/// Ways to treat depth and roof, cheapest first; those that fit under the shelf
/// before the rest.
fn roofs(case: &Case<'_>) -> Vec<Roofed> {
    let mut roofs = options(&case.faces.body, case.roof, &|roof| case.deepest(roof));
    shallower(case, &mut roofs);
    let full = CompressedLength::kept(case.faces.body.length);
    let key = |roofed: &Roofed| {
        let decision = case.decision(&Counts::new(), &Widths::new(), *roofed);
        let ridge = body(&case.faces.body, case.roof, full, *roofed).ridge;
        let top = ridge.max(CompressedLength::inches(case.scheme.top()));
        let high = case.limits.height.is_some_and(|limit| top > limit);
        (high, score(case, &decision).total())
    };
    roofs.sort_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    roofs
}

/// The counts that were found, each on half boards or whole inches.
fn lengths(case: &Case<'_>, found: Vec<Found>, plot: &Plot, out: &mut Vec<Alternative>) {
    for one in found {
        let kind = length_kind(case, &one);
        let decision = plot.decision(case, &one.counts, &one.widths);
        out.push(finished(case, kind, decision, plot.longest));
    }
}

fn length_kind(case: &Case<'_>, found: &Found) -> Along {
    let slots = case.slots();
    let kept = slots.iter().all(|(key, times)| found.counts.get(key) == Some(&times.count));
    match (kept, found.trimmed) {
        (true, false) => Along::Full,
        (true, true) => Along::Trim,
        (false, false) => Along::Drop,
        (false, true) => Along::DropAndTrim,
    }
}

/// An alternative on half boards or whole inches, where that costs little.
fn finished(case: &Case<'_>, kind: Along, decision: Decision, longest: f64) -> Alternative {
    let before = score(case, &decision).total();
    let rounded: Vec<(f64, Decision)> = (snap::usual(case).iter())
        .filter_map(|step| snap::snap(case, &decision.counts, &decision.widths, step.size, longest))
        .map(|widths| Decision { widths, ..decision.clone() })
        .map(|rounded| (score(case, &rounded).total(), rounded))
        .filter(|(cost, _)| *cost <= before + ROUNDING)
        .collect();
    let least = rounded.iter().map(|(cost, _)| *cost).fold(f64::INFINITY, f64::min);
    let taken = rounded.into_iter().find(|(cost, _)| *cost <= least + COARSE);
    let rounded = taken.map(|(_, rounded)| rounded);
    let exact =
        rounded.as_ref().filter(|rounded| !rounded.near(&decision)).map(|_| decision.clone());
    let mut decision = rounded.unwrap_or(decision);
    ends(case, &mut decision);
    alternative::of(case, draft(case, kind, decision, exact))
}

fn draft(case: &Case<'_>, along: Along, decision: Decision, exact: Option<Decision>) -> Draft {
    let full = CompressedLength::kept(case.faces.body.depth);
    let beside = match decision.roof {
        _ if decision.is_wedge() => Some(Beside::Wedge),
        _ if !decision.storeys.is_empty() => Some(Beside::FewerStoreys),
        _ if matches!(decision.shape, Shape::SceneEdge(_)) => Some(Beside::SceneEdge),
        _ if decision.shape == Shape::SmallerBehind => Some(Beside::SmallerBehind),
        RoofFollows::KeepPitch if decision.depth.agrees(full, super::roof::slack()) => None,
        RoofFollows::KeepPitch => Some(Beside::KeepPitch),
        RoofFollows::KeepRidge => Some(Beside::KeepRidge),
        RoofFollows::HalfRelief => Some(Beside::HalfRelief),
        RoofFollows::Flat => Some(Beside::Flat),
    };
    let kind = AlternativeKind { along, beside };
    Draft { kind_words: words::kind(case, &kind), kind, decision, exact, best_of_kind: true }
}

/// All counts kept, the length taken out of plain wall in different ways.
fn originals(case: &Case<'_>, plot: &Plot, out: &mut Vec<Alternative>) {
    let counts: Counts = case.slots().into_iter().map(|(key, times)| (key, times.count)).collect();
    let longest = plot.longest;
    if longest >= case.full_length() - TOUCH {
        return;
    }
    let groups: Vec<String> =
        case.tally(0, &counts, false).groups.iter().map(|group| group.name.clone()).collect();
    let mut ways = vec![(Along::Trim, Freedom::All)];
    if groups.len() > 1 {
        ways.push((Along::TrimAlike, Freedom::Alike));
        ways.extend(
            groups.into_iter().map(|name| (Along::TrimOnly(name.clone()), Freedom::One(name))),
        );
    }
    for (kind, freedom) in ways {
        let within = fit(case, &counts, &freedom, longest, false);
        let fitted = within.or_else(|_| fit(case, &counts, &freedom, longest, true));
        if let Ok(fitted) = fitted {
            let decision = plot.decision(case, &counts, &fitted.widths);
            out.push(finished(case, kind, decision, longest));
        }
    }
}

/// The building as it stands, where nothing of its front may be shortened; it
/// may be too large for its place.
pub(crate) fn as_it_stands(case: &Case<'_>) -> Option<Alternative> {
    let counts = Counts::new();
    if !case.slots().is_empty() || !case.items(&counts).is_empty() {
        return None;
    }
    let decision = case.decision(&counts, &Widths::new(), case.as_found());
    Some(alternative::of(case, draft(case, Along::Full, decision, None)))
}

/// The first choice with each other way to treat the depth.
fn other_roofs(case: &Case<'_>, first: &Alternative, roofs: &[Roofed]) -> Vec<Alternative> {
    let Some(decision) = &first.decision else { return Vec::new() };
    if case.ground.is_some() {
        return Vec::new();
    }
    let kind = &first.kind.along;
    (roofs.iter().skip(1))
        .map(|roofed| {
            let mut decision = case.decision(&decision.counts, &decision.widths, *roofed);
            ends(case, &mut decision);
            alternative::of(case, draft(case, kind.clone(), decision, None))
        })
        .collect()
}

/// The first choice with storeys left out.
fn fewer_storeys(case: &Case<'_>, first: &Alternative) -> Vec<Alternative> {
    let Some(decision) = &first.decision else { return Vec::new() };
    let kind = &first.kind.along;
    let ways = super::storeys::ways(&case.faces.storeys);
    let with = ways.into_iter().map(|storeys| {
        let decision = Decision { storeys, ..decision.clone() };
        let mut it = alternative::of(case, draft(case, kind.clone(), decision, None));
        it.key = format!("{} {}", it.kind, words::storeys(it.decision.as_ref()));
        it
    });
    with.collect()
}

/// The left part at full size, run off the edge of the scene.
fn scene_edge(case: &Case<'_>) -> Option<Alternative> {
    let longest = case.longest();
    if longest <= 0.0 || longest >= case.full_length() - TOUCH {
        return None;
    }
    let counts: Counts = case.slots().into_iter().map(|(key, times)| (key, times.count)).collect();
    let widths = case.items(&counts).into_iter();
    let widths = widths.map(|it| (it.key, CompressedLength::inches(it.original))).collect();
    let shape = Shape::SceneEdge(CompressedLength::inches(longest));
    let roofed = roofs(case).first().copied().unwrap_or_else(|| case.as_found());
    let decision = Decision { shape, ..case.decision(&counts, &widths, roofed) };
    Some(alternative::of(case, draft(case, Along::Full, decision, None)))
}

/// The first choice at its whole depth, behind the front at a smaller ratio.
fn smaller_behind(case: &Case<'_>, known: &[Alternative]) -> Option<Alternative> {
    let first = known.iter().find(|it| it.is_offered())?;
    let depth = case.deepest(RoofFollows::KeepPitch)?;
    let full = case.as_found();
    if depth >= full.depth - super::roof::slack() || depth < full.depth * LEAST_BEHIND {
        return None;
    }
    let decision = first.decision.as_ref()?;
    let square = case.decision(&decision.counts, &decision.widths, full);
    let decision = Decision { shape: Shape::SmallerBehind, ..square };
    let kind = &first.kind.along;
    Some(alternative::of(case, draft(case, kind.clone(), decision, None)))
}

/// Behind the front no smaller than this share of the scale (judgement: the ratios
/// modellers use behind 1:87.1 go to 1:160).
const LEAST_BEHIND: f64 = 0.5;

/// The first choice on whole boards or sheets.
fn whole_units(case: &Case<'_>, first: &Alternative) -> Option<Alternative> {
    let decision = first.decision.as_ref()?;
    let step = snap::whole(case)?;
    let longest = case.longest_at(decision.roofed(), decision.is_wedge());
    let widths = snap::snap(case, &decision.counts, &decision.widths, step.size, longest)?;
    let decision = Decision { widths, ..decision.clone() };
    let kind = if step.sheets { Along::WholeSheets } else { Along::WholeBoards };
    Some(alternative::of(case, draft(case, kind, decision, None)))
}

/// Everything reduced evenly: shown for what it does to doors, never offered.
fn uniform(case: &Case<'_>) -> Option<Alternative> {
    let factor = case.longest_at(case.as_found(), false) / case.full_length();
    if factor >= 1.0 - NOTHING {
        return None;
    }
    let mut body = case.body(&case.decision(&Counts::new(), &Widths::new(), case.as_found()));
    for size in [&mut body.length, &mut body.depth, &mut body.eave, &mut body.ridge] {
        *size = *size * factor;
    }
    let why = words::shrunk(case, factor);
    Some(Alternative {
        key: "uniform".to_owned(),
        kind: AlternativeKind::of(Along::Uniform),
        kind_words: "reduce everything evenly".to_owned(),
        words: format!("everything x {factor:.3}"),
        lost: vec![why.clone()],
        decision: None,
        model_length: case.scale.reduce(body.length),
        body,
        lines: Lines::default(),
        exact: None,
        standing: Standing::Forbidden(why),
        needs: super::Needs::default(),
        best_of_kind: true,
    })
}

/// A pin that no widths meet, whatever the counts.
fn no_room_for_a_pin(case: &Case<'_>) -> Option<Stop> {
    let show = |inches: f64| case.job.about.full_notation().show(&CompressedLength::inches(inches));
    let fewest: Counts =
        case.slots().into_iter().map(|(key, times)| (key, times.at_least)).collect();
    let most: Counts = case.slots().into_iter().map(|(key, times)| (key, times.at_most)).collect();
    for at in 0..case.originals.len() {
        let (few, many) = (case.tally(at, &fewest, false), case.tally(at, &most, false));
        for (number, segment) in few.segments.iter().enumerate() {
            let Some(total) = segment.total else { continue };
            let sum = |tally: &super::tally::Tally, of: fn(&super::tally::Item) -> f64| {
                let groups = tally.groups.iter().filter(|group| group.segment == number);
                tally.segments[number].fixed + groups.map(|group| group.sum(of)).sum::<f64>()
            };
            let (least, longest) = (sum(&few, |item| item.least), sum(&many, |item| item.most));
            if total < least - TOUCH || total > longest + TOUCH {
                return Some(Stop::new(
                    "fitting the building to its space",
                    format!(
                        "left of the pinned \"{}\" there is {}, and what stands there comes to \
                         {} at least and {} at most",
                        segment.pin,
                        show(total),
                        show(least),
                        show(longest)
                    ),
                    "move the pin, or give the walls left of it more play",
                ));
            }
        }
    }
    None
}

/// Why nothing can be offered: the shortest that could, and what binds.
pub(crate) fn nothing_fits(case: &Case<'_>) -> Stop {
    let show = |inches: f64| case.job.about.full_notation().show(&CompressedLength::inches(inches));
    if let Some(stop) = no_room_for_a_pin(case) {
        return stop;
    }
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
    if least <= longest + TOUCH {
        return Stop::new(
            "fitting the building to its space",
            "every alternative is too deep or too high",
            "look at the depth and height of the space",
        );
    }
    if longest < 0.0 {
        return Stop::new(
            "fitting the building to its space",
            "what stands beside the front is longer than the space by itself",
            "find a longer place, or say in `[space] counts` that only the walls count",
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
