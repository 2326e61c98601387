//! The index of a flora: words in, hits with the sentence that holds them out.

use std::path::Path;

use crate::model::{CoupletId, EntryId, Flora, KeyId, MatterId, Page, TaxonId};

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
    /// There is no index.
    #[error("no search index in {0}")]
    Missing(std::path::PathBuf),
}

/// Builds the index of a flora in a folder, in place of one that is there.
pub fn build(dir: &Path, flora: &Flora) -> Result<(), Error> {
    _ = flora;
    Err(Error::Missing(dir.to_owned()))
}

/// An index that is open.
#[derive(Debug)]
pub struct Index;

impl Index {
    /// Opens the index in a folder.
    pub fn open(dir: &Path) -> Result<Self, Error> {
        Err(Error::Missing(dir.to_owned()))
    }

    /// Builds an index in memory.
    pub fn in_memory(flora: &Flora) -> Result<Self, Error> {
        _ = flora;
        Ok(Self)
    }

    /// Returns the best hits for the words.
    pub fn find(&self, words: &str, most: usize) -> Result<Vec<Hit>, Error> {
        _ = (words, most);
        Ok(Vec::new())
    }
}
