//! What codes and glyph names stand for: encodings, names of glyphs, character maps.

pub(super) mod cmap;
pub(super) mod encodings;
pub(super) mod names;
