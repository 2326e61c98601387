//! Walks: back restores every screen exactly, whatever happened to the window or the program in between.

use proptest::prelude::proptest;
use proptest::sample::select;

use super::{Reader, SIZES};
use crate::reader::command::Command;
use crate::reader::place::Screen;
use crate::reader::press::Press;
use crate::reader::state::Overlay;

/// A walk that goes through every kind of screen: down a key, into terms, a treatment and lists.
const LONG_WALK: &[&str] = &[
    "tab",
    "d",
    "b",
    "enter",
    "j",
    "j",
    "tab",
    "k",
    "1",
    "t:Petals",
    "d",
    "b",
    "tab",
    "1",
    "tab",
    "p",
    "m",
    "e",
    "j",
    "enter",
    "i",
    "l",
    "j",
    "enter",
    "s",
    "r",
    "o",
    "c",
    "k",
    "enter",
    "enter",
    "r",
    "space",
    ".",
    "w",
    "j",
    "enter",
    "0",
    "t:stigmata",
    "d",
    "tab",
    "enter",
    "b",
    "r",
    "tab",
    "tab",
    "enter",
    "0",
    "j",
    "r",
    "enter",
    "r",
    "y",
    "j",
    "i",
    "w",
];

/// Walks step by step, noting the screen before each step onto another place; then goes back and compares.
#[track_caller]
fn check_back(reader: &mut Reader, steps: &[&str], disturb: impl Fn(&mut Reader)) {
    let mut seen = Vec::new();
    for step in steps {
        let (depth, screen, text) = (reader.state.way.depth(), reader.screen(), reader.text());
        reader.walk(step);
        // Of what is said only that a list or text goes no further is fine.
        let said = reader.state.message.take();
        assert!(said.as_ref().is_none_or(|said| said.starts_with("This is the ")), "{said:?} after {step:?}");
        seen.truncate(reader.state.way.depth());
        if reader.state.way.depth() > depth {
            seen.push((screen, text));
        }
    }
    assert!(seen.len() > 12, "only {} steps led elsewhere", seen.len());
    while let Some((screen, text)) = seen.pop() {
        disturb(reader);
        reader.walk("backspace");
        assert!(reader.screen() == screen, "expected\n{text}\nfound\n{}", reader.text());
    }
}

#[test]
fn back_restores_every_screen_exactly() {
    for size in SIZES {
        check_back(&mut Reader::open(size), LONG_WALK, |_| {});
    }
}

#[test]
fn back_restores_every_screen_also_after_resizes() {
    for size in SIZES {
        check_back(&mut Reader::open(size), LONG_WALK, |reader| {
            for other in [(60, 20), (200, 60), (30, 5), (97, 31)] {
                reader.resize(other);
            }
            reader.resize(size);
        });
    }
}

#[test]
fn back_restores_every_screen_also_after_starting_again() {
    for size in SIZES {
        check_back(&mut Reader::open(size), LONG_WALK, |reader| {
            let again = Reader::again(size, &reader.kept);
            *reader = again;
        });
    }
}

#[test]
fn starting_again_restores_place_way_and_theme() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter j tab d z b");
    let again = Reader::again((80, 24), &reader.kept);
    assert!(again.screen() == reader.screen(), "{}", again.text());
    assert_eq!(again.state.way, reader.state.way);
    assert_eq!(again.state.theme, "dusk");
}

#[test]
fn forward_undoes_back() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter tab d tab");
    let there = reader.screen();
    reader.walk("b b f f");
    assert!(reader.screen() == there, "{}", reader.text());
}

#[test]
fn a_flora_that_was_read_anew_begins_at_its_start() {
    let mut reader = Reader::open((80, 24));
    reader.walk("enter");
    let kept = reader.kept.replace("6 taxa", "7 taxa");
    let again = Reader::again((80, 24), &kept);
    assert!(again.text().contains("couplet 1 of 2"));
    assert!(again.text().contains("read anew"), "{}", again.text());
}

#[test]
fn a_press_is_kept_at_once() {
    let mut reader = Reader::open((80, 24));
    for keys in ["tab", "enter", "j", "space", "i", "/", "s"] {
        reader.walk(keys);
        assert_eq!(reader.kept, reader.state.stand());
    }
}

/// Commands that decide something, or that show what was decided: what they show changes on purpose.
const OF_DECISIONS: &[Command] = &[
    Command::CannotTell,
    Command::Doubt,
    Command::Tick,
    Command::Note,
    Command::Possible,
    Command::Trail,
    Command::Neither,
    Command::Route,
    Command::Drawings,
];

/// Commands that change on purpose how all screens look or what keys do, or that jump along the way.
const OF_HANDS: &[Command] =
    &[Command::Menu, Command::Places, Command::Split, Command::Swap, Command::Layout, Command::Tour];
/// Keys that change how every screen looks, also those that one goes back to.
const LOOKS: &[Press] = &[Press::Char('z'), Press::Char('Z')];

/// Returns every key that does something anywhere, and some that are only typed.
fn all_presses() -> Vec<Press> {
    let mut presses: Vec<Press> = Command::ALL.iter().flat_map(|command| command.presses()).collect();
    presses.retain(|press| *press != Press::Interrupt);
    presses.extend(['x', 'y', 'é', '×'].map(Press::Char));
    presses
}

/// Walks over every screen that stays as it is, then goes back over all of them and compares.
#[track_caller]
fn check_walk(presses: impl IntoIterator<Item = Press>) {
    let mut reader = Reader::open((80, 24));
    let mut left = Vec::new();
    for press in presses.into_iter().filter(|press| !LOOKS.contains(press)) {
        if reader.state.overlay == Overlay::None
            && reader
                .state
                .keys
                .command(press, reader.state.screen())
                .is_some_and(|command| OF_DECISIONS.contains(&command) || OF_HANDS.contains(&command))
        {
            continue;
        }
        // Readings kept beside a character stand in the treatment as well.
        if reader.state.screen() == Screen::Check
            && reader.state.keys.command(press, Screen::Check) == Some(Command::Measure)
            && reader.state.overlay == Overlay::None
        {
            continue;
        }
        // What was looked up meanwhile stands on these two as well.
        let learning = matches!(reader.state.screen(), Screen::LookedUp | Screen::Drill);
        let clean = reader.state.overlay == Overlay::None && reader.state.message.is_none() && !learning;
        let (depth, screen) = (reader.state.way.depth(), clean.then(|| reader.screen()));
        reader.press(press);
        left.truncate(reader.state.way.depth());
        if reader.state.way.depth() > depth {
            left.push(screen);
        }
    }
    reader.walk("esc esc");
    while let Some(screen) = left.pop() {
        reader.walk("b");
        assert!(screen.is_none_or(|screen| screen == reader.screen()), "{}", reader.text());
    }
}

#[test]
fn back_restores_screens_after_keys_that_once_led_it_astray() {
    for walk in ["x j", "enter 2 / 1"] {
        check_walk(walk.split(' ').map(|sign| Press::parse(sign).expect("a key's sign")));
    }
}

proptest! {
    #![proptest_config(super::cases_by(8))]

    #[test]
    fn no_walk_in_any_window_ends_in_a_panic(
        steps in proptest::collection::vec((select(all_presses()), 0_u8..12, 1_u16..200, 1_u16..60), 1..60),
    ) {
        let mut reader = Reader::open((80, 24));
        for (press, resize, width, height) in steps {
            if resize == 0 {
                reader.resize((width, height));
            }
            reader.press(press);
            reader.screen();
        }
    }

    #[test]
    fn back_over_a_random_walk_restores_every_screen(
        presses in proptest::collection::vec(select(all_presses()), 1..60),
    ) {
        check_walk(presses);
    }

    #[test]
    fn back_undoes_forward_exactly_and_never_touches_a_decision(
        presses in proptest::collection::vec(select(all_presses()), 1..80),
    ) {
        let mut reader = Reader::open((80, 24));
        for press in presses {
            let command = reader.state.keys.command(press, reader.state.screen());
            if reader.state.overlay != Overlay::None || !command.is_some_and(|command| OF_HANDS.contains(&command)) {
                reader.press(press);
            }
        }
        reader.walk("esc esc");
        let (plants, mut places) = (reader.state.plants.clone(), vec![reader.state.way.here.clone()]);
        while reader.state.way.has_back() {
            reader.walk("b");
            places.push(reader.state.way.here.clone());
            assert_eq!(reader.state.plants, plants);
        }
        places.pop();
        while let Some(place) = places.pop() {
            reader.walk("f");
            assert_eq!(reader.state.way.here, place);
            assert_eq!(reader.state.plants, plants);
        }
    }
}
