//! The pieces of one column come in; its lines go out, from top to bottom.
//!
//! Indents and room are measured later, when the edges of the column are known.

use crate::layout::columns::Region;
use crate::layout::pieces::Piece;
use crate::layout::{Gap, Line, LineEnd, Run};

/// Baselines within this many em are one line.
const SAME_LINE: f32 = 0.3;
/// Shift in em of the line's size up to which a small piece is raised or lowered in its line.
const MAX_SHIFT: f32 = 0.5;
/// Share of the line's size below which a piece is small.
const SMALL: f32 = 0.85;
/// Gap in em above which white space is wide.
const WIDE: f32 = 1.5;
/// Multiple of the line's widest word space above which white space is wide: loosely justified lines have wide spaces.
const LOOSE: f32 = 2.0;
/// Gap in em above which two pieces are two words.
const WORD: f32 = 0.10;
/// White space in em around dots that are a leader and no full stop.
const DOT_APART: f32 = 0.15;
/// Sizes of small capitals, as a share of that of the capitals before them.
const SMALL_CAPITALS: std::ops::RangeInclusive<f32> = 0.6..=0.9;

/// Makes lines of a region's pieces.
pub(super) fn build(region: Region, page: u32) -> Vec<Line> {
    let column = region.column.unwrap_or(0);
    let mut rows = rows(region.pieces);
    rows.sort_by(|one, other| one.y.total_cmp(&other.y));
    rows.into_iter().filter_map(|row| line(row, page, column)).collect()
}

struct Row {
    y: f32,
    size: f32,
    pieces: Vec<Piece>,
}

fn rows(mut pieces: Vec<Piece>) -> Vec<Row> {
    pieces.sort_by(|one, other| one.y.total_cmp(&other.y));
    let usual = usual_size(&pieces);
    let (large, small): (Vec<Piece>, Vec<Piece>) =
        pieces.into_iter().partition(|piece| piece.size >= SMALL * usual);
    let mut rows: Vec<Row> = Vec::new();
    for piece in large {
        let near = rows
            .iter_mut()
            .rev()
            .take(3)
            .find(|row| (piece.y - row.y).abs() <= SAME_LINE * piece.size.min(row.size));
        match near {
            Some(row) => row.pieces.push(piece),
            None => rows.push(Row { y: piece.y, size: piece.size, pieces: vec![piece] }),
        }
    }
    for piece in small {
        place_small(piece, &mut rows);
    }
    rows
}

/// Puts a small piece into the line that it is raised or lowered in, or gives it a line of its own.
fn place_small(piece: Piece, rows: &mut Vec<Row>) {
    let same = rows.iter().position(|row| (piece.y - row.y).abs() <= SAME_LINE * piece.size.min(row.size));
    let near = || {
        rows.iter().position(|row| {
            let shift = (piece.y - row.y).abs() <= MAX_SHIFT * row.size;
            let free = row.pieces.iter().all(|other| {
                piece.x0 >= other.x1 - 0.1 * piece.size || piece.x1 <= other.x0 + 0.1 * piece.size
            });
            let close = row.pieces.iter().any(|other| {
                (piece.x0 - other.x1).abs() <= 0.5 * row.size || (other.x0 - piece.x1).abs() <= 0.5 * row.size
            });
            shift && free && close
        })
    };
    match same.or_else(near) {
        Some(index) => rows[index].pieces.push(piece),
        None => rows.push(Row { y: piece.y, size: piece.size, pieces: vec![piece] }),
    }
}

fn usual_size(pieces: &[Piece]) -> f32 {
    let mut sizes: Vec<f32> = pieces.iter().map(|piece| piece.size).collect();
    let middle = sizes.len() / 2;
    if sizes.is_empty() {
        return 0.0;
    }
    *sizes.select_nth_unstable_by(middle, f32::total_cmp).1
}

fn line(mut row: Row, page: u32, column: u8) -> Option<Line> {
    row.pieces.sort_by(|one, other| one.x0.total_cmp(&other.x0));
    let (x0, x1, y) = (row.pieces.first()?.x0, row.pieces.last()?.x1, row.y);
    let runs = runs(row);
    if runs.iter().all(|run| run.text.is_empty()) {
        return None;
    }
    let size = usual_run_size(&runs);
    let (indent, room, above) = (0.0, 0.0, f32::INFINITY);
    Some(Line { page, column, y, x0, x1, indent, room, size, above, runs, end: LineEnd::Space })
}

/// Makes runs of a row's pieces, from left to right.
fn runs(mut row: Row) -> Vec<Run> {
    // Most lines are one piece in one style, which is a line's run already.
    if let [piece] = &mut row.pieces[..]
        && piece.runs.len() == 1
        && !piece.is_dots()
    {
        let raised = is_raised(piece, (row.size, row.y));
        let mut runs = std::mem::take(&mut piece.runs);
        runs[0].before = Gap::None;
        runs[0].style.raised |= raised;
        return runs;
    }
    let leaders = leaders(&row.pieces);
    let loose = LOOSE * row.pieces.iter().map(|piece| piece.space).fold(0.0, f32::max);
    let mut runs: Vec<Run> = Vec::new();
    let mut leader = None;
    let mut end: Option<f32> = None;
    for (piece, is_leader) in row.pieces.into_iter().zip(leaders) {
        if is_leader {
            leader = Some(piece);
            continue;
        }
        let em = piece.size.max(runs.last().map_or(0.0, |run| run.size));
        let gap = match end {
            _ if leader.is_some() => Gap::Leader,
            Some(end) if piece.x0 - end > (WIDE * em).max(loose) => Gap::Wide,
            Some(end) if piece.x0 - end > WORD * em => Gap::Space,
            Some(_) | None => Gap::None,
        };
        leader = None;
        end = Some(piece.x1);
        let raised = is_raised(&piece, (row.size, row.y));
        for (index, mut run) in piece.runs.into_iter().enumerate() {
            run.before = if index == 0 { gap } else { run.before };
            run.style.raised |= raised;
            join(&mut runs, run);
        }
    }
    if let Some(Piece { x0, x1, size, .. }) = leader {
        let style = runs.last().map(|run| run.style).unwrap_or_default();
        runs.push(Run { text: String::new(), style, size, x0, x1, before: Gap::Leader });
    }
    runs
}

fn is_raised(piece: &Piece, (size, y): (f32, f32)) -> bool {
    piece.size < SMALL * size && piece.y < y - 0.1 * size
}

/// Tells for each piece whether it belongs to a leader: dots with others beside them, or with white space around them.
fn leaders(pieces: &[Piece]) -> Vec<bool> {
    (0..pieces.len())
        .map(|index| {
            let piece = &pieces[index];
            let apart = |other: Option<&Piece>, gap: fn(&Piece, &Piece) -> f32| {
                other.is_none_or(|other| other.is_dots() || gap(piece, other) > DOT_APART * piece.size)
            };
            let before = index.checked_sub(1).and_then(|before| pieces.get(before));
            piece.is_leader()
                || piece.is_dots()
                    && apart(before, |piece, other| piece.x0 - other.x1)
                    && apart(pieces.get(index + 1), |piece, other| other.x0 - piece.x1)
        })
        .collect()
}

/// Adds a run, joined to the last one where both are set alike.
fn join(runs: &mut Vec<Run>, mut run: Run) {
    let Some(last) = runs.last_mut() else {
        run.before = if run.before == Gap::Leader { Gap::Leader } else { Gap::None };
        runs.push(run);
        return;
    };
    let near = matches!(run.before, Gap::None | Gap::Space);
    let alike = last.style == run.style && (last.size - run.size).abs() < 0.02 * run.size;
    let small_capitals = is_small_capitals(last, &run);
    if near && (alike || small_capitals) {
        if run.before == Gap::Space {
            last.text.push(' ');
        }
        last.text.push_str(&run.text);
        last.x1 = run.x1;
        last.style.small_caps |= small_capitals;
        last.size = last.size.max(run.size);
        return;
    }
    runs.push(run);
}

/// Tells whether two runs are capitals and small capitals of one text.
fn is_small_capitals(last: &Run, run: &Run) -> bool {
    let capitals = |text: &str| text.chars().any(char::is_uppercase) && !text.chars().any(char::is_lowercase);
    let same_face =
        last.style.bold == run.style.bold && last.style.italic == run.style.italic && !run.style.raised;
    let smaller = SMALL_CAPITALS.contains(&(run.size / last.size));
    let larger = last.style.small_caps && (run.size - last.size).abs() < 0.02 * last.size;
    same_face
        && capitals(&last.text)
        && capitals(&run.text)
        && (smaller && (run.before == Gap::None || last.style.small_caps) || larger)
}

fn usual_run_size(runs: &[Run]) -> f32 {
    if let [run] = runs {
        return run.size;
    }
    let mut sizes: Vec<(f32, usize)> = Vec::new();
    for run in runs {
        let count = run.text.chars().count();
        match sizes.iter_mut().find(|(size, _)| (size - run.size).abs() < 0.05) {
            Some((_, sum)) => *sum += count,
            None => sizes.push((run.size, count)),
        }
    }
    sizes.iter().max_by_key(|(_, count)| *count).map_or(0.0, |(size, _)| *size)
}
