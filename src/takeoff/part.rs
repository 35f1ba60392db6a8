//! Parts, and their labels: face, kind, number.

use std::sync::Arc;

use crate::building::{Origin, Outline, Point, Sized, Why, no_area};
use crate::finding::Subject;
use crate::quantity::{Angle, Area, Compressed, CompressedLength, ModelLength, Scale};

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Core wall.
    Core,
    /// Floor.
    Floor,
    /// Roof plane.
    Roof,
    /// Strip behind a splice.
    Doubler,
    /// Strip inside a wall, across its grain.
    Bracing,
    /// Block in an inside corner.
    CornerBlock,
    /// Post that two walls stop at.
    CornerPost,
    /// Strip inside a wall that a roof is kept by.
    Ledger,
    /// Side of the box under a roof that lifts off.
    BoxSide,
    /// End of that box.
    BoxEnd,
    /// Plate that everything stands on.
    Base,
    /// Sheet scribed into boards.
    Scribed,
    /// Vertical board.
    Board,
    /// Strip over a joint.
    Batten,
    /// Length of clapboard.
    Clapboard,
    /// Corrugated sheet.
    Iron,
    /// Sheet of brick courses.
    Brick,
    /// Strip of shingles.
    Shingle,
    /// Trim round an opening.
    Casing,
    /// Sill under a window.
    Sill,
    /// Trim at a corner.
    CornerBoard,
    /// Board under the eave.
    Frieze,
    /// Board at the foot of the wall.
    WaterTable,
    /// Board on the rafter ends or along the rake.
    Fascia,
    /// Rafter, or what is seen of one.
    Rafter,
    /// Rafter tail under an eave.
    Tail,
    /// Member of the frame.
    Member,
    /// Plank of a deck.
    Plank,
    /// Timber under planks, or side of a stair.
    Stringer,
    /// Tread of a stair.
    Tread,
    /// Face of a retaining wall.
    Face,
    /// Board of a door leaf.
    LeafBoard,
    /// Ledge of a door leaf.
    LeafLedge,
    /// Brace of a door leaf.
    LeafBrace,
    /// Bought casting.
    Casting,
}

impl Kind {
    /// The word used in labels and lists.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Core => "core",
            Self::Floor => "floor",
            Self::Roof => "roof",
            Self::Doubler => "doubler",
            Self::Bracing => "bracing",
            Self::CornerBlock => "corner-block",
            Self::CornerPost => "corner-post",
            Self::Ledger => "ledger",
            Self::BoxSide => "box-side",
            Self::BoxEnd => "box-end",
            Self::Base => "base",
            Self::Scribed => "scribed",
            Self::Board => "board",
            Self::Batten => "batten",
            Self::Clapboard => "clapboard",
            Self::Iron => "iron",
            Self::Brick => "brick",
            Self::Shingle => "shingle",
            Self::Casing => "casing",
            Self::Sill => "sill",
            Self::CornerBoard => "corner-board",
            Self::Frieze => "frieze",
            Self::WaterTable => "water-table",
            Self::Fascia => "fascia",
            Self::Rafter => "rafter",
            Self::Tail => "tail",
            Self::Member => "member",
            Self::Plank => "plank",
            Self::Stringer => "stringer",
            Self::Tread => "tread",
            Self::Face => "face",
            Self::LeafBoard => "door-leaf-board",
            Self::LeafLedge => "door-leaf-ledge",
            Self::LeafBrace => "door-leaf-brace",
            Self::Casting => "casting",
        }
    }
}

/// What a part is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// A stick: only the length is cut.
    Stick,
    /// A sheet: both ways are cut; the length is along the grain.
    Sheet,
    /// A sheet whose grain does not matter.
    SheetAnyWay,
    /// Bought as it is.
    Bought,
}

/// Where one piece sits on its face, at full size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Left edge from the left corner.
    pub left: CompressedLength,
    /// Foot above the foot of the wall.
    pub foot: CompressedLength,
    /// Across.
    pub wide: CompressedLength,
    /// Upwards.
    pub high: CompressedLength,
}

/// One part, or several alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its label, which is found again on the part: `main/front/batten-2`.
    pub label: String,
    /// The face or group it belongs to.
    pub face: String,
    /// What it is.
    pub kind: Kind,
    /// How many are alike.
    pub count: u32,
    /// Length at full size, along the grain.
    pub length: CompressedLength,
    /// Width at full size.
    pub width: CompressedLength,
    /// Length to cut on the model.
    pub model_length: ModelLength,
    /// Width on the model.
    pub model_width: ModelLength,
    /// What it is cut from.
    pub form: Form,
    /// The key of its section in the stock.
    pub section: String,
    /// How its ends are cut from square, where they are not square.
    pub ends: Option<Angle>,
    /// Wall or roof area that one covers at full size; zero for what lies over
    /// other parts.
    pub covers: Area<Compressed>,
    /// What must be known to make it.
    pub note: String,
    /// Why it is as long and as wide as it is.
    pub why: [Arc<Origin>; 2],
    /// Where each sits.
    pub places: Vec<Place>,
    /// Which way its length runs as it stands on its face.
    pub runs: Runs,
    /// Its shape where it is no rectangle; see [`Part::outline`].
    pub shape: Option<Outline<Compressed>>,
    /// Lines scribed on its face, in the frame of its outline.
    pub scribed: Vec<[Point<Compressed>; 2]>,
}

/// Which way the length of a part runs as it stands on its face; its grain
/// runs the same way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Runs {
    /// Up the face.
    #[default]
    Up,
    /// Across the face.
    Across,
}

impl Part {
    /// What a row about it speaks of.
    #[must_use]
    pub fn subject(&self) -> Subject {
        Subject::Part(self.label.clone())
    }

    /// Whether its label is that word and a number.
    fn is_called(&self, word: &str) -> bool {
        let name = self.label.rsplit('/').next().unwrap_or(&self.label);
        name.rsplit_once('-').is_some_and(|(called, _)| called == word)
    }

    /// Its shape as it stands on its face, at full size, its lower left corner
    /// at zero.
    #[must_use]
    pub fn outline(&self) -> Outline<Compressed> {
        let (wide, high) = match self.runs {
            Runs::Up => (self.width, self.length),
            Runs::Across => (self.length, self.width),
        };
        self.shape.clone().unwrap_or_else(|| Outline::rectangle(wide, high))
    }

    /// All of them, end to end, at full size.
    #[must_use]
    pub fn total(&self) -> CompressedLength {
        self.length * f64::from(self.count)
    }
}

/// A piece before pieces alike are counted together.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) kind: Kind,
    pub(super) length: Sized<Compressed>,
    pub(super) width: Sized<Compressed>,
    /// What it is called instead of its kind: a member by its name.
    pub(super) called: Option<String>,
    pub(super) form: Form,
    pub(super) section: String,
    pub(super) ends: Option<Angle>,
    pub(super) covers: Area<Compressed>,
    pub(super) note: String,
    pub(super) place: Option<Place>,
    pub(super) count: u32,
    pub(super) runs: Runs,
    pub(super) shape: Option<Outline<Compressed>>,
    pub(super) scribed: Vec<[Point<Compressed>; 2]>,
}

impl Piece {
    /// A stick of one length.
    pub(super) fn stick(kind: Kind, length: Sized<Compressed>, width: Sized<Compressed>) -> Self {
        Self {
            kind,
            length,
            width,
            called: None,
            form: Form::Stick,
            section: String::new(),
            ends: None,
            covers: no_area(),
            note: String::new(),
            place: None,
            count: 1,
            runs: Runs::Up,
            shape: None,
            scribed: Vec::new(),
        }
    }

    /// A flat part: the length is along the grain.
    pub(super) fn sheet(kind: Kind, length: Sized<Compressed>, width: Sized<Compressed>) -> Self {
        let covers = length.length * width.length;
        Self { form: Form::Sheet, covers, ..Self::stick(kind, length, width) }
    }

    pub(super) fn of(mut self, section: impl Into<String>) -> Self {
        self.section = section.into();
        self
    }

    pub(super) fn called(mut self, name: impl Into<String>) -> Self {
        self.called = Some(name.into());
        self
    }

    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.note = note.into();
        self
    }

    pub(super) fn times(mut self, count: u32) -> Self {
        self.count = count;
        self
    }

    pub(super) fn ends(mut self, angle: Angle) -> Self {
        self.ends = Some(angle);
        self
    }

    pub(super) fn at(mut self, left: CompressedLength, foot: CompressedLength) -> Self {
        let (wide, high) = (self.width.length, self.length.length);
        self.place = Some(Place { left, foot, wide, high });
        self
    }

    /// The same piece of a shape; a rectangle needs none.
    pub(super) fn shaped(mut self, shape: &Outline<Compressed>) -> Self {
        self.shape = (!shape.is_rectangle()).then(|| shape.at_origin());
        self
    }

    /// The same piece, not placed, with its length across.
    pub(super) fn lying(mut self) -> Self {
        self.runs = Runs::Across;
        self
    }

    /// A piece that lies level: its length runs across the face.
    pub(super) fn level_at(mut self, left: CompressedLength, foot: CompressedLength) -> Self {
        let (wide, high) = (self.length.length, self.width.length);
        self.runs = Runs::Across;
        self.place = Some(Place { left, foot, wide, high });
        self
    }
}

/// Sizes nearer than this are one size: a tenth of a thou on the model.
const ALIKE_THOU: f64 = 0.1;

/// Counts pieces alike together and labels them: the longest of a kind is
/// number 1.
pub(super) fn number(face: &str, pieces: Vec<Piece>, scale: &Scale) -> Vec<Part> {
    let alike: CompressedLength = scale.enlarge(ModelLength::thou(ALIKE_THOU));
    let mut pieces = pieces;
    pieces.sort_by(|a, b| {
        (a.kind, &a.called, &a.section)
            .cmp(&(b.kind, &b.called, &b.section))
            .then_with(|| b.length.length.total_cmp(&a.length.length))
            .then_with(|| b.width.length.total_cmp(&a.width.length))
    });
    let mut parts: Vec<Part> = Vec::new();
    let mut numbers: std::collections::BTreeMap<String, u32> = std::collections::BTreeMap::new();
    for piece in pieces {
        // Sorted by length, so that only the last few can be alike.
        let same = parts.iter_mut().rev().take(8).find(|part| is_like(part, &piece, alike));
        if let Some(part) = same {
            part.count += piece.count;
            part.places.extend(piece.place);
            continue;
        }
        let word = piece.called.clone().unwrap_or_else(|| piece.kind.word().to_owned());
        let number = numbers.entry(word.clone()).or_insert(0);
        *number += 1;
        let label = format!("{face}/{word}-{number}");
        parts.push(part(face, label, piece, scale));
    }
    for part in &mut parts {
        part.places.sort_by(|a, b| a.left.total_cmp(&b.left).then(a.foot.total_cmp(&b.foot)));
    }
    parts
}

fn is_like(part: &Part, piece: &Piece, alike: CompressedLength) -> bool {
    part.kind == piece.kind
        && piece.called.as_ref().is_none_or(|word| part.is_called(word))
        && part.section == piece.section
        && part.form == piece.form
        && part.length.agrees(piece.length.length, alike)
        && part.width.agrees(piece.width.length, alike)
        && part.note == piece.note
        && part.ends == piece.ends
        && part.runs == piece.runs
        && same_lines(&part.scribed, &piece.scribed, alike)
        && same_shape(part.shape.as_ref(), piece.shape.as_ref(), alike)
        && (part.covers.in_square_inches() - piece.covers.in_square_inches()).abs() < 0.5
}

fn same_lines(
    a: &[[Point<Compressed>; 2]],
    b: &[[Point<Compressed>; 2]],
    alike: CompressedLength,
) -> bool {
    let near = |a: &Point<Compressed>, b: &Point<Compressed>| {
        a.x.agrees(b.x, alike) && a.y.agrees(b.y, alike)
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| near(&a[0], &b[0]) && near(&a[1], &b[1]))
}

fn same_shape(
    a: Option<&Outline<Compressed>>,
    b: Option<&Outline<Compressed>>,
    alike: CompressedLength,
) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => a.agrees(b, alike),
        (None, None) => true,
        _ => false,
    }
}

fn part(face: &str, label: String, piece: Piece, scale: &Scale) -> Part {
    let (length, width) = (piece.length.length, piece.width.length);
    Part {
        label,
        face: face.to_owned(),
        kind: piece.kind,
        count: piece.count,
        length,
        width,
        model_length: scale.reduce(length),
        model_width: scale.reduce(width),
        form: piece.form,
        section: piece.section,
        ends: piece.ends,
        covers: piece.covers,
        note: piece.note,
        why: [piece.length.origin, piece.width.origin],
        places: piece.place.into_iter().collect(),
        runs: piece.runs,
        shape: piece.shape,
        scribed: piece.scribed,
    }
}

/// A width or other size that is as the stock or the job has it.
pub(super) fn stated(what: &str, length: CompressedLength, why: Why) -> Sized<Compressed> {
    Sized::of(Origin::plain(what, length.in_inches(), why))
}
