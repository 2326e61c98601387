//! Which states mean the same, come near, or exclude one another, by the glossary: plain words, wider terms, contrasts.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use crate::describe::colour;
use crate::terms::{Lexicon, Sense};

/// How near states are that share a plain word.
const IN_PLAIN_WORDS: f32 = 0.95;
/// How near a narrower term is to the wider one that is asked.
const NARROWER: f32 = 0.9;
/// How near the wider term is to a narrower one that is asked.
const WIDER: f32 = 0.5;
/// How near neighbours are.
const NEIGHBOUR: f32 = 0.4;
/// How near two kinds of hairs are.
const SAME_GROUP: f32 = 0.25;

/// Wider terms whose narrower ones exclude one another.
const EXCLUSIVE: &[&str] = &[
    "leaf outline",
    "leaf apex",
    "leaf base",
    "leaf arrangement",
    "leaf margin",
    "duration",
    "placentation",
    "fruit",
    "symmetry",
    "habit",
    "inflorescence",
];

/// Members of those that go together with any other.
const NOT_EXCLUSIVE: &[&str] = &[
    "ciliate",
    "ciliolate",
    "revolute",
    "involute",
    "crisped",
    "undulate",
    "incised",
    "climbing",
    "cushion",
    "tussock",
    "cordate",
    "cuneate",
    "rosette",
    "spinulose",
    "falcate",
    "decussate",
];

/// Words for a group: the word, and what belongs to it.
const GROUPS: &[(&str, &[&str])] = &[
    (
        "hairy",
        &[
            "pubescent",
            "puberulent",
            "downy",
            "villous",
            "pilose",
            "hirsute",
            "hirtellous",
            "hispid",
            "hispidulous",
            "strigose",
            "strigillose",
            "sericeous",
            "tomentose",
            "tomentulose",
            "lanate",
            "floccose",
            "arachnoid",
            "velutinous",
            "setose",
            "ciliate",
            "woolly",
            "silky",
            "hairs",
        ],
    ),
    (
        "toothed",
        &[
            "serrate",
            "serrulate",
            "doubly serrate",
            "dentate",
            "denticulate",
            "crenate",
            "crenulate",
            "spinulose",
        ],
    ),
    (
        "compound",
        &[
            "pinnate",
            "palmate",
            "ternate",
            "trifoliate",
            "bipinnate",
            "tripinnate",
            "trifoliolate",
            "odd-pinnate",
            "even-pinnate",
        ],
    ),
    ("spiny", &["prickly", "thorny", "spinose", "armed", "spinescent"]),
    ("lobed", &["pinnatifid", "pinnatisect", "palmatifid", "palmatisect", "trilobed", "bilobed"]),
    ("fleshy", &["succulent", "carnose"]),
    ("creeping", &["prostrate", "repent", "procumbent", "decumbent", "trailing"]),
];

/// What excludes every member of a group.
const AGAINST_GROUPS: &[(&str, &str)] = &[
    ("glabrous", "hairy"),
    ("entire", "toothed"),
    ("entire", "lobed"),
    ("simple", "compound"),
    ("unarmed", "spiny"),
];

/// States of which an organ has one, beyond what the glossary sets against one another.
const ONE_OF: &[&[&str]] = &[
    &["superior", "inferior", "half-inferior"],
    &["actinomorphic", "zygomorphic"],
    &["regular", "zygomorphic"],
    &["evergreen", "deciduous"],
    &["persistent", "deciduous"],
    &["sessile", "petiolate"],
    &["free", "united"],
    &["free", "connate"],
    &["monoecious", "dioecious"],
    &["hollow", "solid"],
];

/// Neighbours that one observer calls this and the next that.
const NEIGHBOURS: &[(&str, &str)] = &[
    ("acute", "acuminate"),
    ("obtuse", "rounded"),
    ("serrate", "dentate"),
    ("serrate", "serrulate"),
    ("dentate", "denticulate"),
    ("crenate", "crenulate"),
    ("pubescent", "puberulent"),
    ("elliptic", "oblong"),
    ("elliptic", "oval"),
    ("orbicular", "suborbicular"),
    ("ovate", "ovoid"),
    ("elliptic", "ellipsoid"),
    ("globose", "subglobose"),
    ("globose", "spherical"),
    ("glabrous", "glabrescent"),
    ("glabrous", "glabrate"),
    ("glabrous", "smooth"),
    ("shrub", "subshrub"),
    ("shrub", "tree"),
    ("erect", "ascending"),
    ("cuneate", "attenuate"),
    ("opposite", "whorled"),
    ("opposite", "subopposite"),
];

/// What a flora's words mean to one another.
#[derive(Clone, Debug, Default)]
pub struct Thesaurus {
    plain: HashMap<String, Vec<(String, Vec<String>)>>,
    entries: HashMap<String, Entry>,
    narrower: HashMap<String, Vec<String>>,
}

#[derive(Clone, Debug, Default)]
struct Entry {
    plain: BTreeSet<String>,
    contrasts: BTreeSet<String>,
    broader: Option<String>,
}

/// What an asked state has to do with others.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kin {
    /// States that agree with it, and how well.
    pub(crate) like: BTreeMap<String, f32>,
    /// States that exclude it.
    pub(crate) against: BTreeSet<String>,
    /// Whether it is a colour: any other colour of the same organ then excludes it.
    colour: Option<String>,
}

impl Thesaurus {
    /// Gathers what a glossary says; of a name that several sources have, the senses of all.
    pub fn new(lexicon: &Lexicon) -> Self {
        let mut all = Self::default();
        for (id, term) in lexicon.entries() {
            let name = term.name.to_lowercase();
            for sense in &term.senses {
                all.add(&name, sense);
            }
            // A flora's own entry may stand for what another one has as a form (`pendent` of `pendulous`).
            for form in term.forms.iter().map(|form| form.to_lowercase()) {
                if form != name && lexicon.by_name(&form).is_some_and(|other| other != id) {
                    all.entries.entry(name.clone()).or_default().plain.insert(form.clone());
                    all.plain.entry(form).or_default().push((name.clone(), Vec::new()));
                }
            }
        }
        all
    }

    fn add(&mut self, name: &str, sense: &Sense) {
        let entry = self.entries.entry(name.to_owned()).or_default();
        entry.contrasts.extend(sense.contrasts.iter().map(|word| word.to_lowercase()));
        if entry.broader.is_none() {
            entry.broader.clone_from(&sense.broader);
        }
        if let Some(broader) = &sense.broader {
            self.narrower.entry(broader.to_lowercase()).or_default().push(name.to_owned());
        }
        for plain in &sense.plain {
            let plain = plain.to_lowercase();
            entry.plain.insert(plain.clone());
            self.plain.entry(plain).or_default().push((name.to_owned(), sense.organs.clone()));
        }
    }

    /// Returns the headwords that some plain words stand for, those for the organ first.
    pub(crate) fn meant(&self, plain: &str, organ: Option<&str>) -> Vec<String> {
        let Some(found) = self.plain.get(plain) else { return Vec::new() };
        let fits = |organs: &[String]| organ.is_some_and(|organ| organs.iter().any(|own| own == organ));
        let mut names: Vec<(bool, &str)> =
            found.iter().map(|(name, organs)| (!fits(organs), name.as_str())).collect();
        names.sort_unstable();
        let fitting = names.iter().filter(|(misses, _)| !misses).count();
        let most = if fitting > 0 { fitting } else { names.len() };
        names.into_iter().take(most).map(|(_, name)| name.to_owned()).collect()
    }

    /// Returns what a state has to do with others.
    pub fn kin(&self, name: &str, organ: Option<&str>) -> Kin {
        let mut kin = Kin { colour: colour::is_colour(name).then(|| name.to_owned()), ..Kin::default() };
        kin.like.insert(name.to_owned(), 1.0);
        for meant in self.meant(name, organ) {
            kin.put(&meant, IN_PLAIN_WORDS);
            self.around(&meant, IN_PLAIN_WORDS, &mut kin);
        }
        self.around(name, 1.0, &mut kin);
        for like in kin
            .like
            .iter()
            .filter(|(_, near)| **near > SAME_GROUP)
            .map(|(like, _)| like.clone())
            .collect::<Vec<_>>()
        {
            kin.against.remove(&like);
        }
        kin
    }

    /// Adds what lies around a state.
    fn around(&self, name: &str, share: f32, kin: &mut Kin) {
        let entry = self.entries.get(name).cloned().unwrap_or_default();
        for plain in &entry.plain {
            kin.put(plain, share * IN_PLAIN_WORDS);
            for (sibling, _) in self.plain.get(plain).into_iter().flatten() {
                kin.put(sibling, share * IN_PLAIN_WORDS * NARROWER);
            }
        }
        for narrow in self.narrower.get(name).into_iter().flatten() {
            kin.put(narrow, share * NARROWER);
        }
        for (one, other) in NEIGHBOURS {
            if *one == name || *other == name {
                kin.put(if *one == name { other } else { one }, share * NEIGHBOUR);
            }
        }
        groups(name, share, kin);
        for set in ONE_OF.iter().filter(|set| set.contains(&name)) {
            kin.against.extend(set.iter().filter(|other| **other != name).map(|other| (*other).to_owned()));
        }
        kin.against.extend(entry.contrasts);
        if let Some(broader) = entry.broader.filter(|broader| EXCLUSIVE.contains(&broader.as_str()))
            && !NOT_EXCLUSIVE.contains(&name)
        {
            let siblings = self.narrower.get(&broader).into_iter().flatten();
            let excluded =
                siblings.filter(|sibling| *sibling != name && !NOT_EXCLUSIVE.contains(&sibling.as_str()));
            kin.against.extend(excluded.cloned());
        }
    }
}

/// Adds what the words for groups make of a state.
fn groups(name: &str, share: f32, kin: &mut Kin) {
    for (group, members) in GROUPS {
        if *group == name {
            members.iter().for_each(|member| kin.put(member, share * NARROWER));
        } else if members.contains(&name) {
            kin.put(group, share * WIDER);
            members.iter().for_each(|member| kin.put(member, share * SAME_GROUP));
        }
        for (against, of) in AGAINST_GROUPS.iter().filter(|(_, of)| of == group) {
            if *against == name {
                kin.against.insert((*of).to_owned());
                kin.against.extend(members.iter().map(|member| (*member).to_owned()));
            } else if *group == name || members.contains(&name) {
                kin.against.insert((*against).to_owned());
            }
        }
    }
}

impl Kin {
    fn put(&mut self, name: &str, near: f32) {
        let own = self.like.entry(name.to_owned()).or_insert(near);
        *own = own.max(near);
    }

    /// Returns every state that agrees with it or excludes it by its word; colours do so besides where it is one.
    pub(crate) fn named(&self) -> impl Iterator<Item = &str> {
        self.like.keys().chain(&self.against).map(String::as_str)
    }

    /// Says whether it is a colour.
    pub(crate) fn is_colour(&self) -> bool {
        self.colour.is_some()
    }

    /// Returns how near a stated state is to the asked one: 0 where they have nothing to do with one another, below 0
    /// where they exclude one another.
    pub fn nearness(&self, stated: &str) -> f32 {
        if let Some(near) = self.like.get(stated) {
            return *near;
        }
        if let Some(colour) = self.colour.as_deref().filter(|_| colour::is_colour(stated)) {
            let near = colour::nearness(colour, stated);
            return if near > 0.0 { near } else { -1.0 };
        }
        if self.against.contains(stated) { -1.0 } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(asked: &str, organ: &str, stated: &str, least: f32, most: f32) {
        let kin = Thesaurus::new(&Lexicon::built_in()).kin(asked, Some(organ));
        let near = kin.nearness(stated);
        assert!(near >= least && near <= most, "{asked} {stated}: {near}");
    }

    #[test]
    fn plain_words_mean_their_terms() {
        check("hairless", "leaf", "glabrous", 0.9, 1.0);
        check("egg-shaped", "leaf", "ovate", 0.9, 1.0);
        check("downy", "leaf", "pubescent", 0.8, 1.0);
        check("ovate", "leaf", "ovate", 1.0, 1.0);
    }

    #[test]
    fn a_form_that_is_an_entry_of_its_own_means_its_term() {
        let entry = crate::model::Entry {
            id: crate::model::EntryId(0),
            term: "pendent".to_owned(),
            variants: Vec::new(),
            definition: crate::model::Text::plain("drooping", crate::model::Page(1)),
            see: None,
        };
        let thesaurus = Thesaurus::new(&Lexicon::with_flora("Morvane", &[entry]));
        assert!(thesaurus.kin("pendulous", Some("fruit")).nearness("pendent") > 0.9);
        assert!(thesaurus.kin("hanging", Some("fruit")).nearness("pendent") > 0.8);
    }

    #[test]
    fn a_wider_word_finds_the_narrower_ones() {
        check("hairy", "leaf", "tomentose", 0.85, 1.0);
        check("toothed", "leaf", "serrate", 0.85, 1.0);
        check("tomentose", "leaf", "hairy", 0.3, 0.6);
    }

    #[test]
    fn some_states_exclude_one_another() {
        check("opposite", "leaf", "alternate", -1.0, -1.0);
        check("hairless", "leaf", "hirsute", -1.0, -1.0);
        check("hairy", "leaf", "glabrous", -1.0, -1.0);
        check("ovate", "leaf", "linear", -1.0, -1.0);
        check("entire", "leaf", "serrate", -1.0, -1.0);
        check("yellow", "petal", "blue", -1.0, -1.0);
        check("ovate", "leaf", "hairy", 0.0, 0.0);
    }
}
