//! What of a flora is found as one thing: a taxon, a couplet, a paragraph of other matter, a glossary entry.
//!
//! Each has names, which count most, and pieces of running text, out of which the sentence for a hit is taken.

use serde::{Deserialize, Serialize};

use crate::model::{Couplet, CoupletId, Entry, Flora, Key, Matter, MatterKind, Page, Taxon, Text};
use crate::search::Found;

/// One thing that can be found.
#[derive(Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Document {
    /// What it is.
    pub(crate) what: Found,
    /// Its name or title.
    pub(crate) title: String,
    /// Its names; a hit in one of them counts most.
    #[serde(skip)]
    pub(crate) names: Vec<String>,
    /// Its text.
    pub(crate) pieces: Vec<Piece>,
    /// Whether it tells something or only lists.
    #[serde(skip)]
    pub(crate) weight: Weight,
}

/// Whether a text tells something of plants.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Weight {
    /// Treatments, keys, glossary and prose.
    #[default]
    Telling,
    /// Lists of contents, indexes and the like, which repeat every name and come last.
    Listing,
}

/// A paragraph with the pages that it stands on.
#[derive(Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Piece {
    /// The words.
    pub(crate) text: String,
    /// Byte offset and page, in order.
    pub(crate) pages: Vec<(u32, Page)>,
}

impl Piece {
    /// Returns the page that a byte offset stands on.
    pub(crate) fn page_at(&self, byte: usize) -> Page {
        let before = self.pages.iter().take_while(|(start, _)| *start as usize <= byte);
        before.last().map_or(Page(1), |(_, page)| *page)
    }
}

impl From<&Text> for Piece {
    fn from(text: &Text) -> Self {
        Self { text: text.plain.clone(), pages: text.pages.clone() }
    }
}

/// Returns all documents of a flora: taxa, couplets, glossary, other matter, each in the order of the book.
pub(crate) fn documents(flora: &Flora) -> impl Iterator<Item = Document> {
    let couplets = flora.keys.iter().flat_map(|key| {
        (key.couplets.iter().enumerate())
            .map(move |(at, couplet)| self::couplet(key, CoupletId(at as u32), couplet))
    });
    let paragraphs = flora.matter.iter().flat_map(|matter| {
        (matter.paragraphs.iter().enumerate()).map(move |(at, text)| paragraph(matter, at as u32, text))
    });
    flora.taxa.iter().map(taxon).chain(couplets).chain(flora.glossary.iter().map(entry)).chain(paragraphs)
}

/// Returns a taxon's document: sections first, so that the sentence shown is one of them where they have the words.
fn taxon(taxon: &Taxon) -> Document {
    let names: Vec<String> =
        std::iter::once(&taxon.name).chain(&taxon.vernacular).chain(&taxon.synonyms).cloned().collect();
    let also: Vec<&str> =
        taxon.vernacular.iter().chain(&taxon.synonyms).chain(&taxon.misapplied).map(String::as_str).collect();
    let mut pieces: Vec<Piece> = taxon.sections.iter().map(|section| Piece::from(&section.text)).collect();
    if !also.is_empty() {
        pieces.push(Piece { text: also.join("; "), pages: vec![(0, taxon.pages.0)] });
    }
    pieces.push(Piece::from(&taxon.heading));
    Document {
        what: Found::Taxon(taxon.id),
        title: taxon.name.clone(),
        names,
        pieces,
        weight: Weight::Telling,
    }
}

/// Returns a couplet's document: each lead with the target it prints.
fn couplet(key: &Key, id: CoupletId, couplet: &Couplet) -> Document {
    let of = match (&key.title, &key.scope) {
        (Some(title), _) => title.clone(),
        (None, Some(scope)) => format!("Key to {scope}"),
        (None, None) => "Key".to_owned(),
    };
    let lead = |lead: &crate::model::Lead| {
        let mut piece = Piece::from(&lead.text);
        if !lead.printed.is_empty() {
            piece.text.push_str(" … ");
            piece.text.push_str(&lead.printed);
        }
        piece
    };
    Document {
        what: Found::Couplet(key.id, id),
        title: format!("{of}, couplet {}", couplet.label),
        names: Vec::new(),
        pieces: couplet.leads.iter().map(lead).collect(),
        weight: Weight::Telling,
    }
}

/// Returns a glossary entry's document.
fn entry(entry: &Entry) -> Document {
    Document {
        what: Found::Entry(entry.id),
        title: entry.term.clone(),
        names: std::iter::once(&entry.term).chain(&entry.variants).cloned().collect(),
        pieces: vec![Piece::from(&entry.definition)],
        weight: Weight::Telling,
    }
}

/// Returns the document of one paragraph of other matter.
fn paragraph(matter: &Matter, at: u32, text: &Text) -> Document {
    let weight = match matter.kind {
        MatterKind::Contents | MatterKind::Index | MatterKind::Abbreviations | MatterKind::Literature => {
            Weight::Listing
        }
        MatterKind::Introduction
        | MatterKind::HowTo
        | MatterKind::Signs
        | MatterKind::Plate
        | MatterKind::Other => Weight::Telling,
    };
    let title = if matter.title.is_empty() { matter.kind.word().to_owned() } else { matter.title.clone() };
    Document {
        what: Found::Matter(matter.id, at),
        title,
        names: Vec::new(),
        pieces: vec![Piece::from(text)],
        weight,
    }
}
