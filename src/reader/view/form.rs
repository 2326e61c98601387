//! The form of an amendment: the question, what was typed, and the rows that have it.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::form::Form;
use crate::reader::measure::{self, GUTTER};
use crate::reader::state::State;
use crate::reader::textflow::shorten;
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, text};

/// What closing the form does.
const CLOSES: &str = "Esc changes nothing";

/// Draws the form over an area.
pub(super) fn form(state: &State, theme: &Theme, (area, buffer, form): (Rect, &mut Buffer, &Form)) {
    fill(buffer, area, theme.style(Role::Text));
    let (first, rows) = measure::form_rows(state);
    let shown = form.shown();
    let top = form.top(rows);
    let in_view = if shown.len() > rows {
        format!("rows {}–{} of {} · {CLOSES}", top + 1, (top + rows).min(shown.len()), shown.len())
    } else {
        CLOSES.to_owned()
    };
    text::rule(("Amend", &in_view), theme, (area, buffer));
    let room = usize::from(area.width.saturating_sub(GUTTER + 1));
    let mut y = area.y + 1;
    for range in measure::question_lines(form, area.width) {
        line(buffer, (Position::new(GUTTER, y), area.width), &form.title[range], theme.style(Role::Heading));
        y += 1;
    }
    let used =
        line(buffer, (Position::new(GUTTER, y), area.width), "type to find: ", theme.style(Role::Faint));
    let at = Position::new(GUTTER + used, y);
    let typed = line(buffer, (at, area.width.saturating_sub(at.x)), &form.typed, theme.style(Role::Heading));
    line(buffer, (Position::new((at.x + typed).min(area.right() - 1), y), 1), " ", theme.style(Role::Marked));
    for (y, (number, row)) in (first..area.bottom()).zip(shown.iter().enumerate().skip(top)) {
        let role = if number == form.at { Role::Hand } else { Role::Text };
        if number == form.at {
            line(buffer, (Position::new(0, y), 1), "▌", theme.style(Role::Bar));
        }
        line(buffer, (Position::new(GUTTER, y), area.width), &shorten(&row.words, room), theme.style(role));
    }
}
