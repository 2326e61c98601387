//! Figures of speech that are told by what they are said of: `work bore fruit`, but not `the tree bore fruit`; and words
//! of status that any prose uses (`vulnerable to frost`). Fixed phrases are in `idiom`.

use crate::clause::organ_of;
use crate::link::Scene;
use crate::link::everyday::{ORIGIN, listed};
use crate::link::kinds::{ANIMALS, PLANTS};
use crate::link::ordinary::Spot;
use crate::link::things::THINGS;
use crate::link::words::{Joint, Word};

/// Organs that English has one get or give, and the verbs with which it does.
const FIGURES: &[(&str, &[&str])] =
    &[("fruit", &["bore", "borne"]), ("root", &["taken", "takes", "took"]), ("head", &["reared"])];

/// Words of one's own that a group of people has: `a society with a branch on each island`.
const OF_COMPANIES: &[&str] = &["branch", "branches", "organ"];

/// Companies of people.
const COMPANIES: &[&str] = &[
    "association",
    "bank",
    "church",
    "club",
    "company",
    "council",
    "government",
    "party",
    "society",
    "union",
];

/// Words that stand for a plant or are said of one before a verb.
const FOR_A_PLANT: &[&str] = &[
    "all",
    "also",
    "and",
    "both",
    "but",
    "each",
    "ever",
    "few",
    "first",
    "have",
    "having",
    "has",
    "had",
    "it",
    "many",
    "never",
    "none",
    "not",
    "now",
    "one",
    "ones",
    "others",
    "plant",
    "plants",
    "seedlings",
    "some",
    "soon",
    "species",
    "specimen",
    "specimens",
    "that",
    "then",
    "these",
    "they",
    "this",
    "those",
    "cuttings",
    "two",
    "which",
];

/// Says whether a noun is the object of such a figure, or what a company of people has.
pub(super) fn is_one(scene: &Scene<'_>, at: usize) -> bool {
    let words = scene.words;
    let key = &*words[at].key;
    if OF_COMPANIES.contains(&key) && words.iter().any(|word| COMPANIES.contains(&&*word.key)) {
        return true;
    }
    if is_numbered_leaf(scene, at) || is_called(scene, at) {
        return true;
    }
    let Some((_, verbs)) = FIGURES.iter().find(|(noun, _)| *noun == key) else { return false };
    let verb = at.checked_sub(1).filter(|verb| verbs.contains(&&*words[*verb].key));
    let subject = verb.and_then(|verb| verb.checked_sub(1)).map(|subject| &words[subject]);
    subject.is_some_and(|subject| subject.joint == Joint::Blank && !is_plant(scene, subject))
}

/// Says whether a leaf is one of a book: `leaf 12 of the diary`.
fn is_numbered_leaf(scene: &Scene<'_>, at: usize) -> bool {
    let Some([leaf, number, of]) = scene.words.get(at..at + 3) else { return false };
    leaf.key == "leaf" && number.printed.bytes().all(|byte| byte.is_ascii_digit()) && of.key == "of"
}

/// Says whether an adjective belongs to the name that a plant is called by: `known here as keeled vetch`.
fn is_called(scene: &Scene<'_>, at: usize) -> bool {
    let words = scene.words;
    let plant = words.get(at + 1).filter(|_| words[at].joint == Joint::Blank);
    if plant.is_none_or(|plant| PLANTS.binary_search(&&*plant.key).is_err()) {
        return false;
    }
    let called = |word: &Word<'_>| matches!(&*word.key, "called" | "known" | "named");
    words[at.saturating_sub(WORDS_FROM_CALLED)..at].iter().any(called)
}

/// Words between `called` or its like and a plant's name at most: `known here as the`.
const WORDS_FROM_CALLED: usize = 4;

/// Says whether a word before a verb is a plant or may stand for one.
fn is_plant(scene: &Scene<'_>, word: &Word<'_>) -> bool {
    let key = &*word.key;
    FOR_A_PLANT.contains(&key)
        || key.ends_with("ly")
        || word.is_capital()
        || organ_of(key).is_some()
        || !scene.lexicon.find(key).is_empty()
        || [key, key.strip_suffix('s').unwrap_or(key)].iter().any(|key| PLANTS.binary_search(key).is_ok())
}

/// Says whether a word tells how high up something is met and not how it grows: `ascending to 650 m`.
pub(super) fn is_up_to(scene: &Scene<'_>, at: usize) -> bool {
    let Some([own, to, number, unit]) = scene.words.get(at..at + 4) else { return false };
    let is_number = |word: &Word<'_>| word.printed.bytes().all(|byte| byte.is_ascii_digit());
    own.joint == Joint::Blank
        && matches!(&*own.key, "ascending" | "ascends" | "descending" | "descends")
        && matches!(&*to.key, "above" | "below" | "from" | "over" | "to")
        && is_number(number)
        && matches!(&*unit.key, "feet" | "ft" | "m" | "metres")
}

/// Says whether a word for where a plant comes from stands before the name of one: `the native pine`.
pub(super) fn is_native_plant(scene: &Scene<'_>, at: usize) -> bool {
    let word = &scene.words[at];
    let next = scene.words.get(at + 1).filter(|_| word.joint == Joint::Blank);
    ORIGIN.contains(&&*word.key) && next.is_some_and(|next| PLANTS.binary_search(&&*next.key).is_ok())
}

/// Categories of Red Lists that are also plain English.
const CATEGORIES: &[&str] = &["endangered", "threatened", "vulnerable"];

/// How Red Lists shorten their categories.
const CODES: &[&str] = &["CR", "DD", "EN", "EX", "LC", "NE", "NT", "VU"];

/// Says whether a word is no category of a Red List, though it is spelled as one: it neither opens its clause nor stands
/// alone or with `status`, `list` or a code, or what the danger comes from follows (`vulnerable to frost`).
pub(super) fn is_no_red_list(spot: &Spot<'_>) -> bool {
    let words = spot.scene.words;
    let word = &words[spot.at.start];
    if !CATEGORIES.contains(&&*word.key) {
        return false;
    }
    let within = words.iter().filter(|word| spot.clause.range.contains(&word.range.start));
    let told = |word: &Word<'_>| {
        matches!(&*word.key, "categories" | "category" | "iucn" | "list" | "listed" | "lists" | "status")
            || CODES.contains(&word.printed)
    };
    let next = words.get(spot.at.end).filter(|_| word.joint == Joint::Blank);
    let from = next.is_some_and(|next| matches!(&*next.key, "by" | "from" | "to" | "with"));
    let before = words[..spot.at.start].iter().rev().take_while(|word| word.joint != Joint::Break);
    let mut before = before.filter(|word| word.range.start >= spot.clause.range.start);
    let alone = before.all(|word| OF_PLACE.contains(&&*word.key));
    !within.into_iter().any(told) && (from || !alone)
}

/// Words that say where or how much a plant is in danger.
const OF_PLACE: &[&str] =
    &["and", "critically", "globally", "highly", "locally", "nationally", "now", "regionally"];

/// Says whether a word is an animal or a person.
pub(super) fn is_alive(key: &str) -> bool {
    let animal =
        [key, key.strip_suffix('s').unwrap_or(key)].iter().any(|key| ANIMALS.binary_search(key).is_ok());
    animal
        || listed(THINGS, key).is_some_and(|thing| organ_of(thing).is_none())
        || matches!(key, "her" | "his")
}
