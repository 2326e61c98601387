//! Deciding: the trail, what can't be told, doubts, branches and plants, as their user sees them.

use super::{Reader, check_says};
use crate::keying::Sureness;
use crate::reader::state::Overlay;

/// Types words into a question and gives the answer.
fn type_in(reader: &mut Reader, words: &str) {
    type_only(reader, words);
    reader.walk("enter");
}

fn type_only(reader: &mut Reader, words: &str) {
    for letter in words.chars() {
        reader.press(crate::reader::press::Press::Char(letter));
    }
}

#[test]
fn a_lead_taken_stands_in_the_trail() {
    check_says(
        "1 1 -",
        &["Trail of plant 1", "2 decisions", "Leaves oblong-lanceolate", "Calyx inflated", "3 taxa possible"],
    );
}

#[test]
fn what_can_not_be_told_keeps_every_lead_open() {
    check_says("x", &["All leads stay open"]);
    check_says("1 x -", &["could not be told", "5 taxa possible"]);
    check_says("1 x", &["couplet 1 of 2", "Petals entire"]);
    check_says("1 x b", &["kept open"]);
}

#[test]
fn what_was_kept_open_elsewhere_is_counted_and_listed_with_what_lies_below() {
    check_says("1 x", &["3 taxa here, 2 more kept open"]);
    check_says("1 x ,", &["Kept open elsewhere ("]);
    let mut reader = Reader::open((80, 24));
    let text = reader.walk("1 1 ,").text();
    assert!(!text.contains("Kept open elsewhere"), "{text}");
}

#[test]
fn a_changed_answer_begins_a_branch_and_says_so() {
    let mut reader = Reader::open((80, 24));
    reader.walk("- n enter 0 1 1 1 0");
    reader.walk("1 2");
    assert!(reader.text().contains("kept in branch A"), "{}", reader.text());
    reader.walk("-");
    let text = reader.text();
    assert!(text.contains("branch B of 2") && text.contains("branch A"), "{text}");
}

#[test]
fn a_branch_is_given_up_with_its_reason_and_kept() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1 b b 1 2 - X");
    type_in(&mut reader, "fruit winged");
    let text = reader.text();
    assert!(text.contains("branch B · ") && text.contains("given up: fruit winged"), "{text}");
    assert!(text.contains("branch A of 2"), "{text}");
    assert_eq!(reader.state.plants.here().branches.len(), 2);
}

#[test]
fn a_doubt_is_offered_first_where_no_lead_fits() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1 b b 0 y");
    assert_eq!(reader.state.plants.here().branch().decisions[0].sureness, Sureness::Doubtful);
    reader.walk("1 1 2 n");
    let text = reader.text();
    let (doubted, sure) = (text.find("doubted ·"), text.find("sure ·"));
    assert!(doubted.is_some() && doubted < sure, "{text}");
    reader.walk("1");
    assert!(reader.text().contains("couplet 1 of 2"), "{}", reader.text());
}

#[test]
fn a_note_is_kept_half_typed_over_a_kill() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 / p e t");
    let mut again = Reader::again((80, 24), &reader.kept);
    assert!(again.text().contains("Note to this decision: pet"), "{}", again.text());
    type_in(&mut again, "als white");
    again.walk("-");
    assert!(again.text().contains("note: petals white"), "{}", again.text());
}

#[test]
fn a_new_plant_leaves_the_one_before_as_it_is() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1 - n");
    type_in(&mut reader, "by the mill");
    assert!(reader.text().contains("Trail of by the mill"), "{}", reader.text());
    reader.walk("p");
    let text = reader.text();
    assert!(text.contains("plant 1 · 2 decisions") && text.contains("by the mill · 0 decisions"), "{text}");
    reader.walk("k k enter");
    assert!(reader.text().contains("Trail of plant 1"), "{}", reader.text());
}

#[test]
fn the_taxa_still_possible_are_listed_by_family_with_their_leads() {
    check_says(",", &["Below couplet 1", "5 taxa", "Bractaceae", "Skerria alba", "lead 1", "Skerria fugax"]);
    check_says("1 2 - , ", &["trail"]);
}

#[test]
fn why_a_taxon_is_this_one_is_every_lead_of_its_route() {
    check_says("1 1 1 x", &["Why Skerria alba", "Route 1", "Leaves oblong-lanceolate", "Petals entire"]);
    check_says("1 1 1 x enter", &["couplet 1 of 2", "Key to the genera"]);
}

#[test]
fn decisions_survive_a_start_with_the_same_trail() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 y 1 1 -");
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(again.state.plants, reader.state.plants);
    assert!(again.screen() == reader.screen());
}

#[test]
fn decisions_are_found_again_after_the_book_was_read_anew() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1");
    let kept =
        reader.kept.replace("6 taxa", "7 taxa").replace("Calyx inflated, with a corona", "Calyx swollen");
    let mut again = Reader::again((80, 24), &kept);
    assert!(again.text().contains("1 of 2\n decisions have no couplet"), "{}", again.text());
    again.walk("-");
    assert!(again.text().contains("no longer in this book"), "{}", again.text());
}

#[test]
fn leads_stand_beside_each_other_by_organ_and_silence_is_said() {
    check_says(".", &["leaf · differs", "says nothing of it", "stigmata two"]);
    let mut reader = Reader::open((120, 40));
    let text = reader.walk(".").text();
    let row = text.lines().find(|row| row.contains("oblong-lanceolate")).expect("the leaves");
    assert!(row.contains("Leaves ovate"), "both on one row: {row}");
}

#[test]
fn a_word_in_the_right_column_is_marked_and_defined() {
    let mut reader = Reader::open((120, 40));
    reader.walk(". t:ovate");
    let (text, top) = (reader.text(), reader.state.top(30));
    assert!(text.contains("ovate ─") || text.contains(" ovate "), "{text}");
    assert_eq!(top, 0);
}

#[test]
fn look_alikes_are_those_of_the_last_couplets() {
    check_says("1 1 1 y", &["Look-alikes of Skerria alba", "Skerria minor", "last couplet"]);
}

#[test]
fn treatments_are_compared_by_organ_with_what_genus_and_family_say() {
    check_says(
        "1 1 1 y enter",
        &["Skerria alba and Skerria minor", "no couplet tells it from S. minor", "(genus)"],
    );
}

#[test]
fn readings_are_set_against_the_leads_with_the_words_for_the_outline() {
    let mut reader = Reader::open((80, 24));
    reader.walk("=");
    type_in(&mut reader, "leaf 60 62 mm x 15");
    let text = reader.text();
    for words in
        ["Measured for couplet 1", "leaf 60, 62 × 15 mm", "not comparable", "lanceolate", "4.07 times"]
    {
        assert!(text.contains(words), "{words} is not on\n{text}");
    }
    reader.walk("b");
    assert!(reader.text().contains("couplet 1 of 2"));
}

#[test]
fn what_can_not_be_read_of_readings_is_said() {
    let mut reader = Reader::open((80, 24));
    reader.walk("=");
    type_in(&mut reader, "five parsecs");
    assert!(reader.text().contains("is no organ and no unit"), "{}", reader.text());
}

#[test]
fn characters_are_ticked_one_after_another_and_counted_in_words() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1 1 / 1 2");
    let text = reader.text();
    for words in [
        "checked against Skerria alba",
        "2 agree · 3 disagree · 0 not seen",
        "agrees     Herb",
        "DISAGREES  stigma one",
        "–          Herb",
        "of the genus Skerria",
    ] {
        assert!(text.contains(words), "{words} is not on\n{text}");
    }
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(again.text(), text);
}

#[test]
fn a_trip_is_set_once_for_all_plants() {
    let mut reader = Reader::open((80, 24));
    reader.walk("- m");
    type_in(&mut reader, "Skerra, July, 300 m");
    assert!(reader.text().contains("The trip is Skerra, July, 300 m"), "{}", reader.text());
    reader.walk("l");
    assert!(reader.text().contains("What may be here"), "{}", reader.text());
}

#[test]
fn the_other_key_to_the_same_taxa_is_offered_at_the_start_with_what_it_needs() {
    check_says("1 1", &["O other key to the same taxa: in fruit – Key to fruiting plants (Skerria)"]);
    check_says(
        "1 1 O",
        &["Capsule longer than its stalk", "O other key to the same taxa: Key to the species"],
    );
    check_says("1 1 O b", &["Petals entire"]);
    check_says("1 1 2 O", &["Capsule longer than its stalk"]);
    check_says("O", &["no other key to the same taxa"]);
    check_says("e", &["Key to fruiting plants (Skerria) · in fruit · folio 14"]);
}

/// Checks which keys are listed for what was typed.
#[track_caller]
fn check_keys(typed: &str, expected: &[&str]) {
    let mut reader = Reader::open((120, 40));
    reader.walk("e /");
    type_only(&mut reader, typed);
    let rows: Vec<&str> = (0..reader.state.sheet.stops.len()).map(|stop| reader.state.word(stop)).collect();
    assert_eq!(rows.len(), expected.len(), "{rows:#?}");
    for (row, words) in rows.iter().zip(expected) {
        assert!(row.contains(words), "{words:?} is not in {row:?}");
    }
}

#[test]
fn any_key_is_found_by_title_genus_family_vernacular_or_page() {
    let species = &["Key to the species", "Key to fruiting plants"][..];
    check_keys("fruiting", &species[1..]);
    check_keys("skerria", species);
    check_keys("morvane herb 1", species);
    check_keys("olda 1", species);
    check_keys("bractaceae", &["Key to the genera", "Key to the species", "Key to fruiting plants"]);
    check_keys("p 3", &["Key to the genera"]);
    check_keys("p. 14", species);
    check_keys("4", species);
    check_keys("7", &["the last to begin before page 7"]);
    check_keys(
        "morvania",
        &["Key to the genera (Bractaceae) · folio 13 · 2 couplets · 5 taxa · Morvania keys out here"],
    );
    check_keys("99", &[]);
}

#[test]
fn a_search_is_narrowed_to_what_is_still_possible_and_back_restores_it() {
    let mut reader = Reader::open((120, 40));
    reader.walk("1 1 s");
    type_in(&mut reader, "leaves ovate");
    let whole = reader.text();
    assert!(
        whole.contains("Morvania litoralis") && whole.contains("The whole flora is searched; ,"),
        "{whole}"
    );
    reader.walk(",");
    let possible = reader.text();
    assert!(possible.contains("Skerria minor") && !possible.contains("Morvania litoralis"), "{possible}");
    assert!(possible.contains("still possible for plant 1"), "{possible}");
    assert_eq!(reader.walk("b").text(), whole);
    assert_eq!(reader.walk("f").text(), possible);
    let kept = reader.kept.clone();
    assert_eq!(Reader::again((120, 40), &kept).text(), possible);
    reader.walk(",");
    assert_eq!(reader.text(), whole);
}

#[test]
fn where_nothing_is_decided_the_whole_flora_is_searched() {
    check_says("s enter ,", &["Nothing is decided for plant 1 yet"]);
}

#[test]
fn what_can_not_be_seen_is_ticked_apart_from_what_was_not_looked_at() {
    check_says("1 1 1 / j 3", &["3 not seen", "not seen   stigma one", "–          Herb"]);
}

#[test]
fn a_character_is_measured_where_it_is_ticked() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1 1 / j =");
    type_in(&mut reader, "stigma 2");
    let text = reader.text();
    for words in ["Measured: outside", "OUTSIDE    stigma one · stigma 2: outside"] {
        assert!(text.contains(words), "{words} is not on\n{text}");
    }
    assert_eq!(Reader::again((80, 24), &reader.kept).state.plants, reader.state.plants);
    reader.walk("k =");
    type_in(&mut reader, "leaf 60 mm");
    assert!(reader.text().contains("can't be measured so"), "{}", reader.text());
}

#[test]
fn a_list_is_narrowed_and_left_for_its_row_with_one_enter() {
    check_says("e / f r u i t enter", &["Capsule longer than its stalk"]);
    check_says("e / f r u i t enter b", &["narrow: fruit", "Key to fruiting plants"]);
    check_says("i / l i t o r enter", &["Morvania litoralis"]);
}

/// Checks that these keys lay a choice over the screen, which shows these words; that each of its rows can be taken by its
/// number and by moving, and that a wrong number and Esc leave everything as it was.
#[track_caller]
fn check_choice(keys: &str, words: &[&str]) {
    let open = |more: &str| {
        let mut reader = Reader::open((80, 24));
        reader.walk(keys).walk(more);
        reader
    };
    let over = open("");
    let rows = match &over.state.overlay {
        Overlay::Choose { rows, at: 0, .. } => rows.clone(),
        other => panic!("{other:?} after {keys}"),
    };
    assert!(rows.len() > 1, "{rows:?}");
    for words in words {
        assert!(over.text().contains(words), "{words:?} is not on\n{}", over.text());
    }
    for (at, (_, item)) in rows.iter().enumerate() {
        let by_number = open(&(at + 1).to_string());
        let by_moving = open(&format!("{}enter", "j ".repeat(at)));
        assert_eq!(by_number.state.way, by_moving.state.way);
        assert_eq!(by_number.state.way.here.item, *item);
        assert_eq!(by_number.state.overlay, Overlay::None);
        let (plants, place) = (by_number.state.plants.clone(), over.state.way.here.clone());
        let mut back = by_number;
        back.walk("b");
        assert_eq!((&back.state.way.here, &back.state.plants), (&place, &plants), "back from row {at}");
    }
    for none in ["esc", "b", "9", "x"] {
        let left = open(none);
        let overlay = if matches!(none, "esc" | "b") { &Overlay::None } else { &over.state.overlay };
        assert_eq!(left.state.overlay, *overlay, "{none}");
        assert_eq!(left.state.way, over.state.way, "{none}");
        assert_eq!(left.state.plants, over.state.plants, "{none}");
    }
    assert_eq!(open(&"j ".repeat(rows.len() + 3)).state.way, over.state.way);
}

#[test]
fn a_choice_takes_its_row_or_leaves_all_as_it_was() {
    check_choice("1 1 2 1", &["This lead has several targets", "1 Skerria alba", "2 Skerria minor"]);
    check_choice("1 1 2 o", &["Treatments that this lead names"]);
    check_choice("1 1 1 u", &["Couplets that lead here", "Key to the species"]);
    check_choice("1 1 2 2 n", &["No lead fits", "sure"]);
}

#[test]
fn the_lead_is_taken_before_one_of_its_targets_is_chosen() {
    let mut reader = Reader::open((80, 24));
    reader.walk("1 1 2 1");
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(again.state.plants.here().branch().decisions.len(), 4);
    assert_eq!(again.state.plants, reader.state.plants);
}

#[test]
fn look_alikes_say_in_how_many_characters_they_agree() {
    check_says("1 1 1 y", &["Skerria minor", "agrees in "]);
}
