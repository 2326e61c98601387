//! Measured lines come in; for each it is said whether lines that start where it starts begin blocks thereabouts.
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

/// Says for each line what lines do that start where it does.
pub(super) fn starts(lines: &[Line]) -> Vec<Place> {
    let steps: Vec<Option<Step>> = (0..lines.len())
        .into_par_iter()
        .map(|index| {
            let (line, next) = (&lines[index], lines.get(index + 1)?);
            runs_on(line, next).then_some(Step { from: line.indent, to: next.indent, size: line.size })
        })
        .collect();
    (0..lines.len())
        .into_par_iter()
        .map(|index| {
            place(&lines[index], &steps[index.saturating_sub(REACH)..(index + REACH).min(lines.len())])
        })
        .collect()
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
pub(super) fn runs_on(line: &Line, next: &Line) -> bool {
    let end = last_text(line);
    let open = end.ends_with(|c: char| c.is_lowercase() || matches!(c, ',' | '-' | '\u{2010}' | '\u{ad}'));
    let lower = next.runs.first().is_some_and(|run| run.text.starts_with(char::is_lowercase));
    let near = next.above.is_infinite() || next.above < 1.6 * line.size;
    open && lower && near && (line.size - next.size).abs() < 0.05 * line.size
}
