//! What a face costs, by the definition in `docs/look.md` and nothing else.

use std::collections::BTreeMap;

use scantling::catalog::look::Measure;

use super::face::{Building, Named, Often, Part};

/// Counts by the name of a repeated element.
pub(super) type Counts = BTreeMap<String, u32>;

/// A group of one stretch of one face: what its walls were and may be, summed.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) key: String,
    pub(super) bays: bool,
    pub(super) was: f64,
    pub(super) range: [f64; 2],
    /// Name, times, and own width of each element.
    pub(super) walls: Vec<(String, f64, f64)>,
    /// What each may be, in that order.
    pub(super) ranges: Vec<[f64; 2]>,
    pub(super) stretch: usize,
}

/// A face for given counts.
#[derive(Clone, Debug, Default)]
pub(super) struct Sums {
    pub(super) groups: Vec<Group>,
    /// What never changes in each stretch, and where a pin ends it.
    pub(super) stretches: Vec<(f64, Option<f64>)>,
    pub(super) area: f64,
    pub(super) openings: f64,
    pub(super) repeats: Vec<Repeated>,
}

/// A repeated element: how often it stands, and what stands in each in turn.
#[derive(Clone, Debug)]
pub(super) struct Repeated {
    count: u32,
    often: Often,
    bays: bool,
    stacks: Vec<Vec<&'static str>>,
}

/// A row without its names.
fn flat(row: &[Named]) -> Vec<&Named> {
    let mut out = Vec::new();
    for named in row {
        match &named.part {
            Part::Repeat { row, .. } => out.extend(flat(row)),
            _ => out.push(named),
        }
    }
    out
}

/// Groups with a wall in a repeated sub-row.
fn repeated(row: &[Named]) -> Vec<&str> {
    let inner = row.iter().filter_map(|it| match &it.part {
        Part::Repeat { row, .. } => Some(row),
        _ => None,
    });
    let walls = inner.flat_map(|row| flat(row)).filter_map(|it| match &it.part {
        Part::Plain { group, .. } => Some(group.as_str()),
        _ => None,
    });
    walls.collect()
}

/// Whether an opening that stands by itself has a wall of those groups next to
/// it, before it or behind it.
fn beside(row: &[Named], name: &str, groups: &[&str]) -> bool {
    let all = flat(row);
    let at = all.iter().position(|it| it.name == name).expect("it is in its row");
    let group = |it: &&Named| match &it.part {
        Part::Plain { group, .. } => Some(groups.contains(&group.as_str())),
        _ => None,
    };
    let left = all[..at].iter().rev().find_map(group);
    let right = all[at..].iter().find_map(group);
    left == Some(true) || right == Some(true)
}

impl Sums {
    pub(super) fn of(row: &[Named], face: &str, counts: &Counts) -> Self {
        let mut out = Self { stretches: vec![(0.0, None)], ..Self::default() };
        let groups = repeated(row);
        for named in row {
            out.add(row, &groups, named, face, (1.0, false), counts);
        }
        out
    }

    fn add(
        &mut self,
        row: &[Named],
        groups: &[&str],
        named: &Named,
        face: &str,
        (times, inside): (f64, bool),
        counts: &Counts,
    ) {
        let key = |name: &str| format!("{face}{name}");
        let said = |often: &Often| counts.get(&key(&named.name)).copied().unwrap_or(often.count);
        match &named.part {
            Part::Corner(width) => self.fixed(times * width),
            Part::Plain { width, fixed: true, .. } => self.fixed(times * width),
            Part::Plain { width, range, group, .. } => {
                self.wall(key(group), false, key(&named.name), times, *width, *range);
            }
            Part::Opening { hole, pinned } => {
                if let Some(centre) = pinned {
                    let edge = centre - 0.5 * hole.width;
                    self.stretches.last_mut().expect("there is one").1 = Some(edge);
                    self.stretches.push((0.0, None));
                }
                self.fixed(times * hole.width);
                self.area += times * hole.width * hole.height;
                if inside || groups.is_empty() || beside(row, &named.name, groups) {
                    self.openings += times;
                }
            }
            Part::Bays { width, least, cycle, often } => {
                let count = said(often);
                let widest = cycle.iter().flatten().map(|it| it.width).fold(0.0, f64::max);
                let range = [least.unwrap_or(0.6 * width).max(widest), *width];
                let times = times * f64::from(count);
                self.wall(key(&named.name), true, key(&named.name), times, *width, range);
                for number in 0..count as usize {
                    for hole in &cycle[number % cycle.len()] {
                        self.area += hole.width * hole.height;
                        self.openings += 1.0;
                    }
                }
                let stacks = cycle.iter().map(|it| it.iter().map(|it| it.kind).collect());
                let (often, stacks) = (often.clone(), stacks.collect());
                self.repeats.push(Repeated { count, often, bays: true, stacks });
            }
            Part::Repeat { row: inner, often } => {
                let count = said(often);
                let kinds = flat(inner).into_iter().filter_map(|it| match &it.part {
                    Part::Opening { hole, .. } => Some(hole.kind),
                    _ => None,
                });
                let (often, stacks) = (often.clone(), vec![kinds.collect()]);
                self.repeats.push(Repeated { count, often, bays: false, stacks });
                for it in inner {
                    self.add(row, groups, it, face, (times * f64::from(count), true), counts);
                }
            }
        }
    }

    fn fixed(&mut self, size: f64) {
        self.stretches.last_mut().expect("there is one").0 += size;
    }

    fn wall(
        &mut self,
        key: String,
        bays: bool,
        name: String,
        times: f64,
        width: f64,
        range: [f64; 2],
    ) {
        if times < 0.5 {
            return;
        }
        let stretch = self.stretches.len() - 1;
        let known = self.groups.iter_mut().find(|it| it.key == key && it.stretch == stretch);
        let group = match known {
            Some(group) => group,
            None => {
                let was = Group {
                    key,
                    bays,
                    was: 0.0,
                    range: [0.0; 2],
                    walls: Vec::new(),
                    ranges: Vec::new(),
                    stretch,
                };
                self.groups.push(was);
                self.groups.last_mut().expect("just pushed")
            }
        };
        group.was += times * width;
        group.range[0] += times * range[0];
        group.range[1] += times * range[1];
        group.walls.push((name, times, width));
        group.ranges.push(range);
    }

    /// Length of the row when each group has this sum.
    pub(super) fn length(&self, sum: impl Fn(&Group) -> f64) -> f64 {
        let fixed: f64 = self.stretches.iter().map(|(fixed, _)| fixed).sum();
        fixed + self.groups.iter().map(sum).sum::<f64>()
    }
}

/// What is decided, in plain figures.
pub(super) struct Decided {
    pub(super) counts: Counts,
    pub(super) widths: BTreeMap<String, f64>,
    pub(super) depth: f64,
    pub(super) roof: Roof,
    pub(super) behind: bool,
}

/// How the roof follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Roof {
    KeepPitch,
    KeepRidge,
    HalfRelief,
    Flat,
}

const ALWAYS: [&str; 7] = ["pitch", "half-relief", "flat", "wedge", "storey", "edge", "behind"];
const ASKED: [&str; 3] = ["length", "spacing", "silhouette"];

/// The cost of one deviation.
pub(super) fn cost(z: f64, weight: f64) -> f64 {
    weight * ((1.0 + z * z).sqrt() - 1.0)
}

/// Tolerance and weight of a feature whose original figure is this; for what
/// holds or not, the tolerance is its z.
pub(super) fn figures(building: &Building, key: &str, original: f64) -> Option<(f64, f64)> {
    let counts = ALWAYS.contains(&key)
        || building.named.contains(&key)
        || (building.named.is_empty() && !ASKED.contains(&key));
    let row = building.data.rows.iter().find(|row| counts && row.key == key)?;
    let few = if original <= 4.5 { row.tau_few } else { None };
    let own = building.weigh.iter().find(|(of, ..)| *of == key);
    let data = if row.measure == Measure::YesNo { row.z } else { few.or(row.tau) };
    let tau = own.and_then(|own| own.1).or(data)?;
    Some((tau, own.and_then(|own| own.2).unwrap_or(row.weight)))
}

/// A ratio's cost.
pub(super) fn ratio(building: &Building, key: &str, was: f64, is: f64) -> f64 {
    let Some((tau, weight)) = figures(building, key, was).filter(|_| was > 0.0) else {
        return 0.0;
    };
    let share = if is > 0.0 { is / was } else { 1e-3 };
    cost(share.ln() / tau, weight)
}

fn holds(building: &Building, key: &str) -> f64 {
    figures(building, key, f64::INFINITY).map_or(0.0, |(z, weight)| cost(z, weight))
}

fn apart(building: &Building, key: &str, was: f64, is: f64) -> f64 {
    let figures = figures(building, key, f64::INFINITY);
    figures.map_or(0.0, |(tau, weight)| cost((is - was) / tau, weight))
}

/// The feature a group counts in.
pub(super) fn feature(building: &Building, group: &Group) -> String {
    if group.bays {
        return "bay".to_owned();
    }
    let own = format!("{}-gap", group.key.rsplit('/').next().unwrap_or_default());
    if figures(building, &own, 1.0).is_some() { own } else { "gap".to_owned() }
}

/// The faces that count, with what stands before their names.
pub(super) fn faces(building: &Building) -> Vec<(&[Named], &'static str)> {
    let back = building.back.iter().map(|row| (row.as_slice(), "main/back/"));
    std::iter::once((building.front.as_slice(), "")).chain(back).collect()
}

/// What depends on the counts alone.
pub(super) fn of_counts(building: &Building, counts: &Counts) -> f64 {
    let mut sum = 0.0;
    for (number, (row, before)) in faces(building).into_iter().enumerate() {
        let (was, is) = (Sums::of(row, before, &Counts::new()), Sums::of(row, before, counts));
        if number == 0 {
            sum += ratio(building, "openings", was.openings, is.openings);
        }
        sum += is.repeats.iter().map(|it| repeated_cost(building, it)).sum::<f64>();
    }
    sum
}

fn repeated_cost(building: &Building, it: &Repeated) -> f64 {
    let Repeated { count, often, bays, stacks } = it;
    let count = *count;
    let mut sum = 0.0;
    if *bays {
        sum += ratio(building, "count", f64::from(often.count), f64::from(count));
    }
    if count == often.count {
        return sum;
    }
    if often.parity && count % 2 != often.count % 2 {
        sum += holds(building, "parity");
    }
    if often.period.is_some_and(|period| !count.is_multiple_of(period)) {
        sum += holds(building, "period");
    }
    let stack = |number: u32| &stacks[number as usize % stacks.len()];
    let centre = often
        .centre
        .is_some_and(|kind| count.is_multiple_of(2) || !stack(count / 2).contains(&kind));
    let turned = often.mirror && (0..count).any(|at| stack(at) != stack(count - 1 - at));
    if centre || turned {
        sum += holds(building, "centre");
    }
    sum
}

/// What depends on depth and roof alone.
pub(super) fn of_roof(building: &Building, depth: f64, roof: Roof, behind: bool) -> f64 {
    let run = |depth: f64| match building.roof {
        "shed" => depth,
        "flat" => 0.0,
        _ => 0.5 * depth,
    };
    let pitch = if building.roof == "flat" { 0.0 } else { 0.5 };
    let eave = building.eave;
    let (ridge, steep) = match roof {
        Roof::KeepPitch => (eave + pitch * run(depth), pitch),
        Roof::KeepRidge => (building.ridge, (building.ridge - eave) / run(depth)),
        Roof::HalfRelief | Roof::Flat => (building.ridge, pitch),
    };
    let mut sum = ratio(building, "ridge", building.ridge / eave, ridge / eave);
    sum += match roof {
        Roof::HalfRelief => holds(building, "half-relief"),
        Roof::Flat => holds(building, "flat"),
        _ => ratio(building, "gable", building.depth / building.ridge, depth / ridge),
    };
    if roof == Roof::KeepRidge && building.roof != "flat" {
        let degrees = |pitch: f64| pitch.atan().to_degrees();
        sum += apart(building, "pitch", degrees(pitch), degrees(steep));
    }
    sum + if behind { holds(building, "behind") } else { 0.0 }
}

/// The whole cost of a decision.
pub(super) fn whole(building: &Building, decided: &Decided) -> f64 {
    let width = |(name, times, own): &(String, f64, f64)| {
        times * decided.widths.get(name).copied().unwrap_or(*own)
    };
    let of = |group: &Group| group.walls.iter().map(width).sum::<f64>();
    let mut sum = of_counts(building, &decided.counts);
    for (number, (row, before)) in faces(building).into_iter().enumerate() {
        let first = Sums::of(row, before, &Counts::new());
        let now = Sums::of(row, before, &decided.counts);
        for group in &now.groups {
            sum += ratio(building, &feature(building, group), 1.0, of(group) / group.was);
        }
        let (was, is) = (first.length(|it| it.was), now.length(of));
        sum += ratio(
            building,
            "void",
            first.area / (was * building.eave),
            now.area / (is * building.eave),
        );
        if number == 0 {
            sum += ratio(building, "length", was, is);
            sum += ratio(building, "aspect", was / building.eave, is / building.eave);
            sum += spacing(building, &first, &now, &decided.widths);
            let ridge = body_ridge(building, decided);
            let (before, after) = (was / building.ridge, is / ridge);
            let off = 1.0 - before.min(after) / before.max(after);
            sum += apart(building, "silhouette", 0.0, off);
        }
    }
    sum + of_roof(building, decided.depth, decided.roof, decided.behind)
}

/// What a decision breaks of what may be decided.
pub(super) fn broken(building: &Building, decided: &Decided, longest: f64) -> Option<String> {
    const SLACK: f64 = 1e-5;
    let width = |name: &str, own: f64| decided.widths.get(name).copied().unwrap_or(own);
    let mut lengths = Vec::new();
    for (row, before) in faces(building) {
        let sums = Sums::of(row, before, &decided.counts);
        for group in &sums.groups {
            for ((name, _, own), [least, most]) in group.walls.iter().zip(&group.ranges) {
                let is = width(name, *own);
                if is < least - SLACK || is > most + SLACK {
                    return Some(format!("{name} is {is}, may be {least} to {most}"));
                }
            }
        }
        let of = |it: &Group| -> f64 {
            it.walls.iter().map(|(name, times, own)| times * width(name, *own)).sum()
        };
        let mut edge = 0.0;
        for (at, (fixed, pin)) in sums.stretches.iter().enumerate() {
            let walls: f64 = sums.groups.iter().filter(|it| it.stretch == at).map(of).sum();
            edge += fixed + walls;
            if pin.is_some_and(|pin| (pin - edge).abs() > SLACK) {
                return Some(format!("its pin is at {pin:?}, it stands at {edge}"));
            }
        }
        lengths.push(edge);
    }
    if lengths[0] > longest + SLACK {
        return Some(format!("{} long, the place takes {longest}", lengths[0]));
    }
    let apart = lengths.iter().find(|length| (*length - lengths[0]).abs() > SLACK);
    apart.map(|back| format!("the front is {} long, the back {back}", lengths[0]))
}

fn body_ridge(building: &Building, decided: &Decided) -> f64 {
    let run = match building.roof {
        "shed" => decided.depth,
        "flat" => 0.0,
        _ => 0.5 * decided.depth,
    };
    match decided.roof {
        Roof::KeepPitch => building.eave + 0.5 * run,
        _ => building.ridge,
    }
}

fn spacing(building: &Building, first: &Sums, now: &Sums, widths: &BTreeMap<String, f64>) -> f64 {
    let uneven = |sums: &Sums, width: &dyn Fn(&str, f64) -> f64| {
        let walls = || sums.groups.iter().flat_map(|it| &it.walls);
        let times: f64 = walls().map(|(_, times, _)| times).sum();
        if times < 1.0 {
            return 0.0;
        }
        let mean = walls().map(|(name, n, own)| n * width(name, *own)).sum::<f64>() / times;
        let off = |(name, n, own): &(String, f64, f64)| n * (width(name, *own) - mean).powi(2);
        (walls().map(off).sum::<f64>() / times).sqrt() / mean
    };
    let was = uneven(first, &|_, own| own);
    let is = uneven(now, &|name, own| widths.get(name).copied().unwrap_or(own));
    apart(building, "spacing", was, is.max(was))
}
