//! One flora open for reading: contents at once, every item when it is first asked for.
//!
//! Items are decoded once and then lent. A damaged item is as if it were not there, and the damage is remembered.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use serde::de::DeserializeOwned;

use crate::model::{
    BookPage, Doubt, Entry, Flora, Key, KeyId, Matter, MatterId, Page, Source, Taxon, TaxonId,
};
use crate::store::contents::Contents;
use crate::store::error::Error;
use crate::store::file::{Fault, Head, Slot, Stored};

/// A flora that is open.
#[derive(Debug)]
pub struct Book {
    name: String,
    contents: Contents,
    sources: Vec<Source>,
    items: Items,
}

/// Where the items come from.
#[derive(Debug)]
enum Items {
    Memory(Box<Flora>),
    File(Box<Lazy>),
}

/// Items in a file, each decoded on first use.
#[derive(Debug)]
struct Lazy {
    stored: Stored,
    path: PathBuf,
    taxa: List<Taxon>,
    keys: List<Key>,
    matter: List<Matter>,
    pages: List<BookPage>,
    glossary: List<Vec<Entry>>,
    doubts: List<Vec<Doubt>>,
    damage: OnceLock<Error>,
}

/// A slot and what was found there, `None` for damage.
#[derive(Debug)]
struct Cell<T>(Slot, OnceLock<Option<Box<T>>>);

/// Items of one type.
type List<T> = Vec<Cell<T>>;

impl Book {
    /// Returns a flora that is held in memory as an open book.
    pub fn of(name: &str, flora: Flora) -> Self {
        Self {
            name: name.to_owned(),
            contents: Contents::of(&flora),
            sources: flora.sources.clone(),
            items: Items::Memory(Box::new(flora)),
        }
    }

    /// Opens the flora file at `path`.
    pub(crate) fn open(name: &str, path: &Path) -> Result<Self, Fault> {
        let (stored, head) = Stored::open(path)?;
        let Head { contents, sources, taxa, keys, matter, pages, glossary, doubts } = head;
        let lazy = Lazy {
            stored,
            path: path.to_owned(),
            taxa: list(taxa),
            keys: list(keys),
            matter: list(matter),
            pages: list(pages),
            glossary: list(vec![glossary]),
            doubts: list(vec![doubts]),
            damage: OnceLock::new(),
        };
        Ok(Self { name: name.to_owned(), contents, sources, items: Items::File(Box::new(lazy)) })
    }

    /// Returns the name that the flora has on the shelf.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Returns the table of contents.
    pub fn contents(&self) -> &Contents {
        &self.contents
    }

    /// Returns the files that the flora was read from.
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// Returns a taxon with its treatment.
    pub fn taxon(&self, id: TaxonId) -> Option<&Taxon> {
        match &self.items {
            Items::Memory(flora) => flora.taxa.get(id.index()),
            Items::File(lazy) => lazy.item(lazy.taxa.get(id.index())?),
        }
    }

    /// Returns a key with its couplets.
    pub fn key(&self, id: KeyId) -> Option<&Key> {
        match &self.items {
            Items::Memory(flora) => flora.keys.get(id.index()),
            Items::File(lazy) => lazy.item(lazy.keys.get(id.index())?),
        }
    }

    /// Returns a piece of other matter.
    pub fn matter(&self, id: MatterId) -> Option<&Matter> {
        match &self.items {
            Items::Memory(flora) => flora.matter.get(id.index()),
            Items::File(lazy) => lazy.item(lazy.matter.get(id.index())?),
        }
    }

    /// Returns a page as running text; the first page is 1.
    pub fn page(&self, page: Page) -> Option<&BookPage> {
        let at = (page.0 as usize).checked_sub(1)?;
        match &self.items {
            Items::Memory(flora) => flora.pages.get(at),
            Items::File(lazy) => lazy.item(lazy.pages.get(at)?),
        }
    }

    /// Returns the flora's own glossary.
    pub fn glossary(&self) -> &[Entry] {
        match &self.items {
            Items::Memory(flora) => &flora.glossary,
            Items::File(lazy) => {
                lazy.glossary.first().and_then(|cell| lazy.item(cell)).map_or(&[], Vec::as_slice)
            }
        }
    }

    /// Returns what is doubtful in the flora.
    pub fn doubts(&self) -> &[Doubt] {
        match &self.items {
            Items::Memory(flora) => &flora.doubts,
            Items::File(lazy) => {
                lazy.doubts.first().and_then(|cell| lazy.item(cell)).map_or(&[], Vec::as_slice)
            }
        }
    }

    /// Returns the first damage that was met while items were read.
    pub fn damage(&self) -> Option<&Error> {
        match &self.items {
            Items::Memory(_) => None,
            Items::File(lazy) => lazy.damage.get(),
        }
    }

    /// Returns the whole flora.
    pub fn whole(&self) -> Result<Flora, Error> {
        let lazy = match &self.items {
            Items::Memory(flora) => return Ok(Flora::clone(flora)),
            Items::File(lazy) => lazy,
        };
        Ok(Flora {
            title: self.contents.title.clone(),
            license: self.contents.license.clone(),
            sources: self.sources.clone(),
            taxa: lazy.all(&lazy.taxa)?,
            keys: lazy.all(&lazy.keys)?,
            glossary: lazy.all(&lazy.glossary)?.concat(),
            matter: lazy.all(&lazy.matter)?,
            legend: self.contents.legend.clone(),
            alternatives: self.contents.alternatives.clone(),
            pages: lazy.all(&lazy.pages)?,
            doubts: lazy.all(&lazy.doubts)?.concat(),
        })
    }
}

impl Lazy {
    /// Lends an item, decoding it the first time.
    fn item<'a, T: DeserializeOwned>(&'a self, cell: &'a Cell<T>) -> Option<&'a T> {
        let decode = || match self.stored.item(cell.0) {
            Ok(item) => Some(Box::new(item)),
            Err(fault) => {
                _ = self.damage.set(self.error(fault));
                None
            }
        };
        cell.1.get_or_init(decode).as_deref()
    }

    /// Decodes all items of a list anew, or says what is damaged.
    fn all<T: DeserializeOwned>(&self, cells: &[Cell<T>]) -> Result<Vec<T>, Error> {
        cells.iter().map(|cell| self.stored.item(cell.0).map_err(|fault| self.error(fault))).collect()
    }

    /// Returns the fault with the path that it was met at.
    fn error(&self, fault: Fault) -> Error {
        let path = self.path.clone();
        match fault {
            Fault::Io(source) => Error::Disk { doing: "read", path, source },
            Fault::OtherFormat => Error::Damaged { path, what: "its format changed while it was read" },
            Fault::Damaged(what) => Error::Damaged { path, what },
        }
    }
}

/// Returns cells that nothing was read from yet.
fn list<T>(slots: Vec<Slot>) -> List<T> {
    slots.into_iter().map(|slot| Cell(slot, OnceLock::new())).collect()
}
