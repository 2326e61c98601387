//! The nomenclature block of a treatment (T9–T12): synonyms and vernacular names, in the heading or below it.

use crate::model::{Taxon, Text};
use crate::name;
use crate::parse::words::SYNONYM_MARKS;

/// Longest line of vernacular names below a heading, in characters.
const VERNACULAR_LINE: usize = 90;

/// Reads what follows the authorship in the heading's own block; returns the rest, where the treatment is run in.
pub(super) fn head(rest: &Text, taxon: &mut Taxon) -> Text {
    let plain = &rest.plain;
    let mut at = 0;
    loop {
        let skipped =
            plain[at..].len() - plain[at..].trim_start_matches([' ', '.', ',', '—', '–', ';', ':']).len();
        let here = at + skipped;
        let tail = &plain[here..];
        if let Some(mark) = SYNONYM_MARKS.iter().find(|mark| tail.to_lowercase().starts_with(*mark)) {
            let end = tail.find(". ").map_or(tail.len(), |stop| stop_of_names(tail, stop));
            taxon.synonyms.extend(names(&tail[mark.len()..end]));
            at = here + end;
        } else if let Some(end) = bracket(tail, taxon.name.as_str()) {
            taxon.synonyms.extend(names(tail[1..end].trim_start_matches('=').trim_start_matches("syn.")));
            at = here + end + 1;
        } else if let Some((name, end)) = quoted(tail) {
            taxon.vernacular.push(name);
            at = here + end;
        } else {
            at = if skipped > 0 && here < plain.len() { here } else { at.max(here.min(plain.len())) };
            break;
        }
    }
    rest.slice(at.min(plain.len())..plain.len())
}

/// A synonym list may hold stops of abbreviated authors: it ends at the first stop that no author stands before.
fn stop_of_names(tail: &str, first: usize) -> usize {
    let mut stop = first;
    while let Some(next) = tail[stop + 1..].find(". ").map(|at| stop + 1 + at) {
        let word_start = tail[..stop].rfind(' ').map_or(0, |at| at + 1);
        if tail[word_start..stop].chars().count() > 6 {
            break;
        }
        stop = next;
    }
    stop
}

fn bracket(tail: &str, own: &str) -> Option<usize> {
    let close = match tail.chars().next()? {
        '[' => ']',
        '(' => ')',
        _ => return None,
    };
    let end = closing(tail, close)?;
    let inner = tail[1..end].trim_start_matches('=').trim();
    let first = name::parse(inner)?;
    (first.name != own && first.name.contains(' ')).then_some(end)
}

fn closing(tail: &str, close: char) -> Option<usize> {
    let open = tail.chars().next()?;
    let mut depth = 0;
    for (at, letter) in tail.char_indices() {
        if letter == open {
            depth += 1;
        } else if letter == close {
            depth -= 1;
            if depth == 0 {
                return Some(at);
            }
        }
    }
    None
}

fn quoted(tail: &str) -> Option<(String, usize)> {
    let open = tail.chars().next()?;
    let close = match open {
        '“' => '”',
        '‘' => '’',
        '"' => '"',
        '«' => '»',
        _ => return None,
    };
    let start = open.len_utf8();
    let len = tail[start..].find(close)?;
    (len < 60).then(|| (tail[start..start + len].trim().to_owned(), start + len + close.len_utf8()))
}

/// Reads names parted by `;`, `,`, `=` or `≡`; authors are left out.
fn names(list: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for part in list.split([';', '=', '≡']) {
        let mut rest = part.trim().trim_start_matches([':', ' ']);
        while let Some(parsed) = name::parse(rest) {
            if parsed.name.contains(' ') {
                let genus =
                    found.last().and_then(|last| last.split(' ').next()).unwrap_or_default().to_owned();
                found.push(name::expand(&parsed.name, &genus).unwrap_or(parsed.name));
            }
            rest = rest[parsed.end..].trim_start_matches([',', ' ', '.']);
        }
    }
    found
}

/// Reads lines of vernacular names and synonyms below the heading; returns how many paragraphs they take up.
pub(super) fn below(paragraphs: &[Text], taxon: &mut Taxon, only_names: bool) -> usize {
    let mut used = 0;
    while let Some(text) = paragraphs.get(used) {
        let text = &unbracketed(text);
        let plain = text.plain.trim();
        let lower = plain.to_lowercase();
        let marked = SYNONYM_MARKS.iter().find(|mark| lower.starts_with(*mark));
        let first = name::parse(plain).filter(|parsed| parsed.name.contains(' ') && plain.len() < 400);
        if let Some(mark) = marked {
            taxon.synonyms.extend(names(&plain[mark.len()..]));
        } else if first.is_some_and(|_| only_synonyms(text)) {
            taxon.synonyms.extend(names(plain));
        } else if !only_names && is_vernacular_line(text) {
            taxon.vernacular.extend(vernaculars(plain));
        } else {
            break;
        }
        used += 1;
    }
    used
}

/// Synonyms may stand in brackets on lines of their own.
fn unbracketed(text: &Text) -> Text {
    let plain = &text.plain;
    let whole = closing(plain, if plain.starts_with('(') { ')' } else { ']' })
        .is_some_and(|end| end + 1 == plain.trim_end_matches('.').len());
    if plain.starts_with(['(', '[']) && whole {
        text.slice(1..plain.trim_end_matches('.').len() - 1)
    } else {
        text.clone()
    }
}

/// A paragraph of names only, with their authors or in italics: a vernacular name looks like a name without either.
fn only_synonyms(text: &Text) -> bool {
    let italic = text.style_at(0).italic;
    let mut rest = text.plain.trim();
    while !rest.is_empty() {
        let Some(parsed) = name::parse(rest)
            .filter(|parsed| parsed.name.contains(' ') && (italic || parsed.authorship.is_some()))
        else {
            return false;
        };
        let after = rest[parsed.end.min(rest.len())..].trim_start();
        let next = after.trim_start_matches([';', ',', '.', '=', '≡', ' ']);
        if next.len() == after.len() && !after.is_empty() {
            return false;
        }
        rest = next;
    }
    true
}

fn is_vernacular_line(text: &Text) -> bool {
    let plain = text.plain.trim();
    let marked = text.style_at(0).small_caps
        || text.style_at(0).italic
        || text.style_at(0).bold
        || plain.starts_with(['“', '"', '‘', '«'])
        || !plain.chars().any(char::is_lowercase);
    plain.chars().count() < VERNACULAR_LINE
        && !plain.ends_with('.')
        && !plain.contains(':')
        && (marked || plain.split_whitespace().count() <= 6)
        && !plain.chars().any(|c| c.is_ascii_digit())
}

/// Reads vernacular names out of short lines that stand above a heading.
pub(super) fn vernaculars_of(texts: &[Text]) -> Vec<String> {
    texts.iter().flat_map(|text| vernaculars(&text.plain)).collect()
}

/// Parts a line of vernacular names; capitals become small letters, as nothing tells proper names apart in them.
fn vernaculars(line: &str) -> Vec<String> {
    let capitals = !line.chars().any(char::is_lowercase);
    line.split([',', ';', '.'])
        .flat_map(|part| part.split(" or "))
        .map(|part| part.trim().trim_matches(['“', '”', '"', '‘', '«', '»']).trim())
        .map(|part| part.strip_prefix("The ").unwrap_or(part))
        .filter(|part| part.chars().any(char::is_alphabetic))
        .map(|part| if capitals { part.to_lowercase() } else { part.to_owned() })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Page, Rank, TaxonId};

    fn taxon() -> Taxon {
        Taxon {
            id: TaxonId(0),
            rank: Rank::Species,
            name: "Silene alta".to_owned(),
            authorship: None,
            number: None,
            vernacular: Vec::new(),
            synonyms: Vec::new(),
            parent: None,
            heading: Text::default(),
            pages: (Page(1), Page(1)),
            sections: Vec::new(),
            cautions: Vec::new(),
        }
    }

    #[track_caller]
    fn check_head(rest: &str, synonyms: &[&str], vernacular: &[&str], after: &str) {
        let mut taxon = taxon();
        let left = head(&Text::plain(rest, Page(1)), &mut taxon);
        assert_eq!(
            (taxon.synonyms, taxon.vernacular, left.plain.as_str()),
            (
                synonyms.iter().map(|s| (*s).to_owned()).collect(),
                vernacular.iter().map(|s| (*s).to_owned()).collect(),
                after
            )
        );
    }

    #[test]
    fn synonyms_and_vernaculars_stand_after_the_name() {
        check_head(" [Lychnis alta Halv.; L. rosea Halv.]", &["Lychnis alta", "Lychnis rosea"], &[], "");
        check_head(
            " [Lychnis alta Halv.] — “Tall campion”, “Red campion”. Herb, tall.",
            &["Lychnis alta"],
            &["Tall campion", "Red campion"],
            "Herb, tall.",
        );
        check_head(" — Syn.: Lychnis alta Halv.", &["Lychnis alta"], &[], "");
        check_head(" – “Tall campion”", &[], &["Tall campion"], "");
        check_head(". Herb, tall.", &[], &[], "Herb, tall.");
    }
}
