//! All keys of a flora as one directed graph: couplets, the leads between them, and the taxa in which they end.
//!
//! A lead to a taxon that has a key of its own goes on in that key. Cycles, which are errors, end nothing and hang nothing.

use std::collections::{BTreeMap, BTreeSet};

use crate::keying::Spot;
use crate::model::{Alternatives, CoupletId, Key, KeyId, Target, TaxonId};

/// What a lead can end in.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// A taxon that the flora treats.
    Treated(TaxonId),
    /// A taxon that it only names.
    Named(String),
}

/// An end point's place in its graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EndId(pub u32);

/// Where a lead goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// At a couplet.
    Couplet(Spot),
    /// Nowhere: here it ends.
    End(EndId),
}

/// One lead of one couplet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Turn {
    /// The couplet.
    pub spot: Spot,
    /// The lead, counted from 0.
    pub lead: usize,
}

/// One lead.
#[derive(Clone, Debug, Default)]
struct Lead {
    steps: Vec<Step>,
    /// The treated taxa that it names, by name or through the key to their members.
    names: Vec<TaxonId>,
}

/// The graph.
#[derive(Clone, Debug, Default)]
pub struct Graph {
    /// Keys, their couplets, their leads.
    keys: Vec<Vec<Vec<Lead>>>,
    ends: Vec<End>,
    /// Couplets with the leads that come to them.
    arrivals: BTreeMap<Spot, Vec<Turn>>,
    /// End points with the leads that end in them.
    last_turns: BTreeMap<EndId, Vec<Turn>>,
    /// Keys with the others to the same taxa.
    alternatives: BTreeMap<KeyId, Vec<KeyId>>,
}

impl Graph {
    /// Joins the keys of a flora, each at the place of its id; one that can't be read leaves its place empty.
    pub fn of<'a>(keys: impl Iterator<Item = Option<&'a Key>>) -> Self {
        let keys: Vec<Option<&Key>> = keys.collect();
        let mut joiner = Joiner { by_scope: BTreeMap::new(), empty: BTreeSet::new(), known: BTreeMap::new() };
        for key in keys.iter().flatten() {
            if key.couplets.is_empty() {
                joiner.empty.insert(key.id);
            } else if let Some(scope) = key.scope_id {
                joiner.by_scope.entry(scope).or_default().push(key.id);
            }
        }
        let scopes: BTreeMap<KeyId, Option<TaxonId>> =
            keys.iter().flatten().map(|key| (key.id, key.scope_id)).collect();
        let mut graph = Self::default();
        for key in &keys {
            let couplets = key.map_or(&[][..], |key| &key.couplets);
            let lead = |key: &Key, lead: &crate::model::Lead, joiner: &mut Joiner, ends: &mut Vec<End>| {
                let mut found = Lead::default();
                for target in std::iter::once(&lead.to).chain(&lead.also) {
                    joiner.join(key.id, target, (&scopes, ends), &mut found);
                }
                found
            };
            let mut of_key = Vec::new();
            for couplet in couplets {
                let Some(key) = key else { continue };
                of_key.push(
                    couplet.leads.iter().map(|one| lead(key, one, &mut joiner, &mut graph.ends)).collect(),
                );
            }
            graph.keys.push(of_key);
        }
        graph.note_arrivals();
        graph
    }

    /// Tells the graph which keys are to the same taxa, so that one of them is enough.
    #[must_use]
    pub fn with_alternatives(mut self, alternatives: &[Alternatives]) -> Self {
        for group in alternatives {
            for (key, _) in &group.keys {
                let others = group.keys.iter().map(|(other, _)| *other).filter(|other| other != key);
                self.alternatives.entry(*key).or_default().extend(others);
            }
        }
        self
    }

    /// Returns the other keys to the same taxa.
    pub fn alternatives(&self, key: KeyId) -> &[KeyId] {
        self.alternatives.get(&key).map_or(&[], Vec::as_slice)
    }

    /// Returns how many leads a couplet has; none where there is no such couplet.
    pub fn leads(&self, spot: Spot) -> usize {
        self.couplet(spot).len()
    }

    /// Returns where a lead goes on.
    pub fn steps(&self, spot: Spot, lead: usize) -> &[Step] {
        self.couplet(spot).get(lead).map_or(&[], |lead| &lead.steps)
    }

    /// Returns the treated taxa that a lead names.
    pub fn names(&self, spot: Spot, lead: usize) -> &[TaxonId] {
        self.couplet(spot).get(lead).map_or(&[], |lead| &lead.names)
    }

    /// Returns what an end point is.
    pub fn end(&self, id: EndId) -> Option<&End> {
        self.ends.get(id.0 as usize)
    }

    /// Returns the leads that come to a couplet, in the order of the book.
    pub fn arrivals(&self, spot: Spot) -> &[Turn] {
        self.arrivals.get(&spot).map_or(&[], Vec::as_slice)
    }

    /// Returns every couplet in the order of the book.
    pub fn spots(&self) -> impl Iterator<Item = Spot> {
        self.keys.iter().enumerate().flat_map(|(key, couplets)| {
            (0..couplets.len())
                .map(move |couplet| Spot { key: KeyId(key as u32), couplet: CoupletId(couplet as u32) })
        })
    }

    /// Returns the starts of the keys that no lead comes to.
    pub fn starts(&self) -> Vec<Spot> {
        let starts = (0..self.keys.len()).map(|key| Spot::start(KeyId(key as u32)));
        starts.filter(|spot| self.leads(*spot) > 0 && self.arrivals(*spot).is_empty()).collect()
    }

    /// Returns the end points that can be reached from these steps when only `open` leads of a couplet are followed.
    pub fn reach(&self, from: &[Step], open: impl Fn(Spot, usize) -> bool) -> BTreeSet<EndId> {
        let mut ends = BTreeSet::new();
        self.visit(from, open, |step| {
            if let Step::End(end) = step {
                ends.insert(end);
            }
        });
        ends
    }

    /// Returns the end points below one lead.
    pub fn below(&self, spot: Spot, lead: usize) -> BTreeSet<EndId> {
        self.reach(self.steps(spot, lead), |_, _| true)
    }

    /// Says whether a couplet can be reached from another one, itself included.
    pub fn leads_to(&self, from: Spot, to: Spot) -> bool {
        let mut found = false;
        self.visit(&[Step::Couplet(from)], |_, _| true, |step| found |= step == Step::Couplet(to));
        found
    }

    /// Goes everywhere that `open` leads lead to from these steps, to each step once, the nearest in the book first.
    pub fn visit(&self, from: &[Step], open: impl Fn(Spot, usize) -> bool, mut seen: impl FnMut(Step)) {
        let mut waiting: Vec<Step> = from.iter().rev().copied().collect();
        let mut done = BTreeSet::new();
        while let Some(step) = waiting.pop() {
            if !done.insert(step) {
                continue;
            }
            seen(step);
            if let Step::Couplet(spot) = step {
                let leads = (0..self.leads(spot)).filter(|lead| open(spot, *lead));
                let next: Vec<Step> = leads.flat_map(|lead| self.steps(spot, lead)).copied().collect();
                waiting.extend(next.into_iter().rev());
            }
        }
    }

    /// Returns the couplets that tell two taxa apart: one lead can end in the first alone, another in the second alone.
    pub fn tell_apart(&self, one: EndId, other: EndId) -> Vec<Spot> {
        let (one, other) = (self.above(one), self.above(other));
        let alone = |spot: Spot, mine: &BTreeSet<Turn>, theirs: &BTreeSet<Turn>| {
            let turns = (0..self.leads(spot)).map(|lead| Turn { spot, lead });
            turns.into_iter().any(|turn| mine.contains(&turn) && !theirs.contains(&turn))
        };
        let both: BTreeSet<Spot> = one.iter().map(|turn| turn.spot).collect();
        both.into_iter().filter(|spot| alone(*spot, &one, &other) && alone(*spot, &other, &one)).collect()
    }

    /// Returns every lead through which an end point can be reached.
    pub fn above(&self, end: EndId) -> BTreeSet<Turn> {
        let mut waiting: Vec<Turn> = self.last_turns.get(&end).cloned().unwrap_or_default();
        let mut found = BTreeSet::new();
        while let Some(turn) = waiting.pop() {
            if found.insert(turn) {
                waiting.extend(self.arrivals(turn.spot));
            }
        }
        found
    }

    /// Returns the end point of a treated taxon.
    pub fn end_of(&self, taxon: TaxonId) -> Option<EndId> {
        let at = self.ends.iter().position(|end| *end == End::Treated(taxon))?;
        Some(EndId(at as u32))
    }

    fn couplet(&self, spot: Spot) -> &[Lead] {
        let couplets = self.keys.get(spot.key.index()).map_or(&[][..], Vec::as_slice);
        couplets.get(spot.couplet.index()).map_or(&[], Vec::as_slice)
    }

    fn note_arrivals(&mut self) {
        let mut arrivals: BTreeMap<Spot, Vec<Turn>> = BTreeMap::new();
        let mut last_turns: BTreeMap<EndId, Vec<Turn>> = BTreeMap::new();
        for spot in self.spots() {
            for lead in 0..self.leads(spot) {
                for step in self.steps(spot, lead) {
                    match step {
                        Step::Couplet(to) => arrivals.entry(*to).or_default().push(Turn { spot, lead }),
                        Step::End(end) => last_turns.entry(*end).or_default().push(Turn { spot, lead }),
                    }
                }
            }
        }
        (self.arrivals, self.last_turns) = (arrivals, last_turns);
    }
}

/// What has to be known to join keys.
struct Joiner {
    by_scope: BTreeMap<TaxonId, Vec<KeyId>>,
    empty: BTreeSet<KeyId>,
    known: BTreeMap<End, EndId>,
}

impl Joiner {
    fn join(
        &mut self,
        key: KeyId,
        target: &Target,
        (scopes, ends): (&BTreeMap<KeyId, Option<TaxonId>>, &mut Vec<End>),
        lead: &mut Lead,
    ) {
        match target {
            Target::Couplet(couplet) => lead.steps.push(Step::Couplet(Spot { key, couplet: *couplet })),
            Target::Key(other) => {
                lead.names.extend(scopes.get(other).copied().flatten());
                if !self.empty.contains(other) {
                    lead.steps.push(Step::Couplet(Spot::start(*other)));
                }
            }
            Target::Taxon { name, id } => {
                lead.names.extend(*id);
                let inner = id.and_then(|id| self.by_scope.get(&id)).map_or(&[][..], Vec::as_slice);
                let before = lead.steps.len();
                let others = inner.iter().filter(|other| **other != key);
                lead.steps.extend(others.map(|other| Step::Couplet(Spot::start(*other))));
                if lead.steps.len() == before {
                    let end = id.map_or_else(|| End::Named(name.clone()), End::Treated);
                    lead.steps.push(Step::End(self.end(end, ends)));
                }
            }
            Target::Unresolved(_) => {}
        }
    }

    fn end(&mut self, end: End, ends: &mut Vec<End>) -> EndId {
        *self.known.entry(end).or_insert_with_key(|end| {
            ends.push(end.clone());
            EndId(ends.len() as u32 - 1)
        })
    }
}
