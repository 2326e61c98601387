//! The paragraphs of a treatment cut into sections, by run-in heading or by content (T13–T15, T38–T47).

use std::sync::LazyLock;

use regex::Regex;

use crate::model::{Section, SectionKind, Text};
use crate::parse::words;

use super::content::{self, Places};

static CHROMOSOMES: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^(?:2n|n|x)\s?=\s?").expect("a fixed pattern"));
static NAME_ORIGIN: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:From (?:the )?(?:Greek|Latin|Gaelic|Norse|Old)|(?:The|An?) (?:\w+ ){0,2}name\b|Named (?:for|after|in)|Derived from|Name from|Greek|Latin)\b").expect("a fixed pattern")
});
/// A run-in heading's longest form, in bytes.
const LONGEST_HEADING: usize = 32;

/// Cuts paragraphs into sections.
pub(super) fn sections(paragraphs: &[Text], places: &Places) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    for text in paragraphs {
        let cuts = cuts(text);
        let first = cuts.first().map_or(text.plain.len(), |cut| cut.at);
        if first > 0 {
            unheaded(&text.slice(0..first), &mut sections, places);
        }
        for (number, cut) in cuts.iter().enumerate() {
            let end = cuts.get(number + 1).map_or(text.plain.len(), |next| next.at);
            let body = text.slice(cut.body..end);
            if cut.heading.is_some() {
                sections.push(Section { kind: cut.kind, heading: cut.heading.clone(), text: body });
                continue;
            }
            // Nothing but its own sentence belongs to what has no heading.
            let own = content::sentences(&body.plain).first().map_or(0, |sentence| sentence.end);
            sections.push(Section { kind: cut.kind, heading: None, text: body.slice(0..own) });
            unheaded(&body.slice(own..body.plain.len()), &mut sections, places);
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
    if let Some((len, kind)) = capital_heading(tail) {
        return Some(Cut { at, body: at + len, heading: Some(tail[..len].to_owned()), kind });
    }
    if CHROMOSOMES.is_match(tail) {
        return Some(Cut { at, body: at, heading: None, kind: SectionKind::Chromosomes });
    }
    let window = tail.char_indices().take_while(|(byte, _)| *byte < LONGEST_HEADING).find(|(byte, c)| {
        *byte > 0 && matches!(c, ':' | '.' | '—' | '–') && !tail[..*byte].ends_with(char::is_whitespace)
    })?;
    let printed = &tail[..window.0];
    let word = printed.trim_end_matches(',');
    let dashed = [".—", ".–", "—"].iter().any(|mark| tail[window.0..].starts_with(mark));
    let misread = || (at == 0 && dashed).then(|| words::section_kind_near(word)).flatten();
    let kind = words::section_kind(word).or_else(misread)?;
    let mut body = window.0;
    let mark: String = tail[body..].chars().take_while(|c| matches!(c, ':' | '.' | '—' | '–')).collect();
    body += mark.len();
    let style = text.style_at(at);
    let typed = style != text.style_at(at + body + 1) || !printed.chars().any(char::is_lowercase);
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

/// A stretch without a heading: what its sentences say tells what they are; the first that tells nothing is the
/// description, later ones are notes.
fn unheaded(text: &Text, sections: &mut Vec<Section>, places: &Places) {
    if text.is_empty() {
        return;
    }
    // After a headed part of the description comes the rest of it, after one without a heading what opens with a part.
    let goes_on = sections.last().is_some_and(|last| {
        last.kind == SectionKind::Description
            && (last.heading.is_some() || content::opens_with_organ(&text.plain))
    });
    let described = !goes_on && sections.iter().any(|section| section.kind == SectionKind::Description);
    let rest = if described { SectionKind::Notes } else { SectionKind::Description };
    let len = text.plain.len();
    let parts = if content::counts(&text.plain) {
        vec![(0..len, SectionKind::Notes)]
    } else if NAME_ORIGIN.is_match(&text.plain) {
        let sentences = content::sentences(&text.plain);
        let counted = sentences.iter().map(|s| s.start).find(|start| content::counts(&text.plain[*start..]));
        let end = counted.unwrap_or(len);
        let mut parts = vec![(0..end, SectionKind::Etymology), (end..len, SectionKind::Notes)];
        parts.retain(|(range, _)| !range.is_empty());
        parts
    } else {
        content::parts(&text.plain, rest, places)
    };
    for (range, kind) in parts {
        sections.push(Section { kind, heading: None, text: text.slice(range) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Page;

    #[track_caller]
    fn check_sections(paragraph: &str, expected: &[(SectionKind, Option<&str>, &str)]) {
        let mut places = Places::default();
        places.learn("Morvane, Skerry Point, Norlund, Halvik.");
        let found = sections(&[Text::plain(paragraph, Page(1))], &places);
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
    fn a_misread_heading_before_a_dash_is_known_by_its_letters() {
        use SectionKind::{Description, Habitat, Notes};
        check_sections("Hasir.—A small tree.", &[(Description, Some("Hasir"), "A small tree.")]);
        check_sections("HaprraT.—Damp forests.", &[(Habitat, Some("HaprraT"), "Damp forests.")]);
        check_sections("Nores.—Rare.", &[(Notes, Some("Nores"), "Rare.")]);
        check_sections("Maple.—Rare.", &[(Description, None, "Maple.—Rare.")]);
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

    #[test]
    fn sections_without_headings_are_told_by_what_they_say() {
        use SectionKind::{
            Chromosomes, Conservation, Description, Distribution, Elevation, Habitat, Phenology,
        };
        check_sections(
            "Herb, 30–70 cm tall. Stems erect. Capsule 4 mm long; seeds brown. Margins of ponds and wet meadows, often in \
             shade. Sea level to 450 m. Morvane, Skerry Point; rare. Also in the eastern steppes. Jun.–Jul. 2n = 38. \
             Vulnerable; threatened by drainage.",
            &[
                (Description, None, "Herb, 30–70 cm tall. Stems erect. Capsule 4 mm long; seeds brown."),
                (Habitat, None, "Margins of ponds and wet meadows, often in shade."),
                (Elevation, None, "Sea level to 450 m."),
                (Distribution, None, "Morvane, Skerry Point; rare. Also in the eastern steppes."),
                (Phenology, None, "Jun.–Jul."),
                (Chromosomes, None, "2n = 38."),
                (Conservation, None, "Vulnerable; threatened by drainage."),
            ],
        );
        check_sections(
            "Leaf blades cuneate. Norlund.",
            &[(Description, None, "Leaf blades cuneate."), (Distribution, None, "Norlund.")],
        );
    }

    #[test]
    fn a_description_stays_whole() {
        let prose = "Tree, 5–10 m tall. Branches spreading at 20–40°. Leaves alternate. Bark of old trunks like cliffs.";
        check_sections(prose, &[(SectionKind::Description, None, prose)]);
        let herb = "Climber. Stems c. 3 m long. Flowers 5-merous.";
        check_sections(herb, &[(SectionKind::Description, None, herb)]);
    }
}
