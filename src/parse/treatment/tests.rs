//! Treatments drawn in mono-spaced text under tests/fixtures/treatments, each beside what they mean.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use expect_test::expect_file;

use crate::model::Flora;
use crate::parse::{fixture, flora};

/// Writes the taxa of a flora with their sections.
fn outline(flora: &Flora) -> String {
    let mut text = String::new();
    for taxon in &flora.taxa {
        let parent = taxon.parent.map_or("-", |id| flora.taxa[id.index()].name.as_str());
        let _ = writeln!(
            text,
            "{} {} | {} | in {parent}",
            taxon.rank.word(),
            taxon.name,
            taxon.authorship.as_deref().unwrap_or("-")
        );
        if !taxon.synonyms.is_empty() {
            let _ = writeln!(text, "  = {}", taxon.synonyms.join("; "));
        }
        if !taxon.misapplied.is_empty() {
            let _ = writeln!(text, "  misused {}", taxon.misapplied.join("; "));
        }
        if !taxon.vernacular.is_empty() {
            let _ = writeln!(text, "  called {}", taxon.vernacular.join("; "));
        }
        for section in &taxon.sections {
            let heading = section.heading.as_deref().unwrap_or("-");
            let _ = writeln!(text, "  {} ({heading}) {}", section.kind.word(), section.text.plain);
        }
    }
    for matter in &flora.matter {
        let words: Vec<&str> = matter.paragraphs.iter().map(|text| text.plain.as_str()).collect();
        let _ = writeln!(text, "matter {} | {}", matter.title, words.join(" / "));
    }
    text
}

#[test]
fn treatments_are_read_as_drawn() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/treatments");
    let mut drawings: Vec<_> = fs::read_dir(&folder)
        .expect("the fixtures are part of the project")
        .map(|entry| entry.expect("a folder can be listed").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "txt"))
        .collect();
    drawings.sort();
    for drawing in drawings {
        let drawn = fs::read_to_string(&drawing).expect("a fixture is text");
        let (flora, _) = flora(&fixture::setting(&drawn));
        expect_file![drawing.with_extension("expect")].assert_eq(&outline(&flora));
    }
}
