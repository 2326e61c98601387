//! Widths of the standard fonts, for files that name one without giving widths.
//!
//! Thousandths of the size for the characters of ASCII, from the metrics that go with the standard; letters with accents are
//! as wide as without, and what is in no table gets the mean.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

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

/// Bold sans serif.
const SANS_BOLD: [u16; 95] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278,
    556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584,
    556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556,
    333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
];
/// Bold serif.
const SERIF_BOLD: [u16; 95] = [
    250, 333, 555, 500, 500, 1000, 833, 278, 333, 333, 500, 570, 250, 333, 250, 278, 500, 500, 500, 500, 500,
    500, 500, 500, 500, 500, 333, 333, 570, 570, 570, 500, 930, 722, 667, 722, 722, 667, 611, 778, 778, 389,
    500, 778, 667, 944, 722, 778, 611, 778, 722, 556, 667, 722, 722, 1000, 722, 722, 667, 333, 278, 333, 581,
    500, 333, 500, 556, 444, 556, 444, 333, 500, 556, 278, 333, 556, 278, 833, 556, 500, 556, 556, 444, 389,
    333, 556, 500, 722, 500, 500, 444, 394, 220, 394, 520,
];
/// Italic serif.
const SERIF_ITALIC: [u16; 95] = [
    250, 333, 420, 500, 500, 833, 778, 214, 333, 333, 500, 675, 250, 333, 250, 278, 500, 500, 500, 500, 500,
    500, 500, 500, 500, 500, 333, 333, 675, 675, 675, 500, 920, 611, 611, 667, 722, 611, 611, 722, 722, 333,
    444, 667, 556, 833, 667, 722, 611, 722, 611, 500, 556, 722, 611, 833, 611, 556, 556, 389, 278, 389, 422,
    500, 333, 500, 500, 444, 500, 444, 278, 500, 500, 278, 278, 444, 278, 722, 500, 500, 500, 500, 389, 389,
    278, 500, 444, 667, 444, 444, 389, 400, 275, 400, 541,
];
/// Bold italic serif.
const SERIF_BOLD_ITALIC: [u16; 95] = [
    250, 389, 555, 500, 500, 833, 778, 278, 333, 333, 500, 570, 250, 333, 250, 278, 500, 500, 500, 500, 500,
    500, 500, 500, 500, 500, 333, 333, 570, 570, 570, 500, 832, 667, 667, 667, 722, 667, 667, 722, 778, 389,
    500, 667, 611, 889, 722, 722, 611, 722, 667, 556, 611, 722, 667, 889, 667, 611, 611, 333, 278, 333, 570,
    500, 333, 500, 500, 444, 500, 444, 333, 500, 556, 278, 278, 500, 278, 778, 556, 500, 500, 500, 389, 389,
    278, 556, 444, 667, 500, 444, 389, 348, 220, 348, 570,
];
/// Signs beyond ASCII that floras use, with their widths in upright serif and sans serif.
const SIGNS: [(char, u16, u16); 16] = [
    ('–', 500, 556),
    ('—', 1000, 1000),
    ('‘', 333, 222),
    ('’', 333, 222),
    ('“', 444, 333),
    ('”', 444, 333),
    ('×', 564, 584),
    ('±', 564, 584),
    ('°', 400, 400),
    ('½', 750, 834),
    ('¼', 750, 834),
    ('¾', 750, 834),
    ('©', 760, 737),
    ('§', 500, 556),
    ('†', 500, 556),
    ('·', 250, 278),
];

/// Returns the width of a text in the standard font of that name, or near it.
pub(super) fn standard(name: &str, text: &str) -> f32 {
    let lower = name.to_ascii_lowercase();
    if lower.contains("courier") || lower.contains("mono") {
        return FIXED.into();
    }
    let has = |parts: &[&str]| parts.iter().any(|part| lower.contains(part));
    let (bold, italic) = (has(&["bold"]), has(&["italic", "oblique"]));
    let sans = has(&["helvetica", "arial", "sans"]);
    let table = match (sans, bold, italic) {
        (true, false, _) => &SANS,
        (true, true, _) => &SANS_BOLD,
        (false, false, false) => &SERIF,
        (false, false, true) => &SERIF_ITALIC,
        (false, true, false) => &SERIF_BOLD,
        (false, true, true) => &SERIF_BOLD_ITALIC,
    };
    // An accent takes no room beside its letter.
    text.nfd()
        .filter(|c| !is_combining_mark(*c))
        .map(|c| width(table, sans, c))
        .reduce(|one, other| one + other)
        .unwrap_or(MEAN)
}

fn width(table: &[u16; 95], sans: bool, character: char) -> f32 {
    let plain = u32::from(character).checked_sub(32).and_then(|index| table.get(index as usize)).copied();
    let sign =
        || SIGNS.iter().find(|sign| sign.0 == character).map(|sign| if sans { sign.2 } else { sign.1 });
    plain.or_else(sign).map_or(MEAN, f32::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(name: &str, text: &str, expected: f32) {
        assert!((standard(name, text) - expected).abs() < 0.5, "{}", standard(name, text));
    }

    #[test]
    fn the_standard_faces_differ_by_weight_and_slant() {
        check("Times-Roman", "a", 444.0);
        check("Times-Bold", "a", 500.0);
        check("Times-BoldItalic", "F", 667.0);
        check("Times-Italic", "K", 667.0);
        check("Helvetica-BoldOblique", "a", 556.0);
        check("Helvetica", "a", 556.0);
        check("Helvetica-Bold", "n", 611.0);
        check("Courier-Bold", "a", 600.0);
    }

    #[test]
    fn accents_ligatures_and_signs_have_the_widths_of_what_they_are_made_of() {
        check("Times-Roman", "é", 444.0);
        check("Times-Roman", "fi", 611.0);
        check("Times-Roman", "½", 750.0);
        check("Times-Roman", "♀", MEAN);
        check("Times-Roman", "", MEAN);
    }
}
