//! Does a description find its plant? Characters drawn from each flora's own descriptions, reworded with the glossary's
//! synonyms, are asked of the index; plain BM25 over whole descriptions and FTS5 of `SQLite` are asked the same.

#![expect(clippy::print_stdout, reason = "the figures are wanted, not only that they suffice")]

mod draw;

use std::collections::HashMap;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::support::{shared, skip};

use ligule::model::{Flora, Rank, Taxon};
use ligule::search::{Index, Narrow};
use ligule::terms::Lexicon;

use draw::{Drawn, description, drawn};

/// How well a way of searching finds.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Found {
    /// Questions.
    pub(crate) asked: usize,
    /// Those whose species is among the first ten.
    pub(crate) in_ten: usize,
    /// Sum of reciprocal ranks.
    reciprocal: f64,
}

impl Found {
    /// Notes the rank of the species, counted from 0.
    pub(crate) fn note(&mut self, rank: Option<usize>) {
        self.asked += 1;
        self.in_ten += usize::from(rank.is_some_and(|rank| rank < 10));
        self.reciprocal += rank.map_or(0.0, |rank| 1.0 / (rank as f64 + 1.0));
    }

    /// Returns the share among the first ten.
    pub(crate) fn share(&self) -> f64 {
        self.in_ten as f64 / self.asked.max(1) as f64
    }

    /// Returns the mean reciprocal rank.
    pub(crate) fn mrr(&self) -> f64 {
        self.reciprocal / self.asked.max(1) as f64
    }
}

/// Asks the index.
pub(crate) fn ours(index: &Index, flora: &Flora, questions: &[Drawn], lexicon: &Lexicon) -> Found {
    let mut found = Found::default();
    for question in questions {
        let answer =
            index.answer(&question.words, &Narrow::default(), flora.taxa.len(), lexicon).expect("it answers");
        let rank = answer.taxa.iter().position(|taxon| taxon.id == question.taxon);
        found.note(rank);
    }
    found
}

fn words(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

/// Asks plain BM25 over whole descriptions.
pub(crate) fn bm25(flora: &Flora, questions: &[Drawn]) -> Found {
    let species: Vec<&Taxon> = flora.taxa.iter().filter(|taxon| taxon.rank >= Rank::Species).collect();
    let texts: Vec<Vec<String>> = species.iter().map(|taxon| words(&description(taxon))).collect();
    let mean = texts.iter().map(Vec::len).sum::<usize>() as f64 / texts.len().max(1) as f64;
    let mut holding: HashMap<&str, Vec<(usize, f64)>> = HashMap::new();
    for (at, text) in texts.iter().enumerate() {
        for word in text {
            let rows = holding.entry(word).or_default();
            match rows.last_mut() {
                Some((last, times)) if *last == at => *times += 1.0,
                Some(_) | None => rows.push((at, 1.0)),
            }
        }
    }
    let mut found = Found::default();
    for question in questions {
        let mut scores = vec![0.0; species.len()];
        for word in words(&question.words) {
            let Some(rows) = holding.get(word.as_str()) else { continue };
            let (all, with) = (species.len() as f64, rows.len() as f64);
            let rarity = ((all - with + 0.5) / (with + 0.5) + 1.0).ln();
            for (at, times) in rows {
                let length = texts[*at].len() as f64 / mean;
                scores[*at] += rarity * times * 2.2 / (times + 1.2 * (0.25 + 0.75 * length));
            }
        }
        let own = species.iter().position(|taxon| taxon.id == question.taxon);
        found.note(own.map(|own| {
            scores
                .iter()
                .enumerate()
                .filter(|(at, score)| **score > scores[own] || **score >= scores[own] && *at < own)
                .count()
        }));
    }
    found
}

/// Asks an oracle that knows the very words printed: species by how many of the items their description holds.
pub(crate) fn oracle(flora: &Flora, questions: &[Drawn]) -> Found {
    let species: Vec<&Taxon> = flora.taxa.iter().filter(|taxon| taxon.rank >= Rank::Species).collect();
    let texts: Vec<String> = species.iter().map(|taxon| description(taxon)).collect();
    let mut found = Found::default();
    for question in questions {
        let held =
            |text: &String| question.printed.iter().filter(|words| text.contains(words.as_str())).count();
        let scores: Vec<usize> = texts.iter().map(held).collect();
        let own = species.iter().position(|taxon| taxon.id == question.taxon);
        let before = |own: usize| {
            scores
                .iter()
                .enumerate()
                .filter(|(at, score)| **score > scores[own] || **score == scores[own] && *at < own)
                .count()
        };
        found.note(own.map(before));
    }
    found
}

/// Asks FTS5 of `SQLite` through Python, where it is there.
pub(crate) fn fts5(flora: &Flora, questions: &[Drawn]) -> Option<Found> {
    const SCRIPT: &str = "import sqlite3,sys\n\
        rows=[line.rstrip('\\n').split('\\t') for line in sys.stdin]\n\
        c=sqlite3.connect(':memory:')\n\
        c.execute('create virtual table t using fts5(x)')\n\
        for kind,id,text in rows:\n\
        \x20   if kind=='d': c.execute('insert into t(rowid,x) values(?,?)',(int(id)+1,text))\n\
        for kind,id,text in rows:\n\
        \x20   if kind=='q':\n\
        \x20       q=' OR '.join('\"'+w+'\"' for w in text.split())\n\
        \x20       r=[x[0]-1 for x in c.execute('select rowid from t where t match ? order by bm25(t),rowid limit 3000',(q,))]\n\
        \x20       print(r.index(int(id)) if int(id) in r else -1)\n";
    let mut input = String::new();
    for taxon in flora.taxa.iter().filter(|taxon| taxon.rank >= Rank::Species) {
        let _ = writeln!(input, "d\t{}\t{}", taxon.id.0, description(taxon).replace(['\t', '\n'], " "));
    }
    for question in questions {
        let _ = writeln!(input, "q\t{}\t{}", question.taxon.0, words(&question.words).join(" "));
    }
    let mut python = Command::new("python3")
        .args(["-c", SCRIPT])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .ok()?;
    let mut stdin = python.stdin.take()?;
    let writer = std::thread::spawn(move || stdin.write_all(input.as_bytes()));
    let output = python.wait_with_output().ok()?;
    writer.join().ok()?.ok()?;
    if !output.status.success() {
        return None;
    }
    let mut found = Found::default();
    for line in String::from_utf8(output.stdout).ok()?.lines() {
        let rank: i64 = line.parse().ok()?;
        found.note(usize::try_from(rank).ok());
    }
    Some(found)
}

/// Reads a flora from its PDF.
pub(crate) fn flora(path: &Path) -> Flora {
    let bytes = std::fs::read(path).expect("it is there");
    let file = ligule::ingest::SourceFile { name: "flora.pdf".to_owned(), bytes };
    ligule::ingest::read(vec![file], &|_, _| ()).expect("it can be read").0
}

/// Puts one flora's figures in a line.
pub(crate) fn line(name: &str, [ours, bm25, fts5]: [&Found; 3]) -> String {
    let one = |found: &Found| format!("{:.1} % / {:.3}", found.share() * 100.0, found.mrr());
    format!(
        "{name:8} {:4} questions   facts {}   BM25 {}   FTS5 {}",
        ours.asked,
        one(ours),
        one(bm25),
        one(fts5)
    )
}

/// What must be reached: the share among the first ten, and the mean reciprocal rank.
const IN_TEN: f64 = 0.95;
const MRR: f64 = 0.80;

/// Checks that descriptions of a flora find their species, far ahead of searches for words.
#[track_caller]
fn check_found(name: &str) {
    let Some(path) = shared(&format!("reference/sim/{name}/flora.pdf")) else {
        return skip(name, "the reading matter is not beside the project, in ../shared");
    };
    let flora = flora(&path);
    let lexicon = Lexicon::with_flora(&flora.title, &flora.glossary);
    let index = Index::in_memory(&flora).expect("an index in memory");
    let questions = drawn(&flora, &lexicon);
    let (ours, words) = (ours(&index, &flora, &questions, &lexicon), bm25(&flora, &questions));
    let fts5 = fts5(&flora, &questions).unwrap_or_else(|| {
        skip(name, "python3 with FTS5 of SQLite is not installed: nothing is set beside our answers for it");
        Found::default()
    });
    let oracle = oracle(&flora, &questions);
    println!("{}   oracle {:.3}", line(name, [&ours, &words, &fts5]), oracle.mrr());
    assert!(ours.asked >= 30, "{name}: only {} questions", ours.asked);
    assert!(ours.share() >= IN_TEN && ours.mrr() >= MRR, "{}", line(name, [&ours, &words, &fts5]));
    assert!(
        ours.mrr() > words.mrr() + 0.2 && ours.mrr() > fts5.mrr() + 0.2,
        "{}",
        line(name, [&ours, &words, &fts5])
    );
}

#[test]
fn descriptions_of_alder_and_heath_find_their_species() {
    check_found("alder");
    check_found("heath");
}

#[test]
fn descriptions_of_juniper_and_fern_find_their_species() {
    check_found("juniper");
    check_found("fern");
}

#[test]
fn descriptions_of_larch_and_moss_find_their_species() {
    check_found("larch");
    check_found("moss");
}

#[test]
fn descriptions_of_the_largest_flora_find_their_species() {
    check_found("big");
}

#[test]
fn descriptions_of_sedge_and_willow_find_their_species() {
    check_found("sedge");
    check_found("willow");
}

/// Taxa looked at for precision.
const FIRST: usize = 5;
/// The precision that must be reached over questions of five right taxa or more, and over all.
const PRECISION: f64 = 0.9;

/// Precision at five over questions that five taxa or more answer, and over all at five or the number of right taxa.
#[derive(Default)]
struct Judged {
    at_five: Vec<f64>,
    all: Vec<f64>,
}

impl Judged {
    /// Asks a question and notes which share of the first taxa is right.
    fn ask(&mut self, index: &Index, flora: &Flora, (question, right): (&str, &[&str]), lexicon: &Lexicon) {
        for name in right {
            assert!(flora.taxa.iter().any(|taxon| taxon.name == *name), "no taxon {name}");
        }
        let most = right.len().min(FIRST);
        let answer = index.answer(question, &Narrow::default(), most, lexicon).expect("it answers");
        let fitting = answer.taxa.iter().filter(|taxon| right.contains(&taxon.name.as_str())).count();
        if fitting < most {
            let found: Vec<&str> = answer.taxa.iter().map(|taxon| taxon.name.as_str()).collect();
            println!("{question}: {}", found.join(", "));
        }
        let precision = fitting as f64 / most as f64;
        self.all.push(precision);
        if right.len() >= FIRST {
            self.at_five.push(precision);
        }
    }
}

/// Prints and checks a precision.
#[track_caller]
fn check_precision(what: &str, all: &[f64], least: f64) {
    let mean = all.iter().sum::<f64>() / all.len().max(1) as f64;
    println!("precision at {what}: {mean:.3} over {} questions", all.len());
    assert!(mean >= least, "at {what}: {mean:.3}");
}

#[test]
fn judged_questions_are_answered() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo/flora.pdf");
    let trees = shared("reference/michigan-trees-1913/michigan-trees-1913-chromium.pdf");
    let mut judged = Judged::default();
    for (book, path) in [("demo", Some(demo)), ("trees", trees)] {
        let Some(path) = path else {
            skip(book, "the reading matter is not beside the project, in ../shared");
            continue;
        };
        let flora = flora(&path);
        let lexicon = Lexicon::with_flora(&flora.title, &flora.glossary);
        let index = Index::in_memory(&flora).expect("an index in memory");
        let rows = include_str!("../judged.tsv").lines().filter(|row| !row.starts_with('#'));
        for row in rows {
            let [of, question, right] = row.split('\t').collect::<Vec<_>>()[..] else {
                panic!("three columns: {row}")
            };
            if of == book {
                let right: Vec<&str> = right.split(", ").collect();
                judged.ask(&index, &flora, (question, &right), &lexicon);
            }
        }
    }
    check_precision("five, of five right taxa or more", &judged.at_five, PRECISION);
    check_precision("five or the number of right taxa", &judged.all, PRECISION);
}
