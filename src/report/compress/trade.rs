//! Length kept against cost, and the building at other scales.

use super::super::Seen;
use super::super::faces::Sizes;
use super::super::table::{Mark, Row, Table};
use crate::compress::Compression;
use crate::compress::curve::Point;
use crate::quantity::CompressedLength;

/// Cells of the longest bar.
const BAR: f64 = 24.0;

/// The best at every length, its cost drawn as a bar, and an even reduction to
/// the same length beside it.
pub(super) fn curve(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Table {
    let heads = [">length", ">model", ">kept", ">cost", "cost drawn", "counts", ">even"];
    let heads: Vec<&str> = heads.into_iter().chain(["door then"]).collect();
    let mut table = Table::new("Length kept against cost", &heads);
    let (Some(compared), Ok(faces)) = (&seen.plan.compared, &seen.plan.faces) else {
        return table;
    };
    let full = CompressedLength::kept(faces.body.length);
    let most = compared.curve.iter().map(|it| it.cost).fold(1e-9, f64::max);
    let door = faces.front().holes.iter().min_by(|a, b| {
        let is_door =
            |it: &crate::elevation::Hole<_>| it.what != crate::job::building::OpeningWhat::Door;
        is_door(a).cmp(&is_door(b))
    });
    for it in &compared.curve {
        let kept = it.length / full;
        let wide = door
            .map_or("-".to_owned(), |door| sizes.full(CompressedLength::kept(door.width) * kept));
        let row = Row::plain(vec![
            sizes.full(it.length),
            sizes.model(it.length),
            format!("{:.0}%", 100.0 * kept),
            format!("{:.1}", it.cost),
            bar(it.cost / most),
            counts(it),
            format!("x {kept:.3}"),
            wide,
        ]);
        let here = it.length.agrees(compression.built.body.length, full / 64.0);
        table.push(if here { row.marked(Mark::Chosen) } else { row });
    }
    table.notes.push(
        "The least cost of counts and widths for each length allowed, roof and depth aside; \
         \"even\" is what an even reduction to the same length would do to a door."
            .to_owned(),
    );
    table
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
    let heads =
        ["scale", ">long", ">deep", ">high", ">kept", ">cost", "what fits", ">thinnest thou"];
    let mut table = Table::new("At other scales", &heads);
    let Some(compared) = &seen.plan.compared else { return table };
    for it in &compared.scales {
        let (kept, cost, words) = match &it.fits {
            Ok(fits) => (
                format!("{:.0}%", 100.0 * fits.kept),
                fits.cost.map_or("-".to_owned(), |cost| format!("{cost:.1}")),
                format!("{}: {}", sizes.model_alone(fits.length), fits.words),
            ),
            Err(stop) => ("-".to_owned(), "-".to_owned(), stop.trouble.clone()),
        };
        let row = Row::plain(vec![
            it.scale.name.clone(),
            sizes.model_alone(it.length),
            sizes.model_alone(it.depth),
            sizes.model_alone(it.height),
            kept,
            cost,
            words,
            it.smallest
                .as_ref()
                .map_or("-".to_owned(), |(_, size)| format!("{:.1}", size.in_thou())),
        ]);
        table.push(if it.own { row.marked(Mark::Chosen) } else { row });
    }
    let thinnest = compared.scales.first().and_then(|it| it.smallest.as_ref());
    table.notes.extend(thinnest.map(|(name, _)| format!("The thinnest part is of \"{name}\".")));
    table.notes.push(
        "The whole prototype on the model; what fits the same place. Name others as `compare` \
         under [job]."
            .to_owned(),
    );
    table
}
