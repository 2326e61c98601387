//! The one name of each state: the glossary's headword for a word in any form, or the word itself in the singular.

use std::cell::RefCell;
use std::collections::HashMap;

use crate::describe::colour;
use crate::terms::Lexicon;

/// Letters of the shortest word that is taken for a state.
const SHORTEST: usize = 3;

/// Names states by a glossary.
#[derive(Debug)]
pub struct Concepts<'a> {
    lexicon: &'a Lexicon,
    seen: RefCell<HashMap<String, Named>>,
}

/// What a word is as a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Named {
    /// A term or colour, by its one name.
    Known(String),
    /// A word that no glossary has, in the singular.
    Unknown(String),
    /// An almost (`subglabrous`, `acutish`) of a term.
    Almost(String),
}

impl Named {
    /// Returns the name.
    pub(crate) fn name(&self) -> &str {
        match self {
            Self::Known(name) | Self::Unknown(name) | Self::Almost(name) => name,
        }
    }
}

impl<'a> Concepts<'a> {
    /// Prepares the naming of states by a glossary.
    pub fn new(lexicon: &'a Lexicon) -> Self {
        Self { lexicon, seen: RefCell::default() }
    }

    /// Returns the glossary.
    pub(crate) fn lexicon(&self) -> &'a Lexicon {
        self.lexicon
    }

    /// Names a folded word; none for words too short to mean anything.
    pub(crate) fn name(&self, word: &str) -> Option<Named> {
        if word.len() < SHORTEST || !word.starts_with(char::is_alphabetic) {
            return None;
        }
        if let Some(named) = self.seen.borrow().get(word) {
            return Some(named.clone());
        }
        let named = self.find(word);
        self.seen.borrow_mut().insert(word.to_owned(), named.clone());
        Some(named)
    }

    /// Names words that are one term together.
    pub(crate) fn phrase(&self, words: &str) -> Option<String> {
        self.term(words)
    }

    /// Returns the wider term of a term.
    pub(crate) fn broader(&self, name: &str) -> Option<String> {
        if colour::is_colour(name) {
            return Some("colour".to_owned());
        }
        let term = self.lexicon.get(self.lexicon.by_name(name)?);
        term.senses.iter().find_map(|sense| sense.broader.clone())
    }

    fn find(&self, word: &str) -> Named {
        if colour::is_colour(word) {
            return Named::Known(word.to_owned());
        }
        if let Some(term) = self.term(word) {
            return Named::Known(term);
        }
        if let Some(rest) = word.strip_prefix("sub").map(|rest| rest.trim_start_matches('-'))
            && let Some(term) = self.term(rest)
        {
            return Named::Almost(term);
        }
        if let Some(rest) = word.strip_suffix("ish")
            && let Some(term) = self.term(rest).or_else(|| self.term(&format!("{rest}e")))
        {
            return Named::Almost(term);
        }
        Named::Unknown(singular(word))
    }

    fn term(&self, word: &str) -> Option<String> {
        let ids = self.lexicon.look_up(word);
        ids.first().map(|id| self.lexicon.get(*id).name.to_lowercase())
    }
}

/// Takes an English plural's `s` away.
pub(crate) fn singular(word: &str) -> String {
    let plural = word.len() > SHORTEST && word.ends_with('s');
    if !plural || ["ss", "us", "is"].iter().any(|ending| word.ends_with(ending)) {
        return word.to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies") {
        return format!("{stem}y");
    }
    let hissing = word
        .strip_suffix("es")
        .filter(|stem| ["s", "x", "z", "ch", "sh"].iter().any(|end| stem.ends_with(end)));
    hissing.unwrap_or(&word[..word.len() - 1]).to_owned()
}
