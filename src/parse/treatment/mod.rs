//! Headings and the blocks below them in, taxa with their sections out.

mod caution;
mod content;
mod names;
mod nomenclature;
mod section;
#[cfg(test)]
mod tests;
mod unmarked;
mod vernacular;

use unicode_normalization::UnicodeNormalization;

use crate::layout::{Block, BlockKind};
use crate::model::{Page, Rank, Section, Taxon, TaxonId, Text};
use crate::name;

use super::compose::compose;
use super::heading::{HeadName, Heading, Opens};
use super::look;
use content::Places;

/// Where treatments end though no heading stands there.
pub(crate) struct Bounds<'a> {
    /// The blocks of keys.
    pub(crate) in_key: &'a dyn Fn(usize) -> bool,
    /// The blocks of keys, of the glossary and of other matter.
    pub(crate) stops: &'a dyn Fn(usize) -> bool,
}

/// Paragraphs between a key and the next heading that still belong to the treatment before the key.
const MOST_BEHIND_KEY: usize = 2;

impl Bounds<'_> {
    /// Returns the blocks below a heading that belong to its treatment.
    pub(crate) fn body(&self, blocks: &[Block], headings: &[Heading], number: usize) -> Vec<usize> {
        let next = headings.get(number + 1).map_or(blocks.len(), |next| next.top);
        let start = (headings[number].block + 1).min(next);
        let end = (start..next).find(|at| (self.stops)(*at)).unwrap_or(next);
        let behind = (end..next).find(|at| !(self.in_key)(*at)).unwrap_or(next);
        let few = next - behind <= MOST_BEHIND_KEY && next < blocks.len();
        let whole = |at: usize| !(self.stops)(at) && is_remark(&blocks[at]);
        let remarks = if few && (behind..next).all(whole) { behind..next } else { 0..0 };
        (start..end).chain(remarks).collect()
    }
}

/// A paragraph in the book's plain type.
fn is_remark(block: &Block) -> bool {
    let text = look::of(block).text.plain;
    block.kind == BlockKind::Aside
        || text.ends_with('.')
            && text.contains(' ')
            && look::number_length(&text) == 0
            && !look::all_bold(block)
}

/// Builds the taxa.
pub(crate) fn taxa(blocks: &[Block], headings: &[Heading], bounds: &Bounds) -> Vec<Taxon> {
    let bodies: Vec<Vec<usize>> =
        (0..headings.len()).map(|number| bounds.body(blocks, headings, number)).collect();
    let mut builder = Builder {
        blocks,
        taxa: Vec::new(),
        family: None,
        genus: None,
        species: None,
        waiting: Vec::new(),
        places: places(blocks, headings, &bodies),
    };
    for (number, heading) in headings.iter().enumerate().filter(|(_, h)| h.opens == Opens::Treatment) {
        let end = heading.block + 1 + bodies[number].len();
        let meets_heading = headings.get(number + 1).is_some_and(|next| next.top == end);
        builder.treatment(heading, &bodies[number], meets_heading);
    }
    builder.taxa
}

/// Learns the names of places from all treatments.
fn places(blocks: &[Block], headings: &[Heading], bodies: &[Vec<usize>]) -> Places {
    let mut places = Places::default();
    for (heading, body) in headings.iter().zip(bodies) {
        for at in std::iter::once(&heading.block).chain(body) {
            places.learn(&look::of(&blocks[*at]).text.plain);
        }
    }
    places
}

/// Taxa back among which a heading printed twice is looked for.
const NEAR: usize = 4;
/// Builds one taxon from a paragraph that begins with its heading and the paragraphs below; `context` is the genus and the
/// species that abbreviated names are spelled out by.
pub(crate) fn one(
    paragraph: &Text,
    rank: Rank,
    (genus, species): &(String, String),
    body: Vec<Text>,
) -> Taxon {
    let plain = &paragraph.plain;
    let number_len = look::number_length(plain);
    let number = (number_len > 0).then(|| plain[..number_len].trim().trim_end_matches(['.', ')']).to_owned());
    let words = &plain[number_len..];
    let below = words.split(' ').next().is_some_and(|first| super::words::connecting_term(first).is_some());
    // A part of a name below the species is read behind the name that it belongs to.
    let before = if below { format!("{species} ") } else { String::new() };
    let parsed = name::parse(&format!("{before}{words}"));
    let end =
        parsed.as_ref().map_or(plain.len(), |parsed| number_len + parsed.end.saturating_sub(before.len()));
    let (name, authorship) = match parsed {
        Some(parsed) => {
            (name::expand(&parsed.name, genus).unwrap_or_else(|| parsed.name.clone()), parsed.authorship)
        }
        None => (words.trim_end_matches('.').to_owned(), None),
    };
    let page = paragraph.page();
    let mut taxon = Taxon {
        id: TaxonId(0),
        rank,
        name,
        authorship,
        number,
        vernacular: Vec::new(),
        synonyms: Vec::new(),
        misapplied: Vec::new(),
        parent: None,
        heading: paragraph.slice(0..end),
        pages: (page, page),
        sections: Vec::new(),
        amended: false,
        cautions: Vec::new(),
    };
    let after = nomenclature::head(&paragraph.slice(end..plain.len()), &mut taxon);
    let mut paragraphs: Vec<Text> = Vec::new();
    if !after.is_empty() {
        paragraphs.push(after);
    }
    paragraphs.extend(body);
    let mut places = Places::default();
    for paragraph in &paragraphs {
        places.learn(&paragraph.plain);
    }
    let used = nomenclature::below(&paragraphs, &mut taxon);
    taxon.sections = section::sections(&paragraphs[used..], &places);
    warn(&mut taxon);
    let last = taxon.sections.iter().map(|section| section.text.last_page()).max();
    taxon.pages.1 = last.unwrap_or(page).max(page);
    taxon
}

/// Finds the cautions of a treatment anew.
pub(crate) fn warn(taxon: &mut Taxon) {
    taxon.cautions = caution::cautions(&taxon.sections);
}

struct Builder<'a> {
    blocks: &'a [Block],
    taxa: Vec<Taxon>,
    family: Option<TaxonId>,
    genus: Option<TaxonId>,
    species: Option<TaxonId>,
    /// Vernacular names printed above the next heading.
    waiting: Vec<String>,
    places: Places,
}

impl Builder<'_> {
    fn treatment(&mut self, heading: &Heading, body: &[usize], meets_heading: bool) {
        let composed = compose(&self.blocks[heading.block].lines);
        let Some((name, rank, authorship)) = self.full_name(&heading.name) else { return };
        let mut waiting = std::mem::take(&mut self.waiting);
        let above = (heading.top..heading.block).filter(|at| !look::is_note(&self.blocks[*at]));
        let above: Vec<Text> = above.map(|at| unmarked::unmarked(&look::of(&self.blocks[at]).text)).collect();
        waiting.extend(vernacular::of(&above));
        let body = self.body(body);
        if rank == Rank::Family
            && let Some(known) = self
                .taxa
                .iter()
                .find(|taxon| taxon.rank == Rank::Family && name::fold(&taxon.name) == name::fold(&name))
        {
            // Printed again above each of its species: not a new treatment.
            (self.family, self.genus, self.species) = (Some(known.id), None, None);
            self.keep_vernaculars(&body, meets_heading);
            return;
        }
        let parent = self.parent(rank, &name);
        let id = TaxonId(self.taxa.len() as u32);
        let rest = unmarked::behind(&composed.text, heading.end.min(composed.str().len()));
        let head_text =
            if heading.run_in { composed.text.slice(0..heading.end) } else { composed.text.clone() };
        let page = composed.text.page();
        let mut taxon = Taxon {
            id,
            rank,
            name,
            authorship,
            number: heading.number.clone(),
            vernacular: waiting,
            synonyms: Vec::new(),
            misapplied: Vec::new(),
            parent,
            heading: head_text,
            pages: (page, page),
            sections: Vec::new(),
            amended: false,
            cautions: Vec::new(),
        };
        let after = nomenclature::head(&rest, &mut taxon);
        let mut paragraphs: Vec<Text> = Vec::new();
        if !after.is_empty() {
            paragraphs.push(after);
        }
        paragraphs.extend(body);
        let paragraphs = unmarked::joined(paragraphs);
        let lines_of_next = rank == Rank::Family && meets_heading && vernacular::of_next(&paragraphs);
        let used = if lines_of_next { 0 } else { nomenclature::below(&paragraphs, &mut taxon) };
        if lines_of_next {
            self.waiting = vernacular::of(&paragraphs);
        } else {
            taxon.sections = section::sections(&paragraphs[used..], &self.places);
        }
        taxon.cautions = caution::cautions(&taxon.sections);
        let last =
            taxon.sections.iter().map(|section: &Section| section.text.last_page()).max().unwrap_or(page);
        taxon.pages = (page, last.max(page));
        let id = self.take(taxon);
        self.enter(id);
    }

    /// Adds a taxon; a heading printed twice with one treatment makes one taxon.
    fn take(&mut self, taxon: Taxon) -> TaxonId {
        let same = |known: &&mut Taxon| {
            known.rank == taxon.rank
                && !known.heading.is_empty()
                && name::fold(&known.name) == name::fold(&taxon.name)
        };
        match self.taxa.iter_mut().rev().take(NEAR).find(same) {
            Some(known) if taxon.sections.is_empty() => known.id,
            Some(known) if known.sections.is_empty() => {
                *known = Taxon { id: known.id, parent: known.parent, ..taxon };
                known.id
            }
            _ => {
                let id = taxon.id;
                self.taxa.push(taxon);
                id
            }
        }
    }

    fn keep_vernaculars(&mut self, body: &[Text], meets_heading: bool) {
        if meets_heading && vernacular::of_next(body) {
            self.waiting = vernacular::of(body);
        }
    }

    fn body(&self, body: &[usize]) -> Vec<Text> {
        body.iter()
            .map(|at| &self.blocks[*at])
            .filter(|block| block.kind == BlockKind::Flow && !look::is_note(block))
            .map(|block| unmarked::unmarked(&look::of(block).text))
            .filter(|text| text.plain.chars().any(char::is_alphabetic))
            .collect()
    }

    fn full_name(&self, head: &HeadName) -> Option<(String, Rank, Option<String>)> {
        match head {
            HeadName::Full(parsed) => {
                let genus = self.genus.map(|id| self.taxa[id.index()].name.clone()).unwrap_or_default();
                let name = name::expand(&parsed.name, &genus).unwrap_or_else(|| parsed.name.clone());
                Some((unstressed(&name), parsed.rank, parsed.authorship.clone()))
            }
            HeadName::Below { term, epithet, authorship } => {
                let species = &self.taxa[self.species?.index()].name;
                let rank = match *term {
                    "var." => Rank::Variety,
                    "f." => Rank::Form,
                    _ => Rank::Subspecies,
                };
                Some((format!("{species} {term} {epithet}"), rank, authorship.clone()))
            }
        }
    }

    /// Finds the parent, making a genus that has species here but no heading of its own.
    fn parent(&mut self, rank: Rank, name: &str) -> Option<TaxonId> {
        match rank {
            Rank::Family => None,
            Rank::Subfamily | Rank::Tribe | Rank::Genus => self.family,
            Rank::Subgenus | Rank::Section => self.genus.or(self.family),
            Rank::Species | Rank::Hybrid => Some(self.genus_for(name)),
            Rank::Subspecies | Rank::Variety | Rank::Form => {
                let mut words = name.split(' ');
                let species =
                    format!("{} {}", words.next().unwrap_or_default(), words.next().unwrap_or_default());
                let known = self
                    .taxa
                    .iter()
                    .rev()
                    .find(|taxon| name::fold(&taxon.name) == name::fold(&species))
                    .map(|taxon| taxon.id);
                Some(known.unwrap_or_else(|| self.genus_for(name)))
            }
        }
    }

    fn genus_for(&mut self, name: &str) -> TaxonId {
        let genus = name.split(' ').next().unwrap_or_default();
        let wanted = name::fold(genus);
        let known = self.genus.filter(|id| name::fold(&self.taxa[id.index()].name) == wanted).or_else(|| {
            self.taxa
                .iter()
                .rev()
                .find(|taxon| taxon.rank == Rank::Genus && name::fold(&taxon.name) == wanted)
                .map(|taxon| taxon.id)
        });
        if let Some(id) = known {
            self.genus = Some(id);
            return id;
        }
        let id = TaxonId(self.taxa.len() as u32);
        self.taxa.push(Taxon {
            id,
            rank: Rank::Genus,
            name: genus.to_owned(),
            authorship: None,
            number: None,
            vernacular: Vec::new(),
            synonyms: Vec::new(),
            misapplied: Vec::new(),
            parent: self.family,
            heading: Text::default(),
            pages: (Page(1), Page(1)),
            sections: Vec::new(),
            amended: false,
            cautions: Vec::new(),
        });
        self.genus = Some(id);
        id
    }

    fn enter(&mut self, id: TaxonId) {
        let (rank, parent, page) = {
            let taxon = &self.taxa[id.index()];
            (taxon.rank, taxon.parent, taxon.pages.0)
        };
        match rank {
            Rank::Family => (self.family, self.genus, self.species) = (Some(id), None, None),
            Rank::Genus => (self.genus, self.species) = (Some(id), None),
            Rank::Species | Rank::Hybrid => self.species = Some(id),
            Rank::Subfamily
            | Rank::Tribe
            | Rank::Subgenus
            | Rank::Section
            | Rank::Subspecies
            | Rank::Variety
            | Rank::Form => {}
        }
        // A genus without a heading of its own stands where its first species does.
        if let Some(parent) = parent
            && self.taxa[parent.index()].heading.is_empty()
            && self.taxa[parent.index()].pages == (Page(1), Page(1))
        {
            self.taxa[parent.index()].pages = (page, page);
        }
    }
}

/// A name without the stress marks that help to pronounce it (T4); a diaeresis is part of the name (N15).
fn unstressed(name: &str) -> String {
    let marks = ['\u{300}', '\u{301}', '\u{302}', '\u{304}', '\u{306}'];
    name.nfd().filter(|c| !marks.contains(c)).nfc().collect()
}
