//! A text cut into clauses, each with the organ that its characters belong to. What is said of the organ is not read here.

mod organ;
mod split;

use std::ops::Range;

#[cfg(test)]
pub(crate) use organ::is_organ;
pub use organ::{bearers, organ_of};

/// A part of a text between semicolons or full stops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clause {
    /// Its bytes in the text, without blanks around and without the stop.
    pub range: Range<usize>,
    /// The organ in the singular (`leaf`): the first that is named, in a name of two the second (`stem leaves`), else
    /// that of the clause before.
    pub organ: Option<String>,
    /// Every organ that the clause names, in order; empty where the organ is that of the clause before.
    pub parts: Vec<Part>,
}

/// An organ named in a clause.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// The bytes of its word in the text.
    pub range: Range<usize>,
    /// The organ in the singular.
    pub organ: &'static str,
    /// How surely the word names an organ here.
    pub sure: Sureness,
}

/// How surely a word names an organ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sureness {
    /// Hardly anything else is called so (petal).
    Sure,
    /// Other things are called so as well (head, base).
    Everyday,
    /// It is one only beside another organ (the ridges of a fruit); alone it names none.
    Slight,
}

/// Cuts a text into its clauses, in order.
///
/// An everyday word (head, base) is the organ only where it opens the clause or no sure one is named in it.
pub fn clauses(text: &str) -> Vec<Clause> {
    let mut organ: Option<&'static str> = None;
    let clause = |range: Range<usize>| {
        let mut parts = parts(text, &range);
        if parts.iter().all(|part| part.sure == Sureness::Slight) {
            parts.clear();
        }
        let opens = |part: &&Part| {
            text[range.start..part.range.start].split_whitespace().count() <= WORDS_BEFORE_OPENER
        };
        let sure =
            |part: &&Part| part.sure == Sureness::Sure || part.sure == Sureness::Everyday && opens(part);
        let first = parts.iter().position(|part| sure(&part));
        let first = first.or_else(|| parts.iter().position(|part| part.sure == Sureness::Everyday));
        organ = first.map(|first| parts[head(text, &parts, first)].organ).or(organ);
        Clause { range, organ: organ.map(str::to_owned), parts }
    };
    split::ranges(text).into_iter().map(clause).collect()
}

/// Words before the noun that opens a clause: `Upper stem leaves ovate`, with the article of older prose.
const WORDS_BEFORE_OPENER: usize = 1;

/// Returns the last of the organs that stand side by side, which is the one that is meant: `calyx teeth`.
fn head(text: &str, parts: &[Part], first: usize) -> usize {
    let beside = |pair: &&[Part]| &text[pair[0].range.end..pair[1].range.start] == " ";
    first + parts[first..].windows(2).take_while(beside).count()
}

fn parts(text: &str, range: &Range<usize>) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut start = range.start;
    for piece in text[range.clone()].split_inclusive(|letter: char| !letter.is_alphabetic()) {
        let word = piece.trim_end_matches(|letter: char| !letter.is_alphabetic());
        if let Some((organ, sure)) = organ::find(word) {
            parts.push(Part { range: start..start + word.len(), organ, sure });
        }
        start += piece.len();
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_organs(text: &str, expected: &[(&str, Option<&str>)]) {
        let clauses = clauses(text);
        let found: Vec<(&str, Option<&str>)> =
            clauses.iter().map(|clause| (&text[clause.range.clone()], clause.organ.as_deref())).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn each_clause_has_the_organ_that_opens_it() {
        check_organs(
            "Stems erect; lower leaves ovate, acute. Petals 5, free",
            &[
                ("Stems erect", Some("stem")),
                ("lower leaves ovate, acute", Some("leaf")),
                ("Petals 5, free", Some("petal")),
            ],
        );
    }

    #[test]
    fn a_clause_without_a_noun_inherits_the_last_organ() {
        check_organs(
            "Leaves opposite; ovate or oblong",
            &[("Leaves opposite", Some("leaf")), ("ovate or oblong", Some("leaf"))],
        );
    }

    #[test]
    fn a_sure_organ_goes_before_an_everyday_word() {
        check_organs(
            "ending in a head of white flowers",
            &[("ending in a head of white flowers", Some("flower"))],
        );
        check_organs(
            "Heads 2 cm across, flowers white",
            &[("Heads 2 cm across, flowers white", Some("head"))],
        );
    }

    #[test]
    fn of_two_organs_side_by_side_the_second_is_meant() {
        check_organs(
            "Stem leaves ovate; acute",
            &[("Stem leaves ovate", Some("leaf")), ("acute", Some("leaf"))],
        );
        check_organs("Stem with leaves", &[("Stem with leaves", Some("stem"))]);
    }

    #[test]
    fn abbreviated_organs_are_known() {
        check_organs("lvs linear; fls white", &[("lvs linear", Some("leaf")), ("fls white", Some("flower"))]);
    }

    #[test]
    fn a_text_without_organs_has_none() {
        check_organs("Common in the north", &[("Common in the north", None)]);
        check_organs("", &[]);
    }
}
