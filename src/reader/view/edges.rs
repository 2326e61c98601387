//! Head, prompt and foot: what is looked at and where it stands, what is typed, and the keys that matter here.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::ascii::{self, Signs};
use crate::reader::command::Command;
use crate::reader::measure;
use crate::reader::place::{Among, Item, Screen};
use crate::reader::state::{Ask, Overlay, State};
use crate::reader::textflow::{columns, shorten, wrap};
use crate::reader::theme::{Role, Theme};
use crate::reader::update::possible;
use crate::reader::view::{fill, line};

/// Most rows that a message covers at the foot; the longest takes as many in the narrowest window.
const MESSAGE_ROWS: usize = 6;

/// What stands between two keys of the foot line.
const BETWEEN: &str = "  ";

/// Draws the two lines at the head.
pub(super) fn head(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let style = theme.style(Role::Head);
    fill(buffer, area, style);
    let room = usize::from(area.width.saturating_sub(2));
    let flora = state.library.as_ref().map_or("ligule", |library| library.contents().title.as_str());
    let flora = if state.signs == Signs::Ascii { ascii::fold(flora) } else { flora.to_owned() };
    let title = shorten(&state.sheet.title, room * 2 / 3);
    let flora = shorten(&flora, room.saturating_sub(columns(&title) + 3));
    let bold = style.add_modifier(ratatui::style::Modifier::BOLD);
    let used = line(buffer, (Position::new(1, area.y), area.width), &format!("{flora} · "), style);
    line(buffer, (Position::new(1 + used, area.y), area.width.saturating_sub(1 + used)), &title, bold);
    let scroll = scroll(state);
    let right = columns(&scroll) as u16;
    let about = squeezed(&state.sheet.about, room.saturating_sub(usize::from(right) + 1));
    line(buffer, (Position::new(1, area.y + 1), area.width), &about, style);
    let x = area.width.saturating_sub(right + 1);
    line(buffer, (Position::new(x, area.y + 1), right), &scroll, style);
}

/// Shortens what is to be known of an item: first words that can be done without, so that place and page stay.
fn squeezed(about: &str, room: usize) -> String {
    let mut about = about.to_owned();
    for word in [POSSIBLE, FOLIO] {
        if columns(&about) <= room {
            break;
        }
        let Some(start) = about.find(word) else { continue };
        let end = if word == FOLIO {
            about[start..].find(')').map_or(about.len(), |at| start + at + 1)
        } else {
            start + word.len()
        };
        about.replace_range(start..end, "");
    }
    shorten(&about, room)
}

/// What the number of taxa does without in a narrow window.
const POSSIBLE: &str = " possible";

/// How the printed page begins behind that of the file, up to its bracket.
const FOLIO: &str = " (folio ";

/// Says which lines of a text or rows of a list are in view, where not all of them are.
fn scroll(state: &State) -> String {
    let height = measure::areas(state).body.height;
    let (top, height, all) = (state.top(height), usize::from(height), state.flow.lines.len());
    // The leads of a couplet say themselves where they go on.
    let aside = sideways(state);
    if all <= height || !state.sheet.leads.is_empty() {
        return aside.to_owned();
    }
    let up = if top > 0 { "▲ " } else { "" };
    let down = if top + height < all { " ▼" } else { "" };
    format!("{up}lines {}–{} of {all}{down}{aside}", top + 1, (top + height).min(all))
}

/// Says on which sides a page as printed goes on beyond the window.
fn sideways(state: &State) -> &'static str {
    match measure::page::cut(state) {
        (false, false) => "",
        (true, false) => " ◀",
        (false, true) => " ▶",
        (true, true) => " ◀▶",
    }
}

/// Draws what is typed into a list.
pub(super) fn prompt(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let typed = state.way.here.item.typed().unwrap_or_default();
    let typing = state.overlay == Overlay::Typing;
    let label = match state.way.here.item {
        Item::Find(_) | Item::Groups(Among::Flora, _) => "search: ",
        Item::FindPossible(_) | Item::Groups(Among::Possible, _) => "search what is possible: ",
        Item::FindAll(_) => "search all floras: ",
        _ => "narrow: ",
    };
    let used = line(buffer, (Position::new(1, area.y), area.width), label, theme.style(Role::Faint));
    let at = Position::new(1 + used, area.y);
    let room = area.width.saturating_sub(at.x + 1);
    if typing {
        let tail = tail(typed, usize::from(room).saturating_sub(1));
        let used = line(buffer, (at, room), tail, theme.style(Role::Heading));
        line(buffer, (Position::new(at.x + used, at.y), 1), " ", theme.style(Role::Marked));
    } else if typed.is_empty() {
        line(buffer, (at, room), "press / and type", theme.style(Role::Faint));
    } else {
        line(buffer, (at, room), &shorten(typed, usize::from(room)), theme.style(Role::Heading));
    }
}

/// Returns the end of what was typed, as much as fits.
fn tail(typed: &str, room: usize) -> &str {
    let mut starts = typed.char_indices().map(|(at, _)| at).chain([typed.len()]);
    let from = starts.find(|at| columns(&typed[*at..]) <= room);
    &typed[from.unwrap_or(typed.len())..]
}

/// Draws the line of keys, or a message in its place.
pub(super) fn foot(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let room = usize::from(area.width.saturating_sub(2));
    if let Some(message) = &state.message {
        let lines = wrap(message, room);
        let rows = lines.len().min(MESSAGE_ROWS);
        let top = area.y + 1 - rows as u16;
        fill(buffer, Rect { y: top, height: rows as u16, ..area }, theme.style(Role::Message));
        for (y, range) in (top..).zip(lines.into_iter().take(rows)) {
            line(buffer, (Position::new(1, y), area.width - 2), &message[range], theme.style(Role::Message));
        }
        return;
    }
    if let Overlay::Ask { ask, words } = &state.overlay {
        return question((*ask, words), theme, (area, buffer));
    }
    let style = theme.style(Role::Foot);
    fill(buffer, area, style);
    let mut x = 1;
    for (key, words) in keys(state, room) {
        let bold = style.add_modifier(ratatui::style::Modifier::BOLD);
        x += line(buffer, (Position::new(x, area.y), area.width - x), &key, bold);
        x += line(buffer, (Position::new(x, area.y), area.width - x), &format!(" {words}{BETWEEN}"), style);
    }
}

/// Draws a question with what is typed, and under it what the keys do.
fn question((ask, words): (Ask, &str), theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let asked = match ask {
        Ask::Note(_) => "Note to this decision: ",
        Ask::Name => "Name of this plant: ",
        Ask::NewPlant => "Name of the new plant (Enter alone numbers it): ",
        Ask::Reason => "Why is this branch given up? ",
        Ask::Forget => "Forget all that you looked up and answered? Type yes: ",
        Ask::Trip => "Trip, e.g. Skerra, 17 July, 300 m: ",
        Ask::Readings => "Readings, e.g. leaf 62 58 66 mm x 15: ",
    };
    let row = Rect { y: area.y.saturating_sub(1), height: 1, ..area };
    let style = theme.style(Role::Message);
    fill(buffer, row, style);
    let used = line(buffer, (Position::new(1, row.y), row.width - 1), asked, style);
    let room = row.width.saturating_sub(used + 3);
    let at = Position::new(1 + used, row.y);
    let typed = line(buffer, (at, room), tail(words, usize::from(room)), style);
    // A piece of the ground shows on the row of a message in every theme, also where marks are reversed like the row itself.
    let cursor = theme.style(Role::Text).add_modifier(ratatui::style::Modifier::UNDERLINED);
    line(buffer, (Position::new(at.x + typed, at.y), 1), " ", cursor);
    let foot = theme.style(Role::Foot);
    fill(buffer, area, foot);
    line(buffer, (Position::new(1, area.y), area.width - 1), "Enter keeps it  Esc leaves it as it was", foot);
}

fn keys(state: &State, room: usize) -> Vec<(String, String)> {
    let fixed = |pairs: &[(&str, &str)]| fitting(pairs, room);
    match &state.overlay {
        Overlay::Letters => fixed(&[("a–z", "mark that word"), ("Esc", "close")]),
        Overlay::Typing if state.screen() != Screen::Find => {
            fixed(&[("Enter", "go"), ("↑ ↓", "rows"), ("Esc", "take it back")])
        }
        Overlay::Typing => fixed(&[("Enter", "done"), ("↑ ↓", "rows"), ("Esc", "take it back")]),
        Overlay::Help(_) => fixed(&[("j k", "scroll"), ("Esc", "close")]),
        Overlay::Amend(_) => fixed(&[("Enter", "take it"), ("↑ ↓", "rows"), ("Esc", "close")]),
        Overlay::Choose { .. } => {
            fixed(&[("1–9", "go there"), ("j k", "move"), ("Enter", "go"), ("Esc", "close")])
        }
        Overlay::Ask { .. } => Vec::new(),
        Overlay::None => {
            let offered = offers(state, room).into_iter();
            offered.map(|command| (command.first_key(), command.row().short.to_owned())).collect()
        }
    }
}

/// Returns the keys of what lies over the screen, without those before the last that there is no room for.
fn fitting(pairs: &[(&str, &str)], room: usize) -> Vec<(String, String)> {
    let wide = |(key, words): &(&str, &str)| columns(key) + 1 + columns(words) + BETWEEN.len();
    let mut left = room.saturating_sub(pairs.last().map_or(0, wide));
    let fits = |(at, pair): (usize, &(&str, &str))| {
        let last = at + 1 == pairs.len();
        let fits = last || wide(pair) <= left;
        left -= if fits && !last { wide(pair) } else { 0 };
        fits.then(|| (pair.0.to_owned(), pair.1.to_owned()))
    };
    pairs.iter().enumerate().filter_map(fits).collect()
}

/// Returns the commands that the foot line offers: those that matter here and do something, as many as fit.
pub(crate) fn offers(state: &State, room: usize) -> Vec<Command> {
    let wide =
        |command: Command| columns(&command.first_key()) + 1 + columns(command.row().short) + BETWEEN.len();
    let mut left = room.saturating_sub(wide(Command::Help));
    let mut offers = Vec::new();
    for command in wanted(state.screen()).iter().copied().filter(|command| possible(state, *command)) {
        if wide(command) <= left {
            left -= wide(command);
            offers.push(command);
        }
    }
    offers.push(Command::Help);
    offers
}

/// What matters on a couplet, the weightiest first.
const ON_COUPLET: &[Command] = &[
    Command::Follow,
    Command::ScrollOn,
    Command::Down,
    Command::Up,
    Command::NextWord,
    Command::Letters,
    Command::Define,
    Command::Back,
    Command::OtherKey,
    Command::Drawings,
    Command::CannotTell,
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
    Command::ScrollOn,
    Command::NextWord,
    Command::Letters,
    Command::Follow,
    Command::Back,
    Command::Check,
    Command::Alike,
    Command::Route,
    Command::Members,
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
            Command::NextWord,
            Command::Letters,
            Command::Down,
            Command::Alike,
            Command::Follow,
            Command::Back,
            Command::Keys,
        ],
        Screen::Check => {
            &[Command::Tick, Command::Down, Command::Up, Command::Back, Command::Trail, Command::Keys]
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

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_squeezed(room: usize, expected: &str) {
        assert_eq!(
            squeezed("couplet 1 of 2 · 58 taxa possible · p. 7 (folio 1) · ahead: fruit", room),
            expected
        );
    }

    #[test]
    fn a_narrow_window_keeps_place_and_page() {
        check_squeezed(70, "couplet 1 of 2 · 58 taxa possible · p. 7 (folio 1) · ahead: fruit");
        check_squeezed(60, "couplet 1 of 2 · 58 taxa · p. 7 (folio 1) · ahead: fruit");
        check_squeezed(38, "couplet 1 of 2 · 58 taxa · p. 7 · ahe…");
    }

    #[test]
    fn keys_that_do_not_fit_are_left_out_whole_but_never_the_last() {
        let pairs = [("1–9", "go there"), ("j k", "move"), ("Esc", "close")];
        let keys = |room| fitting(&pairs, room).into_iter().map(|(key, _)| key).collect::<Vec<_>>();
        assert_eq!(keys(40), ["1–9", "j k", "Esc"]);
        assert_eq!(keys(30), ["1–9", "Esc"]);
        assert_eq!(keys(5), ["Esc"]);
    }
}
