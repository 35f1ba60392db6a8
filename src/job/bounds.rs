//! Edits of what the compression is bound by: weights of the look, bounds of an
//! element.

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value, value};

use super::body::FaceId;
use super::edit::{is_called, row_mut, table_mut};

/// Tolerance and weight of a feature under `[look]`.
pub(super) fn weigh(
    file: &mut DocumentMut,
    feature: &str,
    tau: &str,
    weight: &str,
) -> Result<(), String> {
    let mut figures = Vec::new();
    for (key, text) in [("tau", tau), ("weight", weight)] {
        if !text.is_empty() {
            figures.push((key, number(text)?));
        }
    }
    let look = table_mut(file, "look")?;
    let rows = look.entry("weigh").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    if let Some(list) = rows.as_array_mut() {
        *rows = Item::ArrayOfTables(as_tables(list)?);
    }
    let rows = rows.as_array_of_tables_mut().ok_or("look.weigh is not a list in the file")?;
    let known = rows.iter().position(|row| is_called(row, "feature", feature));
    if let Some(at) = known {
        rows.remove(at);
    }
    if !figures.is_empty() {
        let mut row = Table::new();
        row["feature"] = value(feature);
        for (key, figure) in figures {
            row[key] = value(figure);
        }
        rows.push(row);
    }
    if rows.is_empty() {
        look.remove("weigh");
    }
    Ok(())
}

/// A list of tables in a line, as tables of their own.
fn as_tables(list: &Array) -> Result<ArrayOfTables, String> {
    list.iter()
        .map(|row| {
            let row = row.as_inline_table().ok_or("look.weigh holds what is no table")?;
            Ok(row.clone().into_table())
        })
        .collect()
}

fn number(text: &str) -> Result<f64, String> {
    let number = text.parse::<f64>().ok().filter(|number| number.is_finite());
    number.ok_or_else(|| format!("\"{text}\" is no plain number"))
}

/// Bounds of one element of a face's row, found by its name at any depth.
pub(super) fn bound(
    file: &mut DocumentMut,
    element: &str,
    keys: &[(String, String)],
) -> Result<(), String> {
    let (face, name) =
        FaceId::split(element).ok_or("name an element by its wall: `main/front/bay`")?;
    let face = row_mut(file, "wall", "of", &face.to_string())?;
    let row = face.get_mut("row").and_then(Item::as_array_mut);
    let row = row.ok_or("the wall has no row of elements")?;
    let found = find(row, name).ok_or_else(|| format!("there is no element called \"{name}\""))?;
    for (key, text) in keys {
        if text.is_empty() {
            found.remove(key);
        } else if key.starts_with("at-") {
            let count =
                text.parse::<i64>().map_err(|_| format!("\"{text}\" is no whole number"))?;
            found.insert(key, Value::from(count));
        } else {
            found.insert(key, Value::from(text));
        }
    }
    found.fmt();
    Ok(())
}

fn find<'a>(row: &'a mut Array, name: &str) -> Option<&'a mut InlineTable> {
    row.iter_mut().filter_map(Value::as_inline_table_mut).find_map(|element| within(element, name))
}

fn within<'a>(element: &'a mut InlineTable, name: &str) -> Option<&'a mut InlineTable> {
    let called = |key: &str| element.get(key).and_then(Value::as_str) == Some(name);
    if ["plain", "bays", "repeat", "opening", "corner"].into_iter().any(called) {
        return Some(element);
    }
    element.get_mut("row").and_then(Value::as_array_mut).and_then(|row| find(row, name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bound_goes_to_its_element_at_any_depth_and_away_again() {
        let text = "[[wall]]\nof = \"m/front\"\nrow = [ { corner = \"c\", width = \"1 ft\" }, \
                    { repeat = \"m\", count = 3, row = [ { plain = \"gap\", width = \"9 ft\" } ] } ]\n";
        let mut file: DocumentMut = text.parse().unwrap();
        let keys = |text: &str| vec![("least".to_owned(), text.to_owned())];
        bound(&mut file, "m/front/gap", &keys("4 ft")).unwrap();
        assert!(file.to_string().contains("width = \"9 ft\", least = \"4 ft\""), "{file}");
        bound(&mut file, "m/front/m", &[("at-least".to_owned(), "2".to_owned())]).unwrap();
        assert!(file.to_string().contains("at-least = 2"), "{file}");
        bound(&mut file, "m/front/gap", &keys("")).unwrap();
        assert!(!file.to_string().contains("4 ft"), "{file}");
        assert!(bound(&mut file, "m/front/none", &keys("1 ft")).is_err());
        assert!(bound(&mut file, "m/front/m", &[("at-most".to_owned(), "x".to_owned())]).is_err());
    }

    #[test]
    fn a_weight_is_written_replaced_and_taken_away() {
        let mut file: DocumentMut =
            "[look]\nweigh = [ { feature = \"bay\", weight = 2.0 } ]\n".parse().unwrap();
        weigh(&mut file, "void", "", "3").unwrap();
        weigh(&mut file, "bay", "0.2", "").unwrap();
        let text = file.to_string();
        assert!(text.contains("feature = \"bay\"\ntau = 0.2"), "{text}");
        assert!(text.contains("feature = \"void\"\nweight = 3.0"), "{text}");
        weigh(&mut file, "void", "", "").unwrap();
        assert!(!file.to_string().contains("void"));
        assert!(weigh(&mut file, "void", "x", "").is_err());
    }
}
