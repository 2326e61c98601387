//! What the book's own conventions turned out to be: plain data for `check`.

use std::collections::BTreeMap;
use std::fmt;

use serde::{Deserialize, Serialize};

use super::key::label::Scheme;
use super::key::read::RawKey;
use super::key::target::Named;

/// The conventions of one book.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Profile {
    /// Size of the running text, points.
    pub body_size: f32,
    /// Pages by number of columns.
    pub columns: BTreeMap<u8, u32>,
    /// Keys by layout and label scheme.
    pub keys: BTreeMap<String, u32>,
    /// Headings of taxa by rank.
    pub headings: BTreeMap<String, u32>,
}

/// Describes how a key is laid out and labelled.
pub(crate) fn key_style(key: &RawKey) -> String {
    let numbers = key
        .leads
        .iter()
        .filter(|lead| lead.target.named.iter().any(|named| matches!(named, Named::Number(_))))
        .count();
    // The rows of a synopsis stand below its outline.
    let coded = key.leads.last().map(|lead| lead.label.scheme).filter(|scheme| *scheme == Scheme::Coded);
    let scheme = coded.or_else(|| key.leads.first().map(|lead| lead.label.scheme));
    let layout = if numbers > 0 || key.couplets.len() == 1 { "bracketed" } else { "indented" };
    let labels: Vec<&str> = key.leads.iter().take(2).map(|lead| lead.label.printed.as_str()).collect();
    let (layout, scheme) = match scheme {
        Some(Scheme::NumberLetter | Scheme::Number | Scheme::Bracketed) => (layout, "numbers"),
        Some(Scheme::Lower | Scheme::Upper) => (layout, "letters"),
        Some(Scheme::Bullet | Scheme::Dash) | None => (layout, "signs"),
        Some(Scheme::Serial) => ("serial", "numbers"),
        Some(Scheme::Jump) => ("jumping", "letters"),
        Some(Scheme::Outline) => ("by depth", "few labels or none"),
        Some(Scheme::Once) => ("bracketed", "numbers printed once a couplet"),
        Some(Scheme::Signs) => ("indented", "signs"),
        Some(Scheme::Coded) => ("synopsis", "codes"),
    };
    format!("{layout}, {scheme} ({})", labels.join(" / "))
}

impl fmt::Display for Profile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "running text  {} pt", self.body_size)?;
        for (columns, pages) in &self.columns {
            writeln!(f, "columns       {columns} on {pages} pages")?;
        }
        for (style, keys) in &self.keys {
            writeln!(f, "keys          {keys} {style}")?;
        }
        for (rank, headings) in &self.headings {
            writeln!(f, "headings      {headings} of rank {rank}")?;
        }
        Ok(())
    }
}
