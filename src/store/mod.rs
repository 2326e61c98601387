//! The shelf on disk: floras with their sources, each replaced whole or not at all; where the reader stood; look-ups.
//!
//! A flora lives in a folder of its own below `floras/`. What is written goes into a new numbered folder there; the file
//! `now` names the folder that counts and is renamed into place last, so a broken ingest leaves the old flora. How a flora
//! is found in a PDF and how it is searched is not known here. Amendments lie beside that folder, and outlive the flora.

mod amendments;
mod book;
mod contents;
mod error;
mod file;
pub mod keymap;
mod licence;
pub mod look_ups;
mod own_file;
mod pending;
mod row;
mod shelf;
pub mod stand;
#[cfg(test)]
mod tests;
pub mod texts;
pub mod words;

pub use book::Book;
pub use contents::{Contents, KeyRow, MatterRow, TaxonRow};
pub use error::Error;
pub use licence::Licence;
pub use pending::{KeepSource, Pending, SourceBytes};
pub use row::{Counts, KeptSource, RowState, ShelfRow};
pub use shelf::{Shelf, slug};
