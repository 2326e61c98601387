//! A description, clause by clause and item by item, into facts. What a word or number means is read beside.

use std::ops::Range;

use crate::clause::{self, organ_of};
use crate::describe::concept::{Concepts, singular};
use crate::describe::item::{self, Bearing, Noun, Role};
use crate::describe::state::Speaker;
use crate::describe::token::{Lexeme, Token, tokens};
use crate::describe::{Fact, parts};

/// What is known before a text is read.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Ground {
    /// The organ that its run-in heading names (T15).
    pub(crate) organ: Option<&'static str>,
    /// Whether a clause without a noun goes on about the organ before.
    pub(crate) inherits: Inherits,
}

/// What a clause without a noun is about.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Inherits {
    /// What the clause before was about.
    #[default]
    LastOrgan,
    /// Nothing named: in a question each part stands alone.
    Nothing,
}

/// Reads the facts of a text.
pub(crate) fn facts(text: &str, concepts: &Concepts<'_>, ground: Ground) -> Vec<Fact> {
    let mut facts = Vec::new();
    let mut last: Bearing = (ground.organ, None);
    for clause in clause::clauses(text) {
        let tokens = without_chromosomes(tokens(text, clause.range));
        let before = match (ground.inherits, ground.organ) {
            (Inherits::Nothing, _) => (None, None),
            (Inherits::LastOrgan, Some(organ)) => (Some(organ), None),
            (Inherits::LastOrgan, None) => last,
        };
        let bearer = if ground.organ.is_some() { (ground.organ, None) } else { last };
        let subject = clause_facts(&tokens, concepts, before, bearer, &mut facts);
        if subject.0.is_some_and(|organ| !parts::is_place(organ)) {
            last = subject;
        }
    }
    facts
}

/// Returns the organ that the heading of a section names.
pub(crate) fn heading_organ(heading: &str) -> Option<&'static str> {
    let words = heading.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty());
    let last = words.last()?.to_lowercase();
    match last.as_str() {
        "habit" => Some("plant"),
        _ => organ_of(&last).or_else(|| organ_of(&singular(&last))),
    }
}

/// Takes chromosome statements out: no digit of them is a measure or a count (T37).
fn without_chromosomes(mut tokens: Vec<Token>) -> Vec<Token> {
    let is_level = |token: &Token| match &token.what {
        Lexeme::Word(word) => matches!(word.as_str(), "n" | "x" | "2n"),
        Lexeme::Number(_, suffix) => suffix.as_deref() == Some("n"),
        Lexeme::Break | Lexeme::Sign(_) => false,
    };
    let begins = tokens.windows(2).position(|pair| is_level(&pair[0]) && pair[1].is_sign('='));
    if let Some(at) = begins {
        tokens.truncate(at - usize::from(at > 0 && matches!(tokens[at - 1].what, Lexeme::Number(..))));
    }
    tokens
}

/// Reads one clause; returns what it was about.
fn clause_facts(
    tokens: &[Token],
    concepts: &Concepts<'_>,
    inherited: Bearing,
    bearer: Bearing,
    facts: &mut Vec<Fact>,
) -> Bearing {
    let mut subject = inherited;
    let mut about = inherited;
    for (place, item) in items(tokens).into_iter().enumerate() {
        let mut nouns = item::nouns(tokens, item.clone());
        let head = head(tokens, &nouns, item.start, place == 0);
        let whole = |bearing: Bearing| bearing.0.is_some_and(|organ| !parts::is_place(organ));
        let bearing = if whole(subject) { subject } else { bearer };
        let heading = head.map(|at| (nouns[at].organ, nouns[at].at.clone()));
        for (at, noun) in
            nouns.iter_mut().enumerate().filter(|(_, noun)| noun.of.is_none() && parts::is_place(noun.organ))
        {
            let own = match &heading {
                Some((organ, _)) if head != Some(at) && !parts::is_place(organ) => Some(*organ),
                Some(_) | None => bearing.0,
            };
            noun.of = own.filter(|organ| *organ != noun.organ);
        }
        if let Some(noun) = head.map(|at| &nouns[at]) {
            let own = (Some(noun.organ), noun.of);
            if place == 0 {
                about = own;
            }
            if place == 0 || !parts::is_place(noun.organ) {
                subject = own;
            }
        }
        Speaker { tokens, concepts, nouns: &nouns, item, subject }.speak(facts);
    }
    about
}

/// Returns the noun that an item is about: the first that opens it, or for the first item any that is described.
fn head(tokens: &[Token], nouns: &[Noun], start: usize, first: bool) -> Option<usize> {
    let at = nouns.iter().position(|noun| noun.role == Role::Described)?;
    let described = &nouns[at];
    let words = tokens[start..described.at.start].iter().map(Token::word);
    let opened = |word: Option<&str>| {
        word.is_some_and(|word| !matches!(word, "with" | "without" | "of" | "bearing" | "having" | "lacking"))
    };
    let few = described.at.start - start <= WORDS_BEFORE_HEAD;
    (first && words.clone().all(|word| word.is_none() || opened(word)) || few && words.clone().all(opened))
        .then_some(at)
}

/// Words before the noun that an item is about at most: `the lower stem leaves`.
const WORDS_BEFORE_HEAD: usize = 3;

/// Cuts a clause at its commas.
fn items(tokens: &[Token]) -> Vec<Range<usize>> {
    let mut items = Vec::new();
    let mut start = 0;
    for (at, token) in tokens.iter().enumerate() {
        if token.what == Lexeme::Break {
            if start < at {
                items.push(start..at);
            }
            start = at + 1;
        }
    }
    if start < tokens.len() {
        items.push(start..tokens.len());
    }
    items
}
