//! The form that names are matched by, and abbreviated genera spelled out.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Connecting terms as printed and as this program writes them (ICN Art. 4 and 24; common variants).
const CONNECTING: &[(&str, &str)] = &[
    ("ssp", "subsp"),
    ("nothosubsp", "subsp"),
    ("nothovar", "var"),
    ("v", "var"),
    ("forma", "f"),
    ("fo", "f"),
    ("subg", "subgen"),
];

/// Returns a name in the form for matching: lower case, no accents, ligatures spelled out, no hyphens, no hybrid
/// sign, connecting terms without full stop in one spelling, single spaces (ICN Art. 60, H.3.3).
pub fn fold(name: &str) -> String {
    let mut plain = String::with_capacity(name.len());
    for letter in name.nfd().filter(|c| !is_combining_mark(*c)).flat_map(char::to_lowercase) {
        match letter {
            'æ' => plain.push_str("ae"),
            'œ' => plain.push_str("oe"),
            'ß' => plain.push_str("ss"),
            'ø' => plain.push('o'),
            '-' | '‐' | '\u{ad}' | '×' | '+' | '’' | '\'' => {}
            '.' => plain.push(' '),
            other => plain.push(other),
        }
    }
    let mut folded = String::with_capacity(plain.len());
    for word in plain.split_whitespace().filter(|word| *word != "x") {
        let word = CONNECTING.iter().find(|(printed, _)| *printed == word).map_or(word, |(_, ours)| ours);
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.push_str(word);
    }
    folded
}

/// Spells out an abbreviated genus: `S. rupicola` after *Silene* gives `Silene rupicola`.
///
/// Returns the name unchanged when it is not abbreviated, and `None` when the genus at hand does not begin so.
pub fn expand(name: &str, genus: &str) -> Option<String> {
    let (sign, bare) = match name.strip_prefix('×') {
        Some(rest) => ("×", rest.trim_start()),
        None => ("", name),
    };
    let Some((first, rest)) = bare.split_once(' ') else { return Some(name.to_owned()) };
    let Some(initial) = first.strip_suffix('.') else { return Some(name.to_owned()) };
    let begins = fold(genus).starts_with(&fold(initial));
    begins.then(|| format!("{sign}{} {rest}", genus.trim_start_matches('×').trim()))
}

/// Says whether two epithets or genus names are one but for a misprint: equal when folded, or one letter changed,
/// lost or added in words of five letters or more.
pub fn same_word(one: &str, other: &str) -> bool {
    let (one, other) = (fold(one), fold(other));
    if one == other {
        return true;
    }
    let (a, b): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    if a.len().min(b.len()) < 5 || a.len().abs_diff(b.len()) > 1 {
        return false;
    }
    let head = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let tail = a.iter().rev().zip(b.iter().rev()).take_while(|(x, y)| x == y).count();
    head + tail + 1 >= a.len().max(b.len())
}

/// Says whether two names that are one when folded are spelled otherwise for all that: in accents, ligatures or hyphens
/// (N2, N15). Case and the hybrid sign do not count, nor how a connecting term is abbreviated.
pub fn spelled_otherwise(one: &str, other: &str) -> bool {
    let letters = |name: &str| -> Vec<String> {
        let bare = name.replace(['×', '.'], " ").to_lowercase();
        let words = bare.split_whitespace().filter(|word| *word != "x");
        words
            .filter(|word| !CONNECTING.iter().any(|(printed, ours)| word == printed || word == ours))
            .map(str::to_owned)
            .collect()
    };
    let words = (letters(one), letters(other));
    words.0.len() == words.1.len() && words.0 != words.1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_matched_whatever_its_hybrid_sign_accents_and_case() {
        assert_eq!(fold("Mentha ×smithiana"), fold("mentha x Smithiana"));
        assert_eq!(fold("Isoëtes lacustris"), "isoetes lacustris");
        assert_eq!(fold("Aira cæspitosa ssp. alpina"), "aira caespitosa subsp alpina");
    }

    #[test]
    fn an_abbreviated_genus_is_spelled_out_only_where_it_fits() {
        assert_eq!(expand("S. rupicola", "Silene").as_deref(), Some("Silene rupicola"));
        assert_eq!(expand("Silene alta", "Carex").as_deref(), Some("Silene alta"));
        assert_eq!(expand("P. alba", "Silene"), None);
    }

    #[test]
    fn accents_ligatures_and_hyphens_are_another_spelling_but_capitals_are_none() {
        assert!(spelled_otherwise("Aira caespitosa", "Aira cæspitosa"));
        assert!(spelled_otherwise("Isoetes lacustris", "Isoëtes lacustris"));
        assert!(!spelled_otherwise("PINUS STROBUS", "Pinus strobus"));
        assert!(!spelled_otherwise("Aira alba ssp. nivea", "Aira alba subsp. nivea"));
    }

    #[test]
    fn one_misprinted_letter_is_the_same_word() {
        assert!(same_word("spinosissimum", "spinoissimum"));
        assert!(!same_word("alba", "alta"));
    }
}
