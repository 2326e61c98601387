//! README and DEVELOPERS.md against the program: keys, verbs, exit codes, rooms, and a screen that is really so.
//!
//! `UPDATE_EXPECT=1` rewrites the two blocks of README that are made by the program.

use std::fs;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

use ligule::ingest::{self, SourceFile};
use ligule::reader::{Session, key_table_markdown, picture};
use ligule::store::Book;

use crate::rooms::{ROOMS, Room};
use crate::support::Home;

/// Where README's picture is taken, and the keys that lead to it from there.
const SCREEN: (&str, &str) = ("key:Silene", "2 2 2");

/// The word that is marked there through its letter.
const MARKED: &str = "glandular-pubescent";

/// Columns and rows of the picture.
const WINDOW: (u16, u16) = (80, 24);

/// Words that have no place in a paper or program that is handed on.
const UNFINISHED: &[&str] = &["TODO", "FIXME", "XXX", "TBD", "lorem ipsum"];

/// One test at a time changes README.
static CHANGES: Mutex<()> = Mutex::new(());

fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn read(name: &str) -> String {
    fs::read_to_string(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Checks that README holds a text between the marks of a block, or puts it there.
#[track_caller]
fn check_block(name: &str, expected: &str) {
    // A failed test leaves README as it was.
    let _guard = CHANGES.lock().unwrap_or_else(PoisonError::into_inner);
    let readme = read("README.md");
    let (begin, end) = (format!("<!-- begin {name} -->\n"), format!("<!-- end {name} -->"));
    let (before, rest) = readme.split_once(&begin).expect("README has the block");
    let (found, after) = rest.split_once(&end).expect("the block has an end");
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        let new = format!("{before}{begin}{expected}{end}{after}");
        fs::write(path("README.md"), new).expect("README can be written");
        return;
    }
    assert!(
        found == expected,
        "README's {name} differ; `UPDATE_EXPECT=1 cargo test readme` makes them:\n{expected}"
    );
}

/// Checks that a text does without words of the unfinished.
#[track_caller]
fn check_finished(name: &str, text: &str) {
    let found = UNFINISHED.iter().find(|word| text.contains(**word));
    assert_eq!(found, None, "{name}");
}

/// Returns the verbs that `--help` lists.
fn verbs() -> Vec<String> {
    let help = Home::new().run(&["--help"]).out;
    let (_, commands) = help.split_once("Commands:\n").expect("help lists the verbs");
    let lines = commands.lines().take_while(|line| !line.is_empty());
    let names = lines.filter_map(|line| line.split_whitespace().next().map(str::to_owned));
    names.filter(|name| name != "help").collect()
}

#[test]
fn the_key_table_is_that_of_the_command_table() {
    check_block("keys", &key_table_markdown());
}

#[test]
fn the_screen_is_a_real_one() {
    let bytes = fs::read(path("corpus-demo/flora.pdf")).expect("the demo is part of the project");
    let file = SourceFile { name: "flora.pdf".to_owned(), bytes };
    let (flora, _) = ingest::read(vec![file], &|_, _| {}).expect("the demo can be read");
    let screen = |keys: &str| {
        let book = Some(Book::of("demo", flora.clone()));
        let session = Session { book, at: Some(SCREEN.0.to_owned()), ..Session::default() };
        picture(session, WINDOW, keys).expect("the demo has that key")
    };
    let lettered = screen(&format!("{} t", SCREEN.1));
    let (before, _) = lettered.rsplit_once(MARKED).expect("the word is listed with its letter");
    let letter = before.trim_end().chars().last().expect("a letter stands before it");
    let marked = screen(&format!("{} t {letter}", SCREEN.1));
    assert!(marked.contains(&format!("── {MARKED} ──")), "README says that this word is marked:\n{marked}");
    check_block("screen", &format!("```text\n{}\n```\n", marked.trim_end()));
}

#[test]
fn every_verb_has_a_row() {
    let readme = read("README.md");
    let verbs = verbs();
    assert!(verbs.len() > 5, "{verbs:?}");
    for verb in &verbs {
        assert!(readme.contains(&format!("\n| `ligule {verb}")), "{verb} has no row in README");
    }
    let rows = readme.lines().filter_map(|line| line.strip_prefix("| `ligule ")?.split([' ', '`']).next());
    for verb in rows {
        assert!(verbs.iter().any(|known| known == verb), "README has a row for {verb}, which is no verb");
    }
}

#[test]
fn every_exit_code_has_a_row() {
    let help = Home::new().run(&["--help"]).out.replace('\n', " ");
    let (_, codes) = help.split_once("Exit codes: ").expect("help lists the codes");
    let codes: Vec<&str> = codes.split("; ").filter_map(|code| code.split(' ').next()).collect();
    let readme = read("README.md");
    assert_eq!(codes.len(), 7, "{codes:?}");
    for code in codes {
        assert!(readme.contains(&format!("\n| {code} | ")), "exit code {code} has no row in README");
    }
}

#[test]
fn the_two_commands_are_named_first() {
    let readme = read("README.md");
    for command in ["cargo run --release -- demo", "cargo test"] {
        assert!(readme.contains(&format!("\n{command} ")), "{command}");
    }
    let ci = read(".ci/run");
    assert!(ci.contains("\ncargo test "), "CI calls README's test command");
}

#[test]
fn the_table_of_rooms_is_the_one_that_is_enforced() {
    let papers = read("DEVELOPERS.md");
    let row = |(name, may): &Room| {
        let may = match may {
            [] => "–".to_owned(),
            ["*"] => "every room".to_owned(),
            _ => may.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", "),
        };
        format!("| `{name}` | {may} | ")
    };
    for room in ROOMS {
        assert!(papers.contains(&row(room)), "DEVELOPERS.md lacks the row {}", row(room));
    }
    let rows = papers.lines().filter(|line| line.starts_with("| `")).count();
    assert_eq!(rows, ROOMS.len(), "DEVELOPERS.md has a row for a room that is not there");
}

#[test]
fn both_licences_are_there_and_nothing_is_left_unfinished() {
    for name in
        ["README.md", "DEVELOPERS.md", "LICENSE-MIT", "LICENSE-APACHE", "corpus-demo/README.md", ".ci/run"]
    {
        check_finished(name, &read(name));
    }
    for (file, source) in crate::rooms::sources() {
        check_finished(&file, &source);
    }
    assert!(read("Cargo.toml").contains("license = \"MIT OR Apache-2.0\""));
    assert!(read("LICENSE-MIT").contains("The ligule contributors"));
    assert!(read("LICENSE-APACHE").contains("Version 2.0, January 2004"));
}

#[test]
#[should_panic(expected = "a note")]
fn an_unfinished_paper_is_found() {
    check_finished("a note", "TODO: say more");
}
