//! Pages as printed: what the text has side by side, and how much of what was recognised is marked where it stands.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use ligule::ingest::{self, SourceFile};
use ligule::model::{Flora, ReadAs};

use crate::support::{Home, shared, skip};

/// Least shares in the reference books. All were 1 when this was measured; a line more or less makes no difference.
const LEAST: Shares = Shares { leads: 0.995, headings: 0.995, entries: 0.995, sections: 0.995 };

/// The demo flora.
const DEMO: &str = "corpus-demo/flora.pdf";

/// What was recognised in a book, and how much of it is marked on its pages.
#[derive(Debug, PartialEq)]
struct Shares {
    leads: f64,
    headings: f64,
    entries: f64,
    sections: f64,
}

fn read(file: &Path) -> Flora {
    let bytes = fs::read(file).expect("the book can be read");
    let source = SourceFile { name: "book.pdf".to_owned(), bytes };
    ingest::read(vec![source], &|_, _| {}).expect("the book is a PDF").0
}

fn share(marked: usize, all: usize) -> f64 {
    if all == 0 { 1.0 } else { marked as f64 / all as f64 }
}

fn shares(flora: &Flora) -> Shares {
    let found = flora.pages.iter().flat_map(|page| &page.recognised);
    let marks: BTreeSet<ReadAs> = found.map(|mark| mark.read_as).collect();
    let count = |wanted: fn(&ReadAs) -> bool| marks.iter().filter(|mark| wanted(mark)).count();
    let leads = flora.keys.iter().flat_map(|key| &key.couplets).map(|couplet| couplet.leads.len()).sum();
    let headings = flora.taxa.iter().filter(|taxon| !taxon.heading.is_empty()).count();
    let sections = flora
        .taxa
        .iter()
        .flat_map(|taxon| &taxon.sections)
        .filter(|section| section.heading.is_some())
        .count();
    Shares {
        leads: share(count(|mark| matches!(mark, ReadAs::Lead(..))), leads),
        headings: share(count(|mark| matches!(mark, ReadAs::Heading(_))), headings),
        entries: share(count(|mark| matches!(mark, ReadAs::Entry(_))), flora.glossary.len()),
        sections: share(count(|mark| matches!(mark, ReadAs::Section(..))), sections),
    }
}

/// Checks that at least these shares of leads, headings of taxa, entries and headings of sections are marked.
#[track_caller]
fn check_marked(book: &str, file: &Path, least: &Shares) {
    let found = shares(&read(file));
    let enough = found.leads >= least.leads
        && found.headings >= least.headings
        && found.entries >= least.entries
        && found.sections >= least.sections;
    assert!(enough, "{book}: {found:?} is less than {least:?}");
}

#[track_caller]
fn check_reference(book: &str, least: &Shares) {
    match shared(book) {
        Some(file) => check_marked(book, &file, least),
        None => skip(book, "the reading matter is not beside the project, in ../shared"),
    }
}

#[test]
fn everything_recognised_in_the_demo_is_marked_on_its_pages() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(DEMO);
    check_marked(DEMO, &file, &Shares { leads: 1.0, headings: 1.0, entries: 1.0, sections: 1.0 });
}

#[test]
fn what_is_recognised_in_books_is_marked_on_their_pages() {
    for flora in ["larch", "juniper", "moss", "alder", "fern", "heath", "sedge", "willow"] {
        check_reference(&format!("reference/sim/{flora}/flora.pdf"), &LEAST);
    }
    for setting in ["chromium", "latex2col"] {
        let file = format!("reference/michigan-trees-1913/michigan-trees-1913-{setting}.pdf");
        check_reference(&file, &LEAST);
    }
}

#[test]
fn the_text_of_a_page_has_its_columns_side_by_side() {
    let home = Home::new();
    let file = format!("{}/{DEMO}", env!("CARGO_MANIFEST_DIR"));
    let set = home.run(&["text", &file, "--page", "7", "--layout"]).out;
    let mut rows = set.lines();
    assert_eq!(
        rows.next().map(|row| row.split_whitespace().collect()),
        Some(vec!["RANUNCULACEAE", "Ranunculus", "1"])
    );
    let row = |words: &str| set.lines().find(|row| row.starts_with(words)).unwrap_or_default();
    let first = row("Key to the families");
    let right = first.find("3b. Leaves alternate").expect("the right column beside the left one");
    let column = |row: &str| row.chars().skip(right).collect::<String>();
    assert_eq!(column(row("1b. Perianth present")), "Perennial herbs with acrid, watery sap. Leaves alter-");
    assert_eq!(column(row("Group C. Ovary")), "2a. Petals white, becoming pink; basal leaves reni-");
}
