//! Everything that can be changed in a job, as one list.
//!
//! An edit is made on the text of the file, so that the person's comments and
//! order stay. The terminal and the command line use the same list.

mod bound;
mod choice;
mod cut;
mod marks;
mod mock_up;
mod print;
mod readings;
mod rows;

pub use choice::Chosen;
pub use cut::{CutText, PieceText};
pub use marks::{AlikeText, End, FrontText, MarkChange, MarkEdit, ReadText, Way};
pub use mock_up::{MeasuredText, TakenText};
pub use rows::RowEdit;

use readings::{broaden, reading_mut};
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value, value};

/// One change of a job, in the words of the trade.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// What a reading says, and its standard uncertainty; `None` leaves it.
    SetReading {
        /// The reading.
        id: String,
        /// Its value with its unit.
        value: Option<String>,
        /// Its uncertainty with its unit.
        sigma: Option<String>,
    },
    /// Switches a reading off, or on again.
    SwitchReading {
        /// The reading.
        id: String,
        /// Off or on.
        off: bool,
        /// Why, for the record.
        reason: String,
    },
    /// New readings at the end of the list, and the dimensions they make.
    AddReadings {
        /// The names of the dimensions.
        dimensions: Vec<String>,
        /// The readings.
        readings: Vec<NewReading>,
    },
    /// Broadens the uncertainties of readings that scatter more than they say.
    BroadenReadings {
        /// By which factor, for the record.
        factor: String,
        /// Each reading with its new uncertainty.
        sigmas: Vec<(String, String)>,
    },
    /// Takes a reading out of the file.
    RemoveReading {
        /// The reading.
        id: String,
    },
    /// A new dimension at the end of the list.
    AddDimension {
        /// Its name.
        name: String,
        /// What it is.
        what: String,
    },
    /// Adopts a round figure for a dimension, or gives the adoption up.
    Adopt {
        /// The dimension.
        dimension: String,
        /// The figure with its unit; `None` goes back to the measured value.
        figure: Option<String>,
        /// Why that figure.
        reason: String,
    },
    /// Chooses an alternative of the compression.
    Choose(Chosen),
    /// Gives the choice up.
    Unchoose,
    /// Sets a key of `[job]`, such as the name or the scale.
    SetAbout {
        /// The key.
        key: String,
        /// Its text.
        to: String,
    },
    /// Sets a key of `[space]`, with its unit.
    SetSpace {
        /// The key: `length`, `depth`, `margin` or another.
        key: String,
        /// Its text.
        to: String,
    },
    /// The tolerance and the weight of a feature in this job; empty goes back to
    /// those of the data.
    Weigh {
        /// The feature.
        feature: String,
        /// Tolerance, or the fixed z of a yes-or-no feature.
        tau: String,
        /// Weight.
        weight: String,
    },
    /// Bounds of an element of a row; empty goes back to what holds without them.
    Bound {
        /// `face/element`.
        element: String,
        /// Keys with their text: `least`, `most`, `at-least`, `at-most`.
        keys: Vec<(String, String)>,
    },
    /// Picks a stock size for a member by hand; `None` goes back to the nearest.
    PickStock {
        /// The member.
        member: String,
        /// The size as the catalogue names it.
        size: Option<String>,
        /// Why.
        reason: String,
    },
    /// Sets a key of `[paper]`: `size`, `card`, `laser-kerf`; `laser-safe`,
    /// materials apart by commas.
    SetPaper {
        /// The key.
        key: String,
        /// Its text; empty takes it out.
        to: String,
    },
    /// What the two bars of a printed page measured; empty texts forget it.
    CheckPrint {
        /// The bar of 4.000 in along the width of the page.
        across: String,
        /// The bar of 100.0 mm along its height.
        up: String,
        /// Whether they were measured twice.
        twice: bool,
    },
    /// What a size measures on the mock-up or the model; an empty reading forgets
    /// it.
    Measure(MeasuredText),
    /// Takes sizes back from the mock-up: what is built follows them.
    TakeBack(TakenText),
    /// Sticks or sheets were cut as the cut list says.
    Cut(CutText),
    /// A new photograph.
    AddPhoto {
        /// Its short name.
        id: String,
        /// Its file, beside the job.
        file: String,
        /// What kind of picture it is, as a word of the job; by its file when
        /// empty.
        origin: String,
    },
    /// Takes a photograph with its marks out of the job.
    RemovePhoto {
        /// The photograph.
        id: String,
    },
    /// Marks changed on a photograph.
    Mark(MarkEdit),
    /// A key or row of any table.
    Row(RowEdit),
    /// Ticks a part: cut, stained or fitted; `None` takes the tick away.
    MarkPart {
        /// The part's label.
        label: String,
        /// How far it is.
        state: Option<String>,
    },
}

/// A reading to be added, as text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewReading {
    /// Short name.
    pub id: String,
    /// What was read: a form of dimensions.
    pub of: String,
    /// How.
    pub method: String,
    /// What it says, with its unit.
    pub value: String,
    /// Its uncertainty; the method's own when empty.
    pub sigma: String,
    /// The source it belongs to; none when empty.
    pub source: String,
    /// When it was read; the source's date when empty.
    pub date: String,
}

/// Why an edit could not be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{edit}: {trouble}")]
pub struct EditError {
    /// The edit's name.
    pub edit: String,
    /// What went wrong.
    pub trouble: String,
}

impl Edit {
    /// What the edit does, for the undo list: `reject W2-right`.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::SetReading { id, .. } => format!("change reading {id}"),
            Self::SwitchReading { id, off: true, .. } => format!("switch off {id}"),
            Self::SwitchReading { id, off: false, .. } => format!("switch on {id}"),
            Self::AddReadings { readings, .. } => match readings.as_slice() {
                [only] => format!("add reading {}", only.id),
                all => format!("add {} readings", all.len()),
            },
            Self::BroadenReadings { factor, sigmas } => {
                format!("broaden the uncertainty of {} readings {factor} times", sigmas.len())
            }
            Self::RemoveReading { id } => format!("remove reading {id}"),
            Self::AddDimension { name, .. } => format!("add dimension {name}"),
            Self::Adopt { dimension, figure: Some(figure), .. } => {
                format!("adopt {figure} for {dimension}")
            }
            Self::Adopt { dimension, figure: None, .. } => format!("measure {dimension} again"),
            Self::Choose(choice) => format!("choose {}", choice.kind),
            Self::Unchoose => "give the choice up".to_owned(),
            Self::SetAbout { key, to } => format!("set the {key} to {to}"),
            Self::SetSpace { key, to } => format!("set the space's {key} to {to}"),
            Self::Weigh { feature, .. } => format!("weigh the {feature}"),
            Self::Bound { element, .. } => format!("bound {element}"),
            Self::PickStock { member, size: Some(size), .. } => format!("take {size} for {member}"),
            Self::PickStock { member, size: None, .. } => format!("nearest stock for {member}"),
            Self::SetPaper { key, to } => format!("set the paper's {key} to {to}"),
            Self::CheckPrint { across, up, .. } if across.is_empty() && up.is_empty() => {
                "forget the print check".to_owned()
            }
            Self::CheckPrint { across, up, .. } => format!("check the print: {across}, {up}"),
            Self::Measure(measured) => measured.name(),
            Self::TakeBack(taken) => taken.name(),
            Self::Cut(cut) => format!("cut {} of {}", cut.times, cut.stock),
            Self::AddPhoto { id, .. } => format!("add photograph {id}"),
            Self::RemovePhoto { id } => format!("remove photograph {id}"),
            Self::Mark(edit) => edit.name(),
            Self::Row(edit) => edit.name(),
            Self::MarkPart { label, state: Some(state) } => format!("mark {label} {state}"),
            Self::MarkPart { label, state: None } => format!("unmark {label}"),
        }
    }

    /// Makes the change in the text of the file.
    ///
    /// # Errors
    /// When the thing it changes is not there. Whether the new text is a job
    /// is for the reader to say.
    pub(super) fn apply(&self, file: &mut DocumentMut) -> Result<(), EditError> {
        self.change(file).map_err(|trouble| EditError { edit: self.name(), trouble })
    }

    fn change(&self, file: &mut DocumentMut) -> Result<(), String> {
        match self {
            Self::SetReading { id, value, sigma } => {
                let row = row_mut(file, "reading", "id", id)?;
                set_if(row, "value", value.as_deref());
                set_if(row, "sigma", sigma.as_deref());
            }
            Self::SwitchReading { id, off, reason } => {
                let row = reading_mut(file, id)?;
                if *off {
                    row["off"] = value(true);
                } else {
                    row.remove("off");
                }
                set_or_drop(row, "off-reason", if *off { reason } else { "" });
            }
            Self::AddReadings { dimensions, readings } => {
                for name in dimensions {
                    let mut row = Table::new();
                    row["name"] = value(name);
                    rows_mut(file, "dimension")?.push(row);
                }
                let rows = rows_mut(file, "reading")?;
                readings.iter().for_each(|new| rows.push(new.table()));
            }
            Self::BroadenReadings { sigmas, .. } => {
                for (id, sigma) in sigmas {
                    broaden(row_mut(file, "reading", "id", id)?, sigma);
                }
            }
            Self::RemoveReading { id } => remove_row(file, "reading", "id", id)?,
            Self::AddDimension { name, what } => {
                let mut row = Table::new();
                row["name"] = value(name);
                set_or_drop(&mut row, "what", what);
                rows_mut(file, "dimension")?.push(row);
            }
            Self::Adopt { dimension, figure, reason } => {
                let row = row_mut(file, "dimension", "name", dimension)?;
                set_or_drop(row, "adopt", figure.as_deref().unwrap_or(""));
                set_or_drop(row, "reason", if figure.is_some() { reason } else { "" });
            }
            Self::Choose(choice) => file["choice"] = Item::Table(choice.table()),
            Self::Unchoose => {
                file.remove("choice");
            }
            Self::SetAbout { key, to } => set_or_drop(table_mut(file, "job")?, key, to),
            Self::SetSpace { key, to } => set_or_drop(table_mut(file, "space")?, key, to),
            Self::Weigh { feature, tau, weight } => {
                super::bounds::weigh(file, feature, tau, weight)?;
            }
            Self::Bound { element, keys } => super::bounds::bound(file, element, keys)?,
            Self::PickStock { member, size, reason } => {
                pick(file, member, size.as_deref(), reason)?;
            }
            Self::SetPaper { key, to } if key == "laser-safe" => {
                laser_safe(table_mut(file, "paper")?, to);
            }
            Self::SetPaper { key, to } => set_or_drop(table_mut(file, "paper")?, key, to),
            Self::CheckPrint { across, up, twice } => print::check(file, (across, up), *twice)?,
            Self::Measure(measured) => mock_up::measure(file, measured)?,
            Self::TakeBack(taken) => mock_up::take_back(file, taken)?,
            Self::Cut(cut) => cut::apply(file, cut)?,
            Self::AddPhoto { id, file: name, origin } => marks::add_photo(file, id, name, origin)?,
            Self::RemovePhoto { id } => marks::remove_photo(file, id)?,
            Self::Mark(edit) => marks::apply(file, edit)?,
            Self::Row(edit) => edit.apply(file)?,
            Self::MarkPart { label, state } => {
                let marks = table_mut(file, "done")?;
                match state {
                    Some(state) => marks[label] = value(state),
                    None => {
                        marks.remove(label);
                    }
                }
            }
        }
        Ok(())
    }
}

impl NewReading {
    fn table(&self) -> Table {
        let mut row = Table::new();
        let keys = [
            ("id", &self.id),
            ("of", &self.of),
            ("method", &self.method),
            ("value", &self.value),
            ("sigma", &self.sigma),
            ("source", &self.source),
            ("date", &self.date),
        ];
        for (key, text) in keys {
            set_or_drop(&mut row, key, text);
        }
        row
    }
}

fn set_if(row: &mut Table, key: &str, text: Option<&str>) {
    if let Some(text) = text {
        set_or_drop(row, key, text);
    }
}

/// Sets a key, keeping the comment behind the old value; an empty text takes
/// the key out.
/// Materials apart by commas, as a list.
fn laser_safe(paper: &mut Table, text: &str) {
    let names = text.split(',').map(str::trim).filter(|name| !name.is_empty());
    let names: toml_edit::Array = names.collect();
    if names.is_empty() {
        paper.remove("laser-safe");
    } else {
        paper["laser-safe"] = Item::Value(names.into());
    }
}

pub(super) fn set_or_drop(row: &mut Table, key: &str, text: &str) {
    if text.is_empty() {
        row.remove(key);
        return;
    }
    let decor = row.get(key).and_then(Item::as_value).map(|old| old.decor().clone());
    let mut new = Value::from(text);
    if let Some(decor) = decor {
        *new.decor_mut() = decor;
    }
    row[key] = Item::Value(new);
}

pub(super) fn table_mut<'a>(
    file: &'a mut DocumentMut,
    name: &str,
) -> Result<&'a mut Table, String> {
    file.entry(name)
        .or_insert(Item::Table(Table::new()))
        .as_table_mut()
        .ok_or_else(|| format!("[{name}] is not a table in the file"))
}

pub(super) fn rows_mut<'a>(
    file: &'a mut DocumentMut,
    name: &str,
) -> Result<&'a mut ArrayOfTables, String> {
    file.entry(name)
        .or_insert(Item::ArrayOfTables(ArrayOfTables::new()))
        .as_array_of_tables_mut()
        .ok_or_else(|| format!("[[{name}]] is not a list of tables in the file"))
}

pub(super) fn is_called(row: &Table, key: &str, name: &str) -> bool {
    row.get(key).and_then(Item::as_str) == Some(name)
}

pub(super) fn row_mut<'a>(
    file: &'a mut DocumentMut,
    table: &str,
    key: &str,
    name: &str,
) -> Result<&'a mut Table, String> {
    rows_mut(file, table)?
        .iter_mut()
        .find(|row| is_called(row, key, name))
        .ok_or_else(|| format!("there is no {table} called \"{name}\""))
}

pub(super) fn remove_row(
    file: &mut DocumentMut,
    table: &str,
    key: &str,
    name: &str,
) -> Result<(), String> {
    let rows = rows_mut(file, table)?;
    let at = rows
        .iter()
        .position(|row| is_called(row, key, name))
        .ok_or_else(|| format!("there is no {table} called \"{name}\""))?;
    rows.remove(at);
    Ok(())
}

fn pick(
    file: &mut DocumentMut,
    member: &str,
    size: Option<&str>,
    reason: &str,
) -> Result<(), String> {
    let Some(size) = size else {
        return remove_row(file, "stock", "member", member);
    };
    let rows = rows_mut(file, "stock")?;
    if !rows.iter().any(|row| is_called(row, "member", member)) {
        let mut row = Table::new();
        row["member"] = value(member);
        rows.push(row);
    }
    let row = row_mut(file, "stock", "member", member)?;
    set_or_drop(row, "size", size);
    set_or_drop(row, "reason", reason);
    Ok(())
}
