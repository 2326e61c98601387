//! The leads of a couplet: label, printed words, target; the lead at hand has a bar and a reversed label.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::measure::{self, Cut, GUTTER, Row};
use crate::reader::state::State;
use crate::reader::textflow::{columns, shorten};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{line, text};

/// What stands at the end of the last row shown of a lead that goes on; where its text leaves no room, `…` in the margin.
const GOES_ON: &str = " … more";

/// Draws the leads.
pub(super) fn leads(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let plan = measure::plan(state, area.height);
    let label = measure::label_width(&state.sheet) as u16;
    let width = GUTTER + label + 1 + state.lead_width() as u16;
    let column = Rect { width: width.min(area.width), ..area };
    for (y, row) in (area.y..area.bottom()).zip(&plan.rows) {
        let place = Rect { y, height: 1, ..column };
        match row {
            Row::Gap => {}
            Row::Hidden(words) => {
                line(
                    buffer,
                    (Position::new(area.x + GUTTER, y), area.width),
                    words,
                    theme.style(Role::Faint),
                );
            }
            Row::Lead { .. } => lead_row(state, theme, (place, buffer), row),
        }
    }
}

fn lead_row(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer), row: &Row) {
    let Row::Lead { lead, line: number, target, cut, first } = row else { return };
    let at_hand = *lead == state.lead();
    if at_hand {
        line(buffer, (Position::new(area.x, area.y), 1), "▌", theme.style(Role::Bar));
    }
    let label_columns = measure::label_width(&state.sheet) as u16;
    if *first {
        let label = shorten(&state.sheet.leads[*lead].label, usize::from(label_columns));
        let role = if at_hand { Role::Hand } else { Role::Label };
        line(buffer, (Position::new(area.x + GUTTER, area.y), label_columns), &label, theme.style(role));
    }
    let at = Position::new(area.x + GUTTER + label_columns + 1, area.y);
    let room = area.right().saturating_sub(at.x);
    let found = number.and_then(|number| state.flow.lines.get(number));
    let used = found.map_or(0, |found| {
        let letters = text::letters(state);
        text::text_line(state, theme, (at, room, buffer), (found.block, found.range.clone(), &letters))
    });
    if let Some(target) = target {
        let x = area.right().saturating_sub(columns(target) as u16).max(at.x);
        line(
            buffer,
            (Position::new(x, area.y), area.right().saturating_sub(x)),
            target,
            theme.style(Role::Target),
        );
    }
    let sign = match cut {
        Cut::Whole => return,
        Cut::Below => "▼",
        Cut::Above => "▲",
        Cut::Both => "↕",
    };
    line(buffer, (Position::new(area.x + 1, area.y), 1), sign, theme.style(Role::Target));
    if matches!(cut, Cut::Below | Cut::Both) {
        let free = area.right().saturating_sub(at.x + used);
        let words = if usize::from(free) >= columns(GOES_ON) { GOES_ON } else { "…" };
        let x = if words == GOES_ON { area.right() - columns(GOES_ON) as u16 } else { area.right() };
        line(buffer, (Position::new(x, area.y), columns(words) as u16), words, theme.style(Role::Target));
    }
}
