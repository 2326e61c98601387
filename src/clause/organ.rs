//! The organs that clauses are about: one row each, with the words for it and what it is a kind or part of.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::clause::Sureness::{self, Everyday, Slight, Sure};

/// An organ: its name in the singular, further words for it, the organ that it is a kind or part of.
struct Organ(&'static str, &'static [&'static str], &'static str, Sureness);

/// Every organ. Regular plurals are made by rule; irregular ones and abbreviations are listed.
const ORGANS: &[Organ] = &[
    Organ(
        "plant",
        &["herb", "herbs", "annual", "annuals", "perennial", "perennials", "biennial", "shrub", "shrubs"],
        "",
        Sure,
    ),
    Organ("tree", &[], "plant", Sure),
    Organ("grass", &[], "plant", Sure),
    Organ("sedge", &[], "plant", Sure),
    Organ("fern", &[], "plant", Sure),
    Organ("moss", &[], "plant", Sure),
    Organ("seedling", &[], "plant", Sure),
    Organ("root", &["taproot", "rootstock"], "", Sure),
    Organ("rhizome", &["rootstock"], "stem", Sure),
    Organ("tuber", &[], "stem", Sure),
    Organ("bulb", &["bulbil"], "stem", Sure),
    Organ("corm", &[], "bulb", Sure),
    Organ("stolon", &["runner"], "stem", Sure),
    Organ("stem", &["scape"], "plant", Sure),
    Organ("culm", &[], "stem", Sure),
    Organ("trunk", &["bole"], "stem", Sure),
    Organ("shoot", &[], "stem", Sure),
    Organ("branch", &["branchlet"], "stem", Sure),
    Organ("twig", &[], "branch", Sure),
    Organ("node", &["internode"], "stem", Sure),
    Organ("bark", &[], "stem", Sure),
    Organ("wood", &[], "stem", Everyday),
    Organ("pith", &[], "stem", Sure),
    Organ("bud", &[], "", Sure),
    Organ("thorn", &[], "spine", Sure),
    Organ("spine", &[], "", Sure),
    Organ("prickle", &[], "spine", Sure),
    Organ("leaf", &["leaves", "lvs", "lf", "foliage", "needle"], "", Sure),
    Organ("frond", &[], "leaf", Sure),
    Organ("leaflet", &["lflets"], "leaf", Sure),
    Organ("pinna", &["pinnae"], "leaflet", Sure),
    Organ("pinnule", &[], "pinna", Sure),
    Organ("blade", &["lamina", "laminae"], "leaf", Everyday),
    Organ("petiole", &["leafstalk"], "leaf", Sure),
    Organ("petiolule", &[], "petiole", Sure),
    Organ("stipule", &[], "leaf", Sure),
    Organ("stipe", &[], "stalk", Sure),
    Organ("sheath", &[], "leaf", Everyday),
    Organ("ligule", &[], "leaf", Sure),
    Organ("tendril", &[], "leaf", Sure),
    Organ("cotyledon", &[], "leaf", Sure),
    Organ("rachis", &["rhachis", "rachises"], "leaf", Sure),
    Organ("midrib", &[], "vein", Sure),
    Organ("vein", &["nerve", "veinlet"], "leaf", Sure),
    Organ("stalk", &[], "", Sure),
    Organ("axil", &[], "", Sure),
    Organ("axis", &["axes"], "stem", Everyday),
    Organ("margin", &["edge"], "", Everyday),
    Organ("apex", &["apices", "tip"], "", Everyday),
    Organ("base", &[], "", Everyday),
    Organ("surface", &["underside"], "", Everyday),
    Organ("lobe", &[], "", Everyday),
    Organ("segment", &[], "lobe", Everyday),
    Organ("sinus", &[], "margin", Everyday),
    Organ("tooth", &["teeth"], "margin", Everyday),
    Organ("serration", &[], "tooth", Sure),
    Organ("auricle", &[], "base", Sure),
    Organ("hair", &["pubescence", "indumentum", "tomentum"], "", Sure),
    Organ("bristle", &["seta", "setae"], "hair", Sure),
    Organ("barb", &[], "bristle", Everyday),
    Organ("cilium", &["cilia"], "hair", Sure),
    Organ("gland", &[], "hair", Sure),
    Organ("scale", &[], "bract", Everyday),
    Organ("scar", &[], "", Everyday),
    Organ("suture", &[], "", Sure),
    Organ("inflorescence", &["infl", "infls"], "", Sure),
    Organ("spike", &[], "inflorescence", Everyday),
    Organ("spikelet", &[], "spike", Sure),
    Organ("raceme", &[], "inflorescence", Sure),
    Organ("panicle", &[], "inflorescence", Sure),
    Organ("corymb", &[], "inflorescence", Sure),
    Organ("umbel", &[], "inflorescence", Sure),
    Organ("umbellet", &[], "umbel", Sure),
    Organ("cyme", &[], "inflorescence", Sure),
    Organ("catkin", &["ament"], "inflorescence", Sure),
    Organ("spadix", &["spadices"], "spike", Sure),
    Organ("head", &["capitulum", "capitula"], "inflorescence", Everyday),
    Organ("whorl", &["verticil"], "", Everyday),
    Organ("peduncle", &[], "stalk", Sure),
    Organ("pedicel", &[], "stalk", Sure),
    Organ("bract", &["bracteole", "bractlet"], "leaf", Sure),
    Organ("involucre", &["involucel"], "bract", Sure),
    Organ("phyllary", &["phyllaries"], "bract", Sure),
    Organ("spathe", &[], "bract", Sure),
    Organ("glume", &[], "bract", Sure),
    Organ("lemma", &["lemmata"], "glume", Sure),
    Organ("palea", &["paleae"], "glume", Sure),
    Organ("awn", &[], "bristle", Sure),
    Organ("cupule", &[], "involucre", Sure),
    Organ("flower", &["fls"], "", Sure),
    Organ("floret", &[], "flower", Sure),
    Organ("ray", &["ligules"], "floret", Everyday),
    Organ("receptacle", &["torus"], "flower", Sure),
    Organ("disk", &["disc"], "receptacle", Everyday),
    Organ("hypanthium", &["hypanthia"], "flower", Sure),
    Organ("perianth", &[], "flower", Sure),
    Organ("tepal", &[], "perianth", Sure),
    Organ("calyx", &["calyces", "calyxes"], "perianth", Sure),
    Organ("sepal", &[], "calyx", Sure),
    Organ("corolla", &[], "perianth", Sure),
    Organ("petal", &[], "corolla", Sure),
    Organ("tube", &[], "corolla", Everyday),
    Organ("throat", &[], "corolla", Everyday),
    Organ("limb", &[], "corolla", Everyday),
    Organ("lip", &["labellum", "labella"], "corolla", Everyday),
    Organ("galea", &["galeae"], "lip", Sure),
    Organ("standard", &["vexillum"], "petal", Everyday),
    Organ("keel", &["carina"], "petal", Everyday),
    Organ("wing", &[], "petal", Everyday),
    Organ("claw", &[], "petal", Everyday),
    Organ("spur", &[], "petal", Everyday),
    Organ("corona", &["coronas", "coronae"], "corolla", Sure),
    Organ("nectary", &["nectaries"], "flower", Sure),
    Organ("stamen", &[], "flower", Sure),
    Organ("staminode", &[], "stamen", Sure),
    Organ("filament", &[], "stamen", Sure),
    Organ("anther", &[], "stamen", Sure),
    Organ("connective", &[], "anther", Everyday),
    Organ("pollen", &[], "anther", Sure),
    Organ("pistil", &["gynoecium"], "flower", Sure),
    Organ("carpel", &[], "pistil", Sure),
    Organ("ovary", &["ovaries"], "pistil", Sure),
    Organ("style", &[], "pistil", Everyday),
    Organ("stigma", &["stigmata"], "pistil", Sure),
    Organ("placenta", &["placentae"], "ovary", Sure),
    Organ("placentation", &[], "placenta", Sure),
    Organ("ovule", &[], "ovary", Sure),
    Organ("locule", &["cell"], "ovary", Everyday),
    Organ("fruit", &["frs"], "", Sure),
    Organ("achene", &["akene", "achenes", "cypsela", "cypselae"], "fruit", Sure),
    Organ("caryopsis", &["caryopses"], "fruit", Sure),
    Organ("nut", &["nutlet"], "fruit", Everyday),
    Organ("acorn", &[], "fruit", Everyday),
    Organ("samara", &[], "fruit", Sure),
    Organ("capsule", &[], "fruit", Sure),
    Organ("silique", &["siliqua", "siliquae"], "fruit", Sure),
    Organ("silicle", &["silicula"], "silique", Sure),
    Organ("legume", &["loment"], "fruit", Sure),
    Organ("pod", &[], "fruit", Everyday),
    Organ("follicle", &[], "fruit", Sure),
    Organ("schizocarp", &[], "fruit", Sure),
    Organ("mericarp", &[], "fruit", Sure),
    Organ("berry", &["berries"], "fruit", Everyday),
    Organ("drupe", &[], "fruit", Sure),
    Organ("pome", &["haw"], "fruit", Sure),
    Organ("stone", &["pyrene"], "fruit", Everyday),
    Organ("endocarp", &[], "fruit", Sure),
    Organ("perigynium", &["perigynia", "utricle"], "fruit", Sure),
    Organ("beak", &[], "fruit", Everyday),
    Organ("valve", &[], "fruit", Everyday),
    Organ("dehiscence", &[], "fruit", Sure),
    Organ("pappus", &["pappi"], "", Sure),
    Organ("cone", &["strobilus", "strobili"], "fruit", Everyday),
    Organ("seed", &[], "", Sure),
    Organ("embryo", &[], "seed", Sure),
    Organ("endosperm", &["albumen"], "seed", Sure),
    Organ("sorus", &["sori"], "", Sure),
    Organ("indusium", &["indusia"], "sorus", Sure),
    Organ("spore", &[], "sorus", Sure),
    Organ("sporangium", &["sporangia"], "sorus", Sure),
    Organ("peristome", &[], "capsule", Sure),
    Organ("lid", &["operculum", "opercula"], "capsule", Everyday),
    Organ("rib", &["costa", "costae"], "vein", Everyday),
    Organ("callus", &["calli"], "lemma", Sure),
    Organ("membrane", &[], "", Everyday),
    Organ("spot", &[], "", Everyday),
    Organ("areole", &[], "stem", Sure),
    Organ("aril", &[], "seed", Sure),
    Organ("bur", &[], "fruit", Sure),
    Organ("cladode", &[], "stem", Sure),
    Organ("epicalyx", &[], "calyx", Sure),
    Organ("hilum", &["hila"], "seed", Sure),
    Organ("lenticel", &[], "bark", Sure),
    Organ("phyllode", &[], "leaf", Sure),
    Organ("pollinium", &["pollinia"], "anther", Sure),
    Organ("pulvinus", &["pulvini"], "petiole", Sure),
    Organ("radicle", &[], "embryo", Sure),
    Organ("testa", &["testae"], "seed", Sure),
    Organ("thallus", &["thalli"], "plant", Sure),
    Organ("tunic", &[], "bulb", Sure),
    Organ("turion", &[], "bud", Sure),
    Organ("bladder", &[], "leaf", Everyday),
    Organ("clubmoss", &["clubmosses", "quillwort"], "plant", Everyday),
    Organ("column", &[], "flower", Everyday),
    Organ("dock flower", &[], "plant", Everyday),
    Organ("parasite", &[], "plant", Everyday),
    Organ("conifer", &[], "tree", Everyday),
    Organ("cup", &[], "involucre", Everyday),
    Organ("horsetail", &[], "plant", Everyday),
    Organ("key", &[], "samara", Everyday),
    Organ("liverwort", &[], "plant", Everyday),
    Organ("lomentum", &["lomenta"], "legume", Sure),
    Organ("orchid", &[], "plant", Everyday),
    Organ("pitcher", &[], "leaf", Everyday),
    Organ("stock", &[], "root", Everyday),
    Organ("vitta", &["vittae"], "mericarp", Sure),
    Organ("tentacle", &[], "leaf", Sure),
    Organ("angle", &[], "", Slight),
    Organ("haustorium", &["haustoria"], "root", Sure),
    Organ("joint", &[], "", Slight),
    Organ("line", &[], "", Slight),
    Organ("pore", &[], "", Slight),
    Organ("ridge", &[], "", Slight),
    Organ("ring", &[], "", Slight),
    Organ("pulp", &[], "fruit", Slight),
    Organ("sap", &[], "", Slight),
    Organ("carpophore", &[], "fruit", Sure),
    Organ("lodicule", &[], "floret", Sure),
];

/// Words whose plural is no organ: `woods` are a place.
const UNCOUNTED: &[&str] = &["wood"];

/// Most kinds above one another in the table, so that a wrong row can't make a circle.
const MOST_BEARERS: usize = 6;

/// Returns the organ that a word names by itself, in the singular.
pub fn organ_of(word: &str) -> Option<&'static str> {
    find(word).filter(|(_, sure)| *sure != Slight).map(|(organ, _)| organ)
}

/// Says whether a word names an organ, if only beside another one.
#[cfg(test)]
pub(crate) fn is_organ(word: &str) -> bool {
    find(word).is_some()
}

/// Returns an organ and, one after another, what it is a kind or part of: pinna, leaflet, leaf.
pub fn bearers(organ: &str) -> impl Iterator<Item = &str> {
    let above = |organ: &&str| rows().get(*organ).map(|row| row.2).filter(|above| !above.is_empty());
    std::iter::successors(Some(organ), above).take(MOST_BEARERS)
}

/// Returns the organ that a word names and how surely it does.
pub(crate) fn find(word: &str) -> Option<(&'static str, Sureness)> {
    let row = if word.bytes().all(|byte| byte.is_ascii_lowercase()) {
        rows().get(word)
    } else {
        rows().get(word.to_lowercase().as_str())
    };
    row.map(|row| (row.0, row.3))
}

/// Returns the rows by all their words, with plurals.
fn rows() -> &'static HashMap<String, &'static Organ> {
    static ROWS: OnceLock<HashMap<String, &'static Organ>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let mut rows: HashMap<String, &'static Organ> = HashMap::new();
        for row in ORGANS {
            for word in std::iter::once(&row.0).chain(row.1) {
                let hisses = word.ends_with(['s', 'x']) || word.ends_with("ch") || word.ends_with("sh");
                let plural = if hisses { "es" } else { "s" };
                rows.entry((*word).to_owned()).or_insert(row);
                if !UNCOUNTED.contains(word) {
                    rows.entry(format!("{word}{plural}")).or_insert(row);
                }
            }
        }
        rows
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_organ_is_a_kind_of_an_organ_of_the_table() {
        let known = |name: &str| ORGANS.iter().any(|row| row.0 == name);
        let lost: Vec<&str> =
            ORGANS.iter().map(|row| row.2).filter(|above| !above.is_empty() && !known(above)).collect();
        assert_eq!(lost, Vec::<&str>::new());
    }

    #[test]
    fn no_organ_has_two_rows() {
        let mut names: Vec<&str> = ORGANS.iter().map(|row| row.0).collect();
        names.sort_unstable();
        assert!(names.is_sorted_by(|one, next| one < next), "{names:?}");
    }

    #[test]
    fn a_part_is_a_part_of_what_its_bearer_is_a_part_of() {
        assert_eq!(bearers("pinna").collect::<Vec<_>>(), ["pinna", "leaflet", "leaf"]);
        assert_eq!(bearers("lemma").collect::<Vec<_>>(), ["lemma", "glume", "bract", "leaf"]);
        assert_eq!(bearers("zonk").collect::<Vec<_>>(), ["zonk"]);
    }

    #[test]
    fn plurals_and_abbreviations_name_the_organ() {
        for (word, organ) in [
            ("Branches", "branch"),
            ("LEAVES", "leaf"),
            ("teeth", "tooth"),
            ("sheaths", "sheath"),
            ("lvs", "leaf"),
            ("calyces", "calyx"),
        ] {
            assert_eq!(organ_of(word), Some(organ), "{word}");
        }
        assert_eq!(organ_of("valley"), None);
    }
}
