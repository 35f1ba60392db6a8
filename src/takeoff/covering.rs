//! What lies on a roof: shingles in courses, corrugated sheet.

use super::courses::{boards, slope_courses, tiers};
use super::part::{Kind, Piece};
use super::roof::Alike;
use super::skin::{as_built, said};
use super::{Courses, Run, Shop, iron};
use crate::building::{self, Body, Origin, Sized, Why, shape};
use crate::finding::{Finding, Subject};
use crate::job::body::Roof;
use crate::job::building::{Cladding, CladdingKind, Remainder};
use crate::quantity::slack::{NEAR, NOTHING, TOUCH, WHOLE};
use crate::quantity::{Compressed, CompressedLength};
use crate::sums::rows::nearest_whole;

type Full = CompressedLength;

/// How far the butts of the first course hang over the eave, along the slope
/// (trade: 1 1/2 in).
const HANG: f64 = 1.5;

/// The covering of planes alike.
pub(super) fn pieces(
    shop: &mut Shop<'_>,
    body: &Body,
    roof: &Roof,
    group: &Alike<'_>,
) -> Vec<Piece> {
    let job = shop.job;
    let named = roof.cladding.as_ref();
    let cladding =
        named.and_then(|name| job.claddings.iter().find(|cladding| &cladding.name == name));
    let Some(cladding) = cladding else { return Vec::new() };
    match cladding.kind {
        CladdingKind::Shingle | CladdingKind::Clapboard => shingles(shop, body, cladding, group),
        CladdingKind::Corrugated => sheets(shop, cladding, group),
        CladdingKind::Boards | CladdingKind::BoardAndBatten | CladdingKind::Brick => {
            shop.findings.push(Finding::look(
                Subject::Member(cladding.name.clone()),
                format!("{} on the roof is not taken off", cladding.name),
                "roofs take shingles or corrugated sheet",
            ));
            Vec::new()
        }
    }
}

/// Courses that show and one starter a slope. The butts hang over the eave; a
/// last course that would show less than a third is shared out.
fn shingles(
    shop: &mut Shop<'_>,
    body: &Body,
    cladding: &Cladding,
    group: &Alike<'_>,
) -> Vec<Piece> {
    let plane = group.plane;
    let nominal = shop.size(cladding.exposure.as_ref(), Full::inches(5.0));
    let up = plane.slope.length + Full::inches(HANG);
    let (courses, exposure) = slope_courses(up, nominal);
    let section = format!("{} strip", cladding.name);
    shop.runs.push(Run {
        section: section.clone(),
        face: format!("{}/roof", body.name),
        count: courses,
        length: up,
        nominal,
        used: exposure,
        by_width: false,
    });
    let last = up - exposure * f64::from(courses.saturating_sub(1));
    shop.courses.push(Courses {
        roof: format!("{}/roof", body.name),
        over: plane.over,
        count: courses,
        exposure,
        last,
    });
    let hang =
        Origin::plain("hang", HANG, Why::Default("1 1/2 in over the eave: trade reference, 4.10"));
    let wanted =
        said("exposure", nominal, cladding.exposure.as_ref(), "5 in, common practice, no source");
    let shown = Sized::rule(
        "exposure",
        "whole courses up the slope and its hang",
        &[&plane.slope.origin, &hang, &wanted.origin],
        |of| {
            let up = of[0] + of[1];
            let count = (up / of[2] - WHOLE).ceil().max(1.0);
            let last = up - of[2] * (count - 1.0);
            if last < of[2] / 3.0 { up / nearest_whole(up / of[2]).max(1.0) } else { of[2] }
        },
    );
    let mean = plane.area() / plane.slope.length.in_inches().max(NOTHING);
    let whole = if (mean - plane.eave.length.in_inches()).abs() < NEAR {
        plane.eave.clone()
    } else {
        Sized::rule(
            "mean length of a course",
            "half of eave and ridge",
            &[&plane.eave.origin, &plane.ridge.origin],
            |of| (of[0] + of[1]) / 2.0,
        )
    };
    let whole = if (whole.length.in_inches() - mean).abs() < 1e-3 {
        whole
    } else {
        beside_valleys(shop, body, plane, mean)
    };
    let (pieces, _) = shop.split(&section, whole.length);
    let each = shop.shared(&whole, pieces);
    let strip = |covers: bool, note: String| {
        let mut piece =
            Piece::stick(Kind::Shingle, each.clone(), shown.clone()).of(section.clone()).note(note);
        if covers {
            // What hangs over the eave covers nothing of the roof.
            piece.covers = each.length * (plane.slope.length / f64::from(courses));
        }
        piece
    };
    let tail = if last.agrees(exposure, Full::inches(0.005)) {
        String::new()
    } else {
        format!("; the last shows {:.2} in", last.in_inches())
    };
    let note = format!("{courses} courses a slope, {:.4} in each{tail}", exposure.in_inches());
    vec![
        strip(true, note).times(group.count * courses * pieces),
        strip(false, "starter: doubled at the eave".to_owned()).times(group.count * pieces),
    ]
}

/// The mean length of a course on a plane that another roof runs into: half of
/// eave and ridge, less the triangle between its valleys.
fn beside_valleys(
    shop: &Shop<'_>,
    body: &Body,
    plane: &building::RoofPlane,
    mean: f64,
) -> Sized<Compressed> {
    let what = "mean length of a course";
    let hosted = shop.building.valleys.iter().filter(|valley| valley.host == body.name);
    let wings = hosted.filter_map(|valley| shop.building.body(&valley.body));
    let mut each = wings.map(|wing| {
        let of = [
            &plane.eave.origin,
            &plane.ridge.origin,
            &plane.slope.origin,
            &body.pitch,
            &wing.length.origin,
            &wing.overhangs[0],
            &wing.pitch,
        ];
        let rule = "half of eave and ridge, less what lies between the valleys";
        Sized::rule(what, rule, &of, |of| {
            let along = of[4] + 2.0 * of[5];
            let up = along / 2.0 * of[6] / of[3] * of[3].hypot(1.0);
            (of[0] + of[1]) / 2.0 - along * up / 2.0 / of[2]
        })
    });
    let found = each.find(|it| (it.length.in_inches() - mean).abs() < 1e-3);
    found.unwrap_or_else(|| Sized::of(as_built(what, Full::inches(mean))))
}

fn sheets(shop: &Shop<'_>, cladding: &Cladding, group: &Alike<'_>) -> Vec<Piece> {
    let plane = group.plane;
    let (cover, length, lap) = iron::sheet(shop, cladding);
    let [[left, right], _] = shape::bounds(&plane.outline);
    let row = boards(Full::inches(right - left), cover, Remainder::Leave);
    let slope = plane.slope.length;
    let count = tiers((slope - lap).max(Full::inches(1.0)), length, lap);
    let cover_why = said(
        "cover of a sheet",
        cover,
        cladding.unit.as_ref(),
        "24 in, common practice, no source",
    );
    let length_why = said(
        "length of a sheet",
        length,
        cladding.length.as_ref(),
        "10 ft, common practice, no source",
    );
    let lap_why = said("lap", lap, cladding.lap.as_ref(), "6 in, common practice, no source");
    let mut pieces = Vec::new();
    for edges in row.edges.windows(2) {
        for tier in 0..count {
            let foot = (length - lap) * f64::from(tier);
            let last = tier + 1 == count;
            let shown = if last { slope - foot } else { length - lap };
            let number = Origin::plain(
                "tiers under it",
                f64::from(tier),
                Why::Default("counted from the eave"),
            );
            let long = if last {
                let of = [&plane.slope.origin, &length_why.origin, &lap_why.origin, &number];
                Sized::rule("uppermost sheet", "the slope less the tiers under it", &of, |of| {
                    of[0] - of[3] * (of[1] - of[2])
                })
            } else {
                length_why.clone()
            };
            let wide = edges[1] - edges[0];
            let wide = if wide.agrees(cover, Full::inches(TOUCH)) {
                cover_why.clone()
            } else {
                Sized::rule(
                    "last sheet",
                    "what whole sheets leave of the eave",
                    &[&plane.eave.origin, &cover_why.origin],
                    |of| of[0] - (of[0] / of[1] - WHOLE).floor() * of[1],
                )
            };
            let mut piece = Piece::sheet(Kind::Iron, long, wide)
                .of(format!("{} sheet", cladding.name))
                .times(group.count);
            piece.covers = shown * (edges[1] - edges[0]);
            pieces.push(piece);
        }
    }
    pieces
}
