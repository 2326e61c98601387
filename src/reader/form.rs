//! The small form in which a reader sets a lead or a heading right: what it is about, and rows to choose from by typing.
//!
//! What a chosen row does is `update`'s.

use crate::amend::{Amendment, HeadingAt, LeadAt};
use crate::name;

/// What taking a row does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Choice {
    /// Asks where the lead goes.
    Targets(LeadAt),
    /// Asks of which rank the heading is.
    Ranks(HeadingAt),
    /// Keeps the amendment.
    Keep(Amendment),
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// What it says.
    pub(crate) words: String,
    /// What it does.
    pub(crate) choice: Choice,
    /// What typed words are looked for in.
    folded: String,
}

impl Row {
    /// Makes a row.
    pub(crate) fn new(words: String, choice: Choice) -> Self {
        let folded = name::fold(&words);
        Self { words, choice, folded }
    }
}

/// What the form says and holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Form {
    /// The question, with the printed words that it is about.
    pub(crate) title: String,
    /// What was typed.
    pub(crate) typed: String,
    /// The row at hand, of those that are shown.
    pub(crate) at: usize,
    rows: Vec<Row>,
}

impl Form {
    /// Begins a form.
    pub(crate) fn new(title: String, rows: Vec<Row>) -> Self {
        Self { title, typed: String::new(), at: 0, rows }
    }

    /// Returns the first row in view of as many as there is room for.
    pub(crate) fn top(&self, room: usize) -> usize {
        (self.at + 1).saturating_sub(room)
    }

    /// Returns the rows in which every typed word stands.
    pub(crate) fn shown(&self) -> Vec<&Row> {
        let typed = name::fold(&self.typed);
        let words: Vec<&str> = typed.split(' ').filter(|word| !word.is_empty()).collect();
        self.rows.iter().filter(|row| words.iter().all(|word| row.folded.contains(word))).collect()
    }
}
