//! Ligule: a flora's PDF taken apart into treatments, couplets and glossary, and a reader for it.
//!
//! The rooms and what each may import are listed in DEVELOPERS.md and enforced by `tests/suite/rooms.rs`.

pub mod amend;
pub mod clause;
pub mod cli;
pub mod describe;
pub mod drill;
pub mod dump;
pub mod ingest;
pub mod keying;
pub mod layout;
pub mod link;
pub mod model;
pub mod name;
pub mod parse;
pub mod pdf;
pub mod reader;
pub mod search;
pub mod sketch;
pub mod store;
pub mod terms;
