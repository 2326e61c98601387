//! Leads that contradict the descriptions of all taxa that they lead to (K41): a sign of a link that went astray.
//!
//! Only what excludes is looked at: a state against its contrast, an organ there and absent, a number quite outside.

use std::collections::{BTreeMap, BTreeSet};

use crate::describe::concept::Concepts;
use crate::describe::inherit::{Standing, Stated, lineage};
use crate::describe::kin::Thesaurus;
use crate::describe::read::{self, Ground};
use crate::describe::weigh::{Wanted, Weight};
use crate::describe::{Degree, Fact, Frequency, Said, What};
use crate::model::{CoupletId, Doubt, DoubtAbout, DoubtKind, Flora, Key, KeyId, Lead, Target, TaxonId};
use crate::terms::Lexicon;

/// How surely a description must contradict a lead.
const SURELY: f32 = 0.85;

/// Couplets that are gone through from one lead at most, so that a circle ends.
const MOST_COUPLETS: usize = 4000;

/// Returns a doubt for each lead that all its taxa contradict.
pub fn conflicts(flora: &Flora, lexicon: &Lexicon, stated: &[Stated]) -> Vec<Doubt> {
    let mut own: BTreeMap<TaxonId, Vec<&Fact>> = BTreeMap::new();
    for each in stated.iter().filter(|each| each.standing == Standing::Own) {
        own.entry(each.taxon).or_default().push(&each.fact);
    }
    let concepts = Concepts::new(lexicon);
    let thesaurus = Thesaurus::new(lexicon);
    let mut doubts = Vec::new();
    for key in &flora.keys {
        for couplet in &key.couplets {
            for lead in &couplet.leads {
                let taxa = reached(flora, key, lead);
                let facts = read::facts(&lead.text.plain, &concepts, Ground::default());
                let wanted = facts.into_iter().filter(excludes).map(|fact| Wanted::new(fact, &thesaurus));
                let refuted = |wanted: &Wanted| {
                    !taxa.is_empty() && taxa.iter().all(|id| refutes(flora, &own, *id, wanted))
                };
                if let Some(wanted) = wanted.into_iter().find(refuted) {
                    doubts.push(doubt(key.id, lead, &wanted.fact));
                }
            }
        }
    }
    doubts
}

/// Says whether a character of a lead is firm enough to exclude.
fn excludes(fact: &Fact) -> bool {
    let firm = fact.degree != Degree::Weakly
        && fact.degree != Degree::Between
        && fact.frequency == Frequency::Always;
    let what = match fact.what {
        What::State(_) => fact.said == Said::Is && fact.organ.is_some(),
        What::Presence | What::Count(_) => true,
        What::Measure(..)
        | What::Ratio(..)
        | What::Season(..)
        | What::Elevation(_)
        | What::District(_)
        | What::Status(_) => false,
    };
    firm && what
}

/// Says whether a taxon, or what it belongs to, contradicts a character and nothing of it agrees.
fn refutes(flora: &Flora, own: &BTreeMap<TaxonId, Vec<&Fact>>, id: TaxonId, wanted: &Wanted) -> bool {
    let parent = |id: TaxonId| flora.taxa.get(id.index()).and_then(|taxon| taxon.parent);
    for id in lineage(id, parent) {
        let weights = own.get(&id).into_iter().flatten().filter_map(|fact| wanted.weigh_fact(fact));
        let (mut against, mut any) = (false, false);
        for weight in weights {
            any = true;
            match weight {
                Weight::Agrees(_) | Weight::Rarely(_) => return false,
                Weight::Against(surely) => against |= surely >= SURELY,
            }
        }
        if any {
            return against;
        }
    }
    false
}

/// Returns the taxa that a lead leads to, through couplets and further keys.
fn reached(flora: &Flora, key: &Key, lead: &Lead) -> BTreeSet<TaxonId> {
    let mut taxa = BTreeSet::new();
    let mut seen: BTreeSet<(KeyId, CoupletId)> = BTreeSet::new();
    let mut left: Vec<(KeyId, &Target)> = targets(lead).map(|target| (key.id, target)).collect();
    while let Some((at, target)) = left.pop() {
        let (key, couplet) = match target {
            Target::Taxon { id: Some(id), .. } => {
                taxa.insert(*id);
                continue;
            }
            Target::Couplet(couplet) => (at, *couplet),
            Target::Key(key) => (*key, CoupletId(0)),
            Target::Taxon { id: None, .. } | Target::Unresolved(_) => return BTreeSet::new(),
        };
        if seen.len() > MOST_COUPLETS || !seen.insert((key, couplet)) {
            continue;
        }
        let found = flora.keys.get(key.index()).and_then(|key| key.couplet(couplet));
        let leads = found.into_iter().flat_map(|couplet| &couplet.leads);
        left.extend(leads.flat_map(targets).map(|target| (key, target)));
    }
    taxa
}

fn targets(lead: &Lead) -> impl Iterator<Item = &Target> {
    std::iter::once(&lead.to).chain(&lead.also)
}

fn doubt(key: KeyId, lead: &Lead, fact: &Fact) -> Doubt {
    let words = &lead.text.plain[fact.range.clone()];
    Doubt {
        kind: DoubtKind::Contradicted,
        page: lead.text.page_at(fact.range.start),
        text: lead.text.plain.clone(),
        advice: format!(
            "The descriptions of all taxa that this lead leads to say otherwise than “{words}”; see whether its target is right."
        ),
        about: DoubtAbout::Key(key),
    }
}
