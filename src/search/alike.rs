//! Which descriptions come nearest to that of one taxon: its facts in, other taxa out, the nearest first.
//!
//! A shared character counts by how few taxa have it, and belonging to the same genus or family counts a little. Which
//! keys tell the taxa apart is not known here.

use rayon::prelude::*;

use crate::describe::{Asked, Fact, Frequency, Kin, Part, Thesaurus, What, lineage};
use crate::model::{Rank, TaxonId};
use crate::search::answer::Says;
use crate::search::question::Facts;
use crate::search::rank::{self, Column};

/// How a taxon's description stands to that of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alike {
    /// The taxon.
    pub taxon: TaxonId,
    /// Characters in which they agree.
    pub agree: u32,
    /// Characters that both state, themselves or through a taxon above.
    pub of: u32,
    /// What the others are of, each once, in the order of the description.
    pub differs: Vec<String>,
}

/// What belonging together counts, as a share of what agreement in every character would: enough to go before a far
/// relative with the same habit, too little to go before one that looks the same.
const SAME_GENUS: f32 = 0.5;
const SAME_FAMILY: f32 = 0.1;

/// What a contradiction takes away, as a share of what agreement in the same character brings.
const CONTRADICTION: f32 = 0.15;

/// Characters that are compared; the longest descriptions of sim/big have about thirty.
const MOST_CHARACTERS: usize = 40;

/// Returns `most` species and below whose descriptions are nearest to these facts of a taxon, then those of `also`.
pub(crate) fn alike(
    facts: &Facts,
    (taxon, stated): (TaxonId, &[Fact]),
    (also, most): (&[TaxonId], usize),
) -> Vec<Alike> {
    let table = &facts.table;
    let parts = characters(stated, &facts.thesaurus);
    let own: Vec<TaxonId> = lineage(taxon, |id| rank::parent(table, id)).collect();
    let is_other = |id: &TaxonId| {
        !own.contains(id) && !lineage(*id, |id| rank::parent(table, id)).any(|above| above == taxon)
    };
    let ids = (0..table.taxa.len() as u32).map(TaxonId);
    let others: Vec<TaxonId> = ids.filter(|id| table.taxa[id.index()].rank >= Rank::Species).collect();
    let column = |part: &Part| {
        let mut column = rank::column(facts.ground(), part, &others);
        column.set_worth();
        column
    };
    let columns: Vec<Column> = parts.par_iter().map(column).collect();
    let all: f32 = columns.iter().map(Column::worth).sum();
    let score = |at: usize| {
        let id = others[at];
        let kin = lineage(id, |id| rank::parent(table, id)).skip(1).filter(|above| own.contains(above));
        let kin = kin.map(|above| match table.taxa[above.index()].rank {
            Rank::Family => SAME_FAMILY,
            rank if rank < Rank::Family => 0.0,
            _ => SAME_GENUS,
        });
        columns.iter().map(|column| worth(column, at)).sum::<f32>() + all * kin.fold(0.0, f32::max)
    };
    let other = (0..others.len()).filter(|at| is_other(&others[*at]));
    let mut scored: Vec<(f32, usize)> = other.map(|at| (score(at), at)).collect();
    scored.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
    let near = scored.iter().take(most).filter(|(score, _)| *score > 0.0).count();
    let asked = scored.split_off(near).into_iter().filter(|(_, at)| also.contains(&others[*at]));
    let nearest = scored.iter().copied().chain(asked);
    nearest.map(|(_, at)| compared((at, others[at]), &parts, &columns)).collect()
}

/// Returns what one character brings a taxon.
fn worth(column: &Column, at: usize) -> f32 {
    match column.says(at) {
        Says::Contradicts => -column.worth() * CONTRADICTION * column.surely(at),
        Says::Agrees | Says::Rarely | Says::Unstated => column.score(at),
    }
}

fn compared((at, taxon): (usize, TaxonId), parts: &[Part], columns: &[Column]) -> Alike {
    let mut alike = Alike { taxon, agree: 0, of: 0, differs: Vec::new() };
    for (part, column) in parts.iter().zip(columns) {
        match column.says(at) {
            Says::Agrees | Says::Rarely => (alike.agree, alike.of) = (alike.agree + 1, alike.of + 1),
            Says::Contradicts => {
                alike.of += 1;
                if !alike.differs.contains(&part.words) {
                    alike.differs.push(part.words.clone());
                }
            }
            Says::Unstated => {}
        }
    }
    alike
}

/// Gathers facts into characters: states of one organ that agree with or exclude one another are one, so are measures of
/// one dimension.
fn characters(facts: &[Fact], thesaurus: &Thesaurus) -> Vec<Part> {
    let mut found: Vec<(Vec<Fact>, Vec<Kin>)> = Vec::new();
    for fact in facts.iter().filter(|fact| is_compared(fact)) {
        let same = |(group, kin): &(Vec<Fact>, Vec<Kin>)| {
            let first = &group[0];
            (first.organ, first.of, first.said) == (fact.organ, fact.of, fact.said)
                && match (&first.what, &fact.what) {
                    (What::State(_), What::State(state)) => kin.iter().any(|kin| kin.nearness(state) != 0.0),
                    (What::Measure(one, _), What::Measure(other, _)) => one == other,
                    (What::Count(_), What::Count(_)) => true,
                    (What::Ratio(_, one), What::Ratio(_, other)) => one == other,
                    _ => false,
                }
        };
        let kin = match &fact.what {
            What::State(state) => Some(thesaurus.kin(state, fact.organ)),
            _ => None,
        };
        match found.iter_mut().find(|group| same(group)) {
            Some((group, all)) => {
                group.push(fact.clone());
                all.extend(kin);
            }
            None => found.push((vec![fact.clone()], kin.into_iter().collect())),
        }
    }
    found.truncate(MOST_CHARACTERS);
    let part = |(group, _): (Vec<Fact>, _)| Part { words: words(&group[0]), asked: Asked::Character(group) };
    found.into_iter().map(part).collect()
}

/// Says whether a fact is a character of how the plant looks, and more than an exception.
fn is_compared(fact: &Fact) -> bool {
    let looks = match fact.what {
        What::State(_) | What::Measure(..) | What::Count(_) | What::Ratio(..) => true,
        What::Presence | What::Season(..) | What::Elevation(_) | What::District(_) | What::Status(_) => false,
    };
    looks && fact.frequency != Frequency::Rarely
}

/// Returns what a character is of: `leaf base`, `petal length`, `stamen number`.
fn words(fact: &Fact) -> String {
    let organ: Vec<&str> = fact.of.into_iter().chain([fact.organ.unwrap_or("plant")]).collect();
    let organ = organ.join(" ");
    match &fact.what {
        What::Measure(dimension, _) => format!("{organ} {}", dimension.noun()),
        What::Count(_) => format!("{organ} number"),
        What::Ratio(..) => format!("{organ} proportion"),
        What::State(_)
        | What::Presence
        | What::Season(..)
        | What::Elevation(_)
        | What::District(_)
        | What::Status(_) => organ,
    }
}
