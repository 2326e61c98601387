//! A book as set in, what it means out: keys, treatments, glossary and matter, with what is doubtful.
//!
//! Reading never fails, it doubts. No book is known by its name or words: what counts is how it is set, and the
//! conventions of printed floras (`words` holds the few words by which books name their own parts).

mod above;
mod again;
mod believe;
mod check;
mod compose;
#[cfg(test)]
mod fixture;
mod glossary;
mod heading;
mod key;
mod legend;
mod license;
mod look;
mod matter;
mod mend;
mod page;
mod parallel;
mod phrases;
mod profile;
mod resolve;
#[cfg(test)]
mod tests;
mod treatment;
mod words;

#[cfg(test)]
pub(crate) use again::drawn;
pub use again::{count, doubts, treated, warn};
pub use license::license;
pub use profile::{Error as ProfileError, Overrides, Profile};

use std::collections::{BTreeMap, BTreeSet};

use crate::layout::{Block, Setting};
use crate::model::{Doubt, DoubtAbout, DoubtKind, Flora, MatterKind, Page, Rank, Taxon, TaxonId};
use crate::name;

use heading::{Keyed, Opens};
use key::read::RawKey;
use key::target::Named;
use matter::{First, Zone, ZoneKind};
use profile::Steer;
use treatment::Bounds;

/// Reads a flora; its title, licence and sources are filled in by whoever knows the files.
pub fn flora(setting: &Setting) -> (Flora, Profile) {
    read(setting, &Steer::default())
}

/// Reads a flora of which a reader says how it is set; what is not said is learned from the book.
pub fn flora_set_so(setting: &Setting, said: &Overrides) -> (Flora, Profile) {
    let (flora, learned) = read(setting, &Steer::default());
    let steer = said.beside(&learned);
    let profile = said.over(learned);
    if steer == Steer::default() { (flora, profile) } else { (read(setting, &steer).0, profile) }
}

fn read(setting: &Setting, steer: &Steer) -> (Flora, Profile) {
    let body_size = steer.body_size(setting.body_size);
    let blocks = &mend::blocks(&steer.blocks(&setting.blocks), body_size);
    let zones = matter::zones(blocks, &setting.pages, body_size);
    let known = heading::known_names(blocks, body_size);
    let raw = key::read::keys(blocks, &known, body_size, steer);
    let raw: Vec<RawKey> = raw
        .into_iter()
        .filter(|key| !in_closed_zone(&zones, key.blocks.start) && !is_example(key, &known))
        .collect();
    let in_key = |at: usize| raw.iter().any(|key| key.blocks.contains(&at));
    let zones: Vec<Zone> = zones.iter().map(|zone| cut_at_keys(zone, &raw)).collect();
    let in_zone = |at: usize| zones.iter().any(|zone| zone.blocks.contains(&at));
    let free = |at: usize| !in_key(at) && !in_zone(at);
    let headings = heading::find(blocks, &free, &keyed(&raw), (body_size, steer));
    let stops = |at: usize| in_key(at) || in_zone(at);
    let bounds = Bounds { in_key: &in_key, stops: &stops };
    let mut taxa = treatment::taxa(blocks, &headings, &bounds);
    profile::cut_again(&mut taxa, &steer.run_in);
    steer.restore(&mut taxa, &setting.blocks);
    let heading_blocks = blocks_of(&headings, &taxa);
    let (mut keys, mut doubts) = resolve::keys(&raw, &taxa, &heading_blocks);
    resolve::pages_alone(&mut keys, (&taxa, &setting.pages), &mut doubts);
    resolve::count(&mut keys);
    doubts.extend(check::doubts(&check::Book {
        keys: &keys,
        raw: &raw,
        taxa: &taxa,
        pages: &setting.pages,
        blocks,
        zones: &zones,
    }));
    let glossary_blocks: Vec<Block> = zones
        .iter()
        .filter(|zone| zone.kind == ZoneKind::Glossary)
        .flat_map(|zone| blocks[zone.blocks.clone()].iter().skip(usize::from(zone.first == First::Heading)))
        .cloned()
        .collect();
    let treated = treated_blocks(blocks, &headings, &bounds);
    let taken = |at: usize| {
        in_key(at)
            || treated[at]
            || zones.iter().any(|zone| zone.kind == ZoneKind::Glossary && zone.blocks.contains(&at))
    };
    doubts.extend(lost_pages(setting));
    doubts.sort_by_key(|doubt| (doubt.kind, doubt.page));
    let glossary = glossary::entries(&glossary_blocks, steer.glossary);
    let matter = matter::matter(blocks, &taken, &zones, body_size);
    let legend = steer.legend(legend::signs(&matter));
    let found = profile::Found {
        blocks,
        keys: &raw,
        headings: &headings,
        taxa: &taxa,
        glossary: (!glossary.is_empty()).then(|| glossary::look_of(&glossary_blocks, steer.glossary)),
        legend: &legend,
    };
    let profile = profile::learn(setting, body_size, &found);
    let read = page::Read {
        blocks,
        zones: &zones,
        keys: &raw,
        headings: &headings,
        heading_blocks: &heading_blocks,
        stops: &stops,
        taxa: &taxa,
        glossary: &glossary,
        matter: &matter,
    };
    let pages = page::pages(setting, &read);
    let alternatives = parallel::find(&keys);
    let flora =
        Flora { taxa, keys, glossary, matter, legend, pages, doubts, alternatives, ..Flora::default() };
    (flora, profile)
}

fn in_closed_zone(zones: &[Zone], at: usize) -> bool {
    let closed = |kind: ZoneKind| match kind {
        ZoneKind::Glossary => true,
        ZoneKind::Matter(kind) => matches!(
            kind,
            MatterKind::Contents | MatterKind::Index | MatterKind::HowTo | MatterKind::Literature
        ),
    };
    zones.iter().any(|zone| closed(zone.kind) && zone.blocks.contains(&at))
}

/// A key without a title whose targets are no names that this book knows, nor numbers, nor names of species: an example
/// of how keys work (P7).
fn is_example(key: &RawKey, known: &BTreeSet<String>) -> bool {
    let foreign = |named: &Named| match named {
        Named::Name { name, rank } => *rank == Rank::Genus && !known.contains(&name::fold(name)),
        Named::Other(_) => true,
        Named::Number(_) | Named::Couplet(_) | Named::Ditto(_) | Named::Epithet { .. } | Named::Key(_) => {
            false
        }
    };
    key.title.is_none() && key.leads.iter().flat_map(|lead| &lead.target.named).all(foreign)
}

/// A stretch of matter ends where a key begins.
fn cut_at_keys(zone: &Zone, raw: &[RawKey]) -> Zone {
    let end = raw
        .iter()
        .map(|key| key.blocks.start)
        .find(|start| zone.blocks.contains(start))
        .unwrap_or(zone.blocks.end);
    Zone { blocks: zone.blocks.start..end, ..zone.clone() }
}

fn keyed(raw: &[RawKey]) -> Keyed {
    let mut keyed = Keyed::default();
    for named in raw.iter().flat_map(|key| &key.leads).flat_map(|lead| &lead.target.named) {
        match named {
            Named::Name { name, .. } => {
                let folded = name::fold(name);
                match folded.split_once(' ') {
                    Some((genus, rest))
                        if name
                            .trim_start_matches('×')
                            .split(' ')
                            .next()
                            .is_some_and(|genus| genus.ends_with('.')) =>
                    {
                        keyed.short.insert((genus.chars().next().unwrap_or(' '), rest.to_owned()));
                    }
                    _ => {
                        keyed.full.insert(folded);
                    }
                }
            }
            Named::Epithet { term, epithet } => {
                keyed.short.insert((' ', name::fold(format!("{term} {epithet}").trim())));
            }
            Named::Number(_) | Named::Couplet(_) | Named::Ditto(_) | Named::Key(_) | Named::Other(_) => {}
        }
    }
    keyed
}

/// The block that each taxon's heading stands in.
fn blocks_of(headings: &[heading::Heading], taxa: &[Taxon]) -> Vec<(usize, TaxonId)> {
    let mut found = Vec::new();
    let mut with_heading = taxa.iter().filter(|taxon| !taxon.heading.is_empty()).peekable();
    let mut families: BTreeMap<String, TaxonId> = BTreeMap::new();
    for heading in headings {
        let folded = match &heading.name {
            heading::HeadName::Full(parsed) => name::fold(&parsed.name),
            heading::HeadName::Below { term, epithet, .. } => name::fold(&format!("{term} {epithet}")),
        };
        if let Some(id) = families.get(&folded) {
            found.push((heading.block, *id));
            continue;
        }
        let last = folded.rsplit(' ').next().unwrap_or_default().to_owned();
        if let Some(taxon) = with_heading.next_if(|taxon| name::fold(&taxon.name).ends_with(&last)) {
            if taxon.rank == Rank::Family {
                families.insert(folded, taxon.id);
            }
            found.push((heading.block, taxon.id));
        }
    }
    found
}

fn treated_blocks(blocks: &[Block], headings: &[heading::Heading], bounds: &Bounds) -> Vec<bool> {
    let mut treated = vec![false; blocks.len()];
    for (number, heading) in headings.iter().enumerate().filter(|(_, h)| h.opens == Opens::Treatment) {
        treated[heading.top..=heading.block].fill(true);
        for at in bounds.body(blocks, headings, number) {
            treated[at] = true;
        }
    }
    treated
}

fn lost_pages(setting: &Setting) -> impl Iterator<Item = Doubt> + '_ {
    setting.pages.iter().enumerate().filter_map(|(at, page)| {
        let lost = page.lost.as_ref()?;
        Some(Doubt {
            kind: DoubtKind::Unreadable,
            page: Page(at as u32 + 1),
            text: String::new(),
            advice: format!("part of this page could not be read: {lost}; look at the printed page"),
            about: DoubtAbout::Book,
        })
    })
}
