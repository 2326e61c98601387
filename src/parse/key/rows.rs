//! A lead's lines put together: where characters and target were set side by side, each in lines of its own, the
//! characters come first (X2).

use crate::layout::{Gap, Line, LineEnd, Run};
use crate::parse::compose::{Composed, compose};

/// Points of white space at most after what is flush right.
const FLUSH: f32 = 3.0;

/// Composes the lines of one lead.
pub(super) fn lead(lines: &[Line]) -> Composed {
    let parted: Vec<Option<usize>> = lines.iter().map(right_part).collect();
    let side_by_side = parted.windows(2).position(|pair| pair.iter().all(Option::is_some));
    let Some(first) = side_by_side else { return compose(lines) };
    let rows = parted[first..].iter().take_while(|part| part.is_some()).count();
    let mut left: Vec<Line> = lines[..first].to_vec();
    let mut right: Vec<Line> = Vec::new();
    for (line, part) in lines[first..first + rows].iter().zip(&parted[first..]) {
        let at = part.unwrap_or(line.runs.len());
        left.push(Line { runs: line.runs[..at].to_vec(), end: LineEnd::Space, ..line.clone() });
        right.push(Line { runs: line.runs[at..].to_vec(), ..line.clone() });
    }
    left.extend(right);
    left.extend_from_slice(&lines[first + rows..]);
    compose(&left)
}

/// The run where a part begins that is set flush right behind a wide gap.
fn right_part(line: &Line) -> Option<usize> {
    let at = line.runs.iter().rposition(|run| run.before == Gap::Wide)?;
    let right = line.runs[at..].iter().any(|run| !run.text.is_empty());
    (line.runs[..at].iter().any(has_words) && line.room < FLUSH && right).then_some(at)
}

/// Says whether a run is more than a label, which has a letter or two.
pub(super) fn has_words(run: &Run) -> bool {
    run.text.chars().filter(|c| c.is_alphabetic()).count() > 2
}
