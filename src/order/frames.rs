//! The steps of a frame: posts, beams, rafters, and the lamps under them.

use super::{StepId, Steps, Work};
use crate::building::{Body, MemberKind};
use crate::takeoff::Kind;

impl Steps<'_> {
    pub(super) fn frame(&mut self, body: &Body) {
        let name = body.name.as_str();
        let fit = |group| StepId::fit(name, group);
        let rafters = StepId::fit(format!("{name}/roof"), "rafter");
        self.timbers(name, MemberKind::Post, fit("post"));
        self.timbers(name, MemberKind::Ledger, fit("ledger"));
        let notch = StepId::new(format!("{name}/beam"), Work::Notch);
        let housed = |it: &&crate::building::Member| {
            it.body == name && it.kind == MemberKind::Beam && !it.housings.is_empty()
        };
        if self.building.members.iter().any(|it| housed(&it)) {
            self.add(notch.clone());
        }
        self.timbers(name, MemberKind::Beam, fit("beam"));
        self.timbers(name, MemberKind::Brace, fit("brace"));
        self.timbers(name, MemberKind::Rafter, rafters.clone());
        self.put(&notch, &fit("beam"), "housed on the bench, not in place");
        self.put(&fit("post"), &fit("beam"), "the beam rests on the posts");
        self.put(&fit("beam"), &fit("brace"), "braces are cut between post and beam");
        for carrier in [fit("ledger"), fit("beam")] {
            self.put(&carrier, &rafters, "the rafters rest on it");
        }
    }

    /// The timbers of a kind with the parts that bear their names.
    fn timbers(&mut self, body: &str, kind: MemberKind, id: StepId) {
        let own = self.building.members.iter().filter(|it| it.body == body && it.kind == kind);
        let names: std::collections::BTreeSet<&str> = own.map(|it| it.name.as_str()).collect();
        if names.is_empty() {
            return;
        }
        self.add(id.clone());
        let labels = self.takeoff.parts.iter().filter(|part| {
            let group = part.label.rsplit_once('-').map_or(part.label.as_str(), |it| it.0);
            let own = group.rsplit_once('/').map_or(group, |it| it.1);
            matches!(part.kind, Kind::Member | Kind::Rafter)
                && part.label.starts_with(&format!("{body}/"))
                && names.contains(own)
        });
        let labels: Vec<String> = labels.map(|part| part.label.clone()).collect();
        self.with_parts(id, labels);
    }
}
