//! What is wanted, laid out: the quick answer.

use super::amount::{Amount, Unit, in_pieces};
use super::laser;
use super::rip;
use super::sheets::{self, SheetCut, SheetLayout, SheetPart, SheetStock};
use super::sticks::{self, StickCut, StickLayout, StickPart, StickStock};
use super::wanted::{MadeUp, SheetsWanted, SticksWanted, Wanted};
use crate::finding::{Finding, Outcome, Stop, Subject};
use crate::job::building::CutBy;
use crate::quantity::ModelLength;
use crate::solve::watch::Control;
use crate::solve::{sheets as sheet_solver, sticks as stick_solver};

/// Spare sticks: 10 percent, one at least (judgement).
const SPARE: f64 = 0.10;

/// How long the quick answer may think, all stocks of a job together.
#[derive(Clone, Copy, Debug)]
pub struct Steps {
    /// For sticks.
    pub sticks: u64,
    /// For sheets.
    pub sheets: u64,
}

impl Steps {
    /// Few enough for an answer at every key.
    pub const QUICK: Self = Self { sticks: 1_000_000, sheets: 60_000 };
}

/// All sticks of one stock.
#[derive(Clone, Debug)]
pub struct StickGroup {
    /// The stock.
    pub stock: String,
    /// Usable length of one.
    pub usable: ModelLength,
    /// Length of one as bought.
    pub bought: ModelLength,
    /// Width of a cut.
    pub kerf: ModelLength,
    /// Strips that can be had: new ones, then offcuts.
    pub strips: Vec<StickStock>,
    /// The parts cut from it.
    pub parts: Vec<StickPart>,
    /// Their layout.
    pub layout: StickLayout,
    /// Spare sticks to buy beside the layout.
    pub spare: u32,
    /// What costs are counted in.
    pub unit: Unit,
    /// How they are made up, where they are not strip as it comes.
    pub made_up: Option<MadeUp>,
}

impl StickGroup {
    pub(super) fn new(wanted: &SticksWanted, layout: StickLayout) -> Self {
        let SticksWanted { stock, usable, bought, kerf, strips, parts, unit, made_up } =
            wanted.clone();
        let mut group =
            Self { stock, usable, bought, kerf, strips, parts, layout, spare: 0, unit, made_up };
        group.spare = (f64::from(group.count()) * SPARE).ceil() as u32;
        group
    }

    /// Sticks the layout needs new.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.new_sticks().map(|cut| cut.times).sum()
    }

    /// What the layout costs and what none can beat, as they are shown.
    #[must_use]
    pub fn amounts(&self) -> [Amount; 2] {
        let new = self.strips.iter().filter(|strip| strip.supply.is_none());
        in_pieces(self.unit, self.layout.cost, self.layout.bound, new.map(|strip| strip.cost))
    }

    /// Whether strips are ripped from sheet.
    #[must_use]
    pub fn is_ripped(&self) -> bool {
        self.made_up.as_ref().is_some_and(|made| made.sheet.is_some())
    }

    /// Sticks of the layout that are new.
    pub fn new_sticks(&self) -> impl Iterator<Item = &StickCut> {
        self.layout.cuts.iter().filter(|cut| self.is_new(cut))
    }

    /// Whether a stick is bought; else it is an offcut from the rack.
    #[must_use]
    pub fn is_new(&self, cut: &StickCut) -> bool {
        self.strips[cut.stock].supply.is_none()
    }

    /// Length of a stick there is to cut from.
    #[must_use]
    pub fn usable_of(&self, cut: &StickCut) -> ModelLength {
        self.strips[cut.stock].length
    }

    /// Where each piece of a stick begins, from the end first cut square.
    #[must_use]
    pub fn starts(&self, cut: &StickCut) -> Vec<ModelLength> {
        let mut at = ModelLength::ZERO;
        let begin = |&part: &usize| {
            let here = at;
            at += self.parts[part].length + self.kerf;
            here
        };
        cut.pieces.iter().map(begin).collect()
    }

    /// Sticks of the layout that are on hand.
    #[must_use]
    pub fn on_hand(&self) -> u32 {
        self.layout.cuts.iter().filter(|cut| !self.is_new(cut)).map(|cut| cut.times).sum()
    }

    /// Length of all parts cut from new sticks.
    #[must_use]
    pub fn used(&self) -> ModelLength {
        self.new_sticks().map(|cut| self.used_of(cut)).sum()
    }

    /// Length of the parts cut from sticks of one way.
    #[must_use]
    pub fn used_of(&self, cut: &StickCut) -> ModelLength {
        let pieces: ModelLength = cut.pieces.iter().map(|&part| self.parts[part].length).sum();
        pieces * f64::from(cut.times)
    }

    /// Share of the bought length that does not become parts.
    #[must_use]
    pub fn waste(&self) -> f64 {
        let bought =
            self.new_sticks().map(|cut| self.strips[cut.stock].bought * f64::from(cut.times));
        let bought: ModelLength = bought.sum();
        if bought > ModelLength::ZERO { 1.0 - self.used() / bought } else { 0.0 }
    }
}

/// All sheets of one stock.
#[derive(Clone, Debug)]
pub struct SheetGroup {
    /// The stock.
    pub stock: String,
    /// The sheets that can be had.
    pub sheets: Vec<SheetStock>,
    /// The parts cut from it, strips that are ripped among them.
    pub parts: Vec<SheetPart>,
    /// Their layout.
    pub layout: SheetLayout,
    /// What costs are counted in.
    pub unit: Unit,
}

impl SheetGroup {
    pub(super) fn new(wanted: &SheetsWanted, parts: Vec<SheetPart>, layout: SheetLayout) -> Self {
        let SheetsWanted { stock, sheets, unit, .. } = wanted.clone();
        Self { stock, sheets, parts, layout, unit }
    }

    /// What the layout costs and what none can beat, as they are shown.
    #[must_use]
    pub fn amounts(&self) -> [Amount; 2] {
        let new = self.sheets.iter().filter(|sheet| sheet.supply.is_none());
        in_pieces(self.unit, self.layout.cost, self.layout.bound, new.map(|sheet| sheet.cost))
    }

    /// Whether nothing but strips comes from it.
    #[must_use]
    pub fn is_ripped(&self) -> bool {
        self.parts.iter().all(|part| part.strip.is_some())
    }

    /// Sheets the layout needs new.
    #[must_use]
    pub fn count(&self) -> usize {
        self.layout.sheets.iter().filter(|sheet| self.is_new(sheet)).count()
    }

    /// Sheets of the layout that are on hand.
    #[must_use]
    pub fn on_hand(&self) -> usize {
        self.layout.sheets.iter().filter(|sheet| !self.is_new(sheet)).count()
    }

    /// Whether a sheet is bought; else it is an offcut from the rack.
    #[must_use]
    pub fn is_new(&self, sheet: &SheetCut) -> bool {
        self.sheets[sheet.stock].supply.is_none()
    }
}

/// Sticks and sheets of a job.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// Sticks, by stock.
    pub sticks: Vec<StickGroup>,
    /// Sheets, by stock.
    pub sheets: Vec<SheetGroup>,
    /// What fits nothing that can be bought.
    pub misfits: Vec<Misfit>,
}

/// A part that fits nothing, with what would help.
#[derive(Clone, Debug, PartialEq)]
pub struct Misfit {
    /// Its label.
    pub label: String,
    /// The stock it is meant to be cut from.
    pub stock: String,
    /// How many there are.
    pub count: u32,
    /// Across the grain, of a flat part; and along it.
    pub size: (Option<ModelLength>, ModelLength),
    /// What would help.
    pub remedy: String,
}

/// Lays out what is wanted within a number of steps.
///
/// A plan is always found; its bound says how good it is at least. What fits
/// no stock is a finding.
#[must_use]
pub fn lay_out(wanted: &Wanted, steps: Steps) -> Outcome<Layout> {
    let mut findings = Vec::new();
    let mut layout = Layout::default();
    let share = steps.sticks / wanted.sticks.len().max(1) as u64;
    for one in &wanted.sticks {
        let laid = stick_group(one, share);
        layout.sticks.extend(kept(laid, &one.stock, &mut findings));
    }
    let share = steps.sheets / wanted.sheets.len().max(1) as u64;
    for one in &wanted.sheets {
        let parts = rip::with_strips(one, &layout.sticks);
        let laid = sheet_group(one, parts, &layout.sticks, share);
        layout.sheets.extend(kept(laid, &one.stock, &mut findings));
    }
    layout.misfits = misfits(wanted, &layout);
    Outcome { value: layout, findings }
}

pub(super) type Laid<T> = Result<(T, Vec<Finding>), Stop>;

fn kept<T>(laid: Laid<T>, name: &str, findings: &mut Vec<Finding>) -> Option<T> {
    match laid {
        Ok((group, noticed)) => {
            findings.extend(noticed);
            Some(group)
        }
        Err(stop) => {
            let subject = Subject::Stock(name.to_owned());
            findings.push(Finding::trouble(subject, stop.to_string(), stop.hint));
            None
        }
    }
}

fn stick_group(wanted: &SticksWanted, steps: u64) -> Laid<StickGroup> {
    let budget = stick_solver::Budget::steps(steps);
    let (layout, findings) =
        sticks::lay_out(&wanted.problem(), &budget, &mut |_| Control::Continue)?;
    Ok((StickGroup::new(wanted, layout), findings))
}

fn sheet_group(
    wanted: &SheetsWanted,
    parts: Vec<SheetPart>,
    sticks: &[StickGroup],
    steps: u64,
) -> Laid<SheetGroup> {
    let budget = sheet_solver::Budget::steps(steps);
    let (mut layout, findings) = laid(wanted, &parts, &budget, &mut |_| Control::Continue)?;
    rip::bound_by_pieces(wanted, sticks, &mut layout);
    Ok((SheetGroup::new(wanted, parts, layout), findings))
}

/// The parts laid out for the knife or the laser.
pub(super) fn laid(
    wanted: &SheetsWanted,
    parts: &[SheetPart],
    budget: &sheet_solver::Budget,
    watch: &mut dyn FnMut(&sheet_solver::Progress) -> Control,
) -> Laid<SheetLayout> {
    let job = wanted.problem(parts);
    match wanted.method {
        CutBy::Knife => sheets::lay_out(&job, budget, watch),
        CutBy::Laser => laser::lay_out(&job, budget, watch),
    }
}

/// What fits nothing, sticks before sheets.
fn misfits(wanted: &Wanted, layout: &Layout) -> Vec<Misfit> {
    let sticks = layout.sticks.iter().flat_map(|group| {
        let of = wanted.sticks.iter().find(|one| one.stock == group.stock);
        group.layout.misfits.iter().map(move |&part| {
            let part = &group.parts[part];
            Misfit {
                label: part.label.clone(),
                stock: group.stock.clone(),
                count: part.quantity,
                size: (None, part.length),
                remedy: of.map_or_else(String::new, |of| sticks::remedy(&of.problem(), part)),
            }
        })
    });
    let sheets = layout.sheets.iter().flat_map(|group| {
        let of = wanted.sheets.iter().find(|one| one.stock == group.stock);
        group.layout.misfits.iter().map(move |&part| {
            let part = &group.parts[part];
            let remedy = |of: &SheetsWanted| sheets::remedy(&of.problem(&group.parts), part);
            Misfit {
                label: part.label.clone(),
                stock: group.stock.clone(),
                count: part.quantity,
                size: (Some(part.width), part.height),
                remedy: of.map_or_else(String::new, remedy),
            }
        })
    });
    sticks.chain(sheets).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Job;
    use crate::quantity::{CompressedLength, Ratio, Scale};
    use crate::stock::Choices;
    use crate::takeoff::{Form, Kind, Part, Takeoff};

    fn batten(number: u32, count: u32, inches: f64, scale: &Scale) -> Part {
        let (length, width) = (CompressedLength::inches(inches), CompressedLength::inches(3.0));
        Part {
            label: format!("main/front/batten-{number}"),
            face: "main/front".into(),
            kind: Kind::Batten,
            count,
            length,
            width,
            model_length: scale.reduce(length),
            model_width: scale.reduce(width),
            form: Form::Stick,
            section: "boards batten".into(),
            ends: None,
            covers: CompressedLength::ZERO * CompressedLength::ZERO,
            note: String::new(),
            why: std::array::from_fn(|_| {
                crate::building::Origin::plain("size", 0.0, crate::building::Why::Default("a test"))
            }),
            places: Vec::new(),
            runs: crate::takeoff::Runs::Up,
            shape: None,
            scribed: Vec::new(),
        }
    }

    /// The cannery's battens on 23.75 in usable with 15 thou of kerf: 9 sticks,
    /// bound with kerf 8.38, waste 8.8 percent of 24 in (COMPUTED).
    #[test]
    fn the_battens_of_the_cannery_take_nine_sticks() {
        let scale = Scale::new("1:87.1", Ratio::new(871, 10).expect("a ratio"));
        let rows = [(1, 63, 192.0), (2, 51, 79.0), (3, 24, 43.0)];
        let parts = rows
            .iter()
            .map(|&(number, count, inches)| batten(number, count, inches, &scale))
            .collect();
        let takeoff = Takeoff { parts, ..Takeoff::default() };
        let text = "[job]\nname = \"a\"\nscale = \"1:87.1\"\n[cutting]\nstick = \"24 in\"\n\
                    trim = \"1/4 in\"\nkerf = \"15 thou\"\n";
        let job: Job = text.parse().expect("a job");
        let wanted = Wanted::of(&job, &Choices::default(), &takeoff, &scale).value;
        let out = lay_out(&wanted, Steps::QUICK);
        let group = &out.value.sticks[0];
        assert_eq!(group.count(), 9);
        assert_eq!(group.layout.bound, 9, "8.38 sticks, rounded up");
        assert!(group.layout.proven);
        assert!((group.waste() - 0.088).abs() < 5e-4, "{}", group.waste());
        assert_eq!(group.spare, 1);
    }

    /// Whatever a person writes under `[cutting]`, there is a layout or a
    /// finding with a hint.
    #[test]
    fn odd_stock_and_kerf_give_a_layout_or_a_finding() {
        let scale = Scale::new("1:87.1", Ratio::new(871, 10).expect("a ratio"));
        let takeoff = Takeoff { parts: vec![batten(1, 3, 192.0, &scale)], ..Takeoff::default() };
        let cases = [
            ("kerf = \"0 in\"", 1),
            // Wider than the batten is long: 24 in hold (24 + 3) / (2.204 + 3).
            ("kerf = \"3 in\"", 1),
            ("kerf = \"11 in\"", 2),
            ("stick = \"2 in\"", 0),
            ("stick = \"24 in\"\ntrim = \"25 in\"", 0),
            ("stick = \"0 in\"", 0),
            ("stick = \"90000000 ft\"", 1),
            ("kerf = \"90000000 ft\"", 3),
        ];
        for (cutting, sticks) in cases {
            let mut job: Job = "[job]\nname = \"a\"\nscale = \"1:87.1\"\n".parse().expect("a job");
            for line in cutting.lines() {
                let (key, size) = line.split_once(" = ").expect("a key");
                let size = Some(size.trim_matches('"').parse().expect("a length"));
                match key {
                    "kerf" => job.cutting.kerf = size,
                    "trim" => job.cutting.trim = size,
                    _ => job.cutting.stick = size,
                }
            }
            let wanted = Wanted::of(&job, &Choices::default(), &takeoff, &scale).value;
            let out = lay_out(&wanted, Steps::QUICK);
            assert_eq!(
                out.value.sticks.iter().map(StickGroup::count).sum::<u32>(),
                sticks,
                "{cutting}"
            );
            assert_eq!(out.findings.is_empty(), sticks > 0, "{cutting}: {:?}", out.findings);
            assert!(out.findings.iter().all(|finding| !finding.hint.is_empty()), "{cutting}");
        }
    }
}
