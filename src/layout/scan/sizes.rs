//! The rows of all leaves come in; each is given the size that it is printed in, out of the few that the book uses.
//!
//! Letters are as wide as their face has them, so the width of its words tells a row's size better than what the file says.

use rayon::prelude::*;

use crate::layout::scan::Leaf;
use crate::layout::scan::face::{Face, MIN_LETTERS};
use crate::layout::scan::words::Row;

/// Rows before and after that are asked.
const REACH: usize = 4;
/// Distance of rows, as a multiple of the usual one, up to which they are one passage.
const PASSAGE: f32 = 1.12;
/// Natural logarithm of the ratio up to which rows of a passage are in one size.
const NEAR: f32 = 0.12;
/// The same for a row with little in it, whose size is less sure.
const NEAR_SHORT: f32 = 0.25;
/// Width in em of the words of such a row.
const SHORT: f32 = 10.0;
/// Step of the scale of sizes, as a natural logarithm.
const STEP: f32 = 0.01;
/// Steps over which sizes are blurred to find those that the book uses.
const BLUR: usize = 2;
/// Share of the book's letters that a size must have to be one of its own.
const MIN_SHARE: f32 = 0.002;
/// Smallest and largest size in points.
const SIZES: std::ops::RangeInclusive<f32> = 3.0..=90.0;

/// Gives each row its size.
pub(super) fn settle(leaves: &mut [Leaf], face: &Face) {
    leaves.par_iter_mut().for_each(|leaf| {
        let own: Vec<(f32, f32)> = leaf.rows.iter().map(|row| measure(row, face)).collect();
        let reach = PASSAGE * usual_distance(&leaf.rows);
        let smooth: Vec<f32> = (0..leaf.rows.len()).map(|at| smooth((&leaf.rows, reach), &own, at)).collect();
        for (row, size) in leaf.rows.iter_mut().zip(smooth) {
            row.size = size.clamp(*SIZES.start(), *SIZES.end());
        }
    });
    let used = used(leaves);
    for row in leaves.iter_mut().flat_map(|leaf| &mut leaf.rows) {
        let distance = |size: f32| (size / row.size).ln().abs();
        let nearest = used.iter().copied().min_by(|one, other| distance(*one).total_cmp(&distance(*other)));
        row.size = nearest.unwrap_or(row.size);
    }
}

/// Returns the distance of rows below each other that is in the middle of all.
fn usual_distance(rows: &[Row]) -> f32 {
    let distances = rows.windows(2).map(|pair| pair[1].y - pair[0].y).filter(|distance| *distance > 0.0);
    median(distances.map(|distance| (distance, 1.0)).collect()).unwrap_or(0.0)
}

/// Returns the value in the middle, each having its weight.
fn median(mut values: Vec<(f32, f32)>) -> Option<f32> {
    values.sort_by(|one, other| one.0.total_cmp(&other.0));
    let half = values.iter().map(|value| value.1).sum::<f32>() / 2.0;
    let mut sum = 0.0;
    let middle = values.iter().find(|value| {
        sum += value.1;
        sum >= half
    });
    middle.map(|value| value.0)
}

/// Returns the size by the widths of a row's words, and how much of the row that rests on.
fn measure(row: &Row, face: &Face) -> (f32, f32) {
    let sizes = |least: usize| -> Vec<(f32, f32)> {
        let words = row.words.iter().filter(|word| !word.dots && word.text.chars().count() >= least);
        words.map(|word| (face.size(word), face.width(word))).collect()
    };
    let long = sizes(MIN_LETTERS);
    let sizes = if long.is_empty() { sizes(0) } else { long };
    let em = sizes.iter().map(|size| size.1).sum();
    (median(sizes).unwrap_or(row.size), em)
}

/// Returns the middle of the sizes of a row and of those in its passage that are near it.
fn smooth((rows, reach): (&[Row], f32), own: &[(f32, f32)], at: usize) -> f32 {
    let limit = if own[at].1 < SHORT { NEAR_SHORT } else { NEAR };
    let near = |index: &usize| (own[*index].0 / own[at].0.max(0.01)).ln().abs() <= limit;
    let joined = |index: &usize| {
        let (one, next) = (&rows[*index], &rows[*index + 1]);
        next.y > one.y && next.y - one.y <= reach && next.x0() < one.x1() && one.x0() < next.x1()
    };
    let before = (at.saturating_sub(REACH)..at).rev().take_while(joined);
    let after = (at..(at + REACH).min(rows.len() - 1)).take_while(joined).map(|index| index + 1);
    let sizes = before.chain([at]).chain(after).filter(near).map(|index| own[index]).collect();
    median(sizes).unwrap_or(own[at].0)
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
