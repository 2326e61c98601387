//! What a font says of itself comes in; whether it is bold, italic or small capitals goes out.
//!
//! The font program is believed before the name, the name before the flags, since flags and stem widths are often wrong.

use crate::pdf::Face;
use crate::pdf::font::program::{Program, is_bold_word};

/// Bit of a descriptor's flags for italic.
const FLAG_ITALIC: u32 = 1 << 6;
/// Bit of a descriptor's flags for bold at all sizes.
const FLAG_FORCE_BOLD: u32 = 1 << 18;
/// Degrees of slant below which a face is upright.
const MIN_SLANT: f32 = 2.0;

/// What the descriptor of a font says.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Descriptor {
    /// Its flags.
    pub(super) flags: u32,
    /// Its slant in degrees.
    pub(super) angle: f32,
}

/// Returns the name without subset prefix and encoding suffix.
pub(super) fn plain_name(name: &str) -> &str {
    let name = match name.as_bytes().get(6) {
        Some(b'+') if name.as_bytes()[..6].iter().all(u8::is_ascii_uppercase) => &name[7..],
        _ => name,
    };
    name.strip_suffix("-Identity-H").unwrap_or(name)
}

/// Weighs the evidence in order.
pub(super) fn face(name: &str, descriptor: Descriptor, program: &Program) -> Face {
    let name = plain_name(name);
    let lower = name.to_ascii_lowercase();
    let named_bold = is_bold_name(&lower);
    let named_italic = is_italic_name(&lower);
    let bold = match program.bold {
        Some(true) => true,
        Some(false) | None => named_bold || descriptor.flags & FLAG_FORCE_BOLD != 0,
    };
    let italic = program.italic == Some(true)
        || named_italic
        || descriptor.flags & FLAG_ITALIC != 0
        || descriptor.angle.abs() > MIN_SLANT;
    // The flag for small capitals is set by some typesetters on every font that could make them: not believed.
    let small_caps = is_small_caps_name(&lower);
    Face { bold, italic: italic && !is_symbol_name(&lower), small_caps }
}

fn is_bold_name(lower: &str) -> bool {
    is_bold_word(lower)
        || ["semibd", "extrabd", "-demi", "-obi", "-obz", "libertineob", "libertineoz"]
            .iter()
            .any(|part| lower.contains(part))
        || lower.ends_with("-bd")
        || tex_parts(lower).is_some_and(|style| style.starts_with('b') || style == "ssbx")
}

fn is_italic_name(lower: &str) -> bool {
    ["italic", "oblique", "slanted", "kursiv", "-ital", "-obi", "libertineoi", "libertineobi"]
        .iter()
        .any(|part| lower.contains(part))
        || lower.ends_with("-it")
        || tex_parts(lower)
            .is_some_and(|style| ["ti", "sl", "bxti", "bxsl", "bi", "it", "ssi"].contains(&style))
}

fn is_small_caps_name(lower: &str) -> bool {
    ["smallcap", "small-cap", "-smcp", "smallcp"].iter().any(|part| lower.contains(part))
        || lower.ends_with("-sc")
        || lower.ends_with("-caps")
        || tex_parts(lower).is_some_and(|style| style.ends_with("csc") || style == "cc" || style == "xc")
}

/// Tells whether the font holds mathematical signs, whose slant means nothing.
fn is_symbol_name(lower: &str) -> bool {
    ["symbol", "cmsy", "msam", "msbm", "dingbat", "wasy"].iter().any(|part| lower.contains(part))
}

/// Returns the letters for the style in TeX's short names: `bx` of `cmbx10`, `ti` of `sfti0900`.
fn tex_parts(lower: &str) -> Option<&str> {
    let stem = lower.trim_end_matches(|character: char| character.is_ascii_digit());
    if stem.len() == lower.len() {
        return None;
    }
    ["cm", "ec", "sf", "tc", "la"]
        .iter()
        .find_map(|family| stem.strip_prefix(family))
        .filter(|style| !style.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_face(name: &str, expected: &str) {
        let face = face(name, Descriptor { flags: 4, angle: 0.0 }, &Program::default());
        let said = [(face.bold, "bold"), (face.italic, "italic"), (face.small_caps, "small capitals")];
        let said: Vec<&str> = said.iter().filter(|(is, _)| *is).map(|(_, word)| *word).collect();
        assert_eq!(said.join(" "), expected, "{name}");
    }

    #[test]
    fn long_names_say_their_style() {
        check_face("ABCDEF+LiberationSerif-BoldItalic", "bold italic");
        check_face("URWPalladioL-Ital", "italic");
        check_face("LMRoman10-Bold-Identity-H", "bold");
        check_face("Liberation-Serif-Small-Caps", "small capitals");
        check_face("TeXGyreTermes-Regular", "");
    }

    #[test]
    fn tex_names_say_their_style_in_short() {
        check_face("CMBX9", "bold");
        check_face("SFBX1000", "bold");
        check_face("CMTI9", "italic");
        check_face("SFCC1000", "small capitals");
        check_face("CMR10", "");
        check_face("CMSY10", "");
    }

    #[test]
    fn a_program_that_calls_itself_bold_is_believed_whatever_its_name() {
        let program = Program { bold: Some(true), ..Program::default() };
        assert!(face("NimbusRomNo9L-Medi", Descriptor::default(), &program).bold);
    }
}
