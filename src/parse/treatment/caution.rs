//! Printed warnings: the sentences of a treatment that warn of eating, touching or picking, word for word.
//!
//! What a book does not warn of is not said to be harmless; here nothing is judged, only lifted.

use crate::model::{Section, Text};
use crate::parse::words;

/// Returns the sentences that warn, in the order of the book.
pub(super) fn cautions(sections: &[Section]) -> Vec<Text> {
    let warning = |section: &Section| {
        let text = &section.text;
        let of_section: Vec<Text> = sentences(&text.plain)
            .into_iter()
            .map(|range| text.slice(range))
            .filter(|sentence| words::is_caution(&sentence.plain))
            .collect();
        of_section
    };
    sections.iter().flat_map(warning).collect()
}

/// Returns the sentences of a text: they end in a full stop after a word of three letters or more, before a capital.
fn sentences(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut start = 0;
    let mut found = Vec::new();
    for (at, _) in text.match_indices(['.', '!']) {
        let word = text[start..at].rsplit(|letter: char| !letter.is_alphabetic()).next().unwrap_or_default();
        let mut next = text[at + 1..].chars();
        let ends = next.next() == Some(' ') && next.next().is_some_and(char::is_uppercase);
        if ends && word.chars().count() >= SHORTEST_LAST_WORD {
            found.push(start..at + 1);
            start = at + 2;
        }
    }
    found.push(start..text.len());
    found
}

/// Letters of the shortest word before a full stop that ends a sentence; shorter ones are mostly abbreviations.
const SHORTEST_LAST_WORD: usize = 3;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Page, SectionKind};

    #[track_caller]
    fn check_cautions(text: &str, cautions: &[&str]) {
        let section = Section { kind: SectionKind::Notes, heading: None, text: Text::plain(text, Page(3)) };
        let found = super::cautions(&[section]);
        assert_eq!(found.iter().map(|text| text.plain.as_str()).collect::<Vec<_>>(), cautions);
    }

    #[test]
    fn a_warning_is_lifted_word_for_word() {
        check_cautions(
            "Near A. vana. The berries are poisonous to people. Flowers late.",
            &["The berries are poisonous to people."],
        );
    }

    #[test]
    fn a_sentence_that_calls_itself_a_caution_is_one() {
        check_cautions("Caution: keep clear of cut stems.", &["Caution: keep clear of cut stems."]);
    }

    #[test]
    fn law_and_permits_are_cautions() {
        check_cautions(
            "It is protected by law and must not be picked.",
            &["It is protected by law and must not be picked."],
        );
    }

    #[test]
    fn what_is_protected_by_a_sheath_is_no_caution() {
        check_cautions("Bud protected by a sheath; sap watery.", &[]);
    }

    #[test]
    fn a_denied_warning_is_lifted_too_and_left_to_the_reader() {
        check_cautions("Said not to be poisonous.", &["Said not to be poisonous."]);
    }
}
