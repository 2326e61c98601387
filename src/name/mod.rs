//! Scientific names: the words at the start of a text in, name, authorship and rank out; and the folded form that
//! names are matched by. Grammar after the International Code of Nomenclature (Shenzhen Code, 2018).
//!
//! Which taxon a name belongs to is not decided here.

mod author;
mod families;
mod fold;
mod grammar;
mod identified;
mod status;
#[cfg(test)]
mod tests;

pub use families::other_family_names;
pub use fold::{expand, fold, same_word, spelled_otherwise};
pub use grammar::{Parsed, is_family, parse};
pub use identified::{Identified, Parent, formula, identified};
pub use status::{Status, status};
