//! Length kept against cost, and the building at other scales.

use super::super::Seen;
use super::super::cell::Cell;
use super::super::column::{Column, bare, number, only, percent, text};
use super::super::draft::{one, rows};
use super::super::sizes::Sizes;
use super::super::table::{Mark, Table};
use crate::compress::Compression;
use crate::compress::curve::Point;
use crate::compress::scales::{AtScale, Fits};
use crate::job::building::OpeningWhat;
use crate::quantity::{CompressedLength, Unit};

/// Cells of the longest bar.
const BAR: f64 = 24.0;

/// The best at every length, its cost drawn as a bar, and an even reduction to
/// the same length beside it.
pub(super) fn curve(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Table {
    let compared = seen.plan.compared.as_ref();
    let points = compared.map_or(&[][..], |it| &it.curve);
    let faces = seen.plan.faces.as_ref().ok();
    let full = faces.map(|faces| CompressedLength::kept(faces.body.length));
    let kept = |it: &Point| Some(it.length / full?);
    let most = points.iter().map(|it| it.cost).fold(1e-9, f64::max);
    let door = faces.and_then(|faces| {
        faces.front().holes.iter().min_by_key(|hole| hole.what != OpeningWhat::Door)
    });
    let here = |it: &Point| {
        full.is_some_and(|full| it.length.agrees(compression.built.body.length, full / 64.0))
    };
    rows("curve", "Length kept against cost", points)
        .known(compared.is_some())
        .marked(|it| if here(it) { Mark::Chosen } else { Mark::Plain })
        .col(only("allowed_in"), |it| it.allowed)
        .col(sizes.full_size("length_in", "length"), |it| it.length)
        .col(sizes.on_model("model", "model").screen(), |it| sizes.reduce(it.length))
        .col(percent("kept", "kept", 0).screen(), kept)
        .col(number("cost", "cost", 1), |it| it.cost)
        .col(text("drawn", "cost drawn").screen(), |it| Cell::said(bar(it.cost / most), it.cost))
        .col(text("counts", "counts"), |it| Cell::said(counts(it), Cell::data(&it.counts)))
        .col(number("even", "even", 3).screen(), |it| {
            kept(it).map(|kept| Cell::said(format!("x {kept:.3}"), kept))
        })
        .col(sizes.full_size("door", "door then").blank("-").screen(), |it| {
            Some(CompressedLength::kept(door?.width) * kept(it)?)
        })
        .note(
            "The least cost of counts and widths for each length allowed, roof and depth aside; \
             \"even\" is what an even reduction to the same length would do to a door.",
        )
        .table()
}

fn bar(share: f64) -> String {
    // A share of a small number of cells.
    "\u{2588}".repeat((share.clamp(0.0, 1.0) * BAR).round() as usize)
}

fn counts(it: &Point) -> String {
    let one = |(name, count): (&String, &u32)| format!("{count} {}", name.replace(['-', '_'], " "));
    it.counts.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// Footprint, height, what fits and the thinnest part at each scale.
pub(super) fn scales(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let compared = seen.plan.compared.as_ref();
    let scales = compared.map_or(&[][..], |it| &it.scales);
    let fits = |it: &AtScale| match &it.fits {
        Ok(fits) => format!("{}: {}", sizes.model_alone(fits.length), fits.words),
        Err(stop) => stop.trouble.clone(),
    };
    let shown = |column: Column| column.blank("-").screen();
    let thinnest = scales.first().and_then(|it| it.smallest.as_ref());
    rows("scales", "At other scales", scales)
        .known(compared.is_some())
        .marked(|it| if it.own { Mark::Chosen } else { Mark::Plain })
        .col(text("scale", "scale"), |it| &it.scale.name)
        .col(only("own"), |it| it.own)
        .col(sizes.on_model("length_in", "long"), |it| it.length)
        .col(sizes.on_model("depth_in", "deep"), |it| it.depth)
        .col(sizes.on_model("height_in", "high"), |it| it.height)
        .col(shown(percent("kept", "kept", 0)), |it| Some(it.fits.as_ref().ok()?.kept))
        .col(shown(number("cost", "cost", 1)), |it| it.fits.as_ref().ok()?.cost)
        .col(text("what", "what fits").screen(), fits)
        .within("fits", |it| it.fits.as_ref().ok(), within)
        .col(only("why_not"), |it| it.fits.as_ref().err().map(|stop| &stop.trouble))
        .col(only("smallest"), |it| Some(&it.smallest.as_ref()?.0))
        .col(bare("smallest_thou", "thinnest thou", Unit::Thou, 1).blank("-"), |it| {
            Some(it.smallest.as_ref()?.1)
        })
        .notes(thinnest.map(|(name, _)| format!("The thinnest part is of \"{name}\".")))
        .note(
            "The whole prototype on the model; what fits the same place. Name others as `compare` \
             under [job].",
        )
        .table()
}

fn within(fits: Option<&Fits>) -> Table {
    one("fits", fits)
        .col(only("words"), |it| &it.words)
        .col(only("cost"), |it| it.cost)
        .col(only("length_in"), |it| it.length)
        .col(only("depth_in"), |it| it.depth)
        .col(only("kept"), |it| it.kept)
        .table()
}
