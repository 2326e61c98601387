//! Keys: couplets of leads, each lead with its target.

use serde::{Deserialize, Serialize};

use super::{CoupletId, KeyId, Page, TaxonId, Text};

/// Where a lead leads.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Target {
    /// Another couplet of the same key.
    Couplet(CoupletId),
    /// A taxon by name, with its treatment where the flora has one.
    Taxon {
        /// The name, abbreviations spelled out.
        name: String,
        /// The treatment.
        id: Option<TaxonId>,
    },
    /// Another key, from its start.
    Key(KeyId),
    /// What is printed there could not be resolved; empty where nothing is printed.
    Unresolved(String),
}

/// One lead of a couplet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lead {
    /// The printed label without its full stop (`1a`, `–`); none where none is printed.
    pub label: Option<String>,
    /// The characters alone: no label, no dot leaders, no target.
    pub text: Text,
    /// The target as printed, for show; empty where none is printed.
    pub printed: String,
    /// Where it leads.
    pub to: Target,
    /// Further targets of a lead that has several.
    pub also: Vec<Target>,
    /// The printed page that the lead cites.
    pub cites: Option<String>,
    /// How many different taxa without a further key under them can still be reached through this lead.
    pub reaches: u32,
    /// Whether its reader set it right.
    pub amended: bool,
}

/// A set of contrasting leads, two or more.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Couplet {
    /// The number or letter that its leads share.
    pub label: String,
    /// The leads in the order of the book.
    pub leads: Vec<Lead>,
}

/// An identification key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key {
    /// Its place in the flora's list.
    pub id: KeyId,
    /// The title as printed.
    pub title: Option<String>,
    /// The name of the taxon whose members it tells apart; none for a key to the families of a flora.
    pub scope: Option<String>,
    /// The treatment of that taxon.
    pub scope_id: Option<TaxonId>,
    /// The page it begins on.
    pub page: Page,
    /// The couplets; the key starts at the first.
    pub couplets: Vec<Couplet>,
}

/// What a plant must show for a key to be of use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Needs {
    /// Open flowers.
    Flowers,
    /// Ripe or unripe fruit.
    Fruits,
    /// Flowers with stamens.
    Stamens,
    /// Flowers with pistils.
    Pistils,
    /// Leaves and stems alone.
    Leaves,
    /// The plant as it is in summer.
    Summer,
    /// Twigs and buds in winter.
    Winter,
}

impl Needs {
    /// Returns the word of the dump format.
    pub fn word(self) -> &'static str {
        match self {
            Self::Flowers => "flowers",
            Self::Fruits => "fruits",
            Self::Stamens => "stamens",
            Self::Pistils => "pistils",
            Self::Leaves => "leaves",
            Self::Summer => "summer",
            Self::Winter => "winter",
        }
    }
}

/// Keys to the same taxa, to be chosen from by what the plant at hand shows; never to be gone through one after another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Alternatives {
    /// The keys in the order of the book, each with what its title says that it needs.
    pub keys: Vec<(KeyId, Option<Needs>)>,
}

impl Key {
    /// Returns a couplet by id.
    pub fn couplet(&self, id: CoupletId) -> Option<&Couplet> {
        self.couplets.get(id.index())
    }
}
