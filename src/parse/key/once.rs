//! Bracketed keys whose couplets print their number once (K14): `1. a. …` and `b. …` below it, or `1 …` and a lead without
//! any label below it.
//!
//! Every lead prints its target here; a key that goes by depth is not read.

use std::sync::LazyLock;

use regex::Regex;

use crate::layout::Gap;
use crate::parse::compose::is_set_right;

use super::label::{Label, Rival, Scheme, Series};
use super::read::{RawCouplet, RawKey, names_something};
use super::statement::{Role, Seen, Source, Statement, gather, raw_key};

static NUMBER: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^\(?(\d{1,3})[.)]?\s*(?:\(?([a-h])[.)]\s*)?\s+[\p{Lu}(±]").expect("a fixed pattern")
});
static LETTER: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^\(?([b-h])[.)]\s+[\p{Lu}(±]").expect("a fixed pattern"));

/// Couplets of the shortest such key.
const FEWEST: usize = 2;

/// Reads the key that begins at a block.
pub(super) fn read(source: &Source<'_>, start: usize) -> Option<RawKey> {
    let opening = source.blocks.get(start)?.lines.first()?;
    let first = label(crate::parse::compose::compose([opening]).str(), None)?;
    (first.series == Series::Number(1)).then_some(())?;
    let (mut statements, _) = gather(source, start, &mut |seen| role(seen, source));
    let kept = statements.iter().rposition(|one| !one.target(source).1.words.is_empty())? + 1;
    statements.truncate(kept);
    let couplets = couplets(&statements);
    let complete = couplets.len() >= FEWEST
        && couplets.iter().all(|couplet| couplet.leads.len() > 1)
        && statements.iter().all(|one| !one.target(source).1.words.is_empty());
    complete.then_some(())?;
    let end = statements.last()?.block + 1;
    let leads = statements.iter().map(|one| one.lead(one.target(source))).collect();
    Some(raw_key(source, leads, couplets, start..end))
}

fn couplets(statements: &[Statement]) -> Vec<RawCouplet> {
    let mut couplets: Vec<RawCouplet> = Vec::new();
    for (at, one) in statements.iter().enumerate() {
        match (one.label.series, couplets.last_mut()) {
            (Series::Dash | Series::Bullet | Series::Letter(_), Some(couplet)) => couplet.leads.push(at),
            (series, _) => couplets.push(RawCouplet { series, leads: vec![at] }),
        }
    }
    couplets
}

fn role(seen: &Seen<'_>, source: &Source<'_>) -> Role {
    let words = seen.words.str();
    let target_line = is_set_right(seen.line) && names_something(words)
        || seen.line.runs.first().is_some_and(|run| run.before == Gap::Leader);
    let done = seen.last.is_none_or(|last| is_done(last, source));
    if let Some(label) = label(words, seen.last.map(|last| &last.label)).filter(|_| done && !target_line) {
        return Role::Opens(label);
    }
    if !seen.first || target_line && !done || !done && seen.goes_on(source) {
        return Role::GoesOn;
    }
    Role::Ends
}

/// A lead is over when it has printed a target behind a leader or a gap.
fn is_done(last: &Statement, source: &Source<'_>) -> bool {
    let composed = last.composed();
    let led = composed.chunks.iter().skip(1).any(|chunk| matches!(chunk.before, Gap::Leader | Gap::Wide));
    led && !last.target(source).1.words.is_empty()
}

/// Reads a label: a new number, the next letter below it, or none below a number that stands alone.
fn label(words: &str, before: Option<&Label>) -> Option<Label> {
    let made = |printed: String, series, len| Label {
        printed,
        series,
        rival: Rival::Unsaid,
        scheme: Scheme::Once,
        back: Vec::new(),
        len,
        seen: None,
    };
    let len =
        |found: &regex::Captures<'_>| found[0].len() - found[0].chars().next_back().map_or(0, char::len_utf8);
    let lettered = before.is_some_and(|label| label.printed.ends_with(|c: char| c.is_ascii_lowercase()));
    if let Some(found) = NUMBER.captures(words) {
        let letter = found.get(2).map_or("", |letter| letter.as_str());
        let fits = letter == "a" || letter.is_empty() && !lettered;
        let printed = format!("{}{letter}", &found[1]);
        return fits
            .then(|| Some(made(printed, Series::Number(found[1].parse().ok()?), len(&found))))
            .flatten();
    }
    if let Some(found) = LETTER.captures(words) {
        let letter = found[1].chars().next()?;
        let next = before?.printed.chars().next_back().is_some_and(|last| last as u32 + 1 == letter as u32);
        return next.then(|| made(letter.to_string(), Series::Dash, len(&found)));
    }
    let blank = before.is_some_and(|label| !lettered && label.series != Series::Dash);
    (blank && words.starts_with(char::is_uppercase)).then(|| made(String::new(), Series::Dash, 0))
}
