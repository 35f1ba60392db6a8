//! Lengths from pictures: cross-ratio, squared walls, heights, known objects.

use super::{above_zero, by};
use crate::bench::answer::{Answer, Figure, plain};
use crate::bench::compare::{Comparison, SetBack};
use crate::bench::desk::Desk;
use crate::bench::length::{self, Ask, Given as Known};
use crate::bench::said::{Given, Line, any, named};
use crate::estimate::budget::propagate;
use crate::finding::Stop;
use crate::photo::ruler::depth_error;
use crate::quantity::{Paper, Prototype, Reading, Space, Unit};
use crate::quantity::{Piece, PrototypeLength, Sign, Stated, Written, parse};
use crate::solve::camera::homography::Homography;
use crate::solve::camera::single_view::{
    Shape, Upright, cross_ratio, fourth_on_line, height as one_view, height_level, point,
    rectangle_shape,
};

const CAMERA: &str =
    "Hartley and Zisserman, Multiple View Geometry, 2nd ed. 2004, chapters 2 and 4, from memory";

/// The cross-ratio of four points.
pub(super) fn cross(line: &mut Line<'_>, _desk: &Desk<'_>) -> Result<Answer, Stop> {
    let (given, unit) = line.series();
    let over = unit.map_or(1.0, Unit::in_inches);
    let [a, b, c, d] = given.as_slice() else {
        return Err(line.missing(
            "working out a cross-ratio",
            "four points on a line",
            "cross-ratio 0, 1, 2, 3",
        ));
    };
    let at = |given: &Given| given.number() / over;
    let found = cross_ratio(at(a), at(b), at(c), at(d));
    Ok(Answer::new("cross-ratio", "the cross-ratio of four points")
        .says(format!("{found:.10}: the same in the picture and on the wall."))
        .number("cross-ratio", found, "")
        .by("((c - a)(d - b)) / ((c - b)(d - a))", CAMERA, "0, 1, 2, 3: (2 x 2) / (1 x 3) = 4/3"))
}

/// A fourth point of a wall line: pairs of place on the wall and in the picture.
pub(super) fn fourth(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "finding a point on a wall";
    let example =
        "fourth point: 0 ft at 100, 10 ft at 366.6667, 40 ft at 633.3333; point at 455.5556";
    let mut walls: Vec<f64> = Vec::new();
    let mut seen: Vec<f64> = Vec::new();
    for _ in 0..3 {
        let wall = line.next(|piece| matches!(piece, Piece::Length(..)));
        let pixel = line.first_number();
        let (Some(wall), Some(pixel)) = (wall, pixel) else {
            return Err(line.missing(
                doing,
                "three known places, each with its place in the picture",
                example,
            ));
        };
        walls.push(wall.number());
        seen.push(pixel.number());
    }
    let asked = line
        .first_number()
        .ok_or_else(|| line.missing(doing, "the place asked for in the picture", example))?;
    let known = [(seen[0], walls[0]), (seen[1], walls[1]), (seen[2], walls[2])];
    let inches = fourth_on_line(known, asked.number()).ok_or_else(|| {
        Stop::new(doing, "the points fix no place", "three different points of one line")
    })?;
    let full = PrototypeLength::inches(inches);
    Ok(Answer::new("fourth", "a fourth point of a wall line")
        .says(format!("{:.6} ft ({}) along the wall.", full.in_feet(), desk.look.full.show(&full)))
        .number("along the wall", full.in_feet(), "ft")
        .figure(Figure::full("along the wall, inches", full, by(desk)))
        .by(
            "the cross-ratio of four points of a line is the same in the picture and on the wall",
            CAMERA,
            "x' = (900 x + 2000) / (x + 20): 455.5556 is 16 ft",
        ))
}

/// A place on a wall squared by four corners.
pub(super) fn square_up(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "squaring up a picture";
    let example = "square up 212,118 1430,264 1418,742 198,880 as 480 x 168 in; at 820,400";
    let size = line.group(true);
    let points = line.pairs();
    let (Some([(wide, true), (high, true)]), [a, b, c, d, asked @ ..]) =
        (size.as_deref(), points.as_slice())
    else {
        return Err(line.missing(doing, "four corners and the size of the wall", example));
    };
    let (w, h) = (wide.full().in_inches(), high.full().in_inches());
    let wall = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
    let map = Homography::fit(&[*a, *b, *c, *d], &wall).ok_or_else(|| {
        Stop::new(
            doing,
            "the corners are no rectangle seen askew",
            "clockwise from the top left, no three on a line",
        )
    })?;
    let mut answer =
        Answer::new("square up", format!("a wall of {} x {} in squared", plain(w), plain(h)));
    let asked = if asked.is_empty() { points.as_slice() } else { asked };
    for [x, y] in asked {
        let Some([across, down]) = map.map([*x, *y]) else { continue };
        let (across, down) = (PrototypeLength::inches(across), PrototypeLength::inches(down));
        answer = answer
            .says(format!(
                "({}, {}) is {:.10} in across, {:.10} in down.",
                plain(*x),
                plain(*y),
                across.in_inches(),
                down.in_inches()
            ))
            .figure(Figure::full(
                format!("({}, {}) across", plain(*x), plain(*y)),
                across,
                by(desk),
            ))
            .figure(Figure::full(format!("({}, {}) down", plain(*x), plain(*y)), down, by(desk)));
    }
    Ok(answer.by(
        "the one projection that takes four corners to four",
        CAMERA,
        "corners clockwise from the top left; down is counted from the top",
    ))
}

/// Focal length and shape of a rectangle.
pub(super) fn rectangle(line: &mut Line<'_>, _desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "finding the shape of a rectangle";
    let points = line.pairs();
    let [a, b, c, d, centre] = points.as_slice() else {
        let example = "rectangle 609.6,251.3 1562.8,306.6 604.1,775 1476.9,1029.1 centre 960,640";
        return Err(line.missing(doing, "four corners and the centre of the picture", example));
    };
    let answer = Answer::new("rectangle", "a rectangle seen askew");
    let answer = match rectangle_shape([*a, *b, *c, *d], *centre) {
        Shape::Projective { focal, aspect } => answer
            .says(format!("Wide to high {aspect:.10}; focal length {focal:.8} px."))
            .number("wide to high", aspect, "")
            .number("focal length", focal, "px"),
        Shape::Affine { aspect } => answer
            .says(format!(
                "Wide to high {} as it lies in the picture; it tells no focal length.",
                plain(aspect)
            ))
            .number("wide to high", aspect, "")
            .look(
                "two edges are parallel in the picture: no focal length follows",
                "take a picture from the side",
            ),
        Shape::Impossible => {
            return Err(Stop::new(
                doing,
                "no camera sees a rectangle so",
                "corners in the order left top, right top, left foot, right foot",
            ));
        }
    };
    Ok(answer.by(
        "vanishing points of its edges stand square to each other",
        "Zhang and He, Whiteboard scanning and image enhancement, 2003, from memory",
        "corners: left top, right top, left foot, right foot",
    ))
}

/// A height: by shadow, by sights, by a level camera, by one view.
pub(super) fn height(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if line.has(&["shadow", "shadows"]) {
        return by_shadow(line, desk);
    }
    if line.count(|piece| matches!(piece, Piece::Angle(_))) > 0 {
        return by_sights(line, desk);
    }
    if line.has(&["vertical", "vanishing", "reference"]) {
        return by_one_view(line, desk);
    }
    let doing = "finding a height";
    let example = "height eye 5.5 ft, base 900, horizon 520, top 130";
    let eye = line.length(any(&["eye", "camera"]));
    let (base, horizon, top) = (
        line.number(&["base", "foot", "bottom"]),
        line.number(&["horizon"]),
        line.number(&["top", "head"]),
    );
    let (Some(eye), Some(base), Some(horizon), Some(top)) = (eye, base, horizon, top) else {
        return Err(line.missing(doing, "the eye, the base, the horizon or the top", example));
    };
    let inputs = [
        (eye.full().in_feet(), eye.spread() / 12.0),
        (base.number(), base.spread()),
        (horizon.number(), horizon.spread()),
        (top.number(), top.spread()),
    ];
    let formula = |[eye, base, horizon, top]: [f64; 4]| height_level(eye, base, horizon, top);
    let feet = formula(inputs.map(|(value, _)| value));
    // To first order: the slope at the values, not over a whole sigma.
    let small = inputs.map(|(value, sigma)| (value, sigma * 1e-4));
    let sigma = propagate(small, formula).1 * 1e4;
    Ok(found(Answer::new("height", "a height from a level camera"), feet, sigma, desk).by(
        "eye height x (base - top) / (base - horizon), in rows of the picture",
        "similar triangles; uncertainty JCGM 100:2008 equation 10",
        format!(
            "{} x ({} - {}) / ({} - {}) = {feet:.6}",
            plain(inputs[0].0),
            plain(inputs[1].0),
            plain(inputs[3].0),
            plain(inputs[1].0),
            plain(inputs[2].0)
        ),
    ))
}

fn found(answer: Answer, feet: f64, sigma: f64, desk: &Desk<'_>) -> Answer {
    let full = PrototypeLength::feet(feet);
    let spread = if sigma > 0.0 { format!(" \u{b1} {sigma:.6}") } else { String::new() };
    let answer = answer
        .says(format!("{feet:.6}{spread} ft: {}.", super::both(full, desk)))
        .number("height", feet, "ft")
        .figure(Figure::full("height, inches", full, by(desk)));
    if sigma > 0.0 { answer.number("\u{b1} 1 sigma", sigma, "ft") } else { answer }
}

fn by_shadow(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    // The height stands furthest from the word; its own shadow nearest to it.
    const SHADOWS: [&str; 5] = ["shadow", "shadows", "casts", "throws", "cast"];
    let mut given: Vec<Given> =
        line.lengths([any(&[]), any(&[]), any(&[])]).into_iter().flatten().collect();
    let from_shadow = |given: &Given| line.cost(&SHADOWS, given.at);
    given.sort_by(|a, b| from_shadow(b).total_cmp(&from_shadow(a)));
    let stick = (!given.is_empty()).then(|| given.remove(0));
    if let Some(stick) = stick {
        let from_stick = |given: &Given| line.distance(stick.at, given.at);
        given.sort_by(|a, b| from_stick(a).total_cmp(&from_stick(b)));
    }
    let (own, other) = (given.first().copied(), given.get(1).copied());
    let (Some(stick), Some(own), Some(other)) = (stick, own, other) else {
        return Err(line.missing(
            "finding a height by shadow",
            "the stick, its shadow, or the building's",
            "stick 5 ft, its shadow 4 ft, building shadow 24 ft",
        ));
    };
    above_zero("shadow of the stick", own.number())?;
    let feet = |given: Given| (given.full().in_feet(), given.spread() / 12.0);
    let (height, sigma) = propagate([feet(stick), feet(own), feet(other)], |[h, s, b]| h * b / s);
    Ok(found(Answer::new("height", "a height by shadow"), height, sigma, desk).by(
        "stick x building's shadow / stick's shadow, at the same minute on level ground",
        "similar triangles",
        format!(
            "{} x {} / {} = {height:.4}",
            plain(feet(stick).0),
            plain(feet(other).0),
            plain(feet(own).0)
        ),
    ))
}

fn by_sights(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let distance = line.length(any(&["at", "distance", "away", "from"]));
    let up = line.angle();
    let down = line.angle();
    let (Some(distance), Some(up)) = (distance, up) else {
        return Err(line.missing(
            "finding a height by sights",
            "the distance, or the sight to the top",
            "height at 60 ft, sight 24 deg up, 5 deg down",
        ));
    };
    let eye = line.length(named(&["eye"]));
    let inputs = [
        (distance.full().in_feet(), distance.spread() / 12.0),
        (up.number(), up.spread()),
        (down.map_or(0.0, Given::number), down.map_or(0.0, Given::spread)),
    ];
    let low = eye.map_or(0.0, |eye| eye.full().in_feet());
    let (height, sigma) = propagate(inputs, |[d, a, b]| {
        d * (a.to_radians().tan() + b.abs().to_radians().tan()) + low
    });
    let answer = found(Answer::new("height", "a height by sights"), height, sigma, desk).by(
        "level distance x (tan of the sight up + tan of the sight down)",
        "plane trigonometry; a degree is some 1.8 percent of the distance",
        format!(
            "{} x (tan {} + tan {}) = {height:.4}",
            plain(inputs[0].0),
            plain(inputs[1].0),
            plain(inputs[2].0.abs())
        ),
    );
    Ok(if down.is_none() && eye.is_none() {
        answer.look(
            "no sight to the foot and no height of the eye: this is the height above the eye",
            "add: 5 deg down, or eye 5.5 ft",
        )
    } else {
        answer
    })
}

fn by_one_view(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "finding a height in one view";
    let example = "height vertical 501.99,11980.69; horizon 0,354.11 1600,396.01; reference 6 ft 717.67,601.95 722.42,351.75; object 1207.39,531.71 1247.43,-118.11";
    let known = line.length(any(&["reference", "known"]));
    let points = line.pairs();
    let (Some(known), [v, left, right, low, high, foot, head]) = (known, points.as_slice()) else {
        return Err(line.missing(
            doing,
            "the vertical vanishing point, two points of the horizon, a reference or the object",
            example,
        ));
    };
    let reference = (Upright { base: *low, top: *high }, known.full().in_feet());
    let feet = one_view(point(*v), [*left, *right], reference, Upright { base: *foot, top: *head });
    Ok(found(Answer::new("height", "a height in one view"), feet, 0.0, desk).by(
        "height goes as |b x t| / (|l . b| |v x t|); a known upright fixes the factor",
        "Criminisi, Reid and Zisserman, Single View Metrology, 2000, formula from memory",
        "vanishing point of uprights, horizon, reference foot and head, object foot and head",
    ))
}

/// A length on a print beside an object of known size.
pub(super) fn known(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "comparing on a print";
    let example = "house-door 23 \u{b1} 0.3 mm, wall 61.5 \u{b1} 0.3 mm";
    let object =
        desk.catalog.objects.rows.iter().find(|row| line.has(&[&row.key.replace('-', " ")]));
    let known = match object {
        Some(row) => Stated { value: row.size.clone(), sigma: Some(row.spread.clone()) },
        None => {
            let given = line
                .length(any(&["known", "door", "is"]))
                .ok_or_else(|| line.missing(doing, "the known object", example))?;
            stated::<Prototype>(given, doing)?
        }
    };
    let nearer = line.length(named(&["nearer", "front", "ahead"]));
    let camera = line.length(named(&["camera", "away", "distance"]));
    let seen: Vec<Given> =
        std::iter::from_fn(|| line.next(|piece| matches!(piece, Piece::Length(..)))).collect();
    let [on_print, wanted] = seen.as_slice() else {
        return Err(line.missing(doing, "the two readings on the print", example));
    };
    let set_back = match (nearer, camera) {
        (Some(nearer), Some(camera)) => {
            Some(SetBack { nearer: stated(nearer, doing)?, distance: stated(camera, doing)? })
        }
        _ => None,
    };
    let comparison = Comparison {
        known,
        known_print: stated::<Paper>(*on_print, doing)?,
        print: stated::<Paper>(*wanted, doing)?,
        set_back,
    };
    let ask =
        Ask { given: Known::Compared(Box::new(comparison)), scale: desk.scale.clone(), to: None };
    let outcome = length::answer(&ask, desk.catalog)?;
    let bench = &outcome.value;
    let full = bench.full.length();
    let sigma = bench.full_sigma.map_or(0.0, |sigma| sigma.in_feet());
    let title = object.map_or("a length beside a known object".to_owned(), |row| {
        format!("a length beside a {}", row.name)
    });
    let mut answer = found(Answer::new("known object", title), full.in_feet(), sigma, desk).by(
        "known size x wanted on the print / known on the print, in one plane square to the line of sight",
        object.map_or("proportion".to_owned(), |row| row.source.clone()),
        format!("{} x {} / {}", desk.look.full.show(&full), plain(wanted.number() * 25.4), plain(on_print.number() * 25.4)),
    );
    answer.worked = format!(
        "{} mm over {} mm is {} of the known object",
        plain(wanted.number() * 25.4),
        plain(on_print.number() * 25.4),
        plain(wanted.number() / on_print.number())
    );
    answer.findings.extend(outcome.findings);
    Ok(answer)
}

/// A quantity as the comparison wants it.
fn stated<S: Space>(given: Given, doing: &str) -> Result<Stated<Written<S>>, Stop> {
    let written = |inches: crate::quantity::Rational| {
        parse::<S>(&format!("{inches} in"), &Reading::default())
            .map_err(|error| Stop::new(doing, error.message, error.hint))
    };
    Ok(Stated { value: written(given.value)?, sigma: given.sigma.map(written).transpose()? })
}

/// How much too big something nearer looks.
pub(super) fn set_back(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if line.has_sign(&[Sign::PlusMinus]) && line.lengths_left() > 3 {
        return known(line, desk);
    }
    let [ahead, distance] = line.lengths([
        named(&["front", "nearer", "ahead", "before"]),
        any(&["at", "away", "camera", "distance", "wall"]),
    ]);
    let (Some(ahead), Some(distance)) = (ahead, distance) else {
        return Err(line.missing(
            "correcting for a set-back",
            "how far it stands in front, or how far the wall is",
            "6 ft in front of a wall at 60 ft",
        ));
    };
    let (d, far) = (ahead.full().in_feet(), distance.full().in_feet());
    let error = depth_error(d, far).ok_or_else(|| {
        Stop::new(
            "correcting for a set-back",
            "it would stand at the camera or behind it",
            "the distance is from the camera to the wall",
        )
    })?;
    Ok(Answer::new("set back", format!("{} ft in front of a wall at {} ft", plain(d), plain(far)))
        .says(format!("It looks {:.4} percent too big against the wall; multiply what it measures there by {:.6}.", 100.0 * error, 1.0 + error))
        .number("too big by", 100.0 * error, "%")
        .number("multiply by", 1.0 + error, "")
        .by("d / (D - d), D from the camera to the wall", "similar triangles", format!("{} / ({} - {}) = {}", plain(d), plain(far), plain(d), plain(error))))
}
