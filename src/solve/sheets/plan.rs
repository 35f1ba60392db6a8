//! What is answered: sheets with their parts, the cuts, what is left.

use serde::Serialize;

/// A rectangle on a sheet, in the sheet's own coordinates: `x` across the
/// grain from the left edge, `y` along the grain from the lower edge.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
pub struct Rect {
    /// Left edge.
    pub x: i64,
    /// Lower edge.
    pub y: i64,
    /// Size along `x`.
    pub width: i64,
    /// Size along `y`.
    pub height: i64,
}

impl Rect {
    /// A rectangle from its lower left corner and its size.
    #[must_use]
    pub const fn new(x: i64, y: i64, width: i64, height: i64) -> Self {
        Self { x, y, width, height }
    }

    /// Right edge.
    #[must_use]
    pub const fn right(&self) -> i64 {
        self.x + self.width
    }

    /// Upper edge.
    #[must_use]
    pub const fn top(&self) -> i64 {
        self.y + self.height
    }

    /// Area.
    #[must_use]
    pub const fn area(&self) -> i64 {
        self.width * self.height
    }

    /// Whether the two share more than an edge.
    #[must_use]
    pub const fn overlaps(&self, other: &Self) -> bool {
        self.x < other.right()
            && other.x < self.right()
            && self.y < other.top()
            && other.y < self.top()
    }

    /// Whether `other` lies inside.
    #[must_use]
    pub const fn holds(&self, other: &Self) -> bool {
        self.x <= other.x
            && self.y <= other.y
            && other.right() <= self.right()
            && other.top() <= self.top()
    }
}

/// One part laid on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Placed {
    /// Row of the part in the problem.
    pub part: usize,
    /// Left edge.
    pub x: i64,
    /// Lower edge.
    pub y: i64,
    /// Whether width and height are exchanged.
    pub turned: bool,
}

/// The axis along which a position is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Axis {
    /// Across the sheet; a cut at an `x` runs along the grain.
    X,
    /// Up the sheet; a cut at a `y` runs across the grain.
    Y,
}

impl Axis {
    /// The other axis.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }
}

/// One cut from edge to edge of a piece.
///
/// The piece falls into what lies below `at` and what lies above `at + gap`;
/// the gap itself is lost, and what lies above may be nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// The piece that is cut.
    pub piece: Rect,
    /// The axis along which `at` is measured.
    pub axis: Axis,
    /// Where the piece that is kept ends, in sheet coordinates.
    pub at: i64,
    /// The stage, from 1; 0 trims a margin.
    pub stage: u32,
}

/// One sheet of the plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetPlan {
    /// Row of the sheet in the problem.
    pub sheet: usize,
    /// What lies on it.
    pub placed: Vec<Placed>,
    /// Knife only: every cut in order.
    pub cuts: Vec<Cut>,
    /// The largest rectangle left over whole, gap and margins respected.
    pub offcut: Option<Rect>,
}

/// A plan, what it costs and what is known about the least cost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Solution {
    /// The sheets, the fullest first.
    pub sheets: Vec<SheetPlan>,
    /// Cost of the sheets.
    pub cost: i64,
    /// No plan that lays every part costs less.
    pub bound: i64,
    /// Every part is laid and no plan costs less.
    pub proven: bool,
    /// Parts that found no place on the sheets in supply: row and count.
    pub unplaced: Vec<(usize, u64)>,
}
