//! Blocks in, raw keys out: labels, characters and printed targets, lead by lead. Targets are resolved elsewhere.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::layout::{Block, BlockKind, Gap, Line, Run};
use crate::model::Text;
use crate::name;
use crate::parse::compose::{Composed, compose, is_set_right};
use crate::parse::profile::{KeyStyle, Layout, Steer};
use crate::parse::{look, words};

use super::grow::{Candidate, Fit, Growth, Outcome};
use super::label::{self, Label, Scheme, Series};
use super::statement::Source;
use super::target::{self, Hints, Named, Printed};
use super::{double, first, jump, once, outline, rows, serial, signs, synopsis, title, vernacular};

pub(crate) use super::raw::{RawCouplet, RawKey, RawLead};

/// Blocks without a label in a row after which a key is over.
const MOST_WITHOUT_LABEL: usize = 3;
/// Points by which a lead's further lines hang at least.
const HANGING: f32 = 2.0;
/// Points by which the further lines of a lead may differ in indent.
const ALIKE: f32 = 1.0;
/// Points of white space at most after a line that is flush right.
const FLUSH: f32 = 3.0;
/// Lines of the longest remark in a key that has hardly begun.
const LONGEST_REMARK: usize = 3;
/// Share of couplets that must have found a rival, else it was no key.
const RIVALS_SHARE: f32 = 0.6;
/// Share of leads that must print a target or be followed by a deeper couplet.
const TARGET_SHARE: f32 = 0.3;

/// Reads all keys of a book.
pub(crate) fn keys(blocks: &[Block], known: &BTreeSet<String>, body_size: f32, steer: &Steer) -> Vec<RawKey> {
    let mut keys = Vec::new();
    let mut at = 0;
    let book = Book { known, body_size, vernacular: vernacular::is_convention(blocks) };
    while at < blocks.len() {
        let source = Source {
            blocks,
            known,
            body_size,
            runs_on: keys.last().and_then(next_number),
            vernacular: book.vernacular,
        };
        let style = steer.key_at(blocks, at);
        match key_of_any_layout(&source, at, &style) {
            Some(key) => {
                at = key.blocks.end.max(at + 1);
                keys.push(key);
            }
            None => at += 1,
        }
    }
    keys
}

/// What is known of the whole book.
#[derive(Clone, Copy)]
struct Book<'a> {
    known: &'a BTreeSet<String>,
    body_size: f32,
    vernacular: bool,
}

/// Reads the key at a block with the first layout that takes it; those that need the surest signs come first.
fn key_of_any_layout(source: &Source<'_>, at: usize, style: &KeyStyle) -> Option<RawKey> {
    source.blocks.get(at).filter(|block| block.kind == BlockKind::Flow)?;
    // What the reader says of the key goes before its own signs.
    let said = (*style != KeyStyle::default()).then(|| key_at(source, at, style)).flatten();
    said.or_else(|| serial::read(source, at))
        .or_else(|| jump::read(source, at))
        .or_else(|| signs::read(source, at))
        .or_else(|| once::read(source, at))
        .or_else(|| synopsis::read(source, at))
        .or_else(|| outline::read(source, at))
        .or_else(|| key_at(source, at, style))
}

/// The number after the highest of a key.
fn next_number(key: &RawKey) -> Option<u32> {
    let numbers = key.couplets.iter().filter_map(|couplet| match couplet.series {
        Series::Number(number) => Some(number),
        Series::Letter(_) | Series::Bullet | Series::Dash => None,
    });
    numbers.max().map(|highest| highest + 1)
}

fn key_at(source: &Source<'_>, start: usize, style: &KeyStyle) -> Option<RawKey> {
    let Source { blocks, known, body_size, vernacular, .. } = *source;
    let first = blocks.get(start).filter(|block| block.kind == BlockKind::Flow)?;
    let composed = compose(&first.lines[..1]);
    let book = Book { known, body_size, vernacular };
    let style = style.clone();
    let mut reader = Reader { book, style, growth: Growth::default(), leads: Vec::new(), idle: 0 };
    if title::above(blocks, start, body_size).is_some() {
        reader.growth.run_on(source.runs_on);
    }
    let mut end = start;
    let mut fits = |label: &Label| reader.fit(label, &composed, &first.lines[0]).is_some();
    let begins = label::read(composed.str()).is_some_and(|label| fits(&label))
        || label::misread(composed.str()).is_some_and(|label| fits(&label));
    if !begins {
        title::above(blocks, start, body_size)?;
        let (label, indent) = first::lost(&blocks[start..])?;
        reader.open(label, indent, first);
        end += 1;
    }
    while let Some(block) = blocks.get(end) {
        if block.kind == BlockKind::Flow
            && !title::is_side_number(block)
            && !reader.block(block)
            && !reader.is_side_heading(&blocks[end..])
        {
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
    book: Book<'a>,
    style: KeyStyle,
    growth: Growth,
    leads: Vec<(Label, Vec<Line>)>,
    idle: usize,
}

impl Reader<'_> {
    /// Takes a block whose label is known otherwise as the first lead.
    fn open(&mut self, label: Label, indent: f32, block: &Block) {
        let candidate = Candidate { label: &label, indent, heading: false };
        self.growth.take(&candidate, Fit::Opens);
        self.leads.push((label, block.lines.clone()));
    }

    /// Takes a block's lines; `false` when the key ended before it.
    fn block(&mut self, block: &Block) -> bool {
        for (number, line) in block.lines.iter().enumerate() {
            let composed = compose([line]);
            let set_right = is_set_right(line) && names_something(composed.str()) || self.is_flush_name(line);
            let is_target = !self.leads.is_empty() && (set_right || self.is_dashed_target(composed.str()));
            if !is_target
                && let Some((label, fit)) = self.label(&composed, line, number == 0)
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

    /// Says whether a short line stands between leads: below it comes a couplet that a lead above calls for (K36).
    fn is_side_heading(&self, blocks: &[Block]) -> bool {
        let mut flow = blocks.iter().filter(|block| block.kind == BlockKind::Flow);
        let (Some(heading), Some(next)) = (flow.next(), flow.next()) else { return false };
        let composed = compose(&next.lines[..1]);
        let called = label::read(composed.str()).is_some_and(|label| match label.series {
            Series::Number(number) => self.growth.awaits(number),
            Series::Letter(_) | Series::Bullet | Series::Dash => false,
        });
        called && heading.lines.len() <= LONGEST_REMARK
    }

    /// Reads the label that a line opens with, or mends it, if it fits.
    fn label(&mut self, composed: &Composed, line: &Line, opens_block: bool) -> Option<(Label, Fit)> {
        let read = label::read(composed.str());
        if let Some(label) = read
            && let Some(fit) = self.fit(&label, composed, line)
        {
            return Some((label, fit));
        }
        // Letters stand for figures in numbered keys alone.
        let numbered = self.leads.is_empty() || self.growth.has_numbers();
        if numbered
            && let Some(label) = label::misread(composed.str())
            && let Some(fit) = self.fit(&label, composed, line)
        {
            return Some((label, fit));
        }
        self.settle();
        let label = self
            .growth
            .mend(composed.str(), line.indent)
            .or_else(|| opens_block.then(|| self.lost(composed, line)).flatten())?;
        let fit = self.fit(&label, composed, line)?;
        Some((label, fit))
    }

    /// The label that a block without one must have had (K18): it begins a sentence where the words of a lead that the
    /// key awaits begin.
    fn lost(&self, composed: &Composed, line: &Line) -> Option<Label> {
        let (_, lines) = self.leads.iter().rev().find(|(label, lines)| {
            label.len > 0
                && lines
                    .get(1)
                    .is_some_and(|next| next.column == lines[0].column && next.page == lines[0].page)
        })?;
        let begins = composed.str().trim_start_matches(['‘', '“']).starts_with(char::is_uppercase);
        let set = is_set_right(line) || target::cites_at_end(composed.str());
        (begins && !set).then(|| self.growth.lost(line.indent, lines[1].indent - lines[0].indent)).flatten()
    }

    fn fit(&mut self, label: &Label, composed: &Composed, line: &Line) -> Option<Fit> {
        self.settle();
        if !self.style.allows(label) {
            return None;
        }
        let rest = &composed.str()[label.len..];
        let heading = name::parse(rest).is_some_and(|parsed| {
            self.book.known.contains(&name::fold(&parsed.name)) && words::section_kind(&parsed.name).is_none()
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
        waits && words.strip_prefix('—').is_some_and(|rest| target::is_sure(rest.trim(), self.book.known))
    }

    /// A name too long to stand far from the left: in a type of its own, flush right, and deeper than the lead that
    /// waits for it hangs or without a word in the lead's type (K25).
    fn is_flush_name(&self, line: &Line) -> bool {
        let Some((_, lines)) = self.leads.last() else { return false };
        let Some(body) = lines[0].runs.iter().find(|run| rows::has_words(run)).map(|run| run.style) else {
            return false;
        };
        let composed = compose([line]);
        let mut words = line.runs.iter().filter(|run| has_letters(run));
        let opens = words.clone().next().is_some_and(|run| run.style != body);
        let same_column = |other: &&Line| other.page == line.page && other.column == line.column;
        let hang = lines.iter().filter(same_column).map(|other| other.indent).fold(0.0, f32::max);
        let set_apart = opens
            && (line.indent > hang || words.all(|run| run.style != body))
            && names_something(composed.str());
        line.room < FLUSH && set_apart && self.awaits()
    }

    /// Says whether the last lead may still get its target: it has none, or only a number among its own words.
    fn awaits(&self) -> bool {
        let Some((label, lines)) = self.leads.last() else { return false };
        let composed = rows::lead(lines);
        let (start, printed) = self.printed(self.leads.len() - 1, label, &composed);
        let own = composed.chunks.iter().all(|chunk| chunk.start != start || chunk.before == Gap::Space)
            && !composed.str()[..start].ends_with(['—', '–', '→']);
        printed.words.is_empty() || own && printed.words.bytes().all(|b| b.is_ascii_digit())
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
            let right = is_set_right(line) && !self.growth.last_has_target() || self.is_flush_name(line);
            return right || self.remark(block);
        };
        let hangs = line.indent > label.indent + HANGING;
        if !hangs {
            self.idle += 1;
        }
        let seen = look::look(block, self.book.body_size);
        let leader = line.runs.first().is_some_and(|run| run.before == Gap::Leader);
        let cited = hangs && line.room < FLUSH && target::cites_at_end(compose([line]).str());
        let right =
            (is_set_right(line) || cited) && !self.growth.last_has_target() || self.is_flush_name(line);
        let dashed = self.is_dashed_target(compose([line]).str());
        if leader || dashed || right {
            return true;
        }
        let heavy = seen.short && (seen.bold || seen.larger);
        if hangs && !heavy && (seen.goes_on || !self.growth.complete()) {
            let alike = lines.iter().skip(1).any(|other| (other.indent - line.indent).abs() < ALIKE);
            return alike || !seen.centred || seen.goes_on || !self.growth.last_has_target();
        }
        self.remark(block)
    }

    fn remark(&self, block: &Block) -> bool {
        let seen = look::look(block, self.book.body_size);
        let paragraph = block.lines.len() > LONGEST_REMARK && self.growth.last_has_target();
        let hardly_begun = self.growth.couplets().len() <= 1;
        let over = self.growth.complete() || self.idle > MOST_WITHOUT_LABEL || paragraph && hardly_begun;
        !over && !seen.stands_out()
    }

    fn settle(&mut self) {
        let Some((label, lines)) = self.leads.last() else { return };
        let composed = rows::lead(lines);
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
        let Book { known, vernacular, .. } = self.book;
        let hints = Hints { couplet, numbered: self.growth.numbered(), vernacular, known };
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
                let composed = rows::lead(lines);
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
        let (title, from) = match title::above(blocks, start, self.book.body_size) {
            Some((title, count)) => (Some(title), start - count),
            None => (None, start),
        };
        let couplets = couplets
            .iter()
            .map(|couplet| RawCouplet { series: couplet.series, leads: couplet.leads.clone() })
            .collect();
        let (mut leads, couplets) = (leads, double::part(couplets, &|number| self.growth.awaits(number)));
        couplets.odd.iter().for_each(|lead| leads[*lead].odd = true);
        let couplets = couplets.couplets;
        Some(RawKey { title, leads, couplets, blocks: from..end })
    }
}

fn has_letters(run: &Run) -> bool {
    run.text.chars().any(char::is_alphabetic)
}

/// Says whether words name a taxon, a key or a couplet and nothing else.
pub(super) fn names_something(words: &str) -> bool {
    let named = target::read(words).named;
    !named.is_empty() && !named.iter().any(|named| matches!(named, Named::Other(_)))
}

/// Returns where the words before `end` end without footnote marks.
pub(super) fn without_raised(composed: &Composed, end: usize) -> usize {
    let before = composed.chunks.iter().rev().skip_while(|chunk| chunk.start >= end);
    before.take_while(|chunk| chunk.style.raised).last().map_or(end, |chunk| chunk.start)
}

/// The characters of a lead: without leaders, dashes or a stop that stands before the target.
pub(super) fn characters(composed: &Composed, range: Range<usize>) -> Text {
    let plain = composed.str();
    let end = without_raised(composed, range.end);
    let range = range.start.min(end)..end;
    let words = &plain[range.clone()];
    let trimmed =
        words.trim_end_matches(|c: char| c.is_whitespace() || matches!(c, '—' | '–' | '―' | '→' | '…' | '·'));
    let bare = trimmed.trim_end_matches(['.', ' ']);
    let led = trimmed.len() - bare.len() > 1;
    let trimmed = if led { bare } else { trimmed };
    composed.text.slice(range.start..range.start + trimmed.len())
}
