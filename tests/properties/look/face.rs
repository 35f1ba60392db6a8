//! Random faces and random look data, as plain figures and as a job.
//!
//! Lengths are inches at full size, on quarters.

use std::fmt::Write as _;
use std::sync::Arc;

use scantling::catalog::look::{Feature, Look, Measure};

use crate::numbers::Numbers;

/// A door or window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hole {
    pub(super) kind: &'static str,
    pub(super) width: f64,
    pub(super) height: f64,
}

const DOOR: Hole = Hole { kind: "door", width: 48.0, height: 96.0 };
const WINDOW: Hole = Hole { kind: "window", width: 30.0, height: 60.0 };

/// How often an element is repeated.
#[derive(Clone, Debug)]
pub(super) struct Often {
    pub(super) count: u32,
    pub(super) range: [u32; 2],
    pub(super) parity: bool,
    pub(super) period: Option<u32>,
    pub(super) centre: Option<&'static str>,
    pub(super) mirror: bool,
}

/// One element of a row.
#[derive(Clone, Debug)]
pub(super) enum Part {
    Corner(f64),
    Plain { width: f64, range: [f64; 2], said: [bool; 2], group: String, fixed: bool },
    Opening { hole: Hole, pinned: Option<f64> },
    Bays { width: f64, least: Option<f64>, cycle: Vec<Vec<Hole>>, often: Often },
    Repeat { row: Vec<Named>, often: Often },
}

#[derive(Clone, Debug)]
pub(super) struct Named {
    pub(super) name: String,
    pub(super) part: Part,
}

/// A building of a front, with or without a back, and what judges it.
#[derive(Clone, Debug)]
pub(super) struct Building {
    pub(super) number: u64,
    pub(super) front: Vec<Named>,
    pub(super) back: Option<Vec<Named>>,
    pub(super) eave: f64,
    pub(super) ridge: f64,
    pub(super) depth: f64,
    pub(super) roof: &'static str,
    /// Length and depth of the place, at full size.
    pub(super) place: [Option<f64>; 2],
    /// The data, and over it what the job says.
    pub(super) data: Arc<Look>,
    pub(super) named: Vec<&'static str>,
    pub(super) weigh: Vec<(&'static str, Option<f64>, Option<f64>)>,
}

/// The scale everything stands at, as a ratio.
pub(super) const RATIO: f64 = 48.0;

fn quarter(inches: f64) -> f64 {
    (inches * 4.0).round() / 4.0
}

/// Builds rows; names are told apart by a number.
struct Maker<'n> {
    dice: &'n mut Numbers,
    made: usize,
    /// Repeats left to make on this building.
    repeats: usize,
}

impl Maker<'_> {
    fn named(&mut self, part: Part) -> Named {
        self.made += 1;
        Named { name: format!("e{}", self.made), part }
    }

    fn plain(&mut self, groups: &[&str]) -> Named {
        let width = quarter(self.dice.between(24.0, 140.0));
        let said = [self.dice.one_in(2), self.dice.one_in(3)];
        let least = quarter(width * (0.3 + 0.6 * self.dice.share())).max(1.0);
        let most = quarter(width * (1.0 + 1.5 * self.dice.share()));
        let range = [if said[0] { least } else { 0.6 * width }, if said[1] { most } else { width }];
        let fixed = self.dice.one_in(10);
        let group = self.dice.pick(groups).to_owned();
        self.named(Part::Plain { width, range, said, group, fixed })
    }

    fn hole(&mut self) -> Hole {
        self.dice.pick(&[DOOR, WINDOW])
    }

    fn opening(&mut self) -> Named {
        let hole = self.hole();
        self.named(Part::Opening { hole, pinned: None })
    }

    fn often(&mut self, centre: Option<&'static str>) -> Often {
        let count = 1 + (self.dice.share() * 5.0) as u32;
        let least = (self.dice.share() * f64::from(count + 1)) as u32;
        let most = count + u32::from(self.dice.one_in(4));
        let parity = self.dice.one_in(3);
        let period = self.dice.one_in(4).then(|| 1 + (self.dice.share() * 3.0) as u32);
        let mut often = Often {
            count,
            range: [least.min(most), most],
            parity,
            period,
            centre: centre.filter(|_| self.dice.one_in(3)),
            mirror: self.dice.one_in(5),
        };
        // The program refuses ranges in which no number is right.
        let right = |n: u32| {
            (!often.parity || n % 2 == count % 2)
                && often.period.is_none_or(|period| n.is_multiple_of(period))
        };
        if !(often.range[0]..=often.range[1]).any(right) {
            (often.parity, often.period) = (false, None);
        }
        often
    }

    fn bays(&mut self) -> Named {
        let width = quarter(self.dice.between(70.0, 180.0));
        let least = self.dice.one_in(3).then(|| quarter(width * (0.4 + 0.5 * self.dice.share())));
        let many = 1 + (self.dice.share() * 3.0) as usize;
        let cycle: Vec<Vec<Hole>> = (0..many)
            .map(|_| match (self.dice.share() * 4.0) as u32 {
                0 => Vec::new(),
                1 => vec![WINDOW, WINDOW],
                _ => vec![self.hole()],
            })
            .collect();
        let often = self.often(Some("window"));
        self.named(Part::Bays { width, least, cycle, often })
    }

    fn repeat(&mut self, groups: &[&str]) -> Named {
        let mut row = vec![self.plain(groups), self.opening()];
        if self.dice.one_in(2) {
            row.swap(0, 1);
        }
        if self.dice.one_in(6) {
            row.remove(0);
        }
        let often = self.often(Some("door"));
        self.named(Part::Repeat { row, often })
    }

    fn front(&mut self) -> Vec<Named> {
        let mut groups = vec!["plain"];
        if self.dice.one_in(2) {
            groups.push("office");
        }
        let mut row = Vec::new();
        if self.dice.one_in(2) {
            let width = quarter(self.dice.between(6.0, 20.0));
            row.push(self.named(Part::Corner(width)));
        }
        for _ in 0..2 + (self.dice.share() * 4.0) as usize {
            row.push(match (self.dice.share() * 5.0) as u32 {
                0 | 1 => self.plain(&groups),
                2 => self.opening(),
                _ if self.repeats == 0 => self.plain(&groups),
                3 => {
                    self.repeats -= 1;
                    self.bays()
                }
                _ => {
                    self.repeats -= 1;
                    self.repeat(&groups)
                }
            });
        }
        // Something must be wall, and something may be an opening.
        row.push(self.plain(&groups));
        if self.dice.one_in(6) {
            self.pin(&mut row);
        }
        row
    }

    /// Pins the first opening near where it stands.
    fn pin(&mut self, row: &mut [Named]) {
        let mut at = 0.0;
        for named in row.iter_mut() {
            let wide = widest(&named.part);
            if let Part::Opening { hole, pinned } = &mut named.part {
                let share = 0.75 + 0.35 * self.dice.share();
                *pinned = Some(quarter(at * share + 0.5 * hole.width));
                return;
            }
            at += wide;
        }
    }

    /// A back of one or two walls about a window, with wide play.
    fn back(&mut self, length: f64) -> Vec<Named> {
        let group = self.dice.pick(&["plain", "shed"]);
        let first = quarter((length - WINDOW.width) * (0.2 + 0.6 * self.dice.share()));
        let mut row = Vec::new();
        for width in [first, length - WINDOW.width - first] {
            let range = [quarter(0.15 * width).max(1.0), width];
            let group = group.to_owned();
            row.push(self.named(Part::Plain {
                width,
                range,
                said: [true, false],
                group,
                fixed: false,
            }));
        }
        let window = self.named(Part::Opening { hole: WINDOW, pinned: None });
        row.insert(1, window);
        row
    }
}

/// How wide an element stands on the original.
pub(super) fn widest(part: &Part) -> f64 {
    match part {
        Part::Corner(width) | Part::Plain { width, .. } => *width,
        Part::Opening { hole, .. } => hole.width,
        Part::Bays { width, often, .. } => width * f64::from(often.count),
        Part::Repeat { row, often } => {
            f64::from(often.count) * row.iter().map(|it| widest(&it.part)).sum::<f64>()
        }
    }
}

/// The shipped features with random figures; now and then one is gone.
fn data(dice: &mut Numbers) -> Look {
    let mut look = Look { rows: Vec::new() };
    for row in shipped().rows {
        if row.measure != Measure::YesNo && dice.one_in(25) {
            continue;
        }
        let weight = if dice.one_in(8) { 0.0 } else { 0.2 + 6.0 * dice.share().powi(2) };
        let tau = 0.03 + 0.4 * dice.share().powi(2);
        let degrees = if row.measure == Measure::Degrees { 10.0 } else { 1.0 };
        let few = matches!(row.key.as_str(), "count" | "openings") && dice.one_in(2);
        look.rows.push(Feature {
            tau: row.tau.map(|_| tau * degrees),
            tau_few: few.then(|| 0.03 + 0.2 * dice.share()),
            z: row.z.map(|_| 0.2 + 3.0 * dice.share()),
            weight,
            ..row
        });
    }
    look
}

fn shipped() -> Look {
    let catalog = scantling::catalog::Catalog::built_in().expect("the shipped data");
    Look { rows: catalog.look.rows.clone() }
}

const RATIOS: [&str; 8] =
    ["bay", "gap", "office-gap", "void", "aspect", "length", "count", "openings"];

impl Building {
    pub(super) fn random(number: u64) -> Self {
        let mut dice = Numbers::of(number);
        let repeats = (dice.share() * 3.0) as usize;
        let mut maker = Maker { dice: &mut dice, made: 0, repeats };
        let front = maker.front();
        let length: f64 = front.iter().map(|it| widest(&it.part)).sum();
        let pinned = |it: &Named| matches!(it.part, Part::Opening { pinned: Some(_), .. });
        let back = maker.dice.one_in(3) && !front.iter().any(pinned);
        let back = back.then(|| maker.back(length));
        let depth = quarter(dice.between(150.0, 400.0));
        let eave = quarter(dice.between(110.0, 300.0));
        let roof = dice.pick(&["gable", "gable", "shed", "hip", "flat"]);
        let run = match roof {
            "shed" => depth,
            "flat" => 0.0,
            _ => 0.5 * depth,
        };
        let ridge = eave + 0.5 * run;
        let mut long = quarter(length * (0.45 + 0.7 * dice.share()));
        if dice.one_in(8) {
            long = quarter(length * 0.2);
        }
        let place = [
            (!dice.one_in(6)).then_some(long),
            dice.one_in(3).then(|| quarter(depth * (0.5 + 0.7 * dice.share()))),
        ];
        let mut named = Vec::new();
        if dice.one_in(3) {
            for key in RATIOS.into_iter().chain(["ridge", "gable", "parity", "period", "centre"]) {
                if dice.one_in(2) {
                    named.push(key);
                }
            }
            if dice.one_in(8) {
                named.push(dice.pick(&["spacing", "silhouette"]));
            }
        }
        let mut weigh = Vec::new();
        for key in RATIOS {
            if dice.one_in(6) {
                let tau = dice.one_in(2).then(|| quarter(1.0 + dice.share() * 30.0) / 50.0);
                let weight = dice.one_in(2).then(|| quarter(dice.share() * 12.0));
                weigh.push((key, tau, weight));
            }
        }
        let mut data = data(&mut dice);
        // The program refuses what names a feature the data does not have.
        let known = |key: &str| data.rows.iter().any(|row| row.key == key);
        named.retain(|key| known(key));
        weigh.retain(|(key, ..)| known(key));
        data.rows.retain(|row| row.weight.is_finite());
        let data = Arc::new(data);
        Self { number, front, back, eave, ridge, depth, roof, place, data, named, weigh }
    }

    /// The job, as a file has it.
    pub(super) fn text(&self) -> String {
        let mut out = format!("[job]\nname = \"face {}\"\nscale = \"1:48\"\n", self.number);
        for hole in [DOOR, WINDOW] {
            let Hole { kind, width, height } = hole;
            let _ = writeln!(
                out,
                "[[opening]]\nname = \"{kind}\"\nwhat = \"{kind}\"\nwidth = \"{width} in\"\n\
                 height = \"{height} in\""
            );
        }
        let _ = writeln!(
            out,
            "[[body]]\nname = \"main\"\ndepth = \"{} in\"\neave = \"{} in\"\n[body.roof]\nkind = \
             \"{}\"",
            self.depth, self.eave, self.roof
        );
        if self.roof != "flat" {
            out.push_str("pitch = \"6:12\"\n");
        }
        out.push_str("[space]\ncounts = \"walls\"\n");
        for (key, size) in ["length", "depth"].iter().zip(self.place) {
            if let Some(size) = size {
                let _ = writeln!(out, "{key} = \"{} in\"", size / RATIO);
            }
        }
        let quoted: Vec<String> = self.named.iter().map(|key| format!("{key:?}")).collect();
        let _ = writeln!(out, "[look]\nfeatures = [{}]", quoted.join(", "));
        for (key, tau, weight) in &self.weigh {
            let _ = writeln!(out, "[[look.weigh]]\nfeature = \"{key}\"");
            for (name, figure) in [("tau", tau), ("weight", weight)] {
                if let Some(figure) = figure {
                    let _ = writeln!(out, "{name} = {figure:?}");
                }
            }
        }
        let _ = writeln!(out, "[[wall]]\nof = \"main/front\"\nrow = [{}]", row(&self.front));
        if let Some(back) = &self.back {
            let _ = writeln!(out, "[[wall]]\nof = \"main/back\"\nrow = [{}]", row(back));
        }
        out
    }
}

fn row(parts: &[Named]) -> String {
    parts.iter().map(element).collect::<Vec<_>>().join(",\n  ")
}

fn element(named: &Named) -> String {
    let name = &named.name;
    match &named.part {
        Part::Corner(width) => format!("{{ corner = \"{name}\", width = \"{width} in\" }}"),
        Part::Plain { width, range, said, group, fixed } => {
            let mut out = format!("{{ plain = \"{name}\", width = \"{width} in\"");
            if said[0] {
                let _ = write!(out, ", least = \"{} in\"", range[0]);
            }
            if said[1] {
                let _ = write!(out, ", most = \"{} in\"", range[1]);
            }
            if group != "plain" {
                let _ = write!(out, ", group = \"{group}\"");
            }
            if *fixed {
                out.push_str(", fixed = true");
            }
            out + " }"
        }
        Part::Opening { hole, pinned } => {
            let pinned = pinned.map_or(String::new(), |at| format!(", pinned = \"{at} in\""));
            format!("{{ opening = \"{name}\", kind = \"{}\"{pinned} }}", hole.kind)
        }
        Part::Bays { width, least, cycle, often } => {
            let least = least.map_or(String::new(), |least| format!(", least = \"{least} in\""));
            let cycle: Vec<String> = (cycle.iter())
                .map(|holes| holes.iter().map(|it| it.kind).collect::<Vec<_>>().join(" + "))
                .map(|text| format!("{text:?}"))
                .collect();
            format!(
                "{{ bays = \"{name}\", width = \"{width} in\"{least}, cycle = [{}]{} }}",
                cycle.join(", "),
                times(often)
            )
        }
        Part::Repeat { row: inner, often } => {
            format!("{{ repeat = \"{name}\", row = [{}]{} }}", row(inner), times(often))
        }
    }
}

fn times(often: &Often) -> String {
    let [least, most] = often.range;
    let mut out = format!(", count = {}, at-least = {least}, at-most = {most}", often.count);
    if often.parity {
        out.push_str(", parity = true");
    }
    if let Some(period) = often.period {
        let _ = write!(out, ", period = {period}");
    }
    if let Some(centre) = often.centre {
        let _ = write!(out, ", centre = \"{centre}\"");
    }
    if often.mirror {
        out.push_str(", mirror = true");
    }
    out
}
