//! The log read, terms due, and questions made and judged.

use super::*;
use crate::terms::Lexicon;

/// A day of the tests.
const TODAY: u64 = 20_000;

fn look_up(term: &str, day: u64) -> Record {
    let place = "couplet 3 · Key to the genera".to_owned();
    let organ = Some("leaf".to_owned());
    Record::LookedUp(LookUp { at: day * DAY, term: term.to_owned(), place, organ, ..LookUp::default() })
}

fn answer(term: &str, day: u64, quality: Quality) -> Record {
    Record::Answered(Answer { at: day * DAY, term: term.to_owned(), kind: Kind::Name, quality })
}

fn log(records: &[Record]) -> Log {
    let mut log = Log::default();
    for record in records {
        log.push(record.clone());
    }
    log
}

fn question(term: &str, nth: usize, drawn: &dyn Fn(&str) -> bool) -> Question {
    let lexicon = Lexicon::built_in();
    let word = log(&[look_up(term, TODAY)]).words().remove(0);
    let draw = Draw { seed: 7, day: TODAY, nth };
    Question::of(&word, Glossary { lexicon: &lexicon, drawn }, draw).expect("the glossary has the term")
}

#[track_caller]
fn check_due(records: &[Record], day: u64, expected: &[&str]) {
    let due: Vec<String> = log(records).due(day).into_iter().map(|word| word.term).collect();
    assert_eq!(due, expected);
}

#[track_caller]
fn check_typed(term: &str, words: &str, expected: (Quality, bool)) {
    let judged = typed(&question(term, 0, &|_| false), words, &Lexicon::built_in());
    assert_eq!((judged.quality, judged.misspelled), expected);
}

#[test]
fn what_was_logged_is_read_again() {
    let log = log(&[look_up("ovate", 1), answer("ovate", 1, Quality::Perfect)]);
    assert_eq!(Log::read(&log.text()), (log, Vec::new()));
}

#[test]
fn a_damaged_line_is_told_and_the_rest_is_read() {
    let whole = log(&[look_up("ovate", 1), look_up("crenate", 1)]);
    let text = whole.text();
    let (first, second) = text.split_once('\n').expect("two lines");
    let torn = &first[..first.len() / 2];
    let (read, damaged) = Log::read(&format!("{torn}\n{first}\n\u{fffd}\n{second}"));
    assert_eq!(read, whole);
    assert_eq!(damaged, [torn, "\u{fffd}"]);
}

#[test]
fn a_term_is_due_when_it_was_looked_up_and_then_by_the_scheme() {
    let records =
        [look_up("ovate", TODAY), look_up("crenate", TODAY), answer("Ovate", TODAY, Quality::Hesitant)];
    check_due(&records, TODAY, &["crenate"]);
    check_due(&records, TODAY + 1, &["crenate", "ovate"]);
    assert_eq!(log(&records).next_day(TODAY), Some(TODAY + 1));
}

#[test]
fn what_was_not_known_comes_again_on_the_same_day_after_the_others() {
    let mut records =
        vec![look_up("ovate", TODAY), look_up("crenate", TODAY), answer("ovate", TODAY, Quality::Wrong)];
    check_due(&records, TODAY, &["crenate", "ovate"]);
    records.push(answer("ovate", TODAY, Quality::Hesitant));
    check_due(&records, TODAY, &["crenate"]);
}

#[test]
fn looking_up_again_does_not_make_a_second_term() {
    check_due(&[look_up("ovate", 1), look_up("Ovate", 2)], TODAY, &["Ovate"]);
}

#[test]
fn an_answer_whose_look_up_was_lost_asks_nothing() {
    check_due(&[answer("ovate", 1, Quality::Perfect)], TODAY, &[]);
}

#[test]
fn rivals_are_the_contrasts_first_and_never_right_as_well() {
    let lexicon = Lexicon::built_in();
    for term in ["ovate", "crenate", "spike", "calyx", "lanceolate", "achene", "pubescent"] {
        let question = question(term, 0, &|_| false);
        assert_eq!(question.choices.len(), 4, "{question:?}");
        let asked = lexicon.look_up(term);
        let right = |choice: &&Choice| lexicon.look_up(&choice.term).iter().any(|id| asked.contains(id));
        assert_eq!(question.choices.iter().filter(right).count(), 1, "{question:?}");
        assert_eq!(question.choices[question.right].term, term);
        let contrasts = |one: &str, other: &str| {
            let ids = lexicon.look_up(one).into_iter();
            let mut named = ids.flat_map(|id| &lexicon.get(id).senses).flat_map(|sense| &sense.contrasts);
            named.any(|name| name == other)
        };
        // Each of these terms has three contrasts at least, so that nothing else is asked.
        let mut wrong = question.choices.iter().filter(|choice| choice.term != term);
        let contrast = |choice: &Choice| contrasts(term, &choice.term) || contrasts(&choice.term, term);
        assert!(wrong.all(contrast), "{question:?}");
    }
}

#[test]
fn a_drawn_term_is_asked_in_every_way_in_turn() {
    let drawn = |term: &str| ["ovate", "obovate", "elliptic", "lanceolate", "linear"].contains(&term);
    let kinds: Vec<Kind> = (0..4).map(|nth| question("ovate", nth, &drawn).kind).collect();
    for kind in [Kind::Name, Kind::Meaning, Kind::Drawing, Kind::Which] {
        assert!(kinds.contains(&kind), "{kinds:?}");
    }
    let asked = (0..4).map(|nth| question("ovate", nth, &drawn));
    let mut of_drawings = asked.filter(|question| matches!(question.kind, Kind::Drawing | Kind::Which));
    assert!(of_drawings.all(|question| question.choices.iter().all(|choice| drawn(&choice.term))));
}

#[test]
fn the_same_log_day_and_seed_ask_the_same() {
    assert_eq!(question("ovate", 1, &|_| true), question("ovate", 1, &|_| true));
}

#[test]
fn a_term_that_no_glossary_has_is_not_asked() {
    let word = log(&[look_up("zawnlike", 1)]).words().remove(0);
    let lexicon = Lexicon::built_in();
    let draw = Draw { seed: 1, day: 1, nth: 0 };
    assert_eq!(Question::of(&word, Glossary { lexicon: &lexicon, drawn: &|_| true }, draw), None);
}

#[test]
fn a_typed_word_counts_in_any_form_and_with_a_slip() {
    check_typed("lanceolate", "Lanceolate ", (Quality::Perfect, false));
    check_typed("filiform", "thread-like", (Quality::Perfect, false));
    check_typed("lanceolate", "lanceollate", (Quality::Hesitant, true));
    check_typed("lanceolate", "oblanceolate", (Quality::Wrong, false));
    check_typed("lanceolate", "", (Quality::Blank, false));
}
