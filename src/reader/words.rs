//! All words that are known beside a book: its own glossary, the reader's file, other floras of the shelf, the built-in one.
//!
//! What can't be read costs nothing but itself and is said in words.

use crate::model::Entry;
use crate::store::{Book, RowState, Shelf, words};
use crate::terms::{Lexicon, Own, Sources};

/// Returns every entry in the order of trust, and what is wrong in the reader's own file, a line each.
pub fn lexicon(shelf: Option<&Shelf>, book: Option<&Book>) -> (Lexicon, Vec<String>) {
    let mut wrong = Vec::new();
    let own = shelf.and_then(|shelf| own(shelf, &mut wrong));
    let others = shelf.map(|shelf| others(shelf, book)).unwrap_or_default();
    let flora = book.map(|book| (book.contents().title.as_str(), book.glossary()));
    (Lexicon::of_sources(&Sources { flora, own: own.as_ref(), others: &others }), wrong)
}

/// Reads the reader's own entries.
fn own(shelf: &Shelf, wrong: &mut Vec<String>) -> Option<Own> {
    let file = words::path(shelf.root());
    match words::text(shelf.root()) {
        Ok(text) => {
            let own = Own::read(&text?);
            let told = own.broken.iter().map(|fault| {
                format!("{}, line {}: {}; this entry is left out", file.display(), fault.line, fault.reason)
            });
            wrong.extend(told);
            Some(own)
        }
        Err(error) => {
            wrong.push(error.to_string());
            None
        }
    }
}

/// Returns title and entries of the other floras on the shelf that have a glossary, by the name of the flora.
fn others(shelf: &Shelf, book: Option<&Book>) -> Vec<(String, Vec<Entry>)> {
    let here = book.map(Book::name);
    let rows = shelf.rows().unwrap_or_default();
    let worded = rows.into_iter().filter(|row| {
        row.state == RowState::Ready && row.counts.entries > 0 && Some(row.name.as_str()) != here
    });
    let entries = |name: &str| Some(shelf.open(name).ok()?.glossary().to_vec());
    worded.filter_map(|row| Some((row.title.clone(), entries(&row.name)?))).collect()
}
