//! Headwords in their own type: what stands beside the first one (variants, plurals, a noun in brackets), and sentences
//! of an entry that begin with a headword of their own.

use std::ops::Range;

use crate::model::Style;
use crate::parse::compose::Composed;

/// Words between two headwords of one entry, the longest first.
const JOINS: &[&str] = &[", or ", " or ", ", and ", " and ", ", "];
/// Bytes of the longest remark in brackets that stands between headword and definition.
const LONGEST_REMARK: usize = 40;
/// Letters of the shortest headword that opens a sentence.
const SHORTEST: usize = 3;

/// Reads further headwords from a byte on; gives them and the byte behind.
pub(super) fn more(piece: &Composed, own: Style, body: Range<usize>) -> (Vec<String>, usize) {
    let plain = &piece.str()[..body.end];
    let mut found = Vec::new();
    let mut at = body.start;
    loop {
        let tail = &plain[at..];
        let joined = JOINS.iter().find(|join| {
            let here = at + join.len();
            tail.starts_with(*join) && here < plain.len() && piece.text.style_at(here) == own
        });
        if let Some(join) = joined {
            let start = at + join.len();
            let end = super::own_type_end(piece, start).min(plain.len());
            let word = plain[start..end].trim().trim_end_matches([',', '.', ':', ';']);
            if word.is_empty() || !word.contains(char::is_alphabetic) {
                break;
            }
            found.push(word.to_owned());
            at = end;
        } else if let Some(end) = remark(tail) {
            found.extend(super::printed_plural(tail.trim_start()).map(|(plural, _)| plural));
            at += end;
        } else {
            break;
        }
    }
    (found, at)
}

/// The bytes of a remark in brackets that is followed by the mark before the definition: ` (seeds), `.
fn remark(tail: &str) -> Option<usize> {
    let inner = tail.trim_start().strip_prefix('(')?;
    let close = inner.find(')').filter(|close| *close < LONGEST_REMARK)?;
    let end = tail.len() - inner.len() + close + 1;
    tail[end..].starts_with([',', '.', ':']).then_some(end)
}

/// Cuts the text behind a headword where a sentence begins with one of its own.
pub(super) fn parts(piece: &Composed, body: usize) -> Vec<Range<usize>> {
    let plain = piece.str();
    let own = piece.text.style_at(0);
    let opens = |start: usize| {
        let end = super::own_type_end(piece, start);
        let word = plain[start..end].trim_end_matches([',', '.', ':', ' ']);
        let rest = &plain[start + word.len()..];
        plain[..start].ends_with(". ")
            && word.chars().next().is_some_and(char::is_uppercase)
            && word.chars().filter(|c| c.is_alphabetic()).count() >= SHORTEST
            && (rest.starts_with(", ") || rest.starts_with(" or ") || rest.starts_with(" ("))
    };
    let starts = piece.chunks.iter().filter(|chunk| chunk.style == own && chunk.start > body);
    let mut parts: Vec<Range<usize>> = std::iter::once(body..plain.len()).collect();
    for start in starts.map(|chunk| chunk.start).filter(|start| opens(*start)) {
        if let Some(last) = parts.last_mut() {
            last.end = start;
        }
        parts.push(start..plain.len());
    }
    parts
}
