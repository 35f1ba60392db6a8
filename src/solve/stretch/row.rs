//! One row at one total.

use super::Row;
use super::piece::{EXACT, Hull};

/// A row whose pieces stand as hulls of their costs.
#[derive(Clone, Debug, Default)]
pub(in crate::solve) struct Hulled {
    pub(in crate::solve) fixed: f64,
    pub(in crate::solve) pieces: Vec<Hull>,
    pub(in crate::solve) total: Option<f64>,
}

/// A row at one total: its cost, the price of one more unit, and the sizes.
pub(in crate::solve) struct Settled {
    pub(super) cost: f64,
    pub(in crate::solve) price: f64,
    pub(super) sizes: Vec<f64>,
}

impl From<&Row> for Hulled {
    fn from(row: &Row) -> Self {
        let pieces = row.pieces.iter().map(|piece| Hull::of(*piece)).collect();
        Self { fixed: row.fixed, pieces, total: row.total }
    }
}

impl Hulled {
    /// What one more unit costs: a slope of the row's cost at these sizes. What
    /// can still give sets it, by the piece that would give first; where nothing
    /// can, the piece that would take first.
    fn price(&self, sizes: &[f64]) -> f64 {
        let pairs = || self.pieces.iter().zip(sizes);
        let gives = pairs().filter(|(hull, size)| **size > hull.piece.least * (1.0 + 1e-12));
        let taken = pairs().map(|(hull, size)| hull.slope(*size));
        gives
            .map(|(hull, size)| hull.slope(*size))
            .max_by(f64::total_cmp)
            .or_else(|| taken.min_by(f64::total_cmp))
            .unwrap_or(0.0)
    }

    /// The best sizes for a total within the row's own limits.
    pub(super) fn settle(&self, total: f64) -> Settled {
        self.settle_near(total, EXACT)
    }

    /// [`Self::settle`] to a share of the sizes.
    pub(in crate::solve) fn settle_near(&self, total: f64, near: f64) -> Settled {
        let room = total - self.fixed;
        let sizes = match self.pieces.as_slice() {
            [] => Vec::new(),
            [only] => vec![room.clamp(only.piece.least, only.piece.most)],
            pieces => shared(pieces, room, near),
        };
        let cost = self.pieces.iter().zip(&sizes).map(|(hull, size)| hull.cost(*size)).sum();
        Settled { cost, price: self.price(&sizes), sizes }
    }
}

/// Steps towards a price: enough for halving alone in every fourth of them.
const TURNS: u32 = 240;

/// Sizes of several pieces that share a room: the price at which they fill it,
/// by Newton's steps kept between two prices known to be too low and too high.
fn shared(pieces: &[Hull], room: f64, near: f64) -> Vec<f64> {
    let mut sizes = vec![0.0; pieces.len()];
    let fill = |price: f64, sizes: &mut [f64]| {
        for (size, hull) in sizes.iter_mut().zip(pieces) {
            *size = hull.near_price(price, near);
        }
    };
    let ends = pieces.iter().flat_map(Hull::ends);
    let (mut low, mut high) = ends
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    let mut price = 0.5 * (low + high);
    for turn in 0..TURNS {
        fill(price, &mut sizes);
        let over = sizes.iter().sum::<f64>() - room;
        if over.abs() <= near.max(1e-12) * room {
            return sizes;
        }
        if over < 0.0 {
            low = price;
        } else {
            high = price;
        }
        let give: f64 = (pieces.iter().zip(&sizes))
            .filter(|(hull, size)| **size > hull.piece.least && **size < hull.piece.most)
            .map(|(hull, size)| 1.0 / hull.bend(*size))
            .sum();
        let step = price - over / give;
        // Where a piece jumps, Newton's steps would go to and fro across it.
        let newton = step > low && step < high && turn % 8 < 6;
        let next = if newton { step } else { 0.5 * (low + high) };
        if (high - low).abs() <= 1e-15 * high.abs().max(low.abs()) {
            break;
        }
        price = next;
    }
    // A price at which a piece jumps along its line: what is between is shared.
    let (mut under, mut over) = (sizes.clone(), sizes);
    fill(low, &mut under);
    fill(high, &mut over);
    let (least, most): (f64, f64) = (under.iter().sum(), over.iter().sum());
    let part = if most > least { ((room - least) / (most - least)).clamp(0.0, 1.0) } else { 0.5 };
    under.iter().zip(&over).map(|(a, b)| a + part * (b - a)).collect()
}
