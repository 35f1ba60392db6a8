//! Sizes that shrink by one factor.

/// Sizes that shrink by one factor, each within its own bounds, to a sum.
///
/// The closed form of shortening plain wall: with weights by share of wall every
/// free piece takes the same factor, and pieces at a bound stay there. A piece
/// is `(times it occurs, original, least, most)`; the answer has one size for
/// each. A sum outside the bounds gives the bounds.
#[must_use]
pub fn one_factor(pieces: &[(f64, f64, f64, f64)], sum: f64) -> Vec<f64> {
    let sizes = |factor: f64| -> Vec<f64> {
        pieces.iter().map(|(_, a, least, most)| (a * factor).clamp(*least, *most)).collect()
    };
    let total = |factor: f64| -> f64 {
        pieces.iter().zip(sizes(factor)).map(|((times, ..), size)| times * size).sum()
    };
    // The sum is a broken line in the factor: find its piece, then the factor.
    let mut turns: Vec<f64> = pieces.iter().flat_map(|(_, a, l, m)| [l / a, m / a]).collect();
    turns.sort_by(f64::total_cmp);
    let (Some(&first), Some(&last)) = (turns.first(), turns.last()) else { return Vec::new() };
    let above = turns.iter().copied().find(|turn| total(*turn) >= sum).unwrap_or(last);
    let below = turns.iter().copied().rev().find(|turn| total(*turn) <= sum).unwrap_or(first);
    let (low, high) = (total(below), total(above));
    let part = if high > low { (sum - low) / (high - low) } else { 0.0 };
    sizes(below + part.clamp(0.0, 1.0) * (above - below))
}
