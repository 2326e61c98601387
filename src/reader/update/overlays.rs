//! Keys while something lies over the screen: letters beside words, typing into a list, help, a choice.

use crate::reader::command::Command;
use crate::reader::place::{Anchor, Screen};
use crate::reader::press::Press;
use crate::reader::sheet;
use crate::reader::state::{Effect, Overlay, State};
use crate::reader::update::{going, moving};

/// Puts letters beside the words.
pub(super) fn open_letters(state: &mut State) {
    if state.letters().is_empty() {
        state.message = Some("No word in view leads anywhere.".to_owned());
    } else {
        state.overlay = Overlay::Letters;
    }
}

/// Lists the terms of the item with their meanings; the one that is picked is opened.
pub(super) fn open_glosses(state: &mut State) {
    let Some(library) = &state.library else { return };
    let rows = sheet::glosses(library, &state.sheet);
    if rows.is_empty() {
        state.message = Some("No word here leads to a term.".to_owned());
    } else {
        state.overlay = Overlay::Choose { title: "Terms here".to_owned(), rows, at: 0 };
    }
}

/// Marks the word of a letter; any other key takes the letters away.
pub(super) fn letter(state: &mut State, press: Press) -> Vec<Effect> {
    let letters = state.letters();
    state.overlay = Overlay::None;
    if let Press::Char(typed) = press {
        let own = |stop: usize| state.sheet.stops.get(stop).is_some_and(|stop| stop.block == state.lead());
        let found = letters.iter().filter(|(letter, _)| *letter == typed).map(|(_, stop)| *stop);
        match found.clone().find(|stop| own(*stop)).or_else(|| found.clone().next()) {
            Some(stop) => moving::mark(state, stop),
            None => state.message = Some(format!("No word has the letter {typed}.")),
        }
    }
    Vec::new()
}

/// Begins typing into the list.
pub(super) fn type_into(state: &mut State) {
    state.overlay = Overlay::Typing;
}

/// Types into the list; Enter goes to the row at hand, and in a search only ends the typing; Esc takes it back.
pub(super) fn typed(state: &mut State, press: Press) -> Vec<Effect> {
    let Some(words) = state.way.here.item.typed_mut() else {
        state.overlay = Overlay::None;
        return Vec::new();
    };
    match press {
        Press::Char(letter) if words.chars().count() < LONGEST_TYPED => words.push(letter),
        Press::Backspace if words.pop().is_some() => {}
        Press::Esc => {
            words.clear();
            state.overlay = Overlay::None;
        }
        Press::Enter => {
            state.overlay = Overlay::None;
            // What a search found is read through first; a list is narrowed to go to one row of it.
            return if state.screen() == Screen::Find { Vec::new() } else { going::follow(state) };
        }
        Press::Down | Press::Tab => {
            moving::step(state, moving::Step::On);
            return Vec::new();
        }
        Press::Up | Press::BackTab => {
            moving::step(state, moving::Step::Back);
            return Vec::new();
        }
        Press::Char(_)
        | Press::Backspace
        | Press::Left
        | Press::Right
        | Press::Home
        | Press::End
        | Press::PageUp
        | Press::PageDown
        | Press::Function(_)
        | Press::Interrupt => return Vec::new(),
    }
    state.way.here.anchor = Anchor::default();
    state.settle();
    moving::row_at_hand(state, 0);
    Vec::new()
}

/// Most characters that can be typed into a list.
const LONGEST_TYPED: usize = 200;

/// Scrolls help; any key that does not scroll closes it.
pub(super) fn help(state: &mut State, press: Press) -> Vec<Effect> {
    let command = state.keys.command(press, state.screen());
    let page = crate::reader::view::help_rows(state).saturating_sub(1).max(1);
    let Overlay::Help(top) = &mut state.overlay else { return Vec::new() };
    match command {
        Some(Command::Down) => *top = top.saturating_add(1),
        Some(Command::Up) => *top = top.saturating_sub(1),
        Some(Command::ScrollOn) => *top = top.saturating_add(page),
        Some(Command::ScrollBack) => *top = top.saturating_sub(page),
        Some(Command::First) => *top = 0,
        Some(Command::Last) => *top = usize::MAX,
        _ => {
            state.overlay = Overlay::None;
            return Vec::new();
        }
    }
    let most = crate::reader::view::help_most(state);
    if let Overlay::Help(top) = &mut state.overlay {
        *top = (*top).min(most);
    }
    Vec::new()
}

/// Moves in a choice, takes it or closes it.
pub(super) fn choose(state: &mut State, press: Press) -> Vec<Effect> {
    let screen = state.screen();
    let command = state.keys.command(press, screen);
    let signed = if let Press::Char(typed) = press {
        state.keys.row_signs().position(|sign| sign == typed)
    } else {
        None
    };
    let Overlay::Choose { rows, at, .. } = &mut state.overlay else { return Vec::new() };
    let picked = match (signed, command) {
        (Some(row), _) => rows.get(row),
        (None, Some(Command::Follow)) => rows.get(*at),
        (None, Some(Command::Down)) => {
            *at = (*at + 1).min(rows.len().saturating_sub(1));
            return Vec::new();
        }
        (None, Some(Command::Up)) => {
            *at = at.saturating_sub(1);
            return Vec::new();
        }
        (None, _) => None,
    };
    let item = picked.map(|(_, item)| item.clone());
    state.overlay = Overlay::None;
    if let Some(item) = item {
        state.visit(item);
    }
    Vec::new()
}
