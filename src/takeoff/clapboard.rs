//! Courses of clapboard between fixed lines.

use std::sync::Arc;

use super::courses::{CourseRun, between_lines};
use super::part::{Kind, Piece};
use super::skin::{Skin, across, as_built, between, said};
use super::zone::Zone;
use super::{Run, Shop};
use crate::building::{Origin, Sized, Wall, Why, no_area};
use crate::finding::{Finding, Subject};
use crate::quantity::slack::TOUCH;
use crate::quantity::{Area, Compressed, CompressedLength};
use crate::sums::rows::nearest_whole;

type Full = CompressedLength;

/// The courses of a zone.
pub(super) fn pieces(shop: &mut Shop<'_>, skin: &Skin<'_>, zone: &Zone<'_>) -> Vec<Piece> {
    let wall = &skin.wall;
    let exposure = shop.size(zone.cladding.exposure.as_ref(), Full::inches(4.5));
    let runs = between_lines(&lines(shop, wall, zone), exposure);
    for run in &runs {
        let off = 100.0 * (run.exposure / exposure - 1.0);
        if off.abs() > 5.0 {
            shop.findings.push(Finding::look(
                Subject::Member(zone.cladding.name.clone()),
                format!(
                    "{} courses on {} show {off:+.1} percent of the exposure between {:.1} and {:.1} in",
                    run.count,
                    wall.name,
                    run.from.in_inches(),
                    run.to.in_inches()
                ),
                "shift a sill or head line, or the foot of the cladding",
            ));
        }
    }
    shop.runs.extend(runs.iter().map(|run| Run {
        section: format!("{} strip", zone.cladding.name),
        face: wall.name.clone(),
        count: run.count,
        length: run.to - run.from,
        nominal: exposure,
        used: run.exposure,
        by_width: false,
    }));
    runs.iter().flat_map(|run| courses(shop, skin, zone, run)).collect()
}

/// Lines the courses should meet: foot, sills, heads, eave, top.
fn lines(shop: &Shop<'_>, wall: &Wall, zone: &Zone<'_>) -> Vec<Full> {
    let apart = Full::inches(0.5);
    let eave = wall.eave();
    let mut lines: Vec<Full> = match &zone.cladding.lines {
        Some(said) => said.iter().map(|size| shop.size(Some(size), zone.from)).collect(),
        None => wall.holes.iter().flat_map(|hole| [hole.foot, hole.head()]).chain([eave]).collect(),
    };
    lines.retain(|line| *line > zone.from + apart && *line < zone.to - apart);
    lines.extend([zone.from, zone.to]);
    lines.sort_by(Full::total_cmp);
    lines.dedup_by(|a, b| a.agrees(*b, apart));
    lines
}

fn courses(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    run: &CourseRun<Compressed>,
) -> Vec<Piece> {
    let wall = &skin.cut;
    let exposure = course(shop, skin, zone, run);
    let foot = line_why(shop, skin, zone, run.from);
    let mut pieces = Vec::new();
    for course in 0..run.count {
        let low = run.from + run.exposure * f64::from(course);
        let high = low + run.exposure;
        let Some((left, right)) = wall.width_at(low) else { continue };
        let Some((left, right)) = skin.within(left, right) else { continue };
        for (from, to) in stretches(wall, (left, right), (low, high)) {
            let (count, length) = shop.split(&format!("{} strip", zone.cladding.name), to - from);
            let number = Origin::plain(
                "course",
                f64::from(course),
                Why::Default("counted from the line below"),
            );
            let rule = "so many courses above the line";
            let of = [&foot, &exposure.origin, &number];
            let level = Origin::rule("foot of the course", rule, &of, |of| of[0] + of[1] * of[2]);
            let why = |x| skin.at_why(x, || skin.slope_why(x, &level));
            let whole = across("length of the course", &why(from), &why(to));
            let each = shop.shared(&whole, count);
            for piece in 0..count {
                let at = from + length * f64::from(piece);
                let sizes = (each.clone(), exposure.clone());
                pieces.push(strip(wall, zone, (at, at + length), (low, high), sizes));
            }
        }
    }
    pieces
}

/// A course less the openings that take its whole height.
fn stretches(
    wall: &Wall,
    (left, right): (Full, Full),
    (low, high): (Full, Full),
) -> Vec<(Full, Full)> {
    let slack = Full::inches(0.01);
    let mut holes: Vec<(Full, Full)> = wall
        .holes
        .iter()
        .filter(|hole| hole.foot <= low + slack && hole.head() >= high - slack)
        .map(|hole| (hole.left, hole.right()))
        .collect();
    holes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut open = Vec::new();
    let mut at = left;
    for (from, to) in holes {
        if from > at + slack {
            open.push((at, from));
        }
        at = at.max(to);
    }
    if right > at + slack {
        open.push((at, right));
    }
    open
}

/// What a course shows, and why.
fn course(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    run: &CourseRun<Compressed>,
) -> Sized<Compressed> {
    let nominal = shop.size(zone.cladding.exposure.as_ref(), Full::inches(4.5));
    let nominal = said(
        "exposure",
        nominal,
        zone.cladding.exposure.as_ref(),
        "4 1/2 in, common practice, no source",
    );
    let [low, high] = [run.from, run.to].map(|line| line_why(shop, skin, zone, line));
    let gap = between("between the fixed lines", &low, &high).origin;
    let rule = "whole courses between the fixed lines, nearest to the exposure";
    let shown = Sized::rule("exposure", rule, &[&gap, &nominal.origin], |of| {
        of[0] / nearest_whole(of[0] / of[1]).max(1.0)
    });
    if shown.length.agrees(run.exposure, Full::inches(TOUCH)) {
        return shown;
    }
    let why = Why::Default("as near to the exposure as whole courses come");
    let count = Origin::plain("courses", f64::from(run.count), why);
    Sized::rule("exposure", rule, &[&gap, &count], |of| of[0] / of[1])
}

/// Why a line that courses meet is where it is.
fn line_why(shop: &Shop<'_>, skin: &Skin<'_>, zone: &Zone<'_>, y: Full) -> Arc<Origin> {
    let near = |value: f64| (value - y.in_inches()).abs() < TOUCH;
    let ends = [Some(&zone.why.0), zone.why.1.as_ref(), Some(&skin.wall.why.eave)];
    if let Some(end) = ends.into_iter().flatten().find(|it| near(it.value)) {
        return Arc::clone(end);
    }
    for size in zone.cladding.lines.iter().flatten() {
        let line = shop.size(Some(size), zone.from);
        if near(line.in_inches()) {
            return said("line", line, Some(size), "").origin;
        }
    }
    skin.height_why(y, &skin.layer.left.origin, || as_built("line of the courses", y))
}

fn strip(
    wall: &Wall,
    zone: &Zone<'_>,
    (left, right): (Full, Full),
    (low, high): (Full, Full),
    (length, exposure): (Sized<Compressed>, Sized<Compressed>),
) -> Piece {
    let name = &zone.cladding.name;
    let mut covers = wall.area((left, right), (low, high));
    let notched = notches(wall, (left, right), (low, high));
    covers -= notched;
    let mut piece = Piece::stick(Kind::Clapboard, length, exposure)
        .of(format!("{name} strip"))
        .level_at(left, low);
    if notched.in_square_inches() > 0.01 {
        piece = piece.note("notched round an opening");
    } else if wall.top_at(left) < high - Full::inches(0.01)
        || wall.top_at(right) < high - Full::inches(0.01)
    {
        piece = piece.note("ends cut to the rake");
    }
    piece.covers = covers;
    if notched.in_square_inches() > 0.01 || !wall.is_level((left, right), (low, high)) {
        let shapes = wall.shapes((left, right), (low, high), &wall.holes);
        if let [only] = shapes.as_slice() {
            piece = piece.shaped(only);
        }
    }
    piece
}

fn notches(wall: &Wall, across: (Full, Full), (low, high): (Full, Full)) -> Area<Compressed> {
    let overlap = |from: (Full, Full), to: (Full, Full)| {
        (from.1.min(to.1) - from.0.max(to.0)).max(Full::ZERO)
    };
    wall.holes
        .iter()
        .map(|hole| {
            overlap(across, (hole.left, hole.right()))
                * overlap((low, high), (hole.foot, hole.head()))
        })
        .fold(no_area(), |sum, area| sum + area)
}
