//! What the list of floras shows of each: a small file beside the flora that stays readable over versions.
//!
//! It is JSON with every member optional, so that a flora of another version can still be named with its source.

use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::model::{Flora, Rank};
use crate::store::file::FORMAT;

/// The file's name in a flora's numbered folder.
pub(crate) const FILE: &str = "row.json";

/// A flora in the list of floras.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct ShelfRow {
    /// The name that it has on the shelf.
    pub name: String,
    /// The title.
    pub title: String,
    /// The licence statement that the book prints, if any.
    pub license: Option<String>,
    /// Number of pages.
    pub pages: u32,
    /// How much was recognised in it.
    pub counts: Counts,
    /// The day it was put on the shelf, as `2026-05-17`; empty where the day was not told.
    pub date: String,
    /// The files it was read from.
    pub sources: Vec<KeptSource>,
    /// The format of its file.
    pub format: u32,
    /// Whether it can be opened.
    #[serde(skip)]
    pub state: RowState,
}

/// Whether a flora can be opened by this version.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RowState {
    /// It can.
    #[default]
    Ready,
    /// It was made by another version and must be ingested again.
    OtherVersion,
    /// Its files are damaged.
    Damaged,
}

/// How much was recognised in a flora.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Counts {
    /// Taxa by rank, the highest first.
    pub taxa: Vec<(Rank, u32)>,
    /// Keys.
    pub keys: u32,
    /// Couplets of all keys.
    pub couplets: u32,
    /// Leads of all couplets.
    pub leads: u32,
    /// Entries of the flora's own glossary.
    pub entries: u32,
    /// Pieces of other matter.
    pub matter: u32,
    /// Doubts.
    pub doubts: u32,
}

/// A source file of a flora and where its bytes are.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct KeptSource {
    /// The file's name without its folders.
    pub file: String,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
    /// Number of pages.
    pub pages: u32,
    /// The copy on the shelf, or the place it was read from where no copy was kept.
    pub path: PathBuf,
}

impl Counts {
    /// Counts what a flora holds.
    pub fn of(flora: &Flora) -> Self {
        let mut taxa: Vec<(Rank, u32)> = Vec::new();
        for taxon in &flora.taxa {
            match taxa.binary_search_by_key(&taxon.rank, |(rank, _)| *rank) {
                Ok(at) => taxa[at].1 += 1,
                Err(at) => taxa.insert(at, (taxon.rank, 1)),
            }
        }
        let couplets = flora.keys.iter().flat_map(|key| &key.couplets);
        Self {
            taxa,
            keys: flora.keys.len() as u32,
            couplets: couplets.clone().count() as u32,
            leads: couplets.map(|couplet| couplet.leads.len() as u32).sum(),
            entries: flora.glossary.len() as u32,
            matter: flora.matter.len() as u32,
            doubts: flora.doubts.len() as u32,
        }
    }

    /// Returns the number of taxa of all ranks.
    pub fn all_taxa(&self) -> u32 {
        self.taxa.iter().map(|(_, count)| count).sum()
    }
}

impl ShelfRow {
    /// Reads the row of the flora `name` from its numbered folder; a file that can't be read gives a row that says so.
    pub(crate) fn read(name: &str, folder: &Path) -> Self {
        let text = fs::read_to_string(folder.join(FILE)).unwrap_or_default();
        let Ok(mut row) = serde_json::from_str::<Self>(&text) else {
            return Self { name: name.to_owned(), state: RowState::Damaged, ..Self::default() };
        };
        name.clone_into(&mut row.name);
        row.state = if row.format == FORMAT { RowState::Ready } else { RowState::OtherVersion };
        for source in &mut row.sources {
            source.path = folder.join(&source.path);
        }
        row
    }

    /// Returns where the bytes of the sources are.
    pub(crate) fn paths(&self) -> Vec<PathBuf> {
        self.sources.iter().map(|source| source.path.clone()).collect()
    }
}
