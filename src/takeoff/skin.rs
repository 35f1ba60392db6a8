//! A layer of a wall as the hand meets it: the wall with the openings that go
//! through the layer, its edges, and why a distance on it is as it is.

use std::sync::Arc;

use crate::building::{Layer, LayerHole, Origin, Sized, Wall, Why};
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Compressed, CompressedLength, ModelLength, Scale};

type Full = CompressedLength;

/// A layer of a wall.
pub(super) struct Skin<'a> {
    /// The wall as the layer has it, its openings as described.
    pub(super) wall: Wall,
    /// The same with the holes that are cut in the layer.
    pub(super) cut: Wall,
    /// The layer.
    pub(super) layer: &'a Layer,
    /// Its left edge, from the left corner of the face.
    pub(super) left: Full,
    /// Its right edge.
    pub(super) right: Full,
    /// The scale.
    ratio: Arc<Origin>,
}

impl<'a> Skin<'a> {
    pub(super) fn of(wall: &Wall, layer: &'a Layer, scale: &Scale) -> Self {
        let seen = wall.seen_as(layer);
        let holes = layer.holes.iter().map(|hole| hole.hole.clone()).collect();
        Self {
            cut: Wall { holes, ..seen.clone() },
            wall: seen,
            layer,
            left: layer.left.length,
            right: layer.right.length,
            ratio: ratio(scale),
        }
    }

    /// Its length along the wall.
    pub(super) fn width(&self) -> Full {
        self.right - self.left
    }

    /// The part of a stretch that the layer reaches over.
    pub(super) fn within(&self, left: Full, right: Full) -> Option<(Full, Full)> {
        let (left, right) = (left.max(self.left), right.min(self.right));
        (right > left + Full::inches(TOUCH)).then_some((left, right))
    }

    /// Why a distance along the wall is as it is: an edge of the layer or of an
    /// opening, else as given.
    pub(super) fn at_why(&self, x: Full, otherwise: impl FnOnce() -> Arc<Origin>) -> Arc<Origin> {
        let near = |other: Full| x.agrees(other, Full::inches(TOUCH));
        if near(self.left) {
            return Arc::clone(&self.layer.left.origin);
        }
        if near(self.right) {
            return Arc::clone(&self.layer.right.origin);
        }
        let neighbours = self.wall.behind.iter().flat_map(|it| &it.edges);
        if let Some(edge) = neighbours.into_iter().find(|it| near(Full::inches(it.value))) {
            return Arc::clone(edge);
        }
        for hole in &self.wall.holes {
            let Some(why) = self.wall.hole_why(&hole.label) else { continue };
            if near(hole.left) {
                return Arc::clone(&why.left);
            }
            if near(hole.right()) {
                return Origin::rule(
                    "right edge",
                    "its left edge and its width",
                    &[&why.left, &why.width],
                    |of| of[0] + of[1],
                );
            }
        }
        let ends = self.layer.holes.iter().filter_map(|hole| self.hole_ends(hole));
        let mut edges = ends.flat_map(|[left, right, ..]| [left, right]);
        edges.find(|it| near(Full::inches(it.value))).unwrap_or_else(otherwise)
    }

    /// Why the edges of a hole are where they are: left, right, foot and head.
    fn hole_ends(&self, hole: &LayerHole) -> Option<[Arc<Origin>; 4]> {
        let why = self.wall.hole_why(&hole.hole.label)?;
        let [wide, high] = [&hole.width, &hole.height].map(|it| &it.origin);
        let ratio = &self.ratio;
        let of = [&why.left, &why.width, wide, ratio];
        let rule = "about the middle of the opening";
        let left = Origin::rule("left edge of the hole", rule, &of, |of| {
            of[0] + (of[1] - of[2] * of[3]) / 2.0
        });
        let right = Origin::rule("right edge of the hole", rule, &of, |of| {
            of[0] + (of[1] + of[2] * of[3]) / 2.0
        });
        let of = [&why.foot, &why.height, high, ratio];
        // What stands on the foot of the wall stands on its sill.
        if hole.hole.foot.agrees(Full::inches(why.foot.value), Full::inches(NOTHING)) {
            let rule = "on the sill";
            let head = Origin::rule("head of the hole", rule, &[&why.foot, high, ratio], |of| {
                of[0] + of[1] * of[2]
            });
            return Some([left, right, Arc::clone(&why.foot), head]);
        }
        let foot =
            Origin::rule("foot of the hole", rule, &of, |of| of[0] + (of[1] - of[2] * of[3]) / 2.0);
        let head =
            Origin::rule("head of the hole", rule, &of, |of| of[0] + (of[1] + of[2] * of[3]) / 2.0);
        Some([left, right, foot, head])
    }

    /// Why a piece ends at a corner of the wall, or under its ridge.
    pub(super) fn corner_why(&self, x: Full) -> Arc<Origin> {
        let width = &self.wall.why.width;
        let at = x.in_inches();
        let corners: [(&'static str, crate::building::origin::Work); 3] = [
            ("the middle of the wall", |of| of[0] / 2.0),
            ("the right corner", |of| of[0]),
            ("the left corner", |of| of[0] * 0.0),
        ];
        let each = corners.map(|(rule, work)| Origin::rule("corner", rule, &[width], work));
        let near = |it: &&Arc<Origin>| (it.value - at).abs() < TOUCH;
        if let Some(corner) = each.iter().find(near) {
            return Arc::clone(corner);
        }
        as_built("corner of the piece", x)
    }

    /// Where the top of the wall comes down to a level, from its eave and its
    /// pitch: at the left or at the right.
    pub(super) fn slope_why(&self, x: Full, level: &Arc<Origin>) -> Arc<Origin> {
        self.on_slope(x, level).unwrap_or_else(|| self.corner_why(x))
    }

    /// The same, where it is so.
    pub(super) fn on_slope(&self, x: Full, level: &Arc<Origin>) -> Option<Arc<Origin>> {
        let why = &self.wall.why;
        let of = [level, &why.eave, &why.pitch, &why.width];
        let ways: [crate::building::origin::Work; 2] =
            [|of| (of[0] - of[1]) / of[2], |of| of[3] - (of[0] - of[1]) / of[2]];
        let rule = "where the slope comes to that height";
        let each = ways.map(|work| Origin::rule("end on the slope", rule, &of, work));
        let near = |it: &&Arc<Origin>| (it.value - x.in_inches()).abs() < 1e-5;
        if let Some([run, upper]) = &why.upper {
            let of = [level, &why.eave, &why.pitch, &why.width, run, upper];
            let ways: [crate::building::origin::Work; 2] = [
                |of| of[4] + (of[0] - of[1] - of[2] * of[4]) / of[5],
                |of| of[3] - of[4] - (of[0] - of[1] - of[2] * of[4]) / of[5],
            ];
            let above = ways.map(|work| Origin::rule("end on the slope", rule, &of, work));
            if let Some(found) = above.iter().find(near) {
                return Some(Arc::clone(found));
            }
        }
        each.iter().find(near).cloned()
    }

    /// Why a height on the wall is as it is: the foot, the top there, an edge of
    /// an opening, else as given.
    pub(super) fn height_why(
        &self,
        y: Full,
        x: &Arc<Origin>,
        otherwise: impl FnOnce() -> Arc<Origin>,
    ) -> Arc<Origin> {
        let near = |value: f64| (value - y.in_inches()).abs() < TOUCH;
        if near(0.0) {
            return foot();
        }
        if let Some(below) = self.wall.foot_level(y.in_inches(), x) {
            return below;
        }
        for hole in &self.wall.holes {
            let Some(why) = self.wall.hole_why(&hole.label) else { continue };
            if near(hole.foot.in_inches()) {
                return Arc::clone(&why.foot);
            }
            if near(hole.head().in_inches()) {
                return Origin::rule("head", "sill and height", &[&why.foot, &why.height], |of| {
                    of[0] + of[1]
                });
            }
        }
        let ends = self.layer.holes.iter().filter_map(|hole| self.hole_ends(hole));
        let mut edges = ends.flat_map(|[.., foot, head]| [foot, head]);
        if let Some(edge) = edges.find(|it| near(it.value)) {
            return edge;
        }
        if near(self.wall.top_at(Full::inches(x.value)).in_inches()) {
            return self.wall.top_why(x);
        }
        let peak = self.wall.peak_why();
        if near(peak.value) {
            return peak;
        }
        otherwise()
    }
}

/// Full size over model.
pub(super) fn ratio(scale: &Scale) -> Arc<Origin> {
    let one: Full = scale.enlarge(ModelLength::inches(1.0));
    Origin::plain("scale", one.in_inches(), Why::Stated(scale.name.clone()))
}

/// The foot of the walls.
pub(super) fn foot() -> Arc<Origin> {
    Origin::plain("foot of the wall", 0.0, Why::Default("heights count from there"))
}

/// Something as the building has it, where no rule says more.
pub(super) fn as_built(what: &str, value: Full) -> Arc<Origin> {
    Origin::plain(what, value.in_inches(), Why::Default("as the building is laid out"))
}

/// An upright size between two heights with their reasons.
pub(super) fn between(what: &str, low: &Arc<Origin>, high: &Arc<Origin>) -> Sized<Compressed> {
    Sized::rule(what, "from height to height", &[low, high], |of| of[1] - of[0])
}

/// A level size between two distances with their reasons.
pub(super) fn across(what: &str, left: &Arc<Origin>, right: &Arc<Origin>) -> Sized<Compressed> {
    Sized::rule(what, "from edge to edge", &[left, right], |of| of[1] - of[0])
}

/// A size of the job with its reason.
pub(super) fn said(
    what: &str,
    value: Full,
    size: Option<&crate::job::said::Size>,
    otherwise: &'static str,
) -> Sized<Compressed> {
    let why = size.map_or(Why::Default(otherwise), |size| Why::Said(size.clone()));
    Sized::of(Origin::plain(what, value.in_inches(), why))
}
