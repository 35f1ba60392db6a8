//! The person's own rack: what is on hand, as measured. A table of commas, so
//! that any spreadsheet can keep it.

use std::fmt;

use super::CatalogError;
use crate::disk::unseen::first_unseen;
use crate::quantity::{Model, Reading, Written, parse};

/// What a row of the rack is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RackForm {
    /// Strip: thickness and width are its section.
    Strip,
    /// Sheet: width across the grain, length along it.
    Sheet,
    /// A bought part that fills an opening: width and length are its frame
    /// behind the flange.
    Casting,
}

impl RackForm {
    /// The word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Strip => "strip",
            Self::Sheet => "sheet",
            Self::Casting => "casting",
        }
    }
}

/// One row: pieces alike.
#[derive(Clone, Debug, PartialEq)]
pub struct OnHand {
    /// What it is.
    pub form: RackForm,
    /// What it is called; made up from its sizes where it has no name.
    pub name: String,
    /// What it is made of.
    pub material: String,
    /// As measured; nothing for a casting.
    pub thickness: Option<Written<Model>>,
    /// As measured.
    pub width: Written<Model>,
    /// As measured, along the grain.
    pub length: Written<Model>,
    /// How many there are; nothing where they are not counted.
    pub count: Option<u32>,
    /// Price of one, in the smallest coin.
    pub price: Option<i64>,
    /// Whether it is left over from something else: already paid for.
    pub offcut: bool,
    /// Anything else.
    pub note: String,
}

/// Everything on hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rack {
    /// The rows, in the order of the file.
    pub rows: Vec<OnHand>,
}

/// The columns, in the order they are written; any order is read.
const COLUMNS: [&str; 10] = [
    "form",
    "name",
    "material",
    "thickness",
    "width",
    "length",
    "count",
    "price",
    "offcut",
    "note",
];

impl Rack {
    /// The name of the file.
    pub const NAME: &'static str = "rack.csv";

    /// Reads the text of a rack.
    ///
    /// # Errors
    ///
    /// The first row that does not hold, with its line and column.
    pub fn read(text: &str) -> Result<Self, CatalogError> {
        let mut reader = csv::ReaderBuilder::new()
            .trim(csv::Trim::All)
            .flexible(true)
            .from_reader(text.as_bytes());
        let headers = reader.headers().map_err(|error| trouble(&error))?.clone();
        let known = |head: &&str| COLUMNS.contains(head) || head.is_empty();
        if let Some(stranger) = headers.iter().find(|head| !known(head)) {
            let there = COLUMNS.join(", ");
            return Err(trouble(&format!("there is no column \"{stranger}\"; there are {there}")));
        }
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|error| trouble(&error))?;
            if record.iter().all(str::is_empty) {
                continue;
            }
            let line = record.position().map_or(0, csv::Position::line);
            if let Some(character) = record.iter().find_map(first_unseen) {
                let number = u32::from(character);
                return Err(trouble(&format!(
                    "line {line}: the character U+{number:04X} cannot be seen and is not taken"
                )));
            }
            let cells = Cells { headers: &headers, record: &record };
            let row = cells.row().map_err(|what| trouble(&format!("line {line}: {what}")))?;
            rows.push(row);
        }
        Ok(Self { rows })
    }

    /// The rack as text, to be opened by any spreadsheet: no cell begins a
    /// formula.
    ///
    /// # Errors
    ///
    /// When the writer refuses.
    pub fn write(&self) -> Result<String, CatalogError> {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(COLUMNS).map_err(|error| trouble(&error))?;
        for row in &self.rows {
            let cells = row.cells();
            writer.write_record(cells.iter().map(|cell| plain(cell))).map_err(|e| trouble(&e))?;
        }
        let bytes = writer.into_inner().map_err(|error| trouble(&error))?;
        String::from_utf8(bytes).map_err(|error| trouble(&error))
    }

    /// The rows of `other` in the place of those of the same name, the new ones
    /// behind.
    #[must_use]
    pub fn merged(&self, other: &Self) -> Self {
        let same = |a: &OnHand, b: &OnHand| a.form == b.form && a.name == b.name;
        let kept = self.rows.iter().filter(|row| !other.rows.iter().any(|new| same(row, new)));
        Self { rows: kept.chain(&other.rows).cloned().collect() }
    }

    /// The casting of that name.
    #[must_use]
    pub fn casting(&self, name: &str) -> Option<&OnHand> {
        self.rows.iter().find(|row| row.form == RackForm::Casting && row.name == name)
    }

    /// How many pieces of that name there are; nothing where it is not known.
    #[must_use]
    pub fn count(&self, name: &str) -> Option<u32> {
        let here = self.rows.iter().filter(|row| row.name == name);
        here.map(|row| row.count).sum()
    }
}

impl OnHand {
    fn cells(&self) -> [String; 10] {
        let number = |value: Option<String>| value.unwrap_or_default();
        [
            self.form.word().to_owned(),
            self.name.clone(),
            self.material.clone(),
            number(self.thickness.as_ref().map(|written| written.text().to_owned())),
            self.width.text().to_owned(),
            self.length.text().to_owned(),
            number(self.count.map(|count| count.to_string())),
            number(self.price.map(coins)),
            if self.offcut { "yes" } else { "" }.to_owned(),
            self.note.clone(),
        ]
    }
}

/// A price in the smallest coin as written: `1.25`.
#[must_use]
pub fn coins(price: i64) -> String {
    format!("{}.{:02}", price / 100, price % 100)
}

/// A cell that a spreadsheet would work out gets a quote before it.
fn plain(cell: &str) -> String {
    if begins_formula(cell) { format!("'{cell}") } else { cell.to_owned() }
}

fn begins_formula(cell: &str) -> bool {
    cell.starts_with(['=', '+', '-', '@', '\t', '\r'])
}

fn trouble(what: &dyn fmt::Display) -> CatalogError {
    CatalogError { file: Rack::NAME.to_owned(), trouble: what.to_string() }
}

/// A row as cells under their heads.
struct Cells<'a> {
    headers: &'a csv::StringRecord,
    record: &'a csv::StringRecord,
}

impl Cells<'_> {
    fn get(&self, column: &str) -> &str {
        let at = self.headers.iter().position(|head| head == column);
        let cell = at.and_then(|at| self.record.get(at)).unwrap_or_default();
        match cell.strip_prefix('\'') {
            Some(rest) if begins_formula(rest) => rest,
            _ => cell,
        }
    }

    fn row(&self) -> Result<OnHand, String> {
        let form = match self.get("form") {
            "strip" | "" => RackForm::Strip,
            "sheet" => RackForm::Sheet,
            "casting" => RackForm::Casting,
            other => return Err(format!("form \"{other}\" is none of strip, sheet, casting")),
        };
        let thickness = match form {
            RackForm::Casting => None,
            RackForm::Strip | RackForm::Sheet => Some(self.length("thickness")?),
        };
        let mut row = OnHand {
            form,
            name: self.get("name").to_owned(),
            material: self.get("material").to_owned(),
            thickness,
            width: self.length("width")?,
            length: self.length("length")?,
            count: self.count()?,
            price: self.price()?,
            offcut: self.yes("offcut")?,
            note: self.get("note").to_owned(),
        };
        if row.material.is_empty() && form != RackForm::Casting {
            "wood".clone_into(&mut row.material);
        }
        if row.name.is_empty() {
            row.name = made_up(&row);
        }
        Ok(row)
    }

    fn length(&self, column: &str) -> Result<Written<Model>, String> {
        let text = self.get(column);
        if text.is_empty() {
            return Err(format!("the {column} is missing"));
        }
        let written: Written<Model> = parse(text, &Reading::default())
            .map_err(|error| format!("{column}: {} {}", error.message, error.hint))?;
        if written.length() <= crate::quantity::ModelLength::ZERO {
            return Err(format!("the {column} {text} is no size"));
        }
        Ok(written)
    }

    fn count(&self) -> Result<Option<u32>, String> {
        match self.get("count") {
            "" => Ok(None),
            text => {
                text.parse().map(Some).map_err(|_| format!("count \"{text}\" is no whole number"))
            }
        }
    }

    fn price(&self) -> Result<Option<i64>, String> {
        let text = self.get("price");
        if text.is_empty() {
            return Ok(None);
        }
        let wrong = || format!("price \"{text}\" is not written as 1.25");
        let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
        let digits = |text: &str| {
            !text.is_empty() && text.len() < 10 && text.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !digits(whole) || !digits(part) || part.len() > 2 {
            return Err(wrong());
        }
        let whole: i64 = whole.parse().map_err(|_| wrong())?;
        let coin: i64 = format!("{part:0<2}").parse().map_err(|_| wrong())?;
        Ok(Some(whole * 100 + coin))
    }

    fn yes(&self, column: &str) -> Result<bool, String> {
        match self.get(column) {
            "" | "no" => Ok(false),
            "yes" => Ok(true),
            other => Err(format!("{column} \"{other}\" is neither yes nor no")),
        }
    }
}

/// A name from material and sizes, as the catalogue names its rows.
fn made_up(row: &OnHand) -> String {
    let left = if row.offcut { ", offcut" } else { "" };
    match (&row.thickness, row.form) {
        (Some(thickness), RackForm::Strip) => {
            format!("{} {thickness} x {}{left}", row.material, row.width)
        }
        (Some(thickness), _) => {
            format!("{} sheet {thickness}, {} x {}{left}", row.material, row.width, row.length)
        }
        (None, _) => format!("casting {} x {}", row.width, row.length),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "form,material,thickness,width,length,count,price,note\n\
        strip,wood,0.031 in,0.0625 in,24 in,12,0.35,\"measured, ours\"\n\
        sheet,card,1/16 in,20 in,30 in,2,4.5,\n\
        casting,,,0.413 in,0.689 in,6,,=danger\n";

    #[test]
    fn a_rack_is_read_and_written_and_read_again() {
        let rack = Rack::read(TEXT).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(rack.rows.len(), 3);
        assert_eq!((rack.rows[0].count, rack.rows[0].price), (Some(12), Some(35)));
        assert_eq!(rack.rows[1].price, Some(450));
        assert_eq!(rack.rows[0].name, "wood 0.031 in x 0.0625 in");
        let text = rack.write().expect("it writes");
        assert_eq!(Rack::read(&text), Ok(rack));
    }

    #[test]
    fn no_cell_starts_a_formula() {
        let text = Rack::read(TEXT).and_then(|rack| rack.write()).expect("it writes");
        assert!(text.contains("'=danger"), "{text}");
        for cell in text.lines().flat_map(|line| line.split(',')) {
            assert!(!begins_formula(cell.trim_start_matches('"')), "{cell}");
        }
    }

    #[test]
    fn what_does_not_hold_is_named_with_its_line() {
        for (row, says) in [
            ("stick,wood,1 mm,1 mm,1 m,,,", "none of strip"),
            ("strip,wood,1 mm,1,1 m,,,", "line 2: width"),
            ("strip,wood,,1 mm,1 m,,,", "thickness is missing"),
            ("strip,wood,1 mm,1 mm,1 m,many,,", "no whole number"),
            ("strip,wood,1 mm,1 mm,1 m,1,1.234,", "not written"),
            ("strip,wood\u{1b}[31m,1 mm,1 mm,1 m,1,1,", "line 2: the character U+001B"),
        ] {
            let text = format!("form,material,thickness,width,length,count,price,note\n{row}\n");
            let error = Rack::read(&text).expect_err(row).to_string();
            assert!(error.contains(says), "{error}");
        }
        let error = Rack::read("form,colour\n").expect_err("a stranger").to_string();
        assert!(error.contains("colour"), "{error}");
    }
}
