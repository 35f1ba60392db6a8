//! A picture with its marks.

pub use crate::job::photo::Origin;
use crate::quantity::{Notation, PrototypeLength};

/// What the origin of a picture leaves open: common practice, no source.
impl Origin {
    /// Standard uncertainty of the optical axis, as a part of the width.
    #[must_use]
    pub fn axis_spread(self) -> f64 {
        match self {
            Self::Camera => 0.02,
            Self::Unknown | Self::Print => 0.10,
            Self::Part => 0.25,
        }
    }

    /// Standard uncertainty of the stretch in height: prints and their copies
    /// are out by one to three percent.
    #[must_use]
    pub fn stretch_spread(self) -> f64 {
        match self {
            Self::Camera | Self::Part => 0.0,
            Self::Unknown => 0.015,
            Self::Print => 0.02,
        }
    }
}

/// A focal length known beforehand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Focal {
    /// In pixels.
    pub pixels: f64,
    /// Relative standard uncertainty; 0.03 to 0.05 for one from a file's data.
    pub relative: f64,
}

/// A mark on the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Its name.
    pub id: String,
    /// Pixels; the centre of the top left pixel is (0, 0).
    pub at: [f64; 2],
    /// Index of its plane; nothing for the wall itself.
    pub plane: Option<usize>,
    /// Its own standard uncertainty in pixels, where it is not that of a click.
    pub sigma: Option<f64>,
}

impl Mark {
    /// A mark made by hand on the wall itself.
    #[must_use]
    pub fn new(id: &str, at: [f64; 2]) -> Self {
        Self { id: id.to_owned(), at, plane: None, sigma: None }
    }
}

/// A plane parallel to the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Distance in front of the wall; negative behind it.
    pub ahead: f64,
    /// Its standard uncertainty; zero for exact.
    pub sigma: f64,
}

/// A rectangle of the wall with level and plumb sides.
#[derive(Clone, Debug, PartialEq)]
pub struct Rect {
    /// Its name.
    pub id: String,
    /// Indices of its marks: top left, top right, bottom right, bottom left.
    pub corners: [usize; 4],
}

/// A wall at right angles to the first one of the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct SideWall {
    /// Index of the mark on the corner, which lies on both walls.
    pub corner: usize,
    /// Indices of its marks, that of the corner among them.
    pub marks: Vec<usize>,
}

/// A mark that lies as deep behind the wall as others on a side wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Deep {
    /// Index of the mark.
    pub mark: usize,
    /// As deep as this one, or midway between these two.
    pub as_deep: (usize, Option<usize>),
}

/// A distance to be known, compared or asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Span {
    /// Width of a rectangle, by index.
    Width(usize),
    /// Height of a rectangle, by index.
    Height(usize),
    /// From mark to mark along the level.
    Level(usize, usize),
    /// From mark to mark along the plumb.
    Plumb(usize, usize),
    /// From mark to mark in a straight line, both in one plane.
    Straight(usize, usize),
}

/// A known length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// What it is the length of.
    pub span: Span,
    /// The length.
    pub value: f64,
    /// Its standard uncertainty.
    pub sigma: f64,
}

/// Two lengths in a known ratio: `a = ratio * b`. Equal windows have ratio 1;
/// counted courses the ratio of the counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alike {
    /// One length.
    pub a: Span,
    /// The other.
    pub b: Span,
    /// `a` divided by `b`.
    pub ratio: f64,
    /// Relative standard uncertainty.
    pub sigma: f64,
}

/// A picture with its marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    /// Name of the picture.
    pub id: String,
    /// Width and height in pixels.
    pub size: [u32; 2],
    /// Where it comes from.
    pub origin: Origin,
    /// Of a part cut out of a picture: left, top, width and height of the frame
    /// in which the whole stood, in pixels of the part; left and top are where
    /// the part begins.
    pub frame: Option<[f64; 4]>,
    /// A focal length known beforehand.
    pub focal: Option<Focal>,
    /// Whether radial distortion is looked for.
    pub distortion: bool,
    /// Standard uncertainty of a mark in pixels.
    pub click: f64,
    /// Least uncertainty of a mark: walls are not planes.
    pub floor: f64,
    /// The marks.
    pub marks: Vec<Mark>,
    /// Parallel planes.
    pub planes: Vec<Plane>,
    /// Rectangles.
    pub rects: Vec<Rect>,
    /// Walls at right angles to the first.
    pub sides: Vec<SideWall>,
    /// Marks behind the wall, or before it.
    pub deep: Vec<Deep>,
    /// Groups of marks at one level.
    pub level: Vec<Vec<usize>>,
    /// Groups of marks on one plumb line.
    pub plumb: Vec<Vec<usize>>,
    /// Known lengths.
    pub known: Vec<Known>,
    /// Lengths alike.
    pub alike: Vec<Alike>,
    /// Lengths asked for beside the rectangles' own.
    pub asked: Vec<Span>,
    /// How lengths are written in sentences: as metres in this notation; as
    /// plain numbers where the unit is not known.
    pub notation: Option<Notation>,
}

/// Least uncertainty of a mark in pixels where nothing else is said.
pub const FLOOR: f64 = 0.7;

impl Marked {
    /// A picture without marks, its clicks good to 1 px.
    #[must_use]
    pub fn bare(id: &str, size: [u32; 2]) -> Self {
        Self {
            id: id.to_owned(),
            size,
            origin: Origin::Camera,
            frame: None,
            focal: None,
            distortion: true,
            click: 1.0,
            floor: FLOOR,
            marks: vec![],
            planes: vec![],
            rects: vec![],
            sides: vec![],
            deep: vec![],
            level: vec![],
            plumb: vec![],
            known: vec![],
            alike: vec![],
            asked: vec![],
            notation: None,
        }
    }

    /// A length in a sentence.
    #[must_use]
    pub fn show(&self, length: f64) -> String {
        match &self.notation {
            Some(notation) => notation.show(&PrototypeLength::metres(length)),
            None => format!("{length:.3}"),
        }
    }

    /// Standard uncertainty of a mark: the click, but never under the floor.
    #[must_use]
    pub fn sigma(&self) -> f64 {
        self.click.max(self.floor)
    }

    /// Standard uncertainty of one mark, by index: its own or that of a click,
    /// but never under the floor.
    #[must_use]
    pub fn sigma_of(&self, mark: usize) -> f64 {
        self.marks[mark].sigma.map_or(self.sigma(), |own| own.max(self.floor))
    }

    /// The mark of that name.
    #[must_use]
    pub fn mark(&self, id: &str) -> Option<usize> {
        self.marks.iter().position(|mark| mark.id == id)
    }

    /// The rectangle of that name.
    #[must_use]
    pub fn rect(&self, id: &str) -> Option<usize> {
        self.rects.iter().position(|rect| rect.id == id)
    }

    /// The mark of that name, or what to say when there is none.
    ///
    /// # Errors
    /// When there is none.
    pub fn find(&self, id: &str) -> Result<usize, String> {
        self.mark(id).ok_or_else(|| format!("there is no mark \"{id}\""))
    }

    /// The span a text means: `rect:width`, `rect:height`, or `mark..mark`
    /// with `:level` or `:plumb`.
    ///
    /// # Errors
    /// When it means none.
    pub fn span(&self, text: &str) -> Result<Span, String> {
        let (what, way) = text.split_once(':').unwrap_or((text, ""));
        if let Some((a, b)) = what.split_once("..") {
            let (a, b) = (self.find(a)?, self.find(b)?);
            return match way {
                "" => Ok(Span::Straight(a, b)),
                "level" => Ok(Span::Level(a, b)),
                "plumb" => Ok(Span::Plumb(a, b)),
                _ => Err(format!("\"{way}\" is no way to measure: level or plumb")),
            };
        }
        let rect =
            self.rect(what).ok_or_else(|| format!("the rectangle \"{what}\" is not in use"))?;
        match way {
            "width" => Ok(Span::Width(rect)),
            "height" => Ok(Span::Height(rect)),
            _ => Err(format!("\"{text}\" is no length")),
        }
    }

    /// The two marks a span runs between (for a rectangle its top or left side).
    #[must_use]
    pub fn ends(&self, span: Span) -> [usize; 2] {
        match span {
            Span::Width(r) => [self.rects[r].corners[0], self.rects[r].corners[1]],
            Span::Height(r) => [self.rects[r].corners[3], self.rects[r].corners[0]],
            Span::Level(a, b) | Span::Plumb(a, b) | Span::Straight(a, b) => [a, b],
        }
    }

    /// The side wall a mark lies on, by index; nothing for the first wall and
    /// for corners, which lie on both.
    #[must_use]
    pub fn side_of(&self, mark: usize) -> Option<usize> {
        let on = |side: &SideWall| side.corner != mark && side.marks.contains(&mark);
        self.sides.iter().position(on)
    }

    /// Whether a mark has a depth of its own.
    #[must_use]
    pub fn is_deep(&self, mark: usize) -> bool {
        self.deep.iter().any(|deep| deep.mark == mark)
    }

    /// Which wall a span lies along: the first (nothing) or a side wall.
    ///
    /// # Errors
    /// When its ends lie on two walls, between which only heights are measured.
    pub fn wall_of(&self, span: Span) -> Result<Option<usize>, String> {
        let [a, b] = self.ends(span);
        let corner = |mark: usize| self.sides.iter().any(|side| side.corner == mark);
        let (on_a, on_b) = (self.side_of(a), self.side_of(b));
        let one = on_a == on_b || corner(a) || corner(b);
        let level = self.is_deep(a) == self.is_deep(b);
        match span {
            Span::Plumb(..) | Span::Height(_) => Ok(None),
            Span::Level(..) if one => Ok(on_a.or(on_b)),
            _ if one && level => Ok(on_a.or(on_b)),
            _ => Err(format!("{} runs from wall to wall: ask for its :plumb", self.name(span))),
        }
    }

    /// The marks a span rests on.
    #[must_use]
    pub fn rests_on(&self, span: Span) -> Vec<usize> {
        match span {
            Span::Width(r) | Span::Height(r) => self.rects[r].corners.to_vec(),
            _ => self.ends(span).to_vec(),
        }
    }

    /// Every length wanted, each once: both sides of each rectangle, then those
    /// asked for.
    #[must_use]
    pub fn spans(&self) -> Vec<Span> {
        let sides = (0..self.rects.len()).flat_map(|r| [Span::Width(r), Span::Height(r)]);
        let mut spans: Vec<Span> = sides.collect();
        for &span in &self.asked {
            if !spans.contains(&span) {
                spans.push(span);
            }
        }
        spans
    }

    /// What a span is called.
    #[must_use]
    pub fn name(&self, span: Span) -> String {
        let [a, b] = self.ends(span).map(|mark| self.marks[mark].id.as_str());
        match span {
            Span::Width(r) => format!("{}:width", self.rects[r].id),
            Span::Height(r) => format!("{}:height", self.rects[r].id),
            Span::Level(..) => format!("{a}..{b}:level"),
            Span::Plumb(..) => format!("{a}..{b}:plumb"),
            Span::Straight(..) => format!("{a}..{b}"),
        }
    }
}
