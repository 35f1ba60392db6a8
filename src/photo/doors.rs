//! Simple questions with simple answers: a fourth place on a line, a height by
//! the horizon, by a post, by a shadow, any place on a wall by four corners.
//! Each with its standard uncertainty, from what went into it, by the law of
//! propagation (JCGM 100:2008, 5.1.2) with numeric slopes.

use super::marked::{Known, Marked, Span};
use crate::finding::Stop;
use crate::solve::camera::homography::Homography;
use crate::solve::camera::single_view::{fourth_on_line, height_level};

/// A value and its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// The best value.
    pub value: f64,
    /// Its standard uncertainty.
    pub sigma: f64,
}

impl Worth {
    /// A figure good to `sigma`.
    #[must_use]
    pub fn new(value: f64, sigma: f64) -> Self {
        Self { value, sigma }
    }

    /// The 95 percent interval.
    #[must_use]
    pub fn ends(self) -> [f64; 2] {
        [self.value - 1.96 * self.sigma, self.value + 1.96 * self.sigma]
    }
}

/// A function of independent figures, with its standard uncertainty.
fn propagated(given: &[Worth], of: impl Fn(&[f64]) -> Option<f64>) -> Option<Worth> {
    let mut at: Vec<f64> = given.iter().map(|worth| worth.value).collect();
    let value = of(&at).filter(|value| value.is_finite())?;
    let mut variance = 0.0;
    for (k, worth) in given.iter().enumerate().filter(|(_, worth)| worth.sigma > 0.0) {
        let step = 1e-3 * worth.sigma;
        at[k] = worth.value + step;
        let above = of(&at)?;
        at[k] = worth.value - step;
        let below = of(&at)?;
        at[k] = worth.value;
        variance += ((above - below) / (2.0 * step) * worth.sigma).powi(2);
    }
    Some(Worth::new(value, variance.sqrt()))
}

/// The place on a wall line of `pixel`, three places of it being known: pairs
/// of (pixel, place). Nothing when two of them coincide.
#[must_use]
pub fn fourth(known: [(Worth, Worth); 3], pixel: Worth) -> Option<Worth> {
    let mut given: Vec<Worth> = known.iter().flat_map(|(on, at)| [*on, *at]).collect();
    given.push(pixel);
    propagated(&given, |v| fourth_on_line([(v[0], v[1]), (v[2], v[3]), (v[4], v[5])], v[6]))
}

/// The height of something that stands on level ground, seen by a level camera
/// whose eye is `eye` above that ground: rows of its foot, the horizon and its
/// top. Nothing when the foot is not under the horizon.
#[must_use]
pub fn by_horizon(eye: Worth, [foot, horizon, top]: [Worth; 3]) -> Option<Worth> {
    let below = foot.value > horizon.value;
    below.then_some(())?;
    propagated(&[eye, foot, horizon, top], |v| Some(height_level(v[0], v[1], v[2], v[3])))
}

/// The same from a post of known height on the same ground: rows of the post's
/// foot and top instead of the eye's height.
#[must_use]
pub fn by_post(
    post: Worth,
    [post_foot, post_top]: [Worth; 2],
    [foot, horizon, top]: [Worth; 3],
) -> Option<Worth> {
    let below = foot.value > horizon.value && post_foot.value > horizon.value;
    (below && post_foot.value > post_top.value).then_some(())?;
    propagated(&[post, post_foot, post_top, foot, horizon, top], |v| {
        let one = height_level(1.0, v[1], v[4], v[2]);
        (one > 0.0).then(|| v[0] / one * height_level(1.0, v[3], v[4], v[5]))
    })
}

/// A height by its shadow, a stick's shadow being measured at the same minute
/// on level ground. Nothing unless all three are greater than zero.
#[must_use]
pub fn by_shadow(stick: Worth, stick_shadow: Worth, shadow: Worth) -> Option<Worth> {
    let given = [stick, stick_shadow, shadow];
    given.iter().all(|worth| worth.value > 0.0).then_some(())?;
    propagated(&given, |v| Some(v[0] * v[2] / v[1]))
}

/// Lengths asked for on a marked picture, by the plain map of one rectangle of
/// which both sides are known: no lens, no camera.
///
/// # Errors
/// When no rectangle has both sides known, or its corners carry no map.
pub fn plain(marked: &Marked) -> Result<Vec<(Span, Worth)>, Stop> {
    let stop = |trouble: &str, hint: &str| {
        Stop::new(format!("mapping the picture {}", marked.id), trouble.to_owned(), hint.to_owned())
    };
    let known = |span: Span| marked.known.iter().find(|known| known.span == span);
    let sides = |rect: usize| Some((rect, [known(Span::Width(rect))?, known(Span::Height(rect))?]));
    let (rect, sides) = (0..marked.rects.len()).find_map(sides).ok_or_else(|| {
        stop("no rectangle has both sides known", "give its width and its height")
    })?;
    let corners = marked.rects[rect].corners;
    let wanted = marked.spans().into_iter().filter(|span| known(*span).is_none());
    wanted
        .map(|span| {
            let worth = mapped(marked, corners, sides, span)
                .ok_or_else(|| stop("its corners carry no map", "see their order"))?;
            Ok((span, worth))
        })
        .collect()
}

/// One length through the map of four corners.
fn mapped(marked: &Marked, corners: [usize; 4], sides: [&Known; 2], span: Span) -> Option<Worth> {
    let mut marks = corners.to_vec();
    for mark in marked.rests_on(span) {
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
    let mut given: Vec<Worth> = sides.iter().map(|k| Worth::new(k.value, k.sigma)).collect();
    for &mark in &marks {
        given.extend(marked.marks[mark].at.map(|at| Worth::new(at, marked.sigma_of(mark))));
    }
    let slot = |mark: usize| marks.iter().position(|known| *known == mark);
    let ends = marked.ends(span);
    let pairs = match span {
        Span::Width(r) => {
            let [tl, tr, br, bl] = marked.rects[r].corners;
            vec![[tl, tr], [bl, br]]
        }
        Span::Height(r) => {
            let [tl, tr, br, bl] = marked.rects[r].corners;
            vec![[bl, tl], [br, tr]]
        }
        _ => vec![ends],
    };
    propagated(&given, |v| {
        let at = |mark: usize| slot(mark).map(|k| [v[2 + 2 * k], v[3 + 2 * k]]);
        let from: Vec<[f64; 2]> = corners.iter().filter_map(|&mark| at(mark)).collect();
        let (w, h) = (v[0], v[1]);
        let map = Homography::fit(&from, &[[0.0, h], [w, h], [w, 0.0], [0.0, 0.0]])?;
        let mut sum = 0.0;
        for [a, b] in &pairs {
            let (a, b) = (map.map(at(*a)?)?, map.map(at(*b)?)?);
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            sum += match span {
                Span::Width(_) | Span::Level(..) => dx.abs(),
                Span::Height(_) | Span::Plumb(..) => dy.abs(),
                Span::Straight(..) => dx.hypot(dy),
            };
        }
        Some(sum / pairs.len() as f64)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_is_not_answered() {
        let one = Worth::new(1.0, 0.1);
        let rows = [600.0, 700.0, 100.0].map(|row| Worth::new(row, 1.0));
        assert!(by_horizon(one, rows).is_none(), "the foot stands over the horizon");
        assert!(by_shadow(one, Worth::new(0.0, 0.1), one).is_none());
        let same = (one, one);
        assert!(fourth([same, same, same], one).is_none_or(|worth| !worth.sigma.is_nan()));
    }
}
