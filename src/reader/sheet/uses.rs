//! Where a term is used: every couplet and treatment with a word that leads to it, by the organ that it is said of.
//!
//! The whole book is gone through when it is asked for; nothing of it is kept.

use std::collections::{BTreeMap, BTreeSet};

use crate::clause::organ_of;
use crate::link::{Leads, Mark};
use crate::model::{CoupletId, Text};
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Sheet};
use crate::terms::TermId;

/// Places listed for one organ at most; more than a reader goes through.
const MOST_PLACES: usize = 60;

/// Bytes of the text shown before the word, and in all.
const SHOWN: (usize, usize) = (24, 160);

/// A place where the term is used.
struct Use {
    title: String,
    snippet: String,
    item: Item,
}

/// What is looked for.
struct Wanted {
    ids: BTreeSet<TermId>,
    stems: Vec<String>,
}

/// Puts together where the words are used.
pub(super) fn sheet(library: &Library, words: &[String]) -> Sheet {
    let mut sheet = Sheet::titled(format!("Where “{}” is used", words.join(" + ")));
    let ids: BTreeSet<TermId> = words.iter().flat_map(|word| library.lexicon.look_up(word)).collect();
    let stems = library.lexicon.stems(&ids);
    let mut found: BTreeMap<&'static str, Vec<Use>> = BTreeMap::new();
    let wanted = Wanted { ids, stems };
    in_keys(library, &wanted, &mut found);
    in_treatments(library, &wanted, &mut found);
    let all: usize = found.values().map(Vec::len).sum();
    sheet.about = count(all as u32, "place", "places");
    if all == 0 {
        sheet.faint("No couplet and no treatment of this flora uses it.");
    }
    for (organ, uses) in &found {
        let organ = if organ.is_empty() { "no organ named" } else { organ };
        sheet.heading(&format!("{organ} · {}", count(uses.len() as u32, "place", "places")));
        for place in uses.iter().take(MOST_PLACES) {
            let text = Composer::new().bold(&place.title).add(": ").add(&place.snippet).text();
            sheet.push_short_row(text, Go::To(place.item.clone()));
        }
        if let Some(more) = uses.len().checked_sub(MOST_PLACES).filter(|more| *more > 0) {
            sheet.faint(&format!("… and {more} more"));
        }
    }
    sheet
}

fn in_keys(library: &Library, wanted: &Wanted, found: &mut BTreeMap<&'static str, Vec<Use>>) {
    for row in &library.contents().keys {
        let Some(key) = library.book.key(row.id) else { continue };
        for (at, couplet) in key.couplets.iter().enumerate() {
            let item = Item::Couplet(row.id, CoupletId(at as u32));
            let title = || format!("couplet {} · {}", couplet.label, library.key_title(row.id));
            for lead in &couplet.leads {
                add(library, (&lead.text, wanted), (&title, &item), found);
            }
        }
    }
}

fn in_treatments(library: &Library, wanted: &Wanted, found: &mut BTreeMap<&'static str, Vec<Use>>) {
    for row in &library.contents().taxa {
        let Some(taxon) = library.book.taxon(row.id) else { continue };
        for section in &taxon.sections {
            let item = Item::Treatment(row.id);
            add(library, (&section.text, wanted), (&|| row.name.clone(), &item), found);
        }
    }
}

/// Adds a text's uses of the term; of one organ only the first, so that a place is not listed twice below it.
fn add(
    library: &Library,
    (text, wanted): (&Text, &Wanted),
    (title, item): (&dyn Fn() -> String, &Item),
    found: &mut BTreeMap<&'static str, Vec<Use>>,
) {
    let lower = text.plain.to_lowercase();
    if !wanted.stems.iter().any(|stem| lower.contains(stem)) {
        return;
    }
    for mark in library.marks(&text.plain).iter().filter(|mark| leads_to(mark, &wanted.ids)) {
        // `Calyx tubular` names no organ besides the calyx itself.
        let own = || organ_of(text.plain[mark.range.clone()].split(['-', ' ']).next_back()?);
        let uses = found.entry(mark.organ.or_else(own).unwrap_or_default()).or_default();
        if uses.last().is_none_or(|last| last.item != *item) {
            let snippet = snippet(&text.plain, mark.range.start);
            uses.push(Use { title: title(), snippet, item: item.clone() });
        }
    }
}

fn leads_to(mark: &Mark, ids: &BTreeSet<TermId>) -> bool {
    match &mark.leads {
        Leads::Term(id) => ids.contains(id),
        Leads::Compound(parts) => parts.iter().any(|id| ids.contains(id)),
        Leads::Composed(composed) => ids.contains(&composed.part),
        Leads::Name(_) => false,
    }
}

/// Returns a piece of a text around a byte, cut between words.
fn snippet(text: &str, at: usize) -> String {
    let from = text.floor_char_boundary(at.saturating_sub(SHOWN.0));
    let from = if from == 0 { 0 } else { text[from..at].find(' ').map_or(at, |blank| from + blank + 1) };
    let to = text.floor_char_boundary((from + SHOWN.1).min(text.len()));
    let to = if to == text.len() { to } else { text[from..to].rfind(' ').map_or(to, |blank| from + blank) };
    let (before, after) = (if from > 0 { "… " } else { "" }, if to < text.len() { " …" } else { "" });
    format!("{before}{}{after}", &text[from..to])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_snippet(text: &str, word: &str, expected: &str) {
        assert_eq!(snippet(text, text.find(word).expect("the word is there")), expected);
    }

    #[test]
    fn a_snippet_is_cut_between_words() {
        check_snippet("Leaves ovate", "ovate", "Leaves ovate");
        let long = format!("Stems erect, simple; leaves ovate, {}", "entire, ".repeat(40));
        let found = snippet(&long, long.find("ovate").expect("it is there"));
        assert!(
            found.starts_with("… ") && found.ends_with(" …") && found.contains(" leaves ovate"),
            "{found}"
        );
        assert!(found.len() <= SHOWN.1 + 8, "{found}");
    }
}
