//! How well text comes out of PDFs: every reference PDF with a true text against the figures and two other tools.
//!
//! The files are found, not named: a true text with a list of broken words beside it is that of a born-digital PDF, one
//! without such a list that of a scan. Other tests give ligule files made to do harm.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use ligule::ingest::{self, SourceFile};
use serde_json::Value;

use crate::support::{Home, pdfs_below, shared, skip};

/// F1 of words, and of words in order with asides set apart, at least.
const WORDS: f64 = 0.995;
/// Share of the words broken at line ends that are right, at least.
const HYPHENS: f64 = 0.98;
/// The same for a glossary, whose rare words stand in no other place.
const HYPHENS_GLOSSARY: f64 = 0.94;
/// How far ligule may be behind the better tool, in words always and in order where the text is in one column.
const BEHIND: f64 = 0.0005;
/// Files that are read at a time.
const THREADS: usize = 2;
/// Time that a harmful file may take.
const PATIENCE: Duration = Duration::from_secs(10);
/// Address space that a harmful file may take, in KiB: 512 MiB, stacks that threads reserve and never touch among it.
const MEMORY: u32 = 1 << 19;

/// A PDF with what is known of its text.
struct Book {
    pdf: PathBuf,
    truth: PathBuf,
    heads: PathBuf,
    breaks: PathBuf,
    asides: PathBuf,
}

impl Book {
    /// Returns the book of a PDF if there is a true text.
    fn of(pdf: PathBuf) -> Option<Self> {
        let beside = |name: &str| pdf.with_file_name(format!("{name}.txt"));
        let with = |part: &str| pdf.with_extension(format!("{part}.txt"));
        let own = pdf.with_extension("txt");
        let (truth, heads, breaks, asides) = if own.exists() {
            (own, with("heads"), with("breaks"), with("asides"))
        } else {
            (beside("truth"), beside("heads"), beside("breaks"), beside("asides"))
        };
        truth.exists().then_some(Self { pdf, truth, heads, breaks, asides })
    }

    fn is_scan(&self) -> bool {
        !self.breaks.exists()
    }

    /// Tells whether most of its pages are set in several columns.
    fn is_in_columns(&self) -> bool {
        let bytes = fs::read(&self.pdf).expect("the file was found just now");
        let set = ingest::text(SourceFile { name: self.name(), bytes }, &|_, _| ());
        let pages = set.expect("the file can be read").pages;
        pages.iter().filter(|page| page.columns > 1).count() * 2 > pages.len()
    }

    fn name(&self) -> String {
        let parts: Vec<_> = self.pdf.iter().rev().take(2).map(|part| part.to_string_lossy()).collect();
        format!("{}/{}", parts[1], parts[0])
    }
}

/// What the scorer says of a text.
struct Figures {
    words: f64,
    order: f64,
    hyphens: f64,
    heads: u64,
}

/// Finds the books below a folder, in the order of their names.
fn books(folder: &Path) -> Vec<Book> {
    pdfs_below(folder).into_iter().filter_map(Book::of).collect()
}

/// Returns standard output of a tool, or `None` where it is not installed.
fn output(command: &mut Command) -> Option<Vec<u8>> {
    command.stderr(Stdio::null()).stdin(Stdio::null()).output().ok().map(|output| output.stdout)
}

/// Which options the scorer is called with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum With {
    /// Nothing set apart: heads count as leaked.
    Heads,
    /// Asides set apart.
    HeadsAndAsides,
    /// Heads taken out first.
    NoHeads,
    /// Heads taken out first, asides set apart.
    AsidesAndNoHeads,
}

/// Scores a text.
#[track_caller]
fn score(scorer: &Path, book: &Book, text: &[u8], with: With) -> Figures {
    let home = Home::new();
    let file = home.file("text.txt", text);
    let mut command = Command::new("python3");
    command.args([scorer, &book.truth, &file]).arg("--json");
    if !book.is_scan() {
        command.arg("--heads").arg(&book.heads).arg("--breaks").arg(&book.breaks);
    }
    if matches!(with, With::HeadsAndAsides | With::AsidesAndNoHeads) && book.asides.exists() {
        command.arg("--asides").arg(&book.asides);
    }
    if matches!(with, With::NoHeads | With::AsidesAndNoHeads) && !book.is_scan() {
        command.arg("--ignore-heads");
    }
    let said = output(&mut command).expect("python3 was there just now");
    let said: Value = serde_json::from_slice(&said).expect("the scorer writes JSON");
    let figure = |row: &str, column: &str| said[row][column].as_f64().unwrap_or(0.0);
    Figures {
        words: figure("words", "f1"),
        order: figure("order", "f1"),
        hyphens: figure("hyphens", "share_right"),
        heads: said["heads"]["leaked"].as_u64().unwrap_or(0),
    }
}

/// Runs a check of every book, some at a time; it returns what is wrong.
#[track_caller]
fn check_books(test: &str, check: impl Fn(&Path, &Book) -> Vec<String> + Sync) {
    let (Some(folder), Some(scorer)) = (shared("reference"), shared("eval/score_text.py")) else {
        return skip(test, "the reading matter is not beside the project, in ../shared");
    };
    if Command::new("python3").arg("--version").output().is_err() {
        return skip(test, "python3 is not installed");
    }
    let books = books(&folder);
    assert!(!books.is_empty(), "no PDF with a true text lies in {}", folder.display());
    let (next, wrong) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    thread::scope(|scope| {
        for _ in 0..THREADS {
            scope.spawn(|| {
                while let Some(book) = books.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let found =
                        check(&scorer, book).into_iter().map(|what| format!("{}: {what}", book.name()));
                    wrong.lock().expect("no check panics with the lock").extend(found);
                }
            });
        }
    });
    let wrong = wrong.into_inner().expect("no check panics with the lock");
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Returns what ligule makes of a PDF.
fn text_of(book: &Book) -> Vec<u8> {
    let file = book.pdf.to_str().expect("names are ASCII");
    output(&mut Home::new().command(&["text", file])).expect("the binary can be started")
}

fn below(what: &str, figure: f64, least: f64) -> Option<String> {
    (figure < least).then(|| format!("{what} {figure:.4}, asked is {least:.4}"))
}

fn ahead(what: &str, figure: f64, of: f64) -> Option<String> {
    (figure <= of).then(|| format!("{what} {figure:.4}, which is not ahead of {of:.4}"))
}

#[test]
fn born_digital_books_come_out_as_printed() {
    check_books("born_digital_books_come_out_as_printed", |scorer, book| {
        if book.is_scan() {
            return Vec::new();
        }
        let text = text_of(book);
        let (all, flow) =
            (score(scorer, book, &text, With::Heads), score(scorer, book, &text, With::HeadsAndAsides));
        let hyphens = if book.name().contains("glossary") { HYPHENS_GLOSSARY } else { HYPHENS };
        [
            below("words", all.words, WORDS),
            below("order", flow.order, WORDS),
            below("hyphens", all.hyphens, hyphens),
            (all.heads > 0).then(|| format!("{} heads left", all.heads)),
        ]
        .into_iter()
        .flatten()
        .collect()
    });
}

#[test]
fn no_other_tool_is_ahead() {
    check_books("no_other_tool_is_ahead", |scorer, book| {
        let tools = [
            (
                "pdftotext",
                output(Command::new("pdftotext").args(["-q".as_ref(), book.pdf.as_os_str(), "-".as_ref()])),
            ),
            ("mutool", output(Command::new("mutool").args(["draw", "-q", "-F", "txt"]).arg(&book.pdf))),
        ];
        let text = text_of(book);
        let own = score(scorer, book, &text, With::AsidesAndNoHeads);
        let own_hyphens = score(scorer, book, &text, With::NoHeads).hyphens;
        let in_columns = book.is_in_columns();
        let mut wrong = Vec::new();
        for (tool, other_text) in tools {
            let Some(other_text) = other_text else {
                skip("no_other_tool_is_ahead", &format!("{tool} is not installed"));
                continue;
            };
            // Of scans it is asked only that ligule be no worse than poppler.
            if book.is_scan() && tool != "pdftotext" {
                continue;
            }
            let other = score(scorer, book, &other_text, With::AsidesAndNoHeads);
            let least = if book.is_scan() { other.words } else { other.words - BEHIND };
            wrong.extend(below(&format!("words beside {tool}"), own.words, least));
            let order = format!("order beside {tool}");
            if book.is_scan() || in_columns {
                wrong.extend(ahead(&order, own.order, other.order));
            } else {
                wrong.extend(below(&order, own.order, other.order - BEHIND));
            }
            if !book.is_scan() {
                let hyphens = score(scorer, book, &other_text, With::NoHeads).hyphens;
                wrong.extend(ahead(&format!("hyphens beside {tool}"), own_hyphens, hyphens));
            }
        }
        wrong
    });
}

/// Calls `ligule text` with little memory and waits for a while; returns what is wrong.
#[track_caller]
fn check_harmless(file: &Path) -> Option<String> {
    let home = Home::new();
    let mut command = Command::new("sh");
    command.arg("-c").arg(format!("ulimit -v {MEMORY}; exec \"$0\" text \"$1\""));
    command.arg(env!("CARGO_BIN_EXE_ligule")).arg(file).current_dir(home.path());
    command.env_clear().env("LIGULE_HOME", home.path().join("kept")).stdin(Stdio::null());
    let out = fs::File::create(home.path().join("out")).expect("a temporary file can be written");
    let err = fs::File::create(home.path().join("err")).expect("a temporary file can be written");
    let mut child = command.stdout(out).stderr(err).spawn().expect("sh is there");
    let start = Instant::now();
    let code = loop {
        if let Some(status) = child.try_wait().expect("the child is ours") {
            break status.code();
        }
        if start.elapsed() > PATIENCE {
            _ = child.kill();
            _ = child.wait();
            return Some(format!("not done after {} s", PATIENCE.as_secs()));
        }
        thread::sleep(Duration::from_millis(5));
    };
    let said = fs::read_to_string(home.path().join("err")).expect("ligule prints Unicode");
    match code {
        Some(0) => None,
        // The other lines tell of progress.
        Some(4) if said.lines().filter(|line| line.starts_with("ligule: ")).count() == 1 => None,
        Some(4) => Some(format!("no single sentence: {said}")),
        other => Some(format!("ended with {other:?}: {said}")),
    }
}

/// What comes of the harmful files, by the start of their names: how many words, or the start of the sentence said.
const HARMFUL: &[(&str, Result<usize, &str>)] = &[
    ("bad-header", Ok(2)),
    ("content-stream-broken", Ok(2)),
    ("decompression-bomb", Ok(7)),
    ("encrypted-needs-user-password", Err("the file is locked with a password")),
    ("encrypted-opens-without-password", Ok(36)),
    ("gov-docs-with-errors", Ok(4700)),
    ("huge-or-crashy-numbers", Err("the file holds no pages")),
    ("invisible-ocr-text", Ok(2200)),
    ("junk-before-header", Ok(6)),
    ("layout-columns-tables", Ok(1000)),
    ("not-pdf-bytes__pdfplumber__empty", Err("the file is empty")),
    ("not-pdf-bytes__qpdf", Err("this is no PDF file")),
    ("object-and-xref-streams", Ok(1)),
    ("page-tree-broken", Ok(2)),
    ("page-tree-loop-or-deep__format-corpus", Ok(2)),
    ("page-tree-loop-or-deep__safedocs", Ok(1)),
    ("rotated", Ok(200)),
    ("rtl", Ok(3)),
    ("trailer-eof-broken", Ok(2)),
    ("truncated-or-damaged", Ok(36)),
    // Its font holds drawings that no table names, and no other tool gives words of them.
    ("type0-without-tounicode", Err("no text can be read from the file")),
    ("type3-font", Ok(12)),
    ("vertical-writing", Ok(3)),
    ("xref-broken", Ok(2)),
    ("zero-pages", Err("the file holds no pages")),
];

/// Returns the files made to do harm, in the order of their names; none where they are not beside the project.
fn harmful(test: &str) -> Vec<PathBuf> {
    let Some(folder) = shared("reference/hostile") else {
        skip(test, "the reading matter is not beside the project, in ../shared");
        return Vec::new();
    };
    let entries = fs::read_dir(folder).expect("the folder can be read");
    let mut files: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    files.retain(|file| file.extension().is_some_and(|extension| extension == "pdf"));
    files.sort();
    assert!(!files.is_empty(), "no harmful file is there");
    files
}

/// Returns how the outcome for a harmful file differs from the one in the table.
fn check_outcome(file: &Path) -> Option<String> {
    let name = file.file_name()?.to_string_lossy().into_owned();
    let bytes = fs::read(file).expect("the file was found just now");
    let outcome = match ingest::text(SourceFile { name: name.clone(), bytes }, &|_, _| ()) {
        Ok(set) => {
            let lines = set.blocks.iter().flat_map(|block| &block.lines).flat_map(|line| &line.runs);
            Ok(lines.map(|run| run.text.split_whitespace().count()).sum::<usize>())
        }
        Err(error) => Err(error.why.to_string()),
    };
    let row = HARMFUL.iter().find(|(start, _)| name.starts_with(start));
    let as_expected = match (&outcome, row.map(|row| row.1)) {
        (Ok(words), Some(Ok(least))) => *words >= least,
        (Err(said), Some(Err(start))) => said.starts_with(start),
        _ => false,
    };
    (!as_expected).then(|| format!("{name}: {outcome:?}"))
}

#[test]
fn every_harmful_file_gives_what_can_be_had_of_it() {
    let files = harmful("every_harmful_file_gives_what_can_be_had_of_it");
    let wrong: Vec<String> = files.iter().filter_map(|file| check_outcome(file)).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_harmful_file_is_read_or_refused_in_one_sentence() {
    let files = harmful("a_harmful_file_is_read_or_refused_in_one_sentence");
    let wrong: Vec<String> = files
        .iter()
        .filter_map(|file| Some(format!("{}: {}", file.display(), check_harmless(file)?)))
        .collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
