//! Blocks in, statements out: lines that may be one lead each, cut before their labels or depths are understood.
//!
//! Layouts that find rivals otherwise than by a shared label (serial, lettered jump, unlabelled, coded) begin here.
//! Which statements are rivals is not decided here.

use std::collections::BTreeSet;

use crate::layout::{Block, BlockKind, Gap, Line};
use crate::parse::compose::{Composed, compose, is_set_right};

use super::label::Label;
use super::read::{RawCouplet, RawKey, RawLead, characters, names_something};
use super::target::{self, Hints, Named, Printed};
use super::title;

/// Points by which a statement's further lines hang at least.
pub(super) const HANGING: f32 = 2.0;

/// The book around a key.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    /// All blocks.
    pub(super) blocks: &'a [Block],
    /// Folded names that stand in the book like headings.
    pub(super) known: &'a BTreeSet<String>,
    /// Size of the running text, points.
    pub(super) body_size: f32,
    /// The number that a key would begin with whose numbers run on from the key before it (K16).
    pub(super) runs_on: Option<u32>,
    /// Whether targets are vernacular names too.
    pub(super) vernacular: bool,
}

/// What may be a lead.
#[derive(Clone, Debug)]
pub(super) struct Statement {
    /// Its label.
    pub(super) label: Label,
    /// Its lines.
    pub(super) lines: Vec<Line>,
    /// The block that its last line stands in.
    pub(super) block: usize,
}

/// What a line does to the statements before it.
pub(super) enum Role {
    /// It opens a statement.
    Opens(Label),
    /// It belongs to the last one.
    GoesOn,
    /// Its block stands between statements and belongs to none: a side heading (K36).
    Between,
    /// The key is over before its block.
    Ends,
}

/// A line with what stands around it.
pub(super) struct Seen<'a> {
    /// The block.
    pub(super) block: &'a Block,
    /// The line.
    pub(super) line: &'a Line,
    /// Its words.
    pub(super) words: &'a Composed,
    /// Whether it is the first of its block.
    pub(super) first: bool,
    /// The statement before it.
    pub(super) last: Option<&'a Statement>,
}

impl Statement {
    /// Returns its words.
    pub(super) fn composed(&self) -> Composed {
        compose(&self.lines)
    }

    /// Left edge of its label, points from the column's edge.
    pub(super) fn indent(&self) -> f32 {
        self.lines.first().map_or(0.0, |line| line.indent)
    }

    /// Returns where its target begins and what it prints there.
    pub(super) fn target(&self, source: &Source<'_>) -> (usize, Printed) {
        let composed = self.composed();
        let hints =
            Hints { couplet: None, numbered: false, vernacular: source.vernacular, known: source.known };
        match target::start(&composed, self.label.len, &hints) {
            Some(start) => (start, target::read(&composed.str()[start..])),
            None => (composed.str().len(), Printed::default()),
        }
    }

    /// Returns it as a lead with its printed target.
    pub(super) fn lead(&self, (start, target): (usize, Printed)) -> RawLead {
        let composed = self.composed();
        let text = characters(&composed, self.label.len..start);
        RawLead { label: self.label.clone(), text, target, odd: false }
    }
}

impl Seen<'_> {
    /// Returns what the line is, given the label that it opens with: one that hangs below a lead is none.
    pub(super) fn role(&self, label: Option<Label>, source: &Source<'_>) -> Role {
        let hangs = self.last.is_some_and(|last| {
            let same = last.lines.first().is_some_and(|line| line.column == self.line.column);
            !self.first && same && self.line.indent > last.indent() + HANGING
        });
        match label {
            Some(label) if !hangs => Role::Opens(label),
            _ if !self.first || self.goes_on(source) => Role::GoesOn,
            _ => Role::Ends,
        }
    }

    /// Says whether a line without a label goes on with the statement before it: it hangs, or holds a target set right,
    /// or stands at the top of a column below a statement without a target (K35).
    pub(super) fn goes_on(&self, source: &Source<'_>) -> bool {
        let Some(last) = self.last else { return false };
        let right = is_set_right(self.line) && names_something(self.words.str());
        let led = self.line.runs.first().is_some_and(|run| run.before == Gap::Leader);
        if right || led {
            return true;
        }
        let same_column = |other: &&Line| other.page == self.line.page && other.column == self.line.column;
        match last.lines.iter().find(same_column) {
            Some(other) if last.lines.first().is_some_and(|first| same_column(&first)) => {
                self.line.indent > other.indent + HANGING
            }
            Some(_) => !self.first,
            None => last.target(source).1.words.is_empty(),
        }
    }
}

/// Cuts the blocks from `start` on into statements; gives them and the block after the last.
pub(super) fn gather(
    source: &Source<'_>,
    start: usize,
    role: &mut dyn FnMut(&Seen<'_>) -> Role,
) -> (Vec<Statement>, usize) {
    let mut statements: Vec<Statement> = Vec::new();
    for (at, block) in source.blocks.iter().enumerate().skip(start) {
        if block.kind == BlockKind::Aside {
            continue;
        }
        for (number, line) in block.lines.iter().enumerate() {
            let words = compose([line]);
            let seen = Seen { block, line, words: &words, first: number == 0, last: statements.last() };
            match role(&seen) {
                Role::Opens(label) => {
                    statements.push(Statement { label, lines: vec![line.clone()], block: at });
                }
                Role::GoesOn => {
                    if let Some(last) = statements.last_mut() {
                        last.lines.push(line.clone());
                        last.block = at;
                    }
                }
                Role::Between => break,
                Role::Ends => return end_of(statements, start),
            }
        }
    }
    end_of(statements, start)
}

fn end_of(statements: Vec<Statement>, start: usize) -> (Vec<Statement>, usize) {
    let end = statements.last().map_or(start, |last| last.block + 1);
    (statements, end)
}

/// Puts a key together from its leads and couplets, with the title above it.
pub(super) fn raw_key(
    source: &Source<'_>,
    leads: Vec<RawLead>,
    couplets: Vec<RawCouplet>,
    blocks: std::ops::Range<usize>,
) -> RawKey {
    let (title, from) = match title::above(source.blocks, blocks.start, source.body_size) {
        Some((title, count)) => (Some(title), blocks.start - count),
        None => (None, blocks.start),
    };
    RawKey { title, leads, couplets, blocks: from..blocks.end }
}

/// Says whether a target names a taxon or a key.
pub(super) fn names_taxon(printed: &Printed) -> bool {
    printed.named.iter().any(|named| match named {
        Named::Name { .. } | Named::Epithet { .. } | Named::Ditto(_) | Named::Key(_) => true,
        Named::Number(_) | Named::Couplet(_) | Named::Other(_) => false,
    })
}
