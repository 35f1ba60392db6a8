//! What is observed: marks on the picture, lengths on the wall, and what is
//! known of the camera beforehand.

/// A value expected beforehand with its standard uncertainty. An uncertainty
/// of zero fixes the parameter: it is removed from the adjustment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// The expected value.
    pub value: f64,
    /// Its standard uncertainty, zero to fix it.
    pub sigma: f64,
}

/// What is known of the camera before the marks are looked at. Pixels: the
/// centre of the top left pixel is (0, 0), x to the right, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Picture width in pixels; the unit of the inner scaling.
    pub width: f64,
    /// Where the optical axis meets the picture, in pixels.
    pub principal: [Prior; 2],
    /// Natural logarithm of the focal length in pixels.
    pub ln_focal: Prior,
    /// The radial term k1: distorted = x (1 + k1 r^2), x in focal lengths.
    pub radial: Prior,
    /// Natural logarithm of how much the picture is stretched in height: copies
    /// of prints often are by one to three percent.
    pub aspect: Prior,
}

/// One mark on the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// Where it was seen, in pixels.
    pub pixel: [f64; 2],
    /// Standard uncertainty of each pixel coordinate.
    pub sigma: f64,
    /// Index of its coordinate to the right along the wall. Plumb marks share it.
    pub x: usize,
    /// Index of its coordinate up the wall. Level marks share it.
    pub y: usize,
    /// Index of its parallel plane in [`Network::setbacks`]; nothing for the wall.
    pub plane: Option<usize>,
    /// Index of its coordinate toward the viewer, where the mark lies on a wall
    /// at right angles or at a depth of its own; then it has no plane.
    pub z: Option<usize>,
}

/// A distance on the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// Along one axis, from one coordinate to another; signed.
    Along {
        /// Index of the coordinate counted from.
        from: usize,
        /// Index of the coordinate counted to.
        to: usize,
    },
    /// In a straight line between two places of one plane.
    Straight {
        /// Indices of the x and y coordinate of one end.
        from: [usize; 2],
        /// Indices of the x and y coordinate of the other.
        to: [usize; 2],
    },
}

impl Measure {
    /// The same distance counted the other way.
    #[must_use]
    pub fn reversed(self) -> Self {
        match self {
            Self::Along { from, to } => Self::Along { from: to, to: from },
            Self::Straight { from, to } => Self::Straight { from: to, to: from },
        }
    }

    /// The distance, in the unit of the coordinates.
    #[must_use]
    pub fn of(self, coordinates: &[f64]) -> f64 {
        match self {
            Self::Along { from, to } => coordinates[to] - coordinates[from],
            Self::Straight { from, to } => {
                let [dx, dy] = [0, 1].map(|k| coordinates[to[k]] - coordinates[from[k]]);
                dx.hypot(dy)
            }
        }
    }

    /// Its derivatives: coordinate index and slope. A straight line of no
    /// length has none.
    #[must_use]
    pub fn slopes(self, coordinates: &[f64]) -> [(usize, f64); 4] {
        match self {
            Self::Along { from, to } => [(from, -1.0), (to, 1.0), (from, 0.0), (to, 0.0)],
            Self::Straight { from, to } => {
                let length = self.of(coordinates).max(f64::MIN_POSITIVE);
                let unit = [0, 1].map(|k| (coordinates[to[k]] - coordinates[from[k]]) / length);
                [(from[0], -unit[0]), (to[0], unit[0]), (from[1], -unit[1]), (to[1], unit[1])]
            }
        }
    }
}

/// What is known of distances on the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tie {
    /// A known length.
    Length {
        /// The distance.
        of: Measure,
        /// Its length, greater than zero.
        value: f64,
        /// Standard uncertainty, greater than zero.
        sigma: f64,
    },
    /// `a = ratio * b`, within a standard uncertainty relative to `a`: equal
    /// lengths (1), counted courses (3 courses against 5).
    Ratio {
        /// One distance.
        a: Measure,
        /// The other.
        b: Measure,
        /// `a` divided by `b`.
        ratio: f64,
        /// Relative standard uncertainty, greater than zero.
        sigma: f64,
    },
}

/// Everything observed on one picture of one wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    /// The camera, as far as known.
    pub camera: Camera,
    /// How many plane coordinates the marks use.
    pub coordinates: usize,
    /// Coordinates that are zero: the corners of walls at right angles.
    pub pinned: Vec<usize>,
    /// Parallel planes: distance in front of the wall, in the unit of the lengths.
    pub setbacks: Vec<Prior>,
    /// The marks.
    pub sights: Vec<Sight>,
    /// Lengths and ratios.
    pub ties: Vec<Tie>,
    /// Two marks of which the second lies to the right on the wall.
    pub rightward: Option<[usize; 2]>,
    /// Two marks of which the second lies higher on the wall.
    pub upward: Option<[usize; 2]>,
}

impl Network {
    /// Whether a length gives the scale.
    #[must_use]
    pub fn has_scale(&self) -> bool {
        self.ties.iter().any(|tie| matches!(tie, Tie::Length { .. }))
    }

    /// Groups of marks that share a coordinate on the given axis of the
    /// picture plane (0: plumb lines, 1: level lines), two marks or more.
    #[must_use]
    pub fn lines(&self, axis: usize) -> Vec<Vec<usize>> {
        let mut groups = vec![Vec::new(); self.coordinates];
        let own = |sight: &Sight| sight.z.is_none_or(|z| self.pinned.contains(&z));
        for (i, sight) in self.sights.iter().enumerate().filter(|(_, sight)| own(sight)) {
            groups[if axis == 0 { sight.x } else { sight.y }].push(i);
        }
        if axis == 0 {
            groups.extend(self.sides_by(|sight| sight.z));
        }
        groups.retain(|group| group.len() > 1);
        groups
    }

    /// Groups of marks of a wall at right angles that share their height: the
    /// level lines of that wall.
    #[must_use]
    pub fn side_lines(&self) -> Vec<Vec<usize>> {
        let mut groups = self.sides_by(|sight| Some(sight.y));
        groups.retain(|group| group.len() > 1);
        groups
    }

    /// Marks behind the first wall that share its corner's place along it, by a
    /// coordinate of theirs.
    fn sides_by(&self, of: impl Fn(&Sight) -> Option<usize>) -> Vec<Vec<usize>> {
        let mut groups = vec![Vec::new(); self.coordinates];
        let behind = |sight: &Sight| sight.z.is_some_and(|z| !self.pinned.contains(&z));
        let at_corner = |sight: &Sight| {
            self.sights.iter().any(|other| {
                other.x == sight.x && other.z.is_some_and(|z| self.pinned.contains(&z))
            })
        };
        for (i, sight) in self.sights.iter().enumerate() {
            if let Some(at) = of(sight).filter(|_| behind(sight) && at_corner(sight)) {
                groups[at].push(i);
            }
        }
        groups
    }

    /// Observations beyond the number needed, leaving aside what was only
    /// expected beforehand: zero or less means that nothing checks anything.
    #[must_use]
    pub fn checks(&self) -> i64 {
        let known_focal = self.camera.ln_focal.sigma < 0.2;
        let camera = if known_focal { 0 } else { 1 };
        let spin = i64::from(!self.lines(0).is_empty() || !self.lines(1).is_empty());
        let free = self.coordinates as i64 - self.pinned.len() as i64;
        let unknown = free + 2 + spin + camera + i64::from(self.has_scale());
        (2 * self.sights.len() + self.ties.len()) as i64 - unknown
    }
}
