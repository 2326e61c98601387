//! Blocks come in; for each line that ends with a hyphen it is settled whether the word goes on or a compound does.
//!
//! The book itself is asked first, by all words that it prints unbroken, then the words that the caller knows.

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use crate::layout::{Block, Line, LineEnd};

/// First parts that keep their hyphen where nothing else is known: colours, quantities and degrees as floras use them.
const PREFIXES: &[&str] = &[
    "black", "blue", "brown", "dark", "few", "green", "grey", "half", "light", "long", "many", "non", "one",
    "pale", "pink", "purple", "red", "rose", "self", "short", "single", "two", "three", "four", "five",
    "six", "several", "white", "wide", "yellow",
];

/// Settles the ends of all lines.
pub(super) fn settle(blocks: &mut [Block], known: &dyn Fn(&str) -> bool) {
    let book = Vocabulary::of(blocks);
    let sign = sign(blocks, &book);
    for block in blocks {
        for index in 1..block.lines.len() {
            let end = end(&block.lines[index - 1], &block.lines[index], &book, known);
            let common = block.lines[index - 1].runs.last().is_some_and(|run| run.text.ends_with('-'));
            block.lines[index - 1].end = match (end, sign) {
                (LineEnd::Broken, Sign::Other) if common => LineEnd::Compound,
                (LineEnd::Compound, Sign::Other) if ends_with_sign(&block.lines[index - 1]) => {
                    LineEnd::Broken
                }
                (end, Sign::Same | Sign::Other) => end,
            };
        }
    }
}

/// Tells whether a line ends with a sign that is no common hyphen.
fn ends_with_sign(line: &Line) -> bool {
    line.runs.last().is_some_and(|run| run.text.ends_with(['\u{2010}', '\u{ad}']))
}

/// Which sign the book breaks words with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sign {
    /// The hyphen that it prints within compounds.
    Same,
    /// Another sign, or none: a hyphen at a line's end is always one of the compound.
    Other,
}

/// Broken words that must be sure, for each sure compound, before the common hyphen is taken for a sign of breaking.
const BREAKS_PER_COMPOUND: f32 = 0.34;
/// Line ends with another sign from which the book is taken to break words with it.
const MIN_OTHER: usize = 5;

/// Finds out by the words that the book prints both whole and parted.
fn sign(blocks: &[Block], book: &Vocabulary) -> Sign {
    let (mut broken, mut compound, mut other) = (0_usize, 0_usize, 0_usize);
    for pair in blocks.iter().flat_map(|block| block.lines.windows(2)) {
        let (Some(last), Some(first)) = (pair[0].runs.last(), pair[1].runs.first()) else { continue };
        other += usize::from(ends_with_sign(&pair[0]));
        let Some(stem) = last.text.strip_suffix('-') else { continue };
        let (before, after) = (letters_at_end(stem), letters_at_start(&first.text));
        if before.is_empty() || after.is_empty() {
            continue;
        }
        let (whole, hyphened) =
            (book.count(&format!("{before}{after}")), book.count(&format!("{before}-{after}")));
        broken += usize::from(whole > hyphened);
        compound += usize::from(hyphened > whole);
    }
    let rare = (broken as f32) < BREAKS_PER_COMPOUND * compound as f32;
    if other >= MIN_OTHER || rare { Sign::Other } else { Sign::Same }
}

fn end(line: &Line, next: &Line, book: &Vocabulary, known: &dyn Fn(&str) -> bool) -> LineEnd {
    let (Some(last), Some(first)) = (line.runs.last(), next.runs.first()) else { return LineEnd::Space };
    if last.text.ends_with('\u{ad}') {
        return LineEnd::Broken;
    }
    let Some(stem) = last.text.strip_suffix(['-', '\u{2010}']) else {
        return if last.text.ends_with(['–', '/']) && joins_range(&last.text, &first.text) {
            LineEnd::Compound
        } else {
            LineEnd::Space
        };
    };
    let before: String = letters_at_end(stem);
    let after: String = letters_at_start(&first.text);
    if before.is_empty() {
        let number =
            stem.ends_with(|c: char| c.is_numeric()) && first.text.starts_with(|c: char| c.is_alphanumeric());
        return if number { LineEnd::Compound } else { LineEnd::Space };
    }
    if after.is_empty() {
        return if first.text.starts_with(|c: char| c.is_numeric()) {
            LineEnd::Compound
        } else {
            LineEnd::Space
        };
    }
    if matches!(after.as_str(), "or" | "and" | "to") && book.count(&format!("{before}{after}")) == 0 {
        return LineEnd::Space;
    }
    judge(&before, &after, book, known)
}

/// Tells whether a dash or stroke at the line's end stands within a range or an alternative.
fn joins_range(before: &str, after: &str) -> bool {
    let inner = before.trim_end_matches(['–', '/']);
    inner.ends_with(|c: char| c.is_alphanumeric()) && after.starts_with(|c: char| c.is_alphanumeric())
}

fn judge(before: &str, after: &str, book: &Vocabulary, known: &dyn Fn(&str) -> bool) -> LineEnd {
    let joined = format!("{before}{after}").to_lowercase();
    let compound = format!("{before}-{after}").to_lowercase();
    let (whole, hyphened) = (book.count(&joined), book.count(&compound));
    if whole != hyphened {
        return if whole > hyphened { LineEnd::Broken } else { LineEnd::Compound };
    }
    // Who knows a compound may know it without its hyphen as well.
    if known(&compound) {
        return LineEnd::Compound;
    }
    if known(&joined) {
        return LineEnd::Broken;
    }
    let first = before.rsplit('-').next().unwrap_or(before).to_lowercase();
    let two_names = after.starts_with(char::is_uppercase) && !before.chars().all(char::is_uppercase);
    if two_names || PREFIXES.contains(&first.as_str()) {
        return LineEnd::Compound;
    }
    let after = after.to_lowercase();
    if book.has_start(&format!("{first}{after}"), first.len() + SYLLABLE) {
        return LineEnd::Broken;
    }
    let tails = book.tails.get(&after).copied().unwrap_or(0);
    let long = first.len() >= MIN_PART && after.len() >= MIN_PART;
    let is_word = |part: &str| book.count(part) > 0 || known(part);
    let two_words = is_word(&first) && is_word(&after);
    let short_word = first.len() + 1 == MIN_PART && book.count(&first) > 0 && tails >= MIN_TAIL;
    if short_word || long && (tails >= MIN_TAIL || two_words || tails > 0 && book.heads.contains_key(&first))
    {
        LineEnd::Compound
    } else {
        LineEnd::Broken
    }
}

/// Letters after the break by which a word of the same stem is known.
const SYLLABLE: usize = 3;
/// Compounds with the same second part from which that part is one that the book makes compounds with.
const MIN_TAIL: u32 = 3;
/// Bytes of a part that is a word by itself; shorter ones are syllables too.
const MIN_PART: usize = 4;

/// Returns the word, with hyphens inside, that the text ends with.
fn letters_at_end(text: &str) -> String {
    let start =
        text.char_indices().rev().take_while(|(_, c)| is_word(*c)).last().map_or(text.len(), |(at, _)| at);
    text[start..].trim_start_matches('-').to_owned()
}

fn letters_at_start(text: &str) -> String {
    text.chars().take_while(|c| is_word(*c)).collect::<String>().trim_end_matches('-').to_owned()
}

fn is_word(character: char) -> bool {
    match character {
        'a'..='z' | 'A'..='Z' | '-' | '’' | '\'' => true,
        // The block of general punctuation is asked for first: dashes are frequent, and the table of letters is long.
        '\0'..='\x7f' | '\u{2000}'..='\u{206f}' => false,
        other => other.is_alphabetic(),
    }
}

/// Blocks whose words are counted together.
const PART: usize = 4096;

/// How often the book prints each word within a line.
#[derive(Default)]
struct Vocabulary {
    words: FxHashMap<String, u32>,
    /// The words in order.
    sorted: Vec<String>,
    /// First parts of compounds.
    heads: FxHashMap<String, u32>,
    /// Last parts of compounds.
    tails: FxHashMap<String, u32>,
}

impl Vocabulary {
    fn of(blocks: &[Block]) -> Self {
        let parts = blocks.par_chunks(PART).map(Self::of_part);
        let mut book = parts.reduce(Self::default, Self::with);
        book.sorted = book.words.keys().cloned().collect();
        book.sorted.sort_unstable();
        book
    }

    fn of_part(blocks: &[Block]) -> Self {
        let mut part = Self::default();
        for line in blocks.iter().flat_map(|block| &block.lines) {
            let count = line.runs.len();
            for (index, run) in line.runs.iter().enumerate() {
                part.add(&run.text, index == 0, index + 1 == count);
            }
        }
        part
    }

    /// Returns the sums of both.
    fn with(mut self, other: Self) -> Self {
        add_all(&mut self.words, other.words);
        add_all(&mut self.heads, other.heads);
        add_all(&mut self.tails, other.tails);
        self
    }

    /// Counts words, but for those that the line's ends may have cut.
    fn add(&mut self, text: &str, first: bool, last: bool) {
        let cut_first = first && text.starts_with(char::is_lowercase);
        let cut_last = last && text.ends_with(['-', '\u{ad}', '\u{2010}']);
        let mut words = text.split(|c: char| !is_word(c)).filter(|word| !word.is_empty()).peekable();
        let mut at = 0;
        while let Some(word) = words.next() {
            at += 1;
            if at == 1 && cut_first || words.peek().is_none() && cut_last {
                continue;
            }
            let is_plain = |word: &str| word.bytes().all(|byte| byte.is_ascii_lowercase());
            let word = if is_plain(word) { word } else { word.trim_matches(['-', '’', '\'']) };
            if is_plain(word) {
                count(&mut self.words, word);
                continue;
            }
            let word = word.to_lowercase();
            if let Some((head, tail)) = word.split_once('-') {
                count(&mut self.heads, head);
                count(&mut self.tails, tail.rsplit('-').next().unwrap_or(tail));
            }
            count(&mut self.words, &word);
        }
    }

    /// Tells whether the book prints a word without hyphen that begins as this one does, up to so many bytes.
    fn has_start(&self, word: &str, bytes: usize) -> bool {
        let start = word.get(..bytes).unwrap_or(word);
        let at = self.sorted.partition_point(|found| found.as_str() < start);
        self.sorted.get(at).is_some_and(|found| found.starts_with(start))
    }

    fn count(&self, word: &str) -> u32 {
        self.words.get(&word.to_lowercase()).copied().unwrap_or(0)
    }
}

fn count(counts: &mut FxHashMap<String, u32>, word: &str) {
    match counts.get_mut(word) {
        Some(count) => *count += 1,
        None => _ = counts.insert(word.to_owned(), 1),
    }
}

#[expect(clippy::iter_over_hash_type, reason = "sums are the same in any order")]
fn add_all(counts: &mut FxHashMap<String, u32>, others: FxHashMap<String, u32>) {
    for (word, count) in others {
        *counts.entry(word).or_default() += count;
    }
}
