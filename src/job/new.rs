//! The text of a job typed from nothing.

use super::grammar::tables;
use crate::finding::Stop;
use crate::quantity::{Prototype, Reading, parse_stated};

/// What a new job is made from; all but the scale may be empty.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answers {
    /// The building's name.
    pub name: String,
    /// What must survive.
    pub intent: String,
    /// Scale by name or ratio.
    pub scale: String,
    /// Full-size length of the front, with or without ±.
    pub front: String,
    /// Full-size depth, with or without ±.
    pub deep: String,
    /// Full-size height to the eaves, with or without ±.
    pub eaves: String,
    /// Straight length of the place, on the model.
    pub space: String,
    /// Depth of the place, on the model.
    pub depth: String,
}

/// The three sizes asked for: dimension, what it is, the reading's name.
const SIZES: [(&str, &str, &str); 3] = [
    ("length", "length of the front", "F1"),
    ("depth", "depth, front to back", "F2"),
    ("eaves", "ground to the eaves", "F3"),
];

/// A new job's text, with every table explained that a beginner needs first.
/// Sizes become first figures: readings by eye, to be checked by better ones.
/// Where all three are known the building stands as a box with a roof.
///
/// # Errors
/// A size that is no full-size length.
pub fn text(answers: &Answers) -> Result<String, Stop> {
    let mut out = about(answers);
    let place = [("length", &answers.space), ("depth", &answers.depth)];
    if place.iter().any(|(_, text)| !text.trim().is_empty()) {
        out.push_str("\n# The place on the layout, in model lengths.\n[space]\n");
        for (key, text) in place.iter().filter(|(_, text)| !text.trim().is_empty()) {
            out.push_str(&format!("{key} = {}\n", quoted(text)));
        }
    }
    out.push_str(SOURCE);
    let sizes = [&answers.front, &answers.deep, &answers.eaves];
    for ((name, what, id), size) in SIZES.into_iter().zip(sizes) {
        if name == "length" || !size.trim().is_empty() {
            out.push_str(&format!("\n[[dimension]]\nname = \"{name}\"\nwhat = \"{what}\"\n"));
        }
        if !size.trim().is_empty() {
            out.push_str(&first_figure(name, id, size)?);
        }
    }
    out.push_str(&reading());
    let all = sizes.iter().all(|size| !size.trim().is_empty());
    if all {
        out.push_str(BOX);
        out.push_str(&to_a_building());
    } else {
        out.push_str(&guide());
    }
    Ok(out)
}

fn about(answers: &Answers) -> String {
    let units = if is_metric(answers) { "units = \"metric\"\n" } else { "" };
    format!(
        "# A job: what is known of one building, and what was decided.\n\
         # Lengths are text with their unit: \"12 ft 6 1/2 in\", \"3.81 m\", \"20 thou\".\n\n\
         [job]\nname = {}\nintent = {}\nscale = {}\n{units}",
        quoted(&answers.name),
        quoted(&answers.intent),
        quoted(&answers.scale),
    )
}

/// Whether the sizes were given in metres or parts of them.
fn is_metric(answers: &Answers) -> bool {
    let given = [&answers.front, &answers.deep, &answers.eaves];
    let mut given = given.iter().filter(|text| !text.trim().is_empty()).peekable();
    given.peek().is_some() && given.all(|text| text.trim_end().ends_with('m'))
}

/// A size as a reading by eye; its own ± counts where there is one.
fn first_figure(name: &str, id: &str, size: &str) -> Result<String, Stop> {
    parse_stated::<Prototype>(size, &Reading::default())
        .map_err(|error| Stop::new(format!("reading the {name}"), error.message, error.hint))?;
    let size = size.replace("+/-", "±");
    let (value, sigma) = size.split_once('±').unwrap_or((&size, ""));
    let sigma = match sigma.trim() {
        "" => String::new(),
        sigma => format!("sigma = {}\n", quoted(sigma)),
    };
    let value = quoted(value);
    Ok(format!(
        "\n[[reading]]\nid = \"{id}\"\nof = \"{name}\"\nmethod = \"guess\"\n\
         value = {value}\n{sigma}source = \"book\"\nnote = \"a first figure\"\n"
    ))
}

fn quoted(text: &str) -> String {
    toml_edit::Value::from(text.trim()).to_string()
}

const SOURCE: &str = r#"
# Where the evidence comes from.
[[source]]
id = "book"
kind = "field book"
title = "My own readings"

# What is to be found ...
"#;

const BOX: &str = r#"
# The building: its main body. A size is a length ("9 ft"), a dimension from
# above, or { take = "48 ft", measured = "length" } where a round figure is built.
[[body]]
name = "main"
depth = "depth"
eave = "eaves"

[body.roof]
kind = "gable"
pitch = "6:12"

# What the walls are made of, from outside in, on the model: yours may be thicker.
[[layer]]
name = "core"
does = "core"
thick = "40 thou"

[walls]
layers = ["core"]

# A wall is a row from its left corner to its right: plain wall, doors, windows.
# Its name is that of its body and side: main/front, main/left, main/back.
[[wall]]
of = "main/front"
row = [
    { plain = "wall", width = "length" },
]

[[wall]]
of = "main/left"
row = [
    { plain = "wall", width = "depth" },
]
"#;

/// What may come next to a building that stands.
fn to_a_building() -> String {
    format!(
        "\n# A door or window: describe it once ...\n{}#\n\
         # ... and put it in the row of a wall, with plain wall to each side:\n\
         #     {{ plain = \"wall\", width = \"12 ft\" }},\n\
         #     {{ opening = \"D\", kind = \"freight-door\" }},\n\
         #     {{ plain = \"wall-2\", width = \"length - 20 ft\" }},\n#\n\
         # Cladding; then layers = [\"boards\", \"core\"] in [walls], or in one [[wall]].\n{}{MORE}",
        opening(),
        cladding(),
    )
}

/// A whole building, for a job whose sizes are not known yet.
fn guide() -> String {
    let body =
        commented("body", &[("name", "\"main\""), ("depth", "\"30 ft\""), ("eave", "\"12 ft\"")]);
    let roof = commented("body.roof", &[("kind", "\"gable\""), ("pitch", "\"6:12\"")]);
    format!(
        "\n# The building, once its sizes are known. A size is a length, a dimension, or\n\
         # {{ take = \"48 ft\", measured = \"length\" }}.\n\
         {body}#\n{roof}#\n{}#\n{}#\n#[walls]\n#layers = [\"boards\"]\n#\n\
         #[[wall]]\n#of = \"main/front\"\n#row = [\n\
         #    {{ corner = \"left\", width = \"6 in\" }},\n\
         #    {{ plain = \"wall\", width = \"18 ft\" }},\n\
         #    {{ opening = \"D\", kind = \"freight-door\" }},\n\
         #    {{ plain = \"wall-2\", width = \"21 ft\" }},\n\
         #    {{ corner = \"right\", width = \"6 in\" }},\n#]\n{MORE}",
        opening(),
        cladding(),
    )
}

/// Where the rest of the grammar stands.
const MORE: &str = "\n# Everything else a job may say: scantling keys, or scantling keys TABLE.\n";

fn reading() -> String {
    let of = ("of", "\"length\"");
    let keys = [("id", ""), of, ("method", ""), ("value", "\"48 ft 0 1/2 in\""), ("source", "")];
    format!(
        "\n# ... and what was read. `of` is a dimension, or a sum such as \"right - left\".\n{}",
        commented("reading", &keys)
    )
}

fn opening() -> String {
    let keys = ["name", "what", "width", "height", "trim"].map(|key| (key, ""));
    commented("opening", &keys)
}

fn cladding() -> String {
    commented("cladding", &["name", "kind", "unit", "batten"].map(|key| (key, "")))
}

/// A table of the grammar as lines to be taken in: each key with its example,
/// or another value, and its sentence.
fn commented(table: &str, keys: &[(&str, &str)]) -> String {
    let Some(listed) = tables().into_iter().find(|listed| listed.shape.head.name == table) else {
        return String::new();
    };
    let head = if listed.several { format!("[[{table}]]") } else { format!("[{table}]") };
    let line = |(name, other): &(&str, &str)| {
        let key = listed.shape.key(name)?;
        let value = if other.is_empty() { key.example() } else { (*other).to_owned() };
        let says = key.says().split_whitespace().collect::<Vec<_>>().join(" ");
        Some(format!("{:<34}# {says}\n", format!("#{name} = {value}")))
    };
    let lines: String = keys.iter().filter_map(line).collect();
    format!("#{head}\n{lines}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::job::model::Units;

    fn job(answers: &Answers) -> crate::job::Job {
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let text = text(answers).expect("sizes");
        crate::job::read::read("new", &text, &catalog).unwrap_or_else(|error| panic!("{error}"))
    }

    #[test]
    fn answers_make_a_job_even_with_quotes_in_them() {
        let job = job(&Answers {
            name: "The \"old\" mill\nby the weir".to_owned(),
            intent: "the wheel".to_owned(),
            scale: "1:48".to_owned(),
            space: "12 in".to_owned(),
            ..Answers::default()
        });
        assert!(job.about.name.contains("\"old\""));
        assert!(job.space.is_some_and(|space| space.depth.is_none()));
        assert!(job.bodies.is_empty());
    }

    #[test]
    fn three_sizes_make_a_building_with_something_to_measure() {
        let job = job(&Answers {
            scale: "1:48".to_owned(),
            front: "48 ft ± 6 in".to_owned(),
            deep: "30 ft".to_owned(),
            eaves: "12 ft".to_owned(),
            ..Answers::default()
        });
        assert_eq!(job.readings.len(), 3);
        assert_eq!(job.readings[0].sigma.as_deref(), Some("6 in"));
        assert_eq!(job.readings[1].sigma, None);
        assert_eq!((job.walls.len(), job.about.units), (2, Units::FeetInches));
    }

    #[test]
    fn metres_in_metres_out() {
        let [front, deep, eaves] = ["14.6 m", "9 m", "3.6 m"].map(str::to_owned);
        let metric = Answers { scale: "1:50".into(), front, deep, eaves, ..Answers::default() };
        assert_eq!(job(&metric).about.units, Units::Metric);
    }

    #[test]
    fn a_size_without_its_unit_is_refused_by_name() {
        let bare = Answers { scale: "1:48".into(), deep: "12.6".into(), ..Answers::default() };
        let stop = text(&bare).expect_err("no unit");
        assert!(stop.to_string().contains("depth"), "{stop}");
    }

    /// The text with every line that begins with `#` and a key taken in.
    fn unmarked(answers: &Answers) -> crate::job::Job {
        let line = |line: &str| {
            let plain = line.strip_prefix('#').filter(|rest| !rest.starts_with(' '));
            format!("{}\n", plain.unwrap_or(line))
        };
        let plain: String = text(answers).expect("sizes").lines().map(line).collect();
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        crate::job::read::read("guide", &plain, &catalog).unwrap_or_else(|error| panic!("{error}"))
    }

    #[test]
    fn the_guides_hold_once_their_marks_are_taken_away() {
        let empty = Answers { scale: "1:48".into(), ..Answers::default() };
        let job = unmarked(&empty);
        assert_eq!((job.walls.len(), job.readings.len()), (1, 1));
        let [front, deep, eaves] = ["48 ft", "30 ft", "12 ft"].map(str::to_owned);
        let job = unmarked(&Answers { front, deep, eaves, ..empty });
        assert_eq!((job.openings.len(), job.claddings.len(), job.readings.len()), (1, 1, 4));
    }
}
