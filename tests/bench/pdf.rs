//! How long a book takes: to unpack only, to read its glyphs, to read and set it; the demo flora and the large made-up one.
//!
//! `cargo bench --bench pdf` runs it; the large one lies in ../shared, and is left out where that is missing. Beside other
//! tools the whole program is measured by `tests/bench/beside`.

use std::fs;
use std::path::{Path, PathBuf};

use ligule::layout;
use ligule::pdf;

fn main() {
    divan::main();
}

/// The books that are read.
const BOOKS: [&str; 2] = ["corpus-demo/flora.pdf", "../shared/reference/sim/big/flora.pdf"];

/// Returns a book's bytes; says so where it is missing.
fn bytes(book: &str) -> Option<Vec<u8>> {
    let path: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join(book);
    let bytes = fs::read(&path).ok();
    if bytes.is_none() {
        _ = std::io::Write::write_all(
            &mut std::io::stderr(),
            format!("SKIPPED: {} is not there\n", path.display()).as_bytes(),
        );
    }
    bytes
}

/// Unpacks every content stream and does nothing else: the floor for whoever reads the book.
#[divan::bench(args = BOOKS, sample_count = 9, sample_size = 1)]
fn unpack(bencher: divan::Bencher, book: &str) {
    let Some(bytes) = bytes(book) else { return };
    bencher.bench(|| {
        let file = lopdf::Document::load_mem(&bytes).expect("reference files are sound");
        file.get_pages().into_values().map(|page| file.get_page_content(page).len()).sum::<usize>()
    });
}

/// Reads the glyphs of all pages.
#[divan::bench(args = BOOKS, sample_count = 9, sample_size = 1)]
fn glyphs(bencher: divan::Bencher, book: &str) {
    let Some(bytes) = bytes(book) else { return };
    bencher.with_inputs(|| bytes.clone()).bench_values(|bytes| {
        pdf::read_each(bytes, &|_, _| {}, &|page| page.glyphs.len()).expect("reference files are sound")
    });
}

/// Reads the glyphs and sets the book.
#[divan::bench(args = BOOKS, sample_count = 9, sample_size = 1)]
fn set(bencher: divan::Bencher, book: &str) {
    let Some(bytes) = bytes(book) else { return };
    bencher.with_inputs(|| bytes.clone()).bench_values(|bytes| {
        let sheets = pdf::read_each(bytes, &|_, _| {}, &layout::sheet).expect("reference files are sound");
        layout::set_sheets(sheets.pages, &|_| false)
    });
}
