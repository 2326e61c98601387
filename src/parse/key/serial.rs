//! Serial keys (K7): every lead has a number of its own, and its rival's number follows in brackets: `1 (14)` … `14 (1)`.
//!
//! Numbers that do not pair are mended by their neighbours and reported. Back references (K20) are no serial numbers:
//! they point to smaller numbers only, and the first lead has none.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use regex::Regex;

use super::label::{Label, Rival, Scheme, Series};
use super::read::{RawCouplet, RawKey};
use super::statement::{Role, Seen, Source, Statement, gather, raw_key};

static NUMBERS: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(\d{1,3})[.)]?\s?[(\[]\s?(\d{1,3}(?:\s?[,;]\s?\d{1,3}){0,4})\s?[)\]][.:]?\s*")
        .expect("a fixed pattern")
});

/// Share of leads whose number and rival's number answer each other.
const PAIRED_SHARE: f32 = 0.6;
/// Numbers that a book may leave out at once.
const MOST_SKIPPED: u32 = 3;

/// Reads the serial key that begins at a block.
pub(super) fn read(source: &Source<'_>, start: usize) -> Option<RawKey> {
    let opening = source.blocks.get(start)?.lines.first()?;
    let first = label(crate::parse::compose::compose([opening]).str())?;
    if first.series != Series::Number(1) || first.back.iter().any(|rival| *rival <= 1) {
        return None;
    }
    let (statements, end) = gather(source, start, &mut |seen| role(seen, source));
    let numbers = numbered(&statements);
    let groups = rivals(&numbers.values, &statements);
    if groups.mutual < 2 || (groups.mutual as f32) < statements.len() as f32 * PAIRED_SHARE {
        return None;
    }
    let leads = statements
        .iter()
        .enumerate()
        .map(|(at, statement)| {
            let mut lead = statement.lead(statement.target(source));
            lead.odd = numbers.odd.contains(&at) || groups.odd.contains(&at);
            lead
        })
        .collect();
    let couplets = groups
        .couplets
        .into_iter()
        .map(|leads| RawCouplet { series: Series::Number(numbers.values[leads[0]]), leads })
        .collect();
    Some(raw_key(source, leads, couplets, start..end))
}

fn role(seen: &Seen<'_>, source: &Source<'_>) -> Role {
    seen.role(label(seen.words.str()), source)
}

fn label(words: &str) -> Option<Label> {
    let found = NUMBERS.captures(words)?;
    let number: u32 = found[1].parse().ok()?;
    let rivals: Vec<u32> = found[2].split([',', ';']).filter_map(|rival| rival.trim().parse().ok()).collect();
    let len = found[0].len();
    words[len..].starts_with(|c: char| c.is_alphanumeric() || matches!(c, '(' | '±' | '†')).then(|| Label {
        printed: format!("{number}({})", found[2].trim()),
        series: Series::Number(number),
        rival: Rival::Unsaid,
        scheme: Scheme::Serial,
        back: rivals,
        len,
        seen: None,
    })
}

/// The number of each statement, as printed or as its neighbours want it.
struct Numbered {
    values: Vec<u32>,
    odd: Vec<usize>,
}

fn numbered(statements: &[Statement]) -> Numbered {
    let printed: Vec<u32> = statements
        .iter()
        .map(|statement| match statement.label.series {
            Series::Number(number) => number,
            Series::Letter(_) | Series::Bullet | Series::Dash => 0,
        })
        .collect();
    let mut made = Numbered { values: Vec::new(), odd: Vec::new() };
    for (at, number) in printed.iter().copied().enumerate() {
        let before = made.values.last().copied().unwrap_or(0);
        let next = printed.get(at + 1).copied().unwrap_or(u32::MAX);
        let rises = number > before && number <= before + MOST_SKIPPED && number < next;
        if !rises {
            made.odd.push(at);
        }
        made.values.push(if rises { number } else { before + 1 });
    }
    made
}

/// Statements gathered to couplets.
struct Groups {
    couplets: Vec<Vec<usize>>,
    mutual: usize,
    odd: Vec<usize>,
}

fn rivals(values: &[u32], statements: &[Statement]) -> Groups {
    let place: BTreeMap<u32, usize> =
        values.iter().enumerate().rev().map(|(at, value)| (*value, at)).collect();
    let named: Vec<Vec<usize>> = statements
        .iter()
        .map(|one| one.label.back.iter().filter_map(|number| place.get(number).copied()).collect())
        .collect();
    let mut home: Vec<usize> = (0..statements.len()).collect();
    let mut mutual = 0;
    for at in 0..statements.len() {
        for rival in named[at].iter().copied().filter(|rival| *rival != at) {
            if named[rival].contains(&at) {
                mutual += usize::from(rival > at) * 2;
                let (from, to) = (home[at].max(home[rival]), home[at].min(home[rival]));
                home.iter_mut().filter(|one| **one == from).for_each(|one| *one = to);
            }
        }
    }
    let mut odd = Vec::new();
    let lone = |home: &[usize], at: usize| home.iter().filter(|one| **one == home[at]).count() == 1;
    for at in (0..statements.len()).filter(|at| lone(&home, *at)).collect::<Vec<_>>() {
        // One of the two has a wrong number: the other still names it.
        let rival = named[at].iter().copied().find(|rival| *rival != at && lone(&home, *rival));
        if let Some(rival) = rival.filter(|_| lone(&home, at)) {
            home[at.max(rival)] = home[at.min(rival)];
            odd.push(rival);
        }
    }
    let mut couplets: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, home) in home.iter().enumerate() {
        couplets.entry(*home).or_default().push(at);
    }
    Groups { couplets: couplets.into_values().collect(), mutual, odd }
}
