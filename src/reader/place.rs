//! Places and the way: where the reader stands, as values that can be kept, compared and gone back to.
//!
//! A place never holds a row of the screen, so it stays true however the window changes.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::drill::Draw;
use crate::keying::Spot;
use crate::model::{CoupletId, KeyId, MatterId, Page, TaxonId};

/// What can be looked at.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Item {
    /// One couplet of a key.
    Couplet(KeyId, CoupletId),
    /// A taxon's treatment.
    Treatment(TaxonId),
    /// One term, or the parts of a compound, by headword.
    Term(Vec<String>),
    /// Where a term, or one of the parts of a compound, is used.
    Uses(Vec<String>),
    /// A page of the book as printed.
    Page(Page),
    /// A page of the book as running text.
    Text(Page),
    /// A piece of the book that is neither key, treatment nor glossary.
    Matter(MatterId),
    /// What the book holds.
    Contents,
    /// All keys, narrowed by what was typed.
    Keys(String),
    /// The tree of taxa.
    Taxa {
        /// What was typed.
        narrow: String,
        /// Taxa whose members are shown.
        open: BTreeSet<TaxonId>,
    },
    /// The words of the glossary, narrowed by what was typed.
    Words(String),
    /// What a search for these words finds.
    Find(String),
    /// The same among the taxa that are still possible for the plant at hand.
    FindPossible(String),
    /// The same in all floras of the shelf.
    FindAll(String),
    /// What such a search can be narrowed to.
    Groups(Among, String),
    /// The floras on the shelf.
    Shelf,
    /// What was decided for the plant at hand.
    Trail,
    /// The plants that are keyed out.
    Plants,
    /// The taxa still possible: below a couplet, or for the plant at hand.
    Possible(Option<Spot>),
    /// Every lead that is true of a taxon, from the start of the flora.
    Route(TaxonId),
    /// The leads of a couplet character by character.
    Beside(Spot),
    /// Taxa that one alone may be taken for.
    Alike(TaxonId),
    /// Treatments character by character, two to four.
    Compare(Vec<TaxonId>),
    /// Readings set against the leads of a couplet.
    MeasuredLeads(Spot, String),
    /// Readings set against a treatment.
    MeasuredTaxon(TaxonId, String),
    /// A taxon's characters with what was ticked for the plant at hand.
    Check(TaxonId),
    /// What may be here on the trip that is set.
    Here,
    /// The terms that were looked up.
    LookedUp,
    /// A question of the drill; none when nothing was due.
    Drill(Option<Asked>),
}

/// A question of the drill, and which answer was chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Asked {
    /// The number of the term in the log; not the term, so that forgetting the log leaves none here.
    pub(crate) word: usize,
    /// What it was drawn with.
    pub(crate) draw: Draw,
    /// Whether it may be asked by drawings.
    pub(crate) drawn: bool,
    /// The answer chosen, counted from 0.
    pub(crate) chosen: Option<usize>,
}

/// What a search looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Among {
    /// The whole flora.
    Flora,
    /// What is still possible for the plant at hand.
    Possible,
}

/// The kinds of screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Screen {
    /// A couplet with its leads.
    Couplet,
    /// A treatment.
    Treatment,
    /// A term in full.
    Term,
    /// A page of the book as printed.
    Printed,
    /// A page or piece of the book as running text.
    Page,
    /// What the book holds.
    Contents,
    /// All keys.
    Keys,
    /// The tree of taxa.
    Taxa,
    /// The words of the glossary.
    Words,
    /// A search.
    Find,
    /// The shelf.
    Shelf,
    /// The trail of a plant.
    Trail,
    /// The plants.
    Plants,
    /// The taxa still possible.
    Possible,
    /// The routes of a taxon.
    Route,
    /// Leads beside each other.
    Beside,
    /// Look-alikes to choose from.
    Alike,
    /// Treatments beside each other.
    Compare,
    /// Readings set against what the book says.
    Measured,
    /// Characters to tick.
    Check,
    /// The terms that were looked up.
    LookedUp,
    /// A question of the drill.
    Drill,
}

impl Screen {
    /// All screens.
    pub(crate) const ALL: &[Self] = &[
        Self::Couplet,
        Self::Treatment,
        Self::Term,
        Self::Printed,
        Self::Page,
        Self::Contents,
        Self::Keys,
        Self::Taxa,
        Self::Words,
        Self::Find,
        Self::Shelf,
        Self::Trail,
        Self::Plants,
        Self::Possible,
        Self::Route,
        Self::Beside,
        Self::Alike,
        Self::Compare,
        Self::Measured,
        Self::Check,
        Self::LookedUp,
        Self::Drill,
    ];

    /// Says whether it is a list whose rows are gone through, not a text.
    pub(crate) fn is_list(self) -> bool {
        match self {
            Self::Couplet
            | Self::Treatment
            | Self::Term
            | Self::Printed
            | Self::Page
            | Self::Beside
            | Self::Compare
            | Self::Measured => false,
            Self::Contents
            | Self::Keys
            | Self::Taxa
            | Self::Words
            | Self::Find
            | Self::Shelf
            | Self::Trail
            | Self::Plants
            | Self::Possible
            | Self::Route
            | Self::Alike
            | Self::Check
            | Self::LookedUp
            | Self::Drill => true,
        }
    }

    /// Returns the word for it in help and tables.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Couplet => "couplet",
            Self::Treatment => "treatment",
            Self::Term => "term",
            Self::Printed => "printed page",
            Self::Page => "page",
            Self::Contents => "contents",
            Self::Keys => "keys",
            Self::Taxa => "taxa",
            Self::Words => "words",
            Self::Find => "search",
            Self::Shelf => "shelf",
            Self::Trail => "trail",
            Self::Plants => "plants",
            Self::Possible => "still possible",
            Self::Route => "route",
            Self::Beside => "leads by organ",
            Self::Alike => "look-alikes",
            Self::Compare => "comparison",
            Self::Measured => "measured",
            Self::Check => "check",
            Self::LookedUp => "looked up",
            Self::Drill => "drill",
        }
    }
}

/// The lists that are narrowed by typing, each with what was typed.
macro_rules! with_typed {
    ($words:ident) => {
        Self::Keys($words)
            | Self::Words($words)
            | Self::Find($words)
            | Self::FindPossible($words)
            | Self::FindAll($words)
            | Self::Groups(_, $words)
            | Self::Taxa { narrow: $words, .. }
    };
}

impl Item {
    /// Returns the kind of screen that shows it.
    pub(crate) fn screen(&self) -> Screen {
        match self {
            Self::Couplet(..) => Screen::Couplet,
            Self::Treatment(_) => Screen::Treatment,
            Self::Term(_) | Self::Uses(_) => Screen::Term,
            Self::Page(_) => Screen::Printed,
            Self::Text(_) | Self::Matter(_) => Screen::Page,
            Self::Contents => Screen::Contents,
            Self::Keys(_) => Screen::Keys,
            Self::Taxa { .. } => Screen::Taxa,
            Self::Words(_) => Screen::Words,
            Self::Find(_) | Self::FindPossible(_) | Self::FindAll(_) | Self::Groups(..) => Screen::Find,
            Self::Shelf => Screen::Shelf,
            Self::Trail => Screen::Trail,
            Self::Plants => Screen::Plants,
            Self::Possible(_) | Self::Here => Screen::Possible,
            Self::Route(_) => Screen::Route,
            Self::Beside(_) => Screen::Beside,
            Self::Alike(_) => Screen::Alike,
            Self::Compare(_) => Screen::Compare,
            Self::MeasuredLeads(..) | Self::MeasuredTaxon(..) => Screen::Measured,
            Self::Check(_) => Screen::Check,
            Self::LookedUp => Screen::LookedUp,
            Self::Drill(_) => Screen::Drill,
        }
    }

    /// Returns what was typed into it, for lists that are narrowed by typing.
    pub(crate) fn typed(&self) -> Option<&str> {
        let with_typed!(words) = self else {
            return None;
        };
        Some(words)
    }

    /// Returns the typed words for changing.
    pub(crate) fn typed_mut(&mut self) -> Option<&mut String> {
        let with_typed!(words) = self else {
            return None;
        };
        Some(words)
    }
}

/// What stands at the top of the screen: a paragraph of the item, and a byte in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub(crate) struct Anchor {
    /// The paragraph, or the lead of a couplet.
    pub(crate) paragraph: usize,
    /// The first byte shown.
    pub(crate) byte: usize,
}

/// What is at hand and what is marked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Cursor {
    /// The lead at hand, counted from 0; of no meaning elsewhere.
    pub(crate) lead: usize,
    /// The marked word or row, counted from 0 through the whole item.
    pub(crate) stop: Option<usize>,
}

/// Where the reader stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Place {
    /// What is looked at.
    pub(crate) item: Item,
    /// Where in it.
    pub(crate) anchor: Anchor,
    /// What is marked in it.
    pub(crate) cursor: Cursor,
    /// The first cell shown of a page as printed that is wider than the window.
    #[serde(default)]
    pub(crate) across: usize,
}

impl Place {
    /// Returns the place at the beginning of an item.
    pub(crate) fn at(item: Item) -> Self {
        Self { item, anchor: Anchor::default(), cursor: Cursor::default(), across: 0 }
    }
}

/// Places that the way keeps behind the reader; the oldest fall off. Far more than a day's work, and still quick to write.
const LONGEST_WAY: usize = 1000;

/// The places visited, gone back and forward like footprints.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Way {
    back: Vec<Place>,
    /// Where the reader stands now.
    pub(crate) here: Place,
    forward: Vec<Place>,
}

impl Way {
    /// Begins a way at an item.
    pub(crate) fn from(item: Item) -> Self {
        Self { back: Vec::new(), here: Place::at(item), forward: Vec::new() }
    }

    /// Goes to another place; what lay ahead is given up.
    pub(crate) fn visit(&mut self, place: Place) {
        self.back.push(std::mem::replace(&mut self.here, place));
        if self.back.len() > LONGEST_WAY {
            self.back.remove(0);
        }
        self.forward.clear();
    }

    /// Steps back; says whether there was a place to step back to.
    pub(crate) fn step_back(&mut self) -> bool {
        let Some(place) = self.back.pop() else { return false };
        self.forward.push(std::mem::replace(&mut self.here, place));
        true
    }

    /// Steps forward again; says whether there was a place to step to.
    pub(crate) fn step_forward(&mut self) -> bool {
        let Some(place) = self.forward.pop() else { return false };
        self.back.push(std::mem::replace(&mut self.here, place));
        true
    }

    /// Says whether there is a place to step back to.
    pub(crate) fn has_back(&self) -> bool {
        !self.back.is_empty()
    }

    /// Returns the places behind, the nearest last, and those ahead, the nearest last.
    pub(crate) fn places(&self) -> (&[Place], &[Place]) {
        (&self.back, &self.forward)
    }

    /// Returns how many places lie behind.
    pub(crate) fn depth(&self) -> usize {
        self.back.len()
    }

    /// Gives every place the item that it is now; says whether the reader's own, or one before it, is still there.
    pub(crate) fn renew(&mut self, now: impl Fn(&Item) -> Option<Item>) -> bool {
        let renewed = |place: &Place| Some(Place { item: now(&place.item)?, ..place.clone() });
        self.back = self.back.iter().filter_map(renewed).collect();
        self.forward = self.forward.iter().filter_map(renewed).collect();
        if let Some(here) = renewed(&self.here) {
            self.here = here;
            return true;
        }
        let stepped = self.step_back();
        self.forward.pop();
        stepped
    }

    /// Keeps only the places that a book still has; says whether the reader's own is among them.
    pub(crate) fn keep(&mut self, still: impl Fn(&Item) -> bool) -> bool {
        self.back.retain(|place| still(&place.item));
        self.forward.retain(|place| still(&place.item));
        if still(&self.here.item) {
            return true;
        }
        let stepped = self.step_back();
        self.forward.pop();
        stepped
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forward_undoes_back() {
        let mut way = Way::from(Item::Contents);
        way.visit(Place::at(Item::Shelf));
        let there = way.clone();
        assert!(way.step_back());
        assert_eq!(way.here.item, Item::Contents);
        assert!(way.step_forward());
        assert_eq!(way, there);
        assert!(!way.step_forward());
    }

    #[test]
    fn a_way_forgets_only_its_oldest_places() {
        let mut way = Way::from(Item::Contents);
        for page in 0..=LONGEST_WAY as u32 {
            way.visit(Place::at(Item::Page(Page(page))));
        }
        while way.step_back() {}
        assert_eq!(way.here.item, Item::Page(Page(0)));
    }

    #[test]
    fn places_that_a_book_lost_fall_out_of_the_way() {
        let mut way = Way::from(Item::Contents);
        way.visit(Place::at(Item::Page(Page(900))));
        assert!(way.keep(|item| *item != Item::Page(Page(900))));
        assert_eq!(way.here.item, Item::Contents);
        assert!(!way.step_forward());
    }
}
