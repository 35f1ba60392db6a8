//! The space at full size: how long, deep and high the building may be.

use crate::finding::Stop;
use crate::job::place::Space;
use crate::quantity::{CompressedLength, ModelLength, Prototype, PrototypeLength, Scale};

/// What the space allows for all that counts in it, at full size. Nothing where
/// the job sets no limit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Greatest length.
    pub length: Option<CompressedLength>,
    /// Greatest depth.
    pub depth: Option<CompressedLength>,
    /// Greatest height of the ridge.
    pub height: Option<CompressedLength>,
}

/// The limits of a space.
///
/// # Errors
///
/// Where nothing is left of the length or depth, or a size is below zero.
pub fn limits(space: Option<&Space>, scale: &Scale) -> Result<Limits, Stop> {
    let Some(space) = space else { return Ok(Limits::default()) };
    let margin = space.margin.as_ref().map_or(ModelLength::ZERO, |said| said.length());
    let length = space.length.as_ref().map(|said| said.length() - margin * 2.0);
    let depth = (space.depth.as_ref().map(|said| said.length()))
        .or_else(|| space.track_to_back.as_ref().map(|said| said.length() - stack(space, scale)));
    let height = space.height.as_ref().map(|said| said.length());
    for (what, size) in [("length", length), ("depth", depth), ("height", height)] {
        if size.is_some_and(|size| size <= ModelLength::ZERO) {
            return Err(Stop::new(
                "reading the space",
                format!("nothing is left of its {what}"),
                "margins and the stack from the track take all of it",
            ));
        }
    }
    let full = |size: Option<ModelLength>| size.map(|size| scale.enlarge(size));
    Ok(Limits { length: full(length), depth: full(depth), height: full(height) })
}

/// What stands between the track centre and the front.
fn stack(space: &Space, scale: &Scale) -> ModelLength {
    let item = |full: Option<PrototypeLength>, model: Option<ModelLength>| {
        model.or(full.map(|full| scale.reduce(full))).unwrap_or_default()
    };
    (space.stack.iter())
        .map(|it| {
            let full = it.full.as_ref().map(crate::job::said::Said::<Prototype>::length);
            item(full, it.model.as_ref().map(|said| said.length()))
        })
        .sum()
}
