//! Keys while something lies over the screen: letters beside words, typing into a list, help, a choice.

use crate::reader::command::Command;
use crate::reader::place::{Anchor, Screen};
use crate::reader::press::Press;
use crate::reader::sheet;
use crate::reader::state::{Effect, Overlay, State};
use crate::reader::update::{going, moving};
use crate::reader::view;

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

/// Scrolls help or closes it; any other key says which do.
pub(super) fn help(state: &mut State, press: Press) -> Vec<Effect> {
    let command = state.keys.command(press, state.screen());
    let page = view::help_rows(state).saturating_sub(1).max(1);
    let Overlay::Help(top) = state.overlay else { return Vec::new() };
    let to = match (press, command) {
        (Press::Tab, _) => view::help_part(state, top, true),
        (Press::BackTab, _) => view::help_part(state, top, false),
        (_, Some(Command::Down)) => top.saturating_add(1),
        (_, Some(Command::Up)) => top.saturating_sub(1),
        (_, Some(Command::ScrollOn)) => top.saturating_add(page),
        (_, Some(Command::ScrollBack)) => top.saturating_sub(page),
        (_, Some(Command::First)) => 0,
        (_, Some(Command::Last)) => usize::MAX,
        (_, Some(Command::Close | Command::Help | Command::Back | Command::Follow | Command::Quit)) => {
            state.overlay = Overlay::None;
            return Vec::new();
        }
        (_, _) => {
            let shown = press.shown();
            state.say(format!(
                "{shown} does nothing in help; Esc closes it, and then {shown} is itself again."
            ));
            return Vec::new();
        }
    };
    state.overlay = Overlay::Help(to.min(view::help_most(state)));
    Vec::new()
}

/// Moves in a choice, takes a row of it or closes it; any other key says so.
pub(super) fn choose(state: &mut State, press: Press) -> Vec<Effect> {
    let command = state.keys.command(press, state.screen());
    let sign = |typed| state.keys.row_signs().position(|sign| sign == typed);
    let signed = if let Press::Char(typed) = press { sign(typed) } else { None };
    let Overlay::Choose { rows, at, .. } = &mut state.overlay else { return Vec::new() };
    let last = rows.len().saturating_sub(1);
    let picked = match (signed.filter(|row| *row <= last), press, command) {
        (Some(row), _, _) => rows.get(row),
        (None, Press::Down | Press::Tab, _) | (None, _, Some(Command::Down)) => {
            *at = (*at + 1).min(last);
            return Vec::new();
        }
        (None, Press::Up | Press::BackTab, _) | (None, _, Some(Command::Up)) => {
            *at = at.saturating_sub(1);
            return Vec::new();
        }
        (None, _, Some(Command::Follow)) => rows.get(*at),
        (None, _, Some(Command::Close | Command::Back | Command::Quit)) => None,
        (None, _, _) => {
            state.say(format!(
                "{} stands for no row; Enter takes the one at hand, Esc closes.",
                press.shown()
            ));
            return Vec::new();
        }
    };
    let item = picked.map(|(_, item)| item.clone());
    state.overlay = Overlay::None;
    if let Some(item) = item {
        state.visit(item);
    }
    Vec::new()
}
