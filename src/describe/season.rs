//! Months out of a phenology (T38): names, Roman and Arabic numerals, ranges that wrap over the year, two periods.
//!
//! Seasons by name (spring) are no months: that would need to know the hemisphere.

use std::ops::Range;

use serde::{Deserialize, Serialize};

/// A set of months.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Months(u16);

/// What the plant does in them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Phase {
    /// It flowers, or nothing else is said.
    Flower,
    /// It fruits.
    Fruit,
    /// It cones or sheds spores.
    Spore,
    /// It is in leaf.
    Leaf,
}

/// A stretch of months in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Period {
    /// What the plant does.
    pub(crate) phase: Phase,
    /// The usual months.
    pub(crate) months: Months,
    /// Months in which it does so exceptionally.
    pub(crate) rarely: Months,
    /// The bytes that say so.
    pub(crate) range: Range<usize>,
}

/// What may be taken for a month.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cue {
    /// The text is about seasons: numerals are months too.
    Given,
    /// Nothing says so: only names of months count.
    Missing,
}

/// The months' names.
const NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Roman numerals of the months.
const ROMAN: [&str; 12] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"];

/// Returns the names of the months, for whoever asks for one.
pub fn month_names() -> &'static [&'static str] {
    &NAMES
}

impl Months {
    /// Returns one month, counted from 1; nothing for another number.
    pub fn one(month: u32) -> Self {
        if (1..=12).contains(&month) { Self(1 << (month - 1)) } else { Self(0) }
    }

    /// Returns the months from one to another, over the turn of the year where the second comes first.
    pub fn from_to(first: u32, last: u32) -> Self {
        let mut months = Self::one(first);
        let mut month = first;
        while month != last && (1..=12).contains(&last) {
            month = month % 12 + 1;
            months = months.and(Self::one(month));
        }
        months
    }

    /// Returns all months.
    pub fn all() -> Self {
        Self::from_to(1, 12)
    }

    /// Returns the months of both.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Returns the months of this set that the other lacks.
    #[must_use]
    pub fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// Says whether there is none.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Says whether the two share a month.
    pub fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Returns the set with the month before and after each of its own.
    #[must_use]
    pub fn widened(self) -> Self {
        let turn = |bits: u16| (bits << 1 | bits >> 11) & 0xfff;
        let back = |bits: u16| (bits >> 1 | bits << 11) & 0xfff;
        Self(self.0 | turn(self.0) | back(self.0))
    }

    /// Returns the months, counted from 1, in the order of the year.
    pub fn list(self) -> Vec<u32> {
        (1..=12).filter(|month| self.meets(Self::one(*month))).collect()
    }
}

/// Reads a month by its name, full or shortened (`Sept.`).
pub(crate) fn named(word: &str) -> Option<u32> {
    let key = word.trim_end_matches('.').to_lowercase();
    let fits = |name: &&str| {
        let name = name.to_lowercase();
        name == key
            || key == "sept" && name == "september"
            || key.len() >= 3 && key.len() <= 4 && name.starts_with(&key)
    };
    let at = NAMES.iter().position(|name| fits(&name))?;
    (key.len() >= 3).then_some(at as u32 + 1)
}

fn month(word: &str, cue: Cue) -> Option<u32> {
    match cue {
        Cue::Missing => named(word),
        Cue::Given => named(word)
            .or_else(|| ROMAN.iter().position(|roman| *roman == word).map(|at| at as u32 + 1))
            .or_else(|| word.parse().ok().filter(|month| (1..=12).contains(month))),
    }
}

/// Returns the phase that a word opens.
pub(crate) fn phase(word: &str) -> Option<Phase> {
    Some(match word.trim_end_matches('.').to_lowercase().as_str() {
        "fl" | "fls" | "flowering" | "flowers" | "flower" | "blooming" | "blooms" | "bloom" => Phase::Flower,
        "fr" | "frs" | "fruiting" | "fruits" | "fruit" => Phase::Fruit,
        "coning" | "cones" | "sporing" | "spores" | "sporulating" => Phase::Spore,
        "leafing" => Phase::Leaf,
        _ => return None,
    })
}

/// A word with the sign before it.
struct Piece<'a> {
    word: &'a str,
    range: Range<usize>,
    before: &'a str,
}

/// Reads the periods of a text.
pub(crate) fn periods(text: &str, cue: Cue) -> Vec<Period> {
    let mut periods: Vec<Period> = Vec::new();
    let mut phases = vec![Phase::Flower];
    let mut fresh = true;
    let mut last: Option<(u32, bool)> = None;
    for Piece { word, range, before } in pieces(text) {
        if let Some(phase) = phase(word) {
            if fresh || !matches!(before.trim(), "" | "&" | "." | "/") {
                phases.clear();
            }
            phases.push(phase);
            fresh = false;
            last = None;
            continue;
        }
        if matches!(word, "and" | "to" | "or" | "till" | "until" | "from" | "through")
            && before.trim().is_empty()
        {
            continue;
        }
        let cue = if fresh { cue } else { Cue::Given };
        if word == "year" && text[..range.start].trim_end().ends_with("all") {
            push(&mut periods, &phases, (Months::all(), Months::default()), range);
            continue;
        }
        let Some(month) = month(word, cue) else {
            last = None;
            continue;
        };
        let bracketed = depth(&text[..range.start]) > 0;
        let joined = before.contains(['–', '-', '—', '/']) || joins(text, &range);
        let stretch =
            last.filter(|_| joined).map(|(first, inside)| (Months::from_to(first, month), first, inside));
        let (months, rarely) = match stretch {
            Some((stretch, _, true)) => (Months::one(month), stretch.without(Months::one(month))),
            Some((stretch, first, false)) if bracketed => {
                (Months::default(), stretch.without(Months::one(first)))
            }
            Some((stretch, ..)) => (stretch, Months::default()),
            None if bracketed => (Months::default(), Months::one(month)),
            None => (Months::one(month), Months::default()),
        };
        push(&mut periods, &phases, (months, rarely), range);
        last = Some((month, bracketed));
        fresh = false;
    }
    periods
}

/// Says whether a word joins a month to the one before it: from April to June.
fn joins(text: &str, range: &Range<usize>) -> bool {
    let before = text[..range.start].trim_end();
    [" to", " till", " until", " through"].iter().any(|word| before.ends_with(word))
}

/// Returns how many brackets are open at the end of a text.
fn depth(text: &str) -> usize {
    text.matches('(').count().saturating_sub(text.matches(')').count())
}

fn push(
    periods: &mut Vec<Period>,
    phases: &[Phase],
    (months, rarely): (Months, Months),
    range: Range<usize>,
) {
    for phase in phases {
        if let Some(own) = periods.iter_mut().find(|own| own.phase == *phase) {
            own.months = own.months.and(months);
            own.rarely = own.rarely.and(rarely).without(own.months);
            own.range.end = range.end;
        } else {
            periods.push(Period { phase: *phase, months, rarely, range: range.clone() });
        }
    }
}

fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut end = 0;
    let mut start = None;
    for (at, letter) in text.char_indices().chain([(text.len(), ' ')]) {
        match (letter.is_alphanumeric(), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                pieces.push(Piece { word: &text[from..at], range: from..at, before: &text[end..from] });
                end = at;
                start = None;
            }
            (true, Some(_)) | (false, None) => {}
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks the months of flower and fruit, exceptional ones behind a bar.
    #[track_caller]
    fn check(text: &str, expected: &[(Phase, &[u32], &[u32])]) {
        let found: Vec<(Phase, Vec<u32>, Vec<u32>)> = periods(text, Cue::Given)
            .into_iter()
            .map(|period| (period.phase, period.months.list(), period.rarely.list()))
            .collect();
        let expected: Vec<(Phase, Vec<u32>, Vec<u32>)> = expected
            .iter()
            .map(|(phase, months, rarely)| (*phase, months.to_vec(), rarely.to_vec()))
            .collect();
        assert_eq!(found, expected, "{text}");
    }

    #[test]
    fn s8_flower_and_fruit_have_their_own_months() {
        check(
            "Fl. Jun–Aug, fr. Oct–Nov",
            &[(Phase::Flower, &[6, 7, 8], &[]), (Phase::Fruit, &[10, 11], &[])],
        );
        check("Fl. and fr. Aug–Oct", &[(Phase::Flower, &[8, 9, 10], &[]), (Phase::Fruit, &[8, 9, 10], &[])]);
    }

    #[test]
    fn s8_seasons_by_name_are_no_months() {
        check("Fl. late spring–summer", &[]);
    }

    #[test]
    fn t38_months_by_name_and_numeral() {
        check("June–July", &[(Phase::Flower, &[6, 7], &[])]);
        check("Sept.", &[(Phase::Flower, &[9], &[])]);
        check("June/July", &[(Phase::Flower, &[6, 7], &[])]);
        check("VI–VIII", &[(Phase::Flower, &[6, 7, 8], &[])]);
        check("6–8", &[(Phase::Flower, &[6, 7, 8], &[])]);
        check("Apr.–Jul.", &[(Phase::Flower, &[4, 5, 6, 7], &[])]);
        check(
            "Flowering from June to August, fruiting from July to October.",
            &[(Phase::Flower, &[6, 7, 8], &[]), (Phase::Fruit, &[7, 8, 9, 10], &[])],
        );
    }

    #[test]
    fn t38_a_season_wraps_over_the_year() {
        check("Nov–Feb", &[(Phase::Flower, &[1, 2, 11, 12], &[])]);
        check("XI–II", &[(Phase::Flower, &[1, 2, 11, 12], &[])]);
    }

    #[test]
    fn t38_extremes_stand_in_brackets() {
        check("(Apr–)May–Jul(–Sep)", &[(Phase::Flower, &[5, 6, 7], &[4, 8, 9])]);
    }

    #[test]
    fn t38_two_periods_and_all_year() {
        check("Mar–May, Sep", &[(Phase::Flower, &[3, 4, 5, 9], &[])]);
        check("all year", &[(Phase::Flower, &[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], &[])]);
    }

    #[test]
    fn t38_numerals_count_only_after_a_cue() {
        assert_eq!(periods("Plate VI, group 5", Cue::Missing), []);
        assert_eq!(periods("in May", Cue::Missing)[0].months.list(), [5]);
    }
}
