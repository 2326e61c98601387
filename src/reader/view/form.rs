//! The form of an amendment: the question, what was typed, and the rows that have it.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::form::Form;
use crate::reader::measure::GUTTER;
use crate::reader::textflow::{shorten, wrap};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, text};

/// Rows of the question at most.
const QUESTION_ROWS: usize = 2;

/// Draws the form over an area.
pub(super) fn form(form: &Form, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    fill(buffer, area, theme.style(Role::Text));
    text::rule(("Amend", "Esc closes, nothing is changed"), theme, (area, buffer));
    let room = usize::from(area.width.saturating_sub(GUTTER + 1));
    let mut y = area.y + 1;
    for range in wrap(&form.title, room).into_iter().take(QUESTION_ROWS) {
        line(buffer, (Position::new(GUTTER, y), area.width), &form.title[range], theme.style(Role::Heading));
        y += 1;
    }
    let used =
        line(buffer, (Position::new(GUTTER, y), area.width), "type to find: ", theme.style(Role::Faint));
    let at = Position::new(GUTTER + used, y);
    let typed = line(buffer, (at, area.width.saturating_sub(at.x)), &form.typed, theme.style(Role::Heading));
    line(buffer, (Position::new((at.x + typed).min(area.right() - 1), y), 1), " ", theme.style(Role::Marked));
    let shown = form.shown();
    let rows = usize::from(area.bottom().saturating_sub(y + 1));
    let top = (form.at + 1).saturating_sub(rows);
    for (y, (number, row)) in (y + 1..area.bottom()).zip(shown.iter().enumerate().skip(top)) {
        let role = if number == form.at { Role::Hand } else { Role::Text };
        if number == form.at {
            line(buffer, (Position::new(0, y), 1), "▌", theme.style(Role::Bar));
        }
        line(buffer, (Position::new(GUTTER, y), area.width), &shorten(&row.words, room), theme.style(role));
    }
}
