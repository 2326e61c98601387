//! What an answer to a question is: how it was understood, the taxa ranked with a verdict on each part, and counts.

use std::ops::Range;

use crate::describe::{Months, Part};
use crate::model::{CoupletId, KeyId, Page, Rank, TaxonId};
use crate::search::Hit;

/// What narrows the taxa of an answer.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Narrow {
    /// Only this rank; species and below where none is given.
    pub rank: Option<Rank>,
    /// Only members of each of the taxa of these names, and those.
    pub within: Vec<String>,
    /// Only what is in flower or fruit in one of these months, or says nothing of it.
    pub months: Option<Months>,
    /// Only what grows in this district, or says nothing of it.
    pub district: Option<String>,
    /// Only these and their members, such as the taxa still possible in a key.
    pub among: Option<std::collections::BTreeSet<TaxonId>>,
}

/// What the description of a taxon says to one part of a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Says {
    /// It agrees.
    Agrees,
    /// It agrees by exception.
    Rarely,
    /// It says nothing.
    Unstated,
    /// It contradicts.
    Contradicts,
}

impl Says {
    /// Returns the word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Agrees => "agrees",
            Self::Rarely => "agrees rarely",
            Self::Unstated => "unstated",
            Self::Contradicts => "contradicts",
        }
    }
}

/// The verdict on one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// What is said.
    pub says: Says,
    /// How surely, of 1.
    pub surely: f32,
    /// Where it is said.
    pub source: Option<Source>,
    /// Members that agree and members asked, for a taxon whose own treatment is silent.
    pub members: Option<(u32, u32)>,
}

/// Where a fact stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The taxon whose treatment says it: another than the one in question where it is inherited.
    pub taxon: TaxonId,
    /// The section, counted from 0.
    pub section: u32,
    /// The bytes of its text.
    pub range: Range<usize>,
}

/// A taxon of an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranked {
    /// The taxon.
    pub id: TaxonId,
    /// Its rank.
    pub rank: Rank,
    /// Its name.
    pub name: String,
    /// The page that its treatment begins on.
    pub page: Page,
    /// The other name by which it was found, and whether that is a synonym.
    pub through: Option<(String, bool)>,
    /// A verdict for each part of the question, in its order.
    pub verdicts: Vec<Verdict>,
    /// What a note on it says to a part, by the part's place: perhaps of another taxon, so it counts for nothing.
    pub compared: Vec<(usize, Says, Source)>,
    /// What it is ranked by.
    pub score: f32,
    /// A couplet where it keys out.
    pub keyed: Option<(KeyId, CoupletId)>,
}

/// How many of the taxa that nothing contradicts lie in a group.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    /// The group's name.
    pub name: String,
    /// The taxon, where the group is one.
    pub taxon: Option<TaxonId>,
    /// The count.
    pub taxa: u32,
}

/// A part of a question that narrows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Narrowed {
    /// The words as typed.
    pub words: String,
    /// What it is narrowed to; none where that is not known.
    pub means: Option<String>,
}

/// An answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// What was understood and what was not, part by part.
    pub parts: Vec<Part>,
    /// What the question is narrowed to by its own words.
    pub narrowed: Vec<Narrowed>,
    /// The taxa, the best first; only as many as were asked for.
    pub taxa: Vec<Ranked>,
    /// Taxa that were looked at.
    pub candidates: u32,
    /// Taxa of those that agree in something and contradict nothing.
    pub fitting: u32,
    /// Of those, how many each family has, the most first.
    pub families: Vec<Share>,
    /// The same by genus.
    pub genera: Vec<Share>,
    /// The same by rank; of families and genera those that have any.
    pub ranks: Vec<Share>,
    /// The same by district.
    pub districts: Vec<Share>,
    /// The same by month.
    pub months: Vec<Share>,
    /// Couplets, glossary entries and other matter that hold all the words.
    pub elsewhere: Vec<Hit>,
}
