//! The mouse: what the terminal reports in, one plain value out. What is pointed at is `update`'s to find.

use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};

/// What the mouse did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pointed {
    /// Its first button went down at this column and row.
    At(u16, u16),
    /// Its wheel turned away from the reader, up the page.
    WheelUp,
    /// Its wheel turned towards the reader, down the page.
    WheelDown,
}

impl Pointed {
    /// Returns what an event means, if it means anything here; that the mouse only moved means nothing.
    pub(crate) fn of(event: MouseEvent) -> Option<Self> {
        match event.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Self::At(event.column, event.row)),
            MouseEventKind::ScrollUp => Some(Self::WheelUp),
            MouseEventKind::ScrollDown => Some(Self::WheelDown),
            _ => None,
        }
    }
}

/// Asks the terminal to report presses and the wheel, in SGR form; movements are not asked for, so nothing wakes for them.
pub(crate) const LISTEN: &str = "\x1b[?1000h\x1b[?1006h";

/// Gives the mouse back to the terminal.
pub(crate) const LEAVE: &str = "\x1b[?1006l\x1b[?1000l";
