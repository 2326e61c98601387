//! Where the words of a text lead: terms in every form, with the sense that fits the organ, and names of taxa.
//!
//! A mark says only where a word leads; how marks are shown and followed is the reader's.

mod beside;
mod compose;
mod everyday;
mod figure;
mod frame;
mod group;
mod idiom;
mod kindred;
mod kinds;
mod names;
mod ordinary;
mod parts;
mod prose;
mod sense;
mod term;
mod things;
mod vouch;
mod words;

use std::ops::Range;

use crate::clause::clauses;
use crate::link::names::Names;
use crate::link::words::{Word, words};
use crate::model::TaxonId;
use crate::terms::{Lexicon, TermId};

pub use compose::{Composed, Relation, compose, relation};
pub use group::Groups;
pub use sense::sense_for;

/// Where a marked word leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Leads {
    /// To a term.
    Term(TermId),
    /// To the parts of one hyphened word, in its order.
    Compound(Vec<TermId>),
    /// To the entry of a part of a word that no glossary has as a whole, with what the rest makes of it.
    Composed(Composed),
    /// To a taxon of the flora.
    Name(TaxonId),
}

/// A word or several that lead somewhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The bytes in the text.
    pub range: Range<usize>,
    /// Where they lead.
    pub leads: Leads,
    /// The sense of the first term that fits where it stands; none where it can't be told from the others.
    pub sense: Option<usize>,
    /// The organ that it is most likely said of, in the singular; none for names and where no organ is named.
    pub organ: Option<&'static str>,
}

/// Finds the marks of texts of one flora.
#[derive(Clone, Debug)]
pub struct Linker {
    names: Names,
}

/// What a text stands under in its book.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Under<'a> {
    /// The genus of its key or treatment.
    pub genus: Option<&'a str>,
    /// The groups of plants that the names and titles above it tell.
    pub groups: Groups,
}

/// What is known of a text when one of its words is asked after.
struct Scene<'a> {
    text: &'a str,
    words: &'a [Word<'a>],
    clauses: &'a [crate::clause::Clause],
    lexicon: &'a Lexicon,
    /// The groups of plants that the text tells.
    groups: Groups,
}

impl Linker {
    /// Prepares the scientific names of a flora; terms are looked up in the lexicon that [`Self::marks`] is given.
    pub fn new(names: impl Iterator<Item = (String, TaxonId)>) -> Self {
        Self { names: Names::new(names) }
    }

    /// Returns the marks of a text, in order, none overlapping another.
    pub fn marks(&self, text: &str, lexicon: &Lexicon) -> Vec<Mark> {
        self.marks_under(text, lexicon, Under::default())
    }

    /// Returns the marks of a text that stands under a genus and groups of plants, as in its key or treatment.
    ///
    /// Of the senses of a word the one of such a group is shown; one that another group alone has is not.
    /// An abbreviated genus is first the last one spelled out in the text, then this one, then the only one of the
    /// flora that has such a species.
    pub fn marks_under(&self, text: &str, lexicon: &Lexicon, under: Under<'_>) -> Vec<Mark> {
        let (words, clauses) = (words(text), clauses(text));
        let groups = under.groups.of_text(&words);
        let scene = Scene { text, words: &words, clauses: &clauses, lexicon, groups };
        let mut last_genus = under.genus.map(names::genus);
        let mut marks: Vec<Mark> = Vec::new();
        let mut at = 0;
        while at < words.len() {
            let (mark, next) = if let Some((mark, next)) = self.names.at(&scene, at, &mut last_genus) {
                (Some(mark), next)
            } else {
                term::at(&scene, at)
            };
            marks.extend(mark);
            at = next;
        }
        marks
    }
}

#[cfg(test)]
mod tests;
