//! What is checked as the box is put together and set down.

use super::Shop;
use super::courses;
use crate::building::{Body, Inside, Role};
use crate::finding::{Finding, Subject};
use crate::job::body::Side;
use crate::quantity::{CompressedLength, ModelLength};

type Full = CompressedLength;

/// Floor of a box car above the rail head, where the job does not say: common
/// practice, no source.
const CAR_FLOOR_INCHES: f64 = 44.0;
/// A sill this far from the car floor is seen (trade: 1/16 in is 5.4 in at
/// 1:87.1).
const OFF_INCHES: f64 = 1.0 / 16.0;

/// The diagonals of a box of core walls, before cladding.
#[derive(Clone, Debug, PartialEq)]
pub struct Square {
    /// The box: `body`, or the name of what is attached.
    pub name: String,
    /// Along the core, outside.
    pub long: ModelLength,
    /// Across it.
    pub short: ModelLength,
    /// What both diagonals must be.
    pub diagonal: ModelLength,
    /// What they may differ by: 1/64 in up to 12 in, in proportion beyond
    /// (judgement).
    pub slack: ModelLength,
}

/// The diagonals of a box of cores, outside; nothing for a front alone or for a
/// box on the roof.
pub(super) fn square(shop: &Shop<'_>, body: &Body, inside: Option<&Inside>) -> Option<Square> {
    let inside = inside.filter(|_| body.sides.len() > 1 && !body.on_roof())?;
    let core = |side| {
        let wall = shop.building.walls_of(&body.name).find(|wall| wall.id.side == side);
        let layers = wall.into_iter().flat_map(|wall| &wall.layers);
        let thick: f64 =
            layers.filter(|layer| layer.role != Role::Cladding).map(|layer| layer.full).sum();
        Full::inches(thick)
    };
    let on_model = |full: Full| shop.scale.reduce(full);
    let long: ModelLength = on_model(inside.length.length + core(Side::Left) + core(Side::Right));
    let short: ModelLength = on_model(inside.depth.length + core(Side::Front) + core(Side::Back));
    let diagonal = courses::hypotenuse(long, short);
    let share = (long.max(short) / ModelLength::inches(12.0)).max(1.0);
    let slack = ModelLength::inches(1.0 / 64.0) * share;
    Some(Square { name: body.name.clone(), long, short, diagonal, slack })
}

/// The sill against the car floor: base, foundation, rail head.
pub(super) fn seat(shop: &mut Shop<'_>) {
    let install = &shop.job.install;
    let (Some(base), Some(rail)) = (&install.base, &install.rail_head) else { return };
    let foundation = shop.job.main().and_then(|main| main.foundation.as_ref());
    let foundation: ModelLength =
        shop.scale.reduce(foundation.map_or(Full::ZERO, |size| shop.size(Some(size), Full::ZERO)));
    let floor = shop.size(install.car_floor.as_ref(), Full::inches(CAR_FLOOR_INCHES));
    let sill = base.length() + foundation;
    let above_rail = sill - rail.length();
    let wanted: ModelLength = shop.scale.reduce(floor);
    let off = above_rail - wanted;
    let show = |length: &ModelLength| shop.job.about.model_notation().show(length);
    let stack = format!(
        "base {} and foundation {} put the sill {} above the rail head; the car floor is at {}",
        show(&base.length()),
        show(&foundation),
        show(&above_rail),
        show(&wanted)
    );
    let finding = if off.abs() < ModelLength::inches(OFF_INCHES) {
        Finding::note(Subject::Job, stack)
    } else {
        let full: Full = shop.scale.enlarge(off);
        let way = if off > ModelLength::ZERO { "too high" } else { "too low" };
        Finding::look(
            Subject::Job,
            format!("{stack}: {:.1} in {way} at full size", full.abs().in_inches()),
            "change the base, the foundation or the rail height",
        )
    };
    shop.findings.push(finding);
}
