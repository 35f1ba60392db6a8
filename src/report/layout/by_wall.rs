//! The cut list a wall at a time: what comes off which stick or sheet for one
//! wall or group of parts, and what is trimmed after it.

use std::collections::BTreeMap;

use super::sheets::in_inches;
use super::{Seen, Table, View, count, how_good, rows, saved, text};
use crate::cutting::parts::Layout;
use crate::finding::Subject;
use crate::quantity::ModelLength;
use crate::report::ViewId;

/// The pieces of one wall from one stick or sheet.
struct Piece<'a> {
    stock: &'a str,
    from: String,
    label: &'a str,
    length: ModelLength,
    count: u32,
}

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
        walls.entry(wall(piece.label)).or_default().push(piece);
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

fn pieces(layout: &Layout) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    for group in &layout.sticks {
        for (row, cut) in group.layout.cuts.iter().enumerate() {
            for part in cut.each.iter().flatten().map(|&at| &group.parts[at]) {
                let from = format!("row {}", row + 1);
                add(&mut pieces, &group.stock, from, &part.label, part.length);
            }
        }
    }
    for group in &layout.sheets {
        for (number, sheet) in group.layout.sheets.iter().enumerate() {
            for part in sheet.parts.iter().map(|laid| &group.parts[laid.part]) {
                let from = format!("sheet {}", number + 1);
                add(&mut pieces, &group.stock, from, &part.label, part.height);
            }
        }
    }
    pieces
}

fn add<'a>(
    pieces: &mut Vec<Piece<'a>>,
    stock: &'a str,
    from: String,
    label: &'a str,
    length: ModelLength,
) {
    match pieces.iter_mut().find(|one| one.stock == stock && one.from == from && one.label == label)
    {
        Some(one) => one.count += 1,
        None => pieces.push(Piece { stock, from, label, length, count: 1 }),
    }
}

/// The long pieces first: what is trimmed to fit comes after what it fits to.
fn table(seen: Seen<'_>, name: &str, mut pieces: Vec<Piece<'_>>) -> Table {
    pieces.sort_by(|a, b| b.length.total_cmp(&a.length).then_with(|| a.label.cmp(b.label)));
    rows("pieces", name, &pieces)
        .named(name)
        .about(|it| Subject::Part(it.label.to_owned()))
        .col(count("count", "pieces"), |it| it.count)
        .col(text("part", "part"), |it| it.label)
        .col(in_inches("length_in", "long in"), |it| it.length)
        .col(text("from", "from"), |it| &it.from)
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
