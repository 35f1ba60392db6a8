//! Trim boards: which a wall has, how thick they are, what they cover.

use std::sync::Arc;

use super::Raise;
use super::origin::{Origin, Why};
use crate::job::carpentry::Trim;

impl Raise<'_> {
    /// What a wall's corner boards cover of it at its two ends.
    pub(super) fn corner_cover(&self, wall: &super::Wall) -> [Arc<Origin>; 2] {
        let trim = self.trim_of(&wall.id);
        let sizes = self.job.trim_of(&wall.id.body);
        let width = sizes.corner.as_ref();
        let boards =
            [crate::job::wall::TrimBoard::CornerLeft, crate::job::wall::TrimBoard::CornerRight];
        boards.map(|board| {
            let size = width.filter(|_| trim.contains(&board));
            let found = size.and_then(|size| Some((size, self.survey.size(size).ok()?)));
            let Some((size, found)) = found else {
                return Origin::plain("corner board", 0.0, Why::Default("no corner board there"));
            };
            let board =
                Origin::plain("corner board", found.value.in_inches(), Why::Said(size.clone()));
            let thick = self.trim_thickness(&sizes);
            // The wider one lies on the edge of the other, so both look alike.
            Origin::rule(
                "corner board on its wall",
                "its width less the other's thickness",
                &[&board, &thick],
                |of| of[0] - of[1],
            )
        })
    }

    /// Thickness of trim boards at full size: as stated on the model, else the
    /// size, else 1 in.
    pub(super) fn trim_thickness(&self, trim: &Trim) -> Arc<Origin> {
        if let Some(said) = &trim.thick {
            return Self::on_model("thickness of trim".to_owned(), said)
                .enlarged(self.scale)
                .origin;
        }
        let found =
            trim.thickness.as_ref().and_then(|size| Some((size, self.survey.size(size).ok()?)));
        match found {
            Some((size, found)) => {
                Origin::plain("thickness of trim", found.value.in_inches(), Why::Said(size.clone()))
            }
            None => Origin::plain(
                "thickness of trim",
                1.0,
                Why::Default("1 in, common practice, no source"),
            ),
        }
    }

    /// The trim boards of a wall.
    pub(super) fn trim_of(
        &self,
        id: &crate::job::body::FaceId,
    ) -> Vec<crate::job::wall::TrimBoard> {
        trim_of(self.job, id)
    }
}

/// The trim boards of a wall: its own, its body's, or the usual; all where the
/// job names none.
#[must_use]
pub fn trim_of(
    job: &crate::job::Job,
    id: &crate::job::body::FaceId,
) -> Vec<crate::job::wall::TrimBoard> {
    use crate::job::wall::TrimBoard::{CornerLeft, CornerRight, Frieze, WaterTable};
    let wall = job.wall(id).and_then(|wall| wall.trim.clone());
    wall.or_else(|| job.body(&id.body).and_then(|body| body.trim.clone()))
        .or_else(|| job.usual.trim.clone())
        .unwrap_or_else(|| vec![CornerLeft, CornerRight, Frieze, WaterTable])
}
