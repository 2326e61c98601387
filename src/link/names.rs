//! Scientific names of the flora in a text: full, or with the genus abbreviated. Names the flora lacks lead nowhere.

use std::collections::{BTreeSet, HashMap};

use crate::link::words::{Joint, Word, words};
use crate::link::{Leads, Mark, Scene};
use crate::model::TaxonId;

/// Letters of an abbreviated genus at most (`S.`, `St.`, `Str.`).
const LONGEST_ABBREVIATION: usize = 3;

/// Terms that join the parts of a name, with the spelling that stands for each.
const CONNECTING: &[(&str, &str)] = &[
    ("agg", "agg"),
    ("f", "f"),
    ("forma", "f"),
    ("nothosubsp", "nothosubsp"),
    ("nothovar", "nothovar"),
    ("sect", "sect"),
    ("section", "sect"),
    ("ser", "ser"),
    ("ssp", "subsp"),
    ("subg", "subg"),
    ("subgen", "subg"),
    ("subgenus", "subg"),
    ("subsect", "subsect"),
    ("subsp", "subsp"),
    ("subvar", "subvar"),
    ("var", "var"),
];

/// The names of a flora.
#[derive(Clone, Debug, Default)]
pub(crate) struct Names {
    /// Names by their first word, the longest first.
    by_first: HashMap<String, Vec<Name>>,
    /// First words of names of two words and more.
    genera: BTreeSet<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Name {
    /// The words after the first.
    rest: Vec<String>,
    id: TaxonId,
}

impl Names {
    /// Prepares names for the search; of two taxa with one name the first keeps it.
    pub(crate) fn new(names: impl Iterator<Item = (String, TaxonId)>) -> Self {
        let mut all = Self::default();
        for (name, id) in names {
            let mut keys = words(&name).into_iter().map(|word| connecting(&word.key).to_owned());
            let Some(first) = keys.next() else { continue };
            let rest: Vec<String> = keys.collect();
            if !rest.is_empty() {
                all.genera.insert(first.clone());
            }
            let rows = all.by_first.entry(first).or_default();
            if rows.iter().all(|row| row.rest != rest) {
                let at = rows.partition_point(|row| row.rest.len() >= rest.len());
                rows.insert(at, Name { rest, id });
            }
        }
        all
    }

    /// Returns the mark of the name that begins at a word, and the word after it; notes the genus.
    pub(crate) fn at(
        &self,
        scene: &Scene<'_>,
        at: usize,
        last_genus: &mut Option<String>,
    ) -> Option<(Mark, usize)> {
        let first = &scene.words[at];
        if !first.is_capital() {
            return None;
        }
        let after = &scene.words[at + 1..];
        let (id, count) = if let Some(rows) = self.by_first.get(&*first.key) {
            let row = rows.iter().find(|row| goes_on(row, first, after))?;
            if self.genera.contains(&*first.key) {
                *last_genus = Some(first.key.clone().into_owned());
            }
            (row.id, row.rest.len())
        } else {
            self.abbreviated(first, after, last_genus.as_deref())?
        };
        let range = first.range.start..scene.words[at + count].range.end;
        Some((Mark { range, leads: Leads::Name(id), sense: None, organ: None }, at + count + 1))
    }

    /// Returns the taxon of a name with an abbreviated genus, and how many words follow the genus.
    fn abbreviated(
        &self,
        first: &Word<'_>,
        after: &[Word<'_>],
        last_genus: Option<&str>,
    ) -> Option<(TaxonId, usize)> {
        let epithet = after.first().filter(|word| word.printed.starts_with(char::is_lowercase))?;
        if first.joint != Joint::Stop
            || first.key.chars().count() > LONGEST_ABBREVIATION
            || epithet.key.len() < 2
        {
            return None;
        }
        let under = |genus: &str| {
            let rows = self.by_first.get(genus).into_iter().flatten();
            let mut fitting = rows.filter(|row| !row.rest.is_empty() && goes_on(row, first, after));
            fitting.next().map(|row| (row.id, row.rest.len()))
        };
        let last = last_genus.filter(|genus| genus.starts_with(&*first.key)).and_then(under);
        last.or_else(|| {
            let begins = |genus: &&String| genus.starts_with(&*first.key);
            let mut all = self
                .genera
                .range(first.key.clone().into_owned()..)
                .take_while(begins)
                .filter_map(|genus| under(genus));
            let only = all.next()?;
            all.next().is_none().then_some(only)
        })
    }
}

/// Returns the first word of a name as the table has it.
pub(crate) fn genus(name: &str) -> String {
    words(name).first().map_or_else(String::new, |word| word.key.clone().into_owned())
}

/// Says whether the words after the first go on as the name does.
fn goes_on(name: &Name, first: &Word<'_>, after: &[Word<'_>]) -> bool {
    let mut before = first;
    for (at, wanted) in name.rest.iter().enumerate() {
        let Some(word) = after.get(at).filter(|word| connecting(&word.key) == wanted) else { return false };
        let short = before.key.chars().count() <= LONGEST_ABBREVIATION
            || CONNECTING.iter().any(|(term, _)| *term == &*before.key);
        let joined = match before.joint {
            Joint::Blank | Joint::Hyphen | Joint::Cross => true,
            Joint::Stop => short,
            Joint::Break => false,
        };
        if !joined {
            return false;
        }
        before = word;
    }
    true
}

/// Returns the one spelling of a connecting term, any other word as it is.
fn connecting(key: &str) -> &str {
    CONNECTING.iter().find(|(term, _)| *term == key).map_or(key, |(_, one)| one)
}
