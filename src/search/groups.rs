//! What taxa are narrowed and counted by: their family, genus, rank, districts and months, gathered from a table once.

use std::collections::BTreeMap;

use crate::describe::{EVERY_DISTRICT, Months, Said, lineage, month_names};
use crate::model::{Rank, TaxonId};
use crate::search::answer::{Answer, Share};
use crate::search::rank::parent;
use crate::search::table::{Cell, Table};

/// No taxon.
const NONE: u32 = u32::MAX;

/// What is counted, by taxon.
#[derive(Debug)]
pub(crate) struct Groups {
    families: Vec<u32>,
    genera: Vec<u32>,
    months: Vec<Months>,
    /// Words of the districts, taxon after taxon; those of a taxon begin at its number in `firsts`.
    districts: Vec<u32>,
    firsts: Vec<u32>,
}

impl Groups {
    /// Goes through a table once.
    pub(crate) fn of(table: &Table) -> Self {
        let ids = || (0..table.taxa.len()).map(|at| TaxonId(at as u32));
        let of_rank = |rank: Rank| -> Vec<u32> {
            let above = |id| lineage(id, |id| parent(table, id));
            let found = |id| above(id).find(|above| table.taxa[above.index()].rank == rank);
            ids().map(|id| found(id).map_or(NONE, |above| above.0)).collect()
        };
        let (mut districts, mut firsts) = (Vec::new(), Vec::with_capacity(table.taxa.len() + 1));
        let mut months = Vec::with_capacity(table.taxa.len());
        for id in ids() {
            let first = districts.len();
            firsts.push(first as u32);
            let mut own = Months::default();
            for row in table.of_taxon(id).1 {
                match row.what {
                    Cell::District(word) if row.said == Said::Is && !districts[first..].contains(&word) => {
                        districts.push(word);
                    }
                    Cell::Season(_, seen) => own = own.and(seen),
                    _ => {}
                }
            }
            months.push(own);
        }
        firsts.push(districts.len() as u32);
        Self { families: of_rank(Rank::Family), genera: of_rank(Rank::Genus), months, districts, firsts }
    }

    fn districts_of(&self, id: TaxonId) -> &[u32] {
        &self.districts[self.firsts[id.index()] as usize..self.firsts[id.index() + 1] as usize]
    }

    /// Says whether a taxon flowers or fruits in one of these months, or nobody says when.
    pub(crate) fn in_season(&self, table: &Table, id: TaxonId, months: Months) -> bool {
        let line = lineage(id, |id| parent(table, id)).map(|above| self.months[above.index()]);
        line.into_iter().find(|own| *own != Months::default()).is_none_or(|own| own.meets(months))
    }

    /// Says whether a taxon grows in a district, or nobody says where.
    pub(crate) fn grows_in(&self, table: &Table, id: TaxonId, district: &str) -> bool {
        let line = lineage(id, |id| parent(table, id)).map(|above| self.districts_of(above));
        let fits = |word: &u32| {
            let own = table.word(*word).unwrap_or_default();
            own == EVERY_DISTRICT || own.eq_ignore_ascii_case(district)
        };
        line.into_iter().find(|own| !own.is_empty()).is_none_or(|own| own.iter().any(fits))
    }

    /// Counts the taxa that fit by family, genus, rank, district and month.
    pub(crate) fn count(&self, table: &Table, fitting: &[TaxonId], answer: &mut Answer) {
        let mut taxa = vec![0_u32; table.taxa.len()];
        let mut words = vec![0_u32; table.words.len()];
        let (mut ranks, mut months) = (BTreeMap::<Rank, u32>::new(), [0_u32; 12]);
        for id in fitting {
            for above in [self.families[id.index()], self.genera[id.index()]] {
                if above != NONE {
                    taxa[above as usize] += 1;
                }
            }
            *ranks.entry(table.taxa[id.index()].rank).or_default() += 1;
            self.districts_of(*id).iter().for_each(|word| words[*word as usize] += 1);
            self.months[id.index()].list().into_iter().for_each(|month| months[month as usize - 1] += 1);
        }
        let of_rank = |rank: Rank| {
            let counted =
                taxa.iter().enumerate().filter(|(at, taxa)| **taxa > 0 && table.taxa[*at].rank == rank);
            most_first(counted.map(|(at, taxa)| Share {
                name: table.taxa[at].name.clone(),
                taxon: Some(TaxonId(at as u32)),
                taxa: *taxa,
            }))
        };
        answer.families = of_rank(Rank::Family);
        answer.genera = of_rank(Rank::Genus);
        let counted = words.iter().enumerate().filter(|(_, taxa)| **taxa > 0);
        let district =
            |(at, taxa): (usize, &u32)| table.word(at as u32).map(|name| share(name.to_owned(), *taxa));
        answer.districts =
            most_first(counted.filter_map(district).filter(|share| share.name != EVERY_DISTRICT));
        let month = |(at, taxa): (usize, u32)| share(month_names()[at].to_owned(), taxa);
        answer.months = months.into_iter().enumerate().map(month).filter(|share| share.taxa > 0).collect();
        // Where only species are looked at, the higher ranks that they would be narrowed to are told too.
        for (rank, groups) in [(Rank::Family, &answer.families), (Rank::Genus, &answer.genera)] {
            if !groups.is_empty() {
                ranks.entry(rank).or_insert(groups.len() as u32);
            }
        }
        answer.ranks = ranks.into_iter().map(|(rank, taxa)| share(rank.word().to_owned(), taxa)).collect();
    }
}

fn share(name: String, taxa: u32) -> Share {
    Share { name, taxon: None, taxa }
}

fn most_first(shares: impl Iterator<Item = Share>) -> Vec<Share> {
    let mut shares: Vec<Share> = shares.collect();
    shares.sort_by(|one, other| other.taxa.cmp(&one.taxa).then(one.name.cmp(&other.name)));
    shares
}
