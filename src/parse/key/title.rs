//! Blocks above a key in, its title out; and the lines among its leads that are no part of any.

use crate::layout::{Block, BlockKind};
use crate::model::Text;
use crate::parse::compose::compose;
use crate::parse::{look, words};

use super::read::without_raised;

/// Blocks that a title runs over at most.
const LONGEST_TITLE: usize = 3;
/// Bytes of a title that need not stand out by its type.
const SHORT_TITLE: usize = 80;
/// Letters or figures of the longest mark of a note.
const LONGEST_MARK: usize = 2;

/// Finds the title in the block before the key, or in the two or three before it where it runs over; gives how many.
pub(super) fn above(blocks: &[Block], start: usize, body_size: f32) -> Option<(Text, usize)> {
    (1..=LONGEST_TITLE.min(start)).find_map(|count| {
        let above = &blocks[start - count..start];
        let seen: Vec<look::Look> = above.iter().map(|block| look::look(block, body_size)).collect();
        let alike =
            seen.iter().all(|one| one.short && (count == 1 || one.bold == seen[0].bold && one.stands_out()));
        let composed = compose(above.iter().flat_map(|block| &block.lines));
        let is_title = alike
            && words::is_key_title(&compose(&above[0].lines).text.plain)
            && (seen[0].stands_out() || composed.str().len() < SHORT_TITLE && !composed.str().ends_with('.'))
            && above.iter().all(|block| block.kind == BlockKind::Flow);
        is_title.then(|| (composed.text.slice(0..without_raised(&composed, composed.str().len())), count))
    })
}

/// A number between dashes on a line of its own tells which couplet follows and is no part of a lead.
pub(super) fn is_side_number(block: &Block) -> bool {
    let composed = compose(&block.lines);
    let bare = composed.str().trim();
    let inner = bare.trim_matches(|c: char| matches!(c, '—' | '–' | '-' | ' ' | '―'));
    block.lines.len() == 1
        && bare.starts_with(['—', '–', '-', '―'])
        && bare.ends_with(['—', '–', '-', '―'])
        && !inner.is_empty()
        && inner.bytes().all(|b| b.is_ascii_digit())
}

/// A note, which its raised mark opens, is no part of a lead wherever the page has put it.
pub(super) fn is_note(block: &Block) -> bool {
    let mut runs = block.lines.iter().flat_map(|line| &line.runs).filter(|run| !run.text.is_empty());
    let raised =
        runs.next().is_some_and(|run| run.style.raised && run.text.trim().chars().count() <= LONGEST_MARK);
    raised && runs.next().is_some_and(|run| !run.style.raised)
}
