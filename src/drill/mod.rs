//! Terms to learn: what was looked up and answered in, which are due and how each is asked out. No file, clock or screen
//! is known here.
//!
//! Everything follows from the log, the day and a seed, so the same three always ask the same. A drill never hides a
//! definition elsewhere: what was learned is explained like any other term.

mod chance;
mod judge;
mod log;
mod question;
mod rivals;
mod spacing;
#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};

pub use chance::Draw;
pub use judge::{Judged, chosen, typed};
pub use log::{Log, Word};
pub use question::{CHOICES, Choice, Glossary, Kind, Question};
pub use spacing::{Memory, Quality};

/// Seconds of a day; days are counted from 1 January 1970.
pub const DAY: u64 = 24 * 60 * 60;

/// Terms asked in one sitting, unless the caller wants otherwise: a few minutes' work.
pub const A_FEW: usize = 5;

/// A term that was looked up, with the place where it stood.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct LookUp {
    /// Seconds since 1970.
    pub at: u64,
    /// The headword.
    pub term: String,
    /// The organ of the sense that fitted there.
    #[serde(default)]
    pub organ: Option<String>,
    /// The title of the flora whose own glossary explained it; none for the reader's or the built-in one.
    #[serde(default)]
    pub explained_by: Option<String>,
    /// The title of the flora that was read.
    #[serde(default)]
    pub flora: Option<String>,
    /// The couplet, treatment or page, in words.
    pub place: String,
    /// The words that it stood among.
    #[serde(default)]
    pub said: String,
    /// The plant that was being keyed out.
    #[serde(default)]
    pub plant: Option<String>,
}

impl LookUp {
    /// Returns where the term was met, in words: the place, its flora and the plant at hand.
    pub fn met(&self) -> String {
        let flora = self.flora.as_ref().map(|flora| format!(", {flora}"));
        let plant = self.plant.as_ref().map(|plant| format!(" (for {plant})"));
        format!("{}{}{}", self.place, flora.unwrap_or_default(), plant.unwrap_or_default())
    }
}

/// A question that was answered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// Seconds since 1970.
    pub at: u64,
    /// The headword.
    pub term: String,
    /// How it was asked.
    pub kind: Kind,
    /// How well it was known.
    pub quality: Quality,
}

/// One line of the log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Record {
    /// A term was looked up.
    LookedUp(LookUp),
    /// A question was answered.
    Answered(Answer),
}

impl Record {
    /// Returns the line, without its end.
    pub fn line(&self) -> String {
        serde_json::to_string(self).expect("a record has only strings, numbers and words")
    }
}
