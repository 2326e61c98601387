//! Plain data that all rooms share: a flora with its taxa, keys, glossary and matter, and text that knows its page.
//!
//! Nothing here reads, writes or decides anything; what the book means is found in `parse` and shown in `reader`.

mod flora;
mod glossary;
mod key;
mod page;
mod taxon;
mod text;

pub use flora::{Doubt, DoubtAbout, DoubtKind, Flora, Matter, MatterKind, Sign, Source};
pub use glossary::Entry;
pub use key::{Alternatives, Couplet, Key, Lead, Needs, Target};
pub use page::{BookPage, ReadAs, Recognised, SetRow};
pub use taxon::{Rank, Section, SectionKind, Taxon};
pub use text::{Page, Style, StyleRun, Text};

use serde::{Deserialize, Serialize};

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident $letter:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub struct $name(pub u32);

        impl $name {
            /// Returns the position in the flora's list, for indexing.
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                write!(f, concat!($letter, "{:04}"), self.0)
            }
        }
    )*};
}

ids! {
    /// The position of a taxon in [`Flora::taxa`].
    TaxonId "t";
    /// The position of a key in [`Flora::keys`].
    KeyId "k";
    /// The position of a couplet in [`Key::couplets`]; couplet 0 is where the key starts.
    CoupletId "c";
    /// The position of an entry in [`Flora::glossary`].
    EntryId "g";
    /// The position of a piece in [`Flora::matter`].
    MatterId "m";
}
