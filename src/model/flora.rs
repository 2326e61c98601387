//! A whole flora as it was read, with what is doubtful in it.

use serde::{Deserialize, Serialize};

use super::{BookPage, Entry, Key, KeyId, MatterId, Page, Taxon, TaxonId, Text};

/// A source file of a flora.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// The file's name without its folders.
    pub file: String,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
    /// Number of pages.
    pub pages: u32,
}

/// What a piece of matter is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum MatterKind {
    /// What the author says first.
    Introduction,
    /// How to use the keys.
    HowTo,
    /// Signs and their meaning.
    Signs,
    /// Abbreviations and authors.
    Abbreviations,
    /// The list of contents.
    Contents,
    /// The index.
    Index,
    /// Books cited.
    Literature,
    /// Plates and figures.
    Plate,
    /// Anything else.
    Other,
}

impl MatterKind {
    /// Returns the word of the dump format.
    pub fn word(self) -> &'static str {
        match self {
            Self::Introduction => "introduction",
            Self::HowTo => "how-to",
            Self::Signs => "signs",
            Self::Abbreviations => "abbreviations",
            Self::Contents => "contents",
            Self::Index => "index",
            Self::Literature => "literature",
            Self::Plate => "plate",
            Self::Other => "other",
        }
    }
}

/// A piece of the book that is neither key, treatment nor glossary.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Matter {
    /// Its place in the flora's list.
    pub id: MatterId,
    /// What it is.
    pub kind: MatterKind,
    /// Its heading.
    pub title: String,
    /// First and last page.
    pub pages: (Page, Page),
    /// Its paragraphs.
    pub paragraphs: Vec<Text>,
}

/// A status sign with the meaning that the book's own legend gives.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sign {
    /// The sign as printed.
    pub sign: String,
    /// What the book says it means.
    pub meaning: String,
    /// Where it says so.
    pub page: Page,
}

/// What sort of doubt the reading of a book left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum DoubtKind {
    /// A lead's target could not be resolved.
    UnresolvedTarget,
    /// A couplet that no lead arrives at.
    UnreachedCouplet,
    /// A couplet with a single lead.
    LonelyLead,
    /// Following the leads comes back to where one was.
    Cycle,
    /// A label that does not fit its neighbours.
    OddLabel,
    /// A name in a key that differs from the heading it was matched with.
    NameDiffers,
    /// A keyed name without a treatment.
    NoTreatment,
    /// A treated taxon that its key does not name.
    NotKeyed,
    /// A lead that the descriptions of all its taxa contradict.
    Contradicted,
    /// A page or part of one that could not be read.
    Unreadable,
    /// Something else that a reader should look at.
    Other,
}

impl DoubtKind {
    /// Returns a word for the dump.
    pub fn word(self) -> &'static str {
        match self {
            Self::UnresolvedTarget => "unresolved-target",
            Self::UnreachedCouplet => "unreached-couplet",
            Self::LonelyLead => "lonely-lead",
            Self::Cycle => "cycle",
            Self::OddLabel => "odd-label",
            Self::NameDiffers => "name-differs",
            Self::NoTreatment => "no-treatment",
            Self::NotKeyed => "not-keyed",
            Self::Contradicted => "contradicted",
            Self::Unreadable => "unreadable",
            Self::Other => "other",
        }
    }
}

/// The item that a doubt is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum DoubtAbout {
    /// The book as such.
    Book,
    /// A taxon.
    Taxon(TaxonId),
    /// A key.
    Key(KeyId),
}

/// Something that could not be read surely.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Doubt {
    /// What sort.
    pub kind: DoubtKind,
    /// Where in the source.
    pub page: Page,
    /// The printed words in question.
    pub text: String,
    /// What it is and what to do about it, one sentence in a botanist's words.
    pub advice: String,
    /// The item concerned.
    pub about: DoubtAbout,
}

/// A flora: everything that was recognised in one book, and the book itself as text.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Flora {
    /// The title.
    pub title: String,
    /// The licence statement that the book prints, if any.
    pub license: Option<String>,
    /// The files that it was read from.
    pub sources: Vec<Source>,
    /// Taxa in the order of the book; `taxa[i].id == TaxonId(i)`.
    pub taxa: Vec<Taxon>,
    /// Keys in the order of the book; `keys[i].id == KeyId(i)`.
    pub keys: Vec<Key>,
    /// The flora's own glossary; `glossary[i].id == EntryId(i)`.
    pub glossary: Vec<Entry>,
    /// Everything else; `matter[i].id == MatterId(i)`.
    pub matter: Vec<Matter>,
    /// Status signs from the book's own legend.
    pub legend: Vec<Sign>,
    /// All pages in order.
    pub pages: Vec<BookPage>,
    /// What is doubtful.
    pub doubts: Vec<Doubt>,
}
