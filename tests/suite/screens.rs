//! The screens of the demo as pictures in letters: at every size the text, and how each piece of it looks in every theme.
//!
//! `UPDATE_EXPECT=1 cargo test --test suite screens` draws them anew; `tests/bench/picture` makes PNG files of them.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use ligule::ingest::{self, SourceFile};
use ligule::reader::{Rehearsal, Session, Signs, themes};
use ligule::search::{self, Index};
use ligule::store::{KeepSource, Shelf, SourceBytes};

use crate::support::Home;

/// Columns and rows of the windows.
const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

/// The screens: what each is called, and the keys that lead there from the first couplet.
const SCREENS: &[(&str, &str)] = &[
    ("couplet", ""),
    ("couplet-term", "tab"),
    ("couplet-letters", "t"),
    ("couplet-terms", "T"),
    ("by-organ", "."),
    ("treatment", "i / s i l e n e enter j enter"),
    ("term", "tab d"),
    ("page-printed", "r"),
    ("page-text", "r y"),
    ("taxa", "i l j l"),
    ("keys", "e"),
    ("search", "s h a i r y enter"),
    ("trail", "1 - "),
    ("question", "="),
    ("measured", "= l e a f space 6 0 space m m enter"),
    ("help", "?"),
    ("message", "9"),
    ("contents", "c"),
];

/// The demo on a shelf.
struct Demo {
    home: Home,
}

impl Demo {
    fn new() -> Self {
        let home = Home::new();
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo/flora.pdf");
        let bytes = fs::read(path).expect("the demo is part of the project");
        let file = SourceFile { name: "flora.pdf".to_owned(), bytes: bytes.clone() };
        let (flora, _) = ingest::read(vec![file], &|_, _| {}).expect("the demo can be read");
        let shelf = Shelf::at(home.path()).on("2026-05-17");
        let pending = shelf.begin("demo").expect("nobody else writes here");
        let source = SourceBytes { path: Path::new("flora.pdf"), bytes: &bytes };
        pending.write(&flora, &[source], KeepSource::Copy).expect("the disk takes it");
        search::build(&pending.index_dir(), &flora).expect("the disk takes it");
        pending.finish().expect("the disk takes it");
        Self { home }
    }

    /// Opens the reader on it after some keys.
    fn reader(&self, size: (u16, u16), (keys, theme, signs): (&str, &str, Signs)) -> Rehearsal {
        let floras = Shelf::at(self.home.path());
        let book = floras.open("demo").expect("it was put there");
        let index = Index::open(&floras.index_dir("demo")).ok();
        let theme = theme.to_owned();
        let session =
            Session { shelf: Some(floras), book: Some(book), index, theme, signs, ..Session::default() };
        let mut reader = Rehearsal::open(session, size).expect("a first screen");
        for key in keys.split_whitespace() {
            reader.press(key).expect("a screen");
        }
        reader
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/screens")
}

/// Returns a screen in letters: each row, below it how many cells have which look, and at the end the looks by theme.
fn drawn(demo: &Demo, size: (u16, u16), keys: &str) -> String {
    let readers = themes().into_iter().map(|theme| demo.reader(size, (keys, theme, Signs::Unicode)));
    let looks: Vec<_> = readers.map(|reader| reader.looks()).collect();
    let mut known: Vec<Vec<String>> = Vec::new();
    let mut drawn = format!("keys {}\n", keys.trim());
    for row in 0..usize::from(size.1) {
        let cells: Vec<Vec<(String, String)>> = looks.iter().map(|rows| cells(&rows[row])).collect();
        let text =
            |cells: &[(String, String)]| cells.iter().map(|(cell, _)| cell.as_str()).collect::<String>();
        assert!(cells.iter().all(|other| text(other) == text(&cells[0])), "the words differ between themes");
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for at in 0..cells[0].len() {
            let look: Vec<String> = cells.iter().map(|cells| cells[at].1.clone()).collect();
            let number = known.iter().position(|known| *known == look).unwrap_or_else(|| {
                known.push(look);
                known.len() - 1
            });
            match runs.last_mut() {
                Some((count, last)) if *last == number => *count += 1,
                _ => runs.push((1, number)),
            }
        }
        let runs: Vec<String> =
            runs.iter().map(|(count, look)| format!("{count}{}", letter(*look))).collect();
        writeln!(drawn, "|{}\n {}", text(&cells[0]).trim_end(), runs.join(" "))
            .expect("a string takes any text");
    }
    for (number, look) in known.iter().enumerate() {
        for (theme, look) in themes().iter().zip(look) {
            writeln!(drawn, "{} {theme} {look}", letter(number)).expect("a string takes any text");
        }
    }
    drawn
}

/// Returns the cells of a row, each with its look.
fn cells(runs: &[(String, String)]) -> Vec<(String, String)> {
    let one = |(text, look): &(String, String)| {
        text.chars().map(|cell| (cell.to_string(), look.clone())).collect::<Vec<_>>()
    };
    runs.iter().flat_map(one).collect()
}

fn letter(number: usize) -> char {
    char::from(b'a' + u8::try_from(number).expect("a screen has few looks"))
}

#[test]
fn every_screen_looks_as_it_did_in_every_theme_and_size() {
    let (demo, folder) = (Demo::new(), folder());
    let update = std::env::var_os("UPDATE_EXPECT").is_some();
    if update {
        _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("the project can be written");
    }
    let mut differ = Vec::new();
    for (size, (name, keys)) in SIZES.iter().flat_map(|size| SCREENS.iter().map(move |screen| (size, screen)))
    {
        let file = folder.join(format!("{name}-{}x{}.txt", size.0, size.1));
        let now = drawn(&demo, *size, keys);
        if update {
            fs::write(&file, now).expect("the project can be written");
        } else if fs::read_to_string(&file).ok().as_ref() != Some(&now) {
            differ.push(format!("{}\n{now}", file.display()));
        }
    }
    let there = fs::read_dir(&folder).expect("the pictures are part of the project").count();
    assert_eq!(there, SIZES.len() * SCREENS.len(), "pictures of screens that there are not");
    let all = "`UPDATE_EXPECT=1 cargo test --test suite screens` draws them anew";
    assert!(differ.is_empty(), "{} screens differ; {all}. The first:\n{}", differ.len(), differ[0]);
}

#[test]
fn the_demo_reaches_an_ascii_terminal_in_ascii_and_readable() {
    let demo = Demo::new();
    for (size, (_, keys)) in SIZES.iter().flat_map(|size| SCREENS.iter().map(move |screen| (size, screen))) {
        let text = demo.reader(*size, (keys, "sun", Signs::Ascii)).text();
        assert!(text.is_ascii(), "{keys}\n{text}");
        let unicode = demo.reader(*size, (keys, "sun", Signs::Unicode)).text();
        let marks = |text: &str| text.matches('?').count();
        assert!(marks(&text) <= marks(&unicode), "something has no form\n{text}\n{unicode}");
    }
}

#[test]
fn in_small_windows_a_couplet_still_says_its_place_its_rivals_and_its_keys() {
    let demo = Demo::new();
    for size in [(40, 12), (60, 20), (80, 24), (120, 40)] {
        let mut reader = demo.reader(size, ("", "sun", Signs::Unicode));
        let mut couplets = 0;
        for step in 0..8 {
            let text = reader.text();
            let rows: Vec<&str> = text.lines().collect();
            if rows[1].trim_start().starts_with("couplet") {
                couplets += 1;
                assert!(rows[1].contains(" of "), "{text}");
                assert!(rows[rows.len() - 1].ends_with("? help"), "{text}");
                let leads = rows.iter().filter(|row| begins_lead(row)).count();
                assert!(leads >= 2 || text.contains(" more"), "step {step} at {size:?}\n{text}");
            }
            reader.press(if step % 2 == 0 { "1" } else { "2" }).expect("a screen");
        }
        assert!(couplets > 1, "{couplets} couplets were seen at {size:?}");
    }
}

/// Says whether a row begins with a label behind the bar and the sign.
fn begins_lead(row: &str) -> bool {
    let label: String = row.chars().skip(2).take_while(|letter| !letter.is_whitespace()).collect();
    row.chars().nth(2).is_some_and(|letter| letter.is_ascii_alphanumeric() || "–(*".contains(letter))
        && label.chars().count() <= 8
}
