//! Moving within an item: leads, rows, marked words, lines. The item stays the same, but for the folds of the tree.

use crate::reader::measure;
use crate::reader::place::{Anchor, Item, Place, Screen};
use crate::reader::sheet::{Go, Stop};
use crate::reader::state::State;

/// Which way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// Onward.
    On,
    /// Back.
    Back,
}

impl Step {
    fn from(self, at: usize, by: usize) -> usize {
        match self {
            Self::On => at.saturating_add(by),
            Self::Back => at.saturating_sub(by),
        }
    }
}

/// Says whether rows are gone through, not lines.
fn is_list(state: &State) -> bool {
    state.screen().is_list()
}

/// Moves by one lead, row or line.
pub(super) fn step(state: &mut State, step: Step) {
    if state.screen() == Screen::Couplet {
        let lead = step.from(state.lead(), 1).min(state.sheet.leads.len().saturating_sub(1));
        take_in_hand(state, lead);
    } else if is_list(state) {
        let row = step.from(state.way.here.cursor.stop.unwrap_or(0), 1);
        row_at_hand(state, row);
    } else {
        scroll_lines(state, step, 1);
    }
}

/// Moves by a screenful.
pub(super) fn scroll(state: &mut State, step: Step) {
    let rows = usize::from(measure::areas(state).body.height);
    if state.screen() == Screen::Couplet {
        scroll_lead(state, step);
    } else if is_list(state) {
        let page = (rows.saturating_sub(1)).max(1);
        let row = step.from(state.way.here.cursor.stop.unwrap_or(0), page);
        row_at_hand(state, row);
    } else {
        scroll_lines(state, step, rows.saturating_sub(1).max(1));
    }
}

/// Moves to the first or last lead, row or line.
pub(super) fn end(state: &mut State, step: Step) {
    if state.screen() == Screen::Couplet {
        let last = state.sheet.leads.len().saturating_sub(1);
        take_in_hand(state, if step == Step::On { last } else { 0 });
    } else if is_list(state) {
        row_at_hand(state, step.from(if step == Step::On { usize::MAX } else { 0 }, 0));
    } else {
        scroll_lines(state, step, state.flow.lines.len());
    }
}

/// Marks the next word, or the one before; on a couplet the lead of the word is taken in hand.
pub(super) fn word(state: &mut State, way: Step) {
    let Some(stop) = next_stop(state, way) else {
        state.message = Some("No word here leads anywhere.".to_owned());
        return;
    };
    mark(state, stop);
}

/// Marks a word and brings it into view.
pub(super) fn mark(state: &mut State, stop: usize) {
    let Some(block) = state.sheet.stops.get(stop).map(|stop| stop.block) else { return };
    state.way.here.cursor.stop = Some(stop);
    if state.screen() == Screen::Couplet {
        if block != state.lead() {
            state.way.here.cursor.lead = block;
            state.way.here.anchor = Anchor { paragraph: block, byte: 0 };
        }
        anchor_lead(state);
    } else {
        anchor_top(state);
        state.way.here.across = measure::page::left(state);
    }
}

/// Rows of a page left above what one comes from.
const ROWS_ABOVE: usize = 2;

/// Marks on a page as printed what one came from: the lead at hand, the heading of the treatment, the entry of the term.
pub(super) fn mark_on_page(state: &mut State, from: &Place) {
    if state.screen() != Screen::Printed {
        return;
    }
    let is_from = |stop: &Stop| match (&from.item, &stop.go) {
        (Item::Treatment(id), _) => stop.taxon == Some(*id),
        (Item::Couplet(..), Go::Paragraph(item, lead)) => *item == from.item && *lead == from.cursor.lead,
        (Item::Term(words), Go::To(Item::Term(entry))) => {
            words.iter().any(|word| entry.iter().any(|entry| entry.to_lowercase() == word.to_lowercase()))
        }
        _ => false,
    };
    let Some(found) = state.sheet.stops.iter().position(is_from) else { return };
    let paragraph = state.sheet.stops[found].block.saturating_sub(ROWS_ABOVE);
    state.way.here.anchor = Anchor { paragraph, byte: 0 };
    mark(state, found);
}

/// Goes across a page that is wider than the window; a mark that leaves the window is taken away.
pub(super) fn across(state: &mut State) {
    let Some(next) = measure::page::next(state) else {
        state.message = Some("The page is in view from edge to edge.".to_owned());
        return;
    };
    let marked = state.way.here.cursor.stop.take();
    state.way.here.across = next;
    state.way.here.cursor.stop = marked.filter(|stop| measure::page::shows(state, *stop));
}

/// Takes the mark away.
pub(super) fn unmark(state: &mut State) {
    if !is_list(state) {
        state.way.here.cursor.stop = None;
    }
}

/// Shows the members of the taxon at hand, or hides them.
pub(super) fn fold(state: &mut State, way: Step) {
    let stop = state.way.here.cursor.stop.and_then(|stop| state.sheet.stops.get(stop));
    let Some(taxon) = stop.and_then(|stop| stop.taxon) else { return };
    let parent = state.library.as_ref().and_then(|library| library.taxon_row(taxon)?.parent);
    let Item::Taxa { open, .. } = &mut state.way.here.item else { return };
    let at_hand = match way {
        Step::On => {
            open.insert(taxon);
            taxon
        }
        Step::Back if open.remove(&taxon) => taxon,
        Step::Back => {
            let Some(parent) = parent else { return };
            open.remove(&parent);
            parent
        }
    };
    state.settle();
    let row = state.sheet.stops.iter().position(|stop| stop.taxon == Some(at_hand));
    row_at_hand(state, row.unwrap_or(0));
}

/// Puts the cursor on a row, or on the last one, if there is any.
pub(super) fn row_at_hand(state: &mut State, row: usize) {
    let Some(last) = state.sheet.stops.len().checked_sub(1) else { return };
    state.way.here.cursor.stop = Some(row.min(last));
    anchor_top(state);
}

/// Takes a lead in hand.
pub(super) fn take_in_hand(state: &mut State, lead: usize) {
    if lead != state.lead() {
        state.way.here.cursor.lead = lead;
        state.way.here.anchor = Anchor { paragraph: lead, byte: 0 };
    }
}

fn next_stop(state: &State, step: Step) -> Option<usize> {
    let stops = &state.sheet.stops;
    let last = stops.len().checked_sub(1)?;
    let marked = state.way.here.cursor.stop.filter(|stop| *stop <= last);
    if state.screen() == Screen::Couplet {
        let lead = state.lead();
        let Some(marked) = marked.filter(|marked| stops[*marked].block == lead) else {
            let own = |stop: &usize| stops[*stop].block == lead;
            return match step {
                Step::On => (0..stops.len()).find(|stop| stops[*stop].block >= lead).or(Some(0)),
                Step::Back => (0..stops.len()).rev().find(own).or(Some(last)),
            };
        };
        return Some(around(marked, last, step));
    }
    if state.screen() == Screen::Printed {
        return next_on_page(state, marked, step);
    }
    if let Some(marked) = marked {
        return Some(around(marked, last, step));
    }
    let mut all = 0..stops.len();
    match step {
        Step::On => all.find(|stop| state.in_view(*stop)).or_else(|| after_top(state)).or(Some(0)),
        Step::Back => all.rev().find(|stop| state.in_view(*stop)).or(Some(last)),
    }
}

/// Returns the next stop of a page as printed, down one column and then down the next.
fn next_on_page(state: &State, marked: Option<usize>, step: Step) -> Option<usize> {
    let order = measure::page::order(state);
    let place = marked.and_then(|marked| order.iter().position(|stop| *stop == marked));
    let found = match (place, step) {
        (Some(place), _) => Some(around(place, order.len() - 1, step)),
        (None, Step::On) => order.iter().position(|stop| state.in_view(*stop)).or(Some(0)),
        (None, Step::Back) => {
            order.iter().rposition(|stop| state.in_view(*stop)).or_else(|| order.len().checked_sub(1))
        }
    };
    found.and_then(|place| order.get(place)).copied()
}

/// Returns the first stop below the top of the window.
fn after_top(state: &State) -> Option<usize> {
    let top = state.top(measure::areas(state).body.height);
    (0..state.sheet.stops.len()).find(|stop| state.line_of_stop(*stop).is_some_and(|line| line >= top))
}

/// Returns the stop after or before; behind the last comes the first.
fn around(marked: usize, last: usize, step: Step) -> usize {
    match step {
        Step::On if marked == last => 0,
        Step::On => marked + 1,
        Step::Back if marked == 0 => last,
        Step::Back => marked - 1,
    }
}

fn scroll_lines(state: &mut State, step: Step, lines: usize) {
    let height = measure::areas(state).body.height;
    let most = state.flow.lines.len().saturating_sub(usize::from(height));
    let top = step.from(state.top(height), lines).min(most);
    state.way.here.anchor = state.flow.anchor(top);
    let marked = state.way.here.cursor.stop.and_then(|stop| state.line_of_stop(stop));
    if marked.is_some_and(|line| !(top..top + usize::from(height)).contains(&line)) {
        state.way.here.cursor.stop = None;
    }
}

/// Scrolls the lead at hand; a mark that leaves the window is taken away.
fn scroll_lead(state: &mut State, step: Step) {
    let plan = measure::plan(state, measure::areas(state).body.height);
    let most = plan.all.saturating_sub(plan.shown);
    let top = step.from(plan.top, plan.shown.saturating_sub(1).max(1)).min(most);
    if most == 0 {
        state.message = Some("The lead is shown whole.".to_owned());
        return;
    }
    if let Some(anchor) = plan.anchors.get(top) {
        state.way.here.anchor = *anchor;
    }
    let own = |stop: usize| state.sheet.stops.get(stop).is_some_and(|stop| stop.block == state.lead());
    if state.way.here.cursor.stop.is_some_and(own) {
        let after = measure::plan(state, measure::areas(state).body.height);
        if after.top != top {
            state.way.here.cursor.stop = None;
        }
    }
}

/// Makes what is at the top of the window the anchor.
fn anchor_top(state: &mut State) {
    let top = state.top(measure::areas(state).body.height);
    state.way.here.anchor = state.flow.anchor(top);
}

/// Makes what is at the top of the lead at hand the anchor.
fn anchor_lead(state: &mut State) {
    let plan = measure::plan(state, measure::areas(state).body.height);
    if let Some(anchor) = plan.anchors.get(plan.top) {
        state.way.here.anchor = *anchor;
    }
}
