//! The map of the rooms as tables, and the test that the code keeps to it: who imports whom, who touches the
//! world outside, and which crate stays behind which door. A room without a row fails.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::source::{Named, paths};

/// A room: its name, and the rooms that it may import.
pub(crate) type Room = (&'static str, &'static [&'static str]);

/// Every room. What may import every room lists [`ALL`].
pub(crate) const ROOMS: &[Room] = &[
    ("model", &[]),
    ("name", &["model"]),
    ("terms", &["model"]),
    ("pdf", &[]),
    ("layout", &["pdf"]),
    ("parse", &["layout", "name", "model"]),
    ("amend", &["parse", "name", "model"]),
    ("ingest", &["pdf", "layout", "parse", "amend", "describe", "terms", "name", "model"]),
    ("clause", &["model"]),
    ("link", &["clause", "terms", "name", "model"]),
    ("describe", &["clause", "link", "terms", "name", "model"]),
    ("keying", &["clause", "describe", "terms", "model"]),
    ("drill", &["terms", "model"]),
    ("sketch", &["model"]),
    ("dump", &["model"]),
    ("store", &["model", "dump"]),
    ("search", &["describe", "link", "terms", "name", "model"]),
    (
        "reader",
        &[
            "amend", "model", "name", "terms", "clause", "link", "describe", "keying", "drill", "dump",
            "sketch", "store", "search",
        ],
    ),
    ("cli", ALL),
    ("main", ALL),
];

/// Stands for every room.
const ALL: &[&str] = &["*"];

/// Where files, environment, clock, standard streams and processes may be used: rooms and single files, and the tests of all.
const OUTSIDE: &[&str] = &["store/", "search/", "reader/mod.rs", "reader/run.rs", "cli/", "main.rs"];

/// Crates that one room keeps to itself.
const FENCES: &[(&str, &str)] = &[
    ("lopdf", "pdf"),
    ("hayro_syntax", "pdf"),
    ("flate2", "pdf"),
    ("ttf_parser", "pdf"),
    ("tantivy", "search"),
    ("ratatui", "reader"),
    ("crossterm", "reader"),
    ("signal_hook", "reader"),
    ("clap", "cli"),
    ("indicatif", "cli"),
];

/// Beginnings of paths that reach the world outside, or hide whether they do.
const OUTSIDE_PATHS: &[&str] = &[
    "std::fs",
    "std::env",
    "std::net",
    "std::process",
    "std::os",
    "std::path::absolute",
    "std::io::stdin",
    "std::io::stdout",
    "std::io::stderr",
    "std::*",
    "std::io::*",
    "std::time::*",
    "fs",
    "env",
    "io::stdin",
    "io::stdout",
    "io::stderr",
    "lopdf::Document::load",
    "Document::load",
];

/// Names that reach it wherever they stand in a path.
const OUTSIDE_NAMES: &[&str] = &[
    "SystemTime",
    "Instant",
    "print!",
    "println!",
    "eprint!",
    "eprintln!",
    "dbg!",
    ".exists",
    ".try_exists",
    ".is_file",
    ".is_dir",
    ".is_symlink",
    ".canonicalize",
    ".metadata",
    ".symlink_metadata",
    ".read_dir",
    ".read_link",
    ".is_terminal",
];

/// Returns what in a file, named from `src`, is against the tables, each with its line.
fn faults(file: &str, source: &str) -> Vec<String> {
    let room = room_of(file);
    let depth = depth(file);
    let mut faults = Vec::new();
    for named in paths(source) {
        let fault = import_fault(room, depth, &named).or_else(|| outside_fault(file, &named));
        let fault = fault.or_else(|| fence_fault(room, &named));
        faults.extend(fault.map(|fault| format!("src/{file}:{}: {fault}", named.line)));
    }
    faults
}

/// Returns the room that a file belongs to.
fn room_of(file: &str) -> &str {
    file.split(['/', '.']).next().unwrap_or_default()
}

/// Returns how many modules deep a file's module lies below the crate.
fn depth(file: &str) -> usize {
    match file {
        "lib.rs" | "main.rs" => 0,
        _ => file.trim_end_matches("/mod.rs").split('/').count(),
    }
}

/// Says what is wrong with a path that leads into another room.
fn import_fault(room: &str, depth: usize, named: &Named) -> Option<String> {
    let words: Vec<&str> = named.words.iter().map(String::as_str).collect();
    let up = words.iter().take_while(|word| **word == "super").count();
    let other = match words.as_slice() {
        ["crate" | "ligule", other, ..] => other,
        _ if up > 0 && up == depth + named.within => words.get(up).copied().unwrap_or("*"),
        _ => return None,
    };
    let row = ROOMS.iter().find(|(name, _)| *name == room);
    let Some((_, may)) = row else { return Some(format!("`{room}` has no row in the table of rooms")) };
    let fine = other == room || may.contains(&other) || *may == ALL;
    (!fine).then(|| format!("`{room}` may not import `{other}` (it names `{}`)", words.join("::")))
}

/// Says what is wrong with a path that reaches the world outside.
fn outside_fault(file: &str, named: &Named) -> Option<String> {
    let path = named.words.join("::");
    let begins = |beginning: &&str| path == **beginning || path.starts_with(&format!("{beginning}::"));
    let reaches = named.words == ["std"]
        || OUTSIDE_PATHS.iter().any(begins)
        || named.words.iter().any(|word| OUTSIDE_NAMES.contains(&word.as_str()));
    let tests = named.in_tests || file.ends_with("/tests.rs") || file.contains("/tests/");
    let may = tests
        || OUTSIDE
            .iter()
            .any(|place| if place.ends_with('/') { file.starts_with(place) } else { file == *place });
    (reaches && !may).then(|| format!("`{path}` reaches outside, which only {} may", OUTSIDE.join(", ")))
}

/// Says what is wrong with the use of a crate that another room keeps to itself.
fn fence_fault(room: &str, named: &Named) -> Option<String> {
    let first = named.words.first()?;
    let (_, owner) = FENCES.iter().find(|(name, _)| name == first)?;
    // A local of the same name as a crate is no path.
    (*owner != room && named.words.len() > 1).then(|| format!("`{first}` belongs to `{owner}` alone"))
}

/// Returns every Rust file below `src`, named from there, with its text.
pub(crate) fn sources() -> Vec<(String, String)> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let (mut open, mut found) = (vec![src.clone()], Vec::new());
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("src can be read") {
            let path: PathBuf = entry.expect("src can be read").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let file =
                    path.strip_prefix(&src).expect("it lies in src").to_str().expect("names are ASCII");
                found.push((file.to_owned(), fs::read_to_string(&path).expect("it can be read")));
            }
        }
    }
    found.sort();
    found
}

/// Checks that a snippet in a file is refused with a sentence that holds `part`.
#[track_caller]
fn check_refused(file: &str, snippet: &str, part: &str) {
    let found = faults(file, snippet);
    assert!(found.iter().any(|fault| fault.contains(part)), "{file}: {snippet}: {found:?}");
}

/// Checks that nothing is said against a snippet in a file.
#[track_caller]
fn check_fine(file: &str, snippet: &str) {
    assert_eq!(faults(file, snippet), [""; 0], "{file}: {snippet}");
}

#[test]
fn the_code_keeps_to_the_map() {
    let found: Vec<String> = sources().iter().flat_map(|(file, source)| faults(file, source)).collect();
    assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
}

#[test]
fn every_room_has_a_row_and_every_row_a_room() {
    let files: BTreeSet<String> =
        sources().into_iter().map(|(file, _)| file).filter(|file| file != "lib.rs").collect();
    let rooms: BTreeSet<&str> = files.iter().map(|file| room_of(file)).collect();
    assert_eq!(rooms, ROOMS.iter().map(|(name, _)| *name).collect());
    for place in OUTSIDE {
        assert!(files.iter().any(|file| file.starts_with(place)), "{place} is not there");
    }
}

#[test]
fn a_fenced_crate_is_used_behind_its_fence() {
    let used: BTreeSet<(String, String)> = sources()
        .iter()
        .flat_map(|(file, source)| {
            paths(source).into_iter().map(|named| (named.words[0].clone(), room_of(file).to_owned()))
        })
        .collect();
    for (name, owner) in FENCES {
        assert!(used.contains(&((*name).to_owned(), (*owner).to_owned())), "`{owner}` does not use `{name}`");
    }
}

#[test]
fn a_room_that_data_flows_to_may_not_be_imported() {
    check_refused("model/text.rs", "use crate::name::fold;", "`model` may not import `name`");
    check_refused(
        "layout/mod.rs",
        "use crate::{pdf::Page, parse::Profile};",
        "`layout` may not import `parse`",
    );
    check_refused("reader/run.rs", "fn f() { crate::ingest::read(); }", "`reader` may not import `ingest`");
    check_refused("link/term.rs", "use super::super::store::Book;", "`link` may not import `store`");
    check_refused(
        "link/mod.rs",
        "mod tests { use super::super::store::Book; }",
        "`link` may not import `store`",
    );
    check_refused("pdf/mod.rs", "use crate::*;", "`pdf` may not import `*`");
    check_refused("store/mod.rs", "use ligule::reader::run;", "`store` may not import `reader`");
}

#[test]
fn imports_from_the_own_room_and_from_rows_of_the_table_are_fine() {
    check_fine(
        "layout/lines.rs",
        "use crate::layout::Line;\nuse crate::pdf::Page;\nuse super::super::pdf::Glyph;",
    );
    check_fine("parse/key/read.rs", "use super::super::look;\nmod tests { use super::super::label; }");
    check_fine("cli/verb/show.rs", "use crate::ingest;");
    check_fine("model/text.rs", "//! Not like crate::pdf.\nconst NAME: &str = \"crate::pdf\";");
}

#[test]
fn a_new_room_needs_a_row() {
    check_refused("herbarium/mod.rs", "use crate::model::Taxon;", "`herbarium` has no row");
}

#[test]
fn files_clock_environment_and_streams_stay_in_their_places() {
    check_refused("parse/mod.rs", "use std::{fmt, fs::File};", "`std::fs::File` reaches outside");
    check_refused("terms/mod.rs", "fn f() { std::env::var(\"HOME\"); }", "`std::env::var` reaches outside");
    check_refused(
        "reader/state.rs",
        "use std::time::{Duration, Instant};",
        "`std::time::Instant` reaches outside",
    );
    check_refused("dump.rs", "fn f() { println!(\"{}\", 1); }", "`println!` reaches outside");
    check_refused(
        "dump.rs",
        "use std::io;\nfn f() { io::stdout(); }",
        "dump.rs:2: `io::stdout` reaches outside",
    );
    check_refused("ingest.rs", "fn f(path: &Path) { path.exists(); }", "`.exists` reaches outside");
    check_refused("model/mod.rs", "use std as s;", "`std` reaches outside");
    check_refused("pdf/document.rs", "fn f() { lopdf::Document::load(\"a\"); }", "reaches outside");
    check_fine("reader/run.rs", "use std::io::stdout;");
    check_fine("terms/mod.rs", "#[cfg(test)]\nmod tests { use std::fs; }");
    check_fine("store/row.rs", "use std::fs;");
    check_fine("dump.rs", "use std::io::{self, Write};\n/// See std::fs.\nfn f() {}");
}

#[test]
fn a_fenced_crate_may_not_be_used_elsewhere() {
    check_refused("layout/lines.rs", "use lopdf::Object;", "`lopdf` belongs to `pdf` alone");
    check_refused("store/mod.rs", "#[derive(clap::Args)]\nstruct A;", "`clap` belongs to `cli` alone");
    check_refused("cli/mod.rs", "fn f(b: ratatui::buffer::Buffer) {}", "`ratatui` belongs to `reader` alone");
    check_fine("pdf/objects.rs", "use lopdf::Object;");
}
