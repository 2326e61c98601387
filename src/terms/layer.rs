//! One source's entries with the index of their forms. Layers know nothing of one another.

use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::terms::Term;
use crate::terms::form::{Kin, fold, headwords, spellings};

/// The entries of one source.
#[derive(Clone, Debug, Default)]
pub(crate) struct Layer {
    terms: Vec<Term>,
    /// Positions of the entries that list a folded form.
    index: FxHashMap<String, Vec<u32>>,
    /// For the first word of every phrase, the number of words of the longest.
    phrases: FxHashMap<String, usize>,
}

impl Layer {
    /// Indexes the entries by headwords and listed forms.
    pub(crate) fn new(terms: Vec<Term>) -> Self {
        let mut layer = Self {
            index: FxHashMap::with_capacity_and_hasher(terms.len() * 2, FxBuildHasher),
            ..Self::default()
        };
        for (at, term) in terms.iter().enumerate() {
            for word in std::iter::once(&term.name).chain(&term.forms) {
                let key = fold(word);
                for spelled in spellings(&key) {
                    layer.add_form(at, spelled);
                }
                if word.contains('-') {
                    layer.add_form(at, key.replace(' ', ""));
                }
                layer.add_form(at, key.into_owned());
            }
        }
        layer.terms = terms;
        layer
    }

    /// Lets an entry be found by one more form.
    pub(crate) fn add_form(&mut self, at: usize, form: String) {
        if let Some((first, rest)) = form.split_once(' ') {
            let words = rest.split(' ').count() + 1;
            match self.phrases.get_mut(first) {
                Some(longest) => *longest = words.max(*longest),
                None => drop(self.phrases.insert(first.to_owned(), words)),
            }
        }
        let all = self.index.entry(form).or_default();
        if !all.contains(&(at as u32)) {
            all.push(at as u32);
        }
    }

    /// Returns the entries in their order.
    pub(crate) fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// Returns the positions of the entries that list a folded word.
    pub(crate) fn listed(&self, key: &str) -> &[u32] {
        self.index.get(key).map_or(&[], Vec::as_slice)
    }

    /// Returns the positions of the entries that a folded word is a form of, in their order.
    pub(crate) fn find(&self, key: &str, kin: Kin) -> Vec<u32> {
        let mut found = match kin {
            Kin::Same => self.listed(key).to_vec(),
            Kin::Derived => Vec::new(),
        };
        headwords(key, kin, |headword| found.extend_from_slice(self.listed(headword)));
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Returns the number of words of the longest phrase that begins with a folded word.
    pub(crate) fn longest_phrase(&self, first: &str) -> usize {
        self.phrases.get(first).copied().unwrap_or(0)
    }
}
