//! Marks -> the network that is adjusted.

use super::marked::{Marked, Origin, Rect, Span};
use super::trouble;
use crate::finding::Stop;
use crate::solve::camera::network::{Camera, Measure, Network, Prior, Sight, Tie};
use crate::solve::camera::quad;

/// What a focal length may be where nothing is known: its middle in picture
/// widths, and the standard uncertainty of its logarithm. From 0.65 widths (a
/// wide lens) to 2.2 (a short telephoto) lies within one; common practice, no
/// source.
pub const LIKELY_FOCAL: (f64, f64) = (1.15, 0.6);

/// Standard uncertainty of the radial term, in units of the focal length.
const RADIAL: f64 = 0.15;

/// The network of a marked picture.
///
/// # Errors
/// A rectangle that is none, a length that is no length, or no known length.
pub fn network(marked: &Marked) -> Result<Network, Stop> {
    check(marked)?;
    let axes = shared(marked);
    let sights = marked.marks.iter().enumerate().map(|(i, mark)| Sight {
        pixel: mark.at,
        sigma: marked.sigma_of(i),
        x: axes.of[0][i].unwrap_or(0),
        y: axes.of[1][i].unwrap_or(0),
        plane: mark.plane.filter(|_| axes.of[2][i].is_none()),
        z: axes.of[2][i],
    });
    let mut network = Network {
        camera: camera(marked),
        coordinates: axes.count,
        pinned: pinned(marked, &axes),
        setbacks: marked.planes.iter().map(|p| Prior { value: p.ahead, sigma: p.sigma }).collect(),
        sights: sights.collect(),
        ties: vec![],
        rightward: rightward(marked),
        upward: upward(marked),
    };
    for known in &marked.known {
        let sigma = known.sigma.max(1e-6 * known.value);
        let of = measure(&network, marked, known.span);
        network.ties.push(Tie::Length { of, value: known.value, sigma });
    }
    for alike in &marked.alike {
        let [a, b] = [alike.a, alike.b].map(|span| measure(&network, marked, span));
        network.ties.push(Tie::Ratio { a, b, ratio: alike.ratio, sigma: alike.sigma.max(1e-6) });
    }
    // Behind what the person said, whose order others count on.
    add_midways(&mut network, marked);
    Ok(network)
}

/// Two marks of which the second lies to the right: of the first rectangle,
/// else the ends of the first level edge as the picture has them.
fn rightward(marked: &Marked) -> Option<[usize; 2]> {
    let rect = marked.rects.first().map(|r| [r.corners[3], r.corners[2]]);
    rect.or_else(|| ends(marked, marked.level.first()?, 0))
}

/// The same upward.
fn upward(marked: &Marked) -> Option<[usize; 2]> {
    let rect = marked.rects.first().map(|r| [r.corners[3], r.corners[0]]);
    rect.or_else(|| ends(marked, marked.plumb.first()?, 1).map(|[top, foot]| [foot, top]))
}

/// The first and the last mark of a group along an axis of the picture.
fn ends(marked: &Marked, group: &[usize], axis: usize) -> Option<[usize; 2]> {
    let along =
        |a: &&usize, b: &&usize| marked.marks[**a].at[axis].total_cmp(&marked.marks[**b].at[axis]);
    Some([*group.iter().min_by(along)?, *group.iter().max_by(along)?])
}

fn check(marked: &Marked) -> Result<(), Stop> {
    for rect in &marked.rects {
        let corners = rect.corners.map(|k| marked.marks[k].at);
        quad::check(corners, marked.sigma())
            .map_err(|fault| trouble::corners(marked, rect, fault))?;
    }
    turned(marked)?;
    for known in &marked.known {
        if !known.value.is_finite() || known.value <= 0.0 {
            return Err(trouble::no_length(marked, known));
        }
    }
    if marked.known.is_empty() {
        return Err(trouble::nothing_known(marked));
    }
    Ok(())
}

/// Rectangles that are turned against the others. A picture on its side turns
/// all of them, and that is no fault.
fn turned(marked: &Marked) -> Result<(), Stop> {
    match turned_rects(marked).first() {
        Some(&rect) => Err(trouble::turned(marked, &marked.rects[rect])),
        None => Ok(()),
    }
}

/// Rectangles whose corners are crossed, mirrored or turned against the others.
#[must_use]
pub fn out_of_order(marked: &Marked) -> Vec<usize> {
    let turned = turned_rects(marked);
    let fault = |rect: &Rect| {
        let corners = rect.corners.map(|k| marked.marks[k].at);
        matches!(
            quad::check(corners, marked.sigma()),
            Err(quad::Fault::Crossed | quad::Fault::Mirrored)
        )
    };
    (0..marked.rects.len()).filter(|r| turned.contains(r) || fault(&marked.rects[*r])).collect()
}

fn turned_rects(marked: &Marked) -> Vec<usize> {
    let quarters = |rect: &Rect| quad::quarters(rect.corners.map(|k| marked.marks[k].at));
    let turns: Vec<Option<usize>> = marked.rects.iter().map(quarters).collect();
    let count = |quarter: usize| turns.iter().filter(|turn| **turn == Some(quarter)).count();
    let usual = (0..4).max_by_key(|&quarter| (count(quarter), 4 - quarter)).unwrap_or(0);
    let other = |rect: &usize| turns[*rect].is_some_and(|turn| turn != usual);
    (0..turns.len()).filter(other).collect()
}

fn camera(marked: &Marked) -> Camera {
    let [w, h] = marked.size.map(f64::from);
    let (middle, spread) = match marked.frame {
        // The axis of the whole picture, where the part has it.
        Some([left, top, wide, high]) => (
            [0.5 * (wide - 1.0) - left, 0.5 * (high - 1.0) - top],
            Origin::Camera.axis_spread() * wide,
        ),
        None => ([w, h].map(|side| 0.5 * (side - 1.0)), marked.origin.axis_spread() * w),
    };
    let ln_focal = match marked.focal {
        Some(focal) => Prior { value: focal.pixels.ln(), sigma: focal.relative.max(1e-4) },
        None => Prior { value: (LIKELY_FOCAL.0 * w).ln(), sigma: LIKELY_FOCAL.1 },
    };
    Camera {
        width: w,
        principal: middle.map(|value| Prior { value, sigma: spread }),
        ln_focal,
        radial: Prior { value: 0.0, sigma: if marked.distortion { RADIAL } else { 0.0 } },
        aspect: Prior { value: 0.0, sigma: marked.origin.stretch_spread() },
    }
}

/// Corners of walls at right angles: nothing behind the first wall.
fn pinned(marked: &Marked, axes: &Shared) -> Vec<usize> {
    let mut pinned: Vec<usize> =
        marked.sides.iter().filter_map(|side| axes.of[2][side.corner]).collect();
    pinned.sort_unstable();
    pinned.dedup();
    pinned
}

/// How exactly a mark is midway between two others, relative.
const MIDWAY: f64 = 1e-4;

/// Marks midway between two others in depth.
fn add_midways(network: &mut Network, marked: &Marked) {
    for deep in &marked.deep {
        let (a, Some(b)) = deep.as_deep else { continue };
        let z = |mark: usize| network.sights[mark].z;
        if let (Some(from), Some(half), Some(to)) = (z(a), z(deep.mark), z(b)) {
            // Counted from the far one: before anything is known of it the mark
            // lies on the wall, and both must count the same way from there.
            let (a, b) = (Measure::Along { from: half, to }, Measure::Along { from, to });
            network.ties.push(Tie::Ratio { a, b, ratio: 0.5, sigma: MIDWAY });
        }
    }
}

/// The measure of a span. Marks at one level or on one plumb line are measured
/// along it; on a side wall the level runs into the depth.
#[must_use]
pub fn measure(network: &Network, marked: &Marked, span: Span) -> Measure {
    let side = marked.wall_of(span).ok().flatten();
    let level = |mark: usize| {
        let sight = &network.sights[mark];
        sight.z.filter(|_| side.is_some()).unwrap_or(sight.x)
    };
    let [a, b] = marked.ends(span).map(|k| (level(k), network.sights[k].y));
    match span {
        Span::Width(_) | Span::Level(..) => Measure::Along { from: a.0, to: b.0 },
        Span::Height(_) | Span::Plumb(..) => Measure::Along { from: a.1, to: b.1 },
        Span::Straight(..) if a.1 == b.1 => Measure::Along { from: a.0, to: b.0 },
        Span::Straight(..) if a.0 == b.0 => Measure::Along { from: a.1, to: b.1 },
        Span::Straight(..) => Measure::Straight { from: [a.0, a.1], to: [b.0, b.1] },
    }
}

/// Which coordinates marks share: rectangles, level groups and plumb groups
/// join them; marks of a side wall share the corner's place along the first.
struct Shared {
    /// Coordinate of each mark: to the right, up, and toward the viewer where
    /// it has one.
    of: [Vec<Option<usize>>; 3],
    count: usize,
}

fn shared(marked: &Marked) -> Shared {
    let n = marked.marks.len();
    let mut parent: Vec<usize> = (0..3 * n).collect();
    let [right, up, near] = [0, 1, 2].map(|axis| move |i: usize| axis * n + i);
    // Along a side wall the level runs into the depth.
    let along = |i: usize| if marked.side_of(i).is_some() { near(i) } else { right(i) };
    for side in &marked.sides {
        for &mark in &side.marks {
            join(&mut parent, right(side.corner), right(mark));
        }
        join(&mut parent, near(marked.sides[0].corner), near(side.corner));
    }
    for rect in &marked.rects {
        let [tl, tr, br, bl] = rect.corners;
        for (a, b) in [(tl, bl), (tr, br)] {
            join_along(marked, &mut parent, [a, b], along, near);
        }
        for (a, b) in [(up(tl), up(tr)), (up(bl), up(br))] {
            join(&mut parent, a, b);
        }
    }
    for pair in marked.level.iter().flat_map(|group| group.windows(2)) {
        join(&mut parent, up(pair[0]), up(pair[1]));
    }
    for pair in marked.plumb.iter().flat_map(|group| group.windows(2)) {
        join_along(marked, &mut parent, [pair[0], pair[1]], along, near);
    }
    for deep in marked.deep.iter().filter(|deep| deep.as_deep.1.is_none()) {
        join(&mut parent, near(deep.mark), near(deep.as_deep.0));
    }
    number(marked, &mut parent, n)
}

/// Joins two marks of one plumb line; a mark of a side wall and the corner share
/// the depth.
fn join_along(
    marked: &Marked,
    parent: &mut [usize],
    [a, b]: [usize; 2],
    along: impl Fn(usize) -> usize,
    near: impl Fn(usize) -> usize,
) {
    let either = marked.side_of(a).is_some() || marked.side_of(b).is_some();
    if either {
        join(parent, near(a), near(b));
    } else {
        join(parent, along(a), along(b));
    }
}

fn root(parent: &mut [usize], mut i: usize) -> usize {
    while parent[i] != i {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    i
}

fn join(parent: &mut [usize], a: usize, b: usize) {
    let (a, b) = (root(parent, a), root(parent, b));
    parent[a.max(b)] = a.min(b);
}

/// Numbers the coordinates in the order of the marks, so that those of one
/// rectangle stand together.
fn number(marked: &Marked, parent: &mut [usize], n: usize) -> Shared {
    let mut names = vec![None; 3 * n];
    let mut shared = Shared { of: [vec![], vec![], vec![]], count: 0 };
    let corner = |i: usize| marked.sides.iter().any(|side| side.corner == i);
    for i in 0..n {
        let has_depth = marked.side_of(i).is_some() || marked.is_deep(i) || corner(i);
        for axis in 0..3 {
            let at = root(parent, axis * n + i);
            let name = (axis < 2 || has_depth).then(|| {
                *names[at].get_or_insert_with(|| {
                    shared.count += 1;
                    shared.count - 1
                })
            });
            shared.of[axis].push(name);
        }
    }
    shared
}
