//! The steps of a body, and how bodies wait for one another.

use super::walls::Clad;
use super::{StepId, Steps, Work};
use crate::building::{Body, Stand};
use crate::takeoff::Kind;

impl Steps<'_> {
    /// Everything of one body, from its floor to its shingles.
    pub(super) fn body(&mut self, body: &Body) {
        let name = body.name.as_str();
        let fit = |group| StepId::fit(name, group);
        self.of_parts(fit("floor"), name, &[Kind::Floor]);
        self.of_parts(fit("casting"), name, &[Kind::Casting]);
        let building = self.building;
        let own: Vec<Clad> = building.walls_of(name).map(|wall| self.wall(wall)).collect();
        self.of_parts(fit("corner-post"), name, &[Kind::CornerPost]);
        self.of_parts(fit("corner-block"), name, &[Kind::CornerBlock]);
        let walls = StepId::new(name, Work::Walls);
        if !own.is_empty() {
            self.add(walls.clone());
        }
        self.put(&fit("floor"), &walls, "the walls stand round the floor");
        for wall in building.walls_of(name) {
            let stands = StepId::new(wall.name.as_str(), Work::Wall);
            let stain = StepId::new(wall.name.as_str(), Work::Stain);
            self.put(&stands, &walls, "each wall is ready before they are joined");
            self.put(&stain, &fit("corner-post"), "stain before glue shows");
        }
        self.put(&fit("corner-post"), &walls, "the sheets stop at the posts");
        self.put(&walls, &fit("corner-block"), "blocks square the corners that are joined");
        for clad in &own {
            self.put(&fit("casting"), &clad.castings, "castings are painted before they are set");
        }
        self.frame(body);
        self.roof(body, &own);
    }

    /// What a body waits for on others.
    pub(super) fn beside(&mut self, body: &Body) {
        let name = body.name.as_str();
        let (roof, walls) = (format!("{name}/roof"), StepId::new(name, Work::Walls));
        let plane = StepId::fit(roof.as_str(), "plane");
        match body.stand {
            Stand::Against(host, side) => self.against(body, (host, side)),
            Stand::Ridge(host) | Stand::Slope(host, _) => {
                let Some(host) = self.building.bodies.get(host) else { return };
                let under = StepId::fit(format!("{}/roof", host.name), "plane");
                let own: Vec<StepId> = self
                    .building
                    .walls_of(name)
                    .map(|wall| StepId::new(wall.name.as_str(), Work::Wall))
                    .collect();
                for wall in own.iter().chain([&walls, &plane]) {
                    self.put(&under, wall, "it stands on the planes");
                }
            }
            _ => {}
        }
        for valley in self.building.valleys.iter().filter(|it| it.body == name) {
            let host = format!("{}/roof", valley.host);
            let under = StepId::fit(host.as_str(), "plane");
            self.put(&under, &plane, "its planes are fitted to that slope");
            let shingles = StepId::fit(host.as_str(), "shingles");
            let valley = StepId::fit(roof.as_str(), "valley");
            self.put(&valley, &shingles, "courses are cut to the valley");
        }
    }

    /// What stands against a wall: its roof abuts the cladding above it, its
    /// ledger lies on it, and battens stop under the ledger.
    fn against(&mut self, body: &Body, (host, side): (usize, crate::job::body::Side)) {
        let name = body.name.as_str();
        let Some(host) = self.building.bodies.get(host) else { return };
        let Some(wall) = self.building.walls_of(&host.name).find(|it| it.id.side == side) else {
            return;
        };
        let at = wall.name.clone();
        let plane = StepId::fit(format!("{name}/roof"), "plane");
        let ledger = StepId::fit(name, "ledger");
        for group in ["boards", "clapboard", "shingles", "iron", "brick"] {
            let clad = StepId::fit(at.as_str(), group);
            self.put(&clad, &plane, "the roof abuts the cladding above it");
            self.put(&clad, &ledger, "the ledger lies on the cladding");
        }
        let engraved = StepId::new(at.as_str(), Work::Engrave);
        self.put(&engraved, &plane, "the roof abuts the cladding above it");
        self.put(&ledger, &StepId::fit(at.as_str(), "batten"), "battens stop under the ledger");
        let (under, own) =
            (StepId::new(host.name.as_str(), Work::Walls), StepId::new(name, Work::Walls));
        self.put(&under, &own, "it is fitted to the wall behind it");
        self.put(&under, &StepId::fit(name, "post"), "it is fitted to the wall behind it");
    }
}
