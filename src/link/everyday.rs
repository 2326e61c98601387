//! Headwords that are also ordinary English, by how they can be told: the tables for `ordinary`, a row a word.
//!
//! A new row needs no code. What the rules make of the tables is not said here.

/// Adjectives and participles that ordinary English uses as well, but hardly ever of an organ.
pub(super) const ADJECTIVES: &[&str] = &[
    "abnormal",
    "alternate",
    "armed",
    "barren",
    "binary",
    "close",
    "closed",
    "coated",
    "compound",
    "contracted",
    "crowded",
    "cut",
    "dark",
    "dense",
    "depressed",
    "descending",
    "distinct",
    "divided",
    "dormant",
    "dotted",
    "dry",
    "dull",
    "entire",
    "female",
    "fertile",
    "flat",
    "fleshy",
    "floating",
    "free",
    "fused",
    "hard",
    "hollow",
    "homogeneous",
    "immersed",
    "imperfect",
    "impressed",
    "inane",
    "incomplete",
    "indefinite",
    "inferior",
    "inserted",
    "interrupted",
    "inverted",
    "irregular",
    "limp",
    "male",
    "marginal",
    "masculine",
    "masked",
    "naked",
    "neuter",
    "normal",
    "nude",
    "obscure",
    "obsolete",
    "open",
    "opposite",
    "paired",
    "parallel",
    "perfect",
    "persistent",
    "prominent",
    "radial",
    "reclined",
    "rigid",
    "robust",
    "rolled",
    "rough",
    "scattered",
    "shining",
    "simple",
    "slender",
    "smooth",
    "soft",
    "solid",
    "sterile",
    "stiff",
    "stinging",
    "stout",
    "strict",
    "sunken",
    "superior",
    "supine",
    "suspended",
    "terminal",
    "underground",
    "unequal",
    "united",
    "vertical",
];

/// Those that it uses of organs too (`a single petal`), and nouns like them, so that one of their senses must apply.
pub(super) const LOOSE_ADJECTIVES: &[&str] = &[
    "common",
    "complete",
    "continuous",
    "definite",
    "distant",
    "double",
    "equal",
    "established",
    "exotic",
    "expanded",
    "included",
    "introduced",
    "key",
    "local",
    "native",
    "plane",
    "primary",
    "produced",
    "prolonged",
    "proper",
    "radical",
    "regular",
    "remote",
    "round",
    "secondary",
    "single",
    "square",
    "stock",
];

/// Those that say how often a plant is met or where it comes from.
pub(super) const STATUS: &[&str] =
    &["common", "established", "exotic", "introduced", "local", "native", "regular"];

/// Those that say where a plant comes from.
pub(super) const ORIGIN: &[&str] = &["alien", "exotic", "introduced", "native"];

/// Words for where plants come from and how they keep themselves up, which vouch for one another.
pub(super) const SETTLED: &[&str] = &[
    "adventive",
    "alien",
    "aliens",
    "archaeophyte",
    "casual",
    "casuals",
    "cultivated",
    "cultivation",
    "endemic",
    "escape",
    "escapes",
    "established",
    "introduced",
    "native",
    "naturalised",
    "naturalized",
    "neophyte",
    "planted",
    "relic",
    "relics",
];

/// What tells leaves from others, so that `leaves` after it is no verb.
pub(super) const WHICH_LEAVES: &[&str] =
    &["all", "few", "inner", "lower", "middle", "old", "other", "outer", "the", "upper", "with", "young"];

/// Nouns that ordinary English uses as well.
pub(super) const NOUNS: &[&str] = &[
    "abortion",
    "angle",
    "apex",
    "appendage",
    "axis",
    "banner",
    "base",
    "beak",
    "beard",
    "blade",
    "bloom",
    "body",
    "border",
    "boss",
    "bundle",
    "bush",
    "cane",
    "canopy",
    "cell",
    "class",
    "claw",
    "collar",
    "column",
    "cone",
    "consolidation",
    "crest",
    "crown",
    "cushion",
    "cycle",
    "disc",
    "disk",
    "duct",
    "duration",
    "emergence",
    "escape",
    "eye",
    "fibre",
    "flush",
    "germ",
    "graft",
    "grain",
    "head",
    "helmet",
    "hip",
    "hood",
    "horn",
    "host",
    "husk",
    "insertion",
    "joint",
    "keel",
    "knee",
    "lid",
    "limb",
    "line",
    "lip",
    "margin",
    "mouth",
    "neck",
    "nerve",
    "offset",
    "order",
    "outline",
    "partition",
    "plume",
    "pore",
    "pouch",
    "process",
    "rank",
    "ray",
    "ridge",
    "ring",
    "sac",
    "scale",
    "scar",
    "section",
    "segment",
    "sheath",
    "shell",
    "slack",
    "specimen",
    "sport",
    "spot",
    "spur",
    "stamina",
    "standard",
    "stone",
    "style",
    "sucker",
    "surface",
    "tail",
    "texture",
    "throat",
    "tip",
    "tooth",
    "tribe",
    "tube",
    "type",
    "valve",
    "vertex",
    "vessel",
    "wing",
    "wood",
];

/// Forms that mean something else than their headword: `woods` are no tissue, and `rare` no density.
pub(super) const NEVER: &[&str] =
    &["closes", "cuts", "dries", "grounds", "hollows", "mass", "normally", "rare", "wooded", "woods"];

/// Words that point at something said before, so that the noun after them opens no description.
pub(super) const POINTING: &[&str] =
    &["her", "his", "my", "our", "that", "their", "these", "this", "those", "your"];

/// Words that `from` or `of` makes English of (`free from hairs`), but not before a part of the flower.
pub(super) const FREED: &[&str] = &["free"];

/// What organs are said to be of, without another organ.
pub(super) const MEASURES: &[&str] = &[
    "colour",
    "form",
    "forms",
    "height",
    "kinds",
    "length",
    "pair",
    "pairs",
    "row",
    "rows",
    "series",
    "shape",
    "size",
    "sort",
    "sorts",
    "thickness",
    "width",
    "year",
];

/// Verbs before which a phrase with `of` ends at the latest.
pub(super) const ENDING: &[&str] = &["are", "had", "has", "have", "is", "was", "were", "will"];

/// Titles, behind which a capital begins a person's name.
pub(super) const TITLES: &[&str] = &["dr", "mr", "mrs", "ms", "prof", "rev", "st"];

/// Organs and what a plant is in with them (`in flower`), which is a time and names no organ.
pub(super) const TIMES: &[&str] = &["bloom", "bud", "cone", "flower", "fruit", "leaf", "seed"];

/// Words that say nothing alone behind a hyphen: kinds of plants in a plant's name (`cotton-grass`), `straw-coloured`.
pub(super) const KINDS: &[&str] =
    &["colored", "coloured", "fern", "grass", "heath", "moss", "rush", "sedge", "weed"];

/// Verbs that follow `to` after an adjective that is English alone (`simple to find`).
pub(super) const DOING: &[&str] = &[
    "apply",
    "climb",
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
pub(super) const ARTICLES: &[&str] =
    &["a", "an", "each", "every", "its", "the", "their", "these", "this", "those"];

/// Words behind which a noun belongs to what was named before.
pub(super) const OWNING: &[&str] = &["its", "own", "their", "whose"];

/// Words behind which a growth form is what plants make of themselves: `forms a cushion`.
pub(super) const FORMING: &[&str] = &["form", "forming", "forms", "make", "makes", "making"];

/// Words that `dwarf` and its like describe, besides organs.
pub(super) const KINDRED: &[&str] = &[
    "ecotype", "form", "forms", "plant", "plants", "race", "races", "state", "states", "variant", "variety",
];

/// Words that open a phrase of place or time, in which an opening noun is no organ.
pub(super) const PREPOSITIONS: &[&str] =
    &["above", "along", "at", "below", "by", "from", "in", "near", "on", "over", "to", "under"];

/// Returns the row that a word has in a sorted table.
pub(super) fn listed(table: &'static [&'static str], word: &str) -> Option<&'static str> {
    table.binary_search(&word).ok().map(|at| table[at])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_in_order_for_the_search() {
        assert!([ADJECTIVES, LOOSE_ADJECTIVES, NOUNS].iter().all(|table| table.is_sorted()));
    }
}
