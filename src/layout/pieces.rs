//! A page's glyphs come in; pieces of lines without wide gaps go out, with words parted and leaders told from text.
//!
//! Which pieces make a line is decided later, when the columns are known.

use std::ops::Range;

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
/// Share of a blank's width that is left of it at most where it is taken back.
const TAKEN_BACK: f32 = 0.5;
/// Gap in em below which letters touch: half of what parts words.
const TOUCHING: f32 = 0.05;
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

/// A glyph as far as its neighbours need to know it.
#[derive(Clone, Copy)]
struct Mark {
    character: char,
    x0: f32,
    x1: f32,
    /// How it is set, as its place in [`Gathered::kinds`].
    kind: u32,
    /// Whether a space was printed before it.
    spaced: bool,
}

/// How glyphs are set: those of one span are alike.
#[derive(Clone, Copy, PartialEq)]
struct Kind {
    y: f32,
    size: f32,
    style: Style,
}

/// The marks of the piece at hand. It is emptied and used again, as a page has hundreds of pieces.
#[derive(Default)]
struct Gathered {
    marks: Vec<Mark>,
    kinds: Vec<Kind>,
    /// Room for the text of one run.
    text: String,
}

/// Finds the pieces of a page; text in another direction than most of the page is left out.
pub(super) fn find(page: &Page) -> Vec<Piece> {
    let turn = main_turn(page);
    let mut pieces = Vec::new();
    let mut gathered = Gathered::default();
    let mut furniture = false;
    let mut blank = None;
    for span in page.spans.iter().filter(|span| span.turn == turn) {
        let is_furniture = span.role == Role::Furniture;
        let mut kind = gathered.kind_of(kind(span));
        let mut glyphs = &page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize];
        while let Some((glyph, rest)) = glyphs.split_first() {
            glyphs = rest;
            if glyph.character == ' ' {
                blank.get_or_insert(*glyph);
                continue;
            }
            let Glyph { character, x, width } = *glyph;
            let spaced = blank.take().is_some_and(|blank| !gathered.is_taken_back(&blank, glyph, span.size));
            let mut mark = Mark { character, x0: x, x1: x + width, kind, spaced };
            if furniture != is_furniture || !gathered.is_followed_by(&mark) {
                gathered.finish(furniture, &mut pieces);
                kind = gathered.kind_of(self::kind(span));
                mark.kind = kind;
            }
            furniture = is_furniture;
            gathered.add(mark);
            glyphs = &glyphs[gathered.go_on(glyphs, kind)..];
        }
    }
    gathered.finish(furniture, &mut pieces);
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

fn kind(span: &Span) -> Kind {
    let style = Style {
        bold: span.face.bold,
        italic: span.face.italic,
        small_caps: span.face.small_caps,
        raised: false,
    };
    Kind { y: span.y, size: span.size, style }
}

impl Gathered {
    /// Returns the place of a kind, added where it is not that of the last marks.
    fn kind_of(&mut self, kind: Kind) -> u32 {
        if self.kinds.last() != Some(&kind) {
            self.kinds.push(kind);
        }
        self.kinds.len() as u32 - 1
    }

    fn kind(&self, mark: &Mark) -> &Kind {
        &self.kinds[mark.kind as usize]
    }

    /// Tells whether a mark goes on with the piece.
    fn is_followed_by(&self, next: &Mark) -> bool {
        let Some(last) = self.marks.last() else { return false };
        let (before, after) = (self.kind(last), self.kind(next));
        let em = before.size.max(after.size);
        let gap = next.x0 - last.x1;
        if gap > PIECE_GAP * em || gap < -MAX_OVERLAP * em && !self.is_twice(last, next) {
            return false;
        }
        let shift = (after.y - before.y).abs();
        let unlike = before.size.min(after.size) < SMALL * em;
        shift <= SAME_BASELINE * em || unlike && shift <= MAX_SHIFT * em
    }

    /// Adds the first of the glyphs as long as they do what nearly all do: go on with the last one of their own span, close
    /// behind it and as another letter. Returns how many.
    fn go_on(&mut self, glyphs: &[Glyph], kind: u32) -> usize {
        let Some(last) = self.marks.last().filter(|last| last.kind == kind) else { return 0 };
        let (mut character, mut x1) = (last.character, last.x1);
        let size = self.kind(last).size;
        let (back, far) = (-MAX_OVERLAP * size, PIECE_GAP * size);
        let before = self.marks.len();
        for glyph in glyphs {
            let gap = glyph.x - x1;
            if glyph.character == ' ' || glyph.character == character || gap > far || gap < back {
                break;
            }
            (character, x1) = (glyph.character, glyph.x + glyph.width);
            self.marks.push(Mark { character, x0: glyph.x, x1, kind, spaced: false });
        }
        self.marks.len() - before
    }

    /// Tells whether a blank before a glyph is taken back, so that the glyph touches the last mark: some files have blanks
    /// in the place of soft hyphens within a line, or move glyphs by them. Behind a stop it parts words even so.
    fn is_taken_back(&self, blank: &Glyph, next: &Glyph, em: f32) -> bool {
        next.x - blank.x < TAKEN_BACK * blank.width
            && self.marks.last().is_some_and(|last| {
                next.x - last.x1 < TOUCHING * em
                    && !matches!(last.character, '.' | ',' | ';' | ':' | ')' | ']')
            })
    }

    fn is_twice(&self, last: &Mark, next: &Mark) -> bool {
        last.character == next.character
            && (last.x0 - next.x0).abs() < TWICE * self.kind(next).size
            && (self.kind(last).y - self.kind(next).y).abs() < TWICE * self.kind(next).size
    }

    fn add(&mut self, mark: Mark) {
        if let Some(last) = self.marks.last()
            && self.is_twice(last, &mark)
            && !mark.spaced
            && mark.x1 - mark.x0 > TWICE * self.kind(&mark).size
        {
            let mut bold = *self.kind(last);
            bold.style.bold = true;
            let index = self.marks.len() - 1;
            // Kept before the kind of the span at hand, which the next marks have.
            let place = self.kinds.iter().position(|kind| *kind == bold).unwrap_or(self.kinds.len());
            if place == self.kinds.len() {
                self.kinds.push(bold);
            }
            self.marks[index].kind = place as u32;
            return;
        }
        self.marks.push(mark);
    }

    /// Ends a piece: parts it at leaders and makes runs of the rest.
    fn finish(&mut self, furniture: bool, pieces: &mut Vec<Piece>) {
        let mut start = 0;
        let mut at = 0;
        while let Some(dot) = self.marks[at..].iter().position(|mark| is_leader_dot(mark.character)) {
            at += dot;
            let length = self.leader_length(at);
            if length == 0 {
                at += 1;
                continue;
            }
            self.push_text(start..at, furniture, pieces);
            let (first, last) = (self.marks[at], self.marks[at + length - 1]);
            let Kind { y, size, .. } = *self.kind(&first);
            let (runs, space) = (Vec::new(), 0.0);
            pieces.push(Piece { x0: first.x0, x1: last.x1, y, size, runs, furniture, space });
            at += length;
            start = at;
        }
        self.push_text(start..self.marks.len(), furniture, pieces);
        self.marks.clear();
        self.kinds.clear();
    }

    /// Returns how many dots make a leader that starts at `at`; none where there are too few.
    ///
    /// A first dot that stands closer or farther than the others is a full stop before the leader. Dots set wide apart are
    /// a leader even where only a few found room.
    fn leader_length(&self, at: usize) -> usize {
        let run = &self.marks[at..];
        let dots = run.iter().take_while(|mark| is_leader_dot(mark.character)).count();
        if dots == 0 {
            return 0;
        }
        let apart = |one: &Mark, other: &Mark| other.x0 - one.x1 > DOTS_APART * self.kind(other).size;
        let before = at.checked_sub(1).map(|before| &self.marks[before]);
        if dots == 1 {
            let after = run.get(1).is_none_or(|after| apart(&run[0], after));
            let alone = after && before.is_some_and(|before| apart(before, &run[0]));
            // Letters set apart have their full stops apart as well.
            return usize::from(alone && self.letter_spacing(&self.marks) < DOTS_APART);
        }
        let wide = apart(&run[dots - 2], &run[dots - 1]);
        let stop = before.is_some_and(|before| !apart(before, &run[0]) && !is_leader_dot(before.character));
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

    fn push_text(&mut self, range: Range<usize>, furniture: bool, pieces: &mut Vec<Piece>) {
        let marks = &self.marks[range];
        let (Some(first), Some(last)) = (marks.first(), marks.last()) else { return };
        let (size, y) = self.usual(marks);
        let word_gap = WORD_GAP + self.letter_spacing(marks);
        let mut space: f32 = 0.0;
        let mut runs: Vec<Run> = Vec::with_capacity(1);
        let mut text = std::mem::take(&mut self.text);
        let mut before: Option<&Mark> = None;
        for alike in marks.chunk_by(|one, other| one.kind == other.kind) {
            let kind = self.kind(&alike[0]);
            let raised = kind.size < SMALL * size && kind.y < y - SAME_BASELINE * size;
            let style = Style { raised, ..kind.style };
            let em = before.map_or(kind.size, |before| self.kind(before).size.max(kind.size));
            let gap = before.map_or(Gap::None, |before| gap(before, &alike[0], em, word_gap));
            match runs.last_mut() {
                Some(run) if run.style == style && (run.size - kind.size).abs() < 0.02 * kind.size => {
                    if gap == Gap::Space {
                        text.push(' ');
                    }
                }
                _ => {
                    end_run(&mut runs, &mut text);
                    let (x0, x1) = (alike[0].x0, alike[0].x1);
                    runs.push(Run { text: String::new(), style, size: kind.size, x0, x1, before: gap });
                }
            }
            space = before.map_or(space, |before| space.max(alike[0].x0 - before.x1));
            text.push(alike[0].character);
            let mut last = &alike[0];
            for mark in &alike[1..] {
                let white = mark.x0 - last.x1;
                space = if white > space { white } else { space };
                if self::gap(last, mark, kind.size, word_gap) == Gap::Space {
                    text.push(' ');
                }
                text.push(mark.character);
                last = mark;
            }
            before = Some(last);
            if let Some(run) = runs.last_mut() {
                run.x1 = last.x1;
            }
        }
        end_run(&mut runs, &mut text);
        runs.retain(|run| !run.text.is_empty());
        if !runs.is_empty() {
            pieces.push(Piece { x0: first.x0, x1: last.x1, y, size, runs, furniture, space });
        }
        self.text = text;
    }

    /// Returns size and baseline of most of the characters.
    fn usual(&self, marks: &[Mark]) -> (f32, f32) {
        if let [kind] = self.kinds[..] {
            return (kind.size, kind.y);
        }
        let mut counts: Vec<(f32, f32, usize)> = Vec::with_capacity(4);
        for alike in marks.chunk_by(|one, other| one.kind == other.kind) {
            let Kind { y, size, .. } = *self.kind(&alike[0]);
            match counts.iter_mut().find(|count| (count.0 - size).abs() < 0.05 && (count.1 - y).abs() < 0.05)
            {
                Some(count) => count.2 += alike.len(),
                None => counts.push((size, y, alike.len())),
            }
        }
        counts.iter().max_by_key(|count| count.2).map_or((0.0, 0.0), |count| (count.0, count.1))
    }

    /// Returns the usual gap between letters in em, where it is wide enough to be meant.
    fn letter_spacing(&self, marks: &[Mark]) -> f32 {
        // Hardly any line has letters set apart, and the rest need no median.
        let is_wide = |gap: f32| usize::from(gap > MIN_LETTER_SPACING);
        let (all, wide) =
            self.letter_gaps(marks).fold((0, 0), |(all, wide), gap| (all + 1, wide + is_wide(gap)));
        let middle = all / 2;
        if all < 3 || wide < all - middle {
            return 0.0;
        }
        let mut gaps: Vec<f32> = self.letter_gaps(marks).collect();
        *gaps.select_nth_unstable_by(middle, f32::total_cmp).1
    }

    /// Returns the gaps in em between letters that follow each other without a space.
    fn letter_gaps<'m>(&'m self, marks: &'m [Mark]) -> impl Iterator<Item = f32> + 'm {
        let mut letter: Option<&Mark> = None;
        marks.iter().filter_map(move |mark| {
            let is_letter = mark.character.is_alphabetic();
            let last = std::mem::replace(&mut letter, is_letter.then_some(mark));
            let last = last.filter(|_| is_letter && !mark.spaced)?;
            Some((mark.x0 - last.x1) / self.kind(mark).size)
        })
    }
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

fn gap(before: &Mark, mark: &Mark, em: f32, word_gap: f32) -> Gap {
    if mark.spaced || (mark.x0 - before.x1) / em > word_gap { Gap::Space } else { Gap::None }
}

/// Gives the last run its text and empties it.
fn end_run(runs: &mut [Run], text: &mut String) {
    if let Some(run) = runs.last_mut() {
        tidy(text);
        run.text.push_str(text);
        text.clear();
    }
}

/// Drops soft hyphens inside the text, and composes accents.
fn tidy(text: &mut String) {
    if text.is_ascii() {
        return;
    }
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
