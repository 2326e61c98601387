//! The nomenclature block of a treatment (T9–T12): synonyms and vernacular names, in the heading or below it.

use crate::model::{Taxon, Text};
use crate::name;
use crate::parse::words::SYNONYM_MARKS;

use super::names::{self, Used, list, names, parse};
use super::vernacular;

/// Reads what follows the authorship in the heading's own block; returns the rest, where the treatment is run in.
pub(super) fn head(rest: &Text, taxon: &mut Taxon) -> Text {
    let plain = &rest.plain;
    let mut at = 0;
    loop {
        let tail = &plain[at..];
        let marks = tail.len() - tail.trim_start_matches(BETWEEN).len();
        let here = at + marks;
        let parted = tail[..marks].contains(['—', '–', ',', ';', ':', '|']);
        let Some(next) = element(rest, here, parted, taxon) else {
            at = if marks > 0 && here < plain.len() { here } else { at.max(here.min(plain.len())) };
            break;
        };
        at = next;
    }
    rest.slice(at.min(plain.len())..plain.len())
}

/// Marks between the parts of a heading.
const BETWEEN: &[char] = &[' ', '.', ',', '—', '–', ';', ':'];

/// Reads one part of the nomenclature that stands at a byte; returns the byte behind it.
fn element(rest: &Text, here: usize, parted: bool, taxon: &mut Taxon) -> Option<usize> {
    let tail = &rest.plain[here..];
    if tail.is_empty() {
        return None;
    }
    if let Some(mark) = SYNONYM_MARKS.iter().find(|mark| tail.to_lowercase().starts_with(*mark)) {
        let (names, end) = list(rest, here + mark.len());
        if !names.is_empty() {
            names::give(taxon, names);
            return Some(end);
        }
    }
    if let Some((names, end)) = bracket(tail, taxon.name.as_str()) {
        names::give(taxon, names);
        return Some(here + end);
    }
    if let Some((name, end)) = vernacular::quoted(tail) {
        taxon.vernacular.push(name);
        return Some(here + end);
    }
    if !parted {
        return None;
    }
    if rest.style_at(here).italic {
        let (names, end) = list(rest, here);
        if !names.is_empty() && names.iter().all(|used| used.name != taxon.name) {
            names::give(taxon, names);
            return Some(end);
        }
    }
    let (names, end) = vernacular::typed(rest, here)?;
    taxon.vernacular.extend(names);
    Some(end)
}

/// Reads names in brackets, or in what a bad print made of brackets; gives them and the byte behind them.
fn bracket(tail: &str, own: &str) -> Option<(Vec<Used>, usize)> {
    let open = tail.chars().next().filter(|open| matches!(open, '[' | '(' | '{' | '|'))?;
    let end = match open {
        '[' => closing(tail, ']').or_else(|| tail.find(['|', '}'])),
        '(' => closing(tail, ')'),
        _ => tail[1..].find([']', '|', '}', ')']).map(|at| at + 1),
    }?;
    let mut inner = tail[1..end].trim();
    for mark in SYNONYM_MARKS {
        inner = inner.strip_prefix(mark).unwrap_or(inner).trim_start();
    }
    let first = parse(inner)?;
    (first.name != own && first.name.contains(' ')).then(|| (names(inner), end + 1))
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

/// Reads lines of vernacular names and synonyms below the heading; returns how many paragraphs they take up.
pub(super) fn below(paragraphs: &[Text], taxon: &mut Taxon) -> usize {
    let mut used = 0;
    while let Some(text) = paragraphs.get(used) {
        let whole = text;
        let text = &unbracketed(text);
        let plain = text.plain.trim();
        let lower = plain.to_lowercase();
        let marked = SYNONYM_MARKS.iter().find(|mark| lower.starts_with(*mark));
        let first = name::parse(plain).filter(|parsed| parsed.name.contains(' ') && plain.len() < 400);
        if let Some(mark) = marked {
            names::give(taxon, names(&plain[mark.len()..]));
        } else if first.is_some_and(|_| only_synonyms(text)) {
            names::give(taxon, names(plain));
        } else if whole.plain.starts_with(['[', '{', '|', '(']) && only_brackets(whole, taxon) {
        } else if vernacular::is_line(text) && !continued(paragraphs.get(used + 1)) {
            taxon.vernacular.extend(vernacular::names(plain));
        } else {
            break;
        }
        used += 1;
    }
    used
}

/// The next paragraph goes on in the midst of a sentence: this one is no line of its own.
fn continued(next: Option<&Text>) -> bool {
    next.and_then(|text| text.plain.chars().next()).is_some_and(|c| c.is_lowercase() || c.is_ascii_digit())
}

/// Reads a line that is nothing but names in brackets.
fn only_brackets(text: &Text, taxon: &mut Taxon) -> bool {
    let mut found = Vec::new();
    let mut rest = text.plain.trim();
    while let Some((names, end)) = bracket(rest, &taxon.name) {
        found.extend(names);
        rest = rest[end..].trim_start_matches([' ', ',', ';', '.']);
    }
    let all = rest.is_empty() && !found.is_empty();
    if all {
        names::give(taxon, found);
    }
    all
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
            misapplied: Vec::new(),
            parent: None,
            heading: Text::default(),
            pages: (Page(1), Page(1)),
            sections: Vec::new(),
            amended: false,
            cautions: Vec::new(),
        }
    }

    #[track_caller]
    fn check_head(rest: &str, synonyms: &[&str], vernacular: &[&str], after: &str) {
        check_text(&Text::plain(rest, Page(1)), synonyms, vernacular, after);
    }

    #[track_caller]
    fn check_text(text: &Text, synonyms: &[&str], vernacular: &[&str], after: &str) {
        let mut taxon = taxon();
        let left = head(text, &mut taxon);
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
        check_head(" {Lychnis alta Halv.|", &["Lychnis alta"], &[], "");
        check_head(" [Lychnis Halvardii Tor.]", &["Lychnis halvardii"], &[], "");
    }

    #[track_caller]
    fn check_drawn(drawn: &str, synonyms: &[&str], vernacular: &[&str], after: &str) {
        let text = crate::parse::compose::compose(&crate::parse::fixture::lines(drawn)).text;
        check_text(&text, synonyms, vernacular, after);
    }

    #[test]
    fn names_in_their_own_type_stand_between_dash_and_description() {
        check_drawn(
            "— *Tall campion*, *Red campion*. Herb, tall.",
            &[],
            &["Tall campion", "Red campion"],
            "Herb, tall.",
        );
        check_drawn(
            "— *Tall campion*. Herb, tall. *Fl.* May.",
            &[],
            &["Tall campion"],
            "Herb, tall. Fl. May.",
        );
    }

    #[test]
    fn a_list_of_synonyms_ends_where_the_description_begins() {
        check_drawn(
            "— = _Lychnis alta_ Halv. Stems ascending; sepals acute.",
            &["Lychnis alta"],
            &[],
            "Stems ascending; sepals acute.",
        );
        check_drawn(
            "— _Lychnis alta_ P. Tor. Sepals glabrous, acute; seeds grey.",
            &["Lychnis alta"],
            &[],
            "Sepals glabrous, acute; seeds grey.",
        );
        check_drawn(
            "— Syn.: _Lychnis alta_ Halv.; _L. rosea_ Tor. Stems erect. *Range.* Morvane.",
            &["Lychnis alta", "Lychnis rosea"],
            &[],
            "Stems erect. Range. Morvane.",
        );
    }
}
