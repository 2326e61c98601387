//! Glossary entries as a flora prints them.

use serde::{Deserialize, Serialize};

use super::{EntryId, Text};

/// One entry of a flora's own glossary.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// Its place in the flora's list.
    pub id: EntryId,
    /// The headword as printed, without the comma or dash after it.
    pub term: String,
    /// Other headwords of the same entry: variants and printed plurals.
    pub variants: Vec<String>,
    /// The definition; for an entry that only sends on, the words printed (`see corona`).
    pub definition: Text,
    /// The headword that it sends on to, where it only sends on.
    pub see: Option<String>,
}
