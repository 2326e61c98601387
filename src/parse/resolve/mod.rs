//! Raw keys and taxa in, keys whose leads lead somewhere out: couplets by number or by depth, taxa by name, keys by
//! title.

mod page;
mod reach;
mod scope;
mod target;

pub(crate) use page::pages_alone;
pub(crate) use reach::count;

use crate::model::{Couplet, CoupletId, Doubt, DoubtAbout, DoubtKind, Key, KeyId, Lead, Page, Target, Taxon};

use super::key::label::Series;
use super::key::read::{RawKey, RawLead};
use super::key::target::Named;
use scope::Scope;
use target::Resolver;

/// Resolves all keys; `heading_blocks` tells for each taxon with a heading the block that it stands in.
pub(crate) fn keys(
    raw: &[RawKey],
    taxa: &[Taxon],
    heading_blocks: &[(usize, crate::model::TaxonId)],
) -> (Vec<Key>, Vec<Doubt>) {
    let scopes = scope::scopes(raw, taxa, heading_blocks);
    let resolver = Resolver::new(raw, taxa, &scopes);
    let mut doubts = Vec::new();
    let keys =
        raw.iter().enumerate().map(|(at, key)| one(key, at, &scopes[at], &resolver, &mut doubts)).collect();
    (keys, doubts)
}

fn one(raw: &RawKey, at: usize, scope: &Scope, resolver: &Resolver<'_>, doubts: &mut Vec<Doubt>) -> Key {
    let id = KeyId(at as u32);
    let home = home_couplets(raw);
    let mut context = resolver.context(at);
    let mut leads: Vec<Option<Lead>> = raw
        .leads
        .iter()
        .enumerate()
        .map(|(number, lead)| Some(resolve_lead(raw, (number, lead), &home, &mut context, (id, doubts))))
        .collect();
    let couplets = raw
        .couplets
        .iter()
        .map(|couplet| Couplet {
            label: couplet_label(couplet.series),
            leads: couplet.leads.iter().filter_map(|lead| leads[*lead].take()).collect(),
        })
        .collect();
    let page = raw
        .title
        .as_ref()
        .map(crate::model::Text::page)
        .or_else(|| raw.leads.first().map(|lead| lead.text.page()))
        .unwrap_or(Page(1));
    Key {
        id,
        title: raw.title.as_ref().map(|title| title.plain.clone()),
        scope: scope.name.clone(),
        scope_id: scope.id,
        page,
        couplets,
    }
}

fn couplet_label(series: Series) -> String {
    match series {
        Series::Number(number) => number.to_string(),
        Series::Letter(letter) => letter.to_string(),
        Series::Bullet | Series::Dash => String::new(),
    }
}

/// The couplet of each lead.
fn home_couplets(raw: &RawKey) -> Vec<usize> {
    let mut home = vec![0; raw.leads.len()];
    for (couplet, lead) in raw
        .couplets
        .iter()
        .enumerate()
        .flat_map(|(at, couplet)| couplet.leads.iter().map(move |lead| (at, *lead)))
    {
        home[lead] = couplet;
    }
    home
}

fn resolve_lead(
    raw: &RawKey,
    (number, lead): (usize, &RawLead),
    home: &[usize],
    context: &mut target::Context<'_, '_>,
    (key, doubts): (KeyId, &mut Vec<Doubt>),
) -> Lead {
    let mut found: Vec<Target> = Vec::new();
    for named in &lead.target.named {
        let (target, remark) = context.resolve(raw, named, home[number]);
        if let Some(advice) = remark {
            doubts.push(doubt(DoubtKind::NameDiffers, lead, advice, key));
        }
        if !found.contains(&target) {
            found.push(target);
        }
    }
    if found.is_empty() {
        let below = descent(raw, number, home);
        if let Some(Target::Couplet(next)) = &below
            && prints_targets(raw)
        {
            let label = couplet_label(raw.couplets[next.index()].series);
            let advice = format!(
                "this lead prints no target; couplet {label} comes next and no other lead sends there, so it was taken for the target"
            );
            doubts.push(doubt(DoubtKind::UnresolvedTarget, lead, advice, key));
        }
        found.push(below.unwrap_or_else(|| Target::Unresolved(lead.target.words.clone())));
    }
    let resolved: Vec<Target> =
        found.iter().filter(|target| !matches!(target, Target::Unresolved(_))).cloned().collect();
    let mut found = if resolved.is_empty() { found } else { resolved };
    let to = found.remove(0);
    if let Target::Unresolved(words) = &to {
        let advice = unresolved(raw, words, home[number]);
        doubts.push(doubt(DoubtKind::UnresolvedTarget, lead, advice, key));
    }
    if let (Target::Couplet(couplet), Some(Named::Number(number))) = (&to, lead.target.named.first())
        && !lead.target.words.contains(&number.to_string())
    {
        let advice = format!(
            "the target “{}” was read as the number {number}, couplet {} of this key",
            lead.target.words,
            couplet_label(raw.couplets[couplet.index()].series)
        );
        doubts.push(doubt(DoubtKind::OddLabel, lead, advice, key));
    }
    if lead.odd {
        let advice = odd_label(lead, raw.couplets[home[number]].series);
        doubts.push(doubt(DoubtKind::OddLabel, lead, advice, key));
    }
    Lead {
        label: Some(lead.label.printed.clone()).filter(|label| !label.is_empty()),
        text: lead.text.clone(),
        printed: lead.target.words.clone(),
        to,
        also: found,
        cites: lead.target.cites.clone(),
        reaches: 0,
        amended: false,
    }
}

/// Says whether a key's leads print the numbers that they lead to.
fn prints_targets(raw: &RawKey) -> bool {
    let numbers = raw.leads.iter().flat_map(|lead| &lead.target.named);
    let numbers = numbers.filter(|named| matches!(named, Named::Number(_))).count();
    numbers > 0 && numbers * 2 >= raw.couplets.len() - 1
}

/// What to say of a label that was mended by its neighbours (K18, K42).
fn odd_label(lead: &RawLead, couplet: Series) -> String {
    let printed = &lead.label.printed;
    if let Some(seen) = &lead.label.seen {
        if seen.is_empty() {
            return format!(
                "no label can be read here; by where it stands this lead was read as “{printed}”"
            );
        }
        return format!(
            "“{seen}” is no label that fits here; by its neighbours and its place it was read as “{printed}”"
        );
    }
    match (lead.label.series, couplet) {
        (Series::Number(number), Series::Number(taken)) if number != taken => format!(
            "the number {number} stands on two couplets; this one was taken for couplet {taken}, which is called for and missing"
        ),
        _ if printed.is_empty() => {
            "this lead does not stand at the depth of its rivals; it was read as one of them".to_owned()
        }
        _ => format!("the label “{printed}” does not fit its neighbours; it was read as their rival"),
    }
}

/// What to say of a target that nothing answers to.
fn unresolved(raw: &RawKey, words: &str, own: usize) -> String {
    if words.is_empty() {
        return "this lead prints no target, and no deeper couplet follows it; look at the page".to_owned();
    }
    let own = couplet_label(raw.couplets[own].series);
    let number = words.trim_end_matches('.');
    if number == own {
        return format!("this lead sends back to its own couplet {own}; look at the page for what is meant");
    }
    if number.parse::<u32>().is_ok() && own.parse::<u32>().is_ok() {
        return format!("this key has no couplet {number} that the lead could send to; look at the page");
    }
    format!("nothing in this flora answers to the target “{words}”; look at the page")
}

/// A lead without a target leads to the couplet that opens right below it (K6), unless numbers lead there already.
fn descent(raw: &RawKey, number: usize, home: &[usize]) -> Option<Target> {
    let next = *home.get(number + 1)?;
    let opens = raw.couplets[next].leads.first() == Some(&(number + 1));
    let called = match raw.couplets[next].series {
        Series::Number(label) => {
            raw.leads.iter().any(|lead| lead.target.named.contains(&Named::Number(label)))
        }
        Series::Letter(_) | Series::Bullet | Series::Dash => false,
    };
    (opens && !called && next > home[number]).then_some(Target::Couplet(CoupletId(next as u32)))
}

fn doubt(kind: DoubtKind, lead: &RawLead, advice: String, key: KeyId) -> Doubt {
    let text = format!("{} {}", lead.label.printed, lead.text.plain).trim_start().to_owned();
    Doubt { kind, page: lead.text.page(), text, advice, about: DoubtAbout::Key(key) }
}
