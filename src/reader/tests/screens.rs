//! What each screen says.

use super::{EVERY_SCREEN, Reader, SIZES, check_says};
use crate::reader::command::Command;
use crate::reader::measure::SMALLEST;
use crate::reader::place::Screen;
use crate::reader::state::Overlay;
use crate::reader::update::possible;
use crate::reader::view::offers;

#[test]
fn a_couplet_has_all_its_leads_with_targets_and_numbers_of_taxa() {
    check_says(
        "",
        &[
            "Key to the genera (Bractaceae)",
            "couplet 1 of 2 · 5 taxa possible · folio 13, PDF page 3",
            "→ couplet 2 · 5 taxa",
        ],
    );
    check_says("", &["→ not found: Halimora p. 90"]);
    check_says("enter", &["→ Key to the species (Skerria) · 3 taxa", "→ Morvania, treatment · 1 taxon"]);
}

#[test]
fn a_marked_term_is_defined_from_the_flora_first() {
    check_says(
        "enter tab",
        &["─ Calyx ", "calyx: the outer, mostly green whorl", "this flora, folio 12, PDF page 2"],
    );
}

#[test]
fn a_plural_is_defined_under_its_headword() {
    check_says("t:stigmata", &["─ stigmata ", "stigma: the tip of the pistil"]);
}

#[test]
fn both_parts_of_a_compound_are_defined() {
    check_says("tab tab", &["─ oblong-lanceolate ", "oblong: ", "lanceolate: "]);
}

#[test]
fn any_term_of_a_couplet_takes_two_presses() {
    check_says("enter t c", &["─ corona ", "a ring of scales"]);
    check_says("enter t", &["a\u{a0}Calyx", "c\u{a0}corona", "press the letter of a word"]);
}

#[test]
fn a_word_that_comes_twice_has_one_letter() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter t");
    let letters = reader.state.letters();
    let of =
        |word: &str| letters.iter().filter(|(_, stop)| reader.state.word(*stop) == word).collect::<Vec<_>>();
    assert!(of("lanceolate").len() > 4, "{letters:?}");
    assert_eq!(reader.text().matches("\u{a0}lanceolate").count(), 1, "{}", reader.text());
    assert!(of("lanceolate").iter().all(|(letter, _)| *letter == of("lanceolate")[0].0), "{letters:?}");
}

#[test]
fn a_figure_takes_its_lead_at_once() {
    check_says("enter 2", &["4. Morvania Tarn", "genus · folio 16"]);
    check_says("enter 9", &["This couplet has no lead 9."]);
}

#[test]
fn a_lead_without_a_target_says_so_and_stays() {
    check_says("2", &["This lead can't be followed here", "Key to the genera"]);
}

#[test]
fn a_lead_with_two_targets_lets_one_choose() {
    check_says(
        "enter enter j enter enter",
        &["This lead has several targets", "1 Skerria alba, treatment", "2 Skerria minor"],
    );
    check_says("enter enter j enter enter 2", &["3. Skerria minor Tarn"]);
}

#[test]
fn one_goes_up_to_the_couplet_that_leads_here() {
    check_says("enter enter u", &["couplet 2 of 2", "Key to the genera"]);
    check_says("enter u", &["couplet 1 of 2"]);
}

#[test]
fn a_treatment_in_which_a_lead_ends_has_the_standing_caution() {
    check_says("enter 2", &["A name from a key is no leave to eat, touch or pick."]);
}

#[test]
fn a_treatment_has_its_names_sections_and_surroundings() {
    check_says(
        "enter enter enter",
        &["2. Skerria alba Tarn", "morvane herb 2", "Synonyms: Olda 2", "Habitat. Wet rock"],
    );
    check_says(
        "enter enter enter end",
        &["Belongs to", "genus Skerria", "Keyed at", "couplet 1 · Key to the species"],
    );
}

#[test]
fn a_name_in_a_treatment_is_followed() {
    check_says("enter enter enter t:Skerria_minor enter", &["3. Skerria minor Tarn"]);
}

#[test]
fn parent_and_key_of_the_members_are_one_press_away() {
    check_says("enter enter enter p", &["1. Skerria Tarn"]);
    check_says("enter enter p m", &["Key to the species (Skerria)", "couplet 1 of 2"]);
}

#[test]
fn a_term_is_shown_in_full_and_sends_on() {
    check_says("enter tab d", &["calyx", "From this flora, folio 12, PDF page 2."]);
    check_says("w / c r o w enter", &["crown, see corona", "a ring of scales"]);
}

#[test]
fn the_tree_folds_and_unfolds() {
    check_says("i", &["+ Bractaceae · family"]);
    check_says("i l j", &["− Bractaceae · family", "+ Skerria · genus"]);
    check_says("i l j h h", &["+ Bractaceae · family"]);
}

#[test]
fn typing_narrows_taxa_by_any_of_their_names() {
    check_says("i / l i t o r", &["Morvania litoralis · species", "1 of 6"]);
    check_says("i / o l d a space 3", &["Olda 3, see Skerria minor"]);
}

#[test]
fn a_search_lists_hits_with_their_sentence() {
    check_says("s r o c k enter", &["Skerria alba · folio 15, PDF page 5", "Wet rock above the sea"]);
}

#[test]
fn keys_are_listed_with_page_couplets_and_taxa() {
    check_says("e", &["Key to the species (Skerria) · folio 14 · 2 couplets"]);
}

#[test]
fn the_book_is_read_page_by_page() {
    check_says("r", &["folio 13, PDF page 3 of 8", "The isles lie far north"]);
    check_says("r . .", &["folio 15, PDF page 5 of 8"]);
    check_says("c", &["Contents", "Licence stated open: CC BY 4.0", "To the reader · folio 11, PDF page 1"]);
}

#[test]
fn an_empty_search_says_what_to_type() {
    check_says("s", &["Type words"]);
}

#[test]
fn a_long_lead_is_shown_as_going_on_and_its_rivals_stay() {
    for size in SIZES {
        let mut reader = Reader::open(size);
        reader.walk("enter j j");
        let text = reader.text();
        assert!(text.contains("Calyx inflated") && text.contains("Calyx narrow"), "{text}");
        assert!(size.0 == 120 || text.contains("… more") || text.contains("…\n"), "{text}");
        reader.walk("space space space space space space");
        let text = reader.text();
        assert!(text.contains("ending here") && text.contains("Calyx inflated"), "{text}");
    }
}

#[test]
fn a_small_window_keeps_three_lines_of_definition_beside_a_long_lead() {
    let mut reader = Reader::open(SMALLEST);
    let text = reader.walk("enter j j tab").text();
    let lines: Vec<&str> = text.lines().collect();
    let rule = lines.iter().position(|line| line.starts_with('─')).expect("a definition");
    assert!(lines.len() - 1 - rule > 3 && text.contains("Calyx narrow"), "{text}");
}

#[test]
fn every_mark_of_a_long_lead_comes_into_view() {
    let mut reader = Reader::open(SMALLEST);
    reader.walk("enter j j");
    for _ in 0..reader.state.sheet.stops.len() {
        reader.walk("tab");
        let stop = reader.state.way.here.cursor.stop.expect("a mark");
        if reader.state.sheet.stops[stop].block == 2 {
            let word = reader.state.word(stop).to_owned();
            let reversed = marked_words(&reader);
            assert!(reversed.contains(&word), "{word:?} is not in {reversed:?} of\n{}", reader.text());
        }
    }
}

/// Returns the words drawn as marked.
fn marked_words(reader: &Reader) -> String {
    let theme = crate::reader::theme::Theme::named("sun", reader.state.colour).expect("a built-in theme");
    let marked = theme.style(crate::reader::theme::Role::Marked);
    let buffer = reader.screen();
    let cells = buffer
        .content()
        .iter()
        .filter(|cell| Some(cell.fg) == marked.fg && cell.modifier == marked.add_modifier);
    cells.map(ratatui::buffer::Cell::symbol).collect()
}

#[test]
fn help_lists_every_command() {
    let mut reader = Reader::open((80, 24));
    reader.walk("?");
    let mut seen = String::new();
    for _ in 0..Command::ALL.len() * 2 {
        seen.push_str(&reader.text());
        reader.walk("j");
    }
    for command in Command::ALL {
        let start: String = command.row().help.chars().take(40).collect();
        assert!(seen.contains(&start), "{start}");
    }
}

#[test]
fn every_key_of_the_foot_line_does_something() {
    let places = [
        "",
        "enter",
        "enter tab",
        "enter 2",
        "enter 2 tab",
        "e",
        "i",
        "i l",
        "w",
        "s r o c k enter",
        "c",
        "r",
        "r x",
        "r esc",
        "r y",
        "enter tab d",
        "v",
    ];
    for (keys, size) in places.iter().flat_map(|keys| SIZES.map(|size| (keys, size))) {
        let mut reader = Reader::open(size);
        reader.walk(keys);
        let offers = offers(&reader.state, usize::from(size.0)).into_iter();
        for command in offers.filter(|command| *command != Command::Quit) {
            let press = command.presses().next().expect("a key");
            let mut other = Reader::again(size, &reader.kept);
            let before = other.screen();
            other.press(press);
            assert!(other.screen() != before, "{command:?} after {keys:?} at {size:?}");
            // Only what is kept open is said in words; any other message would mean that nothing was done.
            let said = other.state.message.is_some();
            assert_eq!(said, command == Command::CannotTell, "{command:?} after {keys:?}");
        }
    }
}

#[test]
fn the_foot_line_is_never_cut() {
    for (keys, size) in
        ["", "enter", "enter 2", "i", "s"].iter().flat_map(|keys| SIZES.map(|size| (keys, size)))
    {
        let mut reader = Reader::open(size);
        let text = reader.walk(keys).text();
        let foot = text.lines().last().expect("a foot line").to_owned();
        assert!(foot.ends_with("? help") || foot.ends_with("take it back"), "{foot}");
    }
}

#[test]
fn what_is_not_possible_is_not_offered() {
    let reader = Reader::open((80, 24));
    assert!(!possible(&reader.state, Command::Back));
    assert!(!possible(&reader.state, Command::Define));
    assert!(possible(&reader.state, Command::Follow));
}

#[test]
fn a_window_too_small_says_so_and_loses_nothing() {
    let mut reader = Reader::open((80, 24));
    let before = reader.walk("enter tab").screen();
    reader.resize((40, 10));
    assert!(reader.text().contains("Nothing is lost"), "{}", reader.text());
    reader.resize((80, 24));
    assert!(reader.screen() == before);
}

#[test]
fn every_screen_kind_is_reached() {
    let mut seen: Vec<Screen> = Vec::new();
    for keys in EVERY_SCREEN {
        let mut reader = Reader::open((80, 24));
        reader.walk(keys);
        seen.push(reader.state.screen());
    }
    assert!(Screen::ALL.iter().all(|screen| seen.contains(screen)), "{seen:?}");
}

#[test]
fn all_terms_of_a_couplet_are_listed_with_their_meanings() {
    check_says(
        "T",
        &[
            "Terms here",
            "1 leaves: ",
            "2 oblong-lanceolate: ",
            "3 opposite: ",
            "4 stigmata: the tip of the pistil",
        ],
    );
    check_says("T 4", &["stigma", "From this flora"]);
    check_says("T esc", &["Leaves ovate, all from the base"]);
}

#[test]
fn a_term_beyond_the_ninth_of_a_list_has_a_letter() {
    let mut reader = Reader::open((80, 40));
    reader.walk("1 T");
    let Overlay::Choose { rows, .. } = &reader.state.overlay else { panic!("{}", reader.text()) };
    let (words, item) = rows[9].clone();
    let row = format!(" a {}", words.split(':').next().unwrap_or_default());
    assert!(reader.text().contains(&row), "{row:?} is not on\n{}", reader.text());
    reader.walk("a");
    assert_eq!(reader.state.way.here.item, item);
}

#[test]
fn a_compound_says_how_its_parts_go_together() {
    check_says("tab tab", &["─ oblong-lanceolate ", "Between the two, nearer the last:"]);
}

#[test]
fn a_term_says_where_it_is_used_by_organ() {
    check_says("enter tab d end", &["Where it is used in this flora, by organ"]);
    let used = "enter t:corona d end t:Where_it_is_used_in_this_flora,_by_organ enter";
    check_says(used, &["Where “corona” is used", "calyx · 1 place", "couplet 2 · Key to the genera"]);
}
