//! What goes where on a screen of a given size: areas, and the lines of a text in them. Nothing is painted here.
//!
//! All of it follows from the state alone, so the same place on a window of the same size always looks the same.

mod couplet;
mod drawn;
mod flow;
pub(crate) mod page;

use ratatui::layout::Rect;

use crate::reader::form::Form;
use crate::reader::pick::By;
use crate::reader::place::Screen;
use crate::reader::sheet::{Pane, Sheet};
use crate::reader::state::{Density, Overlay, State};
use crate::reader::textflow::{columns, shorten, wrap};

pub(crate) use couplet::{Cut, Row, plan};
pub(crate) use flow::Flow;

/// The smallest window that is drawn in, columns and rows.
pub(crate) const SMALLEST: (u16, u16) = (40, 12);

/// Most columns of a line of prose; beyond that the eye loses the next line (45 to 75 letters, typographers say).
const WIDEST_PROSE: u16 = 76;

/// Most columns of paragraphs set beside each other.
const WIDEST_BANDS: u16 = 200;

/// Columns from which on a definition stands beside the text.
const SIDE_BY_SIDE: u16 = 120;

/// Columns left of a text: the bar, and a blank.
pub(crate) const GUTTER: u16 = 2;

/// Columns kept free at the right edge.
const MARGIN: u16 = 1;

/// Rows of a definition that are kept while the text is cut: its rule and three lines.
pub(crate) const LEAST_PANE: u16 = 4;

/// Most columns given to the labels of leads.
const WIDEST_LABEL: usize = 8;

/// The parts of a screen.
#[derive(Debug)]
pub(crate) struct Areas {
    /// Two lines: the book and the item, and where it stands.
    pub(crate) head: Rect,
    /// What is typed into a list.
    pub(crate) prompt: Option<Rect>,
    /// The text, the leads or the rows.
    pub(crate) body: Rect,
    /// The definition of the marked word.
    pub(crate) pane: Option<(Rect, Pane)>,
    /// The place beside the one that is read, or below it.
    pub(crate) side: Option<Rect>,
    /// What a newcomer is told: its area, title and lines.
    pub(crate) guide: Option<(Rect, Told)>,
    /// The frames of the drawings that are shown, the first ones of the sheet.
    pub(crate) drawings: Vec<Rect>,
    /// A standing caution, or the other keys.
    pub(crate) standing: Option<Rect>,
    /// The keys that matter here.
    pub(crate) foot: Rect,
}

/// Title and lines of what a newcomer is told.
pub(crate) type Told = (String, Vec<String>);

/// Columns from which on two places stand beside each other; below that, below one another.
const SPLIT: u16 = 100;

/// Returns the parts of the screen.
pub(crate) fn areas(state: &State) -> Areas {
    let (width, height) = state.size;
    let row = |y: u16, rows: u16| Rect { x: 0, y, width, height: rows };
    let head = row(0, 2.min(height));
    let foot = row(height.saturating_sub(1), 1.min(height));
    let prompt = state.way.here.item.typed().map(|_| row(2, 1));
    let rows = standing_lines(state).len() as u16;
    let standing = (rows > 0).then(|| row(height.saturating_sub(1 + rows), rows));
    let (rest, guide) = with_guide(state, inner(state));
    let (rest, side) = with_side(state, rest);
    let ((body, pane), drawings) = drawn::place(state, rest, with_pane(state, rest));
    Areas { head, prompt, body, pane, side, guide, drawings, standing, foot }
}

/// Says whether there is room for drawings, wanted or not.
pub(crate) fn drawings_fit(state: &State) -> bool {
    let (rest, _) = with_guide(state, inner(state));
    let (rest, _) = with_side(state, rest);
    !drawn::place_wanted(state, rest, with_pane(state, rest)).1.is_empty()
}

/// Says whether a question of the drill may be asked by so many drawings.
pub(crate) fn drawings_to_choose(state: &State, count: u16) -> bool {
    state.dots.is_some() && drawn::all_fit(state.size, count)
}

/// Returns what lies between head and foot.
fn inner(state: &State) -> Rect {
    let (width, height) = state.size;
    let prompt = u16::from(state.way.here.item.typed().is_some());
    let taken = 3 + prompt + standing_lines(state).len() as u16;
    Rect { x: 0, y: 2 + prompt, width, height: height.saturating_sub(taken) }
}

/// Returns how many columns the place that is read has.
pub(crate) fn main_width(state: &State) -> u16 {
    if state.side.is_some() && state.size.0 >= SPLIT { state.size.0 / 2 } else { state.size.0 }
}

/// Returns how many columns a text beside the place that is read has, in a window of this size.
pub(crate) fn side_columns((width, _): (u16, u16)) -> u16 {
    let columns = if width >= SPLIT { width - width / 2 - 1 } else { width };
    columns.saturating_sub(GUTTER + MARGIN).min(WIDEST_PROSE)
}

/// Says whether a window is drawn in at all.
pub(crate) fn is_drawn((width, height): (u16, u16)) -> bool {
    width >= SMALLEST.0 && height >= SMALLEST.1
}

/// Returns the first screen row of a list that lies over the screen.
pub(crate) fn pick_first(state: &State) -> u16 {
    let typed = matches!(&state.overlay, Overlay::Pick(pick) if pick.by == By::Typing);
    PICK_HEAD + u16::from(typed)
}

/// Returns how many rows of such a list are in view.
pub(crate) fn pick_rows(state: &State) -> usize {
    usize::from(state.size.1.saturating_sub(pick_first(state) + 1)).max(1)
}

/// Returns the lines of the question of an amendment's form in a window of this width.
pub(crate) fn question_lines(form: &Form, width: u16) -> Vec<std::ops::Range<usize>> {
    let room = usize::from(width.saturating_sub(GUTTER + 1));
    wrap(&form.title, room).into_iter().take(QUESTION_ROWS).collect()
}

/// Returns the first screen row of the rows of such a form, and how many there is room for.
pub(crate) fn form_rows(state: &State) -> (u16, usize) {
    let Overlay::Amend(form) = &state.overlay else { return (0, 0) };
    // Below the question stands what is typed.
    let first = PICK_HEAD + question_lines(form, state.size.0).len() as u16 + 1;
    (first, usize::from(state.size.1.saturating_sub(first + 1)))
}

/// Returns the first of so many rows of a choice in view, which has this row at hand, and how many are: it stands at the foot.
pub(crate) fn choice_rows((_, height): (u16, u16), rows: usize, at: usize) -> (usize, usize) {
    let shown = rows.min(usize::from(height.saturating_sub(CHOICE_EDGES)));
    ((at + 1).saturating_sub(shown), shown)
}

/// Rows that a choice leaves: the head, its rule and the foot.
const CHOICE_EDGES: u16 = 4;

/// Rows of the question of a form at most.
const QUESTION_ROWS: usize = 2;

/// Rows above such a list: the head, and the rule with its title.
const PICK_HEAD: u16 = 3;

/// Takes rows at the foot for what a newcomer is told, if it is told here.
fn with_guide(state: &State, inner: Rect) -> (Rect, Option<(Rect, Told)>) {
    let told = state.guide.and_then(|guide| guide.words(state));
    let Some((title, paragraphs)) = told else { return (inner, None) };
    let room = usize::from(inner.width.saturating_sub(GUTTER + MARGIN).min(WIDEST_PROSE));
    let broken = |words: &String| wrap(words, room).into_iter().map(|line| words[line].to_owned()).collect();
    let lines: Vec<String> = paragraphs.iter().flat_map(|words| -> Vec<String> { broken(words) }).collect();
    let rows = (lines.len() as u16 + 1).min(inner.height / 2);
    let body = Rect { height: inner.height - rows, ..inner };
    (body, Some((Rect { y: body.bottom(), height: rows, ..inner }, (title, lines))))
}

/// Parts the rest between the place that is read and the one beside it.
fn with_side(state: &State, inner: Rect) -> (Rect, Option<Rect>) {
    if state.side.is_none() {
        return (inner, None);
    }
    if inner.width >= SPLIT {
        let body = Rect { width: main_width(state), ..inner };
        let x = body.right() + 1;
        return (body, Some(Rect { x, width: inner.right() - x, ..inner }));
    }
    let rows = inner.height / 2;
    let body = Rect { height: inner.height - rows, ..inner };
    (body, Some(Rect { y: body.bottom(), height: rows, ..inner }))
}

/// Returns the lines of what stands at the foot: a caution whole, the other keys in one line.
pub(crate) fn standing_lines(state: &State) -> Vec<String> {
    let Some(words) = &state.sheet.standing else { return Vec::new() };
    let room = usize::from(state.size.0.saturating_sub(GUTTER + MARGIN));
    if state.screen() == Screen::Couplet {
        return vec![shorten(words, room)];
    }
    wrap(words, room).into_iter().take(STANDING_ROWS).map(|range| words[range].to_owned()).collect()
}

/// Rows that a caution takes at most; in the narrowest window it needs two.
const STANDING_ROWS: usize = 3;

/// Returns the lines of a sheet for a window of this width.
pub(crate) fn flow_of(sheet: &Sheet, screen: Screen, (width, density): (u16, Density)) -> Flow {
    let flow = Flow::of(sheet, text_columns(sheet, screen, width));
    match density {
        Density::Comfortable => flow,
        Density::Dense => flow.closed_up(sheet),
    }
}

/// Returns how many columns the text of a sheet has; beside the label, for leads.
pub(crate) fn text_columns(sheet: &Sheet, screen: Screen, width: u16) -> u16 {
    let inside = if sheet.leads.is_empty() { 0 } else { label_width(sheet) as u16 + 1 };
    let widest = if sheet.bands.is_empty() { WIDEST_PROSE } else { WIDEST_BANDS };
    let columns = body_width(screen, width).saturating_sub(GUTTER + MARGIN).min(widest);
    columns.saturating_sub(inside).max(1)
}

/// Returns how many columns the labels of a couplet take.
pub(crate) fn label_width(sheet: &Sheet) -> usize {
    sheet.leads.iter().map(|lead| columns(&lead.label).min(WIDEST_LABEL)).max().unwrap_or(0)
}

/// Returns the lines of a definition for a pane of this width, as bytes of its paragraphs.
pub(crate) fn pane_lines(pane: &Pane, width: u16) -> Vec<(usize, std::ops::Range<usize>)> {
    let columns = width.saturating_sub(GUTTER + MARGIN).min(WIDEST_PROSE) as usize;
    let lines = |(at, text): (usize, &crate::model::Text)| {
        wrap(&text.plain, columns).into_iter().map(move |range| (at, range)).collect::<Vec<_>>()
    };
    pane.texts.iter().enumerate().flat_map(lines).collect()
}

/// Says whether the definition stands beside the text.
pub(crate) fn side_by_side(screen: Screen, width: u16) -> bool {
    let text = matches!(screen, Screen::Couplet | Screen::Treatment | Screen::Term | Screen::Page);
    text && width >= SIDE_BY_SIDE
}

fn body_width(screen: Screen, width: u16) -> u16 {
    if side_by_side(screen, width) { (width / 5 * 3).min(WIDEST_PROSE + GUTTER + MARGIN) } else { width }
}

fn with_pane(state: &State, inner: Rect) -> (Rect, Option<(Rect, Pane)>) {
    let screen = state.screen();
    let body = Rect { width: body_width(screen, inner.width), ..inner };
    let Some(pane) = state.pane() else { return (body, None) };
    if side_by_side(screen, inner.width) {
        let x = body.width + 1;
        let width = (inner.width - x).min(WIDEST_PROSE);
        return (body, Some((Rect { x, width, ..inner }, pane)));
    }
    let need = 1 + pane_lines(&pane, inner.width).len() as u16;
    let rows = if screen == Screen::Couplet {
        couplet::pane_rows(state, need, inner.height)
    } else {
        need.min((inner.height / 3).max(LEAST_PANE)).min(inner.height)
    };
    let body = Rect { height: inner.height - rows, ..body };
    (body, Some((Rect { y: inner.y + body.height, height: rows, ..inner }, pane)))
}
