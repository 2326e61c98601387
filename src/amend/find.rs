//! Where the words of an amendment stand in a flora: compared by letters and figures alone, so that another reading of
//! blanks, points and dashes changes nothing.

use std::ops::Range;

use crate::model::{CoupletId, Flora, Key, KeyId, Lead, ReadAs};

use super::LeadAt;

/// A lead's place.
pub(super) type LeadId = (KeyId, CoupletId, usize);

/// Returns the letters and figures of words, small.
pub(super) fn letters(words: &str) -> String {
    words.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Says whether printed words begin with the wanted letters.
pub(super) fn begins(printed: &str, wanted: &str) -> bool {
    letters(printed).starts_with(wanted)
}

/// Says whether a key is called so: by its title, or by the taxon that it divides.
pub(super) fn is_called(key: &Key, name: &str) -> bool {
    let wanted = letters(name);
    key.title.as_ref().is_some_and(|title| letters(title) == wanted)
        || key.scope.as_ref().is_some_and(|scope| letters(scope) == wanted)
}

/// Finds the one lead that an amendment names.
pub(super) fn lead(flora: &Flora, at: &LeadAt) -> Result<LeadId, String> {
    let wanted = letters(&at.words);
    let fits = |lead: &Lead, key: &Key| {
        if wanted.is_empty() {
            return at.label.is_some() && lead.label == at.label && in_key(key, at);
        }
        begins(&lead.text.plain, &wanted)
    };
    let ids = flora.keys.iter().flat_map(leads);
    let found = ids.filter(|(_, lead, key)| fits(lead, key)).map(|(id, lead, key)| {
        let other_label = at.label.is_some() && lead.label != at.label;
        let longer = letters(&lead.text.plain) != wanted;
        let away = at.page.map_or(0, |page| page.abs_diff(lead.text.page().0));
        ((!in_key(key, at), other_label, longer, away), id)
    });
    nearest(found.collect(), "lead")
}

fn in_key(key: &Key, at: &LeadAt) -> bool {
    at.key.as_ref().is_none_or(|name| is_called(key, name))
}

/// Returns every lead of a key with its place.
pub(super) fn leads(key: &Key) -> impl Iterator<Item = (LeadId, &Lead, &Key)> {
    key.couplets.iter().enumerate().flat_map(move |(couplet, leads)| {
        let leads = leads.leads.iter().enumerate();
        leads.map(move |(at, lead)| ((key.id, CoupletId(couplet as u32), at), lead, key))
    })
}

/// Returns the one candidate that stands nearest; two as near are none.
pub(super) fn nearest<S: Ord, T>(mut found: Vec<(S, T)>, what: &str) -> Result<T, String> {
    found.sort_by(|one, other| one.0.cmp(&other.0));
    let mut found = found.into_iter();
    let Some((near, first)) = found.next() else { return Err(format!("no {what} of the book begins so")) };
    match found.next() {
        Some((next, _)) if next == near => Err(format!("more than one {what} of the book begins so")),
        _ => Ok(first),
    }
}

/// Returns the leads of a key in the order in which they are printed.
pub(super) fn printed_order(flora: &Flora, key: KeyId) -> Vec<LeadId> {
    let marks = flora.pages.iter().flat_map(|page| &page.recognised);
    let mut order: Vec<LeadId> = marks
        .filter_map(|mark| match mark.read_as {
            ReadAs::Lead(of, couplet, lead) if of == key => Some((of, couplet, lead as usize)),
            _ => None,
        })
        .collect();
    order.dedup();
    if order.is_empty() {
        order = flora.keys[key.index()..=key.index()].iter().flat_map(leads).map(|(id, ..)| id).collect();
    }
    order
}

/// Returns where words stand in a text, each time from their first letter to their last; words begin where a word does.
pub(super) fn words_in(plain: &str, wanted: &str) -> Vec<Range<usize>> {
    let mut small: Vec<(char, usize, usize)> = Vec::new();
    for (at, letter) in plain.char_indices().filter(|(_, c)| c.is_alphanumeric()) {
        small.extend(letter.to_lowercase().map(|small| (small, at, at + letter.len_utf8())));
    }
    let wanted: Vec<char> = wanted.chars().collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let opens = |at: usize| !plain[..at].ends_with(char::is_alphanumeric);
    small
        .windows(wanted.len())
        .filter(|part| part.iter().map(|(c, ..)| c).eq(&wanted) && opens(part[0].1))
        .map(|part| part[0].1..part[part.len() - 1].2)
        .collect()
}
