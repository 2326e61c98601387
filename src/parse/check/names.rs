//! Names in keys without a treatment, and treatments that no key leads to (K39).

use std::collections::BTreeSet;

use crate::model::{Doubt, DoubtAbout, DoubtKind, Key, Page, Rank, Target, Taxon, TaxonId};

/// Names without a treatment from which on they are told in one sentence, where they are most of the keyed names.
const MANY_UNTREATED: usize = 25;

/// Tells of names that stand on one side alone.
pub(super) fn names(keys: &[Key], taxa: &[Taxon], doubts: &mut Vec<Doubt>) {
    let mut keyed: BTreeSet<TaxonId> = BTreeSet::new();
    let mut untreated: Vec<Doubt> = Vec::new();
    for key in keys {
        for lead in key.couplets.iter().flat_map(|couplet| &couplet.leads) {
            for target in std::iter::once(&lead.to).chain(&lead.also) {
                match target {
                    Target::Taxon { id: Some(id), .. } => {
                        keyed.insert(*id);
                    }
                    Target::Taxon { name, id: None } => untreated.push(Doubt {
                        kind: DoubtKind::NoTreatment,
                        page: lead.text.last_page(),
                        text: name.clone(),
                        advice: "the key leads to this name, but the book has no treatment of it (another volume, or a heading that was not recognised)".to_owned(),
                        about: DoubtAbout::Key(key.id),
                    }),
                    Target::Couplet(_) | Target::Key(_) | Target::Unresolved(_) => {}
                }
            }
        }
    }
    doubts.extend(told(untreated, keyed.len()));
    let divided: BTreeSet<TaxonId> = keys.iter().filter_map(|key| key.scope_id).collect();
    for taxon in taxa.iter().filter(|taxon| !keyed.contains(&taxon.id) && !taxon.heading.is_empty()) {
        let under_key = taxon.parent.is_some_and(|parent| divided.contains(&parent));
        if under_key && taxon.rank != Rank::Hybrid {
            let page: Page = taxon.pages.0;
            let advice =
                "this taxon has a treatment, but the key to its relatives does not lead to it".to_owned();
            doubts.push(Doubt {
                kind: DoubtKind::NotKeyed,
                page,
                text: taxon.name.clone(),
                advice,
                about: DoubtAbout::Taxon(taxon.id),
            });
        }
    }
}

/// A book whose keys are all there is of most taxa would fill pages with their names.
fn told(untreated: Vec<Doubt>, treated: usize) -> Vec<Doubt> {
    if untreated.len() < MANY_UNTREATED || untreated.len() < treated {
        return untreated;
    }
    let names: BTreeSet<&str> = untreated.iter().map(|doubt| doubt.text.as_str()).collect();
    let advice = format!(
        "{} names that the keys lead to have no treatment of their own in this book; it may name them in keys alone",
        names.len()
    );
    let text = names.iter().take(3).copied().collect::<Vec<_>>().join(", ") + " …";
    untreated
        .first()
        .map(|first| Doubt { advice, text, about: DoubtAbout::Book, ..first.clone() })
        .into_iter()
        .collect()
}
