//! Drawings in their frames, each under what it shows.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::sheet::Drawing;
use crate::reader::textflow::shorten;
use crate::reader::theme::{Role, Theme};
use crate::reader::view::line;
use crate::sketch::Dots;

/// Draws one drawing.
pub(super) fn drawing(drawing: &Drawing, dots: Dots, theme: &Theme, (frame, buffer): (Rect, &mut Buffer)) {
    let Some(sketch) = drawing.sketch() else { return };
    let caption = shorten(&drawing.caption, usize::from(frame.width));
    line(buffer, (Position::new(frame.x, frame.y), frame.width), &caption, theme.style(Role::Label));
    let rows = sketch.cells((frame.width, frame.height.saturating_sub(1)), dots);
    for (y, row) in (frame.y + 1..frame.bottom()).zip(&rows) {
        line(buffer, (Position::new(frame.x, y), frame.width), row, theme.style(Role::Text));
    }
}
