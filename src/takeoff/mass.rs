//! The boxes a building is made of: its body, and what is attached to it.

use super::Shop;
use super::wall::{self, Line, Stand, Wall};
use crate::elevation::Body;
use crate::finding::{Finding, Subject};
use crate::job::body::{
    Along, Body as JobBody, BodyPlace, FaceId, Roof, RoofKind, RoofPlace, Side,
};
use crate::job::place::RoofFollows;
use crate::job::said::Size;
use crate::quantity::{Compressed, CompressedLength, parse_pitch};

type Full = CompressedLength;

/// A box with its walls and roof.
#[derive(Clone, Debug)]
pub(super) struct Mass {
    /// Whether it is the body that is shortened.
    pub(super) main: bool,
    /// What its faces are called after.
    pub(super) name: String,
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
    /// What a group of its parts is called: `lean-to/roof`.
    pub(super) fn group(&self, what: &str) -> String {
        format!("{}/{what}", self.name)
    }
}

/// Where a box stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stands {
    /// Against a face, its roof falling outwards or lying along it.
    Against,
    /// Against a face, its ridge running out from it.
    Out,
    /// On a slope of the roof.
    OnSlope,
    /// Astride the ridge.
    OnRidge,
}

impl Stands {
    fn of(place: &BodyPlace) -> Option<Self> {
        match place {
            BodyPlace::Against(_) => Some(Self::Against),
            BodyPlace::Out(_) => Some(Self::Out),
            BodyPlace::On(RoofPlace::Slope(_)) => Some(Self::OnSlope),
            BodyPlace::On(RoofPlace::Ridge(_)) => Some(Self::OnRidge),
            BodyPlace::Beside(..) => None,
        }
    }
}

/// The body first, then what is attached, in the order of the job.
pub(super) fn masses(shop: &mut Shop<'_>) -> Vec<Mass> {
    let main = main(shop);
    let job = shop.job;
    let attached: Vec<Mass> =
        job.bodies.iter().skip(1).filter_map(|body| attached_mass(shop, body, &main)).collect();
    std::iter::once(main).chain(attached).collect()
}

fn main(shop: &Shop<'_>) -> Mass {
    let (job, built) = (shop.job, shop.built);
    let parapet = job.main_roof().and_then(|roof| roof.parapet.as_ref());
    let parapet = parapet.map_or(Full::ZERO, |size| shop.size(Some(size), Full::ZERO));
    let flat = built.roof == RoofFollows::Flat;
    Mass {
        main: true,
        name: job.main().map_or_else(String::new, |main| main.name.clone()),
        body: built.body,
        roof: job.main_roof().map(|roof| roof.kind).filter(|_| !flat),
        half: built.roof == RoofFollows::HalfRelief,
        roof_cladding: job.main_roof().and_then(|roof| roof.cladding.clone()),
        parapet,
        walls: wall::walls(job, built, parapet),
    }
}

/// A box against the body or on its roof. One that does not stand on the
/// building as shortened is told, and taken off all the same.
fn attached_mass(shop: &mut Shop<'_>, attached: &JobBody, main: &Mass) -> Option<Mass> {
    let size = |size| shop.size(size, Full::ZERO);
    let (along, out, height) =
        (size(attached.length.as_ref()), size(Some(&attached.depth)), size(attached.eave.as_ref()));
    let stands = attached.stands.as_ref().and_then(|stands| Stands::of(&stands.place))?;
    let roof = attached.roof.as_ref();
    if along <= Full::ZERO || out <= Full::ZERO || height <= Full::ZERO {
        return None;
    }
    let pitch = pitch(shop, attached, roof);
    let kind = roof.map_or(RoofKind::Flat, |roof| roof.kind);
    let (length, depth) = if stands == Stands::Out { (out, along) } else { (along, out) };
    let over = |size: fn(&Roof) -> &Option<Size>| {
        shop.size(roof.and_then(|roof| size(roof).as_ref()), Full::ZERO)
    };
    let run = crate::elevation::body::run(kind, depth);
    let body = Body {
        length,
        depth,
        eave: height,
        ridge: height + run * pitch,
        pitch,
        eave_overhang: over(|roof| &roof.eave),
        rake_overhang: over(|roof| &roof.rake),
    };
    let walls = box_walls(shop, attached, stands, (main, &body), kind);
    off_the_end(shop, attached, main, along);
    meets(shop, (attached, stands), main, &body, kind);
    Some(Mass {
        main: false,
        name: attached.name.clone(),
        body,
        roof: Some(kind),
        half: false,
        roof_cladding: roof.and_then(|roof| roof.cladding.clone()),
        parapet: Full::ZERO,
        walls,
    })
}

fn pitch(shop: &mut Shop<'_>, attached: &JobBody, roof: Option<&Roof>) -> f64 {
    let Some(text) = roof.and_then(|roof| roof.pitch.as_ref()) else { return 0.0 };
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
    attached: &JobBody,
    stands: Stands,
    (main, body): (&Mass, &Body<Compressed>),
    kind: RoofKind,
) -> Vec<Wall> {
    let seen: &[Stand] = match stands {
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
        let side = if number == 0 { Side::Front } else { side(stands, *stand) };
        let title = if number == 0 { title.clone() } else { format!("{title}, {side}") };
        let id = FaceId::new(&attached.name, side);
        let name = id.to_string();
        let laid = shop.built.faces.iter().find(|face| face.name == name);
        let said = shop.job.wall(&id).map(|wall| wall.title.clone());
        Wall {
            title: said.filter(|said| !said.is_empty()).unwrap_or(title),
            name,
            stand: *stand,
            width,
            top: wall::top_of(kind, false, *stand, width, (body.eave, body.ridge), Full::ZERO),
            foot: foot(stands, *stand, width, body.depth * main.body.pitch),
            spans: Vec::new(),
            holes: laid.map_or_else(Vec::new, |face| face.holes.clone()),
            claddings: shop.job.claddings_of(&id),
            described: true,
        }
    };
    let walls = seen.iter().enumerate().map(wall);
    // Behind a dormer the roof may come up to its top.
    walls.filter(|wall| wall.highest(Full::ZERO, wall.width) > wall.foot[0].1).collect()
}

fn side(stands: Stands, stand: Stand) -> Side {
    match (stands, stand) {
        (Stands::Out, Stand::Front) | (_, Stand::LeftEnd) => Side::Left,
        (Stands::Out, Stand::Back) | (_, Stand::RightEnd) => Side::Right,
        (_, Stand::Front) => Side::Front,
        (_, Stand::Back) => Side::Back,
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

/// A box keeps its place from the left corner; on a shortened building that
/// may be beyond the end.
fn off_the_end(shop: &mut Shop<'_>, attached: &JobBody, main: &Mass, along: Full) {
    let Some(stands) = &attached.stands else { return };
    let Along::Left(at) = &stands.along else { return };
    let face = match &stands.place {
        BodyPlace::Against(face) | BodyPlace::Out(face) => Some(face.to_string()),
        BodyPlace::On(_) | BodyPlace::Beside(..) => None,
    };
    let on_face = |wall: &&Wall| Some(&wall.name) == face.as_ref();
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
    (attached, stands): (&JobBody, Stands),
    main: &Mass,
    body: &Body<Compressed>,
    kind: RoofKind,
) {
    let subject = Subject::Member(attached.name.clone());
    let show = |length| shop.job.about.full_notation().show(&length);
    match stands {
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
