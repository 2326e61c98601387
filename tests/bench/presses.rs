//! How long a press takes until its screen is drawn, over a long walk through a large flora: median, p99 and worst of each
//! kind of press.
//!
//! `cargo bench --bench presses [FLORA.pdf]`; without a file it reads sim/big beside the project, and does nothing where
//! that is not there. Where the reader stands is kept after each press, as in the field.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use ligule::ingest::{self, SourceFile};
use ligule::reader::{Rehearsal, Session};
use ligule::search;
use ligule::store::{KeepSource, Shelf, SourceBytes};

/// Columns and rows of the window.
const WINDOW: (u16, u16) = (80, 24);

/// Presses of the walk at least.
const PRESSES: usize = 3_000;

/// Leads that are taken at most before the walk begins anew.
const DEEPEST: usize = 40;

/// Words of a treatment at which a lead ends.
const ENDED: &str = "is no leave to eat";

/// What is looked at from couplets in turn, and back again.
const ASIDE_OF_COUPLET: &[&[&str]] = &[
    &["tab", "d", "b"],
    &["t", "a"],
    &[",", "b"],
    &[".", "b"],
    &["-", "b"],
    &["j", "k"],
    &["x", "b"],
    &["e", "/", "s", "i", "esc", "b"],
    &["T", "esc"],
    &["=", "l", "e", "a", "f", "space", "6", "0", "enter", "b"],
];

/// What is looked at from treatments in turn, and back again.
const ASIDE_OF_TREATMENT: &[&[&str]] = &[
    &["tab", "d", "b"],
    &["y", "enter", "b", "b"],
    &["x", "b"],
    &["/", "1", "b"],
    &["space", "a"],
    &["-", ",", "b", "b"],
    &["i", "b"],
    &["s", "h", "a", "i", "r", "y", "enter", "b"],
    &["=", "l", "e", "a", "f", "space", "6", "0", "enter", "b"],
    &["-", "m", "7", "0", "0", "space", "m", "enter", "l", "b", ",", "b", "b"],
];

/// The walk with what each press took.
struct Walk {
    reader: Rehearsal,
    took: BTreeMap<String, Vec<Duration>>,
    count: usize,
    /// Whether letters are typed, which are one kind of press.
    typing: bool,
}

impl Walk {
    fn press(&mut self, key: &str, on: &str) {
        let start = Instant::now();
        self.reader.press(key).expect("a reader that goes on");
        let took = start.elapsed();
        let typed = self.typing && !matches!(key, "enter" | "esc");
        let kind = if typed { "typed".to_owned() } else { format!("{on} {key}") };
        self.took.entry(kind).or_default().push(took);
        self.count += 1;
        self.typing =
            typed || key == "=" || key == "s" || key == "/" && on == "list" || key == "m" && on == "list";
    }

    fn aside(&mut self, keys: &[&str], from: &str) {
        for (at, key) in keys.iter().enumerate() {
            self.press(key, if at == 0 { from } else { "list" });
        }
    }
}

fn main() {
    let given = std::env::args().skip(1).find(|argument| !argument.starts_with('-')).map(PathBuf::from);
    let beside = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/sim/big/flora.pdf");
    let path = given.unwrap_or(beside);
    let mut out = io::stdout().lock();
    let Ok(bytes) = std::fs::read(&path) else {
        writeln!(out, "skipped: {} is not there", path.display()).expect("a terminal");
        return;
    };
    let home = tempfile::tempdir().expect("the system has a folder for temporary files");
    let shelf = shelve(home.path(), &bytes);
    let begun = Instant::now();
    let book = shelf.open("big").expect("it was put there");
    let session = Session {
        shelf: Some(shelf),
        home: Some(home.path().to_owned()),
        book: Some(book),
        ..Session::default()
    };
    let reader = Rehearsal::open(session, WINDOW).expect("a first screen");
    writeln!(out, "first screen: {:.1} ms", ms(begun.elapsed())).expect("a terminal");
    let walk = walk(reader);
    report(&walk, &mut out).expect("a terminal");
}

fn shelve(home: &Path, bytes: &[u8]) -> Shelf {
    let file = SourceFile { name: "flora.pdf".to_owned(), bytes: bytes.to_vec() };
    let (flora, _) = ingest::read(vec![file], &|_, _| {}).expect("a flora that can be read");
    let shelf = Shelf::at(home).on("2026-05-17");
    let pending = shelf.begin("big").expect("nobody else writes here");
    let source = SourceBytes { path: Path::new("flora.pdf"), bytes };
    pending.write(&flora, &[source], KeepSource::Copy).expect("the disk takes it");
    search::build(&pending.index_dir(), &flora).expect("the disk takes it");
    pending.finish().expect("the disk takes it");
    shelf
}

/// Keys plants out one after another, by leads drawn from a fixed series, and looks aside on the way.
fn walk(reader: Rehearsal) -> Walk {
    let mut walk = Walk { reader, took: BTreeMap::new(), count: 0, typing: false };
    let (mut series, mut of_couplet, mut plant): (u64, usize, usize) = (0x9e37_79b9_7f4a_7c15, 0, 0);
    while walk.count < PRESSES {
        walk.press("-", "any");
        walk.press("n", "list");
        walk.press("enter", "list");
        walk.press("b", "list");
        walk.press("0", "any");
        for _ in 0..DEEPEST {
            series = series.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let lead = if series >> 63 == 0 { "1" } else { "2" };
            walk.press(lead, "couplet");
            let text = walk.reader.text();
            if text.contains(ENDED) {
                break;
            }
            if at_couplet(&text) {
                walk.aside(ASIDE_OF_COUPLET[of_couplet % ASIDE_OF_COUPLET.len()], "couplet");
                of_couplet += 1;
            } else if text.contains("1–9") {
                walk.press("1", "choice");
            } else {
                // A family or genus with a key of its own.
                walk.press("m", "treatment");
                if !at_couplet(&walk.reader.text()) {
                    break;
                }
            }
        }
        if walk.reader.text().contains(ENDED) {
            walk.aside(ASIDE_OF_TREATMENT[plant % ASIDE_OF_TREATMENT.len()], "treatment");
        }
        plant += 1;
    }
    walk
}

fn at_couplet(text: &str) -> bool {
    text.lines().nth(1).is_some_and(|line| line.contains("couplet"))
}

fn report(walk: &Walk, out: &mut impl Write) -> io::Result<()> {
    let mut all: Vec<Duration> = walk.took.values().flatten().copied().collect();
    row(out, "all presses", &mut all)?;
    for (kind, took) in &walk.took {
        row(out, kind, &mut took.clone())?;
    }
    Ok(())
}

fn row(out: &mut impl Write, kind: &str, took: &mut [Duration]) -> io::Result<()> {
    took.sort_unstable();
    let at = |share: usize| ms(took[(took.len() - 1) * share / 100]);
    let worst = took.last().copied().map_or(0.0, ms);
    writeln!(
        out,
        "{kind:20} {:5}  median {:7.2} ms  p99 {:7.2} ms  worst {worst:7.2} ms",
        took.len(),
        at(50),
        at(99)
    )
}

fn ms(took: Duration) -> f64 {
    took.as_secs_f64() * 1_000.0
}
