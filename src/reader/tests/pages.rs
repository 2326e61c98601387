//! The page of the book as printed: columns, signs of what was recognised, ways there and back.

use super::{Reader, SIZES, check_says};
use crate::model::{Page, TaxonId};
use crate::reader::measure;
use crate::reader::measure::SMALLEST;
use crate::reader::place::Screen;

/// Checks that these keys mark these words, and that they are in view.
#[track_caller]
fn check_marks(keys: &str, words: &str) {
    let mut reader = Reader::open((80, 24));
    reader.walk(keys);
    let stop = reader.state.way.here.cursor.stop.expect("a mark");
    assert_eq!(reader.state.word(stop), words, "{}", reader.text());
    assert!(reader.state.in_view(stop), "{}", reader.text());
}

#[test]
fn a_wide_window_has_both_columns_side_by_side_with_signs_before_them() {
    let mut reader = Reader::open((120, 60));
    let text = reader.walk("r").text();
    let gap = |words: &str| " ".repeat(58 - words.len());
    for (left, right) in [
        ("K Key to the genera", "L 2. Calyx inflated"),
        ("L 1. Leaves oblong-lanceolate;", ": with a corona"),
        (": stigmata two", "L 2. Calyx narrow"),
        ("L 1. Leaves ovate", "L – Plant of salt marshes"),
    ] {
        let row = format!("{left}{}  {right}", gap(left));
        assert!(text.contains(&row), "{row:?} is not on\n{text}");
    }
    assert!(text.contains("Read as: T taxon"), "{text}");
}

#[test]
fn headings_and_entries_have_their_signs() {
    check_says("r . .", &["T 2. Skerria alba Tarn"]);
    check_says("r ,", &["G GLOSSARY", "G stigma"]);
}

#[test]
fn what_one_comes_from_is_marked_on_its_page() {
    check_marks("r", "1.");
    check_marks("j r", "1.");
    check_marks("enter j j r", "–");
    check_marks("enter enter enter r", "2. Skerria alba Tarn");
    check_marks("t:stigmata d r", "stigma");
}

#[test]
fn words_of_a_page_stand_under_the_treatment_above_them_in_their_column() {
    let reader = Reader::open((120, 60));
    let library = reader.state.library.as_ref().expect("a book is open");
    let at = |page: u32, column: usize| {
        let page = library.book.page(Page(page)).expect("the book has it");
        library.grounds_on(page).at(column, 10)
    };
    let right = library.book.page(Page(5)).expect("the book has it").columns[1] as usize;
    assert_eq!(at(5, 0), library.grounds_of(TaxonId(2)));
    assert_eq!(at(5, right), library.grounds_of(TaxonId(3)));
    assert_eq!(at(6, right), library.grounds_of(TaxonId(5)));
    assert_ne!(at(5, 0), at(6, right));
}

#[test]
fn a_marked_lead_is_taken_in_hand_and_a_marked_heading_opened() {
    check_says("j r enter", &["couplet 1 of 2", "▌ 1 Leaves ovate"]);
    let mut reader = Reader::open((80, 24));
    reader.walk("j r enter");
    assert_eq!(reader.state.lead(), 1);
    let mut reader = Reader::open((80, 24));
    reader.walk("enter j j r enter");
    assert_eq!(reader.state.lead(), 2);
    check_says("enter enter enter r enter", &["Synonyms: Olda 2"]);
}

#[test]
fn marks_follow_one_column_and_then_the_next() {
    let mut reader = Reader::open((120, 60));
    reader.walk("r esc g tab");
    let mut words = Vec::new();
    for _ in 0..reader.state.sheet.stops.len() {
        let stop = reader.state.way.here.cursor.stop.expect("a mark");
        words.push(reader.state.word(stop).to_owned());
        reader.walk("tab");
    }
    assert_eq!(words[..4], ["Key to the genera", "1.", "Leaves", "oblong-lanceolate"]);
    let right = words.iter().position(|word| word == "2.").expect("a lead of the right column");
    assert!(words[..right].iter().filter(|word| *word == "calyx").count() > 40, "{words:?}");
    assert_eq!(words[right + 1..right + 4], ["Calyx", "inflated", "corona"]);
}

#[test]
fn a_narrow_window_goes_across_and_loses_no_word() {
    let mut reader = Reader::open(SIZES[0]);
    reader.walk("r esc g");
    let mut seen = reader.text();
    assert!(!seen.contains("– Plant of salt marshes") && seen.contains('▶'), "{seen}");
    let mut steps = 0;
    loop {
        reader.walk("x");
        if reader.state.way.here.across == 0 {
            break;
        }
        seen.push_str(&reader.text());
        steps += 1;
    }
    assert!(steps < 4, "{steps} steps");
    for block in reader.state.sheet.blocks.iter().take(10) {
        for words in block.text.plain.split("   ").map(str::trim) {
            assert!(seen.contains(words), "{words:?} is not in\n{seen}");
        }
    }
}

#[test]
fn a_mark_beyond_the_edge_is_brought_into_view() {
    let mut reader = Reader::open(SMALLEST);
    reader.walk("enter j j r");
    assert!(reader.text().contains("L – Plant of salt marshes"), "{}", reader.text());
    for size in SIZES {
        reader.resize(size);
        for _ in 0..reader.state.sheet.stops.len() {
            reader.walk("tab");
            let stop = reader.state.way.here.cursor.stop.expect("a mark");
            assert!(measure::page::shows(&reader.state, stop) && reader.state.in_view(stop));
        }
    }
}

#[test]
fn the_page_changes_its_look_and_back_leaves_either() {
    check_says("r y", &["The isles lie far north; a calyx is seen in June. The isles", "PDF page 3 of 8"]);
    check_says("r y .", &["PDF page 4 of 8", "June. The isles"]);
    for keys in ["r y", "r y y", "r x", "r x y"] {
        let mut reader = Reader::open((80, 24));
        let before = reader.screen();
        reader.walk(keys).walk("b");
        assert!(reader.screen() == before, "after {keys}: {}", reader.text());
    }
}

#[test]
fn a_page_seen_across_is_the_same_after_resizes_and_a_new_start() {
    let mut reader = Reader::open((80, 24));
    reader.walk("r x j j");
    let before = reader.screen();
    for other in [(60, 20), (200, 60), (30, 5), (97, 31), (80, 24)] {
        reader.resize(other);
    }
    assert!(reader.screen() == before, "{}", reader.text());
    let again = Reader::again((80, 24), &reader.kept);
    assert!(again.screen() == before, "{}", again.text());
    reader.walk("w b");
    assert!(reader.screen() == before, "{}", reader.text());
}

#[test]
fn a_page_that_fits_is_not_gone_across() {
    let mut reader = Reader::open((140, 40));
    let text = reader.walk("r x").text();
    assert_eq!(reader.state.screen(), Screen::Printed);
    assert!(text.contains("The page is in view from edge to edge."), "{text}");
}

#[test]
fn a_piece_of_the_book_has_no_other_look() {
    check_says("c end enter y", &["r shows the page"]);
}
