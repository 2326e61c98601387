//! What lies over a screen: help, which explains it and lists the keys in force, and a choice of places.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::command::Command;
use crate::reader::explain;
use crate::reader::measure::{self, GUTTER};
use crate::reader::place::Item;
use crate::reader::state::State;
use crate::reader::textflow::{shorten, wrap};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, needed, text};

/// Columns of the keys on the help screen, with the blanks behind them.
const KEYS: usize = 18;

/// A line of help: the keys, what they do, and how it is set.
struct HelpLine {
    keys: String,
    words: String,
    kind: HelpKind,
}

impl HelpLine {
    /// Says whether it is a heading, not an empty line.
    fn begins_part(&self) -> bool {
        self.kind == HelpKind::Heading && !self.words.is_empty()
    }
}

/// How a line of help is set.
#[derive(Clone, Copy, PartialEq, Eq)]
enum HelpKind {
    Heading,
    Plain,
    Key,
}

/// Draws help, from a line on.
pub(super) fn help(state: &State, theme: &Theme, (area, buffer, top): (Rect, &mut Buffer, usize)) {
    fill(buffer, area, theme.style(Role::Text));
    let lines = help_lines(state, area.width);
    let last = area.bottom().saturating_sub(1);
    let goes_on = top + usize::from(area.height) - 1 < lines.len();
    for (y, HelpLine { keys, words, kind }) in (area.y..last).zip(lines.iter().skip(top)) {
        let at = |x: u16| (Position::new(x, y), area.width.saturating_sub(x));
        match kind {
            HelpKind::Heading => _ = line(buffer, at(GUTTER), words, theme.style(Role::Heading)),
            HelpKind::Plain => _ = line(buffer, at(GUTTER), words, theme.style(Role::Text)),
            HelpKind::Key => {
                line(buffer, at(GUTTER), keys, theme.style(Role::Label));
                line(buffer, at(GUTTER + KEYS as u16), words, theme.style(Role::Text));
            }
        }
    }
    if goes_on {
        line(
            buffer,
            (Position::new(GUTTER, last), area.width),
            &state.keys.fill("▼ {scroll-on} shows more"),
            theme.style(Role::Target),
        );
    }
}

/// Rows of the window that help does not take: head, foot, and the row that says that it goes on.
const HELP_EDGES: usize = 4;

/// Returns the last line from which on help can be shown.
pub(crate) fn help_most(state: &State) -> usize {
    help_lines(state, state.size.0).len().saturating_sub(help_rows(state))
}

/// Returns how many lines of help are in view.
pub(crate) fn help_rows(state: &State) -> usize {
    usize::from(state.size.1).saturating_sub(HELP_EDGES)
}

/// Returns the line of help that the next part begins on after one, or the part before.
pub(crate) fn help_part(state: &State, top: usize, on: bool) -> usize {
    let lines = help_lines(state, state.size.0);
    let mut parts = lines.iter().enumerate().filter(|(_, line)| line.begins_part()).map(|(at, _)| at);
    if on { parts.find(|at| *at > top) } else { parts.take_while(|at| *at < top).last() }.unwrap_or(top)
}

/// Returns help: the keys that one needs, the screen in plain words, then its other keys, then those of other screens.
fn help_lines(state: &State, width: u16) -> Vec<HelpLine> {
    let (screen, keys) = (state.screen(), &state.keys);
    let heading = |words: String| HelpLine { keys: String::new(), words, kind: HelpKind::Heading };
    let (here, elsewhere): (Vec<Command>, Vec<Command>) =
        Command::ALL.iter().copied().partition(|command| command.applies(screen));
    let first: Vec<Command> =
        needed(screen).iter().copied().filter(|command| command.applies(screen)).collect();
    let here = here.into_iter().filter(|command| !first.contains(command));
    let mut lines = vec![heading("You need these:".to_owned())];
    lines.extend(first.iter().flat_map(|command| command_lines(state, (*command, width), Where::Here)));
    lines.push(heading(String::new()));
    lines.push(heading(format!("This screen: {}", screen.word())));
    let room = usize::from(width).saturating_sub(usize::from(GUTTER) + 1).min(WIDEST_HELP);
    for words in explain::of(screen).iter().map(|words| keys.fill(words)) {
        let broken = wrap(&words, room).into_iter().map(|range| words[range].to_owned());
        lines.extend(broken.map(|words| HelpLine { keys: String::new(), words, kind: HelpKind::Plain }));
        lines.push(heading(String::new()));
    }
    lines.push(heading(format!("All other keys on this screen ({})", keys.layout().words().to_lowercase())));
    lines.extend(here.flat_map(|command| command_lines(state, (command, width), Where::Here)));
    lines.push(heading(String::new()));
    lines.push(heading("Keys on other screens".to_owned()));
    lines.extend(
        elsewhere.into_iter().flat_map(|command| command_lines(state, (command, width), Where::Elsewhere)),
    );
    lines
}

/// Most columns of a line of explanation.
const WIDEST_HELP: usize = 90;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Where {
    Here,
    Elsewhere,
}

fn command_lines(state: &State, (command, width): (Command, u16), on: Where) -> Vec<HelpLine> {
    let row = command.row();
    let words = match on {
        Where::Here => row.help.to_owned(),
        Where::Elsewhere => {
            let screens: Vec<&str> = row.on.iter().map(|screen| screen.word()).collect();
            format!("{} ({})", row.help, screens.join(", "))
        }
    };
    let shown = state.keys.shown(command);
    let shown = if shown.is_empty() { format!("{} …", state.keys.first(Command::Menu)) } else { shown };
    let room = usize::from(width).saturating_sub(KEYS + usize::from(GUTTER) + 1);
    let lines = wrap(&words, room).into_iter().enumerate();
    lines
        .map(|(at, range)| HelpLine {
            keys: if at == 0 { shown.clone() } else { String::new() },
            words: words[range].to_owned(),
            kind: HelpKind::Key,
        })
        .collect()
}

/// Draws a choice of places at the foot of the screen.
pub(super) fn choice(
    state: &State,
    (title, rows, at): (&str, &[(String, Item)], usize),
    theme: &Theme,
    (area, buffer): (Rect, &mut Buffer),
) {
    let (top, shown) = measure::choice_rows(state.size, rows.len(), at);
    let height = shown as u16 + 1;
    let area = Rect { y: area.bottom() - height, height, ..area };
    fill(buffer, area, theme.style(Role::Text));
    let in_view = if rows.len() > shown {
        format!("{}–{} of {} · Esc closes", top + 1, top + shown, rows.len())
    } else {
        "Esc closes".to_owned()
    };
    text::rule((title, &in_view), theme, (area, buffer));
    let signs: Vec<char> = state.keys.row_signs().collect();
    for (y, (number, (words, _))) in (area.y + 1..area.bottom()).zip(rows.iter().enumerate().skip(top)) {
        let role = if number == at { Role::Hand } else { Role::Text };
        if number == at {
            line(buffer, (Position::new(0, y), 1), "▌", theme.style(Role::Bar));
        }
        let sign = signs.get(number).unwrap_or(&' ');
        let words = shorten(&format!("{sign} {words}"), usize::from(area.width.saturating_sub(GUTTER + 1)));
        line(buffer, (Position::new(GUTTER, y), area.width), &words, theme.style(role));
    }
}
