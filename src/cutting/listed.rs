//! A list of parts in a table of commas -> what is wanted of each stock. It
//! needs no building.
//!
//! | column | what it holds |
//! |---|---|
//! | `part` (or `name`, `label`) | what it is called |
//! | `length` | along the grain, with its unit |
//! | `width` | across it; empty for a stick |
//! | `count` (or `number`, `pieces`) | how many; one when empty |
//! | `stock` (or `section`, `size`, `material`) | what it is cut from |
//! | `grain` | `free` where it may be turned |

use csv::StringRecord;

use super::amount::Unit;
use super::sheets::{SheetPart, SheetStock};
use super::sticks::{StickPart, StickStock};
use super::wanted::{STAGES, SheetsWanted, SticksWanted, Wanted};
use crate::finding::Stop;
use crate::job::building::CutBy;
use crate::quantity::{Model, ModelLength, Prototype, Reading, Scale, parse};

/// What the parts are cut from where the list does not say.
#[derive(Clone, Debug)]
pub struct Stocked {
    /// Length of a stick.
    pub stick: ModelLength,
    /// A sheet, across its grain and along it.
    pub sheet: (ModelLength, ModelLength),
    /// Width of a cut.
    pub kerf: ModelLength,
    /// The scale, where the lengths of the list are full size.
    pub full_size_at: Option<Scale>,
}

const PART: &[&str] = &["part", "name", "label"];
const LENGTH: &[&str] = &["length", "long"];
const WIDTH: &[&str] = &["width", "wide"];
const COUNT: &[&str] = &["count", "number", "pieces", "quantity"];
const STOCK: &[&str] = &["stock", "section", "size", "material"];
const GRAIN: &[&str] = &["grain"];

/// One row.
struct Row {
    part: String,
    length: ModelLength,
    width: Option<ModelLength>,
    count: u32,
    stock: String,
    free: bool,
}

fn stop(line: u64, trouble: impl std::fmt::Display) -> Stop {
    Stop::new(
        format!("reading line {line} of the list of parts"),
        trouble.to_string(),
        "columns: part, length, width, count, stock; width is empty for a stick",
    )
}

/// Reads a list.
///
/// # Errors
///
/// The line that does not hold, and why.
pub fn read(text: &str, stocked: &Stocked) -> Result<Wanted, Stop> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .flexible(true)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let heads = reader.headers().map_err(|error| stop(1, error))?.clone();
    if place(&heads, LENGTH).is_none() {
        return Err(stop(1, "there is no column called length"));
    }
    let mut wanted = Wanted::default();
    for record in reader.records() {
        let record = record.map_err(|error| {
            let line = error.position().map_or(0, csv::Position::line);
            stop(line, error)
        })?;
        let line = record.position().map_or(0, csv::Position::line);
        let row = row(&heads, &record, line, stocked)?;
        match row.width {
            Some(width) => onto_sheet(&mut wanted, row, width, stocked),
            None => onto_stick(&mut wanted, row, stocked),
        }
    }
    if wanted.sticks.is_empty() && wanted.sheets.is_empty() {
        return Err(stop(1, "the list has no part"));
    }
    Ok(wanted)
}

fn place(heads: &StringRecord, names: &[&str]) -> Option<usize> {
    heads.iter().position(|head| names.iter().any(|name| head.eq_ignore_ascii_case(name)))
}

fn row(
    heads: &StringRecord,
    record: &StringRecord,
    line: u64,
    stocked: &Stocked,
) -> Result<Row, Stop> {
    let cell = |names: &[&str]| {
        place(heads, names)
            .and_then(|at| record.get(at))
            .map(str::trim)
            .filter(|cell| !cell.is_empty())
    };
    let length = |text: &str| length(text, stocked).map_err(|trouble| stop(line, trouble));
    let long = cell(LENGTH).ok_or_else(|| stop(line, "a part without its length"))?;
    let long = length(long)?;
    let width = cell(WIDTH).map(length).transpose()?;
    let count = match cell(COUNT) {
        None => 1,
        Some(text) => text
            .parse()
            .ok()
            .filter(|count| *count > 0 && *count <= 100_000)
            .ok_or_else(|| stop(line, format!("\"{text}\" is no number of parts")))?,
    };
    Ok(Row {
        part: cell(PART).map_or_else(|| format!("line {line}"), str::to_owned),
        length: long,
        width,
        count,
        stock: cell(STOCK).unwrap_or(if width.is_some() { "sheet" } else { "stick" }).to_owned(),
        free: cell(GRAIN).is_some_and(|word| word.eq_ignore_ascii_case("free")),
    })
}

fn length(text: &str, stocked: &Stocked) -> Result<ModelLength, String> {
    let reading = Reading::default();
    let told = |error: crate::quantity::NotationError| format!("{}; {}", error.message, error.hint);
    let found = match &stocked.full_size_at {
        Some(scale) => scale.reduce(parse::<Prototype>(text, &reading).map_err(told)?.length()),
        None => parse::<Model>(text, &reading).map_err(told)?.length(),
    };
    if found > ModelLength::ZERO { Ok(found) } else { Err(format!("{text} is not above zero")) }
}

fn onto_stick(wanted: &mut Wanted, row: Row, stocked: &Stocked) {
    let part = StickPart { label: row.part, length: row.length, quantity: row.count };
    if let Some(known) = wanted.sticks.iter_mut().find(|one| one.stock == row.stock) {
        known.parts.push(part);
        return;
    }
    let (stock, stick) = (row.stock, stocked.stick);
    wanted.sticks.push(SticksWanted {
        strips: vec![StickStock {
            name: stock.clone(),
            length: stick,
            bought: stick,
            cost: 1,
            supply: None,
        }],
        stock,
        usable: stick,
        bought: stick,
        kerf: stocked.kerf,
        parts: vec![part],
        unit: Unit::Count,
        made_up: None,
    });
}

fn onto_sheet(wanted: &mut Wanted, row: Row, width: ModelLength, stocked: &Stocked) {
    let part = SheetPart {
        label: row.part,
        width,
        height: row.length,
        quantity: row.count,
        grain_free: row.free,
        strip: None,
        outline: None,
        scribed: Vec::new(),
    };
    if let Some(known) = wanted.sheets.iter_mut().find(|one| one.stock == row.stock) {
        known.parts.push(part);
        return;
    }
    let (across, along) = stocked.sheet;
    let name = row.stock.clone();
    wanted.sheets.push(SheetsWanted {
        stock: row.stock,
        kerf: stocked.kerf,
        sheets: vec![SheetStock { name, width: across, height: along, cost: 1, supply: None }],
        parts: vec![part],
        ripped: Vec::new(),
        grain: true,
        unit: Unit::Count,
        stages: STAGES,
        method: CutBy::Knife,
        margin: ModelLength::ZERO,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::parts::{Steps, lay_out};
    use crate::quantity::Ratio;

    fn stocked() -> Stocked {
        Stocked {
            stick: ModelLength::inches(24.0),
            sheet: (ModelLength::inches(4.0), ModelLength::inches(24.0)),
            kerf: ModelLength::thou(15.0),
            full_size_at: None,
        }
    }

    /// 115 boards of 2.204 in from 24 in sticks with 15 thou of kerf: ten a
    /// stick, 12 sticks, not the 10.6 of the linear sum (worked by hand).
    #[test]
    fn a_list_is_cut_without_a_building() {
        let text = "part,length,width,count,stock\nboard,2.204 in,,115,1x12\nwall,10 in,3 in,2,1/16 sheet\n";
        let wanted = read(text, &stocked()).unwrap();
        let laid = lay_out(&wanted, Steps::QUICK).value;
        assert_eq!(laid.sticks[0].count(), 12);
        assert_eq!(laid.sheets[0].count(), 1);
    }

    #[test]
    fn full_size_lengths_are_reduced() {
        let scale = Scale::new("O", Ratio::new(48, 1).unwrap());
        let full = Stocked { full_size_at: Some(scale), ..stocked() };
        let wanted = read("name,length\npost,12 ft\n", &full).unwrap();
        assert!((wanted.sticks[0].parts[0].length.in_inches() - 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_line_that_does_not_hold_is_named() {
        for (text, word) in [
            ("part,width\na,1 in\n", "length"),
            ("part,length\na,12\n", "line 2"),
            ("part,length,count\na,1 in,none\n", "number"),
            ("part,length\n", "no part"),
            ("part,length\na,-1 in\n", "above zero"),
        ] {
            let told = read(text, &stocked()).unwrap_err().told();
            assert!(told.contains(word), "{text}: {told}");
        }
    }
}
