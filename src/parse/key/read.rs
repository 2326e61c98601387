//! Blocks in, raw keys out: labels, characters and printed targets, lead by lead. Targets are resolved elsewhere.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::layout::{Block, BlockKind, Gap, Line};
use crate::model::Text;
use crate::name;
use crate::parse::compose::{Composed, compose, is_set_right};
use crate::parse::profile::{KeyStyle, Layout, Steer};
use crate::parse::{look, words};

use super::grow::{Candidate, Fit, Growth, Outcome};
use super::label::{self, Label, Scheme, Series};
use super::target::{self, Hints, Named, Printed};

/// A lead as printed.
#[derive(Clone, Debug)]
pub(crate) struct RawLead {
    /// Its label.
    pub(crate) label: Label,
    /// The characters alone.
    pub(crate) text: Text,
    /// What it leads to as printed.
    pub(crate) target: Printed,
    /// Whether its label was mended by its neighbours.
    pub(crate) odd: bool,
}

/// A key as printed.
#[derive(Clone, Debug)]
pub(crate) struct RawKey {
    /// Its title.
    pub(crate) title: Option<Text>,
    /// The leads in the order of the book.
    pub(crate) leads: Vec<RawLead>,
    /// The couplets: positions of their leads.
    pub(crate) couplets: Vec<RawCouplet>,
    /// The blocks that it takes up, title included.
    pub(crate) blocks: Range<usize>,
}

/// A couplet as printed.
#[derive(Clone, Debug)]
pub(crate) struct RawCouplet {
    /// What its leads share.
    pub(crate) series: Series,
    /// Positions of its leads in the key.
    pub(crate) leads: Vec<usize>,
}

/// Blocks without a label in a row after which a key is over.
const MOST_WITHOUT_LABEL: usize = 3;
/// Points by which a lead's further lines hang at least.
const HANGING: f32 = 2.0;
/// Lines of the longest remark in a key that has hardly begun.
const LONGEST_REMARK: usize = 3;
/// Blocks that a title runs over at most.
const LONGEST_TITLE: usize = 3;
/// Bytes of a title that need not stand out by its type.
const SHORT_TITLE: usize = 80;
/// Share of couplets that must have found a rival, else it was no key.
const RIVALS_SHARE: f32 = 0.6;
/// Share of leads that must print a target or be followed by a deeper couplet.
const TARGET_SHARE: f32 = 0.3;

/// Reads all keys of a book.
pub(crate) fn keys(blocks: &[Block], known: &BTreeSet<String>, body_size: f32, steer: &Steer) -> Vec<RawKey> {
    let mut keys = Vec::new();
    let mut at = 0;
    while at < blocks.len() {
        let style = steer.key_at(blocks, at);
        match key_at(blocks, at, known, (body_size, style)) {
            Some(key) => {
                at = key.blocks.end.max(at + 1);
                keys.push(key);
            }
            None => at += 1,
        }
    }
    keys
}

fn key_at(
    blocks: &[Block],
    start: usize,
    known: &BTreeSet<String>,
    (body_size, style): (f32, KeyStyle),
) -> Option<RawKey> {
    let first = blocks.get(start).filter(|block| block.kind == BlockKind::Flow)?;
    let composed = compose(&first.lines[..1]);
    let label = label::read(composed.str())?;
    let mut reader =
        Reader { known, body_size, style, growth: Growth::default(), leads: Vec::new(), idle: 0 };
    reader.fit(&label, &composed, &first.lines[0])?;
    let mut end = start;
    while let Some(block) = blocks.get(end) {
        if block.kind == BlockKind::Flow && !reader.block(block) {
            break;
        }
        end += 1;
    }
    let end = end - trailing_asides(&blocks[start..end]);
    reader.finish(blocks, start, end)
}

fn trailing_asides(blocks: &[Block]) -> usize {
    blocks.iter().rev().take_while(|block| block.kind == BlockKind::Aside).count()
}

struct Reader<'a> {
    known: &'a BTreeSet<String>,
    body_size: f32,
    style: KeyStyle,
    growth: Growth,
    leads: Vec<(Label, Vec<Line>)>,
    idle: usize,
}

impl Reader<'_> {
    /// Takes a block's lines; `false` when the key ended before it.
    fn block(&mut self, block: &Block) -> bool {
        for (number, line) in block.lines.iter().enumerate() {
            let composed = compose([line]);
            let set_right = is_set_right(line) && names_something(composed.str());
            let is_target = !self.leads.is_empty() && (set_right || self.is_dashed_target(composed.str()));
            if !is_target
                && let Some(label) = label::read(composed.str())
                && let Some(fit) = self.fit(&label, &composed, line)
                && (number == 0 || self.starts_lead(&label, line))
            {
                let candidate = Candidate { label: &label, indent: line.indent, heading: false };
                self.growth.take(&candidate, fit);
                self.leads.push((label, vec![line.clone()]));
                self.idle = 0;
                continue;
            }
            if number == 0 && !self.goes_on(block) {
                return false;
            }
            if let Some((_, lines)) = self.leads.last_mut() {
                lines.push(line.clone());
            }
        }
        true
    }

    fn fit(&mut self, label: &Label, composed: &Composed, line: &Line) -> Option<Fit> {
        self.settle();
        if !self.style.allows(label) {
            return None;
        }
        let rest = &composed.str()[label.len..];
        let heading = name::parse(rest).is_some_and(|parsed| {
            self.known.contains(&name::fold(&parsed.name)) && words::section_kind(&parsed.name).is_none()
        }) || words::connecting_term(rest.split(' ').next().unwrap_or_default()).is_some();
        if heading && self.leads.is_empty() {
            return None;
        }
        if let Some((first, lines)) = self.leads.first() {
            let capital =
                |words: &str| words.chars().find(|c| c.is_alphabetic()).is_some_and(char::is_uppercase);
            let opening = compose(&lines[..1]);
            if capital(&opening.str()[first.len..]) && !capital(rest) && rest.starts_with(char::is_alphabetic)
            {
                return None;
            }
        }
        self.growth.fit(&Candidate { label, indent: line.indent, heading })
    }

    /// A long dash at the start of a line may be the one between a lead and its target.
    fn is_dashed_target(&self, words: &str) -> bool {
        let waits = !self.growth.last_has_target();
        waits && words.strip_prefix('—').is_some_and(|rest| target::is_sure(rest.trim(), self.known))
    }

    /// Inside a block a line opens a lead only where it does not hang: no further right than the lead's own words.
    fn starts_lead(&self, label: &Label, line: &Line) -> bool {
        let Some((_, lines)) = self.leads.last() else { return true };
        let hang = lines
            .iter()
            .skip(1)
            .filter(|other| other.page == line.page && other.column == line.column)
            .map(|other| other.indent);
        let hang = hang.fold(f32::INFINITY, f32::min);
        let sure = label.scheme != Scheme::Dash;
        sure && (line.indent < hang + 1.0 || !hang.is_finite()) || line.indent < hang - 1.0
    }

    /// Says whether a block without a label still belongs to the key: it hangs under its lead, or holds a target on a
    /// line of its own, or is a short remark in a key that is not complete.
    fn goes_on(&mut self, block: &Block) -> bool {
        self.settle();
        let (Some((_, lines)), Some(line)) = (self.leads.last(), block.lines.first()) else { return false };
        let Some(label) = lines
            .last()
            .filter(|last| last.page == line.page && last.column == line.column)
            .and(lines.first())
        else {
            // At the top of a column or page the lead goes on unless it was the last.
            return is_set_right(line) && !self.growth.last_has_target() || self.remark(block);
        };
        let hangs = line.indent > label.indent + HANGING;
        if !hangs {
            self.idle += 1;
        }
        let seen = look::look(block, self.body_size);
        let leader = line.runs.first().is_some_and(|run| run.before == Gap::Leader);
        let right = is_set_right(line);
        let dashed = self.is_dashed_target(compose([line]).str());
        if leader || dashed || right && !self.growth.last_has_target() {
            return true;
        }
        if hangs && !self.growth.complete() && !(seen.short && (seen.bold || seen.larger)) {
            return !seen.centred || seen.goes_on || !self.growth.last_has_target();
        }
        self.remark(block)
    }

    fn remark(&self, block: &Block) -> bool {
        let seen = look::look(block, self.body_size);
        let paragraph = block.lines.len() > LONGEST_REMARK && self.growth.last_has_target();
        let hardly_begun = self.growth.couplets().len() <= 1;
        let over = self.growth.complete() || self.idle > MOST_WITHOUT_LABEL || paragraph && hardly_begun;
        !over && !seen.stands_out()
    }

    fn settle(&mut self) {
        let Some((label, lines)) = self.leads.last() else { return };
        let composed = compose(lines);
        let printed = self.printed(self.leads.len() - 1, label, &composed).1;
        let indented = self.style.layout == Some(Layout::Indented);
        let numbers = if indented || matches!(label.series, Series::Letter(_) | Series::Bullet) {
            Vec::new()
        } else {
            printed
                .named
                .iter()
                .filter_map(|named| if let Named::Number(number) = named { Some(*number) } else { None })
                .collect()
        };
        self.growth.settle(Outcome { numbers, has_target: !printed.words.is_empty() });
    }

    fn printed(&self, lead: usize, label: &Label, composed: &Composed) -> (usize, Printed) {
        let couplet = match label.series {
            Series::Number(number) => Some(number),
            Series::Dash => self.growth.number_of(lead),
            Series::Letter(_) | Series::Bullet => None,
        };
        let hints = Hints { couplet, numbered: self.growth.numbered(), known: self.known };
        match self.style.start(composed, label.len, &hints) {
            Some(start) => (start, target::read(&composed.str()[start..])),
            None => (composed.str().len(), Printed::default()),
        }
    }

    fn finish(mut self, blocks: &[Block], start: usize, end: usize) -> Option<RawKey> {
        self.settle();
        let couplets = self.growth.couplets();
        let paired = couplets.iter().filter(|couplet| couplet.leads.len() > 1).count();
        let leads: Vec<RawLead> = self
            .leads
            .iter()
            .enumerate()
            .map(|(at, (label, lines))| {
                let composed = compose(lines);
                let (target_start, target) = self.printed(at, label, &composed);
                let text = characters(&composed, label.len..target_start);
                RawLead { label: label.clone(), text, target, odd: self.growth.odd().contains(&at) }
            })
            .collect();
        let with_target = leads.iter().filter(|lead| !lead.target.words.is_empty()).count();
        let is_key = couplets.first().is_some_and(|first| first.leads.len() > 1)
            && paired as f32 >= couplets.len() as f32 * RIVALS_SHARE
            && with_target as f32 >= leads.len() as f32 * TARGET_SHARE;
        if !is_key {
            return None;
        }
        let (title, from) = match self.title(blocks, start) {
            Some((title, count)) => (Some(title), start - count),
            None => (None, start),
        };
        let couplets = couplets
            .iter()
            .map(|couplet| RawCouplet { series: couplet.series, leads: couplet.leads.clone() })
            .collect();
        Some(RawKey { title, leads, couplets, blocks: from..end })
    }

    /// Finds the title in the block before the key, or in the two before it where it runs over; gives the blocks taken.
    fn title(&self, blocks: &[Block], start: usize) -> Option<(Text, usize)> {
        (1..=LONGEST_TITLE.min(start)).find_map(|count| {
            let above = &blocks[start - count..start];
            let seen: Vec<look::Look> = above.iter().map(|block| look::look(block, self.body_size)).collect();
            let alike = seen
                .iter()
                .all(|one| one.short && (count == 1 || one.bold == seen[0].bold && one.stands_out()));
            let composed = compose(above.iter().flat_map(|block| &block.lines));
            let is_title = alike
                && words::is_key_title(&compose(&above[0].lines).text.plain)
                && (seen[0].stands_out()
                    || composed.str().len() < SHORT_TITLE && !composed.str().ends_with('.'))
                && above.iter().all(|block| block.kind == BlockKind::Flow);
            is_title.then(|| (without_raised(&composed), count))
        })
    }
}

/// Says whether words name a taxon, a key or a couplet and nothing else.
fn names_something(words: &str) -> bool {
    let named = target::read(words).named;
    !named.is_empty() && !named.iter().any(|named| matches!(named, Named::Other(_)))
}

/// Returns a composed text without footnote marks at its end.
fn without_raised(composed: &Composed) -> Text {
    let end = composed
        .chunks
        .iter()
        .rev()
        .take_while(|chunk| chunk.style.raised)
        .last()
        .map_or(composed.str().len(), |chunk| chunk.start);
    composed.text.slice(0..end)
}

/// The characters of a lead: without leaders, dashes or a stop that stands before the target.
fn characters(composed: &Composed, range: Range<usize>) -> Text {
    let plain = composed.str();
    let words = &plain[range.start.min(range.end)..range.end];
    let trimmed =
        words.trim_end_matches(|c: char| c.is_whitespace() || matches!(c, '—' | '–' | '―' | '→' | '…' | '·'));
    let bare = trimmed.trim_end_matches(['.', ' ']);
    let led = trimmed.len() - bare.len() > 1;
    let trimmed = if led { bare } else { trimmed };
    composed.text.slice(range.start.min(range.end)..range.start.min(range.end) + trimmed.len())
}
