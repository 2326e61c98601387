//! Going to another item: along a lead, a marked word, a row, or the way. Where one goes is put onto the way.

use std::collections::BTreeSet;

use crate::reader::command::Command;
use crate::reader::place::{Among, Anchor, Item, Place, Screen};
use crate::reader::sheet::Go;
use crate::reader::stand::Stands;
use crate::reader::state::{Effect, Overlay, State};
use crate::reader::update::leads::{self, Way};
use crate::reader::update::moving;
use crate::reader::update::{deciding, drilling};

/// Goes where a command leads, or says why it leads nowhere.
pub(super) fn go(state: &mut State, command: Command) {
    let places = leads::places(state, command);
    let from = state.way.here.clone();
    go_to_one(state, places, command);
    if command == Command::BookPage {
        moving::mark_on_page(state, &from);
    }
}

/// Takes a lead of the couplet, counted from 0.
pub(super) fn take(state: &mut State, lead: usize) {
    if lead >= state.sheet.leads.len() {
        state.message = Some(format!("This couplet has no lead {}.", lead + 1));
        return;
    }
    let places = leads::of_lead(state, lead);
    deciding::take(state, lead);
    if places.is_empty() {
        let target = &state.sheet.leads[lead].target;
        state.say(format!("This lead can't be followed here ({target}); {{page}} shows its page."));
        return;
    }
    go_to_one(state, places, Command::Take);
    deciding::say_what_waits(state);
}

/// Goes where the lead at hand, the row at hand or the marked word leads.
pub(super) fn follow(state: &mut State) -> Vec<Effect> {
    if let Some(Go::Flora(name)) = leads::marked(state).map(|stop| &stop.go) {
        let name = name.clone();
        return other_flora(state, name);
    }
    match leads::marked(state).map(|stop| &stop.go) {
        Some(Go::Answer(at)) => return drilling::answer(state, *at),
        Some(Go::Ask) => {
            drilling::ask(state);
            return Vec::new();
        }
        _ => {}
    }
    if let Some(Go::Beyond(name, item)) = leads::marked(state).map(|stop| &stop.go) {
        let (name, item) = (name.clone(), item.clone());
        // The search stays on the way of the flora that is left.
        state.stands = Stands::read(&state.stand());
        state.arriving = Some((name.clone(), item));
        return vec![Effect::Open(name)];
    }
    if let Some(Go::Branch(_) | Go::Plant(_)) = leads::marked(state).map(|stop| &stop.go) {
        deciding::take_in_hand(state);
        return Vec::new();
    }
    let paragraph = match leads::marked(state).map(|stop| &stop.go) {
        Some(Go::Paragraph(_, paragraph)) => Some(*paragraph),
        _ => None,
    };
    if state.screen() == Screen::Couplet {
        take(state, state.lead());
    } else {
        go(state, Command::Follow);
    }
    if let Some(paragraph) = paragraph {
        if state.screen() == Screen::Couplet {
            state.way.here.cursor.lead = paragraph;
        }
        state.way.here.anchor = Anchor { paragraph, byte: 0 };
    }
    Vec::new()
}

/// Steps back along the way.
pub(super) fn back(state: &mut State) {
    if !state.way.step_back() {
        state.message = Some("This is where the way begins.".to_owned());
    }
}

/// Steps forward along the way.
pub(super) fn forward(state: &mut State) {
    if !state.way.step_forward() {
        state.message = Some("The way goes no further.".to_owned());
    }
}

/// Shows the page in its other look, in the same place of the way.
pub(super) fn other_look(state: &mut State) {
    let other = match &state.way.here.item {
        Item::Page(page) => Item::Text(*page),
        Item::Text(page) => Item::Page(*page),
        _ => {
            state.message =
                Some("This is a piece of the book; {page} shows the page it stands on.".to_owned());
            return;
        }
    };
    state.way.here = Place::at(other);
}

/// Asks the same of what is still possible, of all floras and of this one by turns; the one before stays on the way.
pub(super) fn among(state: &mut State) {
    if let Some(next) = next_among(state) {
        state.visit(next);
    } else {
        let plant = &state.plants.here().name;
        state.message = Some(format!("Nothing is decided for {plant} yet: the whole flora is possible."));
    }
}

/// Returns the search that comes next by turns, where there is another.
pub(super) fn next_among(state: &State) -> Option<Item> {
    let several = state.shelf.len() > 1;
    match &state.way.here.item {
        Item::Find(words) if state.plants.is_keyed() => Some(Item::FindPossible(words.clone())),
        Item::Find(words) | Item::FindPossible(words) if several => Some(Item::FindAll(words.clone())),
        Item::FindPossible(words) | Item::FindAll(words) => Some(Item::Find(words.clone())),
        Item::Groups(Among::Flora, words) if state.plants.is_keyed() => {
            Some(Item::Groups(Among::Possible, words.clone()))
        }
        Item::Groups(Among::Possible, words) => Some(Item::Groups(Among::Flora, words.clone())),
        _ => None,
    }
}

/// Shows what the search can be narrowed to, and from there the search again.
pub(super) fn groups(state: &mut State) {
    match &state.way.here.item {
        Item::Find(words) => state.visit(Item::Groups(Among::Flora, words.clone())),
        Item::FindPossible(words) => state.visit(Item::Groups(Among::Possible, words.clone())),
        Item::Groups(Among::Flora, words) => state.visit(Item::Find(words.clone())),
        Item::Groups(Among::Possible, words) => state.visit(Item::FindPossible(words.clone())),
        _ => state.message = Some("A search of all floras is narrowed in each of them.".to_owned()),
    }
}

/// Returns the whole tree, folded.
pub(super) fn all_taxa() -> Item {
    Item::Taxa { narrow: String::new(), open: BTreeSet::new() }
}

/// Goes to the only place there is, or lets the reader choose.
pub(super) fn go_to_one(state: &mut State, mut places: Vec<Way>, command: Command) {
    match places.len() {
        0 => state.message = Some(sorry(command).to_owned()),
        1 => state.visit(places.remove(0).1),
        _ => state.overlay = Overlay::Choose { title: title(command).to_owned(), rows: places, at: 0 },
    }
}

fn title(command: Command) -> &'static str {
    match command {
        Command::Open => "Treatments that this lead names",
        Command::Arrival => "Couplets that lead here",
        Command::OtherKey => "Other keys to the same taxa",
        Command::Alike => "Compare with one more",
        Command::Neither => "No lead fits: decisions to look at again, the doubted first",
        _ => "This lead has several targets",
    }
}

/// Returns what is said where a command leads nowhere.
fn sorry(command: Command) -> &'static str {
    match command {
        Command::Define => "No term is marked: {next-word} marks one, {letters} gives each a letter.",
        Command::Open => "No treatment is named here; {next-word} marks a name.",
        Command::Arrival => "No couplet of this flora leads here.",
        Command::Members => "No key divides this taxon.",
        Command::Parent => "Nothing stands above this.",
        Command::BookPage => "There is no other page to this.",
        Command::Start => "This is the start of the flora.",
        Command::Neither => "Nothing was decided yet that could be wrong.",
        Command::OtherKey => "This flora has no other key to the same taxa.",
        Command::Alike => "There is no further taxon to compare with: four at most.",
        Command::Possible => "Nothing is possible below here: no lead of it ends in a taxon.",
        Command::Route => "No key of this flora leads to this taxon.",
        Command::Next | Command::Previous => "There is none further in this direction.",
        _ => "Nothing is marked here that leads anywhere; {next-word} marks a word.",
    }
}

/// Leaves the shelf for another flora; the shelf itself stays off the way behind.
fn other_flora(state: &mut State, name: String) -> Vec<Effect> {
    let open = state.library.as_ref().is_some_and(|library| library.book.name() == name);
    if state.library.is_some() {
        state.way.step_back();
    }
    if open {
        return Vec::new();
    }
    state.stands = Stands::read(&state.stand());
    vec![Effect::Open(name)]
}
