//! The place beside the one that is read, and what a newcomer is told: each under a rule or beside a line of its own.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::measure::{GUTTER, Told};
use crate::reader::sheet::Kind;
use crate::reader::side::Side;
use crate::reader::state::State;
use crate::reader::textflow::{self};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, printed, text};

/// Draws the other place from its own line on.
pub(super) fn side(state: &State, theme: &Theme, (area, buffer, side): (Rect, &mut Buffer, &Side)) {
    fill(buffer, area, theme.style(Role::Text));
    if area.x > 0 {
        for y in area.top()..area.bottom() {
            line(buffer, (Position::new(area.x - 1, y), 1), "│", theme.style(Role::Rule));
        }
    }
    let height = area.height.saturating_sub(1);
    let top = side.top(height);
    let below = side.flow.lines.len().saturating_sub(top + usize::from(height));
    let goes_on = if below > 0 { "▼ " } else { "" };
    let hint = format!("{goes_on}{} goes there", state.keys.first(crate::reader::command::Command::Swap));
    text::rule((&side.sheet.title, &hint), theme, (area, buffer));
    for (y, found) in (area.y + 1..area.bottom()).zip(side.flow.lines.iter().skip(top)) {
        for found in std::iter::once(found).chain(&found.beside) {
            let Some(block) = side.sheet.blocks.get(found.block) else { continue };
            let role = match block.kind {
                Kind::Heading => Role::Heading,
                Kind::Body | Kind::Row | Kind::ShortRow | Kind::Set => Role::Text,
                Kind::Faint => Role::Faint,
            };
            if found.range.end > block.text.plain.len() {
                continue;
            }
            let style = theme.style(role);
            let at = Position::new(area.x + GUTTER + found.indent, y);
            let room = area.right().saturating_sub(at.x);
            let words = (&block.text.plain, found.range.clone());
            let words = (words.0.as_str(), words.1);
            textflow::paint(buffer, (at, room), words, |byte| printed(style, &block.text, byte));
        }
    }
}

/// Draws what a newcomer is told.
pub(super) fn guide(state: &State, theme: &Theme, (area, buffer, told): (Rect, &mut Buffer, &Told)) {
    fill(buffer, area, theme.style(Role::Text));
    let hint = match state.guide {
        Some(crate::reader::guide::Guide::Tour(_)) => state.keys.fill("{tour} leaves the tour"),
        Some(crate::reader::guide::Guide::Welcome) | None => "until you take a lead".to_owned(),
    };
    text::rule((&told.0, &hint), theme, (area, buffer));
    for (y, words) in (area.y + 1..area.bottom()).zip(&told.1) {
        line(
            buffer,
            (Position::new(GUTTER, y), area.width.saturating_sub(GUTTER)),
            words,
            theme.style(Role::Text),
        );
    }
}
