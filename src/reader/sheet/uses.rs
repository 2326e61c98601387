//! Where a term is used: every couplet and treatment with a word that leads to it, by the organ that it is said of.
//!
//! The whole book is gone through when it is asked for; nothing of it is kept.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use crate::clause::organ_of;
use crate::link::{Groups, Leads, Linker, Mark, Under};
use crate::model::{CoupletId, KeyId, TaxonId, Text};
use crate::reader::grounds;
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Sheet};
use crate::store::{Book, KeyRow, TaxonRow};
use crate::terms::{Lexicon, TermId};

/// Places listed for one organ at most; more than a reader goes through.
const MOST_PLACES: usize = 60;

/// Bytes of the text shown before the word, and in all.
const SHOWN: (usize, usize) = (24, 160);

/// A place where the term is used.
struct Use<'a> {
    organ: &'static str,
    place: Place<'a>,
    snippet: String,
}

/// Where a text stands.
#[derive(Clone, Copy, PartialEq)]
enum Place<'a> {
    /// A couplet, with its label.
    Couplet(KeyId, CoupletId, &'a str),
    /// A treatment, with its taxon's name.
    Treatment(TaxonId, &'a str),
}

/// The book that is gone through, and what is looked for.
struct Hunt<'a> {
    book: &'a Book,
    linker: &'a Linker,
    /// The groups of plants of every taxon.
    groups: &'a [Groups],
    lexicon: &'a Lexicon,
    ids: BTreeSet<TermId>,
    stems: Vec<String>,
}

/// Puts together where the words are used.
pub(super) fn sheet(library: &Library, words: &[String]) -> Sheet {
    let mut sheet = Sheet::titled(format!("Where “{}” is used", words.join(" + ")));
    let (lexicon, linker, book) = (&library.lexicon, library.linker(), &library.book);
    let ids: BTreeSet<TermId> = words.iter().flat_map(|word| lexicon.look_up(word)).collect();
    let stems = lexicon.stems(&ids);
    let groups = library.groups_of_taxa();
    let hunt = Hunt { book, linker, groups, lexicon, ids, stems };
    let mut found: BTreeMap<&'static str, Vec<Use<'_>>> = BTreeMap::new();
    for used in hunt.in_keys().into_iter().chain(hunt.in_treatments()) {
        let uses = found.entry(used.organ).or_default();
        // Of one organ only the first, so that a place is not listed twice below it.
        if uses.last().is_none_or(|last| last.place != used.place) {
            uses.push(used);
        }
    }
    let all: usize = found.values().map(Vec::len).sum();
    sheet.about = count(all as u32, "place", "places");
    if all == 0 {
        sheet.faint("No couplet and no treatment of this flora uses it.");
    }
    for (organ, uses) in &found {
        let organ = if organ.is_empty() { "no organ named" } else { organ };
        sheet.heading(&format!("{organ} · {}", count(uses.len() as u32, "place", "places")));
        for used in uses.iter().take(MOST_PLACES) {
            let title = used.place.title(library);
            let text = Composer::new().bold(&title).add(": ").add(&used.snippet).text();
            sheet.push_short_row(text, Go::To(used.place.item()));
        }
        if let Some(more) = uses.len().checked_sub(MOST_PLACES).filter(|more| *more > 0) {
            sheet.faint(&format!("… and {more} more"));
        }
    }
    sheet
}

impl Place<'_> {
    fn title(&self, library: &Library) -> String {
        match self {
            Self::Couplet(key, _, label) => format!("couplet {label} · {}", library.key_title(*key)),
            Self::Treatment(_, name) => (*name).to_owned(),
        }
    }

    fn item(&self) -> Item {
        match self {
            Self::Couplet(key, couplet, _) => Item::Couplet(*key, *couplet),
            Self::Treatment(taxon, _) => Item::Treatment(*taxon),
        }
    }
}

impl<'a> Hunt<'a> {
    /// Returns the uses in keys, in their order. They are gone through side by side, as a large book has hundreds.
    fn in_keys(&self) -> Vec<Use<'a>> {
        let of_key = |row: &KeyRow| {
            let mut uses = Vec::new();
            let Some(key) = self.book.key(row.id) else { return uses };
            let grounds = grounds::of_key(key, self.book.contents(), self.groups);
            for ((at, couplet), grounds) in key.couplets.iter().enumerate().zip(&grounds) {
                let place = Place::Couplet(row.id, CoupletId(at as u32), &couplet.label);
                for (lead, grounds) in couplet.leads.iter().zip(grounds) {
                    self.add(place, (&lead.text, grounds.under()), &mut uses);
                }
            }
            uses
        };
        self.book.contents().keys.par_iter().flat_map_iter(of_key).collect()
    }

    /// Returns the uses in treatments, in their order.
    fn in_treatments(&self) -> Vec<Use<'a>> {
        let of_taxon = |row: &'a TaxonRow| {
            let mut uses = Vec::new();
            for section in self.book.taxon(row.id).map_or(&[][..], |taxon| &taxon.sections) {
                let groups = self.groups.get(row.id.index()).copied().unwrap_or_default();
                let under = Under { genus: None, groups };
                self.add(Place::Treatment(row.id, &row.name), (&section.text, under), &mut uses);
            }
            uses
        };
        self.book.contents().taxa.par_iter().flat_map_iter(of_taxon).collect()
    }

    /// Adds a text's uses of the term, each with its organ.
    fn add(&self, place: Place<'a>, (text, under): (&Text, Under<'_>), uses: &mut Vec<Use<'a>>) {
        let lower = text.plain.to_lowercase();
        if !self.stems.iter().any(|stem| lower.contains(stem)) {
            return;
        }
        let marks = self.linker.marks_under(&text.plain, self.lexicon, under);
        for mark in marks.iter().filter(|mark| leads_to(mark, &self.ids)) {
            // `Calyx tubular` names no organ besides the calyx itself.
            let own = || organ_of(text.plain[mark.range.clone()].split(['-', ' ']).next_back()?);
            let organ = mark.organ.or_else(own).unwrap_or_default();
            let snippet = snippet(&text.plain, mark.range.start);
            uses.push(Use { organ, place, snippet });
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
