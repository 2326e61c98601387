//! Turns of phrase that several verbs print: counts, pages, ranks, and text broken into lines.

use std::io::{self, Write};

use unicode_width::UnicodeWidthStr;

use crate::cli::world::{Lines, Look, Paint};
use crate::model::{Doubt, Page, Rank};
use crate::store::{Contents, Counts};

/// What stands under every name that a key ends in.
pub(crate) const CAUTION: &str = "A name from a key is no leave to eat, touch or pick.";

/// Returns a count with its noun (`1 key`, `3 keys`); `many` is the noun's plural.
pub(crate) fn count(number: u32, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// Returns the plural of a rank's word.
fn ranks(rank: Rank) -> &'static str {
    match rank {
        Rank::Family => "families",
        Rank::Subfamily => "subfamilies",
        Rank::Tribe => "tribes",
        Rank::Genus => "genera",
        Rank::Subgenus => "subgenera",
        Rank::Section => "sections",
        Rank::Species => "species",
        Rank::Subspecies => "subspecies",
        Rank::Variety => "varieties",
        Rank::Form => "forms",
        Rank::Hybrid => "hybrids",
    }
}

/// Returns the lines that say how much a flora holds.
pub(crate) fn found(counts: &Counts) -> Vec<String> {
    let taxa: Vec<String> =
        counts.taxa.iter().map(|(rank, number)| count(*number, rank.word(), ranks(*rank))).collect();
    let taxa = if taxa.is_empty() { "none".to_owned() } else { taxa.join(", ") };
    vec![
        format!("taxa      {taxa}"),
        format!(
            "keys      {} ({}, {})",
            counts.keys,
            count(counts.couplets, "couplet", "couplets"),
            count(counts.leads, "lead", "leads")
        ),
        format!("glossary  {}", count(counts.entries, "term", "terms")),
        format!("matter    {}", count(counts.matter, "piece", "pieces")),
        format!("doubts    {}", counts.doubts),
    ]
}

/// Returns the counts as JSON.
pub(crate) fn found_json(counts: &Counts) -> serde_json::Value {
    let taxa: Vec<serde_json::Value> = (counts.taxa.iter())
        .map(|(rank, count)| serde_json::json!({"taxonRank": rank.word(), "count": count}))
        .collect();
    serde_json::json!({
        "taxa": taxa,
        "keys": counts.keys,
        "couplets": counts.couplets,
        "leads": counts.leads,
        "terms": counts.entries,
        "matter": counts.matter,
        "doubts": counts.doubts,
    })
}

/// Returns the folio printed on a page.
pub(crate) fn folio(contents: &Contents, page: Page) -> Option<&str> {
    contents.folios.get((page.0 as usize).checked_sub(1)?)?.as_deref()
}

/// Returns the words for a page: its folio, as a book is cited, and its place in the PDF.
pub(crate) fn place(contents: &Contents, page: Page) -> String {
    match folio(contents, page) {
        Some(folio) => format!("p. {folio} (PDF page {page})"),
        None => format!("PDF page {page}"),
    }
}

/// Returns the words for a run of pages.
pub(crate) fn places(contents: &Contents, (first, last): (Page, Page)) -> String {
    if first == last {
        return place(contents, first);
    }
    match (folio(contents, first), folio(contents, last)) {
        (Some(from), Some(to)) => format!("p. {from}–{to} (PDF pages {first}–{last})"),
        (Some(_) | None, Some(_) | None) => format!("PDF pages {first}–{last}"),
    }
}

/// Returns the line for a doubt: where, the printed words, what to do.
pub(crate) fn doubt(contents: &Contents, doubt: &Doubt) -> String {
    let place = place(contents, doubt.page);
    if doubt.text.is_empty() {
        return format!("{place}: {}", doubt.advice);
    }
    format!("{place}: “{}” — {}", doubt.text, doubt.advice)
}

impl Look {
    /// Returns words as a heading.
    pub(crate) fn heading(self, words: &str) -> String {
        match self.paint {
            Paint::Plain => words.to_owned(),
            Paint::Bold => format!("\x1b[1m{words}\x1b[0m"),
        }
    }

    /// Writes a paragraph, its first line after `first`, all further lines indented as far.
    pub(crate) fn paragraph(self, out: &mut dyn Write, first: &str, text: &str) -> io::Result<()> {
        let indent = first.width();
        let room = match self.lines {
            Lines::Whole => return writeln!(out, "{first}{text}"),
            Lines::Broken(columns) => columns.saturating_sub(indent).max(1),
        };
        for (at, line) in broken(text, room).iter().enumerate() {
            let before = if at == 0 { first } else { &" ".repeat(indent) };
            writeln!(out, "{before}{line}")?;
        }
        Ok(())
    }
}

/// Breaks a text at blanks into lines of at most `room` columns; a longer word has a line of its own.
fn broken(text: &str, room: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let line = lines.last_mut().expect("there is a line from the start");
        if line.is_empty() {
            line.push_str(word);
        } else if line.width() + 1 + word.width() <= room {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_paragraph(lines: Lines, first: &str, text: &str, expected: &str) {
        let mut out = Vec::new();
        Look { paint: Paint::Plain, lines }.paragraph(&mut out, first, text).unwrap();
        assert_eq!(String::from_utf8(out).unwrap(), expected);
    }

    #[test]
    fn a_paragraph_is_one_line_in_a_pipe_and_broken_on_a_terminal() {
        check_paragraph(Lines::Whole, "1a  ", "petals red or white", "1a  petals red or white\n");
        check_paragraph(Lines::Broken(14), "1a  ", "petals red or white", "1a  petals red\n    or white\n");
        check_paragraph(Lines::Broken(6), "– ", "inflorescence", "– inflorescence\n");
    }

    #[test]
    fn pages_are_cited_by_folio_where_one_is_printed() {
        let contents =
            Contents { folios: vec![None, Some("2".into()), Some("3".into())], ..Contents::default() };
        assert_eq!(place(&contents, Page(3)), "p. 3 (PDF page 3)");
        assert_eq!(places(&contents, (Page(2), Page(3))), "p. 2–3 (PDF pages 2–3)");
        assert_eq!(places(&contents, (Page(1), Page(2))), "PDF pages 1–2");
        assert_eq!(place(&contents, Page(0)), "PDF page 0");
    }
}
