//! Flowers: how they stand together, and their parts.

pub(super) mod cluster;
pub(super) mod part_of_cluster;
