//! Holes through layers: the frame of a casting and its fit, or the opening as
//! described.

use std::sync::Arc;

use super::Raise;
use super::layer::LayerHole;
use super::origin::{Origin, Sized, Why};
use crate::elevation::Hole;
use crate::job::building::{Casting, Opening};
use crate::quantity::{Compressed, CompressedLength, Model, ModelLength};

/// What layers behind the one that shows are cut wider, each side, in thou.
const BEHIND: f64 = 15.0;

/// A casting as it goes into the wall, on the model.
#[derive(Clone, Debug)]
struct Cast {
    frame: [Sized<Model>; 2],
    flange: Sized<Model>,
    let_in: bool,
    alike: bool,
}

/// Where a layer lies in the wall at an opening.
#[derive(Clone, Copy, Debug)]
pub(super) struct Depth {
    /// Whether it is the outermost there.
    pub(super) outermost: bool,
    /// Whether a layer outside it is there to let a flange into.
    pub(super) carries: bool,
}

impl Raise<'_> {
    /// The hole for an opening in a layer.
    pub(super) fn hole(&self, hole: &Hole<Compressed>, depth: Depth) -> LayerHole {
        let opening = self.job.openings.iter().find(|it| it.name == hole.kind);
        let cast = opening.and_then(|opening| self.cast(opening));
        match cast {
            Some(cast) => self.for_casting(hole, &cast, depth),
            None => self.as_described(hole, opening),
        }
    }

    fn as_described(&self, hole: &Hole<Compressed>, opening: Option<&Opening>) -> LayerHole {
        let one = |what: &str, full: CompressedLength, size: Option<&crate::job::said::Size>| {
            let why = size.map_or(Why::Chosen(String::new()), |size| Why::Said(size.clone()));
            let full = Origin::plain(format!("{what} of {}", hole.kind), full.in_inches(), why);
            let ratio = self.ratio();
            let rule = "the opening as described";
            Sized::rule(format!("{what} of the hole"), rule, &[&full, &ratio], |of| of[0] / of[1])
        };
        LayerHole {
            hole: hole.clone(),
            width: one("width", hole.width, opening.map(|it| &it.width)),
            height: one("height", hole.height, opening.map(|it| &it.height)),
        }
    }

    pub(super) fn ratio(&self) -> Arc<Origin> {
        let one = self.scale.enlarge::<Compressed>(ModelLength::inches(1.0));
        Origin::plain("scale", one.in_inches(), Why::Stated(self.scale.name.clone()))
    }

    /// What a layer is cut to: the frame, or a flange that is let in, with the
    /// fit; a layer behind the one that shows a little more.
    fn for_casting(&self, hole: &Hole<Compressed>, cast: &Cast, depth: Depth) -> LayerHole {
        let fit = self.fit("casting", 5.0).origin;
        let behind = Origin::plain(
            "wider behind, a side",
            BEHIND / 1000.0,
            Why::Default("15 thou, common practice, no source"),
        );
        let lets_in = cast.let_in && depth.outermost && depth.carries;
        // A flange that is let in lies on the core, whose hole is exact.
        let exact = depth.outermost || cast.alike || cast.let_in;
        let stands = hole.foot <= CompressedLength::inches(0.01);
        let size = |axis: usize, what: &str| {
            let frame = &cast.frame[axis].origin;
            let name = format!("{what} of the hole for {}", hole.kind);
            let above_alone = axis == 1 && stands;
            match (lets_in, exact, above_alone) {
                (true, _, false) => Sized::rule(
                    name,
                    "flange and fit, for it is let in",
                    &[frame, &cast.flange.origin, &fit],
                    |of| of[0] + 2.0 * of[1] + 2.0 * of[2],
                ),
                (true, _, true) => Sized::rule(
                    name,
                    "flange and fit above, for it is let in and stands on its sill",
                    &[frame, &cast.flange.origin, &fit],
                    |of| of[0] + of[1] + of[2],
                ),
                (false, true, false) => {
                    Sized::rule(name, "frame and a fit each side", &[frame, &fit], |of| {
                        of[0] + 2.0 * of[1]
                    })
                }
                (false, true, true) => Sized::rule(
                    name,
                    "frame and the fit above: it stands on its sill",
                    &[frame, &fit],
                    |of| of[0] + of[1],
                ),
                (false, false, false) => Sized::rule(
                    name,
                    "frame and fit, a little more behind the layer that shows",
                    &[frame, &fit, &behind],
                    |of| of[0] + 2.0 * of[1] + 2.0 * of[2],
                ),
                (false, false, true) => Sized::rule(
                    name,
                    "frame and fit above, a little more behind the layer that shows",
                    &[frame, &fit, &behind],
                    |of| of[0] + of[1] + of[2],
                ),
            }
        };
        let (width, height) = (size(0, "width"), size(1, "height"));
        let full = |model: &Sized<Model>| self.scale.enlarge::<Compressed>(model.length);
        let (wide, high) = (full(&width), full(&height));
        let left = hole.left + (hole.width - wide) / 2.0;
        let foot = if stands { hole.foot } else { hole.foot + (hole.height - high) / 2.0 };
        let cut = Hole { left, foot, width: wide, height: high, ..hole.clone() };
        LayerHole { hole: cut, width, height }
    }

    fn cast(&self, opening: &Opening) -> Option<Cast> {
        match opening.casting.as_ref()? {
            Casting::Measured(frame) => {
                let of = |what: &str| format!("{what} of the casting of {}", opening.name);
                let flange = match &frame.flange {
                    Some(flange) => Self::on_model(of("flange"), flange),
                    None => Sized::of(Origin::plain(of("flange"), 0.0, Why::Default("no flange"))),
                };
                Some(Cast {
                    frame: [
                        Self::on_model(of("frame width"), &frame.frame[0]),
                        Self::on_model(of("frame height"), &frame.frame[1]),
                    ],
                    flange,
                    let_in: frame.let_in,
                    alike: frame.alike,
                })
            }
            Casting::Named(name) => {
                let own = self.catalog.rack.casting(name)?;
                let of = |what: &str, length: ModelLength| {
                    let why = Why::Row(format!("{}, on the rack", own.name));
                    Sized::of(Origin::plain(
                        format!("{what} of {}", own.name),
                        length.in_inches(),
                        why,
                    ))
                };
                Some(Cast {
                    frame: [of("width", own.width.length()), of("height", own.length.length())],
                    flange: of("flange", ModelLength::ZERO),
                    let_in: false,
                    alike: false,
                })
            }
        }
    }

    /// How far the flange of an opening's casting stands out beyond the middle
    /// of the opening, across and up, at full size in inches; nothing where it
    /// has none on the face.
    pub(super) fn flange_half(&self, opening: &str) -> Option<[f64; 2]> {
        let opening = self.job.openings.iter().find(|it| it.name == opening)?;
        let cast = self.cast(opening)?;
        let on_face = cast.flange.length > ModelLength::ZERO && !cast.let_in;
        let half = |axis: usize| {
            let half = cast.frame[axis].length / 2.0 + cast.flange.length;
            self.scale.enlarge::<Compressed>(half).in_inches()
        };
        on_face.then(|| [half(0), half(1)])
    }
}
