//! Which organs are the same for a description, which belong to which, and what a state says of others.

use std::sync::LazyLock;

use rustc_hash::FxHashMap;

use crate::clause::bearers;

/// Kinds of an organ: what is said of the kind is said of the organ, and the kind is itself a state of it.
const KINDS: &[(&str, &[&str])] = &[
    (
        "fruit",
        &[
            "achene",
            "caryopsis",
            "nut",
            "acorn",
            "samara",
            "capsule",
            "silique",
            "silicle",
            "legume",
            "pod",
            "follicle",
            "schizocarp",
            "mericarp",
            "berry",
            "drupe",
            "pome",
            "perigynium",
            "cone",
        ],
    ),
    (
        "inflorescence",
        &["spike", "raceme", "panicle", "corymb", "umbel", "cyme", "catkin", "spadix", "head", "spikelet"],
    ),
    ("stem", &["culm", "trunk", "shoot", "branch", "twig"]),
    ("leaf", &["blade", "frond", "leaflet"]),
    ("plant", &["tree", "grass", "sedge", "fern", "moss"]),
    ("petal", &["corolla", "tepal"]),
    ("sepal", &["calyx"]),
    ("spine", &["thorn", "prickle"]),
    ("hair", &["bristle", "cilium"]),
    ("receptacle", &["torus"]),
];

/// Places on an organ rather than organs: said of them is said of their bearer.
const PLACES: &[&str] = &[
    "margin", "apex", "base", "surface", "lobe", "tooth", "segment", "sinus", "hair", "rib", "membrane",
    "spot", "gland", "vein", "scale",
];

/// Two nouns that name one organ.
const PAIRS: &[(&str, &str, &str)] = &[
    ("stalk", "flower", "pedicel"),
    ("stalk", "leaf", "petiole"),
    ("stalk", "leaflet", "petiolule"),
    ("stalk", "inflorescence", "peduncle"),
    ("blade", "leaf", "leaf"),
    ("head", "flower", "head"),
    ("tube", "corolla", "tube"),
    ("nut", "samara", "samara"),
];

/// What a state says of the presence of an organ (G15): the state, the organ, whether it is there.
const MEANINGS: &[(&str, &str, Presence)] = &[
    ("glabrous", "hair", Presence::Absent),
    ("unarmed", "spine", Presence::Absent),
    ("entire", "tooth", Presence::Absent),
    ("apetalous", "petal", Presence::Absent),
    ("sessile", "stalk", Presence::Absent),
    ("exstipulate", "stipule", Presence::Absent),
    ("estipulate", "stipule", Presence::Absent),
    ("leafless", "leaf", Presence::Absent),
    ("aphyllous", "leaf", Presence::Absent),
    ("ebracteate", "bract", Presence::Absent),
    ("awnless", "awn", Presence::Absent),
    ("muticous", "awn", Presence::Absent),
    ("eglandular", "gland", Presence::Absent),
    ("acaulescent", "stem", Presence::Absent),
    ("achlamydeous", "perianth", Presence::Absent),
    ("naked", "hair", Presence::Absent),
    ("hairy", "hair", Presence::Present),
    ("pubescent", "hair", Presence::Present),
    ("puberulent", "hair", Presence::Present),
    ("tomentose", "hair", Presence::Present),
    ("hirsute", "hair", Presence::Present),
    ("villous", "hair", Presence::Present),
    ("pilose", "hair", Presence::Present),
    ("strigose", "hair", Presence::Present),
    ("hispid", "hair", Presence::Present),
    ("ciliate", "hair", Presence::Present),
    ("spiny", "spine", Presence::Present),
    ("spinose", "spine", Presence::Present),
    ("prickly", "spine", Presence::Present),
    ("thorny", "spine", Presence::Present),
    ("armed", "spine", Presence::Present),
    ("stipulate", "stipule", Presence::Present),
    ("petiolate", "stalk", Presence::Present),
    ("stalked", "stalk", Presence::Present),
    ("pedicellate", "stalk", Presence::Present),
    ("bracteate", "bract", Presence::Present),
    ("awned", "awn", Presence::Present),
    ("aristate", "awn", Presence::Present),
    ("glandular", "gland", Presence::Present),
    ("toothed", "tooth", Presence::Present),
    ("serrate", "tooth", Presence::Present),
    ("dentate", "tooth", Presence::Present),
    ("crenate", "tooth", Presence::Present),
    ("winged", "wing", Presence::Present),
    ("spurred", "spur", Presence::Present),
    ("leafy", "leaf", Presence::Present),
];

/// Endings behind a number, and the organ that is counted (T29).
const COUNTED: &[(&str, &str)] = &[
    ("lobed", "lobe"),
    ("lobate", "lobe"),
    ("toothed", "tooth"),
    ("foliate", "leaflet"),
    ("foliolate", "leaflet"),
    ("leaved", "leaf"),
    ("flowered", "flower"),
    ("seeded", "seed"),
    ("locular", "locule"),
    ("celled", "locule"),
    ("nerved", "vein"),
    ("veined", "vein"),
    ("ribbed", "rib"),
    ("merous", "flower part"),
    ("parted", "lobe"),
    ("cleft", "lobe"),
    ("valved", "valve"),
    ("angled", "angle"),
    ("sided", "side"),
    ("ranked", "rank"),
    ("rayed", "ray"),
    ("winged", "wing"),
    ("beaked", "beak"),
    ("pinnate", "order of pinnae"),
    ("ternate", "order of leaflets"),
    ("spotted", "spot"),
    ("stemmed", "stem"),
    ("carpellate", "carpel"),
    ("androus", "stamen"),
];

/// How much what is said of a related organ counts, of 1 for the organ itself.
const OF_A_KIND: f32 = 0.95;
/// The same for a place on it.
const OF_A_PLACE: f32 = 0.9;
/// The same for what bears it or what it bears.
const OF_A_BEARER: f32 = 0.6;

/// Whether an organ is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Presence {
    /// It is.
    Present,
    /// It is not.
    Absent,
}

/// Returns the organ that this one is a kind of, or itself.
pub(crate) fn whole(organ: &str) -> &str {
    static WHOLES: LazyLock<FxHashMap<&str, &str>> = LazyLock::new(|| {
        let pairs = KINDS.iter().flat_map(|(whole, kinds)| kinds.iter().map(move |kind| (*kind, *whole)));
        pairs.collect()
    });
    WHOLES.get(organ).copied().unwrap_or(organ)
}

/// Says whether the name of an organ is itself a state of the organ that it is a kind of.
pub(crate) fn is_kind(organ: &str) -> bool {
    KINDS.iter().any(|(_, kinds)| kinds.contains(&organ))
}

/// Says whether one organ is a kind of the other, of which there are others that exclude it.
pub(crate) fn is_one_of_kinds(kind: Option<&str>, of: Option<&str>) -> bool {
    let (Some(kind), Some(of)) = (kind, of) else { return false };
    matches!(of, "fruit" | "inflorescence" | "plant") && kind != of && whole(kind) == of
}

/// Says whether an organ has to do with an asked one on another only as what bears it, or as its like.
pub(crate) fn is_only_bearer((wanted, of): (Option<&str>, Option<&str>), organ: Option<&str>) -> bool {
    let (Some(wanted), Some(of), Some(organ)) = (wanted, of, organ) else { return false };
    is_place(wanted) && alike(wanted, organ) == 0.0 && alike(of, organ) > 0.0
}

/// Says whether an organ is a place on another.
pub(crate) fn is_place(organ: &str) -> bool {
    PLACES.contains(&organ)
}

/// Returns the organ that two nouns together name.
pub(crate) fn pair(noun: &str, of: &str) -> Option<&'static str> {
    PAIRS.iter().find(|(second, first, _)| *second == noun && *first == of).map(|(_, _, organ)| *organ)
}

/// Returns what a state says of the presence of organs.
pub(crate) fn meaning(state: &str) -> Option<(&'static str, Presence)> {
    if let Some((_, organ, presence)) = MEANINGS.iter().find(|(own, ..)| *own == state) {
        return Some((organ, *presence));
    }
    let stem = state.strip_suffix("less")?;
    let organ = match stem {
        "thorn" | "prickle" | "spine" => "spine",
        _ => crate::clause::organ_of(stem)?,
    };
    Some((organ, Presence::Absent))
}

/// Returns what a number with this ending counts.
pub(crate) fn counted(ending: &str) -> Option<&'static str> {
    let last = ending.rsplit('-').next().unwrap_or(ending);
    COUNTED.iter().find(|(own, _)| *own == last).map(|(_, organ)| *organ)
}

/// Returns how much what is said of one place counts for what is asked of another; 0 where they have nothing in common.
///
/// A place is an organ and what bears it; an organ that is not named stands for any.
pub(crate) fn likeness(asked: (Option<&str>, Option<&str>), stated: (Option<&str>, Option<&str>)) -> f32 {
    let (Some(wanted), wanted_of) = asked else { return 1.0 };
    let (Some(organ), of) = stated else { return 0.0 };
    let same = alike(wanted, organ);
    if same > 0.0 {
        return match (wanted_of, of) {
            (Some(wanted_of), Some(of)) => same * related(wanted_of, of),
            (Some(wanted_of), None) => same * OF_A_BEARER.max(f32::from(related(wanted_of, organ) > 0.0)),
            (None, _) => same,
        };
    }
    if let Some(of) = of.filter(|_| is_place(organ)) {
        return OF_A_PLACE * alike(wanted, of);
    }
    if is_place(wanted)
        && let Some(wanted_of) = wanted_of
    {
        return OF_A_BEARER * alike(wanted_of, organ);
    }
    0.0
}

/// Returns how far two organs are the same: themselves, kinds of one, or one a kind of the other.
fn alike(one: &str, other: &str) -> f32 {
    if one == other {
        return 1.0;
    }
    let (kind, kind_of_other) = (whole(one), whole(other));
    if kind != kind_of_other {
        0.0
    } else if kind == one || kind_of_other == other {
        OF_A_KIND
    } else {
        OF_A_BEARER
    }
}

/// Returns how far one organ is the other, or a part of it.
fn related(one: &str, other: &str) -> f32 {
    let same = alike(one, other);
    let bears = |above: &str, below: &str| bearers(below).skip(1).any(|bearer| alike(bearer, above) > 0.0);
    if same > 0.0 {
        same
    } else if bears(one, other) || bears(other, one) {
        OF_A_BEARER
    } else {
        0.0
    }
}

/// Returns how much a state of one organ counts for a state asked of another: also of what bears it.
pub(crate) fn state_likeness(
    asked: (Option<&str>, Option<&str>),
    stated: (Option<&str>, Option<&str>),
) -> f32 {
    let likeness = likeness(asked, stated);
    if likeness > 0.0 {
        return likeness;
    }
    match (asked.0, stated.0) {
        // A flower is the colour of its petals; a leaf is not what its stalk is.
        (Some("flower"), Some("petal" | "corolla" | "perianth" | "tepal" | "floret" | "ray" | "lip")) => {
            OF_A_BEARER + 0.2
        }
        (Some("petal" | "corolla"), Some("flower" | "perianth")) => OF_A_BEARER,
        (Some("plant"), Some(organ)) if matches!(whole(organ), "stem" | "leaf") => OF_A_BEARER / 2.0,
        (Some(organ), Some("plant")) if matches!(whole(organ), "stem" | "leaf") => OF_A_BEARER,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kind_a_place_and_a_stranger() {
        assert!(likeness((Some("fruit"), None), (Some("drupe"), None)) > 0.9);
        assert!(likeness((Some("leaf"), None), (Some("margin"), Some("blade"))) > 0.8);
        assert!(likeness((Some("base"), Some("leaf")), (Some("base"), Some("blade"))) > 0.9);
        assert!(likeness((Some("lobe"), Some("calyx")), (Some("lobe"), Some("corolla"))) < 0.1);
        assert!(likeness((Some("leaf"), None), (Some("petiole"), None)) < 0.1);
        assert!(likeness((Some("petal"), None), (Some("corolla"), None)) > 0.9);
    }

    #[test]
    fn a_fruit_need_not_be_a_nut() {
        assert!(is_one_of_kinds(Some("nut"), Some("fruit")));
        assert!(!is_one_of_kinds(Some("fruit"), Some("nut")));
        assert!(!is_one_of_kinds(Some("blade"), Some("leaf")));
    }

    #[test]
    fn g15_some_states_deny_an_organ() {
        assert_eq!(meaning("glabrous"), Some(("hair", Presence::Absent)));
        assert_eq!(meaning("thornless"), Some(("spine", Presence::Absent)));
        assert_eq!(meaning("leafless"), Some(("leaf", Presence::Absent)));
        assert_eq!(meaning("unless"), None);
    }
}
