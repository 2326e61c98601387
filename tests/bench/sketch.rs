//! How long a drawing takes, from its name to rows of braille in a large window, and which one takes longest.
//!
//! `cargo bench --bench sketch`. None may take two milliseconds.

use std::hint::black_box;
use std::time::{Duration, Instant};

use divan::Bencher;
use ligule::sketch::{self, Dots};

/// Columns and rows of a large window.
const LARGE: (u16, u16) = (48, 24);

/// Times that each drawing is made to find its quickest run, which says what it costs on an idle machine.
const RUNS: usize = 20;

/// What a drawing may take.
const LIMIT: Duration = Duration::from_millis(2);

fn main() {
    let quickest = |name: &'static str| (0..RUNS).map(|_| time(name)).min().expect("there are runs");
    let (slowest, name) =
        sketch::names().map(|name| (quickest(name), name)).max().expect("there are drawings");
    assert!(slowest < LIMIT, "{name} takes {slowest:?}");
    divan::main();
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
