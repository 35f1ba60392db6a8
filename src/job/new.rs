//! The text of a job typed from nothing.

/// The five answers a new job is made from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answers {
    /// The building's name.
    pub name: String,
    /// What must survive.
    pub intent: String,
    /// Scale by name or ratio.
    pub scale: String,
    /// Straight length of the place, on the model; may be empty.
    pub space: String,
    /// Depth of the place, on the model; may be empty.
    pub depth: String,
}

/// A new job's text, with every table explained that a beginner needs first.
#[must_use]
pub fn text(answers: &Answers) -> String {
    let mut out = format!(
        "# A job: what is known of one building, and what was decided.\n\
         # Lengths are text with their unit: \"12 ft 6 1/2 in\", \"3.81 m\", \"20 thou\".\n\n\
         [job]\nname = {}\nintent = {}\nscale = {}\n",
        quoted(&answers.name),
        quoted(&answers.intent),
        quoted(&answers.scale),
    );
    let place = [("length", &answers.space), ("depth", &answers.depth)];
    if place.iter().any(|(_, text)| !text.trim().is_empty()) {
        out.push_str("\n# The place on the layout, in model lengths.\n[space]\n");
        for (key, text) in place.iter().filter(|(_, text)| !text.trim().is_empty()) {
            out.push_str(&format!("{key} = {}\n", quoted(text)));
        }
    }
    out.push_str(GUIDE);
    out
}

fn quoted(text: &str) -> String {
    toml_edit::Value::from(text.trim()).to_string()
}

const GUIDE: &str = r#"
# Where the evidence comes from.
[[source]]
id = "book"
kind = "field book"
title = "My own readings"

# What is to be found ...
[[dimension]]
name = "length"
what = "length of the front"

# ... and what was read. `of` is a dimension, or a sum such as "right - left".
#[[reading]]
#id = "R1"
#of = "length"
#method = "tape"
#value = "48 ft 0 1/2 in"
#source = "book"

# The building, once its sizes are known. A size is a length, a dimension, or
# { take = "48 ft", measured = "length" }.
#[building]
#front = "front"
#depth = "30 ft"
#eave = "12 ft"
#
#[roof]
#kind = "gable"
#pitch = "6:12"
#
#[[opening]]
#name = "door"
#what = "door"
#width = "3 ft"
#height = "7 ft"
#trim = "4 in"
#
#[[cladding]]
#name = "boards"
#kind = "board-and-batten"
#unit = "12 in"
#batten = "3 in"
#
#[[face]]
#name = "front"
#cladding = ["boards"]
#row = [
#    { corner = "left", width = "6 in" },
#    { plain = "wall", width = "20 ft" },
#    { opening = "D", kind = "door" },
#    { plain = "wall-2", width = "24 ft" },
#    { corner = "right", width = "6 in" },
#]
"#;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;

    #[test]
    fn five_answers_make_a_job_even_with_quotes_in_them() {
        let answers = Answers {
            name: "The \"old\" mill\nby the weir".to_owned(),
            intent: "the wheel".to_owned(),
            scale: "1:48".to_owned(),
            space: "12 in".to_owned(),
            depth: String::new(),
        };
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let job = crate::job::read::read("new", &text(&answers), &catalog)
            .unwrap_or_else(|error| panic!("{error}"));
        assert!(job.about.name.contains("\"old\""));
        assert!(job.space.is_some_and(|space| space.depth.is_none()));
    }

    #[test]
    fn the_guide_is_a_building_once_its_marks_are_taken_away() {
        let plain: String = text(&Answers { scale: "1:48".into(), ..Answers::default() })
            .lines()
            .map(|line| {
                line.strip_prefix('#').filter(|rest| !rest.starts_with(' ')).unwrap_or(line)
            })
            .map(|line| format!("{line}\n"))
            .collect();
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let job = crate::job::read::read("guide", &plain, &catalog)
            .unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(job.faces.len(), 1);
        assert_eq!(job.readings.len(), 1);
    }
}
