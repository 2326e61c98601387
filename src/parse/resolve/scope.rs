//! Which taxon's members a key tells apart: its title says so, or the last heading above it (K3).

use std::collections::BTreeMap;

use crate::model::{Rank, Taxon, TaxonId};
use crate::name;
use crate::parse::key::read::RawKey;
use crate::parse::words;

/// What a key's title says that it tells apart.
const MEMBERS: &[&str] =
    &["species", "genera", "subspecies", "varieties", "forms", "sections", "families", "tribes"];

/// The taxon that a key divides.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Scope {
    /// Its name; none for the families of a flora.
    pub(super) name: Option<String>,
    /// Its treatment.
    pub(super) id: Option<TaxonId>,
}

pub(super) fn scopes(raw: &[RawKey], taxa: &[Taxon], heading_blocks: &[(usize, TaxonId)]) -> Vec<Scope> {
    let by_name: BTreeMap<String, TaxonId> =
        taxa.iter().rev().map(|taxon| (name::fold(&taxon.name), taxon.id)).collect();
    let mut scopes: Vec<Scope> = Vec::new();
    for (at, key) in raw.iter().enumerate() {
        let title = key.title.as_ref().map(|title| title.plain.as_str()).unwrap_or_default();
        let above =
            heading_blocks.iter().rev().find(|(block, _)| *block < key.blocks.start).map(|(_, id)| *id);
        let between = at > 0
            && heading_blocks
                .iter()
                .any(|(block, _)| raw[at - 1].blocks.end <= *block && *block < key.blocks.start);
        let follows = at > 0 && !between;
        let scope = named(title, &by_name).or_else(|| {
            if follows && words::is_key_target(title) && !title.to_lowercase().starts_with("key to") {
                return Some(scopes[at - 1].clone());
            }
            above.filter(|_| !is_for_families(title)).and_then(|id| of_rank(id, title, taxa))
        });
        scopes.push(scope.unwrap_or_default());
    }
    scopes
}

fn is_for_families(title: &str) -> bool {
    let folded = name::fold(title);
    words::FAMILIES.iter().any(|word| folded.contains(word)) && !folded.contains("of ")
}

/// A taxon that the title names.
fn named(title: &str, by_name: &BTreeMap<String, TaxonId>) -> Option<Scope> {
    let starts = title.match_indices(' ').map(|(at, _)| at + 1).chain(std::iter::once(0));
    let mut best: Option<(usize, Scope)> = None;
    for start in starts {
        let Some(parsed) = name::parse(&title[start..]) else { continue };
        for candidate in [parsed.name.clone(), parsed.name.split(' ').next().unwrap_or_default().to_owned()] {
            if let Some(id) = by_name.get(&name::fold(&candidate)) {
                let scope = Scope { name: Some(candidate.clone()), id: Some(*id) };
                if best.as_ref().is_none_or(|(length, _)| candidate.len() > *length) {
                    best = Some((candidate.len(), scope));
                }
            }
        }
    }
    best.map(|(_, scope)| scope).or_else(|| {
        // A name without a treatment: "Key to the species of Silene" in a book that has no heading for the genus.
        let lower = title.to_ascii_lowercase();
        let at = lower.rfind(" of ")?;
        // In capitals any word looks like a name: only members of a rank are of a taxon.
        let of_members = MEMBERS.iter().any(|members| lower[..at].ends_with(members));
        let after =
            title.get(at + " of ".len()..).filter(|_| of_members || title[at..].starts_with(" of "))?;
        let capitals = after.chars().filter(|c| c.is_uppercase()).count() * 2 > after.len();
        let after = if capitals { after.to_uppercase() } else { after.to_owned() };
        let parsed = name::parse(&after).filter(|parsed| parsed.end + 1 >= after.len())?;
        Some(Scope { name: Some(parsed.name), id: None })
    })
}

/// The taxon above, or its ancestor of the rank that the title speaks of.
fn of_rank(id: TaxonId, title: &str, taxa: &[Taxon]) -> Option<Scope> {
    let folded = name::fold(title);
    let wanted = words::divided_rank(&folded);
    let mut at = Some(id);
    while let Some(taxon) = at.map(|id| &taxa[id.index()]) {
        let fits = match wanted {
            None => true,
            Some(Rank::Species) => matches!(taxon.rank, Rank::Species | Rank::Hybrid),
            Some(rank) => taxon.rank == rank,
        };
        if fits {
            return Some(Scope { name: Some(taxon.name.clone()), id: Some(taxon.id) });
        }
        at = taxon.parent;
    }
    None
}
