//! A flora's own glossary as a layer: printed entries in, terms out. Definitions stay as printed.

use crate::model::Entry;
use crate::terms::form::{Kin, fold, headwords};
use crate::terms::layer::Layer;
use crate::terms::{Origin, Sense, Term};

/// Indexes a flora's entries; headwords printed in the plural are also found by a singular that `known` has.
pub(crate) fn layer(origin: &Origin, entries: &[Entry], known: &Layer) -> Layer {
    let mut layer = Layer::new(entries.iter().map(|entry| term(entry, origin)).collect());
    for (at, entry) in entries.iter().enumerate() {
        let key = fold(&entry.term);
        let mut singles = Vec::new();
        headwords(&key, Kin::Same, |single| {
            if !known.listed(single).is_empty() || !layer.listed(single).is_empty() {
                singles.push(single.to_owned());
            }
        });
        for single in singles {
            layer.add_form(at, single);
        }
    }
    layer
}

fn term(entry: &Entry, origin: &Origin) -> Term {
    Term {
        name: entry.term.clone(),
        forms: entry.variants.clone(),
        see: entry.see.clone(),
        senses: vec![Sense { definition: entry.definition.plain.clone(), ..Sense::default() }],
        origin: origin.clone(),
        page: Some(entry.definition.page()),
        entry: Some(entry.id),
    }
}
