//! Where in a lead its target begins (K21–K27). What the printed target names is read in `named`.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::LazyLock;

use regex::Regex;

use crate::layout::Gap;
use crate::model::Rank;
use crate::name;
use crate::parse::compose::{Chunk, Composed};
use crate::parse::profile::Way;

use super::named::{BARE_NUMBER, PAGE};
pub(crate) use super::named::{Named, Printed, read};
use super::{noise, vernacular};

/// What helps to tell a target from the last words of a lead.
pub(crate) struct Hints<'a> {
    /// The number of the lead's own couplet, in numbered keys.
    pub(crate) couplet: Option<u32>,
    /// Whether leads of this key end in couplet numbers.
    pub(crate) numbered: bool,
    /// Whether this book prints vernacular names before the Latin ones in targets.
    pub(crate) vernacular: bool,
    /// Folded names that stand in the book like headings.
    pub(crate) known: &'a BTreeSet<String>,
}

static JUMP: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?:[—–―-]{1,2}|→|⇒|\bgo to|\bsee|[.…\s]{3,})\s*\(?(\d{1,3})[a-h]?\)?\.?$")
        .expect("a fixed pattern")
});
static LAST_NUMBER: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"\s(\d{1,3})[a-h]?\.?$").expect("a fixed pattern"));
static NUMBER_BEFORE: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"\s\d+(?:\.\d+)*\.$").expect("a fixed pattern"));
/// A couplet or lead of another key (K21): `12a, in ROSACEAE, p. 30`.
static IN_ANOTHER: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(
        r"\s(\d{1,3}[a-h]?,?\s+in\s+\p{Lu}[\p{L}\-]{3,}(?:,?\s*\(?(?:pp?\.)\s?(?:\d{1,4}|[ivxlc]+)\)?)?)\.?$",
    )
    .expect("a fixed pattern")
});
static SHORT_LEADER: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"(?:\.\s+\.{1,3}|\s\.{2,3})\s*([^.\s].*)$").expect("a fixed pattern"));
static CAPITALS_AND_PAGE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?:^|[\s.…])((?:\d+\.\s+)?\p{Lu}[\p{Lu}\-]{3,}\s\d{1,4})\.?$").expect("a fixed pattern")
});
static TAIL_NAME: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?:^|[\s.…])((?:\d+(?:\.\d+)*[.)]?\s+)?[×†*]?\s?\p{Lu}(?:,|[\p{L}\-]*\.?)(?:\s×?\s?[\p{L}\-.]+){0,5},?\s*\(?(?:pp?\.)\s?(?:\d{1,4}|[ivxlc]+)\)?)\.?$")
        .expect("a fixed pattern")
});
static TAIL_CAPITALS: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?:^|[\s.…])((?:\d+(?:\.\d+)*[.)]?\s+)?\p{Lu}[\p{Lu}\-]{3,})\.?$").expect("a fixed pattern")
});

/// Finds the byte where the target of a lead begins; `None` when the lead prints none.
///
/// `from` is where the characters begin, after the label.
pub(crate) fn start(lead: &Composed, from: usize, hints: &Hints<'_>) -> Option<usize> {
    let start = any_start(lead, from, hints)?;
    // A page alone at the end: the name that it is of stands before.
    let plain = lead.str();
    let page = BARE_NUMBER.is_match(plain[start..].trim());
    let name = page.then(|| by_known_before(plain, from..start, hints)).flatten();
    Some(name.unwrap_or(start))
}

fn any_start(lead: &Composed, from: usize, hints: &Hints<'_>) -> Option<usize> {
    by_leader(lead, from)
        .or_else(|| hints.vernacular.then(|| vernacular::start(lead.str(), from)).flatten())
        .or_else(|| by_gap(lead, from))
        .or_else(|| by_dash(lead, from))
        .or_else(|| by_short_leader(lead, from))
        .or_else(|| by_other_key(lead, from))
        .or_else(|| by_capitals(lead, from))
        .or_else(|| by_jump(lead, from, hints))
        .or_else(|| by_type(lead, from))
        .or_else(|| by_form(lead, from))
        .or_else(|| by_known(lead, from, hints))
}

/// Finds the byte where the target of a lead begins if it is set in one way.
pub(crate) fn start_by(way: Way, lead: &Composed, from: usize, hints: &Hints<'_>) -> Option<usize> {
    match way {
        Way::Leader => {
            by_leader(lead, from).or_else(|| by_gap(lead, from)).or_else(|| by_short_leader(lead, from))
        }
        Way::Dash => by_dash(lead, from),
        Way::Number => by_jump(lead, from, hints),
        Way::Type => by_type(lead, from),
        Way::Page => by_capitals(lead, from).or_else(|| by_form(lead, from)),
        Way::Name => by_known(lead, from, hints),
    }
}

/// The last chunk behind a gap of this sort with words after it.
fn behind(lead: &Composed, from: usize, gap: Gap) -> Option<&Chunk> {
    let says = |at: usize| !lead.str()[at..].trim().trim_matches('.').is_empty();
    lead.chunks.iter().rev().find(|chunk| chunk.before == gap && chunk.start > from && says(chunk.start))
}

/// A leader proves a target.
fn by_leader(lead: &Composed, from: usize) -> Option<usize> {
    behind(lead, from, Gap::Leader).map(|chunk| chunk.start)
}

/// A wide gap suggests a target.
fn by_gap(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str();
    let wide = behind(lead, from, Gap::Wide)?;
    let printed = read(plain[wide.start..].trim());
    // A name that runs over leaves its last word alone at the right: its type tells where it begins.
    if let Some(start) = by_type(lead, from).filter(|start| *start < wide.start) {
        return Some(start);
    }
    (!printed.named.is_empty() && !printed.named.iter().any(|named| matches!(named, Named::Other(_))))
        .then_some(wide.start)
}

/// A long dash or an arrow before something that can be a target and nothing else.
fn by_dash(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str();
    let (at, dash) = plain.char_indices().rfind(|(at, c)| *at > from && matches!(c, '—' | '→'))?;
    let start = at + dash.len_utf8();
    let named = read(&plain[start..]).named;
    let sure = |named: &Named| match named {
        Named::Number(_) | Named::Couplet(_) | Named::Name { .. } | Named::Key(_) => true,
        Named::Epithet { term, .. } => !term.is_empty(),
        Named::Ditto(_) | Named::Other(_) => false,
    };
    (!named.is_empty() && named.iter().all(sure)).then_some(start)
}

/// Two or three dots that a full line left of a leader, before a name.
fn by_short_leader(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str();
    let start = from + SHORT_LEADER.captures(plain.get(from..)?)?.get(1)?.start();
    let named = read(&plain[start..]).named;
    let sure = !named.is_empty() && !named.iter().any(|named| matches!(named, Named::Other(_)));
    (sure && plain[start..].chars().any(char::is_alphabetic)).then_some(start)
}

/// A couplet and the key that it stands in.
fn by_other_key(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str().trim_end();
    IN_ANOTHER.captures(plain.get(from..)?)?.get(1).map(|name| from + name.start())
}

/// A family in capitals with the page that it stands on, but no leader before it.
fn by_capitals(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str().trim_end();
    CAPITALS_AND_PAGE.captures(plain.get(from..)?)?.get(1).map(|name| from + name.start())
}

/// A dash, an arrow or words that send on, or a number alone at the end of a lead in a key of numbers.
fn by_jump(lead: &Composed, from: usize, hints: &Hints<'_>) -> Option<usize> {
    let plain = lead.str().trim_end();
    let tail = &plain[from.min(plain.len())..];
    if let Some(found) = JUMP.captures(tail) {
        let number = found.get(1)?;
        let before = tail[..found.get(0)?.start()].chars().next_back();
        let range = before.is_some_and(|c| c.is_ascii_digit());
        if !range {
            return Some(from + number.start());
        }
    }
    let own = hints.couplet?;
    let number = LAST_NUMBER.captures(tail)?.get(1)?;
    let value: u32 = number.as_str().parse().ok()?;
    let before = tail[..number.start()].trim_end();
    let of_measure = before.ends_with(['–', '-', '×', '=', '<', '>', '±', '/'])
        || before.ends_with("to")
        || before.ends_with("or")
        || before.ends_with("than")
        || before.ends_with("p.");
    let fits = if hints.numbered { value > own && value < own + 200 } else { value == own + 1 };
    (fits && !of_measure).then_some(from + number.start())
}

/// A name at the end that is set in another type than the characters.
fn by_type(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str();
    let body = lead.chunks.iter().find(|chunk| chunk.end > from + 3)?.style;
    let mut at = lead.chunks.len();
    while at > 0 && lead.chunks[at - 1].start > from && lead.chunks[at - 1].style != body {
        at -= 1;
    }
    // A short roman piece may stand inside the target: an author, a comma, a page.
    let first = lead.chunks.get(at).or_else(|| {
        let last = lead.chunks.last()?;
        (PAGE.is_match(&plain[last.start..last.end]) && lead.chunks.len() > 1)
            .then(|| &lead.chunks[lead.chunks.len() - 2])
            .filter(|chunk| chunk.style != body)
    })?;
    if first.start <= from || first.style == body {
        return None;
    }
    let mut start = first.start;
    let before = plain[..start].trim_end();
    if let Some(number) = NUMBER_BEFORE.find(before) {
        start = number.start() + 1;
    }
    let printed = read(plain[start..].trim());
    let named = match printed.named.first() {
        Some(Named::Name { .. } | Named::Key(_) | Named::Number(_) | Named::Couplet(_)) => true,
        Some(Named::Epithet { term, .. }) => !term.is_empty(),
        Some(Named::Ditto(_) | Named::Other(_)) | None => false,
    };
    named.then_some(start)
}

/// A name with a page, or a name in capitals, whatever its type.
fn by_form(lead: &Composed, from: usize) -> Option<usize> {
    let plain = lead.str().trim_end();
    let tail = &plain[from.min(plain.len())..];
    let found = TAIL_NAME.captures(tail).or_else(|| TAIL_CAPITALS.captures(tail))?.get(1)?;
    let mut start = found.start();
    // The pattern is greedy to the left: the name begins at its last capitalised word that parses to the end.
    for (at, _) in found.as_str().match_indices(char::is_whitespace).rev() {
        let rest = found.as_str()[at..].trim_start();
        if rest.chars().next().is_some_and(char::is_uppercase)
            && name::parse(&noise::mended(rest)).is_some()
            && !rest.starts_with("p.")
        {
            start = found.end() - rest.len();
            let before = tail[..start].trim_end();
            let digits = before
                .trim_end_matches('.')
                .chars()
                .rev()
                .take_while(|c| c.is_ascii_digit() || *c == '.')
                .count();
            if digits > 0 && before.ends_with('.') {
                start = before.len() - digits - 1;
            }
            break;
        }
    }
    Some(from + start)
}

/// The last words are a name that stands elsewhere like a heading.
fn by_known(lead: &Composed, from: usize, hints: &Hints<'_>) -> Option<usize> {
    by_known_before(lead.str(), from..lead.str().len(), hints)
}

fn by_known_before(plain: &str, range: Range<usize>, hints: &Hints<'_>) -> Option<usize> {
    let tail = plain.get(range.clone())?.trim_end().trim_end_matches('.').trim_end();
    let starts: Vec<usize> = tail.match_indices(' ').map(|(at, _)| at + 1).collect();
    starts.iter().rev().take(4).copied().find_map(|at| {
        let parsed = name::parse(&tail[at..])?;
        let whole = parsed.end + at == tail.len();
        (whole && hints.known.contains(&name::fold(&parsed.name))).then_some(range.start + at)
    })
}

/// Says whether words end in a name with the page that it stands on.
pub(crate) fn cites_at_end(words: &str) -> bool {
    TAIL_NAME.is_match(words.trim_end())
}

/// Says whether words after a dash can only be a target: a number, a key, a name that is abbreviated or known.
pub(crate) fn is_sure(words: &str, known: &BTreeSet<String>) -> bool {
    let named = read(words).named;
    let sure = |named: &Named| match named {
        Named::Number(_) | Named::Couplet(_) | Named::Key(_) => true,
        Named::Name { name, rank } => {
            *rank == Rank::Family
                || name.split(' ').next().is_some_and(|genus| genus.ends_with('.'))
                || known.contains(&name::fold(name))
        }
        Named::Epithet { term, .. } => !term.is_empty(),
        Named::Ditto(_) | Named::Other(_) => false,
    };
    !named.is_empty() && named.iter().all(sure)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_split(drawn: &str, characters: &str, target: Option<&str>) {
        let composed = crate::parse::compose::compose(&crate::parse::fixture::lines(drawn));
        let known = BTreeSet::from(["silene alta".to_owned()]);
        let start = start(
            &composed,
            4,
            &Hints { couplet: Some(3), numbered: true, vernacular: false, known: &known },
        );
        let (before, after) = composed.str().split_at(start.unwrap_or(composed.str().len()));
        assert_eq!((before[4..].trim(), start.map(|_| after.trim())), (characters, target));
    }

    #[test]
    fn a_target_is_found_by_leader_gap_type_or_form() {
        check_split("3a. Leaves opposite ......... 4", "Leaves opposite", Some("4"));
        check_split("3a. Leaves opposite 4", "Leaves opposite", Some("4"));
        check_split("3a. Leaves opposite—4.", "Leaves opposite—", Some("4."));
        check_split("3a. Leaves 2–4", "Leaves 2–4", None);
        check_split("3a. Leaves opposite *6. Silene*", "Leaves opposite", Some("6. Silene"));
        check_split("3a. Leaves opposite SILENACEAE p. 40", "Leaves opposite", Some("SILENACEAE p. 40"));
        check_split("3a. Plants of the shore. Silene alta", "Plants of the shore.", Some("Silene alta"));
        check_split("3a. Leaves opposite      _S. alta_", "Leaves opposite", Some("S. alta"));
        check_split("3a. Petals as in _S. alta_, but larger", "Petals as in S. alta, but larger", None);
    }
}
