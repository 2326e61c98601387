//! What is recognised on drawn pages: each piece with what it was read as.

use std::fmt::Write;

use crate::model::{BookPage, ReadAs};
use crate::parse::{fixture, flora};

/// Writes what was recognised on a page, one piece a line.
fn outline(page: &BookPage) -> String {
    let mut text = String::new();
    for found in &page.recognised {
        let row = &page.set[found.row as usize].plain;
        let words = &row[found.start as usize..found.end as usize];
        let read_as = match found.read_as {
            ReadAs::Heading(taxon) => format!("heading {taxon}"),
            ReadAs::KeyTitle(key) => format!("key {key}"),
            ReadAs::Lead(key, couplet, lead) => format!("lead {key} {couplet} {lead}"),
            ReadAs::Glossary => "glossary".to_owned(),
            ReadAs::Entry(entry) => format!("entry {entry}"),
            ReadAs::Section(taxon, at) => format!("section {taxon} {at}"),
            ReadAs::MatterTitle(matter) => format!("matter {matter}"),
            ReadAs::Aside => "aside".to_owned(),
        };
        let _ = writeln!(text, "{read_as}: {words}");
    }
    text
}

#[track_caller]
fn check_recognised(drawn: &str, page: usize, expected: &str) {
    let (flora, _) = flora(&fixture::setting(drawn));
    assert_eq!(outline(&flora.pages[page - 1]), expected, "{:#?}", flora.pages[page - 1].set);
}

/// A key, two treatments and a glossary on two pages.
const BOOK: &str = "\
*Key to the species of Skerria*

1. Petals red; leaves ovate, with
   a long stalk..........*Skerria rubra*

1. Petals white, with a nar¬
   row claw..............*Skerria alba*

*Skerria rubra* Tarn

Herb of wet rock. Habitat: sea cliffs. Sea¬
son: May.

*Skerria alba* Tarn

Herb of dry rock. Habitat: walls.\u{c}*GLOSSARY*

*calyx* the outer whorl

*corona* a ring of scales
";

#[test]
fn leads_headings_and_sections_are_marked_where_they_stand() {
    check_recognised(
        BOOK,
        1,
        "\
key k0000: Key to the species of Skerria
lead k0000 c0000 0: 1. Petals red; leaves ovate, with
lead k0000 c0000 0: a long stalk.......Skerria rubra
lead k0000 c0000 1: 1. Petals white, with a nar-
lead k0000 c0000 1: row claw............Skerria alba
heading t0001: Skerria rubra Tarn
section t0001 1: Habitat
section t0001 2: Sea
section t0001 2: son
heading t0002: Skerria alba Tarn
section t0002 1: Habitat
",
    );
}

#[test]
fn headwords_of_the_glossary_are_marked() {
    check_recognised(BOOK, 2, "glossary: GLOSSARY\nentry g0000: calyx\nentry g0001: corona\n");
}

#[test]
fn every_word_of_a_page_stands_in_its_rows() {
    let (flora, _) = flora(&fixture::setting(BOOK));
    for page in &flora.pages {
        let rows: String = page.set.iter().map(|row| row.plain.replace([' ', '.', '-'], "")).collect();
        let words: String = page.paragraphs.iter().map(|text| text.plain.replace([' ', '.'], "")).collect();
        assert_eq!(rows, words);
    }
}
