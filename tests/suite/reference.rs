//! How well whole books are read: reference books and the demo in, the scorer's figures out, none below its floor.
//!
//! `reference.tsv` holds a floor for every book and figure. `UPDATE_EXPECT=1` raises floors to what is reached now,
//! less [`SLACK`], and adds missing ones; a floor is lowered by hand only.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, PoisonError};

use ligule::reader::{Session, picture};
use ligule::store::Shelf;
use serde_json::Value;

use crate::support::{Home, pdf, shared, skip};

/// The table of floors.
const TABLE: &str = "tests/suite/reference.tsv";

/// How far a floor lies below what was reached, so that a single lead does not make the difference.
const SLACK: f64 = 0.003;

/// Floors that were agreed on for a real book in any layout.
const OF_BOOKS: &[(&str, f64)] =
    &[("taxa", 0.90), ("leads", 0.92), ("targets", 0.85), ("glossary terms", 0.90)];

/// Floors that were agreed on for the invented floras.
const OF_FLORAS: &[(&str, f64)] = &[("leads", 0.95), ("targets", 0.92)];

/// A row of the table: book, figure, floor.
type Row = (String, String, f64);

/// One test at a time changes the table.
static CHANGES: Mutex<()> = Mutex::new(());

/// Reads a reference book and checks that no figure is below its floor, and that two readings are the same.
#[track_caller]
fn check_reference(book: &str, gold: &str, floors: &[(&str, f64)]) {
    match (shared(book), shared(gold)) {
        (Some(book_file), Some(gold)) => check_book(book, &book_file, &gold, floors),
        _ => skip(book, "the reading matter is not beside the project, in ../shared"),
    }
}

#[track_caller]
fn check_book(book: &str, file: &Path, gold: &Path, floors: &[(&str, f64)]) {
    let dump = dump(file);
    // Not `assert_eq!`, which would print both.
    assert!(dump == self::dump(file), "two readings of {book} differ");
    let Some(scorer) = shared("eval/score.py") else {
        return skip(book, "the scorer is not beside the project, in ../shared/eval");
    };
    if Command::new("python3").arg("--version").output().is_err() {
        return skip(book, "python3 is not installed");
    }
    let figures = figures(&scorer, gold, &dump);
    for (row, floor) in floors {
        assert!(figures[*row] >= *floor, "{book}: F1 of {row} is {:.4}, agreed on is {floor}", figures[*row]);
    }
    check_floors(book, &figures);
}

/// Reads a book in a home of its own and returns its dump.
#[track_caller]
fn dump(file: &Path) -> String {
    let home = Home::new();
    let file = file.to_str().expect("names are ASCII");
    let ingested = home.run(&["ingest", file, "--as", "book", "--no-copy"]);
    assert_eq!(ingested.code, 0, "{}", ingested.err);
    home.run(&["dump", "book"]).out
}

/// Returns F1 of each row of the scorer's table.
#[track_caller]
fn figures(scorer: &Path, gold: &Path, dump: &str) -> BTreeMap<String, f64> {
    let home = Home::new();
    let file = home.file("dump.json", dump.as_bytes());
    let output = Command::new("python3").arg(scorer).arg(gold).arg(file).arg("--json").output();
    let output = output.expect("python3 was there just now");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let table: Value = serde_json::from_slice(&output.stdout).expect("the scorer prints JSON");
    let rows = table["figures"].as_object().expect("the figures are rows");
    rows.iter().filter_map(|(row, figure)| Some((row.clone(), figure["f1"].as_f64()?))).collect()
}

/// Checks the figures of a book against the table, or raises the table to them.
#[track_caller]
fn check_floors(book: &str, figures: &BTreeMap<String, f64>) {
    // A failed test of another book leaves the table as it was.
    let _guard = CHANGES.lock().unwrap_or_else(PoisonError::into_inner);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(TABLE);
    let mut table = table(&path);
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        raise(&mut table, book, figures);
        let lines = table.iter().map(|(book, row, floor)| format!("{book}\t{row}\t{floor:.4}\n"));
        fs::write(&path, lines.collect::<String>()).expect("the table can be written");
        return;
    }
    let found = below(&table, book, figures);
    assert!(found.is_empty(), "{book}: {}", found.join("; "));
}

fn table(path: &Path) -> Vec<Row> {
    let text = fs::read_to_string(path).expect("the table is part of the project");
    let row = |line: &str| {
        let mut fields = line.split('\t');
        let (book, row) = (fields.next()?.to_owned(), fields.next()?.to_owned());
        Some((book, row, fields.next()?.parse().ok()?))
    };
    text.lines().map(|line| row(line).unwrap_or_else(|| panic!("not a row of {TABLE}: {line}"))).collect()
}

/// Raises the floors of a book, never lowers one, and adds those that are missing.
fn raise(table: &mut Vec<Row>, book: &str, figures: &BTreeMap<String, f64>) {
    for (row, figure) in figures {
        // Cut to the digits of the table, so that writing it does not round up.
        let floor = ((figure - SLACK) * 1e4).floor() / 1e4;
        match table.iter_mut().find(|(of, name, _)| of == book && name == row) {
            Some((_, _, old)) => *old = old.max(floor),
            None => table.push((book.to_owned(), row.clone(), floor)),
        }
    }
    table.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
}

/// Names the figures of a book that are below their floor, that have none, or that are gone.
fn below(table: &[Row], book: &str, figures: &BTreeMap<String, f64>) -> Vec<String> {
    let rows: BTreeMap<&str, f64> =
        table.iter().filter(|(of, ..)| of == book).map(|(_, row, floor)| (row.as_str(), *floor)).collect();
    let low = |(row, floor): (&&str, &f64)| match figures.get(*row) {
        Some(figure) if figure >= floor => None,
        Some(figure) => Some(format!("F1 of {row} is {figure:.4}, it was {floor:.4} already")),
        None => Some(format!("{row} is not scored any more")),
    };
    let without = figures.keys().filter(|row| !rows.contains_key(row.as_str()));
    let without = without.map(|row| format!("{row} has no floor in {TABLE} (UPDATE_EXPECT=1 adds it)"));
    rows.iter().filter_map(low).chain(without).collect()
}

#[test]
fn a_book_with_lettered_indented_keys_is_read_from_a_browser() {
    let folder = "reference/michigan-trees-1913";
    let book = format!("{folder}/michigan-trees-1913-chromium.pdf");
    check_reference(&book, &format!("{folder}/gold.json"), OF_BOOKS);
}

#[test]
fn a_book_with_lettered_indented_keys_is_read_in_two_columns() {
    let folder = "reference/michigan-trees-1913";
    let book = format!("{folder}/michigan-trees-1913-latex2col.pdf");
    check_reference(&book, &format!("{folder}/gold.json"), OF_BOOKS);
}

#[test]
fn invented_floras_in_several_styles_are_read() {
    for flora in ["larch", "juniper", "moss", "alder"] {
        let folder = format!("reference/sim/{flora}");
        check_reference(&format!("{folder}/flora.pdf"), &format!("{folder}/gold.json"), OF_FLORAS);
    }
}

#[test]
fn invented_floras_in_further_styles_are_read() {
    for flora in ["sedge", "fern", "heath", "willow"] {
        let folder = format!("reference/sim/{flora}");
        check_reference(&format!("{folder}/flora.pdf"), &format!("{folder}/gold.json"), OF_FLORAS);
    }
}

#[test]
fn the_largest_invented_flora_is_read() {
    check_reference("reference/sim/big/flora.pdf", "reference/sim/big/gold.json.gz", OF_FLORAS);
}

#[test]
fn every_further_layout_of_the_books_is_read() {
    let scan = &[("taxa", 0.90), ("leads", 0.92), ("targets", 0.88)][..];
    let words = &[("glossary terms", 0.88), ("definitions", 0.85)][..];
    for (book, layouts, floors) in [
        ("michigan-trees-1913", &["weasyprint", "libreoffice"][..], OF_BOOKS),
        ("michigan-trees-1913", &["ocr"][..], scan),
        ("plants-of-michigan-1918", &["chromium", "latex2col", "weasyprint"][..], OF_BOOKS),
        ("elements-glossary-1887", &["chromium", "latex2col", "ocr"][..], words),
    ] {
        for layout in layouts {
            let folder = format!("reference/{book}");
            let gold = format!("{folder}/gold.json");
            check_reference(&format!("{folder}/{book}-{layout}.pdf"), &gold, floors);
        }
    }
}

#[test]
fn the_demo_is_read() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("corpus-demo");
    check_book("corpus-demo/flora.pdf", &folder.join("flora.pdf"), &folder.join("gold.json"), OF_FLORAS);
}

#[test]
fn plain_prose_has_no_key_and_no_treatment_and_is_read_page_by_page() {
    let home = Home::new();
    let pages: Vec<String> = PROSE.iter().map(|lines| pdf::text_page(lines)).collect();
    home.file("letters.pdf", &pdf::pdf(&pages));
    let ingested = home.run(&["ingest", "letters.pdf"]);
    assert_eq!(ingested.code, 0, "{}", ingested.err);
    let dump: Value = serde_json::from_str(&home.run(&["dump"]).out).expect("it is JSON");
    for nothing in ["taxa", "keys", "glossary"] {
        assert_eq!(dump[nothing], serde_json::json!([]), "{nothing}");
    }
    for (at, words) in ["the last boat", "a cold spring", "nobody had seen"].iter().enumerate() {
        let shelf = Shelf::at(&home.path().join("kept"));
        let book = Some(shelf.open("letters").expect("it was put there"));
        let session =
            Session { shelf: Some(shelf), book, at: Some("page:1".to_owned()), ..Session::default() };
        let screen = picture(session, (80, 24), &". ".repeat(at)).expect("the page is there");
        assert!(screen.contains(words), "page {}:\n{screen}", at + 1);
    }
}

/// Three pages of letters, with figures and a plant's name where a careless reader would see a key or a heading.
const PROSE: [&[&str]; 3] = [
    &[
        "We came to the outer holm with the last boat of the week, and the",
        "wind stood against us all the way. The landing is a ledge of rock,",
        "wet at any tide, and whoever steps on it does well to hold on to the",
        "rope. There were 2 of us and 1 dog, which stayed on board.",
    ],
    &[
        "It was a cold spring. On the north shore Silene rupicola was not yet",
        "in flower, and the thrift stood low. We counted 14 tufts above the",
        "second cairn and 9 below it, wrote them down, and went on along the",
        "cliff as far as the old light.",
    ],
    &[
        "The keeper told us that nobody had seen the hill without its cloud",
        "since March. He lent us a lamp, a sack of peat and his own map, and",
        "asked for nothing but news. In the morning we had none to give him.",
    ],
];

#[test]
fn a_floor_is_raised_and_never_lowered() {
    let figures = |figure: f64| BTreeMap::from([("leads".to_owned(), figure)]);
    let mut table = vec![("a.pdf".to_owned(), "leads".to_owned(), 0.9)];
    raise(&mut table, "a.pdf", &figures(0.8));
    assert_eq!(table[0].2.to_string(), "0.9");
    raise(&mut table, "a.pdf", &figures(0.953));
    assert_eq!(table[0].2.to_string(), "0.95");
    raise(&mut table, "b.pdf", &figures(0.5));
    assert_eq!(table.len(), 2);
}

#[test]
fn a_figure_below_its_floor_or_without_one_is_named() {
    let table =
        vec![("a.pdf".to_owned(), "leads".to_owned(), 0.9), ("a.pdf".to_owned(), "taxa".to_owned(), 0.9)];
    let figures = BTreeMap::from([("leads".to_owned(), 0.8), ("keys".to_owned(), 1.0)]);
    let found = below(&table, "a.pdf", &figures).join("\n");
    for part in ["leads is 0.8000", "taxa is not scored", "keys has no floor"] {
        assert!(found.contains(part), "{part}: {found}");
    }
    assert_eq!(below(&table[..1], "a.pdf", &BTreeMap::from([("leads".to_owned(), 0.9)])), [""; 0]);
}
