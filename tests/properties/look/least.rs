//! The least a face can cost, by brute force over the counts and a search over
//! the sums of the groups: first every lattice point, then the best few lattice
//! points followed to their bottoms. Nothing here is convex, and nothing is
//! taken to be.

use std::collections::BTreeMap;

use super::face::{Building, Named, Part};
use super::judge::{self, Counts, Group, Sums};

/// One group with its figures: a cost of its sum.
#[derive(Clone, Debug)]
struct Term {
    was: f64,
    range: [f64; 2],
    tau: f64,
    weight: f64,
}

impl Term {
    fn cost(&self, sum: f64) -> f64 {
        judge::cost((sum / self.was).ln() / self.tau, self.weight)
    }
}

/// A stretch of a row that has to come to a length.
#[derive(Clone, Debug)]
struct Stretch {
    fixed: f64,
    terms: Vec<Term>,
}

/// Points of a lattice for each group.
const LATTICE: usize = 64;
/// Lengths may be off by so much before a row is no longer met.
const MET: f64 = 1e-6;

impl Stretch {
    fn ends(&self) -> [f64; 2] {
        [0, 1].map(|end| self.fixed + self.terms.iter().map(|it| it.range[end]).sum::<f64>())
    }

    /// The least cost of coming to a length: a lattice, then exchanges.
    fn fill(&self, length: f64) -> Option<f64> {
        let [low, high] = self.ends();
        if length < low - MET || length > high + MET {
            return None;
        }
        let room = (length - self.fixed).clamp(low - self.fixed, high - self.fixed);
        self.starts(room).into_iter().map(|start| self.settled(start)).min_by(f64::total_cmp)
    }

    /// Lattice points of the room, the cheapest first.
    fn starts(&self, room: f64) -> Vec<Vec<f64>> {
        let Some((last, rest)) = self.terms.split_last() else { return vec![Vec::new()] };
        let steps = match rest.len() {
            0 | 1 => LATTICE,
            2 => 32,
            _ => 10,
        };
        let mut points: Vec<(Vec<f64>, f64)> = vec![(Vec::new(), 0.0)];
        for term in rest {
            let [low, high] = term.range;
            let sizes: Vec<f64> =
                (0..=steps).map(|at| low + (high - low) * at as f64 / steps as f64).collect();
            points = (points.iter())
                .flat_map(|(known, sum)| {
                    let with = |size: &f64| {
                        let mut sizes = known.clone();
                        sizes.push(*size);
                        (sizes, sum + size)
                    };
                    sizes.iter().map(with).collect::<Vec<_>>()
                })
                .collect();
        }
        let mut out: Vec<(Vec<f64>, f64)> = Vec::new();
        for (mut sizes, sum) in points {
            let left = room - sum;
            // The last takes what is left; what it cannot take goes back.
            let taken = left.clamp(last.range[0], last.range[1]);
            sizes.push(taken);
            let mut off = left - taken;
            for (size, term) in sizes.iter_mut().zip(&self.terms) {
                let moved = (*size + off).clamp(term.range[0], term.range[1]) - *size;
                *size += moved;
                off -= moved;
            }
            if off.abs() <= MET {
                let cost = self.cost(&sizes);
                out.push((sizes, cost));
            }
        }
        out.sort_by(|a, b| a.1.total_cmp(&b.1));
        // The best, and the best that are far from it.
        let mut starts: Vec<Vec<f64>> = Vec::new();
        for (sizes, _) in out {
            let far = |known: &Vec<f64>| {
                let share = |((a, b), term): ((&f64, &f64), &Term)| {
                    (a - b).abs() / (term.range[1] - term.range[0]).max(1e-9)
                };
                known.iter().zip(&sizes).zip(&self.terms).map(share).fold(0.0, f64::max) > 0.15
            };
            if starts.iter().all(far) {
                starts.push(sizes);
            }
            if starts.len() == 6 {
                break;
            }
        }
        starts
    }

    fn cost(&self, sizes: &[f64]) -> f64 {
        self.terms.iter().zip(sizes).map(|(term, size)| term.cost(*size)).sum()
    }

    /// Pairs exchange length until nothing is gained.
    fn settled(&self, mut sizes: Vec<f64>) -> f64 {
        for _ in 0..400 {
            let before = self.cost(&sizes);
            for a in 0..sizes.len() {
                for b in a + 1..sizes.len() {
                    let (one, two) = (&self.terms[a], &self.terms[b]);
                    let low = (one.range[0] - sizes[a]).max(sizes[b] - two.range[1]);
                    let high = (one.range[1] - sizes[a]).min(sizes[b] - two.range[0]);
                    let (at, other) = (sizes[a], sizes[b]);
                    let moved = lowest([low, high], &|by| one.cost(at + by) + two.cost(other - by));
                    sizes[a] += moved;
                    sizes[b] -= moved;
                }
            }
            if before - self.cost(&sizes) < 1e-11 || sizes.len() < 3 {
                break;
            }
        }
        self.cost(&sizes)
    }
}

/// The lowest point of a curve with few valleys: a scan, then thirds.
fn lowest([low, high]: [f64; 2], of: &dyn Fn(f64) -> f64) -> f64 {
    const SCAN: usize = 24;
    if high <= low {
        return 0.0_f64.clamp(low.min(high), low.max(high));
    }
    let at = |step: usize| low + (high - low) * step as f64 / SCAN as f64;
    let best = (0..=SCAN).min_by(|a, b| of(at(*a)).total_cmp(&of(at(*b)))).unwrap_or(0);
    let ends = [at(best.saturating_sub(1)), at((best + 1).min(SCAN))];
    let bottom = bottom(ends, of);
    // Not to move is always allowed.
    let still = 0.0_f64.clamp(low, high);
    if of(still) <= of(bottom) { still } else { bottom }
}

/// The bottom between two points, by golden section.
fn bottom([mut low, mut high]: [f64; 2], of: &dyn Fn(f64) -> f64) -> f64 {
    const PART: f64 = 0.618_033_988_749_894_8;
    let mut right = low + PART * (high - low);
    let mut left = high - PART * (high - low);
    let (mut at_left, mut at_right) = (of(left), of(right));
    for _ in 0..60 {
        if at_left < at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - PART * (high - low);
            at_left = of(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + PART * (high - low);
            at_right = of(right);
        }
        if high - low < 1e-10 * high.abs().max(1.0) {
            break;
        }
    }
    let ends = [low, left, right, high];
    ends.into_iter().min_by(|a, b| of(*a).total_cmp(&of(*b))).unwrap_or(low)
}

/// A face with its last, open stretch and the pinned ones before it.
struct Face {
    open: Stretch,
    /// What the pinned stretches cost; nothing where one cannot be met.
    pinned: Option<f64>,
    /// Opening area and wall height of now and before, with the length before.
    void: Option<(f64, f64, f64)>,
}

fn face(building: &Building, row: &[Named], before: &str, counts: &Counts) -> Face {
    let (first, now) = (Sums::of(row, before, &Counts::new()), Sums::of(row, before, counts));
    let term = |group: &Group| {
        let figures = judge::figures(building, &judge::feature(building, group), 1.0);
        let (tau, weight) = figures.unwrap_or((1.0, 0.0));
        Term { was: group.was, range: group.range, tau, weight }
    };
    let mut edge = 0.0;
    let mut pinned = Some(0.0);
    let mut open = Stretch { fixed: 0.0, terms: Vec::new() };
    for (at, (fixed, ends)) in now.stretches.iter().enumerate() {
        let terms: Vec<Term> = now.groups.iter().filter(|it| it.stretch == at).map(term).collect();
        match ends {
            Some(end) => {
                let stretch = Stretch { fixed: *fixed, terms };
                let filled = stretch.fill(end - edge);
                pinned = pinned.and_then(|sum| Some(sum + filled?));
                edge = *end;
            }
            None => open = Stretch { fixed: edge + fixed, terms },
        }
    }
    let was = first.length(|it| it.was);
    let void = (first.area > 0.0).then_some((first.area, now.area, was));
    Face { open, pinned, void }
}

/// The least cost of given counts, roof and depth aside; nothing where no
/// widths come to a length that is allowed.
pub(super) fn of(building: &Building, counts: &Counts, longest: f64, at_most: f64) -> Option<f64> {
    let faces: Vec<Face> = (judge::faces(building).into_iter())
        .map(|(row, before)| face(building, row, before, counts))
        .collect();
    let mut settled = judge::of_counts(building, counts);
    for face in &faces {
        settled += face.pinned?;
    }
    let ends = faces.iter().map(|it| it.open.ends());
    let [low, high] =
        ends.fold([0.0, longest], |all, one| [all[0].max(one[0]), all[1].min(one[1])]);
    if low > high + MET {
        return None;
    }
    let high = high.max(low);
    let wholes = |length: f64| -> f64 {
        let first: f64 = building.front.iter().map(|it| super::face::widest(&it.part)).sum();
        let mut sum = judge::ratio(building, "length", first, length);
        sum += judge::ratio(building, "aspect", first / building.eave, length / building.eave);
        for face in &faces {
            if let Some((was, is, first)) = face.void {
                let height = building.eave;
                sum +=
                    judge::ratio(building, "void", was / (first * height), is / (length * height));
            }
        }
        sum
    };
    let all = |length: f64| {
        let rows = faces.iter().map(|it| it.open.fill(length).unwrap_or(f64::INFINITY));
        settled + rows.sum::<f64>() + wholes(length)
    };
    // Lengths on a lattice; each valley is followed down.
    const LENGTHS: usize = 60;
    let at = |step: usize| low + (high - low) * step as f64 / LENGTHS as f64;
    let values: Vec<f64> = (0..=LENGTHS).map(|step| all(at(step))).collect();
    let mut best = values.iter().copied().fold(f64::INFINITY, f64::min);
    if high - low <= MET || best > at_most + 1.0 {
        return Some(best);
    }
    for step in 0..=LENGTHS {
        let (before, after) = (step.saturating_sub(1), (step + 1).min(LENGTHS));
        if values[step] <= values[before] && values[step] <= values[after] {
            let found = bottom([at(before), at(after)], &all);
            best = best.min(all(found));
        }
    }
    Some(best)
}

/// Every allowed combination of counts.
pub(super) fn every(building: &Building) -> Vec<Counts> {
    fn slots(row: &[Named], before: &str, out: &mut BTreeMap<String, [u32; 2]>) {
        for named in row {
            match &named.part {
                Part::Bays { often, .. } => {
                    out.insert(format!("{before}{}", named.name), often.range);
                }
                Part::Repeat { often, row } => {
                    out.insert(format!("{before}{}", named.name), often.range);
                    slots(row, before, out);
                }
                _ => {}
            }
        }
    }
    let mut all = BTreeMap::new();
    for (row, before) in judge::faces(building) {
        slots(row, before, &mut all);
    }
    let mut every = vec![Counts::new()];
    for (key, [least, most]) in all {
        every = (least..=most)
            .flat_map(|count| {
                let with = |known: &Counts| {
                    let mut counts = known.clone();
                    counts.insert(key.clone(), count);
                    counts
                };
                every.iter().map(with).collect::<Vec<_>>()
            })
            .collect();
    }
    every
}
