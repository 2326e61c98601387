//! The keys that the foot line offers, and those that help names first: a screen in, its commands out, the weightiest first,
//! each in the words of what it does from here. What else a key can do is in the command table.

use crate::reader::command::Command;
use crate::reader::keys::Layout;
use crate::reader::place::Screen;
use crate::reader::sheet::Go;
use crate::reader::state::State;
use crate::reader::textflow::{columns, shorten};
use crate::reader::update::possible;
use crate::reader::view::edges::BETWEEN;

/// Returns the commands that the foot line offers: those that matter here and do something, as many as fit.
pub(crate) fn offers(state: &State, room: usize) -> Vec<Command> {
    let wide = |command: Command| {
        let (shown, words) = words(state, command);
        columns(&shown) + 1 + columns(&words) + BETWEEN.len()
    };
    // Help is always there; so is the menu, for what has no letter of its own in the layout.
    let menu = (state.keys.layout() != Layout::Both).then_some(Command::Menu);
    let last = menu.into_iter().chain([Command::Help]);
    // Nothing stands behind the last key.
    let mut left = (room + BETWEEN.len()).saturating_sub(last.clone().map(wide).sum());
    let mut offers = Vec::new();
    for command in wanted(state.screen()).iter().copied().filter(|command| possible(state, *command)) {
        if command == Command::Members && opens_key(state) {
            continue;
        }
        if wide(command) <= left && !state.keys.presses(command).is_empty() {
            left -= wide(command);
            offers.push(command);
        }
    }
    offers.extend(last);
    offers
}

/// Returns a key and what it does from here, in a word or two.
pub(super) fn words(state: &State, command: Command) -> (String, String) {
    let shown = state.keys.first(command);
    let short = || command.row().short.to_owned();
    if command != Command::Follow {
        return (shown, short());
    }
    if opens_key(state) {
        let members = state.keys.presses(Command::Members).first().map(|press| press.shown());
        let shown = members.map_or(shown.clone(), |members| format!("{shown} or {members}"));
        return (shown, Command::Members.row().short.to_owned());
    }
    let marked = state.way.here.cursor.stop.and_then(|stop| state.sheet.stops.get(stop));
    let words = match (state.screen(), state.sheet.leads.get(state.lead()), marked.map(|stop| &stop.go)) {
        // A marked word is defined by its own key; this one takes the lead with the bar.
        (Screen::Couplet, Some(lead), _) if is_alone(state, &lead.label) => {
            format!("take {}", shorten(lead.label.trim_end_matches(['.', ')']), LONGEST_LABEL))
        }
        (Screen::Couplet, Some(_), _) => TAKE.to_owned(),
        (_, _, Some(Go::Terms(..))) => Command::Define.row().short.to_owned(),
        (_, _, _) => short(),
    };
    (shown, words)
}

/// What Enter does on a couplet whose leads have no labels, or one for all.
const TAKE: &str = "take lead";

/// Says whether a label tells its lead from the others of the couplet.
fn is_alone(state: &State, label: &str) -> bool {
    let same = state.sheet.leads.iter().filter(|lead| lead.label == label).count();
    same == 1 && label.chars().any(char::is_alphanumeric)
}

/// Says whether Enter goes on to the key of the taxon, as it does where no word of a treatment is marked.
fn opens_key(state: &State) -> bool {
    let bare = state.screen() == Screen::Treatment && state.way.here.cursor.stop.is_none();
    bare && possible(state, Command::Members)
}

/// Columns of a lead's label at most.
const LONGEST_LABEL: usize = 8;

/// Returns the few commands that one needs on a screen, which help names first.
pub(crate) fn needed(screen: Screen) -> &'static [Command] {
    match screen {
        Screen::Couplet => NEEDED_ON_COUPLET,
        Screen::Treatment => NEEDED_ON_TREATMENT,
        Screen::Shelf => &[Command::Follow, Command::Down, Command::Back, Command::Quit],
        _ => {
            let wanted = wanted(screen);
            &wanted[..wanted.len().min(NEEDED)]
        }
    }
}

/// Commands that help names first.
const NEEDED: usize = 6;

/// What one needs to go through a key.
const NEEDED_ON_COUPLET: &[Command] =
    &[Command::Follow, Command::Down, Command::NextWord, Command::Define, Command::CannotTell, Command::Back];

/// What one needs to read a treatment and to go on from it.
const NEEDED_ON_TREATMENT: &[Command] =
    &[Command::ScrollOn, Command::Members, Command::NextWord, Command::Check, Command::Alike, Command::Back];

/// What matters on a couplet, the weightiest first.
const ON_COUPLET: &[Command] = &[
    Command::Follow,
    Command::Define,
    Command::CannotTell,
    Command::ScrollOn,
    Command::NextWord,
    Command::Back,
    Command::Down,
    Command::Up,
    Command::OtherKey,
    Command::Letters,
    Command::Drawings,
    Command::Trail,
    Command::Glosses,
    Command::Members,
    Command::Open,
    Command::Arrival,
    Command::BookPage,
    Command::Keys,
    Command::Taxa,
    Command::Find,
];

/// What matters on a treatment, the weightiest first.
const ON_TREATMENT: &[Command] = &[
    Command::Follow,
    Command::Members,
    Command::ScrollOn,
    Command::Back,
    Command::NextWord,
    Command::Check,
    Command::Alike,
    Command::Letters,
    Command::Route,
    Command::Arrival,
    Command::Parent,
    Command::BookPage,
    Command::Next,
];

/// Returns the commands that matter on a screen, the weightiest first.
fn wanted(screen: Screen) -> &'static [Command] {
    match screen {
        Screen::Couplet => ON_COUPLET,
        Screen::Treatment => ON_TREATMENT,
        Screen::Term => &[
            Command::Back,
            Command::NextWord,
            Command::Follow,
            Command::Letters,
            Command::Next,
            Command::Words,
        ],
        Screen::Printed => &[
            Command::ScrollOn,
            Command::Across,
            Command::Follow,
            Command::NextWord,
            Command::Letters,
            Command::Back,
            Command::Look,
            Command::Next,
            Command::Previous,
            Command::Keys,
        ],
        Screen::Page => &[
            Command::Look,
            Command::Next,
            Command::Previous,
            Command::NextWord,
            Command::Letters,
            Command::Follow,
            Command::Back,
            Command::Keys,
        ],
        Screen::Taxa => {
            &[Command::Follow, Command::Down, Command::Unfold, Command::Fold, Command::Narrow, Command::Back]
        }
        Screen::Contents | Screen::Shelf => &[
            Command::Follow,
            Command::Down,
            Command::Up,
            Command::Back,
            Command::Keys,
            Command::Taxa,
            Command::Find,
            Command::Quit,
        ],
        Screen::Trail => &[
            Command::Follow,
            Command::Down,
            Command::Doubt,
            Command::Note,
            Command::Drop,
            Command::NewPlant,
            Command::Plants,
            Command::Back,
        ],
        Screen::Beside | Screen::Compare | Screen::Measured => &[
            Command::Measure,
            Command::NextWord,
            Command::Letters,
            Command::Down,
            Command::Alike,
            Command::Follow,
            Command::Back,
            Command::Keys,
        ],
        Screen::Check => {
            &[Command::Tick, Command::Measure, Command::Down, Command::Up, Command::Back, Command::Trail]
        }
        Screen::LookedUp => {
            &[Command::Drill, Command::Follow, Command::Down, Command::Up, Command::Back, Command::Forget]
        }
        Screen::Drill => &[
            Command::Answer,
            Command::Drill,
            Command::Follow,
            Command::Down,
            Command::Up,
            Command::Back,
            Command::LookedUp,
        ],
        Screen::Plants | Screen::Possible | Screen::Route | Screen::Alike => {
            &[Command::Follow, Command::Down, Command::Up, Command::Back, Command::Trail, Command::Keys]
        }
        Screen::Find => &[
            Command::Follow,
            Command::Down,
            Command::Up,
            Command::Narrow,
            Command::Groups,
            Command::Among,
            Command::Back,
            Command::Contents,
        ],
        Screen::Keys | Screen::Words => {
            &[Command::Follow, Command::Down, Command::Up, Command::Narrow, Command::Back, Command::Contents]
        }
    }
}
