//! The envelope against cars set down a millimetre apart on random track.
//!
//! The cars here stand by other means than in the program: the centre line is
//! summed up in short steps, trucks are found by walking along it, and reach is
//! taken from the corners and sides of the rectangle they carry.

use scantling::clearance::body::{Block, Body, Solid};
use scantling::clearance::chain::{Chain, Piece};
use scantling::clearance::section::Section;
use scantling::clearance::sweep::Sweep;

/// Numbers that are the same in every run (a linear congruential generator of
/// Knuth's, from memory).
struct Numbers(u64);

impl Numbers {
    fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }
}

/// Track of straights, arcs and easements that does not meet itself.
fn track(numbers: &mut Numbers) -> (Vec<Piece>, Chain) {
    loop {
        let mut pieces = vec![Piece::straight(numbers.between(4.0, 14.0))];
        let count = 2 + (numbers.share() * 4.0) as usize;
        for _ in 0..count {
            let before = pieces.last().map_or(0.0, |piece| piece.curvature[1]);
            let side = if numbers.share() < 0.5 { 1.0 } else { -1.0 };
            let radius = numbers.between(15.0, 48.0);
            pieces.push(match (numbers.share() * 4.0) as u32 {
                0 => Piece::straight(numbers.between(2.0, 14.0)),
                1 => Piece::arc(radius, side * numbers.between(0.1, 0.9)),
                2 => Piece::easement(numbers.between(3.0, 12.0), before, side / radius),
                _ => Piece::easement(numbers.between(3.0, 12.0), before, 0.0),
            });
        }
        if let Ok(chain) = Chain::new([0.0; 2], numbers.between(-3.0, 3.0), &pieces) {
            return (pieces, chain);
        }
    }
}

/// The centre line in steps of a thousandth of an inch and a bit, from before
/// its first piece to after its last.
struct Walked {
    step: f64,
    from: f64,
    points: Vec<[f64; 2]>,
}

impl Walked {
    fn of(pieces: &[Piece], heading: f64, beyond: f64) -> Self {
        let step = 0.004;
        let length: f64 = pieces.iter().map(|piece| piece.length).sum();
        // What it has turned by a place: the area under its curvature.
        let turned = |along: f64| {
            let (first, last) = (pieces[0], pieces[pieces.len() - 1]);
            if along < 0.0 {
                return first.curvature[0] * along;
            }
            let (mut left, mut turned) = (along, 0.0);
            for piece in pieces {
                let [a, b] = piece.curvature;
                let on = left.min(piece.length);
                turned += on * (a + (a + (b - a) * on / piece.length)) / 2.0;
                left -= on;
            }
            turned + left * last.curvature[1]
        };
        let walk = |way: f64, count: usize| {
            let (mut at, mut points) = ([0.0, 0.0], Vec::new());
            for n in 0..count {
                let along = heading + turned(way * step * (n as f64 + 0.5));
                at = [at[0] + way * step * along.cos(), at[1] + way * step * along.sin()];
                points.push(at);
            }
            points
        };
        let (behind, ahead) = ((beyond / step) as usize, ((length + beyond) / step) as usize);
        let mut points = walk(-1.0, behind);
        points.reverse();
        points.push([0.0, 0.0]);
        points.extend(walk(1.0, ahead));
        Self { step, from: -(behind as f64) * step, points }
    }

    fn at(&self, along: f64) -> [f64; 2] {
        let place = ((along - self.from) / self.step).clamp(0.0, self.points.len() as f64 - 1.001);
        let (n, share) = (place as usize, place.fract());
        [0, 1].map(|axis| self.points[n][axis] * (1.0 - share) + self.points[n + 1][axis] * share)
    }

    /// The front truck, a chord ahead.
    fn front(&self, rear: f64, centres: f64) -> [f64; 2] {
        let back = self.at(rear);
        let chord = |along: f64| {
            let at = self.at(along);
            (at[0] - back[0]).hypot(at[1] - back[1])
        };
        let (mut low, mut high) = (rear + centres, rear + centres * 1.4);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if chord(middle) < centres { low = middle } else { high = middle }
        }
        self.at(low)
    }
}

struct Car {
    length: f64,
    centres: f64,
    width: f64,
}

type Corners = [[f64; 2]; 4];

/// The corners of a car by the place of its rear truck.
fn set_down(walked: &Walked, car: &Car, rear: f64) -> Corners {
    let (back, front) = (walked.at(rear), walked.front(rear, car.centres));
    let middle = [(back[0] + front[0]) / 2.0, (back[1] + front[1]) / 2.0];
    let along = [(front[0] - back[0]) / car.centres, (front[1] - back[1]) / car.centres];
    let corner = |ahead: f64, left: f64| {
        let (a, l) = (ahead * car.length / 2.0, left * car.width / 2.0);
        [middle[0] + a * along[0] - l * along[1], middle[1] + a * along[1] + l * along[0]]
    };
    [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]
}

/// A millimetre.
const STEP: f64 = 1.0 / 25.4;

/// Every car, a millimetre from the next, and where its rear truck stands.
fn cars(walked: &Walked, car: &Car, length: f64) -> Vec<(f64, Corners)> {
    let from = -car.length - car.centres / 2.0;
    let count = ((length + 2.0 * car.length) / STEP) as usize;
    (0..count)
        .map(|n| from + n as f64 * STEP)
        .map(|rear| (rear, set_down(walked, car, rear)))
        .collect()
}

/// The least of a figure over the cars: a millimetre apart everywhere, and a
/// twentieth of that round the three places where it is least. Between two cars
/// a millimetre apart a corner moves on slantwise by as much as ten thousandths.
fn least(
    cars: &[(f64, Corners)],
    again: impl Fn(f64) -> Corners,
    of: impl Fn(&Corners) -> Option<f64>,
) -> f64 {
    let tried: Vec<f64> =
        cars.iter().map(|(_, corners)| of(corners).unwrap_or(f64::INFINITY)).collect();
    let hollow = |at: &usize| {
        let beside = |other: Option<&f64>| other.is_none_or(|other| *other >= tried[*at]);
        tried[*at].is_finite()
            && beside(at.checked_sub(1).and_then(|at| tried.get(at)))
            && beside(tried.get(at + 1))
    };
    let mut hollows: Vec<usize> = (0..tried.len()).filter(hollow).collect();
    hollows.sort_by(|a, b| tried[*a].total_cmp(&tried[*b]));
    let fine = hollows.iter().take(3).flat_map(|at| {
        let rear = cars[*at].0;
        (-20..=20).map(move |n| rear + f64::from(n) * STEP / 20.0)
    });
    let coarse = tried.iter().copied().fold(f64::INFINITY, f64::min);
    fine.filter_map(|rear| of(&again(rear))).fold(coarse, f64::min)
}

/// How far along a ray the sides of a rectangle are crossed at the furthest.
fn crossed(corners: &Corners, from: [f64; 2], out: [f64; 2]) -> Option<f64> {
    let crossing = |n: usize| {
        let (a, b) = (corners[n], corners[(n + 1) % 4]);
        let side = [b[0] - a[0], b[1] - a[1]];
        let turn = out[0] * side[1] - out[1] * side[0];
        let to = [a[0] - from[0], a[1] - from[1]];
        let along = (to[0] * side[1] - to[1] * side[0]) / turn;
        let share = (to[0] * out[1] - to[1] * out[0]) / turn;
        (turn.abs() > 1e-12 && (0.0..=1.0).contains(&share)).then_some(along)
    };
    (0..4).filter_map(crossing).reduce(f64::max)
}

/// Signed distance of a point to a rectangle.
fn apart(corners: &Corners, point: [f64; 2]) -> f64 {
    let (mut outside, mut nearest) = (f64::NEG_INFINITY, f64::INFINITY);
    for n in 0..4 {
        let (a, b) = (corners[n], corners[(n + 1) % 4]);
        let side = [b[0] - a[0], b[1] - a[1]];
        let long = side[0].hypot(side[1]);
        let to = [point[0] - a[0], point[1] - a[1]];
        outside = outside.max((to[0] * side[1] - to[1] * side[0]) / long);
        let share = ((to[0] * side[0] + to[1] * side[1]) / (long * long)).clamp(0.0, 1.0);
        nearest = nearest.min((to[0] - side[0] * share).hypot(to[1] - side[1] * share));
    }
    if outside <= 0.0 { outside } else { nearest }
}

#[test]
fn no_car_a_millimetre_on_goes_beyond_the_envelope() {
    let mut numbers = Numbers(20_261_125);
    let (mut under, mut over) = (0.0_f64, 0.0_f64);
    for round in 0..200 {
        let (pieces, chain) = track(&mut numbers);
        let length = chain.length();
        let long = numbers.between(4.0, 11.5);
        let car = Car {
            length: long,
            centres: long * numbers.between(0.6, 0.85),
            width: numbers.between(0.9, 1.5),
        };
        let section = Section::rectangle(car.width / 2.0, 0.0, 2.0).expect("a section");
        let half = car.length / 2.0;
        let body = Body { centres: car.centres, blocks: vec![Block::new([-half, half], section)] };
        let sweep = Sweep::new(&chain, body, 0.0).expect("it goes round 15 in");
        let heading = chain.spot(0.0).heading;
        let walked = Walked::of(&pieces, heading, 2.5 * car.length);
        let cars = cars(&walked, &car, length);
        let again = |rear: f64| set_down(&walked, &car, rear);
        for _ in 0..6 {
            let along = numbers.between(0.0, length);
            let spot = chain.spot(along);
            let by_walk = walked.at(along);
            let off = (spot.at[0] - by_walk[0]).hypot(spot.at[1] - by_walk[1]);
            assert!(off < 1e-4, "round {round}: the track itself is off by {off}");
            for side in [1.0, -1.0] {
                let out = [-spot.heading.sin() * side, spot.heading.cos() * side];
                let near = |corners: &Corners| {
                    let away = [corners[0][0] - spot.at[0], corners[0][1] - spot.at[1]];
                    away[0].hypot(away[1]) < 1.3 * car.length
                };
                let ray = |it: &Corners| near(it).then(|| crossed(it, spot.at, out)).flatten();
                let brute = -least(&cars, again, |it| ray(it).map(|far| -far));
                let found = sweep.reach(along, 1.0, side > 0.0).expect("the car comes by");
                under = under.max(brute - found);
                over = over.max(found - brute);
                let out_by = numbers.between(0.3, 1.8);
                let post = [spot.at[0] + out[0] * out_by, spot.at[1] + out[1] * out_by];
                let brute = least(&cars, again, |it| Some(apart(it, post)));
                let bar = Solid::line([post[0], post[1], 0.3], [post[0], post[1], 1.7]);
                let found = sweep.nearest(&bar).clear;
                under = under.max(found - brute);
                over = over.max(brute - found);
            }
        }
    }
    println!(
        "envelope: at most {:.3} thou less safe, {:.3} thou too wide",
        under * 1e3,
        over * 1e3
    );
    assert!(under <= 0.0005, "less safe than cars a millimetre apart by {under} in");
    assert!(over <= 0.002, "too wide by {over} in");
}

/// A solid that a test can walk over: boxes by a corner and three edges.
struct Boxes(Vec<(Spot, [Spot; 3])>);

type Spot = [f64; 3];

fn step(at: Spot, by: Spot, times: f64) -> Spot {
    [0, 1, 2].map(|axis| at[axis] + by[axis] * times)
}

impl Boxes {
    fn at(&self, which: usize, shares: [f64; 3]) -> Spot {
        let (corner, edges) = &self.0[which];
        edges.iter().zip(shares).fold(*corner, |at, (edge, share)| step(at, *edge, share))
    }
}

impl Boxes {
    /// Whether a point is of one of them, but for the dust of the arithmetic.
    fn hold(&self, at: Spot) -> bool {
        let dot = |a: Spot, b: Spot| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        self.0.iter().any(|(corner, edges)| {
            let to = step(at, *corner, -1.0);
            edges
                .iter()
                .all(|edge| (-1e-6..=1.000_001).contains(&(dot(to, *edge) / dot(*edge, *edge))))
        })
    }
}

/// How near cars come to a point: all along, then closer and closer.
fn at_point(walked: &Walked, car: &Car, length: f64, at: Spot) -> f64 {
    let of = |rear: f64| from_car(&set_down(walked, car, rear), at);
    let from = -car.length - car.centres / 2.0;
    let rears = (0..((length + 2.0 * car.length) / 0.02) as usize).map(|n| from + n as f64 * 0.02);
    let mut best =
        rears.map(|rear| (of(rear), rear)).min_by(|a, b| a.0.total_cmp(&b.0)).expect("cars");
    let mut wide = 0.02;
    for _ in 0..5 {
        let near = (-10..=10).map(|n| best.1 + wide * f64::from(n) / 10.0);
        let found = near.map(|rear| (of(rear), rear)).min_by(|a, b| a.0.total_cmp(&b.0));
        best = found.filter(|found| found.0 < best.0).unwrap_or(best);
        wide /= 5.0;
    }
    best.0
}

/// A step turned round the upright and then tilted.
fn turned(turn: f64, tilt: f64) -> [Spot; 3] {
    let ((sin, cos), (rise, level)) = (turn.sin_cos(), tilt.sin_cos());
    [[cos * level, sin * level, rise], [-sin, cos, 0.0], [-cos * rise, -sin * rise, level]]
}

/// Beams, roofs and walls of all kinds beside and over the track, as the program
/// has them and as boxes; some with a hollow.
fn solid(numbers: &mut Numbers, near: [f64; 2], round: u32) -> (Solid, Boxes) {
    let axes = turned(numbers.between(0.0, 6.2), numbers.between(-0.7, 0.7));
    let sizes = match round % 3 {
        0 => [numbers.between(0.5, 4.0), 0.2, 0.2],
        1 => [numbers.between(2.0, 6.0), numbers.between(1.0, 4.0), 0.06],
        _ => [numbers.between(0.5, 3.0), numbers.between(0.2, 1.0), numbers.between(0.3, 2.0)],
    };
    let edges = [0, 1, 2].map(|n: usize| axes[n].map(|part| part * sizes[n]));
    let corner = [near[0], near[1], numbers.between(0.0, 2.6)];
    let [a, b, c] = edges;
    if round % 4 == 3 {
        // Two boxes in an L.
        let at = |u: f64, v: f64| step(step(corner, a, u), b, v);
        let face = [at(0., 0.), at(2., 0.), at(2., 1.), at(1., 1.), at(1., 2.), at(0., 2.)];
        let boxes = vec![(corner, [step([0.0; 3], a, 2.0), b, c]), (at(0., 1.), edges)];
        return (Solid::pushed(&face, c), Boxes(boxes));
    }
    let face =
        [corner, step(corner, a, 1.0), step(step(corner, a, 1.0), b, 1.0), step(corner, b, 1.0)];
    (Solid::pushed(&face, c), Boxes(vec![(corner, edges)]))
}

/// Signed distance of a point to a car 2 in high, on the rails.
fn from_car(corners: &Corners, [x, y, z]: Spot) -> f64 {
    let (level, up) = (apart(corners, [x, y]), (z - 2.0).max(-z));
    if level > 0.0 && up > 0.0 { level.hypot(up) } else { level.max(up) }
}

/// The least over the points of boxes and the places of a car: on a net, then
/// from the best of it by ever smaller steps. The signed distance to a car has
/// one hollow over a box, so the last step is near the least there is.
fn nearest(walked: &Walked, car: &Car, length: f64, boxes: &Boxes) -> f64 {
    let set = |rear: f64| set_down(walked, car, rear);
    let of =
        |rear: f64, which: usize, shares: [f64; 3]| from_car(&set(rear), boxes.at(which, shares));
    let net: Vec<f64> = (0..=4).map(|n| f64::from(n) / 4.0).collect();
    let mut tried: Vec<(f64, f64, usize, [f64; 3])> = Vec::new();
    let from = -car.length - car.centres / 2.0;
    for n in 0..((length + 2.0 * car.length) / 0.1) as usize {
        let rear = from + n as f64 * 0.1;
        let corners = set(rear);
        for which in 0..boxes.0.len() {
            let mut best = (f64::INFINITY, rear, which, [0.0; 3]);
            for u in &net {
                for v in &net {
                    for w in &net {
                        let far = from_car(&corners, boxes.at(which, [*u, *v, *w]));
                        if far < best.0 {
                            best = (far, rear, which, [*u, *v, *w]);
                        }
                    }
                }
            }
            tried.push(best);
        }
    }
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut numbers = Numbers(7);
    let follow = |&(far, rear, which, shares): &(f64, f64, usize, [f64; 3])| {
        let (mut best, mut rear, mut shares) = (far, rear, shares);
        let (mut along, mut wide) = (0.1, 0.25);
        for _ in 0..45 {
            for _ in 0..40 {
                let at = rear + along * numbers.between(-1.0, 1.0);
                let moved =
                    shares.map(|it| (it + wide * numbers.between(-1.0, 1.0)).clamp(0.0, 1.0));
                let far = of(at, which, moved);
                if far < best {
                    (best, rear, shares) = (far, at, moved);
                }
            }
            (along, wide) = (along * 0.8, wide * 0.8);
        }
        best
    };
    tried.iter().step_by(3).take(8).map(follow).fold(tried[0].0, f64::min)
}

/// How near a car comes to a solid, against the car set down all along and the
/// solid walked all over.
#[test]
fn solids_stand_as_far_from_the_cars_as_walking_over_them_says() {
    let mut numbers = Numbers(20_261_127);
    let (mut under, mut over, mut meet) = (0.0_f64, 0.0_f64, 0);
    for round in 0..24 {
        let (pieces, chain) = track(&mut numbers);
        let length = chain.length();
        let long = numbers.between(4.0, 9.0);
        let car = Car {
            length: long,
            centres: long * numbers.between(0.6, 0.85),
            width: numbers.between(0.9, 1.5),
        };
        let section = Section::rectangle(car.width / 2.0, 0.0, 2.0).expect("a section");
        let half = car.length / 2.0;
        let body = Body { centres: car.centres, blocks: vec![Block::new([-half, half], section)] };
        let sweep = Sweep::new(&chain, body, 0.0).expect("it goes round 15 in");
        let walked = Walked::of(&pieces, chain.spot(0.0).heading, 2.5 * car.length);
        let spot = chain.spot(numbers.between(0.0, length));
        let off = numbers.between(-2.5, 2.5);
        let near = [spot.at[0] - spot.heading.sin() * off, spot.at[1] + spot.heading.cos() * off];
        let (solid, boxes) = solid(&mut numbers, near, round);
        let brute = nearest(&walked, &car, length, &boxes);
        let found = sweep.nearest(&solid);
        meet += u32::from(brute < 0.0);
        under = under.max(found.clear - brute);
        // Walking finds no less than there is; that there is as little, the point
        // that is named shows: it is of the solid, and a car comes as near to it.
        assert!(boxes.hold(found.at), "round {round}: {:?} is not of the solid", found.at);
        over = over.max(at_point(&walked, &car, length, found.at) - found.clear);
    }
    println!(
        "solids: {:.3} thou less safe, {:.3} thou too near; {meet} of 24 meet",
        under * 1e3,
        over * 1e3
    );
    assert!(meet > 4, "some are to meet the car");
    assert!(under <= 0.001, "said to be further off than they are by {under} in");
    assert!(over <= 0.001, "said to be nearer than they are by {over} in");
}
