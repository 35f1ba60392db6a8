//! Dimensions and space -> alternatives -> compressed dimensions.

use crate::elevation::{Body, Elevation};
use crate::job::place::RoofFollows;
use crate::quantity::Compressed;

/// The building that will be built: the chosen alternative laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// Its body.
    pub body: Body<Compressed>,
    /// How the roof follows the depth.
    pub roof: RoofFollows,
    /// Its faces, in the order of the job.
    pub faces: Vec<Elevation<Compressed>>,
}
