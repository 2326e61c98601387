//! The first label of a titled key where print or scan lost it: its rival further on tells what it was (K18).

use crate::layout::{Block, BlockKind};
use crate::parse::compose::compose;
use crate::parse::words;

use super::blurred;
use super::label::{self, Label, Rival, Series};

/// Blocks among which the first couplet's second lead must come.
const NEAR: usize = 14;
/// Points by which labels of one couplet may differ.
const LEVEL_TOLERANCE: f32 = 3.0;

/// Returns the label that the first of these blocks must have had, and the indent of its couplet's labels.
pub(super) fn lost(blocks: &[Block]) -> Option<(Label, f32)> {
    let line = blocks.first()?.lines.first()?;
    let (rival, indent) = first_rival(&blocks[1..])?;
    if line.indent < indent - LEVEL_TOLERANCE {
        return None;
    }
    let composed = compose([line]);
    let len = blurred::token(composed.str()).map_or(0, |token| token.len);
    let seen = Some(composed.str()[..len].trim().to_owned());
    let printed = match rival.series {
        Series::Letter(letter) => letter.to_string(),
        Series::Number(number) => format!("{number}a"),
        Series::Bullet | Series::Dash => return None,
    };
    Some((Label { printed, rival: Rival::Nth(0), back: Vec::new(), len, seen, ..rival }, indent))
}

/// The first label further on that is the rival of a first one, and its indent; none if a key begins before it.
fn first_rival(blocks: &[Block]) -> Option<(Label, f32)> {
    for block in blocks.iter().filter(|block| block.kind == BlockKind::Flow).take(NEAR) {
        let composed = compose(&block.lines[..1]);
        if words::is_key_title(composed.str()) {
            return None;
        }
        let Some(label) = label::read(composed.str()) else { continue };
        let first = matches!(label.series, Series::Number(1) | Series::Letter('a' | 'A'));
        match label.rival {
            Rival::Nth(1) if first => return Some((label, block.lines[0].indent)),
            Rival::Nth(_) | Rival::Unsaid if first => return None,
            Rival::Nth(_) | Rival::Unsaid => {}
        }
    }
    None
}
