//! The steps of a roof, from what it lies on to its shingles.

use super::walls::Clad;
use super::{StepId, Steps, Work};
use crate::building::Body;
use crate::takeoff::Kind;

impl Steps<'_> {
    pub(super) fn roof(&mut self, body: &Body, walls: &[Clad]) {
        let name = body.name.as_str();
        let at = format!("{name}/roof");
        let fit = |group| StepId::fit(at.as_str(), group);
        let joined = StepId::new(name, Work::Walls);
        let kinds: [(&'static str, Kind); 7] = [
            ("ledger", Kind::Ledger),
            ("box-side", Kind::BoxSide),
            ("box-end", Kind::BoxEnd),
            ("plane", Kind::Roof),
            ("rafter", Kind::Rafter),
            ("tail", Kind::Tail),
            ("fascia", Kind::Fascia),
        ];
        for (group, kind) in kinds {
            for place in [name, at.as_str()] {
                self.of_parts(fit(group), place, &[kind]);
            }
        }
        if self.building.valleys.iter().any(|it| it.body == name) {
            self.add(fit("valley"));
        }
        self.of_parts(fit("shingles"), &at, &[Kind::Shingle]);
        for group in ["ledger", "box-side", "box-end", "plane"] {
            self.put(&joined, &fit(group), "it is fitted to the walls as built");
        }
        self.put(&fit("ledger"), &fit("box-side"), "the box comes down over the ledger");
        self.put(&fit("box-side"), &fit("box-end"), "the ends stand between the sides");
        self.put(&fit("box-side"), &fit("plane"), "the sheet lies on its box");
        self.put(&fit("box-end"), &fit("plane"), "the sheet lies on its box");
        self.put(&fit("rafter"), &fit("plane"), "the sheet lies on the rafters");
        self.put(&fit("plane"), &fit("tail"), "the tails are glued under the sheet");
        self.put(&fit("tail"), &fit("fascia"), "the fascia is nailed to the ends of the tails");
        self.put(&fit("plane"), &fit("fascia"), "the fascia stands under the edge of the sheet");
        self.put(&fit("plane"), &fit("valley"), "the valley lies on both slopes");
        self.put(&fit("valley"), &fit("shingles"), "courses are cut to the valley");
        self.put(&fit("fascia"), &fit("shingles"), "the butts of the first course hang over it");
        self.put(&fit("plane"), &fit("shingles"), "the shingles lie on the sheet");
        self.lamps(body, &fit("plane"), &fit("rafter"));
        if !self.lifts_off(body) {
            for clad in walls {
                let why = "this roof is glued down: no hand gets in afterwards";
                self.put(&clad.castings, &fit("plane"), why);
            }
        }
        for clad in walls {
            self.put_all(&clad.cladding, &clad.batten, "battens lie on the boards");
        }
    }

    fn lifts_off(&self, body: &Body) -> bool {
        let said = self.job.bodies.get(body.index).and_then(|it| it.roof.as_ref());
        said.is_some_and(|roof| roof.lifts_off)
    }

    /// Lamps lie under the sheet of an open roof, and hang in the box of one
    /// that lifts off.
    fn lamps(&mut self, body: &Body, plane: &StepId, rafter: &StepId) {
        let name = body.name.as_str();
        if !self.building.wires.iter().any(|wire| wire.body == name) {
            return;
        }
        let lamp = StepId::new(name, Work::Lamp);
        self.add(lamp.clone());
        self.put(rafter, &lamp, "the wire lies along a rafter");
        if self.lifts_off(body) && !body.on_posts() {
            self.put(plane, &lamp, "they hang in the roof that is lifted off");
        } else {
            self.put(&lamp, plane, "the wire lies along a rafter, under the sheet");
        }
    }
}
