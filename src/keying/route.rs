//! The routes of a taxon: every lead that is true of it, from a start of the flora's keys to where it keys out.

use std::collections::BTreeSet;

use crate::keying::{Graph, Spot, Turn};
use crate::model::TaxonId;

/// The routes of one taxon.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Routes {
    /// Each from its start to the lead that names the taxon, in the order of the book.
    pub routes: Vec<Vec<Turn>>,
    /// Whether there are more than are listed.
    pub more: bool,
}

/// Routes that are listed. A taxon that keys out in more ways than this is better looked up in its key.
const MOST_ROUTES: usize = 64;

impl Graph {
    /// Returns every route to a taxon: to the leads that name it, or that lead to the key of its members.
    pub fn routes(&self, taxon: TaxonId) -> Routes {
        let mut found = Routes::default();
        for spot in self.spots() {
            for lead in 0..self.leads(spot) {
                if self.names(spot, lead).contains(&taxon) {
                    self.climb(&mut vec![Turn { spot, lead }], &mut BTreeSet::from([spot]), &mut found);
                }
            }
        }
        found.routes.sort();
        found.routes.dedup();
        found
    }

    /// Goes up from the topmost turn to every start; a couplet is on a route only once.
    fn climb(&self, turns: &mut Vec<Turn>, on_it: &mut BTreeSet<Spot>, found: &mut Routes) {
        if found.routes.len() >= MOST_ROUTES {
            found.more = true;
            return;
        }
        let Some(top) = turns.last().map(|turn| turn.spot) else { return };
        let arrivals = self.arrivals(top);
        if arrivals.is_empty() {
            found.routes.push(turns.iter().rev().copied().collect());
        }
        for turn in arrivals {
            if on_it.insert(turn.spot) {
                turns.push(*turn);
                self.climb(turns, on_it, found);
                turns.pop();
                on_it.remove(&turn.spot);
            }
        }
    }
}
