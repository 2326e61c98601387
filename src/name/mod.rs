//! Scientific names: the words at the start of a text in, name, authorship and rank out; and the folded form that
//! names are matched by. Grammar after the International Code of Nomenclature (Shenzhen Code, 2018).
//!
//! Which taxon a name belongs to is not decided here.

mod author;
mod fold;
mod grammar;

pub use fold::{expand, fold, same_word};
pub use grammar::{Parsed, is_family, parse};
