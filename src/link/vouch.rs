//! What else vouches for a word that is also ordinary English: other words of status, the organ that a noun of place lies
//! on, the group of plants that the text tells, the plant that an adjective is said of. The tables are not here.

use crate::clause::{Part, Sureness, bearers, organ_of};
use crate::link::everyday::{ARTICLES, ORIGIN, PREPOSITIONS, SETTLED};
use crate::link::ordinary::Spot;
use crate::link::words::{Joint, Word};
use crate::link::{figure, prose, sense};

/// Says whether a word for where a plant comes from stands in one clause with another: `introduced, now naturalised`.
pub(super) fn is_settled(spot: &Spot<'_>) -> bool {
    let own = &spot.scene.words[spot.at.start].key;
    let settles = |word: &Word<'_>| SETTLED.contains(&&*word.key);
    (ORIGIN.contains(&&**own) || *own == "established")
        && within(spot).any(|word| settles(word) && word.key != *own)
}

/// Says whether a noun lies on an organ that stands right before it: `hairs all round the margin`.
pub(super) fn lies_on_an_organ(spot: &Spot<'_>) -> bool {
    let before = spot.scene.words[..spot.at.start].iter().rev();
    let mut before = before.take_while(|word| word.joint == Joint::Blank);
    let article = before.next().is_some_and(|word| ARTICLES.contains(&&*word.key));
    let leads = |word: &Word<'_>| PREPOSITIONS.contains(&&*word.key) || AROUND.contains(&&*word.key);
    if !article || !before.next().is_some_and(leads) {
        return false;
    }
    let organ = before.find(|word| !matches!(&*word.key, "all" | "chiefly" | "mainly" | "mostly" | "only"));
    let is_sure = |word: &Word<'_>| {
        spot.clause.parts.iter().any(|part| part.range == word.range && part.sure == Sureness::Sure)
    };
    organ.is_some_and(is_sure)
}

/// Says whether the clause names another part by an everyday word that is a part of the same: the keel and the wings.
/// Animals have a wing, a claw and a beak as well.
pub(super) fn is_among_its_kin(spot: &Spot<'_>) -> bool {
    let own = &spot.scene.words[spot.at.start];
    let Some(organ) = organ_of(&own.key).filter(|_| within(spot).all(|word| !figure::is_alive(&word.key)))
    else {
        return false;
    };
    let (sure, kin) = (Sureness::Everyday, |other: &str| {
        bearers(other).skip(1).any(|above| bearers(organ).skip(1).any(|own| own == above))
    });
    let begins = spot.scene.text[spot.clause.range.clone()].chars().next();
    let at = spot.scene.clauses.partition_point(|other| other.range.start < spot.clause.range.start);
    // One that goes on behind a semicolon goes on about the parts named before it.
    let before = at.checked_sub(1).filter(|_| begins.is_some_and(char::is_lowercase));
    let before = before.into_iter().flat_map(|at| &spot.scene.clauses[at].parts);
    let mut others =
        spot.clause.parts.iter().chain(before).filter(|part| part.range != own.range && part.sure == sure);
    others.any(|part| part.organ != organ && kin(part.organ))
}

/// Nouns, and words of which one in the clause tells that a part of a plant is meant: insects seek flowers, and trees with
/// needles have cones.
const COMPANY: &[(&[&str], &[&str])] = &[
    (
        &["hood", "hoods", "lip", "lips", "spur", "spurs", "throat", "throats", "tube", "tubes"],
        &["bee", "bees", "bumblebee", "bumblebees", "honey", "hoverflies", "nectar", "pollen"],
    ),
    (&["cone", "cones"], &["conifer", "conifers", "fir", "firs", "larch", "pine", "pines", "spruce", "yew"]),
];

/// Says whether a noun stands in one clause with a word that hardly comes without such a part of a plant.
pub(super) fn is_told_by_company(spot: &Spot<'_>) -> bool {
    let own = &*spot.scene.words[spot.at.start].key;
    let row = COMPANY.iter().find(|(nouns, _)| nouns.contains(&own));
    row.is_some_and(|(_, company)| within(spot).any(|word| company.contains(&&*word.key)))
}

/// Says whether the clause names two parts of the same by everyday words, besides the word itself.
pub(super) fn names_kin(spot: &Spot<'_>) -> bool {
    let own = &spot.scene.words[spot.at.start];
    let is_other = |part: &&Part| part.range != own.range && part.sure == Sureness::Everyday;
    let others: Vec<&Part> = spot.clause.parts.iter().filter(is_other).collect();
    let kin = |one: &Part, other: &Part| {
        one.organ != other.organ
            && bearers(one.organ).skip(1).any(|above| bearers(other.organ).skip(1).any(|own| own == above))
    };
    others.iter().enumerate().any(|(at, one)| others[at + 1..].iter().any(|other| kin(one, other)))
        && within(spot).all(|word| !figure::is_alive(&word.key))
}

/// Prepositions of nouns of place, besides [`PREPOSITIONS`].
const AROUND: &[&str] = &["around", "at", "behind", "beside", "round", "towards"];

/// Says whether a noun has a sense of the one group of plants that the text tells: the lid and the nerve of a moss.
pub(super) fn is_of_group(spot: &Spot<'_>) -> bool {
    let scene = spot.scene;
    let ids = scene.lexicon.find(&scene.words[spot.at.start].key);
    ids.first().is_some_and(|id| sense::of_group(scene.lexicon.get(*id), &[], scene.groups).is_some())
}

/// Says whether an adjective is said of a plant by its name or of a hybrid: `Hairy Tideweed is not hairy`.
pub(super) fn is_said_of_a_plant(spot: &Spot<'_>) -> bool {
    let words = spot.scene.words;
    let key = &*words[spot.at.start].key;
    if matches!(key, "fertile" | "sterile") {
        return within(spot).any(|word| matches!(&*word.key, "hybrid" | "hybrids"));
    }
    let before = words[..spot.at.start].iter().rev().take_while(|word| word.joint == Joint::Blank);
    let mut before =
        before.skip_while(|word| matches!(&*word.key, "always" | "hardly" | "never" | "not" | "often"));
    let is = before.next().is_some_and(|word| matches!(&*word.key, "are" | "is"));
    let name: Vec<&Word<'_>> = before.take(WORDS_OF_NAME).take_while(|word| word.is_capitalised()).collect();
    // `Hairy Tideweed` names a plant by a word of the trade, as `Brannock Head` does not.
    let first = name.get(1).filter(|_| name.len() == WORDS_OF_NAME);
    is && first.is_some_and(|first| prose::mild(&first.key).is_some())
}

/// Words of a plant's vernacular name.
const WORDS_OF_NAME: usize = 2;

/// Returns the words of the clause but for the word itself.
fn within<'a>(spot: &'a Spot<'_>) -> impl Iterator<Item = &'a Word<'a>> {
    let range = &spot.clause.range;
    let words = spot.scene.words.iter().enumerate();
    let there =
        move |(at, word): &(usize, &Word<'_>)| range.contains(&word.range.start) && !spot.at.contains(at);
    words.filter(there).map(|(_, word)| word)
}
