//! A face's row for given counts, as sums: what is fixed, what may shrink, what
//! is repeated.
//!
//! Lengths here are full-size inches without a space: they stand between a
//! prototype row and the compressed one and are never shown.

use std::collections::{BTreeMap, BTreeSet};

use super::look::Rules;
use crate::elevation::sized::{Element, Face, Kind, Opening};
use crate::job::face::Times;
use crate::quantity::PrototypeLength;

/// The shortest an element may become, as a share of itself, where the job says
/// nothing.
pub const LEAST_SHARE: f64 = 0.6;
/// The shortest considered where bounds are set aside to show what they forbid.
const LEAST_SHOWN: f64 = 0.05;

/// How often each repeated element is to occur; those not named, as they do.
pub(crate) type Counts = BTreeMap<String, u32>;

/// The name by which an element of a face is known in counts and widths: its own
/// on the front, with the face before it elsewhere.
pub fn key(front: bool, face: &str, element: &str) -> String {
    if front { element.to_owned() } else { format!("{face}/{element}") }
}

/// One face's row for given counts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    /// Sum of what is never stretched.
    pub(crate) fixed: f64,
    /// The stretches between pinned openings, left to right; one without pins.
    pub(crate) segments: Vec<Segment>,
    /// Groups of elements that may stretch, in order of appearance.
    pub(crate) groups: Vec<Group>,
    /// Area of the openings, square inches.
    pub(crate) area: f64,
    /// Openings that stand among walls of a repeated group, or all of them where no
    /// wall is repeated.
    pub(crate) openings: u32,
    /// What is repeated.
    pub(crate) repeats: Vec<Repeat>,
}

/// A stretch of a row from the left corner or a pinned opening to the next, or to
/// the right corner. A pinned opening belongs to what stands right of it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Segment {
    /// Where it begins, where a pin says so.
    pub(crate) start: f64,
    /// Sum of what is never stretched in it.
    pub(crate) fixed: f64,
    /// What it must come to; open for the last, which ends at the corner.
    pub(crate) total: Option<f64>,
    /// The pinned opening it ends at.
    pub(crate) pin: String,
}

/// Elements that shrink together.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    /// Its name, with the face before it away from the front.
    pub(crate) name: String,
    /// The look feature it counts in.
    pub(crate) feature: String,
    /// Its elements.
    pub(crate) items: Vec<Item>,
    /// The stretch it stands in.
    pub(crate) segment: usize,
}

/// One element that may stretch.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    pub(crate) key: String,
    pub(crate) times: f64,
    pub(crate) original: f64,
    pub(crate) least: f64,
    pub(crate) most: f64,
}

/// One repeated element.
#[derive(Clone, Debug)]
pub(crate) struct Repeat {
    pub(crate) key: String,
    pub(crate) count: u32,
    pub(crate) times: Times,
    /// Whether it is a row of bays, and not a sub-row.
    pub(crate) bays: bool,
    /// What stands in each of them in turn.
    pub(crate) cycle: Vec<Vec<String>>,
}

impl Group {
    pub(crate) fn sum(&self, of: impl Fn(&Item) -> f64) -> f64 {
        self.items.iter().map(|item| item.times * of(item)).sum()
    }
}

/// How a row is to be summed.
#[derive(Clone, Copy)]
pub(crate) struct Summing<'a> {
    pub(crate) rules: &'a Rules,
    pub(crate) front: bool,
    /// Bounds set aside.
    pub(crate) loose: bool,
}

/// Sums up a face for given counts.
pub(crate) fn tally(face: &Face, counts: &Counts, how: Summing<'_>) -> Tally {
    let out = Tally { segments: vec![Segment::default()], ..Tally::default() };
    let mut walk = Walk { face, counts, how, counted: counted(&face.row), out };
    walk.row(&face.row, 1.0);
    walk.out
}

impl Tally {
    /// What never changes in each stretch; the last counts from the left corner,
    /// so that its total is the length of the face.
    pub(crate) fn rows_fixed(&self) -> Vec<f64> {
        let fixed = |it: &Segment| it.fixed + if it.total.is_none() { it.start } else { 0.0 };
        self.segments.iter().map(fixed).collect()
    }
}

/// The elements whose openings count: those in a repeated sub-row or in bays, and
/// those next to a wall of a group that a repeated sub-row has; all of them where
/// no wall is repeated. Left and right are alike, so that a mirrored row counts as
/// the row does.
pub(crate) fn counted(row: &[Element]) -> BTreeSet<&str> {
    let mut all = Vec::new();
    flat(row, false, &mut all);
    let group = |element: &Element| match &element.kind {
        Kind::Plain { group, .. } => Some(group.clone()),
        _ => None,
    };
    let repeated: BTreeSet<String> =
        all.iter().filter(|(_, inside)| *inside).filter_map(|(it, _)| group(it)).collect();
    let counts = |at: usize, element: &Element, inside: bool| {
        let mut before = all[..at].iter().rev().map(|(it, _)| it);
        let mut behind = all[at..].iter().map(|(it, _)| it);
        let next = [before.find_map(|it| group(it)), behind.find_map(|it| group(it))];
        inside
            || repeated.is_empty()
            || matches!(element.kind, Kind::Bays { .. })
            || next.iter().flatten().any(|group| repeated.contains(group))
    };
    (all.iter().enumerate())
        .filter(|(at, (element, inside))| counts(*at, element, *inside))
        .map(|(_, (element, _))| element.name.as_str())
        .collect()
}

/// The elements of a row in order, and whether each stands in a repeated sub-row.
fn flat<'r>(row: &'r [Element], inside: bool, out: &mut Vec<(&'r Element, bool)>) {
    for element in row {
        match &element.kind {
            Kind::Repeat { row, .. } => flat(row, true, out),
            _ => out.push((element, inside)),
        }
    }
}

struct Walk<'a> {
    face: &'a Face,
    counts: &'a Counts,
    how: Summing<'a>,
    counted: BTreeSet<&'a str>,
    out: Tally,
}

impl Walk<'_> {
    fn key(&self, element: &str) -> String {
        key(self.how.front, &self.face.name, element)
    }

    fn row(&mut self, row: &[Element], times: f64) {
        for element in row {
            self.element(element, times);
        }
    }

    fn element(&mut self, element: &Element, times: f64) {
        match &element.kind {
            Kind::Corner { width } => self.fixed(times * width.in_inches()),
            Kind::Opening { opening, pinned } => {
                let width = opening.width.in_inches();
                if let Some(centre) = pinned {
                    self.pin(&element.name, centre.in_inches() - 0.5 * width);
                }
                self.fixed(times * width);
                self.opening(&element.name, opening, times);
            }
            Kind::Plain { width, fixed: true, .. } => self.fixed(times * width.in_inches()),
            Kind::Plain { width, least, most, group, .. } => {
                let item = self.item(&element.name, times, *width, *least, *most);
                let own = format!("{group}-gap");
                let feature =
                    if self.how.rules.get(&own).is_some() { own } else { "gap".to_owned() };
                self.stretch(group, feature, item);
            }
            Kind::Bays { width, least, cycle, times: often } => {
                let kinds = |stack: &Vec<Opening>| stack.iter().map(|o| o.kind.clone()).collect();
                let stacks = cycle.iter().map(kinds).collect();
                let count = self.count(&element.name, often, true, stacks);
                let widest = cycle.iter().flatten().map(|o| o.width.in_inches());
                let mut item =
                    self.item(&element.name, times * f64::from(count), *width, *least, None);
                item.least = widest.fold(item.least, f64::max);
                self.stretch(&element.name, "bay".to_owned(), item);
                for number in 0..count as usize {
                    let stack = cycle.get(number % cycle.len().max(1));
                    for opening in stack.into_iter().flatten() {
                        self.opening(&element.name, opening, times);
                    }
                }
            }
            Kind::Repeat { row, times: often } => {
                let count = self.count(&element.name, often, false, vec![kinds(row)]);
                self.row(row, times * f64::from(count));
            }
        }
    }

    fn fixed(&mut self, size: f64) {
        self.out.fixed += size;
        if let Some(last) = self.out.segments.last_mut() {
            last.fixed += size;
        }
    }

    /// Ends the stretch at the left edge of a pinned opening.
    fn pin(&mut self, name: &str, edge: f64) {
        if let Some(last) = self.out.segments.last_mut() {
            last.total = Some(edge - last.start);
            last.pin = name.to_owned();
        }
        self.out.segments.push(Segment { start: edge, ..Segment::default() });
    }

    fn count(&mut self, name: &str, often: &Times, bays: bool, cycle: Vec<Vec<String>>) -> u32 {
        let key = self.key(name);
        let count = self.counts.get(&key).copied().unwrap_or(often.count);
        self.out.repeats.push(Repeat { key, count, times: often.clone(), bays, cycle });
        count
    }

    fn opening(&mut self, element: &str, opening: &Opening, times: f64) {
        self.out.area += times * (opening.width * opening.height).in_square_inches();
        if self.counted.contains(element) {
            // Counts are small whole numbers.
            self.out.openings += times.round() as u32;
        }
    }

    fn item(
        &self,
        name: &str,
        times: f64,
        width: PrototypeLength,
        least: Option<PrototypeLength>,
        most: Option<PrototypeLength>,
    ) -> Item {
        let original = width.in_inches();
        let bound = least.map_or(original * LEAST_SHARE, PrototypeLength::in_inches);
        Item {
            key: self.key(name),
            times,
            original,
            least: if self.how.loose { original * LEAST_SHOWN } else { bound },
            most: most.map_or(original, PrototypeLength::in_inches),
        }
    }

    fn stretch(&mut self, group: &str, feature: String, item: Item) {
        if item.times < 0.5 {
            return;
        }
        let segment = self.out.segments.len() - 1;
        let mut name = self.key(group);
        if let Some(pinned) = segment.checked_sub(1).and_then(|at| self.out.segments.get(at)) {
            name = format!("{name} after {}", pinned.pin);
        }
        match self.out.groups.iter_mut().find(|known| known.name == name) {
            Some(known) => known.items.push(item),
            None => self.out.groups.push(Group { name, feature, items: vec![item], segment }),
        }
    }
}

/// The kinds of opening in a sub-row.
fn kinds(row: &[Element]) -> Vec<String> {
    let mut all = Vec::new();
    flat(row, true, &mut all);
    let kind = |(it, _): &(&Element, bool)| match &it.kind {
        Kind::Opening { opening, .. } => Some(opening.kind.clone()),
        _ => None,
    };
    all.iter().filter_map(kind).collect()
}

/// Sum of a row with the widths decided on.
pub(crate) fn length(tally: &Tally, width: impl Fn(&Item) -> f64) -> f64 {
    tally.fixed + tally.groups.iter().map(|group| group.sum(&width)).sum::<f64>()
}

/// Repeated elements that stand in one another, the outermost first.
pub(crate) type Cluster = Vec<(String, Times)>;

/// Fewest and most of each repeated element on a face.
pub(crate) fn slots(face: &Face, front: bool) -> Vec<(String, Times)> {
    clusters(face, front).into_iter().flatten().collect()
}

/// The same, each outermost one with those inside it.
pub(crate) fn clusters(face: &Face, front: bool) -> Vec<Cluster> {
    fn visit(row: &[Element], face: &str, front: bool, out: &mut Vec<(String, Times)>) {
        for element in row {
            match &element.kind {
                Kind::Bays { times, .. } => {
                    out.push((key(front, face, &element.name), times.clone()));
                }
                Kind::Repeat { row, times } => {
                    out.push((key(front, face, &element.name), times.clone()));
                    visit(row, face, front, out);
                }
                _ => {}
            }
        }
    }
    let cluster = |element: &Element| {
        let mut out = Vec::new();
        visit(std::slice::from_ref(element), &face.name, front, &mut out);
        out
    };
    face.row.iter().map(cluster).filter(|cluster| !cluster.is_empty()).collect()
}
