//! What the reader waits for: the first screen of the demo from its shelf, the demo's ingest, words of 100 lines linked.
//!
//! `cargo bench` runs it. The first screen of the whole program, process start included, is `tests/bench/first-screen`.

use std::fs;
use std::path::Path;

use ligule::ingest::{self, SourceFile};
use ligule::link::Linker;
use ligule::model::Flora;
use ligule::reader::{Session, picture};
use ligule::search::{self, Index};
use ligule::store::{KeepSource, Shelf, SourceBytes};
use ligule::terms::Lexicon;
use tempfile::TempDir;

/// Columns and rows of the window.
const WINDOW: (u16, u16) = (80, 24);

/// Lines that are linked.
const LINES: usize = 100;

/// Characters of a line, about as many as a window has.
const LINE: usize = 80;

fn main() {
    divan::main();
}

/// Returns the demo flora's file.
fn file() -> SourceFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo/flora.pdf");
    SourceFile {
        name: "flora.pdf".to_owned(),
        bytes: fs::read(path).expect("the demo is part of the project"),
    }
}

/// Reads the demo flora.
fn flora() -> Flora {
    ingest::read(vec![file()], &|_, _| {}).expect("the demo can be read").0
}

/// Returns a folder with the demo flora on a shelf.
fn shelf() -> TempDir {
    let home = tempfile::tempdir().expect("the system has a folder for temporary files");
    let (flora, file) = (flora(), file());
    let shelf = Shelf::at(home.path()).on("2026-05-17");
    let pending = shelf.begin("demo").expect("nobody else writes here");
    let source = SourceBytes { path: Path::new("flora.pdf"), bytes: &file.bytes };
    pending.write(&flora, &[source], KeepSource::Copy).expect("the disk takes it");
    search::build(&pending.index_dir(), &flora).expect("the disk takes it");
    pending.finish().expect("the disk takes it");
    home
}

#[divan::bench]
fn first_screen(bencher: divan::Bencher) {
    let home = shelf();
    bencher.bench(|| {
        let shelf = Shelf::at(home.path());
        let book = shelf.open("demo").expect("it was put there");
        let index = Index::open(&shelf.index_dir("demo")).ok();
        let session = Session { shelf: Some(shelf), book: Some(book), index, ..Session::default() };
        picture(session, WINDOW, "").expect("the demo has a first screen")
    });
}

#[divan::bench(sample_count = 20)]
fn ingest_demo(bencher: divan::Bencher) {
    bencher.with_inputs(|| vec![file()]).bench_values(|files| ingest::read(files, &|_, _| {}));
}

#[divan::bench]
fn link_100_lines(bencher: divan::Bencher) {
    let flora = flora();
    let lexicon = Lexicon::with_flora(&flora.title, &flora.glossary);
    let linker = Linker::new(flora.taxa.iter().map(|taxon| (taxon.name.clone(), taxon.id)));
    let text: Vec<char> = flora
        .taxa
        .iter()
        .flat_map(|taxon| &taxon.sections)
        .flat_map(|section| section.text.plain.chars().chain([' ']))
        .collect();
    let lines: Vec<String> = text.chunks(LINE).take(LINES).map(|line| line.iter().collect()).collect();
    assert_eq!(lines.len(), LINES, "the demo's descriptions are long enough");
    bencher.bench(|| lines.iter().map(|line| linker.marks(line, &lexicon).len()).sum::<usize>());
}
