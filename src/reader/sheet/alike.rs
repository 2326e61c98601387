//! Look-alikes: whom a taxon may be taken for, and treatments beside each other by organ.
//!
//! What genus and family say for all their members stands there too, marked as theirs.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::keying::{End, Spot, Step};
use crate::model::{Section, SectionKind, TaxonId, Text};
use crate::reader::grounds::Grounds;
use crate::reader::library::{Library, LookAlikes, count};
use crate::reader::place::Item;
use crate::reader::sheet::beside::{self, Said};
use crate::reader::sheet::treatment::STANDING;
use crate::reader::sheet::{Composer, Go, Sheet};
use crate::search::Alike;

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

/// Taxa that are looked for by their descriptions.
const NEAREST: usize = 12;

/// Places by which a taxon goes before those of nearer description that is told apart by the last couplet, or the last two.
const LAST_COUPLET: usize = 10;
const LAST_TWO: usize = 5;

/// Returns the taxa that one may be taken for, the nearest first, each with the reasons.
pub(crate) fn suggested(library: &Library, taxon: TaxonId) -> LookAlikes {
    let known = library.look_alikes.borrow().get(&taxon).cloned();
    known.unwrap_or_else(|| {
        let found: LookAlikes = found(library, taxon).into();
        library.look_alikes.borrow_mut().insert(taxon, Arc::clone(&found));
        found
    })
}

/// Looks for them: named in the notes, told apart by the last couplets, near by the description.
fn found(library: &Library, taxon: TaxonId) -> Vec<(TaxonId, String)> {
    let keyed = by_last_couplets(library, taxon);
    let named: BTreeSet<TaxonId> = named_in_notes(library, taxon).into_iter().collect();
    let names_it: BTreeSet<TaxonId> = beside_it(library, taxon)
        .chain(keyed.iter().map(|(id, _)| *id))
        .filter(|id| named_in_notes(library, *id).contains(&taxon))
        .collect();
    let also: Vec<TaxonId> =
        named.iter().chain(&names_it).copied().chain(keyed.iter().map(|(id, _)| *id)).collect();
    let mut alike = library.alike(taxon, &also, NEAREST);
    let most = alike.iter().map(|alike| alike.agree).max().unwrap_or(0);
    alike.retain(|alike| also.contains(&alike.taxon) || alike.agree * 2 >= most);
    // Without an index, or of a taxon that no description places, the order of the keys is left.
    let mut all: Vec<TaxonId> = alike.iter().map(|alike| alike.taxon).collect();
    all.extend(also.iter().filter(|id| !alike.iter().any(|alike| alike.taxon == **id)));
    let mut seen = BTreeSet::from([taxon]);
    all.retain(|id| seen.insert(*id));
    let couplets = |id: &TaxonId| keyed.iter().find(|(other, _)| other == id).map(|(_, above)| *above);
    let mut placed: Vec<(bool, usize, TaxonId)> = Vec::new();
    for (at, id) in all.into_iter().enumerate() {
        let before = couplets(&id).map_or(0, |above| if above == 1 { LAST_COUPLET } else { LAST_TWO });
        placed.push((
            !named.contains(&id) && !names_it.contains(&id),
            (at + LAST_COUPLET).saturating_sub(before),
            id,
        ));
    }
    placed.sort_by_key(|(unnamed, place, _)| (*unnamed, *place));
    placed.truncate(MOST_LISTED);
    let reasons = |id: TaxonId| {
        let notes = match (named.contains(&id), names_it.contains(&id)) {
            (true, _) => Some("named in its notes".to_owned()),
            (false, true) => Some("its own notes tell it from this one".to_owned()),
            (false, false) => None,
        };
        let key = couplets(&id).map(|above| if above == 1 { BY_LAST } else { BY_LAST_TWO }.to_owned());
        let description = alike.iter().find(|alike| alike.taxon == id).and_then(agreement);
        [notes, key, description].into_iter().flatten().collect::<Vec<_>>().join(" · ")
    };
    placed.into_iter().map(|(_, _, id)| (id, reasons(id))).collect()
}

/// Returns the other members of what a taxon belongs to.
fn beside_it(library: &Library, taxon: TaxonId) -> impl Iterator<Item = TaxonId> {
    let parent = library.taxon_row(taxon).and_then(|row| row.parent);
    let members = library.contents().taxa.iter();
    let members = members.filter(move |row| parent.is_some() && row.parent == parent && row.id != taxon);
    members.map(|row| row.id).take(MOST_LISTED)
}

/// Why a taxon is suggested that a key tells apart.
const BY_LAST: &str = "told apart by the last couplet";
const BY_LAST_TWO: &str = "told apart by the last two couplets";

/// Returns the taxa below the last two couplets of a taxon's routes, with how many couplets up they are reached.
fn by_last_couplets(library: &Library, taxon: TaxonId) -> Vec<(TaxonId, usize)> {
    let graph = library.graph();
    let mut found: Vec<(TaxonId, usize)> = Vec::new();
    let routes = graph.routes(taxon).routes;
    for above in [1, 2] {
        for route in &routes {
            let Some(spot) = route.len().checked_sub(above).map(|at| route[at].spot) else { continue };
            for end in graph.reach(&[Step::Couplet(spot)], |_, _| true) {
                if let Some(End::Treated(id)) = graph.end(end)
                    && *id != taxon
                    && found.len() < MOST_LISTED
                    && !found.iter().any(|(other, _)| other == id)
                {
                    found.push((*id, above));
                }
            }
        }
    }
    found
}

/// Says in words how far two descriptions agree, and what the characters are of in which they do not.
fn agreement(alike: &Alike) -> Option<String> {
    if alike.of == 0 {
        return None;
    }
    let differs = match alike.differs.len() {
        0 => String::new(),
        1..=MOST_DIFFERENCES => format!("; differs: {}", alike.differs.join(", ")),
        more => format!(
            "; differs: {} and {} more",
            alike.differs[..MOST_DIFFERENCES].join(", "),
            more - MOST_DIFFERENCES
        ),
    };
    let characters = count(alike.of, "character", "characters");
    Some(format!("agrees in {} of {characters}{differs}", alike.agree))
}

/// Differences that are named in a row; the comparison shows them all.
const MOST_DIFFERENCES: usize = 4;

/// Lists the look-alikes of a taxon.
pub(super) fn list(library: &Library, taxon: TaxonId) -> Sheet {
    let name = name_of(library, taxon);
    let mut sheet = Sheet::titled(format!("Look-alikes of {name}"));
    let found = suggested(library, taxon);
    sheet.about = format!("{}; go to one to compare", count(found.len() as u32, "taxon", "taxa"));
    for (id, reason) in found.iter() {
        let id = *id;
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
        sheet.faint("Neither a key nor a description of this flora sets another taxon beside it.");
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
    let grounds: Vec<Grounds> = taxa.iter().map(|id| library.grounds_of(*id)).collect();
    beside::bands(&mut sheet, library, (&texts, &grounds));
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
        sheet.grounds = library.grounds_of(*id);
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
    let grounds = library.grounds_of(id);
    for section in taxon.sections.iter().filter(|section| is_notes(section)) {
        for sentence in sentences(&section.text).filter(|sentence| compares(&sentence.plain)) {
            for mark in library.marks_on(&sentence.plain, &grounds) {
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
