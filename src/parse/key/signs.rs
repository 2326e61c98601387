//! Keys whose labels tell the level by a count of signs (`•`, `••`), or by stars above letters (`*`, `**`, then `a`, `aa`).
//!
//! The level stands for the depth, so that couplets are found as in keys by depth; rivals of letters are told by their
//! count.

use std::sync::LazyLock;

use regex::Regex;

use super::depth::{self, Standing};
use super::label::{Label, Rival, Scheme, Series};
use super::read::{RawCouplet, RawKey};
use super::statement::{HANGING, Role, Seen, Source, Statement, gather, names_taxon, raw_key};

static LABEL: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:([•●▪■◦·*∗]{1,8})[.)]?|([A-Za-z]{1,4})[.)])\s+[\p{Lu}(]").expect("a fixed pattern")
});

/// Points that one level counts for; more than depths may differ by.
const LEVEL: f32 = 20.0;
/// Share of couplets that have two leads at least.
const RIVALS_SHARE: f32 = 0.8;
/// Share of leads that end in a taxon.
const NAMED_SHARE: f32 = 0.35;

/// Reads the key that begins at a block.
pub(super) fn read(source: &Source<'_>, start: usize) -> Option<RawKey> {
    let opening = source.blocks.get(start)?.lines.first()?;
    let first = label(crate::parse::compose::compose([opening]).str())?;
    (first.series == Series::Bullet && first.printed.chars().count() == 1).then_some(())?;
    let (statements, end) = gather(source, start, &mut |seen| role(seen, source));
    let levels = levels(&statements)?;
    let targets: Vec<_> = statements.iter().map(|one| one.target(source)).collect();
    let standing: Vec<Standing> = levels
        .iter()
        .zip(&targets)
        .map(|(level, (_, printed))| Standing {
            indent: *level as f32 * LEVEL,
            has_target: !printed.words.is_empty(),
            label: None,
        })
        .collect();
    let found = depth::couplets(&standing);
    let rivals = found.couplets.iter().filter(|leads| leads.len() > 1).count();
    let named = targets.iter().filter(|(_, printed)| names_taxon(printed)).count();
    let is_key = rivals as f32 >= found.couplets.len() as f32 * RIVALS_SHARE
        && named as f32 >= statements.len() as f32 * NAMED_SHARE
        && found.odd.len() * 5 <= statements.len();
    is_key.then_some(())?;
    let leads = statements
        .iter()
        .zip(targets)
        .enumerate()
        .map(|(at, (one, target))| {
            let mut lead = one.lead(target);
            lead.odd = found.odd.contains(&at);
            lead
        })
        .collect();
    let couplets =
        found.couplets.into_iter().map(|leads| RawCouplet { series: Series::Bullet, leads }).collect();
    Some(raw_key(source, leads, couplets, start..end))
}

fn role(seen: &Seen<'_>, source: &Source<'_>) -> Role {
    let ended = seen.last.is_none_or(|last| {
        let fresh = last.lines.len() == 1 || seen.line.indent <= last.indent() + HANGING;
        fresh || !last.target(source).1.words.is_empty()
    });
    match label(seen.words.str()) {
        Some(label) if seen.first || ended => Role::Opens(label),
        _ if !seen.first || seen.goes_on(source) => Role::GoesOn,
        _ => Role::Ends,
    }
}

fn label(words: &str) -> Option<Label> {
    let found = LABEL.captures(words)?;
    let len = found[0].len() - found[0].chars().next_back().map_or(0, char::len_utf8);
    let (printed, series) = match (found.get(1), found.get(2)) {
        (Some(signs), _) => (signs.as_str().replace('∗', "*"), Series::Bullet),
        (None, letters) => (letters?.as_str().to_owned(), Series::Letter(letters?.as_str().chars().next()?)),
    };
    let first = printed.chars().next()?;
    printed.chars().all(|c| c == first).then(|| Label {
        printed,
        series,
        rival: Rival::Unsaid,
        scheme: Scheme::Signs,
        back: Vec::new(),
        len,
        seen: None,
    })
}

/// The level of each statement: the count of its signs, or 0 for stars where letters stand below them. `None` where the
/// count tells nothing.
fn levels(statements: &[Statement]) -> Option<Vec<u32>> {
    let count = |one: &Statement| one.label.printed.chars().count() as u32;
    let lettered = statements.iter().any(|one| matches!(one.label.series, Series::Letter(_)));
    let levels: Vec<u32> = statements
        .iter()
        .map(|one| match one.label.series {
            Series::Letter(letter) => 1 + letter.to_ascii_lowercase() as u32 - 'a' as u32,
            Series::Bullet | Series::Number(_) | Series::Dash if lettered => 0,
            Series::Bullet | Series::Number(_) | Series::Dash => count(one) - 1,
        })
        .collect();
    let deepest = levels.iter().max().copied().unwrap_or(0);
    (deepest > 0).then_some(levels)
}
