//! What somebody sees who knows nothing but the screens: what the foot line says of Enter, whose caution it is, help.

use super::{Reader, SIZES, check_says, flora};
use crate::model::{Page, Section, SectionKind, Text};
use crate::reader::command::Command;
use crate::reader::library::Library;
use crate::reader::place::Screen;
use crate::reader::pointer::Pointed;
use crate::reader::press::Press;
use crate::reader::stand::Stands;
use crate::reader::state::{Event, Overlay, State};
use crate::reader::update::update;
use crate::reader::view::offers;
use crate::store::Book;

/// The caution of the test flora, as if cut from within a sentence.
const CAUTION: &str = "several of these are deadly and none should be tasted";

/// Opens the test flora with a caution printed for one taxon, behind its description or at the very end.
fn cautioned(taxon: usize, at_end: bool) -> Reader {
    let mut flora = flora::flora();
    let text = Text::plain(CAUTION, Page(4));
    let section = |heading: &str, text: Text| Section {
        kind: SectionKind::Notes,
        heading: Some(heading.to_owned()),
        text,
    };
    let taxon = &mut flora.taxa[taxon];
    let at = if at_end { taxon.sections.len() } else { 1 };
    taxon.sections.insert(at, section("Caution", text.clone()));
    taxon.sections.insert(at, section("Note", Text::plain("", Page(4))));
    taxon.cautions.push(text);
    let library = Library::new(Book::of("morvane", flora), None);
    let mut state = State::new(Some(library), Vec::new(), Stands::default());
    "sun".clone_into(&mut state.theme);
    update(&mut state, Event::Resize(80, 24));
    Reader { state, kept: String::new() }
}

/// Checks the words that are, and those that are not, on the screen after these keys.
#[track_caller]
fn check_caution((taxon, at_end): (usize, bool), keys: &str, (words, not): (&[&str], &[&str])) {
    let mut reader = cautioned(taxon, at_end);
    let text = reader.walk(keys).text();
    for words in words {
        assert!(text.contains(words), "{words:?} is not on\n{text}");
    }
    for words in not {
        assert!(!text.contains(words), "{words:?} is on\n{text}");
    }
}

/// Keys to the genus Skerria, and to its species Skerria alba.
const GENUS: &str = "i l j enter";
const SPECIES: &str = "enter 1 1";

#[test]
fn a_caution_for_a_member_is_told_at_the_genus_and_behind_the_lead() {
    check_caution(
        (2, false),
        GENUS,
        (&["! In this genus a caution is printed for Skerria alba."], &["No caution"]),
    );
    check_caution((2, false), "enter", (&["· 3 taxa · caution: Skerria alba"], &[]));
    check_caution((2, false), "enter ,", (&["lead 1 · caution"], &[]));
}

#[test]
fn a_caution_near_the_head_is_marked_in_its_place_and_not_printed_twice() {
    check_caution((2, false), SPECIES, (&["! Caution: several of these"], &["… several", "Note."]));
}

#[test]
fn a_caution_far_below_is_lifted_to_the_head() {
    check_caution((2, true), SPECIES, (&["! … several of these"], &[]));
}

#[test]
fn a_caution_of_the_genus_stands_at_the_head_of_its_species() {
    check_caution((1, false), SPECIES, (&["! (of the genus Skerria) … several of these"], &[]));
}

#[test]
fn enter_on_a_treatment_opens_its_key_as_the_foot_line_says() {
    check_says(GENUS, &["Enter or m its key"]);
    check_says(&format!("{GENUS} enter"), &["Key to the species", "couplet 1 of 2"]);
    // With a word marked Enter is the word's, and the key has its own.
    check_says(&format!("{GENUS} tab"), &["Enter define  m its key"]);
    let mut reader = Reader::open((80, 24));
    assert_eq!(reader.walk(GENUS).walk("tab enter").state.screen(), Screen::Term);
}

#[test]
fn the_foot_line_names_the_lead_that_enter_takes() {
    let mut reader = Reader::open((80, 24));
    reader.state.sheet.leads[0].label = "1a".to_owned();
    reader.state.sheet.leads[1].label = "1b".to_owned();
    assert!(reader.text().contains("Enter take 1a"), "{}", reader.text());
    while reader.state.lead() == 0 {
        reader.walk("tab");
    }
    assert!(reader.text().contains("d define"), "{}", reader.text());
    assert!(reader.text().lines().any(|line| line.starts_with("▌ 1b")), "{}", reader.text());
    let before = reader.state.plants.here().branch().decisions.len();
    reader.press(Press::Enter);
    let decisions = &reader.state.plants.here().branch().decisions;
    assert_eq!(decisions.len(), before + 1);
    assert!(decisions[before].kept.contains(&1), "{decisions:?}");
}

#[test]
fn every_couplet_offers_to_keep_all_leads_open() {
    for (keys, size) in ["", "tab", "enter", "enter 1"].iter().flat_map(|keys| SIZES.map(|size| (keys, size)))
    {
        let mut reader = Reader::open(size);
        reader.walk(keys);
        let offers = offers(&reader.state, usize::from(size.0 - 2));
        let at = |wanted| offers.iter().position(|offer| *offer == wanted);
        let open = at(Command::CannotTell);
        assert!(open.is_some(), "{keys:?} at {size:?}: {offers:?}");
        assert!(at(Command::Drawings).is_none_or(|drawings| open < Some(drawings)), "{offers:?}");
    }
}

#[test]
fn help_is_gone_through_by_pages_and_to_both_ends() {
    let mut reader = Reader::open((80, 24));
    let top = |reader: &Reader| match reader.state.overlay {
        Overlay::Help(top) => top,
        _ => panic!("help is closed"),
    };
    reader.walk("?");
    assert!(reader.text().contains("You need these:"), "{}", reader.text());
    reader.walk("space");
    // 24 rows less head, foot and the row that says that it goes on; one line is seen twice.
    assert_eq!(top(&reader), 19);
    reader.walk("G");
    assert!(top(&reader) > 19);
    reader.walk("g");
    assert_eq!(top(&reader), 0);
}

#[test]
fn a_heading_is_not_the_last_line_in_view() {
    for height in 20..40 {
        let mut reader = Reader::open((80, height));
        reader.walk(GENUS);
        for _ in 0..30 {
            let text = reader.text();
            let lines: Vec<&str> = text.lines().collect();
            let last = lines[lines.len() - 2].trim();
            let heading = ["Its key", "Belongs to", "Members", "Keyed at"].contains(&last);
            assert!(!heading, "{text}");
            reader.walk("down");
        }
    }
}

#[test]
fn a_row_of_the_form_is_taken_by_a_click() {
    let mut reader = Reader::open((80, 24));
    reader.walk("A");
    let row = reader.text().lines().position(|line| line.contains("goes to …")).expect("a row");
    update(&mut reader.state, Event::Mouse(Pointed::At(4, row as u16)));
    assert!(reader.text().contains("goes to which couplet, key"), "{}", reader.text());
}

#[test]
fn the_way_by_which_one_came_is_said_at_once_and_again_after_stepping_back() {
    let mut reader = Reader::open((80, 24));
    let first = reader.walk(SPECIES).text();
    assert!(first.contains("came by couplet 1 of Key to the speci"), "{first}");
    reader.walk("e enter 1 b b b");
    assert_eq!(reader.text(), first);
}

#[test]
fn the_figures_of_the_check_are_explained_wherever_one_ticks() {
    for size in SIZES {
        let mut reader = Reader::open(size);
        reader.walk(SPECIES).walk("/ G");
        assert!(reader.text().contains("1 agrees · 2 disagrees · 3 not seen"), "{}", reader.text());
    }
}
