//! The book page by page: as running text, and as printed with what was recognised in its lines.
//!
//! What a line was read as is found in `marks`; here lines become rows, and marks bytes of rows.

mod marks;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::ops::Range;

use crate::layout::{self, Block, Line, Setting};
use crate::model::{
    BookPage, Entry, Matter, Page, Recognised, SetRow, Style, StyleRun, Taxon, TaxonId, Text,
};

use super::compose;
use super::heading::Heading;
use super::key::read::RawKey;
use super::matter::Zone;
use marks::Mark;

/// What the book was read as.
pub(crate) struct Read<'a> {
    /// The blocks that the positions below count.
    pub(crate) blocks: &'a [Block],
    /// The stretches whose headings say what they are.
    pub(crate) zones: &'a [Zone],
    /// The keys.
    pub(crate) keys: &'a [RawKey],
    /// The headings of taxa.
    pub(crate) headings: &'a [Heading],
    /// The taxa of those headings, by block.
    pub(crate) heading_blocks: &'a [(usize, TaxonId)],
    /// Says at which blocks a treatment ends though no heading stands there.
    pub(crate) stops: &'a dyn Fn(usize) -> bool,
    /// The taxa.
    pub(crate) taxa: &'a [Taxon],
    /// The flora's own glossary.
    pub(crate) glossary: &'a [Entry],
    /// All other matter.
    pub(crate) matter: &'a [Matter],
}

/// Returns all pages of a book.
pub(crate) fn pages(setting: &Setting, read: &Read) -> Vec<BookPage> {
    let marks = marks::find(read);
    let mut texts = paragraphs(setting);
    let mut by_page: BTreeMap<usize, Vec<(&Line, &[Mark])>> = BTreeMap::new();
    let lines = read.blocks.iter().flat_map(|block| &block.lines);
    for (at, line) in lines.enumerate() {
        let marks = marks.get(&at).map_or(&[][..], Vec::as_slice);
        by_page.entry(line.page as usize).or_default().push((line, marks));
    }
    let page = |(at, set): (usize, &layout::SetPage)| {
        let lines = by_page.get(&(at + 1)).map_or(&[][..], Vec::as_slice);
        let mut page = set_out(set, lines);
        page.page = Page(at as u32 + 1);
        page.folio.clone_from(&set.folio);
        page.paragraphs = texts.remove(&(at + 1)).unwrap_or_default();
        page
    };
    setting.pages.iter().enumerate().map(page).collect()
}

/// Returns the paragraphs of each page: every block's lines on the page that they stand on.
fn paragraphs(setting: &Setting) -> BTreeMap<usize, Vec<Text>> {
    let mut texts: BTreeMap<usize, Vec<Text>> = BTreeMap::new();
    for block in &setting.blocks {
        for lines in block.lines.chunk_by(|one, other| one.page == other.page) {
            let text = compose::compose(lines).text;
            if !text.is_empty() {
                texts.entry(lines[0].page as usize).or_default().push(text);
            }
        }
    }
    texts
}

/// Sets the lines of a page out, with the marks that came with them.
fn set_out(page: &layout::SetPage, lines: &[(&Line, &[Mark])]) -> BookPage {
    let all: Vec<&Line> = lines.iter().map(|(line, _)| *line).chain(&page.margins).collect();
    let rows = layout::set_out(&all, page.size);
    let mut recognised = Vec::new();
    let places = places(&rows, all.len());
    for ((_, marks), (row, runs)) in lines.iter().zip(&places) {
        for mark in *marks {
            let bytes = rows.get(*row).and_then(|set| bytes(set, &set.runs[runs.clone()], &mark.letters));
            recognised.extend(bytes.map(|bytes| Recognised {
                row: *row as u32,
                start: bytes.start as u32,
                end: bytes.end as u32,
                read_as: mark.read_as,
            }));
        }
    }
    BookPage {
        page: Page(1),
        folio: None,
        paragraphs: Vec::new(),
        columns: columns(&rows, lines),
        set: rows.into_iter().map(row).collect(),
        recognised,
    }
}

/// Returns for each line the row that it stands in, and its runs there.
fn places(rows: &[layout::SetRow], lines: usize) -> Vec<(usize, Range<usize>)> {
    let mut places = vec![(0, 0..0); lines];
    for (number, row) in rows.iter().enumerate() {
        for (at, run) in row.runs.iter().enumerate() {
            let place = &mut places[run.line];
            let start = if place.1.is_empty() { at } else { place.1.start };
            *place = (number, start..at + 1);
        }
    }
    places
}

/// Returns the bytes of a row that letters of a line take, counted without blanks and leaders.
fn bytes(row: &layout::SetRow, runs: &[layout::SetRun], letters: &Range<usize>) -> Option<Range<usize>> {
    let all = runs.iter().flat_map(|run| {
        let words = row.text[run.range.clone()].char_indices();
        words.filter(|(_, letter)| !letter.is_whitespace()).map(move |(at, letter)| {
            let start = run.range.start + at;
            start..start + letter.len_utf8()
        })
    });
    let mut wanted = all.skip(letters.start).take(letters.end.saturating_sub(letters.start));
    let first = wanted.next()?;
    let end = wanted.last().map_or(first.end, |last| last.end);
    Some(first.start..end)
}

/// Returns the cells at which the columns of a page begin.
fn columns(rows: &[layout::SetRow], lines: &[(&Line, &[Mark])]) -> Vec<u32> {
    let mut edges: BTreeMap<u8, usize> = BTreeMap::new();
    for run in rows.iter().flat_map(|row| &row.runs) {
        if let Some((line, _)) = lines.get(run.line) {
            let edge = edges.entry(line.column).or_insert(run.cell);
            *edge = run.cell.min(*edge);
        }
    }
    let mut edges: Vec<u32> = edges.into_values().map(|cell| cell as u32).collect();
    edges.sort_unstable();
    edges.dedup();
    edges
}

fn row(row: layout::SetRow) -> SetRow {
    let mut styles: Vec<StyleRun> = Vec::new();
    for run in &row.runs {
        let layout::Style { bold, italic, small_caps, raised } = run.style;
        let style = Style { bold, italic, small_caps, raised };
        if styles.last().map_or(Style::default(), |last| last.style) != style {
            styles.push(StyleRun { start: run.range.start as u32, style });
        }
    }
    SetRow { plain: row.text, styles }
}
