//! The lists that lie over the screen: everything that can be done, marks, the places of the way. Picking a row never
//! loses the way: a place of it is stepped to along it.

use crate::reader::command::Command;
use crate::reader::marks::Marked;
use crate::reader::measure;
use crate::reader::pick::{By, Does, Pick, Row};
use crate::reader::press::Press;
use crate::reader::state::{Effect, Overlay, State};
use crate::reader::title;
use crate::reader::update::leads::possible;
use crate::reader::update::perform;

/// Most characters that can be typed.
const LONGEST_TYPED: usize = 100;

/// Lists what can be done here, what has no letter of its own first.
pub(super) fn open_menu(state: &mut State) {
    let here = |command: &&Command| {
        command.applies(state.screen()) && possible(state, **command) && !by_figure(**command)
    };
    let row = |command: &Command| Row {
        before: state.keys.shown(*command),
        words: command.row().help.to_owned(),
        does: Does::Command(*command),
    };
    let lettered = |command: &&Command| {
        state.keys.presses(**command).iter().any(|press| matches!(press, Press::Char(_)))
    };
    let all = Command::ALL.iter().filter(here).filter(|command| **command != Command::Menu);
    let (lettered, bare): (Vec<&Command>, Vec<&Command>) = all.partition(lettered);
    let rows: Vec<Row> = bare.into_iter().chain(lettered).map(row).collect();
    state.overlay = Overlay::Pick(Pick {
        title: "What can be done here".to_owned(),
        hint: "the sign or Enter does it, Esc closes".to_owned(),
        rows,
        by: By::Signs,
        typed: String::new(),
        at: 0,
    });
}

/// Says whether a command is one of the figures, which a list has no use for.
fn by_figure(command: Command) -> bool {
    matches!(command, Command::Take | Command::Tick | Command::Answer)
}

/// Sets a mark at the place, or takes it away again.
pub(super) fn mark(state: &mut State) {
    let Some(library) = &state.library else {
        state.say("No flora is open; there is nothing to mark.");
        return;
    };
    let here = &state.way.here;
    let own = |mark: &Marked| mark.place.item == here.item && mark.place.anchor == here.anchor;
    if let Some(at) = state.marks.iter().position(own) {
        let mark = state.marks.remove(at);
        state.say(format!("The mark at {} is taken away.", mark.words));
        return;
    }
    let mark = Marked::of(library, here);
    let said = format!("Marked: {}. {{marks}} lists the marks, {{mark}} takes this one away.", mark.words);
    state.marks.push(mark);
    state.say(said);
}

/// Lists the marks, the latest first.
pub(super) fn open_marks(state: &mut State) {
    let row = |(at, mark): (usize, &Marked)| {
        let lost = state.library.as_ref().is_some_and(|library| !mark.holds(library));
        let words = format!("{}{}", mark.words, if lost { " · not there any more" } else { "" });
        Row { before: String::new(), words, does: Does::Mark(at) }
    };
    let rows: Vec<Row> = state.marks.iter().enumerate().rev().map(row).collect();
    open(state, ("Marks", "There is no mark yet; {mark} sets one here."), (rows, 0));
}

/// Lists the places of the way, the farthest ahead first and then back to where it begins.
pub(super) fn open_places(state: &mut State) {
    let Some(library) = &state.library else {
        state.say("No flora is open; the shelf is all there is.");
        return;
    };
    let row = |before: &str, place: &crate::reader::place::Place, does| Row {
        before: before.to_owned(),
        words: title::of(library, &place.item),
        does,
    };
    let (back, forward) = state.way.places();
    let ahead =
        forward.iter().enumerate().map(|(at, place)| row("ahead", place, Does::Forward(forward.len() - at)));
    let behind = back.iter().rev().enumerate().map(|(at, place)| row("before", place, Does::Back(at + 1)));
    let here = row("here", &state.way.here, Does::Stay);
    let at = forward.len();
    let rows: Vec<Row> = ahead.chain([here]).chain(behind).collect();
    open(state, ("Places you came by", ""), (rows, at));
}

fn open(state: &mut State, (title, none): (&str, &str), (rows, at): (Vec<Row>, usize)) {
    if rows.is_empty() {
        state.say(none);
        return;
    }
    state.overlay = Overlay::Pick(Pick {
        title: title.to_owned(),
        hint: "Enter goes there, Esc closes".to_owned(),
        rows,
        by: By::Typing,
        typed: String::new(),
        at,
    });
}

/// Moves in the list, types into it, picks a row or closes it.
pub(super) fn pressed(state: &mut State, press: Press) -> Vec<Effect> {
    let room = measure::pick_rows(state);
    let signs: Vec<char> = state.keys.signs().take(room).collect();
    let Overlay::Pick(pick) = &mut state.overlay else { return Vec::new() };
    let last = pick.shown().len().saturating_sub(1);
    match (press, pick.by) {
        (Press::Char(' ') | Press::PageDown, By::Signs) | (Press::PageDown, By::Typing) => {
            pick.at = (pick.at + room).min(last);
        }
        (Press::PageUp, _) => pick.at = pick.at.saturating_sub(room),
        (Press::Char(letter), By::Signs) => {
            let top = pick.top(room);
            let found = signs.iter().position(|sign| *sign == letter).map(|at| top + at);
            let Some(at) = found.filter(|at| *at <= last) else {
                state.say(format!("No row has the sign {letter}."));
                return Vec::new();
            };
            pick.at = at;
            return take(state);
        }
        (Press::Char(letter), By::Typing) if pick.typed.chars().count() < LONGEST_TYPED => {
            pick.typed.push(letter);
            pick.at = 0;
        }
        (Press::Backspace, By::Typing) if pick.typed.pop().is_some() => pick.at = 0,
        (Press::Down | Press::Tab, _) => pick.at = (pick.at + 1).min(last),
        (Press::Up | Press::BackTab, _) => pick.at = pick.at.saturating_sub(1),
        (Press::Home, _) => pick.at = 0,
        (Press::End, _) => pick.at = last,
        (Press::Enter, _) => return take(state),
        (Press::Esc | Press::Backspace, _) => state.overlay = Overlay::None,
        (Press::Char(_) | Press::Left | Press::Right | Press::Function(_) | Press::Interrupt, _) => {}
    }
    Vec::new()
}

/// Takes the row at hand.
pub(super) fn take(state: &mut State) -> Vec<Effect> {
    let Overlay::Pick(pick) = &state.overlay else { return Vec::new() };
    let Some(does) = pick.shown().get(pick.at).map(|row| row.does.clone()) else {
        state.say("No row has these words.");
        return Vec::new();
    };
    state.overlay = Overlay::None;
    match does {
        Does::Command(command) => {
            let press = state.keys.presses(command).first().copied().unwrap_or(Press::Enter);
            return perform(state, command, press);
        }
        Does::Back(steps) => _ = (0..steps).take_while(|_| state.way.step_back()).count(),
        Does::Forward(steps) => _ = (0..steps).take_while(|_| state.way.step_forward()).count(),
        Does::Stay => {}
        Does::Mark(at) => go_to_mark(state, at),
    }
    Vec::new()
}

/// Goes to a mark at its very line and word.
fn go_to_mark(state: &mut State, at: usize) {
    let (Some(mark), Some(library)) = (state.marks.get(at), &state.library) else { return };
    if !mark.holds(library) {
        let said = format!("{} is not in this reading of the book any more; the mark is kept.", mark.words);
        state.say(said);
        return;
    }
    let place = mark.place.clone();
    if place == state.way.here {
        state.say("You are there already.");
        return;
    }
    state.way.visit(place);
    state.settle();
}
