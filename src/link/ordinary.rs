//! Headwords that are also ordinary English, and how to tell: `simple leaves`, but `simple to find`.
//!
//! A word of the tables is a term only where an organ vouches for it: one that its clause names, or one inherited by
//! a clause that goes on in lower case; a loose adjective also needs a sense for that organ. A noun may open its
//! clause instead. What follows `of` must be an organ (`head of the valley`); some neighbours make a word English.

use std::ops::Range;

use crate::clause::{Clause, Part, Sureness, organ_of};
use crate::link::Scene;
use crate::link::everyday::{
    self, ADJECTIVES, ARTICLES, DOING, ENGLISH_AFTER, ENGLISH_BEFORE, LOOSE_ADJECTIVES, NEVER, NOUNS,
    POINTING, PREPOSITIONS,
};
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

/// Words before the noun that opens a clause at most: an article and an adjective.
const WORDS_BEFORE_OPENER: usize = 2;

/// Words looked at after `of`: an article, two adjectives and the noun.
const WORDS_AFTER_OF: usize = 4;

/// Says whether the words are ordinary English where they stand and no term.
pub(crate) fn is_only_english(spot: &Spot<'_>) -> bool {
    if spot.at.len() == 1 && NEVER.contains(&&*spot.scene.words[spot.at.start].key) {
        return true;
    }
    let Some(word) = headword(spot) else { return false };
    if stands_before_english(spot, word) || stands_after_english(spot, word) {
        return true;
    }
    let vouched = names_organ(spot) || goes_on(spot);
    if LOOSE_ADJECTIVES.contains(&word) {
        return !(vouched && spot.fits);
    }
    if ADJECTIVES.contains(&word) {
        return !vouched;
    }
    of_no_organ(spot)
        || !(opens(spot, spot.scene.words[spot.at.start].range.start)
            || names_organ(spot)
            || goes_on(spot) && !spot.organs.is_empty())
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
    [ADJECTIVES, LOOSE_ADJECTIVES, NOUNS].into_iter().find_map(|table| everyday::listed(table, word))
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

fn stands_after_english(spot: &Spot<'_>, word: &str) -> bool {
    let Some((_, leaders)) = ENGLISH_AFTER.iter().find(|(listed, _)| *listed == word) else { return false };
    let before = spot.at.start.checked_sub(1).map(|before| &*spot.scene.words[before].key);
    let of_follows = following(spot).next().is_some_and(|next| next.key == "of");
    before.is_some_and(|before| leaders.contains(&before)) && !of_follows
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
    let vouches = |part: &Part| part.sure == Sureness::Sure || opens(spot, part.range.start);
    spot.clause.parts.iter().any(|part| part.range != *own && vouches(part))
}

/// Says whether the clause goes on about the organ of the clause before.
fn goes_on(spot: &Spot<'_>) -> bool {
    let begins = spot.scene.text[spot.clause.range.clone()].chars().next();
    let own = &spot.scene.words[spot.at.start].range;
    let inherits = spot.clause.parts.iter().all(|part| part.range == *own);
    spot.clause.organ.is_some() && inherits && begins.is_some_and(|letter| !letter.is_uppercase())
}

/// Says whether the noun at a byte opens its clause, in the telegraphic style of descriptions.
fn opens(spot: &Spot<'_>, noun: usize) -> bool {
    let before = spot.scene.words.iter().filter(|word| word.range.start >= spot.clause.range.start);
    let mut before = before.take_while(|word| word.range.start < noun);
    let leads_in = |word: &Word<'_>| PREPOSITIONS.contains(&&*word.key) || POINTING.contains(&&*word.key);
    !before.by_ref().take(WORDS_BEFORE_OPENER).any(leads_in) && before.next().is_none()
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
