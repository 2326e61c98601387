//! The facts of a flora as a table of our own beside the text index: every word once, facts by taxon, names.
//!
//! Weighing and ranking are done in `rank`.

use std::collections::{BTreeSet, HashMap};

use serde::{Deserialize, Serialize};

use crate::describe::{
    self, Degree, Dimension, EVERY_DISTRICT, Frequency, Months, Phase, Said, Span, Standing, Stated, What,
};
use crate::model::{CoupletId, Flora, KeyId, Page, Rank, Target, TaxonId};
use crate::name;
use crate::terms::Lexicon;

/// What the file begins with; a new number makes tables of older reading unreadable, so that they are built anew.
pub(crate) const MAGIC: &[u8] = b"ligule-facts-2\n";

/// No word.
const NONE: u32 = u32::MAX;

/// All facts of a flora.
#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct Table {
    /// Every organ, state, district and status word once.
    pub(crate) words: Vec<String>,
    /// Every pair of an organ and its bearer once, as places in `words`.
    places: Vec<(u32, u32)>,
    /// The taxa in the order of the book.
    pub(crate) taxa: Vec<Treated>,
    /// The facts by taxon.
    pub(crate) rows: Vec<Row>,
    /// Facts of notes that compare a taxon with others, by taxon: never its own (T46).
    compared: Vec<(TaxonId, Row)>,
    /// Names in folded form, in alphabetical order.
    pub(crate) names: Vec<Name>,
    /// The districts.
    districts: BTreeSet<u32>,
}

/// A taxon.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Treated {
    pub(crate) rank: Rank,
    pub(crate) name: String,
    pub(crate) parent: Option<TaxonId>,
    pub(crate) page: Page,
    /// Its facts begin here and end where those of the next taxon begin.
    pub(crate) first: u32,
    /// A couplet with a lead that ends at it.
    pub(crate) keyed: Option<(KeyId, CoupletId)>,
}

/// A fact.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Row {
    /// The organ and its bearer.
    pub(crate) place: u32,
    pub(crate) what: Cell,
    pub(crate) degree: Degree,
    pub(crate) frequency: Frequency,
    pub(crate) said: Said,
    pub(crate) section: u32,
    /// The first byte of the section's text that says it, and how many.
    pub(crate) start: u32,
    pub(crate) bytes: u32,
}

/// What a fact says, words by their place in the list.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) enum Cell {
    State(u32),
    Presence,
    Measure(Dimension, Span),
    Count(Span),
    Ratio(Span, Option<u32>),
    Season(Phase, Months),
    Elevation(Span),
    District(u32),
    Status(u32),
}

/// A name of a taxon.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Name {
    /// Folded for matching.
    pub(crate) key: String,
    pub(crate) taxon: TaxonId,
    pub(crate) kind: NameKind,
    /// As printed; empty for the accepted name.
    pub(crate) printed: String,
}

/// What sort of name it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub(crate) enum NameKind {
    Accepted,
    Vernacular,
    Synonym,
}

/// Words with their numbers, while a table is made.
#[derive(Default)]
struct Words {
    listed: Vec<String>,
    numbers: HashMap<String, u32>,
    places: Vec<(u32, u32)>,
    place_numbers: HashMap<(u32, u32), u32>,
}

impl Words {
    fn number(&mut self, word: &str) -> u32 {
        if let Some(number) = self.numbers.get(word) {
            return *number;
        }
        let number = self.listed.len() as u32;
        self.listed.push(word.to_owned());
        self.numbers.insert(word.to_owned(), number);
        number
    }

    fn place(&mut self, organ: Option<&str>, of: Option<&str>) -> u32 {
        let place = (organ.map_or(NONE, |word| self.number(word)), of.map_or(NONE, |word| self.number(word)));
        let places = &mut self.places;
        *self.place_numbers.entry(place).or_insert_with(|| {
            places.push(place);
            places.len() as u32 - 1
        })
    }
}

impl Table {
    /// Reads all facts of a flora.
    pub(crate) fn of(flora: &Flora) -> Self {
        let lexicon = Lexicon::with_flora(&flora.title, &flora.glossary);
        let mut words = Words::default();
        let (mut rows, mut compared) = (Vec::new(), Vec::new());
        let mut firsts = vec![0; flora.taxa.len() + 1];
        for stated in describe::stated(flora, &lexicon) {
            match stated.standing {
                Standing::Own => {
                    firsts[stated.taxon.index() + 1] += 1;
                    rows.push(row(stated, &mut words));
                }
                Standing::Compared => compared.push((stated.taxon, row(stated, &mut words))),
            }
        }
        for at in 1..firsts.len() {
            firsts[at] += firsts[at - 1];
        }
        let keyed = keyed(flora);
        let treated = |at: usize| Treated {
            rank: flora.taxa[at].rank,
            name: flora.taxa[at].name.clone(),
            parent: flora.taxa[at].parent,
            page: flora.taxa[at].pages.0,
            first: firsts[at],
            keyed: keyed.get(&flora.taxa[at].id).copied(),
        };
        let taxa = (0..flora.taxa.len()).map(treated).collect();
        let district = |row: &Row| match row.what {
            Cell::District(word) => Some(word),
            _ => None,
        };
        let districts = rows.iter().filter_map(district).collect();
        Self {
            words: words.listed,
            places: words.places,
            taxa,
            rows,
            compared,
            names: names(flora),
            districts,
        }
    }

    /// Returns the facts of a taxon with the number of the first.
    pub(crate) fn of_taxon(&self, id: TaxonId) -> (usize, &[Row]) {
        let first = self.taxa[id.index()].first as usize;
        let end = self.taxa.get(id.index() + 1).map_or(self.rows.len(), |next| next.first as usize);
        (first, &self.rows[first..end])
    }

    /// Returns the facts of the notes on a taxon.
    pub(crate) fn compared_of(&self, id: TaxonId) -> &[(TaxonId, Row)] {
        let first = self.compared.partition_point(|(taxon, _)| *taxon < id);
        let end = self.compared.partition_point(|(taxon, _)| *taxon <= id);
        &self.compared[first..end]
    }

    /// Returns the states that notes name, as words.
    pub(crate) fn noted_states(&self) -> impl Iterator<Item = u32> {
        let state = |(_, row): &(TaxonId, Row)| match row.what {
            Cell::State(word) => Some(word),
            _ => None,
        };
        self.compared.iter().filter_map(state)
    }

    /// Returns a place as its two words.
    pub(crate) fn place(&self, place: u32) -> (Option<&str>, Option<&str>) {
        let (organ, of) = self.places[place as usize];
        (self.word(organ), self.word(of))
    }

    /// Returns every place as its two words.
    pub(crate) fn places(&self) -> impl Iterator<Item = (Option<&str>, Option<&str>)> {
        self.places.iter().map(|(organ, of)| (self.word(*organ), self.word(*of)))
    }

    /// Returns the names of the districts, without that of all of them.
    pub(crate) fn districts(&self) -> impl Iterator<Item = &str> {
        self.districts.iter().filter_map(|word| self.word(*word)).filter(|name| *name != EVERY_DISTRICT)
    }

    /// Returns the district of a name, as the flora spells it.
    pub(crate) fn district(&self, name: &str) -> Option<&str> {
        self.districts().find(|own| own.eq_ignore_ascii_case(name))
    }

    /// Returns a word by its number.
    pub(crate) fn word(&self, number: u32) -> Option<&str> {
        self.words.get(number as usize).map(String::as_str)
    }

    /// Returns what a cell says, in words.
    pub(crate) fn what(&self, cell: &Cell) -> What {
        let word = |number: u32| self.word(number).unwrap_or_default().to_owned();
        match *cell {
            Cell::State(state) => What::State(word(state)),
            Cell::Presence => What::Presence,
            Cell::Measure(dimension, span) => What::Measure(dimension, span),
            Cell::Count(span) => What::Count(span),
            Cell::Ratio(span, to) => What::Ratio(span, to.map(word)),
            Cell::Season(phase, months) => What::Season(phase, months),
            Cell::Elevation(span) => What::Elevation(span),
            Cell::District(name) => What::District(word(name)),
            Cell::Status(status) => What::Status(word(status)),
        }
    }
}

fn row(stated: Stated, words: &mut Words) -> Row {
    let fact = stated.fact;
    let what = match fact.what {
        What::State(state) => Cell::State(words.number(&state)),
        What::Presence => Cell::Presence,
        What::Measure(dimension, span) => Cell::Measure(dimension, span),
        What::Count(span) => Cell::Count(span),
        What::Ratio(span, to) => Cell::Ratio(span, to.map(|to| words.number(&to))),
        What::Season(phase, months) => Cell::Season(phase, months),
        What::Elevation(span) => Cell::Elevation(span),
        What::District(name) => Cell::District(words.number(&name)),
        What::Status(status) => Cell::Status(words.number(&status)),
    };
    Row {
        place: words.place(fact.organ, fact.of),
        what,
        degree: fact.degree,
        frequency: fact.frequency,
        said: fact.said,
        section: stated.section,
        start: fact.range.start as u32,
        bytes: fact.range.len() as u32,
    }
}

fn names(flora: &Flora) -> Vec<Name> {
    let mut names = Vec::new();
    for taxon in &flora.taxa {
        let vernacular = taxon.vernacular.iter().map(|name| (name, NameKind::Vernacular));
        let synonyms = taxon.synonyms.iter().map(|name| (name, NameKind::Synonym));
        for (name, kind) in
            std::iter::once((&taxon.name, NameKind::Accepted)).chain(vernacular).chain(synonyms)
        {
            let printed = if kind == NameKind::Accepted { String::new() } else { name.clone() };
            names.push(Name { key: name::fold(name), taxon: taxon.id, kind, printed });
        }
    }
    names.sort_by(|one: &Name, other: &Name| one.key.cmp(&other.key).then(one.taxon.cmp(&other.taxon)));
    names
}

/// Returns for each taxon the first couplet with a lead that ends at it.
fn keyed(flora: &Flora) -> HashMap<TaxonId, (KeyId, CoupletId)> {
    let mut keyed = HashMap::new();
    for key in &flora.keys {
        for (at, couplet) in key.couplets.iter().enumerate() {
            for target in couplet.leads.iter().flat_map(|lead| std::iter::once(&lead.to).chain(&lead.also)) {
                if let Target::Taxon { id: Some(id), .. } = target {
                    keyed.entry(*id).or_insert((key.id, CoupletId(at as u32)));
                }
            }
        }
    }
    keyed
}
