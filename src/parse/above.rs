//! Lines of vernacular names that a book sets above its headings: where headings are in, where each begins out.

use std::collections::BTreeMap;

use crate::layout::{Block, BlockKind};
use crate::name;

use super::compose::compose;
use super::look::{self, Look};

/// Headings of species that must have a line of one look above them for it to be a habit of the book.
const HABIT: usize = 3;
/// Share of headings of species that must have one.
const HABIT_SHARE: f32 = 0.2;
/// Blocks above a heading that are looked at.
const MOST_ABOVE: usize = 3;

/// Returns, for each heading with lines above it, the block where the first of them stands.
pub(crate) fn tops(
    blocks: &[Block],
    headings: &[usize],
    free: &dyn Fn(usize) -> bool,
    body_size: f32,
) -> BTreeMap<usize, usize> {
    let above = |heading: usize| {
        let at = above_notes(blocks, heading)?;
        let seen = look::look(&blocks[at], body_size);
        (free(at) && is_plain_line(&blocks[at], seen)).then_some((at, seen))
    };
    let found: Vec<(usize, usize, Look)> = headings
        .iter()
        .filter_map(|heading| above(*heading).map(|(at, seen)| (*heading, at, seen)))
        .collect();
    let alike = |one: Look, other: Look| Look { larger: one.larger, ..other } == one;
    let habitual = |look: Look| {
        let count = found.iter().filter(|(_, _, other)| alike(*other, look)).count();
        count >= HABIT && count as f32 >= headings.len() as f32 * HABIT_SHARE
    };
    let mut tops = BTreeMap::new();
    for (heading, at, seen) in found.iter().filter(|(_, _, seen)| habitual(*seen)) {
        let mut top = *at;
        while top > 0
            && heading - top < MOST_ABOVE
            && free(top - 1)
            && blocks[top - 1].kind == BlockKind::Flow
            && alike(look::look(&blocks[top - 1], body_size), *seen)
        {
            top -= 1;
        }
        tops.insert(*heading, top);
    }
    tops
}

/// The block before a heading, notes at the foot and figures passed over.
fn above_notes(blocks: &[Block], heading: usize) -> Option<usize> {
    let least = heading.saturating_sub(MOST_ABOVE);
    (least..heading).rev().find(|at| blocks[*at].kind == BlockKind::Flow && !look::is_note(&blocks[*at]))
}

fn is_plain_line(block: &Block, seen: Look) -> bool {
    let text = compose(&block.lines).text.plain;
    let named = name::parse(&text).is_some_and(|parsed| {
        parsed.authorship.is_some() && parsed.name.contains(' ') || name::is_family(&parsed.name)
    });
    seen.stands_out()
        && !seen.goes_on
        && (seen.bold || seen.centred)
        && !named
        && !text.contains(|c: char| c == '[' || c.is_ascii_digit())
}
