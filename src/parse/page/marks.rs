//! What each line of the book was read as: headings, leads, entries, sections, titles, asides. Where it stands on its page
//! is not known here.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::layout::{Block, BlockKind, Line};
use crate::model::{CoupletId, EntryId, KeyId, ReadAs, TaxonId};
use crate::parse::compose::{Composed, compose};
use crate::parse::key::label::{self, Scheme};
use crate::parse::key::read::{RawKey, RawLead};
use crate::parse::matter::ZoneKind;

use super::Read;

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Mark {
    /// The letters of it, counted without blanks.
    pub(super) letters: Range<usize>,
    /// What it was read as.
    pub(super) read_as: ReadAs,
}

/// Letters by which the first line of a lead is known again.
const KNOWN_BY: usize = 16;
/// Leads or entries looked at beyond the next one, as the line that opens one may not be known again.
const AHEAD: usize = 5;
/// Points by which the further lines of an entry hang at least.
const HANGING: f32 = 2.5;
/// All letters of a line.
const WHOLE: Range<usize> = 0..usize::MAX;

/// Returns the marks of every line that has some; lines are counted through all blocks.
pub(super) fn find(read: &Read) -> BTreeMap<usize, Vec<Mark>> {
    let mut first = Vec::with_capacity(read.blocks.len());
    let mut lines = 0;
    for block in read.blocks {
        first.push(lines);
        lines += block.lines.len();
    }
    let mut finder = Finder { read, first, marks: BTreeMap::new() };
    finder.asides();
    for (at, key) in read.keys.iter().enumerate() {
        finder.key(KeyId(at as u32), key);
    }
    finder.headings();
    finder.glossary();
    finder.matter();
    finder.marks
}

struct Finder<'a> {
    read: &'a Read<'a>,
    /// Number of the first line of each block.
    first: Vec<usize>,
    marks: BTreeMap<usize, Vec<Mark>>,
}

impl<'a> Finder<'a> {
    fn mark(&mut self, line: usize, letters: Range<usize>, read_as: ReadAs) {
        self.marks.entry(line).or_default().push(Mark { letters, read_as });
    }

    fn mark_block(&mut self, block: usize, read_as: ReadAs) {
        for line in 0..self.read.blocks[block].lines.len() {
            self.mark(self.first[block] + line, WHOLE, read_as);
        }
    }

    /// Returns the lines of the running text in some blocks, each with its number and its place in its block.
    fn lines(&self, blocks: Range<usize>) -> Vec<(usize, usize, &'a Line)> {
        let flow = |at: &usize| self.read.blocks[*at].kind == BlockKind::Flow;
        let lines = blocks.filter(flow).flat_map(|at| {
            let lines = self.read.blocks[at].lines.iter().enumerate();
            lines.map(move |(number, line)| (self.first[at] + number, number, line))
        });
        lines.collect()
    }

    fn asides(&mut self) {
        for at in 0..self.read.blocks.len() {
            if self.read.blocks[at].kind == BlockKind::Aside {
                self.mark_block(at, ReadAs::Aside);
            }
        }
    }

    /// Marks a key's title and its leads: each from the line that opens it up to the next one.
    fn key(&mut self, id: KeyId, key: &RawKey) {
        let homes = homes(key);
        let mut lead: Option<usize> = None;
        for (number, _, line) in self.lines(key.blocks.clone()) {
            let next = lead.map_or(0, |lead| lead + 1);
            let ahead = key.leads.iter().enumerate().skip(next).take(AHEAD);
            lead = ahead.into_iter().find(|(_, lead)| opens(line, lead)).map(|(at, _)| at).or(lead);
            match lead.and_then(|lead| homes.get(&lead)) {
                Some((couplet, at)) => self.mark(number, WHOLE, ReadAs::Lead(id, *couplet, *at)),
                None if key.title.is_some() && lead.is_none() => {
                    self.mark(number, WHOLE, ReadAs::KeyTitle(id));
                }
                None => {}
            }
        }
    }

    /// Marks the headings of taxa, and the headings of the sections below them.
    fn headings(&mut self) {
        for (number, heading) in self.read.headings.iter().enumerate() {
            let Some((_, taxon)) = self.read.heading_blocks.iter().find(|(block, _)| *block == heading.block)
            else {
                continue;
            };
            let composed = compose(&self.read.blocks[heading.block].lines);
            self.mark_bytes(heading.block, (&composed, 0..heading.end), ReadAs::Heading(*taxon));
            let next = self.read.headings.get(number + 1).map_or(self.read.blocks.len(), |next| next.block);
            let end = (heading.block + 1..next).find(|at| (self.read.stops)(*at)).unwrap_or(next);
            self.sections(heading.block..end, *taxon);
        }
    }

    /// Marks part of a block line by line.
    fn mark_bytes(&mut self, block: usize, (composed, part): (&Composed, Range<usize>), read_as: ReadAs) {
        let lines = self.read.blocks[block].lines.iter().enumerate();
        let worded = lines.filter(|(_, line)| line.runs.iter().any(|run| !run.text.is_empty()));
        for ((number, _), (at, first)) in worded.zip(composed.lines.iter().enumerate()) {
            let behind = composed.lines.get(at + 1).copied().unwrap_or(composed.str().len());
            let start = part.start.max(*first);
            let words =
                |range: Range<usize>| composed.str().get(range).map_or(0, |words| squeezed(words).count());
            let (before, letters) = (words(*first..start), words(start..part.end.min(behind)));
            if letters > 0 {
                self.mark(self.first[block] + number, before..before + letters, read_as);
            }
        }
    }

    fn sections(&mut self, blocks: Range<usize>, taxon: TaxonId) {
        let sections = self.read.taxa.get(taxon.index()).map_or(&[][..], |taxon| &taxon.sections);
        let headed = sections.iter().enumerate();
        let headed: Vec<(u32, &str)> =
            headed.filter_map(|(at, section)| Some((at as u32, section.heading.as_deref()?))).collect();
        let mut next = 0;
        for block in blocks.filter(|at| self.read.blocks[*at].kind == BlockKind::Flow) {
            let composed = compose(&self.read.blocks[block].lines);
            let mut from = 0;
            while let Some((at, start)) = section_in(composed.str(), from, &headed[next.min(headed.len())..])
            {
                let (section, heading) = headed[next + at];
                from = start + heading.len();
                next += at + 1;
                self.mark_bytes(block, (&composed, start..from), ReadAs::Section(taxon, section));
            }
        }
    }

    /// Marks the heading of the glossary and the headwords of its entries.
    fn glossary(&mut self) {
        let mut next = 0;
        for zone in self.read.zones.iter().filter(|zone| zone.kind == ZoneKind::Glossary) {
            self.mark_block(zone.blocks.start, ReadAs::Glossary);
            for (number, in_block, line) in self.lines(zone.blocks.start + 1..zone.blocks.end) {
                let typed = line
                    .runs
                    .first()
                    .is_some_and(|run| run.style.bold || run.style.italic || run.style.small_caps);
                if in_block > 0 && line.indent > HANGING && !typed {
                    continue;
                }
                let words = compose([line]);
                let ahead = self.read.glossary.iter().enumerate().skip(next).take(AHEAD);
                let opened = ahead.into_iter().find(|(_, entry)| has_headword(words.str(), &entry.term));
                if let Some((at, entry)) = opened {
                    self.mark(number, 0..squeezed(&entry.term).count(), ReadAs::Entry(EntryId(at as u32)));
                    next = at + 1;
                }
            }
        }
    }

    /// Marks the titles of other matter.
    fn matter(&mut self) {
        let mut pieces = self.read.matter.iter().filter(|piece| !piece.title.is_empty()).peekable();
        for (at, block) in self.read.blocks.iter().enumerate() {
            let Some(piece) = pieces.peek() else { return };
            if self.marks.contains_key(&self.first[at]) || !on_page(block, piece.pages.0.0) {
                continue;
            }
            if compose(&block.lines).str() == piece.title {
                let id = piece.id;
                pieces.next();
                self.mark_block(at, ReadAs::MatterTitle(id));
            }
        }
    }
}

fn on_page(block: &Block, page: u32) -> bool {
    block.lines.first().is_some_and(|line| line.page == page)
}

/// Returns the couplet of each lead, and which of its leads it is.
fn homes(key: &RawKey) -> BTreeMap<usize, (CoupletId, u32)> {
    let couplets = key.couplets.iter().enumerate().flat_map(|(couplet, leads)| {
        let leads = leads.leads.iter().enumerate();
        leads.map(move |(at, lead)| (*lead, (CoupletId(couplet as u32), at as u32)))
    });
    couplets.collect()
}

/// Says whether a line opens a lead: behind a label come the words that the lead begins with.
fn opens(line: &Line, lead: &RawLead) -> bool {
    let composed = compose([line]);
    let placed = matches!(
        lead.label.scheme,
        Scheme::Serial | Scheme::Jump | Scheme::Outline | Scheme::Coded | Scheme::Once | Scheme::Signs
    );
    let label = label::read(composed.str()).map(|label| (label.printed, label.len));
    let placed = placed.then(|| (lead.label.printed.clone(), lead.label.len));
    let Some((printed, len)) = placed.or(label) else { return false };
    let Some(words) = composed.str().get(len..) else { return false };
    let words = words.trim_end_matches(['-', '\u{ad}', '\u{2010}']);
    let found: Vec<char> = letters(words).take(KNOWN_BY).collect();
    if found.is_empty() {
        return printed == lead.label.printed;
    }
    let wanted: Vec<char> =
        letters(&lead.text.plain).chain(letters(&lead.target.words)).take(KNOWN_BY).collect();
    wanted.starts_with(&found)
}

fn letters(words: &str) -> impl Iterator<Item = char> {
    words.chars().filter(|letter| letter.is_alphanumeric())
}

fn squeezed(words: &str) -> impl Iterator<Item = char> {
    words.chars().filter(|letter| !letter.is_whitespace())
}

/// Says whether a text begins with a headword, and not with a longer word.
fn has_headword(words: &str, term: &str) -> bool {
    words.strip_prefix(term).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
}

/// Finds the first of these headings that stands in a text from a byte on, in capitals or with a mark behind it; gives
/// its place in the list and its first byte.
fn section_in(text: &str, from: usize, headings: &[(u32, &str)]) -> Option<(usize, usize)> {
    let stands = |heading: &str| {
        let rest = text.get(from..)?;
        let found = rest.match_indices(heading).map(|(at, _)| from + at).find(|at| {
            let before = text[..*at].chars().next_back();
            let after = text[at + heading.len()..].chars().next();
            before.is_none_or(char::is_whitespace)
                && (heading.ends_with(MARKS)
                    || !heading.contains(char::is_lowercase)
                    || after.is_none_or(|after| MARKS.contains(&after)))
        });
        found.filter(|_| !heading.is_empty())
    };
    headings.iter().take(AHEAD).enumerate().find_map(|(at, (_, heading))| Some((at, stands(heading)?)))
}

/// What stands behind the heading of a section that its text runs on from.
const MARKS: [char; 4] = [':', '.', '—', '–'];
