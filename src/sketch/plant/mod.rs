//! The rest of the plant: fruits, hairs, what is below the ground, stems.

pub(super) mod fruit;
pub(super) mod hair;
pub(super) mod stem;
pub(super) mod underground;
