//! Where something is least along the track or along a bar.

/// Nearest places that are not on the slope down to a nearer one, by where they
/// stand among those tried; at most four.
pub(super) fn lowest(tried: &[(usize, f64)], best: f64, within: f64) -> Vec<usize> {
    let mut near: Vec<usize> = (0..tried.len())
        .filter(|at| {
            let here = tried[*at].1;
            let lower = |other: Option<&(usize, f64)>| other.is_some_and(|it| it.1 < here);
            let before = at.checked_sub(1).and_then(|before| tried.get(before));
            here <= best + within && !lower(before) && !lower(tried.get(at + 1))
        })
        .collect();
    near.sort_by(|a, b| tried[*a].1.total_cmp(&tried[*b].1));
    near.truncate(4);
    near
}

/// Where a function of one hollow is lowest, by the golden section.
pub(super) fn golden(mut low: f64, mut high: f64, steps: u32, of: impl Fn(f64) -> f64) -> f64 {
    const SHARE: f64 = 0.618_033_988_749_894_8;
    let mut left = high - (high - low) * SHARE;
    let mut right = low + (high - low) * SHARE;
    let (mut at_left, mut at_right) = (of(left), of(right));
    for _ in 0..steps {
        if at_left <= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - (high - low) * SHARE;
            at_left = of(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + (high - low) * SHARE;
            at_right = of(right);
        }
    }
    if at_left <= at_right { left } else { right }
}

/// The least of a function between two ends that may jump: the best of nine
/// places, again and again round the best.
pub(super) fn zoom(ends: [f64; 2], rounds: u32, of: &impl Fn(f64) -> f64) -> f64 {
    let [mut low, mut high] = ends;
    let mut best = (f64::INFINITY, 0.5 * (low + high));
    for _ in 0..rounds {
        let step = (high - low) / 8.0;
        for n in 0..=8 {
            let at = low + step * f64::from(n);
            let found = of(at);
            if found < best.0 {
                best = (found, at);
            }
        }
        (low, high) = (best.1 - step, best.1 + step);
    }
    best.0
}
