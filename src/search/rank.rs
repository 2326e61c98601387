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
    rows: &'a Rows,
    table: &'a Table,
    places: Vec<f32>,
}

/// Where in the table the facts about a word or a place stand, so that a question looks only at those.
#[derive(Debug)]
pub(crate) struct Rows {
    /// Rows by the state that they name.
    by_state: Vec<Vec<u32>>,
    /// Other rows by their place.
    by_place: Vec<Vec<u32>>,
    /// The taxon of each row.
    taxa: Vec<TaxonId>,
    /// Numbers of the words.
    numbers: HashMap<String, u32>,
}

impl Rows {
    /// Goes through a table once.
    pub(crate) fn of(table: &Table) -> Self {
        let mut by_state = vec![Vec::new(); table.words.len()];
        let mut by_place = vec![Vec::new(); table.places().count()];
        let mut taxa = Vec::with_capacity(table.rows.len());
        for at in 0..table.taxa.len() {
            let id = TaxonId(at as u32);
            taxa.resize(taxa.len() + table.of_taxon(id).1.len(), id);
        }
        for (at, row) in table.rows.iter().enumerate() {
            match row.what {
                Cell::State(word) => by_state[word as usize].push(at as u32),
                _ => by_place[row.place as usize].push(at as u32),
            }
        }
        let numbers = table.words.iter().enumerate().map(|(at, word)| (word.clone(), at as u32)).collect();
        Self { by_state, by_place, taxa, numbers }
    }

    /// Says whether any description uses a word as a state.
    pub(crate) fn says(&self, state: &str) -> bool {
        self.numbers.get(state).is_some_and(|number| !self.by_state[*number as usize].is_empty())
    }
}

/// Weighs the characters of one part against all taxa.
pub(crate) fn column(
    (table, rows): (&Table, &Rows),
    part: &Part,
    thesaurus: &Thesaurus,
    members: &Members,
) -> Column {
    let verdicts = match &part.asked {
        Asked::Character(facts) => {
            let mut own = vec![unstated(); table.taxa.len()];
            for fact in facts {
                Lens::new(Wanted::new(fact.clone(), thesaurus), table, rows).look(&mut own);
            }
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
        let agreeing: f32 = candidates
            .iter()
            .map(|id| {
                let verdict = &self.verdicts[id.index()];
                match verdict.says {
                    Says::Agrees => verdict.surely,
                    Says::Rarely => verdict.surely * RARELY,
                    Says::Unstated | Says::Contradicts => 0.0,
                }
            })
            .sum();
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
    fn new(wanted: Wanted, table: &'a Table, rows: &'a Rows) -> Self {
        let places = table.places().map(|(organ, of)| wanted.place(organ, of)).collect();
        Self { wanted, rows, table, places }
    }

    /// Weighs every row that may say something; agreement goes before exceptions, those before contradiction.
    fn look(&self, own: &mut [Verdict]) {
        match &self.wanted.fact.what {
            What::State(_) => {
                for (word, rows) in self.table.words.iter().zip(&self.rows.by_state) {
                    let near = if rows.is_empty() { 0.0 } else { self.wanted.kin.nearness(word) };
                    if near != 0.0 {
                        for at in rows {
                            self.note(*at, own, |place, spoken| self.wanted.weigh_state(place, near, spoken));
                        }
                    }
                }
            }
            What::Presence => {
                // What is said of an organ says that it is there.
                for rows in &self.rows.by_state {
                    for at in rows {
                        self.note(*at, own, |place, spoken| self.wanted.weigh(place, spoken));
                    }
                }
                self.look_at_places(own);
            }
            What::Measure(..)
            | What::Count(_)
            | What::Ratio(..)
            | What::Season(..)
            | What::Elevation(_)
            | What::District(_)
            | What::Status(_) => self.look_at_places(own),
        }
    }

    fn look_at_places(&self, own: &mut [Verdict]) {
        for (place, rows) in self.places.iter().zip(&self.rows.by_place) {
            if *place > 0.0 {
                for at in rows {
                    self.note(*at, own, |place, spoken| self.wanted.weigh(place, spoken));
                }
            }
        }
    }

    /// Weighs one row and keeps what it says where it says more than those before.
    fn note(&self, at: u32, own: &mut [Verdict], weigh: impl Fn(f32, Spoken<'_>) -> Option<Weight>) {
        let row = &self.table.rows[at as usize];
        let place = self.places[row.place as usize];
        if place <= 0.0 {
            return;
        }
        let what = match row.what {
            Cell::State(_) => What::State(String::new()),
            _ => self.table.what(&row.what),
        };
        let spoken = Spoken { what: &what, degree: row.degree, frequency: row.frequency, said: row.said };
        let Some(weight) = weigh(place, spoken) else { return };
        let (says, surely) = match weight {
            Weight::Agrees(surely) => (Says::Agrees, surely),
            Weight::Rarely(surely) => (Says::Rarely, surely),
            Weight::Against(surely) => (Says::Contradicts, surely),
        };
        let taxon = self.rows.taxa[at as usize];
        let best = &mut own[taxon.index()];
        if order(says) > order(best.says) || says == best.says && surely > best.surely {
            let range = row.start as usize..(row.start + row.bytes) as usize;
            let source = Some(Source { taxon, section: row.section, range });
            *best = Verdict { says, surely, source, members: None };
        }
    }
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
        let fit = lineage(id, |id| parent(table, id))
            .enumerate()
            .find_map(|(step, above)| fits.get(&above).map(|fit| if step == 0 { *fit } else { fit * 0.5 }));
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
