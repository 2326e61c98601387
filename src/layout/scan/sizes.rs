//! The rows of all leaves come in; each is given the size that it is printed in, out of the few that the book uses.
//!
//! Letters are as wide as their face has them, so the width of its words tells a row's size better than what the file says.

use crate::layout::scan::Leaf;
use crate::layout::scan::words::Row;

/// Letters from which a word's width tells its size; shorter ones lose too much to the rounding of their edges.
const MIN_LETTERS: usize = 3;
/// Rows before and after that are asked.
const REACH: usize = 4;
/// Distance of rows, in em, up to which they are one passage.
const PASSAGE: f32 = 1.7;
/// Natural logarithm of the ratio up to which rows of a passage are in one size.
const NEAR: f32 = 0.12;
/// Step of the scale of sizes, as a natural logarithm.
const STEP: f32 = 0.01;
/// Steps over which sizes are blurred to find those that the book uses.
const BLUR: usize = 2;
/// Share of the book's letters that a size must have to be one of its own.
const MIN_SHARE: f32 = 0.002;
/// Smallest and largest size in points.
const SIZES: std::ops::RangeInclusive<f32> = 3.0..=90.0;

/// Gives each row its size.
pub(super) fn settle(leaves: &mut [Leaf]) {
    for leaf in leaves.iter_mut() {
        let own: Vec<(f32, f32)> = leaf.rows.iter().map(measure).collect();
        let smooth: Vec<f32> = (0..leaf.rows.len()).map(|at| smooth(&leaf.rows, &own, at)).collect();
        for (row, size) in leaf.rows.iter_mut().zip(smooth) {
            row.size = size.clamp(*SIZES.start(), *SIZES.end());
        }
    }
    let used = used(leaves);
    for row in leaves.iter_mut().flat_map(|leaf| &mut leaf.rows) {
        let distance = |size: f32| (size / row.size).ln().abs();
        let nearest = used.iter().copied().min_by(|one, other| distance(*one).total_cmp(&distance(*other)));
        row.size = nearest.unwrap_or(row.size);
    }
}

/// Returns the width of a character in em, in an ordinary text face.
pub(super) fn advance(character: char) -> f32 {
    match character {
        'i' | 'j' | 'l' | 't' | ':' | ';' | '/' | '|' => 0.28,
        '.' | ',' | '\'' | '’' | '‘' => 0.25,
        'f' | 'r' | 'I' | '-' | '(' | ')' | '[' | ']' | '!' => 0.33,
        's' | 'J' => 0.39,
        'a' | 'c' | 'e' | 'z' | '?' | '“' | '”' => 0.44,
        'm' => 0.78,
        'w' | 'A' | 'D' | 'G' | 'H' | 'K' | 'N' | 'O' | 'Q' | 'U' | 'V' | 'X' | 'Y' => 0.72,
        'E' | 'L' | 'T' | 'Z' => 0.61,
        'B' | 'C' | 'R' => 0.66,
        'F' | 'P' | 'S' => 0.55,
        'M' | 'W' | '—' => 0.92,
        _ => 0.5,
    }
}

/// Returns the size by a row's widths, and how much of the row that rests on.
fn measure(row: &Row) -> (f32, f32) {
    let sum = |least: usize| {
        let words = row.words.iter().filter(|word| word.text.chars().count() >= least);
        words.fold((0.0, 0.0), |(wide, em), word| (wide + word.x1 - word.x0, em + word.advance()))
    };
    let (wide, em) = match sum(MIN_LETTERS) {
        (_, 0.0) => sum(0),
        found => found,
    };
    if em > 0.0 { (wide / em, em) } else { (row.size, 0.0) }
}

/// Returns the middle of the sizes of a row and of those in its passage that are near it.
fn smooth(rows: &[Row], own: &[(f32, f32)], at: usize) -> f32 {
    let near = |index: &usize| {
        let distance = (own[*index].0 / own[at].0.max(0.01)).ln().abs();
        distance <= NEAR && !own[*index].0.is_nan()
    };
    let joined = |index: &usize| {
        let (one, next) = (&rows[*index], &rows[*index + 1]);
        next.y > one.y
            && next.y - one.y <= PASSAGE * own[at].0
            && next.x0() < one.x1()
            && one.x0() < next.x1()
    };
    let before = (at.saturating_sub(REACH)..at).rev().take_while(joined);
    let after = (at..(at + REACH).min(rows.len() - 1)).take_while(joined).map(|index| index + 1);
    let mut sizes: Vec<(f32, f32)> =
        before.chain([at]).chain(after).filter(near).map(|index| own[index]).collect();
    sizes.sort_by(|one, other| one.0.total_cmp(&other.0));
    let half = sizes.iter().map(|size| size.1).sum::<f32>() / 2.0;
    let mut sum = 0.0;
    sizes
        .iter()
        .find(|size| {
            sum += size.1;
            sum >= half
        })
        .map_or(own[at].0, |size| size.0)
}

/// Returns the sizes that the book uses: those around which its letters gather.
fn used(leaves: &[Leaf]) -> Vec<f32> {
    let bins = ((SIZES.end() / SIZES.start()).ln() / STEP) as usize + 1;
    let mut counts = vec![0.0_f32; bins];
    for row in leaves.iter().flat_map(|leaf| &leaf.rows) {
        let bin = ((row.size / SIZES.start()).ln() / STEP).round() as usize;
        counts[bin.min(bins - 1)] +=
            row.words.iter().map(|word| word.text.chars().count() as f32).sum::<f32>();
    }
    let all: f32 = counts.iter().sum();
    let blurred: Vec<f32> = (0..bins)
        .map(|bin| {
            let near = bin.saturating_sub(2 * BLUR)..=(bin + 2 * BLUR).min(bins - 1);
            near.map(|other| {
                let distance = other.abs_diff(bin) as f32 / BLUR as f32;
                counts[other] * (-0.5 * distance * distance).exp()
            })
            .sum()
        })
        .collect();
    (1..bins.saturating_sub(1))
        .filter(|&bin| {
            let peak = blurred[bin] > blurred[bin - 1] && blurred[bin] >= blurred[bin + 1];
            peak && blurred[bin] >= MIN_SHARE * all
        })
        .map(|bin| SIZES.start() * (bin as f32 * STEP).exp())
        .collect()
}
