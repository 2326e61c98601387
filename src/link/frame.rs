//! Frames of prose around a word that is a term in descriptions: before a thing of daily life (`the double gates`),
//! in one (`every joint in the rock`), within a plant's name (`the winged pea`). The words alone are not judged here.

use crate::clause::organ_of;
use crate::link::everyday::listed;
use crate::link::kinds::{ANIMALS, PLANTS};
use crate::link::things::THINGS;
use crate::link::words::{Joint, Word};
use crate::link::{Scene, prose};

/// Words that stand before the adjective of a noun phrase in prose.
const LEADING: &[&str] = &[
    "a", "across", "against", "along", "an", "any", "as", "between", "beyond", "by", "each", "every", "for",
    "from", "his", "in", "into", "my", "no", "of", "on", "our", "over", "some", "that", "the", "their",
    "these", "this", "those", "through", "to", "two", "under", "very", "with", "without", "your",
];

/// Words that end a noun phrase.
const CLOSING: &[&str] = &[
    "about",
    "above",
    "across",
    "after",
    "again",
    "along",
    "also",
    "and",
    "are",
    "as",
    "at",
    "be",
    "before",
    "behind",
    "below",
    "beneath",
    "between",
    "both",
    "but",
    "by",
    "can",
    "down",
    "during",
    "each",
    "even",
    "for",
    "from",
    "had",
    "has",
    "have",
    "here",
    "if",
    "in",
    "into",
    "is",
    "it",
    "its",
    "like",
    "may",
    "near",
    "nearly",
    "not",
    "of",
    "off",
    "often",
    "on",
    "only",
    "or",
    "out",
    "over",
    "rarely",
    "since",
    "so",
    "sometimes",
    "still",
    "than",
    "that",
    "the",
    "their",
    "them",
    "then",
    "there",
    "these",
    "they",
    "this",
    "those",
    "through",
    "to",
    "too",
    "towards",
    "under",
    "until",
    "up",
    "usually",
    "very",
    "was",
    "were",
    "when",
    "where",
    "which",
    "while",
    "who",
    "whose",
    "will",
    "with",
    "within",
    "without",
    "would",
];

/// Nouns that stand for an organ or a plant as well as for anything else, so that they tell nothing; and plain colours.
const NEUTRAL: &[&str] = &[
    "appearance",
    "arc",
    "arch",
    "arms",
    "arrangement",
    "back",
    "backs",
    "ball",
    "balls",
    "band",
    "bands",
    "bell",
    "bells",
    "black",
    "blister",
    "blisters",
    "blotch",
    "blotches",
    "blue",
    "bottom",
    "brown",
    "bunch",
    "bunches",
    "carpet",
    "cells",
    "centre",
    "character",
    "characters",
    "circle",
    "circles",
    "clumps",
    "coat",
    "coating",
    "colonies",
    "colony",
    "colour",
    "colours",
    "condition",
    "conifer",
    "conifers",
    "cover",
    "covering",
    "creature",
    "cross",
    "crust",
    "curve",
    "curves",
    "direction",
    "dome",
    "dot",
    "dots",
    "edge",
    "edges",
    "end",
    "ending",
    "endings",
    "ends",
    "example",
    "face",
    "faces",
    "fashion",
    "flange",
    "flesh",
    "fold",
    "folds",
    "form",
    "forms",
    "fragment",
    "fragments",
    "fringe",
    "fringes",
    "gap",
    "gaps",
    "genus",
    "globe",
    "gold",
    "golden",
    "green",
    "grey",
    "ground",
    "group",
    "growth",
    "habit",
    "half",
    "halves",
    "hollow",
    "hump",
    "humps",
    "hybrid",
    "individual",
    "individuals",
    "interior",
    "interval",
    "intervals",
    "juice",
    "kind",
    "kinds",
    "knob",
    "knobs",
    "lattice",
    "layer",
    "layers",
    "lines",
    "look",
    "lower",
    "lump",
    "lumps",
    "manner",
    "margins",
    "mark",
    "marks",
    "mass",
    "masses",
    "mat",
    "material",
    "mats",
    "middle",
    "mound",
    "mouth",
    "nest",
    "network",
    "number",
    "one",
    "ones",
    "orange",
    "outgrowth",
    "outline",
    "pair",
    "pairs",
    "part",
    "parts",
    "patch",
    "patches",
    "pattern",
    "patterns",
    "piece",
    "pieces",
    "pink",
    "places",
    "plant",
    "plants",
    "plate",
    "plates",
    "point",
    "points",
    "population",
    "populations",
    "portion",
    "portions",
    "position",
    "projection",
    "pulp",
    "purple",
    "race",
    "red",
    "relative",
    "relatives",
    "remains",
    "reticulation",
    "ribbon",
    "ribbons",
    "rim",
    "rims",
    "rind",
    "row",
    "rows",
    "scent",
    "scrap",
    "scraps",
    "section",
    "series",
    "set",
    "sets",
    "shape",
    "side",
    "sides",
    "skin",
    "smell",
    "soil",
    "soils",
    "space",
    "spaces",
    "species",
    "specimen",
    "specimens",
    "stage",
    "stand",
    "stands",
    "star",
    "stars",
    "state",
    "stock",
    "streaks",
    "strip",
    "strips",
    "structure",
    "structures",
    "substance",
    "surface",
    "surfaces",
    "swelling",
    "swellings",
    "tassel",
    "taste",
    "taxon",
    "teeth",
    "texture",
    "thicket",
    "thickets",
    "thing",
    "things",
    "thread",
    "threads",
    "tinge",
    "tip",
    "tips",
    "top",
    "tops",
    "trap",
    "traps",
    "trumpet",
    "tuft",
    "tufts",
    "twist",
    "type",
    "types",
    "upper",
    "variety",
    "violet",
    "wall",
    "walls",
    "wart",
    "warts",
    "way",
    "weed",
    "white",
    "yellow",
    "zone",
    "zones",
];

/// Words of a noun phrase that are looked at behind its first adjective.
const WORDS_OF_PHRASE: usize = 4;

/// Words after `in` or `on`: an article, two adjectives and the noun.
const WORDS_AFTER_IN: usize = 4;

/// Adjectives of size, which end no noun phrase: `the male long, pendulous`.
const SIZES: &[&str] = &[
    "broad", "large", "larger", "long", "longer", "narrow", "short", "shorter", "small", "smaller", "tall",
    "wide",
];

/// Letters of a noun at least.
const SHORTEST_NOUN: usize = 3;

/// Says whether an adjective stands in a phrase whose noun is no part of a plant: `the double gates`, `to a blunt man`.
pub(super) fn qualifies_a_thing(scene: &Scene<'_>, at: usize) -> bool {
    if opens_with_a_thing(scene, at) {
        return true;
    }
    let Some(before) = at.checked_sub(1).map(|before| &scene.words[before]) else { return false };
    let leads = LEADING.binary_search(&&*before.key).is_ok() || joins_ordinary(scene, at - 1);
    if before.joint != Joint::Blank
        || !leads
        || organ_of(&scene.words[at].key).is_some()
        || scene.words[at].joint != Joint::Blank
    {
        return false;
    }
    let mut last = None;
    for word in joined(scene, at + 1).take(WORDS_OF_PHRASE) {
        let key = &*word.key;
        if CLOSING.binary_search(&key).is_ok() {
            break;
        }
        if is_thing_alone(scene, word) {
            return true;
        }
        if NEUTRAL.binary_search(&key).is_ok() || speaks_of_plants(scene, key) || word.is_capital() {
            return false;
        }
        last = Some(key);
        if !matches!(word.joint, Joint::Blank | Joint::Hyphen) {
            break;
        }
    }
    let is_noun = |noun: &str| {
        let other = noun.ends_with("ly") || noun.ends_with("ed") || SIZES.contains(&noun);
        noun.len() >= SHORTEST_NOUN && !other
    };
    last.is_some_and(is_noun)
}

/// Says whether an adjective opens a sentence about a thing of daily life: `Hooded crows are seen`.
fn opens_with_a_thing(scene: &Scene<'_>, at: usize) -> bool {
    let first = at.checked_sub(1).is_none_or(|before| scene.words[before].joint != Joint::Blank);
    let thing = scene.words.get(at + 1).filter(|_| scene.words[at].joint == Joint::Blank);
    first && scene.words[at].is_capital() && thing.is_some_and(|thing| is_thing_alone(scene, thing))
}

/// Says whether a word is a thing of daily life and nothing else, at the end of its phrase: `the persistent wind cuts`.
fn is_thing_alone(scene: &Scene<'_>, word: &Word<'_>) -> bool {
    let key = &*word.key;
    word.joint != Joint::Hyphen
        && !matches!(key, "firm" | "sound")
        && listed(THINGS, key).is_some()
        && NEUTRAL.binary_search(&key).is_err()
        && !speaks_of_plants(scene, key)
}

/// Says whether `and` or `or` joins an adjective to one before that is no term: `plain and prickly`.
fn joins_ordinary(scene: &Scene<'_>, at: usize) -> bool {
    let ordinary = |before: usize| {
        let word = &scene.words[before];
        word.joint == Joint::Blank
            && scene.lexicon.find(&word.key).is_empty()
            && CLOSING.binary_search(&&*word.key).is_err()
    };
    matches!(&*scene.words[at].key, "and" | "or") && at.checked_sub(1).is_some_and(ordinary)
}

/// Says whether a word is an organ or in the lexicon.
fn speaks_of_plants(scene: &Scene<'_>, key: &str) -> bool {
    organ_of(key).is_some() || !scene.lexicon.find(key).is_empty()
}

/// Says whether `in` or `on` follows a noun and then a thing of daily life: `every joint in the rock`.
pub(super) fn is_in_a_thing(scene: &Scene<'_>, at: usize) -> bool {
    let in_lower_case = joined(scene, at + 1).take_while(|word| !word.is_capital());
    let mut next = in_lower_case.map(|word| &*word.key);
    if scene.words[at].joint != Joint::Blank
        || !next.next().is_some_and(|first| matches!(first, "from" | "in" | "on"))
    {
        return false;
    }
    let mut phrase = next.take(WORDS_AFTER_IN).take_while(|word| organ_of(word).is_none());
    phrase.next().is_some_and(|first| matches!(first, "a" | "an" | "his" | "our" | "the" | "their"))
        && phrase.any(|word| listed(THINGS, word).is_some())
}

/// Says whether an adjective is said of a thing of daily life: `the road is rough`.
pub(super) fn is_said_of_a_thing(scene: &Scene<'_>, at: usize) -> bool {
    if is_what_a_thing_did(scene, at) {
        return true;
    }
    let Some([thing, verb]) = at.checked_sub(2).map(|from| &scene.words[from..at]) else { return false };
    let owner = at.checked_sub(3).map(|owner| &*scene.words[owner].key);
    if owner.is_some_and(|owner| matches!(owner, "her" | "his" | "my")) && &*verb.key == "was" {
        return true;
    }
    let joined = thing.joint == Joint::Blank && verb.joint == Joint::Blank;
    joined
        && matches!(&*verb.key, "are" | "is" | "was" | "were")
        && listed(THINGS, &thing.key).is_some()
        && (!speaks_of_plants(scene, &thing.key) || prose::mild(&thing.key).is_some())
        && NEUTRAL.binary_search(&&*thing.key).is_err()
}

/// Says whether a participle is the verb of a thing of daily life: `the causeway opened`.
fn is_what_a_thing_did(scene: &Scene<'_>, at: usize) -> bool {
    let Some(thing) = at.checked_sub(1).map(|before| &scene.words[before]) else { return false };
    thing.joint == Joint::Blank
        && matches!(&*scene.words[at].key, "closed" | "closes" | "opened" | "opens")
        && listed(THINGS, &thing.key).is_some()
        && organ_of(&thing.key).is_none()
}

/// Says whether an adjective is the first half of a plant's vernacular name: `winged pea`.
pub(super) fn is_of_a_vernacular(scene: &Scene<'_>, at: usize) -> bool {
    let next = joined(scene, at + 1).next().filter(|_| scene.words[at].joint == Joint::Blank);
    next.is_some_and(|next| PLANTS.binary_search(&&*next.key).is_ok())
}

/// Says whether a word is the vernacular name of a plant.
pub(super) fn is_a_plant(key: &str) -> bool {
    PLANTS.binary_search(&key).is_ok()
}

/// Says whether a word of place is the first half of one: `marsh orchid`, `bog asphodel`.
pub(super) fn is_before_a_plant(scene: &Scene<'_>, at: usize) -> bool {
    let next = scene.words.get(at + 1).filter(|_| scene.words[at].joint == Joint::Blank);
    is_of_a_vernacular(scene, at) || next.is_some_and(|next| matches!(&*next.key, "orchid" | "orchids"))
}

/// Says whether a hyphened word is named after a part of an animal: `fox-spur`.
pub(super) fn is_named_after_an_animal(words: &[Word<'_>]) -> bool {
    words.len() == 2 && ANIMALS.binary_search(&&*words[0].key).is_ok()
}

/// Returns the words from a position on that nothing but blanks and hyphens joins to those before.
fn joined<'a>(scene: &'a Scene<'_>, from: usize) -> impl Iterator<Item = &'a Word<'a>> + Clone {
    let words = scene.words;
    let is_joined = |at: &usize| matches!(words[at - 1].joint, Joint::Blank | Joint::Hyphen);
    (from..words.len()).take_while(is_joined).map(|at| &words[at])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_in_order_for_the_search() {
        for table in [LEADING, CLOSING, NEUTRAL] {
            assert!(table.is_sorted(), "{table:?}");
        }
    }
}
