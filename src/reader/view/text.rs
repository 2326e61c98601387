//! Running text, lists and definitions: lines with marked words, the row at hand, letters beside words.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::reader::measure::{self, GUTTER};
use crate::reader::sheet::{Kind, Pane};
use crate::reader::state::{Overlay, State};
use crate::reader::textflow::{self, columns};
use crate::reader::theme::{Role, Theme};
use crate::reader::view::{fill, line, printed, stops_of};

/// Draws the lines of a sheet that are in view.
pub(super) fn body(state: &State, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let top = state.top(area.height);
    let letters = letters(state);
    let left = measure::page::left(state);
    for (row, number) in (top..state.flow.lines.len()).take(usize::from(area.height)).enumerate() {
        let found = &state.flow.lines[number];
        let last = row + 1 == usize::from(area.height) && number + 1 < state.flow.lines.len();
        if last && state.sheet.blocks.get(found.block).is_some_and(|block| block.kind == Kind::Heading) {
            // A heading is kept with what stands below it, which the next screenful shows.
            break;
        }
        let block = state.sheet.blocks.get(found.block).filter(|block| block.kind == Kind::Set);
        let (gutter, skipped) = match block {
            // The sign of what is recognised stands in the gutter, before each column of the page.
            Some(row) => (0, textflow::byte_at(&row.text.plain, left)),
            None => (GUTTER, 0),
        };
        let at = Position::new(area.x + gutter + found.indent, area.y + row as u16);
        let room = area.right().saturating_sub(at.x);
        let range = found.range.start.max(skipped)..found.range.end;
        text_line(state, theme, (at, room, buffer), (found.block, range, &letters));
        for beside in &found.beside {
            let at = Position::new(area.x + gutter + beside.indent, at.y);
            let room = area.right().saturating_sub(at.x);
            text_line(state, theme, (at, room, buffer), (beside.block, beside.range.clone(), &letters));
        }
    }
}

/// Returns the letters beside words, if they are shown.
pub(super) fn letters(state: &State) -> Vec<(char, usize)> {
    if state.overlay == Overlay::Letters { state.letters() } else { Vec::new() }
}

/// Draws one line of a paragraph with everything that is marked in it; returns the columns taken.
pub(super) fn text_line(
    state: &State,
    theme: &Theme,
    (at, room, buffer): (Position, u16, &mut Buffer),
    (block, range, letters): (usize, Range<usize>, &[(char, usize)]),
) -> u16 {
    let Some(paragraph) = state.sheet.blocks.get(block) else { return 0 };
    let text = &paragraph.text;
    let Some(words) = text.plain.get(range.clone()) else { return 0 };
    let marked = state.way.here.cursor.stop;
    let list = matches!(paragraph.kind, Kind::Row | Kind::ShortRow) && is_list(state);
    let base = theme.style(match paragraph.kind {
        Kind::Heading => Role::Heading,
        Kind::Body | Kind::Row | Kind::ShortRow | Kind::Set => Role::Text,
        Kind::Faint => Role::Faint,
    });
    let stops: Vec<(usize, Range<usize>)> =
        stops_of(&state.sheet, block).map(|(number, stop)| (number, stop.range.clone())).collect();
    if list && stops.iter().any(|(number, _)| Some(*number) == marked) {
        line(
            buffer,
            (Position::new(at.x - at.x.min(GUTTER + paragraph.hang), at.y), 1),
            "▌",
            theme.style(Role::Bar),
        );
    }
    let style_of = |byte: usize| {
        let stop = stops.iter().find(|(_, range)| range.contains(&byte));
        let style = match stop {
            Some((number, _)) if Some(*number) == marked && list && range.start == 0 => {
                theme.style(Role::Hand)
            }
            Some((number, _)) if Some(*number) == marked && !list => theme.style(Role::Marked),
            Some(_) if !list => theme.style(Role::Word),
            Some(_) | None => base,
        };
        printed(style, text, byte)
    };
    let used = textflow::paint(buffer, (at, room), (&text.plain, range.clone()), style_of);
    if paragraph.kind == Kind::ShortRow && range.end < text.plain.len() {
        line(buffer, (Position::new(at.x + used, at.y), room - used), "…", theme.style(Role::Faint));
    }
    for (letter, number) in letters {
        let Some((_, stop)) = stops.iter().find(|(stop, _)| stop == number) else { continue };
        if range.contains(&stop.start) {
            let before = columns(&words[..stop.start - range.start]) as u16;
            let cell = Position::new((at.x + before).saturating_sub(1), at.y);
            line(buffer, (cell, 1), &letter.to_string(), theme.style(Role::Letter));
        }
    }
    used
}

/// Draws a definition under its rule.
pub(super) fn pane(pane: &Pane, theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    if area.height == 0 {
        return;
    }
    fill(buffer, area, theme.style(Role::Text));
    let lines = measure::pane_lines(pane, area.width);
    let rows = usize::from(area.height) - 1;
    let source =
        if lines.len() > rows { format!("{} {}", pane.source, pane.goes_on) } else { pane.source.clone() };
    rule((&pane.title, &source), theme, (area, buffer));
    for (row, (text, range)) in lines.into_iter().take(rows).enumerate() {
        let text = &pane.texts[text];
        let at = Position::new(area.x + GUTTER, area.y + 1 + row as u16);
        let room = area.right().saturating_sub(at.x);
        let style = theme.style(Role::Text);
        textflow::paint(buffer, (at, room), (&text.plain, range), |byte| printed(style, text, byte));
    }
}

/// Draws a rule with a title at its left and the source at its right.
pub(super) fn rule((title, source): (&str, &str), theme: &Theme, (area, buffer): (Rect, &mut Buffer)) {
    let style = theme.style(Role::Rule);
    let width = usize::from(area.width);
    line(buffer, (Position::new(area.x, area.y), area.width), &"─".repeat(width), style);
    let source_room = width / 2;
    let source = format!(" {} ", textflow::shorten(source, source_room));
    let title_room = width.saturating_sub(columns(&source) + RULE_ENDS);
    let title = format!(" {} ", textflow::shorten(title, title_room));
    let heading = theme.style(Role::Heading);
    line(
        buffer,
        (Position::new(area.x + GUTTER, area.y), area.width.saturating_sub(GUTTER)),
        &title,
        heading,
    );
    let x = area.right().saturating_sub(columns(&source) as u16 + GUTTER);
    line(
        buffer,
        (Position::new(x, area.y), area.right().saturating_sub(x)),
        &source,
        theme.style(Role::Faint),
    );
}

/// Columns of a rule that neither its title nor its source takes: both ends and the blanks around the title.
const RULE_ENDS: usize = 8;

fn is_list(state: &State) -> bool {
    state.screen().is_list()
}
