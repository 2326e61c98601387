//! Leaves: outlines, ends, margins, lobes, leaflets, veins, and how leaves stand on the stem.

pub(super) mod division;
pub(super) mod end;
pub(super) mod lobe;
pub(super) mod margin;
pub(super) mod outline;
pub(super) mod shape;
pub(super) mod stand;
pub(super) mod vein;
