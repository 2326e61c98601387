//! A text cut into clauses, each with the organ that its characters belong to. What is said of the organ is not read here.

use std::ops::Range;

/// A part of a text between semicolons or full stops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clause {
    /// Its bytes in the text, without blanks around and without the stop.
    pub range: Range<usize>,
    /// The organ in the singular (`leaf`): the first that is named, else that of the clause before.
    pub organ: Option<String>,
}

/// Cuts a text into its clauses, in order.
pub fn clauses(text: &str) -> Vec<Clause> {
    vec![Clause { range: 0..text.len(), organ: None }]
}
