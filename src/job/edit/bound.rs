//! What lengths and marks of a photograph are bound to: dimensions of the job,
//! other lengths, planes before the wall; and what kind of picture it is.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, value};

use super::marks::{AlikeText, FrontText, ReadText, corner, has, list_mut};
use super::{is_called, rows_mut, set_or_drop};

/// Dimensions at the end of the list.
pub(super) fn new_dimensions(file: &mut DocumentMut, names: &[String]) -> Result<(), String> {
    for name in names {
        let mut row = Table::new();
        row["name"] = value(name);
        rows_mut(file, "dimension")?.push(row);
    }
    Ok(())
}

/// Binds a length to what it is a reading of, or takes it out of the notes.
pub(super) fn read(photo: &mut Table, text: &ReadText) -> Result<(), String> {
    let asks = list_mut(photo, "ask")?;
    if text.reads.is_empty() {
        // A side of a rectangle is shown without being asked for.
        if text.of.contains("..") {
            for row in asks.iter_mut().filter(|row| is_called(row, "of", &text.of)) {
                ["reads", "off", "off-reason"].iter().for_each(|key| drop(row.remove(key)));
            }
        } else {
            asks.retain(|row| !is_called(row, "of", &text.of));
        }
        drop_if_empty(photo, "ask");
        return Ok(());
    }
    if !asks.iter().any(|row| is_called(row, "of", &text.of)) {
        let mut row = Table::new();
        row["of"] = value(&text.of);
        asks.push(row);
    }
    if let Some(row) = asks.iter_mut().find(|row| is_called(row, "of", &text.of)) {
        row["of"] = value(&text.to);
        row["reads"] = value(&text.reads);
    }
    Ok(())
}

/// Says that a length is in a ratio to another, in place of what was said.
pub(super) fn alike(photo: &mut Table, text: &AlikeText) -> Result<(), String> {
    let rows = list_mut(photo, "alike")?;
    rows.retain(|row| !is_called(row, "of", &text.of));
    if !text.to.is_empty() {
        let mut row = Table::new();
        (row["of"], row["to"]) = (value(&text.of), value(&text.to));
        for (key, figure) in [("ratio", &text.ratio), ("percent", &text.percent)] {
            if !figure.is_empty() {
                row[key] = value(number(figure)?);
            }
        }
        rows.push(row);
    }
    drop_if_empty(photo, "alike");
    Ok(())
}

/// A number, or one over another: `12/3`.
fn number(text: &str) -> Result<f64, String> {
    let read = |part: &str| part.trim().parse::<f64>().ok().filter(|n| n.is_finite());
    let figure = match text.split_once('/') {
        Some((over, under)) => read(over).zip(read(under)).map(|(over, under)| over / under),
        None => read(text),
    };
    let fine = figure.filter(|n| n.is_finite() && *n > 0.0);
    fine.ok_or_else(|| format!("\"{text}\" is no number greater than zero, such as 1 or 12/3"))
}

/// Puts a mark or rectangle in a plane of its distance.
pub(super) fn front(photo: &mut Table, text: &FrontText) -> Result<(), String> {
    let (list, id) = if has(photo, "mark", &text.mark) {
        ("mark", text.mark.as_str())
    } else {
        ("rect", corner(&text.mark).map_or(text.mark.as_str(), |(rect, _)| rect))
    };
    if !has(photo, list, id) {
        return Err(format!("there is no mark \"{}\"", text.mark));
    }
    let plane = if text.ahead.is_empty() { None } else { Some(plane(photo, text)?) };
    if let Some(row) = list_mut(photo, list)?.iter_mut().find(|row| is_called(row, "id", id)) {
        set_or_drop(row, "plane", plane.as_deref().unwrap_or(""));
        if list == "mark" {
            set_or_drop(row, "deep", &text.deep);
        }
    }
    drop_unused_planes(photo);
    Ok(())
}

/// The plane of that distance, a new one where there is none.
fn plane(photo: &mut Table, text: &FrontText) -> Result<String, String> {
    let rows = list_mut(photo, "plane")?;
    let said =
        |row: &Table, key: &str| row.get(key).and_then(Item::as_str).unwrap_or_default().to_owned();
    let same = rows
        .iter()
        .find(|row| said(row, "ahead") == text.ahead && said(row, "sigma") == text.sigma)
        .map(|row| said(row, "id"));
    if let Some(id) = same {
        return Ok(id);
    }
    let taken: Vec<String> = rows.iter().map(|row| said(row, "id")).collect();
    let id = (1_u32..).map(|n| format!("p{n}")).find(|id| !taken.contains(id)).unwrap_or_default();
    let mut row = Table::new();
    (row["id"], row["ahead"]) = (value(&id), value(&text.ahead));
    set_or_drop(&mut row, "sigma", &text.sigma);
    rows.push(row);
    Ok(id)
}

fn drop_unused_planes(photo: &mut Table) {
    let mut used: Vec<String> = Vec::new();
    for list in ["mark", "rect"] {
        let rows = photo.get(list).and_then(Item::as_array_of_tables);
        let planes = rows.into_iter().flatten().filter_map(|row| row.get("plane")?.as_str());
        used.extend(planes.map(str::to_owned));
    }
    if let Some(rows) = photo.get_mut("plane").and_then(Item::as_array_of_tables_mut) {
        rows.retain(|row| used.iter().any(|id| is_called(row, "id", id)));
    }
    drop_if_empty(photo, "plane");
}

/// Sets keys of the photograph.
pub(super) fn about(photo: &mut Table, keys: &[(&'static str, String)]) -> Result<(), String> {
    for (key, text) in keys {
        if text.is_empty() {
            photo.remove(key);
            continue;
        }
        photo[*key] = match *key {
            "origin" => value(text),
            "distortion" => value(text == "yes"),
            "frame" => value(Array::from_iter(frame(text)?)),
            "corner" => value(corner_of(text)?),
            _ => value(number(text)?),
        };
        if *key == "origin" {
            photo.remove("print");
        }
    }
    Ok(())
}

/// The other photograph and the mark where its wall meets this one.
fn corner_of(text: &str) -> Result<InlineTable, String> {
    let (of, at) = text
        .split_once(char::is_whitespace)
        .ok_or("write the other photograph and the mark on the corner: C2 wall_br")?;
    Ok(InlineTable::from_iter([("of", of.trim()), ("at", at.trim())]))
}

/// Left, top, width and height of a frame.
fn frame(text: &str) -> Result<[f64; 4], String> {
    let parts = text.split([',', ' ']).filter(|part| !part.is_empty());
    let figures: Vec<f64> = parts.filter_map(|part| part.parse().ok()).collect();
    <[f64; 4]>::try_from(figures)
        .map_err(|_| "write left, top, width and height of the whole, in pixels".to_owned())
}

fn drop_if_empty(photo: &mut Table, list: &str) {
    let rows = photo.get(list).and_then(Item::as_array_of_tables);
    if rows.is_some_and(toml_edit::ArrayOfTables::is_empty) {
        photo.remove(list);
    }
}

#[cfg(test)]
mod tests {
    use crate::catalog::Catalog;
    use crate::job::demo;
    use crate::job::document::Document;
    use crate::job::edit::{AlikeText, Edit, FrontText, MarkChange, MarkEdit, ReadText};
    use crate::job::photo::{Origin, Photo};

    struct Bench(Document, Catalog);

    impl Bench {
        fn new() -> Self {
            let catalog = Catalog::built_in().unwrap();
            let text = demo::find("creamery").unwrap().text;
            Self(Document::read("creamery", text, &catalog).unwrap(), catalog)
        }

        fn change(&mut self, change: MarkChange) -> Result<(), String> {
            let edit =
                MarkEdit { photo: "C1".into(), pixels: None, focal: None, origin: None, change };
            self.0.apply(&Edit::Mark(edit), &self.1).map_err(|error| error.trouble)
        }

        fn photo(&self) -> &Photo {
            &self.0.job().photos[0]
        }
    }

    fn read(of: &str, to: &str, reads: &str, new: &[&str]) -> MarkChange {
        let dimensions = new.iter().map(|name| (*name).to_owned()).collect();
        MarkChange::Read(ReadText { of: of.into(), to: to.into(), reads: reads.into(), dimensions })
    }

    #[test]
    fn a_side_is_bound_to_a_new_dimension_and_freed_again() {
        let mut bench = Bench::new();
        let before = bench.0.text().to_owned();
        let asks = bench.photo().asks.len();
        bench.change(read("up3:width", "up3:width", "sash", &["sash"])).unwrap();
        let job = bench.0.job();
        assert!(job.dimensions.iter().any(|dimension| dimension.name == "sash"));
        let (_, ask) = job.photo_reading("C1 up3:width").unwrap();
        assert_eq!(ask.reads.as_ref().unwrap().to_string(), "sash");
        assert!(!ask.off);
        bench.change(read("up3:width", "up3:width", "", &[])).unwrap();
        assert_eq!(bench.photo().asks.len(), asks);
        bench.0.undo(&bench.1);
        bench.0.undo(&bench.1);
        assert_eq!(bench.0.text(), before);
    }

    /// A name that is in no dimension is refused by the job itself.
    #[test]
    fn a_stranger_is_refused() {
        let mut bench = Bench::new();
        assert!(bench.change(read("up3:width", "up3:width", "sash", &[])).is_err());
    }

    #[test]
    fn planes_come_and_go_with_what_stands_in_them() {
        let mut bench = Bench::new();
        let before = bench.photo().planes.len();
        let front = |mark: &str, ahead: &str| {
            let [mark, ahead, sigma] = [mark, ahead, "3 in"].map(str::to_owned);
            MarkChange::Front(FrontText { mark, ahead, sigma, deep: String::new() })
        };
        for mark in ["up1_tl", "belt_l"] {
            bench.change(front(mark, "3 ft")).unwrap();
        }
        let photo = bench.photo();
        assert_eq!(photo.planes.len(), before + 1, "one plane for one distance");
        let plane = photo.planes.last().unwrap().id.clone();
        assert!(photo.rects.iter().any(|rect| rect.plane.as_ref() == Some(&plane)));
        for mark in ["up1_tr", "belt_l"] {
            bench.change(front(mark, "")).unwrap();
        }
        assert_eq!(bench.photo().planes.len(), before);
    }

    #[test]
    fn courses_are_counted_and_the_kind_of_picture_is_said() {
        let mut bench = Bench::new();
        let alike = |to: &str, ratio: &str| {
            let [of, to, ratio] = ["up1:width", to, ratio].map(str::to_owned);
            MarkChange::Alike(AlikeText { of, to, ratio, percent: String::new() })
        };
        bench.change(alike("up3:width", "12/4")).unwrap();
        let said = bench.photo().alike.iter().find(|alike| alike.of == "up1:width").unwrap();
        assert!((said.ratio.unwrap() - 3.0).abs() < 1e-12);
        assert!(bench.change(alike("up3:width", "0")).is_err());
        bench.change(alike("", "")).unwrap();
        assert!(bench.photo().alike.iter().all(|alike| alike.of != "up1:width"));
        let about = [("origin", "part"), ("distortion", "no"), ("frame", "10, 20, 3000, 2000")];
        let about = about.map(|(key, text)| (key, text.to_owned())).to_vec();
        bench.change(MarkChange::About(about)).unwrap();
        let photo = bench.photo();
        assert_eq!((photo.origin(), photo.print), (Origin::Part, false));
        assert_eq!(photo.distortion, Some(false));
        assert!((photo.frame.unwrap()[2] - 3000.0).abs() < 1e-9);
    }
}
