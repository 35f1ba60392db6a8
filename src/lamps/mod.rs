//! Lamp circuits: what resistor, how much current, what the wire takes, and
//! wiring that is refused with its reason. Low voltage only.
//!
//! | file | what |
//! |---|---|
//! | `resistor` | preferred values, power ratings |
//! | `wire` | gauges, loss along a run |
//! | `string` | one string of lamps |
//! | `supply` | what a supply gives and carries |
//! | `refused` | what must not be made |
//! | `checks` | what wants a look |

mod checks;
mod refused;
pub mod resistor;
pub mod string;
mod supply;
#[cfg(test)]
mod tests;
pub mod wire;

pub use refused::Refused;
pub use string::{Around, Range, Strung, Worst};
pub use supply::Budget;

use crate::catalog::Catalog;
use crate::catalog::lamps::Lamps as Data;
use crate::finding::{Finding, Outcome, Staged, Stop, Subject};
use crate::job::Job;
use crate::job::lamps::{LampString, Lamps, Load, On, Supply};
use crate::quantity::{Current, Resistance};

/// What goes with every wire in a model. Trade knowledge, from memory; local
/// codes and licensed practice go before it.
pub const CAUTIONS: [&str; 11] = [
    "Low voltage only inside the structure; no mains, ever. Use an approved supply that stands outside the model.",
    "Local codes and licensed practice decide; this sheet does not replace them.",
    "A resistor for each branch; never one resistor for lamps side by side.",
    "Observe polarity; try each string on the bench, and again before the roof closes.",
    "A fuse or a supply that limits its current: card and wood burn.",
    "Never feed building lamps from track power unless they are designed for it: voltage, polarity and short-circuit current differ.",
    "Leave resistors where air and fingers reach, off card and foam.",
    "Filament lamps run hot: 1/2 in from card and roof at the least.",
    "Paint the inside black or line it with foil; look for leaks of light in a dark room.",
    "A roof that lifts off needs a plug, or 3 in of slack.",
    "Solder where air moves; let nobody breathe the fumes, and wash lead off the hands.",
];

/// Degrees Celsius in a closed building where the job does not say (judgement).
pub const INSIDE: f64 = 40.0;

/// The lamps of a job, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Lighting {
    /// The supplies that may be used, with what hangs on them.
    pub budgets: Vec<Budget>,
    /// The strings, in the order of the job.
    pub strings: Vec<Hung>,
    /// Contacts of the plug in a roof that lifts off: two for each supply that
    /// feeds it. None where nothing hangs on the roof.
    pub contacts: u32,
    /// Current through that plug.
    pub through_plug: Current,
}

/// A string where it hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct Hung {
    /// The string's name.
    pub name: String,
    /// The lamp in words.
    pub lamp: String,
    /// Its supply.
    pub supply: String,
    /// What it comes to, or why not.
    pub answer: Result<Strung, Refused>,
    /// The current through one branch with all the wire counted.
    pub at_end: Current,
}

/// Works out the lamps of a job; nothing where it has none.
///
/// # Errors
///
/// Where there is no supply, or a name stands for nothing.
pub fn run(job: &Job, catalog: &Catalog) -> Staged<Option<Lighting>> {
    let Some(said) = &job.lamps else {
        return Ok(Outcome { value: None, findings: Vec::new() });
    };
    let data = &*catalog.lamps;
    if said.supplies.is_empty() {
        return Err(Stop::new(
            "working out the lamps",
            "there is no supply",
            "add [[lamps.supply]] with a name, volts and amperes",
        ));
    }
    let around = Around { data, series: series(said, data)?, degrees: inside(said)? };
    let mut lighting = Lighting {
        budgets: Vec::new(),
        strings: Vec::new(),
        contacts: 0,
        through_plug: Current::default(),
    };
    let mut findings = Vec::new();
    for supply in &said.supplies {
        one_supply(said, supply, around, &mut lighting, &mut findings)?;
    }
    in_order(said, &mut lighting);
    findings.extend(checks::plug(said, &lighting));
    Ok(Outcome { value: Some(lighting), findings })
}

/// Degrees in the closed building.
fn inside(said: &Lamps) -> Result<f64, Stop> {
    let degrees = said.inside.unwrap_or(INSIDE);
    if (-40.0..=100.0).contains(&degrees) {
        return Ok(degrees);
    }
    Err(Stop::new(
        "working out the lamps",
        format!("inside = {degrees} is no heat of a closed building"),
        "degrees Celsius, -40 to 100; 40 when absent",
    ))
}

fn series<'a>(said: &Lamps, data: &'a Data) -> Result<&'a crate::catalog::lamps::Series, Stop> {
    let name = said.series.as_deref().unwrap_or("E12");
    let known = || data.series.iter().map(|row| row.key.as_str()).collect::<Vec<_>>().join(", ");
    data.series(name).ok_or_else(|| {
        Stop::new(
            "choosing a resistor",
            format!("no series of resistors is called \"{name}\""),
            format!("there are: {}", known()),
        )
    })
}

/// The strings back in the order of the job.
fn in_order(said: &Lamps, lighting: &mut Lighting) {
    let place = |hung: &Hung| said.strings.iter().position(|string| string.name == hung.name);
    lighting.strings.sort_by_key(place);
}

/// Whether something that names a supply, or none, hangs on this one.
fn hangs_on(named: Option<&String>, supply: &Supply, said: &Lamps) -> bool {
    match named {
        Some(name) => *name == supply.name,
        None => said.supplies.first().is_some_and(|first| first.name == supply.name),
    }
}

fn one_supply(
    said: &Lamps,
    supply: &Supply,
    around: Around<'_>,
    lighting: &mut Lighting,
    findings: &mut Vec<Finding>,
) -> Result<(), Stop> {
    let mine = |string: &&LampString| hangs_on(string.supply.as_ref(), supply, said);
    let strings: Vec<&LampString> = said.strings.iter().filter(mine).collect();
    let loads: Vec<&Load> =
        (said.loads.iter()).filter(|load| hangs_on(load.supply.as_ref(), supply, said)).collect();
    let ranged = supply::range(supply, around.data)
        .and_then(|range| Ok((range, supply::feeder(supply, around.data)?)))
        .and_then(|found| supply::stands_fault(supply, supply.gauge, around.data).map(|()| found));
    if let Err(refused) = &ranged {
        findings.push(checks::refused(&supply.name, refused));
    }
    let mut hung = Vec::new();
    for string in &strings {
        let lamp = around.data.lamp(&string.lamp)?;
        let answer = ranged.clone().and_then(|(range, _)| {
            supply::stands_fault(supply, string.gauge, around.data)?;
            string::work_out(string, lamp, range, around)
        });
        if let (Ok(_), Err(refused)) = (&ranged, &answer) {
            findings.push(checks::refused(&string.name, refused));
        }
        hung.push(Hung {
            name: string.name.clone(),
            lamp: lamp.name.clone(),
            supply: supply.name.clone(),
            answer,
            at_end: Current::default(),
        });
    }
    if let Ok((range, feeder)) = ranged {
        let series = around.series;
        let whole = Whole { supply, range, feeder, strings: &strings, loads: &loads, series };
        whole.add_up(around.data, &mut hung, lighting, findings);
    }
    lighting.strings.extend(hung);
    Ok(())
}

/// One supply with all that hangs on it.
pub(crate) struct Whole<'a> {
    pub(crate) supply: &'a Supply,
    pub(crate) range: Range,
    pub(crate) feeder: Resistance,
    pub(crate) strings: &'a [&'a LampString],
    pub(crate) loads: &'a [&'a Load],
    pub(crate) series: &'a crate::catalog::lamps::Series,
}

impl Whole<'_> {
    fn add_up(
        &self,
        data: &Data,
        hung: &mut [Hung],
        lighting: &mut Lighting,
        findings: &mut Vec<Finding>,
    ) {
        let strung: Vec<Strung> = hung.iter().filter_map(|hung| hung.answer.clone().ok()).collect();
        let fixed = drawn(self.loads.iter().copied());
        let budget = supply::budget(self.supply, self.range, self.feeder, &strung, fixed, data);
        for one in hung.iter_mut() {
            if let Ok(strung) = &one.answer {
                let branches = f64::from(strung.branches);
                one.at_end = strung.drawn(budget.arrives) * (1.0 / branches);
            }
        }
        for (string, one) in self.strings.iter().zip(hung.iter()) {
            if let Ok(strung) = &one.answer {
                findings.extend(checks::string(string, strung, one.at_end, self.range, data));
                findings.extend(checks::picked(string, strung, data, self.series));
            }
        }
        findings.extend(checks::loads(self.loads, self.range));
        let refused = hung.iter().any(|one| one.answer.is_err());
        findings.extend(checks::supply(self, &budget, data, refused));
        self.plug(hung, lighting);
        lighting.budgets.push(budget);
    }

    fn plug(&self, hung: &[Hung], lighting: &mut Lighting) {
        let strings = self.strings.iter().zip(hung).filter(|(said, _)| said.on == On::Roof);
        let up: Current = strings
            .filter_map(|(_, hung)| hung.answer.as_ref().ok())
            .map(|strung| strung.current * f64::from(strung.branches))
            .sum();
        let loads = drawn(self.loads.iter().copied().filter(|load| load.on == On::Roof));
        if (up + loads).in_amperes() > 0.0 {
            lighting.contacts += 2;
            lighting.through_plug = lighting.through_plug + up + loads;
        }
    }
}

fn drawn<'a>(loads: impl Iterator<Item = &'a Load>) -> Current {
    loads.map(|load| load.current * f64::from(load.times.unwrap_or(1))).sum()
}

/// What a finding about a lamp, load or supply speaks of.
pub(crate) fn about(name: &str) -> Subject {
    Subject::Lamp(name.to_owned())
}
