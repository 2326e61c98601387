//! Colours as a terminal can show them: two true colours in, the same or their nearest of 256 out, still well apart.
//!
//! Where a terminal has only the sixteen that everyone sets otherwise, there is nothing to compute: no colour is used.

use ratatui::style::Color;

/// The least contrast of text and ground: success criterion 1.4.6 (enhanced) of WCAG 2.2.
pub(crate) const LEAST_CONTRAST: f64 = 7.0;

/// Red, green and blue.
pub(crate) type Rgb = [u8; 3];

/// The first entry of the palette of 256 that is the same on every terminal; those before are set by its owner.
const FIRST_FIXED: u8 = 16;

/// The first of the greys.
const FIRST_GREY: u8 = 232;

/// Levels of one part in the cube of 6 × 6 × 6 colours, as xterm has them.
const LEVELS: [u8; 6] = [0, 95, 135, 175, 215, 255];

/// The darkest grey, and by how much each is lighter than the one before, as xterm has them.
const GREY: (u8, u8) = (8, 10);

/// Returns the relative luminance of a colour as WCAG 2.2 defines it.
fn luminance(colour: Rgb) -> f64 {
    let [red, green, blue] = colour.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Returns one part of a colour as light, 0 to 1: the transfer function of sRGB as WCAG 2.2 writes it.
pub(crate) fn linear(part: u8) -> f64 {
    let part = f64::from(part) / 255.0;
    if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
}

/// Returns the contrast ratio of two colours as WCAG 2.2 defines it.
pub(crate) fn contrast(one: Rgb, other: Rgb) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// Reads a colour written as `#rrggbb`.
pub(crate) fn read(written: &str) -> Option<Rgb> {
    let digits = written.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.is_ascii())?;
    let part = |at: usize| u8::from_str_radix(&digits[at..at + 2], 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}

/// Returns a true colour.
pub(crate) fn truly([red, green, blue]: Rgb) -> Color {
    Color::Rgb(red, green, blue)
}

/// Returns what an entry of the palette of 256 looks like; nothing for those that the terminal's owner sets.
pub(crate) fn entry(index: u8) -> Option<Rgb> {
    let level = |part: u8| LEVELS[usize::from(part % 6)];
    match index {
        ..FIRST_FIXED => None,
        FIRST_GREY.. => Some([GREY.0 + GREY.1 * (index - FIRST_GREY); 3]),
        _ => {
            let cube = index - FIRST_FIXED;
            Some([level(cube / 36), level(cube / 6), level(cube)])
        }
    }
}

/// Returns the nearest entries of the palette of 256 for a text colour and its ground, of enough contrast if the two have it.
pub(crate) fn indexed(text: Rgb, ground: Rgb) -> (u8, u8) {
    let below = nearest(ground, |_| true);
    let seen = entry(below).unwrap_or(ground);
    let least = contrast(text, ground).min(LEAST_CONTRAST);
    (nearest(text, |colour| contrast(colour, seen) >= least), below)
}

fn nearest(colour: Rgb, fits: impl Fn(Rgb) -> bool) -> u8 {
    let away = |other: Rgb| -> u32 {
        colour.iter().zip(other).map(|(one, other)| u32::from(one.abs_diff(other)).pow(2)).sum()
    };
    let known = (FIRST_FIXED..=u8::MAX).filter_map(|index| Some((index, entry(index)?)));
    let fitting = known.filter(|(_, seen)| fits(*seen));
    fitting.min_by_key(|(_, seen)| away(*seen)).map_or(FIRST_FIXED, |(index, _)| index)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_on_white(colour: &str, expected: f64) {
        let ratio = contrast(read(colour).expect("a colour"), [255; 3]);
        assert!((ratio - expected).abs() < 0.01, "{colour} has {ratio:.3}");
    }

    #[test]
    fn contrast_is_what_wcag_gives() {
        check_on_white("#000000", 21.0);
        check_on_white("#ffffff", 1.0);
        check_on_white("#808080", 3.95);
        check_on_white("#555555", 7.46);
        check_on_white("#ff0000", 4.0);
    }

    #[test]
    fn the_palette_is_that_of_xterm() {
        assert_eq!(
            [15, 16, 21, 196, 231, 232, 255].map(entry),
            [
                None,
                Some([0; 3]),
                Some([0, 0, 255]),
                Some([255, 0, 0]),
                Some([255; 3]),
                Some([8; 3]),
                Some([238; 3])
            ]
        );
    }

    #[test]
    fn a_colour_of_the_palette_is_its_own_nearest() {
        assert_eq!(indexed([255; 3], [0; 3]), (231, 16));
        assert_eq!(indexed([0, 0, 95], [238; 3]), (17, 255));
    }

    #[test]
    fn a_nearest_colour_of_too_little_contrast_is_passed_over() {
        let (text, ground) = (read("#ff6400").expect("a colour"), [0; 3]);
        assert!(contrast(text, ground) >= LEAST_CONTRAST);
        let (index, _) = indexed(text, ground);
        assert!(contrast(entry(index).expect("a fixed one"), ground) >= LEAST_CONTRAST);
    }

    #[test]
    fn what_is_no_colour_is_not_read() {
        assert_eq!(["#00000", "000000", "#00000g", "#ääa"].map(read), [None; 4]);
    }
}
