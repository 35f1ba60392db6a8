//! Timbers with a place; tails and fascias along the eaves.

use scantling::building::{Eave, Member, MemberKind};
use scantling::job::building::EndCut;
use scantling::quantity::CompressedLength;

use super::out::Out;
use super::{Work, labels};

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    let mut names: Vec<(&str, &str, MemberKind)> = Vec::new();
    for member in work.building.members.iter().filter(|member| member.by_place) {
        let key = (member.body.as_str(), member.name.as_str(), member.kind);
        if !names.contains(&key) {
            names.push(key);
        }
    }
    for (body, name, kind) in names {
        let alike = |it: &&Member| it.body == body && it.name == name && it.kind == kind;
        let members: Vec<&Member> = work.building.members.iter().filter(alike).collect();
        let label = label(body, name, kind);
        group(&members, &label, out);
        // By its own name too, where that says more than its kind.
        let own = format!("{body}/{name}");
        if own != label {
            group(&members, &own, out);
        }
    }
    for body in &work.building.bodies {
        let eaves: Vec<&Eave> =
            work.building.eaves.iter().filter(|eave| eave.body == body.name).collect();
        tails(&eaves, &format!("{}/roof/tail", body.name), out);
        fascias(&eaves, &format!("{}/roof/fascia", body.name), out);
    }
    for wire in &work.building.wires {
        out.model(&format!("{}/lamp", wire.body), "wire", wire.length.length);
    }
}

/// Rafters belong to the roof; posts and beams to the body.
fn label(body: &str, name: &str, kind: MemberKind) -> String {
    match kind {
        MemberKind::Rafter => format!("{body}/roof/rafter"),
        MemberKind::Post => format!("{body}/post"),
        MemberKind::Beam => format!("{body}/beam"),
        MemberKind::Ledger => format!("{body}/ledger"),
        MemberKind::Brace => format!("{body}/{name}"),
    }
}

fn group(members: &[&Member], part: &str, out: &mut Out) {
    let Some(first) = members.first() else { return };
    out.say(part, "count", members.len());
    let sum: f64 = members.iter().map(|it| it.length.length.in_inches()).sum();
    out.inches(part, "sum", sum);
    one(first, part, out);
    for (number, set) in labels::sets(members.iter(), |it| it.length.length).iter().enumerate() {
        out.say(&format!("{part}-{}", number + 1), "count", set.len());
        one(set[0], &format!("{part}-{}", number + 1), out);
    }
}

fn one(member: &Member, part: &str, out: &mut Out) {
    out.full(part, "length", member.length.length);
    let [(_, thick), (_, deep)] = member.across;
    if member.kind == MemberKind::Ledger {
        out.inches(part, "height", deep * 2.0);
    } else {
        out.inches(part, "width", thick * 2.0);
        out.inches(part, "depth", deep * 2.0);
    }
    let end = &member.ends[0];
    match end.cut {
        EndCut::Plumb => out.degrees(part, "plumb_cut", end.from_square),
        EndCut::Flat => out.degrees(part, "end_cut", end.from_square),
        EndCut::Square => {}
    }
    if !member.housings.is_empty() || member.from_level.in_degrees() > 1e-6 {
        out.degrees(part, "angle", member.from_level);
    }
    if let Some(top) = &member.top {
        out.full(part, "top", top.length);
    }
    if member.kind == MemberKind::Beam || member.kind == MemberKind::Ledger {
        out.inches(part, "foot", member.axis[0][2] - deep);
    }
    let Some(first) = member.housings.first() else { return };
    out.say(part, "notch_count", member.housings.len());
    out.full(part, "notch_inner", first.inner.length);
    out.full(part, "notch_outer", first.outer.length);
    let at = member.housings.iter().map(|it| it.at).fold(f64::INFINITY, f64::min);
    out.inches(part, "notch_first", at);
}

fn tails(eaves: &[&Eave], part: &str, out: &mut Out) {
    let all: Vec<_> = eaves.iter().filter_map(|eave| eave.tails.as_ref()).collect();
    let Some(first) = all.first() else { return };
    out.say(part, "count", all.iter().map(|tails| tails.count).sum::<u32>());
    out.full(part, "length", first.length.length);
    out.full(part, "width", first.wide.length);
    out.full(part, "depth", first.deep.length);
    out.degrees(part, "plumb_cut", first.cut);
    let over = eaves.iter().flat_map(|eave| &eave.passes).filter_map(|pass| pass.tails.as_ref());
    least(over.map(|free| free.length), part, out);
}

fn fascias(eaves: &[&Eave], part: &str, out: &mut Out) {
    let all: Vec<_> = eaves.iter().filter(|eave| eave.fascia.is_some()).collect();
    if all.is_empty() {
        return;
    }
    out.say(part, "count", all.len());
    let sum: f64 = all.iter().map(|eave| eave.length.length.in_inches()).sum();
    out.inches(part, "sum", sum);
    for (number, set) in labels::sets(all.iter(), |eave| eave.length.length).iter().enumerate() {
        let name = format!("{part}-{}", number + 1);
        out.say(&name, "count", set.len());
        for part in [part, &name] {
            out.full(part, "length", set[0].length.length);
            if let Some(board) = &set[0].fascia {
                out.full(part, "depth", board.depth.length);
            }
        }
    }
    let over = eaves.iter().flat_map(|eave| &eave.passes).filter_map(|pass| pass.fascia.as_ref());
    least(over.map(|free| free.length), part, out);
}

fn least(free: impl Iterator<Item = CompressedLength>, part: &str, out: &mut Out) {
    if let Some(free) = free.reduce(CompressedLength::min) {
        out.full(part, "over_canopy", free);
    }
}
