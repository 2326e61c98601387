//! Taxa ranked by what agrees: every part weighed against the facts of every taxon, what is unstated inherited, members
//! summed up for higher ranks.

use std::collections::HashMap;

use crate::describe::{Asked, Frequency, Part, Spoken, Thesaurus, Wanted, Weight, What, lineage};
use crate::model::{Rank, TaxonId};
use crate::search::answer::{Says, Source, Verdict};
use crate::search::names;
use crate::search::table::{Cell, Table};

/// How much an agreement counts that is inherited.
const INHERITED: f32 = 0.7;
/// How much one counts that is by exception.
const RARELY: f32 = 0.4;
/// What a sure contradiction costs; the agreement of a rare character brings about as much.
const CONTRADICTION: f32 = 3.0;
/// The most and least that agreement on one part can bring.
const MOST: f32 = 6.0;
const LEAST: f32 = 0.25;
/// Share of members that must agree before a higher taxon does.
const MOST_MEMBERS: f32 = 0.5;

/// The facts of all taxa weighed against one part.
pub(crate) struct Column {
    /// A verdict for each taxon, by its place.
    pub(crate) verdicts: Vec<Verdict>,
    /// What agreement brings.
    pub(crate) worth: f32,
}

/// One asked fact with what it makes of the table's places and words.
struct Lens<'a> {
    wanted: Wanted,
    table: &'a Table,
    places: Vec<f32>,
    nearness: HashMap<u32, f32>,
}

/// Weighs the characters of one part against all taxa.
pub(crate) fn column(table: &Table, part: &Part, thesaurus: &Thesaurus, members: &Members) -> Column {
    let verdicts = match &part.asked {
        Asked::Character(facts) => {
            let lenses: Vec<Lens<'_>> =
                facts.iter().map(|fact| Lens::new(Wanted::new(fact.clone(), thesaurus), table)).collect();
            let own: Vec<Verdict> = (0..table.taxa.len()).map(|at| own(table, &lenses, TaxonId(at as u32))).collect();
            inherited(table, &own, members)
        }
        Asked::Name(name) => named(table, name),
        Asked::Phrase(_) | Asked::Word(_) | Asked::NotUnderstood(_) => vec![unstated(); table.taxa.len()],
    };
    Column { worth: 0.0, verdicts }
}

impl Column {
    /// Makes a column of the taxa whose texts hold some words.
    pub(crate) fn of_texts(table: &Table, taxa: &[TaxonId]) -> Self {
        let mut verdicts = vec![unstated(); table.taxa.len()];
        for id in taxa {
            if let Some(verdict) = verdicts.get_mut(id.index()) {
                *verdict = Verdict { says: Says::Agrees, surely: 1.0, ..unstated() };
            }
        }
        Self { verdicts, worth: 0.0 }
    }

    /// Sets what agreement brings by how few of the candidates agree.
    pub(crate) fn set_worth(&mut self, candidates: &[TaxonId]) {
        let agreeing: f32 = candidates.iter().map(|id| {
            let verdict = &self.verdicts[id.index()];
            match verdict.says {
                Says::Agrees => verdict.surely,
                Says::Rarely => verdict.surely * RARELY,
                Says::Unstated | Says::Contradicts => 0.0,
            }
        }).sum();
        self.worth = ((candidates.len() as f32 + 2.0) / (agreeing + 1.0)).ln().clamp(LEAST, MOST);
    }

    /// Returns what this part brings a taxon.
    pub(crate) fn score(&self, id: TaxonId) -> f32 {
        let verdict = &self.verdicts[id.index()];
        let inherited = verdict.source.as_ref().is_some_and(|source| source.taxon != id);
        let share = if inherited { INHERITED } else { 1.0 };
        match verdict.says {
            Says::Agrees => self.worth * verdict.surely * share,
            Says::Rarely => self.worth * verdict.surely * share * RARELY,
            Says::Unstated => 0.0,
            Says::Contradicts => -CONTRADICTION * verdict.surely * share,
        }
    }
}

impl<'a> Lens<'a> {
    fn new(wanted: Wanted, table: &'a Table) -> Self {
        let places = table.places().map(|(organ, of)| wanted.place(organ, of)).collect();
        let mut nearness = HashMap::new();
        if matches!(wanted.fact.what, What::State(_)) {
            for (number, word) in table.words.iter().enumerate() {
                let near = wanted.kin.nearness(word);
                if near != 0.0 {
                    nearness.insert(number as u32, near);
                }
            }
        }
        Self { wanted, table, places, nearness }
    }

    /// Weighs one row.
    fn weigh(&self, at: usize) -> Option<Weight> {
        let row = &self.table.rows[at];
        let place = self.places[row.place as usize];
        if place <= 0.0 {
            return None;
        }
        if let (What::State(_), Cell::State(word)) = (&self.wanted.fact.what, &row.what)
            && !self.nearness.contains_key(word)
        {
            return None;
        }
        let fits = matches!(
            (&self.wanted.fact.what, &row.what),
            (What::State(_), Cell::State(_))
                | (What::Presence, _)
                | (What::Measure(..), Cell::Measure(..))
                | (What::Count(_), Cell::Count(_))
                | (What::Ratio(..), Cell::Ratio(..))
                | (What::Season(..), Cell::Season(..))
                | (What::Elevation(_), Cell::Elevation(_))
                | (What::District(_), Cell::District(_))
                | (What::Status(_), Cell::Status(_))
        );
        if !fits {
            return None;
        }
        let what = self.table.what(&row.what);
        let spoken = Spoken { what: &what, degree: row.degree, frequency: row.frequency, said: row.said };
        self.wanted.weigh(place, spoken)
    }
}

/// Returns the verdict of a taxon's own treatment: agreement before exceptions before contradiction.
fn own(table: &Table, lenses: &[Lens<'_>], id: TaxonId) -> Verdict {
    let (first, rows) = table.of_taxon(id);
    let mut best = unstated();
    for (at, row) in rows.iter().enumerate() {
        for lens in lenses {
            let Some(weight) = lens.weigh(first + at) else { continue };
            let (says, surely) = match weight {
                Weight::Agrees(surely) => (Says::Agrees, surely),
                Weight::Rarely(surely) => (Says::Rarely, surely),
                Weight::Against(surely) => (Says::Contradicts, surely),
            };
            if order(says) > order(best.says) || says == best.says && surely > best.surely {
                let range = row.start as usize..(row.start + row.bytes) as usize;
                let source = Some(Source { taxon: id, section: row.section, range });
                best = Verdict { says, surely, source, members: None };
            }
        }
    }
    best
}

fn order(says: Says) -> u8 {
    match says {
        Says::Agrees => 3,
        Says::Rarely => 2,
        Says::Contradicts => 1,
        Says::Unstated => 0,
    }
}

fn unstated() -> Verdict {
    Verdict { says: Says::Unstated, surely: 0.0, source: None, members: None }
}

/// The members of each higher taxon that are species or below.
#[derive(Debug)]
pub(crate) struct Members(Vec<Vec<TaxonId>>);

impl Members {
    /// Gathers them.
    pub(crate) fn of(table: &Table) -> Self {
        let mut members = vec![Vec::new(); table.taxa.len()];
        for at in 0..table.taxa.len() {
            let id = TaxonId(at as u32);
            if table.taxa[at].rank == Rank::Species {
                for above in lineage(id, |id| parent(table, id)).skip(1) {
                    members[above.index()].push(id);
                }
            }
        }
        Self(members)
    }
}

/// Returns the taxon that one belongs to.
pub(crate) fn parent(table: &Table, id: TaxonId) -> Option<TaxonId> {
    table.taxa.get(id.index()).and_then(|taxon| taxon.parent).filter(|above| above.index() < table.taxa.len())
}

/// Lets what a taxon leaves unsaid be said by those it belongs to, or for higher ranks by its members.
fn inherited(table: &Table, own: &[Verdict], members: &Members) -> Vec<Verdict> {
    let mut all = Vec::with_capacity(own.len());
    for (at, verdict) in own.iter().enumerate() {
        let id = TaxonId(at as u32);
        let higher = table.taxa[at].rank < Rank::Species;
        let said = if higher && (verdict.says != Says::Contradicts) {
            by_members(verdict, own, &members.0[at])
        } else {
            verdict.clone()
        };
        if said.says != Says::Unstated {
            all.push(said);
            continue;
        }
        let above = lineage(id, |id| parent(table, id)).skip(1).map(|above| &own[above.index()]);
        let found = above.into_iter().find(|verdict| verdict.says != Says::Unstated);
        all.push(found.cloned().unwrap_or(said));
    }
    all
}

/// Sums up what the members say where the taxon itself is silent.
fn by_members(own: &Verdict, all: &[Verdict], members: &[TaxonId]) -> Verdict {
    if own.says != Says::Unstated || members.is_empty() {
        return own.clone();
    }
    let count = |says: Says| members.iter().filter(|id| all[id.index()].says == says).count() as u32;
    let (agree, rarely, against) = (count(Says::Agrees), count(Says::Rarely), count(Says::Contradicts));
    let said = agree + rarely + against;
    if said == 0 {
        return unstated();
    }
    let share = (agree as f32 + rarely as f32 * RARELY) / said as f32;
    let (says, surely) = if share >= MOST_MEMBERS {
        (Says::Agrees, share)
    } else if agree + rarely > 0 {
        (Says::Rarely, share.max(RARELY))
    } else {
        (Says::Contradicts, 1.0)
    };
    Verdict { says, surely, source: None, members: Some((agree + rarely, said)) }
}

/// Returns the verdicts on a name: the taxa that have it and their members agree, all others contradict.
fn named(table: &Table, name: &str) -> Vec<Verdict> {
    let found = names::find(table, name);
    let mut fits: HashMap<TaxonId, f32> = HashMap::new();
    for named in &found {
        fits.insert(named.taxon, named.fit);
    }
    let verdict = |at: usize| {
        let id = TaxonId(at as u32);
        let fit = lineage(id, |id| parent(table, id)).enumerate().find_map(|(step, above)| {
            fits.get(&above).map(|fit| if step == 0 { *fit } else { fit * 0.5 })
        });
        match fit {
            Some(fit) => Verdict { says: Says::Agrees, surely: fit, ..unstated() },
            None => Verdict { says: Says::Contradicts, surely: 1.0, ..unstated() },
        }
    };
    (0..table.taxa.len()).map(verdict).collect()
}

/// Says whether a taxon's facts of a kind allow one value; a taxon that says nothing of it does.
pub(crate) fn allows(table: &Table, id: TaxonId, meets: impl Fn(&Cell, Frequency) -> Option<bool>) -> bool {
    for above in lineage(id, |id| parent(table, id)) {
        let (_, rows) = table.of_taxon(above);
        let said: Vec<bool> = rows.iter().filter_map(|row| meets(&row.what, row.frequency)).collect();
        if !said.is_empty() {
            return said.into_iter().any(|fine| fine);
        }
    }
    true
}
