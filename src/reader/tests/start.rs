//! Where the reader begins: at a place asked for, or on an empty shelf.

use super::flora;
use crate::reader::{Session, picture};
use crate::store::Book;

/// Checks where `--at` leads: words of the screen that opens, or of the refusal.
#[track_caller]
fn check_at(at: &str, words: &str) {
    let book = Book::of("morvane", flora::flora());
    let session = Session { book: Some(book), at: Some(at.to_owned()), ..Session::default() };
    let said = picture(session, (80, 24), "").unwrap_or_else(|error| error.to_string());
    assert!(said.contains(words), "{words:?} is not in\n{said}");
}

#[test]
fn one_can_begin_at_a_taxon_key_term_page_or_folio() {
    check_at("Skerria minor", "3. Skerria minor Tarn");
    check_at("morvane herb 2", "2. Skerria alba Tarn");
    check_at("key:Skerria", "Key to the species (Skerria)");
    check_at("term:stigmata", "the tip of the pistil");
    check_at("page:4", "folio 14, PDF page 4 of 8");
    check_at("folio:12", "folio 12, PDF page 2 of 8");
}

#[test]
fn a_place_that_is_not_there_is_refused_with_what_is_near() {
    check_at("Skeria minor", "there is no \"Skeria minor\" in this flora; near it: Skerria, Skerria alba");
    check_at("page:9", "near it: pages 1 to 8");
    check_at("folio:99", "there is no \"folio:99\"");
}

#[test]
fn without_a_flora_the_shelf_says_how_to_get_one() {
    let said = picture(Session::default(), (80, 24), "i").expect("a picture");
    assert!(
        said.contains("There is no flora on the shelf yet")
            && said.contains("`ligule demo`")
            && said.contains("No flora is open"),
        "{said}"
    );
}
