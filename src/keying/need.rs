//! What a plant must show to be keyed on: flowers, fruit, seeds, parts below the ground, as leads name them.

use crate::clause::{self, bearers};

/// Something that a plant in hand often lacks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// Flowers, or any part of one.
    Flower,
    /// Fruit.
    Fruit,
    /// Seeds.
    Seed,
    /// Roots, rhizomes, bulbs and what else lies below the ground.
    Underground,
}

/// Organs that lie below the ground.
const UNDERGROUND: &[&str] = &["root", "rhizome", "tuber", "bulb", "corm"];

impl Need {
    /// Every need.
    pub const ALL: [Self; 4] = [Self::Flower, Self::Fruit, Self::Seed, Self::Underground];

    /// Returns the word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Flower => "flowers",
            Self::Fruit => "fruit",
            Self::Seed => "seeds",
            Self::Underground => "underground parts",
        }
    }

    fn of(organ: &str) -> Option<Self> {
        bearers(organ).find_map(|organ| match organ {
            "flower" => Some(Self::Flower),
            "seed" => Some(Self::Seed),
            "fruit" => Some(Self::Fruit),
            organ if UNDERGROUND.contains(&organ) => Some(Self::Underground),
            _ => None,
        })
    }
}

/// Returns what the words of a lead need, in the order of [`Need::ALL`], each once.
pub fn needs(lead: &str) -> Vec<Need> {
    let mut needs: Vec<Need> =
        clause::clauses(lead).iter().filter_map(|clause| Need::of(clause.organ.as_deref()?)).collect();
    needs.sort_unstable();
    needs.dedup();
    needs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_needs(lead: &str, expected: &[Need]) {
        assert_eq!(needs(lead), expected);
    }

    #[test]
    fn parts_count_as_what_bears_them() {
        check_needs("Petals white; capsule globose; leaves hairy", &[Need::Flower, Need::Fruit]);
        check_needs("Rhizome creeping; achenes smooth", &[Need::Fruit, Need::Underground]);
        check_needs("Leaves ovate", &[]);
    }
}
