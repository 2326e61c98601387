//! A page's unseen spans come in; their words go out, row by row, each as wide as it is printed.
//!
//! Rows are those of the file: what stands side by side in columns is not put together here.

use crate::layout::pieces;
use crate::pdf::{Glyph, Page, Role};

/// Share of a glyph's width by which all glyphs of a word may differ and be of one width.
const SAME_WIDTH: f32 = 0.02;
/// White space in em at which a row ends.
const ROW_GAP: f32 = 4.0;
/// Baselines within this many em are one row.
const SAME_ROW: f32 = 0.3;
/// Gap in em at which a word ends also without a space.
const LETTER_GAP: f32 = 0.2;
/// How far in em a word may start before the end of the last one.
const OVERLAP: f32 = 0.5;

/// A word as recognised.
#[derive(Clone, Debug)]
pub(super) struct Word {
    /// Left edge.
    pub(super) x0: f32,
    /// Right edge.
    pub(super) x1: f32,
    /// Baseline.
    pub(super) y: f32,
    /// Size that the file gives it.
    pub(super) size: f32,
    /// Its characters.
    pub(super) text: String,
    /// Whether it is a dot leader read as letters.
    pub(super) dots: bool,
}

/// Words on one baseline.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Baseline.
    pub(super) y: f32,
    /// Size.
    pub(super) size: f32,
    /// Its words from left to right, at least one.
    pub(super) words: Vec<Word>,
}

impl Row {
    /// Returns its left edge.
    pub(super) fn x0(&self) -> f32 {
        self.words.first().map_or(0.0, |word| word.x0)
    }

    /// Returns its right edge.
    pub(super) fn x1(&self) -> f32 {
        self.words.last().map_or(0.0, |word| word.x1)
    }
}

/// A glyph with its baseline and size.
#[derive(Clone, Copy)]
struct Mark {
    glyph: Glyph,
    y: f32,
    size: f32,
}

/// Returns the rows of a page, in the order of the file.
pub(super) fn rows(page: &Page) -> Vec<Row> {
    let turn = pieces::main_turn(page);
    let spans = page.spans.iter().filter(|span| span.role == Role::Unseen && span.turn == turn);
    let marks: Vec<Mark> = spans
        .flat_map(|span| {
            let glyphs = &page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize];
            glyphs.iter().map(|&glyph| Mark { glyph, y: span.y, size: span.size })
        })
        .collect();
    let mut rows: Vec<Row> = Vec::new();
    for word in words(&marks) {
        match rows.last_mut() {
            Some(row) if follows(row, &word) => row.words.push(word),
            _ => rows.push(Row { y: word.y, size: word.size, words: vec![word] }),
        }
    }
    rows
}

fn follows(row: &Row, word: &Word) -> bool {
    let em = row.size.max(word.size);
    let gap = word.x0 - row.x1();
    let last = row.words.last().map_or(row.y, |last| last.y);
    (last - word.y).abs() <= SAME_ROW * em && gap >= -OVERLAP * em && gap <= ROW_GAP * em
}

/// Parts marks at spaces, and where the next one is no neighbour.
fn words(marks: &[Mark]) -> Vec<Word> {
    let mut found = Vec::new();
    let mut start = 0;
    while start < marks.len() {
        if marks[start].glyph.character == ' ' {
            start += 1;
            continue;
        }
        let joined = |pair: &&[Mark]| is_neighbour(&pair[0], &pair[1]);
        let length = 1 + marks[start..].windows(2).take_while(joined).count();
        let word = &marks[start..start + length];
        found.push(Word {
            x0: word[0].glyph.x,
            x1: right_edge(word, marks.get(start + length)),
            y: word[0].y,
            size: word[0].size,
            text: word.iter().map(|mark| mark.glyph.character).collect(),
            dots: false,
        });
        start += length;
    }
    found
}

fn is_neighbour(mark: &Mark, next: &Mark) -> bool {
    let gap = next.glyph.x - mark.glyph.x - mark.glyph.width;
    next.glyph.character != ' '
        && (mark.y - next.y).abs() <= SAME_ROW * mark.size
        && (-OVERLAP * mark.size..=LETTER_GAP * mark.size).contains(&gap)
}

/// Returns a word's right edge. Where a word's letters and the space after it are all of one width, the recogniser has
/// spread them together over the printed word.
fn right_edge(word: &[Mark], next: Option<&Mark>) -> f32 {
    let right = word.last().map_or(0.0, |last| last.glyph.x + last.glyph.width);
    let Some(space) = next.map(|next| next.glyph).filter(|next| next.character == ' ') else { return right };
    let alike = |width: f32| (width - space.width).abs() <= SAME_WIDTH * space.width;
    let spread = word.iter().all(|mark| alike(mark.glyph.width));
    if spread && (space.x - right).abs() <= SAME_WIDTH * space.width { right + space.width } else { right }
}
