//! The lines of all pages come in; their indent, room and distance from the line above are measured.
//!
//! Edges are those of all columns in the same place on pages of one parity, so that shifted margins make no indents.

use std::collections::BTreeMap;

use crate::layout::Line;

/// Lines of one region of a page.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// Its place from the left, or `None` for text over the whole width.
    pub(super) number: Option<u8>,
    /// How many columns the page has.
    pub(super) of: u8,
    /// Its lines.
    pub(super) lines: Vec<Line>,
}

/// Share of a column's lines that must end, or start, at one place for it to be an edge.
const MIN_SHARE: f32 = 0.08;
/// Points within which ends of lines are at one place: margins hung out for punctuation, and rounding.
const SAME_PLACE: f32 = 1.5;
/// Points within which typesetters round one place.
const ROUNDING: f32 = 0.4;
/// Share of the lines beyond the edge at most: labels hung out, and overfull lines.
const BEYOND: f32 = 0.06;
/// Share of the lines beyond the edge where no place is used often, as in ragged text.
const OUTLIERS: f32 = 0.02;

/// Where a column stands: parity of the page, columns on the page, column.
type Place = (u32, u8, u8);

impl Column {
    /// Returns its page and its place, where it has lines.
    fn place(&self) -> Option<(u32, Place)> {
        let page = self.lines.first()?.page;
        Some((page, (page % 2, self.of, self.number.unwrap_or(u8::MAX))))
    }
}

/// Measures all lines against the edges of their columns.
pub(super) fn measure(columns: &mut [Column]) {
    let edges = edges(columns, |_| 0, 1);
    let near = edges_nearby(columns);
    for column in columns {
        let Some((page, place)) = column.place() else { continue };
        let usual = edges.get(&(0, place));
        let near = near.get(&(page / CHUNK, place));
        let sure = |edge: Edge| (edge.share >= SURE).then_some(edge.x);
        let left = near.and_then(|edges| sure(edges.0)).or(usual.map(|edges| edges.0.x));
        let right = near.and_then(|edges| sure(edges.1)).or(usual.map(|edges| edges.1.x));
        let mut above = f32::NEG_INFINITY;
        for line in &mut column.lines {
            let (left, right) = (left.unwrap_or(line.x0), right.unwrap_or(line.x1));
            line.indent = line.x0 - left;
            line.room = right - line.x1;
            line.above = line.y - above;
            above = line.y;
        }
    }
}

/// Pages that are asked together for their edges, since parts of a book may have margins of their own.
const CHUNK: u32 = 12;
/// Lines in such pages from which their own edges are believed.
const MIN_LINES: usize = 60;

/// Share of their lines that must start or end at such an edge.
const SURE: f32 = 0.25;

/// An edge of a column.
#[derive(Clone, Copy)]
struct Edge {
    x: f32,
    /// Share of the lines that start or end there.
    share: f32,
}

/// Left and right edge by group of pages and place.
type Edges = BTreeMap<(u32, Place), (Edge, Edge)>;

fn edges_nearby(columns: &[Column]) -> Edges {
    edges(columns, |page| page / CHUNK, MIN_LINES)
}

fn edges(columns: &[Column], group: impl Fn(u32) -> u32, least: usize) -> Edges {
    let mut starts_ends: BTreeMap<(u32, Place), (Vec<f32>, Vec<f32>)> = BTreeMap::new();
    for column in columns {
        let Some((page, place)) = column.place() else { continue };
        let (left, right) = starts_ends.entry((group(page), place)).or_default();
        left.extend(column.lines.iter().map(|line| line.x0));
        right.extend(column.lines.iter().map(|line| line.x1));
    }
    starts_ends.retain(|_, (left, _)| left.len() >= least);
    let mut edges: Edges = starts_ends
        .into_iter()
        .map(|(place, (left, right))| {
            let mirrored = edge_of(right.into_iter().map(|x| -x).collect());
            (place, (edge_of(left), Edge { x: -mirrored.x, ..mirrored }))
        })
        .collect();
    widen_full(&mut edges);
    edges
}

/// Gives text over the whole width of a page with columns the outer edges of the columns.
fn widen_full(edges: &mut Edges) {
    let full: Vec<(u32, Place)> =
        edges.keys().copied().filter(|(_, place)| place.2 == u8::MAX && place.1 > 1).collect();
    for (group, place) in full {
        let first = edges.get(&(group, (place.0, place.1, 0))).map(|edge| edge.0);
        let last = edges.get(&(group, (place.0, place.1, place.1 - 1))).map(|edge| edge.1);
        if let (Some(first), Some(last), Some(edge)) = (first, last, edges.get_mut(&(group, place))) {
            *edge = (first, last);
        }
    }
}

/// Returns the leftmost place where many lines start.
fn edge_of(mut ends: Vec<f32>) -> Edge {
    ends.sort_unstable_by(f32::total_cmp);
    let least = (ends.len() as f32 * MIN_SHARE).ceil().max(2.0) as usize;
    let mut start = 0;
    let reach = (ends.len() as f32 * BEYOND) as usize + least;
    let mut x = ends[(ends.len() as f32 * OUTLIERS) as usize];
    for end in 0..ends.len().min(reach) {
        while ends[end] - ends[start] > SAME_PLACE {
            start += 1;
        }
        if end + 1 - start >= least {
            x = densest(&ends[start..], SAME_PLACE);
            break;
        }
    }
    let there = ends.iter().filter(|end| (**end - x).abs() <= SAME_PLACE).count();
    Edge { x, share: there as f32 / ends.len() as f32 }
}

/// Returns the place used most often among those within reach of the first; the places are sorted.
fn densest(ends: &[f32], reach: f32) -> f32 {
    let near = &ends[..ends.partition_point(|x| *x <= ends[0] + 2.0 * reach)];
    let (mut best, mut most, mut start) = (ends[0], 0, 0);
    for end in 0..near.len() {
        while near[end] - near[start] > ROUNDING {
            start += 1;
        }
        if end + 1 - start > most {
            most = end + 1 - start;
            best = near[usize::midpoint(start, end)];
        }
    }
    best
}
