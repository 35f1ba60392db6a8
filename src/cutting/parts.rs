//! The parts of the take-off, sorted by stock and laid out: the quick answer.

use super::sheets::{self, SheetJob, SheetLayout, SheetPart, SheetStock};
use super::sticks::{self, StickJob, StickLayout, StickPart, StickStock};
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::quantity::{Compressed, CompressedLength, ModelLength, Scale};
use crate::solve::sheets::Method;
use crate::solve::{sheets as sheet_solver, sticks as stick_solver};
use crate::stock::Choices;
use crate::takeoff::{Form, Part, Takeoff};
use std::collections::BTreeMap;

/// Length of a stick where the job does not say.
const STICK_INCHES: f64 = 24.0;
/// Sheet taken where the job names none: across the grain, along it.
const SHEET_INCHES: (f64, f64) = (4.0, 24.0);
/// One count of the whole-number grid.
const GRID_THOU: f64 = 0.5;
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
    pub const QUICK: Self = Self { sticks: 2_000_000, sheets: 400_000 };
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
    /// The parts cut from it.
    pub parts: Vec<StickPart>,
    /// Their layout.
    pub layout: StickLayout,
    /// Spare sticks to buy beside the layout.
    pub spare: u32,
}

impl StickGroup {
    /// Sticks the layout needs.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.layout.cuts.iter().map(|cut| cut.times).sum()
    }

    /// Length of all parts laid out.
    #[must_use]
    pub fn used(&self) -> ModelLength {
        let cut = |cut: &sticks::StickCut| {
            let pieces: ModelLength = cut.pieces.iter().map(|&part| self.parts[part].length).sum();
            pieces * f64::from(cut.times)
        };
        self.layout.cuts.iter().map(cut).sum()
    }

    /// Share of the bought length that does not become parts.
    #[must_use]
    pub fn waste(&self) -> f64 {
        let bought = self.bought * f64::from(self.count());
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
    /// The parts cut from it.
    pub parts: Vec<SheetPart>,
    /// Their layout.
    pub layout: SheetLayout,
}

/// Sticks and sheets of a job.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// Sticks, by stock.
    pub sticks: Vec<StickGroup>,
    /// Sheets, by stock.
    pub sheets: Vec<SheetGroup>,
}

/// Lays out the parts of a job within a number of steps.
///
/// A plan is always found; its bound says how good it is at least. What fits
/// no stock is a finding.
#[must_use]
pub fn lay_out(
    job: &Job,
    stock: &Choices,
    takeoff: &Takeoff,
    scale: &Scale,
    steps: Steps,
) -> Outcome<Layout> {
    let mut findings = Vec::new();
    let by_stock = grouped(stock, takeoff);
    let of = |flat: bool| {
        by_stock.iter().filter_map(move |(name, parts)| {
            let here: Vec<&Part> =
                parts.iter().copied().filter(|part| is_flat(part) == flat).collect();
            (!here.is_empty()).then_some((name.as_str(), here))
        })
    };
    let mut layout = Layout::default();
    let sticks: Vec<_> = of(false).collect();
    let share = steps.sticks / sticks.len().max(1) as u64;
    for (name, parts) in sticks {
        layout.sticks.extend(kept(stick_group(job, name, &parts, share), name, &mut findings));
    }
    let sheets: Vec<_> = of(true).collect();
    let share = steps.sheets / sheets.len().max(1) as u64;
    for (name, parts) in sheets {
        let group = sheet_group(job, name, &parts, scale, share);
        layout.sheets.extend(kept(group, name, &mut findings));
    }
    Outcome { value: layout, findings }
}

/// Parts under the name of the stock they are cut from.
fn grouped<'a>(stock: &Choices, takeoff: &'a Takeoff) -> BTreeMap<String, Vec<&'a Part>> {
    let mut by_stock: BTreeMap<String, Vec<&Part>> = BTreeMap::new();
    for part in takeoff.parts.iter().filter(|part| part.form != Form::Bought) {
        let name = stock.of(&part.section).map_or_else(|| part.section.clone(), |c| c.stock_name());
        by_stock.entry(name).or_default().push(part);
    }
    by_stock
}

fn is_flat(part: &Part) -> bool {
    matches!(part.form, Form::Sheet | Form::SheetAnyWay)
}

type Laid<T> = Result<(T, Vec<Finding>), crate::finding::Stop>;

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

fn stick_group(job: &Job, name: &str, parts: &[&Part], steps: u64) -> Laid<StickGroup> {
    let cutting = &job.cutting;
    let said = |said: &Option<crate::job::said::Said<crate::quantity::Model>>, otherwise: f64| {
        said.as_ref().map_or(ModelLength::inches(otherwise), |said| said.length())
    };
    let bought = said(&cutting.stick, STICK_INCHES);
    let usable = bought - said(&cutting.trim, 0.0);
    let parts: Vec<StickPart> = parts
        .iter()
        .map(|part| StickPart {
            label: part.label.clone(),
            length: part.model_length,
            quantity: part.count,
        })
        .collect();
    let stock = [StickStock { name: name.to_owned(), length: usable, cost: 1, supply: None }];
    let problem = StickJob {
        stock: &stock,
        parts: &parts,
        kerf: said(&cutting.kerf, 0.0),
        grid: ModelLength::thou(GRID_THOU),
    };
    let budget = stick_solver::Budget::steps(steps);
    let (layout, findings) =
        sticks::lay_out(&problem, &budget, &mut |_| stick_solver::Control::Continue)?;
    let mut group = StickGroup { stock: name.to_owned(), usable, bought, parts, layout, spare: 0 };
    group.spare = (f64::from(group.count()) * SPARE).ceil() as u32;
    Ok((group, findings))
}

fn sheet_group(
    job: &Job,
    name: &str,
    parts: &[&Part],
    scale: &Scale,
    steps: u64,
) -> Laid<SheetGroup> {
    let sheets = sheet_stock(job, name);
    let hair: CompressedLength = scale.enlarge(ModelLength::thou(GRID_THOU));
    let parts: Vec<SheetPart> = parts
        .iter()
        .map(|part| SheetPart {
            label: part.label.clone(),
            width: scale.reduce::<Compressed>(part.width.max(hair)),
            height: scale.reduce::<Compressed>(part.length.max(hair)),
            quantity: part.count,
            grain_free: part.form == Form::SheetAnyWay,
        })
        .collect();
    let kerf = job.cutting.kerf.as_ref().map_or(ModelLength::ZERO, |said| said.length());
    let problem = SheetJob {
        stock: &sheets,
        parts: &parts,
        gap: kerf,
        margin: ModelLength::ZERO,
        grid: ModelLength::thou(GRID_THOU),
        method: Method::Knife { stages: None },
    };
    let budget = sheet_solver::Budget { steps, seed: 1 };
    let (layout, findings) =
        sheets::lay_out(&problem, &budget, &mut |_| sheet_solver::Control::Continue)?;
    Ok((SheetGroup { stock: name.to_owned(), sheets, parts, layout }, findings))
}

fn sheet_stock(job: &Job, name: &str) -> Vec<SheetStock> {
    let sheet = |width: ModelLength, height: ModelLength| SheetStock {
        name: name.to_owned(),
        width,
        height,
        cost: ((width * height).in_square_inches() * 100.0).round() as i64,
        supply: None,
    };
    let said: Vec<SheetStock> = job
        .cutting
        .sheets
        .iter()
        .map(|[width, height]| sheet(width.length(), height.length()))
        .collect();
    if said.is_empty() {
        vec![sheet(ModelLength::inches(SHEET_INCHES.0), ModelLength::inches(SHEET_INCHES.1))]
    } else {
        said
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Ratio;
    use crate::takeoff::Kind;

    fn batten(number: u32, count: u32, inches: f64, scale: &Scale) -> Part {
        let (length, width) = (CompressedLength::inches(inches), CompressedLength::inches(3.0));
        Part {
            label: format!("land/batten-{number}"),
            face: "land".into(),
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
            from: Vec::new(),
            places: Vec::new(),
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
        let job: Job = toml::from_str(text).expect("a job");
        let out = lay_out(&job, &Choices::default(), &takeoff, &scale, Steps::QUICK);
        let group = &out.value.sticks[0];
        assert_eq!(group.count(), 9);
        assert_eq!(group.layout.bound, 9, "8.38 sticks, rounded up");
        assert!(group.layout.proven);
        assert!((group.waste() - 0.088).abs() < 5e-4, "{}", group.waste());
        assert_eq!(group.spare, 1);
    }
}
