//! What narrows a question by its own words: `only Rosaceae`, `only families`, `only July`, `only` a district.
//!
//! The rest of the question is read in `describe`.

use crate::describe::{Months, month_names};
use crate::model::Rank;
use crate::search::answer::{Narrow, Narrowed};
use crate::search::names;
use crate::search::table::Table;

/// The word that such a part begins with.
const ONLY: &str = "only ";

/// Every rank that can be asked for.
const RANKS: &[Rank] = &[
    Rank::Family,
    Rank::Subfamily,
    Rank::Tribe,
    Rank::Genus,
    Rank::Subgenus,
    Rank::Section,
    Rank::Species,
    Rank::Subspecies,
    Rank::Variety,
    Rank::Form,
    Rank::Hybrid,
];

/// Returns the rank that a word names, one or many.
pub fn rank_named(word: &str) -> Option<Rank> {
    let word = word.to_lowercase();
    let single = match word.strip_suffix("ies") {
        Some("spec" | "subspec") | None => word.clone(),
        Some(stem) => format!("{stem}y"),
    };
    let single = single.replace("genera", "genus");
    let fits = |rank: &&Rank| single == rank.word() || word.strip_suffix('s') == Some(rank.word());
    RANKS.iter().find(fits).copied()
}

/// Returns the words for the ranks that can be asked for.
pub fn rank_words() -> impl Iterator<Item = &'static str> {
    RANKS.iter().map(|rank| rank.word())
}

/// Returns the month that a word names, by its beginning or its number.
pub fn month_named(word: &str) -> Option<Months> {
    /// Letters that tell the months apart.
    const SHORTEST: usize = 3;
    let word = word.to_lowercase();
    let begins = |name: &&str| word.len() >= SHORTEST && name.to_lowercase().starts_with(&word);
    let by_name = month_names().iter().position(begins).map(|at| at as u32 + 1);
    by_name.or_else(|| word.parse().ok().filter(|month| (1..=12).contains(month))).map(Months::one)
}

/// Takes the parts that narrow out of a question; a taxon narrows beside those before, a rank, month or district in place
/// of the one before.
pub(crate) fn take(typed: &str, narrow: &mut Narrow, table: &Table) -> (String, Vec<Narrowed>) {
    let mut rest = Vec::new();
    let mut narrowed = Vec::new();
    for part in typed.split(';') {
        let words = part.trim();
        let begins = words.get(..ONLY.len()).is_some_and(|begin| begin.eq_ignore_ascii_case(ONLY));
        if !begins {
            rest.push(part);
            continue;
        }
        let named = words[ONLY.len()..].trim();
        let means = put(named, narrow, table);
        narrowed.push(Narrowed { words: words.to_owned(), means });
    }
    (rest.join(";"), narrowed)
}

/// Narrows by what is named; returns what that is, or nothing where it is not known.
fn put(named: &str, narrow: &mut Narrow, table: &Table) -> Option<String> {
    if let Some(rank) = rank_named(named) {
        narrow.rank = Some(rank);
        return Some(format!("rank {}", rank.word()));
    }
    if let Some(district) = table.district(named) {
        narrow.district = Some(district.to_owned());
        return Some(format!("in {district}"));
    }
    let found = names::find(table, named).into_iter().find(|found| found.fit >= names::MEANT);
    if let Some(found) = found {
        let taxon = &table.taxa[found.taxon.index()];
        narrow.within.push(taxon.name.clone());
        return Some(format!("{} {}", taxon.rank.word(), taxon.name));
    }
    let months = month_named(named)?;
    narrow.months = Some(months);
    let list: Vec<&str> = months.list().iter().map(|month| month_names()[*month as usize - 1]).collect();
    Some(list.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_rank(word: &str, expected: Option<Rank>) {
        assert_eq!(rank_named(word), expected, "{word}");
    }

    #[test]
    fn ranks_are_named_singly_or_together() {
        check_rank("family", Some(Rank::Family));
        check_rank("Families", Some(Rank::Family));
        check_rank("genera", Some(Rank::Genus));
        check_rank("subgenera", Some(Rank::Subgenus));
        check_rank("species", Some(Rank::Species));
        check_rank("varieties", Some(Rank::Variety));
        check_rank("tribes", Some(Rank::Tribe));
        check_rank("speces", None);
    }

    #[test]
    fn months_are_named_by_their_beginning_or_number() {
        assert_eq!(month_named("jul"), Some(Months::one(7)));
        assert_eq!(month_named("7"), Some(Months::one(7)));
        assert_eq!(month_named("13"), None);
        assert_eq!(month_named("ju"), None);
    }

    #[test]
    fn a_part_that_narrows_nothing_known_is_told_so() {
        let mut narrow = Narrow::default();
        let (rest, narrowed) =
            take("petals 5; only families;only Zzz; leaves hairy", &mut narrow, &Table::default());
        assert_eq!(rest, "petals 5; leaves hairy");
        assert_eq!(narrow.rank, Some(Rank::Family));
        let means: Vec<Option<&str>> = narrowed.iter().map(|own| own.means.as_deref()).collect();
        assert_eq!(means, [Some("rank family"), None]);
    }
}
