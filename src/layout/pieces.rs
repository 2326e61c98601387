//! A page's glyphs come in; pieces of lines without wide gaps go out, with words parted and leaders told from text.
//!
//! Which pieces make a line is decided later, when the columns are known.

use unicode_normalization::{UnicodeNormalization, is_nfc};

use crate::layout::{Gap, Run, Style};
use crate::pdf::{Glyph, Page, Role, Span};

/// Gap in em at which a piece ends: wider than most word spaces, narrower than any gutter.
const PIECE_GAP: f32 = 0.9;
/// Gap in em that parts words, beyond the line's own letter-spacing (measured on justified lines by several typesetters).
const WORD_GAP: f32 = 0.10;
/// Letter-spacing in em that is taken for one; less is kerning.
const MIN_LETTER_SPACING: f32 = 0.06;
/// How far in em a glyph may start before the end of the last one and still follow it.
const MAX_OVERLAP: f32 = 0.5;
/// Dots in a row that are a leader; fewer are an ellipsis.
const MIN_LEADER: usize = 4;
/// White space in em between dots of a leader, or around a single one.
const DOTS_APART: f32 = 0.12;
/// Baselines within this many em are one.
const SAME_BASELINE: f32 = 0.12;
/// Share of the size of its neighbours below which a shifted glyph is raised or lowered.
const SMALL: f32 = 0.85;
/// Shift of the baseline in em up to which a small glyph belongs to its neighbour's line.
const MAX_SHIFT: f32 = 0.6;
/// Distance in em within which the same character twice is one, drawn twice to look bold.
const TWICE: f32 = 0.12;

/// A piece of a line.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Piece {
    /// Left edge.
    pub(super) x0: f32,
    /// Right edge.
    pub(super) x1: f32,
    /// Baseline from the top of the page.
    pub(super) y: f32,
    /// Size of most of its characters.
    pub(super) size: f32,
    /// Its runs; none for a leader.
    pub(super) runs: Vec<Run>,
    /// Whether the file marks it as furniture.
    pub(super) furniture: bool,
    /// Its widest word space, in points.
    pub(super) space: f32,
}

impl Piece {
    /// Tells whether the piece is a dot leader.
    pub(super) fn is_leader(&self) -> bool {
        self.runs.is_empty()
    }

    /// Tells whether the piece is nothing but dots, which may be part of a leader.
    pub(super) fn is_dots(&self) -> bool {
        self.runs
            .iter()
            .all(|run| run.text.chars().all(|character| is_leader_dot(character) || character == ' '))
    }

    /// Returns its words.
    pub(super) fn text(&self) -> String {
        let mut text = String::new();
        for run in &self.runs {
            if run.before != Gap::None && !text.is_empty() {
                text.push(' ');
            }
            text.push_str(&run.text);
        }
        text
    }
}

/// A glyph with what its span says.
#[derive(Clone, Copy)]
struct Mark {
    character: char,
    x0: f32,
    x1: f32,
    y: f32,
    size: f32,
    style: Style,
    /// Whether a space was printed before it.
    spaced: bool,
}

/// Finds the pieces of a page; text in another direction than most of the page is left out.
pub(super) fn find(page: &Page) -> Vec<Piece> {
    let turn = main_turn(page);
    let mut pieces = Vec::new();
    let mut marks: Vec<Mark> = Vec::new();
    let mut furniture = false;
    let mut spaced = false;
    for span in page.spans.iter().filter(|span| span.turn == turn) {
        let is_furniture = span.role == Role::Furniture;
        for glyph in &page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize] {
            if glyph.character == ' ' {
                spaced = true;
                continue;
            }
            let mark = mark(span, glyph, spaced);
            spaced = false;
            let follows = marks.last().is_some_and(|last| follows(last, &mark)) && furniture == is_furniture;
            if !follows {
                finish(&mut marks, furniture, &mut pieces);
            }
            furniture = is_furniture;
            add(&mut marks, mark);
        }
    }
    finish(&mut marks, furniture, &mut pieces);
    pieces
}

/// Returns the direction that most glyphs are written in.
pub(super) fn main_turn(page: &Page) -> u8 {
    let mut counts = [0_usize; 4];
    for span in &page.spans {
        counts[usize::from(span.turn & 3)] += span.glyphs.len();
    }
    (0..4).max_by_key(|&turn| (counts[usize::from(turn)], 3 - turn)).unwrap_or(0)
}

fn mark(span: &Span, glyph: &Glyph, spaced: bool) -> Mark {
    let style = Style {
        bold: span.face.bold,
        italic: span.face.italic,
        small_caps: span.face.small_caps,
        raised: false,
    };
    Mark {
        character: glyph.character,
        x0: glyph.x,
        x1: glyph.x + glyph.width,
        y: span.y,
        size: span.size,
        style,
        spaced,
    }
}

fn follows(last: &Mark, next: &Mark) -> bool {
    let em = last.size.max(next.size);
    let gap = next.x0 - last.x1;
    if gap > PIECE_GAP * em || gap < -MAX_OVERLAP * em && !is_twice(last, next) {
        return false;
    }
    let shift = (next.y - last.y).abs();
    let unlike = last.size.min(next.size) < SMALL * em;
    shift <= SAME_BASELINE * em || unlike && shift <= MAX_SHIFT * em
}

fn is_twice(last: &Mark, next: &Mark) -> bool {
    last.character == next.character
        && (last.x0 - next.x0).abs() < TWICE * next.size
        && (last.y - next.y).abs() < TWICE * next.size
}

fn add(marks: &mut Vec<Mark>, mark: Mark) {
    if let Some(last) = marks.last_mut()
        && is_twice(last, &mark)
        && !mark.spaced
        && mark.x1 - mark.x0 > TWICE * mark.size
    {
        last.style.bold = true;
        return;
    }
    marks.push(mark);
}

/// Ends a piece: parts it at leaders and makes runs of the rest.
fn finish(marks: &mut Vec<Mark>, furniture: bool, pieces: &mut Vec<Piece>) {
    let all = std::mem::take(marks);
    let mut start = 0;
    let mut at = 0;
    while at < all.len() {
        let length = leader_length(&all, at);
        if length == 0 {
            at += 1;
            continue;
        }
        push_text(&all[start..at], furniture, pieces);
        let (first, last) = (all[at], all[at + length - 1]);
        pieces.push(Piece {
            x0: first.x0,
            x1: last.x1,
            y: first.y,
            size: first.size,
            runs: Vec::new(),
            furniture,
            space: 0.0,
        });
        at += length;
        start = at;
    }
    push_text(&all[start..], furniture, pieces);
}

/// Returns how many dots make a leader that starts at `at`; none where there are too few.
///
/// A first dot that stands closer or farther than the others is a full stop before the leader. Dots set wide apart are
/// a leader even where only a few found room.
fn leader_length(marks: &[Mark], at: usize) -> usize {
    let run = &marks[at..];
    let dots = run.iter().take_while(|mark| is_leader_dot(mark.character)).count();
    if dots == 0 {
        return 0;
    }
    let apart = |one: &Mark, other: &Mark| other.x0 - one.x1 > DOTS_APART * other.size;
    if dots == 1 {
        let before = at.checked_sub(1).is_some_and(|before| apart(&marks[before], &run[0]));
        let after = run.get(1).is_none_or(|after| apart(&run[0], after));
        return usize::from(before && after);
    }
    let wide = apart(&run[dots - 2], &run[dots - 1]);
    let stop = at
        .checked_sub(1)
        .is_some_and(|before| !apart(&marks[before], &run[0]) && !is_leader_dot(marks[before].character));
    if wide && stop {
        return 0;
    }
    let printed: usize = run[..dots].iter().map(|mark| dots_in(mark.character)).sum();
    if printed < MIN_LEADER {
        return if wide && apart(&run[0], &run[1]) { dots } else { 0 };
    }
    if dots < MIN_LEADER {
        return dots;
    }
    let pitch = run[2].x0 - run[1].x0;
    let first = run[1].x0 - run[0].x0;
    let stop = (first - pitch).abs() > 0.15 * pitch.abs();
    if stop { 0 } else { dots }
}

fn is_leader_dot(character: char) -> bool {
    matches!(character, '.' | '·' | '․' | '…' | '_' | '‥')
}

/// Returns how many dots a sign prints.
fn dots_in(character: char) -> usize {
    match character {
        '…' => 3,
        '‥' => 2,
        _ => 1,
    }
}

fn push_text(marks: &[Mark], furniture: bool, pieces: &mut Vec<Piece>) {
    let (Some(first), Some(last)) = (marks.first(), marks.last()) else { return };
    let (size, y) = usual(marks);
    let spacing = letter_spacing(marks);
    let space = marks.windows(2).map(|pair| pair[1].x0 - pair[0].x1).fold(0.0, f32::max);
    let mut runs: Vec<Run> = Vec::new();
    for (index, mark) in marks.iter().enumerate() {
        let before = index.checked_sub(1).map(|index| &marks[index]);
        let gap = match before {
            None => Gap::None,
            Some(before) => gap(before, mark, spacing),
        };
        let raised = mark.size < SMALL * size && mark.y < y - SAME_BASELINE * size;
        let style = Style { raised, ..mark.style };
        match runs.last_mut() {
            Some(run) if run.style == style && (run.size - mark.size).abs() < 0.02 * mark.size => {
                if gap == Gap::Space {
                    run.text.push(' ');
                }
                run.text.push(mark.character);
                run.x1 = mark.x1;
            }
            _ => runs.push(Run {
                text: starting(mark.character, marks.len() - index),
                style,
                size: mark.size,
                x0: mark.x0,
                x1: mark.x1,
                before: gap,
            }),
        }
    }
    for run in &mut runs {
        tidy(&mut run.text);
    }
    runs.retain(|run| !run.text.is_empty());
    if !runs.is_empty() {
        pieces.push(Piece { x0: first.x0, x1: last.x1, y, size, runs, furniture, space });
    }
}

/// Returns a text of one character with room for so many, and some spaces.
fn starting(character: char, characters: usize) -> String {
    let mut text = String::with_capacity(characters + characters / 4 + 4);
    text.push(character);
    text
}

/// Returns size and baseline of most of the characters.
fn usual(marks: &[Mark]) -> (f32, f32) {
    let mut kinds: Vec<(f32, f32, usize)> = Vec::new();
    for mark in marks {
        match kinds
            .iter_mut()
            .find(|kind| (kind.0 - mark.size).abs() < 0.05 && (kind.1 - mark.y).abs() < 0.05)
        {
            Some(kind) => kind.2 += 1,
            None => kinds.push((mark.size, mark.y, 1)),
        }
    }
    kinds.iter().max_by_key(|kind| kind.2).map_or((0.0, 0.0), |kind| (kind.0, kind.1))
}

/// Returns the usual gap between letters in em, where it is wide enough to be meant.
fn letter_spacing(marks: &[Mark]) -> f32 {
    let mut gaps: Vec<f32> = marks
        .windows(2)
        .filter(|pair| pair.iter().all(|mark| mark.character.is_alphabetic()) && !pair[1].spaced)
        .map(|pair| (pair[1].x0 - pair[0].x1) / pair[1].size)
        .collect();
    if gaps.len() < 3 {
        return 0.0;
    }
    let middle = gaps.len() / 2;
    let (_, median, _) = gaps.select_nth_unstable_by(middle, f32::total_cmp);
    if *median > MIN_LETTER_SPACING { *median } else { 0.0 }
}

fn gap(before: &Mark, mark: &Mark, spacing: f32) -> Gap {
    let em = before.size.max(mark.size);
    if mark.spaced || (mark.x0 - before.x1) / em > WORD_GAP + spacing { Gap::Space } else { Gap::None }
}

/// Drops soft hyphens inside the text, and composes accents.
fn tidy(text: &mut String) {
    if text.contains('\u{ad}') {
        let last = text.trim_end().ends_with('\u{ad}');
        *text = text.replace('\u{ad}', "");
        if last {
            text.push('\u{ad}');
        }
    }
    if !is_nfc(text) {
        *text = text.nfc().collect();
    }
}
