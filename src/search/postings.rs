//! Where in a table the facts about a state or a place stand: facts in, groups of postings out, so that a question looks
//! only at what can agree or contradict.
//!
//! What a posting weighs is found in `rank`.

use std::collections::{BTreeSet, HashMap};
use std::ops::Range;

use crate::describe::{Degree, Frequency, Said, is_colour};
use crate::model::TaxonId;
use crate::search::table::{Cell, Row, Table};

/// Kinds of facts that are no states, in the order of their groups.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Presence,
    Measure,
    Count,
    Ratio,
    Season,
    Elevation,
    District,
    Status,
}

/// How many kinds there are.
const KINDS: usize = 8;

/// A fact as far as a state is weighed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Posting {
    /// The taxon, by its place.
    pub(crate) taxon: u32,
    /// The row of the table.
    pub(crate) row: u32,
    pub(crate) degree: Degree,
    pub(crate) frequency: Frequency,
    pub(crate) said: Said,
}

/// The postings of one place.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    /// The organ and its bearer; for districts and status the word.
    pub(crate) place: u32,
    postings: Range<u32>,
}

/// All facts, by what they say and of what.
#[derive(Debug)]
pub(crate) struct Postings {
    all: Vec<Posting>,
    groups: Vec<Group>,
    /// The groups of each state, by its word, and then of each kind.
    classes: Vec<Range<u32>>,
    /// Numbers of the words.
    numbers: HashMap<String, u32>,
    /// Words that are colours.
    colours: Vec<u32>,
    /// States of notes, which may be another taxon's.
    noted: BTreeSet<u32>,
}

impl Postings {
    /// Goes through a table once.
    pub(crate) fn of(table: &Table) -> Self {
        let words = table.words.len();
        let key_of = |row: &Row| key(row.place, &row.what, words);
        let keys: Vec<(u32, u32)> = table.rows.iter().map(key_of).collect();
        let places = table.places().count().max(words);
        let order = sorted((0..keys.len() as u32).collect(), places, |at| keys[at as usize].1);
        let order = sorted(order, words + KINDS, |at| keys[at as usize].0);
        let mut groups: Vec<Group> = Vec::new();
        let mut classes = vec![0..0; words + KINDS];
        let mut before = None;
        for (at, from) in order.iter().enumerate() {
            let (class, place) = keys[*from as usize];
            if before != Some((class, place)) {
                before = Some((class, place));
                let group = groups.len() as u32;
                groups.push(Group { place, postings: at as u32..at as u32 });
                let own = &mut classes[class as usize];
                *own = if own.start == own.end { group..group + 1 } else { own.start..group + 1 };
            }
            if let Some(group) = groups.last_mut() {
                group.postings.end = at as u32 + 1;
            }
        }
        let numbers = table.words.iter().enumerate().map(|(at, word)| (word.clone(), at as u32)).collect();
        let colours = (0..words as u32).filter(|at| is_colour(&table.words[*at as usize])).collect();
        let taxa = owners(table);
        let posting = |at: u32| {
            let Row { degree, frequency, said, .. } = table.rows[at as usize];
            Posting { taxon: taxa[at as usize], row: at, degree, frequency, said }
        };
        let all = order.into_iter().map(posting).collect();
        Self { all, groups, classes, numbers, colours, noted: table.noted_states().collect() }
    }

    /// Says whether any description or note uses a word as a state.
    pub(crate) fn says(&self, state: &str) -> bool {
        let says = |number| !self.of_state(number).is_empty() || self.noted.contains(&number);
        self.number(state).is_some_and(says)
    }

    /// Returns the number of a word.
    pub(crate) fn number(&self, word: &str) -> Option<u32> {
        self.numbers.get(word).copied()
    }

    /// Returns the words that are colours.
    pub(crate) fn colours(&self) -> &[u32] {
        &self.colours
    }

    /// Returns the groups of a state.
    pub(crate) fn of_state(&self, word: u32) -> &[Group] {
        let own = &self.classes[word as usize];
        &self.groups[own.start as usize..own.end as usize]
    }

    /// Returns the groups of all states.
    pub(crate) fn states(&self) -> &[Group] {
        let kinds = self.classes.len() - KINDS;
        let end = self.classes[..kinds].iter().map(|own| own.end).max().unwrap_or_default();
        &self.groups[..end as usize]
    }

    /// Returns the groups of a kind.
    pub(crate) fn of_kind(&self, kind: Kind) -> &[Group] {
        let own = &self.classes[self.classes.len() - KINDS + kind as usize];
        &self.groups[own.start as usize..own.end as usize]
    }

    /// Returns the postings of a group, in the order of the book.
    pub(crate) fn of_group(&self, group: &Group) -> &[Posting] {
        &self.all[group.postings.start as usize..group.postings.end as usize]
    }
}

/// Returns the taxon of every row, by its place.
fn owners(table: &Table) -> Vec<u32> {
    let mut taxa = Vec::with_capacity(table.rows.len());
    for taxon in 0..table.taxa.len() as u32 {
        let rows = table.of_taxon(TaxonId(taxon)).1;
        taxa.resize(taxa.len() + rows.len(), taxon);
    }
    taxa
}

/// Returns the class of a fact, its state's word or its kind behind all words, and its place in it.
fn key(place: u32, what: &Cell, words: usize) -> (u32, u32) {
    let kind = |kind: Kind| words as u32 + kind as u32;
    match *what {
        Cell::State(word) => (word, place),
        Cell::Presence => (kind(Kind::Presence), place),
        Cell::Measure(..) => (kind(Kind::Measure), place),
        Cell::Count(_) => (kind(Kind::Count), place),
        Cell::Ratio(..) => (kind(Kind::Ratio), place),
        Cell::Season(..) => (kind(Kind::Season), place),
        Cell::Elevation(_) => (kind(Kind::Elevation), place),
        Cell::District(word) => (kind(Kind::District), word),
        Cell::Status(word) => (kind(Kind::Status), word),
    }
}

/// Sorts by a key below `keys`; what has the same key keeps its order.
fn sorted(items: Vec<u32>, keys: usize, key: impl Fn(u32) -> u32) -> Vec<u32> {
    let mut starts = vec![0_u32; keys + 1];
    for item in &items {
        starts[key(*item) as usize + 1] += 1;
    }
    for at in 1..starts.len() {
        starts[at] += starts[at - 1];
    }
    let mut sorted = vec![0; items.len()];
    for item in items {
        let next = &mut starts[key(item) as usize];
        sorted[*next as usize] = item;
        *next += 1;
    }
    sorted
}
