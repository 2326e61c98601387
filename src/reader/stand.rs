//! Where the reader stood in every flora, as the text that is kept after each press and read at the next start.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::reader::place::Way;
use crate::reader::plants::Plants;
use crate::reader::state::{Ask, Density};

/// Where the reader stood in one flora.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct FloraStand {
    /// What tells the reading of the book apart from a later one.
    pub(crate) stamp: String,
    /// The way.
    pub(crate) way: Way,
    /// The plants with their trails.
    #[serde(default)]
    pub(crate) plants: Plants,
    /// A question that was being answered, with what was typed so far.
    #[serde(default)]
    pub(crate) asking: Option<(Ask, String)>,
}

/// Where the reader stood in all floras.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Stands {
    /// The flora read last.
    pub(crate) last: Option<String>,
    /// The theme.
    pub(crate) theme: String,
    /// How closely things stand.
    pub(crate) density: Density,
    /// Whether the drawings of a couplet are shown.
    pub(crate) drawings: bool,
    /// The floras by name.
    pub(crate) floras: BTreeMap<String, FloraStand>,
}

impl Stands {
    /// Reads what was kept; a damaged text counts as none.
    pub(crate) fn read(json: &str) -> Self {
        Self::parse(json).unwrap_or_default()
    }

    /// Reads what was kept, if it is whole.
    pub(crate) fn parse(json: &str) -> Option<Self> {
        serde_json::from_str(json).ok()
    }

    /// Takes in what another reader kept that ran beside this one and began from `begun`; returns of how many plants.
    ///
    /// Nothing decided is lost: see [`Plants::join`]. Where both went somewhere else, one stays where this one stands.
    pub(crate) fn join(&mut self, mut begun: Self, beside: Self) -> u32 {
        let mut joined = 0;
        if self.last == begun.last {
            self.last.clone_from(&beside.last);
        }
        for (name, mut theirs) in beside.floras {
            let mut before = begun.floras.remove(&name);
            for stand in before.iter_mut().chain([&mut theirs]) {
                stand.plants.number("");
            }
            let Some(own) = self.floras.get_mut(&name) else {
                joined += theirs.plants.all().iter().filter(|plant| !plant.is_untouched()).count() as u32;
                self.floras.insert(name, theirs);
                continue;
            };
            own.plants.number("");
            if own.stamp != theirs.stamp {
                // The flora was read anew in between: every decision is looked for by its words.
                own.stamp.clear();
            } else if before.as_ref().is_some_and(|before| before.way == own.way && own.asking.is_none()) {
                (own.way, own.asking) = (theirs.way, theirs.asking);
            }
            let begun = before.map(|before| before.plants).unwrap_or_default();
            joined += own.plants.join(&begun, theirs.plants);
        }
        joined
    }

    /// Returns the text to keep.
    pub(crate) fn json(&self) -> String {
        serde_json::to_string(self).expect("places have only strings as map keys")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keying::{Decision, Plant, Printed, Spot, Sureness};
    use crate::model::{CoupletId, KeyId};
    use crate::reader::place::Item;

    #[test]
    fn what_was_kept_is_read_again() {
        let way = Way::from(Item::Term(vec!["calyx".to_owned()]));
        let mut stands = Stands { last: Some("morvane".to_owned()), ..Stands::default() };
        stands.floras.insert(
            "morvane".to_owned(),
            FloraStand { stamp: "1".to_owned(), way, plants: Plants::default(), asking: None },
        );
        assert_eq!(Stands::read(&stands.json()), stands);
    }

    fn decided(name: &str, leads: &[usize]) -> Plant {
        let mut plant = Plant { begun: true, ..Plant::new(name) };
        for (at, lead) in leads.iter().enumerate() {
            plant.decide(Decision {
                spot: Spot { key: KeyId(0), couplet: CoupletId(at as u32) },
                kept: [*lead].into(),
                sureness: Sureness::Sure,
                note: String::new(),
                time: 0,
                printed: Printed::default(),
                lost: false,
            });
        }
        plant
    }

    /// Returns what is kept of these plants: a name and the leads taken, parted by `·`.
    fn stands(plants: &[(&str, &[usize])]) -> Stands {
        let all = plants.iter().map(|(name, leads)| decided(name, leads)).collect();
        let mut plants = Plants::of(all);
        plants.number("");
        let stand =
            FloraStand { stamp: "1".to_owned(), way: Way::from(Item::Contents), plants, asking: None };
        Stands { floras: [("morvane".to_owned(), stand)].into(), ..Stands::default() }
    }

    #[track_caller]
    fn check_joined(begun: &Stands, beside: &Stands, own: &Stands, expected: &[(&str, usize)]) {
        let mut joined = own.clone();
        joined.join(begun.clone(), beside.clone());
        let found = |stands: &Stands| -> Vec<(String, usize)> {
            let plants = stands.floras["morvane"].plants.all();
            plants.iter().map(|plant| (plant.name.clone(), plant.branch().decisions.len())).collect()
        };
        let expected: Vec<(String, usize)> =
            expected.iter().map(|(name, decisions)| ((*name).to_owned(), *decisions)).collect();
        assert_eq!(found(&joined), expected);
        joined.join(begun.clone(), beside.clone());
        assert_eq!(found(&joined), expected, "joined once more");
    }

    #[test]
    fn what_only_one_of_two_readers_went_on_with_is_its_own() {
        let begun = stands(&[("cliff", &[0])]);
        let more = stands(&[("cliff", &[0, 1])]);
        check_joined(&begun, &more, &begun, &[("cliff", 2)]);
        check_joined(&begun, &begun, &more, &[("cliff", 2)]);
    }

    #[test]
    fn a_plant_that_both_went_on_with_is_kept_twice() {
        let begun = stands(&[("cliff", &[0])]);
        let (one, other) = (stands(&[("cliff", &[0, 1])]), stands(&[("cliff", &[0, 0, 1])]));
        check_joined(&begun, &other, &one, &[("cliff", 2), ("cliff (other window)", 3)]);
    }

    #[test]
    fn plants_begun_in_both_are_all_kept() {
        let begun = Stands::default();
        check_joined(
            &begun,
            &stands(&[("bank", &[1])]),
            &stands(&[("cliff", &[0, 1])]),
            &[("cliff", 2), ("bank", 1)],
        );
    }

    #[test]
    fn a_damaged_text_is_none() {
        assert_eq!(Stands::read("{\"last\": 3"), Stands::default());
    }
}
