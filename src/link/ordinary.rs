//! Headwords that are also ordinary English, and how to tell: `simple leaves`, but `simple to find`.
//!
//! A word of the tables is a term only where an organ or a word of the trade vouches for it: in its clause, or before
//! one that goes on in lower case; a loose adjective also needs a sense for that organ. A noun may open its clause
//! instead. What follows `of` must be an organ (`head of the valley`); some neighbours make a word English.

use std::ops::Range;

use crate::clause::{Clause, Part, Sureness, bearers, organ_of};
use crate::link::Scene;
use crate::link::beside::{ENGLISH_AFTER, ENGLISH_BEFORE, TRADE_BEFORE};
use crate::link::everyday::{
    self, ADJECTIVES, ARTICLES, DOING, ENDING, FORMING, FREED, KINDRED, LOOSE_ADJECTIVES, MEASURES, NEVER,
    NOUNS, ORIGIN, OWNING, POINTING, PREPOSITIONS, STATUS, TIMES, WHICH_LEAVES,
};
use crate::link::things::THINGS;
use crate::link::words::{Joint, Word};
use crate::link::{figure, frame, idiom, prose, sense, vouch};
use crate::terms::form::fold;
use crate::terms::topic;

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

/// Words looked at after `free from`: an article and the noun.
const WORDS_TO_PART: usize = 2;

/// Words between a verb of [`FORMING`] and the noun at most: an article and an adjective.
const WORDS_FROM_FORMING: usize = 3;

/// The topic of growth forms.
const HABIT: &str = "habit.toml";

/// Words looked at after `of`: an article, two adjectives and the noun.
const WORDS_AFTER_OF: usize = 4;

/// Says whether the words are ordinary English where they stand and no term.
pub(crate) fn is_only_english(spot: &Spot<'_>) -> bool {
    if spot.at.clone().any(|at| idiom::is_in_one(spot.scene.words, at) || figure::is_one(spot.scene, at)) {
        return true;
    }
    if spot.at.len() != 1 {
        return false;
    }
    let (scene, at) = (spot.scene, spot.at.start);
    let key = &*scene.words[at].key;
    if opens_status(spot, key) || figure::is_native_plant(scene, at) {
        return false;
    }
    if figure::is_no_red_list(spot) || figure::is_up_to(scene, at) {
        return true;
    }
    if NEVER.contains(&key) || is_beside_english(scene, at, key) || is_verb(spot, at) {
        return true;
    }
    if vouch::is_settled(spot) {
        return false;
    }
    if frame::is_before_a_plant(scene, at) && is_place(scene, key) {
        return true;
    }
    let vouched = || {
        names_organ(spot)
            || goes_on(spot)
            || names_term(spot)
            || is_of_kindred(scene, at)
            || vouch::is_said_of_a_plant(spot)
            || vouch::names_kin(spot)
    };
    if prose::mild(key).is_some() {
        return prose::is_prose(scene, spot.clause)
            && (is_in_a_frame(scene, at) || !vouched() && !is_with_organ(spot));
    }
    let Some(word) = headword(key) else { return false };
    if !NOUNS.contains(&word) && prose::is_prose(scene, spot.clause) && is_in_a_frame(scene, at) {
        return true;
    }
    if stands_before_english(scene, at, word) || stands_after_english(scene, at, word) {
        return true;
    }
    let vouched = vouched();
    if LOOSE_ADJECTIVES.contains(&word) {
        return !(vouched && (spot.fits || describes(spot, word) || is_of_kindred(scene, at)));
    }
    if ADJECTIVES.contains(&word) {
        return !vouched;
    }
    is_owned(scene, at)
        || frame::is_in_a_thing(scene, at)
        || of_no_organ(spot.scene, spot.at.end)
        || !(opens(spot, spot.scene.words[spot.at.start].range.start) || names_part(spot))
}

/// Says whether the words around an adjective make English of it.
fn is_in_a_frame(scene: &Scene<'_>, at: usize) -> bool {
    frame::qualifies_a_thing(scene, at)
        || frame::is_of_a_vernacular(scene, at)
        || frame::is_said_of_a_thing(scene, at)
}

/// Says whether an adjective stands right before a plant or form as such: `the dwarf form`.
fn is_of_kindred(scene: &Scene<'_>, at: usize) -> bool {
    following(scene, at + 1).next().is_some_and(|next| KINDRED.contains(&&*next.key))
}

/// Says whether a noun stands behind its owner, who is no part of a plant: `the author's style`.
fn is_owned(scene: &Scene<'_>, at: usize) -> bool {
    let owner = at.checked_sub(1).and_then(|before| scene.words[before].key.strip_suffix("'s"));
    owner.is_some_and(|owner| organ_of(owner).is_none())
}

/// Says whether a noun of the tables names a part: one is named beside it, and in prose a sense is for that one.
fn names_part(spot: &Spot<'_>) -> bool {
    let vouched =
        names_organ(spot) || names_term(spot) || goes_on(spot) && (!spot.organs.is_empty() || lends(spot));
    // What is left when `of` leads to no organ is `of` before one.
    let of = following(spot.scene, spot.at.end).next().is_some_and(|next| next.key == "of");
    let prose = prose::is_sentence(spot.scene, spot.clause);
    let told = || of || spot.fits || !prose || is_described(spot) || vouch::lies_on_an_organ(spot);
    let vouched = vouched && (told() || names_place(spot)) || vouch::is_of_group(spot);
    vouched
        || belongs(spot)
        || is_formed(spot)
        || are_heads(spot)
        || vouch::is_among_its_kin(spot)
        || vouch::is_told_by_company(spot)
}

/// Says whether the clause before names the organ that a telegraphic one with this noun goes on about.
fn lends(spot: &Spot<'_>) -> bool {
    !prose::is_prose(spot.scene, spot.clause) && !sense::organs_before(spot.scene, spot.clause).is_empty()
}

/// Says whether a noun stands beside a word that only the trade uses, in a clause that names an organ.
fn is_described(spot: &Spot<'_>) -> bool {
    let (words, at) = (spot.scene.words, spot.at.start);
    let before = at.checked_sub(1).filter(|before| words[*before].joint == Joint::Blank);
    let after = following(spot.scene, at + 1).find(|next| !matches!(&*next.key, "are" | "is"));
    let learned = |key: &str| headword(key).is_none() && is_learned(spot.scene, key);
    let beside = before
        .is_some_and(|before| learned(&words[before].key) || prose::mild(&words[before].key).is_some())
        || after.is_some_and(|after| learned(&after.key));
    beside && names_organ(spot) || names_organ(spot) && names_term(spot)
}

/// Says whether a noun is owned by what its clause has named before: `the flowers and their crests`.
fn belongs(spot: &Spot<'_>) -> bool {
    let at = spot.at.start;
    let owned = at.checked_sub(1).is_some_and(|before| OWNING.contains(&&*spot.scene.words[before].key));
    owned && names_organ(spot)
}

/// Says whether heads are those of a plant: of people and animals hardly anyone says `the heads` or `its heads`.
fn are_heads(spot: &Spot<'_>) -> bool {
    let (words, at) = (spot.scene.words, spot.at.start);
    let before = at.checked_sub(1).map(|before| &*words[before].key);
    words[at].key == "heads" && before.is_some_and(|before| matches!(before, "its" | "the" | "whose"))
}

/// Says whether a noun of habit is what plants form: `forms a low cushion`.
fn is_formed(spot: &Spot<'_>) -> bool {
    let from = spot.at.start.saturating_sub(WORDS_FROM_FORMING);
    let mut before = spot.scene.words[from..spot.at.start].iter();
    let opens = |word: &Word<'_>| word.key == "in" && word.range.start == spot.clause.range.start;
    is_of_topic(spot.scene, &spot.scene.words[spot.at.start].key, HABIT)
        && before.any(|word| FORMING.contains(&&*word.key) || opens(word))
}

/// Returns the word of the tables that a single word is a form of.
fn headword(key: &str) -> Option<&'static str> {
    let mut found = in_tables(key);
    for ending in ["s", "es", "ly"] {
        found = found.or_else(|| in_tables(key.strip_suffix(ending)?));
    }
    found.or_else(|| if key == "teeth" { in_tables("tooth") } else { None })
}

fn in_tables(word: &str) -> Option<&'static str> {
    [ADJECTIVES, LOOSE_ADJECTIVES, NOUNS].into_iter().find_map(|table| everyday::listed(table, word))
}

/// Says whether a word opens a statement of where a plant comes from or is the whole of it: `Native on dunes`.
fn opens_status(spot: &Spot<'_>, key: &str) -> bool {
    let (words, at) = (spot.scene.words, spot.at.start);
    let word = &words[at];
    let starts = word.range.start == spot.clause.range.start;
    let alone = word.joint == Joint::Break
        && (starts || at.checked_sub(1).is_none_or(|before| words[before].joint == Joint::Break));
    ORIGIN.contains(&key) && (starts && word.is_capital() || alone)
}

/// Says whether the neighbours of a word make English of it, whatever else its clause says.
fn is_beside_english(scene: &Scene<'_>, at: usize, key: &str) -> bool {
    is_of_a_thing(scene, at) || stands_before_english(scene, at, key) || stands_after_english(scene, at, key)
}

/// Says whether `leaves` is the verb: within a clause that names no other organ for sure, after a word of no
/// description, and before an article (`runs dry and leaves a ring of mud`).
fn is_verb(spot: &Spot<'_>, at: usize) -> bool {
    let (scene, word) = (spot.scene, &spot.scene.words[at]);
    let next = following(scene, at + 1).next();
    if word.key != "leaves" || word.is_capital() || !next.is_some_and(|next| ARTICLES.contains(&&*next.key)) {
        return false;
    }
    let other =
        |part: &Part| part.range != word.range && part.sure == Sureness::Sure && !is_thing(spot, part);
    let before = at.checked_sub(1).map(|before| &scene.words[before]);
    let before = before.filter(|before| before.range.start >= spot.clause.range.start);
    let describes = |before: &Word<'_>| {
        WHICH_LEAVES.contains(&&*before.key) || !scene.lexicon.find(&before.key).is_empty()
    };
    before.is_some_and(|before| !describes(before)) && !spot.clause.parts.iter().any(other)
}

/// Says whether a part that the clause names is English beside its neighbours.
fn is_thing(spot: &Spot<'_>, part: &Part) -> bool {
    let at = spot.scene.words.partition_point(|word| word.range.start < part.range.start);
    spot.scene.words.get(at).is_some_and(|word| is_beside_english(spot.scene, at, &word.key))
}

fn stands_before_english(scene: &Scene<'_>, at: usize, word: &str) -> bool {
    let next_key = following(scene, at + 1).next().map(|word| &*word.key);
    if let Some((_, trade)) = TRADE_BEFORE.iter().find(|(listed, _)| *listed == word) {
        return !next_key.is_some_and(|next| trade.contains(&next));
    }
    let Some((_, followers)) = ENGLISH_BEFORE.iter().find(|(listed, _)| *listed == word) else {
        return false;
    };
    let mut next = following(scene, at + 1).map(|word| &*word.key);
    if FREED.contains(&word) && next.clone().skip(1).take(WORDS_TO_PART).any(is_flower_part) {
        return false;
    }
    let Some(first) = next.next() else { return false };
    let is_verb = |verb: &str| {
        let adverb = verb.ends_with("ly") || NO_VERBS.contains(&verb);
        !adverb && verb.bytes().all(|byte| byte.is_ascii_lowercase()) && !speaks_of_plants(scene, verb)
    };
    let doing = first == "to" && next.next().is_some_and(|verb| DOING.contains(&verb) || is_verb(verb));
    followers.iter().any(|follower| if *follower == "*" { doing } else { *follower == first })
}

/// Words behind `to` that begin the end of a range: `simple to once pinnate`.
const NO_VERBS: &[&str] =
    &["a", "again", "an", "less", "more", "much", "often", "once", "the", "twice", "very"];

/// Says whether a word is an organ or in the lexicon.
fn speaks_of_plants(scene: &Scene<'_>, key: &str) -> bool {
    organ_of(key).is_some() || !scene.lexicon.find(key).is_empty()
}

fn stands_after_english(scene: &Scene<'_>, at: usize, word: &str) -> bool {
    let Some((_, leaders)) = ENGLISH_AFTER.iter().find(|(listed, _)| *listed == word) else { return false };
    let before = at.checked_sub(1).map(|before| &*scene.words[before].key);
    let of_follows = following(scene, at + 1).next().is_some_and(|next| next.key == "of");
    before.is_some_and(|before| leaders.contains(&before)) && !of_follows
}

/// Plants as a whole and their groups, of which one may say where they grow: `mosses of wet rock`.
const GROUPS: &[&str] = &[
    "clubmoss",
    "conifer",
    "fern",
    "grass",
    "horsetail",
    "liverwort",
    "moss",
    "orchid",
    "plant",
    "sedge",
    "seedling",
    "tree",
];

/// Says whether `of` follows an organ and then a thing of daily life, with no organ between: `the root of the matter`.
fn is_of_a_thing(scene: &Scene<'_>, at: usize) -> bool {
    let mut next = following(scene, at + 1).map(|word| &*word.key);
    let organ = organ_of(&scene.words[at].key).filter(|organ| !GROUPS.contains(organ));
    if next.next() != Some("of") || organ.is_none() {
        return false;
    }
    let phrase = next.take(WORDS_AFTER_OF).take_while(|word| organ_of(word).is_none());
    phrase.into_iter().any(|word| everyday::listed(THINGS, word).is_some())
}

/// Says whether a word names a part of the flower.
fn is_flower_part(word: &str) -> bool {
    organ_of(word)
        .is_some_and(|organ| bearers(organ).any(|above| matches!(above, "flower" | "perianth" | "pistil")))
}

/// Returns the words from a position on that nothing but blanks and hyphens joins to those before.
fn following<'a>(scene: &'a Scene<'_>, from: usize) -> impl Iterator<Item = &'a Word<'a>> + Clone {
    let words = scene.words;
    let joined = |at: &usize| matches!(words[at - 1].joint, Joint::Blank | Joint::Hyphen);
    (from..words.len()).take_while(joined).map(|at| &words[at])
}

/// Says whether the clause names an organ for sure, besides the word itself.
fn names_organ(spot: &Spot<'_>) -> bool {
    let own = &spot.scene.words[spot.at.start].range;
    let vouches = |part: &Part| {
        let after = spot.scene.words.partition_point(|word| word.range.start < part.range.end);
        let is_organ = part.sure == Sureness::Sure && !is_time(spot.scene, after - 1);
        let may = part.sure != Sureness::Slight;
        is_organ || may && opens(spot, part.range.start) && !of_no_organ(spot.scene, after)
    };
    let is_verb = |part: &Part| {
        let at = spot.scene.words.partition_point(|word| word.range.start < part.range.start);
        at < spot.scene.words.len() && is_verb(spot, at)
    };
    let mut others = spot.clause.parts.iter().filter(|part| part.range != *own);
    others.any(|part| vouches(part) && !is_thing(spot, part) && !is_verb(part))
}

/// Says whether the word is an organ for sure and the clause names another by an everyday word.
fn is_with_organ(spot: &Spot<'_>) -> bool {
    let own = &spot.scene.words[spot.at.start].range;
    let (mine, others): (Vec<&Part>, Vec<&Part>) =
        spot.clause.parts.iter().partition(|part| part.range == *own);
    mine.iter().any(|part| part.sure == Sureness::Sure) && others.iter().any(|part| !is_thing(spot, part))
}

/// Says whether a loose adjective describes, though no sense of it is for the organ: in the telegraphic style, not
/// behind an article (`a double row`), and not as a word for how often a plant is met or where from.
fn describes(spot: &Spot<'_>, word: &str) -> bool {
    let before = spot.at.start.checked_sub(1).map(|before| &*spot.scene.words[before].key);
    let counts = before.is_some_and(|before| ARTICLES.contains(&before));
    !STATUS.contains(&word) && !counts && !prose::is_sentence(spot.scene, spot.clause)
}

/// Says whether a word stands for a time of year behind `in`: `in flower`, but not `in flowers`.
fn is_time(scene: &Scene<'_>, at: usize) -> bool {
    let before = at.checked_sub(1).map(|before| &*scene.words[before].key);
    before == Some("in") && TIMES.contains(&&*scene.words[at].key)
}

/// Letters of a word that only the trade uses at least.
const LEARNED_LETTERS: usize = 5;

/// Topics whose words are said of places and of whole books as well.
const ELSEWHERE: &[&str] = &["abbreviations.toml", "colour.toml", HABITAT, "season-status.toml"];

/// The topic whose words vouch for one another: `fens and flushes`.
const HABITAT: &str = "habitat.toml";

/// Says whether the clause has a word that only the trade uses, besides the word itself.
fn names_term(spot: &Spot<'_>) -> bool {
    let (words, range) = (spot.scene.words, &spot.clause.range);
    let from = words.partition_point(|word| word.range.start < range.start);
    let until = words.partition_point(|word| word.range.start < range.end);
    let mut others = (from..until).filter(|at| !spot.at.contains(at)).map(|at| &*words[at].key);
    others.any(|key| headword(key).is_none() && is_learned(spot.scene, key)) || names_place(spot)
}

/// Says whether the word is of the habitats and the clause has another such.
fn names_place(spot: &Spot<'_>) -> bool {
    let (scene, range) = (spot.scene, &spot.clause.range);
    let words = scene.words;
    if !is_place(scene, &words[spot.at.start].key) {
        return false;
    }
    let opens_place = |at: usize| {
        let pair = words.get(at..at + 2).filter(|pair| pair[0].joint == Joint::Hyphen);
        pair.is_some_and(|pair| is_place(scene, &format!("{} {}", pair[0].key, pair[1].key)))
    };
    let from = words.partition_point(|word| word.range.start < range.start);
    let until = words.partition_point(|word| word.range.start < range.end);
    let told = |at: usize| headword(&words[at].key).is_none() && is_place(scene, &words[at].key);
    (from..until).filter(|at| !spot.at.contains(at)).any(|at| told(at) || opens_place(at))
}

/// Says whether a word leads to an entry of the habitats.
fn is_place(scene: &Scene<'_>, key: &str) -> bool {
    is_of_topic(scene, key, HABITAT)
}

fn is_of_topic(scene: &Scene<'_>, key: &str, wanted: &str) -> bool {
    let id = scene.lexicon.find(key).first().copied();
    id.is_some_and(|id| topic(&fold(&scene.lexicon.get(id).name)) == Some(wanted))
}

/// Says whether only the trade uses a word, which is none of the tables.
fn is_learned(scene: &Scene<'_>, key: &str) -> bool {
    key.len() >= LEARNED_LETTERS
        && organ_of(key).is_none()
        && !prose::is_easy(key)
        && !scene.lexicon.find(key).is_empty()
        && topic(key).is_none_or(|topic| !ELSEWHERE.contains(&topic))
}

/// Says whether the clause goes on about the organ of the clause before.
fn goes_on(spot: &Spot<'_>) -> bool {
    let begins = spot.scene.text[spot.clause.range.clone()].chars().next();
    let own = &spot.scene.words[spot.at.start].range;
    let inherits = spot.clause.parts.iter().all(|part| part.range == *own || part.sure != Sureness::Sure);
    // `Persistent for years.` goes on in the telegraphic style, though it begins a sentence.
    let goes_on = |letter: char| {
        !letter.is_uppercase()
            || own.start == spot.clause.range.start
                && spot.clause.parts.is_empty()
                && topic(&spot.scene.words[spot.at.start].key) != Some(HABITAT)
                && !prose::is_sentence(spot.scene, spot.clause)
    };
    spot.clause.organ.is_some() && inherits && begins.is_some_and(goes_on)
}

/// Says whether the noun at a byte opens its clause, in the telegraphic style of descriptions.
fn opens(spot: &Spot<'_>, noun: usize) -> bool {
    let before = spot.scene.words.iter().filter(|word| word.range.start >= spot.clause.range.start);
    let mut before = before.take_while(|word| word.range.start < noun);
    let leads_in = |word: &Word<'_>| PREPOSITIONS.contains(&&*word.key) || POINTING.contains(&&*word.key);
    !before.by_ref().take(WORDS_BEFORE_OPENER).any(leads_in) && before.next().is_none()
}

/// Says whether `of` follows a noun, from a position on, and what comes then is no organ.
fn of_no_organ(scene: &Scene<'_>, from: usize) -> bool {
    let mut next = following(scene, from);
    let first = next.next().map(|word| &*word.key);
    let each = || next.clone().next().is_some_and(|word| matches!(&*word.key, "each" | "every"));
    if !(first == Some("of") || first == Some("for") && each()) {
        return false;
    }
    let phrase = next.take_while(|word| !ENDING.contains(&&*word.key));
    // `Spikes of two kinds`, `heads of 3–5`, `rays of equal length` say how they are and of no other thing.
    let counts = |word: &Word<'_>| {
        MEASURES.contains(&&*word.key) || word.printed.starts_with(|sign: char| sign.is_ascii_digit())
    };
    if phrase.clone().take(WORDS_AFTER_OF).any(counts) {
        return false;
    }
    let mut nouns = phrase.filter(|word| !ARTICLES.contains(&&*word.key)).take(WORDS_AFTER_OF);
    !nouns.any(|word| organ_of(&word.key).is_some())
}
