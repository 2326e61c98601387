//! Files of every sort of damage: each is read, or refused with one sentence, and nothing else happens.

use std::fs;
use std::path::Path;

use crate::support::{Home, pdf, shared, skip};

/// Checks that a file is read, or refused as a book that can't be read with one sentence that names it.
#[track_caller]
fn check_read_or_refused(file: &Path) {
    let home = Home::new();
    let name = file.file_name().and_then(|name| name.to_str()).expect("names are ASCII");
    let done = home.run(&["ingest", file.to_str().expect("names are ASCII"), "--as", "book", "--no-copy"]);
    assert!(!done.err.contains("panicked"), "{name}: {}", done.err);
    let sentences: Vec<&str> = done.err.lines().filter(|line| line.starts_with("ligule: ")).collect();
    match done.code {
        0 => assert_eq!(home.run(&["dump", "book"]).code, 0, "{name} is on the shelf"),
        4 => assert!(sentences.len() == 1 && sentences[0].contains(name), "{name}: {}", done.err),
        code => panic!("{name} ends with {code}: {}", done.err),
    }
}

/// Checks that a page is refused as one that needs OCR first.
#[track_caller]
fn check_is_a_scan(content: &str) {
    let home = Home::new();
    home.file("scan.pdf", &pdf::pdf(&[content.to_owned()]));
    let done = home.run(&["ingest", "scan.pdf"]);
    assert_eq!(done.code, 4, "{}", done.err);
    assert!(done.err.contains("scan.pdf") && done.err.contains("OCR"), "{}", done.err);
    assert_eq!(home.run(&["shelf"]).out, "");
}

#[test]
fn every_file_of_the_wild_is_read_or_refused() {
    let Some(folder) = shared("reference/hostile") else {
        return skip("every_file_of_the_wild_is_read_or_refused", "../shared/reference/hostile is not there");
    };
    let entries = fs::read_dir(folder).expect("the folder can be read");
    let files: Vec<_> = entries.map(|entry| entry.expect("the folder can be read").path()).collect();
    let pdfs: Vec<_> = files.iter().filter(|path| path.extension().is_some_and(|end| end == "pdf")).collect();
    assert!(!pdfs.is_empty());
    for file in pdfs {
        check_read_or_refused(file);
    }
}

#[test]
fn a_picture_of_a_page_is_a_scan() {
    check_is_a_scan("q 300 0 0 400 50 50 cm BI /W 2 /H 2 /CS /G /BPC 8 ID abcd EI Q");
    check_is_a_scan("0.5 g 50 50 300 500 re f");
    check_is_a_scan("BT /F1 10 Tf ( ) Tj ET");
}

#[test]
fn a_file_cut_off_anywhere_is_read_or_refused() {
    let home = Home::new();
    let whole = pdf::pdf(&[pdf::text_page(&["Boats land at low water."])]);
    for part in 1..8 {
        check_read_or_refused(&home.file(&format!("cut-{part}.pdf"), &whole[..whole.len() * part / 8]));
    }
}

#[test]
fn a_page_that_is_lost_is_named_by_every_verb_that_reads_the_book() {
    let home = Home::new();
    let pages = ["Boats land at low water.", "The tide turns.", "The skerries are bare."];
    let mut whole = pdf::pdf(&pages.map(|line| pdf::text_page(&[line])));
    // The second page's content is object 7.
    let at = whole.windows(8).position(|word| word == b"\n7 0 obj").expect("it was written");
    whole[at + 1] = b'x';
    home.file("torn.pdf", &whole);
    let text = home.run(&["text", "torn.pdf"]);
    assert_eq!((text.code, text.out.lines().count()), (0, 2), "{}{}", text.out, text.err);
    assert!(
        text.err.contains("page 2: could not be read in full: the page's content is damaged"),
        "{}",
        text.err
    );
    let ingested = home.run(&["ingest", "torn.pdf", "--as", "torn"]);
    assert!(ingested.code == 0 && ingested.err.contains("page 2: "), "{}{}", ingested.out, ingested.err);
    let checked = home.run(&["check", "torn"]).out;
    assert!(checked.contains("Could not be read (1)") && checked.contains("page:2"), "{checked}");
}
