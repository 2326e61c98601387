//! Look-alikes: whom a taxon may be taken for, and treatments beside each other by organ.
//!
//! What genus and family say for all their members stands there too, marked as theirs.

use std::collections::BTreeSet;

use crate::keying::{End, EndId, Spot, Step};
use crate::model::{Section, SectionKind, TaxonId, Text};
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::sheet::beside::{self, Said};
use crate::reader::sheet::treatment::STANDING;
use crate::reader::sheet::{Composer, Go, Sheet};

/// Treatments that fit beside each other.
pub(crate) const MOST_COMPARED: usize = 4;

/// Look-alikes that are listed; with more a key serves better.
const MOST_LISTED: usize = 40;

/// Words by which a sentence compares its taxon with another.
const COMPARING: &[&str] = &[
    "differs from",
    "differ from",
    "distinguished from",
    "confused with",
    "resembles",
    "similar to",
    "mistaken for",
    "told from",
    "separated from",
];

/// Returns the taxa that one may be taken for, the nearest first, each with the reason.
pub(crate) fn suggested(library: &Library, taxon: TaxonId) -> Vec<(TaxonId, String)> {
    let graph = library.graph();
    let mut found: Vec<(TaxonId, String)> = Vec::new();
    let mut add = |id: TaxonId, reason: &str| {
        if id != taxon && !found.iter().any(|(other, _)| *other == id) {
            found.push((id, reason.to_owned()));
        }
    };
    for id in named_in_notes(library, taxon) {
        add(id, "named in its notes");
    }
    let treated = |ends: BTreeSet<EndId>| {
        ends.into_iter().filter_map(|end| match graph.end(end) {
            Some(End::Treated(id)) => Some(*id),
            Some(End::Named(_)) | None => None,
        })
    };
    let routes = graph.routes(taxon).routes;
    for above in [1, 2] {
        for route in &routes {
            let Some(spot) = route.len().checked_sub(above).map(|at| route[at].spot) else { continue };
            let reason = if above == 1 {
                "told apart by the last couplet"
            } else {
                "told apart by the last two couplets"
            };
            for id in treated(graph.reach(&[Step::Couplet(spot)], |_, _| true)) {
                add(id, reason);
            }
        }
    }
    found.truncate(MOST_LISTED);
    found
}

/// Lists the look-alikes of a taxon.
pub(super) fn list(library: &Library, taxon: TaxonId) -> Sheet {
    let name = name_of(library, taxon);
    let mut sheet = Sheet::titled(format!("Look-alikes of {name}"));
    let found = suggested(library, taxon);
    sheet.about = format!("{}; go to one to compare", count(found.len() as u32, "taxon", "taxa"));
    for (id, reason) in found {
        let vernacular = library.taxon_row(id).and_then(|row| row.vernacular.first().cloned());
        let vernacular = vernacular.map(|name| format!(" · {name}")).unwrap_or_default();
        let text = Composer::new()
            .italic(&name_of(library, id))
            .add(&vernacular)
            .add(&format!(" · {reason}"))
            .text();
        sheet.push_row(text, 0, Go::To(Item::Compare(vec![taxon, id])));
    }
    if sheet.stops.is_empty() {
        sheet.faint("No key of this flora sets another taxon beside it.");
    }
    sheet
}

/// Sets treatments beside each other.
pub(super) fn compare(library: &Library, taxa: &[TaxonId]) -> Sheet {
    let names: Vec<String> = taxa.iter().map(|id| name_of(library, *id)).collect();
    let mut sheet = Sheet::titled(names.join(" and "));
    let about = "by organ; (genus) and (family) mark what is said there for all their members";
    about.clone_into(&mut sheet.about);
    sheet.standing = Some(STANDING.to_owned());
    sheet.page = taxa.first().and_then(|id| library.taxon_row(*id)).map(|row| row.pages.0);
    told_apart(&mut sheet, library, taxa);
    notes(&mut sheet, library, taxa);
    let texts: Vec<(String, Vec<Said>)> =
        taxa.iter().map(|id| (short_name(library, *id), said_of(library, *id))).collect();
    beside::bands(&mut sheet, library, &texts);
    sheet
}

/// Adds the couplets that tell the first taxon from each other one.
fn told_apart(sheet: &mut Sheet, library: &Library, taxa: &[TaxonId]) {
    let graph = library.graph();
    let Some((first, others)) = taxa.split_first() else { return };
    let Some(own) = graph.end_of(*first) else { return };
    for other in others {
        let couplets = graph.end_of(*other).map(|end| graph.tell_apart(own, end)).unwrap_or_default();
        if couplets.is_empty() {
            sheet.faint(&format!("no couplet tells it from {} for sure", short_name(library, *other)));
        }
        for Spot { key, couplet } in couplets {
            let label = library.couplet_label(key, couplet);
            let words = format!(
                "told from {} by couplet {label} · {}",
                short_name(library, *other),
                library.key_title(key)
            );
            sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(Item::Couplet(key, couplet)));
        }
    }
}

/// Adds the sentences of the notes that compare.
fn notes(sheet: &mut Sheet, library: &Library, taxa: &[TaxonId]) {
    let mut begun = false;
    for id in taxa {
        let Some(taxon) = library.book.taxon(*id) else { continue };
        for section in taxon.sections.iter().filter(|section| is_notes(section)) {
            for sentence in sentences(&section.text).filter(|sentence| compares(&sentence.plain)) {
                if !begun {
                    sheet.heading("what the notes say of look-alikes");
                    begun = true;
                }
                let composer = Composer::new().bold(&short_name(library, *id)).add("  ");
                let from = composer.len();
                sheet.push_linked(library, composer.text_of(&sentence).text(), from);
            }
        }
    }
}

/// Returns what is said of a taxon by organ: its own words, then those of the taxa above it, marked.
fn said_of(library: &Library, id: TaxonId) -> Vec<Said> {
    let mut said: Vec<Said> = Vec::new();
    let mut at = library.taxon_row(id);
    while let Some(row) = at {
        let own = row.id == id;
        let sections = library.book.taxon(row.id).map_or(&[][..], |taxon| &taxon.sections);
        for section in sections.iter().filter(|section| section.kind == SectionKind::Description) {
            for (organ, text) in beside::by_organ(&section.text) {
                let text = if own {
                    text
                } else {
                    Composer::new().add(&format!("({}) ", row.rank.word())).text_of(&text).text()
                };
                match said.iter_mut().find(|(other, _)| *other == organ) {
                    Some((_, before)) => {
                        *before = Composer::new().text_of(before).add("; ").text_of(&text).text();
                    }
                    None => said.push((organ, text)),
                }
            }
        }
        at = row.parent.filter(|parent| *parent < row.id).and_then(|parent| library.taxon_row(parent));
    }
    said
}

fn is_notes(section: &Section) -> bool {
    matches!(section.kind, SectionKind::Notes | SectionKind::Other | SectionKind::Description)
}

fn compares(sentence: &str) -> bool {
    let sentence = sentence.to_lowercase();
    COMPARING.iter().any(|words| sentence.contains(words))
}

/// Returns the sentences of a text.
fn sentences(text: &Text) -> impl Iterator<Item = Text> {
    crate::search::sentences(&text.plain).into_iter().map(|range| text.slice(range))
}

/// Returns the treated taxa that the comparing sentences of a treatment name.
fn named_in_notes(library: &Library, id: TaxonId) -> Vec<TaxonId> {
    let Some(taxon) = library.book.taxon(id) else { return Vec::new() };
    let mut found = Vec::new();
    for section in taxon.sections.iter().filter(|section| is_notes(section)) {
        for sentence in sentences(&section.text).filter(|sentence| compares(&sentence.plain)) {
            for mark in library.marks(&sentence.plain) {
                if let crate::link::Leads::Name(other) = mark.leads {
                    found.push(other);
                }
            }
        }
    }
    found
}

fn name_of(library: &Library, id: TaxonId) -> String {
    library.taxon_row(id).map(|row| row.name.clone()).unwrap_or_default()
}

/// Returns a name with its genus abbreviated, as it stands before every line.
fn short_name(library: &Library, id: TaxonId) -> String {
    let name = name_of(library, id);
    match name.split_once(' ') {
        Some((genus, rest)) => format!("{}. {rest}", genus.chars().next().unwrap_or_default()),
        None => name,
    }
}
