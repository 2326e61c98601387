//! Where the clauses of a text begin and end. Organs are found elsewhere.

use std::ops::Range;

/// Words that a full stop after them shortens rather than ends, in lower case.
const ABBREVIATIONS: &[&str] = &[
    "aff", "agg", "al", "alt", "auct", "c", "ca", "cal", "cf", "cor", "cv", "diam", "e", "esp", "etc", "ex",
    "f", "fig", "figs", "fl", "fls", "fr", "frs", "g", "i", "incl", "infl", "lf", "lvs", "max", "min", "no",
    "nos", "p", "pet", "pl", "pp", "resp", "s", "sect", "ser", "sp", "spp", "ssp", "st", "subg", "subgen",
    "subsp", "syn", "var", "viz", "vs",
];

/// Months are shortened as well, but also end sentences (`in May.`), so only their short forms are listed.
const MONTHS: &[&str] =
    &["jan", "feb", "mar", "apr", "jun", "jul", "aug", "sep", "sept", "oct", "nov", "dec"];

/// Returns the clauses of a text without the blanks around them; a full stop at the end is left out.
pub(crate) fn ranges(text: &str) -> Vec<Range<usize>> {
    let mut ranges = Vec::new();
    let mut start = 0;
    let mut depth = 0_usize;
    for (at, letter) in text.char_indices() {
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            ';' if depth == 0 => {
                push(text, start..at, &mut ranges);
                start = at + 1;
            }
            '.' if ends_sentence(&text[start..at], &text[at + 1..]) => {
                push(text, start..at, &mut ranges);
                start = at + 1;
                depth = 0;
            }
            _ => {}
        }
    }
    push(text, start..text.len(), &mut ranges);
    ranges
}

fn push(text: &str, range: Range<usize>, ranges: &mut Vec<Range<usize>>) {
    let part = &text[range.clone()];
    let start = range.start + part.len() - part.trim_start().len();
    let end = start + part.trim().len();
    if start < end {
        ranges.push(start..end);
    }
}

/// Says whether a full stop between the two ends a sentence.
fn ends_sentence(before: &str, after: &str) -> bool {
    let next = after.trim_start();
    if next.len() == after.len() && !next.is_empty() {
        return false;
    }
    let word = &before
        [before.rfind(|letter: char| !letter.is_alphabetic()).map_or(0, |at| next_letter(before, at))..];
    let initial = word.chars().count() == 1 && word.chars().all(char::is_uppercase);
    let folded = word.to_lowercase();
    let short = initial || ABBREVIATIONS.contains(&folded.as_str()) || MONTHS.contains(&folded.as_str());
    let goes_on =
        next.starts_with(|letter: char| letter.is_lowercase() || letter.is_numeric() || letter == '×');
    next.is_empty() || !(short || goes_on && !before.ends_with(|letter: char| letter.is_numeric()))
}

fn next_letter(text: &str, at: usize) -> usize {
    at + text[at..].chars().next().map_or(0, char::len_utf8)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_ranges(text: &str, expected: &[&str]) {
        let found: Vec<&str> = ranges(text).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn semicolons_and_full_stops_end_clauses() {
        check_ranges(
            "Stem erect; leaves ovate. Calyx hairy.",
            &["Stem erect", "leaves ovate", "Calyx hairy"],
        );
    }

    #[test]
    fn a_number_is_not_cut() {
        check_ranges("Petals 2.5 mm long; 1.2", &["Petals 2.5 mm long", "1.2"]);
    }

    #[test]
    fn abbreviations_and_initials_end_nothing() {
        check_ranges(
            "Stem ca. 3 mm; like S. alba and var. montana",
            &["Stem ca. 3 mm", "like S. alba and var. montana"],
        );
        check_ranges("Fl. Jun. Rare.", &["Fl. Jun. Rare"]);
    }

    #[test]
    fn brackets_hold_a_clause_together() {
        check_ranges(
            "Leaves ovate (rarely obtuse; see note), hairy",
            &["Leaves ovate (rarely obtuse; see note), hairy"],
        );
    }

    #[test]
    fn an_open_bracket_does_not_swallow_the_next_sentence() {
        check_ranges("Leaves (ovate. Stem; erect", &["Leaves (ovate", "Stem", "erect"]);
    }

    #[test]
    fn empty_clauses_are_left_out() {
        check_ranges(" ; . ;", &[]);
    }
}
