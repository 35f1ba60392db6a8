//! The cut list a wall at a time: what comes off which stick or sheet for one
//! wall or group of parts, and what is trimmed after it.

use std::collections::BTreeMap;

use super::list::{Piece, pieces};
use super::sheets::in_inches;
use super::{Seen, Table, View, count, how_good, rows, saved, text};
use crate::finding::Subject;
use crate::report::ViewId;

/// The view, a table for each wall or group.
#[must_use]
pub fn view_by_wall(seen: Seen<'_>) -> View {
    let title = format!("{}: cut list by wall", seen.job.about.name);
    let layout = match &seen.plan.layout {
        Ok(layout) => layout,
        Err(stop) => return View::stopped(title, stop),
    };
    let mut walls: BTreeMap<&str, Vec<Piece<'_>>> = BTreeMap::new();
    for piece in pieces(layout) {
        let wall = walls.entry(wall(piece.label)).or_default();
        match wall.iter_mut().find(|one| one.is_beside(&piece)) {
            Some(one) => one.times += piece.times,
            None => wall.push(piece),
        }
    }
    View {
        title,
        lead: vec![how_good(layout)].into_iter().chain(saved(layout)).collect(),
        tables: walls.into_iter().map(|(name, pieces)| table(seen, name, pieces)).collect(),
        findings: ViewId::Layout.kind().noticed(seen.plan),
        next: "layout: the same by stock, with the set-ups".to_owned(),
        ..View::default()
    }
}

/// The wall or group of a label: what stands before its last stroke.
fn wall(label: &str) -> &str {
    label.rsplit_once('/').map_or("strips for several walls", |(wall, _)| wall)
}

/// The long pieces first: what is trimmed to fit comes after what it fits to.
fn table(seen: Seen<'_>, name: &str, mut pieces: Vec<Piece<'_>>) -> Table {
    pieces.sort_by(|a, b| b.length.total_cmp(&a.length).then_with(|| a.label.cmp(b.label)));
    rows("pieces", name, &pieces)
        .named(name)
        .about(|it| Subject::Part(it.label.to_owned()))
        .col(count("count", "pieces"), |it| it.times)
        .col(text("part", "part"), |it| it.label)
        .col(in_inches("length_in", "long in"), |it| it.length)
        .col(text("from", "from"), |it| {
            format!("{} {}", if it.area.is_none() { "row" } else { "sheet" }, it.at + 1)
        })
        .col(text("stock", "stock"), |it| it.stock)
        .notes(before_trimming(seen, &pieces))
        .table()
}

/// "Cut these before you trim those", where the wall has trim cut to fit.
fn before_trimming(seen: Seen<'_>, pieces: &[Piece<'_>]) -> Option<String> {
    use crate::takeoff::Kind;
    let takeoff = seen.plan.takeoff.as_ref().ok()?;
    let of = |trim: bool| {
        let here = pieces.iter().filter(|piece| {
            takeoff.part(piece.label).is_some_and(|part| {
                let is_trim = matches!(
                    part.kind,
                    Kind::Casing
                        | Kind::Sill
                        | Kind::CornerBoard
                        | Kind::Frieze
                        | Kind::WaterTable
                        | Kind::Fascia
                );
                is_trim == trim
            })
        });
        let mut labels: Vec<&str> = here.map(|piece| piece.label).collect();
        labels.dedup();
        labels
    };
    let (first, after) = (of(false), of(true));
    let few = |labels: &[&str]| labels.iter().take(3).copied().collect::<Vec<_>>().join(", ");
    (!first.is_empty() && !after.is_empty()).then(|| {
        format!("Cut and fix {} and the rest before you trim {} to fit.", few(&first), few(&after))
    })
}
