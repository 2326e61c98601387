//! Sections cut again by what a reader says of run-in headings: words that head a section, of which kind, or none.

use std::collections::BTreeMap;

use crate::model::{Section, SectionKind, Taxon, Text};

/// The word for a heading that is none.
pub(super) const NONE: &str = "none";

/// Cuts the sections of all taxa again.
pub(crate) fn cut_again(taxa: &mut [Taxon], said: &BTreeMap<String, String>) {
    if said.is_empty() {
        return;
    }
    for taxon in taxa {
        let mut sections: Vec<Section> = Vec::new();
        for section in std::mem::take(&mut taxon.sections) {
            for part in parts(&section, said) {
                settle(part, said, &mut sections);
            }
        }
        taxon.sections = sections;
    }
}

/// Parts a section before each word that is said to head one, where a sentence begins with it and a mark follows.
fn parts(section: &Section, said: &BTreeMap<String, String>) -> Vec<Section> {
    let plain = &section.text.plain;
    let mut cuts: Vec<(usize, usize, &str, SectionKind)> = Vec::new();
    for (word, kind) in said.iter().filter_map(|(word, kind)| Some((word, SectionKind::of_word(kind)?))) {
        let bare = word.trim_end_matches('.');
        for (at, _) in plain.match_indices(bare) {
            let before = plain[..at].trim_end();
            let opens = before.is_empty() || before.len() < at && before.ends_with(['.', ';', ':', '—']);
            let rest = &plain[at + bare.len()..];
            let mark = rest.len() - rest.trim_start_matches([':', '.', '—', '–']).len();
            if opens && mark > 0 {
                cuts.push((at, at + bare.len() + mark, word, kind));
            }
        }
    }
    cuts.sort_unstable_by_key(|cut| cut.0);
    let first = cuts.first().map_or(plain.len(), |cut| cut.0);
    let mut parts = vec![Section { text: section.text.slice(0..first), ..section.clone() }];
    for (number, (_, body, word, kind)) in cuts.iter().enumerate() {
        let end = cuts.get(number + 1).map_or(plain.len(), |next| next.0);
        let text = section.text.slice(*body..end);
        parts.push(Section { kind: *kind, heading: Some((*word).to_owned()), text });
    }
    parts.retain(|part| !part.text.is_empty());
    parts
}

/// Adds a section: as another kind where its heading heads that, or to the one before where its heading is none.
fn settle(mut section: Section, said: &BTreeMap<String, String>, sections: &mut Vec<Section>) {
    let Some(heading) = section.heading.clone() else { return sections.push(section) };
    match said.get(&heading).map(String::as_str) {
        Some(NONE) => {
            let mark = if heading.ends_with('.') { "" } else { ":" };
            let words = format!("{heading}{mark}");
            section.text = Text::plain(&words, section.text.page()).followed_by(&section.text);
            section.heading = None;
            match sections.last_mut() {
                Some(last) => last.text = last.text.followed_by(&section.text),
                None => sections.push(Section { kind: SectionKind::Description, ..section }),
            }
        }
        Some(kind) => {
            section.kind = SectionKind::of_word(kind).unwrap_or(section.kind);
            sections.push(section);
        }
        None => sections.push(section),
    }
}
