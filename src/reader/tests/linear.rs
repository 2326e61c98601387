//! The reader for ears: what each press says, on the small invented flora.

use super::Reader;
use crate::reader::linear::{self, Heard};

/// A reader that is listened to.
struct Listener {
    reader: Reader,
    heard: Option<Heard>,
    lines: Vec<String>,
}

impl Listener {
    fn open() -> Self {
        let reader = Reader::open(linear::WINDOW);
        let mut heard = None;
        let lines = linear::say(&mut heard, &reader.state);
        Self { reader, heard, lines }
    }

    /// Presses keys; what the last one says is kept.
    fn walk(&mut self, keys: &str) -> &mut Self {
        for key in keys.split(' ').filter(|key| !key.is_empty()) {
            self.reader.walk(key);
            self.lines = linear::say(&mut self.heard, &self.reader.state);
            assert!(!self.lines.is_empty(), "{key} says nothing");
        }
        self
    }
}

/// Checks that the last of these keys says lines that begin so, and no others.
#[track_caller]
fn check_said(keys: &str, expected: &[&str]) {
    let mut listener = Listener::open();
    let lines = &listener.walk(keys).lines;
    assert_eq!(lines.len(), expected.len(), "{lines:#?}");
    for (line, begins) in lines.iter().zip(expected) {
        assert!(line.starts_with(begins), "{line:?} does not begin with {begins:?}");
    }
}

#[test]
fn the_start_says_where_one_is_with_all_leads() {
    check_said(
        "",
        &[
            "Key to the genera (Bractaceae).",
            "couplet 1 of 2, 5 taxa possible",
            "2 leads.",
            "Lead 1 of 2, 1: Leaves",
            "Lead 2 of 2, 1: Leaves",
            "? says which keys there are",
        ],
    );
}

#[test]
fn a_lead_in_hand_is_said_alone_with_where_it_leads() {
    check_said("j", &["Lead 2 of 2, 1: "]);
    let mut listener = Listener::open();
    assert!(
        listener.walk("j").lines[0].contains("leads to not found: Halimora p. 90"),
        "{:?}",
        listener.lines
    );
}

#[test]
fn a_marked_term_is_said_with_its_meaning_and_source() {
    check_said("enter tab", &["Calyx. calyx: the outer, mostly green whorl"]);
    check_said("enter tab esc", &["No word is marked."]);
    let mut listener = Listener::open();
    assert!(listener.walk("enter tab").lines[0].contains("From this flora"), "{:?}", listener.lines);
}

#[test]
fn letters_are_said_with_their_words() {
    check_said("enter t", &["Press a letter: a Calyx"]);
    check_said("enter t c", &["corona. corona: a ring of scales"]);
}

#[test]
fn a_press_that_does_nothing_says_so() {
    check_said("k", &["This is the first lead."]);
    check_said("enter 9", &["This couplet has no lead 9."]);
}

#[test]
fn what_is_left_behind_is_not_said_of_the_next_place() {
    let mut listener = Listener::open();
    assert!(!listener.walk("tab 1").lines.concat().contains("No word is marked"), "{:?}", listener.lines);
    check_said("t esc", &["Closed."]);
    check_said("i l", &["Row 1 of"]);
    let mut listener = Listener::open();
    assert!(listener.walk("i l").lines[0].contains(": unfolded, Bractaceae"), "{:?}", listener.lines);
}

#[test]
fn a_list_says_the_row_at_hand_and_what_is_typed() {
    check_said("i", &["Taxa", "", "Row 1 of"]);
    check_said("i / l i t", &["Typed: lit.", "Row 1 of"]);
    check_said("e j", &["Row 2 of"]);
}

#[test]
fn a_treatment_is_read_in_paragraphs_and_says_whether_it_goes_on() {
    let mut listener = Listener::open();
    listener.walk("enter 2");
    let said = listener.lines.join("\n");
    assert!(
        said.contains("4. Morvania Tarn") && said.contains("A name from a key is no leave to eat"),
        "{said}"
    );
    assert!(said.contains("\nEnd.") || said.contains("\nGoes on: "), "{said}");
}

#[test]
fn every_paragraph_of_a_treatment_is_said_on_the_way_down() {
    let mut listener = Listener::open();
    listener.walk("enter enter enter");
    let mut said = listener.lines.clone();
    for _ in 0..20 {
        said.extend(listener.walk("space").lines.clone());
    }
    let said = said.join("\n");
    for block in &listener.reader.state.sheet.blocks {
        let words: String = block.text.plain.split_whitespace().take(3).collect::<Vec<_>>().join(" ");
        let words = words.replace(" · ", ", ").replace(" ·", ",");
        assert!(said.contains(words.trim_end_matches([',', '.'])), "{words:?} is not in\n{said}");
    }
}

#[test]
fn help_says_the_keys_here_and_then_the_others() {
    let mut listener = Listener::open();
    listener.walk("?");
    let here = listener.lines.join("\n");
    assert!(here.contains("j or Down: Move to the next lead") && here.contains("Esc closes help"), "{here}");
    assert!(!here.contains("Hide the members"), "{here}");
    let others = listener.walk("j").lines.join("\n");
    assert!(others.contains("Hide the members"), "{others}");
}

#[test]
fn a_choice_is_said_with_its_rows() {
    check_said(
        "enter enter j enter enter",
        &["This lead has several targets", "1: Skerria alba", "2: Skerria minor"],
    );
}

#[test]
fn back_says_the_place_again() {
    check_said("enter b", &["Key to the genera", "couplet 1 of 2", "2 leads.", "Lead 1", "Lead 2"]);
}

#[test]
fn a_question_says_what_is_asked_and_typed() {
    check_said("=", &["Readings?", "Enter keeps it"]);
    check_said("= 5 m", &["Typed: 5m"]);
}

#[test]
fn no_sign_that_only_eyes_read_is_said() {
    let mut listener = Listener::open();
    for keys in ["", "enter", "tab", "t", "esc", "?", "esc", "i", "l", "-", "r", "y", ",", "e", "w"] {
        let said = listener.walk(keys).lines.join("\n");
        assert!(!said.contains(['→', '▌', '▲', '▼', '─', '·']), "{keys}: {said}");
    }
}
