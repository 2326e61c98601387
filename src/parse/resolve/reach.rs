//! How many taxa can still be reached through each lead, over couplets and keys.

use std::collections::BTreeMap;

use crate::model::{CoupletId, Key, KeyId, Target, TaxonId};

/// A set of end points.
#[derive(Clone, Default)]
struct Ends(Vec<u64>);

impl Ends {
    fn add(&mut self, at: usize) {
        if self.0.len() <= at / 64 {
            self.0.resize(at / 64 + 1, 0);
        }
        self.0[at / 64] |= 1 << (at % 64);
    }

    fn merge(&mut self, other: &Self) {
        if self.0.len() < other.0.len() {
            self.0.resize(other.0.len(), 0);
        }
        for (mine, theirs) in self.0.iter_mut().zip(&other.0) {
            *mine |= theirs;
        }
    }

    fn count(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }
}

/// Fills in [`crate::model::Lead::reaches`]. A taxon that has a key of its own counts as what that key tells apart.
pub(crate) fn count(keys: &mut [Key]) {
    let mut counter = Counter {
        keys,
        done: BTreeMap::new(),
        open: Vec::new(),
        ends: BTreeMap::new(),
        by_scope: BTreeMap::new(),
    };
    for key in counter.keys {
        if let Some(scope) = key.scope_id {
            counter.by_scope.entry(scope).or_default().push(key.id);
        }
    }
    let mut counts: Vec<Vec<Vec<u32>>> = Vec::new();
    for key in counter.keys {
        let of_key = (0..key.couplets.len())
            .map(|couplet| {
                key.couplets[couplet]
                    .leads
                    .iter()
                    .map(|lead| counter.lead(key.id, &lead.to, &lead.also).count())
                    .collect()
            })
            .collect();
        counts.push(of_key);
    }
    for (key, of_key) in keys.iter_mut().zip(counts) {
        for (couplet, of_couplet) in key.couplets.iter_mut().zip(of_key) {
            for (lead, reaches) in couplet.leads.iter_mut().zip(of_couplet) {
                lead.reaches = reaches;
            }
        }
    }
}

struct Counter<'a> {
    keys: &'a [Key],
    done: BTreeMap<(KeyId, CoupletId), Ends>,
    open: Vec<(KeyId, CoupletId)>,
    ends: BTreeMap<String, usize>,
    by_scope: BTreeMap<TaxonId, Vec<KeyId>>,
}

impl Counter<'_> {
    fn lead(&mut self, key: KeyId, to: &Target, also: &[Target]) -> Ends {
        let mut all = self.target(key, to);
        for target in also {
            all.merge(&self.target(key, target));
        }
        all
    }

    fn target(&mut self, key: KeyId, target: &Target) -> Ends {
        match target {
            Target::Couplet(couplet) => self.couplet(key, *couplet),
            Target::Key(other) => self.couplet(*other, CoupletId(0)),
            Target::Taxon { name, id } => {
                let inner = id.and_then(|id| self.by_scope.get(&id)).cloned().unwrap_or_default();
                let mut all = Ends::default();
                for other in inner.iter().filter(|other| **other != key) {
                    all.merge(&self.couplet(*other, CoupletId(0)));
                }
                if all.count() == 0 {
                    let next = self.ends.len();
                    all.add(*self.ends.entry(name.clone()).or_insert(next));
                }
                all
            }
            Target::Unresolved(_) => Ends::default(),
        }
    }

    fn couplet(&mut self, key: KeyId, couplet: CoupletId) -> Ends {
        let at = (key, couplet);
        if let Some(known) = self.done.get(&at) {
            return known.clone();
        }
        if self.open.contains(&at) {
            return Ends::default();
        }
        self.open.push(at);
        let keys = self.keys;
        let mut all = Ends::default();
        for lead in keys
            .get(key.index())
            .and_then(|key| key.couplets.get(couplet.index()))
            .map(|couplet| couplet.leads.as_slice())
            .unwrap_or_default()
        {
            let ends = self.lead(key, &lead.to, &lead.also);
            all.merge(&ends);
        }
        self.open.pop();
        self.done.insert(at, all.clone());
        all
    }
}
