//! Photographs and the marks made on them.
//!
//! Pixels: the centre of the top left pixel is (0, 0), x to the right, y down.

use std::path::{Component, Path};

use serde::Deserialize;

use super::form::Form;
use super::said::Said;
use crate::quantity::Prototype;

/// One photograph with its marks: one wall of it. A second wall of the same
/// picture is a second photograph with the same file.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Photo {
    /// Short name.
    pub id: String,
    /// File beside the job, by relative path.
    pub file: String,
    /// The source it belongs to.
    pub source: Option<String>,
    /// What it shows.
    #[serde(default)]
    pub title: String,
    /// Width and height in pixels, as the marks see it.
    pub pixels: Option<[u32; 2]>,
    /// What kind of picture it is; see [`Photo::origin`] where it is not said.
    pub origin: Option<Origin>,
    /// A scan of a print: short for `origin = "print"`.
    #[serde(default)]
    pub print: bool,
    /// Of a part cut out of a picture: where it began in the whole (left, top)
    /// and how large the whole was (width, height), in pixels of the part.
    pub frame: Option<[f64; 4]>,
    /// Whether the lens may bend straight lines; looked for when absent.
    pub distortion: Option<bool>,
    /// Focal length in pixels, if known.
    pub focal: Option<f64>,
    /// Standard uncertainty of a mark in pixels; 1 when absent.
    pub click: Option<f64>,
    /// Where this wall meets that of another photograph of the same file, at
    /// right angles.
    pub corner: Option<PhotoCorner>,
    /// Rectangles of the wall.
    #[serde(default, rename = "rect")]
    pub rects: Vec<PhotoRect>,
    /// Single marks.
    #[serde(default, rename = "mark")]
    pub marks: Vec<PhotoMark>,
    /// Planes parallel to the wall.
    #[serde(default, rename = "plane")]
    pub planes: Vec<PhotoPlane>,
    /// Marks at one level, by name.
    #[serde(default)]
    pub level: Vec<Vec<String>>,
    /// Marks on one plumb line, by name.
    #[serde(default)]
    pub plumb: Vec<Vec<String>>,
    /// Known lengths.
    #[serde(default, rename = "known")]
    pub known: Vec<PhotoKnown>,
    /// Lengths in a known ratio.
    #[serde(default, rename = "alike")]
    pub alike: Vec<PhotoAlike>,
    /// Lengths asked for.
    #[serde(default, rename = "ask")]
    pub asks: Vec<PhotoAsk>,
}

/// A rectangle on the wall, level and plumb.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoRect {
    /// Short name; its corners are named after it: `door_tl`, `door_tr`,
    /// `door_br`, `door_bl`.
    pub id: String,
    /// Top left, top right, bottom right, bottom left.
    pub corners: [[f64; 2]; 4],
    /// The plane it lies in; the wall when absent.
    pub plane: Option<String>,
}

/// A mark.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoMark {
    /// Short name.
    pub id: String,
    /// Its pixel.
    pub at: [f64; 2],
    /// The plane it lies in; the wall when absent.
    pub plane: Option<String>,
    /// As deep behind the wall as a mark of a wall at right angles to it,
    /// `end.eave`, or midway between two, `end.eave..end.far_eave`: a ridge.
    pub deep: Option<String>,
}

/// Where two walls meet.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoCorner {
    /// The photograph of the other wall: the same file.
    pub of: String,
    /// The mark of this wall that lies on the corner.
    pub at: String,
}

/// A plane parallel to the wall.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoPlane {
    /// Short name.
    pub id: String,
    /// Distance in front of the wall; negative behind it.
    pub ahead: Said<Prototype>,
    /// Its standard uncertainty; exact when absent.
    pub sigma: Option<Said<Prototype>>,
}

/// A known length.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoKnown {
    /// `rect:width`, `rect:height`, or `mark..mark` with `:level` or `:plumb`.
    pub of: String,
    /// Its length.
    pub value: Said<Prototype>,
    /// Its standard uncertainty.
    pub sigma: Said<Prototype>,
}

/// Two lengths in a known ratio.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoAlike {
    /// One length.
    pub of: String,
    /// The other.
    pub to: String,
    /// The first divided by the second; 1 when absent.
    pub ratio: Option<f64>,
    /// Relative standard uncertainty in percent; 0.5 when absent.
    pub percent: Option<f64>,
}

/// A length asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PhotoAsk {
    /// What: as in a known length.
    pub of: String,
    /// The dimension or form it is a reading of; only shown when absent.
    pub reads: Option<Form>,
    /// Switched off as a reading.
    #[serde(default)]
    pub off: bool,
    /// Why it is switched off.
    #[serde(default)]
    pub off_reason: String,
}

/// What kind of picture it is: says what of the camera is known beforehand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// A camera's own file, whole.
    Camera,
    /// A scan of a print: cut, and stretched a little.
    Print,
    /// A part cut out of a camera's file.
    Part,
    /// Not known: it may be any of them.
    Unknown,
}

impl Origin {
    /// All of them with their words in a job.
    pub const ALL: [(Self, &'static str); 4] = [
        (Self::Camera, "camera"),
        (Self::Print, "print"),
        (Self::Part, "part"),
        (Self::Unknown, "unknown"),
    ];

    /// Its word in a job.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(one, _)| *one == self).map_or("unknown", |(_, word)| word)
    }

    /// The origin of that word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, known)| *known == word).map(|(one, _)| *one)
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
