//! A clause as tokens: words, numbers and the stops between them. What they mean is read elsewhere.

use std::ops::Range;

use crate::describe::number::{self, Number};
use crate::terms::form::fold;

/// A token and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Token {
    /// Its bytes in the text.
    pub(crate) range: Range<usize>,
    /// What it is.
    pub(crate) what: Lexeme,
    /// How many brackets it stands in.
    pub(crate) depth: usize,
}

/// What a token is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Lexeme {
    /// A word, folded; hyphened parts stay in it.
    Word(String),
    /// A number, with the word that a hyphen joins to it (`3–5-lobed`).
    Number(Box<Number>, Option<String>),
    /// A comma, colon or bracket.
    Break,
    /// Another sign (`×`, `±`, `<`, `°`).
    Sign(char),
}

impl Token {
    /// Returns the word, where it is one.
    pub(crate) fn word(&self) -> Option<&str> {
        match &self.what {
            Lexeme::Word(word) => Some(word),
            Lexeme::Number(..) | Lexeme::Break | Lexeme::Sign(_) => None,
        }
    }

    /// Says whether it is this sign.
    pub(crate) fn is_sign(&self, sign: char) -> bool {
        self.what == Lexeme::Sign(sign)
    }
}

/// Cuts part of a text into tokens; ranges are those of the text.
pub(crate) fn tokens(text: &str, part: Range<usize>) -> Vec<Token> {
    let mut tokens = Vec::with_capacity(part.len() / 6);
    let clause = &text[..part.end];
    let (mut at, mut depth) = (part.start, 0_usize);
    while let Some(letter) = clause[at..].chars().next() {
        let begins =
            clause[part.start..at].chars().next_back().is_none_or(|before| !before.is_alphanumeric());
        let numeric = letter.is_numeric() && !letter.is_alphabetic() || letter == '(';
        if begins
            && numeric
            && let Some(number) = number::at(clause, at)
        {
            at = number.range.end;
            let suffix = suffix(clause, at);
            at += suffix.as_ref().map_or(0, |(_, length)| *length);
            let range = number.range.start..at;
            let what = Lexeme::Number(Box::new(number), suffix.map(|(word, _)| word));
            tokens.push(Token { range, what, depth });
            continue;
        }
        if letter.is_alphanumeric() {
            let end = word_end(clause, at);
            tokens.push(Token { range: at..end, what: Lexeme::Word(folded(&clause[at..end])), depth });
            at = end;
            continue;
        }
        let end = at + letter.len_utf8();
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        match letter {
            ',' | ':' | '(' | ')' | '[' | ']' | ';' | '—' => {
                tokens.push(Token { range: at..end, what: Lexeme::Break, depth });
            }
            '.' | ' ' | '\'' | '’' | '"' => {}
            _ => tokens.push(Token { range: at..end, what: Lexeme::Sign(letter), depth }),
        }
        at = end;
    }
    tokens
}

fn folded(word: &str) -> String {
    if word.is_ascii() {
        return word.to_ascii_lowercase();
    }
    let parts = word.split(['-', '‐', '‑', '–']).map(|part| fold(part).into_owned());
    parts.collect::<Vec<_>>().join("-")
}

/// Returns the word that a hyphen joins to a number, and the bytes of both.
fn suffix(text: &str, at: usize) -> Option<(String, usize)> {
    let rest = text[at..].strip_prefix(['-', '‐', '‑', '–'])?;
    let hyphen = text.len() - at - rest.len();
    if !rest.starts_with(char::is_alphabetic) {
        return None;
    }
    let end = word_end(rest, 0);
    Some((folded(&rest[..end]), hyphen + end))
}

/// Returns where the word that begins at a byte ends; hyphens between letters are within.
fn word_end(text: &str, start: usize) -> usize {
    let mut end = start;
    let mut letters = text[start..].char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        let next = letters.peek().map(|(_, next)| *next);
        let inside = letter.is_alphanumeric()
            || matches!(letter, '-' | '‐' | '‑' | '\'' | '’') && next.is_some_and(char::is_alphabetic);
        if !inside {
            break;
        }
        end = start + at + letter.len_utf8();
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: &str) {
        let show = |token: Token| match token.what {
            Lexeme::Word(word) => word,
            Lexeme::Number(number, suffix) => {
                format!(
                    "{}..{}{}",
                    number.span.low,
                    number.span.high,
                    suffix.map_or(String::new(), |word| format!("-{word}"))
                )
            }
            Lexeme::Break => ",".to_owned(),
            Lexeme::Sign(sign) => sign.to_string(),
        };
        let found: Vec<String> = tokens(text, 0..text.len()).into_iter().map(show).collect();
        assert_eq!(found.join(" "), expected);
    }

    #[test]
    fn a_clause_falls_into_words_numbers_and_stops() {
        check("Petals 5, yellow", "petals 5..5 , yellow");
        check("3–5 × 1–2 cm", "3..5 × 1..2 cm");
        check("Oblong-lanceolate, 3–5-lobed", "oblong-lanceolate , 3..5-lobed");
        check("ca. 3 mm", "ca 3..3 mm");
        check("2n = 24", "2..2 n = 24..24");
    }
}
