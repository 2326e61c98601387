//! The characters of a description one by one, as a reader ticks them: a text in, its statements and their parts out, and
//! what was ticked for each. How a reading lies to a statement is worked out in `measured`.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::clause;
use crate::keying::Tick;
use crate::reader::library::Library;
use crate::reader::sheet::measured;

/// What stands between a statement and a part of it where a tick is kept.
const WITHIN: &str = " › ";

/// Words that go on with what the part before says, so that both are one character: `white, rarely pink`.
const GO_ON: &[&str] = &[
    "and",
    "at",
    "but",
    "especially",
    "except",
    "exceptionally",
    "frequently",
    "generally",
    "less",
    "more",
    "mostly",
    "never",
    "not",
    "occasionally",
    "often",
    "or",
    "rarely",
    "seldom",
    "sometimes",
    "then",
    "to",
    "usually",
    "very",
];

/// What was ticked for one taxon.
pub(super) type Ticks = BTreeMap<String, Tick>;

/// One character.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Character {
    /// Its bytes in the text.
    pub(super) range: Range<usize>,
    /// What a tick beside it is kept under.
    pub(super) kept: String,
    /// Whether it goes on with the organ of the one before.
    pub(super) goes_on: bool,
}

/// Returns the characters of a text in order: the parts of each statement, or the whole statement where it was ticked whole.
pub(super) fn characters(text: &str, ticks: Option<&Ticks>) -> Vec<Character> {
    let mut all = Vec::new();
    for clause in clause::clauses(text) {
        let statement = &text[clause.range.clone()];
        let whole = ticks.is_some_and(|ticks| ticks.contains_key(statement));
        let parts = if whole { vec![clause.range.clone()] } else { parts(text, &clause.range) };
        let alone = parts.len() == 1;
        for (at, range) in parts.into_iter().enumerate() {
            let part = &text[range.clone()];
            let kept = if alone { statement.to_owned() } else { format!("{statement}{WITHIN}{part}") };
            all.push(Character { range, kept, goes_on: at > 0 });
        }
    }
    all
}

/// Returns the statement that a tick was kept under, or under a part of which.
pub(crate) fn statement(kept: &str) -> &str {
    kept.rsplit_once(WITHIN).map_or(kept, |(statement, _)| statement)
}

/// Cuts a statement at the commas between its characters.
fn parts(text: &str, statement: &Range<usize>) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let (mut start, mut depth) = (statement.start, 0_usize);
    for (at, letter) in text[statement.clone()].char_indices() {
        let at = statement.start + at;
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            ',' if depth == 0
                && begins_anew(&text[at + 1..statement.end])
                && !waits_for_its_noun(&text[start..at]) =>
            {
                parts.push(start..at);
                start = at + 2;
            }
            _ => {}
        }
    }
    parts.push(start..statement.end);
    parts
}

/// Says whether what stands behind a comma is a character of its own.
fn begins_anew(rest: &str) -> bool {
    let Some(rest) = rest.strip_prefix(' ') else { return false };
    let word = rest.split(|letter: char| !letter.is_alphabetic()).next().unwrap_or_default();
    !rest.starts_with(' ') && !rest.is_empty() && !GO_ON.contains(&word.to_lowercase().as_str())
}

/// Says whether a part ends within a row of adjectives: `in the axil of a dry`, where `chaffy glume` follows.
fn waits_for_its_noun(part: &str) -> bool {
    let mut words = part.rsplit(' ');
    let (last, before) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    matches!(before, "a" | "an" | "the") && clause::organ_of(last).is_none()
}

/// What was found of a character.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Found {
    /// It agrees.
    Agrees,
    /// It disagrees.
    Disagrees,
    /// It was not seen.
    NotSeen,
    /// The readings that were taken, and how they lie to it.
    Inside(String),
    /// Readings outside of what is stated.
    Outside(String),
}

/// Returns what was found of a character, if anything.
pub(super) fn found(library: &Library, ticks: Option<&Ticks>, kept: &str) -> Option<Found> {
    Some(match ticks?.get(kept)? {
        Tick::Agrees => Found::Agrees,
        Tick::Disagrees => Found::Disagrees,
        Tick::NotSeen => Found::NotSeen,
        Tick::Measured(typed) => {
            let found = measured::against(library, typed, statement(kept));
            let (fits, verdict) = found.unwrap_or_else(|sorry| (true, sorry));
            let words = format!("{typed}: {verdict}");
            if fits { Found::Inside(words) } else { Found::Outside(words) }
        }
    })
}

/// How many characters were found to be what.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Counts {
    pub(super) agree: u32,
    pub(super) disagree: u32,
    pub(super) not_seen: u32,
    pub(super) open: u32,
}

impl Counts {
    /// Counts one more.
    pub(super) fn add(&mut self, found: Option<&Found>) {
        let count = match found {
            Some(Found::Agrees | Found::Inside(_)) => &mut self.agree,
            Some(Found::Disagrees | Found::Outside(_)) => &mut self.disagree,
            Some(Found::NotSeen) => &mut self.not_seen,
            None => &mut self.open,
        };
        *count += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks the characters of a text, those that go on with the organ before with a sign before them.
    #[track_caller]
    fn check_characters(text: &str, ticks: &[&str], expected: &[&str]) {
        let ticks: Ticks = ticks.iter().map(|kept| ((*kept).to_owned(), Tick::Agrees)).collect();
        let found = characters(text, Some(&ticks));
        let shown =
            |one: &Character| format!("{}{}", if one.goes_on { "+" } else { "" }, &text[one.range.clone()]);
        assert_eq!(found.iter().map(shown).collect::<Vec<_>>(), expected);
    }

    #[test]
    fn each_part_of_a_statement_is_a_character() {
        check_characters(
            "Leaves ovate, 3–5 cm long, hairy (below, at least). Petals white",
            &[],
            &["Leaves ovate", "+3–5 cm long", "+hairy (below, at least)", "Petals white"],
        );
    }

    #[test]
    fn what_limits_the_part_before_is_no_character_of_its_own() {
        check_characters(
            "Petals white, rarely pink, notched, or 1,000 of them",
            &[],
            &["Petals white, rarely pink", "+notched, or 1,000 of them"],
        );
    }

    #[test]
    fn adjectives_of_one_noun_stay_with_it() {
        check_characters(
            "Flowers small, each in the axil of a dry, chaffy glume, in spikes. Fruit a nut, smooth",
            &[],
            &[
                "Flowers small",
                "+each in the axil of a dry, chaffy glume",
                "+in spikes",
                "Fruit a nut",
                "+smooth",
            ],
        );
    }

    #[test]
    fn a_statement_that_was_ticked_whole_stays_whole() {
        check_characters(
            "Leaves ovate, hairy; stem long",
            &["Leaves ovate, hairy"],
            &["Leaves ovate, hairy", "stem long"],
        );
    }

    #[test]
    fn the_same_words_of_two_organs_are_two_characters() {
        let all = characters("Leaves ovate, hairy; sepals small, hairy", None);
        assert_ne!(all[1].kept, all[3].kept);
        assert_eq!(statement(&all[3].kept), "sepals small, hairy");
        assert_eq!(statement("Stem long"), "Stem long");
    }
}
