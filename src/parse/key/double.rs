//! Couplets that a misprint gave one number (K42): four leads under one number where the next number is called for and
//! never comes are two couplets. The second takes that number, and its leads are reported.

use super::label::Series;
use super::read::RawCouplet;

/// Couplets parted, and the leads whose number was mended.
pub(super) struct Parted {
    /// The couplets.
    pub(super) couplets: Vec<RawCouplet>,
    /// Leads of couplets that took another number than they print.
    pub(super) odd: Vec<usize>,
}

/// Leads that a couplet printed twice has at least.
const FEWEST: usize = 4;

/// Parts couplets under one number; `awaits` tells which numbers are called for and have not come.
pub(super) fn part(couplets: Vec<RawCouplet>, awaits: &dyn Fn(u32) -> bool) -> Parted {
    let mut parted = Parted { couplets: Vec::new(), odd: Vec::new() };
    for couplet in couplets {
        let Series::Number(number) = couplet.series else {
            parted.couplets.push(couplet);
            continue;
        };
        if couplet.leads.len() < FEWEST || couplet.leads.len() % 2 == 1 || !awaits(number + 1) {
            parted.couplets.push(couplet);
            continue;
        }
        let (first, second) = couplet.leads.split_at(couplet.leads.len() / 2);
        parted.odd.extend(second);
        parted.couplets.push(RawCouplet { series: Series::Number(number), leads: first.to_vec() });
        parted.couplets.push(RawCouplet { series: Series::Number(number + 1), leads: second.to_vec() });
    }
    parted
}
