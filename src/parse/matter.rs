//! The parts of a book by their headings: where contents, introduction, glossary and index stand, and the text of all
//! that is neither key, treatment nor glossary (P1–P7).

use std::ops::Range;

use crate::layout::{Block, BlockKind, SetPage};
use crate::model::{Matter, MatterId, MatterKind, Page, Text};

use super::compose::compose;
use super::heading::is_page_reference;
use super::look::{self, Look};
use super::profile::GlossaryLook;
use super::words;

/// What a stretch of the book is by its heading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ZoneKind {
    /// The glossary.
    Glossary,
    /// Matter of a kind.
    Matter(MatterKind),
}

/// What the first block of a stretch is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum First {
    /// Its heading.
    Heading,
    /// Its text: the heading was taken for the running head that repeats it.
    Text,
}

/// A stretch of blocks under one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Zone {
    /// What it is.
    pub(crate) kind: ZoneKind,
    /// Its blocks, heading first.
    pub(crate) blocks: Range<usize>,
    /// What its first block is.
    pub(crate) first: First,
}

/// Entries that open in their own type or with a mark, out of the next ones, by which a glossary is believed.
const GLOSSARY_PROBE: usize = 12;

/// Finds the stretches whose headings say what they are. A stretch ends at the next heading of at least its rank of
/// type that is no entry, or at one that opens another stretch.
pub(crate) fn zones(blocks: &[Block], pages: &[SetPage], body_size: f32) -> Vec<Zone> {
    let mut zones = headed_zones(blocks, body_size);
    for kind in [ZoneKind::Glossary, ZoneKind::Matter(MatterKind::Index)] {
        if zones.iter().any(|zone| zone.kind == kind) {
            continue;
        }
        let found = under_running_heads(blocks, pages, kind).filter(|zone| {
            zones
                .iter()
                .all(|other| other.blocks.end <= zone.blocks.start || zone.blocks.end <= other.blocks.start)
        });
        zones.extend(found);
    }
    zones.sort_by_key(|zone| zone.blocks.start);
    zones
}

/// Pages in a row that a running head must name for a stretch to be known by it.
const LEAST_HEADS: usize = 2;

/// A stretch without a heading on pages whose running heads, on every other page at least, tell what it is.
fn under_running_heads(blocks: &[Block], pages: &[SetPage], kind: ZoneKind) -> Option<Zone> {
    let told = |page: &SetPage| page.heads.iter().find_map(|head| zone_kind(head));
    let named: Vec<usize> = (0..pages.len()).filter(|at| told(&pages[*at]) == Some(kind)).collect();
    let run = named.chunk_by(|one, next| next - one <= 2).max_by_key(|run| run.len())?;
    let (first, last) = (*run.first()?, *run.last()?);
    // The page behind the last one named has the book's title for its head, if it is no other part's.
    let behind = last + 1 < pages.len() && told(&pages[last + 1]).is_none();
    let on = |block: &Block| block.lines.first().map_or(0, |line| line.page as usize).saturating_sub(1);
    let start = blocks.iter().position(|block| on(block) >= first)?;
    let end = blocks.iter().position(|block| on(block) > last + usize::from(behind)).unwrap_or(blocks.len());
    let fits = run.len() >= LEAST_HEADS
        && start < end
        && (kind != ZoneKind::Glossary || reads_like_glossary(&blocks[start..end]));
    fits.then_some(Zone { kind, blocks: start..end, first: First::Text })
}

fn headed_zones(blocks: &[Block], body_size: f32) -> Vec<Zone> {
    let heads: Vec<(usize, Option<ZoneKind>, Look, f32)> = (0..blocks.len())
        .filter(|at| blocks[*at].kind == BlockKind::Flow)
        .filter_map(|at| {
            let block = &blocks[at];
            let seen = look::look(block, body_size);
            let composed = compose(&block.lines);
            let plain = composed.str();
            let heading = seen.stands_out() && plain.chars().count() < 90 && !ends_in_page(block, plain);
            heading.then(|| (at, zone_kind(plain), seen, size(block)))
        })
        .collect();
    let mut zones: Vec<Zone> = Vec::new();
    for (number, (at, kind, seen, head_size)) in heads.iter().enumerate() {
        let Some(kind) = kind else { continue };
        if *kind == ZoneKind::Glossary && !reads_like_glossary(&blocks[at + 1..]) {
            continue;
        }
        let ends = |other: &(usize, Option<ZoneKind>, Look, f32)| {
            other.1.is_some_and(|next| next != *kind) || same_level(*seen, *head_size, other.2, other.3)
        };
        // A title may run over several headings: "Glossary", "combined with an index".
        let title = heads[number..]
            .windows(2)
            .take_while(|pair| *kind == ZoneKind::Glossary && pair[1].0 == pair[0].0 + 1)
            .count();
        let end = heads[number + 1 + title..]
            .iter()
            .find(|other| ends(other))
            .map_or(blocks.len(), |other| other.0);
        if zones.last().is_none_or(|last| last.blocks.end <= *at) {
            zones.push(Zone { kind: *kind, blocks: *at..end, first: First::Heading });
        }
    }
    zones
}

fn zone_kind(plain: &str) -> Option<ZoneKind> {
    if words::is_glossary(plain) {
        return Some(ZoneKind::Glossary);
    }
    if words::is_key_title(plain)
        && !plain.to_lowercase().contains("index")
        && !plain.to_lowercase().contains("how")
    {
        return None;
    }
    words::matter_kind(plain).map(ZoneKind::Matter)
}

fn same_level(one: Look, one_size: f32, other: Look, other_size: f32) -> bool {
    other_size >= one_size - 0.3
        && other.centred == one.centred
        && other.bold == one.bold
        && (other.capitals == one.capitals || other_size > one_size + 0.3)
}

fn size(block: &Block) -> f32 {
    block.lines.iter().map(|line| line.size).fold(0.0, f32::max)
}

fn ends_in_page(block: &Block, plain: &str) -> bool {
    let after = plain.rsplit_once(' ').map_or("", |(_, last)| last);
    let number = !after.is_empty() && after.chars().all(|c| c.is_ascii_digit());
    number
        && block.lines.last().is_some_and(|line| {
            line.runs.len() > 1
                && line.runs.last().is_some_and(|run| {
                    matches!(run.before, crate::layout::Gap::Leader | crate::layout::Gap::Wide)
                })
        })
        || is_page_reference(plain)
}

fn reads_like_glossary(after: &[Block]) -> bool {
    let flow = after.iter().filter(|block| block.kind == BlockKind::Flow).take(GLOSSARY_PROBE);
    !super::glossary::entries(&flow.cloned().collect::<Vec<_>>(), GlossaryLook::default()).is_empty()
}

/// Gathers what `taken` leaves over, under the headings that stand over it.
pub(crate) fn matter(
    blocks: &[Block],
    taken: &dyn Fn(usize) -> bool,
    zones: &[Zone],
    body_size: f32,
) -> Vec<Matter> {
    let mut pieces: Vec<Matter> = Vec::new();
    let mut open = false;
    for (at, block) in blocks.iter().enumerate() {
        if taken(at) {
            open = false;
            continue;
        }
        let text = compose(&block.lines).text;
        if text.is_empty() {
            continue;
        }
        let zone = zones.iter().find(|zone| zone.blocks.contains(&at));
        let begins = zone.map_or_else(
            || look::look(block, body_size).stands_out() && block.kind == BlockKind::Flow,
            |zone| zone.blocks.start == at && zone.first == First::Heading,
        );
        if begins || !open {
            pieces.push(piece(&text, zone, pieces.len(), begins));
            open = true;
        }
        if !begins && let Some(last) = pieces.last_mut() {
            last.pages.1 = last.pages.1.max(text.last_page());
            last.paragraphs.push(text);
        }
    }
    pieces
}

fn piece(text: &Text, zone: Option<&Zone>, at: usize, heading: bool) -> Matter {
    let kind = match zone.map(|zone| zone.kind) {
        Some(ZoneKind::Matter(kind)) => kind,
        Some(ZoneKind::Glossary) | None => MatterKind::Other,
    };
    let title = if heading { text.plain.clone() } else { String::new() };
    let pages: (Page, Page) = (text.page(), text.last_page());
    Matter { id: MatterId(at as u32), kind, title, pages, paragraphs: Vec::new() }
}
