//! Habits of the house that can be measured: how a file begins, and how long it may get.

use crate::rooms::sources;

/// Lines of a file's doc at most.
const DOC: usize = 5;

/// Lines of a file at most; a longer one holds two things.
const FILE: usize = 500;

/// Says what is odd about a file's doc and length.
fn oddities(file: &str, source: &str) -> Vec<String> {
    let doc = source.lines().take_while(|line| line.starts_with("//!")).count();
    let lines = source.lines().count();
    let doc =
        (doc == 0 || doc > DOC).then(|| format!("src/{file} begins with {doc} lines of doc, not 1 to {DOC}"));
    let long = (lines > FILE).then(|| format!("src/{file} has {lines} lines, {FILE} are enough"));
    doc.into_iter().chain(long).collect()
}

/// Checks what is said of a file.
#[track_caller]
fn check_oddities(source: &str, expected: &[&str]) {
    assert_eq!(oddities("a.rs", source), expected);
}

#[test]
fn files_begin_with_their_doc_and_hold_one_thing() {
    let found: Vec<String> = sources().iter().flat_map(|(file, source)| oddities(file, source)).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_file_without_doc_or_without_end_is_odd() {
    check_oddities("//! Says it.\n\nfn a() {}\n", &[]);
    check_oddities("fn a() {}\n", &["src/a.rs begins with 0 lines of doc, not 1 to 5"]);
    check_oddities(&"//! Says it.\n".repeat(6), &["src/a.rs begins with 6 lines of doc, not 1 to 5"]);
    check_oddities(
        &format!("//! Says it.\n{}", "\n".repeat(500)),
        &["src/a.rs has 501 lines, 500 are enough"],
    );
}
