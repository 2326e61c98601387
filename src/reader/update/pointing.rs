//! What the mouse does: a lead is taken in hand, a word marked, a row followed, a key of the foot pressed, and the wheel
//! goes on or back. Whatever it does a key does too.

use crate::reader::command::Command;
use crate::reader::measure::{self, GUTTER, Row};
use crate::reader::place::Screen;
use crate::reader::pointer::Pointed;
use crate::reader::press::Press;
use crate::reader::sheet::{Go, Kind};
use crate::reader::state::{Effect, Overlay, State};
use crate::reader::textflow;
use crate::reader::update::moving::{self, Step};
use crate::reader::update::{going, perform, picking, pressed};
use crate::reader::view::foot_key;

/// Lines of a text that one notch of the wheel goes on.
const WHEEL_LINES: usize = 3;

/// Does what the mouse says.
pub(super) fn pointed(state: &mut State, pointed: Pointed) -> Vec<Effect> {
    match pointed {
        Pointed::WheelDown => wheel(state, Press::Down),
        Pointed::WheelUp => wheel(state, Press::Up),
        Pointed::At(x, y) => at(state, (x, y)),
    }
}

fn wheel(state: &mut State, press: Press) -> Vec<Effect> {
    if state.overlay == Overlay::None {
        let lines =
            if state.screen().is_list() || state.screen() == Screen::Couplet { 1 } else { WHEEL_LINES };
        let way = if press == Press::Down { Step::On } else { Step::Back };
        (0..lines).for_each(|_| moving::step(state, way));
        return Vec::new();
    }
    if matches!(state.overlay, Overlay::Letters | Overlay::Ask { .. }) {
        Vec::new()
    } else {
        pressed(state, press)
    }
}

fn at(state: &mut State, (x, y): (u16, u16)) -> Vec<Effect> {
    let areas = measure::areas(state);
    if y == areas.foot.y {
        return foot_key(state, x).map(|press| pressed(state, press)).unwrap_or_default();
    }
    match &state.overlay {
        Overlay::Help(_) => {
            state.overlay = Overlay::None;
            return Vec::new();
        }
        Overlay::Pick(_) => return pick_row(state, y),
        Overlay::Choose { .. } => return choice_row(state, y),
        Overlay::Amend(_) => return form_row(state, y),
        Overlay::Ask { .. } => return Vec::new(),
        Overlay::Letters | Overlay::Typing => state.overlay = Overlay::None,
        Overlay::None => {}
    }
    let areas = measure::areas(state);
    let place = (x, y).into();
    if areas.prompt.is_some_and(|prompt| prompt.contains(place)) {
        return perform(state, Command::Narrow, Press::Enter);
    }
    if areas.side.is_some_and(|side| side.contains(place)) {
        return perform(state, Command::Swap, Press::Enter);
    }
    if areas.pane.as_ref().is_some_and(|(pane, _)| pane.contains(place)) {
        return perform(state, Command::Define, Press::Enter);
    }
    if !areas.body.contains(place) {
        return Vec::new();
    }
    let (x, row) = (x - areas.body.x, y - areas.body.y);
    if state.screen() == Screen::Couplet { on_couplet(state, (x, row)) } else { on_text(state, (x, row)) }
}

/// Picks the row of a list that lies over the screen.
fn pick_row(state: &mut State, y: u16) -> Vec<Effect> {
    let room = measure::pick_rows(state);
    let first = measure::pick_first(state);
    let Overlay::Pick(pick) = &mut state.overlay else { return Vec::new() };
    let at = pick.top(room) + usize::from(y.saturating_sub(first));
    if y < first || at >= pick.shown().len() {
        return Vec::new();
    }
    pick.at = at;
    picking::take(state)
}

/// Takes the row of the form of an amendment.
fn form_row(state: &mut State, y: u16) -> Vec<Effect> {
    let (first, room) = measure::form_rows(state);
    let Overlay::Amend(form) = &mut state.overlay else { return Vec::new() };
    let at = form.top(room) + usize::from(y.saturating_sub(first));
    if y < first || at >= form.shown().len() {
        return Vec::new();
    }
    form.at = at;
    pressed(state, Press::Enter)
}

/// Picks the place of a choice, which stands at the foot of the screen.
fn choice_row(state: &mut State, y: u16) -> Vec<Effect> {
    let foot = measure::areas(state).foot.y;
    let Overlay::Choose { rows, at, .. } = &mut state.overlay else { return Vec::new() };
    let (top, shown) = measure::choice_rows(state.size, rows.len(), *at);
    let from_foot = usize::from(foot.saturating_sub(y));
    if from_foot == 0 || from_foot > shown {
        state.overlay = Overlay::None;
        return Vec::new();
    }
    *at = top + shown - from_foot;
    pressed(state, Press::Enter)
}

/// Takes a lead in hand or marks a word of it; the label and target of the lead at hand take it.
fn on_couplet(state: &mut State, (x, row): (u16, u16)) -> Vec<Effect> {
    let plan = measure::plan(state, measure::areas(state).body.height);
    let Some(Row::Lead { lead, line, target, .. }) = plan.rows.get(usize::from(row)).cloned() else {
        return Vec::new();
    };
    let text = GUTTER + measure::label_width(&state.sheet) as u16 + 1;
    let word = line.and_then(|line| word_at(state, line, x.checked_sub(text)?));
    if let Some(stop) = word {
        return on_word(state, stop);
    }
    let line_end = line.and_then(|line| {
        let line = state.flow.lines.get(line)?;
        let words = state.sheet.blocks.get(line.block)?.text.plain.get(line.range.clone())?;
        Some(text + textflow::columns(words) as u16)
    });
    let on_target = target.is_some() && line_end.is_none_or(|end| x > end);
    if lead == state.lead() && (x < text || on_target) {
        return going::follow(state);
    }
    moving::take_in_hand(state, lead);
    Vec::new()
}

/// Marks a word of a text, or follows a row.
fn on_text(state: &mut State, (x, row): (u16, u16)) -> Vec<Effect> {
    let top = state.top(measure::areas(state).body.height);
    let Some(line) = state.flow.lines.get(top + usize::from(row)) else { return Vec::new() };
    let block = line.block;
    if state.screen().is_list() {
        let Some(stop) = state.sheet.stops.iter().position(|stop| stop.block == block) else {
            return Vec::new();
        };
        moving::row_at_hand(state, stop);
        if matches!(state.sheet.stops[stop].go, Go::Tick(..)) {
            return Vec::new();
        }
        return going::follow(state);
    }
    match word_on_line(state, top + usize::from(row), x) {
        Some(stop) => on_word(state, stop),
        None => Vec::new(),
    }
}

/// Marks a word; clicked again it is followed.
fn on_word(state: &mut State, stop: usize) -> Vec<Effect> {
    if state.way.here.cursor.stop != Some(stop) {
        moving::mark(state, stop);
        return Vec::new();
    }
    if state.screen() == Screen::Couplet {
        let command = match state.sheet.stops[stop].go {
            Go::To(crate::reader::place::Item::Treatment(_)) => Command::Open,
            _ => Command::Define,
        };
        return perform(state, command, Press::Enter);
    }
    going::follow(state)
}

/// Returns the word of a text at a column of its area, also of paragraphs set beside each other.
fn word_on_line(state: &State, line: usize, x: u16) -> Option<usize> {
    let found = state.flow.lines.get(line)?;
    let set = state.sheet.blocks.get(found.block)?.kind == Kind::Set;
    if set {
        let cell = usize::from(x) + measure::page::left(state);
        return stop_at(state, (found.block, 0), cell);
    }
    let lines = std::iter::once(found).chain(&found.beside).filter(|line| GUTTER + line.indent <= x);
    let line = lines.max_by_key(|line| line.indent)?;
    let cell = usize::from(x - GUTTER - line.indent);
    let words = state.sheet.blocks.get(line.block)?.text.plain.get(line.range.clone())?;
    (cell < textflow::columns(words)).then(|| stop_at(state, (line.block, line.range.start), cell)).flatten()
}

/// Returns the word of a lead at a column of its text.
fn word_at(state: &State, line: usize, x: u16) -> Option<usize> {
    let line = state.flow.lines.get(line)?;
    let words = state.sheet.blocks.get(line.block)?.text.plain.get(line.range.clone())?;
    let inside = usize::from(x) < textflow::columns(words);
    inside.then(|| stop_at(state, (line.block, line.range.start), usize::from(x))).flatten()
}

/// Returns the stop at a cell of a paragraph, counted from a byte on.
fn stop_at(state: &State, (block, from): (usize, usize), cell: usize) -> Option<usize> {
    let words = state.sheet.blocks.get(block)?.text.plain.get(from..)?;
    let byte = from + textflow::byte_at(words, cell);
    state.sheet.stops.iter().position(|stop| stop.block == block && stop.range.contains(&byte))
}
