//! Marks on a photograph: put, moved, taken away, said to be level, plumb or
//! of known length.

use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value, value};

use super::bound;
use super::{is_called, remove_row, row_mut, rows_mut, set_or_drop};
use crate::job::photo::Origin;

/// How two marks lie to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// At one level.
    Level,
    /// On one plumb line.
    Plumb,
    /// Neither is said; the length between them is asked for.
    Straight,
}

/// One end of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// The mark's name.
    pub id: String,
    /// Where to put it; nothing when it is there already.
    pub at: Option<[f64; 2]>,
}

/// One change of the marks on a photograph. Places are in pixels, the centre
/// of the top left one (0, 0).
#[derive(Clone, Debug, PartialEq)]
pub enum MarkChange {
    /// A new mark.
    Put {
        /// Its name.
        id: String,
        /// Its place.
        at: [f64; 2],
    },
    /// Marks or corners (`door_tl`) to other places.
    Move(Vec<(String, [f64; 2])>),
    /// A mark, or the rectangle of a corner, with all that speaks of it.
    Remove(String),
    /// A new rectangle.
    Rect {
        /// Its name.
        id: String,
        /// Top left, top right, bottom right, bottom left.
        corners: [[f64; 2]; 4],
    },
    /// A line from mark to mark.
    Line {
        /// How it lies.
        way: Way,
        /// Its ends.
        ends: [End; 2],
    },
    /// A known length; an empty value forgets it.
    Know {
        /// What it is the length of: `door:width`, `m1..m2`.
        of: String,
        /// Its length with its unit.
        value: String,
        /// Its standard uncertainty with its unit.
        sigma: String,
    },
    /// What a length is a reading of in the notes.
    Read(ReadText),
    /// A length in a known ratio to another; an empty `to` forgets it.
    Alike(AlikeText),
    /// A mark, or the rectangle of a corner, in a plane in front of the wall or
    /// behind it; an empty distance sets it back on the wall.
    Front(FrontText),
    /// What kind of picture it is: keys of the photograph with their text; an
    /// empty text drops the key.
    About(Vec<(&'static str, String)>),
}

/// What a length on a photograph is a reading of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReadText {
    /// The length, as the job has it: `door:width`, `m1..m2`.
    pub of: String,
    /// The length as it is to be: the same, or with `:level` or `:plumb`.
    pub to: String,
    /// A dimension or a sum of them; empty unbinds the length.
    pub reads: String,
    /// Dimensions that are new to the job.
    pub dimensions: Vec<String>,
}

/// Two lengths in a known ratio.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AlikeText {
    /// One length.
    pub of: String,
    /// The other.
    pub to: String,
    /// The first divided by the second; 1 when empty.
    pub ratio: String,
    /// Standard uncertainty in percent; 0.5 when empty.
    pub percent: String,
}

/// How far something stands in front of the wall.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FrontText {
    /// The mark or corner.
    pub mark: String,
    /// The distance with its unit; negative behind the wall.
    pub ahead: String,
    /// Its standard uncertainty with its unit.
    pub sigma: String,
    /// Marks of a wall at right angles as deep as which a mark lies.
    pub deep: String,
}

/// Marks changed on one photograph.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkEdit {
    /// The photograph.
    pub photo: String,
    /// Width and height of its picture, where they were seen.
    pub pixels: Option<[u32; 2]>,
    /// The focal length in pixels that its file states.
    pub focal: Option<f64>,
    /// What kind of picture its file seems to be.
    pub origin: Option<Origin>,
    /// The change.
    pub change: MarkChange,
}

impl MarkEdit {
    /// What it does, for the undo list.
    #[must_use]
    pub fn name(&self) -> String {
        let on = &self.photo;
        match &self.change {
            MarkChange::Put { id, .. } => format!("mark {id} on {on}"),
            MarkChange::Move(moves) => match moves.as_slice() {
                [(id, _)] => format!("move {id} on {on}"),
                all => format!("move {} marks on {on}", all.len()),
            },
            MarkChange::Remove(id) => format!("take {id} off {on}"),
            MarkChange::Rect { id, .. } => format!("mark rectangle {id} on {on}"),
            MarkChange::Line { way, ends: [a, b] } => {
                let word = match way {
                    Way::Level => "level line",
                    Way::Plumb => "plumb line",
                    Way::Straight => "length",
                };
                format!("{word} {} to {} on {on}", a.id, b.id)
            }
            MarkChange::Know { of, value, .. } if value.is_empty() => {
                format!("forget the length of {of} on {on}")
            }
            MarkChange::Know { of, value, .. } => format!("{of} is {value} on {on}"),
            MarkChange::Read(read) if read.reads.is_empty() => {
                format!("take {} on {on} out of the notes", read.of)
            }
            MarkChange::Read(read) => format!("{} on {on} reads {}", read.to, read.reads),
            MarkChange::Alike(alike) if alike.to.is_empty() => {
                format!("{} on {on} is like no other", alike.of)
            }
            MarkChange::Alike(alike) => format!("{} is like {} on {on}", alike.of, alike.to),
            MarkChange::Front(front) if !front.deep.is_empty() => {
                format!("{} on {on} lies as deep as {}", front.mark, front.deep)
            }
            MarkChange::Front(front) if front.ahead.is_empty() => {
                format!("{} on {on} stands on the wall", front.mark)
            }
            MarkChange::Front(front) => {
                format!("{} on {on} stands {} in front", front.mark, front.ahead)
            }
            MarkChange::About(_) => format!("what kind of picture {on} is"),
        }
    }
}

/// Adds a photograph at the end of the list; an empty `origin` is not said.
pub(super) fn add_photo(
    file: &mut DocumentMut,
    id: &str,
    name: &str,
    origin: &str,
) -> Result<(), String> {
    let rows = rows_mut(file, "photo")?;
    if rows.iter().any(|row| is_called(row, "id", id)) {
        return Err(format!("there is a photograph called \"{id}\" already"));
    }
    let mut row = Table::new();
    row["id"] = value(id);
    row["file"] = value(name);
    set_or_drop(&mut row, "origin", origin);
    rows.push(row);
    Ok(())
}

/// Takes a photograph with its marks out of the job.
pub(super) fn remove_photo(file: &mut DocumentMut, id: &str) -> Result<(), String> {
    remove_row(file, "photo", "id", id)
}

pub(super) fn apply(file: &mut DocumentMut, edit: &MarkEdit) -> Result<(), String> {
    if let MarkChange::Read(read) = &edit.change {
        bound::new_dimensions(file, &read.dimensions)?;
    }
    let photo = row_mut(file, "photo", "id", &edit.photo)?;
    if let Some([wide, high]) = edit.pixels.filter(|_| !photo.contains_key("pixels")) {
        photo["pixels"] = value(Array::from_iter([i64::from(wide), i64::from(high)]));
        let said = ["origin", "print", "frame"].iter().any(|key| photo.contains_key(key));
        if let Some(origin) = edit.origin.filter(|_| !said) {
            photo["origin"] = value(origin.word());
            let focal = edit.focal.filter(|_| origin == Origin::Camera);
            if let Some(focal) = focal.filter(|_| !photo.contains_key("focal")) {
                photo["focal"] = value(focal.round());
            }
        }
    }
    match &edit.change {
        MarkChange::Put { id, at } => put(photo, id, *at)?,
        MarkChange::Move(moves) => {
            for (id, at) in moves {
                move_one(photo, id, *at)?;
            }
        }
        MarkChange::Remove(id) => remove(photo, id)?,
        MarkChange::Rect { id, corners } => {
            let mut row = Table::new();
            row["id"] = value(id);
            row["corners"] = value(Array::from_iter(corners.map(|at| Value::from(pair(at)))));
            list_mut(photo, "rect")?.push(row);
        }
        MarkChange::Line { way, ends } => line(photo, *way, ends)?,
        MarkChange::Know { of, value, sigma } => know(photo, of, value, sigma)?,
        MarkChange::Read(read) => bound::read(photo, read)?,
        MarkChange::Alike(text) => bound::alike(photo, text)?,
        MarkChange::Front(front) => bound::front(photo, front)?,
        MarkChange::About(keys) => bound::about(photo, keys)?,
    }
    Ok(())
}

/// A place to the hundredth of a pixel.
fn pair(at: [f64; 2]) -> Array {
    Array::from_iter(at.map(|c| (100.0 * c).round() / 100.0))
}

pub(super) fn list_mut<'a>(
    photo: &'a mut Table,
    name: &str,
) -> Result<&'a mut ArrayOfTables, String> {
    photo
        .entry(name)
        .or_insert(Item::ArrayOfTables(ArrayOfTables::new()))
        .as_array_of_tables_mut()
        .ok_or_else(|| format!("{name} of the photograph is not a list of [[photo.{name}]]"))
}

fn put(photo: &mut Table, id: &str, at: [f64; 2]) -> Result<(), String> {
    let mut row = Table::new();
    row["id"] = value(id);
    row["at"] = value(pair(at));
    list_mut(photo, "mark")?.push(row);
    Ok(())
}

/// The rectangle of a corner's name, and which corner it is.
pub(super) fn corner(id: &str) -> Option<(&str, usize)> {
    let (rect, corner) = id.rsplit_once('_')?;
    let at = ["tl", "tr", "br", "bl"].iter().position(|known| *known == corner)?;
    Some((rect, at))
}

pub(super) fn has(photo: &Table, list: &str, id: &str) -> bool {
    let rows = photo.get(list).and_then(Item::as_array_of_tables);
    rows.is_some_and(|rows| rows.iter().any(|row| is_called(row, "id", id)))
}

fn move_one(photo: &mut Table, id: &str, at: [f64; 2]) -> Result<(), String> {
    if has(photo, "mark", id) {
        let mut rows = list_mut(photo, "mark")?.iter_mut();
        if let Some(row) = rows.find(|row| is_called(row, "id", id)) {
            row["at"] = value(pair(at));
        }
        return Ok(());
    }
    let missing = || format!("there is no mark \"{id}\"");
    let (rect, place) = corner(id).ok_or_else(missing)?;
    let row = list_mut(photo, "rect")?.iter_mut().find(|row| is_called(row, "id", rect));
    let corners = row
        .and_then(|row| row.get_mut("corners")?.as_array_mut())
        .filter(|corners| corners.len() == 4)
        .ok_or_else(missing)?;
    corners.replace(place, pair(at));
    Ok(())
}

fn remove(photo: &mut Table, id: &str) -> Result<(), String> {
    let gone: Box<dyn Fn(&str) -> bool> = if has(photo, "mark", id) {
        list_mut(photo, "mark")?.retain(|row| !is_called(row, "id", id));
        Box::new(move |name| name == id)
    } else {
        let rect = corner(id).map_or(id, |(rect, _)| rect);
        if !has(photo, "rect", rect) {
            return Err(format!("there is no mark \"{id}\""));
        }
        list_mut(photo, "rect")?.retain(|row| !is_called(row, "id", rect));
        Box::new(move |name| name == rect || corner(name).is_some_and(|(of, _)| of == rect))
    };
    forget(photo, &gone);
    // A list left empty is no list.
    for list in ["mark", "rect", "known", "ask", "alike"] {
        let rows = photo.get(list).and_then(Item::as_array_of_tables);
        if rows.is_some_and(ArrayOfTables::is_empty) {
            photo.remove(list);
        }
    }
    Ok(())
}

/// Drops everything that speaks of a mark or rectangle that is gone.
fn forget(photo: &mut Table, gone: &dyn Fn(&str) -> bool) {
    let speaks = |row: &Table, key: &str| {
        let of = row.get(key).and_then(Item::as_str).unwrap_or_default();
        let what = of.split_once(':').map_or(of, |(what, _)| what);
        what.split("..").any(gone)
    };
    for list in ["known", "ask", "alike"] {
        if let Some(rows) = photo.get_mut(list).and_then(Item::as_array_of_tables_mut) {
            rows.retain(|row| !speaks(row, "of") && !speaks(row, "to"));
        }
    }
    for way in ["level", "plumb"] {
        let Some(groups) = photo.get_mut(way).and_then(Item::as_array_mut) else { continue };
        for group in groups.iter_mut().filter_map(Value::as_array_mut) {
            group.retain(|name| !name.as_str().is_some_and(gone));
        }
        groups.retain(|group| group.as_array().is_some_and(|names| names.len() > 1));
        if groups.is_empty() {
            photo.remove(way);
        }
    }
}

fn line(photo: &mut Table, way: Way, ends: &[End; 2]) -> Result<(), String> {
    let [a, b] = ends;
    if a.id == b.id {
        return Err("a line needs two ends".to_owned());
    }
    for end in ends {
        if let Some(at) = end.at {
            put(photo, &end.id, at)?;
        }
    }
    let key = match way {
        Way::Level => "level",
        Way::Plumb => "plumb",
        Way::Straight => {
            let mut row = Table::new();
            row["of"] = value(format!("{}..{}", a.id, b.id));
            list_mut(photo, "ask")?.push(row);
            return Ok(());
        }
    };
    let groups = photo.entry(key).or_insert(value(Array::new())).as_array_mut();
    let groups = groups.ok_or_else(|| format!("{key} of the photograph is not a list"))?;
    groups.push(Array::from_iter([a.id.as_str(), b.id.as_str()]));
    Ok(())
}

fn know(photo: &mut Table, of: &str, length: &str, sigma: &str) -> Result<(), String> {
    let rows = list_mut(photo, "known")?;
    if length.is_empty() {
        rows.retain(|row| !is_called(row, "of", of));
        if rows.is_empty() {
            photo.remove("known");
        }
        return Ok(());
    }
    if !rows.iter().any(|row| is_called(row, "of", of)) {
        let mut row = Table::new();
        row["of"] = value(of);
        rows.push(row);
    }
    if let Some(row) = rows.iter_mut().find(|row| is_called(row, "of", of)) {
        set_or_drop(row, "value", length);
        set_or_drop(row, "sigma", sigma);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use crate::catalog::Catalog;
    use crate::job::demo;
    use crate::job::document::Document;
    use crate::job::edit::Edit;

    use super::*;

    fn creamery() -> (Document, Catalog) {
        let catalog = Catalog::built_in().unwrap();
        let text = demo::find("creamery").unwrap().text;
        (Document::read("creamery", text, &catalog).unwrap(), catalog)
    }

    fn on(photo: &str, change: MarkChange) -> Edit {
        Edit::Mark(MarkEdit {
            photo: photo.to_owned(),
            pixels: None,
            focal: None,
            origin: None,
            change,
        })
    }

    #[test]
    fn marks_are_put_moved_and_taken_back() {
        let (mut job, catalog) = creamery();
        let before = job.text().to_owned();
        let put = MarkChange::Put { id: "sill".into(), at: [10.126, 20.0] };
        job.apply(&on("C1", put), &catalog).unwrap();
        let moved = MarkChange::Move(vec![
            ("sill".into(), [11.0, 21.5]),
            ("door4_tr".into(), [820.0, 835.0]),
        ]);
        job.apply(&on("C1", moved), &catalog).unwrap();
        let photo = &job.job().photos[0];
        let at = photo.marks.iter().find(|mark| mark.id == "sill").unwrap().at;
        assert!((at[0] - 11.0).abs() < 1e-9 && (at[1] - 21.5).abs() < 1e-9);
        assert!((photo.rects[0].corners[1][0] - 820.0).abs() < 1e-9);
        job.undo(&catalog);
        job.undo(&catalog);
        assert_eq!(job.text(), before);
    }

    #[test]
    fn a_rectangle_goes_with_all_that_speaks_of_it() {
        let (mut job, catalog) = creamery();
        job.apply(&on("C1", MarkChange::Remove("up1_tl".into())), &catalog).unwrap();
        let photo = &job.job().photos[0];
        assert!(photo.rects.iter().all(|rect| rect.id != "up1"));
        assert!(photo.asks.iter().all(|ask| !ask.of.contains("up1")), "{:?}", photo.asks);
        job.apply(&on("C1", MarkChange::Remove("belt_l".into())), &catalog).unwrap();
        let photo = &job.job().photos[0];
        assert_eq!((photo.level.len(), photo.plumb.len(), photo.known.len()), (1, 2, 3));
        let nothing = on("C1", MarkChange::Remove("up1_tl".into()));
        assert!(job.apply(&nothing, &catalog).is_err());
    }

    #[test]
    fn a_photograph_is_marked_from_nothing() {
        let (mut job, catalog) = creamery();
        let add = Edit::AddPhoto { id: "P".into(), file: "p.jpg".into(), origin: String::new() };
        job.apply(&add, &catalog).unwrap();
        let corners = [[10.0, 10.0], [90.0, 12.0], [88.0, 70.0], [9.0, 71.0]];
        let edit = |change| {
            Edit::Mark(MarkEdit {
                photo: "P".into(),
                pixels: Some([100, 80]),
                focal: Some(90.4),
                origin: Some(Origin::Camera),
                change,
            })
        };
        job.apply(&edit(MarkChange::Rect { id: "r1".into(), corners }), &catalog).unwrap();
        let ends =
            [End { id: "r1_tl".into(), at: None }, End { id: "m1".into(), at: Some([50.0, 11.0]) }];
        for way in [Way::Level, Way::Straight] {
            let mut ends = ends.clone();
            if way == Way::Straight {
                ends[1].at = None;
            }
            job.apply(&edit(MarkChange::Line { way, ends }), &catalog).unwrap();
        }
        let know = |value: &str| MarkChange::Know {
            of: "r1:width".into(),
            value: value.to_owned(),
            sigma: "1/4 in".into(),
        };
        job.apply(&edit(know("3 ft")), &catalog).unwrap();
        let photo = job.job().photos.iter().find(|photo| photo.id == "P").unwrap();
        assert_eq!((photo.pixels, photo.rects.len(), photo.marks.len()), (Some([100, 80]), 1, 1));
        assert_eq!((photo.origin(), photo.focal), (Origin::Camera, Some(90.0)));
        assert_eq!((photo.level.len(), photo.asks.len(), photo.known.len()), (1, 1, 1));
        job.apply(&edit(know("")), &catalog).unwrap();
        assert!(job.job().photos.iter().all(|photo| photo.id != "P" || photo.known.is_empty()));
        job.apply(&Edit::RemovePhoto { id: "P".into() }, &catalog).unwrap();
        assert!(job.job().photos.iter().all(|photo| photo.id != "P"));
    }
}
