//! The row of a reading in the file, and its uncertainty.

use toml_edit::{DocumentMut, Item, Table};

use super::{is_called, row_mut, rows_mut, set_or_drop};

/// Sets the uncertainty of a reading; one that stands behind the value goes.
pub(super) fn broaden(row: &mut Table, sigma: &str) {
    let said = row.get("value").and_then(Item::as_str).map(str::to_owned);
    if let Some((value, _)) = said.as_deref().and_then(|text| text.split_once('\u{b1}')) {
        set_or_drop(row, "value", value.trim());
    }
    set_or_drop(row, "sigma", sigma);
}

/// The row of a reading: its own, or the length of a photograph.
pub(super) fn reading_mut<'a>(
    file: &'a mut DocumentMut,
    id: &str,
) -> Result<&'a mut Table, String> {
    let own = rows_mut(file, "reading")?.iter().any(|row| is_called(row, "id", id));
    if own {
        return row_mut(file, "reading", "id", id);
    }
    photo_ask_mut(file, id).ok_or_else(|| format!("there is no reading called \"{id}\""))
}

/// The `[[photo.ask]]` behind a reading of a photograph: `B2 door3:width`.
fn photo_ask_mut<'a>(file: &'a mut DocumentMut, id: &str) -> Option<&'a mut Table> {
    let photos = file.get_mut("photo")?.as_array_of_tables_mut()?;
    photos.iter_mut().find_map(|photo| {
        let name = photo.get("id").and_then(Item::as_str)?;
        let of = id.strip_prefix(name)?.strip_prefix(' ')?.to_owned();
        let asks = photo.get_mut("ask")?.as_array_of_tables_mut()?;
        asks.iter_mut().find(|ask| is_called(ask, "of", &of) && ask.contains_key("reads"))
    })
}
