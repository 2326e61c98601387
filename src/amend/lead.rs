//! Amendments of leads: one that goes elsewhere, and one that is none because its words belong to the lead before.

use crate::model::{CoupletId, DoubtAbout, DoubtKind, Flora, KeyId, Lead, ReadAs, Target, Text};
use crate::name;

use super::find::{self, LeadId, letters};
use super::{LeadAt, To, renumber};

/// Makes a lead go where the amendment says.
pub(super) fn goes_to(flora: &mut Flora, at: &LeadAt, to: &To) -> Result<(), String> {
    let id = find::lead(flora, at)?;
    let target = target(flora, id, to)?;
    settle(flora, id, &[DoubtKind::UnresolvedTarget, DoubtKind::NameDiffers]);
    let lead = lead_mut(flora, id);
    lead.to = target;
    lead.also.clear();
    lead.amended = true;
    Ok(())
}

fn target(flora: &Flora, (own, _, _): LeadId, to: &To) -> Result<Target, String> {
    match to {
        To::Couplet(label, words) => {
            let wanted = words.as_deref().map(letters).unwrap_or_default();
            let couplets = flora.keys[own.index()].couplets.iter().enumerate();
            let found = couplets.filter(|(_, couplet)| {
                letters(&couplet.label) == letters(label)
                    && couplet.leads.first().is_some_and(|lead| find::begins(&lead.text.plain, &wanted))
            });
            let found = found.map(|(at, _)| ((), CoupletId(at as u32))).collect();
            find::nearest(found, &format!("couplet {label}")).map(Target::Couplet)
        }
        To::Taxon(name) => {
            let folded = name::fold(name);
            let known = flora.taxa.iter().find(|taxon| name::fold(&taxon.name) == folded);
            Ok(match known {
                Some(taxon) => Target::Taxon { name: taxon.name.clone(), id: Some(taxon.id) },
                None => Target::Taxon { name: name.clone(), id: None },
            })
        }
        To::Key(title) => {
            let page = flora.keys[own.index()].page.0;
            let called = flora.keys.iter().filter(|key| key.id != own && find::is_called(key, title));
            let near = called.min_by_key(|key| key.page.0.abs_diff(page));
            near.map(|key| Target::Key(key.id)).ok_or_else(|| format!("no key is called “{title}”"))
        }
    }
}

/// Gives the words of what was taken for a lead back to the lead printed before it.
pub(super) fn is_none(flora: &mut Flora, at: &LeadAt) -> Result<(), String> {
    let id @ (key, couplet, number) = find::lead(flora, at)?;
    let order = find::printed_order(flora, key);
    let before = order.iter().position(|other| *other == id).and_then(|at| order.get(at.checked_sub(1)?));
    let Some(before) = before.copied() else {
        return Err("no lead is printed before it that its words could belong to".to_owned());
    };
    settle(flora, id, &[DoubtKind::UnresolvedTarget, DoubtKind::NameDiffers, DoubtKind::OddLabel]);
    settle(flora, before, &[DoubtKind::UnresolvedTarget]);
    let leads = &mut flora.keys[key.index()].couplets[couplet.index()].leads;
    let gone = leads.remove(number);
    let empty = leads.is_empty();
    // The lead before may stand behind the gone one in the same couplet's list.
    let kept = (before.0, before.1, before.2 - usize::from(before.1 == couplet && before.2 > number));
    take_in(lead_mut(flora, kept), gone, &Target::Couplet(couplet));
    renumber::marks(flora, &|read_as| match read_as {
        ReadAs::Lead(of, at, lead) if (of, at, lead as usize) == id => {
            Some(ReadAs::Lead(kept.0, kept.1, kept.2 as u32))
        }
        ReadAs::Lead(of, at, lead) if of == key && at == couplet && lead as usize > number => {
            Some(ReadAs::Lead(of, at, lead - 1))
        }
        other => Some(other),
    });
    if empty {
        renumber::without_couplet(flora, key, couplet);
    }
    Ok(())
}

/// Adds the words of what was no lead, and its target where it printed one or where the lead only went on into it.
fn take_in(lead: &mut Lead, gone: Lead, its_couplet: &Target) {
    let label = gone.label.map(|label| format!("{label} ")).unwrap_or_default();
    let page = gone.text.page();
    let more = if gone.printed.is_empty() { String::new() } else { format!("{} ", lead.printed) };
    let between = Text::plain(format!("{more}{label}").trim(), page);
    lead.text = lead.text.followed_by(&between).followed_by(&gone.text);
    if !gone.printed.is_empty() || lead.to == *its_couplet {
        (lead.printed, lead.to, lead.also, lead.cites) = (gone.printed, gone.to, gone.also, gone.cites);
    }
    lead.amended = true;
}

/// Takes away the doubts of these kinds about a lead.
fn settle(flora: &mut Flora, id: LeadId, kinds: &[DoubtKind]) {
    let lead = &flora.keys[id.0.index()].couplets[id.1.index()].leads[id.2];
    let words = letters(&format!("{} {}", lead.label.as_deref().unwrap_or_default(), lead.text.plain));
    let about: KeyId = id.0;
    flora.doubts.retain(|doubt| {
        !(kinds.contains(&doubt.kind)
            && doubt.about == DoubtAbout::Key(about)
            && letters(&doubt.text) == words)
    });
}

fn lead_mut(flora: &mut Flora, (key, couplet, lead): LeadId) -> &mut Lead {
    &mut flora.keys[key.index()].couplets[couplet.index()].leads[lead]
}
