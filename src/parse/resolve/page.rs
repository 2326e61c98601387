//! Targets that are a page alone (K21): the one treatment or key that begins on the page with that folio.

use crate::layout::SetPage;
use crate::model::{Doubt, DoubtKind, Key, KeyId, Page, Target, Taxon};

/// Resolves them; what begins on the page alone, and no lower rank than else there, is meant. The doubts about leads that
/// are resolved are taken back.
pub(crate) fn pages_alone(keys: &mut [Key], (taxa, pages): (&[Taxon], &[SetPage]), doubts: &mut Vec<Doubt>) {
    let starts: Vec<(Page, KeyId)> = keys.iter().map(|key| (key.page, key.id)).collect();
    for key in keys {
        for lead in key.couplets.iter_mut().flat_map(|couplet| &mut couplet.leads) {
            let (Some(cites), Target::Unresolved(words)) = (lead.cites.as_deref(), &lead.to) else {
                continue;
            };
            let alone = words.chars().filter(|c| c.is_alphanumeric()).count() <= cites.len() + LONGEST_CUE;
            let Some(page) = page_of(cites, pages).filter(|_| alone) else { continue };
            let Some(target) = on_page(page, taxa, &starts, key.id) else { continue };
            let text = lead.text.plain.as_str();
            doubts.retain(|doubt| {
                doubt.kind != DoubtKind::UnresolvedTarget
                    || doubt.about != crate::model::DoubtAbout::Key(key.id)
                    || !doubt.text.ends_with(text)
            });
            lead.to = target;
        }
    }
}

/// Letters of the longest word before a page (`page`, `pag.`).
const LONGEST_CUE: usize = 4;

fn page_of(cites: &str, pages: &[SetPage]) -> Option<Page> {
    let at = pages.iter().position(|page| page.folio.as_deref() == Some(cites))?;
    Some(Page(at as u32 + 1))
}

/// The highest taxon whose heading stands on the page, if it is the only one of its rank there; else the only key.
fn on_page(page: Page, taxa: &[Taxon], starts: &[(Page, KeyId)], own: KeyId) -> Option<Target> {
    let here = || taxa.iter().filter(|taxon| taxon.pages.0 == page && !taxon.heading.is_empty());
    let highest = here().map(|taxon| taxon.rank).min();
    let mut of_rank = here().filter(|taxon| Some(taxon.rank) == highest);
    match (of_rank.next(), of_rank.next()) {
        (Some(taxon), None) => Some(Target::Taxon { name: taxon.name.clone(), id: Some(taxon.id) }),
        (Some(_), Some(_)) => None,
        (None, _) => {
            let mut keys = starts.iter().filter(|(start, id)| *start == page && *id != own);
            let first = keys.next();
            first.filter(|_| keys.next().is_none()).map(|(_, id)| Target::Key(*id))
        }
    }
}
