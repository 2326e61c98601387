//! A list that lies over the screen, to pick from: its rule, what is typed, and a window of rows with the sign of each.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::measure::{self, GUTTER};
use crate::reader::pick::{By, Pick, Row};
use crate::reader::state::State;
use crate::reader::textflow::{columns, shorten};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, text};

/// Most columns given to what stands before the words of a row.
const WIDEST_BEFORE: usize = 18;

/// Draws the list.
pub(super) fn pick(state: &State, theme: &Theme, (area, buffer, pick): (Rect, &mut Buffer, &Pick)) {
    fill(buffer, area, theme.style(Role::Text));
    text::rule((&pick.title, &pick.hint), theme, (area, buffer));
    let first = measure::pick_first(state);
    if pick.by == By::Typing {
        let row = first - 1;
        let used = line(
            buffer,
            (Position::new(GUTTER, row), area.width),
            "type to find: ",
            theme.style(Role::Faint),
        );
        let at = Position::new(GUTTER + used, row);
        let typed = line(buffer, (at, area.right() - at.x), &pick.typed, theme.style(Role::Heading));
        line(
            buffer,
            (Position::new((at.x + typed).min(area.right() - 1), row), 1),
            " ",
            theme.style(Role::Marked),
        );
    }
    let room = measure::pick_rows(state);
    let (shown, top) = (pick.shown(), pick.top(room));
    let before = shown.iter().map(|row| columns(&row.before)).max().unwrap_or(0).min(WIDEST_BEFORE);
    let signs: Vec<char> = state.keys.signs().collect();
    for (y, (number, row)) in (first..area.bottom()).zip(shown.iter().enumerate().skip(top).take(room)) {
        let sign = signs.get(number - top).filter(|_| pick.by == By::Signs);
        let area = Rect { y, height: 1, ..area };
        draw_row(theme, (area, buffer), (row, sign.copied(), number == pick.at), before);
    }
    if top + room < shown.len() && area.height > 0 {
        let more = format!(" ▼ {} more ", shown.len() - top - room);
        let x = area.right().saturating_sub(columns(&more) as u16 + 1);
        line(buffer, (Position::new(x, area.bottom() - 1), area.width), &more, theme.style(Role::Target));
    }
}

fn draw_row(
    theme: &Theme,
    (area, buffer): (Rect, &mut Buffer),
    (row, sign, at_hand): (&Row, Option<char>, bool),
    before: usize,
) {
    let mut x = GUTTER;
    if at_hand {
        line(buffer, (Position::new(0, area.y), 1), "▌", theme.style(Role::Bar));
    }
    if let Some(sign) = sign {
        line(buffer, (Position::new(x, area.y), 1), &sign.to_string(), theme.style(Role::Letter));
        x += 2;
    }
    if before > 0 {
        let words = shorten(&row.before, before);
        line(buffer, (Position::new(x, area.y), before as u16), &words, theme.style(Role::Label));
        x += before as u16 + 2;
    }
    let role = if at_hand { Role::Hand } else { Role::Text };
    let words = shorten(&row.words, usize::from(area.width.saturating_sub(x + 1)));
    line(buffer, (Position::new(x, area.y), area.width), &words, theme.style(role));
}
