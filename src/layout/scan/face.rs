//! The rows of all leaves come in; how wide their face has each letter goes out.
//!
//! It begins with the widths of an ordinary text face and lets the words of the book mend them. Bold and italic letters are
//! not told from others.

use std::collections::BTreeMap;

use crate::layout::scan::Leaf;
use crate::layout::scan::words::Word;

/// Rounds in which widths are mended.
const ROUNDS: usize = 6;
/// Letters from which a word's width is believed; shorter ones lose too much to the rounding of their edges.
pub(super) const MIN_LETTERS: usize = 3;
/// Ratios of a word's width to the expected one within which it teaches anything.
const SANE: std::ops::RangeInclusive<f32> = 0.8..=1.25;
/// Times that a letter must be seen.
const MIN_SEEN: f32 = 50.0;

/// Widths of letters.
#[derive(Clone, Debug, Default)]
pub(super) struct Face {
    /// Widths in em that the book has taught.
    mended: BTreeMap<char, f32>,
}

impl Face {
    /// Learns the face of the leaves.
    pub(super) fn of(leaves: &[Leaf]) -> Self {
        let mut face = Self::default();
        for _ in 0..ROUNDS {
            face = face.mend(leaves);
        }
        face
    }

    /// Returns the width of a word in em.
    pub(super) fn width(&self, word: &Word) -> f32 {
        word.text.chars().map(|character| self.letter(character)).sum::<f32>().max(0.1)
    }

    /// Returns the width of a letter in em.
    pub(super) fn letter(&self, character: char) -> f32 {
        self.mended.get(&character).copied().unwrap_or_else(|| ordinary(character))
    }

    /// Returns the size that a word's width tells of.
    pub(super) fn size(&self, word: &Word) -> f32 {
        (word.x1 - word.x0) / self.width(word)
    }

    /// Widens letters whose words are wider than expected in their rows, and the other way round.
    fn mend(&self, leaves: &[Leaf]) -> Self {
        let mut seen: BTreeMap<char, (f32, f32)> = BTreeMap::new();
        for row in leaves.iter().flat_map(|leaf| &leaf.rows) {
            let long = || row.words.iter().filter(|word| word.text.chars().count() >= MIN_LETTERS);
            let (wide, em) =
                long().fold((0.0, 0.0), |sum, word| (sum.0 + word.x1 - word.x0, sum.1 + self.width(word)));
            for word in long() {
                let ratio = self.size(word) * em / wide;
                if SANE.contains(&ratio) {
                    for character in word.text.chars() {
                        let sum = seen.entry(character).or_default();
                        sum.0 += ratio;
                        sum.1 += 1.0;
                    }
                }
            }
        }
        let mended = seen.into_iter().filter(|(_, (_, count))| *count >= MIN_SEEN);
        Self { mended: mended.map(|(letter, sum)| (letter, self.letter(letter) * sum.0 / sum.1)).collect() }
    }
}

/// Returns the width of a letter in em in an ordinary text face.
fn ordinary(character: char) -> f32 {
    match character {
        'i' | 'j' | 'l' | 't' | ':' | ';' | '/' | '|' => 0.28,
        '.' | ',' | '\'' | '’' | '‘' => 0.25,
        'f' | 'r' | 'I' | '-' | '(' | ')' | '[' | ']' | '!' => 0.33,
        's' | 'J' => 0.39,
        'a' | 'c' | 'e' | 'z' | '?' | '“' | '”' => 0.44,
        'm' => 0.78,
        'w' | 'A' | 'D' | 'G' | 'H' | 'K' | 'N' | 'O' | 'Q' | 'U' | 'V' | 'X' | 'Y' => 0.72,
        'E' | 'L' | 'T' | 'Z' => 0.61,
        'B' | 'C' | 'R' => 0.66,
        'F' | 'P' | 'S' => 0.55,
        'M' | 'W' | '—' => 0.92,
        _ => 0.5,
    }
}
