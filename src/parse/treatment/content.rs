//! What the sentences of a treatment say where no heading tells it (T13–T15, T38–T44): height above the sea, months,
//! places, kinds of ground, law. What they say of the plant is not read here.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::LazyLock;

use regex::Regex;

use crate::model::SectionKind;
use crate::parse::phrases;

/// Longest sentence that tells a height above the sea or months, in bytes.
const SHORT: usize = 90;

static ELEVATION: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(concat!(
        r"^(?i:(?:from|up to|to|below|above|near|mostly|usually|about|c\.|ca\.|sea[- ]level|at|between) ?)*",
        r"[\d –\-—−.,()+±]*(?:(?:to|and|or|rarely|up to|m|ft|feet|metres) ?[\d –\-—−.,()+±]*)*",
        r"(?:m|ft|feet|metres)\b(?: (?:a\. ?s\. ?l|above sea[- ]level|alt|s\. ?l))?\.*$"
    ))
    .expect("a fixed pattern")
});
static MEASURE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"\d\s?(?:mm|cm|dm|µm|m|in|ft|inch|inches|feet)\b").expect("a fixed pattern")
});

static COUNTS: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(
        r"^(?:About |Some |c\. ?)?(?:\d+|A single|One|Two|Three|Four|Five|Six|Seven|Eight|Nine|Ten) (?:genera|genus|species)\b",
    )
    .expect("a fixed pattern")
});

/// Says whether a sentence counts the members of a taxon.
pub(super) fn counts(sentence: &str) -> bool {
    COUNTS.is_match(sentence)
}

/// Names of places, learnt from lists: words with a capital in the midst of a sentence that never stand without it.
#[derive(Clone, Debug, Default)]
pub(super) struct Places {
    listed: BTreeSet<String>,
    common: BTreeSet<String>,
}

impl Places {
    /// Takes in a paragraph of a treatment.
    pub(super) fn learn(&mut self, paragraph: &str) {
        let mut before: Option<&str> = None;
        for word in paragraph.split_whitespace() {
            let bare = word.trim_matches(|c: char| !c.is_alphabetic());
            let small = bare.chars().next().is_some_and(char::is_lowercase);
            if small {
                self.common.insert(bare.to_owned());
            }
            if let Some(first) = before.filter(|_| !small) {
                for listed in [first, bare].into_iter().filter(|listed| listed.chars().count() > 2) {
                    self.listed.insert(listed.to_owned());
                }
            }
            before = (!small && word.ends_with(',')).then_some(bare);
        }
    }

    fn has(&self, word: &str) -> bool {
        self.listed.contains(word) && !self.common.contains(&word.to_lowercase())
    }
}

/// Cuts a stretch of text by what its sentences say; `rest` is what the first sentences are if they do not tell.
pub(super) fn parts(plain: &str, rest: SectionKind, places: &Places) -> Vec<(Range<usize>, SectionKind)> {
    let sentences = sentences(plain);
    let told: Vec<Option<SectionKind>> =
        sentences.iter().map(|sentence| told(plain[sentence.clone()].trim(), places)).collect();
    let mut parts: Vec<(Range<usize>, SectionKind)> = Vec::new();
    let mut last = rest;
    for (at, sentence) in sentences.iter().enumerate() {
        let words = plain[sentence.clone()].trim();
        let tail = told[at + 1..].iter().flatten().next().is_some();
        let next_told = told.get(at + 1).is_some_and(Option::is_some);
        let kind = told[at].unwrap_or_else(|| match last {
            SectionKind::Description if next_told && is_habitat(words) => SectionKind::Habitat,
            SectionKind::Description => SectionKind::Description,
            _ if at == 0 => rest,
            _ if opens_with_organ(words) && rest == SectionKind::Description && tail => {
                SectionKind::Description
            }
            SectionKind::Habitat
            | SectionKind::Distribution
            | SectionKind::Elevation
            | SectionKind::Phenology
            | SectionKind::Chromosomes
                if is_habitat(words) =>
            {
                SectionKind::Habitat
            }
            SectionKind::Elevation | SectionKind::Phenology | SectionKind::Chromosomes => SectionKind::Notes,
            other => other,
        });
        last = kind;
        match parts.last_mut() {
            Some((range, open)) if *open == kind => range.end = sentence.end,
            _ => parts.push((sentence.clone(), kind)),
        }
    }
    parts
}

/// What a sentence is surely about.
fn told(sentence: &str, places: &Places) -> Option<SectionKind> {
    let opens = |table: &[&str]| {
        table.iter().any(|opening| {
            sentence
                .strip_prefix(opening)
                .is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric()))
        })
    };
    if opens(phrases::CONSERVATION_OPENINGS) {
        Some(SectionKind::Conservation)
    } else if is_elevation(sentence) {
        Some(SectionKind::Elevation)
    } else if is_phenology(sentence) {
        Some(SectionKind::Phenology)
    } else if opens(phrases::DISTRIBUTION_OPENINGS) || is_place_list(sentence, places) {
        Some(SectionKind::Distribution)
    } else if opens(phrases::NOTES_OPENINGS) || counts(sentence) {
        Some(SectionKind::Notes)
    } else {
        phrases::USES.iter().any(|word| has_word(sentence, word)).then_some(SectionKind::Uses)
    }
}

fn is_elevation(sentence: &str) -> bool {
    sentence.len() < SHORT && sentence.contains(|c: char| c.is_ascii_digit()) && ELEVATION.is_match(sentence)
}

/// Months or seasons and the words that go with them, and nothing else.
fn is_phenology(sentence: &str) -> bool {
    let mut dated = false;
    let words = sentence.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty());
    let fits = words.map(str::to_lowercase).all(|word| {
        let date = phrases::MONTHS.iter().any(|month| {
            word == *month
                || word.len() >= 3 && month.starts_with(word.as_str()) && !phrases::SEASONS.contains(month)
        });
        dated |= date;
        date || phrases::DATE_WORDS.contains(&word.as_str())
    });
    sentence.len() < SHORT && fits && dated && !sentence.starts_with(char::is_lowercase)
}

/// `Great Skerry, Morvane and Norlund; locally common`: names with capitals, then perhaps how often.
fn is_place_list(sentence: &str, places: &Places) -> bool {
    let (list, after) = sentence.split_once([';', '(', ':']).unwrap_or((sentence, ""));
    let frequent = phrases::FREQUENCY.iter().any(|word| after.trim_start().starts_with(word));
    let list = list.trim().trim_end_matches('.');
    let parts: Vec<&str> = list.split(", ").flat_map(|part| part.split(" and ")).map(str::trim).collect();
    let capital = |word: &str| word.chars().next().is_some_and(char::is_uppercase);
    let named = |part: &&str| {
        let mut words = part.split_whitespace();
        capital(part) && words.all(|word| capital(word) || matches!(word, "of" | "the" | "de" | "la"))
    };
    let known = |part: &&str| part.split_whitespace().any(|word| places.has(word));
    sentence.ends_with('.')
        && parts.iter().all(named)
        && (parts.len() > 2 && after.is_empty() || frequent || parts.iter().any(known))
        && !list.contains(|c: char| c.is_ascii_digit())
}

fn is_habitat(sentence: &str) -> bool {
    let ground = sentence.split(|c: char| !c.is_alphabetic()).any(|word| {
        let lower = word.to_lowercase();
        let one = lower.strip_suffix("es").filter(|stem| phrases::GROUND.contains(stem));
        one.is_some() || phrases::GROUND.contains(&lower.strip_suffix('s').unwrap_or(&lower))
    });
    ground && !MEASURE.is_match(sentence) && !opens_with_organ(sentence)
}

/// Says whether a sentence opens with a noun of the plant's parts, as descriptions do (T14).
pub(super) fn opens_with_organ(sentence: &str) -> bool {
    let mut opening = sentence.split(|c: char| !(c.is_alphabetic() || c == '-')).take(2);
    opening.any(|word| {
        let lower = word.to_lowercase();
        phrases::ORGANS.contains(&lower.as_str())
            || phrases::ORGANS.contains(&lower.strip_suffix('s').unwrap_or(&lower))
    })
}

fn has_word(sentence: &str, wanted: &str) -> bool {
    sentence.match_indices(wanted).any(|(at, _)| {
        let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
        edge(sentence[..at].chars().next_back()) && edge(sentence[at + wanted.len()..].chars().next())
    })
}

/// Abbreviations whose stop ends no sentence.
const ABBREVIATIONS: &[&str] =
    &["c", "ca", "cf", "subsp", "ssp", "var", "f", "St", "approx", "no", "diam", "esp", "e.g", "i.e"];

/// Parts a text into its sentences, each up to where the next begins.
pub(super) fn sentences(plain: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let (mut start, mut depth) = (0, 0_i32);
    for (at, letter) in plain.char_indices() {
        depth += i32::from(matches!(letter, '(' | '[')) - i32::from(matches!(letter, ')' | ']'));
        let Some(rest) = plain[at..].strip_prefix(". ") else { continue };
        let word = plain[start..at].rsplit([' ', '(']).next().unwrap_or_default();
        let initial = word.chars().count() == 1 && word.chars().all(char::is_uppercase);
        let opens = rest.chars().next().is_some_and(|c| c.is_uppercase() || c.is_ascii_digit());
        if depth <= 0 && opens && !initial && !ABBREVIATIONS.contains(&word) {
            found.push(start..at + 2);
            start = at + 2;
        }
    }
    if start < plain.len() {
        found.push(start..plain.len());
    }
    found
}
