//! Keys that are alternatives of each other (K29): keys of one scope that end in the same taxa.
//!
//! Which one to take is for the reader to choose, by what the plant shows.

use std::collections::BTreeSet;

use crate::model::{Alternatives, Key, KeyId, Needs, Target};
use crate::name;

use super::words;

/// Share of the smaller key's ends that the other must have too.
const SHARED: f32 = 0.6;
/// Ends that two keys must share.
const FEWEST: usize = 2;

/// Finds the alternatives, in the order of the book.
pub(crate) fn find(keys: &[Key]) -> Vec<Alternatives> {
    let ends: Vec<BTreeSet<String>> = keys.iter().map(ends).collect();
    let needs: Vec<Option<Needs>> =
        keys.iter().map(|key| key.title.as_deref().and_then(words::needs)).collect();
    let mut taken = vec![false; keys.len()];
    let mut found = Vec::new();
    for at in 0..keys.len() {
        if taken[at] {
            continue;
        }
        let mut group: Vec<(KeyId, Option<Needs>)> = vec![(keys[at].id, needs[at])];
        for other in at + 1..keys.len() {
            let same_scope =
                keys[at].scope.as_deref().map(name::fold) == keys[other].scope.as_deref().map(name::fold);
            let differ = group.iter().all(|(_, one)| *one != needs[other] || one.is_none());
            if !taken[other] && same_scope && differ && alike(&ends[at], &ends[other]) {
                taken[other] = true;
                group.push((keys[other].id, needs[other]));
            }
        }
        if group.len() > 1 {
            found.push(Alternatives { keys: group });
        }
    }
    found
}

fn alike(one: &BTreeSet<String>, other: &BTreeSet<String>) -> bool {
    let shared = one.intersection(other).count();
    shared >= FEWEST && shared as f32 >= one.len().min(other.len()) as f32 * SHARED
}

/// Folded names of the taxa that a key's leads end in.
fn ends(key: &Key) -> BTreeSet<String> {
    let leads = key.couplets.iter().flat_map(|couplet| &couplet.leads);
    let targets = leads.flat_map(|lead| std::iter::once(&lead.to).chain(&lead.also));
    targets
        .filter_map(|target| match target {
            Target::Taxon { name, .. } => Some(name::fold(name)),
            Target::Couplet(_) | Target::Key(_) | Target::Unresolved(_) => None,
        })
        .collect()
}
