//! Groups of plants with words of their own: the table for `group`, a row a group.
//!
//! Families have their old and new names, and those by which they are split. Nothing is looked up here.

/// A group of plants, and everything that it is told by.
pub(super) struct Group {
    /// What it is called here.
    pub(super) name: &'static str,
    /// The organs by which the glossary binds a sense to it, the surest first.
    pub(super) organs: &'static [&'static str],
    /// How definitions name it.
    pub(super) said: &'static [&'static str],
    /// Its families and higher groups, folded; none where it is no family.
    pub(super) families: &'static [&'static str],
    /// English words of its headings, folded.
    pub(super) headings: &'static [&'static str],
}

/// Words behind which a group is one of several or an example.
pub(super) const EXAMPLE_BEFORE: &[&str] = &["as in", "as of", "as the", "like ", " or ", "such as"];

/// Every group.
pub(super) const GROUPS: &[Group] = &[
    Group {
        name: "moss",
        organs: &["moss"],
        said: &["mosses", "moss capsule"],
        families: &[
            "bryophyta",
            "bryopsida",
            "musci",
            "sphagnaceae",
            "sphagnopsida",
            "polytrichaceae",
            "polytrichopsida",
            "bryaceae",
            "mniaceae",
            "dicranaceae",
            "grimmiaceae",
            "pottiaceae",
            "hypnaceae",
            "brachytheciaceae",
            "orthotrichaceae",
        ],
        headings: &["bryophytes", "mosses"],
    },
    Group {
        name: "liverwort",
        organs: &["liverwort"],
        said: &["liverworts"],
        families: &[
            "marchantiophyta",
            "hepaticae",
            "hepatophyta",
            "jungermanniopsida",
            "marchantiopsida",
            "jungermanniaceae",
            "scapaniaceae",
            "lophoziaceae",
        ],
        headings: &["hepatics", "liverworts"],
    },
    Group {
        name: "fern",
        organs: &["fern", "frond"],
        said: &["ferns"],
        families: &[
            "adiantaceae",
            "aspleniaceae",
            "aspidiaceae",
            "athyriaceae",
            "azollaceae",
            "blechnaceae",
            "cryptogrammaceae",
            "cystopteridaceae",
            "davalliaceae",
            "dennstaedtiaceae",
            "dryopteridaceae",
            "filices",
            "filicopsida",
            "gleicheniaceae",
            "hymenophyllaceae",
            "hypolepidaceae",
            "lomariopsidaceae",
            "marsileaceae",
            "onocleaceae",
            "ophioglossaceae",
            "osmundaceae",
            "polypodiaceae",
            "polypodiopsida",
            "pteridaceae",
            "salviniaceae",
            "schizaeaceae",
            "thelypteridaceae",
            "woodsiaceae",
        ],
        headings: &["ferns"],
    },
    Group {
        name: "horsetail",
        organs: &["horsetail"],
        said: &["horsetails"],
        families: &["equisetaceae"],
        headings: &["horsetails"],
    },
    Group {
        name: "clubmoss",
        organs: &["clubmoss"],
        said: &["clubmosses", "quillworts"],
        families: &["lycopodiaceae", "selaginellaceae", "isoetaceae", "huperziaceae"],
        headings: &["clubmosses", "quillworts"],
    },
    Group {
        name: "conifer",
        organs: &["conifer", "cone scale"],
        said: &["conifers", "pines"],
        families: &[
            "pinaceae",
            "cupressaceae",
            "taxaceae",
            "taxodiaceae",
            "araucariaceae",
            "podocarpaceae",
            "coniferae",
            "coniferales",
            "pinales",
            "pinopsida",
        ],
        headings: &["conifers"],
    },
    Group {
        name: "grass",
        organs: &["grass", "spikelet"],
        said: &["grasses"],
        families: &["poaceae", "gramineae"],
        headings: &["grasses"],
    },
    Group {
        name: "sedge",
        organs: &["sedge", "perigynium"],
        said: &["sedges"],
        families: &["cyperaceae"],
        headings: &["sedges"],
    },
    Group {
        name: "orchid",
        organs: &["orchid", "labellum"],
        said: &["orchids"],
        families: &["orchidaceae"],
        headings: &["orchids"],
    },
    Group {
        name: "umbel",
        organs: &["umbel", "schizocarp", "umbellet", "mericarp"],
        said: &["carrot family", "umbellifers"],
        families: &["apiaceae", "umbelliferae", "ammiaceae"],
        headings: &["umbellifers"],
    },
    Group {
        name: "head",
        organs: &["head", "phyllary", "receptacle", "pappus"],
        said: &["composites", "daisies", "dandelions", "daisy family"],
        families: &["asteraceae", "compositae", "cichoriaceae", "carduaceae", "ambrosiaceae"],
        headings: &["composites"],
    },
    Group {
        name: "pink",
        organs: &[],
        said: &["catchflies", "campions", "pinks", "pink family"],
        families: &["caryophyllaceae", "silenaceae", "alsinaceae"],
        headings: &[],
    },
    Group {
        name: "legume",
        organs: &["legume"],
        said: &["pea family", "peas"],
        families: &["fabaceae", "leguminosae", "papilionaceae", "caesalpiniaceae", "mimosaceae"],
        headings: &["legumes"],
    },
    Group {
        name: "mint",
        organs: &[],
        said: &["mints", "mint family"],
        families: &["lamiaceae", "labiatae"],
        headings: &[],
    },
    Group {
        name: "mallow",
        organs: &[],
        said: &["mallows"],
        families: &["malvaceae"],
        headings: &["mallows"],
    },
    Group {
        name: "dock",
        organs: &["dock flower"],
        said: &["docks", "dock family"],
        families: &["polygonaceae"],
        headings: &["docks"],
    },
    Group {
        name: "spurge",
        organs: &[],
        said: &["spurges"],
        families: &["euphorbiaceae"],
        headings: &["spurges"],
    },
    Group {
        name: "heath",
        organs: &[],
        said: &["heaths"],
        families: &["ericaceae", "vacciniaceae"],
        headings: &[],
    },
    Group {
        name: "oak",
        organs: &[],
        said: &["oaks"],
        families: &["fagaceae", "cupuliferae"],
        headings: &["oaks"],
    },
    Group {
        name: "milkwort",
        organs: &[],
        said: &["milkworts"],
        families: &["polygalaceae"],
        headings: &["milkworts"],
    },
    Group {
        name: "poppy",
        organs: &[],
        said: &["poppies"],
        families: &["papaveraceae"],
        headings: &["poppies"],
    },
    Group { name: "cactus", organs: &[], said: &["cacti"], families: &["cactaceae"], headings: &["cacti"] },
    Group {
        name: "bladderwort",
        organs: &["bladder"],
        said: &["bladderworts"],
        families: &["lentibulariaceae"],
        headings: &["bladderworts"],
    },
    Group { name: "parasite", organs: &["parasite"], said: &["parasites"], families: &[], headings: &[] },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_group_has_a_bit_and_every_family_one_group() {
        assert!(GROUPS.len() < 31);
        let mut families: Vec<&str> = GROUPS.iter().flat_map(|row| row.families).copied().collect();
        let all = families.len();
        families.sort_unstable();
        families.dedup();
        assert_eq!(families.len(), all);
    }
}
