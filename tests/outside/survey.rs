//! Outside checks: survey.
