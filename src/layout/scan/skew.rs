//! The rows of leaves come in; they go out level and upright, with the edges of their columns where those of other leaves are.
//!
//! The tilt is that at which most rows start, and end, one below the other.

use crate::layout::scan::Leaf;
use crate::layout::scan::words::Row;

/// Steepest tilt that is sought: about two degrees.
const STEEPEST: f32 = 0.035;
/// Step of the search.
const STEP: f32 = 0.0005;
/// Rows below which no tilt is sought.
const MIN_ROWS: usize = 8;
/// Words of a row whose edges are asked; shorter ones are headings and labels.
const MIN_WORDS: usize = 3;
/// Width in points of the bins in which edges are counted.
const BIN: f32 = 1.0;
/// By how much more than level rows a tilt must bring edges together.
const BETTER: f32 = 1.03;
/// Farthest in points that a leaf is moved to the side.
const FARTHEST: i32 = 30;
/// Rounds in which leaves are moved to fit the others.
const ROUNDS: usize = 3;
/// Edges of a leaf from which it is moved.
const MIN_EDGES: usize = 16;

/// Turns the rows of a page of that size so that they are level.
pub(super) fn straighten(rows: &mut [Row], size: (f32, f32)) {
    let tilt = tilt(rows);
    let (middle, centre) = (size.0 / 2.0, size.1 / 2.0);
    for row in rows {
        let levels = row.words.iter().map(|word| word.y + tilt * (f32::midpoint(word.x0, word.x1) - middle));
        let y = levels.sum::<f32>() / row.words.len() as f32;
        let shift = tilt * (row.y - centre);
        for word in &mut row.words {
            word.x0 -= shift;
            word.x1 -= shift;
            word.y = y;
        }
        row.y = y;
    }
}

/// Returns how far to the right text runs for each point downwards.
fn tilt(rows: &[Row]) -> f32 {
    let rows: Vec<&Row> = rows.iter().filter(|row| row.words.len() >= MIN_WORDS).collect();
    if rows.len() < MIN_ROWS {
        return 0.0;
    }
    let gathered = |tilt: f32| {
        gathered(rows.iter().map(|row| row.x0() - tilt * row.y).collect())
            + gathered(rows.iter().map(|row| row.x1() - tilt * row.y).collect())
    };
    let steps = (STEEPEST / STEP) as i32;
    let tilts = (-steps..=steps).map(|step| step as f32 * STEP);
    let best = tilts
        .map(|tilt| (tilt, gathered(tilt)))
        .max_by(|one, other| one.1.total_cmp(&other.1).then(other.0.abs().total_cmp(&one.0.abs())));
    best.filter(|best| best.1 > BETTER * gathered(0.0)).map_or(0.0, |best| best.0)
}

/// Returns how close together edges stand: for each, the number of those in its reach.
fn gathered(mut edges: Vec<f32>) -> f32 {
    edges.sort_unstable_by(f32::total_cmp);
    let (mut sum, mut start) = (0.0, 0);
    for end in 0..edges.len() {
        while edges[end] - edges[start] > BIN {
            start += 1;
        }
        sum += (end - start) as f32;
    }
    sum
}

/// Moves the leaves to the side until the edges of their columns stand where most leaves have them; left and right pages
/// apart. One leaf is moved after the other, since two that move at once would only change places.
pub(super) fn register(leaves: &mut [Leaf]) {
    for parity in [0, 1] {
        let mut side: Vec<&mut Leaf> = leaves.iter_mut().filter(|leaf| leaf.index % 2 == parity).collect();
        let mut all = Edges::default();
        for leaf in &side {
            all.add(&Edges::of(&leaf.rows), 1.0);
        }
        for _ in 0..ROUNDS {
            for leaf in &mut side {
                let own = Edges::of(&leaf.rows);
                all.add(&own, -1.0);
                let shift = all.shift(&own);
                for word in leaf.rows.iter_mut().flat_map(|row| &mut row.words) {
                    word.x0 += shift;
                    word.x1 += shift;
                }
                all.add(&Edges::of(&leaf.rows), 1.0);
            }
        }
    }
}

/// How many rows start and end at each point of the page's width.
#[derive(Default)]
struct Edges {
    starts: Vec<f32>,
    ends: Vec<f32>,
    rows: usize,
}

impl Edges {
    fn of(rows: &[Row]) -> Self {
        let mut edges = Self::default();
        for row in rows.iter().filter(|row| row.words.len() >= MIN_WORDS) {
            count(&mut edges.starts, row.x0());
            count(&mut edges.ends, row.x1());
            edges.rows += 1;
        }
        edges
    }

    fn add(&mut self, other: &Self, times: f32) {
        for (sum, counts) in [(&mut self.starts, &other.starts), (&mut self.ends, &other.ends)] {
            sum.resize(sum.len().max(counts.len()), 0.0);
            for (sum, count) in sum.iter_mut().zip(counts) {
                *sum += count * times;
            }
        }
    }

    /// Returns how far a leaf must be moved for its edges to stand where these do.
    fn shift(&self, leaf: &Self) -> f32 {
        if leaf.rows < MIN_EDGES {
            return 0.0;
        }
        let fit = |shift: i32| {
            let side = |all: &[f32], own: &[f32]| -> f32 {
                let counted = own.iter().enumerate().filter(|(_, count)| **count > 0.0);
                let there = counted.map(|(at, count)| {
                    let there = usize::try_from(at as i32 + shift).ok().and_then(|at| all.get(at));
                    count * there.copied().unwrap_or(0.0).max(0.0).sqrt()
                });
                there.sum()
            };
            side(&self.starts, &leaf.starts) + side(&self.ends, &leaf.ends)
        };
        let best = (-FARTHEST..=FARTHEST)
            .map(|shift| (shift, fit(shift)))
            .max_by(|one, other| one.1.total_cmp(&other.1).then(other.0.abs().cmp(&one.0.abs())));
        best.map_or(0.0, |best| best.0 as f32)
    }
}

/// Counts an edge at its place and, for less, at those beside it.
fn count(counts: &mut Vec<f32>, x: f32) {
    let at = x.max(0.0).round() as usize + 1;
    if at > 10_000 {
        return;
    }
    counts.resize(counts.len().max(at + 2), 0.0);
    counts[at - 1] += 0.5;
    counts[at] += 1.0;
    counts[at + 1] += 0.5;
}
