//! Counts (T24, T28, T29, T36): numbers and number words with the noun that is counted.

use crate::clause::organ_of;
use crate::describe::measure::limited;
use crate::describe::number::Standing;
use crate::describe::parts;
use crate::describe::span::Span;
use crate::describe::token::{Lexeme, Token};

/// Words between a number and the noun that it counts at most (`5 free, hooded petals`).
const WORDS_TO_NOUN: usize = 4;

/// Number words. Those without an end have no number of their own: at least a few, no upper limit (T36).
const WORDS: &[(&str, f32, f32)] = &[
    ("one", 1.0, 1.0),
    ("single", 1.0, 1.0),
    ("solitary", 1.0, 1.0),
    ("two", 2.0, 2.0),
    ("three", 3.0, 3.0),
    ("four", 4.0, 4.0),
    ("five", 5.0, 5.0),
    ("six", 6.0, 6.0),
    ("seven", 7.0, 7.0),
    ("eight", 8.0, 8.0),
    ("nine", 9.0, 9.0),
    ("ten", 10.0, 10.0),
    ("twelve", 12.0, 12.0),
    ("few", 2.0, 6.0),
    ("several", 3.0, 12.0),
    ("many", MANY, f32::INFINITY),
    ("numerous", MANY, f32::INFINITY),
    ("indefinite", MANY, f32::INFINITY),
    ("∞", MANY, f32::INFINITY),
];

/// What "many" begins with at the least; books differ between 10 and 20 and one puts it above 12, but none below this.
const MANY: f32 = 6.0;

/// Nouns that count twice over or by groups: `in 5–9 pairs` counts what stands before.
const GROUPS: &[&str] = &["pair", "pairs", "row", "rows", "rank", "ranks", "whorl", "whorls"];

/// A count that was read.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Counted {
    /// The stretches that are stated, and whether each is a rarer state.
    pub(crate) spans: Vec<(Span, Standing)>,
    /// What is counted; none for the organ that the words before name.
    pub(crate) organ: Option<&'static str>,
    /// The token after the number, or after the group.
    pub(crate) next: usize,
}

/// Reads the count whose number is at a token; `start` is where its item begins.
pub(crate) fn count(tokens: &[Token], at: usize, start: usize) -> Option<Counted> {
    let (spans, suffix) = spans(tokens, at, start)?;
    if let Some(suffix) = suffix {
        let organ = parts::counted(suffix)?;
        return Some(Counted { spans, organ: Some(organ), next: at + 1 });
    }
    let next_word = tokens.get(at + 1).and_then(Token::word);
    let after_sign =
        tokens.get(at + 1).is_some_and(|next| next.is_sign('×') || next.is_sign('°') || next.is_sign('%'));
    if after_sign || matches!(next_word, Some("times" | "x")) {
        return None;
    }
    if next_word.is_some_and(|word| GROUPS.contains(&word)) {
        let of = tokens.get(at + 2).and_then(Token::word) == Some("of");
        let ahead = tokens[at + 2..].iter().take(WORDS_TO_NOUN).map_while(Token::word);
        let organ = if of { ahead.skip(1).find_map(organ_of) } else { None };
        return Some(Counted { spans, organ, next: at + 2 });
    }
    let ahead = tokens[at + 1..].iter().take(WORDS_TO_NOUN).map_while(Token::word);
    let mut noun = None;
    for word in ahead {
        if matches!(
            word,
            "in" | "on" | "at" | "with" | "of" | "from" | "to" | "than" | "as" | "by" | "or" | "a" | "per"
        ) {
            break;
        }
        if let Some(organ) = organ_of(word) {
            noun = Some(organ);
            break;
        }
    }
    Some(Counted { spans, organ: noun, next: at + 1 })
}

type Spans<'a> = (Vec<(Span, Standing)>, Option<&'a str>);

fn spans<'a>(tokens: &'a [Token], at: usize, start: usize) -> Option<Spans<'a>> {
    match &tokens.get(at)?.what {
        Lexeme::Number(number, suffix) => {
            let mut spans = vec![(limited(number.span, tokens, at, start), Standing::Equal)];
            spans.extend(number.other);
            Some((spans, suffix.as_deref()))
        }
        Lexeme::Word(word) => {
            let (head, suffix) = match word.split_once('-') {
                Some((head, suffix)) => (head, Some(suffix)),
                None => (word.as_str(), None),
            };
            let (_, low, high) = WORDS.iter().find(|(own, ..)| *own == head)?;
            let mut span = Span::from_to(*low, *high);
            let to = tokens.get(at + 1).and_then(Token::word).filter(|next| matches!(*next, "to" | "or"));
            if to.is_some()
                && let Some((more, _)) = spans_word(tokens, at + 2)
            {
                span = Span::from_to(*low, more.high);
            }
            Some((vec![(span, Standing::Equal)], suffix))
        }
        Lexeme::Break => None,
        Lexeme::Sign('∞') => Some((vec![(Span::at_least(MANY), Standing::Equal)], None)),
        Lexeme::Sign(_) => None,
    }
}

fn spans_word(tokens: &[Token], at: usize) -> Option<(Span, ())> {
    let word = tokens.get(at)?.word()?;
    let (_, low, high) = WORDS.iter().find(|(own, ..)| *own == word)?;
    Some((Span::from_to(*low, *high), ()))
}

/// Says whether a word is a number.
pub(crate) fn is_number_word(word: &str) -> bool {
    WORDS.iter().any(|(own, ..)| *own == word.split('-').next().unwrap_or(word))
}
