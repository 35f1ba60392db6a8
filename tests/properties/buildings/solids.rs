//! Plates, sheets and timbers as convex pieces, and how deep two of them run
//! into each other: by the axes that could part them.

use std::collections::BTreeMap;

use scantling::building::{Building, Layer, Member, RoofPlane, Wall};
use scantling::job::wall::Corners;

type Spot = [f64; 3];

fn less(a: Spot, b: Spot) -> Spot {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn cross(a: Spot, b: Spot) -> Spot {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn dot(a: Spot, b: Spot) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn unit(a: Spot) -> Option<Spot> {
    let long = dot(a, a).sqrt();
    (long > 1e-7).then(|| a.map(|part| part / long))
}

/// A convex piece: two flat shapes of as many corners, joined corner by corner.
struct Convex {
    corners: Vec<Spot>,
    normals: Vec<Spot>,
    edges: Vec<Spot>,
    least: Spot,
    most: Spot,
}

fn push_new(into: &mut Vec<Spot>, way: Option<Spot>) {
    let Some(way) = way else { return };
    if into.iter().all(|known| dot(*known, way).abs() < 1.0 - 1e-9) {
        into.push(way);
    }
}

impl Convex {
    fn between(one: &[Spot], other: &[Spot]) -> Self {
        let corners: Vec<Spot> = one.iter().chain(other).copied().collect();
        let (mut normals, mut edges) = (Vec::new(), Vec::new());
        let count = one.len();
        for n in 0..count {
            let next = (n + 1) % count;
            let along = [less(one[next], one[n]), less(other[next], other[n])];
            let down = [less(other[n], one[n]), less(other[next], one[next])];
            for way in along.iter().chain(&down) {
                push_new(&mut edges, unit(*way));
            }
            for a in &along {
                for b in &down {
                    push_new(&mut normals, unit(cross(*a, *b)));
                }
            }
            let after = (n + 2) % count;
            push_new(&mut normals, unit(cross(along[0], less(one[after], one[next]))));
            push_new(&mut normals, unit(cross(along[1], less(other[after], other[next]))));
        }
        let bound = |pick: fn(f64, f64) -> f64| {
            corners.iter().copied().reduce(|a, b| [0, 1, 2].map(|n: usize| pick(a[n], b[n])))
        };
        let (least, most) =
            (bound(f64::min).unwrap_or_default(), bound(f64::max).unwrap_or_default());
        Self { corners, normals, edges, least, most }
    }

    fn span(&self, way: Spot) -> [f64; 2] {
        let each = self.corners.iter().map(|at| dot(*at, way));
        each.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], it| [low.min(it), high.max(it)])
    }

    /// How far one must be moved to leave the other; zero where they are apart.
    fn depth(&self, other: &Self) -> f64 {
        let near = (0..3)
            .all(|n| self.least[n] < other.most[n] - 1e-6 && other.least[n] < self.most[n] - 1e-6);
        if !near {
            return 0.0;
        }
        let mut depth = f64::INFINITY;
        let mut tried = |way: Spot| {
            let ([a, b], [c, d]) = (self.span(way), other.span(way));
            depth = depth.min((b - c).min(d - a));
            depth > 1e-6
        };
        for way in self.normals.iter().chain(&other.normals) {
            if !tried(*way) {
                return 0.0;
            }
        }
        for a in &self.edges {
            for b in &other.edges {
                let Some(way) = unit(cross(*a, *b)) else { continue };
                if !tried(way) {
                    return 0.0;
                }
            }
        }
        depth
    }
}

/// Something that is there, by the name it has in a meeting.
pub(super) struct Thing {
    pub(super) name: String,
    pieces: Vec<Convex>,
}

impl Thing {
    pub(super) fn depth(&self, other: &Self) -> f64 {
        let each = self.pieces.iter().flat_map(|a| other.pieces.iter().map(|b| a.depth(b)));
        each.fold(0.0, f64::max)
    }
}

/// Everything of a building.
pub(super) fn things(building: &Building) -> Vec<Thing> {
    let layers =
        building.walls.iter().flat_map(|wall| wall.layers.iter().map(move |it| (wall, it)));
    let mut things: Vec<Thing> = layers.map(|(wall, layer)| plate(wall, layer)).collect();
    things.extend(building.planes.iter().map(sheet));
    things.extend(building.members.iter().map(timber));
    for inside in &building.insides {
        let (Some(floor), Some(body)) = (&inside.floor, building.body(&inside.body)) else {
            continue;
        };
        let fit = (inside.length.length - floor.length.length).in_inches().max(0.0) / 2.0;
        let _ = fit;
        let wide = [inside.length.length.in_inches(), inside.depth.length.in_inches()];
        let (a, b) = (floor.length.length.in_inches(), floor.width.length.in_inches());
        let own = if (wide[0] >= wide[1]) == (a >= b) { [a, b] } else { [b, a] };
        let at = |u: f64, v: f64, w: f64| {
            let from =
                |n: usize, share: f64| inside.corner[n] + (wide[n] - own[n]) / 2.0 + own[n] * share;
            body.point([from(0, u), from(1, v), w])
        };
        let ring = |w: f64| [at(0.0, 0.0, w), at(1.0, 0.0, w), at(1.0, 1.0, w), at(0.0, 1.0, w)];
        let pieces = vec![Convex::between(&ring(0.0), &ring(floor.full))];
        things.push(Thing { name: format!("{}/floor", inside.body), pieces });
    }
    for solid in building.solids() {
        if building.decks.iter().any(|deck| deck.name == solid.name) {
            let other: Vec<Spot> = solid
                .face
                .iter()
                .map(|at| [0, 1, 2].map(|n: usize| at[n] + solid.push[n]))
                .collect();
            let pieces = vec![Convex::between(&solid.face, &other)];
            things.push(Thing { name: solid.name.clone(), pieces });
        }
    }
    things
}

fn at(line: &[(f64, f64)], x: f64, right: bool) -> f64 {
    let pair = line
        .windows(2)
        .find(|pair| if right { x < pair[1].0 - 1e-9 } else { x <= pair[1].0 + 1e-9 });
    let Some(pair) = pair else { return line.last().map_or(0.0, |it| it.1) };
    let run = pair[1].0 - pair[0].0;
    if run < 1e-9 { pair[0].1 } else { pair[0].1 + (pair[1].1 - pair[0].1) * (x - pair[0].0) / run }
}

fn plain(line: &scantling::building::Line) -> Vec<(f64, f64)> {
    line.iter().map(|(x, y)| (x.in_inches(), y.in_inches())).collect()
}

/// Uprights between which top and foot of a layer run straight, and both there.
pub(super) fn slabs(wall: &Wall, layer: &Layer) -> Vec<([f64; 2], [[f64; 2]; 2])> {
    let (top, foot) = (plain(&wall.top), plain(&layer.foot));
    let (left, right) = (layer.left.length.in_inches(), layer.right.length.in_inches());
    let mut cuts: Vec<f64> = top.iter().chain(&foot).map(|it| it.0).collect();
    // Where foot and top cross.
    let inner: Vec<f64> = cuts.clone();
    for pair in {
        let mut all = inner;
        all.extend([left, right]);
        all.sort_by(f64::total_cmp);
        all
    }
    .windows(2)
    {
        let gap = |x: f64, from_right: bool| at(&top, x, from_right) - at(&foot, x, from_right);
        let (a, b) = (gap(pair[0], true), gap(pair[1], false));
        if a * b < 0.0 {
            cuts.push(pair[0] + (pair[1] - pair[0]) * a / (a - b));
        }
    }
    cuts.retain(|x| *x > left + 1e-9 && *x < right - 1e-9);
    cuts.extend([left, right]);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    cuts.windows(2)
        .map(|pair| {
            let low = [at(&foot, pair[0], true), at(&foot, pair[1], false)];
            let high = [at(&top, pair[0], true), at(&top, pair[1], false)];
            ([pair[0], pair[1]], [low, high])
        })
        .filter(|(_, [low, high])| low[0] + low[1] < high[0] + high[1] - 1e-6)
        .collect()
}

fn plate(wall: &Wall, layer: &Layer) -> Thing {
    let (left, right) = (layer.left.length.in_inches(), layer.right.length.in_inches());
    let mitred = layer.edges.map(|edge| {
        edge.joint == Corners::Mitre
            && edge.met
            && layer.role != scantling::building::Role::Cladding
    });
    // Layers behind the outermost core are shorter yet where they are mitred.
    let cores = wall.layers.iter().filter(|it| it.role == layer.role && it.out < layer.out);
    let before: f64 = cores.map(|it| it.full).sum();
    let piece = |([from, to], [low, high]): &([f64; 2], [[f64; 2]; 2])| {
        let ring = |deep: f64| {
            let cut = before + deep;
            let from = if mitred[0] && *from < left + cut { left + cut } else { *from };
            let to = if mitred[1] && *to > right - cut { right - cut } else { *to };
            let out = -layer.out - deep;
            [(from, low[0]), (to, low[1]), (to, high[1]), (from, high[0])]
                .map(|(s, up)| wall.plane.point(s, out, up))
        };
        Convex::between(&ring(0.0), &ring(layer.full))
    };
    Thing { name: layer.id.to_string(), pieces: slabs(wall, layer).iter().map(piece).collect() }
}

/// A sheet, cut plumb all round, in triangles.
fn sheet(plane: &RoofPlane) -> Thing {
    let corners = &plane.corners;
    let up = plane.sheet * plane.pitch.hypot(1.0);
    let raised = |at: Spot| [at[0], at[1], at[2] + up];
    let flat: Vec<[f64; 2]> = corners.iter().map(|it| [it[0], it[1]]).collect();
    let piece = |three: [usize; 3]| {
        let low = three.map(|n| corners[n]);
        Convex::between(&low, &low.map(raised))
    };
    let pieces = triangles(&flat).into_iter().map(piece).collect();
    let part = if plane.upper { "/upper" } else { "" };
    Thing { name: format!("{}/roof/{}{part}", plane.body, plane.over), pieces }
}

/// Cuts ears off a shape.
fn triangles(of: &[[f64; 2]]) -> Vec<[usize; 3]> {
    let turn = |a: [f64; 2], b: [f64; 2], c: [f64; 2]| {
        (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    };
    let area: f64 = (0..of.len())
        .map(|n| {
            let (a, b) = (of[n], of[(n + 1) % of.len()]);
            a[0] * b[1] - b[0] * a[1]
        })
        .sum();
    let way = area.signum();
    let mut left: Vec<usize> = (0..of.len()).collect();
    let mut out = Vec::new();
    while left.len() > 2 {
        let count = left.len();
        let ear = (0..count).find(|n| {
            let [a, b, c] = [left[(n + count - 1) % count], left[*n], left[(n + 1) % count]];
            let inside = |p: usize| {
                p != a && p != b && p != c && {
                    let s = [(a, b), (b, c), (c, a)].map(|(x, y)| turn(of[x], of[y], of[p]) * way);
                    s.iter().all(|it| *it > 1e-9)
                }
            };
            turn(of[a], of[b], of[c]) * way > 1e-9 && !left.iter().any(|p| inside(*p))
        });
        let Some(n) = ear else {
            // Corners on one line are of no account.
            let flat = (0..count).find(|n| {
                let [a, b, c] = [left[(n + count - 1) % count], left[*n], left[(n + 1) % count]];
                turn(of[a], of[b], of[c]).abs() <= 1e-9
            });
            match flat {
                Some(n) => left.remove(n),
                None => break,
            };
            continue;
        };
        out.push([left[(n + count - 1) % count], left[n], left[(n + 1) % count]]);
        left.remove(n);
    }
    out
}

fn timber(member: &Member) -> Thing {
    use scantling::job::building::EndCut;
    let [(side, thick), (up, deep)] = member.across;
    let [from, to] = member.axis;
    let along = less(to, from);
    let level = along[0].hypot(along[1]);
    let plumb = member.ends.iter().all(|end| end.cut == EndCut::Plumb) && level > 1e-9;
    let up = if plumb {
        [0.0, 0.0, deep * dot(along, along).sqrt() / level]
    } else {
        up.map(|part| part * deep)
    };
    let corner = |at: Spot, rise: f64, aside: f64| {
        [0, 1, 2].map(|n: usize| at[n] + up[n] * rise + side[n] * thick * aside)
    };
    let ring = |aside: f64| {
        [
            corner(from, -1.0, aside),
            corner(to, -1.0, aside),
            corner(to, 1.0, aside),
            corner(from, 1.0, aside),
        ]
    };
    let pieces = vec![Convex::between(&ring(-1.0), &ring(1.0))];
    Thing { name: format!("{}/{} {}", member.body, member.name, member.number), pieces }
}

/// Pairs that run into each other, deepest first: both names, inches at full
/// size.
pub(super) fn overlaps(building: &Building, slack: f64) -> Vec<(String, String, f64)> {
    let things = things(building);
    let mut found = BTreeMap::new();
    for (n, a) in things.iter().enumerate() {
        for b in &things[n + 1..] {
            let depth = a.depth(b);
            if depth > slack {
                found.insert((a.name.clone(), b.name.clone()), depth);
            }
        }
    }
    found.into_iter().map(|((a, b), depth)| (a, b, depth)).collect()
}
