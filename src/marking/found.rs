//! What classifying makes, and joining takes together: a finding with its place on both sides.

use std::ops::Range;

use super::Finding;

/// A finding with what it is about, in the cells of both sides.
#[derive(Clone, Debug)]
pub(super) struct Cause {
    /// The finding.
    pub finding: Finding,
    /// The signs asked for, by their index.
    pub units: Range<usize>,
    /// The written cells.
    pub written: Range<usize>,
}
