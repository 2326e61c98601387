//! Hands: layouts of keys, the mouse, marks and places, the place beside this one, help, messages, copying, the tour.

use proptest::prelude::proptest;
use proptest::sample::select;

use super::{Reader, SIZES};
use crate::reader::command::Command;
use crate::reader::guide::Guide;
use crate::reader::keys::{KeyMap, Layout};
use crate::reader::pointer::Pointed;
use crate::reader::press::Press;
use crate::reader::state::{Effect, Event, Mouse, Overlay};
use crate::reader::update::{own_keys, update};

/// Opens the test flora with the keys of a layout.
fn with(layout: Layout) -> Reader {
    let mut reader = Reader::open((80, 24));
    reader.state.keys = KeyMap::new(layout, Vec::new());
    reader
}

/// Checks that after these keys of a layout the screen has these words.
#[track_caller]
fn check_layout(layout: Layout, keys: &str, words: &str) {
    let mut reader = with(layout);
    let text = reader.walk(keys).text();
    assert!(text.contains(words), "{words:?} is not on\n{text}");
}

/// Clicks on the first place where words stand on the screen, and returns what is to be done outside.
#[track_caller]
fn click(reader: &mut Reader, words: &str) -> Vec<Effect> {
    let text = reader.text();
    let found = text.lines().enumerate().find_map(|(y, line)| {
        let byte = line.find(words)?;
        Some((line[..byte].chars().count() as u16, y as u16))
    });
    let (x, y) = found.unwrap_or_else(|| panic!("{words:?} is not on\n{text}"));
    update(&mut reader.state, Event::Mouse(Pointed::At(x, y)))
}

/// Checks that the screen has these words.
#[track_caller]
fn check_on(reader: &Reader, words: &[&str]) {
    let text = reader.text();
    for words in words {
        assert!(text.contains(words), "{words:?} is not on\n{text}");
    }
}

#[test]
fn a_hand_alone_keys_down_and_back_and_the_arrows_do_too() {
    check_layout(Layout::Left, "f", "couplet 2 of 2");
    check_layout(Layout::Left, "f s", "couplet 1 of 2");
    check_layout(Layout::Right, "l", "couplet 2 of 2");
    check_layout(Layout::Right, "l h", "couplet 1 of 2");
    check_layout(Layout::Left, "f d f", "4. Morvania Tarn");
    check_layout(Layout::Right, "enter down enter", "4. Morvania Tarn");
}

#[test]
fn the_letters_beside_words_are_those_of_the_hand() {
    check_layout(Layout::Left, "f t", "f\u{a0}Calyx");
    check_layout(Layout::Right, "l o", "j\u{a0}Calyx");
    check_layout(Layout::Left, "f t f", "─ Calyx ");
}

#[test]
fn foot_and_messages_name_the_keys_in_force() {
    check_layout(Layout::Left, "", "f take lead");
    check_layout(Layout::Left, "", "d down");
    check_layout(Layout::Left, "", "q more  ? help");
    check_layout(Layout::Left, "g", "No term is marked: r marks one, t gives each a letter.");
    check_layout(Layout::Both, "d", "No term is marked: Tab marks one, t gives each a letter.");
}

#[test]
fn the_layout_is_changed_by_a_key_and_kept() {
    let mut reader = Reader::open((80, 24));
    reader.walk("Y");
    check_on(&reader, &["Letters under the left hand: d e move, f goes, s steps back, q lists the rest"]);
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(again.state.keys.layout(), Layout::Left);
}

#[test]
fn everything_that_applies_is_reached_through_the_menu_in_every_layout() {
    for layout in Layout::ALL {
        let mut reader = with(*layout);
        reader.walk("f2");
        let Overlay::Pick(pick) = &reader.state.overlay else { panic!("no menu\n{}", reader.text()) };
        for command in
            [Command::Keys, Command::Taxa, Command::Find, Command::Print, Command::Quit, Command::Theme]
        {
            let does = crate::reader::pick::Does::Command(command);
            assert!(pick.rows.iter().any(|row| row.does == does), "{command:?} in {layout:?}");
        }
    }
}

#[test]
fn the_sign_of_a_row_of_the_menu_does_it() {
    let mut reader = with(Layout::Left);
    reader.walk("q");
    let row = reader.text().lines().find(|line| line.contains("List every key")).expect("the row").to_owned();
    let sign = row.trim_start_matches(['▌', ' ']).chars().next().expect("a sign");
    reader.press(Press::Char(sign));
    check_on(&reader, &["3 in all"]);
}

#[test]
fn an_own_key_map_holds_and_what_is_wrong_in_it_is_told_line_by_line() {
    let mut reader = Reader::open((80, 24));
    let wrong = own_keys(&mut reader.state, "follow = \"n\"\nfly = \"f\"\n");
    assert_eq!(wrong, ["line 2: there is no command \"fly\"; this line is left out"]);
    reader.walk("n");
    check_on(&reader, &["couplet 2 of 2"]);
}

/// Checks that after these keys of one's own key map the screen has these words.
#[track_caller]
fn check_own(map: &str, keys: &str, words: &str) {
    let mut reader = Reader::open((80, 24));
    assert_eq!(own_keys(&mut reader.state, map), [""; 0]);
    reader.walk(keys);
    check_on(&reader, &[words]);
}

#[test]
fn texts_and_messages_name_the_keys_of_an_own_key_map() {
    check_own("among = \"u\"", "1 1 s enter", "; u searches what is still possible for plant 1");
    check_own("among = \"u\"", "1 1 s enter u", "; u searches the whole flora");
    check_own("forget = \"u\"", "t:ovate L", "so does u here");
    check_own("drill = \"u\"", "t:ovate L u 1 1", "u asks the next");
}

#[test]
fn a_lead_is_clicked_into_the_hand_and_its_target_taken() {
    let mut reader = Reader::open((80, 24));
    click(&mut reader, "from the");
    assert_eq!(reader.state.lead(), 1);
    update(&mut reader.state, Event::Mouse(Pointed::At(2, 2)));
    assert_eq!(reader.state.lead(), 0);
    click(&mut reader, "→ couplet 2");
    check_on(&reader, &["couplet 2 of 2"]);
}

#[test]
fn a_word_is_clicked_to_mark_it_and_again_to_open_it() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter");
    click(&mut reader, "Calyx");
    check_on(&reader, &["─ Calyx ", "calyx: the outer"]);
    click(&mut reader, "Calyx");
    check_on(&reader, &["Where it is used in this flora"]);
}

#[test]
fn a_row_is_followed_by_a_click_and_the_foot_does_its_keys() {
    let mut reader = Reader::open((80, 24));
    reader.walk("e");
    click(&mut reader, "Key to the species");
    check_on(&reader, &["Key to the species (Skerria)", "couplet 1"]);
    click(&mut reader, "b back");
    check_on(&reader, &["3 in all"]);
    click(&mut reader, "? help");
    check_on(&reader, &["This screen: keys"]);
    click(&mut reader, "Esc close");
    assert_eq!(reader.state.overlay, Overlay::None);
}

#[test]
fn the_wheel_moves_and_the_mouse_can_be_left_to_the_terminal() {
    let mut reader = Reader::open((80, 24));
    update(&mut reader.state, Event::Mouse(Pointed::WheelDown));
    assert_eq!(reader.state.lead(), 1);
    update(&mut reader.state, Event::Mouse(Pointed::WheelUp));
    assert_eq!(reader.state.lead(), 0);
    let effects = update(&mut reader.state, Event::Press(Press::Function(3)));
    assert!(effects.contains(&Effect::Mouse(Mouse::Off)));
    assert_eq!(update(&mut reader.state, Event::Mouse(Pointed::WheelDown)), []);
    assert_eq!(reader.state.lead(), 0);
}

/// Keys that lead to every kind of screen and list.
const SCREENS: &[&str] =
    &["", "enter", "enter t", "e", "i", "w", "s", "c", "v", "-", ";", "H", "?", "enter tab S", "r", "2 2"];

proptest! {
    #![proptest_config(super::cases_by(4))]

    #[test]
    fn no_click_on_any_screen_of_any_size_ends_in_a_panic(
        (size, keys) in (select(&SIZES), select(SCREENS)),
        clicks in proptest::collection::vec((0_u16..120, 0_u16..40), 1..20),
    ) {
        let mut reader = Reader::open(size);
        reader.walk(keys);
        for (x, y) in clicks {
            update(&mut reader.state, Event::Mouse(Pointed::At(x, y)));
            reader.screen();
        }
    }
}

#[test]
fn a_mark_leads_back_to_its_very_place_also_after_a_restart() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter j tab M");
    check_on(&reader, &["Marked: couplet 2"]);
    let marked = reader.state.way.here.clone();
    reader.walk("0 e");
    let mut again = Reader::again((80, 24), &reader.kept);
    again.walk("'");
    check_on(&again, &["Marks", "couplet 2 · Key to the genera"]);
    again.walk("enter");
    assert_eq!(again.state.way.here, marked);
    again.walk("b");
    check_on(&again, &["3 in all"]);
}

#[test]
fn a_mark_is_taken_away_where_it_is_set() {
    let mut reader = Reader::open((80, 24));
    reader.walk("M M");
    check_on(&reader, &["is taken away"]);
    reader.walk("'");
    check_on(&reader, &["There is no mark yet; M sets one here."]);
}

#[test]
fn a_mark_whose_place_is_another_one_now_is_told_and_kept() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter M 0");
    reader.state.marks[0].words = "couplet 9 · Key to the sedges".to_owned();
    reader.walk("' enter");
    check_on(&reader, &["is not in this reading of the book any more"]);
    assert_eq!(reader.state.marks.len(), 1);
}

#[test]
fn a_place_of_the_way_is_gone_to_and_the_way_ahead_is_kept() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter e i");
    let (here, depth) = (reader.state.way.here.clone(), reader.state.way.depth());
    reader.walk("H");
    check_on(&reader, &["Places you came by", "here", "before", "couplet 1"]);
    reader.walk("c o u p l e t space 1 enter");
    check_on(&reader, &["couplet 1 of 2"]);
    assert_eq!(reader.state.way.depth(), 0);
    reader.walk("H up up up enter");
    assert_eq!((&reader.state.way.here, reader.state.way.depth()), (&here, depth));
}

#[test]
fn the_term_that_is_marked_stands_beside_the_couplet() {
    for size in SIZES {
        let mut reader = Reader::open(size);
        reader.walk("enter tab S");
        check_on(&reader, &["couplet 2 of 2", "B goes there", "From this flora, folio 12, PDF page 2."]);
        reader.walk("S");
        assert!(!reader.text().contains("From this flora"), "{}", reader.text());
    }
}

#[test]
fn places_beside_each_other_are_changed_and_keep_line_and_mark() {
    let mut reader = Reader::open((120, 40));
    reader.walk("enter j tab d b S");
    let (here, screen) = (reader.state.way.here.clone(), reader.screen());
    reader.walk("B");
    assert_ne!(reader.state.way.here, here);
    reader.walk("B");
    assert!(reader.screen() == screen, "{}", reader.text());
    let again = Reader::again((120, 40), &reader.kept);
    assert!(again.screen() == screen, "{}", again.text());
}

#[test]
fn help_explains_the_screen_before_its_keys() {
    let mut reader = Reader::open((80, 24));
    reader.walk("?");
    let text = reader.text();
    let (explained, keys) = (text.find("one couplet of a key"), text.find("Keys on this screen"));
    assert!(explained.is_some() && (keys.is_none() || explained < keys), "{text}");
    check_on(&reader, &["This screen: couplet", "▼ Space shows more"]);
}

#[test]
fn messages_stay_until_they_were_read_one_after_the_other() {
    let mut reader = Reader::open((80, 24));
    for said in ["The first.", "The second.", "The first."] {
        update(&mut reader.state, Event::Failed(said.to_owned()));
    }
    check_on(&reader, &["The first. (1 more: any key)"]);
    reader.resize((50, 10));
    reader.walk("j");
    reader.resize((80, 24));
    check_on(&reader, &["The first."]);
    reader.walk("k");
    check_on(&reader, &["The second."]);
    reader.walk("j");
    assert_eq!(reader.state.message, None);
}

/// Returns the text that is copied after these keys.
fn copied(keys: &str) -> String {
    let mut reader = Reader::open((80, 24));
    reader.walk(keys);
    let effects = update(&mut reader.state, Event::Press(Press::Char('C')));
    let text = effects.into_iter().find_map(|effect| match effect {
        Effect::Copy(text) => Some(text),
        _ => None,
    });
    text.unwrap_or_else(|| panic!("nothing is copied on\n{}", reader.text()))
}

#[test]
fn what_is_copied_is_whole_and_cited() {
    let couplet = copied("enter");
    assert!(couplet.starts_with("Key to the genera (Bractaceae)\n2 Calyx"), "{couplet}");
    assert!(couplet.contains("→ Morvania, treatment") && couplet.contains("\nFrom: "), "{couplet}");
    assert!(couplet.contains("p. 13 (PDF page 3)"), "{couplet}");
    let term = copied("enter tab d");
    assert!(term.contains("the outer, mostly green whorl") && term.contains("(PDF page 2)"), "{term}");
    let treatment = copied("enter 2");
    assert!(treatment.contains("Morvania") && treatment.contains("(PDF page 6)"), "{treatment}");
}

#[test]
fn what_is_written_goes_to_a_file_with_the_same_text() {
    let mut reader = Reader::open((80, 24));
    let copied = copied("");
    let effects = update(&mut reader.state, Event::Press(Press::Char('P')));
    assert!(
        effects.contains(&Effect::Print("key-to-the-genera-bractaceae".to_owned(), copied)),
        "{effects:?}"
    );
}

/// Checks that a tour in a layout is done by doing what each step says, and that its words name those keys.
#[track_caller]
fn check_tour(layout: Layout, steps: [(&str, &str); 5]) {
    let mut reader = with(layout);
    reader.walk("f2");
    let Overlay::Pick(pick) = &reader.state.overlay else { panic!("no menu") };
    let tour = crate::reader::pick::Does::Command(Command::Tour);
    let at = pick.rows.iter().position(|row| row.does == tour).expect("the tour is in the menu");
    (0..at).for_each(|_| reader.press(Press::Down));
    reader.walk("enter");
    for (step, (keys, words)) in steps.into_iter().enumerate() {
        assert_eq!(reader.state.guide, Some(Guide::Tour(step)), "\n{}", reader.text());
        let text = reader.text().replace('\n', " ").split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(words), "{words:?} is not on\n{}", reader.text());
        reader.walk(keys);
    }
    assert_eq!(reader.state.guide, None);
    check_on(&reader, &["That was the tour."]);
}

#[test]
fn the_tour_has_five_steps_each_done_by_doing_it_with_the_keys_in_force() {
    check_tour(
        Layout::Both,
        [
            ("j", "j and k take another in hand"),
            ("k enter tab d", "Tab marks the next technical term"),
            ("b", "b leads back step by step"),
            ("enter 1", "Enter takes the lead with the bar"),
            ("/ -", "/ goes through the characters"),
        ],
    );
    check_tour(
        Layout::Left,
        [
            ("d", "d and e take another in hand"),
            ("e f r g", "r marks the next technical term"),
            ("s", "s leads back step by step"),
            ("f 1", "f takes the lead with the bar"),
            ("x a", "x goes through the characters"),
        ],
    );
}

#[test]
fn the_tour_is_left_and_begun_again_and_kept() {
    let mut reader = Reader::open((80, 24));
    reader.walk("N j");
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(again.state.guide, Some(Guide::Tour(1)));
    reader.walk("N");
    assert_eq!(reader.state.guide, None);
    reader.walk("N");
    assert_eq!(reader.state.guide, Some(Guide::Tour(0)));
}

#[test]
fn the_orientation_is_gone_after_the_first_decision() {
    let mut reader = Reader::open((80, 24));
    reader.state.guide = Some(Guide::Welcome);
    reader.walk("j");
    check_on(&reader, &["─ Welcome ", "Leads: j and k go from one to the other", "? explains each screen"]);
    let screen = reader.walk("k").screen();
    reader.walk("enter 0");
    assert!(!reader.text().contains("Welcome"), "{}", reader.text());
    reader.walk("b b");
    assert!(reader.screen() == screen, "{}", reader.text());
}

#[test]
fn whatever_names_a_key_names_a_command_of_the_table() {
    // Braces that are left over are keys that no command has.
    for layout in Layout::ALL {
        let mut reader = with(*layout);
        for size in SIZES {
            reader.resize(size);
            for keys in ["f1", "f1 pagedown", "esc f2", "esc", "enter"] {
                let text = reader.walk(keys).text();
                assert!(!text.contains('{') && !text.contains('}'), "{text}");
            }
        }
    }
}
