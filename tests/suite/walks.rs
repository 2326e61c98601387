//! Walks through the demo flora in a real terminal: a plant keyed out, words looked up, and every step back exact.

use std::fs;
use std::thread;
use std::time::Duration;

use crate::support::terminal::{Screen, Terminal};
use crate::support::{Home, skip};

/// How long nothing is done while processor time is measured.
const REST: Duration = Duration::from_secs(3);

/// Columns and rows of the usual window.
const USUAL: (u16, u16) = (80, 24);

/// One step of a walk.
#[derive(Clone, Copy)]
enum Step {
    /// A key, and words that the screen must then show.
    Go(&'static str, &'static str),
    /// A word looked up, first below the couplet, then on its full screen, and back; both show these words of its definition.
    LookUp(&'static str, &'static str),
    /// A key that leads aside, words to be seen there, and back.
    Aside(&'static str, &'static str),
}

use Step::{Aside, Go, LookUp};

/// From the first couplet of the flora to *Silene rupicola* subsp. *glutinella*, by way of a look-alike's treatment.
const TO_GLUTINELLA: &[Step] = &[
    Go("2", "couplet 2 of 2"),
    Go("2", "Group C. Ovary superior"),
    Go("2", "couplet 2 of 3"),
    LookUp("stamens", "male organ"),
    Go("2", "couplet 3 of 3"),
    Go("1", "3. Caryophyllaceae"),
    Go("m", "Key to the genera of Caryophyllaceae"),
    LookUp("Calyces", "the outer whorl"),
    Go("1", "1. Silene"),
    Go("m", "Key to the species of Silene"),
    Go("2", "couplet 2 of 4"),
    LookUp("oblong-", "longer than broad"),
    Go("2", "couplet 3 of 4"),
    Go("2", "couplet 4 of 4"),
    LookUp("glandular-pubescent", "softly hairy"),
    Aside("1", "Silene morvanica Brenn"),
    Go("2", "Silene rupicola"),
    Go("m", "Key to the subspecies of Silene rupicola"),
    Go("2", "Silene rupicola subsp. glutinella"),
];

/// Where the walk is broken off half-way: at the key to the species of *Silene*, all its way behind it.
const HALF: usize = 12;

/// The screens left on the way, the last one on top; each as it was when it was left.
type Left = Vec<Screen>;

/// Opens the demo flora in a terminal, unless there is no tmux, which is said aloud.
fn demo(test: &str, size: (u16, u16)) -> Option<(Home, Terminal)> {
    if !Terminal::possible() {
        skip(test, "tmux is not installed");
        return None;
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, size, "demo");
    terminal.wait_for_words("Key to the families");
    Some((home, terminal))
}

/// Takes steps and adds each screen that is left.
#[track_caller]
fn walk(terminal: &Terminal, steps: &[Step], left: &mut Left) {
    for step in steps {
        match *step {
            Go(key, words) => {
                left.push(terminal.screen());
                check_shows(&terminal.press(key), words);
            }
            LookUp(word, definition) => {
                let marked = terminal.mark(word);
                check_shows(&marked, definition);
                check_shows(&terminal.press("d"), definition);
                terminal.press_for("b", &marked);
            }
            Aside(key, words) => {
                let before = terminal.screen();
                check_shows(&terminal.press(key), words);
                terminal.press_for("b", &before);
            }
        }
    }
}

/// Steps back until the first screen is reached; each must be as it was left.
#[track_caller]
fn walk_back(terminal: &Terminal, left: &mut Left) {
    while let Some(screen) = left.pop() {
        terminal.press_for("b", &screen);
    }
}

#[track_caller]
fn check_shows(screen: &Screen, words: &str) {
    assert!(screen.text.contains(words), "{words} is not on the screen{screen:?}");
}

/// Checks the whole walk and the way back in a window of a size.
#[track_caller]
fn check_walk_and_back(test: &str, size: (u16, u16)) {
    let Some((_home, terminal)) = demo(test, size) else { return };
    let first = terminal.screen();
    let mut left = Left::new();
    walk(&terminal, TO_GLUTINELLA, &mut left);
    check_shows(&terminal.screen(), "A name from a key is no leave to eat, touch or pick.");
    assert_eq!(left[0], first);
    walk_back(&terminal, &mut left);
    terminal.press("q");
    terminal.check_given_back(0);
}

/// Checks that ligule, ended half-way, begins again at the same screen with all its way.
#[track_caller]
fn check_goes_on_after(test: &str, end: impl Fn(&Terminal)) {
    let Some((home, terminal)) = demo(test, USUAL) else { return };
    let mut left = Left::new();
    walk(&terminal, &TO_GLUTINELLA[..HALF], &mut left);
    let half = terminal.screen();
    end(&terminal);
    drop(terminal);
    let again = Terminal::start(&home, USUAL, "read");
    again.wait_for(&half);
    walk(&again, &TO_GLUTINELLA[HALF..], &mut left);
    walk_back(&again, &mut left);
}

#[test]
fn a_plant_is_keyed_out_and_every_step_back_is_exact() {
    check_walk_and_back("a_plant_is_keyed_out_and_every_step_back_is_exact", USUAL);
}

#[test]
fn the_way_back_is_exact_in_a_wide_window_too() {
    check_walk_and_back("the_way_back_is_exact_in_a_wide_window_too", (120, 40));
}

#[test]
fn after_quitting_half_way_the_walk_goes_on() {
    check_goes_on_after("after_quitting_half_way_the_walk_goes_on", |terminal| {
        terminal.press("q");
        terminal.check_given_back(0);
    });
}

#[test]
fn after_a_polite_signal_the_walk_goes_on_and_the_terminal_is_given_back() {
    check_goes_on_after(
        "after_a_polite_signal_the_walk_goes_on_and_the_terminal_is_given_back",
        |terminal| {
            terminal.signal("TERM");
            terminal.check_given_back(0);
        },
    );
}

#[test]
fn after_a_sudden_end_the_walk_goes_on() {
    check_goes_on_after("after_a_sudden_end_the_walk_goes_on", |terminal| {
        terminal.signal("KILL");
        terminal.wait_for_words("ended with 137");
    });
}

#[test]
fn a_window_made_small_and_large_again_shows_the_same() {
    let Some((_home, terminal)) = demo("a_window_made_small_and_large_again_shows_the_same", USUAL) else {
        return;
    };
    walk(&terminal, &TO_GLUTINELLA[..HALF], &mut Left::new());
    let marked = terminal.mark("oblanceolate");
    for size in [(60, 20), (120, 40), (20, 5)] {
        terminal.resize(size);
        terminal.wait_until_not(&marked);
        terminal.resize(USUAL);
        terminal.wait_for(&marked);
    }
}

#[test]
fn at_rest_no_processor_time_is_used() {
    let Some((_home, terminal)) = demo("at_rest_no_processor_time_is_used", USUAL) else { return };
    terminal.press("2");
    let before = processor_time(&terminal);
    thread::sleep(REST);
    assert_eq!(processor_time(&terminal), before, "clock ticks in user and system mode");
}

/// Returns the clock ticks that ligule has used in user and in system mode.
fn processor_time(terminal: &Terminal) -> (u64, u64) {
    let stat = fs::read_to_string(format!("/proc/{}/stat", terminal.pid())).expect("ligule runs");
    // The name in brackets may hold blanks; behind it, `utime` and `stime` are the twelfth and thirteenth.
    let (_, fields) = stat.rsplit_once(") ").expect("the name is in brackets");
    let ticks: Vec<u64> = fields.split(' ').skip(11).take(2).filter_map(|field| field.parse().ok()).collect();
    (ticks[0], ticks[1])
}
