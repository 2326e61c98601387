//! A text's words in the form they are found by: case and accents folded, plural and singular alike.
//!
//! The same folding is applied to what is indexed and to what is asked, so it need not give real words.

use std::ops::Range;

use tantivy::tokenizer::{Token, TokenStream, Tokenizer};
use unicode_normalization::char::is_combining_mark;

use crate::name;

/// The tokenizer's name in the index; a new number makes indexes of older folding unreadable, so that they are built anew.
pub(crate) const TOKENIZER: &str = "ligule-words-1";

/// Letters that a word needs before its `s` is taken for a plural's.
const SHORTEST_PLURAL: usize = 4;

/// One word of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    /// Where it stands, in bytes.
    pub(crate) range: Range<usize>,
    /// Its letters, case and accents folded.
    pub(crate) surface: String,
    /// The same for singular and plural.
    pub(crate) root: String,
}

/// Returns the words of a text; whatever is neither letter nor digit parts words.
pub(crate) fn words(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    let mut start = None;
    for (at, letter) in text.char_indices().chain([(text.len(), ' ')]) {
        let inside = letter.is_alphanumeric() || start.is_some() && is_combining_mark(letter);
        match start {
            None if inside => start = Some(at),
            Some(from) if !inside => {
                words.push(word(text, from..at));
                start = None;
            }
            None | Some(_) => {}
        }
    }
    words
}

/// Returns the roots of a text joined by blanks, for comparing whole names.
pub(crate) fn joined(text: &str) -> String {
    words(text).into_iter().map(|word| word.root).collect::<Vec<_>>().join(" ")
}

/// Returns the word that stands in a range of the text.
fn word(text: &str, range: Range<usize>) -> Word {
    let surface = fold(&text[range.clone()]);
    let root = root(&surface);
    Word { range, surface, root }
}

/// Folds case, accents and joined letters.
fn fold(word: &str) -> String {
    if word.is_ascii() { word.to_ascii_lowercase() } else { name::fold(word) }
}

/// Makes one form of a word's singular and plural (`leaf` and `leaves` to `leav`, `valve` and `valves` to `valv`).
fn root(word: &str) -> String {
    let single = singular(word);
    if single.len() >= SHORTEST_PLURAL && !single.ends_with("ff") {
        if let Some(stem) = single.strip_suffix('f').or_else(|| single.strip_suffix("ve")) {
            return format!("{stem}v");
        }
        if let Some(stem) = single.strip_suffix("fe") {
            return format!("{stem}v");
        }
    }
    single
}

/// Takes an English plural's ending away.
fn singular(word: &str) -> String {
    let plural = word.len() >= SHORTEST_PLURAL && word.ends_with('s');
    if !plural || ["ss", "us", "is"].iter().any(|ending| word.ends_with(ending)) {
        return word.to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies") {
        return format!("{stem}y");
    }
    if let Some(stem) = word.strip_suffix("es")
        && ["s", "x", "z", "ch", "sh"].iter().any(|ending| stem.ends_with(ending))
    {
        return stem.to_owned();
    }
    word[..word.len() - 1].to_owned()
}

/// Hands the words to the index: each root, and at the same place the surface where that differs.
#[derive(Clone, Default)]
pub(crate) struct Words;

/// The tokens of one text.
pub(crate) struct Tokens {
    left: std::vec::IntoIter<Token>,
    token: Token,
}

impl Tokenizer for Words {
    type TokenStream<'a> = Tokens;

    fn token_stream<'a>(&'a mut self, text: &'a str) -> Tokens {
        let mut tokens = Vec::new();
        for (position, Word { range, surface, root }) in words(text).into_iter().enumerate() {
            let token = |text| Token {
                offset_from: range.start,
                offset_to: range.end,
                position,
                text,
                position_length: 1,
            };
            let differs = surface != root;
            tokens.push(token(root));
            if differs {
                tokens.push(token(surface));
            }
        }
        Tokens { left: tokens.into_iter(), token: Token::default() }
    }
}

impl TokenStream for Tokens {
    fn advance(&mut self) -> bool {
        let next = self.left.next();
        let any = next.is_some();
        self.token = next.unwrap_or_default();
        any
    }

    fn token(&self) -> &Token {
        &self.token
    }

    fn token_mut(&mut self) -> &mut Token {
        &mut self.token
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_roots(text: &str, expected: &[&str]) {
        let roots: Vec<String> = words(text).into_iter().map(|word| word.root).collect();
        assert_eq!(roots, expected);
    }

    #[track_caller]
    fn check_alike(words: &[&str]) {
        let roots: Vec<String> = words.iter().map(|word| joined(word)).collect();
        assert!(roots.iter().all(|root| *root == roots[0]), "{words:?} give {roots:?}");
    }

    #[test]
    fn a_plural_and_its_singular_have_one_root() {
        check_alike(&["leaf", "leaves", "Leaves", "leafs"]);
        check_alike(&["valve", "valves"]);
        check_alike(&["knife", "knives"]);
        check_alike(&["berry", "berries"]);
        check_alike(&["bush", "bushes"]);
        check_alike(&["petal", "petals"]);
    }

    #[test]
    fn a_word_that_only_ends_like_a_plural_is_kept() {
        check_roots(
            "axis genus glabrous glass bus stiff",
            &["axis", "genus", "glabrous", "glass", "bus", "stiff"],
        );
    }

    #[test]
    fn case_accents_and_joined_letters_are_folded() {
        check_roots("ISOËTES Pædêria Œnanthe", &["isoete", "paederia", "oenanthe"]);
    }

    #[test]
    fn hyphens_dashes_and_signs_part_words() {
        check_roots(
            "oblong-lanceolate, 3–5 cm; ×hybrida",
            &["oblong", "lanceolate", "3", "5", "cm", "hybrida"],
        );
    }

    #[test]
    fn a_letter_with_its_accent_apart_is_one_word() {
        assert_eq!(words("cafe\u{301} au").len(), 2);
    }
}
