//! Every press is answered, and what was found out stays in view: messages beside the keys, help, ticks, leads kept open.

use proptest::prelude::proptest;
use proptest::sample::select;

use super::{Reader, SIZES, check_says, flora};
use crate::model::{Flora, Page, Target, TaxonId, Text};
use crate::reader::command::Command;
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::press::Press;
use crate::reader::stand::Stands;
use crate::reader::state::{Effect, Event, Overlay, State};
use crate::reader::update::update;
use crate::store::Book;

/// Keys to the species Skerria alba.
const SPECIES: &str = "enter 1 1";

/// Checks that after these keys the screen of 80 x 24 lacks these words.
#[track_caller]
fn check_lacks(keys: &str, words: &str) {
    let mut reader = Reader::open((80, 24));
    let text = reader.walk(keys).text();
    assert!(!text.contains(words), "{words:?} is on\n{text}");
}

/// Presses a key and checks that the screen changed or says something.
#[track_caller]
fn check_answered(reader: &mut Reader, press: Press) {
    let before = reader.screen();
    let effects = update(&mut reader.state, Event::Press(press));
    // What is done outside is told once it is done.
    let outside = effects.iter().any(|effect| !matches!(effect, Effect::KeepStand(_)));
    let answered = outside || reader.state.message.is_some() || reader.screen() != before;
    assert!(answered, "{press:?} is not answered on\n{}", reader.text());
}

#[test]
fn a_press_that_changes_nothing_is_answered_in_one_line() {
    check_says("esc", &["Nothing is marked or open here; b steps back."]);
    check_says("k", &["This is the first lead."]);
    check_says("G G", &["This is the last lead."]);
    check_says("space", &["The lead is shown whole."]);
    check_says("e G space", &["This is the last row."]);
    check_says("c k", &["This is the first row."]);
    check_says("enter 1 1 G space", &["This is the last line."]);
    check_says("- n left", &["← changes nothing here; Enter ends the typing, Esc takes it back."]);
    check_says("i h", &["This row is folded"]);
}

#[test]
fn a_message_and_the_keys_are_seen_together() {
    for size in SIZES {
        let mut reader = Reader::open(size);
        let keys = reader.text().lines().last().expect("a foot").to_owned();
        let text = reader.walk("Q").text();
        assert!(text.contains("Q does nothing here"), "{text}");
        assert_eq!(text.lines().last(), Some(keys.as_str()), "{text}");
    }
}

#[test]
fn a_message_covers_neither_a_caution_nor_a_question() {
    for size in SIZES {
        let mut reader = Reader::open(size);
        let text = reader.walk(SPECIES).walk("Q").text();
        assert!(text.contains("Q does nothing here") && text.contains("is no leave to eat"), "{text}");
        let mut reader = Reader::open(size);
        let text = reader.walk("- n left").text();
        assert!(text.contains("changes nothing here") && text.contains("Name of the new plant"), "{text}");
    }
}

#[test]
fn tab_goes_through_the_parts_of_help_and_back() {
    let top = |keys: &str| {
        let mut reader = Reader::open((80, 24));
        reader.walk(keys);
        match reader.state.overlay {
            Overlay::Help(top) => top,
            _ => panic!("help is closed\n{}", reader.text()),
        }
    };
    assert!(top("? tab") > 0);
    assert!(top("? tab tab") > top("? tab"));
    assert_eq!(top("? tab tab backtab"), top("? tab"));
    assert_eq!(top("? x"), 0);
    check_says("? x", &["x does nothing in help; Esc closes it", "You need these:"]);
    for keys in ["? esc", "? ?", "? b", "? enter", "? q"] {
        check_lacks(keys, "You need these:");
    }
}

#[test]
fn a_key_that_stands_for_no_row_leaves_a_choice_open() {
    check_says("1 n x", &["x stands for no row", "No lead fits:"]);
    check_lacks("1 n esc", "No lead fits:");
}

/// Opens the test flora, changed before.
fn changed(change: impl Fn(&mut Flora)) -> Reader {
    let mut flora = flora::flora();
    change(&mut flora);
    let library = Library::new(Book::of("morvane", flora), None);
    let mut state = State::new(Some(library), Vec::new(), Stands::default());
    "sun".clone_into(&mut state.theme);
    update(&mut state, Event::Resize(80, 24));
    Reader { state, kept: String::new() }
}

#[test]
fn each_part_of_a_statement_is_ticked_alone() {
    let described = |flora: &mut Flora| {
        flora.taxa[2].sections[0].text = Text::plain("Leaves ovate, hairy; ligule long, hairy.", Page(5));
    };
    let mut reader = changed(described);
    let text = reader.walk(SPECIES).walk("/ 1 2 3").text();
    assert!(text.contains("1 agrees · 1 disagrees · 1 not seen"), "{text}");
    let rows =
        ["agrees     Leaves ovate", "DISAGREES    hairy", "not seen   ligule long", "▌ –            hairy"];
    assert!(rows.iter().all(|row| text.contains(row)), "{text}");
    let text = reader.walk("b").text();
    assert!(
        text.contains("Leaves ovate [agrees], hairy [DISAGREES]; ligule long [not seen], hairy."),
        "{text}"
    );
}

#[test]
fn what_was_ticked_stands_in_the_treatment_with_the_plant() {
    check_lacks(SPECIES, "Checked for");
    check_says(
        &format!("{SPECIES} / 1 2 b"),
        // The family above has the same words as the species.
        &["Checked for plant 1: 2 agree · 3 disagree · 0 not seen", "[agrees]", "[DISAGREES]"],
    );
    // It is the plant's alone.
    check_lacks(&format!("{SPECIES} / 1 2 - n enter b b"), "[agrees]");
}

#[test]
fn words_behind_a_tick_lead_where_they_led() {
    let words = |keys: &str| {
        let mut reader = Reader::open((80, 24));
        reader.walk(SPECIES).walk(keys);
        let stops = reader.state.sheet.stops.clone();
        let described = |stop: &&crate::reader::sheet::Stop| {
            reader.state.sheet.blocks[stop.block].text.plain.starts_with("Herb with")
        };
        let words = stops
            .iter()
            .filter(described)
            .map(|stop| reader.state.sheet.blocks[stop.block].text.plain[stop.range.clone()].to_owned());
        words.collect::<Vec<String>>()
    };
    assert_eq!(words("/ 1 1 b"), words(""));
    assert!(words("").len() > 1, "{:?}", words(""));
}

#[test]
fn leads_kept_open_on_the_way_are_named_in_the_treatment_and_lead_there() {
    check_lacks(SPECIES, "Kept open on the way");
    let mut reader = Reader::open((80, 24));
    // The first couplet is kept open; the way to the species goes on from the second.
    reader.walk("x 1 1");
    let text = reader.text();
    assert!(text.contains("Kept open on the way: couplet 1 of Key to the genera"), "{text}");
    let open = reader.state.way.depth();
    reader.walk("tab enter");
    assert_eq!(reader.state.way.depth(), open + 1);
    assert!(matches!(reader.state.way.here.item, Item::Couplet(_, couplet) if couplet.0 == 0));
    // Another taxon, which no lead of it ends in, has no such line.
    let mut reader = Reader::open((80, 24));
    let text = reader.walk("x 1 x e j enter 1").text();
    assert!(text.contains("Kept open on the way: "), "{text}");
}

#[test]
fn one_branch_alone_is_not_spoken_of_and_several_are_explained() {
    check_lacks("1 1 -", "branch");
    check_says("- n enter 0 1 1 1 0 2 -", &["branch B of 2", "begins a branch beside the one before"]);
}

#[test]
fn a_branch_given_up_is_taken_up_again_by_the_same_key() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 - X enter");
    assert!(reader.state.plants.here().branch().dropped.is_some(), "{}", reader.text());
    reader.walk("X");
    assert!(reader.state.plants.here().branch().dropped.is_none(), "{}", reader.text());
    assert!(reader.text().contains("branch A is taken up again"), "{}", reader.text());
}

#[test]
fn an_answer_given_before_takes_its_branch_up_again() {
    check_says("- n enter 0 1 1 0 2", &["kept in branch A; this one goes on in branch B"]);
    check_says("- n enter 0 1 1 0 2 1", &["This was the answer in branch A, which is at hand again"]);
    check_says("- n enter 0 1 1 0 2 1 -", &["branch A of 2 · 2 decisions"]);
}

#[test]
fn readings_are_offered_where_characters_are_ticked_and_where_they_are_shown() {
    check_says(&format!("{SPECIES} /"), &["= measure"]);
    check_says("= 5 enter", &["= measure"]);
}

#[test]
fn a_long_lead_stands_whole_in_the_trail() {
    let mut reader = Reader::open((120, 40));
    let text = reader.walk("enter 3 -").text();
    assert!(text.contains("ending here"), "{text}");
}

#[test]
fn the_key_to_the_members_of_a_genus_is_no_way_left_open() {
    let genus = Target::Taxon { name: "Skerria".to_owned(), id: Some(TaxonId(1)) };
    let mut reader = changed(|flora| flora.keys[0].couplets[1].leads[0].to = genus.clone());
    let text = reader.walk("- n enter 0 1 1").text();
    assert!(text.contains("1. Skerria") && !text.contains("still waits"), "{text}");
}

/// Returns every key that does something anywhere, and some that are only typed.
fn all_presses() -> Vec<Press> {
    let mut presses: Vec<Press> = Command::ALL.iter().flat_map(|command| command.presses()).collect();
    presses.retain(|press| *press != Press::Interrupt && *press != Press::Char('q'));
    presses.extend(['x', 'y', 'é', '×'].map(Press::Char));
    presses
}

proptest! {
    #![proptest_config(super::cases_by(8))]

    #[test]
    fn every_press_is_answered(presses in proptest::collection::vec(select(all_presses()), 1..60)) {
        let mut reader = Reader::open((80, 24));
        for press in presses {
            check_answered(&mut reader, press);
        }
    }
}
