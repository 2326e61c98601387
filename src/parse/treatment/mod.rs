//! Headings and the blocks below them in, taxa with their sections out.

mod caution;
mod nomenclature;
mod section;

use crate::layout::{Block, BlockKind};
use crate::model::{Page, Rank, Section, Taxon, TaxonId, Text};
use crate::name;

use super::compose::compose;
use super::heading::{HeadName, Heading};
use super::look;

/// Builds the taxa; `stops` says at which blocks a treatment ends though no heading stands there (keys, glossary …).
pub(crate) fn taxa(blocks: &[Block], headings: &[Heading], stops: &dyn Fn(usize) -> bool) -> Vec<Taxon> {
    let mut builder =
        Builder { blocks, taxa: Vec::new(), family: None, genus: None, species: None, waiting: Vec::new() };
    for (at, heading) in headings.iter().enumerate() {
        let next = headings.get(at + 1).map_or(blocks.len(), |next| next.block);
        let end = (heading.block + 1..next).find(|block| stops(*block)).unwrap_or(next);
        builder.treatment(heading, end, next < blocks.len() && end == next);
    }
    builder.taxa
}

struct Builder<'a> {
    blocks: &'a [Block],
    taxa: Vec<Taxon>,
    family: Option<TaxonId>,
    genus: Option<TaxonId>,
    species: Option<TaxonId>,
    /// Vernacular names printed above the next heading.
    waiting: Vec<String>,
}

impl Builder<'_> {
    fn treatment(&mut self, heading: &Heading, end: usize, meets_heading: bool) {
        let composed = compose(&self.blocks[heading.block].lines);
        let Some((name, rank, authorship)) = self.full_name(&heading.name) else { return };
        let waiting = std::mem::take(&mut self.waiting);
        let body = self.body(heading, end);
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
        let rest = composed.text.slice(heading.end.min(composed.str().len())..composed.str().len());
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
            parent,
            heading: head_text,
            pages: (page, page),
            sections: Vec::new(),
            cautions: Vec::new(),
        };
        let after = nomenclature::head(&rest, &mut taxon);
        let mut paragraphs: Vec<Text> = Vec::new();
        if !after.is_empty() {
            paragraphs.push(after);
        }
        paragraphs.extend(body.into_iter().map(|(_, text)| text));
        let used = nomenclature::below(&paragraphs, &mut taxon, rank == Rank::Family && meets_heading);
        if rank == Rank::Family
            && meets_heading
            && paragraphs.len() > used
            && paragraphs[used..].iter().all(|text| text.plain.len() < 80)
        {
            self.waiting = nomenclature::vernaculars_of(&paragraphs[used..]);
        } else {
            taxon.sections = section::sections(&paragraphs[used..]);
        }
        taxon.cautions = caution::cautions(&taxon.sections);
        let last =
            taxon.sections.iter().map(|section: &Section| section.text.last_page()).max().unwrap_or(page);
        taxon.pages = (page, last.max(page));
        self.enter(&taxon);
        self.taxa.push(taxon);
    }

    fn keep_vernaculars(&mut self, body: &[(usize, Text)], meets_heading: bool) {
        if meets_heading && body.iter().all(|(_, text)| text.plain.len() < 80) {
            let texts: Vec<Text> = body.iter().map(|(_, text)| text.clone()).collect();
            self.waiting = nomenclature::vernaculars_of(&texts);
        }
    }

    fn body(&self, heading: &Heading, end: usize) -> Vec<(usize, Text)> {
        (heading.block + 1..end)
            .filter(|at| self.blocks[*at].kind == BlockKind::Flow)
            .map(|at| (at, look::of(&self.blocks[at]).text))
            .filter(|(_, text)| !text.is_empty())
            .collect()
    }

    fn full_name(&self, head: &HeadName) -> Option<(String, Rank, Option<String>)> {
        match head {
            HeadName::Full(parsed) => {
                let genus = self.genus.map(|id| self.taxa[id.index()].name.clone()).unwrap_or_default();
                let name = name::expand(&parsed.name, &genus).unwrap_or_else(|| parsed.name.clone());
                Some((name, parsed.rank, parsed.authorship.clone()))
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
            parent: self.family,
            heading: Text::default(),
            pages: (Page(1), Page(1)),
            sections: Vec::new(),
            cautions: Vec::new(),
        });
        self.genus = Some(id);
        id
    }

    fn enter(&mut self, taxon: &Taxon) {
        match taxon.rank {
            Rank::Family => (self.family, self.genus, self.species) = (Some(taxon.id), None, None),
            Rank::Genus => (self.genus, self.species) = (Some(taxon.id), None),
            Rank::Species | Rank::Hybrid => self.species = Some(taxon.id),
            Rank::Subfamily
            | Rank::Tribe
            | Rank::Subgenus
            | Rank::Section
            | Rank::Subspecies
            | Rank::Variety
            | Rank::Form => {}
        }
        // A genus without a heading of its own stands where its first species does.
        if let Some(parent) = taxon.parent
            && self.taxa[parent.index()].heading.is_empty()
            && self.taxa[parent.index()].pages == (Page(1), Page(1))
        {
            self.taxa[parent.index()].pages = (taxon.pages.0, taxon.pages.0);
        }
    }
}
