//! Which sense of a term fits where it stands: the organ nearest to it decides. Words are not found here.

use std::ops::Range;

use crate::clause::{Clause, Part, bearers, organ_of};
use crate::link::Scene;
use crate::terms::Term;

/// What opens a clause about the organ that the one before names last.
const REFERRING: &str = "those ";

/// Words before the noun that a phrase between commas is about: an article and an adjective.
const WORDS_BEFORE_HEAD: usize = 2;

/// Returns the organs that a word may belong to, the likeliest first.
///
/// That is the noun right after it (acute petals), else the last noun before it in the same part between commas
/// (apex of petals acute), else the next one there, else what an earlier part opens with (the leaves opposite, simple), else
/// the organ of the clause; of a word that is an organ itself
/// the clause's goes before the next noun, unless `of` joins them (the throat closed by scales, the keel of petals).
pub(crate) fn organs(scene: &Scene<'_>, clause: &Clause, word: &Range<usize>) -> Vec<&'static str> {
    let between = |from: usize, to: usize| &scene.text[from..to];
    let others: Vec<&Part> = clause
        .parts
        .iter()
        .filter(|part| part.range.end <= word.start || part.range.start >= word.end)
        .collect();
    let same_item = |part: &&&Part| {
        let (from, to) = (part.range.end.min(word.end), part.range.start.max(word.start));
        !between(from.min(to), to).contains(',')
    };
    let before = others.iter().rev().find(|part| part.range.end <= word.start && same_item(part));
    let after = others.iter().find(|part| part.range.start >= word.end && same_item(part));
    let adjacent = after.filter(|part| between(word.end, part.range.start).trim().is_empty());
    let own = clause.parts.first().is_some_and(|part| part.range == *word);
    let those = scene.text[clause.range.clone()].starts_with(REFERRING);
    let referred = those.then(|| organs_before(scene, clause).first().copied()).flatten();
    let clause_organ = referred.or_else(|| clause.organ.as_deref().and_then(organ_of).filter(|_| !own));
    let is_organ = clause.parts.iter().any(|part| part.range == *word);
    let joined = |part: &&&Part| between(word.end, part.range.start).trim_start().starts_with("of ");
    let next = after.filter(|part| !is_organ || joined(part));
    let heads_item = |part: &&&Part| {
        let item = between(clause.range.start, part.range.start);
        let item = item.rsplit(',').next().unwrap_or(item).trim_start();
        item.starts_with("the ") && item.split_whitespace().count() <= WORDS_BEFORE_HEAD
    };
    let topic = others.iter().rev().find(|part| part.range.end <= word.start && heads_item(part));
    let near = [adjacent, before, next, topic].into_iter().flatten().map(|part| part.organ);
    let mut organs: Vec<&'static str> =
        near.chain(clause_organ).chain(others.iter().map(|part| part.organ)).collect();
    let mut seen: Vec<&str> = Vec::with_capacity(organs.len());
    organs.retain(|organ| {
        !seen.contains(organ) && {
            seen.push(organ);
            true
        }
    });
    organs
}

/// Returns the organs that the clause before names, the last first where this one begins with `those`, as they may be
/// what a clause without one goes on about.
pub(crate) fn organs_before(scene: &Scene<'_>, clause: &Clause) -> Vec<&'static str> {
    let at = scene.clauses.partition_point(|other| other.range.start < clause.range.start);
    let Some(before) = at.checked_sub(1).map(|at| &scene.clauses[at]) else { return Vec::new() };
    let parts = before.parts.iter().map(|part| part.organ);
    if scene.text[clause.range.clone()].starts_with(REFERRING) {
        return parts.rev().collect();
    }
    before.organ.as_deref().and_then(organ_of).into_iter().chain(parts).collect()
}

/// Returns the sense that names one of the groups of plants which the text tells.
pub(crate) fn of_group(term: &Term, groups: &[&str]) -> Option<usize> {
    if term.senses.len() < 2 {
        return None;
    }
    let names =
        |group: &&str| term.senses.iter().position(|sense| sense.organs.iter().any(|organ| organ == *group));
    groups.iter().find_map(names)
}

/// Returns the sense to show: one that fits the organs, else one that fits the organ which the word itself is, else
/// the only one, else the first that is bound to no organ.
pub(crate) fn shown(term: &Term, fits: Option<usize>, own: Option<&str>) -> Option<usize> {
    let unbound = || term.senses.iter().position(|sense| sense.organs.is_empty());
    let only = (term.senses.len() == 1).then_some(0);
    fits.or_else(|| fitting(term, &[own?])).or(only).or_else(unbound)
}

/// Returns the first sense that applies to one of the organs, or to what it is a kind or part of.
pub(crate) fn fitting(term: &Term, organs: &[&str]) -> Option<usize> {
    let has = |organ: &str| term.senses.iter().position(|sense| sense.organs.iter().any(|own| own == organ));
    organs.iter().flat_map(|organ| bearers(organ)).find_map(has)
}
