//! A marks file: points with their pixels, rectangles, straight lines.
//!
//! Only what a person could mark is taken. The camera, and places in the
//! plane, are not read; a size that stands in the file is used only where a
//! known length is asked for without a figure.

use serde::Deserialize;

use super::marked::{Known, Mark, Marked, Rect, Span};
use crate::finding::Stop;
use crate::solve::camera::homography::Homography;

#[derive(Deserialize)]
struct File {
    #[serde(default)]
    file: String,
    width: u32,
    height: u32,
    #[serde(default)]
    point: Vec<Point>,
    #[serde(default)]
    rect: Vec<Outline>,
    #[serde(default)]
    line: Vec<Line>,
}

#[derive(Deserialize)]
struct Point {
    id: String,
    px: [f64; 2],
}

#[derive(Deserialize)]
struct Outline {
    id: String,
    corners: [String; 4],
    width: Option<f64>,
    height: Option<f64>,
    #[serde(default = "yes")]
    clear: bool,
}

fn yes() -> bool {
    true
}

#[derive(Deserialize)]
struct Line {
    #[serde(alias = "ids")]
    points: Vec<String>,
}

/// What of a marks file is to be used.
#[derive(Clone, Debug, Default)]
pub struct Choice {
    /// Rectangles by name, or `name=tl/tr/br/bl`; all clear ones when empty.
    pub rects: Vec<String>,
    /// Known lengths: `rect:width`, `rect:height`, `mark..mark`, each with
    /// `=length` or `=length~sigma`.
    pub known: Vec<String>,
    /// Further lengths asked for: `mark..mark`.
    pub asked: Vec<String>,
    /// Whether every pair of used marks is asked for.
    pub pairs: bool,
    /// Whether the file's straight lines are used as level and plumb lines.
    pub lines: bool,
    /// Relative uncertainty of a known length that states none.
    pub known_sigma: f64,
}

/// Reads a marks file; options of the picture itself are set afterwards.
///
/// # Errors
/// When the text is no marks file, or something asked for is not in it.
pub fn read(text: &str, choice: &Choice) -> Result<Marked, Stop> {
    let file: File = toml::from_str(text).map_err(|error| {
        stop(
            error.message(),
            "a marks file has width, height, [[point]] with id and px, and [[rect]]",
        )
    })?;
    let mut marked = Marked::bare(&file.file, [file.width, file.height]);
    if file.width < 2 || file.height < 2 {
        return Err(stop("the picture has no size", "give width and height in pixels"));
    }
    for rect in wanted(&file, choice)? {
        add_rect(&file, &mut marked, rect)?;
    }
    if choice.lines {
        add_lines(&file, &mut marked)?;
    }
    for text in &choice.known {
        let known = known(&file, &mut marked, text, choice.known_sigma)?;
        marked.known.push(known);
    }
    for text in &choice.asked {
        let span = span(&file, &mut marked, text)?;
        marked.asked.push(span);
    }
    if choice.pairs {
        add_pairs(&mut marked);
    }
    Ok(marked)
}

fn stop(trouble: impl Into<String>, hint: &str) -> Stop {
    Stop::new("reading the marks", trouble, hint)
}

/// Names and corners of the rectangles to use.
fn wanted(file: &File, choice: &Choice) -> Result<Vec<(String, [String; 4])>, Stop> {
    if choice.rects.is_empty() {
        let clear = file.rect.iter().filter(|rect| rect.clear);
        return Ok(clear.map(|rect| (rect.id.clone(), rect.corners.clone())).collect());
    }
    choice.rects.iter().map(|text| one_wanted(file, text)).collect()
}

fn one_wanted(file: &File, text: &str) -> Result<(String, [String; 4]), Stop> {
    if let Some((name, corners)) = text.split_once('=') {
        let corners: Vec<String> = corners.split('/').map(str::to_owned).collect();
        let corners = <[String; 4]>::try_from(corners).map_err(|_| {
            stop(format!("\"{text}\" has not four corners"), "write name=tl/tr/br/bl")
        })?;
        return Ok((name.to_owned(), corners));
    }
    let found = file.rect.iter().find(|rect| rect.id == text);
    found.map(|rect| (rect.id.clone(), rect.corners.clone())).ok_or_else(|| {
        let names: Vec<&str> = file.rect.iter().map(|rect| rect.id.as_str()).collect();
        stop(
            format!("there is no rectangle \"{text}\""),
            &format!("the file has {}", names.join(", ")),
        )
    })
}

/// Index of a mark, taken over from the file when first used.
fn mark(file: &File, marked: &mut Marked, id: &str) -> Result<usize, Stop> {
    if let Some(index) = marked.mark(id) {
        return Ok(index);
    }
    let point = file
        .point
        .iter()
        .find(|point| point.id == id)
        .ok_or_else(|| stop(format!("there is no mark \"{id}\""), &there(file, marked)))?;
    if !point.px.iter().all(|p| p.is_finite()) {
        return Err(stop(format!("the mark \"{id}\" has no place"), "give px = [x, y]"));
    }
    marked.marks.push(Mark::new(id, point.px));
    Ok(marked.marks.len() - 1)
}

fn add_rect(
    file: &File,
    marked: &mut Marked,
    (id, names): (String, [String; 4]),
) -> Result<(), Stop> {
    let mut corners = [0; 4];
    for (corner, name) in corners.iter_mut().zip(&names) {
        *corner = mark(file, marked, name)?;
    }
    marked.rects.push(Rect { id, corners });
    Ok(())
}

/// A line is level or plumb as it lies in the first rectangle.
fn add_lines(file: &File, marked: &mut Marked) -> Result<(), Stop> {
    let Some(rect) = marked.rects.first() else { return Ok(()) };
    let corners = rect.corners.map(|k| marked.marks[k].at);
    let square = [[0.0, 1.0], [1.0, 1.0], [1.0, 0.0], [0.0, 0.0]];
    let Some(rectify) = Homography::fit(&corners, &square) else { return Ok(()) };
    for line in &file.line {
        let mut group = Vec::new();
        for id in &line.points {
            group.push(mark(file, marked, id)?);
        }
        let ends = group.first().zip(group.last());
        let Some((first, last)) = ends.map(|(&a, &b)| (marked.marks[a].at, marked.marks[b].at))
        else {
            continue;
        };
        if let Some((a, b)) = rectify.map(first).zip(rectify.map(last)) {
            let level = (b[0] - a[0]).abs() > (b[1] - a[1]).abs();
            if level { &mut marked.level } else { &mut marked.plumb }.push(group);
        }
    }
    Ok(())
}

/// The span a text means, its marks taken over from the file.
fn span(file: &File, marked: &mut Marked, text: &str) -> Result<Span, Stop> {
    if let Some((a, rest)) = text.split_once("..") {
        mark(file, marked, a)?;
        mark(file, marked, rest.split(':').next().unwrap_or(rest))?;
    }
    marked.span(text).map_err(|trouble| stop(trouble, &there(file, marked)))
}

/// What a length can be of here.
fn there(file: &File, marked: &Marked) -> String {
    let rects = marked.rects.iter().map(|rect| rect.id.as_str());
    let points = file.point.iter().map(|point| point.id.as_str());
    let few = |names: &mut dyn Iterator<Item = &str>| {
        let all: Vec<String> = names.map(str::to_owned).collect();
        match all.len() {
            0..=12 => all.join(", "),
            more => format!("{} and {} more", all[..10].join(", "), more - 10),
        }
    };
    format!(
        "write rect:width, rect:height or mark..mark; rectangles in use: {}; marks: {}",
        few(&mut rects.into_iter()),
        few(&mut points.into_iter())
    )
}

fn known(file: &File, marked: &mut Marked, text: &str, relative: f64) -> Result<Known, Stop> {
    let (what, figure) = text.split_once('=').map_or((text, None), |(a, b)| (a, Some(b)));
    let span = span(file, marked, what)?;
    let number = |text: &str| {
        text.trim().parse::<f64>().map_err(|_| {
            let unit = text.contains(char::is_alphabetic) || text.contains(['\'', '"']);
            let trouble = if unit {
                format!(
                    "\"{text}\" has a unit, and a marks file has one of its own for all lengths"
                )
            } else {
                format!("\"{text}\" is no number")
            };
            stop(trouble, "write the figure alone: rect:width=2.28 or rect:width=2.28~0.02")
        })
    };
    let (value, sigma) =
        match figure.map(|f| f.split_once('~').map_or((f, None), |(v, s)| (v, Some(s)))) {
            Some((value, sigma)) => (number(value)?, sigma.map(number).transpose()?),
            None => (from_file(file, what)?, None),
        };
    Ok(Known { span, value, sigma: sigma.unwrap_or(relative * value.abs()) })
}

fn from_file(file: &File, what: &str) -> Result<f64, Stop> {
    let (id, side) = what.split_once(':').unwrap_or((what, ""));
    let rect = file.rect.iter().find(|rect| rect.id == id);
    let size = rect.and_then(|rect| if side == "width" { rect.width } else { rect.height });
    size.ok_or_else(|| {
        stop(
            format!("the file does not say how long {what} is"),
            "write the length after an equals sign",
        )
    })
}

fn add_pairs(marked: &mut Marked) {
    for a in 0..marked.marks.len() {
        for b in a + 1..marked.marks.len() {
            marked.asked.push(Span::Straight(a, b));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WALL: &str = r#"
width = 1600
height = 1200
point = [
    { id = "a", px = [212.0, 118.0] }, { id = "b", px = [1430.0, 264.0] },
    { id = "c", px = [1418.0, 742.0] }, { id = "d", px = [198.0, 880.0] },
]
[[rect]]
id = "wall"
corners = ["a", "b", "c", "d"]
"#;

    fn refusal(known: &str) -> String {
        let choice = Choice { known: vec![known.to_owned()], ..Choice::default() };
        read(WALL, &choice).expect_err(known).told()
    }

    #[test]
    fn a_length_that_cannot_be_read_is_refused_with_what_there_is() {
        let unit = refusal("wall:width=24 ft");
        assert!(unit.contains("has a unit") && unit.contains("rect:width=2.28"), "{unit}");
        for stranger in ["barn:width=24", "a..q=24"] {
            let told = refusal(stranger);
            assert!(told.contains("rectangles in use: wall"), "{told}");
            assert!(told.contains("marks: a, b, c, d"), "{told}");
        }
        assert!(refusal("wall:width=wide").contains("has a unit"));
        assert!(refusal("wall:width=").contains("is no number"));
    }
}
