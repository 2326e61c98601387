//! Presses on whole floras without a terminal: every key is reached from the list of keys.

use ligule::ingest::{self, SourceFile};
use ligule::model::{Flora, Key};
use ligule::reader::{Rehearsal, Session};
use ligule::store::Book;

use crate::support::{shared, skip};

/// Columns and rows of a window that shows long titles and lists whole.
const LARGE: (u16, u16) = (200, 60);

/// Reads a flora of the project or of the reading matter.
pub(crate) fn flora(file: &str) -> Option<Flora> {
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

pub(crate) fn open(flora: Flora, size: (u16, u16)) -> Rehearsal {
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
        press(&mut reader, "esc 0 e / p space");
        key.page.to_string().chars().for_each(|figure| press(&mut reader, &figure.to_string()));
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
