//! What the book's own conventions are: learned from the book as it is set, printed by `check` as TOML, and handed back with
//! entries changed, which then steer the reading.

mod file;
mod learn;
mod run_in;
mod steer;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

pub use file::Error;
pub(crate) use learn::{Found, learn};
pub(crate) use run_in::cut_again;
pub(crate) use steer::{GlossaryLook, HeadLook, KeyStyle, Layout, Steer, Way};

use crate::model::Rank;

/// The conventions of one book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Profile {
    /// Size of the running text, points.
    pub body_size: f32,
    /// Distances from the left edge of the column at which lines begin, points, in order.
    pub indent_steps: Vec<f32>,
    /// Pages by number of columns; learned by the layout, and not to be changed here.
    pub columns: BTreeMap<u8, u32>,
    /// How headings of each rank look, the commonest look first.
    pub(crate) headings: BTreeMap<Rank, Vec<HeadLook>>,
    /// How keys are set that are not listed.
    pub(crate) keys: KeyStyle,
    /// Keys that are set otherwise, by title.
    pub(crate) odd_keys: Vec<(String, KeyStyle)>,
    /// Run-in headings as printed, and the word for what they head.
    pub run_in: BTreeMap<String, String>,
    /// How the headwords of the glossary are set; none for a book without one.
    pub(crate) glossary: Option<GlossaryLook>,
    /// Signs that stand before names, and what the book says they mean.
    pub signs: BTreeMap<String, String>,
}

/// What a reader says of a book's conventions: only what is said counts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Overrides {
    body_size: Option<f32>,
    indent_steps: Option<Vec<f32>>,
    headings: BTreeMap<Rank, Vec<HeadLook>>,
    keys: KeyStyle,
    odd_keys: Vec<(String, KeyStyle)>,
    run_in: BTreeMap<String, String>,
    glossary: GlossaryLook,
    signs: BTreeMap<String, String>,
}

impl Overrides {
    /// Reads a profile or part of one.
    pub fn read(text: &str) -> Result<Self, Error> {
        file::read(text)
    }

    /// Returns what differs from the conventions learned; that alone steers, so that a profile handed back as it was
    /// printed changes nothing.
    pub(crate) fn beside(&self, learned: &Profile) -> Steer {
        let style = |style: &KeyStyle, learned: &KeyStyle| style.beside(learned);
        let of_key = |(title, said): &(String, KeyStyle)| {
            let other = learned.odd_keys.iter().find(|(name, _)| name == title);
            (title.clone(), said.beside(other.map_or(&learned.keys, |(_, style)| style)))
        };
        Steer {
            body_size: self.body_size.filter(|size| !near(*size, learned.body_size)),
            indent_steps: self.indent_steps.clone().filter(|steps| *steps != learned.indent_steps),
            headings: changed(&self.headings, &learned.headings),
            keys: style(&self.keys, &learned.keys),
            odd_keys: self
                .odd_keys
                .iter()
                .map(of_key)
                .filter(|(_, style)| *style != KeyStyle::default())
                .collect(),
            run_in: changed(&self.run_in, &learned.run_in),
            glossary: self.glossary.beside(&learned.glossary.unwrap_or_default()),
            signs: changed(&self.signs, &learned.signs),
        }
    }

    /// Writes what is said over the conventions learned.
    pub(crate) fn over(&self, learned: Profile) -> Profile {
        let mut profile = learned;
        profile.body_size = self.body_size.unwrap_or(profile.body_size);
        profile.indent_steps = self.indent_steps.clone().unwrap_or(profile.indent_steps);
        profile.headings.extend(self.headings.clone());
        profile.keys = self.keys.clone().over(&profile.keys);
        for (title, style) in &self.odd_keys {
            match profile.odd_keys.iter_mut().find(|(other, _)| other == title) {
                Some((_, learned)) => *learned = style.clone().over(learned),
                None => profile.odd_keys.push((title.clone(), style.clone().over(&profile.keys))),
            }
        }
        profile.run_in.extend(self.run_in.clone());
        profile.glossary = profile.glossary.map(|learned| self.glossary.over(learned));
        profile.signs.extend(self.signs.clone());
        profile
    }
}

/// Points by which two sizes may differ and still be the same.
const SAME_SIZE: f32 = 0.05;

fn near(one: f32, other: f32) -> bool {
    (one - other).abs() < SAME_SIZE
}

fn changed<K: Ord + Clone, V: PartialEq + Clone>(
    said: &BTreeMap<K, V>,
    learned: &BTreeMap<K, V>,
) -> BTreeMap<K, V> {
    let differ = said.iter().filter(|(name, value)| learned.get(name) != Some(value));
    differ.map(|(name, value)| (name.clone(), value.clone())).collect()
}
