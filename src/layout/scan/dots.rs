//! The rows of a leaf come in; in them dot leaders that were read as letters are marked.

use crate::layout::scan::words::Row;

/// Distance of dots in em.
pub(super) const PITCH: f32 = 0.5;

/// Marks the words that are dot leaders.
pub(super) fn find(_rows: &mut [Row]) {}
