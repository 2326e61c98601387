//! A book as it is set: lines in reading order, gathered into blocks, with running heads and folios taken away.
//!
//! Positions and styles stay with every line, since indents, gaps and type are what keys and headings are known by.
//! What a block *means* is not decided here.

mod asides;
mod blocks;
mod columns;
mod furniture;
mod geometry;
mod habits;
mod hyphens;
mod labels;
mod lines;
mod pieces;
mod scan;
mod set_out;

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::layout::columns::{Gutter, Region};
use crate::layout::geometry::Column;
use crate::layout::pieces::Piece;
use crate::pdf::{Area, Document, Page};

pub use furniture::Sheet;
pub use set_out::{SetRow, SetRun, set_out};

/// How a run is set, as far as it carries meaning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[expect(clippy::struct_excessive_bools, reason = "four independent properties of type")]
pub struct Style {
    /// Bold or semibold weight.
    pub bold: bool,
    /// Italic or oblique.
    pub italic: bool,
    /// Small capitals, by font or by size; the text then holds capitals.
    pub small_caps: bool,
    /// Superior figures and letters: smaller, with a raised baseline.
    pub raised: bool,
}

/// What stands between a run and the one before it on the line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Gap {
    /// Nothing: only the style changes (or the run is the line's first).
    #[default]
    None,
    /// A word space.
    Space,
    /// White space far wider than a word space (more than 1.5 em): a tab, or a target set flush right.
    Wide,
    /// Dot leaders or a rule that leads the eye; the dots themselves are in no run.
    Leader,
}

/// A piece of a line in one style and size, without wide gaps inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The words, NFC, single spaces inside, none at the ends.
    pub text: String,
    /// Its style.
    pub style: Style,
    /// Font size in points.
    pub size: f32,
    /// Left edge in points from the left of the page.
    pub x0: f32,
    /// Right edge in points from the left of the page.
    pub x1: f32,
    /// What stands before it.
    pub before: Gap,
}

/// How a line's end joins the next line of its block.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LineEnd {
    /// A space.
    #[default]
    Space,
    /// A word goes on: drop the hyphen at the end.
    Broken,
    /// A compound goes on: keep the hyphen and put no space.
    Compound,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Page, counted from 1.
    pub page: u32,
    /// Column on its page, counted from 0 from the left; 0 also for lines over the whole width.
    pub column: u8,
    /// Baseline in points from the top of the page.
    pub y: f32,
    /// Left edge of the first run.
    pub x0: f32,
    /// Right edge of the last run.
    pub x1: f32,
    /// Left edge measured from the left edge of its column's text, points.
    pub indent: f32,
    /// White space between the last run and the right edge of its column's text, points.
    pub room: f32,
    /// Font size of most of its characters.
    pub size: f32,
    /// Distance from the baseline above it in its column, in points; infinite for the first line of a column
    /// and for one right after an aside.
    pub above: f32,
    /// The runs from left to right; a line that ends in dot leaders ends with an empty run whose `before` is `Leader`.
    pub runs: Vec<Run>,
    /// How it joins the next line of its block; of no meaning for a block's last line.
    pub end: LineEnd,
}

/// Whether a block belongs to the running text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockKind {
    /// A paragraph, heading or lead of the running text.
    Flow,
    /// A caption, figure label, table or footnote that interrupts it.
    Aside,
}

/// Lines that belong together: a paragraph, a heading, a lead, also over columns and pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Running text or not.
    pub kind: BlockKind,
    /// Its lines in reading order.
    pub lines: Vec<Line>,
}

/// What was found out about a page besides its lines.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SetPage {
    /// The folio printed on it, if one was found.
    pub folio: Option<String>,
    /// The running heads taken away, as printed.
    pub heads: Vec<String>,
    /// The same heads and folios as lines that know their place.
    pub margins: Vec<Line>,
    /// Number of columns of most of its lines.
    pub columns: u8,
    /// Width and height in points, upright.
    pub size: (f32, f32),
    /// Why part of it could not be read, if so: one plain clause.
    pub lost: Option<String>,
}

/// A whole book as set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Setting {
    /// One entry a page.
    pub pages: Vec<SetPage>,
    /// All blocks in reading order.
    pub blocks: Vec<Block>,
    /// Size in points that most characters are set in.
    pub body_size: f32,
}

/// Sets a book: finds its lines, columns, running heads and blocks. `known` tells whether a word, in lower case, is one.
pub fn set(document: &Document, known: &dyn Fn(&str) -> bool) -> Setting {
    set_sheets(document.pages.par_iter().map(sheet).collect(), known)
}

/// Returns what a page gives to the setting of its book. The pages of a scan are kept whole, to be straightened together.
pub fn sheet(page: &Page) -> Sheet {
    if scan::is_scan(page) {
        return Sheet { scan: Some(Box::new(page.clone())), ..Sheet::default() };
    }
    gathered(page)
}

fn gathered(page: &Page) -> Sheet {
    let pieces = pieces::find(page);
    Sheet {
        sizes: sizes(&pieces),
        pieces,
        size: size(page),
        pictures: asides::pictures(page),
        is_picture: asides::is_scan(page),
        lost: page.lost.clone(),
        ..Sheet::default()
    }
}

/// Sets a book of which only the sheets were kept.
pub fn set_sheets(mut sheets: Vec<Sheet>, known: &dyn Fn(&str) -> bool) -> Setting {
    straighten(&mut sheets, known);
    let body_size = body_size(&sheets);
    furniture::take_away(&mut sheets);
    let gutters = columns::gutters(&sheets, body_size);
    let pages: Vec<SetPage> = sheets
        .iter_mut()
        .zip(&gutters)
        .enumerate()
        .map(|(index, (sheet, gutters))| set_page(index as u32 + 1, sheet, gutters))
        .collect();
    let pictures: Vec<(Vec<Area>, bool)> =
        sheets.iter_mut().map(|sheet| (std::mem::take(&mut sheet.pictures), sheet.is_picture)).collect();
    let mut columns: Vec<Column> = sheets
        .into_par_iter()
        .zip(&gutters)
        .enumerate()
        .flat_map_iter(|(index, (sheet, gutters))| lay_out(sheet, gutters, index as u32 + 1, body_size))
        .collect();
    geometry::measure(&mut columns);
    let asides = asides::find(&columns, &pictures, body_size);
    let mut lines = Vec::with_capacity(columns.iter().map(|column| column.lines.len()).sum());
    columns.into_iter().for_each(|column| lines.extend(column.lines));
    let mut blocks = blocks::gather(lines, &asides.concat());
    hyphens::settle(&mut blocks, known);
    Setting { pages, blocks, body_size }
}

/// Gathers the pages of a scan once they are straight.
fn straighten(sheets: &mut [Sheet], known: &dyn Fn(&str) -> bool) {
    if sheets.iter().all(|sheet| sheet.scan.is_none()) {
        return;
    }
    let scanned: Vec<bool> = sheets.iter().map(|sheet| sheet.scan.is_some()).collect();
    let pages: Vec<Page> =
        sheets.iter_mut().map(|sheet| sheet.scan.take().map_or_else(Page::default, |page| *page)).collect();
    let straight = scan::mend(&pages, known);
    sheets
        .par_iter_mut()
        .zip(straight.par_iter())
        .zip(scanned)
        .filter(|(_, scanned)| *scanned)
        .for_each(|((sheet, page), _)| *sheet = gathered(page));
}

/// Gives pages on which no folio was found the one that the file has for them; where most folios that were found are
/// others than the file's, the file's count for nothing.
pub fn fill_folios(pages: &mut [SetPage], labels: &[Option<String>]) {
    let both = pages.iter().zip(labels).filter_map(|(page, label)| page.folio.as_ref().zip(label.as_ref()));
    let same: Vec<bool> = both.map(|(folio, label)| folio.eq_ignore_ascii_case(label)).collect();
    if same.iter().filter(|same| **same).count() * 2 < same.len() {
        return;
    }
    for (page, label) in pages.iter_mut().zip(labels).filter(|(page, _)| page.folio.is_none()) {
        page.folio.clone_from(label);
    }
}

/// Returns the words of the lines: broken words joined, leaders and wide gaps as one space.
pub fn words(lines: &[Line]) -> String {
    let mut text = String::new();
    for (index, line) in lines.iter().enumerate() {
        for run in &line.runs {
            if run.before != Gap::None && !text.is_empty() && !text.ends_with(' ') {
                text.push(' ');
            }
            text.push_str(&run.text);
        }
        if index + 1 == lines.len() {
            break;
        }
        match line.end {
            LineEnd::Space if text.ends_with(' ') => {}
            LineEnd::Space => text.push(' '),
            LineEnd::Broken => {
                text.pop();
            }
            LineEnd::Compound => {}
        }
    }
    text.trim_end().trim_end_matches('\u{ad}').to_owned()
}

fn lay_out(sheet: Sheet, gutters: &[Gutter], page: u32, body: f32) -> Vec<Column> {
    let of = gutters.len() as u8 + 1;
    columns::regions(sheet.pieces, gutters, body)
        .into_iter()
        .map(|region| Column { number: region.column, of, lines: lines::build(region, page) })
        .collect()
}

fn set_page(number: u32, sheet: &mut Sheet, gutters: &[Gutter]) -> SetPage {
    let margins = Region { column: None, pieces: std::mem::take(&mut sheet.taken) };
    SetPage {
        folio: sheet.folio.take(),
        heads: std::mem::take(&mut sheet.heads),
        margins: lines::build(margins, number),
        columns: gutters.len() as u8 + 1,
        size: sheet.size,
        lost: sheet.lost.take(),
    }
}

/// Returns the page's size with most of its text upright.
fn size(page: &Page) -> (f32, f32) {
    let (width, height) = page.size;
    if pieces::main_turn(page) % 2 == 1 { (height, width) } else { (width, height) }
}

/// Counts the bytes in each size, in twentieths of a point; a page has few sizes.
fn sizes(pieces: &[Piece]) -> Vec<(i32, usize)> {
    let mut counts: Vec<(i32, usize)> = Vec::new();
    for run in pieces.iter().flat_map(|piece| &piece.runs) {
        let size = (run.size * 20.0).round() as i32;
        match counts.iter_mut().find(|count| count.0 == size) {
            Some(count) => count.1 += run.text.len(),
            None => counts.push((size, run.text.len())),
        }
    }
    counts
}

/// Returns the size that most characters are set in.
fn body_size(sheets: &[Sheet]) -> f32 {
    let mut counts: BTreeMap<i32, usize> = BTreeMap::new();
    for (size, count) in sheets.iter().flat_map(|sheet| &sheet.sizes) {
        *counts.entry(*size).or_default() += count;
    }
    counts.into_iter().max_by_key(|(_, count)| *count).map_or(10.0, |(size, _)| size as f32 / 20.0)
}

#[cfg(test)]
mod tests;
