//! The reader for ears and fingers: a state, and what was heard of it before, in; lines that say what is new, out.
//!
//! Nothing is drawn and nothing is repeated: a press says what it changed, and says so if it changed nothing.

mod wording;

use crate::reader::place::{Item, Screen};
use crate::reader::press::Press;
use crate::reader::state::{Overlay, State};

/// Columns and rows of the window that scrolling goes by: a screenful of text is as much as is said at once.
pub(crate) const WINDOW: (u16, u16) = (80, 24);

/// What was said of a state, to tell what is new in the next.
pub(crate) struct Heard {
    item: Item,
    overlay: Overlay,
    message: Option<String>,
    told: Vec<String>,
    at_hand: String,
    stop: Option<usize>,
    /// The last paragraphs of a text that were said.
    said: std::ops::Range<usize>,
}

/// Returns what is new, line by line, and keeps it as heard.
pub(crate) fn say(heard: &mut Option<Heard>, state: &State) -> Vec<String> {
    let mut now = Heard {
        item: state.way.here.item.clone(),
        overlay: state.overlay.clone(),
        message: state.message.as_ref().map(|message| state.keys.fill(message)),
        told: wording::told(state),
        at_hand: wording::at_hand(state),
        stop: state.way.here.cursor.stop,
        said: wording::in_view(state),
    };
    let lines = match heard.take() {
        None => [wording::arrival(state), now.told.clone(), vec![state.keys.fill(FIRST)]].concat(),
        Some(before) => changes(&before, &mut now, state),
    };
    *heard = Some(now);
    let spoken = lines.iter().map(|line| wording::spoken(line, state.signs));
    spoken.filter(|line| !line.is_empty()).collect()
}

/// What is said once, at the start.
const FIRST: &str = "{help} says which keys there are; {quit} quits.";

/// What is said of a press that did nothing.
const NOTHING: &str = "Nothing has changed.";

/// What is said when something that lay over the screen is gone, and nothing else is new.
const CLOSED: &str = "Closed.";

fn changes(before: &Heard, now: &mut Heard, state: &State) -> Vec<String> {
    let mut lines = Vec::new();
    lines.extend(now.message.clone());
    let opened = now.overlay != before.overlay;
    if opened {
        lines.extend(wording::overlay(state, &before.overlay));
    }
    let elsewhere = now.item.screen() != before.item.screen() || !typed_on(&before.item, &now.item);
    if elsewhere {
        lines.extend(wording::arrival(state));
    } else if now.item.typed() != before.item.typed() {
        lines.extend(wording::typed(state));
    } else if is_text(state) {
        lines.extend(in_text(before, now, state));
    } else if now.at_hand != before.at_hand {
        lines.extend(wording::between(state, before.stop));
        lines.push(now.at_hand.clone());
    }
    if state.screen() == Screen::Couplet && now.stop != before.stop && !elsewhere {
        lines.extend(wording::marked(state));
    }
    if now.told != before.told {
        lines.extend(now.told.clone());
    }
    if lines.is_empty() {
        lines.push(if opened { CLOSED } else { NOTHING }.to_owned());
    }
    lines
}

/// Says whether two items are the same but for what was typed into them and what is unfolded.
fn typed_on(before: &Item, now: &Item) -> bool {
    before == now || (before.typed().is_some() && before.screen() == now.screen())
}

/// Says what scrolling or marking brought in a text.
fn in_text(before: &Heard, now: &mut Heard, state: &State) -> Vec<String> {
    if now.stop != before.stop && now.stop.is_some() {
        // What came into view with the mark is said when one scrolls on.
        now.said = before.said.clone();
        return wording::marked(state).into_iter().collect();
    }
    let new: Vec<usize> = now.said.clone().filter(|block| !before.said.contains(block)).collect();
    let mut lines = wording::paragraphs(state, new.iter().copied());
    if lines.is_empty() && now.said != before.said {
        lines = wording::paragraphs(state, now.said.clone());
    }
    if !lines.is_empty() {
        lines.push(wording::goes_on(state));
    } else if now.stop != before.stop {
        lines.push("No word is marked.".to_owned());
    }
    lines
}

fn is_text(state: &State) -> bool {
    !state.screen().is_list() && state.screen() != Screen::Couplet
}

/// Reads a line of keys: words of the key table; any other word is typed letter by letter, and an empty line is Enter.
pub(crate) fn presses(line: &str) -> Vec<Press> {
    let mut presses = Vec::new();
    for word in line.split_whitespace() {
        match Press::parse(word) {
            Some(press) => presses.push(press),
            None => presses.extend(word.chars().map(Press::Char)),
        }
    }
    if presses.is_empty() {
        presses.push(Press::Enter);
    }
    presses
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_presses(line: &str, expected: &[Press]) {
        assert_eq!(presses(line), expected);
    }

    #[test]
    fn a_line_holds_keys_or_letters() {
        check_presses("1 tab d", &[Press::Char('1'), Press::Tab, Press::Char('d')]);
        check_presses(
            "/ ska enter",
            &[Press::Char('/'), Press::Char('s'), Press::Char('k'), Press::Char('a'), Press::Enter],
        );
        check_presses("  ", &[Press::Enter]);
    }
}
