//! What there is to be said of a state: place, leads, rows, terms, questions, as lines to be listened to.
//!
//! Nothing here knows what was said before.

use std::ops::Range;

use crate::reader::ascii::{self, Signs};
use crate::reader::command::Command;
use crate::reader::explain;
use crate::reader::library::count;
use crate::reader::measure;
use crate::reader::pick::{By, Pick};
use crate::reader::place::{Item, Screen};
use crate::reader::sheet::{Go, Kind};
use crate::reader::state::{Ask, Overlay, State};
use crate::reader::view::needed;

/// Signs that are looked at, with the words that are listened to; a target's arrow among them.
const SPOKEN: &[(&str, &str)] = &[
    ("→ ", "leads to "),
    ("↑", "Up"),
    ("↓", "Down"),
    ("←", "Left"),
    ("→", "Right"),
    (" · ", ", "),
    ("▼ ", ""),
    ("▲ ", ""),
    ("\u{a0}", " "),
    ("\n", " "),
];

/// Returns a line as it is said.
pub(super) fn spoken(line: &str, signs: Signs) -> String {
    // What is folded already has an arrow of two signs.
    let line = line.replace("-> ", "→ ").replace(" | ", " · ");
    let said = SPOKEN.iter().fold(line, |line, (sign, words)| line.replace(sign, words));
    let said: String = said.chars().filter(|letter| !letter.is_control()).collect();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    if signs == Signs::Ascii { ascii::fold(&said) } else { said }
}

/// Says where one has come to, and what is there.
pub(super) fn arrival(state: &State) -> Vec<String> {
    let mut lines = vec![format!("{}.", state.sheet.title), state.sheet.about.clone()];
    if state.screen() == Screen::Couplet && !state.sheet.leads.is_empty() {
        let count = state.sheet.leads.len();
        lines.push(format!("{count} leads."));
        lines.extend((0..count).map(|lead| lead_words(state, lead)));
        lines.extend(if_marked(state));
    } else if state.screen().is_list() {
        let first = state.sheet.stops.first().map_or(state.sheet.blocks.len(), |stop| stop.block);
        lines.extend(paragraphs(state, 0..first));
        lines.push(at_hand(state));
    } else {
        lines.extend(paragraphs(state, in_view(state)));
        lines.push(goes_on(state));
        if state.screen() == Screen::Printed {
            lines.push(state.keys.fill("{look} reads the page as running text."));
        }
        lines.extend(if_marked(state));
    }
    lines.extend(state.sheet.standing.clone());
    lines.retain(|line| !line.trim().is_empty());
    lines
}

/// Says what a newcomer is told.
pub(super) fn told(state: &State) -> Vec<String> {
    let told = state.guide.and_then(|guide| guide.words(state));
    told.map(|(title, lines)| [vec![format!("{title}.")], lines].concat()).unwrap_or_default()
}

/// Says which lead or row is at hand.
pub(super) fn at_hand(state: &State) -> String {
    if state.screen() == Screen::Couplet && !state.sheet.leads.is_empty() {
        return lead_words(state, state.lead());
    }
    if !state.screen().is_list() {
        return String::new();
    }
    let rows = state.sheet.stops.len();
    let at = state.way.here.cursor.stop.unwrap_or(0);
    let Some(stop) = state.sheet.stops.get(at) else { return "No rows.".to_owned() };
    let words = state.sheet.blocks.get(stop.block).map_or("", |block| &block.text.plain);
    let words = if state.screen() == Screen::Taxa { fold_words(words) } else { words.to_owned() };
    format!("Row {} of {rows}: {words}", at + 1)
}

/// Puts words for the signs before a taxon of the tree, which say whether its members are shown.
fn fold_words(row: &str) -> String {
    let signs = [("+ ", "folded, "), ("− ", "unfolded, "), ("- ", "unfolded, ")];
    let found = signs.iter().find_map(|(sign, words)| Some(format!("{words}{}", row.strip_prefix(sign)?)));
    found.unwrap_or_else(|| row.to_owned())
}

fn lead_words(state: &State, lead: usize) -> String {
    let (Some(face), Some(block)) = (state.sheet.leads.get(lead), state.sheet.blocks.get(lead)) else {
        return String::new();
    };
    let count = state.sheet.leads.len();
    format!("Lead {} of {count}, {}: {} {}", lead + 1, face.label, ended(&block.text.plain), face.target)
}

/// Returns a sentence with a stop at its end, so that what follows is not taken for part of it.
fn ended(words: &str) -> String {
    let words = words.trim_end();
    if words.ends_with(['.', ';', ':', '?', '!']) { words.to_owned() } else { format!("{words}.") }
}

/// Returns the headings and remarks of a list that lie between the row before and the row at hand.
pub(super) fn between(state: &State, before: Option<usize>) -> Vec<String> {
    let block = |stop: Option<usize>| Some(state.sheet.stops.get(stop?)?.block);
    match (block(before), block(state.way.here.cursor.stop)) {
        (Some(above), Some(now)) if state.screen().is_list() && is_next(state, above) => {
            paragraphs(state, above + 1..now)
        }
        _ => Vec::new(),
    }
}

/// Says whether the row at hand is the first one below a paragraph.
fn is_next(state: &State, block: usize) -> bool {
    let next = state.sheet.stops.iter().position(|stop| stop.block > block);
    next.is_some() && next == state.way.here.cursor.stop
}

/// Returns the paragraphs of a text that are in view.
pub(super) fn in_view(state: &State) -> Range<usize> {
    let height = measure::areas(state).body.height;
    let top = state.top(height);
    let lines = state.flow.lines.get(top..).unwrap_or_default();
    let lines = &lines[..lines.len().min(usize::from(height))];
    let blocks = || lines.iter().flat_map(|line| line.beside.iter().chain([line]).map(|line| line.block));
    blocks().min().unwrap_or(0)..blocks().max().map_or(0, |last| last + 1)
}

/// Returns paragraphs as lines.
pub(super) fn paragraphs(state: &State, blocks: impl Iterator<Item = usize>) -> Vec<String> {
    let found = blocks.filter_map(|block| state.sheet.blocks.get(block));
    let lines = found.map(|block| match block.kind {
        Kind::Heading => format!("Heading: {}.", block.text.plain.trim_end_matches('.')),
        Kind::Body | Kind::Row | Kind::ShortRow | Kind::Faint | Kind::Set => block.text.plain.clone(),
    });
    lines.filter(|line| !line.trim().is_empty()).collect()
}

/// Says whether a text goes on.
pub(super) fn goes_on(state: &State) -> String {
    let left = state.sheet.blocks.len().saturating_sub(in_view(state).end) as u32;
    if left == 0 {
        return "End.".to_owned();
    }
    let (left, key) = (count(left, "more paragraph", "more paragraphs"), state.keys.first(Command::ScrollOn));
    format!("Goes on: {left}; {key} reads on.")
}

/// Says which word is marked, if one is.
fn if_marked(state: &State) -> Option<String> {
    state.way.here.cursor.stop.and_then(|_| marked(state))
}

/// Says which word is marked, and what it means.
pub(super) fn marked(state: &State) -> Option<String> {
    let Some(stop) = state.way.here.cursor.stop else { return Some("No word is marked.".to_owned()) };
    let word = state.word(stop);
    let Some(pane) = state.pane().filter(|_| state.overlay != Overlay::Letters) else {
        let leads = matches!(state.sheet.stops.get(stop)?.go, Go::To(_) | Go::Paragraph(..));
        let goes = if leads { state.keys.fill("{follow} goes there.") } else { String::new() };
        return Some(format!("{word}. {goes}"));
    };
    let texts: Vec<String> = pane.texts.iter().map(|text| ended(&text.plain)).collect();
    Some(format!("{word}. {} From {}.", texts.join(" "), pane.source))
}

/// Says what was typed into a list, and what is found by it.
pub(super) fn typed(state: &State) -> Vec<String> {
    let typed = state.way.here.item.typed().unwrap_or_default();
    vec![format!("Typed: {typed}."), at_hand(state)]
}

/// Says what lies over the screen now, or that nothing does any more.
pub(super) fn overlay(state: &State, before: &Overlay) -> Vec<String> {
    match &state.overlay {
        Overlay::None => match before {
            Overlay::Letters | Overlay::None => Vec::new(),
            Overlay::Typing => vec![at_hand(state)],
            Overlay::Ask { .. }
            | Overlay::Help(_)
            | Overlay::Amend(_)
            | Overlay::Pick(_)
            | Overlay::Choose { .. } => {
                vec!["Closed.".to_owned()]
            }
        },
        Overlay::Letters => vec![letters(state)],
        Overlay::Typing => vec!["Type; Enter ends it, Esc takes it back.".to_owned()],
        Overlay::Ask { ask, words } => match before {
            Overlay::Ask { .. } => vec![format!("Typed: {words}")],
            _ => vec![format!("{} {words}", question(*ask)), "Enter keeps it, Esc leaves it.".to_owned()],
        },
        Overlay::Help(top) => help(state, *top, before),
        Overlay::Pick(pick) => picked(state, pick, before),
        Overlay::Choose { title, rows, at } => choice(state, (title, rows, *at), before),
        Overlay::Amend(form) => {
            let row = form.shown().get(form.at).map_or("No row.".to_owned(), |row| row.words.clone());
            match before {
                Overlay::Amend(before) if before.typed == form.typed && before.title == form.title => {
                    vec![row]
                }
                Overlay::Amend(before) if before.title == form.title => {
                    vec![format!("Typed: {}.", form.typed), row]
                }
                _ => vec![form.title.clone(), "Type to find, Enter takes it, Esc closes.".to_owned(), row],
            }
        }
    }
}

fn letters(state: &State) -> String {
    let mut letters = state.letters();
    letters.dedup_by_key(|(letter, _)| *letter);
    let words: Vec<String> =
        letters.iter().map(|(letter, stop)| format!("{letter} {}", state.word(*stop))).collect();
    format!("Press a letter: {}. Esc closes.", words.join(", "))
}

fn question(ask: Ask) -> &'static str {
    match ask {
        Ask::Note(_) => "Note to this decision?",
        Ask::Name => "Name of this plant?",
        Ask::NewPlant => "Name of the new plant? Enter alone numbers it.",
        Ask::Reason => "Why is this branch given up?",
        Ask::Forget => "Forget all that you looked up and answered? Type yes.",
        Ask::Trip => "Trip? For example Skerra, 17 July, 300 m.",
        Ask::Readings => "Readings? For example leaf 62 58 66 mm x 15.",
    }
}

/// Says the row at hand of a list to pick from, when it opens with its title and how a row is picked.
fn picked(state: &State, pick: &Pick, before: &Overlay) -> Vec<String> {
    let shown = pick.shown();
    let row = shown.get(pick.at).map_or("No row.".to_owned(), |row| {
        let sign = state.keys.signs().nth(pick.at % measure::pick_rows(state).max(1));
        let sign = sign.filter(|_| pick.by == By::Signs).map(|sign| format!("{sign}: ")).unwrap_or_default();
        let before = if row.before.is_empty() { String::new() } else { format!("{}, ", row.before) };
        format!("Row {} of {}: {sign}{before}{}.", pick.at + 1, shown.len(), row.words)
    });
    match before {
        Overlay::Pick(before) if before.typed == pick.typed && before.title == pick.title => vec![row],
        Overlay::Pick(before) if before.title == pick.title => vec![format!("Typed: {}.", pick.typed), row],
        _ => vec![format!("{}: {}.", pick.title, pick.hint), row],
    }
}

/// Explains the screen at hand and lists its keys; scrolled on, those of other screens.
fn help(state: &State, top: usize, before: &Overlay) -> Vec<String> {
    let (screen, keys) = (state.screen(), &state.keys);
    let of = |command: &&Command| command.applies(screen);
    let line = |command: &Command| {
        let shown = keys.shown(*command);
        let shown = if shown.is_empty() { keys.first(*command) } else { shown };
        format!("{shown}: {}.", command.row().help)
    };
    match before {
        Overlay::Help(0) if top > 0 => {
            let mut lines = vec!["Keys on other screens.".to_owned()];
            lines.extend(Command::ALL.iter().filter(|command| !of(command)).map(line));
            lines
        }
        Overlay::Help(_) => vec!["That is all; Esc closes help.".to_owned()],
        _ => {
            let mut lines: Vec<String> = explain::of(screen).iter().map(|words| keys.fill(words)).collect();
            let needed = needed(screen);
            lines.push("You need these:".to_owned());
            lines.extend(needed.iter().filter(of).map(line));
            lines.push(format!("All other keys here, on a screen of kind {}.", screen.word()));
            lines
                .extend(Command::ALL.iter().filter(of).filter(|command| !needed.contains(command)).map(line));
            lines.push(keys.fill("{down} says the keys of other screens; Esc closes help."));
            lines
        }
    }
}

fn choice(
    state: &State,
    (title, rows, at): (&str, &[(String, Item)], usize),
    before: &Overlay,
) -> Vec<String> {
    let signs: Vec<char> = state.keys.row_signs().collect();
    let row = |(at, (words, _)): (usize, &(String, Item))| match signs.get(at) {
        Some(sign) => format!("{sign}: {words}"),
        None => words.clone(),
    };
    if matches!(before, Overlay::Choose { title: other, .. } if other == title) {
        return rows.get(at).map(|found| row((at, found))).into_iter().collect();
    }
    let mut lines =
        vec![format!("{title}. {} to choose from; a figure or letter takes one, Esc closes.", rows.len())];
    lines.extend(rows.iter().enumerate().map(row));
    lines
}
