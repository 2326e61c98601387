//! Which sense of a term fits where it stands: the organ nearest to it decides. Words are not found here.

use std::ops::Range;

use crate::clause::{Clause, Part, Sureness, bearers, organ_of};
use crate::link::everyday::{ARTICLES, FREED, MEASURES, TIMES};
use crate::link::group::{Groups, named_in};
use crate::link::ordinary::Spot;
use crate::link::words::{Joint, Word};
use crate::link::{Scene, idiom};
use crate::terms::{Sense, Term};

/// What opens a clause about the organ that the one before names last.
const REFERRING: &str = "those ";

/// Words before the noun that a phrase between commas is about: an article and an adjective.
const WORDS_BEFORE_HEAD: usize = 2;

/// Returns the organs that a word may belong to, the likeliest first.
///
/// That is the noun right after it (acute petals), else the last noun before it in the same part between commas (apex
/// of petals acute), else the next one there, else what an earlier part opens with (the leaves opposite, simple), else
/// the organ of the clause; of a word that is an organ itself
/// the clause's goes before the next noun, unless `of` joins them (the throat closed by scales, the keel of petals).
pub(crate) fn organs(scene: &Scene<'_>, clause: &Clause, word: &Range<usize>) -> Vec<&'static str> {
    let between = |from: usize, to: usize| &scene.text[from..to];
    let is_other = |part: &&Part| part.range.end <= word.start || part.range.start >= word.end;
    let is_verb = |part: &Part| {
        let at = scene.words.partition_point(|word| word.range.start < part.range.start);
        at < scene.words.len() && idiom::is_in_one(scene.words, at)
    };
    let is_there = |part: &&Part| !is_time(scene, &part.range) && !is_ground(part, clause) && !is_verb(part);
    let others: Vec<&Part> = clause.parts.iter().filter(is_other).filter(is_there).collect();
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
    let time =
        |organ: &str| clause.parts.iter().any(|part| part.organ == organ && is_time(scene, &part.range));
    let of_clause = || clause.organ.as_deref().and_then(organ_of).filter(|organ| !own && !time(organ));
    let ground = clause.parts.iter().any(|part| is_ground(part, clause));
    let clause_organ = referred.or_else(|| of_clause().filter(|_| !ground));
    let is_organ = clause.parts.iter().any(|part| part.range == *word);
    let joined = |part: &&&Part| between(word.end, part.range.start).trim_start().starts_with("of ");
    let next = after.filter(|part| !is_organ || joined(part));
    let heads_item = |part: &&&Part| {
        let item = between(clause.range.start, part.range.start);
        let (listed, item) =
            item.rsplit_once(',').map_or((false, item), |(_, item)| (true, item.trim_start()));
        let words = item.split_whitespace().count();
        item.starts_with("the ") && words <= WORDS_BEFORE_HEAD
            || listed && words == 0 && part.sure == Sureness::Sure
    };
    let topic = others.iter().rev().find(|part| part.range.end <= word.start && heads_item(part));
    let listed = listed_before(scene, word, &others);
    let near = [adjacent, listed.as_ref(), before, next, topic].into_iter().flatten().map(|part| part.organ);
    // What a part has with it is no organ that it belongs to: `beak long, with stigmas`.
    let carried =
        |part: &&&Part| own && part.range.start > word.end && carries(between(word.end, part.range.start));
    let rest = others.iter().filter(|part| !carried(part)).map(|part| part.organ);
    let mut organs: Vec<&'static str> = near.chain(clause_organ).chain(rest).collect();
    let mut seen: Vec<&str> = Vec::with_capacity(organs.len());
    organs.retain(|organ| {
        !seen.contains(organ) && {
            seen.push(organ);
            true
        }
    });
    organs
}

/// Says whether the words between a noun and another make that one a part of the first or something upon it.
fn carries(between: &str) -> bool {
    between.split([' ', ',']).any(|word| matches!(word, "with" | "bearing"))
}

/// Says whether a wood is the ground under trees: behind another word and without a part of a plant (`open birch wood`).
fn is_ground(part: &Part, clause: &Clause) -> bool {
    part.organ == "wood"
        && part.range.start != clause.range.start
        && clause.parts.iter().all(|other| other.organ == "wood" || other.sure != Sureness::Sure)
}

/// Returns the noun that an adjective stands before in a list: `with acute, narrow ribs`.
fn listed_before<'a>(scene: &Scene<'_>, word: &Range<usize>, others: &[&'a Part]) -> Option<&'a Part> {
    let noun = *others.iter().find(|part| part.range.start >= word.end)?;
    let between = &scene.text[word.end..noun.range.start];
    let is_list = between.contains(',')
        && between.split_whitespace().count() <= WORDS_OF_LIST
        && between.chars().all(|letter| letter.is_alphabetic() || matches!(letter, ',' | ' ' | '-'));
    let from = scene.words.partition_point(|other| other.range.start < word.start);
    let before = scene.words[from.saturating_sub(WORDS_OF_LIST)..from].iter().rev();
    let mut before = before.take_while(|other| organ_of(&other.key).is_none());
    (is_list && before.any(|other| matches!(&*other.key, "with" | "without"))).then_some(noun)
}

/// Words of a list of adjectives before or behind one of them.
const WORDS_OF_LIST: usize = 4;

/// Says whether a part is what the plant is in, which is a time and no organ: `nodding in fruit`.
fn is_time(scene: &Scene<'_>, part: &Range<usize>) -> bool {
    scene.text[..part.start].ends_with("in ") && TIMES.contains(&&scene.text[part.clone()])
}

/// Says whether a word behind `in` is a time of year and no part of what follows: `in fruit`, but not `in fruit colour`.
pub(crate) fn is_whole_time(scene: &Scene<'_>, at: usize) -> bool {
    let next = scene.words.get(at + 1).filter(|_| scene.words[at].joint != Joint::Break);
    let goes_on = |next: &Word<'_>| {
        scene.words[at].joint == Joint::Hyphen
            || organ_of(&next.key).is_some()
            || MEASURES.contains(&&*next.key)
            || OF_A_PART.contains(&&*next.key)
    };
    TIMES.contains(&&*scene.words[at].key) && !next.is_some_and(goes_on)
}

/// What a part is compared by, besides [`MEASURES`].
const OF_A_PART: &[&str] = &["character", "characters", "color", "detail", "number", "structure", "type"];

/// Returns the sense of `free` before what it is not joined to: `free from the corolla`.
pub(crate) fn freed(spot: &Spot<'_>, term: &Term) -> Option<usize> {
    let words = spot.scene.words;
    let word = words.get(spot.at.start).filter(|word| FREED.contains(&&*word.key))?;
    words
        .get(spot.at.end)
        .filter(|next| word.joint == Joint::Blank && matches!(&*next.key, "from" | "of"))?;
    term.senses.iter().position(|sense| sense.contrasts.iter().any(|other| other == "adnate"))
}

/// Returns the sense for the end of a part that is named right after an adjective or several: `cuneate or cordate at
/// the base`, `rounded below`; a word of outline that stands in a list behind another one is of the base as well.
pub(crate) fn at_place(scene: &Scene<'_>, spot: &Spot<'_>, term: &Term) -> Option<usize> {
    let of = |place: &str| {
        term.senses
            .iter()
            .position(|sense| sense.organs.iter().any(|organ| organ == place) && !is_noun(&sense.definition))
    };
    if term.senses.len() < 2 {
        return None;
    }
    let words = scene.words;
    let within = |at: usize| words.get(at).filter(|word| word.range.start < spot.clause.range.end);
    let mut at = spot.at.end;
    let (mut listed, mut joined) = (scene.text[words[at - 1].range.end..].starts_with(','), false);
    while at < spot.at.end + WORDS_TO_PLACE {
        let word = within(at)?;
        match &*word.key {
            "below" if at == spot.at.end && !listed => return of("base"),
            // `Cordate, hairy at the base` says nothing of where it is cordate.
            "at" if listed && !joined => return None,
            "at" => {
                let article = usize::from(within(at + 1).is_some_and(|next| ARTICLES.contains(&&*next.key)));
                return of(organ_of(&within(at + 1 + article)?.key)?);
            }
            "or" => joined = true,
            "and" | "to" | "often" | "sometimes" | "usually" | "rarely" | "more" | "less" => {}
            key if key.ends_with("ly") => {}
            key if organ_of(key).is_some() || scene.lexicon.find(key).is_empty() => return None,
            _ => {}
        }
        listed |= scene.text[word.range.end..].starts_with(',');
        at += 1;
    }
    None
}

/// Words between an adjective and the place that is said of it and of others like it.
const WORDS_TO_PLACE: usize = 6;

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

/// Returns the sense of a noun that is of the group of plants which the text is about; of several groups the organ
/// decides (a key to grasses and sedges), as it does among the organs of one group (the scales of a pappus).
pub(crate) fn of_group(term: &Term, organs: &[&str], groups: Groups) -> Option<usize> {
    if term.senses.len() < 2 || groups.if_one().is_empty() {
        return None;
    }
    let has = |organ: &str| {
        let of = |sense: &Sense| sense.organs.iter().any(|own| own == organ) && is_noun(&sense.definition);
        term.senses.iter().position(of)
    };
    let named = || {
        let of = |sense: &Sense| is_noun(&sense.definition) && named_in(&sense.definition).0.meets(groups);
        term.senses.iter().position(of)
    };
    let nearest = || groups.organs().find(|own| organs.first() == Some(own)).and_then(has);
    // The group itself decides, but a part of its plants only where the text names no other organ of one of the senses.
    let own = || groups.organs().next().and_then(has);
    let other = organs
        .first()
        .is_some_and(|organ| term.senses.iter().any(|sense| sense.organs.iter().any(|own| own == organ)));
    let part = || if other { None } else { groups.organs().find_map(has) };
    nearest().or_else(own).or_else(part).or_else(named)
}

/// Returns the sense of a noun that opens its clause, where other words of the text tell of which organ it is.
pub(crate) fn of_opener(scene: &Scene<'_>, clause: &Clause, spot: &Spot<'_>, term: &Term) -> Option<usize> {
    let own = &scene.words[spot.at.start];
    let (_, _, organ) = OPENERS.iter().find(|(noun, beside, _)| {
        own.key == *noun && scene.words.iter().any(|word| beside.contains(&&*word.key))
    })?;
    let opens = own.range.start == clause.range.start || scene.words.iter().any(|word| word.key == NEEDLES);
    opens.then(|| term.senses.iter().position(|sense| sense.organs.iter().any(|own| own == organ)))?
}

/// Leaves of trees that have spurs and a crown of no other kind, wherever these stand.
const NEEDLES: &str = "needles";

/// Nouns that open a clause, words of which one must stand in the text, and the organ that the noun then is or is of.
const OPENERS: &[(&str, &[&str], &str)] = &[
    ("crown", &["bark", "bole", "needles", "trunk", "twigs"], "tree"),
    ("crown", &["perianth", "petals", "scape", "segments"], "flower"),
    ("keel", &["legume", "legumes", "pod", "pods", "standard"], "petal"),
    ("spurs", &[NEEDLES], "branch"),
    ("wings", &["keel", "standard"], "petal"),
];

/// Returns the sense of a noun that opens its clause and for which no organ tells, where the text has words that do.
pub(crate) fn of_text(scene: &Scene<'_>, clause: &Clause, spot: &Spot<'_>, term: &Term) -> Option<usize> {
    let own = &scene.words[spot.at.start];
    let (_, _, organ) = TELLING.iter().find(|(noun, beside, _)| {
        own.key == *noun && scene.words.iter().any(|word| beside.contains(&&*word.key))
    })?;
    let opens = own.range.start == clause.range.start;
    opens.then(|| term.senses.iter().position(|sense| sense.organs.iter().any(|own| own == organ)))?
}

/// Nouns that open a clause, words that tell of what they are a part, and that organ.
const TELLING: &[(&str, &[&str], &str)] = &[
    ("scales", &["cone", "cones", "strobile", "strobiles"], "cone"),
    ("scales", &["biconvex", "perigynia", "trigonous", "utricle", "utricles"], "sedge"),
    ("scales", &["catkin", "catkins"], "catkin"),
    ("spurs", &["drupe", "drupes", "needles", "pome", "pomes", "thorny", "twigs"], "branch"),
    ("teeth", &["calyx", "corolla", "limb", "throat"], "calyx"),
    ("tube", &["calyx", "corolla", "filaments", "limb", "perianth", "stamens"], "corolla"),
];

/// How the definition of a noun begins, behind the group that it is for.
const NOUN: &[&str] = &["a ", "an ", "any ", "each ", "one of ", "the "];

/// Says whether a definition is of a noun: an adjective goes by its organ and not by the group of plants.
fn is_noun(definition: &str) -> bool {
    let bare = definition.strip_prefix("in ").and_then(|rest| rest.split_once(", "));
    let bare = bare.map_or(definition, |(_, rest)| rest);
    NOUN.iter().any(|article| bare.starts_with(article))
}

/// Returns the senses of a term but for those that are of other groups of plants alone; all where all are.
fn at_home(term: &Term, groups: Groups) -> impl Iterator<Item = (usize, &Sense)> {
    let is_foreign = move |sense: &Sense| {
        let (named, alone) = named_in(&sense.definition);
        alone && !named.is_empty() && !named.meets(groups)
    };
    let foreign = term.senses.iter().enumerate().filter(|(_, sense)| is_foreign(sense));
    let foreign = if term.senses.len() < 2 { 0 } else { foreign.fold(0_u64, |bits, (at, _)| bits | bit(at)) };
    let all = term.senses.len() == foreign.count_ones() as usize;
    term.senses.iter().enumerate().filter(move |(at, _)| all || foreign & bit(*at) == 0)
}

fn bit(at: usize) -> u64 {
    1_u64.checked_shl(at as u32).unwrap_or(0)
}

/// Returns the sense to show: one that fits the organs, else one that fits the organ which the word itself is, else
/// the only one, else the first that is bound to no organ, else the first that is of no other group of plants.
pub(crate) fn shown(term: &Term, fits: Option<usize>, own: Option<&str>, groups: Groups) -> Option<usize> {
    let unbound = || term.senses.iter().position(|sense| sense.organs.is_empty());
    let first = || at_home(term, groups).next().map(|(at, _)| at);
    let only = (term.senses.len() == 1).then_some(0);
    fits.or_else(|| fitting(term, &[own?], groups)).or(only).or_else(unbound).or_else(first)
}

/// Returns the sense of a term for an organ, as of a part of a compound behind the first; none where it can't be told.
pub fn sense_for(term: &Term, organ: Option<&str>) -> Option<usize> {
    let organs: Vec<&str> = organ.into_iter().collect();
    fitting(term, &organs, Groups::default()).or((term.senses.len() == 1).then_some(0))
}

/// Returns the first sense that applies to one of the organs, or to what it is a kind or part of, and that is not of
/// other groups of plants alone.
pub(crate) fn fitting(term: &Term, organs: &[&str], groups: Groups) -> Option<usize> {
    let senses: Vec<(usize, &Sense)> = at_home(term, groups).collect();
    let has = |organ: &str| {
        let own = |(_, sense): &&(usize, &Sense)| sense.organs.iter().any(|own| own == organ);
        senses.iter().find(own).map(|(at, _)| *at)
    };
    organs.iter().flat_map(|organ| bearers(organ)).find_map(has)
}
