//! Which candidates for headings are believed: by what keys call them, by how many look alike, by what stands around
//! them (T6). How a block comes to be a candidate is decided in `heading`.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::Rank;
use crate::name;

use super::heading::{HeadName, Heading, Opens};
use super::look::Look;
use super::profile::{HeadLook, Steer};

/// How headings of one sort look.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(clippy::struct_excessive_bools, reason = "independent properties of type")]
pub(super) struct Sort {
    /// Rank that the form of the name shows.
    pub(super) form: Rank,
    /// A number stands before the name.
    pub(super) numbered: bool,
    /// The name is bold.
    pub(super) bold: bool,
    /// The name is in italics.
    pub(super) italic: bool,
    /// The name is in capitals or small capitals.
    pub(super) capitals: bool,
    /// Its type is larger than the body's.
    pub(super) larger: bool,
    /// Its lines are centred.
    pub(super) centred: bool,
    /// The treatment goes on in the same block.
    pub(super) run_in: bool,
}

impl Sort {
    /// Returns the look as a profile tells it.
    pub(super) fn look(self) -> HeadLook {
        let words = [
            (self.numbered, "numbered"),
            (self.bold, "bold"),
            (self.italic, "italic"),
            (self.capitals, "capitals"),
            (self.larger, "larger"),
            (self.centred, "centred"),
            (self.run_in, "run-in"),
        ];
        HeadLook(words.into_iter().filter(|(holds, _)| *holds).map(|(_, word)| word).collect())
    }

    fn in_own_type(self) -> bool {
        self.bold || self.italic || self.capitals || self.larger
    }
}

/// A block that may be a heading.
pub(super) struct Candidate {
    /// The heading that it would be.
    pub(super) heading: Heading,
    /// How it looks.
    pub(super) sort: Sort,
    /// Whether a key leads to its name.
    pub(super) keyed: bool,
    /// What is seen of its block.
    pub(super) look: Look,
}

impl Candidate {
    fn authored(&self) -> bool {
        match &self.heading.name {
            HeadName::Full(parsed) => parsed.authorship.is_some(),
            HeadName::Below { authorship, .. } => authorship.is_some(),
        }
    }

    /// A name without author and number, of a rank that is not printed again and again; a genus that keys lead to may
    /// be.
    fn is_bare(&self) -> bool {
        let full = matches!(&self.heading.name, HeadName::Full(parsed) if parsed.rank != Rank::Family);
        let genus = self.keyed && self.sort.form < Rank::Species;
        full && !self.authored() && !genus && self.heading.number.is_none()
    }

    fn folded(&self) -> String {
        match &self.heading.name {
            HeadName::Full(parsed) => name::fold(&parsed.name),
            HeadName::Below { epithet, .. } => epithet.clone(),
        }
    }

    fn genus(&self) -> Option<String> {
        match &self.heading.name {
            HeadName::Full(_) => self.folded().split(' ').next().map(str::to_owned),
            HeadName::Below { .. } => None,
        }
    }

    fn is_abbreviated(&self) -> bool {
        match &self.heading.name {
            HeadName::Full(parsed) => parsed.name.split(' ').next().is_some_and(|genus| genus.ends_with('.')),
            HeadName::Below { .. } => false,
        }
    }
}

/// Share of a sort's headings that must be named in keys for the sort to be believed.
const KEYED_SHARE: f32 = 0.4;
/// The same for names on centred lines of their own (measured on a text layer with a tenth of its words misread).
const KEYED_SHARE_ALONE: f32 = 0.15;
/// Times that words without an author may head something before they are taken for a running head.
const RUNNING: usize = 4;
/// Headings of a sort that must be there when no key can witness.
const UNWITNESSED: usize = 3;

/// The candidates of a book and what speaks for them.
pub(super) struct Evidence {
    /// The candidates in the order of the book.
    pub(super) candidates: Vec<Candidate>,
    sorts: BTreeMap<Sort, (usize, usize)>,
    no_keys: bool,
}

impl Evidence {
    /// Weighs the candidates; those that can be nothing but something else are left out.
    pub(super) fn new(candidates: Vec<Candidate>, no_keys: bool) -> Self {
        let candidates = without_vernaculars(without_running_heads(candidates));
        let mut sorts: BTreeMap<Sort, (usize, usize)> = BTreeMap::new();
        for candidate in &candidates {
            let count = sorts.entry(candidate.sort).or_default();
            count.0 += 1;
            count.1 += usize::from(candidate.keyed);
        }
        Self { candidates, sorts, no_keys }
    }

    /// Says of each candidate whether it is believed by itself.
    pub(super) fn believed(&self, steer: &Steer) -> Vec<bool> {
        let believed = self.candidates.iter().map(|candidate| {
            if let Some(said) = steer.heading(candidate.sort.form, &candidate.sort.look()) {
                return said;
            }
            let all = self.sorts.get(&candidate.sort).map_or(0, |count| count.0);
            // An abbreviated name without a number opens sentences as well as treatments.
            let bare = candidate.heading.number.is_none() && candidate.is_abbreviated();
            match candidate.heading.opens {
                Opens::Nothing => candidate.sort.in_own_type(),
                Opens::Treatment => {
                    believe(candidate, self.good_sort(candidate)) && (!bare || all >= UNWITNESSED)
                }
            }
        });
        believed.collect()
    }

    /// Adds the genera whose species are believed; `over` says which blocks are lines above a heading.
    pub(super) fn kept(&self, believed: &[bool], over: &dyn Fn(usize) -> bool, steer: &Steer) -> Vec<bool> {
        let sure = self.candidates.iter().zip(believed).filter(|(_, good)| **good);
        let genera: BTreeSet<String> = sure
            .filter(|(candidate, _)| candidate.sort.form >= Rank::Species)
            .filter_map(|(candidate, _)| candidate.genus())
            .collect();
        let weak = |candidate: &Candidate| {
            let shown = self.good_sort(candidate)
                || candidate.authored() && candidate.sort.in_own_type()
                || candidate.look.stands_out() && !over(candidate.heading.block);
            candidate.sort.form == Rank::Genus
                && steer.heading(Rank::Genus, &candidate.sort.look()).is_none()
                && shown
                && candidate.genus().is_some_and(|genus| genera.contains(&genus))
        };
        self.candidates.iter().zip(believed).map(|(candidate, good)| *good || weak(candidate)).collect()
    }

    fn good_sort(&self, candidate: &Candidate) -> bool {
        let (all, witnessed) = self.sorts.get(&candidate.sort).copied().unwrap_or_default();
        let share = witnessed as f32 / all.max(1) as f32;
        let sort = candidate.sort;
        // A name with its author alone on centred lines is a heading even where keys are read badly.
        let alone = sort.centred && !sort.run_in && candidate.authored() && sort.form >= Rank::Species;
        if self.no_keys {
            let plain = sort.numbered && candidate.authored() && sort.in_own_type();
            all >= UNWITNESSED || plain
        } else {
            share >= KEYED_SHARE || alone && all >= UNWITNESSED && share >= KEYED_SHARE_ALONE
        }
    }
}

/// Words that stand alone on many pages are a running head that was left, not a name.
fn without_running_heads(candidates: Vec<Candidate>) -> Vec<Candidate> {
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    for candidate in candidates.iter().filter(|candidate| candidate.is_bare()) {
        *names.entry(candidate.folded()).or_default() += 1;
    }
    let running = |candidate: &Candidate| {
        candidate.is_bare() && names.get(&candidate.folded()).is_some_and(|count| *count >= RUNNING)
    };
    candidates.into_iter().filter(|candidate| !running(candidate)).collect()
}

/// Words in capitals without author, number or place in a key, right below the heading of a species that has one, are
/// its vernacular name.
fn without_vernaculars(candidates: Vec<Candidate>) -> Vec<Candidate> {
    let mut kept: Vec<Candidate> = Vec::new();
    for candidate in candidates {
        let below = kept.last().is_some_and(|last| {
            let named = last.authored() || last.heading.number.is_some();
            named && last.sort.form >= Rank::Genus && last.heading.block + 1 == candidate.heading.block
        });
        let called = candidate.sort.capitals && candidate.is_bare() && !candidate.keyed;
        if !(below && called && candidate.sort.form >= Rank::Species) {
            kept.push(candidate);
        }
    }
    kept
}

fn believe(candidate: &Candidate, sort_good: bool) -> bool {
    let sort = candidate.sort;
    match sort.form {
        Rank::Family | Rank::Subfamily | Rank::Tribe => {
            candidate.look.short || candidate.heading.run_in && sort.numbered
        }
        Rank::Genus | Rank::Subgenus | Rank::Section => {
            candidate.keyed && (sort_good || sort.numbered) || sort.numbered && sort_good
        }
        Rank::Species | Rank::Hybrid => sort_good || candidate.keyed && sort.numbered,
        Rank::Subspecies | Rank::Variety | Rank::Form => {
            let termed = matches!(candidate.heading.name, HeadName::Below { .. }) && sort.in_own_type();
            sort_good || candidate.keyed || sort.numbered || termed
        }
    }
}
