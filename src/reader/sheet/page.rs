//! A page of the book as printed: its rows cell by cell, a sign before what was recognised, and where that leads.
//!
//! The rows are neither broken nor narrowed here; the window goes sideways over them.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::model::{BookPage, Page, ReadAs, Recognised, SetRow, Style, StyleRun, TaxonId, Text};
use crate::reader::grounds::{Grounds, OnPage, column};
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::sheet::{Block, Go, Kind, Printed, Sheet, Stop, matter};
use crate::reader::textflow::{byte_at, columns};

/// What stands before each row: room for the sign of its first column, and a blank.
const GUTTER: &str = "  ";
/// White space that parts the columns of a page; words of one column are never linked with those of the next.
const APART: &str = "   ";
/// The sign of a row in which what the row above began goes on.
const GOES_ON: char = ':';
/// The sign of the heading of a section, which gives way to any other.
const SECTION: char = 'S';
/// What the signs mean.
const LEGEND: &str =
    "Read as: T taxon · K key · L lead · G glossary · S section · M other matter · A aside · : goes on";

/// Puts one page together as printed.
pub(super) fn sheet(library: &Library, page: Page) -> Sheet {
    let mut sheet = matter::page_head(library, page);
    let Some(printed) = library.book.page(page).filter(|page| !page.set.is_empty()) else {
        sheet.faint(matter::NO_TEXT);
        return sheet;
    };
    let mut found = recognised(library, printed);
    let grounds = library.grounds_on(printed);
    for number in 0..printed.set.len() {
        let found = found.remove(&number).unwrap_or_default();
        push(&mut sheet, library, (printed, number), (found, &grounds));
    }
    sheet.grounds = Grounds::default();
    let width = sheet.blocks.iter().map(|block| columns(&block.text.plain)).max().unwrap_or(0);
    let edges = printed.columns.iter().map(|cell| *cell as usize).collect();
    sheet.printed = Some(Printed { columns: edges, width });
    if !printed.recognised.is_empty() {
        sheet.push(Kind::Set, Text::default());
        sheet.faint(LEGEND);
    }
    sheet
}

/// What was recognised in a row: signs by the cell that they stand in, and what can be marked.
#[derive(Default)]
struct Found {
    signs: BTreeMap<usize, char>,
    stops: Vec<(Range<usize>, Go, Option<TaxonId>)>,
}

/// Returns by row what was recognised on a page.
fn recognised(library: &Library, page: &BookPage) -> BTreeMap<usize, Found> {
    let mut rows: BTreeMap<usize, Found> = BTreeMap::new();
    let mut before: Option<&Recognised> = None;
    for mark in &page.recognised {
        let row = mark.row as usize;
        let range = mark.start as usize..mark.end as usize;
        let Some(words) = page.set.get(row).and_then(|row| row.plain.get(..range.end)) else { continue };
        let Some(start) = words.get(..range.start).map(columns) else { continue };
        let goes_on = before.is_some_and(|before| before.read_as == mark.read_as && before.row != mark.row);
        before = Some(mark);
        let cell = column(page, start);
        let found = rows.entry(row).or_default();
        let new = if goes_on { GOES_ON } else { sign(mark.read_as) };
        let sign = found.signs.entry(cell).or_insert(new);
        if *sign == SECTION {
            *sign = new;
        }
        if let Some(go) = go(library, mark.read_as).filter(|_| !goes_on) {
            let stop = stop_range(words, range, mark.read_as);
            let taxon = if let ReadAs::Heading(id) = mark.read_as { Some(id) } else { None };
            found.stops.push((stop.start + GUTTER.len()..stop.end + GUTTER.len(), go, taxon));
        }
    }
    rows
}

/// Returns the sign of what was recognised.
fn sign(read_as: ReadAs) -> char {
    match read_as {
        ReadAs::Heading(_) => 'T',
        ReadAs::KeyTitle(_) => 'K',
        ReadAs::Lead(..) => 'L',
        ReadAs::Glossary | ReadAs::Entry(_) => 'G',
        ReadAs::Section(..) => SECTION,
        ReadAs::MatterTitle(_) => 'M',
        ReadAs::Aside => 'A',
    }
}

/// Returns where something recognised leads.
fn go(library: &Library, read_as: ReadAs) -> Option<Go> {
    match read_as {
        ReadAs::Heading(id) => Some(Go::To(Item::Treatment(id))),
        ReadAs::KeyTitle(id) => library.key_start(id).map(Go::To),
        ReadAs::Lead(key, couplet, lead) => Some(Go::Paragraph(Item::Couplet(key, couplet), lead as usize)),
        ReadAs::Glossary => Some(Go::To(Item::Words(String::new()))),
        ReadAs::Entry(id) => {
            let entry = library.book.glossary().get(id.index())?;
            Some(Go::To(Item::Term(vec![entry.term.clone()])))
        }
        ReadAs::MatterTitle(id) => Some(Go::To(Item::Matter(id))),
        ReadAs::Section(..) | ReadAs::Aside => None,
    }
    .filter(|go| go.item().is_none_or(|item| library.has(item)))
}

/// Returns what of a recognised piece can be marked: of a lead its label alone, so that the terms in it can be too.
fn stop_range(words: &str, range: Range<usize>, read_as: ReadAs) -> Range<usize> {
    match read_as {
        ReadAs::Lead(..) => {
            let label = words[range.clone()].find(' ').unwrap_or(range.len());
            range.start..range.start + label
        }
        ReadAs::Heading(_)
        | ReadAs::KeyTitle(_)
        | ReadAs::Glossary
        | ReadAs::Entry(_)
        | ReadAs::Section(..)
        | ReadAs::MatterTitle(_)
        | ReadAs::Aside => range,
    }
}

/// Adds a row with its signs and with everything in it that leads somewhere.
fn push(
    sheet: &mut Sheet,
    library: &Library,
    (page, number): (&BookPage, usize),
    (found, grounds): (Found, &OnPage),
) {
    let text = signed(&page.set[number], &found.signs, page.page);
    let before = sheet.stops.len();
    for part in parts(&text.plain) {
        let cell = columns(&text.plain[..part.start]).saturating_sub(GUTTER.len());
        sheet.grounds = grounds.at(column(page, cell), number);
        sheet.link(library, &text, part);
    }
    let mut stops = sheet.stops.split_off(before);
    let covers = |word: &Stop| {
        found.stops.iter().any(|(range, ..)| range.start < word.range.end && word.range.start < range.end)
    };
    stops.retain(|word| !covers(word));
    let block = sheet.blocks.len();
    stops.extend(found.stops.iter().map(|(range, go, taxon)| Stop {
        block,
        range: range.clone(),
        go: go.clone(),
        organ: None,
        taxon: *taxon,
    }));
    stops.sort_by_key(|stop| stop.range.start);
    sheet.stops.append(&mut stops);
    sheet.blocks.push(Block { kind: Kind::Set, text, indent: 0, hang: 0 });
}

/// Returns a row behind its gutter, with the signs in the blanks before the columns.
fn signed(row: &SetRow, signs: &BTreeMap<usize, char>, page: Page) -> Text {
    let mut plain = format!("{GUTTER}{}", row.plain);
    let shifted = |run: &StyleRun| StyleRun { start: run.start + GUTTER.len() as u32, style: run.style };
    let mut text = Text { styles: row.styles.iter().map(shifted).collect(), ..Text::plain("", page) };
    for (cell, sign) in signs {
        // Beside a line that fills its column to the end the second blank is free.
        let free = [*cell, *cell + 1].map(|cell| byte_at(&plain, cell));
        if let Some(byte) = free.into_iter().find(|byte| plain[*byte..].starts_with(' ')) {
            plain.replace_range(byte..=byte, &sign.to_string());
            embolden(&mut text, byte as u32);
        }
    }
    text.plain = plain;
    text
}

/// Makes one byte bold.
fn embolden(text: &mut Text, byte: u32) {
    let after = text.style_at(byte as usize + 1);
    text.styles.retain(|run| run.start != byte && run.start != byte + 1);
    text.styles.push(StyleRun { start: byte, style: Style { bold: true, ..Style::default() } });
    text.styles.push(StyleRun { start: byte + 1, style: after });
    text.styles.sort_by_key(|run| run.start);
}

/// Returns the pieces of a row between the columns of the page.
fn parts(plain: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut start = 0;
    while start < plain.len() {
        let end = plain[start..].find(APART).map_or(plain.len(), |at| start + at);
        if end > start {
            parts.push(start..end);
        }
        start = end + plain[end..].len() - plain[end..].trim_start_matches(' ').len();
    }
    parts
}
