//! Where drawings stand: beside the text where a window is wide, else above it, or below the leads of a couplet, which are
//! never cut for one. Nothing is painted here.

use ratatui::layout::Rect;

use crate::reader::measure::{Cut, GUTTER, MARGIN, Row, couplet, pane_lines, side_by_side};
use crate::reader::place::Screen;
use crate::reader::sheet::Pane;
use crate::reader::state::State;

/// Rows of the smallest drawing, which has twice as many columns.
const LEAST_ROWS: u16 = 8;

/// Rows of the largest one; beyond that nothing more is seen.
const MOST_ROWS: u16 = 16;

/// Columns between two drawings.
const BETWEEN: u16 = 2;

/// Row over a drawing for what it shows.
const CAPTION: u16 = 1;

/// Rows that a text keeps below drawings.
const LEAST_TEXT: u16 = 8;

/// Body and definition as they are without drawings.
type Parts = (Rect, Option<(Rect, Pane)>);

/// Takes room for the drawings of the sheet; returns what is left of the parts, and the frame of each drawing shown.
pub(super) fn place(state: &State, inner: Rect, (body, pane): Parts) -> (Parts, Vec<Rect>) {
    if state.screen() == Screen::Couplet && !state.drawings {
        return ((body, pane), Vec::new());
    }
    place_wanted(state, inner, (body, pane))
}

/// Does the same for a couplet whose drawings may not be wanted.
pub(super) fn place_wanted(state: &State, inner: Rect, (body, pane): Parts) -> (Parts, Vec<Rect>) {
    let count = state.sheet.drawings.len() as u16;
    if count == 0 || state.dots.is_none() {
        return ((body, pane), Vec::new());
    }
    if side_by_side(state.screen(), inner.width) {
        return beside(inner, (body, pane), count);
    }
    if state.screen() == Screen::Couplet {
        let (body, frames) = below(state, body, count);
        return ((body, pane), frames);
    }
    let (body, frames) = above(body, count);
    ((body, pane), frames)
}

/// Says whether so many drawings have room above a text in a window.
pub(super) fn all_fit((width, height): (u16, u16), count: u16) -> bool {
    let body = Rect { x: 0, y: 0, width, height: height.saturating_sub(3) };
    above(body, count).1.len() == usize::from(count)
}

/// Sets drawings in the column at the right, under the definition if there is one.
fn beside(inner: Rect, (body, pane): Parts, count: u16) -> (Parts, Vec<Rect>) {
    let x = body.right() + 1;
    let column = Rect { x, width: inner.right().saturating_sub(x), ..inner };
    let Some((area, pane)) = pane else {
        return ((body, None), frames(column, count));
    };
    let need = 2 + pane_lines(&pane, area.width).len() as u16;
    if need + CAPTION + LEAST_ROWS > area.height {
        return ((body, Some((area, pane))), Vec::new());
    }
    let rest = Rect { y: area.y + need, height: area.height - need, ..area };
    ((body, Some((Rect { height: need, ..area }, pane))), frames(rest, count))
}

/// Sets drawings above a text, which keeps about half of the rows.
fn above(body: Rect, count: u16) -> (Rect, Vec<Rect>) {
    let half = (body.height / 2).max(CAPTION + LEAST_ROWS);
    let height = half.min(body.height.saturating_sub(LEAST_TEXT));
    let found = frames(Rect { height, ..body }, count);
    let used = found.iter().map(|frame| frame.bottom() - body.y).max().unwrap_or(0);
    (Rect { y: body.y + used, height: body.height - used, ..body }, found)
}

/// Sets drawings below leads that are all shown whole.
fn below(state: &State, body: Rect, count: u16) -> (Rect, Vec<Rect>) {
    let plan = couplet::plan(state, body.height);
    let whole = |row: &Row| match row {
        Row::Gap => true,
        Row::Hidden(_) => false,
        Row::Lead { cut, .. } => *cut == Cut::Whole,
    };
    if !plan.rows.iter().all(whole) {
        return (body, Vec::new());
    }
    let used = plan.rows.len() as u16 + 1;
    let rest = Rect { y: body.y + used, height: body.height.saturating_sub(used), ..body };
    let found = frames(rest, count);
    if found.is_empty() { (body, found) } else { (Rect { height: used, ..body }, found) }
}

/// Returns frames of one size, as large as fit: all of them if they can be, else as many of the smallest as have room.
fn frames(area: Rect, count: u16) -> Vec<Rect> {
    let width = area.width.saturating_sub(GUTTER + MARGIN);
    let across = |rows: u16| (width + BETWEEN) / (2 * rows + BETWEEN);
    let down = |rows: u16| area.height / (rows + CAPTION);
    let fits = |rows: &u16| across(*rows) * down(*rows) >= count;
    let rows = (LEAST_ROWS..=MOST_ROWS).rev().find(fits).unwrap_or(LEAST_ROWS);
    let (across, down) = (across(rows), down(rows));
    (0..count.min(across * down))
        .map(|at| Rect {
            x: area.x + GUTTER + at % across * (2 * rows + BETWEEN),
            y: area.y + at / across * (rows + CAPTION),
            width: 2 * rows,
            height: rows + CAPTION,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks how many drawings are shown in an area, and their size in cells.
    #[track_caller]
    fn check_frames((width, height): (u16, u16), count: u16, expected: (usize, (u16, u16))) {
        let found = frames(Rect { x: 0, y: 2, width, height }, count);
        let size = found.first().map_or((0, 0), |frame| (frame.width, frame.height - CAPTION));
        assert_eq!((found.len(), size), expected);
        let inside = |frame: &Rect| frame.right() <= width && frame.bottom() <= height + 2;
        assert!(found.iter().all(inside), "{found:?}");
        let apart =
            |(at, frame): (usize, &Rect)| found[at + 1..].iter().all(|other| !frame.intersects(*other));
        assert!(found.iter().enumerate().all(apart), "{found:?}");
    }

    #[test]
    fn drawings_are_as_large_as_fit() {
        check_frames((80, 10), 1, (1, (18, 9)));
        check_frames((80, 10), 4, (4, (16, 8)));
        check_frames((80, 10), 3, (3, (18, 9)));
        check_frames((48, 37), 4, (4, (20, 10)));
        check_frames((48, 37), 1, (1, (32, 16)));
    }

    #[test]
    fn four_drawings_to_choose_from_need_more_than_the_smallest_window() {
        assert_eq!([(60, 20), (80, 24), (60, 40)].map(|size| all_fit(size, 4)), [false, true, true]);
    }

    #[test]
    fn what_has_no_room_is_left_out() {
        check_frames((60, 9), 5, (3, (16, 8)));
        check_frames((60, 8), 1, (0, (0, 0)));
        check_frames((17, 20), 1, (0, (0, 0)));
    }
}
