//! What is found anew when a flora was amended: what its keys reach, what their structure tells against them, and one
//! treatment from its paragraphs. The book itself is not read again here.

use crate::model::{Doubt, Flora, Rank, Taxon, Text};

use super::{check, resolve, treatment};

/// Returns the doubts that the keys' own structure tells, as [`super::flora`] finds them.
pub fn doubts(flora: &Flora) -> Vec<Doubt> {
    check::doubts_of_keys(&flora.keys, &flora.taxa)
}

/// Finds anew the cautions of a treatment whose sections changed.
pub fn warn(taxon: &mut Taxon) {
    treatment::warn(taxon);
}

/// Counts anew how many taxa each lead reaches.
pub fn count(flora: &mut Flora) {
    resolve::count(&mut flora.keys);
}

/// Returns the taxon of a paragraph that begins with its heading, and of the paragraphs below it.
///
/// `context` is the genus and the species that abbreviated names are spelled out by; number and parent of the taxon are
/// left to whoever puts it in its place.
pub fn treated(paragraph: &Text, rank: Rank, context: &(String, String), body: Vec<Text>) -> Taxon {
    treatment::one(paragraph, rank, context, body)
}

/// Returns the flora of a drawn book, for tests of the rooms behind this one.
#[cfg(test)]
pub(crate) fn drawn(drawing: &str) -> Flora {
    super::flora(&super::fixture::setting(drawing)).0
}
