//! Lengths from pictures as tables.

use super::Seen;
use super::cell::Cell;
use super::column::{number, only, text};
use super::draft::{Draft, own, rows};
use super::table::{Mark, RowKey, Table, View};
use crate::finding::{Finding, Subject};
use crate::photo::blame::{Blamed, Suspect};
use crate::photo::doors::Worth;
use crate::photo::from_job::{Reading, Shot};
use crate::photo::lengths::{Found, Measured};
use crate::photo::marked::{Marked, Span};
use crate::photo::refine::{Kept, Refined};
use crate::quantity::{Notation, PrototypeLength};

/// A picture, what it says, and what a job reads from it.
#[derive(Clone, Copy)]
struct Picture<'a> {
    marked: &'a Marked,
    measured: &'a Measured,
    readings: &'a [Reading],
    findings: &'a [Finding],
    unit: In,
}

/// In what the lengths of a picture are.
#[derive(Clone, Copy)]
enum In {
    /// The unit of the known lengths, whatever that is.
    Known,
    /// Metres, written in the notation of a job.
    Metres(Notation),
}

impl In {
    fn write(self, value: f64, sigma: f64) -> Cell {
        let words = match self {
            Self::Known => format!("{value:.*}", digits(sigma)),
            Self::Metres(notation) => notation.show(&PrototypeLength::metres(value)),
        };
        Cell::said(words, value)
    }
}

/// Decimals that show two figures of an uncertainty.
fn digits(sigma: f64) -> usize {
    if sigma > 0.0 && sigma.is_finite() {
        (1.0 - sigma.log10().floor()).clamp(0.0, 6.0) as usize
    } else {
        3
    }
}

/// One picture by itself, with its marks moved to the edges where they were.
#[must_use]
pub fn view(
    marked: &Marked,
    measured: &Measured,
    findings: &[Finding],
    refined: Option<&Refined>,
) -> View {
    let focal = if measured.focal_known {
        format!("focal length {:.0} px", measured.focal)
    } else {
        "focal length undetermined".to_owned()
    };
    let alone = Picture { marked, measured, readings: &[], findings, unit: In::Known };
    View {
        title: format!("Lengths on {}", marked.id),
        lead: vec![format!(
            "The wall is turned {:.0} degrees; {focal}; {} checks.",
            measured.obliquity,
            measured.checks.max(0)
        )],
        tables: vec![picture(own(alone)).table(), moves(refined)],
        findings: findings.to_vec(),
        ..View::default()
    }
}

/// The photographs of a job.
#[must_use]
pub fn plan_view(seen: Seen<'_>) -> View {
    let photos = &seen.plan.photos.value;
    let mut view = job_view(photos, seen.job.about.full_notation());
    let counted = seen.job.photos.len();
    if counted > 0 && photos.is_empty() {
        let noun = if counted == 1 { "photograph has" } else { "photographs have" };
        view.lead = vec![format!(
            "{counted} {noun} no lengths yet: mark a rectangle, or level and plumb edges with a known length."
        )];
    }
    view
}

/// Photographs that were measured.
#[must_use]
pub fn job_view(shots: &[Shot], notation: Notation) -> View {
    let pictures = shots.iter().map(|shot| Picture {
        marked: &shot.marked,
        measured: &shot.measured,
        readings: &shot.readings,
        findings: &shot.findings,
        unit: In::Metres(notation),
    });
    let photographs = picture(rows("photographs", "", pictures))
        .col(only("findings"), |it| Cell::data(it.findings))
        .within("readings", |it| it.readings, readings);
    let (lead, next) = match shots {
        [] => (
            vec!["No photograph has marks yet.".to_owned()],
            "take one squarely from where you may stand, add it to the job and mark its corners",
        ),
        _ => (vec![], "notes: switch on among the readings the lengths that you trust"),
    };
    View {
        title: "Lengths from photographs".to_owned(),
        lead,
        tables: vec![photographs.table()],
        next: next.to_owned(),
        ..View::default()
    }
}

/// What a picture says, its lengths in a table of their own.
fn picture<'a>(draft: Draft<Picture<'a>>) -> Draft<Picture<'a>> {
    draft
        .col(only("picture"), |it| &it.marked.id)
        .col(only("unit"), |it| match it.unit {
            In::Known => "that of the known lengths",
            In::Metres(_) => "m",
        })
        .col(only("mark_sigma_px"), |it| it.marked.sigma())
        .col(only("focal_px"), |it| it.measured.focal)
        .col(only("focal_determined"), |it| it.measured.focal_known)
        .col(only("radial_k1"), |it| it.measured.radial)
        .col(only("obliquity_deg"), |it| it.measured.obliquity)
        .col(only("chi_squared"), |it| it.measured.chi_squared.0)
        .col(only("degrees_of_freedom"), |it| it.measured.chi_squared.1)
        .col(only("checks"), |it| it.measured.checks)
        .col(only("passes"), |it| it.measured.passes)
        .col(only("uncertainties_multiplied_by"), |it| it.measured.spread)
        .col(only("worst_mark"), |it| {
            it.measured.worst.map(|worst| &it.marked.marks[worst.mark].id)
        })
        .col(only("failed_draws"), |it| it.measured.failed_draws)
        .col(only("origin"), |it| it.marked.origin.word())
        .within("suspects", |it| &it.measured.verdict.suspects[..], suspects)
        .col(only("suspects_alike"), |it| it.measured.verdict.alike)
        .within("lengths", Some, |it| lengths(it, false))
        .within("known", Some, |it| lengths(it, true).hidden())
}

/// What may be wrong, the likeliest first.
fn suspects(all: &[Suspect]) -> Table {
    let kind = |it: &Suspect| match it.blamed {
        Blamed::Mark(_) => "mark",
        Blamed::Known(_) => "known",
        Blamed::Alike(_) => "alike",
        Blamed::InFront(_) => "in-front",
        Blamed::Rect(_) => "rectangle",
        Blamed::Axis => "axis",
        Blamed::Stretch => "stretch",
        Blamed::Focal => "focal",
    };
    rows("suspects", "", all)
        .col(only("kind"), kind)
        .col(only("name"), |it| &it.name)
        .col(only("message"), |it| &it.message)
        .col(only("hint"), |it| &it.hint)
        .col(only("chance"), |it| it.ln_chance.exp())
        .table()
}

/// The lengths asked for, or those given.
fn lengths(picture: Option<Picture<'_>>, known: bool) -> Table {
    type Line<'a> = (Picture<'a>, &'a Found, Option<&'a Reading>);
    fn lines(it: Picture<'_>) -> impl Iterator<Item = Line<'_>> {
        let all = it.measured.lengths.iter().enumerate();
        all.map(move |(row, found)| (it, found, it.readings.iter().find(|one| one.row == row)))
    }
    let title = picture.filter(|it| matches!(it.unit, In::Metres(_)));
    let lines = picture.into_iter().flat_map(lines).filter(|(_, it, _)| it.known == known);
    let value = |(picture, it, _): Line<'_>| match it.withheld {
        Some(_) => Cell::said("withheld", Cell::None),
        None => picture.unit.write(it.value, it.sigma),
    };
    let end = |(picture, it, _): Line<'_>, mark: usize| {
        picture.marked.marks[picture.marked.ends(it.span)[mark]].id.clone()
    };
    let draft = rows("lengths", title.map_or("", |it| &it.marked.id), lines)
        .named(picture.map_or("lengths", |it| &it.marked.id))
        .about(|(it, ..)| Subject::Photo(it.marked.id.clone()))
        .keyed(|(_, it, _)| RowKey::named(&it.name))
        .marked(|(_, it, reading)| match reading {
            Some(reading) if !reading.on => Mark::Off,
            _ if it.withheld.is_some() => Mark::Refused,
            _ => Mark::Plain,
        })
        .col(text("name", "length"), |(_, it, _)| &it.name)
        .col(number("value", "value", 0), value)
        .col(number("low", "from", 0), |(picture, it, _)| {
            picture.unit.write(it.interval.low, it.sigma)
        })
        .col(number("high", "to", 0), |(picture, it, _)| {
            picture.unit.write(it.interval.high, it.sigma)
        });
    let draft = match title {
        Some(_) => draft.col(text("reads", "reads").screen(), |(.., reading)| {
            reading.map(|reading| reading.of.to_string())
        }),
        None => draft,
    };
    draft
        .col(text("checked", "checked"), |(_, it, _)| {
            Cell::said(if it.checked { "yes" } else { "unchecked" }, it.checked)
        })
        .col(only("rect"), |(picture, it, _)| match it.span {
            Span::Width(at) | Span::Height(at) => Some(&picture.marked.rects[at].id),
            _ => None,
        })
        .col(only("side"), |(_, it, _)| match it.span {
            Span::Width(_) => "width",
            Span::Height(_) => "height",
            Span::Level(..) => "level",
            Span::Plumb(..) => "plumb",
            Span::Straight(..) => "straight",
        })
        .col(only("from"), |it| end(it, 0))
        .col(only("to"), |it| end(it, 1))
        .col(only("sigma"), |(_, it, _)| it.sigma)
        .col(only("interval"), |(_, it, _)| if it.by_draws { "drawn" } else { "first-order" })
        .col(only("withheld"), |(_, it, _)| it.withheld)
        .note(match title {
            Some(it) => format!(
                "wall turned {:.0} degrees; from and to: the 95 percent interval",
                it.measured.obliquity
            ),
            None => "from and to: the 95 percent interval, in the unit of the known lengths".into(),
        })
        .table()
}

fn readings(all: &[Reading]) -> Table {
    rows("readings", "", all)
        .col(only("of"), |it| it.of.to_string())
        .col(only("value"), |it| Cell::data(it.value))
        .col(only("sigma"), |it| Cell::data(it.sigma))
        .col(only("on"), |it| it.on)
        .table()
}

/// Where refined marks were and are.
fn moves(refined: Option<&Refined>) -> Table {
    let place = |[x, y]: [f64; 2]| Cell::said(format!("{x:.1}, {y:.1}"), [x, y]);
    let moves = refined.into_iter().flat_map(|it| it.moves.iter().map(move |one| (it, one)));
    rows("refined", "Marks moved to the edges", moves)
        .known(refined.is_some())
        .col(text("mark", "mark"), |(it, one)| &it.marked.marks[one.mark].id)
        .col(text("old", "old"), |(_, one)| place(one.old))
        .col(text("new", "new"), |(_, one)| one.new.ok().map(place))
        .col(text("kept", "why not"), |(_, one)| one.new.err().map(Kept::words))
        .notes(refined.map(|it| format!("{} of {} moved", it.count(), it.moves.len())))
        .table()
}

/// Lengths by a plain map, with those of the adjustment beside them.
#[must_use]
pub fn plain_view(
    marked: &Marked,
    found: &[(Span, Worth)],
    adjusted: impl Fn(Span) -> Option<f64>,
) -> View {
    let write = |worth: &Worth, value: f64| In::Known.write(value, worth.sigma);
    let lengths = rows("lengths", "", found)
        .col(text("name", "length"), |(span, _)| marked.name(*span))
        .col(number("value", "value", 0), |(_, it)| write(it, it.value))
        .col(number("low", "from", 0), |(_, it)| write(it, it.ends()[0]))
        .col(number("high", "to", 0), |(_, it)| write(it, it.ends()[1]))
        .col(number("adjusted", "adjusted", 0).blank("-"), |(span, it)| {
            adjusted(*span).map(|value| write(it, value))
        })
        .col(only("sigma"), |(_, it)| it.sigma)
        .note("by the plain map of four corners; nothing checks it");
    View {
        title: format!("Lengths on {}", marked.id),
        tables: vec![own(marked).col(only("picture"), |it| &it.id).table(), lengths.table()],
        ..View::default()
    }
}
