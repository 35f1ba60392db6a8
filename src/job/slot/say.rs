//! What a person types, as a value of the file.

use toml_edit::{Array, InlineTable, Value};

use crate::finding::short;
use crate::job::grammar::{Key, Kind, Shape};

/// The value a text stands for under a key of that kind. Whether it is a good
/// one is for the reader to say.
pub(in crate::job) fn value(kind: Kind, text: &str) -> Result<Value, String> {
    let text = text.trim();
    if text.starts_with(['[', '{', '"', '\''])
        && let Ok(value) = text.parse::<Value>()
    {
        return Ok(value.decorated("", ""));
    }
    match kind {
        Kind::Count => {
            let number = text.parse::<i64>();
            let wrong = || format!("\"{}\" is no whole number, such as 4", short::word(text));
            number.map(Value::from).map_err(|_| wrong())
        }
        Kind::Number => number(text),
        Kind::Flag => match text {
            "true" | "yes" | "y" | "on" => Ok(true.into()),
            "false" | "no" | "n" | "off" => Ok(false.into()),
            _ => Err(format!("\"{}\" is neither yes nor no", short::word(text))),
        },
        Kind::List(inner) | Kind::Row(_, inner) => list(inner(), text),
        Kind::Map(inner) => pairs(text, &|_| Some(inner())),
        Kind::Table(shape) => table(shape(), text),
        Kind::Either(one, other) => {
            value(if text.starts_with('{') { other() } else { one() }, text)
        }
        Kind::Size if text.starts_with('{') => pairs(text, &|_| Some(Kind::Text)),
        _ => Ok(text.into()),
    }
}

/// Whether what is typed is a value for a key, as far as the key alone can say.
///
/// # Errors
/// What is wrong with it, with what to write.
pub fn check(key: &Key, text: &str) -> Result<(), String> {
    let value = value((key.kind)(), text)?;
    key.check(&value.to_string()).map_err(|wrong| match wrong.hint.as_str() {
        "" => wrong.message,
        hint => format!("{} ({hint})", wrong.message),
    })
}

fn number(text: &str) -> Result<Value, String> {
    let number = text.parse::<f64>().ok().filter(|number| number.is_finite());
    let number = number.ok_or_else(|| format!("\"{}\" is no number", short::word(text)))?;
    Ok(text.parse::<i64>().map_or_else(|_| number.into(), Value::from))
}

fn table(shape: &'static Shape, text: &str) -> Result<Value, String> {
    pairs(text, &|key| shape.key(key).map(|key| (key.kind)()))
}

/// `key = value, key = value`, in braces or without.
fn pairs(text: &str, kind_of: &dyn Fn(&str) -> Option<Kind>) -> Result<Value, String> {
    let inside = within(text, '{', '}').unwrap_or(text);
    let mut said: Vec<(String, String)> = Vec::new();
    for piece in split(inside, ',') {
        let equals = split(piece, '=').next().filter(|key| key.len() < piece.len());
        match (equals, said.last_mut()) {
            (Some(key), _) => {
                let name = key.trim().trim_matches('"').to_owned();
                said.push((name, piece[key.len() + 1..].trim().to_owned()));
            }
            // A comma inside a list that has no brackets.
            (None, Some((_, value))) => {
                value.push_str(", ");
                value.push_str(piece.trim());
            }
            (None, None) if piece.trim().is_empty() => {}
            (None, None) => return Err("write `key = value`, with commas between".to_owned()),
        }
    }
    let mut table = InlineTable::new();
    for (key, text) in said {
        let kind = kind_of(&key).unwrap_or(Kind::Text);
        table.insert(&key, value(kind, &text)?);
    }
    Ok(table.into())
}

/// A list with commas; of lists or tables, with semicolons or brackets.
fn list(inner: Kind, text: &str) -> Result<Value, String> {
    let nested = matches!(inner, Kind::List(_) | Kind::Row(..));
    let inside = within(text, '[', ']');
    let parted = |text| split(text, ';').nth(1).is_some();
    let pieces: Vec<&str> = if !nested {
        split(inside.unwrap_or(text), ',').collect()
    } else {
        match inside {
            Some(inside) if parted(inside) => split(inside, ';').collect(),
            None if parted(text) => split(text, ';').collect(),
            Some(inside) if inside.trim_start().starts_with('[') => split(inside, ',').collect(),
            Some(_) => vec![text],
            None if text.starts_with('[') => split(text, ',').collect(),
            None => vec![text],
        }
    };
    let mut list = Array::new();
    let many = pieces.len();
    for (at, piece) in pieces.into_iter().enumerate() {
        let piece = piece.trim();
        // A comma at the end adds nothing.
        if piece.is_empty() && (at + 1 == many) {
            continue;
        }
        list.push(value(inner, piece)?);
    }
    Ok(list.into())
}

/// What stands inside a pair of brackets that holds the whole text.
fn within(text: &str, open: char, close: char) -> Option<&str> {
    let inside = text.trim().strip_prefix(open)?.strip_suffix(close)?;
    let mut deep = 0_i32;
    for c in inside.chars() {
        deep += i32::from(c == open) - i32::from(c == close);
        if deep < 0 {
            return None;
        }
    }
    Some(inside)
}

/// The pieces between signs that stand outside brackets and quotes.
fn split(text: &str, sign: char) -> impl Iterator<Item = &str> {
    let (mut deep, mut quoted, mut from) = (0_i32, false, 0);
    let mut ends = Vec::new();
    for (at, c) in text.char_indices() {
        match c {
            '"' => quoted = !quoted,
            _ if quoted => {}
            '[' | '{' => deep += 1,
            ']' | '}' => deep -= 1,
            _ if c == sign && deep == 0 => {
                ends.push((from, at));
                from = at + c.len_utf8();
            }
            _ => {}
        }
    }
    ends.push((from, text.len()));
    ends.into_iter().map(move |(from, to)| &text[from..to])
}
