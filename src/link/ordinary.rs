//! Headwords that are also ordinary English, and how to tell: `simple leaves`, but `simple to find`.
//!
//! A word of the table counts as a term only where an organ vouches for it. An *adjective* needs an organ in its
//! clause (or one inherited by a clause that goes on in lower case) that one of its senses applies to. A *noun*
//! opens its clause, or stands in one that names an organ for sure; `head of the valley` fails whatever else is
//! near, because what follows `of` is no organ. Words that only certain neighbours make English are told by these.

use std::ops::Range;

use crate::clause::{Clause, Sureness, organ_of};
use crate::link::Scene;
use crate::link::words::{Joint, Word};

/// Where a word of the lexicon stands.
pub(crate) struct Spot<'a> {
    /// The text around.
    pub(crate) scene: &'a Scene<'a>,
    /// The clause that it stands in.
    pub(crate) clause: &'a Clause,
    /// The positions of its words.
    pub(crate) at: Range<usize>,
    /// The organs that it may belong to.
    pub(crate) organs: &'a [&'a str],
    /// Whether one of its senses applies to one of them.
    pub(crate) fits: bool,
}

/// Adjectives and participles in their headword's form that ordinary English uses as well.
const ADJECTIVES: &[&str] = &[
    "alternate",
    "armed",
    "common",
    "complete",
    "compound",
    "continuous",
    "dark",
    "definite",
    "dense",
    "depressed",
    "distinct",
    "divided",
    "double",
    "dry",
    "dull",
    "entire",
    "equal",
    "female",
    "fertile",
    "fleshy",
    "floating",
    "free",
    "hard",
    "hollow",
    "imperfect",
    "impressed",
    "included",
    "incomplete",
    "indefinite",
    "inferior",
    "inserted",
    "interrupted",
    "introduced",
    "inverted",
    "irregular",
    "local",
    "male",
    "marginal",
    "naked",
    "native",
    "neuter",
    "obscure",
    "obsolete",
    "opposite",
    "paired",
    "parallel",
    "perfect",
    "persistent",
    "primary",
    "prominent",
    "proper",
    "radical",
    "rare",
    "regular",
    "remote",
    "rigid",
    "rough",
    "scattered",
    "secondary",
    "simple",
    "single",
    "smooth",
    "soft",
    "solid",
    "sterile",
    "strict",
    "superior",
    "terminal",
    "unequal",
    "united",
];

/// Nouns that ordinary English uses as well.
const NOUNS: &[&str] = &[
    "angle",
    "apex",
    "appendage",
    "axis",
    "base",
    "beak",
    "beard",
    "blade",
    "bloom",
    "body",
    "boss",
    "cane",
    "cell",
    "claw",
    "collar",
    "column",
    "cone",
    "crown",
    "cushion",
    "disc",
    "disk",
    "duration",
    "eye",
    "grain",
    "head",
    "hood",
    "horn",
    "joint",
    "keel",
    "limb",
    "lip",
    "margin",
    "nerve",
    "offset",
    "pore",
    "pouch",
    "ray",
    "ridge",
    "scale",
    "segment",
    "sheath",
    "shell",
    "shoot",
    "spur",
    "standard",
    "stone",
    "style",
    "sucker",
    "surface",
    "texture",
    "throat",
    "tooth",
    "tube",
    "valve",
    "wing",
];

/// What follows a word where it is English alone; `*` stands for an infinitive of [`DOING`] after `to`.
const ENGLISH_BEFORE: &[(&str, &[&str])] = &[
    ("alternate", &["with"]),
    ("common", &["along", "at", "by", "in", "name", "names", "near", "on", "throughout"]),
    ("dense", &["shade", "woods", "thickets"]),
    ("double", &["as", "that", "the"]),
    ("equal", &["in"]),
    ("free", &["from", "of"]),
    ("native", &["to", "of", "in"]),
    ("opposite", &["to", "the"]),
    ("perfect", &["example"]),
    ("proper", &["name", "names"]),
    ("regular", &["interval", "intervals"]),
    ("simple", &["*"]),
    ("single", &["plant", "record", "site", "locality"]),
];

/// Verbs that follow `to` after an adjective that is English alone (`simple to find`).
const DOING: &[&str] = &[
    "apply",
    "find",
    "follow",
    "grow",
    "identify",
    "key",
    "know",
    "make",
    "name",
    "recognise",
    "recognize",
    "see",
    "tell",
    "understand",
    "use",
];

/// Words before the noun of a phrase that say nothing of what it is.
const ARTICLES: &[&str] = &["a", "an", "each", "every", "its", "the", "their", "these", "this", "those"];

/// Words that open a phrase of place or time, in which an opening noun is no organ.
const PREPOSITIONS: &[&str] =
    &["above", "along", "at", "below", "by", "from", "in", "near", "on", "over", "to", "under"];

/// Words looked at after `of`: an article, two adjectives and the noun.
const WORDS_AFTER_OF: usize = 4;

/// Says whether the words are ordinary English where they stand and no term.
pub(crate) fn is_only_english(spot: &Spot<'_>) -> bool {
    let Some(word) = headword(spot) else { return false };
    if stands_before_english(spot, word) {
        return true;
    }
    if ADJECTIVES.contains(&word) {
        return !(spot.fits && (names_organ(spot) || goes_on(spot)));
    }
    of_no_organ(spot)
        || !(opens_clause(spot) || names_organ(spot) || goes_on(spot) && !spot.organs.is_empty())
}

/// Returns the word of the tables that a single word is a form of.
fn headword(spot: &Spot<'_>) -> Option<&'static str> {
    if spot.at.len() != 1 {
        return None;
    }
    let key = &*spot.scene.words[spot.at.start].key;
    let mut found = listed(key);
    for ending in ["s", "es", "ly"] {
        found = found.or_else(|| listed(key.strip_suffix(ending)?));
    }
    found.or_else(|| if key == "teeth" { listed("tooth") } else { None })
}

fn listed(word: &str) -> Option<&'static str> {
    let find = |table: &'static [&'static str]| table.binary_search(&word).ok().map(|at| table[at]);
    find(ADJECTIVES).or_else(|| find(NOUNS))
}

fn stands_before_english(spot: &Spot<'_>, word: &str) -> bool {
    let Some((_, followers)) = ENGLISH_BEFORE.iter().find(|(listed, _)| *listed == word) else {
        return false;
    };
    let mut next = following(spot).map(|word| &*word.key);
    let Some(first) = next.next() else { return false };
    let doing = first == "to" && next.next().is_some_and(|verb| DOING.contains(&verb));
    followers.iter().any(|follower| if *follower == "*" { doing } else { *follower == first })
}

/// Returns the words after the spot that nothing but blanks and hyphens joins to it.
fn following<'a>(spot: &'a Spot<'_>) -> impl Iterator<Item = &'a Word<'a>> {
    let words = spot.scene.words;
    let joined = |at: &usize| matches!(words[at - 1].joint, Joint::Blank | Joint::Hyphen);
    (spot.at.end..words.len()).take_while(joined).map(|at| &words[at])
}

/// Says whether the clause names an organ for sure, besides the word itself.
fn names_organ(spot: &Spot<'_>) -> bool {
    let own = &spot.scene.words[spot.at.start].range;
    let opener = spot.clause.range.start;
    let vouches = |part: &crate::clause::Part| part.sure == Sureness::Sure || part.range.start == opener;
    spot.clause.parts.iter().any(|part| part.range != *own && vouches(part))
}

/// Says whether the clause goes on about the organ of the clause before.
fn goes_on(spot: &Spot<'_>) -> bool {
    let begins = spot.scene.text[spot.clause.range.clone()].chars().next();
    let own = &spot.scene.words[spot.at.start].range;
    let inherits = spot.clause.parts.iter().all(|part| part.range == *own);
    inherits && begins.is_some_and(|letter| !letter.is_uppercase())
}

/// Says whether the noun opens its clause, in the telegraphic style of descriptions.
fn opens_clause(spot: &Spot<'_>) -> bool {
    let before = spot.scene.words[..spot.at.start].iter().rev();
    let mut before = before.take_while(|word| word.range.start >= spot.clause.range.start);
    match (before.next(), before.next()) {
        (None, _) => true,
        (Some(word), None) => !PREPOSITIONS.contains(&&*word.key),
        (Some(_), Some(_)) => false,
    }
}

/// Says whether `of` follows the noun and what comes then is no organ.
fn of_no_organ(spot: &Spot<'_>) -> bool {
    let mut next = following(spot);
    if next.next().is_none_or(|word| word.key != "of") {
        return false;
    }
    let nouns = next.filter(|word| !ARTICLES.contains(&&*word.key)).take(WORDS_AFTER_OF);
    !nouns.into_iter().any(|word| organ_of(&word.key).is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_in_order_for_the_search() {
        assert!(ADJECTIVES.is_sorted() && NOUNS.is_sorted());
    }
}
