//! The pieces of all pages come in; the gutters of each page go out, and its pieces by region in reading order.
//!
//! A gutter is a strip that few pieces cross, with rows that start alike on its right; single pages follow the book's habit.

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::layout::furniture::Sheet;
use crate::layout::pieces::Piece;

/// Share of a page's rows that may cross a gutter.
const MAX_CROSSING: f32 = 0.06;
/// Share of a page's rows that may cross the gutter that the book uses elsewhere.
const MAX_CROSSING_HABIT: f32 = 0.25;
/// Narrowest gutter in em.
const MIN_GUTTER: f32 = 0.5;
/// Rows on each side of a gutter that is found without help.
const MIN_ROWS: usize = 8;
/// Share of the text's width at each side where no gutter is sought.
const SIDE: f32 = 0.15;
/// Share of the rows right of a gutter that must start close to it.
const MIN_ALIGNED: f32 = 0.7;
/// How close in em: deeper than most indents.
const ALIGNED: f32 = 4.0;
/// Share of the rows on the left that there must be on the right.
const MIN_BALANCE: f32 = 0.4;
/// Width of a column as a share of the one beside it, at least; narrower ones are targets or cells.
const MIN_WIDTH: f32 = 0.45;
/// Share of rows that must reach the gutter where nothing stands to its right.
const FULL_ROWS: f32 = 0.3;
/// Places where most rows of a column start, counting indents.
const MAX_STARTS: usize = 6;
/// Narrowest column in em; less are labels or targets.
const MIN_COLUMN: f32 = 6.0;
/// Points within which gutters of different pages are one.
const SAME_GUTTER: f32 = 6.0;
/// Pages that must share a gutter.
const MIN_PAGES: usize = 2;
/// How far in em a piece must stand out on both sides of a gutter to cross it.
const CROSSING: f32 = 0.8;

/// A strip between columns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gutter {
    /// Left edge.
    pub(super) left: f32,
    /// Right edge.
    pub(super) right: f32,
}

impl Gutter {
    fn middle(self) -> f32 {
        f32::midpoint(self.left, self.right)
    }
}

/// Pieces that are read from top to bottom before the next region.
#[derive(Clone, Debug)]
pub(super) struct Region {
    /// The column, or `None` for text over the whole width.
    pub(super) column: Option<u8>,
    /// Its pieces.
    pub(super) pieces: Vec<Piece>,
}

/// Finds the gutters of every page.
pub(super) fn gutters(sheets: &[Sheet], body: f32) -> Vec<Vec<Gutter>> {
    let own: Vec<Vec<Gutter>> = sheets.par_iter().map(|sheet| own_gutters(&sheet.pieces, body)).collect();
    let habits: [Vec<Gutter>; 2] = [0, 1].map(|parity| habit(&own, parity));
    let lefts: Vec<f32> = sheets.iter().map(|sheet| left_edge(&sheet.pieces)).collect();
    let shared = |index: usize, gutters: &[Gutter]| {
        let others = (0..own.len()).filter(|&other| {
            let shift = lefts[index] - lefts[other];
            other != index && alike(gutters, &own[other], shift)
        });
        others.take(MIN_PAGES).count() + 1 >= MIN_PAGES.min(own.len())
    };
    let mut result: Vec<Vec<Gutter>> = Vec::with_capacity(own.len());
    for index in 0..own.len() {
        let pieces = &sheets[index].pieces;
        let sure = |index: usize| shared(index, &own[index]) && !own[index].is_empty();
        let moved = |gutters: &[Gutter], from: usize| moved(gutters, lefts[index] - lefts[from]);
        let found = if sure(index) || is_full_text(pieces, &own[index]) {
            own[index].clone()
        } else {
            let before = index.checked_sub(1).map(|before| moved(&result[before], before));
            let after = (index + 1 < own.len() && sure(index + 1)).then(|| moved(&own[index + 1], index + 1));
            let candidates = [Some(habits[index % 2].clone()), after, before];
            candidates.into_iter().flatten().find(|gutters| fits(pieces, gutters, body)).unwrap_or_default()
        };
        result.push(found);
    }
    result
}

fn moved(gutters: &[Gutter], shift: f32) -> Vec<Gutter> {
    gutters.iter().map(|gutter| Gutter { left: gutter.left + shift, right: gutter.right + shift }).collect()
}

/// Tells whether both sides of a page's gutter are running text, so that no other page need have the gutter.
fn is_full_text(pieces: &[Piece], gutters: &[Gutter]) -> bool {
    /// Rows on each side.
    const ROWS: usize = 15;
    let [gutter] = gutters else { return false };
    let sides: [Vec<&Piece>; 2] = [
        pieces.iter().filter(|piece| piece.x1 <= gutter.middle()).collect(),
        pieces.iter().filter(|piece| piece.x0 >= gutter.middle()).collect(),
    ];
    sides.iter().all(|side| {
        let rows = rows(side.iter());
        let left = rows.iter().map(|row| row.0).fold(f32::INFINITY, f32::min);
        let right = rows.iter().map(|row| row.1).fold(0.0, f32::max);
        let full = rows.iter().filter(|row| row.1 - row.0 > 0.8 * (right - left)).count();
        rows.len() >= ROWS && full * 3 >= rows.len()
    })
}

/// Returns the gutters that more than a third of the pages with gutters share, of one parity.
fn habit(own: &[Vec<Gutter>], parity: usize) -> Vec<Gutter> {
    let pages: Vec<&Vec<Gutter>> =
        own.iter().skip(parity).step_by(2).filter(|found| !found.is_empty()).collect();
    let count = |found: &[Gutter]| pages.iter().filter(|other| alike(found, other, 0.0)).count();
    // Most pages have the very same gutters, which need to be counted once.
    let mut counts: Vec<(&Vec<Gutter>, usize)> = Vec::new();
    for found in &pages {
        match counts.iter().position(|(known, _)| known == found) {
            // The last of several pages is taken.
            Some(known) => counts[known..].rotate_left(1),
            None => counts.push((found, count(found))),
        }
    }
    let best = counts.into_iter().max_by_key(|(_, count)| *count);
    best.filter(|(_, count)| count * 3 > pages.len() && *count >= MIN_PAGES)
        .map(|(found, _)| found.clone())
        .unwrap_or_default()
}

/// Tells whether two pages have the same gutters, when the text of the first stands that much farther to the right.
fn alike(one: &[Gutter], other: &[Gutter], shift: f32) -> bool {
    one.len() == other.len()
        && one
            .iter()
            .zip(other)
            .all(|(one, other)| (one.middle() - other.middle() - shift).abs() <= SAME_GUTTER)
}

fn left_edge(pieces: &[Piece]) -> f32 {
    pieces.iter().map(|piece| piece.x0).fold(f32::INFINITY, f32::min)
}

/// Tells whether a page can have these gutters.
fn fits(pieces: &[Piece], gutters: &[Gutter], body: f32) -> bool {
    let text: Vec<&Piece> = pieces.iter().filter(|piece| !piece.is_leader()).collect();
    !gutters.is_empty()
        && gutters.iter().all(|gutter| {
            let crossing = text.iter().filter(|piece| crosses(piece, *gutter, body)).count();
            let right = text.iter().filter(|piece| piece.x0 >= gutter.left).count();
            let left = text.iter().filter(|piece| piece.x1 <= gutter.right).count();
            // The last page of a part may fill its left column alone: its rows then end where the gutter begins.
            let full = text.iter().filter(|piece| (piece.x1 - gutter.left).abs() < body).count();
            let one_sided = right == 0 && full as f32 >= FULL_ROWS * left as f32;
            crossing as f32 <= MAX_CROSSING_HABIT * text.len() as f32
                && (right > 0 || one_sided)
                && left > 0
                && (right == 0
                    || !text.iter().filter(|piece| piece.x0 >= gutter.left).all(|piece| is_number(piece)))
        })
}

/// Tells whether a piece is nothing but a number, as the folios of a list of contents are.
fn is_number(piece: &Piece) -> bool {
    piece.runs.iter().all(|run| run.text.chars().all(char::is_numeric))
}

fn own_gutters(pieces: &[Piece], body: f32) -> Vec<Gutter> {
    let text: Vec<&Piece> = pieces.iter().filter(|piece| !piece.is_leader()).collect();
    let Some(left) = text.iter().map(|piece| piece.x0).reduce(f32::min) else { return Vec::new() };
    let right = text.iter().map(|piece| piece.x1).fold(left, f32::max);
    let width = right - left;
    let bins = width.ceil().clamp(1.0, 5000.0) as usize;
    let mut coverage = vec![0_i32; bins + 1];
    for piece in &text {
        coverage[((piece.x0 - left) as usize).min(bins)] += 1;
        coverage[((piece.x1 - left).ceil() as usize).min(bins)] -= 1;
    }
    let mut sum = 0;
    for count in &mut coverage {
        sum += *count;
        *count = sum;
    }
    let allowed = (MAX_CROSSING * text.len() as f32 / 2.0).ceil() as i32;
    let mut found = Vec::new();
    let mut start = None;
    let (first, last) = ((SIDE * width) as usize, ((1.0 - SIDE) * width) as usize);
    for (x, &count) in coverage.iter().enumerate() {
        if count <= allowed && x < bins {
            start = start.or(Some(x));
            continue;
        }
        if let Some(from) = start.take()
            && (first..=last).contains(&usize::midpoint(from, x))
        {
            let gutter = Gutter { left: left + from as f32, right: left + x as f32 };
            if gutter.right - gutter.left >= MIN_GUTTER * body {
                found.push(gutter);
            }
        }
    }
    let found = without_narrow(&text, found, body);
    tested(&text, &found, (left, right), body)
}

/// Drops one of two strips that stand close together: what is between them are labels of the column to their right, when
/// they start alike, or targets of the column to their left.
fn without_narrow(text: &[&Piece], mut found: Vec<Gutter>, body: f32) -> Vec<Gutter> {
    let mut index = 0;
    while index + 1 < found.len() {
        let (one, next) = (found[index], found[index + 1]);
        if next.left - one.right > MIN_COLUMN * body {
            index += 1;
            continue;
        }
        let inside = || text.iter().filter(|piece| piece.x0 >= one.left && piece.x1 <= next.right);
        let spread = |edges: Vec<f32>| {
            let middle = median(&edges);
            edges.iter().map(|edge| (edge - middle).abs()).sum::<f32>()
        };
        let labels = spread(inside().map(|piece| piece.x0).collect())
            <= spread(inside().map(|piece| piece.x1).collect());
        found.remove(if labels { index + 1 } else { index });
    }
    found
}

fn median(values: &[f32]) -> f32 {
    let mut values = values.to_vec();
    let middle = values.len() / 2;
    if values.is_empty() { 0.0 } else { *values.select_nth_unstable_by(middle, f32::total_cmp).1 }
}

/// Keeps the gutters that part columns and not leads from their targets.
fn tested(text: &[&Piece], found: &[Gutter], (left, right): (f32, f32), body: f32) -> Vec<Gutter> {
    let mut kept: Vec<Gutter> = Vec::new();
    for (index, gutter) in found.iter().enumerate() {
        let before = kept.last().map_or(left, |gutter| gutter.right);
        let after = found.get(index + 1).map_or(right, |next| next.left);
        let left_rows =
            rows(text.iter().filter(|piece| piece.x0 >= before - body && piece.x1 <= gutter.right));
        let right_rows = rows(text.iter().filter(|piece| piece.x0 >= gutter.left && piece.x0 <= after));
        let aligned = right_rows.iter().filter(|row| row.0 <= gutter.right + ALIGNED * body).count();
        let enough = left_rows.len() >= MIN_ROWS && right_rows.len() >= MIN_ROWS;
        let balanced = right_rows.len() as f32 >= MIN_BALANCE * left_rows.len() as f32
            && left_rows.len() as f32 >= MIN_BALANCE * right_rows.len() as f32;
        let last = kept.last().map_or(left, |gutter| gutter.middle());
        let next = found.get(index + 1).map_or(right, |next| next.middle());
        let (one, other) = (gutter.middle() - last, next - gutter.middle());
        let wide = one.min(other) >= MIN_WIDTH * one.max(other);
        if enough
            && balanced
            && wide
            && !are_targets(&right_rows, body)
            && aligned as f32 >= MIN_ALIGNED * right_rows.len() as f32
        {
            kept.push(*gutter);
        }
    }
    kept
}

/// Tells whether rows end alike but start anywhere, as targets set flush right do.
fn are_targets(rows: &[(f32, f32)], body: f32) -> bool {
    let right = rows.iter().map(|row| row.1).fold(0.0, f32::max);
    let flush = rows.iter().filter(|row| right - row.1 < 0.2 * body).count();
    let mut starts: BTreeMap<i32, usize> = BTreeMap::new();
    for row in rows {
        *starts.entry((row.0 / (0.3 * body)).round() as i32).or_default() += 1;
    }
    let mut counts: Vec<usize> = starts.into_values().collect();
    counts.sort_unstable_by(|one, other| other.cmp(one));
    let usual: usize = counts.iter().take(MAX_STARTS).sum();
    flush * 5 >= rows.len() * 4 && usual * 5 < rows.len() * 4
}

/// Returns left and right edge of each row.
fn rows<'a>(pieces: impl Iterator<Item = &'a &'a Piece>) -> Vec<(f32, f32)> {
    let mut pieces: Vec<&Piece> = pieces.copied().collect();
    pieces.sort_by(|one, other| one.y.total_cmp(&other.y));
    let mut rows: Vec<(f32, f32, f32)> = Vec::new();
    for piece in pieces {
        match rows.last_mut() {
            Some(row) if piece.y - row.2 <= 0.3 * piece.size => {
                row.0 = row.0.min(piece.x0);
                row.1 = row.1.max(piece.x1);
            }
            _ => rows.push((piece.x0, piece.x1, piece.y)),
        }
    }
    rows.into_iter().map(|(left, right, _)| (left, right)).collect()
}

fn crosses(piece: &Piece, gutter: Gutter, body: f32) -> bool {
    piece.x0 < gutter.left - CROSSING * body && piece.x1 > gutter.right + CROSSING * body
}

/// Parts a page into regions in reading order: bands from top to bottom, in each band the columns from left to right.
pub(super) fn regions(pieces: Vec<Piece>, gutters: &[Gutter], body: f32) -> Vec<Region> {
    if gutters.is_empty() {
        return vec![Region { column: None, pieces }];
    }
    let mut pieces = pieces;
    pieces.sort_by(|one, other| one.y.total_cmp(&other.y).then(one.x0.total_cmp(&other.x0)));
    let full: Vec<(f32, f32)> = pieces
        .iter()
        .filter(|piece| gutters.iter().any(|gutter| crosses(piece, *gutter, body)))
        .map(|piece| (piece.y, 0.3 * piece.size))
        .collect();
    let mut regions: Vec<Region> = Vec::new();
    let mut band: Vec<Region> = Vec::new();
    for piece in pieces {
        let wide = full.iter().any(|(y, tolerance)| (piece.y - y).abs() <= *tolerance);
        if wide {
            close(&mut band, &mut regions);
            match regions.last_mut() {
                Some(region) if region.column.is_none() => region.pieces.push(piece),
                _ => regions.push(Region { column: None, pieces: vec![piece] }),
            }
            continue;
        }
        let middle = f32::midpoint(piece.x0, piece.x1);
        let column = gutters.iter().filter(|gutter| middle > gutter.middle()).count() as u8;
        match band.iter_mut().find(|region| region.column == Some(column)) {
            Some(region) => region.pieces.push(piece),
            None => band.push(Region { column: Some(column), pieces: vec![piece] }),
        }
    }
    close(&mut band, &mut regions);
    regions
}

fn close(band: &mut Vec<Region>, regions: &mut Vec<Region>) {
    band.sort_by_key(|region| region.column);
    regions.append(band);
}
