//! The steps of a wall, from its core out.

use super::{StepId, Steps, Work};
use crate::building::{Role, Wall};
use crate::job::building::CladdingKind;
use crate::takeoff::Kind;

/// What is on a wall after its core.
pub(super) struct Clad {
    pub(super) cladding: Vec<StepId>,
    pub(super) batten: StepId,
    pub(super) castings: StepId,
}

const TRIM: [Kind; 6] =
    [Kind::CornerBoard, Kind::Frieze, Kind::WaterTable, Kind::Casing, Kind::Sill, Kind::Fascia];

impl Steps<'_> {
    /// The steps of a wall; what is on it.
    pub(super) fn wall(&mut self, wall: &Wall) -> Clad {
        let name = wall.name.as_str();
        let fit = |group| StepId::fit(name, group);
        let stands = StepId::new(name, Work::Wall);
        let brace = StepId::new(name, Work::Brace);
        self.of_parts(fit("core"), name, &[Kind::Core]);
        let splice = self.splice(name);
        self.of_parts(brace.clone(), name, &[Kind::Bracing]);
        let cladding = self.claddings(wall);
        let (trim, batten) = (StepId::new(name, Work::Trim), fit("batten"));
        self.of_parts(trim.clone(), name, &TRIM);
        self.of_parts(batten.clone(), name, &[Kind::Batten]);
        let castings = StepId::new(name, Work::Castings);
        if self.has_castings(wall) {
            self.add(castings.clone());
        }
        self.add(stands.clone());
        self.leaf(name);
        for first in [fit("core"), splice.clone(), brace.clone()] {
            self.put(&first, &stands, "a wall is stiff before it stands");
        }
        for clad in &cladding {
            self.put(&fit("core"), clad, "the cladding lies on its core");
            self.put(&splice, clad, "the joint is made before it is covered");
            self.put(&brace, clad, "a wall is braced before it can warp");
            self.put(clad, &trim, "trim lies on the cladding");
            self.put(clad, &batten, "battens lie on the boards");
            self.put(clad, &castings, "castings last on a wall");
        }
        self.put(&fit("core"), &splice, "the strips are glued behind the joint");
        self.put(&fit("core"), &brace, "the strips are glued on the core");
        self.put(&trim, &batten, "battens are cut to the trim");
        self.put(&trim, &castings, "castings last on a wall");
        self.put(&batten, &castings, "castings last on a wall");
        self.stain(wall, &cladding);
        Clad { cladding, batten, castings }
    }

    /// Stain comes after lines and before glue: before the boards, before the
    /// trim and before the wall is joined to others.
    fn stain(&mut self, wall: &Wall, cladding: &[StepId]) {
        let engraved = StepId::new(wall.name.as_str(), Work::Engrave);
        let stain = StepId::new(wall.name.as_str(), Work::Stain);
        if cladding.is_empty() {
            return;
        }
        self.add(stain.clone());
        self.put(&engraved, &stain, "lines first, then stain");
        for then in [
            StepId::new(wall.name.as_str(), Work::Trim),
            StepId::fit(wall.name.as_str(), "batten"),
            StepId::new(wall.name.as_str(), Work::Wall),
        ] {
            self.put(&stain, &then, "stain before glue shows");
        }
        for clad in cladding.iter().filter(|clad| **clad != engraved) {
            self.put(&stain, clad, "stain before glue shows");
        }
    }

    fn splice(&mut self, name: &str) -> StepId {
        let splice = StepId::new(name, Work::Splice);
        self.of_parts(splice.clone(), name, &[Kind::Doubler]);
        if self.takeoff.joints.iter().any(|joint| joint.wall == name) {
            self.add(splice.clone());
        }
        splice
    }

    /// A step for each kind of cladding on a wall.
    fn claddings(&mut self, wall: &Wall) -> Vec<StepId> {
        let name = wall.name.as_str();
        let mut found = Vec::new();
        for layer in wall.layers.iter().filter(|layer| layer.role != Role::Core) {
            let said = |name: &String| self.job.claddings.iter().find(|it| &it.name == name);
            for cladding in layer.claddings.iter().filter_map(said) {
                let (id, kind) = match cladding.kind {
                    CladdingKind::BoardAndBatten | CladdingKind::Boards if cladding.scribed => {
                        (StepId::new(name, Work::Engrave), Kind::Scribed)
                    }
                    CladdingKind::BoardAndBatten | CladdingKind::Boards => {
                        (StepId::fit(name, "boards"), Kind::Board)
                    }
                    CladdingKind::Clapboard => (StepId::fit(name, "clapboard"), Kind::Clapboard),
                    CladdingKind::Shingle => (StepId::fit(name, "shingles"), Kind::Clapboard),
                    CladdingKind::Corrugated => (StepId::fit(name, "iron"), Kind::Iron),
                    CladdingKind::Brick => (StepId::fit(name, "brick"), Kind::Brick),
                };
                let section = |part: &&crate::takeoff::Part| {
                    part.face == name
                        && part.kind == kind
                        && part.section.starts_with(&format!("{} ", cladding.name))
                };
                let labels = self.takeoff.parts.iter().filter(section);
                let labels: Vec<String> = labels.map(|part| part.label.clone()).collect();
                let known = self.place(&id).is_some();
                if let Some(id) = self.with_parts(id, labels).filter(|_| !known) {
                    found.push(id);
                }
            }
        }
        found
    }

    fn has_castings(&self, wall: &Wall) -> bool {
        let cast = |kind: &String| {
            let opening = self.job.openings.iter().find(|it| &it.name == kind);
            opening.is_some_and(|it| it.casting.is_some())
        };
        wall.holes.iter().any(|hole| cast(&hole.kind))
    }

    /// The boards of a door, its ledges on them, its braces between those.
    fn leaf(&mut self, name: &str) {
        let of = |group| StepId::fit(name, group);
        let kinds = [
            ("door-leaf/board", Kind::LeafBoard),
            ("door-leaf/ledge", Kind::LeafLedge),
            ("door-leaf/brace", Kind::LeafBrace),
        ];
        for (group, kind) in kinds {
            self.of_parts(of(group), name, &[kind]);
        }
        self.put(&of("door-leaf/board"), &of("door-leaf/ledge"), "ledges lie on the boards");
        self.put(&of("door-leaf/ledge"), &of("door-leaf/brace"), "braces are cut between ledges");
    }
}
