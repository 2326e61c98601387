//! What an event does to the state: a press becomes a command, the command changes the place. Nothing is drawn here.

mod amending;
mod deciding;
mod drilling;
mod going;
mod hands;
mod leads;
mod moving;
mod overlays;
mod picking;
mod pointing;
mod remembering;
mod still;

use crate::reader::ascii::{self, Signs};
use crate::reader::command::Command;
use crate::reader::guide;
use crate::reader::measure;
use crate::reader::place::{Item, Screen};
use crate::reader::press::Press;
use crate::reader::state::{Ask, Colour, Density, Effect, Event, Mouse, Overlay, State};
use crate::reader::theme::Theme;

pub(crate) use hands::{begin_tour, own_keys};
pub(crate) use leads::possible;

/// Changes the state as an event wants it, and returns what is to be done outside.
pub(crate) fn update(state: &mut State, event: Event) -> Vec<Effect> {
    let effects = happened(state, event);
    if state.signs == Signs::Ascii {
        ascii::said(state);
    }
    effects
}

fn happened(state: &mut State, event: Event) -> Vec<Effect> {
    let mut effects = match event {
        Event::Press(press) => told(state, Some(press), |state| pressed(state, press)),
        Event::Mouse(_) if state.mouse == Mouse::Off => return Vec::new(),
        Event::Mouse(mouse) => told(state, None, |state| pointing::pointed(state, mouse)),
        Event::Resize(width, height) => {
            state.size = (width, height);
            state.settle();
            return Vec::new();
        }
        Event::Opened(library) => {
            state.read(*library);
            Vec::new()
        }
        Event::Amended(library, told) => {
            state.amended(*library, amending::same_item);
            state.say(told);
            Vec::new()
        }
        Event::Failed(said) | Event::Done(said) => {
            state.say(said);
            return Vec::new();
        }
        Event::End => {
            let before = remembering::before(state, None);
            let mut lines = remembering::after(state, before);
            lines.push(Effect::Quit);
            lines
        }
    };
    state.settle();
    state.plants.number(&state.seat);
    effects.insert(0, Effect::KeepStand(state.stand()));
    effects
}

/// Does what was pressed or pointed at. What was told before is taken away, if the window was large enough to show it;
/// what waited is told next, and then what comes of the press.
///
/// What was looked up by it is kept before all else that comes of it.
fn told(state: &mut State, press: Option<Press>, act: impl FnOnce(&mut State) -> Vec<Effect>) -> Vec<Effect> {
    let unread = state.message.take().filter(|_| !measure::is_drawn(state.size));
    let (before, unmarked) = (guide::before(state), remembering::before(state, press));
    let earlier = press.map(|press| (press, still::before(state)));
    let acted = act(state);
    if let Some((press, earlier)) = earlier.filter(|_| acted.is_empty()) {
        still::answer(state, press, &earlier);
    }
    state.settle();
    let mut effects = remembering::after(state, unmarked);
    effects.extend(acted);
    state.settle();
    let new = state.message.take();
    state.message = unread.or_else(|| state.untold.pop_front());
    if let Some(new) = new {
        state.say(new);
    }
    guide::advance(state, &before);
    effects
}

fn pressed(state: &mut State, press: Press) -> Vec<Effect> {
    if press == Press::Interrupt {
        return vec![Effect::Quit];
    }
    match &state.overlay {
        Overlay::None => {
            if let Some(command) = state.keys.command(press, state.screen()) {
                return perform(state, command, press);
            }
            state.say(format!(
                "{} does nothing here; {{help}} explains the screen and shows its keys.",
                press.shown()
            ));
            Vec::new()
        }
        Overlay::Letters => overlays::letter(state, press),
        Overlay::Typing => overlays::typed(state, press),
        Overlay::Ask { .. } => deciding::answer(state, press),
        Overlay::Help(_) => overlays::help(state, press),
        Overlay::Pick(_) => picking::pressed(state, press),
        Overlay::Amend(_) => amending::pressed(state, press),
        Overlay::Choose { .. } => overlays::choose(state, press),
    }
}

/// Does what a command says.
pub(super) fn perform(state: &mut State, command: Command, press: Press) -> Vec<Effect> {
    match command {
        Command::Down => moving::step(state, moving::Step::On),
        Command::Up => moving::step(state, moving::Step::Back),
        Command::NextWord => moving::word(state, moving::Step::On),
        Command::WordBefore => moving::word(state, moving::Step::Back),
        Command::ScrollOn => moving::scroll(state, moving::Step::On),
        Command::ScrollBack => moving::scroll(state, moving::Step::Back),
        Command::First => moving::end(state, moving::Step::Back),
        Command::Last => moving::end(state, moving::Step::On),
        Command::Unfold => moving::fold(state, moving::Step::On),
        Command::Fold => moving::fold(state, moving::Step::Back),
        Command::Take => going::take(state, press.figure().unwrap_or(1) - 1),
        Command::Follow => return going::follow(state),
        Command::Define
        | Command::Open
        | Command::Arrival
        | Command::Members
        | Command::Parent
        | Command::BookPage
        | Command::Next
        | Command::Previous
        | Command::Possible
        | Command::Route
        | Command::Beside
        | Command::OtherKey
        | Command::Alike
        | Command::Check
        | Command::Start => going::go(state, command),
        Command::Amend => amending::open(state),
        Command::Look => going::other_look(state),
        Command::Across => moving::across(state),
        Command::Back => going::back(state),
        Command::Forward => going::forward(state),
        Command::Letters => overlays::open_letters(state),
        Command::Glosses => overlays::open_glosses(state),
        Command::Narrow => overlays::type_into(state),
        Command::Find => list(state, Item::Find(String::new()), Overlay::Typing),
        Command::Among => going::among(state),
        Command::Groups => going::groups(state),
        Command::Keys => list(state, Item::Keys(String::new()), Overlay::None),
        Command::Words => list(state, Item::Words(String::new()), Overlay::None),
        Command::Taxa => list(state, going::all_taxa(), Overlay::None),
        Command::Contents => list(state, Item::Contents, Overlay::None),
        Command::Shelf => list(state, Item::Shelf, Overlay::None),
        Command::LookedUp => list(state, Item::LookedUp, Overlay::None),
        Command::Drill => drilling::ask(state),
        Command::Answer => return drilling::answer(state, press.figure().unwrap_or(1) - 1),
        Command::Forget => drilling::ask_forget(state),
        Command::Trail => list(state, Item::Trail, Overlay::None),
        Command::Plants => list(state, Item::Plants, Overlay::None),
        Command::CannotTell => deciding::cannot_tell(state),
        Command::Neither => deciding::neither(state),
        Command::Doubt => deciding::doubt(state),
        Command::Note => deciding::ask_note(state),
        Command::Tick => deciding::tick(state, press.figure().unwrap_or(1)),
        Command::Trip => deciding::ask(state, Ask::Trip, state.plants.trip.words()),
        Command::Here => list(state, Item::Here, Overlay::None),
        Command::Measure => deciding::ask(state, Ask::Readings, String::new()),
        Command::NewPlant => deciding::ask(state, Ask::NewPlant, String::new()),
        Command::Rename => deciding::ask(state, Ask::Name, state.plants.here().name.clone()),
        Command::Drop => deciding::drop(state),
        Command::Drawings => drawings(state),
        Command::Theme => theme(state),
        Command::Density => density(state),
        Command::Help => state.overlay = Overlay::Help(0),
        Command::Close => moving::unmark(state),
        Command::Menu => picking::open_menu(state),
        Command::Mark => picking::mark(state),
        Command::Marks => picking::open_marks(state),
        Command::Places => picking::open_places(state),
        Command::Split => hands::split(state),
        Command::Swap => hands::swap(state),
        Command::Layout => hands::layout(state),
        Command::Tour => hands::tour(state),
        Command::Mouse => return hands::mouse(state),
        Command::Copy => return hands::copy(state),
        Command::Print => return hands::print(state),
        Command::Quit => return vec![Effect::Quit],
    }
    Vec::new()
}

/// Opens a list; without a flora there is only the shelf.
fn list(state: &mut State, item: Item, overlay: Overlay) {
    if state.library.is_none() {
        state.message = Some("No flora is open; the shelf is all there is.".to_owned());
        return;
    }
    if state.screen() == item.screen() && item.screen() != Screen::Find {
        state.message = Some("You are there already.".to_owned());
        return;
    }
    state.visit(item);
    state.overlay = overlay;
}

/// Shows the drawings of couplets, or hides them again.
fn drawings(state: &mut State) {
    state.drawings = !state.drawings;
    if state.drawings && state.sheet.drawings.is_empty() {
        state.message = Some("Drawings are shown; nothing that tells these leads apart has one.".to_owned());
    } else if state.drawings && !measure::drawings_fit(state) {
        state.message = Some(
            "The leads leave no room for drawings here; {define} shows that of a marked term.".to_owned(),
        );
    }
}

/// Changes the light, and says which it is now, since not every screen and not every reader shows it.
fn theme(state: &mut State) {
    let said = match state.colour {
        Colour::True | Colour::Indexed => {
            Theme::after(&state.theme).clone_into(&mut state.theme);
            format!("Light: {}; {}.", state.theme, Theme::about(&state.theme))
        }
        Colour::Unknown => {
            "This terminal names no colours that are known; bold, underlined and reversed do without."
                .to_owned()
        }
        Colour::Never => "Colours are switched off (NO_COLOR).".to_owned(),
    };
    state.message = Some(said);
}

fn density(state: &mut State) {
    let (density, said) = match state.density {
        Density::Comfortable => (Density::Dense, "Closer: no empty lines."),
        Density::Dense => (Density::Comfortable, "Wider: empty lines between leads and above headings."),
    };
    state.density = density;
    state.message = Some(said.to_owned());
    state.stale();
}
