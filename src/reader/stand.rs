//! Where the reader stood in every flora, as the text that is kept after each press and read at the next start.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::reader::place::{Item, Way};
use crate::reader::plants::Plants;
use crate::reader::state::Ask;

/// Where the reader stood in one flora.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct FloraStand {
    /// What tells the reading of the book apart from a later one.
    pub(crate) stamp: String,
    /// The way.
    pub(crate) way: Way,
    /// The plants with their trails.
    #[serde(default)]
    pub(crate) plants: Plants,
    /// A question that was being answered, with what was typed so far.
    #[serde(default)]
    pub(crate) asking: Option<(Ask, String)>,
}

/// Where the reader stood in all floras.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Stands {
    /// The flora read last.
    pub(crate) last: Option<String>,
    /// The theme.
    pub(crate) theme: String,
    /// Whether the drawings of a couplet are shown.
    pub(crate) drawings: bool,
    /// The floras by name.
    pub(crate) floras: BTreeMap<String, FloraStand>,
}

impl Stands {
    /// Reads what was kept; a damaged text counts as none.
    pub(crate) fn read(json: &str) -> Self {
        Self::parse(json).unwrap_or_default()
    }

    /// Reads what was kept, if it is whole.
    pub(crate) fn parse(json: &str) -> Option<Self> {
        serde_json::from_str(json).ok()
    }

    /// Takes the questions of the drill out of every way.
    pub(crate) fn forget_questions(&mut self) {
        for stand in self.floras.values_mut() {
            if !stand.way.keep(|item| !matches!(item, Item::Drill(_))) && matches!(stand.way.here.item, Item::Drill(_)) {
                stand.way = Way::from(Item::Contents);
            }
        }
    }

    /// Returns the text to keep.
    pub(crate) fn json(&self) -> String {
        serde_json::to_string(self).expect("places have only strings as map keys")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_kept_is_read_again() {
        let way = Way::from(Item::Term(vec!["calyx".to_owned()]));
        let mut stands = Stands { last: Some("morvane".to_owned()), ..Stands::default() };
        stands.floras.insert(
            "morvane".to_owned(),
            FloraStand { stamp: "1".to_owned(), way, plants: Plants::default(), asking: None },
        );
        assert_eq!(Stands::read(&stands.json()), stands);
    }

    #[test]
    fn a_damaged_text_is_none() {
        assert_eq!(Stands::read("{\"last\": 3"), Stands::default());
    }
}
