//! New numbers for taxa, couplets and leads, carried through everything in a flora that names them.

use crate::model::{CoupletId, DoubtAbout, Flora, KeyId, MatterId, ReadAs, Target, TaxonId};

/// Gives every taxon the number that `new` says. Where it says none, the taxon is gone, and names that led to it stay names.
pub(super) fn taxa(flora: &mut Flora, new: &dyn Fn(TaxonId) -> Option<TaxonId>) {
    for taxon in &mut flora.taxa {
        taxon.parent = taxon.parent.and_then(new);
    }
    for key in &mut flora.keys {
        key.scope_id = key.scope_id.and_then(new);
        for lead in key.couplets.iter_mut().flat_map(|couplet| &mut couplet.leads) {
            for target in std::iter::once(&mut lead.to).chain(&mut lead.also) {
                if let Target::Taxon { id, .. } = target {
                    *id = id.and_then(new);
                }
            }
        }
    }
    for doubt in &mut flora.doubts {
        if let DoubtAbout::Taxon(id) = doubt.about {
            doubt.about = new(id).map_or(DoubtAbout::Book, DoubtAbout::Taxon);
        }
    }
    marks(flora, &|read_as| match read_as {
        ReadAs::Heading(id) => new(id).map(ReadAs::Heading),
        ReadAs::Section(id, at) => new(id).map(|id| ReadAs::Section(id, at)),
        other => Some(other),
    });
    for (at, taxon) in flora.taxa.iter_mut().enumerate() {
        taxon.id = TaxonId(at as u32);
    }
}

/// Changes what pieces of pages were read as; a piece that becomes nothing is only text.
pub(super) fn marks(flora: &mut Flora, new: &dyn Fn(ReadAs) -> Option<ReadAs>) {
    for page in &mut flora.pages {
        page.recognised.retain_mut(|mark| match new(mark.read_as) {
            Some(read_as) => {
                mark.read_as = read_as;
                true
            }
            None => false,
        });
    }
}

/// Takes a piece of matter away.
pub(super) fn without_matter(flora: &mut Flora, gone: MatterId) {
    flora.matter.remove(gone.index());
    for (at, piece) in flora.matter.iter_mut().enumerate() {
        piece.id = MatterId(at as u32);
    }
    marks(flora, &|read_as| match read_as {
        ReadAs::MatterTitle(id) if id == gone => None,
        ReadAs::MatterTitle(id) if id > gone => Some(ReadAs::MatterTitle(MatterId(id.0 - 1))),
        other => Some(other),
    });
}

/// Takes an empty couplet away; what led to it is left to print what it prints.
pub(super) fn without_couplet(flora: &mut Flora, key: KeyId, gone: CoupletId) {
    let Some(found) = flora.keys.get_mut(key.index()) else { return };
    found.couplets.remove(gone.index());
    let new = |id: CoupletId| CoupletId(if id > gone { id.0 - 1 } else { id.0 });
    for lead in found.couplets.iter_mut().flat_map(|couplet| &mut couplet.leads) {
        let printed = lead.printed.clone();
        for target in std::iter::once(&mut lead.to).chain(&mut lead.also) {
            if let Target::Couplet(id) = target {
                *target =
                    if *id == gone { Target::Unresolved(printed.clone()) } else { Target::Couplet(new(*id)) };
            }
        }
    }
    marks(flora, &|read_as| match read_as {
        ReadAs::Lead(of, id, lead) if of == key => Some(ReadAs::Lead(of, new(id), lead)),
        other => Some(other),
    });
}
