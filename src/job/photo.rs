//! Photographs and the marks made on them.
//!
//! Pixels: the centre of the top left pixel is (0, 0), x to the right, y down.

use std::path::{Component, Path};

use super::form::Form;
use super::grammar::{FOOT, Named, Text, choice, eg, keys, must, table};
use super::said::Said;
use crate::quantity::Prototype;

/// No picture is wider; marks may lie a little beside it.
const PIXELS: f64 = 100_000.0;

keys! {
    /// One photograph with its marks: one wall of it. A second wall of the same
    /// picture is a second photograph with the same file.
    #[derive(Clone, Debug)]
    pub struct Photo [table("photo").scoped()] {
        /// Short name.
        "id": pub id: String = must("B1").names(Named::Photo),
        /// File beside the job, by relative path.
        "file": pub file: String = must("photos/gable.jpg").text(Text::File),
        /// The source it belongs to.
        "source": pub source: Option<String> = eg("gable-picture").of(Named::Source),
        /// What it shows.
        "title": pub title: String = eg("Gable end, nearly square-on"),
        /// Width and height in pixels, as the marks see it.
        "pixels": pub pixels: Option<[u32; 2]> = eg("[1600, 1200]").within(1.0, PIXELS).agrees("the picture"),
        /// What kind of picture it is; by `print`, `frame` and `focal` when absent.
        "origin": pub origin: Option<Origin> = eg("camera"),
        /// A scan of a print: short for `origin = "print"`.
        "print": pub print: bool = eg("true"),
        /// Of a part cut out of a picture: where it began in the whole (left, top)
        /// and how large the whole was (width, height), in pixels of the part.
        "frame": pub frame: Option<[f64; 4]> = eg("[400, 0, 1600, 1200]").within(0.0, 1e6)
            .agrees("the pixels: the part lies in the whole"),
        /// Whether the lens may bend straight lines; looked for when absent.
        "distortion": pub distortion: Option<bool> = eg("false"),
        /// Focal length in pixels, if known.
        "focal": pub focal: Option<f64> = eg("1850.0").within(1.0, 1e6),
        /// Standard uncertainty of a mark in pixels; 1 when absent.
        "click": pub click: Option<f64> = eg("1.5").within(0.01, 1000.0).unless("1", "judgement"),
        /// Where this wall meets that of another photograph of the same file, at
        /// right angles.
        "corner": pub corner: Option<PhotoCorner> = eg("{ of = \"B2\", at = \"wall_br\" }"),
        /// Rectangles of the wall.
        "rect": pub rects: Vec<PhotoRect> =
            eg("[{ id = \"door\", corners = [[10, 10], [90, 12], [88, 70], [9, 71]] }]"),
        /// Single marks.
        "mark": pub marks: Vec<PhotoMark> = eg("[{ id = \"ridge\", at = [795.7, 80.4] }]"),
        /// Planes parallel to the wall.
        "plane": pub planes: Vec<PhotoPlane> = eg("[{ id = \"posts\", ahead = \"6 ft 9 in\" }]"),
        /// Marks at one level, by name.
        "level": pub level: Vec<Vec<String>> = eg("[[\"eave_l\", \"eave_r\"]]").text(Text::Name)
            .agrees("the marks"),
        /// Marks on one plumb line, by name.
        "plumb": pub plumb: Vec<Vec<String>> = eg("[[\"wall_bl\", \"eave_l\"]]").text(Text::Name)
            .agrees("the marks"),
        /// Known lengths.
        "known": pub known: Vec<PhotoKnown> = eg("[{ of = \"door:width\", value = \"8 ft\", sigma = \"1 in\" }]"),
        /// Lengths in a known ratio.
        "alike": pub alike: Vec<PhotoAlike> = eg("[{ of = \"door:width\", to = \"win1:width\", ratio = 2.0 }]"),
        /// Lengths asked for.
        "ask": pub asks: Vec<PhotoAsk> = eg("[{ of = \"loft:width\" }]"),
    }

    /// A rectangle on the wall, level and plumb.
    #[derive(Clone, Debug)]
    pub struct PhotoRect [table("photo.rect")] {
        /// Short name; its corners are named after it: `door_tl`, `door_tr`,
        /// `door_br`, `door_bl`.
        "id": pub id: String = must("door").text(Text::Name),
        /// Top left, top right, bottom right, bottom left.
        "corners": pub corners: [[f64; 2]; 4] = must("[[10, 10], [90, 12], [88, 70], [9, 71]]").within(-PIXELS, PIXELS)
            .agrees("their order: round the rectangle"),
        /// The plane it lies in; the wall when absent.
        "plane": pub plane: Option<String> = eg("posts").of(Named::Plane).unless("the wall", "judgement"),
    }

    /// A mark.
    #[derive(Clone, Debug)]
    pub struct PhotoMark [table("photo.mark")] {
        /// Short name.
        "id": pub id: String = must("ridge").text(Text::Name),
        /// Its pixel.
        "at": pub at: [f64; 2] = must("[795.7, 80.4]").within(-PIXELS, PIXELS),
        /// The plane it lies in; the wall when absent.
        "plane": pub plane: Option<String> = eg("posts").of(Named::Plane).unless("the wall", "judgement"),
        /// As deep behind the wall as a mark of a wall at right angles to it,
        /// `end.eave`, or midway between two, `end.eave..end.far_eave`: a ridge.
        "deep": pub deep: Option<String> = eg("end.eave..end.far_eave").text(Text::Line)
            .agrees("the marks of the other wall"),
    }

    /// Where two walls meet.
    #[derive(Clone, Debug)]
    pub struct PhotoCorner [table("photo.corner")] {
        /// The photograph of the other wall: the same file.
        "of": pub of: String = must("B2").text(Text::Name).agrees("the photos: one of the same file"),
        /// The mark of this wall that lies on the corner.
        "at": pub at: String = must("wall_br").text(Text::Name).agrees("the marks"),
    }

    /// A plane parallel to the wall.
    #[derive(Clone, Debug)]
    pub struct PhotoPlane [table("photo.plane")] {
        /// Short name.
        "id": pub id: String = must("posts").names(Named::Plane),
        /// Distance in front of the wall; negative behind it.
        "ahead": pub ahead: Said<Prototype> = must("6 ft 9 in").within(-1000.0 * FOOT, 1000.0 * FOOT),
        /// Its standard uncertainty; exact when absent.
        "sigma": pub sigma: Option<Said<Prototype>> = eg("2 in").within(0.0, 100.0 * FOOT),
    }

    /// A known length.
    #[derive(Clone, Debug)]
    pub struct PhotoKnown [table("photo.known")] {
        /// `rect:width`, `rect:height`, or `mark..mark` with `:level` or `:plumb`.
        "of": pub of: String = must("door:width").text(Text::Line).agrees("the marks"),
        /// Its length.
        "value": pub value: Said<Prototype> = must("8 ft").upto(5000.0 * FOOT),
        /// Its standard uncertainty.
        "sigma": pub sigma: Said<Prototype> = must("1 in").within(0.0, 500.0 * FOOT),
    }

    /// Two lengths in a known ratio.
    #[derive(Clone, Debug)]
    pub struct PhotoAlike [table("photo.alike")] {
        /// One length.
        "of": pub of: String = must("door:width").text(Text::Line).agrees("the marks"),
        /// The other.
        "to": pub to: String = must("win1:width").text(Text::Line).agrees("the marks"),
        /// The first divided by the second; 1 when absent.
        "ratio": pub ratio: Option<f64> = eg("2.0").within(1e-4, 1e4).unless("1", "judgement"),
        /// Relative standard uncertainty in percent; 0.5 when absent.
        "percent": pub percent: Option<f64> = eg("0.5").within(0.0, 100.0).unless("0.5", "judgement"),
    }

    /// A length asked for.
    #[derive(Clone, Debug)]
    pub struct PhotoAsk [table("photo.ask")] {
        /// What: as in a known length.
        "of": pub of: String = must("loft:width").text(Text::Line).agrees("the marks"),
        /// The dimension or form it is a reading of; only shown when absent.
        "reads": pub reads: Option<Form> = eg("d3_right - d3_left"),
        /// Switched off as a reading.
        "off": pub off: bool = eg("true"),
        /// Why it is switched off.
        "off-reason": pub off_reason: String = eg("blurred"),
    }
}

choice! {
    /// What kind of picture it is: says what of the camera is known beforehand.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Origin {
        /// A camera's own file, whole.
        Camera = "camera",
        /// A scan of a print: cut, and stretched a little.
        Print = "print",
        /// A part cut out of a camera's file.
        Part = "part",
        /// Not known: it may be any of them.
        Unknown = "unknown",
    }
}

impl Origin {
    /// The origin of that word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::from_word(word)
    }
}

impl Photo {
    /// What kind of picture it is: as said; else a camera's file where a focal
    /// length is given, which no print has; else it is not known.
    #[must_use]
    pub fn origin(&self) -> Origin {
        let guessed = match (self.print, self.frame, self.focal) {
            (true, _, _) => Origin::Print,
            (false, Some(_), _) => Origin::Part,
            (false, None, Some(_)) => Origin::Camera,
            (false, None, None) => Origin::Unknown,
        };
        self.origin.unwrap_or(guessed)
    }

    /// Whether there is enough on it to be measured: rectangles, or level and
    /// plumb edges with a known length.
    #[must_use]
    pub fn has_marks(&self) -> bool {
        let edges = !self.level.is_empty() && !self.plumb.is_empty() && !self.known.is_empty();
        !self.rects.is_empty() || edges
    }

    /// The id under which a length of this photograph is a reading.
    #[must_use]
    pub fn reading_id(&self, ask: &PhotoAsk) -> String {
        format!("{} {}", self.id, ask.of)
    }

    /// The lengths that are readings of the survey, each with its id.
    pub fn readings(&self) -> impl Iterator<Item = (String, &PhotoAsk)> {
        let reads = self.asks.iter().filter(|ask| ask.reads.is_some());
        reads.map(|ask| (self.reading_id(ask), ask))
    }
}

/// Whether a file, as a job writes it, lies outside the folder of the job.
#[must_use]
pub fn leaves_the_folder(file: &str) -> bool {
    let mut deep = 0_i32;
    Path::new(file).components().any(|part| {
        match part {
            Component::Prefix(_) | Component::RootDir => return true,
            Component::ParentDir => deep -= 1,
            Component::Normal(_) => deep += 1,
            Component::CurDir => {}
        }
        deep < 0
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_outside_the_folder_are_known_by_their_path() {
        for inside in ["a.jpg", "photos/a.jpg", "./a.jpg", "photos/../a.jpg"] {
            assert!(!leaves_the_folder(inside), "{inside}");
        }
        for outside in ["../a.jpg", "/etc/hosts", "photos/../../a.jpg"] {
            assert!(leaves_the_folder(outside), "{outside}");
        }
    }
}
