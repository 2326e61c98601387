//! How long a drawing takes, from its name to rows of braille in a large window, and which one takes longest.
//!
//! `cargo bench --bench sketch`. None may take two milliseconds. With `LIGULE_SKETCHES=FOLDER` it writes all drawings there
//! instead, for `tests/bench/sketch-sheet`.

use std::fs;
use std::hint::black_box;
use std::io;
use std::path::Path;
use std::time::{Duration, Instant};

use divan::Bencher;
use ligule::sketch::{self, Dots};

/// Columns and rows of a large window.
const LARGE: (u16, u16) = (48, 24);

/// Times that each drawing is made to find its quickest run, which says what it costs on an idle machine.
const RUNS: usize = 20;

/// What a drawing may take.
const LIMIT: Duration = Duration::from_millis(2);

/// Windows that sheets are made for, and the word of each in file names.
const SHEETS: &[((u16, u16), &str)] = &[((16, 8), "16"), ((32, 16), "32"), ((48, 24), "48")];

fn main() {
    if let Some(folder) = std::env::var_os("LIGULE_SKETCHES") {
        return write_all(Path::new(&folder)).expect("the folder can be written to");
    }
    let quickest = |name: &'static str| (0..RUNS).map(|_| time(name)).min().expect("there are runs");
    let (slowest, name) =
        sketch::names().map(|name| (quickest(name), name)).max().expect("there are drawings");
    assert!(slowest < LIMIT, "{name} takes {slowest:?}");
    divan::main();
}

/// Writes every drawing as SVG and as rows of each kind of dots and window, and the list of their names.
fn write_all(folder: &Path) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    for name in sketch::names() {
        let sketch = sketch::of(name).expect("its name is in the list");
        let file = |end: &str| folder.join(format!("{}.{end}", name.replace(' ', "_")));
        fs::write(file("svg"), sketch.svg())?;
        for (size, sheet) in SHEETS {
            for (dots, word) in [(Dots::Braille, "braille"), (Dots::Blocks, "blocks"), (Dots::Ascii, "ascii")]
            {
                fs::write(file(&format!("{word}{sheet}.txt")), sketch.cells(*size, dots).join("\n"))?;
            }
        }
    }
    let names: Vec<&str> = sketch::names().collect();
    fs::write(folder.join("names.txt"), names.join("\n") + "\n")
}

/// Returns what one drawing takes.
fn time(name: &str) -> Duration {
    let start = Instant::now();
    black_box(sketch::of(name).expect("its name is in the list").cells(LARGE, Dots::Braille));
    start.elapsed()
}

/// All drawings in a small window.
#[divan::bench(args = [Dots::Braille, Dots::Blocks, Dots::Ascii])]
fn all(bencher: Bencher, dots: Dots) {
    bencher.bench(|| {
        sketch::names().filter_map(sketch::of).map(|sketch| sketch.cells((16, 8), dots).len()).sum::<usize>()
    });
}

/// The drawing that takes longest.
#[divan::bench]
fn slowest(bencher: Bencher) {
    let name =
        sketch::names().max_by_key(|name| (0..RUNS).map(|_| time(name)).min()).expect("there are some");
    bencher.bench(|| sketch::of(name).expect("its name is in the list").cells(LARGE, Dots::Braille));
}
