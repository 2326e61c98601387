//! Taxa with their treatments.

use serde::{Deserialize, Serialize};

use super::{Page, TaxonId, Text};

/// Taxonomic ranks a flora uses, the highest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Rank {
    /// Familia.
    Family,
    /// Subfamilia.
    Subfamily,
    /// Tribus.
    Tribe,
    /// Genus.
    Genus,
    /// Subgenus.
    Subgenus,
    /// Sectio.
    Section,
    /// Species.
    Species,
    /// Subspecies.
    Subspecies,
    /// Varietas.
    Variety,
    /// Forma.
    Form,
    /// A nothotaxon without another rank.
    Hybrid,
}

impl Rank {
    /// Returns the lower-case English word, as Darwin Core's `taxonRank` and the dump have it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Family => "family",
            Self::Subfamily => "subfamily",
            Self::Tribe => "tribe",
            Self::Genus => "genus",
            Self::Subgenus => "subgenus",
            Self::Section => "section",
            Self::Species => "species",
            Self::Subspecies => "subspecies",
            Self::Variety => "variety",
            Self::Form => "form",
            Self::Hybrid => "hybrid",
        }
    }
}

/// What a section of a treatment tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum SectionKind {
    /// The plant's characters.
    Description,
    /// Where it grows: soil, company, kind of place.
    Habitat,
    /// In which districts and countries.
    Distribution,
    /// Months of flower and fruit.
    Phenology,
    /// Height above the sea.
    Elevation,
    /// Chromosome numbers.
    Chromosomes,
    /// Rarity, law and status.
    Conservation,
    /// Where the name comes from.
    Etymology,
    /// What people do with it.
    Uses,
    /// Remarks, comparisons, cautions.
    Notes,
    /// Anything else.
    Other,
}

impl SectionKind {
    /// Returns the lower-case word of the dump format.
    pub fn word(self) -> &'static str {
        match self {
            Self::Description => "description",
            Self::Habitat => "habitat",
            Self::Distribution => "distribution",
            Self::Phenology => "phenology",
            Self::Elevation => "elevation",
            Self::Chromosomes => "chromosomes",
            Self::Conservation => "conservation",
            Self::Etymology => "etymology",
            Self::Uses => "uses",
            Self::Notes => "notes",
            Self::Other => "other",
        }
    }
}

/// One section of a treatment.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Section {
    /// What it tells.
    pub kind: SectionKind,
    /// The printed run-in heading without colon or dash, if there is one.
    pub heading: Option<String>,
    /// The words, without the heading.
    pub text: Text,
}

/// A taxon with its treatment.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Taxon {
    /// Its place in the flora's list.
    pub id: TaxonId,
    /// Its rank.
    pub rank: Rank,
    /// The name alone, abbreviations spelled out, connecting terms as `subsp.`, `var.`, `f.`, the hybrid sign as `×`.
    pub name: String,
    /// The authorship as printed.
    pub authorship: Option<String>,
    /// The number printed before the name, without its full stop.
    pub number: Option<String>,
    /// Vernacular names in the order of the book.
    pub vernacular: Vec<String>,
    /// Synonyms in the order of the book.
    pub synonyms: Vec<String>,
    /// The taxon that it belongs to.
    pub parent: Option<TaxonId>,
    /// The heading as printed.
    pub heading: Text,
    /// First and last page of the treatment.
    pub pages: (Page, Page),
    /// The treatment's sections in the order of the book.
    pub sections: Vec<Section>,
    /// The sentences of them that warn of eating, touching or picking, word for word.
    pub cautions: Vec<Text>,
}
