//! From what a row speaks of to its place in the job.

use toml_edit::DocumentMut;

use crate::finding::Subject;
use crate::job::Job;
use crate::job::body::FaceId;
use crate::job::slot::Slot;

/// The place in the job of what a row speaks of; nothing where the job says
/// nothing of it.
#[must_use]
pub fn place_of(file: &DocumentMut, job: &Job, subject: &Subject) -> Option<Slot> {
    let find = |list: &str, name: &str| Slot::find(file, &format!("{list}.\"{name}\"")).ok();
    let any = |lists: &[&str], name: &str| lists.iter().find_map(|list| find(list, name));
    match subject {
        Subject::Job => Slot::find(file, "job").ok(),
        Subject::Source(id) => find("source", id),
        Subject::Reading(id) => match job.photo_reading(id) {
            Some((photo, ask)) => find(&format!("photo.\"{}\".ask", photo.id), &ask.of),
            None => find("reading", id),
        },
        Subject::Tie(id) => find("tie", id),
        Subject::Dimension(name) => find("dimension", name),
        Subject::Element(path) => element(file, path),
        Subject::Alternative(_) => Slot::find(file, "choice").ok(),
        Subject::Member(name) => any(&["member", "cladding", "layer", "stock"], name),
        Subject::Part(label) => part(file, label),
        Subject::Stock(_) => Slot::find(file, "cutting").ok(),
        Subject::Photo(id) => find("photo", id),
        Subject::Page(_) => Slot::find(file, "paper").ok(),
        Subject::Obstacle(name) => any(&["obstacle", "member", "body", "deck"], name),
        Subject::Lamp(name) => any(&["lamps.string", "lamps.load", "lamps.supply"], name),
        Subject::Feature(key) => find("look.weigh", key).or_else(|| Slot::find(file, "look").ok()),
        Subject::Measured(name) => find("measured", name),
    }
}

/// An element of a row: `main/front/bay#2`; the wall, or the body, where the row
/// does not hold it by name.
fn element(file: &DocumentMut, path: &str) -> Option<Slot> {
    let (face, name) = FaceId::split(path)?;
    let name = name.split(['#', '/']).next().unwrap_or(name);
    let find = |path: String| Slot::find(file, &path).ok();
    let wall = format!("wall.\"{face}\"");
    find(format!("{wall}.row.\"{name}\""))
        .or_else(|| within(file, &find(format!("{wall}.row"))?, name))
        .or_else(|| find(wall))
        .or_else(|| find(format!("body.\"{}\"", face.body)))
}

/// An element of a row within a row.
fn within(file: &DocumentMut, row: &Slot, name: &str) -> Option<Slot> {
    (0..row.node(file).rows()).find_map(|at| {
        let inner = row.row(file, at).key("row");
        let found = inner.under(file, &format!("\"{name}\"")).ok();
        found.or_else(|| inner.is_written(file).then(|| within(file, &inner, name))?)
    })
}

/// What a part is made for: `main/front/board-1`, `canopy-post-3`, `platform`.
fn part(file: &DocumentMut, label: &str) -> Option<Slot> {
    if let Some((face, _)) = FaceId::split(label) {
        let wall = Slot::find(file, &format!("wall.\"{face}\"")).ok();
        return wall.or_else(|| Slot::find(file, &format!("body.\"{}\"", face.body)).ok());
    }
    let ends = label.char_indices().rev().filter(|(_, c)| matches!(c, '-' | '/'));
    let heads = std::iter::once(label).chain(ends.map(|(at, _)| &label[..at]));
    let lists = ["member", "deck", "terrace", "body", "bought", "layer", "cladding"];
    heads
        .flat_map(|head| lists.map(|list| format!("{list}.\"{head}\"")))
        .find_map(|path| Slot::find(file, &path).ok())
}

/// The table that a stage goes by: all of them where it goes by many.
#[must_use]
pub fn place_of_stage(file: &DocumentMut, stage: &str) -> Slot {
    let path = match stage {
        "notes" | "field-sheet" => "reading",
        "photo" => "photo",
        "faces" => "body",
        "site" => "site",
        "compress" => "space",
        "stock" => "materials",
        "layout" => "cutting",
        "templates" => "paper",
        "clearance" => "track",
        "lamps" => "lamps",
        "mockup" => "measured",
        _ => "",
    };
    Slot::find(file, path).unwrap_or_default()
}
