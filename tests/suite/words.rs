//! The glossary and the linker held against lists from outside: what older books define, what keys say, and sentences
//! that were labelled by hand. What is left out on purpose stands in tables beside this file, each row with its reason.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Read;
use std::path::Path;
use std::sync::OnceLock;

use flate2::read::{GzDecoder, MultiGzDecoder};
use ligule::clause::bearers;
use ligule::link::{Leads, Linker, Mark};
use ligule::terms::{Lexicon, Term};
use serde_json::Value;

use crate::support::{shared, skip};

/// The dictionary, as its Debian package installs it.
const GCIDE: &str = "/usr/share/dictd/gcide";

/// Reads a file of the project.
fn own(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Reads a table of the project whose rows each have a key and a reason.
fn left_out(table: &str) -> BTreeSet<String> {
    let text = own(&format!("tests/suite/{table}"));
    let row = |line: &str| {
        let mut cells = line.split('\t');
        let key = cells.next().unwrap_or_default().to_owned();
        assert!(cells.next_back().is_some_and(|reason| !reason.is_empty()), "{table}: {key} has no reason");
        key
    };
    text.lines().map(row).collect()
}

fn lexicon() -> &'static Lexicon {
    static LEXICON: OnceLock<Lexicon> = OnceLock::new();
    LEXICON.get_or_init(Lexicon::built_in)
}

fn terms() -> impl Iterator<Item = &'static Term> {
    lexicon().names().map(|(_, id)| lexicon().get(id))
}

/// Returns the words of a text in lower case: letters, with hyphens and apostrophes within.
fn words(text: &str) -> impl Iterator<Item = String> {
    let outside = |letter: char| !(letter.is_alphabetic() || matches!(letter, '-' | '\'' | '’'));
    let trimmed = |word: &str| word.trim_matches(|letter: char| !letter.is_alphabetic()).to_lowercase();
    text.split(outside).map(trimmed).filter(|word| !word.is_empty()).collect::<Vec<_>>().into_iter()
}

/// Returns a part as a percentage, for what a failed test says.
fn percent(part: usize, whole: usize) -> f64 {
    100.0 * part as f64 / whole as f64
}

// What older books define.

/// Most of the 1887 list that may be left out, and least of the rest that must be answered.
const GRAY: (f64, f64) = (25.0, 98.0);

#[test]
fn the_glossary_of_1887_is_answered() {
    let Some(path) = shared("reference/terms-gray-1887.txt") else {
        return skip("terms of 1887", "the list is not beside the project, in ../shared");
    };
    let text = fs::read_to_string(path).expect("it is text");
    let all: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
    let left = left_out("left-out-gray.tsv");
    let kept: Vec<&&str> = all.iter().filter(|term| !left.contains(**term)).collect();
    assert_eq!(all.len() - kept.len(), left.len(), "the table names terms that the list has not");
    assert!(percent(left.len(), all.len()) <= GRAY.0, "{} are left out", left.len());
    let missing: Vec<_> = kept.iter().filter(|term| lexicon().look_up(term).is_empty()).collect();
    let answered = percent(kept.len() - missing.len(), kept.len());
    assert!(answered >= GRAY.1, "{answered:.2} % answered, without {missing:?}");
}

/// Least of the plant structures that one of their names must lead to.
const STRUCTURES: f64 = 90.0;

#[test]
fn the_plant_ontologys_structures_are_answered_by_some_name() {
    let Some(path) = shared("reference/terms-po.txt") else {
        return skip("terms of the Plant Ontology", "the list is not beside the project, in ../shared");
    };
    let text = fs::read_to_string(path).expect("it is text");
    let mut structures: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (name, id) in text.lines().filter_map(|line| line.split_once('\t')) {
        structures.entry(id.trim()).or_default().push(name);
    }
    let left = left_out("left-out-po.tsv");
    let answered = |names: &[&str]| names.iter().any(|name| !lexicon().look_up(name).is_empty());
    let missing: Vec<&str> =
        structures.iter().filter(|(_, names)| !answered(names)).map(|(id, _)| *id).collect();
    assert!(percent(structures.len() - missing.len(), structures.len()) >= STRUCTURES, "{missing:?}");
    let unexplained: Vec<_> = missing.iter().filter(|id| !left.contains(**id)).collect();
    assert!(unexplained.is_empty(), "neither answered nor left out with a reason: {unexplained:?}");
}

// Closure.

#[test]
fn contrasts_broader_terms_and_senders_are_headwords_or_their_forms() {
    let lost: Vec<String> = terms()
        .flat_map(|term| {
            let senses = term.senses.iter().flat_map(|sense| sense.contrasts.iter().chain(&sense.broader));
            senses.chain(&term.see).map(move |named| (term, named))
        })
        .filter(|(_, named)| lexicon().look_up(named).is_empty())
        .map(|(term, named)| format!("{} → {named}", term.name))
        .collect();
    assert_eq!(lost, Vec::<String>::new());
}

#[test]
fn no_definition_uses_its_own_headword() {
    let mut circular = Vec::new();
    for (_, id) in lexicon().names() {
        let term = lexicon().get(id);
        for sense in &term.senses {
            let own = words(&sense.definition).filter(|word| lexicon().look_up(word).contains(&id));
            circular.extend(own.map(|word| format!("{}: {word}", term.name)));
        }
    }
    assert_eq!(circular, Vec::<String>::new());
}

/// Words of one definition at most.
const LONGEST_DEFINITION: usize = 40;

#[test]
fn definitions_are_short_and_of_one_sentence() {
    let long = |term: &&Term| {
        term.senses.iter().any(|sense| {
            sense.definition.split_whitespace().count() > LONGEST_DEFINITION
                || sense.definition.contains(". ")
        })
    };
    assert_eq!(terms().filter(long).map(|term| &term.name).collect::<Vec<_>>(), Vec::<&String>::new());
}

#[test]
fn every_technical_word_of_a_definition_is_defined() {
    let (Some(gray), Some(gcide)) = (shared("reference/terms-gray-1887.txt"), gcide()) else {
        return skip("closure", "the list of 1887 or the dictionary (dict-gcide) is missing");
    };
    let gray = fs::read_to_string(gray).expect("it is text");
    let left = left_out("left-out-gray.tsv");
    let technical: BTreeSet<String> =
        gray.lines().filter(|term| !left.contains(*term)).map(str::to_lowercase).collect();
    let plants = left_out("left-out-gcide.tsv");
    let mut open: BTreeMap<String, &str> = BTreeMap::new();
    for term in terms() {
        for text in term.senses.iter().flat_map(|sense| std::iter::once(&sense.definition).chain(&sense.note))
        {
            for word in words(text) {
                let counts = technical.contains(&word) || gcide.botanical(&word) && !plants.contains(&word);
                if counts && lexicon().look_up(&word).is_empty() {
                    open.insert(word, &term.name);
                }
            }
        }
    }
    assert_eq!(open, BTreeMap::new());
}

// Words of keys.

/// The dictionary: which words have a sense of botany that is no plant's name.
struct Gcide {
    text: Vec<u8>,
    entries: BTreeMap<String, Vec<(usize, usize)>>,
}

/// Opens the dictionary where it is installed.
fn gcide() -> Option<&'static Gcide> {
    static OPENED: OnceLock<Option<Gcide>> = OnceLock::new();
    let open = || {
        let index = fs::read(format!("{GCIDE}.index")).ok()?;
        let packed = fs::read(format!("{GCIDE}.dict.dz")).ok()?;
        let mut text = Vec::new();
        MultiGzDecoder::new(&packed[..]).read_to_end(&mut text).ok()?;
        let mut entries: BTreeMap<String, Vec<(usize, usize)>> = BTreeMap::new();
        for line in String::from_utf8_lossy(&index).lines() {
            let mut cells = line.split('\t');
            let (Some(word), Some(at), Some(long)) = (cells.next(), cells.next(), cells.next()) else {
                continue;
            };
            entries.entry(word.to_lowercase()).or_default().push((number(at), number(long)));
        }
        Some(Gcide { text, entries })
    };
    OPENED.get_or_init(open).as_ref()
}

/// Reads a number of the index, which is written to the base of 64.
fn number(figures: &str) -> usize {
    const FIGURES: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    figures.chars().fold(0, |sum, figure| sum * 64 + FIGURES.find(figure).unwrap_or(0))
}

impl Gcide {
    /// Says whether an entry for the word has a botanical sense of its own that neither is nor sends on to a plant.
    fn botanical(&self, word: &str) -> bool {
        let entries = self.entries.get(word).map_or(&[][..], Vec::as_slice);
        entries.iter().any(|(at, long)| {
            let text = String::from_utf8_lossy(&self.text[*at..*at + *long]);
            let headed = text.trim_start().to_lowercase().starts_with(word);
            headed && text.split("(Bot.)").skip(1).any(is_of_no_plant)
        })
    }
}

/// Says whether a sense, from its `(Bot.)` on, is its own, and neither a plant's name nor a pointer to another word.
fn is_of_no_plant(sense: &str) -> bool {
    let sense = sense.split('[').next().unwrap_or_default().split_whitespace().collect::<Vec<_>>().join(" ");
    let opening: String = sense.chars().take(60).collect();
    let is_plant = ["genus", "tree", "shrub", "plant", "herb", "weed", "vine", "fungus", "species", "name"];
    let names_plant = words(&opening).any(|word| is_plant.contains(&word.trim_end_matches('s')));
    let scientific = sense.split("({").skip(1).any(|name| name.starts_with(char::is_uppercase));
    // A comma goes on from a compound that the entry has run in: `{White bryony} (Bot.), a climber`.
    !(names_plant || scientific || sense.starts_with(',') || sense.starts_with("See"))
}

/// Returns the texts of all leads of the reference floras.
fn leads() -> Option<&'static [String]> {
    static LEADS: OnceLock<Option<Vec<String>>> = OnceLock::new();
    let read = || {
        let mut texts = Vec::new();
        for folder in [shared("reference")?, shared("reference/sim")?] {
            let mut books: Vec<_> = folder.read_dir().ok()?.flatten().map(|entry| entry.path()).collect();
            books.sort();
            for book in books {
                let plain = fs::read(book.join("gold.json")).ok();
                let gold = plain.or_else(|| {
                    let mut bytes = Vec::new();
                    let packed = fs::read(book.join("gold.json.gz")).ok()?;
                    GzDecoder::new(&packed[..]).read_to_end(&mut bytes).ok()?;
                    Some(bytes)
                });
                let Some(gold) = gold else { continue };
                collect(&serde_json::from_slice(&gold).expect("gold is JSON"), &mut texts);
            }
        }
        Some(texts)
    };
    LEADS.get_or_init(read).as_deref()
}

/// Adds the texts of the leads of a dump.
fn collect(dump: &Value, texts: &mut Vec<String>) {
    let all = |value: &Value, member: &str| value[member].as_array().cloned().unwrap_or_default();
    for key in all(dump, "keys") {
        for couplet in all(&key, "couplets") {
            let leads = all(&couplet, "leads");
            texts.extend(leads.iter().filter_map(|lead| lead["text"].as_str()).map(str::to_owned));
        }
    }
}

/// Returns the distinct words of all leads, hyphened ones also in parts, that the list of 1887 or the dictionary has.
fn technical_words(leads: &[String], gray: &Path, gcide: &Gcide) -> BTreeSet<String> {
    let gray = fs::read_to_string(gray).expect("it is text");
    let gray: BTreeSet<&str> = gray.lines().collect();
    let plants = left_out("left-out-gcide.tsv");
    let mut all = BTreeSet::new();
    for word in leads.iter().flat_map(|lead| words(lead)) {
        all.extend(word.split('-').filter(|part| !part.is_empty()).map(str::to_owned));
        all.insert(word);
    }
    all.retain(|word| !plants.contains(word) && (gray.contains(&**word) || gcide.botanical(word)));
    all
}

/// Least of the words of keys that must be answered, and least of their places that must be marked.
const OF_KEYS: (f64, f64) = (99.0, 97.0);

/// Least of the marks of which one sense is told.
const SENSED: f64 = 99.5;

/// Technical words that the leads have at least, so that the test can't pass on nothing.
const MANY: usize = 400;

#[test]
fn words_of_keys_are_answered_and_marked_where_they_stand() {
    let (Some(leads), Some(gray), Some(gcide)) = (leads(), shared("reference/terms-gray-1887.txt"), gcide())
    else {
        return skip("words of keys", "the reference floras or the dictionary (dict-gcide) are missing");
    };
    let technical = technical_words(leads, &gray, gcide);
    assert!(technical.len() >= MANY, "only {} words", technical.len());
    let missing: Vec<&String> = technical.iter().filter(|word| lexicon().look_up(word).is_empty()).collect();
    let answered = percent(technical.len() - missing.len(), technical.len());
    assert!(answered >= OF_KEYS.0, "{answered:.2} % of {} answered, without {missing:?}", technical.len());
    let linker = Linker::new(std::iter::empty());
    let (mut places, mut unmarked) = (0_usize, BTreeMap::<String, usize>::new());
    let (mut all, mut senseless) = (0_usize, BTreeMap::<&str, usize>::new());
    for lead in leads {
        let marks = linker.marks(lead, lexicon());
        for mark in &marks {
            all += 1;
            if let (Leads::Term(id), None) = (&mark.leads, mark.sense) {
                *senseless.entry(&lexicon().get(*id).name).or_default() += 1;
            }
        }
        for (word, at) in placed(lead) {
            if technical.contains(&word) && !lexicon().look_up(&word).is_empty() {
                places += 1;
                if !marks.iter().any(|mark| mark.range.contains(&at)) {
                    *unmarked.entry(word).or_default() += 1;
                }
            }
        }
    }
    let marked = percent(places - unmarked.values().sum::<usize>(), places);
    assert!(marked >= OF_KEYS.1, "{marked:.2} % of {places} places marked, without {unmarked:?}");
    let sensed = percent(all - senseless.values().sum::<usize>(), all);
    assert!(sensed >= SENSED, "a sense is told for {sensed:.2} % of {all} marks, for none of {senseless:?}");
}

/// Returns the words of a text with their first bytes, hyphened ones in parts.
fn placed(text: &str) -> Vec<(String, usize)> {
    let mut all = Vec::new();
    let mut start = 0;
    for piece in text.split_inclusive(|letter: char| !letter.is_alphabetic()) {
        let word = piece.trim_end_matches(|letter: char| !letter.is_alphabetic());
        if !word.is_empty() {
            all.push((word.to_lowercase(), start));
        }
        start += piece.len();
    }
    all
}

// Sentences labelled by hand.

/// What the label says of a word.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Label {
    /// It leads to a term, perhaps with the sense of an organ.
    Term(Option<String>),
    /// It may or may not.
    Open,
}

/// A labelled sentence: its words, and the labelled parts.
struct Sentence {
    plain: String,
    labels: Vec<(std::ops::Range<usize>, Label)>,
}

/// Reads `[word]`, `[word|organ]` and `{word}`.
fn sentence(line: &str) -> Sentence {
    let (mut plain, mut labels, mut rest) = (String::new(), Vec::new(), line);
    while let Some(at) = rest.find(['[', '{']) {
        let close = if rest[at..].starts_with('[') { ']' } else { '}' };
        let end = at + rest[at..].find(close).unwrap_or_else(|| panic!("a bracket stays open: {line}"));
        plain.push_str(&rest[..at]);
        let (word, organ) = match rest[at + 1..end].split_once('|') {
            Some((word, organ)) => (word, Some(organ.to_owned())),
            None => (&rest[at + 1..end], None),
        };
        let label = if close == ']' { Label::Term(organ) } else { Label::Open };
        labels.push((plain.len()..plain.len() + word.len(), label));
        plain.push_str(word);
        rest = &rest[end + 1..];
    }
    plain.push_str(rest);
    Sentence { plain, labels }
}

/// Counts over all sentences.
#[derive(Default)]
struct Score {
    right: usize,
    extra: Vec<String>,
    missed: Vec<String>,
    senses: usize,
    wrong_senses: Vec<String>,
}

impl Score {
    fn add(&mut self, sentence: &Sentence, marks: &[Mark]) {
        for (word, at) in placed(&sentence.plain) {
            let label = sentence.labels.iter().find(|(range, _)| range.contains(&at)).map(|(_, label)| label);
            let marked = marks.iter().any(|mark| mark.range.contains(&at));
            let told = || format!("{word} | {}", sentence.plain);
            match (label, marked) {
                (Some(Label::Open), _) | (None, false) => {}
                (Some(Label::Term(_)), true) => self.right += 1,
                (Some(Label::Term(_)), false) => self.missed.push(told()),
                (None, true) => self.extra.push(told()),
            }
        }
        for (range, label) in &sentence.labels {
            let Label::Term(Some(organ)) = label else { continue };
            self.senses += 1;
            let mark = marks.iter().find(|mark| mark.range.contains(&range.start));
            if !mark.is_some_and(|mark| names_organ(mark, organ)) {
                self.wrong_senses.push(format!(
                    "{} | {} | {mark:?}",
                    &sentence.plain[range.clone()],
                    sentence.plain
                ));
            }
        }
    }
}

/// Says whether the sense that a mark shows is that of an organ, or of what the organ is a kind or part of.
fn names_organ(mark: &Mark, organ: &str) -> bool {
    let (Leads::Term(id), Some(sense)) = (&mark.leads, mark.sense) else { return false };
    let organs = &lexicon().get(*id).senses[sense].organs;
    bearers(organ).any(|organ| organs.iter().any(|own| own == organ))
}

/// Sentences at least; precision, recall and right senses in percent at least.
const LABELLED: (usize, f64, f64, f64) = (400, 99.0, 98.0, 95.0);

/// The files of labelled sentences. The last three were labelled on one day by three hands: prose full of words in their
/// ordinary sense, leads and descriptions with thirty lines of such prose, and leads and descriptions alone.
const SETS: &[&str] = &[
    "labelled", "blind-a", "blind-b", "blind-c", "blind-d", "blind-e", "blind-f", "blind-g", "blind-h",
    "blind-i", "blind-j", "blind-k", "blind-l", "blind-m", "blind-o", "blind-p", "blind-n",
];

/// Returns the sentences of a file of labelled ones.
fn labelled(set: &str) -> Vec<Sentence> {
    let text = own(&format!("tests/fixtures/marks/{set}.txt"));
    text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')).map(sentence).collect()
}

#[track_caller]
fn check_marks(sentences: &[Sentence]) {
    let linker = Linker::new(std::iter::empty());
    let mut score = Score::default();
    for sentence in sentences {
        score.add(sentence, &linker.marks(&sentence.plain, lexicon()));
    }
    let precision = percent(score.right, score.right + score.extra.len());
    let recall = percent(score.right, score.right + score.missed.len());
    assert!(precision >= LABELLED.1, "precision {precision:.2} %: {:#?}", score.extra);
    assert!(recall >= LABELLED.2, "recall {recall:.2} %: {:#?}", score.missed);
    let right = score.senses - score.wrong_senses.len();
    let wrong = &score.wrong_senses;
    let enough = percent(right, score.senses) >= LABELLED.3 || wrong.len() < 2;
    assert!(enough, "{right} of {} senses: {wrong:#?}", score.senses);
}

#[test]
fn sentences_labelled_by_hand_are_marked_as_labelled() {
    let sentences: Vec<Sentence> = SETS.iter().flat_map(|set| labelled(set)).collect();
    assert!(sentences.len() >= LABELLED.0, "only {} sentences", sentences.len());
    check_marks(&sentences);
}

#[test]
fn leads_and_descriptions_labelled_last_are_marked_as_labelled() {
    check_marks(&labelled(SETS[SETS.len() - 1]));
}

// The review.

/// Definitions that were reviewed at least: every eighth headword that has a sense, in alphabetical order, when the
/// table was made.
const REVIEWED: usize = 150;

/// Headwords with one first letter from which on one of them was reviewed.
const MANY_OF_A_LETTER: usize = 20;

#[test]
fn the_review_covers_the_alphabet_and_gives_a_reason_for_every_difference() {
    let text = own("tests/suite/review.tsv");
    let rows: Vec<Vec<&str>> = text.lines().map(|line| line.split('\t').collect()).collect();
    assert!(rows.len() >= REVIEWED, "only {} rows", rows.len());
    let firsts: BTreeSet<char> = rows.iter().filter_map(|row| row[0].chars().next()).collect();
    let headwords = |letter: char| terms().filter(|term| term.name.starts_with(letter)).count();
    let without =
        ('a'..='z').filter(|letter| !firsts.contains(letter) && headwords(*letter) >= MANY_OF_A_LETTER);
    assert_eq!(without.collect::<String>(), "", "letters without a row");
    for row in &rows {
        assert_eq!(row.len(), 4, "{row:?}");
        assert!(lexicon().by_name(row[0]).is_some(), "{} is no headword", row[0]);
        let known = |said: &&str| matches!(*said, "agrees" | "absent" | "differs");
        assert!(row[1..3].iter().all(known), "{row:?}");
        assert!(!row[1..3].contains(&"differs") || !row[3].is_empty(), "{} has no reason", row[0]);
    }
}
