//! An answer to a press that changed nothing, so that none is silent: the state before and after in, one line out. What a
//! press does is not known here.

use crate::reader::command::Command;
use crate::reader::guide::Guide;
use crate::reader::keys::Layout;
use crate::reader::place::{Place, Screen};
use crate::reader::press::Press;
use crate::reader::state::{Density, Mouse, Overlay, State};

/// What a press can change that is seen; what is decided and ticked is put together anew, which shows as well.
#[derive(PartialEq, Eq)]
pub(super) struct Before {
    here: Place,
    depth: usize,
    overlay: Overlay,
    beside: Option<Place>,
    theme: String,
    density: Density,
    drawings: bool,
    layout: Layout,
    mouse: Mouse,
    guide: Option<Guide>,
}

/// Notes what there is.
pub(super) fn before(state: &State) -> Before {
    Before {
        here: state.way.here.clone(),
        depth: state.way.depth(),
        overlay: state.overlay.clone(),
        beside: state.side.as_ref().map(|side| side.place.clone()),
        theme: state.theme.clone(),
        density: state.density,
        drawings: state.drawings,
        layout: state.keys.layout(),
        mouse: state.mouse,
        guide: state.guide,
    }
}

/// Says why a press changed nothing, if it did not.
pub(super) fn answer(state: &mut State, press: Press, earlier: &Before) {
    if state.message.is_none() && !state.is_stale() && before(state) == *earlier {
        let words = words(state, press);
        state.say(words);
    }
}

fn words(state: &State, press: Press) -> String {
    let shown = press.shown();
    match &state.overlay {
        Overlay::Typing | Overlay::Ask { .. } => {
            format!("{shown} changes nothing here; Enter ends the typing, Esc takes it back.")
        }
        Overlay::Help(_) => "Help goes no further; Esc closes it.".to_owned(),
        Overlay::Choose { .. } | Overlay::Pick(_) | Overlay::Amend(_) => {
            format!("{shown} changes nothing in this list; Enter takes the row at hand, Esc closes.")
        }
        Overlay::None | Overlay::Letters => of_command(state, press),
    }
}

fn moves(command: Command) -> bool {
    matches!(
        command,
        Command::Down
            | Command::Up
            | Command::ScrollOn
            | Command::ScrollBack
            | Command::First
            | Command::Last
    )
}

/// Says it of a key of the screen itself.
fn of_command(state: &State, press: Press) -> String {
    let what = match state.screen() {
        Screen::Couplet => "lead",
        screen if screen.is_list() => "row",
        _ => "line",
    };
    match state.keys.command(press, state.screen()) {
        Some(command) if moves(command) && what == "row" && state.sheet.stops.is_empty() => {
            "There is no row here.".to_owned()
        }
        Some(Command::Down | Command::ScrollOn | Command::Last) => format!("This is the last {what}."),
        Some(Command::Up | Command::ScrollBack | Command::First) => format!("This is the first {what}."),
        Some(Command::NextWord | Command::WordBefore) => {
            "This is the only word here that leads on.".to_owned()
        }
        Some(Command::Close) => "Nothing is marked or open here; {back} steps back.".to_owned(),
        Some(Command::Unfold) => "Nothing lies folded under this row.".to_owned(),
        Some(Command::Fold) => "This row is folded, and nothing stands above it.".to_owned(),
        Some(_) | None => format!("{} changes nothing here.", press.shown()),
    }
}
