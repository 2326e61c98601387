//! The paragraphs of a treatment cut into sections, by run-in heading or by content (T13–T15, T38–T47).

use std::sync::LazyLock;

use regex::Regex;

use crate::model::{Section, SectionKind, Text};
use crate::parse::words;

static CHROMOSOMES: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^(?:2n|n|x)\s?=\s?").expect("a fixed pattern"));
static COUNTS: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:About |Some |c\. )?(?:\d+|A single|One|Two|Three) (?:genera|genus|species)\b")
        .expect("a fixed pattern")
});
static NAME_ORIGIN: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:From (?:the )?(?:Greek|Latin|Gaelic|Norse|Old)|The (?:generic |specific )?name|Named (?:for|after)|Greek|Latin)\b").expect("a fixed pattern")
});
/// A run-in heading's longest form, in bytes.
const LONGEST_HEADING: usize = 32;

/// Cuts paragraphs into sections.
pub(super) fn sections(paragraphs: &[Text]) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    for text in paragraphs {
        let cuts = cuts(text);
        let first = cuts.first().map_or(text.plain.len(), |cut| cut.at);
        if first > 0 {
            unheaded(&text.slice(0..first), &mut sections);
        }
        for (number, cut) in cuts.iter().enumerate() {
            let end = cuts.get(number + 1).map_or(text.plain.len(), |next| next.at);
            let body = text.slice(cut.body..end);
            sections.push(Section { kind: cut.kind, heading: cut.heading.clone(), text: body });
        }
    }
    sections
}

struct Cut {
    at: usize,
    body: usize,
    heading: Option<String>,
    kind: SectionKind,
}

/// Finds the run-in headings: a known word at the start of a sentence, followed by a colon, a dash, or a stop.
fn cuts(text: &Text) -> Vec<Cut> {
    let plain = &text.plain;
    let mut cuts = Vec::new();
    let mut depth = 0_i32;
    let mut start_of_sentence = true;
    for (at, letter) in plain.char_indices() {
        if start_of_sentence && !letter.is_whitespace() {
            start_of_sentence = false;
            if depth == 0
                && let Some(cut) = cut_at(text, at)
            {
                cuts.push(cut);
            }
        }
        depth += i32::from(matches!(letter, '(' | '[')) - i32::from(matches!(letter, ')' | ']'));
        let next_blank = plain[at + letter.len_utf8()..].starts_with(' ');
        start_of_sentence |= matches!(letter, '.' | ';' | '—' | ':') && next_blank;
    }
    cuts
}

fn cut_at(text: &Text, at: usize) -> Option<Cut> {
    let plain = &text.plain;
    let tail = &plain[at..];
    if let Some((len, kind)) = capital_heading(tail).filter(|_| at == 0) {
        return Some(Cut { at, body: len, heading: Some(tail[..len].to_owned()), kind });
    }
    if CHROMOSOMES.is_match(tail) {
        return Some(Cut { at, body: at, heading: None, kind: SectionKind::Chromosomes });
    }
    let window = tail.char_indices().take_while(|(byte, _)| *byte < LONGEST_HEADING).find(|(byte, c)| {
        *byte > 0 && matches!(c, ':' | '.' | '—' | '–') && !tail[..*byte].ends_with(char::is_whitespace)
    })?;
    let word = &tail[..window.0];
    let kind = words::section_kind(word)?;
    let mut body = window.0;
    let mark: String = tail[body..].chars().take_while(|c| matches!(c, ':' | '.' | '—' | '–')).collect();
    body += mark.len();
    let style = text.style_at(at);
    let typed = style != text.style_at(at + body + 1) || !word.chars().any(char::is_lowercase);
    let abbreviated = mark == "." && word.chars().count() <= 6;
    let sure = mark.contains([':', '—', '–']) || typed || abbreviated || kind != SectionKind::Description;
    let next = tail[body..].trim_start().chars().next()?;
    let sensible = next.is_uppercase()
        || next.is_ascii_digit()
        || matches!(next, '(' | '±' | '–' | '<' | '½' | '¼' | '¾')
        || typed
        || mark.contains([':', '—']);
    let heading_mark =
        if mark == "." && tail[body..].starts_with(' ') && !typed_whole(text, at, at + window.0) {
            "."
        } else {
            ""
        };
    (sure && sensible).then(|| Cut {
        at,
        body: at + body,
        heading: Some(format!("{word}{heading_mark}")),
        kind,
    })
}

/// Words that a heading in capitals has at most.
const MOST_CAPITALS: usize = 3;

/// A heading in capitals needs no mark after it: `HABITAT Shingle beaches`.
fn capital_heading(tail: &str) -> Option<(usize, SectionKind)> {
    let ends = tail.match_indices(' ').map(|(at, _)| at).take(MOST_CAPITALS);
    let capitals = |words: &str| words.chars().all(|c| c.is_uppercase() || matches!(c, ' ' | '-'));
    let heads = ends.filter(|end| capitals(&tail[..*end]) && *end > 2);
    heads.filter_map(|end| Some((end, words::section_kind(&tail[..end])?))).last()
}

/// Says whether the stop after a heading belongs to its abbreviation.
fn typed_whole(text: &Text, start: usize, end: usize) -> bool {
    text.style_at(start) != text.style_at(end)
}

/// A paragraph without a heading: the first is the description, later ones are told by how they begin.
fn unheaded(text: &Text, sections: &mut Vec<Section>) {
    if text.is_empty() {
        return;
    }
    let kind = if COUNTS.is_match(&text.plain) {
        SectionKind::Notes
    } else if NAME_ORIGIN.is_match(&text.plain) {
        SectionKind::Etymology
    } else if sections.iter().any(|section| section.kind == SectionKind::Description) {
        SectionKind::Notes
    } else {
        SectionKind::Description
    };
    sections.push(Section { kind, heading: None, text: text.clone() });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Page;

    #[track_caller]
    fn check_sections(paragraph: &str, expected: &[(SectionKind, Option<&str>, &str)]) {
        let found = sections(&[Text::plain(paragraph, Page(1))]);
        let found: Vec<_> = found
            .iter()
            .map(|section| (section.kind, section.heading.as_deref(), section.text.plain.as_str()))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn sections_begin_at_known_run_in_headings() {
        use SectionKind::{Chromosomes, Description, Distribution, Habitat, Phenology};
        check_sections(
            "Herb, 3 cm tall. Fl. VIII–X. Hab. Sea cliffs. Distr. Throughout; common. 2n = 28.",
            &[
                (Description, None, "Herb, 3 cm tall."),
                (Phenology, Some("Fl."), "VIII–X."),
                (Habitat, Some("Hab."), "Sea cliffs."),
                (Distribution, Some("Distr."), "Throughout; common."),
                (Chromosomes, None, "2n = 28."),
            ],
        );
        check_sections(
            "Leaves.—In clusters of two; stout.",
            &[(Description, Some("Leaves"), "In clusters of two; stout.")],
        );
        check_sections(
            "Flowering: Apr.–Jul. Habitat: Fallow land.",
            &[(Phenology, Some("Flowering"), "Apr.–Jul."), (Habitat, Some("Habitat"), "Fallow land.")],
        );
    }

    #[test]
    fn a_heading_in_capitals_needs_no_mark() {
        use SectionKind::{Chromosomes, Habitat};
        check_sections("HABITAT Shingle beaches.", &[(Habitat, Some("HABITAT"), "Shingle beaches.")]);
        check_sections("CHROMOSOME NUMBER 2n = 78.", &[(Chromosomes, Some("CHROMOSOME NUMBER"), "2n = 78.")]);
    }

    #[test]
    fn an_organ_inside_a_description_is_no_heading() {
        check_sections(
            "Leaves opposite. Fruit a capsule.",
            &[(SectionKind::Description, None, "Leaves opposite. Fruit a capsule.")],
        );
    }
}
