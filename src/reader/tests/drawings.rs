//! Drawings beside terms, leads and questions, at every size of window.

use super::{Reader, SIZES};
use crate::reader::measure;
use crate::reader::place::Item;
use crate::sketch::Dots;

fn braille(text: &str) -> usize {
    text.chars().filter(|letter| ('\u{2801}'..='\u{28ff}').contains(letter)).count()
}

/// Checks that after these keys a window of every size shows so many drawings at least, with these words over them.
#[track_caller]
fn check_drawn(keys: &str, least: usize, captions: &[&str]) {
    for size in SIZES {
        let mut reader = Reader::open(size);
        let text = reader.walk(keys).text();
        let frames = measure::areas(&reader.state).drawings;
        assert!(frames.len() >= least, "{} of {least} drawings at {size:?}\n{text}", frames.len());
        assert!(braille(&text) > 10 * least, "hardly a dot at {size:?}\n{text}");
        for caption in captions {
            assert!(text.contains(caption), "{caption} is not on\n{text}");
        }
    }
}

#[test]
fn a_term_shows_its_drawing_and_what_it_is_not_at_once() {
    check_drawn("t:ovate d", 2, &["ovate", "not "]);
}

#[test]
fn a_term_without_a_drawing_has_the_whole_window() {
    let mut reader = Reader::open((80, 24));
    let text = reader.walk("t:calyx d").text();
    assert_eq!(braille(&text), 0, "{text}");
    let areas = measure::areas(&reader.state);
    assert_eq!((areas.body.y, areas.drawings.len()), (2, 0));
}

#[test]
fn the_leads_show_what_tells_them_apart_when_that_is_wanted() {
    check_drawn("D", 2, &["1. lanceolate", "2. ovate"]);
    let mut reader = Reader::open((80, 24));
    assert_eq!(braille(&reader.text()), 0);
    assert_eq!(braille(&reader.walk("D D").text()), 0);
}

#[test]
fn no_lead_is_cut_for_a_drawing() {
    for size in SIZES {
        for keys in ["", "j", "tab", "1", "1 j j", "1 tab", "1 1"] {
            let (mut plain, mut drawn) = (Reader::open(size), Reader::open(size));
            plain.walk(keys);
            drawn.walk(keys).walk("D");
            let shown = |reader: &Reader| {
                let areas = measure::areas(&reader.state);
                measure::plan(&reader.state, areas.body.height).rows
            };
            assert_eq!(shown(&plain), shown(&drawn), "{keys:?} at {size:?}\n{}", drawn.text());
        }
    }
}

#[test]
fn leads_that_need_the_window_say_that_there_is_no_room() {
    let mut reader = Reader::open((60, 12));
    let text = reader.walk("D").text();
    assert!(text.contains("leave no room for drawings"), "{text}");
    assert_eq!(braille(&text), 0, "{text}");
}

#[test]
fn whether_drawings_are_shown_is_kept() {
    let mut reader = Reader::open((80, 24));
    let before = reader.walk("D").text();
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(again.text(), before);
    assert!(braille(&before) > 0, "{before}");
}

#[test]
fn a_terminal_without_braille_gets_plain_characters() {
    let mut reader = Reader::open((80, 24));
    reader.state.dots = Some(Dots::Ascii);
    let text = reader.walk("t:ovate d").text();
    assert_eq!(braille(&text), 0, "{text}");
    assert!(!measure::areas(&reader.state).drawings.is_empty());
}

#[test]
fn a_drawing_is_asked_without_its_name_until_it_is_answered() {
    let mut reader = Reader::open((80, 24));
    reader.state.now = 20_000 * crate::drill::DAY;
    reader.walk("t:ovate L n");
    // Every wrong answer asks the term in another way.
    for _ in 0..4 {
        let text = reader.text();
        let Item::Drill(Some(asked)) = &reader.state.way.here.item else { panic!("{text}") };
        let library = reader.state.library.as_ref().expect("the flora is open");
        let question = crate::reader::sheet::made(library, &reader.state.log, asked).expect("a question").1;
        if text.contains("does this drawing show") {
            assert!(braille(&text) > 10, "{text}");
            let caption = |reader: &Reader| reader.state.sheet.drawings[0].caption.clone();
            assert_eq!(caption(&reader), "?");
            reader.walk(&(question.right + 1).to_string());
            assert_eq!(caption(&reader), "ovate");
            return;
        }
        let wrong = (question.right + 1) % question.choices.len() + 1;
        reader.walk(&format!("{wrong} n"));
    }
    panic!("no drawing was asked\n{}", reader.text());
}
