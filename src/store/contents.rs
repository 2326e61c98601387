//! A flora's table of contents: what a list of taxa, keys or pages needs to know, without any treatment or couplet.
//!
//! It is worked out once, when the flora is put on the shelf, and read whole when the book is opened.

use std::collections::{BTreeSet, HashSet};

use serde::{Deserialize, Serialize};

use crate::model::{
    Alternatives, CoupletId, Flora, Key, KeyId, Lead, Matter, MatterId, MatterKind, Page, Rank, Sign, Target,
    Taxon, TaxonId,
};

/// What is known of a book without opening its items.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Contents {
    /// The title.
    pub title: String,
    /// The licence statement that the book prints, if any.
    pub license: Option<String>,
    /// Number of pages.
    pub pages: u32,
    /// The printed folio of each page.
    pub folios: Vec<Option<String>>,
    /// All taxa, in the order of the book.
    pub taxa: Vec<TaxonRow>,
    /// All keys, in the order of the book.
    pub keys: Vec<KeyRow>,
    /// All other matter, in the order of the book.
    pub matter: Vec<MatterRow>,
    /// Number of doubts.
    pub doubts: u32,
    /// Status signs with the book's own meaning.
    pub legend: Vec<Sign>,
    /// Keys to the same taxa, of which one is enough.
    pub alternatives: Vec<Alternatives>,
}

/// A taxon in lists.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TaxonRow {
    /// Its place in the flora's list.
    pub id: TaxonId,
    /// Its rank.
    pub rank: Rank,
    /// The name alone.
    pub name: String,
    /// The authorship as printed.
    pub authorship: Option<String>,
    /// Vernacular names.
    pub vernacular: Vec<String>,
    /// Synonyms.
    pub synonyms: Vec<String>,
    /// The number printed before the name.
    pub number: Option<String>,
    /// The taxon that it belongs to.
    pub parent: Option<TaxonId>,
    /// First and last page of the treatment.
    pub pages: (Page, Page),
    /// The first key to its members.
    pub key: Option<KeyId>,
    /// Couplets with a lead that ends at it.
    pub keyed: Vec<(KeyId, CoupletId)>,
    /// Whether its treatment prints a caution.
    pub cautioned: bool,
}

/// A key in lists.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeyRow {
    /// Its place in the flora's list.
    pub id: KeyId,
    /// The title as printed.
    pub title: Option<String>,
    /// The name of the taxon whose members it tells apart.
    pub scope: Option<String>,
    /// The treatment of that taxon.
    pub scope_id: Option<TaxonId>,
    /// The page it begins on.
    pub page: Page,
    /// Number of couplets.
    pub couplets: u32,
    /// How many different taxa without a further key under them can be reached from its first couplet.
    pub reaches: u32,
    /// Couplets of any key with a lead that leads to its start.
    pub arrivals: Vec<(KeyId, CoupletId)>,
}

/// A piece of other matter in lists.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct MatterRow {
    /// Its place in the flora's list.
    pub id: MatterId,
    /// What it is.
    pub kind: MatterKind,
    /// Its heading.
    pub title: String,
    /// First and last page.
    pub pages: (Page, Page),
}

impl Contents {
    /// Returns how the flora is cited: its title, the pages by folio and by their place in the PDF, the licence printed.
    pub fn citation(&self, pages: Option<(Page, Page)>) -> String {
        let folio = |page: Page| {
            let at = (page.0 as usize).checked_sub(1)?;
            self.folios.get(at)?.as_deref()
        };
        let run = |from: &str, to: &str| if from == to { from.to_owned() } else { format!("{from}–{to}") };
        let pages = pages.map(|(first, last)| {
            let in_pdf = run(&first.to_string(), &last.to_string());
            match (folio(first), folio(last)) {
                (Some(from), Some(to)) => format!(", p. {} (PDF page {in_pdf})", run(from, to)),
                (Some(_) | None, Some(_) | None) => format!(", PDF page {in_pdf}"),
            }
        });
        let licence =
            self.license.as_ref().map(|licence| format!(" Licence: {}.", licence.trim_end_matches('.')));
        format!("From: {}{}.{}", self.title, pages.unwrap_or_default(), licence.unwrap_or_default())
    }

    /// Works out the contents of a flora.
    pub fn of(flora: &Flora) -> Self {
        let mut taxa: Vec<TaxonRow> = flora.taxa.iter().map(taxon_row).collect();
        for key in &flora.keys {
            if let Some(row) = key.scope_id.and_then(|id| taxa.get_mut(id.index())) {
                row.key.get_or_insert(key.id);
            }
        }
        let mut keys: Vec<KeyRow> = flora.keys.iter().map(key_row).collect();
        for (from, target) in flora.keys.iter().flat_map(targets) {
            match target {
                Target::Taxon { id: Some(id), .. } => {
                    push_new(taxa.get_mut(id.index()).map(|row| &mut row.keyed), from);
                }
                Target::Key(id) => push_new(keys.get_mut(id.index()).map(|row| &mut row.arrivals), from),
                Target::Couplet(_) | Target::Taxon { id: None, .. } | Target::Unresolved(_) => {}
            }
        }
        for row in &mut keys {
            row.reaches = reached(flora, &taxa, row.id);
        }
        Self {
            title: flora.title.clone(),
            license: flora.license.clone(),
            pages: flora.pages.len() as u32,
            folios: flora.pages.iter().map(|page| page.folio.clone()).collect(),
            taxa,
            keys,
            matter: flora.matter.iter().map(matter_row).collect(),
            doubts: flora.doubts.len() as u32,
            legend: flora.legend.clone(),
            alternatives: flora.alternatives.clone(),
        }
    }
}

/// Returns a taxon's row, without what only the keys tell.
fn taxon_row(taxon: &Taxon) -> TaxonRow {
    TaxonRow {
        id: taxon.id,
        rank: taxon.rank,
        name: taxon.name.clone(),
        authorship: taxon.authorship.clone(),
        vernacular: taxon.vernacular.clone(),
        synonyms: taxon.synonyms.clone(),
        number: taxon.number.clone(),
        parent: taxon.parent,
        pages: taxon.pages,
        key: None,
        keyed: Vec::new(),
        cautioned: !taxon.cautions.is_empty(),
    }
}

/// Returns a key's row, without what only the other keys tell.
fn key_row(key: &Key) -> KeyRow {
    KeyRow {
        id: key.id,
        title: key.title.clone(),
        scope: key.scope.clone(),
        scope_id: key.scope_id,
        page: key.page,
        couplets: key.couplets.len() as u32,
        reaches: 0,
        arrivals: Vec::new(),
    }
}

/// Returns the row of a piece of matter.
fn matter_row(matter: &Matter) -> MatterRow {
    MatterRow { id: matter.id, kind: matter.kind, title: matter.title.clone(), pages: matter.pages }
}

/// Returns every target of a key with the couplet that names it.
fn targets(key: &Key) -> impl Iterator<Item = ((KeyId, CoupletId), &Target)> {
    key.couplets.iter().enumerate().flat_map(move |(at, couplet)| {
        let from = (key.id, CoupletId(at as u32));
        couplet.leads.iter().flat_map(lead_targets).map(move |target| (from, target))
    })
}

/// Returns all targets of a lead, the first one first.
fn lead_targets(lead: &Lead) -> impl Iterator<Item = &Target> {
    std::iter::once(&lead.to).chain(&lead.also)
}

/// Adds a couplet to a list that does not have it yet.
fn push_new(list: Option<&mut Vec<(KeyId, CoupletId)>>, from: (KeyId, CoupletId)) {
    if let Some(list) = list
        && !list.contains(&from)
    {
        list.push(from);
    }
}

/// Counts the taxa without a further key that can be reached from the start of a key; goes round no circle twice.
fn reached(flora: &Flora, taxa: &[TaxonRow], start: KeyId) -> u32 {
    let mut ends: BTreeSet<(Option<TaxonId>, &str)> = BTreeSet::new();
    let mut seen: HashSet<(KeyId, CoupletId)> = HashSet::new();
    let mut open = vec![(start, CoupletId(0))];
    while let Some((key, at)) = open.pop() {
        let Some(couplet) = flora.keys.get(key.index()).and_then(|key| key.couplet(at)) else { continue };
        if !seen.insert((key, at)) {
            continue;
        }
        for target in couplet.leads.iter().flat_map(lead_targets) {
            match target {
                Target::Couplet(next) => open.push((key, *next)),
                Target::Key(next) => open.push((*next, CoupletId(0))),
                Target::Taxon { name, id: None } => _ = ends.insert((None, name)),
                Target::Taxon { id: Some(id), .. } => match taxa.get(id.index()).and_then(|row| row.key) {
                    Some(next) => open.push((next, CoupletId(0))),
                    None => _ = ends.insert((Some(*id), "")),
                },
                Target::Unresolved(_) => {}
            }
        }
    }
    ends.len() as u32
}
