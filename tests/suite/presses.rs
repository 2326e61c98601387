//! Presses on whole floras without a terminal: every key is reached from the list of keys, and no press at any size of the
//! window ends in a panic.

use ligule::ingest::{self, SourceFile};
use ligule::model::{Flora, Key};
use ligule::reader::{Rehearsal, Session};
use ligule::store::Book;

use crate::support::{shared, skip};

/// Columns and rows of a window that shows long titles and lists whole.
const LARGE: (u16, u16) = (200, 60);

/// The sizes between which windows are drawn at random.
const SIZES: [(u16, u16); 2] = [(40, 12), (200, 60)];

/// Random walks through the demo.
const WALKS: u32 = 60;

/// Presses of a walk.
const STEPS: u32 = 40;

/// Keys that a random walk presses: those that lead on often, those to each screen, and some that are only typed.
const PRESSES: &str = "1 2 1 2 1 2 3 j k j tab tab enter enter enter b b f t a d l h x x n y y / , . . - - = = m O o u p A T \
                       K r e e i w s c z ? g G space space esc esc esc 0 0 5 7 é × backspace up down pagedown";

/// Reads a flora of the project or of the reading matter.
fn flora(file: &str) -> Option<Flora> {
    let path = match file.strip_prefix("corpus-demo/") {
        Some(_) => Some(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(file)),
        None => shared(file),
    };
    let Some(path) = path else {
        skip(file, "the reading matter is not beside the project, in ../shared");
        return None;
    };
    let bytes = std::fs::read(&path).expect("the flora's file");
    let files = vec![SourceFile { name: file.to_owned(), bytes }];
    Some(ingest::read(files, &|_, _| ()).expect("a flora that can be read").0)
}

fn open(flora: Flora, size: (u16, u16)) -> Rehearsal {
    let session = Session { book: Some(Book::of("flora", flora)), ..Session::default() };
    Rehearsal::open(session, size).expect("a first screen")
}

fn press(reader: &mut Rehearsal, keys: &str) {
    for key in keys.split(' ') {
        reader.press(key).expect("a reader that goes on");
    }
}

/// Checks that each key of a flora is a row of the list of keys that leads to it, and is listed for its page.
#[track_caller]
fn check_every_key(file: &str) {
    let Some(flora) = flora(file) else { return };
    let keys = flora.keys.clone();
    assert!(keys.len() > 4, "{file} has {} keys", keys.len());
    let mut reader = open(flora, LARGE);
    press(&mut reader, "e g");
    for (at, key) in keys.iter().enumerate() {
        press(&mut reader, "enter");
        let (text, start) = (reader.text(), start_of(key));
        let head = text.lines().next().unwrap_or_default();
        assert!(
            key.couplets.is_empty() || head.contains(&start),
            "{file}: row {at} is not {start:?}\n{text}"
        );
        press(&mut reader, "b j");
    }
    for key in &keys {
        press(&mut reader, "0 e / p space");
        key.page.to_string().chars().for_each(|figure| press(&mut reader, &figure.to_string()));
        press(&mut reader, "enter");
        let (text, start) = (reader.text(), start_of(key));
        assert!(text.contains(&start), "{file}: {start:?} is not listed for page {}\n{text}", key.page);
    }
}

/// Returns how a key's title begins.
fn start_of(key: &Key) -> String {
    let title = key.title.as_deref().or(key.scope.as_deref()).unwrap_or("Key without a title");
    title.chars().take(60).collect()
}

#[test]
fn every_key_is_reached_from_the_list_of_keys() {
    for file in ["corpus-demo/flora.pdf", "reference/sim/alder/flora.pdf", "reference/sim/moss/flora.pdf"] {
        check_every_key(file);
    }
}

#[test]
fn no_press_in_a_window_of_any_size_ends_in_a_panic() {
    let Some(flora) = flora("corpus-demo/flora.pdf") else { return };
    let presses: Vec<&str> = PRESSES.split_whitespace().collect();
    let mut series: u64 = 0x9e37_79b9_7f4a_7c15;
    let mut draw = |below: u32| {
        series = series.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (series >> 33) as u32 % below
    };
    let [least, most] = SIZES;
    let mut reader = open(flora, least);
    for _ in 0..WALKS {
        let width = least.0 + draw(u32::from(most.0 - least.0) + 1) as u16;
        let height = least.1 + draw(u32::from(most.1 - least.1) + 1) as u16;
        reader.resize((width, height)).expect("a reader that goes on");
        for _ in 0..STEPS {
            press(&mut reader, presses[draw(presses.len() as u32) as usize]);
            let text = reader.text();
            assert!(!text.trim().is_empty(), "nothing is shown at {width} x {height}");
        }
    }
}
