//! Words that descriptions use in their strict meaning and any prose in an easy one: `stems twisted`, but `a twisted
//! gate`. They are English only in a sentence of prose that names no part of a plant; whether it does is not seen here.

use crate::clause::Clause;
use crate::link::Scene;
use crate::link::everyday::listed;

/// Adjectives and nouns of this kind, in alphabetical order.
const MILD: &[&str] = &[
    "angular",
    "anterior",
    "arched",
    "arching",
    "bald",
    "banded",
    "barbed",
    "bearded",
    "bent",
    "bladder",
    "blunt",
    "bony",
    "branching",
    "bristly",
    "buttress",
    "chambered",
    "circular",
    "clasping",
    "climb",
    "climbed",
    "climber",
    "climbing",
    "clone",
    "clump",
    "cluster",
    "coiled",
    "columnar",
    "concave",
    "conical",
    "convex",
    "cork",
    "creeping",
    "crowned",
    "cup",
    "curved",
    "diffuse",
    "downy",
    "drooping",
    "dwarf",
    "effete",
    "elongate",
    "elongated",
    "entangled",
    "feathery",
    "felted",
    "filament",
    "flattened",
    "flesh",
    "folded",
    "forked",
    "fragile",
    "fragrant",
    "fringed",
    "fruitlet",
    "furrowed",
    "glossy",
    "granular",
    "groove",
    "grooved",
    "hairy",
    "halved",
    "hoary",
    "hooded",
    "hooked",
    "horizontal",
    "horned",
    "horny",
    "interlaced",
    "interwoven",
    "jointed",
    "juicy",
    "juvenile",
    "kernel",
    "knotty",
    "latent",
    "lateral",
    "leathery",
    "livid",
    "looped",
    "lucid",
    "lurid",
    "lustrous",
    "marbled",
    "mat",
    "mature",
    "mealy",
    "median",
    "membrane",
    "mottled",
    "nodding",
    "nomenclature",
    "notch",
    "notched",
    "nucleus",
    "oblique",
    "oblong",
    "opaque",
    "opened",
    "opening",
    "organ",
    "outgrowth",
    "oval",
    "overlapping",
    "papery",
    "parasite",
    "pit",
    "pitted",
    "pointed",
    "posterior",
    "powdery",
    "prickly",
    "primordial",
    "pulp",
    "pungent",
    "rectangular",
    "ribbed",
    "ringed",
    "rounded",
    "running",
    "rusty",
    "sapling",
    "scented",
    "scentless",
    "scrambling",
    "serial",
    "shiny",
    "silky",
    "silvery",
    "slit",
    "sordid",
    "sparse",
    "spiny",
    "spongy",
    "spotted",
    "spreading",
    "starchy",
    "sticky",
    "straight",
    "strap",
    "striped",
    "succulent",
    "sward",
    "swollen",
    "symmetrical",
    "tailed",
    "tangled",
    "tapering",
    "tawny",
    "tetrad",
    "thickened",
    "thorny",
    "tissue",
    "toothed",
    "toothless",
    "trailing",
    "translucent",
    "triangular",
    "tufted",
    "twisted",
    "unscented",
    "upright",
    "urn",
    "vaulted",
    "vegetation",
    "veined",
    "vine",
    "warty",
    "waxy",
    "winged",
    "wiry",
    "woody",
    "woolly",
    "wrinkled",
];

/// Further words of the lexicon that prose uses now and then, so that they don't tell that a plant is described.
const EASY: &[&str] = &[
    "abortive",
    "abrupt",
    "accessory",
    "adherent",
    "aerial",
    "alga",
    "algae",
    "apical",
    "armature",
    "aromatic",
    "articulate",
    "articulated",
    "ascending",
    "asexual",
    "basal",
    "bough",
    "burl",
    "carnivorous",
    "cellulose",
    "cereal",
    "chaff",
    "cleft",
    "clustered",
    "coherent",
    "composite",
    "confluent",
    "constricted",
    "converging",
    "coppice",
    "crested",
    "crumpled",
    "cultivar",
    "declined",
    "determinate",
    "discrete",
    "elliptic",
    "elliptical",
    "ephemeral",
    "epidermis",
    "erect",
    "evergreen",
    "fibrous",
    "floral",
    "foramen",
    "fugitive",
    "fungus",
    "gall",
    "globular",
    "gnawed",
    "graduated",
    "granulated",
    "gum",
    "habit",
    "infertile",
    "integument",
    "irritable",
    "latex",
    "leafless",
    "leafy",
    "lichen",
    "linear",
    "longitudinal",
    "lozenge",
    "margined",
    "medullary",
    "monotypic",
    "morphology",
    "musky",
    "nectar",
    "neutral",
    "palate",
    "pale",
    "parted",
    "patent",
    "peripheral",
    "pitcher",
    "pollination",
    "prostrate",
    "protoplasm",
    "pyramidal",
    "reflexed",
    "refracted",
    "resin",
    "rooting",
    "rotund",
    "rudimentary",
    "sap",
    "scalloped",
    "scaly",
    "sex",
    "sexual",
    "sheathing",
    "solitary",
    "spherical",
    "spiral",
    "split",
    "starch",
    "subterranean",
    "supernumerary",
    "symmetric",
    "symmetry",
    "taxonomy",
    "tendency",
    "terminology",
    "terrestrial",
    "transverse",
    "tubular",
    "twin",
    "unarmed",
    "undivided",
    "vegetative",
    "wavy",
    "weedy",
];

/// Words without which hardly any sentence is written, and which descriptions in the telegraphic style do without
/// unless they name a part (`at the base`).
const PROSE: &[&str] = &[
    "a", "an", "are", "be", "been", "can", "did", "does", "for", "had", "has", "have", "he", "her", "his",
    "how", "i", "is", "it", "its", "me", "my", "now", "our", "she", "the", "their", "them", "there", "they",
    "this", "us", "was", "we", "were", "what", "where", "who", "why", "will", "would", "you", "your",
];

/// Returns the word of [`MILD`] that a folded word is a form of.
pub(super) fn mild(key: &str) -> Option<&'static str> {
    form_in(MILD, key)
}

/// Says whether prose uses a folded word now and then, in an easy meaning.
pub(super) fn is_easy(key: &str) -> bool {
    mild(key).or_else(|| form_in(EASY, key)).is_some()
}

fn form_in(table: &'static [&'static str], key: &str) -> Option<&'static str> {
    let mut found = listed(table, key);
    for ending in ["s", "es", "ly"] {
        found = found.or_else(|| listed(table, key.strip_suffix(ending)?));
    }
    found
}

/// Verbs and pronouns of whole sentences, in alphabetical order.
const SENTENCE: &[&str] = &[
    "are", "be", "been", "can", "did", "does", "had", "has", "have", "he", "her", "his", "i", "is", "it",
    "me", "my", "our", "she", "them", "they", "us", "was", "we", "were", "who", "will", "would", "you",
    "your",
];

/// Says whether a clause is written as prose is.
pub(super) fn is_prose(scene: &Scene<'_>, clause: &Clause) -> bool {
    has_one_of(PROSE, scene, clause)
}

/// Says whether a clause has the verb or pronoun of a whole sentence.
pub(super) fn is_sentence(scene: &Scene<'_>, clause: &Clause) -> bool {
    has_one_of(SENTENCE, scene, clause)
}

fn has_one_of(table: &'static [&'static str], scene: &Scene<'_>, clause: &Clause) -> bool {
    let within = scene.words.iter().skip_while(|word| word.range.start < clause.range.start);
    let mut within = within.take_while(|word| word.range.start < clause.range.end);
    within.any(|word| listed(table, &word.key).is_some())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clause::organ_of;

    #[test]
    fn the_tables_are_in_order_for_the_search() {
        assert!([MILD, EASY, PROSE, SENTENCE].iter().all(|table| table.is_sorted()));
    }

    #[test]
    fn an_easy_word_is_neither_mild_nor_an_organ() {
        let told = |word: &str| mild(word).is_some() || organ_of(word).is_some();
        let twice: Vec<&str> = EASY.iter().copied().filter(|word| told(word)).collect();
        assert!(twice.is_empty(), "{twice:?}");
    }
}
