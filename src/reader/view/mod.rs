//! The state drawn into a frame: head, leads or text, definition, caution, foot. Nothing is changed by drawing.

mod couplet;
mod drawing;
mod edges;
mod form;
mod offers;
mod overlay;
mod pick;
mod side;
mod text;

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Modifier, Style};

use crate::model::Text;
use crate::reader::ascii::{self, Signs};
use crate::reader::measure::{self, SMALLEST};
use crate::reader::place::Screen;
use crate::reader::sheet::{Sheet, Stop};
use crate::reader::state::{Overlay, State};
use crate::reader::textflow;
use crate::reader::theme::{Role, Theme};

pub(crate) use edges::foot_key;
pub(crate) use offers::needed;
#[cfg(test)]
pub(crate) use offers::offers;
pub(crate) use overlay::{help_most, help_part, help_rows};

/// Draws the state.
pub(crate) fn view(state: &State, theme: &Theme, frame: &mut Frame) {
    let area = frame.area();
    let buffer = frame.buffer_mut();
    buffer.set_style(area, theme.style(Role::Text));
    if !measure::is_drawn(state.size) {
        return too_small(state, theme, buffer);
    }
    let areas = measure::areas(state);
    edges::head(state, theme, (areas.head, buffer));
    if let Some(prompt) = areas.prompt {
        edges::prompt(state, theme, (prompt, buffer));
    }
    if state.screen() == Screen::Couplet && !state.sheet.leads.is_empty() {
        couplet::leads(state, theme, (areas.body, buffer));
    } else {
        text::body(state, theme, (areas.body, buffer));
    }
    if let Some((area, pane)) = &areas.pane {
        text::pane(pane, theme, (*area, buffer));
    }
    if let (Some(area), Some(other)) = (areas.side, &state.side) {
        side::side(state, theme, (area, buffer, other));
    }
    if let Some((area, told)) = &areas.guide {
        side::guide(state, theme, (*area, buffer, told));
    }
    if let Some(dots) = state.dots {
        for (frame, shown) in areas.drawings.iter().zip(&state.sheet.drawings) {
            drawing::drawing(shown, dots, theme, (*frame, buffer));
        }
    }
    if let Some(area) = areas.standing {
        let role = if matches!(state.screen(), Screen::Couplet | Screen::Check) {
            Role::Target
        } else {
            Role::Caution
        };
        for (y, words) in (area.y..area.bottom()).zip(measure::standing_lines(state)) {
            line(buffer, (Position::new(measure::GUTTER, y), area.width), &words, theme.style(role));
        }
    }
    let middle = Rect {
        y: areas.head.bottom(),
        height: areas.foot.y.saturating_sub(areas.head.bottom()),
        ..areas.head
    };
    match &state.overlay {
        Overlay::Help(top) => overlay::help(state, theme, (middle, buffer, *top)),
        Overlay::Amend(asked) => form::form(state, theme, (middle, buffer, asked)),
        Overlay::Pick(list) => pick::pick(state, theme, (middle, buffer, list)),
        Overlay::Choose { title, rows, at } => {
            overlay::choice(state, (title, rows, *at), theme, (middle, buffer));
        }
        Overlay::None | Overlay::Letters | Overlay::Typing | Overlay::Ask { .. } => {}
    }
    edges::foot(state, theme, (areas.foot, buffer));
    if state.signs == Signs::Ascii {
        ascii::screen(buffer);
    }
}

fn too_small(state: &State, theme: &Theme, buffer: &mut Buffer) {
    let (width, height) = state.size;
    let words = format!(
        "This window has {width} x {height}; ligule needs {} x {}. Nothing is lost: make it larger.",
        SMALLEST.0, SMALLEST.1
    );
    for (row, range) in
        textflow::wrap(&words, usize::from(width)).into_iter().enumerate().take(usize::from(height))
    {
        line(buffer, (Position::new(0, row as u16), width), &words[range], theme.style(Role::Text));
    }
}

/// Paints one line of one style.
fn line(buffer: &mut Buffer, place: (Position, u16), words: &str, style: Style) -> u16 {
    textflow::print(buffer, place, words, style)
}

/// Gives a whole row one style, blank where nothing stands.
fn fill(buffer: &mut Buffer, area: Rect, style: Style) {
    for position in area.intersection(buffer.area).positions() {
        buffer[position].reset();
        buffer[position].set_style(style);
    }
}

/// Adds the printed styles of a byte to a style.
fn printed(style: Style, text: &Text, byte: usize) -> Style {
    let printed = text.style_at(byte);
    let style = if printed.bold { style.add_modifier(Modifier::BOLD) } else { style };
    if printed.italic { style.add_modifier(Modifier::ITALIC) } else { style }
}

/// Returns the stops of a paragraph with their numbers.
fn stops_of(sheet: &Sheet, block: usize) -> impl Iterator<Item = (usize, &Stop)> {
    let start = sheet.stops.partition_point(|stop| stop.block < block);
    sheet.stops.iter().enumerate().skip(start).take_while(move |(_, stop)| stop.block == block)
}
