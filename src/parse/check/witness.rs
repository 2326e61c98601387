//! The index and the list of contents as witnesses: names that they list and nothing treats, and the reverse, with the
//! pages that they send to (K39, K42).
//!
//! Only what can be told for a scientific name counts: a family, or a name whose genus the book treats or keys.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use regex::Regex;

use crate::layout::BlockKind;
use crate::model::{Doubt, DoubtAbout, DoubtKind, MatterKind, Page, Rank, Target};
use crate::name;
use crate::parse::compose::compose;
use crate::parse::matter::ZoneKind;

use super::Book;

static ENTRY: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:\d+(?:\.\d+)*[.)]?\s+)?(.*?[\p{L}.)])[\s,.:…]+((?:\d{1,4}|[ivxlc]{1,7})(?:\s?[–-]\s?\d{1,4})?(?:\s?[,;]\s?\d{1,4}(?:\s?[–-]\s?\d{1,4})?)*)\.?$")
        .expect("a fixed pattern")
});

/// Names that a witness must share with the book before it is heard.
const FEWEST: usize = 3;
/// Share of the treated taxa of a rank that a witness lists, from which on the others are missed.
const LISTED_SHARE: f32 = 0.6;
/// Doubts of one sort that are told one by one.
const MOST_TOLD: usize = 40;

/// A name that a witness lists.
struct Listed {
    name: String,
    pages: Vec<String>,
    page: Page,
}

/// Tells where index and contents disagree with the treatments.
pub(super) fn doubts(book: &Book<'_>, doubts: &mut Vec<Doubt>) {
    for (kind, called) in [(MatterKind::Index, "index"), (MatterKind::Contents, "list of contents")] {
        let listed = listed(book, kind);
        hear(book, called, &listed, doubts);
    }
}

/// Reads what a witness lists; an epithet alone belongs to the genus above it.
fn listed(book: &Book<'_>, kind: MatterKind) -> Vec<Listed> {
    let genera = genera(book);
    let vernacular: BTreeSet<String> =
        book.taxa.iter().flat_map(|taxon| &taxon.vernacular).map(|name| name::fold(name)).collect();
    let mut found: Vec<Listed> = Vec::new();
    for zone in book.zones.iter().filter(|zone| zone.kind == ZoneKind::Matter(kind)) {
        let mut genus: Option<String> = None;
        let mut edge = 0.0;
        let mut open = String::new();
        let lines = book.blocks[zone.blocks.clone()]
            .iter()
            .skip(1)
            .filter(|block| block.kind == BlockKind::Flow)
            .flat_map(|block| &block.lines);
        for line in lines {
            let words = compose([line]);
            if !open.is_empty() {
                open.push(' ');
            }
            open.push_str(words.str().trim());
            let Some(entry) = ENTRY.captures(&open) else {
                // A genus may stand without a page over its species.
                if let Some(name) = scientific(&open, None, &genera) {
                    genus = name.split(' ').next().map(str::to_owned);
                    edge = line.indent;
                    open.clear();
                }
                if open.len() > LONGEST_ENTRY {
                    open.clear();
                }
                continue;
            };
            let below =
                genus.as_deref().filter(|_| line.indent > edge + INDENTED || entry[1].starts_with(DITTOS));
            let name = scientific(&entry[1], below, &genera);
            if let Some(name) = name.filter(|_| !vernacular.contains(&name::fold(&entry[1]))) {
                genus = name.split(' ').next().map(str::to_owned);
                if entry[1].starts_with(char::is_uppercase) {
                    edge = line.indent;
                }
                let pages = entry[2].split([',', ';']).map(|page| page.trim().to_owned());
                match found.iter_mut().find(|one| one.name == name) {
                    Some(one) => one.pages.extend(pages),
                    None => found.push(Listed { pages: pages.collect(), name, page: Page(line.page) }),
                }
            }
            open.clear();
        }
    }
    found
}

/// Points by which an epithet stands in from its genus.
const INDENTED: f32 = 2.0;
/// Marks that stand for the genus above.
const DITTOS: &[char] = &['—', '–', '-', '″', '"'];
/// Bytes from which on what has no page is no entry.
const LONGEST_ENTRY: usize = 200;

/// Folded genera that the book treats or keys.
fn genera(book: &Book<'_>) -> BTreeSet<String> {
    let keyed = book.keys.iter().flat_map(|key| &key.couplets).flat_map(|couplet| &couplet.leads);
    let keyed = keyed.filter_map(|lead| match &lead.to {
        Target::Taxon { name, .. } => Some(name.as_str()),
        Target::Couplet(_) | Target::Key(_) | Target::Unresolved(_) => None,
    });
    let treated = book.taxa.iter().flat_map(|taxon| {
        std::iter::once(taxon.name.as_str()).chain(taxon.synonyms.iter().map(String::as_str))
    });
    treated.chain(keyed).filter_map(|name| name::fold(name).split(' ').next().map(str::to_owned)).collect()
}

fn scientific(words: &str, genus: Option<&str>, genera: &BTreeSet<String>) -> Option<String> {
    let words = words.trim().trim_end_matches([',', '.', ':', ' ']);
    let dashed = words.trim_start_matches(DITTOS).trim_start();
    let small = dashed.starts_with(char::is_lowercase);
    if small || dashed.len() < words.len() {
        let below = format!("{} {dashed}", genus?);
        let parsed = name::parse(&below).filter(|parsed| parsed.end == below.len() && small)?;
        return Some(parsed.name);
    }
    let parsed = name::parse(words).filter(|parsed| parsed.end == words.len())?;
    let folded = name::fold(&parsed.name);
    let known = folded.split(' ').next().is_some_and(|genus| genera.contains(genus));
    if parsed.rank <= Rank::Tribe || known {
        return Some(parsed.name);
    }
    let initial = words.split('.').next().filter(|initial| initial.chars().count() <= 2)?;
    let expanded = name::expand(&parsed.name, genus?)?;
    (!initial.is_empty()).then_some(expanded)
}

fn hear(book: &Book<'_>, called: &str, listed: &[Listed], doubts: &mut Vec<Doubt>) {
    let mut treated: BTreeMap<String, usize> = BTreeMap::new();
    for (at, taxon) in book.taxa.iter().enumerate().filter(|(_, taxon)| !taxon.heading.is_empty()) {
        for name in std::iter::once(&taxon.name).chain(&taxon.synonyms) {
            treated.entry(name::fold(name)).or_insert(at);
        }
    }
    let found = listed.iter().filter(|one| treated.contains_key(&name::fold(&one.name))).count();
    if found < FEWEST {
        return;
    }
    let keyed = keyed(book);
    let untreated = listed.iter().filter(|one| !treated.contains_key(&name::fold(&one.name)));
    let (in_keys, missing): (Vec<&Listed>, Vec<&Listed>) =
        untreated.partition(|one| keyed.contains(&name::fold(&one.name)));
    let unlisted = unlisted(book, listed);
    if missing.is_empty() && unlisted.is_empty() {
        return wrong_pages(book, (called, listed, &treated), doubts);
    }
    let summary = format!(
        "of {} names in the {called} {found} have a treatment or are given as a synonym, {} stand in keys alone, {} were not found at all; treated, but not in the {called}: {}",
        listed.len(),
        in_keys.len(),
        missing.len(),
        unlisted.len()
    );
    let first = missing.first().map_or(Page(1), |one| one.page);
    doubts.push(doubt((first, String::new()), summary, DoubtAbout::Book));
    for one in missing.iter().take(MOST_TOLD) {
        let advice = format!(
            "the {called} sends to p. {} for this name, but no treatment, synonym or lead with it was recognised",
            one.pages.join(", ")
        );
        doubts.push(doubt((one.page, one.name.clone()), advice, DoubtAbout::Book));
    }
    for at in unlisted.into_iter().take(MOST_TOLD) {
        let taxon = &book.taxa[at];
        let advice = format!("this taxon has a treatment, but the {called} does not list it");
        doubts.push(doubt((taxon.pages.0, taxon.name.clone()), advice, DoubtAbout::Taxon(taxon.id)));
    }
    wrong_pages(book, (called, listed, &treated), doubts);
}

/// Folded names that leads end in or that keys divide.
fn keyed(book: &Book<'_>) -> BTreeSet<String> {
    let leads = book.keys.iter().flat_map(|key| &key.couplets).flat_map(|couplet| &couplet.leads);
    let ends = leads.flat_map(|lead| std::iter::once(&lead.to).chain(&lead.also));
    let ends = ends.filter_map(|target| match target {
        Target::Taxon { name, .. } => Some(name.as_str()),
        Target::Couplet(_) | Target::Key(_) | Target::Unresolved(_) => None,
    });
    let divided = book.keys.iter().filter_map(|key| key.scope.as_deref());
    ends.chain(divided).map(name::fold).collect()
}

fn doubt((page, text): (Page, String), advice: String, about: DoubtAbout) -> Doubt {
    Doubt { kind: DoubtKind::Witness, page, text, advice, about }
}

/// Treated taxa that a witness leaves out though it lists most of their rank.
fn unlisted(book: &Book<'_>, listed: &[Listed]) -> Vec<usize> {
    let names: BTreeSet<String> = listed.iter().map(|one| name::fold(&one.name)).collect();
    let mut by_rank: BTreeMap<Rank, (usize, Vec<usize>)> = BTreeMap::new();
    for (at, taxon) in book.taxa.iter().enumerate().filter(|(_, taxon)| !taxon.heading.is_empty()) {
        let rank = by_rank.entry(taxon.rank).or_default();
        rank.0 += 1;
        if !names.contains(&name::fold(&taxon.name)) {
            rank.1.push(at);
        }
    }
    let mut unlisted: Vec<usize> = by_rank
        .into_values()
        .filter(|(all, missed)| (all - missed.len()) as f32 >= *all as f32 * LISTED_SHARE)
        .flat_map(|(_, missed)| missed)
        .collect();
    unlisted.sort_unstable();
    unlisted
}

/// Share of pages that do not fit from which on they are told in one sentence.
const OTHER_SETTING: f32 = 0.1;

fn wrong_pages(
    book: &Book<'_>,
    (called, listed, treated): (&str, &[Listed], &BTreeMap<String, usize>),
    doubts: &mut Vec<Doubt>,
) {
    let mut wrong: Vec<Doubt> = Vec::new();
    let mut held = 0;
    for one in listed {
        let Some(taxon) = treated.get(&name::fold(&one.name)).map(|at| &book.taxa[*at]) else { continue };
        if name::fold(&taxon.name) != name::fold(&one.name) {
            continue;
        }
        let folios: Vec<&str> =
            (taxon.pages.0.0..=taxon.pages.1.0).filter_map(|page| book.folio(Page(page))).collect();
        let Some(first) = folios.first() else { continue };
        held += 1;
        let fits = |page: &String| folios.iter().any(|folio| page == folio) || page.contains(['–', '-']);
        if !one.pages.iter().any(fits) {
            let advice = format!(
                "the {called} sends to p. {} for this name, whose treatment stands on p. {first}",
                one.pages.join(", ")
            );
            wrong.push(Doubt {
                kind: DoubtKind::WrongPage,
                page: one.page,
                text: one.name.clone(),
                advice,
                about: DoubtAbout::Taxon(taxon.id),
            });
        }
    }
    if wrong.len() > FEWEST && wrong.len() as f32 > held as f32 * OTHER_SETTING {
        let advice = format!(
            "of {held} names in the {called} {} have another page than their treatments; it may be of another setting of this book",
            wrong.len()
        );
        wrong.truncate(1);
        for doubt in &mut wrong {
            doubt.advice.clone_from(&advice);
            doubt.about = DoubtAbout::Book;
        }
    }
    doubts.extend(wrong);
}
