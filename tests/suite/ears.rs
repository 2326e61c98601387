//! The reader without screens: lines from a terminal that can't draw and through a pipe, as far as a species of the demo.

use crate::support::terminal::Terminal;
use crate::support::{Home, skip};

#[test]
fn a_script_of_keys_reaches_a_species_in_lines() {
    let home = Home::new();
    let done = home.run_on(&["demo", "--linear"], "tab\nesc\n1\n1\nm\n1\nm\n1\n?\nesc\nq\n");
    assert_eq!(done.code, 0, "{}", done.err);
    let species = "\nCarex skerrensis.\nspecies, folio ";
    for words in ["Lead 1 of 2", "leads to", "From ", species, "is no leave to eat", "keys here"] {
        assert!(done.out.contains(words), "{words} was not said\n{}", done.out);
    }
    assert!(!done.out.contains('\u{1b}'), "codes for a screen\n{}", done.out);
}

#[test]
fn the_end_of_the_keys_leaves_the_reader_and_the_place_is_kept() {
    let home = Home::new();
    let first = home.run_on(&["demo", "--linear"], "1\n");
    let again = home.run_on(&["read", "--linear"], "");
    assert_eq!((first.code, again.code), (0, 0), "{}{}", first.err, again.err);
    let place = again.out.lines().nth(1).expect("it says where one is");
    assert!(first.out.contains(place) && first.out.lines().nth(1) != Some(place), "{}", again.out);
}

#[test]
fn lines_are_ascii_where_nothing_else_is_shown() {
    let done = Home::new().run_on(&["demo", "--linear", "--ascii"], "1\n1\ntab\n-\ni\nq\n");
    assert!(done.code == 0 && done.out.is_ascii(), "{}", done.out);
}

#[test]
fn a_terminal_that_can_not_draw_gets_lines_and_single_keys() {
    let test = "a_terminal_that_can_not_draw_gets_lines_and_single_keys";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, (100, 40), "demo --linear");
    terminal.wait_for_words("? says which keys there are");
    terminal.send(&["j"]);
    terminal.wait_for_words("Lead 2 of 2");
    terminal.send(&["Tab"]);
    terminal.wait_for_words("From ");
    terminal.send(&["q"]);
    terminal.check_given_back(0);
}
