//! Runs the stages in order.
