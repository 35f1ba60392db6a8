//! The boxes a building is made of: its body, and what is attached to it.

use super::Shop;
use super::wall::{self, Line, Stand, Wall};
use crate::elevation::{Body, Hole};
use crate::finding::{Finding, Subject};
use crate::job::attached::{Attached, Set, Stands};
use crate::job::building::{OpeningWhat, RoofKind};
use crate::job::place::RoofFollows;
use crate::quantity::{Compressed, CompressedLength, parse_pitch};

type Full = CompressedLength;

/// A box with its walls and roof.
#[derive(Clone, Debug)]
pub(super) struct Mass {
    /// What its faces are called after; nothing for the body.
    pub(super) name: Option<String>,
    /// Its measures: `length` along its ridge, `depth` across it.
    pub(super) body: Body<Compressed>,
    /// Its roof; nothing where it has none.
    pub(super) roof: Option<RoofKind>,
    /// Whether the roof was cut at the ridge.
    pub(super) half: bool,
    /// Name of the cladding on the roof.
    pub(super) roof_cladding: Option<String>,
    /// How far walls rise above the roof.
    pub(super) parapet: Full,
    /// Its walls.
    pub(super) walls: Vec<Wall>,
}

impl Mass {
    /// What a group of its parts is called: `roof`, or `lean-to-roof`.
    pub(super) fn group(&self, what: &str) -> String {
        self.name.as_ref().map_or_else(|| what.to_owned(), |name| format!("{name}-{what}"))
    }
}

/// The body first, then what is attached, in the order of the job.
pub(super) fn masses(shop: &mut Shop<'_>) -> Vec<Mass> {
    let main = main(shop);
    let job = shop.job;
    let attached: Vec<Mass> =
        job.attached.iter().filter_map(|attached| attached_mass(shop, attached, &main)).collect();
    std::iter::once(main).chain(attached).collect()
}

fn main(shop: &Shop<'_>) -> Mass {
    let (job, built) = (shop.job, shop.built);
    let parapet = job.roof.as_ref().and_then(|roof| roof.parapet.as_ref());
    let parapet = parapet.map_or(Full::ZERO, |size| shop.size(Some(size), Full::ZERO));
    let flat = built.roof == RoofFollows::Flat;
    Mass {
        name: None,
        body: built.body,
        roof: job.roof.as_ref().map(|roof| roof.kind).filter(|_| !flat),
        half: built.roof == RoofFollows::HalfRelief,
        roof_cladding: job.roof.as_ref().and_then(|roof| roof.cladding.clone()),
        parapet,
        walls: wall::walls(job, built, parapet),
    }
}

/// A box against the body or on its roof. One that does not stand on the
/// building as shortened is told, and taken off all the same.
fn attached_mass(shop: &mut Shop<'_>, attached: &Attached, main: &Mass) -> Option<Mass> {
    let size = |size| shop.size(Some(size), Full::ZERO);
    let (along, out, height) =
        (size(&attached.length), size(&attached.depth), size(&attached.height));
    if along <= Full::ZERO || out <= Full::ZERO || height <= Full::ZERO {
        return None;
    }
    let pitch = pitch(shop, attached);
    let kind = attached.roof.unwrap_or(RoofKind::Flat);
    let (length, depth) = if attached.stands == Stands::Out { (out, along) } else { (along, out) };
    let over = shop.size(attached.overhang.as_ref(), Full::ZERO);
    let run = crate::elevation::body::run(kind, depth);
    let body = Body {
        length,
        depth,
        eave: height,
        ridge: height + run * pitch,
        pitch,
        eave_overhang: over,
        rake_overhang: over,
    };
    let walls = box_walls(shop, attached, main, &body, kind);
    off_the_end(shop, attached, main, along);
    meets(shop, attached, main, &body, kind);
    Some(Mass {
        name: Some(attached.name.clone()),
        body,
        roof: Some(kind),
        half: false,
        roof_cladding: attached.roof_cladding.clone(),
        parapet: Full::ZERO,
        walls,
    })
}

fn pitch(shop: &mut Shop<'_>, attached: &Attached) -> f64 {
    let Some(text) = &attached.pitch else { return 0.0 };
    match parse_pitch(text) {
        Ok(pitch) => pitch.value.value(),
        Err(error) => {
            let subject = Subject::Member(attached.name.clone());
            shop.findings.push(Finding::trouble(
                subject,
                format!("the pitch of {}: {error}", attached.name),
                "write rise over run: 4:12",
            ));
            0.0
        }
    }
}

/// The walls a box shows. Against a face there is none at its back; out from a
/// face the inner end is missing.
fn box_walls(
    shop: &Shop<'_>,
    attached: &Attached,
    main: &Mass,
    body: &Body<Compressed>,
    kind: RoofKind,
) -> Vec<Wall> {
    let front = &main.walls[..1.min(main.walls.len())];
    let claddings = attached
        .cladding
        .clone()
        .unwrap_or_else(|| front.first().map(|wall| wall.claddings.clone()).unwrap_or_default());
    let seen: &[Stand] = match attached.stands {
        Stands::Against => &[Stand::Front, Stand::LeftEnd, Stand::RightEnd],
        Stands::Out => &[Stand::RightEnd, Stand::Front, Stand::Back],
        Stands::OnSlope | Stands::OnRidge => {
            &[Stand::Front, Stand::LeftEnd, Stand::RightEnd, Stand::Back]
        }
    };
    let wall = |(number, stand): (usize, &Stand)| {
        let end = matches!(stand, Stand::LeftEnd | Stand::RightEnd);
        let width = if end { body.depth } else { body.length };
        let title = if attached.what.is_empty() { &attached.name } else { &attached.what };
        let side = if number == 0 { String::new() } else { format!("-{}", side(*stand)) };
        let holes = if number == 0 { holes(shop, &attached.openings) } else { Vec::new() };
        Wall {
            name: format!("{}{side}", attached.name),
            title: format!("{title}{}", side.replace('-', ", ")),
            stand: *stand,
            width,
            top: wall::top_of(kind, false, *stand, width, (body.eave, body.ridge), Full::ZERO),
            foot: foot(attached.stands, *stand, width, body.depth * main.body.pitch),
            spans: Vec::new(),
            holes,
            claddings: claddings.clone(),
            described: true,
        }
    };
    let walls = seen.iter().enumerate().map(wall);
    // Behind a dormer the roof may come up to its top.
    walls.filter(|wall| wall.highest(Full::ZERO, wall.width) > wall.foot[0].1).collect()
}

fn side(stand: Stand) -> &'static str {
    match stand {
        Stand::Front => "left",
        Stand::Back => "back",
        Stand::LeftEnd => "left",
        Stand::RightEnd => "right",
    }
}

/// The foot of a wall: level on the ground; on the roof it follows the slope,
/// which rises by `rise` over the depth of the box.
fn foot(stands: Stands, stand: Stand, width: Full, rise: Full) -> Line {
    let zero = Full::ZERO;
    let level = |at| vec![(zero, at), (width, at)];
    match (stands, stand) {
        (Stands::OnSlope, Stand::LeftEnd) => vec![(zero, rise), (width, zero)],
        (Stands::OnSlope, Stand::RightEnd) => vec![(zero, zero), (width, rise)],
        (Stands::OnSlope, Stand::Back) => level(rise),
        (Stands::OnRidge, Stand::LeftEnd | Stand::RightEnd) => {
            vec![(zero, zero), (width / 2.0, rise / 2.0), (width, zero)]
        }
        _ => level(zero),
    }
}

fn holes(shop: &Shop<'_>, sets: &[Set]) -> Vec<Hole<Compressed>> {
    let hole = |(number, set): (usize, &Set)| {
        let opening = shop.job.openings.iter().find(|opening| opening.name == set.kind)?;
        let size = |size| shop.size(size, Full::ZERO);
        Some(Hole {
            label: format!("{}#{}", set.kind, number + 1),
            kind: set.kind.clone(),
            what: opening.what,
            left: size(Some(&set.at)),
            foot: if opening.what == OpeningWhat::Door {
                Full::ZERO
            } else {
                size(opening.sill.as_ref())
            },
            width: size(Some(&opening.width)),
            height: size(Some(&opening.height)),
            trim: size(opening.trim.as_ref()),
        })
    };
    sets.iter().enumerate().filter_map(hole).collect()
}

/// A box keeps its place from the left corner; on a shortened building that
/// may be beyond the end.
fn off_the_end(shop: &mut Shop<'_>, attached: &Attached, main: &Mass, along: Full) {
    let Some(at) = &attached.at else { return };
    let on_face = |wall: &&Wall| Some(&wall.name) == attached.face.as_ref();
    let long = match main.walls.iter().find(on_face) {
        Some(wall) => wall.width,
        None => main.body.length,
    };
    let end = shop.size(Some(at), Full::ZERO) + along;
    if end > long + Full::inches(0.1) {
        let show = |length| shop.job.about.full_notation().show(&length);
        let message = format!(
            "{} would end at {}, beyond the corner at {}",
            attached.name,
            show(end),
            show(long)
        );
        let subject = Subject::Member(attached.name.clone());
        let hint = "the building was shortened: give it another place with `at`";
        shop.findings.push(Finding::look(subject, message, hint));
    }
}

/// What is worth knowing where roofs meet.
fn meets(
    shop: &mut Shop<'_>,
    attached: &Attached,
    main: &Mass,
    body: &Body<Compressed>,
    kind: RoofKind,
) {
    let subject = Subject::Member(attached.name.clone());
    let show = |length| shop.job.about.full_notation().show(&length);
    match attached.stands {
        Stands::Out if kind == RoofKind::Gable && body.ridge > main.body.eave => {
            let rise = (body.ridge - main.body.eave).min(body.ridge - body.eave);
            let valley = super::roof::valley(rise, body.pitch, main.body.pitch);
            let message = format!(
                "the roof of {} runs into the main one: two valleys of {} each",
                attached.name,
                show(valley)
            );
            shop.findings.push(Finding::note(subject, message));
        }
        Stands::Against if body.ridge > main.body.eave && main.parapet <= Full::ZERO => {
            let message = format!(
                "the roof of {} meets the wall at {}, above the eave at {}",
                attached.name,
                show(body.ridge),
                show(main.body.eave)
            );
            shop.findings.push(Finding::look(subject, message, "lower it, or flatten its pitch"));
        }
        _ => {}
    }
}
