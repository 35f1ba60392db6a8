//! Runs the stages in order.
//!
//! [`plan`] is a pure function of the job and the catalogue: the terminal, the
//! command line and every report read the same [`Plan`]. It holds the quick
//! answers; long ones (proven layouts, Monte Carlo) are worked out beside it
//! and attached by a hash of their input.

use crate::catalog::Catalog;
use crate::finding::Finding;
use crate::job::Job;

/// What all stages make of a job.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// What the stages noticed, in the order of the work.
    pub findings: Vec<Finding>,
}

/// Works out everything that follows from a job.
#[must_use]
pub fn plan(_job: &Job, _catalog: &Catalog) -> Plan {
    Plan::default()
}
