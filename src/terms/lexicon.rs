//! All entries by source, the most trusted source first, and the look-up by any word form.

use crate::model::Entry;
use crate::terms::{Origin, Sense, Term, TermId};

/// All entries in the order of trust.
#[derive(Clone, Debug, Default)]
pub struct Lexicon {
    terms: Vec<Term>,
}

impl Lexicon {
    /// Returns the glossary that ligule brings along.
    pub fn built_in() -> Self {
        Self::default()
    }

    /// Returns a flora's own entries followed by the built-in glossary.
    pub fn with_flora(title: &str, entries: &[Entry]) -> Self {
        let term = |entry: &Entry| Term {
            name: entry.term.clone(),
            forms: entry.variants.clone(),
            see: entry.see.clone(),
            senses: vec![Sense { definition: entry.definition.plain.clone(), ..Sense::default() }],
            origin: Origin::Flora(title.to_owned()),
            page: Some(entry.definition.page()),
            entry: Some(entry.id),
        };
        Self { terms: entries.iter().map(term).collect() }
    }

    /// Returns an entry by its id.
    pub fn get(&self, id: TermId) -> &Term {
        &self.terms[id.0 as usize]
    }

    /// Returns the entries that have the word in any form, the most trusted first; what sends on is followed.
    pub fn look_up(&self, word: &str) -> Vec<TermId> {
        self.by_name(word).into_iter().collect()
    }

    /// Returns the most trusted entry with exactly this headword, upper and lower case alike.
    pub fn by_name(&self, name: &str) -> Option<TermId> {
        let at = self.terms.iter().position(|term| term.name.eq_ignore_ascii_case(name))?;
        Some(TermId(at as u32))
    }

    /// Returns up to `most` entries whose headwords are spelled most like the word, for "did you mean".
    pub fn nearest(&self, word: &str, most: usize) -> Vec<TermId> {
        self.look_up(word).into_iter().take(most).collect()
    }

    /// Returns the headwords in alphabetical order.
    pub fn names(&self) -> impl Iterator<Item = (&str, TermId)> {
        let mut names: Vec<(&str, TermId)> =
            self.terms.iter().enumerate().map(|(at, term)| (term.name.as_str(), TermId(at as u32))).collect();
        names.sort_unstable();
        names.into_iter()
    }

    /// Says whether the word is a form of some entry.
    pub fn knows(&self, word: &str) -> bool {
        !self.look_up(word).is_empty()
    }
}
