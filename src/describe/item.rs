//! The nouns of an item between commas, and which of them a word belongs to (T14). States are read in `state`.

use std::ops::Range;

use crate::clause::organ_of;
use crate::describe::parts;
use crate::describe::token::{Lexeme, Token};

/// Prepositions after which a noun says where, when or of what kind, and is not described itself.
const PLACING: &[&str] = &[
    "at",
    "towards",
    "toward",
    "near",
    "in",
    "on",
    "below",
    "above",
    "beneath",
    "under",
    "between",
    "from",
    "to",
    "by",
    "along",
    "over",
    "around",
    "round",
    "behind",
    "throughout",
    "against",
    "into",
    "among",
    "after",
    "before",
    "during",
    "like",
    "through",
    "outside",
    "inside",
    "within",
];

/// Words after which a noun is what is compared with.
const COMPARING: &[&str] = &["as", "than", "equalling", "equaling", "exceeding", "resembling"];

/// Words that may stand between a preposition and its noun without being looked at.
const ARTICLES: &[&str] =
    &["the", "a", "an", "its", "their", "each", "all", "both", "every", "this", "these", "those"];

/// Words between a preposition and its noun at most.
const WORDS_TO_NOUN: usize = 3;

/// Words between an adjective and the noun that it stands before at most.
const ADJECTIVES: usize = 4;

/// What a noun does in its item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// It is described.
    Described,
    /// It says where.
    Place,
    /// It is compared with.
    Compared,
}

/// A noun of an item: one organ, though it may take two words (`calyx teeth`).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Noun {
    /// Its tokens.
    pub(crate) at: Range<usize>,
    /// The organ.
    pub(crate) organ: &'static str,
    /// What bears it, where that is said.
    pub(crate) of: Option<&'static str>,
    /// What it does.
    pub(crate) role: Role,
}

/// An organ and what bears it.
pub(crate) type Bearing = (Option<&'static str>, Option<&'static str>);

/// Returns the organ that a token names.
pub(crate) fn organ(token: &Token) -> Option<&'static str> {
    let word = token.word()?;
    let found = organ_of(word)
        .or_else(|| organ_of(word.rsplit_once('-')?.1).filter(|organ| matches!(*organ, "bud" | "scale")));
    found.map(|organ| if parts::whole(organ) == "plant" { "plant" } else { organ })
}

/// Finds the nouns of an item.
pub(crate) fn nouns(tokens: &[Token], item: Range<usize>) -> Vec<Noun> {
    let mut nouns: Vec<Noun> = Vec::new();
    for at in item.clone() {
        let Some(organ) = organ(&tokens[at]) else { continue };
        let role = role(tokens, item.start, at);
        match nouns.last_mut() {
            Some(before) if before.at.end == at => {
                let (organ, of) = match parts::pair(organ, before.organ) {
                    Some(pair) => (pair, None),
                    None if parts::whole(organ) == parts::whole(before.organ) => (organ, before.of),
                    None => (organ, Some(before.organ)),
                };
                *before = Noun { at: before.at.start..at + 1, organ, of, role: before.role };
            }
            Some(before) if of_follows(tokens, before.at.end, at) && parts::is_place(before.organ) => {
                before.of = Some(organ);
                before.at.end = at + 1;
            }
            Some(_) | None => nouns.push(Noun { at: at..at + 1, organ, of: None, role }),
        }
    }
    nouns
}

/// Says whether only `of` and articles stand between two tokens.
fn of_follows(tokens: &[Token], from: usize, to: usize) -> bool {
    let mut words = tokens[from..to].iter().map(Token::word);
    words.next() == Some(Some("of")) && words.all(|word| word.is_some_and(|word| ARTICLES.contains(&word)))
}

fn role(tokens: &[Token], start: usize, at: usize) -> Role {
    let mut words = tokens[start..at].iter().rev().take(WORDS_TO_NOUN).map_while(Token::word);
    let found = words.find_map(|word| {
        if PLACING.contains(&word) {
            Some(Role::Place)
        } else if COMPARING.contains(&word) {
            Some(Role::Compared)
        } else if matches!(word, "with" | "of" | "without" | "and" | "or" | "bearing" | "having")
            || organ_of(word).is_some()
        {
            Some(Role::Described)
        } else {
            None
        }
    });
    found.unwrap_or(Role::Described)
}

/// Returns the noun that a word belongs to: the one it stands before, else the last described one before it.
pub(crate) fn owner<'a>(tokens: &[Token], nouns: &'a [Noun], at: usize) -> Option<&'a Noun> {
    let described = |noun: &&Noun| noun.role == Role::Described;
    let ahead = nouns.iter().filter(described).find(|noun| noun.at.start > at);
    if let Some(noun) = ahead
        && noun.at.start - at <= ADJECTIVES
        && tokens[at + 1..noun.at.start].iter().all(|token| may_stand_between(token))
    {
        return Some(noun);
    }
    nouns.iter().rev().filter(described).find(|noun| noun.at.end <= at)
}

/// Says whether a token may stand between an adjective and its noun.
fn may_stand_between(token: &Token) -> bool {
    match &token.what {
        Lexeme::Word(word) => {
            let word = word.as_str();
            !(PLACING.contains(&word)
                || COMPARING.contains(&word)
                || ARTICLES.contains(&word)
                || matches!(
                    word,
                    "with"
                        | "without"
                        | "of"
                        | "when"
                        | "but"
                        | "long"
                        | "wide"
                        | "tall"
                        | "high"
                        | "is"
                        | "are"
                ))
        }
        Lexeme::Number(..) => true,
        Lexeme::Break | Lexeme::Sign(_) => false,
    }
}

/// Returns the place that is named behind a word: `rounded at the base`.
pub(crate) fn place_behind(nouns: &[Noun], tokens: &[Token], at: usize) -> Option<&'static str> {
    let noun = nouns.iter().find(|noun| noun.at.start > at)?;
    let near = tokens[at + 1..noun.at.start].iter().all(|token| token.word().is_some());
    (noun.role == Role::Place && near && matches!(noun.organ, "base" | "apex" | "margin"))
        .then_some(noun.organ)
}

/// Says whether a word is an article.
pub(crate) fn is_article(word: &str) -> bool {
    ARTICLES.contains(&word)
}

/// Says whether a word is one of the prepositions and comparing words.
pub(crate) fn is_preposition(word: &str) -> bool {
    PLACING.contains(&word) || COMPARING.contains(&word)
}
