//! Widths of the standard fonts, for files that name one without giving widths.
//!
//! Thousandths of the size for the codes from 32 to 126; other codes get the mean.

/// Width of any glyph of a typewriter face.
const FIXED: u16 = 600;
/// Width of a glyph that is in no table: about the mean of running text.
pub(super) const MEAN: f32 = 500.0;

/// Upright sans serif.
const SANS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
    500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
    556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
    278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// Upright serif.
const SERIF: [u16; 95] = [
    250, 333, 408, 500, 500, 833, 778, 180, 333, 333, 500, 564, 250, 333, 250, 278, 500, 500, 500, 500, 500,
    500, 500, 500, 500, 500, 278, 278, 564, 564, 564, 444, 921, 722, 667, 667, 722, 611, 556, 722, 722, 333,
    389, 722, 611, 889, 722, 722, 556, 722, 667, 556, 611, 722, 722, 944, 722, 722, 611, 333, 278, 333, 469,
    500, 333, 444, 500, 444, 500, 444, 333, 500, 500, 278, 278, 500, 278, 778, 500, 500, 500, 500, 333, 389,
    278, 500, 500, 722, 500, 500, 444, 480, 200, 480, 541,
];

/// Returns the width of a code in the standard font of that name, or near it.
pub(super) fn standard(name: &str, code: u8) -> f32 {
    let lower = name.to_ascii_lowercase();
    if lower.contains("courier") || lower.contains("mono") {
        return FIXED.into();
    }
    let sans = ["helvetica", "arial", "sans"].iter().any(|part| lower.contains(part));
    let table = if sans { &SANS } else { &SERIF };
    code.checked_sub(32).and_then(|index| table.get(usize::from(index))).map_or(MEAN, |&width| width.into())
}
