//! The faces as tables: every element at its place, full size and model.

use super::Seen;
use super::column::{only, text};
use super::draft::{one, own, rows};
pub(super) use super::sizes::Sizes;
use super::table::{Table, View};
use crate::elevation::{Body, Elevation, Faces, SpanKind};
use crate::finding::Subject;
use crate::quantity::{FullSize, Length};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: faces", seen.job.about.name);
    let faces = match &seen.plan.faces {
        Ok(faces) => faces,
        Err(stop) => return View::stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let scale = seen.plan.scale.as_ref().ok();
    View {
        title,
        lead: lead(seen, faces, &sizes),
        tables: vec![
            own(scale).col(only("scale"), |scale| scale.map(|it| &it.name)).table(),
            body(&faces.body, &sizes),
            of_body(Some(&faces.body), &sizes),
            of_faces(&faces.faces, &sizes),
        ],
        next: "compress: fit the building to its space".to_owned(),
        ..View::default()
    }
}

fn lead(seen: Seen<'_>, faces: &Faces, sizes: &Sizes) -> Vec<String> {
    let front = faces.front();
    let deep = if faces.body.depth > Length::ZERO {
        let [deep, ridge] = [faces.body.depth, faces.body.ridge].map(|size| sizes.full(size));
        format!("depth {deep}, eave {}, ridge {ridge}", sizes.full(faces.body.eave))
    } else {
        format!("one wall alone, {} high", sizes.full(faces.body.eave))
    };
    let mut lead = vec![format!(
        "{}: {} long, {} on the model; {deep}.",
        front.title,
        sizes.full(front.length),
        sizes.model(front.length),
    )];
    if !seen.job.about.intent.is_empty() {
        lead.push(format!("What must survive: {}", seen.job.about.intent));
    }
    lead
}

fn body<S: FullSize>(body: &Body<S>, sizes: &Sizes) -> Table {
    let pitch = (body.depth > Length::ZERO)
        .then(|| format!("pitch {:.3}, that is {}:12", body.pitch, plain(body.pitch * 12.0)));
    rows("sizes", "Body", parts(body))
        .screen()
        .col(text("size", "size"), |(what, _)| what)
        .col(sizes.full_size("full", "full size"), |(_, length)| length)
        .col(sizes.on_model("model", "model"), |(_, length)| sizes.reduce(length))
        .notes(pitch)
        .table()
}

fn parts<S: FullSize>(body: &Body<S>) -> Vec<(&'static str, Length<S>)> {
    let all = [
        ("length", body.length),
        ("depth", body.depth),
        ("eave", body.eave),
        ("ridge", if body.depth > Length::ZERO { body.ridge } else { Length::ZERO }),
        ("eave overhang", body.eave_overhang),
        ("rake overhang", body.rake_overhang),
    ];
    all.into_iter().filter(|(_, length)| *length > Length::ZERO).collect()
}

/// The sizes of a body, for JSON.
pub(super) fn of_body<S: FullSize>(body: Option<&Body<S>>, sizes: &Sizes) -> Table {
    one("body", body)
        .col(only("length_in"), |it| it.length)
        .col(only("depth_in"), |it| it.depth)
        .col(only("eave_in"), |it| it.eave)
        .col(only("ridge_in"), |it| it.ridge)
        .col(only("pitch"), |it| it.pitch)
        .col(only("model_length_in"), |it| sizes.reduce(it.length))
        .col(only("model_depth_in"), |it| sizes.reduce(it.depth))
        .col(only("model_eave_in"), |it| sizes.reduce(it.eave))
        .col(only("model_ridge_in"), |it| sizes.reduce(it.ridge))
        .table()
}

/// Faces with what stands on them: a list in JSON, two tables for each on the
/// screen.
pub(super) fn of_faces<S: FullSize>(faces: &[Elevation<S>], sizes: &Sizes) -> Table {
    rows("faces", "", faces)
        .col(only("name"), |it| &it.name)
        .col(only("title"), |it| &it.title)
        .col(only("length_in"), |it| it.length)
        .col(only("height_in"), |it| it.height)
        .col(only("ridge_in"), |it| it.ridge)
        .col(only("gable"), |it| it.gable)
        .within("spans", Some, |face| spans(face, sizes))
        .within("holes", Some, |face| holes(face, sizes))
        .table()
}

/// A number without needless zeros.
pub(super) fn plain(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn spans<S: FullSize>(face: Option<&Elevation<S>>, sizes: &Sizes) -> Table {
    let (name, title) = face.map_or(("", ""), |face| (&face.name, &face.title));
    rows("spans", title, face.iter().flat_map(|face| &face.spans))
        .named(&format!("{name}: spans"))
        .about(|it| Subject::Element(format!("{name}/{}", it.label)))
        .col(text("label", "element"), |it| &it.label)
        .col(only("element"), |it| &it.element)
        .col(text("kind", "what"), |it| word(it.kind))
        .col(sizes.full_size("left_in", "from left"), |it| it.left)
        .col(sizes.on_model("left_model", "model").screen(), |it| sizes.reduce(it.left))
        .col(sizes.full_size("width", "width").screen(), |it| it.right - it.left)
        .col(sizes.on_model("width_model", "model").screen(), |it| sizes.reduce(it.right - it.left))
        .col(only("right_in"), |it| it.right)
        .note("Mark from the left corner, not one from the next.")
        .table()
}

fn word(kind: SpanKind) -> &'static str {
    match kind {
        SpanKind::Corner => "corner",
        SpanKind::Plain => "plain",
        SpanKind::Opening => "opening",
        SpanKind::Bay => "bay",
    }
}

fn holes<S: FullSize>(face: Option<&Elevation<S>>, sizes: &Sizes) -> Table {
    let (name, title) = face.map_or(("", ""), |face| (&face.name, &face.title));
    rows("holes", &format!("{title}: openings"), face.iter().flat_map(|face| &face.holes))
        .named(&format!("{name}: openings"))
        .about(|it| Subject::Element(format!("{name}/{}", it.label)))
        .col(text("label", "opening"), |it| &it.label)
        .col(text("kind", "kind"), |it| &it.kind)
        .col(sizes.full_size("left_in", "from left"), |it| it.left)
        .col(sizes.on_model("left_model", "model").screen(), |it| sizes.reduce(it.left))
        .col(sizes.full_size("width_in", "width"), |it| it.width)
        .col(sizes.full_size("height_in", "height"), |it| it.height)
        .col(sizes.full_size("foot_in", "foot"), |it| it.foot)
        .col(sizes.on_model("width_model", "model w").screen(), |it| sizes.reduce(it.width))
        .col(sizes.on_model("height_model", "model h").screen(), |it| sizes.reduce(it.height))
        .col(only("trim_in"), |it| it.trim)
        .table()
}
