//! Lines of the field book -> readings.
//!
//! | written | says |
//! |---|---|
//! | `12 ft 6 in` | the next dimension of the job |
//! | `door_left 12 ft 6 in` | a dimension by its name |
//! | `door_right - door_left = 7'-2" ± 1/4"` | a sum, with its standard uncertainty |
//! | `W2: front = 84 ft` | the same under a name of its own |
//! | `+ porch = 6 ft` | a dimension that is new to the job |
//!
//! A tab does for the sign `=`, so that a column pasted from a table is read
//! as it is. Method, source and date are carried from line to line.

use std::collections::HashSet;

use super::edit::{Edit, NewReading};
use super::form::{Form, Linear, is_name};
use super::model::{Job, Reading};
use crate::quantity::{
    Denominator, NotationError, Prototype, Reading as Spoken, Unit, parse_number, parse_stated,
};

/// Methods of readings taken by hand.
const BY_HAND: [&str; 4] = ["tape", "running-tape", "cloth-tape", "laser"];

/// What is carried from one reading to the next.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Carried {
    /// How it was read.
    pub method: String,
    /// The source it belongs to.
    pub source: String,
    /// When it was read.
    pub date: String,
    /// The unit of bare figures; they are refused when empty.
    pub unit: String,
}

impl Carried {
    /// As the last reading that was taken by hand: what is entered line by line
    /// is of that kind, until the person says otherwise.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let by_hand = |reading: &&Reading| BY_HAND.contains(&reading.method.as_str());
        let last = job.readings.iter().rfind(by_hand);
        Self {
            method: last.map_or_else(|| "tape".to_owned(), |reading| reading.method.clone()),
            source: last.and_then(|reading| reading.source.clone()).unwrap_or_default(),
            date: last.map_or_else(String::new, |reading| reading.date.clone()),
            unit: String::new(),
        }
    }
}

/// One line, taken apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// A name of its own; nothing for the next free one.
    pub id: Option<String>,
    /// What was read.
    pub of: Form,
    /// What it says, with its unit and, where given, its uncertainty.
    pub value: String,
    /// The dimension it makes, where it is new.
    pub new: Option<String>,
}

/// The dimension that follows the one read last, in the order of the job.
#[must_use]
pub fn next_dimension(job: &Job) -> Option<&str> {
    let read = |name: &str| {
        let single = |form: &Form| matches!(form, Form::Linear(sum) if sum.single() == Some(name));
        job.readings.iter().rposition(|reading| single(&reading.of))
    };
    let last = (0..job.dimensions.len()).max_by_key(|at| read(&job.dimensions[*at].name));
    let last = last.filter(|at| read(&job.dimensions[*at].name).is_some());
    let next = last.map_or(0, |at| at + 1);
    job.dimensions.get(next).map(|dimension| dimension.name.as_str())
}

/// Takes a line apart. `next` is what a bare figure is of.
///
/// # Errors
/// What is wrong with it, and what to write.
pub fn line(job: &Job, text: &str, next: Option<&str>, unit: &str) -> Result<Entry, String> {
    let text = text.trim();
    let (id, rest) = named(text);
    let (new, rest) = match rest.strip_prefix('+') {
        Some(rest) => (true, rest.trim()),
        None => (false, rest),
    };
    let (of, value) = halves(job, rest, new);
    let of = match of {
        Some(of) => of.parse::<Form>().map_err(|error| error.to_string())?,
        None => {
            let next = next.ok_or("no dimension is left: write NAME = 12 ft 6 in")?;
            Form::Linear(Linear::of(next))
        }
    };
    let made = known(job, &of, new)?;
    let value = readable(job, &of, value, unit)?;
    Ok(Entry { id, of, value, new: made })
}

/// A name before a colon.
fn named(text: &str) -> (Option<String>, &str) {
    match text.split_once(':') {
        Some((id, rest)) if !id.trim().is_empty() && !id.contains(['=', '\t']) => {
            (Some(id.trim().to_owned()), rest.trim())
        }
        _ => (None, text),
    }
}

/// What was read, where it is said, and what it says.
fn halves<'t>(job: &Job, text: &'t str, new: bool) -> (Option<&'t str>, &'t str) {
    if let Some((of, value)) = text.split_once('=').or_else(|| text.split_once('\t')) {
        return (Some(of.trim()), value.trim());
    }
    let (first, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let is_dimension = job.dimensions.iter().any(|dimension| dimension.name == first);
    if is_dimension || (new && is_name(first)) {
        return (Some(first), rest.trim());
    }
    (None, text)
}

/// Whether the job has every name; the new dimension where one is wanted.
fn known(job: &Job, of: &Form, new: bool) -> Result<Option<String>, String> {
    let has = |name: &str| job.dimensions.iter().any(|dimension| dimension.name == name);
    let strangers: Vec<&str> = of.names().filter(|name| !has(name)).collect();
    match (strangers.first(), new, of) {
        (None, true, _) => Err("the job has that dimension already: leave the + out".to_owned()),
        (None, false, _) => Ok(None),
        (Some(name), true, Form::Linear(sum)) if sum.single() == Some(name) => {
            Ok(Some((*name).to_owned()))
        }
        (Some(name), ..) => {
            let names = job.dimensions.iter().map(|dimension| dimension.name.as_str());
            let near = crate::catalog::nearest_names(name, names);
            let near = near.first().map_or(String::new(), |near| format!("{near}? or "));
            Err(format!("no dimension is called {name}: {near}+ {name} = ... makes it"))
        }
    }
}

/// The value with its unit.
fn readable(job: &Job, of: &Form, text: &str, unit: &str) -> Result<String, String> {
    let said = |error: NotationError| match error.hint.as_str() {
        "" => error.message,
        hint => format!("{} ({hint})", error.message),
    };
    if text.is_empty() {
        return Err("it says nothing: write NAME = 12 ft 6 in".to_owned());
    }
    match of {
        Form::Ratio(..) => parse_number(text).map(|_| text.to_owned()).map_err(said),
        Form::Product(..) => Ok(text.to_owned()),
        Form::Linear(_) | Form::Diagonal(..) => {
            let surveyor = job.about.surveyor.and_then(Denominator::new);
            let how = Spoken { unit: None, surveyor };
            let text = match Unit::from_word(unit) {
                Some(_) if is_bare(text) => format!("{text} {unit}"),
                _ => text.to_owned(),
            };
            parse_stated::<Prototype>(&text, &how).map_err(said)?;
            Ok(text)
        }
    }
}

fn is_bare(text: &str) -> bool {
    text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/' | ' ' | '-'))
}

/// Every line as a reading, in one edit. Empty lines are passed over.
///
/// # Errors
/// The first line that cannot be read, by its number where there are many.
pub fn readings(job: &Job, text: &str, carried: &Carried) -> Result<Edit, String> {
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
    let mut with = job.clone();
    let mut taken: HashSet<String> = job.readings.iter().map(|it| it.id.clone()).collect();
    let (mut dimensions, mut all) = (Vec::new(), Vec::new());
    let mut next = next_dimension(job).map(str::to_owned);
    for (at, text) in lines.iter().enumerate() {
        let which = |trouble: String| match lines.len() {
            1 => trouble,
            _ => format!("line {} \"{}\": {trouble}", at + 1, text.trim()),
        };
        let entry = line(&with, text, next.as_deref(), &carried.unit).map_err(which)?;
        if let Some(name) = &entry.new {
            dimensions.push(name.clone());
            with.dimensions.push(super::model::Dimension {
                name: name.clone(),
                what: String::new(),
                adopt: None,
                reason: String::new(),
                module: None,
            });
        }
        let id = entry.id.clone().unwrap_or_else(|| free(&taken));
        if !taken.insert(id.clone()) {
            return Err(which(format!("there is a reading called {id} already")));
        }
        next = following(&with, &entry.of, next);
        all.push(NewReading {
            id,
            of: entry.of.to_string(),
            method: carried.method.clone(),
            value: entry.value,
            sigma: String::new(),
            source: carried.source.clone(),
            date: carried.date.clone(),
        });
    }
    if all.is_empty() {
        return Err("there is no reading in it".to_owned());
    }
    Ok(Edit::AddReadings { dimensions, readings: all })
}

/// The dimension after the one that a form is; a sum leaves it where it was.
fn following(job: &Job, of: &Form, next: Option<String>) -> Option<String> {
    let Form::Linear(sum) = of else { return next };
    let Some(name) = sum.single() else { return next };
    let at = job.dimensions.iter().position(|dimension| dimension.name == name)?;
    job.dimensions.get(at + 1).map(|dimension| dimension.name.clone())
}

/// The first free name: r1, r2 and on.
fn free(taken: &HashSet<String>) -> String {
    let mut number = taken.len() + 1;
    while taken.contains(&format!("r{number}")) {
        number += 1;
    }
    format!("r{number}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job() -> Job {
        let text = "[job]\nname = \"made up\"\nscale = \"1:48\"\n[[dimension]]\nname = \"left\"\n\
                    [[dimension]]\nname = \"right\"\n[[dimension]]\nname = \"eave\"\n\
                    [[reading]]\nid = \"r2\"\nof = \"left\"\nmethod = \"laser\"\n\
                    value = \"3 ft\"\nsource = \"book\"\ndate = \"2026-05-16\"\n";
        text.parse().expect("a job")
    }

    fn made(text: &str, unit: &str) -> Result<(Vec<String>, Vec<String>), String> {
        let carried = Carried { unit: unit.to_owned(), ..Carried::of(&job()) };
        let Edit::AddReadings { dimensions, readings } = readings(&job(), text, &carried)? else {
            panic!("an edit of readings")
        };
        let said = readings.iter().map(|it| format!("{} {} = {}", it.id, it.of, it.value));
        Ok((dimensions, said.collect()))
    }

    #[test]
    fn one_line_is_one_reading() {
        for (text, wanted) in [
            ("12 ft 6 in", "r3 right = 12 ft 6 in"),
            ("left 12'-6\"", "r3 left = 12'-6\""),
            ("right - left = 7'-2\" ± 1/4\"", "r3 right - left = 7'-2\" ± 1/4\""),
            ("W2: eave = 12 ft", "W2 eave = 12 ft"),
            ("left / right\t0.49 ± 0.01", "r3 left / right = 0.49 ± 0.01"),
            ("diagonal of left and eave = 20 ft", "r3 diagonal of left and eave = 20 ft"),
        ] {
            assert_eq!(made(text, "").expect(text).1, [wanted], "{text}");
        }
    }

    #[test]
    fn a_column_goes_down_the_dimensions_and_carries_on() {
        let (new, said) =
            made("\n 12 ft\n13 ft\n\n+ porch = 6 ft\nporch 6 ft 1 in\n", "").expect("4");
        assert_eq!(new, ["porch"]);
        assert_eq!(
            said,
            ["r3 right = 12 ft", "r4 eave = 13 ft", "r5 porch = 6 ft", "r6 porch = 6 ft 1 in"]
        );
        let carried = Carried::of(&job());
        assert_eq!((carried.method.as_str(), carried.date.as_str()), ("laser", "2026-05-16"));
    }

    #[test]
    fn bare_figures_need_a_unit() {
        assert!(made("150.5", "").is_err());
        assert_eq!(made("150.5", "in").expect("inches").1, ["r3 right = 150.5 in"]);
        assert_eq!(made("left\t3810", "mm").expect("mm").1, ["r3 left = 3810 mm"]);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        for (text, says) in [
            ("", "no reading"),
            ("left", "says nothing"),
            ("lift = 3 ft", "left? or + lift"),
            ("+ left = 3 ft", "already"),
            ("12 ft\nleft = three", "line 2"),
            ("1 ft\n2 ft\n3 ft", "line 3"),
            ("r2: left = 3 ft", "called r2 already"),
        ] {
            let trouble = made(text, "").expect_err(text);
            assert!(trouble.contains(says), "{text:?}: {trouble}");
        }
    }
}
