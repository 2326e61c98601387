//! Learning: what counts as looked up, the list of it, and the drill on its screen.

use super::Reader;
use crate::drill::DAY;
use crate::reader::place::Item;
use crate::reader::press::Press;
use crate::reader::state::{Effect, Event};
use crate::reader::update::update;

/// A day of the tests.
const TODAY: u64 = 20_000;

fn open() -> Reader {
    let mut reader = Reader::open((80, 24));
    reader.state.now = TODAY * DAY;
    reader
}

/// Checks which terms are in the log after these keys, the first looked up first.
#[track_caller]
fn check_looked_up(keys: &str, expected: &[&str]) {
    let mut reader = open();
    reader.walk(keys);
    assert_eq!(terms(&reader), expected, "{}", reader.text());
}

fn terms(reader: &Reader) -> Vec<&str> {
    reader.state.log.look_ups().map(|look_up| look_up.term.as_str()).collect()
}

#[test]
fn a_term_marked_by_its_letter_is_looked_up() {
    check_looked_up("t:ovate", &["ovate"]);
}

#[test]
fn a_term_that_is_only_passed_is_not_looked_up() {
    check_looked_up("tab tab tab tab", &[]);
}

#[test]
fn a_term_whose_definition_stood_for_a_while_is_looked_up() {
    let mut reader = open();
    reader.walk("tab");
    reader.state.now += 2;
    reader.walk("tab");
    assert_eq!(terms(&reader).len(), 1);
}

#[test]
fn a_term_that_is_opened_is_looked_up_once_per_place() {
    check_looked_up("t:calyx d b d b t:calyx d", &["calyx"]);
    let mut reader = open();
    reader.walk("t:calyx");
    reader.state.now += 2 * DAY;
    reader.walk("esc t:calyx");
    assert_eq!(terms(&reader), ["calyx", "calyx"]);
}

#[test]
fn stepping_along_the_way_looks_nothing_up() {
    let mut reader = open();
    reader.walk("w enter");
    let before = terms(&reader).len();
    assert_eq!(before, 1, "{}", reader.text());
    reader.state.now += 2 * DAY;
    reader.walk("b f b f");
    assert_eq!(terms(&reader).len(), before);
}

#[test]
fn a_look_up_knows_where_the_term_stood_and_the_plant() {
    let mut reader = open();
    reader.walk("1 b t:calyx");
    let look_up = reader.state.log.look_ups().next().expect("one look-up");
    assert_eq!(look_up.place, "couplet 1 of Key to the genera (Bractaceae)");
    assert!(look_up.said.contains("alyx"), "{look_up:?}");
    assert_eq!(look_up.plant.as_deref(), Some("plant 1"));
    assert_eq!(look_up.flora.as_deref(), Some("Flora of the Morvane Isles"));
}

#[test]
fn the_line_is_kept_before_the_reader_ends() {
    let mut reader = open();
    reader.walk("tab");
    reader.state.now += 5;
    let effects = update(&mut reader.state, Event::Press(Press::Char('q')));
    let kept = effects.iter().position(|effect| matches!(effect, Effect::Remember(_)));
    let quit = effects.iter().position(|effect| *effect == Effect::Quit);
    assert!(kept.is_some() && kept < quit, "{effects:?}");
}

#[test]
fn the_list_has_every_look_up_and_asks_those_that_are_due() {
    let mut reader = open();
    reader.walk("t:ovate esc t:calyx L");
    let text = reader.text();
    assert!(text.contains("2 look-ups · 2 terms due"), "{text}");
    assert!(text.find("ovate · couplet 1") < text.find("calyx · couplet 1"), "{text}");
    reader.walk("enter");
    assert!(reader.text().contains("Isles · Drill"), "{}", reader.text());
}

/// Opens the drill on one term and returns the number of its right answer.
fn asked() -> (Reader, usize) {
    let mut reader = open();
    reader.walk("t:ovate L n");
    let Item::Drill(Some(asked)) = &reader.state.way.here.item else { panic!("{}", reader.text()) };
    let library = reader.state.library.as_ref().expect("the flora is open");
    let right = crate::reader::sheet::made(library, &reader.state.log, asked).expect("a question").1.right;
    (reader, right + 1)
}

#[test]
fn a_right_answer_is_kept_and_shows_where_the_term_was_met() {
    let (mut reader, right) = asked();
    reader.walk(&right.to_string());
    let text = reader.text();
    for words in ["right, your answer", "You met it in couplet 1", "nothing due; the next tomorrow"] {
        assert!(text.contains(words), "{words} is not on\n{text}");
    }
    assert!(reader.state.log.text().contains("\"answered\""));
}

#[test]
fn a_wrong_answer_shows_the_right_one_and_comes_again() {
    let (mut reader, right) = asked();
    let wrong = right % 4 + 1;
    reader.walk(&wrong.to_string());
    let text = reader.text();
    assert!(text.contains("your answer, not right") && text.contains("1 term due"), "{text}");
    reader.walk("1");
    assert!(reader.text().contains("n asks the next"));
    reader.walk("n");
    assert!(!reader.text().contains("your answer"), "{}", reader.text());
}

#[test]
fn stepping_back_to_an_answered_question_finds_it_as_it_was() {
    let (mut reader, right) = asked();
    reader.walk(&right.to_string());
    let there = reader.text();
    reader.walk("enter b");
    assert_eq!(reader.text(), there);
}

#[test]
fn forgetting_asks_first_and_leaves_no_question_on_the_way() {
    let (mut reader, right) = asked();
    reader.walk(&format!("{right} L X n o enter"));
    assert_eq!(terms(&reader).len(), 1, "{}", reader.text());
    reader.walk("X y e s enter");
    assert_eq!(reader.state.log.text(), "");
    assert!(!reader.kept.contains("Drill"), "{}", reader.kept);
    reader.walk("L");
    assert!(!reader.text().contains("ovate"), "{}", reader.text());
}
