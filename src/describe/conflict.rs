//! Leads that contradict the descriptions of all taxa that they lead to (K41): a sign of a link that went astray.
//!
//! Only what excludes is looked at: a state against its contrast, an organ there and absent, a number quite outside.

use std::collections::{BTreeMap, BTreeSet};

use crate::clause;
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
                if let Some(fact) = contradicted(flora, &own, &taxa, lead, (&concepts, &thesaurus)) {
                    doubts.push(doubt(key.id, lead, &fact));
                }
            }
        }
    }
    doubts
}

/// Returns the character of a lead that all its taxa contradict.
///
/// What one clause says of one organ are alternatives (`stems glabrous or hirsute`): a taxon that has any agrees.
fn contradicted(
    flora: &Flora,
    own: &BTreeMap<TaxonId, Vec<&Fact>>,
    taxa: &BTreeSet<TaxonId>,
    lead: &Lead,
    (concepts, thesaurus): (&Concepts<'_>, &Thesaurus),
) -> Option<Fact> {
    if taxa.is_empty() {
        return None;
    }
    let text = &lead.text.plain;
    let facts = read::facts(text, concepts, Ground::default());
    for clause in clause::clauses(text) {
        let inside = facts.iter().filter(|fact| clause.range.contains(&fact.range.start));
        let mut groups: BTreeMap<(Option<&str>, Option<&str>), Vec<Wanted>> = BTreeMap::new();
        for fact in inside.filter(|fact| fact.what != What::Presence || fact.said == Said::IsNot) {
            groups.entry((fact.organ, fact.of)).or_default().push(Wanted::new(fact.clone(), thesaurus));
        }
        for group in groups.values().filter(|group| group.iter().all(|wanted| excludes(&wanted.fact))) {
            let agrees = |id: &TaxonId, wanted: &Wanted| verdict(flora, own, *id, wanted) == Verdict::Agrees;
            let refutes =
                |id: &TaxonId, wanted: &Wanted| verdict(flora, own, *id, wanted) == Verdict::Refutes;
            let all = |wanted: &&Wanted| taxa.iter().all(|id| refutes(id, wanted));
            let none = taxa.iter().all(|id| !group.iter().any(|wanted| agrees(id, wanted)));
            if let Some(wanted) = group.iter().find(all).filter(|_| none) {
                return Some(wanted.fact.clone());
            }
        }
    }
    None
}

/// What a taxon says to a character.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    Agrees,
    Refutes,
    Unstated,
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

/// Returns what a taxon, or the lowest it belongs to that says anything, says to a character.
fn verdict(flora: &Flora, own: &BTreeMap<TaxonId, Vec<&Fact>>, id: TaxonId, wanted: &Wanted) -> Verdict {
    let parent = |id: TaxonId| flora.taxa.get(id.index()).and_then(|taxon| taxon.parent);
    for id in lineage(id, parent) {
        let weights: Vec<Weight> =
            own.get(&id).into_iter().flatten().filter_map(|fact| wanted.weigh_fact(fact)).collect();
        if weights.iter().any(|weight| matches!(weight, Weight::Agrees(_) | Weight::Rarely(_))) {
            return Verdict::Agrees;
        }
        if weights.iter().any(|weight| matches!(weight, Weight::Against(surely) if *surely >= SURELY)) {
            return Verdict::Refutes;
        }
        if !weights.is_empty() {
            return Verdict::Unstated;
        }
    }
    Verdict::Unstated
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
