//! Flanges of castings that lie on the face: how far they are clear of trim.

use super::origin::{Origin, Sized, Why};
use super::{Building, Raise};
use crate::elevation::Hole;
use crate::finding::{Finding, Subject};
use crate::job::body::FaceId;
use crate::job::wall::TrimBoard;
use crate::quantity::{Compressed, Model};

/// A flange on the face of a wall.
#[derive(Clone, Debug)]
pub struct Flange {
    /// The wall.
    pub wall: FaceId,
    /// The opening's label on it.
    pub label: String,
    /// From its edge to the nearest trim.
    pub clear: Sized<Model>,
    /// What trim that is.
    pub of: TrimBoard,
}

impl Raise<'_> {
    /// The flanges that lie on the face beside trim.
    pub(super) fn flanges(&mut self, building: &Building) -> Vec<Flange> {
        let mut all = Vec::new();
        for wall in &building.walls {
            for hole in &wall.holes {
                all.extend(self.flange(wall, hole));
            }
        }
        let fit = self.fit("casting", 5.0).length;
        for flange in all.iter().filter(|flange: &&Flange| flange.clear.length < fit) {
            self.findings.push(Finding::look(
                Subject::Element(format!("{}/{}", flange.wall, flange.label)),
                format!("the flange of {} reaches the trim", flange.label),
                "cut the trim round it, or move the opening",
            ));
        }
        all
    }

    fn flange(&self, wall: &super::Wall, hole: &Hole<Compressed>) -> Option<Flange> {
        let [half_wide, half_high] = self.flange_half(&hole.kind)?;
        let sizes = self.job.trim_of(&wall.id.body);
        let boards = self.trim_of(&wall.id);
        let width = |size: &Option<crate::job::said::Size>| {
            let found = self.survey.size(size.as_ref()?).ok()?;
            Some(found.value.in_inches())
        };
        let (frieze, foot) = (width(&sizes.frieze), width(&sizes.water_table));
        let corner = self.corner_cover(wall).map(|cover| cover.value);
        let middle = (hole.left + hole.width / 2.0).in_inches();
        let level = (hole.foot + hole.height / 2.0).in_inches();
        let long = wall.width.in_inches();
        let eave = wall.eave().in_inches();
        let gaps = [
            (TrimBoard::Frieze, frieze.map(|it| eave - it - level - half_high)),
            (TrimBoard::WaterTable, foot.map(|it| level - half_high - it)),
            (TrimBoard::CornerLeft, Some(middle - half_wide - corner[0])),
            (TrimBoard::CornerRight, Some(long - corner[1] - middle - half_wide)),
        ];
        let nearest = gaps
            .into_iter()
            .filter(|(board, _)| boards.contains(board))
            .filter_map(|(board, gap)| Some((board, gap?)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        let (of, gap) = nearest?;
        let gap = Origin::plain("flange to trim", gap, Why::Default("as both lie on the face"));
        let ratio = self.ratio();
        let rule = "from the edge of the flange to the trim";
        let clear = Sized::rule("flange to trim", rule, &[&gap, &ratio], |of| of[0] / of[1]);
        Some(Flange { wall: wall.id.clone(), label: hole.label.clone(), clear, of })
    }
}
