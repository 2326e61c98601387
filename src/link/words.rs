//! A text as words with what stands between them. What a word means is not asked here.

use std::borrow::Cow;
use std::ops::Range;

use crate::terms::form::fold;

/// What joins a word to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Joint {
    /// A blank alone.
    Blank,
    /// A hyphen, or a dash between letters or figures.
    Hyphen,
    /// A full stop and a blank or none (`S. alba`, `subsp.montana`).
    Stop,
    /// The hybrid sign.
    Cross,
    /// Anything else, or the end.
    Break,
}

/// A word of a text: letters, figures and apostrophes within.
#[derive(Clone, Debug)]
pub(crate) struct Word<'a> {
    /// As printed.
    pub(crate) printed: &'a str,
    /// Its bytes in the text.
    pub(crate) range: Range<usize>,
    /// Folded for matching.
    pub(crate) key: Cow<'a, str>,
    /// What joins it to the next word.
    pub(crate) joint: Joint,
}

impl Word<'_> {
    /// Says whether the word begins with a capital.
    pub(crate) fn is_capital(&self) -> bool {
        self.printed.starts_with(char::is_uppercase)
    }

    /// Says whether the word begins with the only capital in it, as names do.
    pub(crate) fn is_capitalised(&self) -> bool {
        self.is_capital() && self.printed.chars().nth(1).is_some_and(char::is_lowercase)
    }
}

/// Cuts a text into its words.
pub(crate) fn words(text: &str) -> Vec<Word<'_>> {
    let mut words: Vec<Word<'_>> = Vec::with_capacity(text.len() / 6);
    let mut start = None;
    for (at, letter) in text.char_indices() {
        let inside = letter.is_alphanumeric()
            || ('\u{300}'..='\u{36f}').contains(&letter)
            || matches!(letter, '\'' | '’')
                && start.is_some()
                && text[at + letter.len_utf8()..].starts_with(char::is_alphabetic);
        match (inside, start) {
            (true, None) => start = Some(at),
            (false, Some(begun)) => {
                push(text, begun..at, &mut words);
                start = None;
            }
            (true, Some(_)) | (false, None) => {}
        }
    }
    if let Some(begun) = start {
        push(text, begun..text.len(), &mut words);
    }
    words
}

fn push<'a>(text: &'a str, range: Range<usize>, words: &mut Vec<Word<'a>>) {
    if let Some(before) = words.last_mut() {
        before.joint = joint(&text[before.range.end..range.start]);
    }
    let printed = &text[range.clone()];
    words.push(Word { printed, range, key: fold(printed), joint: Joint::Break });
}

fn joint(between: &str) -> Joint {
    match between {
        " " => Joint::Blank,
        "-" | "\u{2010}" | "\u{2011}" | "\u{2013}" => Joint::Hyphen,
        "." | ". " => Joint::Stop,
        " ×" | " × " | "×" => Joint::Cross,
        _ => Joint::Break,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_words(text: &str, expected: &[(&str, Joint)]) {
        let words = words(text);
        let found: Vec<(&str, Joint)> = words.iter().map(|word| (&*word.key, word.joint)).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn words_know_what_joins_them() {
        check_words(
            "S. alba × b, 3–5-lobed Paleæ",
            &[
                ("s", Joint::Stop),
                ("alba", Joint::Cross),
                ("b", Joint::Break),
                ("3", Joint::Hyphen),
                ("5", Joint::Hyphen),
                ("lobed", Joint::Blank),
                ("paleae", Joint::Break),
            ],
        );
    }

    #[test]
    fn an_apostrophe_within_belongs_to_the_word() {
        check_words(
            "ladies’ bird's 5'",
            &[("ladies", Joint::Break), ("bird's", Joint::Blank), ("5", Joint::Break)],
        );
    }
}
