//! The plants keyed out in one flora, and the one at hand. What a decision means is known in `keying`.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::keying::{self, Decided, Decision, Plant, Printed, Spot, Sureness, Trip};
use crate::model::{CoupletId, KeyId};
use crate::reader::library::Library;

/// All plants of one flora; there is always one at hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Plants {
    all: Vec<Plant>,
    at: usize,
    /// Where and when the reader is; one for all plants.
    #[serde(default)]
    pub(crate) trip: Trip,
}

impl Default for Plants {
    fn default() -> Self {
        Self { all: vec![Plant::new("plant 1")], at: 0, trip: Trip::default() }
    }
}

impl Plants {
    /// Returns these plants, the first at hand.
    #[cfg(test)]
    pub(crate) fn of(all: Vec<Plant>) -> Self {
        Self { all, at: 0, trip: Trip::default() }
    }

    /// Returns all plants.
    pub(crate) fn all(&self) -> &[Plant] {
        &self.all
    }

    /// Returns the number of the plant at hand, counted from 0.
    pub(crate) fn at(&self) -> usize {
        self.at.min(self.all.len().saturating_sub(1))
    }

    /// Returns the plant at hand.
    pub(crate) fn here(&self) -> &Plant {
        static NONE: std::sync::LazyLock<Plant> = std::sync::LazyLock::new(|| Plant::new("plant 1"));
        self.all.get(self.at()).unwrap_or(&NONE)
    }

    /// Says whether anything is decided for the plant at hand.
    pub(crate) fn is_keyed(&self) -> bool {
        !self.here().branch().decisions.is_empty()
    }

    /// Returns the plant at hand for changing.
    pub(crate) fn here_mut(&mut self) -> &mut Plant {
        if self.all.is_empty() {
            *self = Self::default();
        }
        self.at = self.at();
        &mut self.all[self.at]
    }

    /// Takes a plant in hand.
    pub(crate) fn take(&mut self, plant: usize) {
        self.at = plant.min(self.all.len().saturating_sub(1));
    }

    /// Begins a new plant; one in which nothing was decided yet and that was not begun on purpose gives its place.
    pub(crate) fn begin(&mut self, name: &str) {
        if !self.here().is_blank() || self.here().begun {
            self.all.push(Plant::new(""));
            self.at = self.all.len() - 1;
        }
        let name = if name.is_empty() { self.next_name() } else { name.to_owned() };
        let plant = self.here_mut();
        plant.name = name;
        plant.begun = true;
    }

    /// Returns the name that a new plant gets if the reader types none.
    pub(crate) fn next_name(&self) -> String {
        let taken = |name: &String| self.all.iter().any(|plant| plant.name == *name);
        let mut names = (1..=self.all.len() + 1).map(|number| format!("plant {number}"));
        names.find(|name| !taken(name)).unwrap_or_default()
    }

    /// Gives every plant that has none an id that begins with these words.
    pub(crate) fn number(&mut self, seat: &str) {
        for at in 0..self.all.len() {
            if self.all[at].id.is_empty() {
                let ids = (at..).map(|number| format!("{seat}.{number}"));
                let taken = |id: &String| self.all.iter().any(|plant| plant.id == *id);
                self.all[at].id = ids.into_iter().find(|id| !taken(id)).unwrap_or_default();
            }
        }
    }

    /// Takes in what was found out beside these plants by a reader that began from `begun`; returns of how many plants.
    ///
    /// Where both went on with the same plant, both are kept, the other's as a plant of its own.
    pub(crate) fn join(&mut self, begun: &Self, beside: Self) -> u32 {
        let mut joined = 0;
        for plant in beside.all {
            let before = begun.all.iter().find(|one| one.id == plant.id);
            let known = self.all.iter().any(|own| own.id == plant.id && own.finds_the_same(&plant));
            let copied = self.all.iter().any(|own| own.finds_the_same(&plant) && !plant.is_untouched());
            if plant.is_untouched() || before == Some(&plant) || known || copied {
                continue;
            }
            joined += 1;
            match self.all.iter().position(|own| own.id == plant.id) {
                Some(at) if Some(&self.all[at]) == before || self.all[at].is_untouched() => {
                    self.all[at] = plant;
                }
                Some(_) => self.push_apart(Plant { id: String::new(), ..plant }),
                None => self.push_apart(plant),
            }
        }
        if self.trip == begun.trip {
            self.trip = beside.trip;
        }
        joined
    }

    /// Adds a plant under a name that no other plant has.
    fn push_apart(&mut self, plant: Plant) {
        let taken = |name: &String| self.all.iter().any(|own| own.name == *name);
        let names = (1..).map(|number| match number {
            1 => plant.name.clone(),
            2 => format!("{} (other window)", plant.name),
            _ => format!("{} (other window {})", plant.name, number - 1),
        });
        let name = names.into_iter().find(|name| !taken(name)).unwrap_or_default();
        self.all.push(Plant { name, ..plant });
        self.number("joined");
    }

    /// Finds the couplets of all decisions again after the book was read anew; returns what to say about it.
    pub(crate) fn read_anew(&mut self, library: &Library) -> String {
        let (mut all, mut lost) = (0, 0);
        let decisions = self.all.iter_mut().flat_map(|plant| &mut plant.branches);
        for decision in decisions.flat_map(|branch| &mut branch.decisions) {
            all += 1;
            let found = find_again(library, decision);
            decision.lost = found.is_none();
            if let Some((spot, kept)) = found {
                (decision.spot, decision.kept) = (spot, kept);
            }
            lost += usize::from(decision.lost);
        }
        let begins = "This flora was read anew since you were here; it begins at its start.";
        match (all, lost) {
            (0, _) => begins.to_owned(),
            (_, 0) => format!("{begins} All {all} decisions were found again."),
            _ => format!(
                "{begins} {lost} of {all} decisions have no couplet any more; {{trail}} still lists them."
            ),
        }
    }
}

/// Returns the couplet that has the words of a decision, and its kept leads there: at its old place, in the key of that
/// title, or anywhere; where no couplet has all its leads, one that has those that were kept.
fn find_again(library: &Library, decision: &Decision) -> Option<(Spot, BTreeSet<usize>)> {
    let of_key = |key: KeyId, couplets: u32| {
        (0..couplets).map(move |couplet| Spot { key, couplet: CoupletId(couplet) })
    };
    let rows = &library.contents().keys;
    let titled = rows.iter().filter(|row| library.key_title(row.id) == decision.printed.key);
    let likely = std::iter::once(decision.spot).chain(titled.flat_map(|row| of_key(row.id, row.couplets)));
    let mut all = likely.chain(rows.iter().flat_map(|row| of_key(row.id, row.couplets)));
    let old = &decision.printed.leads;
    let whole = |spot: &Spot| !old.is_empty() && printed(library, *spot).leads == *old;
    if let Some(spot) = all.clone().find(whole) {
        return Some((spot, decision.kept.clone()));
    }
    let words: Option<Vec<&String>> = decision.kept.iter().map(|lead| old.get(*lead)).collect();
    let words = words.filter(|words| !words.is_empty())?;
    all.find_map(|spot| {
        let leads = printed(library, spot).leads;
        let kept: Option<BTreeSet<usize>> =
            words.iter().map(|words| leads.iter().position(|lead| lead == *words)).collect();
        Some((spot, kept?))
    })
}

/// Returns what the book prints at a couplet.
pub(crate) fn printed(library: &Library, spot: Spot) -> Printed {
    let couplet = library.book.key(spot.key).and_then(|key| key.couplet(spot.couplet));
    Printed {
        key: library.key_title(spot.key),
        couplet: library.couplet_label(spot.key, spot.couplet),
        leads: couplet
            .map(|couplet| couplet.leads.iter().map(|lead| lead.text.plain.clone()).collect())
            .unwrap_or_default(),
    }
}

/// Decides at a couplet for the plant at hand; all leads kept means that it can't be told.
pub(crate) fn decide(
    plants: &mut Plants,
    library: &Library,
    (spot, lead): (Spot, Option<usize>),
    now: u64,
) -> Decided {
    let printed = printed(library, spot);
    let (kept, sureness) = match lead {
        Some(lead) => ([lead].into(), Sureness::Sure),
        None => ((0..printed.leads.len()).collect(), Sureness::CannotTell),
    };
    let decision = Decision { spot, kept, sureness, note: String::new(), time: now, printed, lost: false };
    plants.here_mut().decide(decision)
}

/// Returns in words what was decided about a lead; nothing for a plant that was not begun on purpose.
pub(crate) fn mark_of(plants: &Plants, spot: Spot, lead: usize) -> &'static str {
    let plant = plants.here();
    let Some(decision) = plant.branch().at(spot).filter(|_| plant.begun) else { return "" };
    match (decision.kept.contains(&lead), decision.sureness) {
        (true, Sureness::Sure) => " · taken",
        (true, Sureness::Doubtful) => " · taken in doubt",
        (true, Sureness::CannotTell) => " · kept open",
        (false, _) => "",
    }
}

/// Returns a branch's letter.
pub(crate) fn branch_name(branch: usize) -> String {
    format!("branch {}", keying::letter(branch))
}
