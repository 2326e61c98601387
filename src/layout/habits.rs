//! Measured lines come in; for each it can be said whether lines that start where it starts begin blocks thereabouts.
//!
//! Sentences that plainly run on from one line to the next show where first lines and where follow-on lines start, so that
//! hanging entries and indented paragraphs are told apart without knowing the book.

use rayon::prelude::*;

use crate::layout::Line;
use crate::layout::blocks::{INDENT, last_text};

/// Lines before and after that are asked.
const REACH: usize = 25;
/// Lines that must be seen to start blocks at a place.
const MIN_STARTS: usize = 2;
/// First lines for one follow-on line at the same place, at least, for the place to be one of first lines.
const STARTS_PER_FOLLOWER: usize = 10;

/// What lines do that start at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// They begin blocks.
    Start,
    /// Nothing sure.
    Unknown,
}

/// A sentence that runs on from one line to the next.
#[derive(Clone, Copy)]
struct Step {
    /// Where the first line starts.
    from: f32,
    /// Where the second line starts.
    to: f32,
    size: f32,
}

/// What lines do, to be asked line by line.
pub(super) struct Habits {
    /// The sentence that runs on from each line to the next.
    steps: Vec<Option<Step>>,
}

impl Habits {
    /// Finds the sentences that run on.
    pub(super) fn of(lines: &[Line]) -> Self {
        let step = |pair: &[Line]| {
            let (line, next) = (&pair[0], &pair[1]);
            runs_on(line, next).then_some(Step { from: line.indent, to: next.indent, size: line.size })
        };
        Self { steps: lines.par_windows(2).map(step).collect() }
    }

    /// Tells whether a sentence plainly runs on from a line to the next.
    pub(super) fn runs_on_from(&self, index: usize) -> bool {
        self.steps.get(index).is_some_and(Option::is_some)
    }

    /// Says what lines do that start where this one does, which has that place among all lines.
    pub(super) fn at(&self, index: usize, line: &Line) -> Place {
        let last = self.steps.len();
        place(line, &self.steps[index.saturating_sub(REACH).min(last)..(index + REACH).min(last)])
    }
}

fn place(line: &Line, steps: &[Option<Step>]) -> Place {
    let tolerance = INDENT * line.size;
    let here = |indent: f32| (indent - line.indent).abs() <= tolerance;
    let (mut first, mut follow) = (0, 0);
    for step in steps.iter().flatten().filter(|step| (step.size - line.size).abs() < 0.05 * line.size) {
        if here(step.to) {
            follow += 1;
        } else if here(step.from) {
            first += 1;
        }
    }
    if first >= MIN_STARTS && follow * STARTS_PER_FOLLOWER <= first { Place::Start } else { Place::Unknown }
}

/// Tells whether a sentence plainly runs on from one line to the next.
fn runs_on(line: &Line, next: &Line) -> bool {
    let end = last_text(line);
    let open = end.ends_with(|c: char| c.is_lowercase() || matches!(c, ',' | '-' | '\u{2010}' | '\u{ad}'));
    let lower = next.runs.first().is_some_and(|run| run.text.starts_with(char::is_lowercase));
    let near = next.above.is_infinite() || next.above < 1.6 * line.size;
    open && lower && near && (line.size - next.size).abs() < 0.05 * line.size
}
