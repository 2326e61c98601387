//! The term that begins at a word of a text: a phrase, a hyphened word as a whole or in parts, or a single word.

use std::ops::Range;

use crate::clause::{Clause, organ_of};
use crate::link::compose::compose_unknown;
use crate::link::everyday::{KINDS, TIMES, TITLES};
use crate::link::parts::COMBINING;
use crate::link::words::{Joint, Word};
use crate::link::{Leads, Mark, Scene, frame, ordinary, sense};
use crate::terms::TermId;

/// Letters of the shortest term; shorter words are articles, prepositions and units.
const SHORTEST: usize = 3;

/// Returns the mark that begins at a word, if one does, and the word to go on with.
pub(crate) fn at(scene: &Scene<'_>, at: usize) -> (Option<Mark>, usize) {
    let end = hyphened_end(scene.words, at);
    if is_of_a_plants_name(scene, at..end) {
        return (None, end);
    }
    if frame::is_named_after_an_animal(&scene.words[at..end]) {
        return (None, end);
    }
    if let Some((mark, next)) = abbreviation(scene, at).or_else(|| phrase(scene, at)) {
        return (Some(mark), next);
    }
    if end - at == 1 {
        return (single(scene, at), end);
    }
    (hyphened(scene, at, end), end)
}

/// Says whether a word, hyphened or not, is capitalised as only names are: within a clause, or before another such.
fn is_of_a_plants_name(scene: &Scene<'_>, at: Range<usize>) -> bool {
    let words = scene.words;
    if !words[at.start].is_capitalised() {
        return false;
    }
    let within = at.start.checked_sub(1).is_some_and(|before| {
        let before = &words[before];
        // The number of a lead is no part of its sentence.
        let numbers = before.printed.starts_with(|sign: char| sign.is_ascii_digit());
        before.joint == Joint::Blank && !numbers
            || before.joint == Joint::Stop && TITLES.contains(&&*before.key)
    });
    let next = words.get(at.end).filter(|_| words[at.end - 1].joint == Joint::Blank);
    within || next.is_some_and(Word::is_capitalised)
}

/// Returns the word after the last that hyphens join to this one.
fn hyphened_end(words: &[Word<'_>], at: usize) -> usize {
    let joined = words[at..].iter().take_while(|word| word.joint == Joint::Hyphen).count();
    (at + joined + 1).min(words.len())
}

/// Returns the mark of an abbreviation of several words with full stops: `s.l.`, `s. str.`
fn abbreviation(scene: &Scene<'_>, at: usize) -> Option<(Mark, usize)> {
    let stopped = |word: &Word<'_>| word.joint == Joint::Stop && word.key.len() <= LETTERS_BEFORE_STOP;
    if !stopped(&scene.words[at]) {
        return None;
    }
    let stops = scene.words[at..].iter().take_while(|word| stopped(word)).count();
    (2..=stops + 1).rev().find_map(|count| {
        let words = scene.words.get(at..at + count)?;
        let key = words.iter().fold(String::new(), |key, word| key + &word.key + ".");
        let ids = scene.lexicon.find(&key);
        Some((mark(scene, at..at + count, &ids)?, at + count))
    })
}

/// Letters before a full stop within an abbreviation of several words at most.
const LETTERS_BEFORE_STOP: usize = 4;

/// Returns the longest phrase that begins at a word and ends with a whole word.
fn phrase(scene: &Scene<'_>, at: usize) -> Option<(Mark, usize)> {
    let words = &scene.words[at..];
    let longest = scene.lexicon.longest_phrase(&words[0].key).min(words.len());
    (2..=longest).rev().find_map(|count| {
        let (last, inner) = words[..count].split_last()?;
        let joined = inner.iter().all(|word| matches!(word.joint, Joint::Blank | Joint::Hyphen));
        if !joined || last.joint == Joint::Hyphen {
            return None;
        }
        let keys: Vec<&str> = words[..count].iter().map(|word| &*word.key).collect();
        let time = keys[0] == "in" && TIMES.contains(&keys[count - 1]);
        if time && !sense::is_whole_time(scene, at + count - 1) {
            return None;
        }
        let ids = scene.lexicon.find(&keys.join(" "));
        let mut found = mark(scene, at..at + count, &ids)?;
        // What leads to `in fruit` is the noun; the preposition is no part of what one would press.
        if time {
            found.range.start = words[1].range.start;
        }
        Some((found, at + count))
    })
}

fn single(scene: &Scene<'_>, at: usize) -> Option<Mark> {
    let word = &scene.words[at];
    if word.key.len() < SHORTEST {
        return shortened(scene, at);
    }
    let ids = scene.lexicon.find(&word.key);
    if ids.is_empty() {
        return composed(scene, at..at + 1);
    }
    mark(scene, at..at + 1, &ids)
}

/// Returns the mark of a word of two letters that the glossary has with a full stop behind: `cf.`
fn shortened(scene: &Scene<'_>, at: usize) -> Option<Mark> {
    let word = &scene.words[at];
    if word.joint != Joint::Stop || word.key.len() + 1 < SHORTEST {
        return None;
    }
    mark(scene, at..at + 1, &scene.lexicon.find(&format!("{}.", word.key)))
}

/// Returns the mark of a word, hyphened or not, that no glossary has but that is built from one which it has.
fn composed(scene: &Scene<'_>, at: Range<usize>) -> Option<Mark> {
    let keys: Vec<&str> = scene.words[at.clone()].iter().map(|word| &*word.key).collect();
    let composed = compose_unknown(&keys.join(" "), scene.lexicon)?;
    let range = scene.words[at.start].range.start..scene.words[at.end - 1].range.end;
    let organs = sense::organs(scene, clause_of(scene, &range)?, &range);
    let term = scene.lexicon.get(composed.part);
    let groups = scene.groups;
    let sense = sense::shown(term, sense::fitting(term, &organs, groups), organ_of(&term.name), groups);
    Some(Mark { range, leads: Leads::Composed(composed), sense, organ: organs.first().copied() })
}

/// Returns the mark of a hyphened word: the whole where the glossary has it, else its known parts.
fn hyphened(scene: &Scene<'_>, at: usize, end: usize) -> Option<Mark> {
    let keys: Vec<&str> = scene.words[at..end].iter().map(|word| &*word.key).collect();
    // `flora-2` is the name of a file or a part and no word with a number.
    if keys.last().is_some_and(|last| last.bytes().all(|byte| byte.is_ascii_digit())) {
        return None;
    }
    if keys.last().is_some_and(|last| frame::is_a_plant(last)) {
        return None;
    }
    if let Some(whole) = mark(scene, at..end, &scene.lexicon.find(&keys.join(" "))) {
        return Some(whole);
    }
    if let Some(whole) = composed(scene, at..end) {
        return Some(whole);
    }
    let parts: Vec<Mark> = (at..end).filter_map(|part| part_of(scene, part, end)).collect();
    let (first, last) = (parts.first()?, parts.last()?);
    if parts.len() == 1 {
        let kind = first.range.end == scene.words[end - 1].range.end && KINDS.contains(&keys[keys.len() - 1]);
        return (!kind).then(|| first.clone());
    }
    let ids = parts.iter().filter_map(|part| match &part.leads {
        Leads::Term(id) => Some(*id),
        Leads::Composed(composed) => Some(composed.part),
        Leads::Compound(_) | Leads::Name(_) => None,
    });
    let leads = Leads::Compound(ids.collect());
    Some(Mark { range: first.range.start..last.range.end, leads, sense: first.sense, organ: first.organ })
}

/// Returns the mark of one word of a hyphened one; before another it may have its combining form (`ovato-`).
fn part_of(scene: &Scene<'_>, at: usize, end: usize) -> Option<Mark> {
    let combined = || {
        let ids = scene.lexicon.find(&combining(&scene.words[at].key)?);
        mark(scene, at..at + 1, &ids)
    };
    single(scene, at).or_else(|| if at + 1 < end { combined() } else { None })
}

/// Returns the adjective that a combining form stands for: `ovate` for `ovato`, `lanceolate` for `lance`.
fn combining(key: &str) -> Option<String> {
    if let Some((_, whole)) = COMBINING.iter().find(|(form, _)| *form == key) {
        return Some((*whole).to_owned());
    }
    let stem = key.strip_suffix('o').filter(|stem| stem.len() >= SHORTEST)?;
    Some(if stem.ends_with("at") || stem.ends_with("os") { format!("{stem}e") } else { stem.to_owned() })
}

/// Returns the mark of some words that the lexicon has, unless they are only ordinary English here.
///
/// Of several entries of the most trusted source the first with a fitting sense is taken.
fn mark(scene: &Scene<'_>, at: Range<usize>, ids: &[TermId]) -> Option<Mark> {
    let first = *ids.first()?;
    let range = scene.words[at.start].range.start..scene.words[at.end - 1].range.end;
    let clause = clause_of(scene, &range)?;
    let organs = sense::organs(scene, clause, &range);
    let origin = &scene.lexicon.get(first).origin;
    let mut trusted = ids.iter().copied().filter(|id| scene.lexicon.get(*id).origin == *origin);
    let fit = |id: TermId| Some((id, sense::fitting(scene.lexicon.get(id), &organs, scene.groups)?));
    let (id, sense) = trusted.find_map(fit).map_or((first, None), |(id, sense)| (id, Some(sense)));
    let spot = ordinary::Spot { scene, clause, at, organs: &organs, fits: sense.is_some() };
    if ordinary::is_only_english(&spot) {
        return None;
    }
    // A wood without any part of a plant beside it is no tissue.
    let own = organ_of(&scene.words[spot.at.end - 1].key).filter(|own| *own != "wood" || !organs.is_empty());
    let term = scene.lexicon.get(id);
    let sense = sense::of_group(term, &organs, scene.groups)
        .or_else(|| sense::of_opener(scene, clause, &spot, term))
        .or_else(|| sense::freed(&spot, term))
        .or_else(|| sense::at_place(scene, &spot, term))
        .or(sense)
        .or_else(|| sense::fitting(term, &sense::organs_before(scene, clause), scene.groups))
        .or_else(|| sense::of_text(scene, clause, &spot, term));
    let sense = sense::shown(term, sense, own, scene.groups);
    Some(Mark { range, leads: Leads::Term(id), sense, organ: organs.first().copied() })
}

fn clause_of<'a>(scene: &Scene<'a>, range: &Range<usize>) -> Option<&'a Clause> {
    let after = scene.clauses.partition_point(|clause| clause.range.start <= range.start);
    scene.clauses.get(after.checked_sub(1)?)
}
