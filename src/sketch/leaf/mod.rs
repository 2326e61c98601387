//! Leaves: their outlines and what they have in common.

pub(super) mod outline;
pub(super) mod shape;
