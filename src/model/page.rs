//! A page of the book: its text in reading order, and the same text set out as printed with what was recognised in it.

use serde::{Deserialize, Serialize};

use super::{CoupletId, EntryId, KeyId, MatterId, Page, StyleRun, TaxonId, Text};

/// One page of the book, for reading page by page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BookPage {
    /// Its position.
    pub page: Page,
    /// The printed folio, if one was found.
    pub folio: Option<String>,
    /// Its paragraphs in reading order; one that goes on from the page before begins in mid-sentence.
    pub paragraphs: Vec<Text>,
    /// The page as printed, row by row, running heads and folio included.
    pub set: Vec<SetRow>,
    /// The cells of the rows at which the printed columns begin, from left to right.
    pub columns: Vec<u32>,
    /// What was recognised in the rows, in reading order.
    pub recognised: Vec<Recognised>,
}

/// A row of a page as printed: cells of equal width, columns of the page side by side.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetRow {
    /// Its characters; empty where the page leaves white space.
    pub plain: String,
    /// Style runs in order of `start`; empty when all is roman.
    pub styles: Vec<StyleRun>,
}

/// A piece of a row and what it was read as.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Recognised {
    /// The row, counted from 0.
    pub row: u32,
    /// Its first byte in the row.
    pub start: u32,
    /// The byte behind its last one.
    pub end: u32,
    /// What it was read as.
    pub read_as: ReadAs,
}

/// What a piece of a page was read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum ReadAs {
    /// The heading of a taxon.
    Heading(TaxonId),
    /// The title of a key.
    KeyTitle(KeyId),
    /// A lead, counted from 0 in its couplet.
    Lead(KeyId, CoupletId, u32),
    /// The heading of the flora's own glossary.
    Glossary,
    /// The headword of an entry of that glossary.
    Entry(EntryId),
    /// The heading of a section of a treatment, counted from 0.
    Section(TaxonId, u32),
    /// The title of other matter.
    MatterTitle(MatterId),
    /// A caption, table or footnote that interrupts the text.
    Aside,
}
