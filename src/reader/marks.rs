//! Marks that the reader set: a place with the words that it had, so that it is never taken for another one.

use serde::{Deserialize, Serialize};

use crate::reader::library::Library;
use crate::reader::place::Place;
use crate::reader::title;

/// One mark.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Marked {
    /// What the place was called.
    pub(crate) words: String,
    /// The place.
    pub(crate) place: Place,
}

impl Marked {
    /// Makes a mark of a place.
    pub(crate) fn of(library: &Library, place: &Place) -> Self {
        Self { words: title::of(library, &place.item), place: place.clone() }
    }

    /// Says whether the place is still what it was; a book that was read anew may have something else there.
    pub(crate) fn holds(&self, library: &Library) -> bool {
        library.has(&self.place.item) && title::of(library, &self.place.item) == self.words
    }
}
