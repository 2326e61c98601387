//! Vernacular names (T12): lines, quotations and words in their own type in, names out.

use crate::model::{Style, Text};
use crate::name;
use crate::parse::words;

/// Longest line of vernacular names, in characters.
const LONGEST_LINE: usize = 90;
/// Words of the longest vernacular name (`small-flowered winter-green of the isles`).
const MOST_WORDS: usize = 6;

/// Reads the names out of short lines that stand by themselves.
pub(super) fn of(texts: &[Text]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for text in texts {
        // A line that parts names and ends in none of its marks goes on in the next.
        match lines.last_mut() {
            Some(last) if last.contains(". ") && !last.ends_with(['.', ',', ';']) => {
                last.push(' ');
                last.push_str(&text.plain);
            }
            _ => lines.push(text.plain.clone()),
        }
    }
    lines.iter().flat_map(|line| names(line)).collect()
}

/// Says whether the lines below a family's heading are vernacular names of the next taxon, as in books that print the
/// family above each of its species.
pub(super) fn of_next(texts: &[Text]) -> bool {
    let family = |text: &Text| {
        let folded = name::fold(&text.plain);
        words::FAMILY_WORDS.iter().any(|word| folded.ends_with(word))
    };
    !texts.is_empty() && texts.iter().all(|text| is_line(text) && !family(text))
}

/// Says whether a paragraph is a line of vernacular names.
pub(super) fn is_line(text: &Text) -> bool {
    let plain = text.plain.trim();
    let style = text.style_at(0);
    let marked = style.small_caps
        || style.italic
        || style.bold
        || plain.starts_with(['“', '"', '‘', '«'])
        || !plain.chars().any(char::is_lowercase);
    plain.chars().count() < LONGEST_LINE
        && !plain.ends_with(['.', ',', ';', ']', ')'])
        && !plain.contains([':', '['])
        && (marked || plain.split_whitespace().count() <= MOST_WORDS)
        && !plain.chars().any(|c| c.is_ascii_digit())
        && !is_named(plain)
}

/// A scientific name with its author, alone or before a dash, heads a treatment and is no vernacular name.
fn is_named(line: &str) -> bool {
    name::parse(line).is_some_and(|parsed| {
        let abbreviated = parsed.authorship.is_some_and(|authorship| authorship.contains('.'));
        let dashed = line[parsed.end..].trim_start().starts_with(['–', '—']);
        abbreviated && (parsed.name.contains(' ') || dashed)
    })
}

/// Parts a line of vernacular names; capitals become small letters, as nothing tells proper names apart in them.
pub(super) fn names(line: &str) -> Vec<String> {
    let capitals = !line.chars().any(char::is_lowercase);
    line.split([',', ';', '.'])
        .flat_map(|part| part.split(" or "))
        .map(|part| part.trim().trim_matches(['“', '”', '"', '‘', '«', '»', '—', '–']).trim())
        .map(without_article)
        .filter(|part| part.chars().any(char::is_alphabetic))
        .map(|part| if capitals { part.to_lowercase() } else { part.to_owned() })
        .collect()
}

fn without_article(part: &str) -> &str {
    ["The ", "the ", "THE "].iter().find_map(|article| part.strip_prefix(article)).unwrap_or(part)
}

/// Reads a name in quotation marks; gives it and the bytes taken.
pub(super) fn quoted(tail: &str) -> Option<(String, usize)> {
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
    (len < LONGEST_LINE).then(|| (tail[start..start + len].trim().to_owned(), start + len + close.len_utf8()))
}

/// Reads names in a type of their own from a byte of a heading on, as far as the type goes; gives the byte behind them.
pub(super) fn typed(text: &Text, start: usize) -> Option<(Vec<String>, usize)> {
    let own = text.style_at(start);
    let plain_type = Style { raised: false, ..own } == Style::default();
    if plain_type || name::parse(&text.plain[start..]).is_some_and(|n| n.authorship.is_some() && own.italic) {
        return None;
    }
    let same = |at: usize, letter: char| {
        text.style_at(at) == own || own.small_caps && !letter.is_lowercase() && letter != '.'
    };
    let mut end = start;
    let mut at = start;
    while let Some(letter) = text.plain[at..].chars().next() {
        let joins = [" or ", ", "].iter().find(|join| text.plain[at..].starts_with(*join));
        let joined = joins.filter(|join| text.style_at(at + join.len()) == own);
        if same(at, letter) {
            at += letter.len_utf8();
            end = at;
        } else if let Some(join) = joined {
            at += join.len();
        } else {
            break;
        }
    }
    let line = &text.plain[start..end];
    let goes_on = end < text.plain.len();
    let fits = line.chars().count() < LONGEST_LINE && !line.contains([':', ';']) && goes_on;
    let heads_section = words::section_kind(line.trim_end_matches(['.', ':', '—', ' '])).is_some();
    (fits && !heads_section).then(|| (names(line), end))
}
