//! What a book tells about how it was read, and where it errs itself (K37–K42): keys by their own structure, names and
//! pages by each other, the index and the list of contents as witnesses. Doubts out; nothing is mended here.

#[cfg(test)]
mod graphs;
mod names;
mod overlap;
mod pages;
mod structure;
mod witness;

use crate::layout::{Block, SetPage};
use crate::model::{Doubt, DoubtAbout, DoubtKind, Key, Page, Taxon};

use super::key::read::RawKey;
use super::matter::{Zone, ZoneKind};

/// All that is compared.
#[derive(Clone, Copy)]
pub(crate) struct Book<'a> {
    /// The keys as read.
    pub(crate) keys: &'a [Key],
    /// The same keys as printed.
    pub(crate) raw: &'a [RawKey],
    /// The treatments.
    pub(crate) taxa: &'a [Taxon],
    /// The pages with their folios.
    pub(crate) pages: &'a [SetPage],
    /// All blocks.
    pub(crate) blocks: &'a [Block],
    /// Stretches of matter.
    pub(crate) zones: &'a [Zone],
}

impl Book<'_> {
    /// Returns the folio printed on a page.
    fn folio(&self, page: Page) -> Option<&str> {
        self.pages.get((page.0 as usize).checked_sub(1)?)?.folio.as_deref()
    }
}

/// Returns what keys and names tell without the print that they were read from.
pub(crate) fn doubts_of_keys(keys: &[Key], taxa: &[Taxon]) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for key in keys {
        structure::doubts(key, None, &mut doubts);
    }
    names::names(keys, taxa, &mut doubts);
    doubts
}

/// Returns what is doubtful.
pub(crate) fn doubts(book: &Book<'_>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    let glossary = book.zones.iter().any(|zone| zone.kind == ZoneKind::Glossary);
    for (key, raw) in book.keys.iter().zip(book.raw) {
        structure::doubts(key, Some(raw), &mut doubts);
    }
    overlap::doubts(book.keys, &mut doubts);
    names::names(book.keys, book.taxa, &mut doubts);
    pages::doubts(book, &mut doubts);
    witness::doubts(book, &mut doubts);
    if book.keys.is_empty() && book.taxa.is_empty() && !glossary {
        doubts.push(Doubt {
            kind: DoubtKind::Other,
            page: Page(1),
            text: String::new(),
            advice:
                "no key and no treatment was found in this book; it can be read and searched page by page"
                    .to_owned(),
            about: DoubtAbout::Book,
        });
    }
    doubts
}
