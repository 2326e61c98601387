//! What descriptions say: clauses in, facts out, each with the bytes that say it. The same grammar reads what is asked.
//!
//! Which taxa of a flora agree with what is asked is found in `search`; here one fact is weighed against another.

mod adverb;
mod colour;
mod concept;
mod conflict;
mod count;
mod inherit;
mod item;
mod kin;
mod measure;
mod number;
mod parts;
mod place;
mod query;
mod read;
mod season;
mod span;
mod state;
mod token;
mod unit;
mod weigh;
mod wording;

#[cfg(test)]
mod negation_tests;
#[cfg(test)]
mod query_tests;
#[cfg(test)]
mod tests;

use std::ops::Range;

use serde::{Deserialize, Serialize};

pub use adverb::{Degree, Frequency};
pub(crate) use colour::is_colour;
pub use concept::Concepts;
pub use conflict::conflicts;
pub use inherit::{Standing, Stated, lineage, of_taxon, stated};
pub use kin::{Kin, Thesaurus};
pub use place::EVERY_DISTRICT;
pub use query::{Asked, Part, Reading, Words, asked};
pub use season::{Months, Phase, month_names};
pub use span::{Lies, Span};
pub use unit::{Dimension, millimetres};
pub use weigh::{Spoken, Wanted, Weight};
pub use wording::{clause_at, words_of};

/// Reads the facts of a text without a heading, as of a lead.
pub fn facts(text: &str, concepts: &Concepts<'_>) -> Vec<Fact> {
    read::facts(text, concepts, read::Ground::default())
}

/// One thing that a text says of a plant.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// The organ in the singular; none for what is said of the plant as a whole, or of nothing named.
    pub organ: Option<&'static str>,
    /// The organ that bears it, where it is named (the calyx of a lobe).
    pub of: Option<&'static str>,
    /// What is said of it.
    pub what: What,
    /// How strongly.
    pub degree: Degree,
    /// How often.
    pub frequency: Frequency,
    /// Whether it is said or denied.
    pub said: Said,
    /// The bytes of the text that say it.
    pub range: Range<usize>,
}

/// Whether something is said or denied.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Said {
    /// It is so.
    #[default]
    Is,
    /// It is not so.
    IsNot,
}

impl Said {
    /// Returns the opposite.
    #[must_use]
    pub fn denied(self) -> Self {
        match self {
            Self::Is => Self::IsNot,
            Self::IsNot => Self::Is,
        }
    }
}

/// What is said of an organ or of the plant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum What {
    /// A state, by the headword of the glossary or the word itself.
    State(String),
    /// That the organ is there.
    Presence,
    /// A measure in millimetres.
    Measure(Dimension, Span),
    /// A number of parts.
    Count(Span),
    /// How many times as long as another organ.
    Ratio(Span, Option<String>),
    /// Months.
    Season(Phase, Months),
    /// Metres above the sea.
    Elevation(Span),
    /// A district, with the words for it.
    District(String),
    /// A word on status or rarity, or the meaning of a sign.
    Status(String),
}
