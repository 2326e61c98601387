//! Head, prompt and foot: what is looked at and where it stands, what is typed, and the keys that matter here.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::ascii::{self, Signs};
use crate::reader::command::Command;
use crate::reader::measure;
use crate::reader::place::{Among, Item, Screen};
use crate::reader::press::Press;
use crate::reader::state::{Ask, Overlay, State};
use crate::reader::textflow::{columns, shorten, wrap};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, offers};

/// Most rows that a message covers above the foot; the longest takes as many in the narrowest window.
const MESSAGE_ROWS: usize = 6;

/// What stands between two keys of the foot line.
pub(super) const BETWEEN: &str = "  ";

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
    for word in [POSSIBLE, IN_FILE] {
        if columns(&about) <= room {
            break;
        }
        let Some(start) = about.find(word) else { continue };
        let end = start + word.len();
        let number = about[end..].find(|letter: char| !letter.is_ascii_digit()).unwrap_or(about.len() - end);
        about.replace_range(start..end + number, "");
    }
    shorten(&about, room)
}

/// What the number of taxa does without in a narrow window.
const POSSIBLE: &str = " possible";

/// Rows of a choice that a figure stands for.
const FIGURES: usize = 9;

/// How the page of the file begins behind the folio printed on it, up to its number.
const IN_FILE: &str = ", PDF page ";

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
        line(buffer, (at, room), &state.keys.fill("press {narrow} and type"), theme.style(Role::Faint));
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

/// Draws the line of keys, or what a question is answered by, and above it what has to be told.
pub(super) fn foot(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    if let Overlay::Ask { ask, words } = &state.overlay {
        question((*ask, words), theme, (area, buffer));
    } else {
        line_of_keys(state, theme, (area, buffer));
    }
    if let Some(message) = &state.message {
        told(state, theme, (area, buffer), &state.keys.fill(message));
    }
}

fn line_of_keys(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let room = usize::from(area.width.saturating_sub(2));
    let style = theme.style(Role::Foot);
    fill(buffer, area, style);
    let mut x = FOOT_FROM;
    for FootKey { shown, words, .. } in foot_keys(state, room) {
        let bold = style.add_modifier(ratatui::style::Modifier::BOLD);
        x += line(buffer, (Position::new(x, area.y), area.width - x), &shown, bold);
        x += line(buffer, (Position::new(x, area.y), area.width - x), &format!(" {words}{BETWEEN}"), style);
    }
}

/// Draws what has to be told over the last rows above the foot, and how much more waits to be told. What stands there
/// whatever is scrolled, the question that is asked and a choice stay in view.
fn told(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer), message: &str) {
    let room = usize::from(area.width.saturating_sub(2));
    let waiting = state.untold.len();
    let message =
        if waiting > 0 { format!("{message} ({waiting} more: any key)") } else { message.to_owned() };
    let lines = wrap(&message, room);
    let below = match &state.overlay {
        Overlay::Ask { .. } => 1,
        Overlay::Choose { rows, at, .. } => measure::choice_rows(state.size, rows.len(), *at).1 as u16 + 1,
        Overlay::None | Overlay::Letters | Overlay::Typing => measure::standing_lines(state).len() as u16,
        Overlay::Pick(_) | Overlay::Help(_) | Overlay::Amend(_) => 0,
    };
    let bottom = area.y.saturating_sub(below);
    let rows = lines.len().min(MESSAGE_ROWS).min(usize::from(bottom));
    let top = bottom - rows as u16;
    fill(buffer, Rect { y: top, height: rows as u16, ..area }, theme.style(Role::Message));
    for (y, range) in (top..).zip(lines.into_iter().take(rows)) {
        line(buffer, (Position::new(1, y), area.width - 2), &message[range], theme.style(Role::Message));
    }
}

/// The column at which the keys of the foot begin.
const FOOT_FROM: u16 = 1;

/// A key of the foot.
struct FootKey {
    /// The key, where one alone is meant.
    press: Option<Press>,
    shown: String,
    words: String,
}

/// Returns the key that stands at a column of the foot.
pub(crate) fn foot_key(state: &State, x: u16) -> Option<Press> {
    if matches!(state.overlay, Overlay::Ask { .. }) {
        return None;
    }
    let room = usize::from(state.size.0.saturating_sub(2));
    let mut from = usize::from(FOOT_FROM);
    for FootKey { press, shown, words } in foot_keys(state, room) {
        let end = from + columns(&shown) + 1 + columns(&words);
        if (from..end).contains(&usize::from(x)) {
            return press;
        }
        from = end + BETWEEN.len();
    }
    None
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

fn foot_keys(state: &State, room: usize) -> Vec<FootKey> {
    let fixed =
        |press: Press, words: &str| FootKey { press: Some(press), shown: press.shown(), words: words.into() };
    let several = |shown: &str, words: &str| FootKey {
        press: None,
        shown: state.keys.fill(shown),
        words: words.into(),
    };
    let (enter, esc) = (Press::Enter, Press::Esc);
    let rows = || several("↑ ↓", "rows");
    let keys = match &state.overlay {
        Overlay::Letters => vec![several("a–z", "mark that word"), fixed(esc, "close")],
        Overlay::Typing if state.screen() != Screen::Find => {
            vec![fixed(enter, "go"), rows(), fixed(esc, "take it back")]
        }
        Overlay::Typing => vec![fixed(enter, "done"), rows(), fixed(esc, "take it back")],
        Overlay::Help(_) => vec![
            several("{scroll-on}, PgDn", "on"),
            several("{scroll-back}, PgUp", "back"),
            several("{down}, {up}", "line"),
            fixed(Press::Tab, "next part"),
            several("{first}, {last}", "top, end"),
            fixed(esc, "close"),
        ],
        Overlay::Amend(_) | Overlay::Pick(_) => {
            vec![fixed(enter, "take it"), rows(), fixed(esc, "close")]
        }
        Overlay::Choose { rows, .. } => vec![
            several(if rows.len() > FIGURES { "its sign" } else { "1–9" }, "go there"),
            several("{down} {up}", "move"),
            fixed(enter, "go"),
            fixed(esc, "close"),
        ],
        Overlay::Ask { .. } => Vec::new(),
        Overlay::None => {
            offers::offers(state, room).into_iter().map(|command| of_command(state, command)).collect()
        }
    };
    fitting(keys, room)
}

fn of_command(state: &State, command: Command) -> FootKey {
    let (shown, words) = offers::words(state, command);
    FootKey { press: state.keys.presses(command).first().copied(), shown, words }
}

/// Returns the keys without those before the last that there is no room for.
fn fitting(keys: Vec<FootKey>, room: usize) -> Vec<FootKey> {
    let wide = |key: &FootKey| columns(&key.shown) + 1 + columns(&key.words) + BETWEEN.len();
    // Nothing stands behind the last key.
    let mut left = (room + BETWEEN.len()).saturating_sub(keys.last().map_or(0, wide));
    let last = keys.len().saturating_sub(1);
    let fits = |(at, key): (usize, FootKey)| {
        let fits = at == last || wide(&key) <= left;
        left -= if fits && at < last { wide(&key) } else { 0 };
        fits.then_some(key)
    };
    keys.into_iter().enumerate().filter_map(fits).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const ABOUT: &str = "couplet 1 of 2 · 58 taxa possible · folio 1, PDF page 7 · later you need: fruit";

    #[track_caller]
    fn check_squeezed(room: usize, expected: &str) {
        assert_eq!(squeezed(ABOUT, room), expected);
    }

    #[test]
    fn a_narrow_window_keeps_place_and_page() {
        check_squeezed(82, ABOUT);
        check_squeezed(70, "couplet 1 of 2 · 58 taxa · folio 1, PDF page 7 · later you need: fruit");
        check_squeezed(60, "couplet 1 of 2 · 58 taxa · folio 1 · later you need: fruit");
        check_squeezed(38, "couplet 1 of 2 · 58 taxa · folio 1 ·…");
    }

    #[test]
    fn keys_that_do_not_fit_are_left_out_whole_but_never_the_last() {
        let pairs = [("1–9", "go there"), ("j k", "move"), ("Esc", "close")];
        let key =
            |(shown, words): (&str, &str)| FootKey { press: None, shown: shown.into(), words: words.into() };
        let keys = |room| {
            let fitting = fitting(pairs.into_iter().map(key).collect(), room);
            fitting.into_iter().map(|key| key.shown).collect::<Vec<_>>()
        };
        assert_eq!(keys(40), ["1–9", "j k", "Esc"]);
        assert_eq!(keys(30), ["1–9", "Esc"]);
        assert_eq!(keys(5), ["Esc"]);
    }
}
