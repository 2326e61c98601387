//! Searching: what a search can be narrowed to, and searches of all floras.

use super::*;
use crate::reader::place::Item;
use crate::store::{KeepSource, Shelf, SourceBytes};

/// Types words into the search and ends the typing.
fn type_in(reader: &mut Reader, words: &str) {
    for letter in words.chars() {
        reader.press(Press::Char(letter));
    }
    reader.walk("enter");
}

#[test]
fn a_search_is_narrowed_by_a_row_and_back_restores_it() {
    let mut reader = Reader::open((80, 24));
    reader.walk("s");
    type_in(&mut reader, "leaves ovate");
    let whole = reader.text();
    let groups = reader.walk("n").text();
    assert!(groups.contains("Narrow the search") && groups.contains("Genera"), "{groups}");
    let narrowed = reader.walk("enter").text();
    assert!(narrowed.contains("Narrowed: only"), "{narrowed}");
    assert!(matches!(&reader.state.way.here.item, Item::Find(words) if words.contains("; only ")));
    assert_eq!(reader.walk("b").text(), groups);
    assert_eq!(reader.walk("b").text(), whole);
}

#[test]
fn what_a_search_is_narrowed_to_and_is_not_known_is_said() {
    let mut reader = Reader::open((80, 24));
    reader.walk("s");
    type_in(&mut reader, "leaves ovate; only zeppelins");
    let text = reader.text();
    assert!(text.contains("“only zeppelins”: nothing known is named"), "{text}");
}

/// Puts the test flora onto a shelf under two names and opens the first.
fn two_floras(folder: &std::path::Path) -> Reader {
    let shelf = Shelf::at(folder).on("2026-05-17");
    let flora = flora::flora();
    for name in ["morvane", "skerries"] {
        let mut own = flora.clone();
        own.title = format!("Flora of the {name}");
        if name == "skerries" {
            own.glossary.push(flora::entry(90, "tilty", "see ovate"));
        }
        let source = SourceBytes { path: std::path::Path::new("flora.pdf"), bytes: b"made in code" };
        let pending = shelf.begin(name).expect("nobody else writes here");
        pending.write(&own, &[source], KeepSource::Copy).expect("the disk takes it");
        crate::search::build(&pending.index_dir(), &own).expect("the disk takes it");
        pending.finish().expect("the disk takes it");
    }
    let library = opened(&shelf, "morvane");
    let mut state = State::new(Some(library), shelf.rows().expect("two floras"), Stands::default());
    "sun".clone_into(&mut state.theme);
    update(&mut state, Event::Resize(120, 40));
    Reader { state, kept: String::new() }
}

fn opened(shelf: &Shelf, name: &str) -> Library {
    let index = Index::open(&shelf.index_dir(name)).expect("it was built");
    Library::new(shelf.open(name).expect("it is there"), Some(index)).beside(Some(shelf))
}

#[test]
fn all_floras_are_searched_and_a_row_opens_the_other_one() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let mut reader = two_floras(folder.path());
    reader.walk("s");
    type_in(&mut reader, "leaves ovate");
    let text = reader.walk(",").text();
    assert!(text.contains("Flora of the morvane · ") && text.contains("Flora of the skerries · "), "{text}");
    let rows = &reader.state.sheet.stops;
    let there = rows.iter().position(|stop| {
        matches!(&stop.go, crate::reader::sheet::Go::Beyond(name, Item::Treatment(_)) if name == "skerries")
    });
    reader.state.way.here.cursor.stop = there;
    let effects = update(&mut reader.state, Event::Press(Press::Enter));
    assert!(effects.contains(&Effect::Open("skerries".to_owned())), "{effects:?}");
    let shelf = Shelf::at(folder.path());
    update(&mut reader.state, Event::Opened(Box::new(opened(&shelf, "skerries"))));
    assert!(matches!(reader.state.way.here.item, Item::Treatment(_)));
    assert_eq!(reader.state.library.as_ref().map(|library| library.book.name()), Some("skerries"));
}

#[test]
fn each_flora_is_searched_by_its_own_words() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let reader = two_floras(folder.path());
    let library = reader.state.library.as_ref().expect("the first flora");
    let asked = |flora: &str| {
        let answer = library.ask_in(flora, "leaves tilty", &crate::search::Narrow::default(), 9);
        answer.expect("an index").parts.iter().any(|part| crate::search::echo(part).contains("ovate"))
    };
    assert!(asked("skerries"), "its own glossary has the word");
    assert!(!asked("morvane"), "this one has not");
}
