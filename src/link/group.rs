//! Which groups of plants a text is about: by what it stands under, and by words that hardly another group is
//! described with. A group picks the senses that only it has (the nerve of a moss); none is guessed.

use std::sync::OnceLock;

use regex::Regex;

use crate::link::everyday::listed;
use crate::link::kindred::{EXAMPLE_BEFORE, GROUPS};
use crate::link::words::{Joint, Word};
use crate::terms::form::fold;

/// Groups of plants, of those that the glossary has senses for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Groups(u32);

impl Groups {
    /// Plants of no group that the glossary has a sense for.
    pub const OTHER: Self = Self(1 << 31);

    /// Returns the groups that a name or a title tells: a family by any of its names, or an English heading.
    ///
    /// ```
    /// use ligule::link::Groups;
    /// assert_eq!(Groups::told_by("Gramineae"), Groups::told_by("Key to the grasses"));
    /// assert!(Groups::told_by("Key to the genera").is_empty());
    /// ```
    pub fn told_by(name: &str) -> Self {
        let mut all = Self::default();
        for word in name.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty()) {
            let key = fold(word);
            let of_none = key.ends_with("aceae") || OTHERS.contains(&&*key);
            let before = all;
            let tells = |row: &crate::link::kindred::Group| {
                row.families.contains(&&*key) || row.headings.contains(&&*key)
            };
            for (at, _) in GROUPS.iter().enumerate().filter(|(_, row)| tells(row)) {
                all.0 |= 1 << at;
            }
            if all == before && of_none {
                all = all.with(Self::OTHER);
            }
        }
        all
    }

    /// Returns these and others.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Says whether there is no group.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Returns these if they are one group alone, else none.
    #[must_use]
    pub fn if_one(self) -> Self {
        if self.0.is_power_of_two() && self != Self::OTHER { self } else { Self::default() }
    }

    /// Says whether a group is in both.
    pub(super) fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Returns the organs that the glossary names the groups by.
    pub(super) fn organs(self) -> impl Iterator<Item = &'static str> {
        let has = move |at: &usize| self.0 & (1 << at) != 0;
        (0..GROUPS.len()).filter(has).flat_map(|at| GROUPS[at].organs).copied()
    }

    /// Returns the groups of a text with these words that stands under these: what it stands under goes before what its
    /// words tell, but for groups that are no families.
    pub(super) fn of_text(self, words: &[Word<'_>]) -> Self {
        let told = of_words(words);
        if self.is_empty() {
            return told;
        }
        let loose = GROUPS.iter().enumerate().filter(|(_, row)| row.families.is_empty());
        let loose = loose.fold(0, |bits, (at, _)| bits | 1 << at);
        Self(self.0 | told.0 & loose)
    }

    fn add(&mut self, name: &str) {
        if let Some(at) = GROUPS.iter().position(|row| row.name == name) {
            self.0 |= 1 << at;
        }
    }
}

/// Families of no group whose names don't end as those of families do.
const OTHERS: &[&str] = &["cruciferae", "guttiferae", "palmae"];

/// Returns the groups that a definition names, and whether it is true of them alone (`in sedges, the scale …`) or has
/// them as an example (`as in grasses`).
pub(super) fn named_in(definition: &str) -> (Groups, bool) {
    let mut groups = Groups::default();
    let mut alone = true;
    // It is asked of every sense of every mark, and hardly any names a group.
    if !any_said().is_match(definition) {
        return (groups, alone);
    }
    for (at, row) in GROUPS.iter().enumerate() {
        for phrase in row.said {
            if let Some(found) = definition.find(phrase).filter(|found| is_whole(definition, *found, phrase))
            {
                groups.0 |= 1 << at;
                alone &= !EXAMPLE_BEFORE.iter().any(|words| definition[..found].contains(words))
                    && !definition[found + phrase.len()..].starts_with(" and ");
            }
        }
    }
    (groups, alone)
}

/// Returns what finds whether a definition may name a group at all.
fn any_said() -> &'static Regex {
    static SAID: OnceLock<Regex> = OnceLock::new();
    SAID.get_or_init(|| {
        let said: Vec<String> =
            GROUPS.iter().flat_map(|row| row.said).map(|phrase| regex::escape(phrase)).collect();
        Regex::new(&said.join("|")).expect("escaped phrases are a pattern")
    })
}

fn is_whole(text: &str, at: usize, phrase: &str) -> bool {
    let letter = |letter: char| letter.is_alphanumeric() || letter == '-';
    !text[..at].ends_with(letter) && !text[at + phrase.len()..].starts_with(letter)
}

/// Words of one group alone, folded and in alphabetical order, with the organ that names the group in the glossary.
const TOLD: &[(&str, &str)] = &[
    ("acrocarpous", "moss"),
    ("alar", "moss"),
    ("autoicous", "moss"),
    ("calyptra", "moss"),
    ("capitula", "head"),
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
    ("involucel", "umbel"),
    ("labellum", "orchid"),
    ("lemma", "grass"),
    ("lemmas", "grass"),
    ("lemmata", "grass"),
    ("lodicule", "grass"),
    ("lodicules", "grass"),
    ("mericarp", "umbel"),
    ("mericarps", "umbel"),
    ("mosses", "moss"),
    ("orchid", "orchid"),
    ("orchids", "orchid"),
    ("pappus", "head"),
    ("paraphyllia", "moss"),
    ("parasite", "parasite"),
    ("parasitic", "parasite"),
    ("perichaetial", "moss"),
    ("perigynia", "sedge"),
    ("perigynium", "sedge"),
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
    ("umbellet", "umbel"),
    ("umbellets", "umbel"),
    ("umbellule", "umbel"),
    ("umbels", "umbel"),
    ("viscidia", "orchid"),
    ("viscidium", "orchid"),
    ("vitta", "umbel"),
    ("vittae", "umbel"),
];

/// A group that words tell together: all of the first must be there and none of the second.
struct Together(&'static str, &'static [&'static str], &'static [&'static str]);

const TOGETHER: &[Together] = &[
    Together("dock", &["valves", "tubercle"], &["capsule"]),
    Together("dock", &["valves", "tubercles"], &["capsule"]),
    Together("mallow", &["epicalyx", "column"], &[]),
    Together("grass", &["ligules", "panicle"], &["capitula", "florets", "phyllaries"]),
    Together("grass", &["ligules", "sheaths"], &["capitula", "phyllaries"]),
    Together("grass", &["ligules", "culms"], &["capitula", "phyllaries"]),
    Together("grass", &["ligules", "spikelets"], &["capitula", "phyllaries"]),
    Together("grass", &["palea", "floret"], &["receptacle"]),
    Together("grass", &["palea", "grain"], &["receptacle"]),
    Together("grass", &["spikelets", "awn"], &[]),
    Together("head", &["disc", "rays"], &["capsule", "ovary", "ribs", "stigmas", "umbels"]),
    Together("head", &["disk", "rays"], &["capsule", "ovary", "ribs", "stigmas", "umbels"]),
    Together("head", &["florets", "ligulate"], &[]),
    Together("head", &["florets", "latex"], &[]),
    Together("head", &["florets", "disk"], &[]),
    Together("head", &["ligules", "arachnoid"], &[]),
    Together("head", &["ligules", "revolute"], &[]),
    Together("head", &["ligules", "heads"], &[]),
    Together("head", &["ligules", "latex"], &[]),
    Together("head", &["ligules", "yellow"], &["culm", "culms"]),
    Together("head", &["ligules", "white"], &["culm", "culms", "leaves", "sheaths"]),
    Together("horsetail", &["sheaths", "teeth"], &["calyx", "ligule", "ligules", "blades"]),
    Together("moss", &["nerve", "cells"], &["glume", "glumes", "lemma", "lemmas"]),
    Together("moss", &["nerve", "crisped"], &["glume", "glumes", "lemma", "lemmas"]),
    Together("moss", &["nerve", "excurrent"], &["glume", "glumes", "lemma", "lemmas"]),
    Together("moss", &["nerve", "moistened"], &["glume", "glumes", "lemma", "lemmas"]),
    Together("moss", &["capitulum", "fascicles"], &["involucre"]),
    Together("sedge", &["utricles", "glumes"], &[]),
    Together("sedge", &["utricle", "glumes"], &[]),
    Together("sedge", &["utricle", "nut"], &[]),
    Together("sedge", &["utricles", "nut"], &[]),
    Together("sedge", &["utricle", "spike"], &[]),
    Together("sedge", &["utricles", "spike"], &[]),
    Together("sedge", &["utricles", "spikes"], &[]),
    Together("sedge", &["utricles", "stigmas"], &[]),
    Together("sedge", &["utricles", "beak"], &[]),
    Together("sedge", &["utricles", "trigonous"], &[]),
    Together("sedge", &["utricles", "biconvex"], &[]),
    Together("sedge", &["utricles", "female"], &[]),
    Together("sedge", &["glume", "nut"], &["lemma", "lemmas"]),
    Together("sedge", &["glumes", "nut"], &["lemma", "lemmas"]),
    Together("sedge", &["glumes", "female"], &["lemma", "lemmas"]),
    Together("sedge", &["glumes", "bristles"], &["lemma", "lemmas"]),
    Together("sedge", &["bristles", "cottony"], &[]),
    Together("poppy", &["rays", "capsule"], &["florets", "heads"]),
    Together("umbel", &["rays", "bracteoles"], &[]),
    Together("umbel", &["rays", "ribs"], &["achenes", "florets", "heads", "ligules", "pappus"]),
    Together("umbel", &["rays", "leaflets"], &["florets"]),
    Together("umbel", &["styles", "ribs"], &["calyx"]),
    Together("bladderwort", &["utricles", "traps"], &[]),
    Together("bladderwort", &["bladders", "water"], &["calyx"]),
    Together("orchid", &["lip"], &["calyx", "corolla", "lipped", "lower", "tube", "upper"]),
];

/// Words in which two that a hyphen joins are of one group alone.
const JOINED: &[(&str, &str, &str)] = &[("hair", "point", "moss"), ("hair", "points", "moss")];

/// Returns the groups that the words of a text tell.
fn of_words(words: &[Word<'_>]) -> Groups {
    let mut groups = Groups::default();
    let has = |key: &&str| words.iter().any(|word| word.key == *key);
    for word in words {
        if let Ok(at) = TOLD.binary_search_by(|(told, _)| (*told).cmp(&*word.key)) {
            groups.add(TOLD[at].1);
        }
    }
    for pair in words.windows(2).filter(|pair| pair[0].joint == Joint::Hyphen) {
        let joined = JOINED.iter().find(|(one, next, _)| pair[0].key == *one && pair[1].key == *next);
        if let Some((_, _, group)) = joined {
            groups.add(group);
        }
    }
    if words.iter().any(|word| listed(OPENERS, &word.key).is_some()) {
        let told = TOGETHER.iter().filter(|row| row.1.iter().all(has) && !row.2.iter().any(has));
        told.for_each(|row| groups.add(row.0));
    }
    groups
}

/// The first words of the rows of [`TOGETHER`]: a text without one of them needs no further look.
const OPENERS: &[&str] = &[
    "bladders",
    "bristles",
    "capitulum",
    "disc",
    "disk",
    "epicalyx",
    "florets",
    "glume",
    "glumes",
    "ligules",
    "lip",
    "nerve",
    "palea",
    "rays",
    "sheaths",
    "spikelets",
    "styles",
    "utricle",
    "utricles",
    "valves",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::words::words;

    #[track_caller]
    fn check_groups(text: &str, expected: &[&str]) {
        let groups = of_words(&words(text));
        let found: Vec<&str> = GROUPS
            .iter()
            .enumerate()
            .filter(|(at, _)| groups.0 & (1 << at) != 0)
            .map(|(_, row)| row.name)
            .collect();
        assert_eq!(found, expected, "{text}");
    }

    #[test]
    fn the_tables_are_in_order_for_the_search() {
        assert!(TOLD.is_sorted_by(|one, next| one.0 < next.0) && OPENERS.is_sorted());
        assert!(TOGETHER.iter().all(|row| OPENERS.contains(&row.1[0])));
        let told = TOLD.iter().map(|row| row.1).chain(TOGETHER.iter().map(|row| row.0));
        let lost = told
            .chain(JOINED.iter().map(|row| row.2))
            .find(|name| GROUPS.iter().all(|row| row.name != *name));
        assert_eq!(lost, None);
        // The last bit stands for all other plants.
        assert!(GROUPS.len() < 31);
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

    #[test]
    fn a_family_is_told_by_its_old_and_its_new_name_and_in_english() {
        for (old, new, english) in [
            ("Umbelliferae", "Apiaceae", "Umbellifers"),
            ("Compositae", "ASTERACEAE", "Composites"),
            ("Cyperaceae", "9. Cyperaceae", "Sedges and their kin"),
        ] {
            assert_eq!(Groups::told_by(old), Groups::told_by(new));
            assert_eq!(Groups::told_by(old), Groups::told_by(english));
            assert!(!Groups::told_by(old).is_empty(), "{old}");
        }
        assert_eq!(Groups::told_by("Ranunculaceae"), Groups::OTHER);
        assert!(Groups::told_by("Key to grasses and sedges").if_one().is_empty());
    }

    #[test]
    fn a_definition_names_its_group_or_has_it_as_an_example() {
        assert_eq!(named_in("in sedges, the scale"), (Groups::told_by("Cyperaceae"), true));
        assert_eq!(named_in("a small flap, as in grasses"), (Groups::told_by("Poaceae"), false));
        assert_eq!(named_in("a hollow part").0, Groups::default());
    }

    #[test]
    fn what_a_text_stands_under_goes_before_its_words() {
        let sedges = Groups::told_by("Cyperaceae");
        assert_eq!(sedges.of_text(&words("like an umbel")), sedges);
        assert_eq!(Groups::default().of_text(&words("like an umbel")), Groups::told_by("Apiaceae"));
    }
}
