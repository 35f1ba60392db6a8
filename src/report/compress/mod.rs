//! The alternatives side by side, with their lines of cost; what each foot of
//! length is worth; the same building at other scales.

mod trade;

use super::Seen;
use super::cell::Cell;
use super::column::{count, number, only, text};
use super::draft::{Draft, one, own, rows};
use super::faces::{of_body, of_faces, plain};
use super::site::{both_clearances, space};
use super::sizes::Sizes;
use super::table::{Act, Mark, Table, View};
use crate::compress::Needs;
use crate::compress::{
    Alternative, Compression, Decision, LEAST_SHARE, Line, Standing, Standpoint,
};
use crate::elevation::sized::{Element, Kind};
use crate::finding::Subject;
use crate::job::face::Times;
use crate::quantity::{CompressedLength, PrototypeLength};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: compress", seen.job.about.name);
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return View::stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let (kinds, others): (Vec<_>, Vec<_>) =
        compression.alternatives.iter().enumerate().partition(|(_, it)| it.best_of_kind);
    let all = compression.alternatives.iter().enumerate().collect();
    let list = |title: &str, list| alternatives(title, list, compression, &sizes);
    let chosen = compression.chosen();
    View {
        title,
        lead: lead(seen, compression, &sizes),
        tables: vec![
            // In order of cost, whatever their kind.
            list("", all).table().hidden(),
            list("The best of each kind", kinds).screen().named("kinds").table(),
            list("Other counts", others).screen().named("others").table(),
            lines(&format!("What it costs: {}", chosen.words), &chosen.lines.0).screen().table(),
            lost(compression),
            needed(seen, compression),
            bounds(seen, &sizes),
            trade::curve(seen, compression, &sizes),
            trade::scales(seen, &sizes),
            own(compression)
                .col(only("intent"), |_| &seen.job.about.intent)
                .col(only("chosen"), |it| &it.chosen().key)
                .col(only("is_chosen"), |it| it.is_chosen)
                .col(only("complete"), |it| it.complete)
                .col(only("proven"), Compression::is_proven)
                .col(only("steps"), |it| it.steps)
                .table(),
            space("limits", &compression.limits),
            standing(compression.ground.as_ref()),
            one("built", Some(&compression.built))
                .within("body", |it| Some(&it.body), |body| of_body(body, &sizes))
                .col(only("roof"), |it| Cell::data(it.roof))
                .within("faces", |it| &it.faces[..], |faces| of_faces(faces, &sizes).hidden())
                .table(),
        ],
        next: if compression.is_chosen {
            "stock: the nearest sizes for what is built".to_owned()
        } else {
            "choose an alternative and write why: the reason goes into the record".to_owned()
        },
        ..View::default()
    }
}

fn lead(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Vec<String> {
    let limits = &compression.limits;
    let limit = |what: &str, size: Option<CompressedLength>| {
        size.map(|size| format!("{} {what} ({})", sizes.full(size), sizes.model(size)))
    };
    let taken =
        [limit("long", limits.length), limit("deep", limits.depth), limit("high", limits.height)];
    let taken: Vec<_> = taken.into_iter().flatten().collect();
    let mut lead = Vec::new();
    if !seen.job.about.intent.is_empty() {
        lead.push(format!("What must survive: {}", seen.job.about.intent));
    }
    if !taken.is_empty() {
        let others = beside(seen, compression, sizes).unwrap_or_default();
        lead.push(format!("The space takes {}{others}.", taken.join(", ")));
    } else if compression.ground.is_none() {
        lead.push("The space sets no limit.".to_owned());
    }
    if let Some(ground) = &compression.ground {
        lead.push(format!(
            "The ground takes a front of {} ({}) at {} deep.",
            sizes.full(ground.longest),
            sizes.model(ground.longest),
            sizes.full(compression.built.body.depth),
        ));
        lead.extend(both_clearances(ground, sizes));
    }
    let chosen = compression.chosen();
    lead.push(if compression.is_chosen {
        let reason = seen.job.choice.as_ref().map_or("", |choice| choice.reason.as_str());
        format!("Chosen: {}. {reason}", chosen.words)
    } else {
        format!("Not yet chosen; built as the first: {}.", chosen.words)
    });
    lead.push(proof(compression));
    lead
}

/// What stands beside or before the main body takes of the space; its own
/// overhangs are not told.
fn beside(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Option<String> {
    let counts = seen.job.space.as_ref()?.counts;
    let reach = seen.plan.building.as_ref().ok()?.footprint(counts)?;
    let (body, limits) = (&compression.built.body, &compression.limits);
    let own = body.eave_overhang.max(body.rake_overhang) + CompressedLength::inches(0.5);
    let inches = CompressedLength::inches;
    let beyond = |out: [CompressedLength; 2]| {
        out.into_iter().filter(|it| *it > own).fold(CompressedLength::ZERO, |all, it| all + it)
    };
    let [left, right] = reach.along.map(inches);
    let [before, behind] = reach.behind.map(inches);
    let ends = [CompressedLength::ZERO - left, right - body.length];
    let sides = [
        ("before", limits.depth, beyond([CompressedLength::ZERO - before, CompressedLength::ZERO])),
        ("behind", limits.depth, beyond([behind - body.depth, CompressedLength::ZERO])),
        ("beside", limits.length, beyond(ends)),
    ];
    let told: Vec<String> = sides
        .into_iter()
        .filter(|(_, limit, takes)| limit.is_some() && *takes > CompressedLength::ZERO)
        .enumerate()
        .map(|(at, (side, _, takes))| {
            format!("{side} it {}{}", if at == 0 { "takes " } else { "" }, sizes.full(takes))
        })
        .collect();
    (!told.is_empty()).then(|| format!("; what stands {} of that", told.join(", ")))
}

/// Whether anything better could be hidden, and what was looked at for it.
fn proof(compression: &Compression) -> String {
    let looked = format!("{} ranges of counts looked at", compression.steps);
    if !compression.complete {
        format!("The search was stopped, {looked}: there may be better counts.")
    } else if compression.judged_after.is_empty() {
        format!("Proven, {looked}: no other counts or widths cost less before rounding.")
    } else {
        format!(
            "All counts are searched, {looked}; not proven, because {} is judged afterwards.",
            compression.judged_after.join(" and ")
        )
    }
}

fn alternatives<'a>(
    title: &str,
    list: Vec<(usize, &'a Alternative)>,
    compression: &'a Compression,
    sizes: &Sizes,
) -> Draft<(usize, &'a Alternative)> {
    let mark = |(at, it): (usize, &Alternative)| match &it.standing {
        _ if at == compression.chosen => Mark::Chosen,
        Standing::Offered => Mark::Plain,
        Standing::OutOfBounds(..) | Standing::ShownOnly(_) => Mark::Look,
        Standing::DoesNotFit(_) | Standing::Forbidden(_) => Mark::Refused,
    };
    let why = |(_, it): &(usize, &Alternative)| match it.kind.is_uniform() {
        true => Some(format!("everything reduced evenly: {}", it.standing.why())),
        false => (!it.is_offered()).then(|| format!("{}: {}", it.words, it.standing.why())),
    };
    let notes: Vec<String> = list.iter().filter_map(why).collect();
    rows("alternatives", title, list)
        .about(|(_, it)| Subject::Alternative(it.key.clone()))
        .marked(mark)
        .col(text("words", "alternative"), |(_, it)| &it.words)
        .col(sizes.full_size("length_in", "length"), |(_, it)| it.body.length)
        .col(sizes.on_model("model_in", "model"), |(_, it)| it.model_length)
        .col(sizes.full_size("depth_in", "depth"), |(_, it)| it.body.depth)
        .col(sizes.full_size("ridge_in", "ridge"), |(_, it)| it.body.ridge)
        .col(number("cost", "cost", 1).blank("-"), |(_, it)| it.cost())
        .col(text("standing", "standing"), |(_, it)| it.standing.word())
        .col(only("key"), |(_, it)| &it.key)
        .col(only("kind"), |(_, it)| it.kind.to_string())
        .col(only("kind_words"), |(_, it)| &it.kind_words)
        .col(only("lost"), |(_, it)| &it.lost)
        .col(only("why"), |(_, it)| it.standing.why())
        .col(only("best_of_kind"), |(_, it)| it.best_of_kind)
        .within("lines", |(_, it)| &it.lines.0[..], |list| lines("", list).table().hidden())
        .col(only("counts"), |(_, it)| it.decision.as_ref().map(|it| Cell::data(&it.counts)))
        .col(only("widths_in"), |(_, it)| it.decision.as_ref().map(widths))
        .col(only("roof"), |(_, it)| it.decision.as_ref().map(|it| Cell::data(it.roof)))
        .within("needs", |(_, it)| Some(&it.needs), needs)
        .within(
            "exact",
            |(_, it)| it.exact.as_ref(),
            |exact| {
                one("exact", exact)
                    .col(only("cost"), |it| it.cost)
                    .col(only("widths_in"), |it| widths(&it.decision))
                    .table()
            },
        )
        .notes(notes)
}

fn widths(decision: &Decision) -> Cell {
    Cell::map(decision.widths.iter().map(|(key, width)| (key, *width)))
}

fn lines<'a>(title: &str, lines: &'a [Line]) -> Draft<&'a Line> {
    rows("lines", title, lines)
        .about(|it| Subject::Feature(it.feature.clone()))
        .col(only("feature"), |it| &it.feature)
        .col(text("what", "feature"), |it| &it.what)
        .col(number("original", "original", 3).blank("-"), |it| it.original)
        .col(number("now", "now", 3).blank("-"), |it| it.now)
        .col(number("z", "z", 2).signed(), |it| it.z)
        .col(number("weight", "weight", 2), |it| Cell::said(plain(it.weight), it.weight))
        .col(number("cost", "cost", 2), |it| it.cost)
        .note("Tolerances and weights are judgement: change them under [look].")
}

/// What is said of each of those compared side by side.
fn each_kind<'a>(
    [id, title, head]: [&str; 3],
    compression: &'a Compression,
    words: impl Fn(&'a Alternative) -> Option<String>,
) -> Draft<&'a Alternative> {
    let kinds = compression.alternatives.iter().filter(|it| it.best_of_kind);
    rows(id, title, kinds.filter(|it| words(it).is_some()))
        .screen()
        .about(|it| Subject::Alternative(it.key.clone()))
        .col(text("words", "alternative"), |it| &it.words)
        .col(text("says", head), words)
}

fn lost(compression: &Compression) -> Table {
    let lost = |it: &Alternative| (!it.lost.is_empty()).then(|| it.lost.join("; "));
    each_kind(["lost", "What is lost", "lost"], compression, lost).table()
}

/// What has to be ordered for each.
fn needed(seen: Seen<'_>, compression: &Compression) -> Table {
    let sheet = seen.job.cutting.sheets.first();
    let sheet = sheet.map(|[wide, long]| [wide.length(), long.length()]);
    let needs = |it: &Alternative| {
        it.decision.as_ref()?;
        Some(it.needs.words(sheet).join("; "))
    };
    each_kind(["needs", "What it needs", "openings, boards, sheets"], compression, needs)
        .note("By area and count; the layout has sticks and sheets of the one built.")
        .table()
}

fn needs(needs: Option<&Needs>) -> Table {
    one("needs", needs)
        .within(
            "openings",
            |it| &it.openings[..],
            |list| {
                rows("openings", "", list)
                    .col(only("kind"), |it| &it.kind)
                    .col(only("count"), |it| it.count)
                    .col(only("casting"), |it| it.casting)
                    .table()
            },
        )
        .within(
            "across_front",
            |it| it.across_front.as_ref(),
            |across| {
                one("across_front", across)
                    .col(only("what"), |it| it.word)
                    .col(only("count"), |it| it.count)
                    .col(only("unit_in"), |it| it.unit)
                    .table()
            },
        )
        .col(only("cover_in2"), |it| it.cover_in2)
        .col(only("sheets_at_least"), |it| it.sheets_at_least)
        .table()
}

/// The ground at the depth built: the front full size, the rest on the model.
fn standing(ground: Option<&Standpoint>) -> Table {
    one("ground", ground)
        .col(only("longest_in"), |it| it.longest)
        .col(only("corners_in"), |it| it.placement.map(|placed| Cell::data(placed.corners())))
        .col(only("car_in"), |it| it.clearance.map(|clear| clear.car))
        .col(only("rule_in"), |it| it.clearance.and_then(|clear| clear.rule))
        .col(only("kept_in"), |it| it.clearance.map(|clear| clear.kept))
        .table()
}

/// What an element may become.
#[derive(Clone, Copy)]
struct Bound<'a> {
    face: &'a str,
    name: &'a str,
    /// Its width, the least and the most of it.
    widths: Option<[PrototypeLength; 3]>,
    times: Option<&'a Times>,
}

/// What each element may become: to be moved.
fn bounds(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let mut all = Vec::new();
    if let Ok(faces) = &seen.plan.faces {
        let shortened = &faces.front_row().id.body;
        for face in faces.rows.iter().filter(|face| face.id.body == *shortened) {
            bounds_of(&face.row, &face.name, &mut all);
        }
    }
    rows("bounds", "Bounds", all)
        .screen()
        .about(|it| Subject::Element(format!("{}/{}", it.face, it.name)))
        .can(|_| vec![Act::Bound])
        .col(text("element", "element"), |it| format!("{}: {}", it.face, it.name))
        .col(sizes.full_size("width", "width"), |it| Some(it.widths?[0]))
        .col(sizes.full_size("least", "least"), |it| Some(it.widths?[1]))
        .col(sizes.full_size("most", "most"), |it| Some(it.widths?[2]))
        .col(count("count", "count"), |it| Some(it.times?.count))
        .col(count("at_least", "at least"), |it| Some(it.times?.at_least))
        .col(count("at_most", "at most"), |it| Some(it.times?.at_most))
        .note(format!(
            "Where the job says nothing the least is {LEAST_SHARE} of the width and the most the width \
             itself. Doors and windows keep their size."
        ))
        .table()
}

fn bounds_of<'a>(row: &'a [Element], face: &'a str, all: &mut Vec<Bound<'a>>) {
    for Element { name, kind, .. } in row {
        let widths = |width: PrototypeLength, least: Option<_>, most: Option<_>| {
            Some([width, least.unwrap_or(width * LEAST_SHARE), most.unwrap_or(width)])
        };
        let (widths, times) = match kind {
            Kind::Plain { width, least, most, fixed: false, .. } => {
                (widths(*width, *least, *most), None)
            }
            Kind::Bays { width, least, times, .. } => (widths(*width, *least, None), Some(times)),
            Kind::Repeat { times, .. } => (None, Some(times)),
            _ => continue,
        };
        all.push(Bound { face, name, widths, times });
        if let Kind::Repeat { row, .. } = kind {
            bounds_of(row, face, all);
        }
    }
}
