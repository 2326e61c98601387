//! Which group of plants a text is about, by words that hardly another group is described with; it picks senses that
//! only that group has (the nerve of a moss). What a text without such a word is about is not guessed.

use crate::link::everyday::listed;
use crate::link::words::{Joint, Word};

/// Words of one group alone, folded and in alphabetical order, with the organ that names the group in the glossary.
const TOLD: &[(&str, &str)] = &[
    ("acrocarpous", "moss"),
    ("alar", "moss"),
    ("autoicous", "moss"),
    ("bracteole", "umbel"),
    ("bracteoles", "umbel"),
    ("calyptra", "moss"),
    ("carpophore", "umbel"),
    ("caudicle", "orchid"),
    ("caudicles", "orchid"),
    ("cypsela", "head"),
    ("cypselae", "head"),
    ("cypselas", "head"),
    ("dioicous", "moss"),
    ("fern", "fern"),
    ("ferns", "fern"),
    ("frond", "fern"),
    ("fronds", "fern"),
    ("haustoria", "parasite"),
    ("hemiparasite", "parasite"),
    ("host", "parasite"),
    ("hosts", "parasite"),
    ("indusia", "fern"),
    ("indusium", "fern"),
    ("labellum", "orchid"),
    ("mericarps", "umbel"),
    ("mosses", "moss"),
    ("orchid", "orchid"),
    ("orchids", "orchid"),
    ("pappus", "head"),
    ("paraphyllia", "moss"),
    ("parasite", "parasite"),
    ("parasitic", "parasite"),
    ("perichaetial", "moss"),
    ("peristome", "moss"),
    ("phyllaries", "head"),
    ("phyllary", "head"),
    ("pinnule", "fern"),
    ("pinnules", "fern"),
    ("pleurocarpous", "moss"),
    ("pollinia", "orchid"),
    ("pollinium", "orchid"),
    ("rostellum", "orchid"),
    ("seta", "moss"),
    ("setae", "moss"),
    ("sori", "fern"),
    ("sorus", "fern"),
    ("speculum", "orchid"),
    ("stipe", "fern"),
    ("stipes", "fern"),
    ("stylopodium", "umbel"),
    ("threads", "parasite"),
    ("umbel", "umbel"),
    ("umbels", "umbel"),
    ("viscidia", "orchid"),
    ("viscidium", "orchid"),
    ("vitta", "umbel"),
    ("vittae", "umbel"),
];

/// A group that words tell together: all of the first must be there and none of the second.
struct Together(&'static str, &'static [&'static str], &'static [&'static str]);

const TOGETHER: &[Together] = &[
    Together("dock flower", &["valves", "tubercle"], &["capsule"]),
    Together("dock flower", &["valves", "tubercles"], &["capsule"]),
    Together("filament", &["epicalyx", "column"], &[]),
    Together("head", &["ligules", "heads"], &[]),
    Together("head", &["ligules", "latex"], &[]),
    Together("head", &["ligules", "yellow"], &["culm", "culms"]),
    Together("head", &["ligules", "white"], &["culm", "culms", "leaves", "sheaths"]),
    Together("horsetail", &["sheaths", "teeth"], &["calyx", "ligule", "ligules", "blades"]),
    Together("moss", &["nerve", "cells"], &["glume", "glumes", "lemma", "lemmas"]),
    Together("moss", &["capitulum", "fascicles"], &["involucre"]),
    Together("orchid", &["lip"], &["calyx", "corolla", "lipped", "lower", "tube", "upper"]),
];

/// Words in which two that a hyphen joins are of one group alone.
const JOINED: &[(&str, &str, &str)] = &[("hair", "point", "moss"), ("hair", "points", "moss")];

/// Returns the groups that the words of a text tell, in the order of the tables.
pub(super) fn groups(words: &[Word<'_>]) -> Vec<&'static str> {
    let mut groups: Vec<&'static str> = Vec::new();
    let mut add = |group: &'static str| {
        if !groups.contains(&group) {
            groups.push(group);
        }
    };
    let has = |key: &&str| words.iter().any(|word| word.key == *key);
    for word in words {
        if let Ok(at) = TOLD.binary_search_by(|(told, _)| (*told).cmp(&*word.key)) {
            add(TOLD[at].1);
        }
    }
    for pair in words.windows(2).filter(|pair| pair[0].joint == Joint::Hyphen) {
        let joined = JOINED.iter().find(|(one, next, _)| pair[0].key == *one && pair[1].key == *next);
        if let Some((_, _, group)) = joined {
            add(group);
        }
    }
    if words.iter().any(|word| listed(OPENERS, &word.key).is_some()) {
        let told = TOGETHER.iter().filter(|row| row.1.iter().all(has) && !row.2.iter().any(has));
        told.for_each(|row| add(row.0));
    }
    groups
}

/// The first words of the rows of [`TOGETHER`]: a text without one of them needs no further look.
const OPENERS: &[&str] = &["capitulum", "epicalyx", "ligules", "lip", "nerve", "sheaths", "valves"];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::words::words;

    #[track_caller]
    fn check_groups(text: &str, expected: &[&str]) {
        assert_eq!(groups(&words(text)), expected, "{text}");
    }

    #[test]
    fn the_tables_are_in_order_for_the_search() {
        assert!(TOLD.is_sorted_by(|one, next| one.0 < next.0) && OPENERS.is_sorted());
        assert!(TOGETHER.iter().all(|row| OPENERS.contains(&row.1[0])));
    }

    #[test]
    fn a_word_of_one_group_tells_it() {
        check_groups("Nerve ending in the tip; peristome double", &["moss"]);
        check_groups("Leaf ending in a hair-point", &["moss"]);
        check_groups("Leaves hairy, acute", &[]);
    }

    #[test]
    fn a_lip_alone_is_an_orchids() {
        check_groups("Lip 3-lobed; spur short", &["orchid"]);
        check_groups("Upper lip hooded, lower lip 3-lobed", &[]);
    }
}
