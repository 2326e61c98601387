//! What helps the hands: another layout of keys, the mouse on and off, a place beside this one, copying, writing, the tour.

use crate::reader::command::Command;
use crate::reader::guide::Guide;
use crate::reader::keys::KeyMap;
use crate::reader::library::Library;
use crate::reader::out;
use crate::reader::place::Place;
use crate::reader::state::{Effect, Mouse, State};
use crate::reader::update::leads;
use crate::store::slug;

/// Changes to the next layout of keys.
pub(super) fn layout(state: &mut State) {
    let next = state.keys.layout().after();
    state.keys = state.keys.with(next);
    let words = next.words();
    let said = "{down} {up} move, {follow} goes, {back} steps back, {menu} lists the rest; F1 is help.";
    state.stale();
    state.say(format!("{words}: {said}"));
}

/// Switches the mouse off or on.
pub(super) fn mouse(state: &mut State) -> Vec<Effect> {
    let (mouse, said) = match state.mouse {
        Mouse::On => {
            (Mouse::Off, "The mouse is left to the terminal, to select with; {mouse} takes it back.")
        }
        Mouse::Off => {
            (Mouse::On, "The mouse works here: a row, word, lead or key is clicked; {mouse} leaves it.")
        }
    };
    state.mouse = mouse;
    state.say(said);
    vec![Effect::Mouse(mouse)]
}

/// Sets a place beside the one that is read, or closes what stands there.
pub(super) fn split(state: &mut State) {
    if state.side.is_some() {
        state.set_beside(None);
        return;
    }
    match other(state) {
        Some(place) => state.set_beside(Some(place)),
        None => {
            state.say("There is nothing yet to set beside this: mark a term, or go to another place first.");
        }
    }
}

/// Returns what one would want beside this: the marked term or name, the treatment that the lead at hand names, else the
/// place before.
fn other(state: &State) -> Option<Place> {
    let library = state.library.as_ref()?;
    let named =
        [Command::Define, Command::Open].into_iter().flat_map(|command| leads::places(state, command));
    let named = named.map(|(_, item)| item).find(|item| *item != state.way.here.item).map(Place::at);
    let (back, _) = state.way.places();
    let before = || back.iter().rev().find(|place| place.item != state.way.here.item).cloned();
    named.or_else(before).filter(|place| library.has(&place.item))
}

/// Changes the place that is read for the one beside it; both keep line and mark.
pub(super) fn swap(state: &mut State) {
    let Some(side) = state.side.take() else {
        state.say("Nothing stands beside this; {split} sets something there.");
        return;
    };
    let here = std::mem::replace(&mut state.way.here, side.place);
    state.settle();
    state.set_beside(Some(here));
}

/// Hands what is shown to the clipboard.
pub(super) fn copy(state: &mut State) -> Vec<Effect> {
    let Some(text) = text(state) else { return Vec::new() };
    let said = "Copied with its citation, if this terminal takes texts (in tmux: set-clipboard on); {print} writes a file.";
    state.say(said);
    vec![Effect::Copy(text)]
}

/// Has what is shown written to a file.
pub(super) fn print(state: &mut State) -> Vec<Effect> {
    let Some(text) = text(state) else { return Vec::new() };
    let name = slug(&state.sheet.title);
    vec![Effect::Print(name, text)]
}

fn text(state: &mut State) -> Option<String> {
    if state.library.is_none() {
        state.say("No flora is open; there is nothing to copy.");
        return None;
    }
    Some(out::plain(state))
}

/// Begins the tour at the first couplet, or leaves it.
pub(super) fn tour(state: &mut State) {
    if let Some(Guide::Tour(_)) = state.guide {
        state.guide = None;
        state.say("The tour ends here; {tour} begins it again.");
        return;
    }
    let Some(library) = &state.library else {
        state.say("The tour needs a flora: `ligule demo --tour` has one.");
        return;
    };
    if library.first_couplet().is_none() {
        state.say("This flora has no key to go through; `ligule demo --tour` has one.");
        return;
    }
    begin_tour(state);
}

/// Begins the tour at the first couplet of the flora; without one there is none.
pub(crate) fn begin_tour(state: &mut State) {
    let start = state.library.as_ref().and_then(Library::first_couplet);
    if let Some(start) = start {
        state.visit(start);
        state.guide = Some(Guide::Tour(0));
    }
}

/// Takes the reader's own changes of keys into the layout.
pub(crate) fn own_keys(state: &mut State, text: &str) -> Vec<String> {
    let (changes, wrong) = crate::reader::keys::read(text);
    state.keys = KeyMap::new(state.keys.layout(), changes);
    wrong
}
