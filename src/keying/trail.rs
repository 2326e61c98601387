//! The trail of a plant: what was decided at each couplet, how surely, and the branches that were tried.
//!
//! Nothing decided is ever taken away: a changed answer begins a branch beside the one before.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use crate::keying::{EndId, Graph, Spot, Step};
use crate::model::KeyId;

/// How sure a decision is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Sureness {
    /// Nothing was said against it.
    #[default]
    Sure,
    /// The reader doubts it.
    Doubtful,
    /// It could not be told; every lead is kept open.
    CannotTell,
}

/// What the book prints where a decision was taken, so that it can be found again in another reading of the book.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Printed {
    /// The key's title.
    pub key: String,
    /// The couplet's label.
    pub couplet: String,
    /// The words of every lead.
    pub leads: Vec<String>,
}

/// One decision.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Decision {
    /// The couplet.
    pub spot: Spot,
    /// The leads kept open, counted from 0.
    pub kept: BTreeSet<usize>,
    /// How sure it is.
    pub sureness: Sureness,
    /// What the reader wrote beside it.
    #[serde(default)]
    pub note: String,
    /// When it was taken, in seconds since 1970; 0 where no clock was at hand.
    #[serde(default)]
    pub time: u64,
    /// What the book prints there.
    #[serde(default)]
    pub printed: Printed,
    /// Whether the couplet is no longer where it was after the book was read anew; the decision is only remembered.
    #[serde(default)]
    pub lost: bool,
}

/// One chain of decisions.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Branch {
    /// The decisions in the order in which they were first taken; one for a couplet.
    pub decisions: Vec<Decision>,
    /// Why it was given up, if it was.
    #[serde(default)]
    pub dropped: Option<String>,
}

/// A plant that is keyed out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plant {
    /// What tells it from every other plant, whatever it is called; empty until it is numbered.
    #[serde(default)]
    pub id: String,
    /// What the reader calls it.
    pub name: String,
    /// The branches tried; there is always one.
    pub branches: Vec<Branch>,
    /// The branch at hand.
    pub at: usize,
    /// What was ticked for a taxon's characters: the taxon's name, then the printed words.
    #[serde(default)]
    pub ticks: BTreeMap<String, BTreeMap<String, Tick>>,
    /// Whether the reader began it on purpose; else it holds what was taken in passing.
    #[serde(default)]
    pub begun: bool,
}

/// What the reader found of a character.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Tick {
    /// The plant has it.
    Agrees,
    /// The plant has something else.
    Disagrees,
    /// It was looked for and can't be seen on the plant.
    NotSeen,
    /// It was measured: the readings as they were typed.
    Measured(String),
}

/// What became of a decision.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decided {
    /// It is new.
    First,
    /// The same stood there already.
    Again,
    /// It differs from the one before, which stays in the branch before.
    Branched,
    /// It differs, and another branch had it already, with all else: that one is at hand again.
    TakenUp,
}

impl Branch {
    /// Returns the decision at a couplet.
    pub fn at(&self, spot: Spot) -> Option<&Decision> {
        self.decisions.iter().find(|decision| decision.spot == spot && !decision.lost)
    }

    /// Says whether a lead is open: nothing was decided there, or it was kept.
    pub fn keeps(&self, spot: Spot, lead: usize) -> bool {
        self.at(spot).is_none_or(|decision| decision.kept.contains(&lead))
    }

    /// Returns where the keying began: the first couplet decided from which the last one can be reached.
    pub fn root(&self, graph: &Graph) -> Option<Spot> {
        let last = self.decisions.iter().rev().find(|decision| !decision.lost)?;
        let before = self.decisions.iter().filter(|decision| !decision.lost);
        before.map(|decision| decision.spot).find(|spot| graph.leads_to(*spot, last.spot))
    }

    /// Returns the end points that no decision excludes; all of the flora's where nothing was decided.
    pub fn possible(&self, graph: &Graph) -> BTreeSet<EndId> {
        let from = self.root(graph).map_or_else(|| graph.starts(), |root| vec![root]);
        let from: Vec<Step> = from.into_iter().map(Step::Couplet).collect();
        let all = graph.reach(&from, |spot, lead| self.keeps(spot, lead));
        let taken: Vec<Step> = self.taken_for_others(graph).into_iter().map(Step::Couplet).collect();
        if taken.is_empty() {
            return all;
        }
        let open = |spot: Spot, lead| self.keeps(spot, lead) && !self.passes_over(graph, spot.key);
        let kept = graph.reach(&from, open);
        // A taxon that the key taken does not know was not excluded by it.
        let known = graph.reach(&taken, |_, _| true);
        all.into_iter().filter(|end| kept.contains(end) || !known.contains(end)).collect()
    }

    /// Says whether another key to the same taxa was taken in place of this one.
    fn passes_over(&self, graph: &Graph, key: KeyId) -> bool {
        let decided =
            |key: &KeyId| self.decisions.iter().any(|decision| decision.spot.key == *key && !decision.lost);
        graph.alternatives(key).iter().any(decided) && !decided(&key)
    }

    /// Returns the starts of the keys that were taken in place of others.
    fn taken_for_others(&self, graph: &Graph) -> BTreeSet<Spot> {
        let keys = self.decisions.iter().filter(|decision| !decision.lost).map(|decision| decision.spot.key);
        let taken =
            keys.filter(|key| graph.alternatives(*key).iter().any(|other| self.passes_over(graph, *other)));
        taken.map(Spot::start).collect()
    }

    /// Says whether all that another branch decides is decided here in the same way.
    fn holds(&self, other: &Self) -> bool {
        let same = |one: &Decision| self.at(one.spot).is_some_and(|own| own.kept == one.kept);
        other.decisions.iter().all(|one| !one.lost && same(one))
    }

    /// Returns the couplets that wait for a decision: reached by the leads kept, and themselves undecided.
    pub fn waiting(&self, graph: &Graph) -> Vec<Spot> {
        let Some(root) = self.root(graph) else { return Vec::new() };
        let mut waiting = Vec::new();
        let decided = |spot: Spot| self.at(spot).is_some();
        graph.visit(
            &[Step::Couplet(root)],
            |spot, lead| decided(spot) && self.keeps(spot, lead),
            |step| {
                if let Step::Couplet(spot) = step
                    && !decided(spot)
                    && !self.passes_over(graph, spot.key)
                {
                    waiting.push(spot);
                }
            },
        );
        waiting
    }

    /// Returns the decisions in the order in which they should be doubted: could not be told, doubtful, then the rest, each the latest first.
    pub fn doubted(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.decisions.len()).rev().collect();
        order.sort_by_key(|at| match self.decisions[*at].sureness {
            Sureness::Doubtful => 0,
            Sureness::CannotTell => 1,
            Sureness::Sure => 2,
        });
        order
    }
}

impl Plant {
    /// Begins a plant.
    pub fn new(name: &str) -> Self {
        Self {
            id: String::new(),
            name: name.to_owned(),
            branches: vec![Branch::default()],
            at: 0,
            ticks: BTreeMap::new(),
            begun: false,
        }
    }

    /// Returns the branch at hand.
    pub fn branch(&self) -> &Branch {
        let at = self.at.min(self.branches.len().saturating_sub(1));
        self.branches.get(at).unwrap_or(&NOTHING)
    }

    /// Returns the branch at hand for changing.
    pub fn branch_mut(&mut self) -> &mut Branch {
        if self.branches.is_empty() {
            self.branches.push(Branch::default());
        }
        self.at = self.at.min(self.branches.len() - 1);
        &mut self.branches[self.at]
    }

    /// Takes a decision. One that differs from what was decided there begins a branch beside the one at hand, or takes up
    /// again a branch in which the same was decided.
    pub fn decide(&mut self, decision: Decision) -> Decided {
        let Some(at) =
            self.branch().decisions.iter().position(|before| before.spot == decision.spot && !before.lost)
        else {
            self.branch_mut().decisions.push(decision);
            return Decided::First;
        };
        if self.branch().decisions[at].kept == decision.kept {
            return Decided::Again;
        }
        let mut branch = self.branch().clone();
        branch.dropped = None;
        branch.decisions[at] = decision;
        if let Some(other) =
            self.branches.iter().position(|other| other.dropped.is_none() && other.holds(&branch))
        {
            self.at = other;
            return Decided::TakenUp;
        }
        self.branches.push(branch);
        self.at = self.branches.len() - 1;
        Decided::Branched
    }

    /// Returns the latest decision of the branch at hand, or the one at a couplet.
    pub fn decision_mut(&mut self, spot: Option<Spot>) -> Option<&mut Decision> {
        let decisions = &mut self.branch_mut().decisions;
        let at = spot.and_then(|spot| decisions.iter().position(|one| one.spot == spot && !one.lost));
        match at.or(decisions.len().checked_sub(1)) {
            Some(at) => decisions.get_mut(at),
            None => None,
        }
    }

    /// Gives up the branch at hand for a reason, and goes on with the latest that is not given up, if there is one.
    pub fn drop_branch(&mut self, reason: &str) {
        self.branch_mut().dropped = Some(reason.to_owned());
        if let Some(other) = self.branches.iter().rposition(|branch| branch.dropped.is_none()) {
            self.at = other;
        }
    }

    /// Says whether nothing was found out about it, nor was it begun on purpose.
    pub fn is_untouched(&self) -> bool {
        self.is_blank() && self.ticks.is_empty() && !self.begun
    }

    /// Says whether another plant holds the same decisions and ticks.
    pub fn finds_the_same(&self, other: &Self) -> bool {
        self.branches == other.branches && self.ticks == other.ticks
    }

    /// Says whether nothing was decided.
    pub fn is_blank(&self) -> bool {
        self.branches.iter().all(|branch| branch.decisions.is_empty())
    }

    /// Returns the end points that are possible in any branch that was not given up.
    pub fn possible(&self, graph: &Graph) -> BTreeSet<EndId> {
        let open = self.branches.iter().filter(|branch| branch.dropped.is_none());
        open.flat_map(|branch| branch.possible(graph)).collect()
    }
}

/// What a plant without branches, read from a damaged file, goes by.
static NOTHING: Branch = Branch { decisions: Vec::new(), dropped: None };

/// Returns the letter of a branch: A, B … Z, then A1, B1 ….
pub fn letter(branch: usize) -> String {
    let letter = char::from(b'A' + (branch % 26) as u8);
    if branch < 26 { letter.to_string() } else { format!("{letter}{}", branch / 26) }
}
