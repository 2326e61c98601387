//! Terms: glossary entries of the flora, of the reader and of ligule itself, found by any of their word forms.
//!
//! Where a word of a running text leads is decided in `link`; here a word stands alone.

mod built_in;
mod file;
mod flora;
pub(crate) mod form;
mod layer;
mod lexicon;
pub(crate) mod near;
mod own;
mod plain;

use crate::model::{EntryId, Page};

pub(crate) use built_in::topic;
pub use lexicon::{Lexicon, Sources};
pub use own::{Broken, Own};

/// Where an entry comes from; the order of the variants is the order of trust.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// A flora's own glossary, with the flora's title.
    Flora(String),
    /// The reader's own entries.
    Reader,
    /// The glossary of another flora on the shelf, with that flora's title.
    Other(String),
    /// The glossary that ligule brings along.
    BuiltIn,
}

/// One meaning of a term, and the organs that it has this meaning of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sense {
    /// Organs in the singular (`leaf`); empty where the sense is bound to none.
    pub organs: Vec<String>,
    /// The definition.
    pub definition: String,
    /// Everyday words for it.
    pub plain: Vec<String>,
    /// Terms to be told apart from it.
    pub contrasts: Vec<String>,
    /// The wider term.
    pub broader: Option<String>,
    /// Where books differ.
    pub note: Option<String>,
}

/// One entry of one source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Term {
    /// The headword as its source spells it.
    pub name: String,
    /// Spellings, synonyms and irregular plurals that the entry lists; regular forms are found by rule.
    pub forms: Vec<String>,
    /// The headword that an entry without a definition of its own sends on to.
    pub see: Option<String>,
    /// The meanings, the commonest first.
    pub senses: Vec<Sense>,
    /// The source.
    pub origin: Origin,
    /// The page of a flora's own entry.
    pub page: Option<Page>,
    /// A flora's own entry.
    pub entry: Option<EntryId>,
}

impl Term {
    /// Returns the words that say where the entry comes from, for the line under a definition.
    pub fn source(&self) -> String {
        match (&self.origin, self.page) {
            (Origin::Flora(_), Some(page)) => format!("this flora, p. {page}"),
            (Origin::Flora(_), None) => "this flora".to_owned(),
            (Origin::Other(title), Some(page)) => format!("{title}, p. {page}"),
            (Origin::Other(title), None) => title.clone(),
            (Origin::Reader, _) => "your own glossary".to_owned(),
            (Origin::BuiltIn, _) => "ligule's glossary".to_owned(),
        }
    }
}

/// Why a glossary file can't be used.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// It is no TOML, or a member is unknown, missing or of the wrong type.
    #[error("{file}{}: {reason}", headword.as_ref().map_or_else(String::new, |word| format!(", entry `{word}`")))]
    Broken {
        /// The file.
        file: String,
        /// The entry that the fault stands in.
        headword: Option<String>,
        /// What is wrong.
        reason: String,
    },
    /// An entry needs senses, or to send on.
    #[error("{file}, entry `{headword}`: has neither a sense nor `see`, or both")]
    SenseOrSee {
        /// The file.
        file: String,
        /// The entry.
        headword: String,
    },
}

/// The position of a term in a lexicon; ids hold within one lexicon only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TermId(pub u32);

/// Returns the sense to show first: the first that applies to the organ, else the first of all.
///
/// There is none only for an entry that sends on to another.
pub fn gloss<'a>(term: &'a Term, organ: Option<&str>) -> Option<&'a Sense> {
    let applies = |sense: &&Sense| organ.is_some_and(|organ| sense.organs.iter().any(|own| own == organ));
    term.senses.iter().find(applies).or_else(|| term.senses.first())
}
