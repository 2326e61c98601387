//! Prefixes and suffixes that words of the trade are built with: the tables for `compose`, a row each.
//!
//! A row makes no word: the rest must be in a glossary. What is written here is our wording, with a blank for
//! it: `{}` for the headword in plain words, `[]` for the part as it stands in the word.

/// A prefix, what it says of the rest, and the letters that the rest has at least.
pub(super) struct Prefix(pub(super) &'static str, pub(super) &'static str, pub(super) usize);

/// A suffix, what may stand in its place at the end of a headword, and what it says of that headword.
pub(super) struct Suffix(
    pub(super) &'static str,
    pub(super) &'static [&'static str],
    pub(super) &'static str,
);

/// Every prefix; of two that fit the longer one stands first.
pub(super) const PREFIXES: &[Prefix] = &[
    Prefix("quinque", "five times: {}", 5),
    Prefix("sesqui", "one and a half times: {}", 5),
    Prefix("quadri", "four times: {}", 5),
    Prefix("circum", "all round: {}", 5),
    Prefix("pseudo", "seemingly, not truly {}", 4),
    Prefix("hetero", "of different kinds: {}", 5),
    Prefix("supra", "above: {}", 5),
    Prefix("infra", "below: {}", 5),
    Prefix("inter", "in between: {}", 6),
    Prefix("intra", "within: {}", 5),
    Prefix("extra", "outside: {}", 5),
    Prefix("micro", "very small: {}", 5),
    Prefix("macro", "large: {}", 5),
    Prefix("multi", "many times: {}", 5),
    Prefix("pluri", "several times: {}", 5),
    Prefix("pauci", "few times: {}", 5),
    Prefix("oligo", "few times: {}", 5),
    Prefix("penta", "five times: {}", 5),
    Prefix("tetra", "four times: {}", 5),
    Prefix("aniso", "of unequal size: {}", 5),
    Prefix("semi", "half {}", 4),
    Prefix("hemi", "half {}", 4),
    Prefix("poly", "many times: {}", 5),
    Prefix("hexa", "six times: {}", 5),
    Prefix("peri", "round about: {}", 5),
    Prefix("homo", "all of one kind: {}", 5),
    Prefix("non", "not {}", 4),
    Prefix("sub", "almost {}", 4),
    Prefix("uni", "once: {}", 5),
    Prefix("tri", "three times: {}", 5),
    Prefix("epi", "upon: {}", 5),
    Prefix("iso", "all alike: {}", 5),
    Prefix("un", "not {}", 4),
    Prefix("in", "not {}", 7),
    Prefix("ir", "not {}", 7),
    Prefix("im", "not {}", 7),
    Prefix("ob", "upside down: {}", 5),
    Prefix("bi", "twice: {}", 5),
    Prefix("di", "twice: {}", 6),
    Prefix("ex", "not {}", 6),
    Prefix("an", "not {}", 7),
    Prefix("e", "not {}", 7),
    Prefix("a", "not {}", 8),
];

/// What `sub-` says of a place: just below or before it, not almost there.
pub(super) const BELOW: &str = "just below or close to: {}";

/// Headwords that name a place on the plant.
pub(super) const PLACES: &[&str] =
    &["apical", "axillary", "basal", "hilar", "lateral", "marginal", "nodal", "terminal"];

/// Endings of the words that `a-`, `an-`, `e-`, `ex-` and `in-` negate; other words only happen to begin so.
pub(super) const NEGATED: &[&str] =
    &["ate", "ated", "ose", "ous", "al", "ar", "ic", "ical", "ent", "ible", "ed"];

/// Every suffix.
pub(super) const SUFFIXES: &[Suffix] = &[
    Suffix("idulous", &["id"], "minutely {}"),
    Suffix("erulent", &["escent"], "minutely {}"),
    Suffix("ellate", &["ate", "ed"], "finely {}"),
    Suffix("ellose", &["ose", "ous"], "finely {}"),
    Suffix("ulate", &["ate", "ose", "ous"], "finely {}"),
    Suffix("ulose", &["ose", "ous", "ate"], "finely {}"),
    Suffix("ulous", &["ous", "ose", "ate"], "finely {}"),
    Suffix("olate", &["ate"], "finely {}"),
    Suffix("illate", &["ate"], "finely {}"),
    Suffix("illose", &["ose"], "finely {}"),
    Suffix("escent", &["ous", "ose", "ate", "id", "eous"], "becoming {}"),
    Suffix("iform", &["", "a", "us", "um", "is", "ium", "e"], "shaped like a []"),
    Suffix("oid", &["a", "us", "um", "is", "e", "o", ""], "like a []"),
    Suffix("iferous", &["", "a", "us", "um", "e"], "bearing a []"),
    Suffix("igerous", &["", "a", "us", "um", "e"], "bearing a []"),
    Suffix("less", &[""], "without any []"),
    Suffix("like", &[""], "like a []"),
    Suffix("ish", &["", "e"], "somewhat {}"),
];

/// The second part of a hyphened word, and what it says of the first.
pub(super) const SECOND: &[(&str, &str)] = &[
    ("based", "with a [] base"),
    ("bearing", "bearing a []"),
    ("edged", "with a [] edge"),
    ("forming", "forming a []"),
    ("free", "without any []"),
    ("like", "like a []"),
    ("shaped", "shaped like a []"),
    ("tipped", "with a [] at the tip"),
];

/// What is not counted, so that it has no article.
pub(super) const UNCOUNTED: &[&str] = &[
    "bloom",
    "chaff",
    "down",
    "felt",
    "foliage",
    "gum",
    "latex",
    "milk",
    "nectar",
    "pith",
    "pollen",
    "pubescence",
    "pulp",
    "resin",
    "sap",
    "starch",
    "tissue",
    "tomentum",
    "wax",
    "wood",
    "wool",
];

/// The first part of a hyphened word, and what it says of the second.
pub(super) const FIRST: &[(&str, &str)] = &[
    ("half", "half {}"),
    ("non", "not {}"),
    ("pseudo", "seemingly, not truly {}"),
    ("semi", "half {}"),
    ("sub", "almost {}"),
    ("un", "not {}"),
];

/// Words that stand for an adjective before a hyphen and that no rule makes.
pub(super) const COMBINING: &[(&str, &str)] =
    &[("lance", "lanceolate"), ("lanceo", "lanceolate"), ("lineari", "linear"), ("tereti", "terete")];

/// Words that only look composed.
pub(super) const WHOLE: &[&str] = &[
    "businesslike",
    "childlike",
    "countless",
    "doubtless",
    "endless",
    "harmless",
    "ladylike",
    "landless",
    "lifeless",
    "needless",
    "nevertheless",
    "nonetheless",
    "regardless",
    "restless",
    "sandless",
    "semiarid",
    "subdivided",
    "timeless",
    "uncommon",
    "undated",
    "understood",
    "unless",
    "unlike",
    "useless",
    "warlike",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_prefix_stands_before_one_that_begins_it() {
        for (at, Prefix(prefix, ..)) in PREFIXES.iter().enumerate() {
            let hidden =
                PREFIXES[at + 1..].iter().find(|later| later.0.starts_with(prefix) && later.0 != *prefix);
            assert!(hidden.is_none(), "{prefix} hides {}", hidden.map_or("", |later| later.0));
        }
    }

    #[test]
    fn every_wording_has_one_blank() {
        let all = (PREFIXES.iter().map(|row| row.1)).chain(SUFFIXES.iter().map(|row| row.2));
        let all = all.chain(SECOND.iter().chain(FIRST).map(|row| row.1)).chain([BELOW]);
        let blanks = |words: &str| words.matches("{}").count() + words.matches("[]").count();
        assert!(all.into_iter().all(|words| blanks(words) == 1));
    }
}
