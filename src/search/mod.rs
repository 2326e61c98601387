//! The index of a flora: a question in, taxa with what their descriptions say to it out; and words in, hits out.
//!
//! This is the only room that knows the search engine. What a description or a question says is read in `describe`.

mod alike;
mod answer;
mod ask;
mod document;
mod groups;
mod index;
mod names;
mod only;
mod postings;
mod question;
mod rank;
mod sentence;
mod table;
#[cfg(test)]
mod tests;
mod words;

use std::io;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use crate::model::{CoupletId, EntryId, KeyId, MatterId, Page, TaxonId};

pub use alike::Alike;
pub use answer::{Answer, Narrow, Narrowed, Ranked, Says, Share, Source, Verdict};
pub use index::{Index, build};
pub use only::{month_named, rank_named, rank_words};
pub use question::{echo, is_understood};
pub(crate) use sentence::sentences;

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Found {
    /// A taxon.
    Taxon(TaxonId),
    /// A couplet of a key.
    Couplet(KeyId, CoupletId),
    /// A paragraph of other matter, counted from 0.
    Matter(MatterId, u32),
    /// An entry of the flora's own glossary.
    Entry(EntryId),
}

/// One hit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// What was found.
    pub what: Found,
    /// Its name or title.
    pub title: String,
    /// The sentence that holds the words.
    pub snippet: String,
    /// The page that the sentence stands on.
    pub page: Page,
}

/// What can go wrong with an index.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// There is no index that this version can read; it must be built.
    #[error("there is no search index in {}", path.display())]
    Missing {
        /// The folder.
        path: PathBuf,
    },
    /// What the index stored of a document can't be read.
    #[error("the search index is damaged")]
    Damaged,
    /// The disk refused.
    #[error("can't write the search index {}: {source}", path.display())]
    Disk {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The search engine refused.
    #[error("the search index {} can't be used: {source}", path.display())]
    Engine {
        /// The folder.
        path: PathBuf,
        /// What the engine says.
        source: tantivy::TantivyError,
    },
}
