//! Two terms in, two drawings out that stand side by side: what both have in common steps back, so that the eye falls on
//! what differs.

use crate::sketch::Sketch;
use crate::sketch::curve::At;
use crate::sketch::grid::from_line;
use crate::sketch::pen::{Mark, Weight};

/// Units within which a piece of one drawing lies on a line of the other.
const NEAR: f32 = 1.6;

/// Draws two terms in contrast, where both have a drawing.
pub fn pair(left: &str, right: &str) -> Option<[Sketch; 2]> {
    let (left, right) = (crate::sketch::of(left)?, crate::sketch::of(right)?);
    let contrasted = [stepped_back(&left, &right), stepped_back(&right, &left)];
    // Where nothing would be left to see, both stand as they are.
    let stands_out = |sketch: &Sketch| sketch.marks.iter().any(|mark| !is_faint(mark));
    Some(if contrasted.iter().any(stands_out) { contrasted } else { [left, right] })
}

fn is_faint(mark: &Mark) -> bool {
    matches!(mark, Mark::Stroke(_, Weight::Faint) | Mark::Area(..))
}

/// Returns a drawing with all strokes faint that another one has too.
fn stepped_back(sketch: &Sketch, other: &Sketch) -> Sketch {
    let lines: Vec<[At; 2]> = other.marks.iter().flat_map(pieces).collect();
    let mut marks = Vec::new();
    for mark in &sketch.marks {
        match mark {
            Mark::Stroke(points, weight) => marks.extend(split(points, *weight, &lines)),
            Mark::Area(..) => marks.push(mark.clone()),
        }
    }
    Sketch { name: sketch.name, marks }
}

/// Returns the straight pieces of a stroke.
fn pieces(mark: &Mark) -> Vec<[At; 2]> {
    match mark {
        Mark::Stroke(points, _) => points.windows(2).map(|pair| [pair[0], pair[1]]).collect(),
        Mark::Area(..) => Vec::new(),
    }
}

/// Cuts a stroke into runs that lie on lines of the other drawing, which become faint, and runs that do not.
fn split(points: &[At], weight: Weight, lines: &[[At; 2]]) -> Vec<Mark> {
    let shared = |pair: &[At]| {
        let middle = [pair[0][0].midpoint(pair[1][0]), pair[0][1].midpoint(pair[1][1])];
        lines.iter().any(|line| from_line(middle, *line) <= NEAR && from_line(pair[0], *line) <= 2.0 * NEAR)
    };
    let mut runs: Vec<(Vec<At>, Weight)> = Vec::new();
    for pair in points.windows(2) {
        let now = if shared(pair) { Weight::Faint } else { weight };
        match runs.last_mut() {
            Some((run, before)) if *before == now => run.push(pair[1]),
            _ => runs.push((pair.to_vec(), now)),
        }
    }
    runs.into_iter().map(|(run, weight)| Mark::Stroke(run, weight)).collect()
}
