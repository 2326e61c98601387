//! Names as they are asked for: whole, by their beginning, misspelled; scientific, vernacular or a synonym.

use std::collections::BTreeMap;

use crate::model::{Rank, TaxonId};
use crate::name;
use crate::search::table::{Name, NameKind, Table};
use crate::terms::near::distance;

/// Letters of a misspelled name for each letter that may be wrong in it.
const LETTERS_PER_SLIP: usize = 6;

/// Letters of the shortest beginning that is looked for.
const SHORTEST: usize = 3;

/// How well a name must fit at least to be that of the taxon: accepted or another, but whole.
pub(crate) const MEANT: f32 = BY_OTHER_NAME;

/// A taxon found by name.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Named<'a> {
    pub(crate) taxon: TaxonId,
    pub(crate) name: &'a Name,
    /// How well it fits, of 1.
    pub(crate) fit: f32,
}

/// Says whether a taxon has this name, whole.
pub(crate) fn is_whole(table: &Table, words: &str) -> bool {
    let key = name::fold(words);
    table.names.binary_search_by(|name| name.key.as_str().cmp(&key)).is_ok()
}

/// Says whether a taxon has a name that begins so or is spelled nearly so.
pub(crate) fn any(table: &Table, words: &str) -> bool {
    let key = name::fold(words);
    let letters = key.chars().count();
    letters >= SHORTEST
        && table.names.iter().any(|name| fit(&key, &name.key, letters / LETTERS_PER_SLIP).is_some())
}

/// Finds taxa by name, the best first.
pub(crate) fn find<'a>(table: &'a Table, words: &str) -> Vec<Named<'a>> {
    let key = name::fold(words);
    if key.chars().count() < SHORTEST {
        return Vec::new();
    }
    let slips = key.chars().count() / LETTERS_PER_SLIP;
    let mut best_of: BTreeMap<TaxonId, Named<'a>> = BTreeMap::new();
    for name in &table.names {
        let Some(fit) = fit(&key, &name.key, slips) else { continue };
        let fit = if name.kind == NameKind::Accepted { fit } else { fit * BY_OTHER_NAME };
        let named = Named { taxon: name.taxon, name, fit };
        let best = best_of.entry(name.taxon).or_insert_with(|| named.clone());
        if fit > best.fit {
            *best = named;
        }
    }
    let mut found: Vec<Named<'a>> = best_of.into_values().collect();
    let best = found.iter().map(|own| own.fit).fold(0.0, f32::max);
    // A misspelling counts only where nothing is spelled as typed.
    found.retain(|own| best < BEGINNING || own.fit >= BEGINNING * 0.9);
    found.sort_by(|one, other| other.fit.total_cmp(&one.fit).then(one.taxon.cmp(&other.taxon)));
    found
}

/// Returns the names of higher taxa that are spelled most like this one; where none is, those of the families.
pub(crate) fn like(table: &Table, words: &str) -> Vec<String> {
    let higher = |named: &Named<'_>| table.taxa[named.taxon.index()].rank < Rank::Species;
    let near = find(table, words).into_iter().filter(higher).take(NEAREST);
    let near: Vec<String> = near.map(|named| table.taxa[named.taxon.index()].name.clone()).collect();
    if !near.is_empty() {
        return near;
    }
    let families = table.taxa.iter().filter(|taxon| taxon.rank == Rank::Family);
    families.map(|taxon| taxon.name.clone()).collect()
}

/// Names that are offered for one that no taxon has.
const NEAREST: usize = 5;

/// How well a taxon fits by a name that is not its accepted one, as a share.
const BY_OTHER_NAME: f32 = 0.99;
/// How well a name fits that begins as typed.
const BEGINNING: f32 = 0.8;
/// How well one fits that has a word which begins so.
const WITHIN: f32 = 0.75;
/// How well one fits that is misspelled.
const MISSPELLED: f32 = 0.6;

fn fit(key: &str, name: &str, slips: usize) -> Option<f32> {
    if name == key {
        return Some(1.0);
    }
    if name.starts_with(key) {
        return Some(BEGINNING);
    }
    if words(name).skip(1).any(|rest| rest.starts_with(key.as_bytes())) {
        return Some(WITHIN);
    }
    if slips == 0 {
        return None;
    }
    let one_word = !key.contains(' ');
    let near = |name: &str| distance(key, name, slips).map(|steps| MISSPELLED - 0.1 * steps as f32);
    near(name).or_else(|| if one_word { name.split(' ').find_map(near) } else { None })
}

/// Returns what is left of a name at the beginning of each of its words.
fn words(name: &str) -> impl Iterator<Item = &[u8]> {
    let bytes = name.as_bytes();
    let begins = |at: &usize| *at == 0 || bytes[at - 1] == b' ';
    (0..bytes.len()).filter(begins).map(|at| &bytes[at..])
}
