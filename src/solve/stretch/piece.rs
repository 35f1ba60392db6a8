//! One piece: what a size of it costs, and the convex hull of that cost.

/// As near as the arithmetic goes.
pub(super) const EXACT: f64 = 1e-14;
/// Near enough for prices that only guide a search.
pub(in crate::solve) const ROUGH: f64 = 1e-5;
/// A weight of nothing would leave the size open: a trace of one spreads the loss
/// evenly and changes no cost that is looked at.
const TRACE: f64 = 1e-12;

/// A piece that may shrink or grow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Original size, above zero.
    pub original: f64,
    /// Smallest size allowed, above zero.
    pub least: f64,
    /// Largest size allowed.
    pub most: f64,
    /// Tolerance of the logarithm of the ratio.
    pub tolerance: f64,
    /// Weight; a piece without one costs nothing and gives way first.
    pub weight: f64,
}

/// The cost of a ratio's logarithm.
#[must_use]
pub fn cost(log_ratio: f64, tolerance: f64, weight: f64) -> f64 {
    let z = log_ratio / tolerance;
    weight * ((1.0 + z * z).sqrt() - 1.0)
}

/// Its derivative by the logarithm.
pub(in crate::solve) fn slope(log_ratio: f64, tolerance: f64, weight: f64) -> f64 {
    let z = log_ratio / tolerance;
    weight * z / (tolerance * (1.0 + z * z).sqrt())
}

impl Piece {
    /// The largest size up to which the cost is convex: where
    /// `z t (1 + z^2) = 1`.
    #[must_use]
    pub fn turn(&self) -> f64 {
        let (mut low, mut high) = (0.0, 1.0 / self.tolerance + 1.0);
        for _ in 0..60 {
            let z = 0.5 * (low + high);
            if z * self.tolerance * (1.0 + z * z) < 1.0 {
                low = z;
            } else {
                high = z;
            }
        }
        self.original * (low * self.tolerance).exp()
    }

    fn effective(&self) -> f64 {
        self.weight.max(TRACE)
    }

    pub(super) fn cost(&self, size: f64) -> f64 {
        cost((size / self.original).ln(), self.tolerance, self.effective())
    }

    fn slope(&self, size: f64) -> f64 {
        slope((size / self.original).ln(), self.tolerance, self.effective()) / size
    }

    /// The slope, and how it rises with the size: above zero where the cost is
    /// convex.
    fn slope_and_bend(&self, size: f64) -> [f64; 2] {
        let z = (size / self.original).ln() / self.tolerance;
        let square = 1.0 + z * z;
        let root = square.sqrt();
        let first = self.effective() * z / (self.tolerance * root);
        let second = self.effective() / (self.tolerance * self.tolerance * square * root);
        [first / size, (second - first) / (size * size)]
    }
}

/// A piece with the greatest convex function that lies nowhere above its cost: the
/// cost itself up to the knee, a straight line from there to the largest size.
#[derive(Clone, Copy, Debug)]
pub(in crate::solve) struct Hull {
    pub(in crate::solve) piece: Piece,
    knee: f64,
    /// The slopes at the bounds; the second is that of the line.
    ends: [f64; 2],
}

impl Hull {
    pub(in crate::solve) fn of(piece: Piece) -> Self {
        let knee = if piece.most <= piece.original { piece.most } else { knee(&piece) };
        let rise = if knee > piece.least {
            piece.slope(knee)
        } else {
            (piece.cost(piece.most) - piece.cost(piece.least)) / (piece.most - piece.least)
        };
        let rise = if rise.is_finite() { rise } else { piece.slope(piece.least) };
        let first = if knee > piece.least { piece.slope(piece.least) } else { rise };
        Self { piece, knee, ends: [first, rise] }
    }

    /// The same of so many times the size.
    pub(in crate::solve) fn times(&self, by: f64) -> Self {
        let Piece { original, least, most, .. } = self.piece;
        let [original, least, most] = [original, least, most].map(|size| size * by);
        Self {
            piece: Piece { original, least, most, ..self.piece },
            knee: self.knee * by,
            ends: self.ends.map(|slope| slope / by),
        }
    }

    pub(super) fn cost(&self, size: f64) -> f64 {
        if size <= self.knee {
            return self.piece.cost(size);
        }
        self.piece.cost(self.knee) + self.ends[1] * (size - self.knee)
    }

    /// How far the cost of a size lies above the hull.
    pub(super) fn gap(&self, size: f64) -> f64 {
        self.piece.cost(size) - self.cost(size)
    }

    pub(super) fn slope(&self, size: f64) -> f64 {
        if size >= self.knee { self.ends[1] } else { self.piece.slope(size) }
    }

    /// How the slope rises with the size.
    pub(super) fn bend(&self, size: f64) -> f64 {
        if size >= self.knee { 0.0 } else { self.piece.slope_and_bend(size)[1] }
    }

    /// The slopes at the bounds.
    pub(super) fn ends(&self) -> [f64; 2] {
        self.ends
    }

    /// The size at which one more unit costs `price`, within the bounds, by
    /// Newton's steps kept between what is known to be too small and too large.
    pub(in crate::solve) fn at_price(&self, price: f64) -> f64 {
        self.near_price(price, EXACT)
    }

    /// [`Self::at_price`] to a share of the size.
    pub(super) fn near_price(&self, price: f64, near: f64) -> f64 {
        let Piece { least, most, .. } = self.piece;
        // The whole line is taken at its own price.
        if self.ends[1] <= price {
            return most;
        }
        if self.ends[0] >= price {
            return least;
        }
        let (mut low, mut high) = (least, self.knee);
        // Where the price would be met on a straight line between the ends.
        let part = (price - self.ends[0]) / (self.ends[1] - self.ends[0]);
        let mut size = low + (high - low) * part;
        for _ in 0..80 {
            let [slope, bend] = self.piece.slope_and_bend(size);
            let over = slope - price;
            if over < 0.0 {
                low = size;
            } else {
                high = size;
            }
            let step = size - over / bend;
            let next = if step > low && step < high { step } else { 0.5 * (low + high) };
            if (next - size).abs() <= near * size {
                return next;
            }
            size = next;
        }
        size
    }
}

/// Where the tangent of the cost meets the cost at the largest size; the largest
/// size itself where the cost is convex up to there.
fn knee(piece: &Piece) -> f64 {
    let turn = piece.turn();
    if piece.most <= turn {
        return piece.most;
    }
    let top = piece.cost(piece.most);
    let reaches = |size: f64| piece.cost(size) + piece.slope(size) * (piece.most - size) >= top;
    let (mut low, mut high) = (piece.least.max(piece.original), turn);
    if low >= high || reaches(low) {
        return piece.least;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if reaches(middle) { high = middle } else { low = middle }
    }
    low
}
