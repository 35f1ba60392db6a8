//! What the building covers, and what its space leaves.

use scantling::quantity::{CompressedLength, ModelLength};

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    let space = work.job.space.as_ref();
    let counts = space.map(|space| space.counts).unwrap_or_default();
    let Some(reach) = work.building.footprint(counts) else { return };
    let [length, depth] = [reach.length(), reach.depth()].map(CompressedLength::inches);
    out.full("footprint", "length", length);
    out.full("footprint", "depth", depth);
    let Some(space) = space else { return };
    for (said, used, field) in
        [(&space.length, length, "spare_length"), (&space.depth, depth, "spare_depth")]
    {
        let Some(said) = said else { continue };
        let used: ModelLength = out.scale().reduce(used);
        out.model("footprint", field, said.length() - used);
    }
}
