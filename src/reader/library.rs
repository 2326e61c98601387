//! The flora that is read: its book with the words and names that lead somewhere, and short answers about both.
//!
//! Nothing is laid out here; what a screen says is put together in `sheet`.

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::describe::{self, Concepts, Fact, clause_at};
use crate::keying::{End, EndId, Graph, Need, Remark, Spot, Step, Trip, needs};
use crate::link::{Groups, Linker};
use crate::model::{CoupletId, KeyId, Lead, Needs, Page, Section, SectionKind, Target, Taxon, TaxonId};
use crate::reader::grounds::Grounds;
use crate::reader::place::Item;
use crate::reader::words;
use crate::search::{Alike, Answer, Index, Narrow, Source};
use crate::store::{Book, Contents, KeyRow, Shelf, TaxonRow};
use crate::terms::Lexicon;

/// Taxa that one may be taken for, the nearest first, each with the reasons.
pub(crate) type LookAlikes = Arc<[(TaxonId, String)]>;

/// A flora open for reading.
pub(crate) struct Library {
    /// The book.
    pub(crate) book: Book,
    /// Every term that is known, the flora's own first.
    pub(crate) lexicon: Lexicon,
    linker: Linker,
    index: Option<Index>,
    /// The shelf with the other floras, where there is one.
    floras: Option<Shelf>,
    /// Indexes and words of other floras, as far as they were asked.
    others: RefCell<BTreeMap<String, Option<(Index, Lexicon)>>>,
    graph: OnceCell<Graph>,
    cautioned: OnceCell<BTreeMap<TaxonId, BTreeSet<TaxonId>>>,
    /// What leads need, by couplet, as far as it was asked for.
    needs: RefCell<BTreeMap<Spot, BTreeSet<Need>>>,
    /// What is said of season, elevation and districts, by taxon, as far as it was asked for.
    facts: RefCell<BTreeMap<TaxonId, Vec<Fact>>>,
    /// The districts that it tells of, once they were asked for.
    districts: OnceCell<Vec<String>>,
    /// The groups of plants of its taxa, once they were asked for.
    pub(crate) groups: OnceCell<Vec<Groups>>,
    /// What the leads of a key stand under, couplet by couplet, as far as it was asked for.
    pub(crate) grounds: RefCell<BTreeMap<KeyId, Vec<Vec<Grounds>>>>,
    /// What a taxon may be taken for, each with the reason, as far as it was asked for.
    pub(crate) look_alikes: RefCell<BTreeMap<TaxonId, LookAlikes>>,
}

/// Returns in words when a plant can be keyed with a key.
pub(crate) fn phrase(needs: Needs) -> &'static str {
    match needs {
        Needs::Flowers => "in flower",
        Needs::Fruits => "in fruit",
        Needs::Stamens => "with stamens",
        Needs::Pistils => "with pistils",
        Needs::Leaves => "by the leaves",
        Needs::Summer => "in summer",
        Needs::Winter => "in winter",
    }
}

/// Somewhere a lead leads: what to call it, and the item, where there is one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Destination {
    /// A name for it that a reader understands.
    pub(crate) words: String,
    /// The item.
    pub(crate) item: Option<Item>,
}

impl Library {
    /// Opens a book with its words; without an index nothing can be searched.
    #[cfg(test)]
    pub(crate) fn new(book: Book, index: Option<Index>) -> Self {
        let lexicon = Lexicon::with_flora(&book.contents().title, book.glossary());
        Self::with_words(book, index, lexicon)
    }

    /// Opens a book with the words of all sources.
    pub(crate) fn with_words(book: Book, index: Option<Index>, lexicon: Lexicon) -> Self {
        let contents = book.contents();
        let linker = Linker::new(contents.taxa.iter().map(|row| (row.name.clone(), row.id)));
        Self {
            book,
            lexicon,
            linker,
            index,
            floras: None,
            others: RefCell::default(),
            graph: OnceCell::new(),
            cautioned: OnceCell::new(),
            needs: RefCell::default(),
            facts: RefCell::default(),
            districts: OnceCell::new(),
            groups: OnceCell::new(),
            grounds: RefCell::default(),
            look_alikes: RefCell::default(),
        }
    }

    /// Sets it beside the other floras of a shelf, so that they can be asked too.
    pub(crate) fn beside(self, floras: Option<&Shelf>) -> Self {
        Self { floras: floras.cloned(), ..self }
    }

    /// Returns the book's contents.
    pub(crate) fn contents(&self) -> &Contents {
        self.book.contents()
    }

    /// Returns what tells this reading of the book from another one, so that a place is never taken for another.
    pub(crate) fn stamp(&self) -> String {
        let contents = self.contents();
        let couplets: u32 = contents.keys.iter().map(|row| row.couplets).sum();
        let (taxa, keys) = (contents.taxa.len(), contents.keys.len());
        format!(
            "{} · {} pages · {taxa} taxa · {keys} keys · {couplets} couplets",
            contents.title, contents.pages
        )
    }

    /// Returns all keys as one graph; made when it is first asked for.
    pub(crate) fn graph(&self) -> &Graph {
        self.graph.get_or_init(|| {
            let keys = Graph::of(self.contents().keys.iter().map(|row| self.book.key(row.id)));
            keys.with_alternatives(&self.contents().alternatives)
        })
    }

    /// Returns the other keys to the same taxa as a key, each with what its title says that it needs.
    pub(crate) fn other_keys(&self, key: KeyId) -> Vec<(KeyId, Option<Needs>)> {
        let groups = self.contents().alternatives.iter();
        let of_key = groups.filter(|group| group.keys.iter().any(|(one, _)| *one == key));
        of_key.flat_map(|group| &group.keys).filter(|(other, _)| *other != key).copied().collect()
    }

    /// Returns what a key needs where there are others to the same taxa.
    pub(crate) fn needed_by(&self, key: KeyId) -> Option<Needs> {
        let keys = self.contents().alternatives.iter().flat_map(|group| &group.keys);
        keys.filter(|(one, _)| *one == key).find_map(|(_, needs)| *needs)
    }

    /// Returns a key's title with what it needs before it.
    pub(crate) fn key_with_needs(&self, key: KeyId, needs: Option<Needs>) -> String {
        let title = self.key_title(key);
        needs.map_or_else(|| title.clone(), |needs| format!("{} – {title}", phrase(needs)))
    }

    /// Returns the taxa whose printed cautions speak of anything that a lead can reach, in the order of the book.
    pub(crate) fn cautioned(&self, spot: Spot, lead: usize) -> Vec<&TaxonRow> {
        if self.cautions().is_empty() {
            return Vec::new();
        }
        let ends = self.graph().below(spot, lead);
        let treated = ends.iter().filter_map(|end| match self.graph().end(*end) {
            Some(End::Treated(id)) => self.cautions().get(id),
            Some(End::Named(_)) | None => None,
        });
        let found: BTreeSet<TaxonId> = treated.flatten().copied().collect();
        found.into_iter().filter_map(|id| self.taxon_row(id)).collect()
    }

    /// Returns the taxa whose printed cautions speak of one: itself and those above it, else its members.
    pub(crate) fn cautions_of(&self, id: TaxonId) -> Vec<&TaxonRow> {
        let found = self.cautions().get(&id).into_iter().flatten();
        found.filter_map(|id| self.taxon_row(*id)).collect()
    }

    /// Returns of every taxon the taxa whose printed cautions speak of it; made when it is first asked for.
    fn cautions(&self) -> &BTreeMap<TaxonId, BTreeSet<TaxonId>> {
        self.cautioned.get_or_init(|| {
            let rows = &self.contents().taxa;
            let mut found: BTreeMap<TaxonId, BTreeSet<TaxonId>> = BTreeMap::new();
            for row in rows {
                let own = std::iter::once(row).chain(self.above(row.id)).filter(|row| row.cautioned);
                let own: BTreeSet<TaxonId> = own.map(|row| row.id).collect();
                if !own.is_empty() {
                    found.insert(row.id, own);
                }
            }
            let mut above: BTreeMap<TaxonId, BTreeSet<TaxonId>> = BTreeMap::new();
            for row in rows.iter().filter(|row| row.cautioned) {
                for higher in self.above(row.id).filter(|higher| !found.contains_key(&higher.id)) {
                    above.entry(higher.id).or_default().insert(row.id);
                }
            }
            found.extend(above);
            found
        })
    }

    /// Returns the taxa above one, the nearest first.
    pub(crate) fn above(&self, id: TaxonId) -> impl Iterator<Item = &TaxonRow> {
        let parent = |row: &TaxonRow| row.parent.filter(|parent| *parent < row.id);
        let first = self.taxon_row(id).and_then(parent).and_then(|id| self.taxon_row(id));
        std::iter::successors(first, move |row| parent(row).and_then(|id| self.taxon_row(id)))
    }

    /// Returns what is said of a taxon's season, elevation and districts, or of a taxon above it where it says nothing.
    pub(crate) fn remarks(&self, trip: &Trip, id: TaxonId) -> Vec<Remark> {
        if trip.is_blank() {
            return Vec::new();
        }
        let mut known = self.facts.borrow_mut();
        let facts = known.entry(id).or_insert_with(|| self.facts_of_place(id));
        if self.knows_place(trip) {
            return trip.against(facts);
        }
        Trip { place: String::new(), ..trip.clone() }.against(facts)
    }

    /// Says whether a trip's place is a district that the flora tells of; against any other place nothing can be held.
    pub(crate) fn knows_place(&self, trip: &Trip) -> bool {
        let districts = self.districts.get_or_init(|| {
            let found = self.index.as_ref().and_then(|index| index.districts(&self.lexicon).ok());
            found.unwrap_or_default()
        });
        districts.is_empty() || districts.iter().any(|district| trip.is_in(district))
    }

    /// Returns what is said of a taxon outside its description and notes: season, elevation, districts.
    fn facts_of_place(&self, id: TaxonId) -> Vec<Fact> {
        let Some(taxon) = self.book.taxon(id) else { return Vec::new() };
        let of_place = |section: &&Section| {
            section.kind != SectionKind::Description && section.kind != SectionKind::Notes
        };
        let sections = taxon.sections.iter().filter(of_place).cloned().collect();
        let taxon = Taxon { sections, ..taxon.clone() };
        let stated = describe::of_taxon(&taxon, &self.contents().legend, &Concepts::new(&self.lexicon));
        stated.into_iter().map(|stated| stated.fact).collect()
    }

    /// Returns what the couplets ahead in the same key need on the plant, beyond what this one needs.
    pub(crate) fn ahead(&self, spot: Spot) -> Vec<Need> {
        let Some(key) = self.book.key(spot.key) else { return Vec::new() };
        let mut seen: BTreeSet<Spot> = BTreeSet::new();
        let graph = self.graph();
        let same_key = |at: Spot, _| at.key == spot.key;
        graph.visit(&[Step::Couplet(spot)], same_key, |step| {
            if let Step::Couplet(at) = step
                && at.key == spot.key
            {
                seen.insert(at);
            }
        });
        let mut known = self.needs.borrow_mut();
        let mut of = |at: &Spot| {
            let read = || {
                let leads = key.couplet(at.couplet).map_or(&[][..], |couplet| &couplet.leads);
                leads.iter().flat_map(|lead| needs(&lead.text.plain)).collect()
            };
            known.entry(*at).or_insert_with(read).clone()
        };
        let here = of(&spot);
        let ahead: BTreeSet<Need> = seen.iter().filter(|at| **at != spot).flat_map(of).collect();
        ahead.difference(&here).copied().collect()
    }

    /// Returns the name of what a lead can end in.
    pub(crate) fn end_name(&self, end: EndId) -> String {
        match self.graph().end(end) {
            Some(End::Treated(id)) => self.taxon_row(*id).map(|row| row.name.clone()).unwrap_or_default(),
            Some(End::Named(name)) => name.clone(),
            None => String::new(),
        }
    }

    /// Returns what finds the marks, for many texts side by side.
    pub(crate) fn linker(&self) -> &Linker {
        &self.linker
    }

    /// Says whether the book has an item.
    pub(crate) fn has(&self, item: &Item) -> bool {
        match item {
            Item::Couplet(key, couplet) => self.key_row(*key).is_some_and(|row| couplet.0 < row.couplets),
            Item::Treatment(taxon) => self.taxon_row(*taxon).is_some(),
            Item::Page(page) | Item::Text(page) => page.0 >= 1 && page.0 <= self.contents().pages,
            Item::Matter(matter) => matter.index() < self.contents().matter.len(),
            Item::Term(_)
            | Item::Uses(_)
            | Item::Contents
            | Item::Keys(_)
            | Item::Taxa { .. }
            | Item::Words(_)
            | Item::Find(_)
            | Item::FindPossible(_)
            | Item::FindAll(_)
            | Item::Groups(..)
            | Item::Shelf
            | Item::Trail
            | Item::Plants
            | Item::Here
            | Item::LookedUp
            | Item::Drill(_)
            | Item::Possible(None) => true,
            Item::Possible(Some(spot)) => self.has(&Item::Couplet(spot.key, spot.couplet)),
            Item::Beside(spot) | Item::MeasuredLeads(spot, _) => {
                self.has(&Item::Couplet(spot.key, spot.couplet))
            }
            Item::Route(taxon) | Item::Alike(taxon) | Item::MeasuredTaxon(taxon, _) | Item::Check(taxon) => {
                self.taxon_row(*taxon).is_some()
            }
            Item::Compare(taxa) => taxa.iter().all(|taxon| self.taxon_row(*taxon).is_some()),
        }
    }

    /// Returns a taxon's row of the contents.
    pub(crate) fn taxon_row(&self, id: TaxonId) -> Option<&TaxonRow> {
        self.contents().taxa.get(id.index())
    }

    /// Returns a key's row of the contents.
    pub(crate) fn key_row(&self, id: KeyId) -> Option<&KeyRow> {
        self.contents().keys.get(id.index())
    }

    /// Returns the first couplet of the flora's first key that has one.
    pub(crate) fn first_couplet(&self) -> Option<Item> {
        let row = self.contents().keys.iter().find(|row| row.couplets > 0)?;
        Some(Item::Couplet(row.id, CoupletId(0)))
    }

    /// Returns where a key begins, if it has a couplet.
    pub(crate) fn key_start(&self, id: KeyId) -> Option<Item> {
        self.key_row(id).filter(|row| row.couplets > 0).map(|row| Item::Couplet(row.id, CoupletId(0)))
    }

    /// Returns a key's printed title, with the taxon that it divides where the title does not name it.
    pub(crate) fn key_title(&self, id: KeyId) -> String {
        let Some(row) = self.key_row(id) else { return "a key that is not there".to_owned() };
        match (&row.title, &row.scope) {
            (Some(title), Some(scope)) if !title.to_lowercase().contains(&scope.to_lowercase()) => {
                format!("{title} ({scope})")
            }
            (Some(title), _) => title.clone(),
            (None, Some(scope)) => format!("Key to {scope}"),
            (None, None) => "Key without a title".to_owned(),
        }
    }

    /// Returns a couplet's label in its key, if both exist.
    pub(crate) fn couplet_label(&self, key: KeyId, couplet: CoupletId) -> String {
        let found = self.book.key(key).and_then(|key| key.couplet(couplet));
        found.map_or_else(|| (couplet.0 + 1).to_string(), |couplet| couplet.label.clone())
    }

    /// Returns how many taxa can still be reached from a couplet, as far as the leads say.
    pub(crate) fn possible(&self, key: KeyId, couplet: CoupletId) -> Option<u32> {
        if couplet.0 == 0 {
            return self.key_row(key).map(|row| row.reaches);
        }
        let leads = self.book.key(key)?.couplets.iter().flat_map(|couplet| &couplet.leads);
        let mut here = leads.filter(|lead| lead.to == Target::Couplet(couplet) && lead.also.is_empty());
        here.next().map(|lead| lead.reaches)
    }

    /// Returns the couplets with a lead to this couplet.
    pub(crate) fn arrivals(&self, key: KeyId, couplet: CoupletId) -> Vec<(KeyId, CoupletId)> {
        let Some(row) = self.key_row(key) else { return Vec::new() };
        let mut arrivals = if couplet.0 == 0 { row.arrivals.clone() } else { Vec::new() };
        if couplet.0 == 0
            && arrivals.is_empty()
            && let Some(scope) = row.scope_id.and_then(|id| self.taxon_row(id))
        {
            arrivals.clone_from(&scope.keyed);
        }
        let couplets = self.book.key(key).map_or(&[][..], |key| &key.couplets);
        for (at, other) in couplets.iter().enumerate() {
            let leads = |lead: &Lead| {
                lead.to == Target::Couplet(couplet) || lead.also.contains(&Target::Couplet(couplet))
            };
            if other.leads.iter().any(leads) {
                arrivals.push((key, CoupletId(at as u32)));
            }
        }
        arrivals
    }

    /// Returns everywhere that a lead leads, the first target first.
    pub(crate) fn destinations(&self, key: KeyId, lead: &Lead) -> Vec<Destination> {
        std::iter::once(&lead.to).chain(&lead.also).map(|target| self.destination(key, target)).collect()
    }

    /// Returns how a page is called: the folio printed on it, and its place in the PDF.
    pub(crate) fn page_words(&self, page: Page) -> String {
        match self.folio(page) {
            Some(folio) => format!("folio {folio}, PDF page {page}"),
            None => format!("PDF page {page}"),
        }
    }

    /// Returns how a page is called in a row of a list: by its folio alone, where it has one.
    pub(crate) fn page_short(&self, page: Page) -> String {
        self.folio(page).map_or_else(|| self.page_words(page), |folio| format!("folio {folio}"))
    }

    /// Returns the folio printed on a page.
    pub(crate) fn folio(&self, page: Page) -> Option<&str> {
        let at = (page.0 as usize).checked_sub(1)?;
        self.contents().folios.get(at)?.as_deref()
    }

    /// Asks the flora; an index that is missing or broken is said so in words.
    pub(crate) fn ask(&self, words: &str, narrow: &Narrow, most: usize) -> Result<Answer, String> {
        let Some(index) = &self.index else {
            return Err("This flora has no search index; ingest it again to make one.".to_owned());
        };
        let answer = index.answer(words, narrow, most, &self.lexicon);
        answer.map_err(|error| format!("The search did not work: {error}."))
    }

    /// Asks a flora of the shelf, this one or another, each by its own words.
    pub(crate) fn ask_in(
        &self,
        flora: &str,
        asked: &str,
        narrow: &Narrow,
        most: usize,
    ) -> Result<Answer, String> {
        if flora == self.book.name() {
            return self.ask(asked, narrow, most);
        }
        let mut others = self.others.borrow_mut();
        let other = others.entry(flora.to_owned()).or_insert_with(|| {
            let floras = self.floras.as_ref()?;
            let index = Index::open(&floras.index_dir(flora)).ok()?;
            let (lexicon, _) = words::lexicon(Some(floras), Some(&floras.open(flora).ok()?));
            Some((index, lexicon))
        });
        let Some((index, lexicon)) = other else {
            return Err("it has no search index; ingest it again to make one.".to_owned());
        };
        let answer = index.answer(asked, narrow, most, lexicon);
        answer.map_err(|error| format!("the search did not work: {error}."))
    }

    /// Returns the taxa whose descriptions are nearest to that of one, and behind them `also`; nothing without an index.
    pub(crate) fn alike(&self, id: TaxonId, also: &[TaxonId], most: usize) -> Vec<Alike> {
        let (Some(index), Some(taxon)) = (&self.index, self.book.taxon(id)) else { return Vec::new() };
        let described = |stated: &describe::Stated| {
            taxon
                .sections
                .get(stated.section as usize)
                .is_some_and(|section| section.kind == SectionKind::Description)
        };
        let stated = describe::of_taxon(taxon, &self.contents().legend, &Concepts::new(&self.lexicon));
        let facts: Vec<Fact> = stated.into_iter().filter(described).map(|stated| stated.fact).collect();
        index.alike((id, &facts), (also, most), &self.lexicon).unwrap_or_default()
    }

    /// Returns the clause of a treatment that says something.
    pub(crate) fn said(&self, source: &Source) -> Option<String> {
        let text = &self.book.taxon(source.taxon)?.sections.get(source.section as usize)?.text.plain;
        Some(text.get(clause_at(text, source.range.start)?)?.to_owned())
    }

    fn destination(&self, key: KeyId, target: &Target) -> Destination {
        match target {
            Target::Couplet(id) => Destination {
                words: format!("couplet {}", self.couplet_label(key, *id)),
                item: Some(Item::Couplet(key, *id)),
            },
            Target::Taxon { name, id: Some(id) } => {
                Destination { words: format!("{name}, treatment"), item: Some(Item::Treatment(*id)) }
            }
            Target::Taxon { name, id: None } => {
                Destination { words: format!("{name}, not treated in this flora"), item: None }
            }
            Target::Key(id) => Destination { words: self.key_title(*id), item: self.key_start(*id) },
            Target::Unresolved(printed) if printed.is_empty() => {
                Destination { words: "no target is printed".to_owned(), item: None }
            }
            Target::Unresolved(printed) => Destination { words: format!("not found: {printed}"), item: None },
        }
    }
}

/// Returns the first names of several, and how many more there are: `Skerria, Morvania and 3 more`.
pub(crate) fn first_names(rows: &[&TaxonRow], most: usize) -> String {
    let names: Vec<&str> = rows.iter().take(most).map(|row| row.name.as_str()).collect();
    let more = rows.len() - names.len();
    let names = names.join(", ");
    if more == 0 { names } else { format!("{names} and {more} more") }
}

/// Returns a count with its noun: `1 taxon`, `12 taxa`.
pub(crate) fn count(number: u32, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
