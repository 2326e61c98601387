//! What a key's own structure tells about how it was read (K37–K39): couplets unreached, lonely leads, cycles, names
//! without treatment and treatments without a place in the key.

use std::collections::BTreeSet;

use crate::model::{CoupletId, Doubt, DoubtAbout, DoubtKind, Key, Page, Rank, Target, Taxon, TaxonId};

/// Returns what is doubtful about the keys.
pub(crate) fn doubts(keys: &[Key], taxa: &[Taxon]) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for key in keys {
        structure(key, &mut doubts);
    }
    names(keys, taxa, &mut doubts);
    doubts
}

fn structure(key: &Key, doubts: &mut Vec<Doubt>) {
    let reached: BTreeSet<CoupletId> = arrows(key).map(|(_, to)| to).collect();
    for (at, couplet) in key.couplets.iter().enumerate() {
        let page = couplet.leads.first().map_or(key.page, |lead| lead.text.page());
        let label = if couplet.label.is_empty() { (at + 1).to_string() } else { couplet.label.clone() };
        let words = couplet.leads.first().map(|lead| lead.text.plain.clone()).unwrap_or_default();
        let mut add = |kind, advice: String| {
            doubts.push(Doubt { kind, page, text: words.clone(), advice, about: DoubtAbout::Key(key.id) });
        };
        if at > 0 && !reached.contains(&CoupletId(at as u32)) {
            add(
                DoubtKind::UnreachedCouplet,
                format!(
                    "no lead arrives at couplet {label}; a target before it may be misread or misprinted"
                ),
            );
        }
        if couplet.leads.len() < 2 {
            add(
                DoubtKind::LonelyLead,
                format!("couplet {label} has a single lead; its rival may be lost or mislabelled"),
            );
        }
    }
    if let Some(at) = cycle(key) {
        let couplet = &key.couplets[at.index()];
        let page = couplet.leads.first().map_or(key.page, |lead| lead.text.page());
        let advice = format!(
            "following the leads from couplet {} comes back to it; one of the targets on the way is wrong",
            couplet.label
        );
        let text = couplet.leads.first().map(|lead| lead.text.plain.clone()).unwrap_or_default();
        doubts.push(Doubt { kind: DoubtKind::Cycle, page, text, advice, about: DoubtAbout::Key(key.id) });
    }
}

fn arrows(key: &Key) -> impl Iterator<Item = (CoupletId, CoupletId)> + '_ {
    key.couplets.iter().enumerate().flat_map(|(at, couplet)| {
        couplet.leads.iter().flat_map(|lead| std::iter::once(&lead.to).chain(&lead.also)).filter_map(
            move |target| match target {
                Target::Couplet(to) => Some((CoupletId(at as u32), *to)),
                Target::Taxon { .. } | Target::Key(_) | Target::Unresolved(_) => None,
            },
        )
    })
}

/// Finds a couplet that lies on a cycle, by taking away couplets that nothing arrives at until none is left.
fn cycle(key: &Key) -> Option<CoupletId> {
    let arrows: Vec<(CoupletId, CoupletId)> = arrows(key).collect();
    let mut left: BTreeSet<CoupletId> = (0..key.couplets.len() as u32).map(CoupletId).collect();
    loop {
        let arrived: BTreeSet<CoupletId> =
            arrows.iter().filter(|(from, _)| left.contains(from)).map(|(_, to)| *to).collect();
        let before = left.len();
        left.retain(|couplet| arrived.contains(couplet));
        if left.len() == before {
            break;
        }
    }
    // What lies behind a cycle without being on it leads nowhere back.
    left.iter().copied().find(|start| {
        let mut seen = BTreeSet::new();
        let mut open = vec![*start];
        while let Some(at) = open.pop() {
            for (_, to) in arrows.iter().filter(|(from, _)| *from == at) {
                if to == start {
                    return true;
                }
                if seen.insert(*to) {
                    open.push(*to);
                }
            }
        }
        false
    })
}

/// Names without a treatment from which on they are told in one sentence, where they are most of the keyed names.
const MANY_UNTREATED: usize = 25;

fn names(keys: &[Key], taxa: &[Taxon], doubts: &mut Vec<Doubt>) {
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
