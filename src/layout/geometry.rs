//! The lines of all pages come in; their indent, room and distance from the line above are measured.
//!
//! Edges are those of all columns in the same place on pages of one parity, so that shifted margins make no indents.

use std::collections::BTreeMap;

use crate::layout::Line;

/// Lines of one region of a page.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// The column, or `None` for text over the whole width.
    pub(super) column: Option<u8>,
    /// How many columns the page has.
    pub(super) of: u8,
    /// Its lines.
    pub(super) lines: Vec<Line>,
}

/// Share of a column's lines that must end, or start, at one place for it to be an edge.
const MIN_SHARE: f32 = 0.08;
/// Points within which ends of lines are at one place: margins hung out for punctuation, and rounding.
const SAME_PLACE: f32 = 1.5;
/// Share of the lines beyond the edge at most: labels hung out, and overfull lines.
const BEYOND: f32 = 0.06;
/// Share of the lines beyond the edge where no place is used often, as in ragged text.
const OUTLIERS: f32 = 0.02;

/// Where a column stands: parity of the page, columns on the page, column.
type Place = (u32, u8, u8);

/// Measures all lines against the edges of their columns.
pub(super) fn measure(columns: &mut [Column]) {
    let edges = edges(columns);
    for column in columns {
        let mut above = f32::NEG_INFINITY;
        for line in &mut column.lines {
            let (left, right) = match column.column {
                Some(number) => edges.get(&(line.page % 2, column.of, number)),
                None => edges.get(&(line.page % 2, column.of, u8::MAX)),
            }
            .copied()
            .unwrap_or((line.x0, line.x1));
            line.indent = line.x0 - left;
            line.room = right - line.x1;
            line.above = line.y - above;
            above = line.y;
        }
    }
}

fn edges(columns: &[Column]) -> BTreeMap<Place, (f32, f32)> {
    let mut ends: BTreeMap<Place, (Vec<f32>, Vec<f32>)> = BTreeMap::new();
    for column in columns {
        for line in &column.lines {
            let place = (line.page % 2, column.of, column.column.unwrap_or(u8::MAX));
            let (left, right) = ends.entry(place).or_default();
            left.push(line.x0);
            right.push(line.x1);
        }
    }
    let mut edges: BTreeMap<Place, (f32, f32)> = ends
        .into_iter()
        .map(|(place, (left, right))| (place, (edge(left), -edge(right.into_iter().map(|x| -x).collect()))))
        .collect();
    widen_full(&mut edges);
    edges
}

/// Gives text over the whole width of a page with columns the outer edges of the columns.
fn widen_full(edges: &mut BTreeMap<Place, (f32, f32)>) {
    let full: Vec<Place> = edges.keys().copied().filter(|place| place.2 == u8::MAX && place.1 > 1).collect();
    for place in full {
        let first = edges.get(&(place.0, place.1, 0)).map(|edge| edge.0);
        let last = edges.get(&(place.0, place.1, place.1 - 1)).map(|edge| edge.1);
        if let (Some(first), Some(last), Some(edge)) = (first, last, edges.get_mut(&place)) {
            *edge = (first, last);
        }
    }
}

/// Returns the leftmost place where many lines start.
fn edge(mut ends: Vec<f32>) -> f32 {
    ends.sort_by(f32::total_cmp);
    let least = (ends.len() as f32 * MIN_SHARE).ceil().max(2.0) as usize;
    let mut start = 0;
    let last = (ends.len() as f32 * BEYOND) as usize + least;
    for end in 0..ends.len().min(last) {
        while ends[end] - ends[start] > SAME_PLACE {
            start += 1;
        }
        if end + 1 - start >= least {
            // The densest part of the places within reach of the first that are used often.
            return densest(&ends[start..], SAME_PLACE);
        }
    }
    ends[(ends.len() as f32 * OUTLIERS) as usize]
}

/// Returns the place used most often among those within reach of the first.
fn densest(ends: &[f32], reach: f32) -> f32 {
    let near = &ends[..ends.partition_point(|x| *x <= ends[0] + 2.0 * reach)];
    let count = |x: f32| near.iter().filter(|other| (*other - x).abs() < 0.2).count();
    near.iter().copied().max_by_key(|x| count(*x)).unwrap_or(ends[0])
}
