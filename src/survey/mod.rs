//! Readings -> one set of prototype dimensions.

use crate::estimate::Estimate;
use crate::finding::Stop;
use crate::job::said::Size;
use crate::quantity::PrototypeLength;

/// The prototype dimensions that the readings, taken together, speak for.
#[derive(Clone, Debug, Default)]
pub struct Survey {}

/// A size of the building: what is built to, and what was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeFound {
    /// The figure to build to: the one taken, else the adopted one, else the
    /// measured one.
    pub value: PrototypeLength,
    /// What the survey makes of it; nothing where the size is only written.
    pub measured: Option<Estimate<PrototypeLength>>,
}

impl Survey {
    /// What a size of the job comes to.
    ///
    /// # Errors
    /// When it rests on a dimension that nothing fixes.
    pub fn size(&self, size: &Size) -> Result<SizeFound, Stop> {
        match &size.take {
            Some(said) => Ok(SizeFound { value: said.length(), measured: None }),
            None => Err(Stop::new("finding a size", "the survey is empty", "")),
        }
    }
}
