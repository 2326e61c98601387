//! An accent and a letter that were set as glyphs of their own come in; the letter with its accent goes out.
//!
//! TeX's older fonts set `é` as `´` and `e` on top of each other.

use unicode_normalization::UnicodeNormalization;

use crate::pdf::Glyph;

/// How far in em the baseline of an accent may be from that of its letter: accents of capitals are raised.
pub(super) const REACH: f32 = 0.4;
/// Share of its width that an accent must lie over its letter.
const OVER: f32 = 0.3;

/// Accents as glyphs of their own, and as they combine.
const ACCENTS: [(char, char); 14] = [
    ('`', '\u{300}'),
    ('´', '\u{301}'),
    ('ˆ', '\u{302}'),
    ('˜', '\u{303}'),
    ('¯', '\u{304}'),
    ('ˉ', '\u{304}'),
    ('˘', '\u{306}'),
    ('˙', '\u{307}'),
    ('¨', '\u{308}'),
    ('˚', '\u{30a}'),
    ('˝', '\u{30b}'),
    ('ˇ', '\u{30c}'),
    ('¸', '\u{327}'),
    ('˛', '\u{328}'),
];

/// Returns the combining mark of an accent.
pub(super) fn mark_of(accent: char) -> Option<char> {
    ACCENTS.iter().find(|(known, mark)| *known == accent || *mark == accent).map(|(_, mark)| *mark)
}

/// Returns the letter with the accent if that stands over it and there is such a letter.
pub(super) fn over(accent: &Glyph, letter: &Glyph) -> Option<char> {
    let mark = mark_of(accent.character)?;
    let base = match letter.character {
        'ı' => 'i',
        'ȷ' => 'j',
        other => other,
    };
    let middle = accent.x + accent.width / 2.0;
    let overlap = (accent.x + accent.width).min(letter.x + letter.width) - accent.x.max(letter.x);
    let stands_over =
        (letter.x..=letter.x + letter.width).contains(&middle) && overlap >= OVER * accent.width;
    if !stands_over || !base.is_alphabetic() {
        return None;
    }
    let mut composed = [base, mark].into_iter().nfc();
    composed.next().filter(|_| composed.next().is_none())
}
