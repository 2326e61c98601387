//! Keys drawn in mono-spaced text under tests/fixtures/keys, each beside what they mean.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use expect_test::expect_file;

use super::{fixture, flora};
use crate::model::{Flora, Target};

/// Writes the keys of a flora, one lead a line.
fn outline(flora: &Flora) -> String {
    let mut text = String::new();
    for key in &flora.keys {
        let _ = writeln!(
            text,
            "key {} of {}",
            key.title.as_deref().unwrap_or("-"),
            key.scope.as_deref().unwrap_or("-")
        );
        for (at, couplet) in key.couplets.iter().enumerate() {
            for lead in &couplet.leads {
                let label = lead.label.as_deref().unwrap_or("-");
                let targets: Vec<String> = std::iter::once(&lead.to).chain(&lead.also).map(target).collect();
                let _ = writeln!(
                    text,
                    "  {at} {label} | {} | {} | reaches {}",
                    lead.text.plain,
                    targets.join(" + "),
                    lead.reaches
                );
            }
        }
    }
    if flora.keys.is_empty() {
        text.push_str("no key\n");
    }
    for alternatives in &flora.alternatives {
        let keys: Vec<String> = alternatives
            .keys
            .iter()
            .map(|(key, needs)| format!("key {} ({})", key.0, needs.map_or("-", crate::model::Needs::word)))
            .collect();
        let _ = writeln!(text, "alternatives: {}", keys.join(", "));
    }
    for doubt in &flora.doubts {
        let _ = writeln!(text, "doubt {}: {}", doubt.kind.word(), doubt.text);
    }
    text
}

fn target(target: &Target) -> String {
    match target {
        Target::Couplet(couplet) => format!("couplet {}", couplet.0),
        Target::Taxon { name, id } => format!("{name}{}", if id.is_some() { "" } else { " (no treatment)" }),
        Target::Key(key) => format!("key {}", key.0),
        Target::Unresolved(words) => format!("? {words}"),
    }
}

fn drawings(folder: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(folder).expect("the fixtures are part of the project") {
        let path = entry.expect("a folder can be listed").path();
        if path.is_dir() {
            found.extend(drawings(&path));
        } else if path.extension().is_some_and(|extension| extension == "txt") {
            found.push(path);
        }
    }
    found.sort();
    found
}

#[test]
fn keys_are_read_as_drawn() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/keys");
    for drawing in drawings(&folder) {
        let drawn = fs::read_to_string(&drawing).expect("a fixture is text");
        let (flora, _) = flora(&fixture::setting(&drawn));
        let expected = drawing.with_extension("expect");
        assert!(
            expected.exists() || std::env::var_os("UPDATE_EXPECT").is_some(),
            "{} has no .expect beside it",
            drawing.display()
        );
        let mut found = outline(&flora);
        if drawing.parent().is_some_and(|folder| folder.ends_with("errors")) {
            for doubt in &flora.doubts {
                let _ = writeln!(found, "page {}: {}", doubt.page, doubt.advice);
            }
        }
        expect_file![expected].assert_eq(&found);
    }
}

#[test]
fn a_book_of_plain_prose_gives_no_key_and_no_treatment_and_is_read_page_by_page() {
    let drawn = "*A walk through the isles*\n\n\
        1. We set out at dawn. The path to Skerry Head climbs\n\
        between walls of black stone, and rowans lean over it.\n\n\
        2. By noon the fog had lifted, and the sea lay blue below.\n\n\
        a. The boatman said that no tree grows on the outer isles.\n\n\
        b. We saw two, both of them bent by the wind.\n\
        \u{c}\
        Campion and thrift grew on the ledges, 10–20 cm tall, and\n\
        a seal watched us from the kelp. See page 12.\n\n\
        Poa is the name of a grass, said the schoolmaster.";
    let (flora, _) = flora(&fixture::setting(drawn));
    assert_eq!((flora.keys.len(), flora.taxa.len(), flora.glossary.len()), (0, 0, 0));
    assert_eq!(flora.pages.len(), 2);
    let words: Vec<&str> =
        flora.matter.iter().flat_map(|piece| &piece.paragraphs).map(|text| text.plain.as_str()).collect();
    assert!(words.iter().any(|text| text.contains("rowans lean over it")), "{words:?}");
    assert!(words.iter().any(|text| text.starts_with("Poa is the name")), "{words:?}");
    let told: Vec<&str> = flora.doubts.iter().map(|doubt| doubt.advice.as_str()).collect();
    assert!(told.iter().any(|advice| advice.contains("no key and no treatment")), "{told:?}");
}
