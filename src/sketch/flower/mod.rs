//! Flowers: how they stand together, their forms, plans and parts.

pub(super) mod cluster;
pub(super) mod corolla;
pub(super) mod part_of_cluster;
pub(super) mod plan;
pub(super) mod section;
pub(super) mod stamen;
