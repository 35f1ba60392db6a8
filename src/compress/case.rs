//! One building to be shortened: its rows, rules and limits together.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use super::fit::Widths;
use super::limits::{Limits, limits};
use super::look::Rules;
use super::roof::{self, Roofed};
use super::score::score;
use super::tally::{
    Cluster, Counts, Item, Summing, Tally, clusters, counted, length, slots, tally,
};
use super::{Decision, Shape};
use crate::building::Reach;
use crate::building::scheme::{Scheme, Shape as SchemeShape};
use crate::catalog::look::Look;
use crate::elevation::body::run;
use crate::elevation::sized::{Element, Face, Front, Kind, Role};
use crate::elevation::{Body, Faces, Heights, SetHeights};
use crate::finding::Stop;
use crate::job::Job;
use crate::job::body::RoofKind;
use crate::job::face::Times;
use crate::job::place::{Counts as SpaceCounts, RoofFollows};
use crate::quantity::slack::TOUCH;
use crate::quantity::{Compressed, CompressedLength, ModelLength, Scale};
use crate::site;

/// A repeat with those inside it may be repeated in so many ways at most.
const MOST_WAYS: f64 = 5000.0;

/// The building and everything it is judged by.
pub(crate) struct Case<'a> {
    pub(crate) job: &'a Job,
    pub(crate) faces: &'a Faces,
    /// Where everything stands, and how far it reaches.
    pub(crate) scheme: &'a Scheme,
    /// What of it counts in the space.
    pub(crate) counts: SpaceCounts,
    pub(crate) scale: &'a Scale,
    pub(crate) rules: Rules,
    pub(crate) limits: Limits,
    /// Ranges of counts each search may look at.
    pub(crate) steps: usize,
    /// The ground, where the job has one.
    pub(crate) ground: Option<site::Survey>,
    fronts: RefCell<BTreeMap<u64, f64>>,
    pub(crate) roof: RoofKind,
    /// Faces that run along the building and have a row: the front first.
    along: Vec<&'a Face>,
    /// Faces that run across it and have a row.
    pub(crate) across: Vec<&'a Face>,
    /// The prototype's sums of the faces along the building.
    pub(crate) originals: Vec<Tally>,
}

impl<'a> Case<'a> {
    pub(crate) fn new(
        job: &'a Job,
        look: &Look,
        (faces, scheme): (&'a Faces, &'a Scheme),
        scale: &'a Scale,
        steps: usize,
    ) -> Result<Self, Stop> {
        let rules = Rules::new(look, &job.look)?;
        let limits = limits(job.space.as_ref(), scale)?;
        let front = front_of(faces);
        let rowed = |role: Role| {
            (faces.rows.iter())
                .filter(move |face| !face.row.is_empty())
                .filter(|face| face.role(&front) == role)
                .collect::<Vec<_>>()
        };
        let mut along = rowed(Role::Front);
        along.extend(rowed(Role::Side));
        let across = rowed(Role::End);
        let ground = job.site.as_ref().map(|ground| site::survey(ground, scale)).transpose()?;
        let roof = job.main_roof().map_or(RoofKind::Flat, |roof| roof.kind);
        let mut case = Self {
            job,
            faces,
            scheme,
            counts: job.space.as_ref().map_or(SpaceCounts::default(), |space| space.counts),
            scale,
            rules,
            limits,
            steps,
            ground,
            fronts: RefCell::default(),
            roof,
            along,
            across,
            originals: Vec::new(),
        };
        case.originals =
            (0..case.along.len()).map(|at| case.tally(at, &Counts::new(), false)).collect();
        case.bounds()?;
        Ok(case)
    }

    /// Refuses bounds that cannot be.
    fn bounds(&self) -> Result<(), Stop> {
        for item in self.originals.iter().flat_map(|tally| &tally.groups).flat_map(|g| &g.items) {
            if item.least <= 0.0 || item.least > item.most {
                return Err(Stop::new(
                    format!("bounding \"{}\"", item.key),
                    "its shortest is not above zero, or above its longest",
                    "`least` must lie between nothing and `most`, or the width itself",
                ));
            }
        }
        self.pins()?;
        for cluster in self.clusters() {
            let ways = cluster
                .iter()
                .map(|(_, times)| f64::from(times.at_most.saturating_sub(times.at_least)) + 1.0);
            if ways.product::<f64>() > MOST_WAYS {
                return Err(Stop::new(
                    format!("counting \"{}\"", cluster[0].0),
                    "it may be repeated in more ways than can be compared",
                    "narrow `at-least` and `at-most`",
                ));
            }
        }
        for (key, times) in self.slots() {
            let wanted = |count: u32| {
                (!times.parity || count % 2 == times.count % 2)
                    && times.period.is_none_or(|period| period > 0 && count.is_multiple_of(period))
            };
            if !(times.at_least..=times.at_most).any(wanted)
                && (times.parity || times.period.is_some())
            {
                return Err(Stop::new(
                    format!("counting \"{key}\""),
                    format!(
                        "no number from {} to {} keeps its parity and period",
                        times.at_least, times.at_most
                    ),
                    "widen the range, or drop parity or period",
                ));
            }
        }
        Ok(())
    }

    /// Refuses pins that cannot be kept: in a repeat, or one left of another.
    fn pins(&self) -> Result<(), Stop> {
        let pinned =
            |element: &&Element| matches!(&element.kind, Kind::Opening { pinned: Some(_), .. });
        fn inside<'e>(row: &'e [Element], out: &mut Vec<&'e Element>) {
            for element in row {
                if let Kind::Repeat { row, .. } = &element.kind {
                    out.extend(row);
                    inside(row, out);
                }
            }
        }
        for face in &self.along {
            let mut repeated = Vec::new();
            inside(&face.row, &mut repeated);
            if let Some(element) = repeated.into_iter().find(pinned) {
                return Err(Stop::new(
                    format!("pinning \"{}\"", element.name),
                    "it stands in a repeated row: a pin holds one opening",
                    "pin an opening that stands by itself",
                ));
            }
        }
        for segment in self.originals.iter().flat_map(|tally| &tally.segments) {
            if segment.total.is_some_and(|total| total < -TOUCH) {
                return Err(Stop::new(
                    format!("pinning \"{}\"", segment.pin),
                    "its place overlaps the pinned opening, or the corner, left of it",
                    "`pinned` is where its centre stands, from the left corner at full size",
                ));
            }
        }
        Ok(())
    }

    /// Which face is the front.
    pub(crate) fn front(&self) -> Front {
        front_of(self.faces)
    }

    /// A face's row summed for given counts.
    pub(crate) fn tally(&self, at: usize, counts: &Counts, loose: bool) -> Tally {
        tally(self.along[at], counts, Summing { rules: &self.rules, front: at == 0, loose })
    }

    /// The name of a face in lines of cost; none is needed for the front.
    pub(crate) fn face_name(&self, at: usize) -> &str {
        if at == 0 { "" } else { &self.along[at].name }
    }

    /// Names of the faces along the building, the front first.
    pub(crate) fn along_names(&self) -> Vec<&str> {
        self.along.iter().map(|face| face.name.as_str()).collect()
    }

    /// The elements of a face along the building whose openings count.
    pub(crate) fn counted(&self, at: usize) -> BTreeSet<&str> {
        counted(&self.along[at].row)
    }

    /// Wall height of a face along the building, inches.
    pub(crate) fn height(&self, at: usize) -> f64 {
        self.along[at].height.unwrap_or(self.faces.body.eave).in_inches()
    }

    /// Every repeated element of the faces along the building.
    pub(crate) fn slots(&self) -> Vec<(String, Times)> {
        (self.along.iter().enumerate()).flat_map(|(at, face)| slots(face, at == 0)).collect()
    }

    /// The same, each outermost one with those inside it.
    pub(crate) fn clusters(&self) -> Vec<Cluster> {
        (self.along.iter().enumerate()).flat_map(|(at, face)| clusters(face, at == 0)).collect()
    }

    /// Whether an opening is pinned on a face along the building.
    pub(crate) fn is_pinned(&self) -> bool {
        self.originals.iter().any(|tally| tally.segments.len() > 1)
    }

    /// The prototype's length, inches.
    pub(crate) fn full_length(&self) -> f64 {
        self.faces.body.length.in_inches()
    }

    /// The longest front the space takes at the depth as found, inches.
    pub(crate) fn longest(&self) -> f64 {
        self.longest_in(self.as_found())
    }

    /// The longest front the space takes with all that counts beside it, inches.
    fn longest_in(&self, roofed: Roofed) -> f64 {
        let full = self.full_length();
        let Some(length) = self.limits.length else { return full };
        self.front_in(length.in_inches(), roofed).min(full)
    }

    /// The main front that leaves all that counts no longer than a length; below
    /// zero where the rest alone is longer.
    fn front_in(&self, room: f64, roofed: Roofed) -> f64 {
        let depth = roofed.depth.in_inches();
        self.scheme.longest_front(room, depth, roofed.roof, self.counts).unwrap_or(-1.0)
    }

    /// The greatest depth under a roof that leaves all that counts within the
    /// space.
    pub(crate) fn deepest(&self, roof: RoofFollows) -> Option<CompressedLength> {
        let room = self.limits.depth?.in_inches();
        let depth = self.scheme.deepest(room, roof, self.counts).unwrap_or(0.0);
        Some(CompressedLength::inches(depth))
    }

    /// What all that counts covers of the plan.
    pub(crate) fn reach(&self, front: CompressedLength, roofed: Roofed) -> Reach {
        let shape = SchemeShape {
            front: front.in_inches(),
            depth: roofed.depth.in_inches(),
            roof: roofed.roof,
        };
        self.scheme.reach(&shape, self.counts)
    }

    /// The longest front at a depth, inches: that of the space, and of the ground
    /// where there is one. With a slanted end the ground's front line counts. The
    /// ground is searched for the rectangle round all that counts.
    pub(crate) fn longest_at(&self, roofed: Roofed, wedge: bool) -> f64 {
        let Some(ground) = &self.ground else { return self.longest_in(roofed) };
        let full = CompressedLength::inches(self.full_length());
        let deep = CompressedLength::inches(self.reach(full, roofed).depth());
        let depth = if wedge { CompressedLength::ZERO } else { deep };
        let model = self.scale.reduce(depth).in_inches();
        let front = *self.fronts.borrow_mut().entry(model.to_bits()).or_insert_with(|| {
            ground.ground.longest_front(model).map_or(0.0, |placed| placed.front)
        });
        let full: CompressedLength = self.scale.enlarge(ModelLength::inches(front));
        self.longest_in(roofed).min(self.front_in(full.in_inches(), roofed))
    }

    /// The decision that changes nothing but counts and widths.
    pub(crate) fn decision(&self, counts: &Counts, widths: &Widths, roofed: Roofed) -> Decision {
        Decision {
            counts: counts.clone(),
            widths: widths.clone(),
            depth: roofed.depth,
            roof: roofed.roof,
            storeys: BTreeMap::new(),
            shape: Shape::Square,
            set: SetHeights::default(),
        }
    }

    /// The building as it stands: full depth, its own roof.
    pub(crate) fn as_found(&self) -> Roofed {
        Roofed {
            depth: CompressedLength::kept(self.faces.body.depth),
            roof: RoofFollows::KeepPitch,
        }
    }

    /// Cost of counts and widths, roof and depth aside.
    pub(crate) fn along_cost(&self, counts: &Counts, widths: &Widths) -> f64 {
        score(self, &self.decision(counts, widths, self.as_found())).total()
    }

    /// Every element that may stretch, for given counts.
    pub(crate) fn items(&self, counts: &Counts) -> Vec<Item> {
        (0..self.originals.len())
            .flat_map(|at| self.tally(at, counts, false).groups)
            .flat_map(|group| group.items)
            .collect()
    }

    /// Every element that may stretch along the building, for given counts, with
    /// its group.
    pub(crate) fn grouped(&self, counts: &Counts) -> Vec<(String, Item)> {
        (0..self.originals.len())
            .flat_map(|at| self.tally(at, counts, false).groups)
            .flat_map(|group| {
                let name = group.name;
                group.items.into_iter().map(move |item| (name.clone(), item)).collect::<Vec<_>>()
            })
            .collect()
    }

    /// Every name a width may be given for: elements and groups of all faces,
    /// those of repeats that are dropped included.
    pub(crate) fn widths_known(&self) -> BTreeSet<String> {
        let every: Counts = self.slots().into_iter().map(|(key, _)| (key, 1)).collect();
        let along = self.grouped(&every).into_iter().flat_map(|(group, item)| [group, item.key]);
        along.chain(self.across_items().into_iter().map(|item| item.key)).collect()
    }

    /// Whether a name is of an element on an end wall.
    pub(crate) fn is_across(&self, name: &str) -> bool {
        self.across_items().iter().any(|item| item.key == name)
    }

    fn across_items(&self) -> Vec<Item> {
        let how = Summing { rules: &self.rules, front: false, loose: false };
        (self.across.iter())
            .flat_map(|face| tally(face, &Counts::new(), how).groups)
            .flat_map(|group| group.items)
            .collect()
    }

    /// Whether any width differs from the original's.
    pub(crate) fn is_trimmed(&self, counts: &Counts, widths: &Widths) -> bool {
        let width = |item: &Item| widths.get(&item.key).map_or(item.original, |w| w.in_inches());
        self.items(counts).iter().any(|item| (width(item) - item.original).abs() > TOUCH)
    }

    /// Length of the front under a decision.
    pub(crate) fn length(&self, decision: &Decision) -> CompressedLength {
        let front = self.tally(0, &decision.counts, false);
        let whole = CompressedLength::inches(length(&front, |item| decision.width(item)));
        match decision.shape {
            Shape::SceneEdge(edge) => whole.min(edge),
            _ => whole,
        }
    }

    /// The heights taken out under a decision.
    pub(crate) fn heights(&self, decision: &Decision) -> Heights {
        Heights::of(&self.faces.storeys, &decision.storeys)
    }

    /// The body under a decision.
    pub(crate) fn body(&self, decision: &Decision) -> Body<Compressed> {
        let roofed = Roofed { depth: decision.depth, roof: decision.roof };
        let mut body = roof::body(&self.faces.body, self.roof, self.length(decision), roofed);
        self.heights(decision).lower(&mut body);
        let run = match decision.roof {
            RoofFollows::KeepPitch | RoofFollows::KeepRidge => run(self.roof, body.depth),
            RoofFollows::HalfRelief | RoofFollows::Flat => {
                CompressedLength::kept(run(self.roof, self.faces.body.depth))
            }
        };
        roof::set(&mut body, decision, run);
        body
    }
}

fn front_of(faces: &Faces) -> Front {
    Front { index: faces.front, id: faces.front_row().id.clone() }
}
