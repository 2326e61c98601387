//! Every drawing against the glossary, its snapshots, and the shapes that are published with numbers.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use expect_test::expect_file;

use crate::sketch::grid::FRAME;
use crate::sketch::pen::Mark;
use crate::sketch::{Dots, names, of, pair};

/// Columns and rows of the snapshots: the smallest window that drawings are made for.
const SMALLEST: (u16, u16) = (16, 8);

/// Returns the headwords of all files of `glossary/`.
fn headwords() -> BTreeSet<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("glossary");
    let files: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the glossary is there")
        .map(|entry| entry.expect("it can be read").path())
        .collect();
    let text: String = files.iter().map(|file| fs::read_to_string(file).expect("it can be read")).collect();
    text.lines()
        .filter_map(|line| line.strip_prefix("name = \"")?.strip_suffix('"'))
        .map(str::to_owned)
        .collect()
}

/// Returns all drawings in one text.
fn sheet(dots: Dots) -> String {
    let mut text = String::new();
    for name in names() {
        let rows = of(name).expect("its name is in the list").cells(SMALLEST, dots);
        let rows: Vec<&str> = rows.iter().map(|row| row.trim_end_matches([' ', '\u{2800}'])).collect();
        write!(text, "{name}\n{}\n\n", rows.join("\n")).expect("a text takes all");
    }
    text
}

/// Checks that rows and their breadth are those of the window.
#[track_caller]
fn check_size(name: &str, size: (u16, u16), dots: Dots) {
    let rows = of(name).expect("it is drawn").cells(size, dots);
    assert_eq!(rows.len(), usize::from(size.1));
    assert!(rows.iter().all(|row| row.chars().count() == usize::from(size.0)), "{rows:?}");
}

#[test]
fn every_drawing_is_of_a_headword_and_no_headword_is_drawn_twice() {
    let headwords = headwords();
    let strangers: Vec<&str> = names().filter(|name| !headwords.contains(*name)).collect();
    assert!(strangers.is_empty(), "no headwords: {strangers:?}");
    let names: Vec<&str> = names().collect();
    let once: BTreeSet<&&str> = names.iter().collect();
    let twice: Vec<&&str> =
        once.iter().copied().filter(|name| names.iter().filter(|other| other == name).count() > 1).collect();
    assert!(twice.is_empty(), "{twice:?}");
}

#[test]
fn drawings_stay_within_the_frame() {
    let outside = |name: &&str| {
        let sketch = of(name).expect("its name is in the list");
        let mut points = sketch.marks.iter().flat_map(|mark| match mark {
            Mark::Stroke(points, _) | Mark::Area(points, _) => points,
        });
        points.any(|point| point.iter().any(|along| along.abs() > FRAME / 2.0))
    };
    let outside: Vec<&str> = names().filter(outside).collect();
    assert!(outside.is_empty(), "{outside:?}");
}

#[test]
fn three_hundred_terms_are_drawn_at_least() {
    assert!(names().count() >= 300);
}

#[test]
fn an_svg_is_a_document_with_its_title() {
    let svg = of("ovate").expect("it is drawn").svg();
    assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n") && svg.contains("<title>ovate</title>"));
    assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
}

#[test]
fn what_is_no_headword_has_no_drawing() {
    assert_eq!(of("Ovate"), None);
    assert_eq!(of(""), None);
    assert_eq!(pair("ovate", "nothing"), None);
}

#[test]
fn rows_are_exactly_as_wide_as_the_window() {
    for dots in [Dots::Braille, Dots::Blocks, Dots::Ascii] {
        check_size("ovate", SMALLEST, dots);
        check_size("ovate", (33, 7), dots);
        check_size("ovate", (1, 1), dots);
        check_size("ovate", (0, 0), dots);
    }
}

#[test]
fn drawings_in_braille_are_as_looked_at() {
    expect_file!["../../tests/fixtures/sketches/braille.txt"].assert_eq(&sheet(Dots::Braille));
}

#[test]
fn drawings_in_blocks_are_as_looked_at() {
    expect_file!["../../tests/fixtures/sketches/blocks.txt"].assert_eq(&sheet(Dots::Blocks));
}

#[test]
fn drawings_in_ascii_are_as_looked_at() {
    let sheet = sheet(Dots::Ascii);
    assert!(sheet.is_ascii());
    expect_file!["../../tests/fixtures/sketches/ascii.txt"].assert_eq(&sheet);
}

#[test]
fn no_two_terms_have_the_same_drawing() {
    let drawn: Vec<(&str, Vec<String>)> = names()
        .map(|name| (name, of(name).expect("its name is in the list").cells((32, 16), Dots::Braille)))
        .collect();
    for (at, (name, rows)) in drawn.iter().enumerate() {
        let same: Vec<&str> =
            drawn[..at].iter().filter(|(_, other)| other == rows).map(|(other, _)| *other).collect();
        assert!(same.is_empty(), "{name} looks like {same:?}");
    }
}

#[test]
fn in_a_pair_what_both_have_steps_back() {
    let [left, right] = pair("ovate", "obovate").expect("both are drawn");
    assert_eq!((left.name(), right.name()), ("ovate", "obovate"));
    assert_ne!(Some(&left), of("ovate").as_ref());
    let [left, right] = pair("ovate", "ovate").expect("both are drawn");
    assert_eq!([Some(left), Some(right)], [of("ovate"), of("ovate")]);
}
