//! The rows of all leaves come in; in them the words are marked that are dot leaders read as letters.
//!
//! Such words are far wider or narrower than their letters are, are no words that the book uses, and stand before a target
//! set flush right. A word that is merely rare stays.

use std::collections::HashMap;

use crate::layout::scan::Leaf;
use crate::layout::scan::face::Face;
use crate::layout::scan::words::{Row, Word};

/// Distance of dots in em.
pub(super) const PITCH: f32 = 0.5;
/// Ratios of the size that a word's width tells of to that of its row, within which it can be read rightly.
const SANE: std::ops::RangeInclusive<f32> = 0.8..=1.25;
/// The same for two letters, whose edges are less sure.
const SANE_SHORT: std::ops::RangeInclusive<f32> = 0.6..=1.6;
/// The same for a word that is used elsewhere.
const SANE_USED: std::ops::RangeInclusive<f32> = 0.5..=1.9;
/// Times that the book has a word from which it is one of its words.
const MIN_COUNT: u32 = 3;
/// Narrowest leader in em.
const MIN_WIDTH: f32 = 1.0;
/// Words of a target at most.
const MAX_TARGET: usize = 6;
/// Distance in em from the right edge of the rows around within which a row ends flush with them.
const FLUSH: f32 = 0.6;
/// Rows before and after that are asked for their right edge.
const REACH: usize = 12;
/// Dots in a row within a word that make it a leader.
const DOTS: &str = "...";

/// How a word looks when it is asked whether it can be a leader.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// No face has it so wide or so narrow; or it is mostly dots.
    Insane,
    /// Too wide or narrow for the word that it is, or used neither elsewhere in the book nor by anyone else.
    Strange,
    /// A word.
    Plain,
}

/// What is asked about words.
struct Judge<'a> {
    face: &'a Face,
    /// How often the book has each word.
    counts: HashMap<String, u32>,
    /// Whether a word, in lower case, is one.
    known: &'a dyn Fn(&str) -> bool,
}

impl Judge<'_> {
    fn kind(&self, word: &Word, size: f32) -> Kind {
        let letters = bare(word);
        let ratio = self.face.size(word) / size;
        let sane = match letters.chars().count() {
            0 | 1 => true,
            2 => SANE_SHORT.contains(&ratio),
            _ => SANE.contains(&ratio),
        };
        let used = !letters.chars().any(char::is_alphabetic)
            || self.counts.get(&letters).copied().unwrap_or(0) >= MIN_COUNT
            || (self.known)(&letters);
        match (sane, used) {
            _ if is_dots(&word.text) => Kind::Insane,
            (true, true) => Kind::Plain,
            (false, true) if SANE_USED.contains(&ratio) => Kind::Strange,
            (true, false) => Kind::Strange,
            (false, _) => Kind::Insane,
        }
    }
}

/// Marks the words that are dot leaders; `known` tells whether a word, in lower case, is one.
pub(super) fn find(leaves: &mut [Leaf], face: &Face, known: &dyn Fn(&str) -> bool) {
    let judge = Judge { face, counts: counts(leaves, face), known };
    for leaf in leaves {
        for at in 0..leaf.rows.len() {
            let row = &leaf.rows[at];
            let kinds: Vec<Kind> = row.words.iter().map(|word| judge.kind(word, row.size)).collect();
            if let Some(leader) = leader(row, &kinds)
                && ends_flush(&leaf.rows, at)
            {
                for word in &mut leaf.rows[at].words[leader] {
                    word.dots = true;
                }
            }
        }
    }
}

/// Counts the words of a sane width.
fn counts(leaves: &[Leaf], face: &Face) -> HashMap<String, u32> {
    let mut counts = HashMap::new();
    for row in leaves.iter().flat_map(|leaf| &leaf.rows) {
        for word in row.words.iter().filter(|word| SANE.contains(&(face.size(word) / row.size))) {
            *counts.entry(bare(word)).or_default() += 1;
        }
    }
    counts
}

/// Returns a word's letters and figures in lower case.
fn bare(word: &Word) -> String {
    word.text.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase()
}

/// Tells whether a word is dots, or has a row of them in it.
fn is_dots(text: &str) -> bool {
    text.contains(DOTS) || text.contains('.') && text.chars().all(|c| matches!(c, '.' | '·' | '-'))
}

/// Returns the words of a row that are a leader before a target.
fn leader(row: &Row, kinds: &[Kind]) -> Option<std::ops::Range<usize>> {
    let last = kinds.iter().rposition(|kind| *kind == Kind::Insane)?;
    let inside = |at: usize| match kinds[at] {
        Kind::Insane => true,
        Kind::Strange => !ends_clause(&row.words[at]),
        Kind::Plain => bare(&row.words[at]).chars().count() <= 2 && !ends_clause(&row.words[at]),
    };
    let start = (0..last).rev().take_while(|at| inside(*at)).last().unwrap_or(last);
    let small = |at: &usize| {
        let word = &row.words[*at].text;
        kinds[*at] == Kind::Strange && word.starts_with(char::is_lowercase) && !word.ends_with('.')
    };
    let end = last + 1 + (last + 1..row.words.len()).take_while(small).count();
    let target = row.words.get(end)?;
    let wide = row.words[end - 1].x1 - row.words[start].x0 >= MIN_WIDTH * row.size;
    let first = start == 0 || ends_clause(&row.words[start - 1]);
    let named = target.text.starts_with(|c: char| c.is_uppercase() || c.is_numeric());
    (wide && first && named && row.words.len() - end <= MAX_TARGET).then_some(start..end)
}

fn ends_clause(word: &Word) -> bool {
    word.text.ends_with(['.', ',', ';', ':', ')', ']'])
}

/// Tells whether a row ends where the rows of its column end.
fn ends_flush(rows: &[Row], at: usize) -> bool {
    let row = &rows[at];
    let near = &rows[at.saturating_sub(REACH)..(at + REACH).min(rows.len())];
    let right = near
        .iter()
        .filter(|other| other.x0() < row.x1() && other.x1() > row.x0())
        .map(Row::x1)
        .fold(f32::NEG_INFINITY, f32::max);
    right - row.x1() <= FLUSH * row.size
}
