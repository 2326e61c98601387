//! How long a question takes on a flora of thousands of taxa: asked of an open index, asked first of all, and typed.
//!
//! `cargo bench --bench search` runs it; the 95th of each hundred questions is printed first. It needs sim/big of the
//! reading matter beside the project, and does nothing where that is not there.

#![expect(clippy::print_stdout, reason = "the figures are what it is for")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

use ligule::ingest::{self, SourceFile};
use ligule::model::{Flora, SectionKind};
use ligule::reader::{Rehearsal, Session};
use ligule::search::{self, Index, Narrow};
use ligule::store::{KeepSource, Shelf, SourceBytes};
use ligule::terms::Lexicon;
use tempfile::TempDir;

/// Columns and rows of the window.
const WINDOW: (u16, u16) = (80, 24);

/// Questions asked.
const QUESTIONS: usize = 200;

/// Taxa that a question asks for, as the reader's list has them.
const MOST: usize = 60;

/// Times that each question and press is timed; the shortest counts, as the machine may have other work.
const AGAIN: usize = 5;

/// What is typed, press by press.
const TYPED: &str = "leaves opposite, hairless; petals 5, yellow; June";

/// A flora on a shelf of its own.
struct Big {
    home: TempDir,
    flora: Flora,
    lexicon: Lexicon,
}

fn main() {
    let Some(big) = big() else {
        println!("search: skipped, the reading matter is not beside the project, in ../shared");
        return;
    };
    sizes(big);
    spread(big);
    presses(big);
    divan::main();
}

/// Returns the file of the largest flora.
fn file() -> Option<PathBuf> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/sim/big/flora.pdf");
    path.is_file().then_some(path)
}

/// Returns the largest flora with its index, made once.
fn big() -> Option<&'static Big> {
    static BIG: OnceLock<Option<Big>> = OnceLock::new();
    BIG.get_or_init(|| file().map(|path| made(&path))).as_ref()
}

fn made(path: &Path) -> Big {
    let home = tempfile::tempdir().expect("the system has a folder for temporary files");
    let bytes = fs::read(path).expect("it is there");
    let file = SourceFile { name: "flora.pdf".to_owned(), bytes: bytes.clone() };
    let flora = ingest::read(vec![file], &|_, _| {}).expect("it can be read").0;
    let shelf = Shelf::at(home.path()).on("2026-05-17");
    let pending = shelf.begin("big").expect("nobody else writes here");
    let source = SourceBytes { path: Path::new("flora.pdf"), bytes: &bytes };
    pending.write(&flora, &[source], KeepSource::Copy).expect("the disk takes it");
    search::build(&pending.index_dir(), &flora).expect("the disk takes it");
    pending.finish().expect("the disk takes it");
    let lexicon = Lexicon::with_flora(&flora.title, &flora.glossary);
    Big { home, flora, lexicon }
}

impl Big {
    fn index(&self) -> Index {
        Index::open(&Shelf::at(self.home.path()).index_dir("big")).expect("it was built")
    }

    fn session(&self) -> Session {
        let floras = Shelf::at(self.home.path());
        let book = floras.open("big").expect("it was put there");
        let index = Index::open(&floras.index_dir("big")).ok();
        Session { shelf: Some(floras), book: Some(book), index, ..Session::default() }
    }

    /// Returns questions of every sort: clauses of descriptions, plain words, names whole, begun and misspelled, phrases.
    fn questions(&self) -> Vec<String> {
        const PLAIN: &[&str] = &["hairless", "egg-shaped", "toothed", "not spiny", "July", "petals 8 mm"];
        let taxa = &self.flora.taxa;
        let step = (taxa.len() / QUESTIONS).max(1);
        let question = |at: usize| {
            let taxon = &taxa[at * step % taxa.len()];
            let described = taxon.sections.iter().filter(|own| own.kind == SectionKind::Description);
            let clauses: Vec<&str> = described.flat_map(|own| own.text.plain.split([';', '.'])).collect();
            let some = |most: usize| clauses.iter().take(most).copied().collect::<Vec<_>>().join("; ");
            match at % 8 {
                0 => taxon.name.clone(),
                1 => taxon.name.chars().take(6).collect(),
                2 => taxon.name.replacen(['e', 'a'], "o", 1),
                3 => format!("\"{}\"", some(1)),
                4 => format!("{}; {}", PLAIN[at % PLAIN.len()], PLAIN[(at / 8) % PLAIN.len()]),
                _ => some(1 + at % 5),
            }
        };
        (0..QUESTIONS).map(question).filter(|words| words.len() > 2).collect()
    }
}

/// Prints how large the index is beside the text that it stands for.
fn sizes(big: &Big) {
    let flora = &big.flora;
    let sections = flora.taxa.iter().flat_map(|taxon| taxon.sections.iter().map(|own| &own.text));
    let headings = flora.taxa.iter().map(|taxon| &taxon.heading);
    let couplets = flora.keys.iter().flat_map(|key| &key.couplets);
    let leads = couplets.flat_map(|couplet| couplet.leads.iter().map(|lead| &lead.text));
    let matter = flora.matter.iter().flat_map(|matter| &matter.paragraphs);
    let entries = flora.glossary.iter().map(|entry| &entry.definition);
    let texts = sections.chain(headings).chain(leads).chain(matter).chain(entries);
    let text: usize = texts.map(|text| text.plain.len()).sum();
    let dir = Shelf::at(big.home.path()).index_dir("big");
    let files = fs::read_dir(dir).expect("it was built").filter_map(|file| file.ok()?.metadata().ok());
    let index: u64 = files.map(|file| file.len()).sum();
    println!("index {index} bytes, text {text} bytes: {:.2} times", index as f64 / text as f64);
}

/// Prints how long questions take.
fn spread(big: &Big) {
    let index = big.index();
    let began = Instant::now();
    ask(big, &index, "leaves opposite; petals 5, yellow");
    println!("first question of an index just opened: {:?}", began.elapsed());
    let mut times: Vec<(Duration, String)> = (big.questions().into_iter())
        .map(|question| (shortest(|| (), |()| _ = ask(big, &index, &question)), question))
        .collect();
    times.sort();
    let at = |share: usize| times[(times.len() - 1) * share / 100].0;
    println!(
        "{} questions: median {:?}, 95th of 100 {:?}, slowest {:?}",
        times.len(),
        at(50),
        at(95),
        at(100)
    );
    for (time, question) in times.iter().rev().take(5) {
        println!("  {time:?} {}", question.chars().take(100).collect::<String>());
    }
}

/// Prints how long each press takes while a question is typed, the screen made anew each time.
fn presses(big: &Big) {
    let word = |letter: char| if letter == ' ' { "space".to_owned() } else { letter.to_string() };
    let keys: Vec<String> = TYPED.chars().map(word).collect();
    let mut least = vec![Duration::MAX; keys.len()];
    for _ in 0..AGAIN {
        let mut reader = Rehearsal::open(big.session(), WINDOW).expect("there is a screen");
        reader.press("s").expect("there is a screen");
        for (at, key) in keys.iter().enumerate() {
            let clock = Instant::now();
            reader.press(key).expect("there is a screen");
            least[at] = least[at].min(clock.elapsed());
        }
    }
    println!("first press {:?}", least[0]);
    least.sort();
    let at = |share: usize| least[(least.len() - 1) * share / 100];
    println!(
        "{} presses: median {:?}, 95th of 100 {:?}, 99th {:?}, slowest {:?}",
        least.len(),
        at(50),
        at(95),
        at(99),
        at(100)
    );
}

/// Returns the shortest of several times that something takes, what it begins with not counted.
fn shortest<T>(begin: impl Fn() -> T, run: impl Fn(T)) -> Duration {
    let time = |_| {
        let with = begin();
        let clock = Instant::now();
        run(with);
        clock.elapsed()
    };
    (0..AGAIN).map(time).min().unwrap_or_default()
}

fn ask(big: &Big, index: &Index, question: &str) -> usize {
    let answer = index.answer(question, &Narrow::default(), MOST, &big.lexicon);
    answer.expect("it answers").taxa.len()
}

#[divan::bench(sample_count = 20)]
fn open_and_ask_once(bencher: divan::Bencher) {
    let Some(big) = big() else { return };
    bencher.bench(|| ask(big, &big.index(), "leaves opposite; petals 5, yellow"));
}

#[divan::bench(sample_count = 10)]
fn ask_200(bencher: divan::Bencher) {
    let Some(big) = big() else { return };
    let (index, questions) = (big.index(), big.questions());
    bencher.bench(|| questions.iter().map(|question| ask(big, &index, question)).sum::<usize>());
}
