//! The track as the job says it -> a chain.

use super::chain::{Chain, Piece};
use crate::finding::Stop;
use crate::job::Job;
use crate::job::site::SiteTrack;
use crate::job::track::{Track, TrackPiece, Turn};
use crate::quantity::slack::EXACT;
use crate::quantity::{Model, PrototypeLength, Scale, parse_angle};

const DOING: &str = "laying the track";

/// Standard gauge: 4 ft 8 1/2 in.
const GAUGE: f64 = 56.5;

/// The track of a job: its pieces, else the curve of its site; nothing where
/// there is neither.
///
/// # Errors
///
/// Pieces that cannot be, each named.
pub(super) fn chain(job: &Job, scale: &Scale) -> Option<Result<Chain, Stop>> {
    let site = || job.site.as_ref().and_then(|site| site.track.as_ref());
    match &job.track {
        Some(track) if !track.pieces.is_empty() => {
            Some(pieces(track, 2.0 * half_gauge(Some(track), scale)))
        }
        Some(_) if site().is_none() => Some(Err(Stop::new(
            DOING,
            "the track has no pieces",
            "write [[track.piece]] with straight = \"12 in\"",
        ))),
        _ => site().map(curve),
    }
}

/// Half the gauge on the model.
pub(super) fn half_gauge(track: Option<&Track>, scale: &Scale) -> f64 {
    let said = track.and_then(|track| track.gauge.as_ref()).map(|gauge| gauge.length());
    let gauge = said.unwrap_or_else(|| scale.reduce(PrototypeLength::inches(GAUGE)));
    gauge.in_inches() / 2.0
}

fn pieces(track: &Track, gauge: f64) -> Result<Chain, Stop> {
    let heading = track.heading.as_deref().map_or(Ok(0.0), |text| angle(text, "the track"))?;
    let mut laid: Vec<Piece> = Vec::new();
    for (at, said) in track.pieces.iter().enumerate() {
        let before = laid.last().map_or(0.0, |piece| piece.curvature[1]);
        let mut piece = piece(at + 1, said, before)?;
        let from = laid.last().map_or(0.0, |piece| piece.lean[1]);
        piece.lean = lean(at + 1, said, &piece, from, gauge)?;
        laid.push(piece);
    }
    let at = [&track.at[0], &track.at[1]].map(|it| it.length().in_inches());
    Chain::new(at, heading, &laid).map_err(|error| {
        Stop::new(DOING, error.to_string(), "look at the pieces of [[track.piece]]")
    })
}

fn angle(text: &str, of: &str) -> Result<f64, Stop> {
    let read = parse_angle(text).map_err(|error| {
        let hint = if error.hint.is_empty() { "write 30 deg".to_owned() } else { error.hint };
        Stop::new(format!("reading an angle of {of}"), error.message, hint)
    })?;
    Ok(read.value.in_radians())
}

fn stop(at: usize, trouble: &str, hint: &str) -> Stop {
    Stop::new(DOING, format!("piece {at} {trouble}"), hint)
}

fn piece(at: usize, said: &TrackPiece, before: f64) -> Result<Piece, Stop> {
    let side = if said.turn == Turn::Left { 1.0 } else { -1.0 };
    match (&said.straight, &said.arc, &said.easement) {
        (Some(length), None, None) => Ok(Piece::straight(length.length().in_inches())),
        (None, Some(turn), None) => {
            let radius = bend(at, said.radius.as_ref(), "radius")?;
            let turn = angle(turn, &format!("piece {at}"))?.abs();
            Ok(Piece::arc(radius, turn * side))
        }
        (None, None, Some(length)) => {
            let to = match &said.to {
                None => 0.0,
                Some(to) => side / bend(at, Some(to), "to")?,
            };
            Ok(Piece::easement(length.length().in_inches(), before, to))
        }
        _ => Err(stop(
            at,
            "should be one of straight, arc and easement",
            "straight = \"12 in\"; arc = \"30 deg\", radius = \"24 in\"; easement = \"6 in\", to = \"24 in\"",
        )),
    }
}

/// A radius in inches.
fn bend(at: usize, said: Option<&crate::job::said::Said<Model>>, key: &str) -> Result<f64, Stop> {
    let said = said.ok_or_else(|| {
        stop(at, "is an arc without a radius", "write radius = \"24 in\" beside it")
    })?;
    let radius = said.length().in_inches();
    if radius > 0.0 && radius.is_finite() {
        return Ok(radius);
    }
    Err(stop(
        at,
        &format!("has a radius of {said}, which bends nothing"),
        &format!("{key} = \"24 in\""),
    ))
}

/// How the track leans along a piece: the outer rail is raised, so that it leans
/// to the inside.
fn lean(
    at: usize,
    said: &TrackPiece,
    piece: &Piece,
    from: f64,
    gauge: f64,
) -> Result<[f64; 2], Stop> {
    let Some(raised) = &said.raised else {
        // Straight track and arcs keep what they begin with; an easement to
        // straight track runs it out.
        let runs_out = said.easement.is_some() && piece.curvature[1].abs() < EXACT;
        let held = if said.straight.is_some() { 0.0 } else { from };
        return Ok(if runs_out { [from, 0.0] } else { [held, held] });
    };
    let share = raised.length().in_inches() / gauge;
    if !(0.0..0.5).contains(&share) {
        return Err(stop(
            at,
            "raises its outer rail by half the gauge or more",
            "look at `raised`",
        ));
    }
    let bend =
        if piece.curvature[1].abs() > EXACT { piece.curvature[1] } else { piece.curvature[0] };
    let to = share.asin() * bend.signum();
    Ok(if said.easement.is_some() { [from, to] } else { [to, to] })
}

/// The curve of a site as a chain: half a turn of it, its middle where it is
/// nearest to the outline.
fn curve(track: &SiteTrack) -> Result<Chain, Stop> {
    let radius = track.radius.length().in_inches();
    if radius <= 0.0 {
        return Err(Stop::new(
            DOING,
            "the curve of the site has no radius",
            "look at [site.track]",
        ));
    }
    let [x, y] = [&track.centre[0], &track.centre[1]].map(|it| it.length().in_inches());
    // The front faces down the page: the building lies above a curve it stands
    // outside of, and above the lowest part of one it stands inside of.
    let middle: f64 = if track.inside { -90.0 } else { 90.0 };
    let quarter = std::f64::consts::FRAC_PI_4;
    let start = middle.to_radians() - quarter;
    let at = [x + radius * start.cos(), y + radius * start.sin()];
    let heading = start + std::f64::consts::FRAC_PI_2;
    Chain::new(at, heading, &[Piece::arc(radius, 2.0 * quarter)])
        .map_err(|error| Stop::new(DOING, error.to_string(), "look at [site.track]"))
}
