//! Which cells of a page as printed are in view where the page is wider than the window, and the order of its columns.
//!
//! A page is never broken or narrowed: what does not fit is gone to sideways, so that no word of it is lost.

use crate::reader::measure::{MARGIN, main_width};
use crate::reader::sheet::Printed;
use crate::reader::state::State;
use crate::reader::textflow::columns;

/// Cells shown again after a step within a column that is wider than the window.
const OVERLAP: usize = 8;

/// Cells left of a mark that is brought into view inside such a column.
const BEFORE: usize = 2;

/// Returns the first cell in view, so that what is marked is in view too.
pub(crate) fn left(state: &State) -> usize {
    let Some(printed) = &state.sheet.printed else { return 0 };
    let most = most(state, printed);
    let left = state.way.here.across.min(most);
    let Some(stop) = state.way.here.cursor.stop.filter(|stop| !shown_from(state, *stop, left)) else {
        return left;
    };
    let start = cells(state, stop).0;
    let column =
        printed.columns.iter().rev().find(|column| **column <= start).copied().unwrap_or(0).min(most);
    if shown_from(state, stop, column) { column } else { start.saturating_sub(BEFORE).min(most) }
}

/// Returns the cell that one goes across to: the next column, or as far as the window goes; from the right edge the left.
pub(crate) fn next(state: &State) -> Option<usize> {
    let printed = state.sheet.printed.as_ref()?;
    let (left, most) = (left(state), most(state, printed));
    if most == 0 {
        return None;
    }
    if left == most {
        return Some(0);
    }
    let step = left + room(state).saturating_sub(OVERLAP).max(1);
    let column = printed.columns.iter().find(|column| **column > left);
    Some(column.map_or(step, |column| step.min(*column)).min(most))
}

/// Says whether the page goes on to the left and to the right of the window.
pub(crate) fn cut(state: &State) -> (bool, bool) {
    let Some(printed) = &state.sheet.printed else { return (false, false) };
    let left = left(state);
    (left > 0, left < most(state, printed))
}

/// Says whether all of a stop is in view from left to right; anywhere but on a page as printed it is.
pub(crate) fn shows(state: &State, stop: usize) -> bool {
    state.sheet.printed.is_none() || shown_from(state, stop, left(state))
}

/// Returns the stops of a page in the order of its columns, each from top to bottom.
pub(crate) fn order(state: &State) -> Vec<usize> {
    let edges = state.sheet.printed.as_ref().map_or(&[][..], |printed| &printed.columns);
    let column = |stop: &usize| {
        let start = cells(state, *stop).0;
        edges.partition_point(|edge| *edge <= start)
    };
    let mut order: Vec<usize> = (0..state.sheet.stops.len()).collect();
    order.sort_by_cached_key(column);
    order
}

/// Returns the last cell that the window may begin at.
fn most(state: &State, printed: &Printed) -> usize {
    printed.width.saturating_sub(room(state))
}

fn room(state: &State) -> usize {
    usize::from(main_width(state).saturating_sub(MARGIN))
}

fn shown_from(state: &State, stop: usize, left: usize) -> bool {
    let (start, end) = cells(state, stop);
    (left..left + room(state)).contains(&start) && (end <= left + room(state) || end - start > room(state))
}

/// Returns the cell of a stop's first character, and the one behind its last.
fn cells(state: &State, stop: usize) -> (usize, usize) {
    let place = state.sheet.stops.get(stop).and_then(|stop| {
        let plain = &state.sheet.blocks.get(stop.block)?.text.plain;
        let start = columns(plain.get(..stop.range.start)?);
        Some((start, start + columns(plain.get(stop.range.clone())?)))
    });
    place.unwrap_or_default()
}
