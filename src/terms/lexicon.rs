//! All entries by source, the most trusted source first, and the look-up by any word form.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::model::Entry;
use crate::terms::form::{Kin, fold};
use crate::terms::layer::Layer;
use crate::terms::near::distance;
use crate::terms::{Origin, Own, Term, TermId, built_in, flora};

/// How many "see" are followed one after another; more is a circle.
const MOST_SENDERS: usize = 4;

/// Letters of a misspelled word for each letter that may be wrong in it.
const LETTERS_PER_SLIP: usize = 4;

/// Letters of a word that no plural and no hyphen of it changes (`genus`, `genera`).
const STEM: usize = 3;

/// All entries in the order of trust.
#[derive(Clone, Debug, Default)]
pub struct Lexicon {
    layers: Vec<Placed>,
}

/// What a lexicon is made of besides the built-in glossary; everything has a default.
#[derive(Clone, Copy, Debug, Default)]
pub struct Sources<'a> {
    /// The title of the flora that is read, and its own entries.
    pub flora: Option<(&'a str, &'a [Entry])>,
    /// The reader's own entries.
    pub own: Option<&'a Own>,
    /// Titles of the other floras on the shelf, and their entries.
    pub others: &'a [(String, Vec<Entry>)],
}

/// A layer with the id of its first entry.
#[derive(Clone, Debug)]
struct Placed {
    first: u32,
    layer: Arc<Layer>,
}

impl Lexicon {
    /// Returns the glossary that ligule brings along.
    pub fn built_in() -> Self {
        Self::of(vec![built_in::layer()])
    }

    /// Returns a flora's own entries followed by the built-in glossary.
    pub fn with_flora(title: &str, entries: &[Entry]) -> Self {
        Self::of_sources(&Sources { flora: Some((title, entries)), ..Sources::default() })
    }

    /// Returns the entries of all sources: the flora's own, the reader's, those of other floras, the built-in ones.
    pub fn of_sources(sources: &Sources<'_>) -> Self {
        let known = built_in::layer();
        let printed = |origin: Origin, entries: &[Entry]| Arc::new(flora::layer(&origin, entries, &known));
        let flora = sources.flora.map(|(title, entries)| printed(Origin::Flora(title.to_owned()), entries));
        let own = sources.own.filter(|own| !own.terms.is_empty());
        let own = own.map(|own| Arc::new(Layer::new(own.terms.clone())));
        let others = sources.others.iter().filter(|(_, entries)| !entries.is_empty());
        let others = others.map(|(title, entries)| printed(Origin::Other(title.clone()), entries));
        let mut layers: Vec<Arc<Layer>> = flora.into_iter().chain(own).chain(others).collect();
        layers.push(known);
        Self::of(layers)
    }

    /// Returns an entry by its id.
    ///
    /// # Panics
    ///
    /// Where the id is of another lexicon.
    pub fn get(&self, id: TermId) -> &Term {
        let after = self.layers.partition_point(|placed| placed.first <= id.0);
        let placed = &self.layers[after - 1];
        &placed.layer.terms()[(id.0 - placed.first) as usize]
    }

    /// Returns the entries that have the word in any form, the most trusted first; what sends on is followed.
    ///
    /// An entry that sends on to a word which no source has is returned itself: its printed words are all there is.
    pub fn look_up(&self, word: &str) -> Vec<TermId> {
        self.find(&fold(word))
    }

    /// Returns the most trusted entry with exactly this headword, upper and lower case alike.
    pub fn by_name(&self, name: &str) -> Option<TermId> {
        let key = fold(name);
        let named = |id: &TermId| fold(&self.get(*id).name) == key;
        self.all(&key, Kin::Same).find(named)
    }

    /// Returns up to `most` entries whose headwords are spelled most like the word, for "did you mean".
    pub fn nearest(&self, word: &str, most: usize) -> Vec<TermId> {
        let key = fold(word);
        let slips = (key.chars().count() / LETTERS_PER_SLIP).max(1);
        let mut near: Vec<(usize, &str, TermId)> = Vec::new();
        for id in self.ids() {
            let term = self.get(id);
            let least = std::iter::once(&term.name).chain(&term.forms).filter_map(|form| {
                let form = fold(form);
                distance(&key, &form, slips).or_else(|| form.starts_with(&*key).then_some(slips + 1))
            });
            near.extend(least.min().map(|steps| (steps, term.name.as_str(), id)));
        }
        near.sort_unstable();
        let mut ids = Vec::new();
        for (_, _, id) in near {
            self.follow(id, MOST_SENDERS, &mut ids);
        }
        ids.truncate(most);
        ids
    }

    /// Returns the headwords in alphabetical order, each with its most trusted entry.
    pub fn names(&self) -> impl Iterator<Item = (&str, TermId)> {
        let mut names: Vec<_> = self.ids().map(|id| (fold(&self.get(id).name), id)).collect();
        names.sort_unstable();
        names.dedup_by(|later, earlier| later.0 == earlier.0);
        names.into_iter().map(|(_, id)| (self.get(id).name.as_str(), id))
    }

    /// Returns every entry of every source, the most trusted first.
    pub fn entries(&self) -> impl Iterator<Item = (TermId, &Term)> {
        self.ids().map(|id| (id, self.get(id)))
    }

    /// Says whether the word is a form of some entry.
    pub fn knows(&self, word: &str) -> bool {
        let key = fold(word);
        [Kin::Same, Kin::Derived].into_iter().any(|kin| self.all(&key, kin).next().is_some())
    }

    /// Returns what [`Self::look_up`] does, for a word that is folded already.
    pub(crate) fn find(&self, key: &str) -> Vec<TermId> {
        let mut ids = Vec::new();
        for kin in [Kin::Same, Kin::Derived] {
            for id in self.all(key, kin) {
                self.follow(id, MOST_SENDERS, &mut ids);
            }
            if !ids.is_empty() {
                return ids;
            }
        }
        if key.contains(' ') {
            for id in self.all(&key.replace(' ', ""), Kin::Same) {
                self.follow(id, MOST_SENDERS, &mut ids);
            }
        }
        ids
    }

    /// Returns how words that lead to these entries begin, also those of entries that send on to them, folded.
    ///
    /// It is for telling quickly that a text has none of them: letters that plurals change are left out.
    pub(crate) fn stems(&self, ids: &BTreeSet<TermId>) -> Vec<String> {
        let mut stems = BTreeSet::new();
        for id in self.ids() {
            let mut led = Vec::new();
            self.follow(id, MOST_SENDERS, &mut led);
            if led.iter().any(|led| ids.contains(led)) {
                let term = self.get(id);
                let words = std::iter::once(&term.name).chain(&term.forms);
                stems.extend(words.map(|word| fold(word).chars().take(STEM).collect::<String>()));
            }
        }
        stems.into_iter().collect()
    }

    /// Returns the number of words of the longest phrase that begins with a folded word; 0 where none does.
    pub(crate) fn longest_phrase(&self, first: &str) -> usize {
        self.layers.iter().map(|placed| placed.layer.longest_phrase(first)).max().unwrap_or(0)
    }

    fn of(layers: Vec<Arc<Layer>>) -> Self {
        let mut next = 0;
        let place = |layer: Arc<Layer>| {
            let first = next;
            next += layer.terms().len() as u32;
            Placed { first, layer }
        };
        Self { layers: layers.into_iter().map(place).collect() }
    }

    fn ids(&self) -> impl Iterator<Item = TermId> {
        let count = self.layers.last().map_or(0, |placed| placed.first + placed.layer.terms().len() as u32);
        (0..count).map(TermId)
    }

    /// Returns the entries that a folded word is a form of, the most trusted first.
    fn all<'a>(&'a self, key: &'a str, kin: Kin) -> impl Iterator<Item = TermId> + 'a {
        let find = move |placed: &'a Placed| {
            let found = placed.layer.find(key, kin).into_iter();
            found.map(|at| TermId(placed.first + at))
        };
        self.layers.iter().flat_map(find)
    }

    /// Adds an entry, or what it sends on to, unless it is there already.
    fn follow(&self, id: TermId, most: usize, ids: &mut Vec<TermId>) {
        let before = ids.len();
        if let (Some(see), Some(most)) = (&self.get(id).see, most.checked_sub(1)) {
            let key = fold(see);
            let others: Vec<TermId> = self.all(&key, Kin::Same).filter(|other| *other != id).collect();
            for other in &others {
                self.follow(*other, most, ids);
            }
            if ids.len() > before || others.iter().any(|other| ids.contains(other)) {
                return;
            }
        }
        if !ids.contains(&id) {
            ids.push(id);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{EntryId, Page, Text};

    fn entry((at, (term, definition, see)): (usize, &(&str, &str, Option<&str>))) -> Entry {
        Entry {
            id: EntryId(at as u32),
            term: (*term).to_owned(),
            variants: Vec::new(),
            definition: Text::plain(definition, Page(7)),
            see: see.map(str::to_owned),
        }
    }

    fn flora(entries: &[(&str, &str, Option<&str>)]) -> Lexicon {
        let entries: Vec<Entry> = entries.iter().enumerate().map(entry).collect();
        Lexicon::with_flora("Flora of Morvane", &entries)
    }

    #[track_caller]
    fn check_look_up(lexicon: &Lexicon, word: &str, expected: &[&str]) {
        let said = |id: TermId| {
            let term = lexicon.get(id);
            format!("{} ({})", term.name, term.source())
        };
        let found: Vec<String> = lexicon.look_up(word).into_iter().map(said).collect();
        assert_eq!(found, expected, "{word}");
    }

    #[test]
    fn the_floras_own_entry_comes_before_the_built_in_one() {
        let lexicon = flora(&[("Stigma", "the tip that takes pollen", None)]);
        let both = ["Stigma (this flora, p. 7)", "stigma (ligule's glossary)"];
        check_look_up(&lexicon, "stigma", &both);
        check_look_up(&lexicon, "stigmata", &both);
        check_look_up(&lexicon, "STIGMAS", &both);
    }

    #[test]
    fn the_readers_own_entries_come_before_those_of_other_floras_and_those_before_ours() {
        let own =
            Own::read("[[term]]\nname = \"stigma\"\n[[term.sense]]\ndefinition = \"the sticky knob\"\n");
        let others =
            [("Flora of Vane".to_owned(), vec![entry((0, &("Stigma", "where pollen lands", None)))])];
        let here = [entry((0, &("Stigma", "the tip that takes pollen", None)))];
        let sources = Sources { flora: Some(("Flora of Sule", &here)), own: Some(&own), others: &others };
        let expected = [
            "Stigma (this flora, p. 7)",
            "stigma (your own glossary)",
            "Stigma (Flora of Vane, p. 7)",
            "stigma (ligule's glossary)",
        ];
        check_look_up(&Lexicon::of_sources(&sources), "stigmata", &expected);
    }

    #[test]
    fn see_leads_from_an_own_entry_into_the_built_in_glossary() {
        let own = Own::read("[[term]]\nname = \"zonk\"\nsee = \"calyx\"\n");
        let lexicon = Lexicon::of_sources(&Sources { own: Some(&own), ..Sources::default() });
        check_look_up(&lexicon, "zonks", &["calyx (ligule's glossary)"]);
    }

    #[test]
    fn see_is_followed_and_the_sender_left_out() {
        let lexicon = flora(&[("Arista", "see zonk", Some("zonk")), ("Zonk", "a ridge", None)]);
        check_look_up(&lexicon, "arista", &["Zonk (this flora, p. 7)", "awn (ligule's glossary)"]);
    }

    #[test]
    fn see_leads_from_the_flora_into_the_built_in_glossary() {
        let lexicon = flora(&[("Zonk", "see calyx", Some("calyx"))]);
        check_look_up(&lexicon, "zonk", &["calyx (ligule's glossary)"]);
    }

    #[test]
    fn a_sender_to_nowhere_is_shown_with_its_printed_words() {
        let lexicon = flora(&[("Zonk", "see zink", Some("zink"))]);
        check_look_up(&lexicon, "zonk", &["Zonk (this flora, p. 7)"]);
    }

    #[test]
    fn senders_in_a_circle_end() {
        let lexicon = flora(&[("Zink", "see zonk", Some("zonk")), ("Zonk", "see zink", Some("zink"))]);
        assert_eq!(lexicon.look_up("zonk").len(), 1);
    }

    #[test]
    fn a_headword_printed_in_the_plural_is_found_by_its_singular() {
        let lexicon = flora(&[("Bractlets", "small bracts", None), ("Zonks", "odd things", None)]);
        assert_eq!(lexicon.get(lexicon.look_up("bractlet")[0]).name, "Bractlets");
        check_look_up(&lexicon, "zonk", &[]);
    }

    #[test]
    fn an_adverb_yields_to_a_headword_of_its_own() {
        let lexicon = flora(&[("Zonk", "odd", None), ("Zonkly", "in an odd way", None)]);
        check_look_up(&lexicon, "zonkly", &["Zonkly (this flora, p. 7)"]);
        check_look_up(&flora(&[("Zonk", "odd", None)]), "zonkly", &["Zonk (this flora, p. 7)"]);
    }

    #[test]
    fn hyphens_and_case_make_no_difference() {
        let lexicon = Lexicon::built_in();
        check_look_up(&lexicon, "Half inferior", &["half-inferior (ligule's glossary)"]);
        check_look_up(&lexicon, "halfinferior", &["half-inferior (ligule's glossary)"]);
        check_look_up(&lexicon, "sub-shrubs", &["subshrub (ligule's glossary)"]);
    }

    #[test]
    fn words_that_only_end_like_plurals_are_themselves() {
        let lexicon = Lexicon::built_in();
        check_look_up(&lexicon, "axis", &["axis (ligule's glossary)"]);
        check_look_up(&lexicon, "glabrous", &["glabrous (ligule's glossary)"]);
        check_look_up(&lexicon, "axi", &[]);
        check_look_up(&lexicon, "glabrou", &[]);
    }

    #[test]
    fn a_misspelled_word_has_near_ones() {
        let lexicon = Lexicon::built_in();
        let near = |word| {
            lexicon.nearest(word, 3).into_iter().map(|id| lexicon.get(id).name.as_str()).collect::<Vec<_>>()
        };
        assert_eq!(near("calix")[0], "calyx");
        assert_eq!(near("lancolate")[0], "lanceolate");
        assert_eq!(near("stigmatta")[0], "stigma");
        assert!(near("").len() <= 3 && near("qqqqqqqqqqqq").is_empty());
    }

    #[test]
    fn headwords_come_in_alphabetical_order_and_once() {
        let lexicon = flora(&[("Calyx", "the sepals together", None)]);
        let names: Vec<String> = lexicon.names().map(|(name, _)| fold(name).into_owned()).collect();
        assert!(names.is_sorted_by(|one, next| one < next));
        let (name, id) =
            lexicon.names().find(|(name, _)| name.eq_ignore_ascii_case("calyx")).expect("it is there");
        assert_eq!((name, lexicon.by_name("calyx")), ("Calyx", Some(id)));
    }
}
