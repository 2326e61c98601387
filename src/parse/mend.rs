//! Blocks as the layout gathered them in, blocks as the book means them out: headings parted from the paragraph before,
//! lines joined that a wide gap or a hanging indent tore apart, legends of figures set aside. No line is lost or moved.

use std::sync::LazyLock;

use regex::Regex;

use crate::layout::{Block, BlockKind, Gap, Line, LineEnd};
use crate::model::Rank;
use crate::name;

use super::compose::{compose, is_set_right};
use super::look;

/// Line distance, in sizes of type, up to which two lines may belong to one paragraph (common leading is 1.2).
const MOST_LEADING: f32 = 1.38;
/// Points by which lines of one level may differ.
const LEVEL: f32 = 1.5;
/// Points of white space after a line that is filled.
const FILLED: f32 = 3.0;
/// Points by which the second line of a heading hangs at least.
const HANGS: f32 = 4.0;
/// White space after a line of a heading, as a share of the column, up to which the heading may go on below.
const HEADING_ROOM: f32 = 0.45;
/// Lines that a heading with its synonyms takes up at most.
const LONGEST_HEADING: usize = 4;
/// Lines of a legend that are needed to know it by its numbers.
const LEAST_LEGEND: usize = 3;

/// How much a figure is enlarged (T27), at the end of its legend.
static SCALE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?:[×xX] ?[\dIl½¼¾/]+|enlarged|reduced|natural size|nat\. size)[.,]?$")
        .expect("a fixed pattern")
});

/// Returns the blocks mended.
pub(crate) fn blocks(blocks: &[Block], body_size: f32) -> Vec<Block> {
    let typing = typing(blocks);
    let mut parted = parted(blocks);
    if typing == Typing::Unknown {
        parted = parted.into_iter().flat_map(names_parted).collect();
    }
    let mut joined = joined(parted, body_size, typing);
    set_legends_aside(&mut joined, body_size);
    joined
}

/// What the source tells of its type.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Typing {
    /// Bold and italic type is known.
    Known,
    /// All is of one type, as in the text layer of scanned pages.
    Unknown,
}

/// Share of runs in bold or italics below which a source knows nothing of its type.
const LEAST_STYLED: f32 = 0.005;

fn typing(blocks: &[Block]) -> Typing {
    let runs = || blocks.iter().flat_map(|block| &block.lines).flat_map(|line| &line.runs);
    let styled = runs().filter(|run| run.style.bold || run.style.italic || run.style.small_caps).count();
    if styled as f32 > runs().count() as f32 * LEAST_STYLED { Typing::Known } else { Typing::Unknown }
}

/// Centred lines parted where one opens with the name of a species and its author.
fn names_parted(block: Block) -> Vec<Block> {
    let names = |line: &Line| {
        name::parse(&compose([line]).text.plain)
            .is_some_and(|parsed| parsed.name.contains(' ') && parsed.authorship.is_some())
    };
    if block.lines.len() > LONGEST_HEADING || !block.lines.iter().all(look::is_symmetric) {
        return vec![block];
    }
    let parts = block.lines.chunk_by(|_, line| !names(line));
    parts.map(|lines| Block { kind: block.kind, lines: lines.to_vec() }).collect()
}

/// Blocks parted where a line at the top of a column opens in bold or larger type though the line before does not: a
/// heading there is easily taken for the rest of the paragraph before.
fn parted(blocks: &[Block]) -> Vec<Block> {
    let led =
        |line: &Line| is_set_right(line) || line.runs.first().is_some_and(|run| run.before == Gap::Leader);
    let starts = |before: &Line, line: &Line| {
        !line.above.is_finite()
            && !led(line)
            && opens_heavy(line)
            && !awaits(before)
            && (!before.runs.iter().any(|run| run.style.bold) || opens_with_name(line, ends_light(before)))
    };
    let mut parts: Vec<Block> = Vec::new();
    for block in blocks {
        for lines in block.lines.chunk_by(|before, line| !starts(before, line)) {
            parts.push(Block { kind: block.kind, lines: lines.to_vec() });
        }
    }
    parts
}

fn opens_heavy(line: &Line) -> bool {
    let first = line.runs.iter().find(|run| run.text.chars().any(char::is_alphanumeric));
    first.is_some_and(|run| run.style.bold)
}

fn ends_light(line: &Line) -> bool {
    line.runs.last().is_some_and(|run| !run.style.bold && run.text.ends_with(['.', ']', ')', '!', '?']))
}

/// The line opens with the name of a species and its author, or after a finished sentence with a number and a name.
fn opens_with_name(line: &Line, finished: bool) -> bool {
    let composed = compose([line]);
    let number = look::number_length(composed.str());
    name::parse(&composed.str()[number..]).is_some_and(|parsed| {
        finished && number > 0 || parsed.rank >= Rank::Species && parsed.authorship.is_some()
    })
}

/// A line that ends in a dash or a leader waits for a target.
fn awaits(line: &Line) -> bool {
    line.runs.last().is_some_and(|run| run.text.is_empty() || run.text.ends_with(['—', '–', '→']))
}

fn joined(blocks: Vec<Block>, body_size: f32, typing: Typing) -> Vec<Block> {
    let mut done: Vec<Block> = Vec::new();
    let mut whole = true;
    for block in blocks {
        match done.last_mut() {
            Some(last) if last.kind == block.kind && block.kind == BlockKind::Flow => {
                if whole && heading_goes_on(last, &block, body_size)
                    || line_goes_on(last, &block)
                    || sentence_goes_on(last, &block)
                    || typing == Typing::Unknown && untyped_goes_on(last, &block)
                    || bracket_goes_on(last, &block)
                {
                    mark_broken(last);
                    last.lines.extend(block.lines);
                    whole = false;
                    continue;
                }
                done.push(block);
            }
            _ => done.push(block),
        }
        whole = true;
    }
    done
}

fn follows(last: &Line, next: &Line) -> bool {
    last.page == next.page
        && last.column == next.column
        && next.above.is_finite()
        && next.above <= next.size.max(last.size) * MOST_LEADING
}

/// A heading of one line whose authorship or vernacular name hangs in a second line.
fn heading_goes_on(block: &Block, next: &Block, body_size: f32) -> bool {
    let ([line], [hanging]) = (block.lines.as_slice(), next.lines.as_slice()) else { return false };
    if !follows(line, hanging) || hanging.indent < line.indent + HANGS {
        return false;
    }
    let width = line.indent + (line.x1 - line.x0) + line.room;
    let unstyled = hanging.runs.iter().all(|run| !run.style.bold);
    let composed = compose([line]);
    let centred = look::look(block, body_size).centred || look::look(next, body_size).centred;
    let opens = || {
        look::opening(block, &composed, body_size).is_some_and(|opening| {
            let cut = composed.str()[opening.start + opening.parsed.end..].trim_start().starts_with('(');
            opening.style.bold && (opening.number.is_some() || opening.parsed.authorship.is_some() || cut)
        })
    };
    let labelled = hanging.runs.first().is_some_and(|run| run.before == Gap::Leader);
    unstyled && !labelled && !centred && line.room < width * HEADING_ROOM && opens()
}

/// Lines of a heading that ends in the midst of a bracket, and the line that closes it.
fn bracket_goes_on(block: &Block, next: &Block) -> bool {
    let open = |text: &str| text.matches(['[', '{']).count() > text.matches([']', '}', '|']).count();
    let text = compose(&block.lines).text.plain;
    let follows =
        block.lines.last().zip(next.lines.first()).is_some_and(|(last, first)| follows(last, first));
    follows
        && block.lines.len() <= LONGEST_HEADING
        && next.lines.len() <= LONGEST_HEADING
        && open(&text)
        && name::parse(&text).is_some()
        && compose(&next.lines)
            .text
            .plain
            .split(['[', '{'])
            .next()
            .is_some_and(|first| first.contains([']', '}', '|']))
}

/// A filled line that ends in the midst of a sentence, and a line of the same level right below it.
fn line_goes_on(block: &Block, next: &Block) -> bool {
    let (Some(last), Some(first)) = (block.lines.last(), next.lines.first()) else { return false };
    let text = |line: &Line| compose([line]).text.plain;
    let gaps = block.lines.len() == 1 && last.runs.iter().skip(1).any(|run| run.before == Gap::Wide);
    let level = (first.indent - last.indent).abs() < LEVEL && (first.size - last.size).abs() < 0.2;
    gaps && level
        && last.room < FILLED
        && follows(last, first)
        && !text(last).ends_with(['.', ':', '!', '?', '—', '–'])
        && !text(last).starts_with(|c: char| c.is_ascii_digit() || matches!(c, '–' | '—' | '-' | '+' | '•'))
        && !opens_labelled(&text(first))
        && !ends_in_page(last)
}

/// A filled line that ends in the midst of a sentence, and a line that goes on with a small letter at the same level
/// or left of it: type sizes of a text layer vary from line to line.
fn sentence_goes_on(block: &Block, next: &Block) -> bool {
    let (Some(last), Some(first)) = (block.lines.last(), next.lines.first()) else { return false };
    let next_column = !first.above.is_finite() && (first.page, first.column) != (last.page, last.column);
    let level = first.indent < LEVEL_LEFT
        && (last.indent < LEVEL_LEFT || block.lines.len() == 1 && last.indent > first.indent);
    let plain = |line: &Line| line.runs.iter().all(|run| !run.style.bold && run.before != Gap::Leader);
    let text = compose(&block.lines).text.plain;
    let small = compose([first]).text.plain.starts_with(|c: char| c.is_lowercase());
    level
        && small
        && last.room < FILLED
        && (follows(last, first) || next_column)
        && plain(last)
        && plain(first)
        && (first.size - last.size).abs() <= SIZE_NOISE
        && !text.ends_with(['.', ':', '!', '?', '—', '–'])
        && !opens_labelled(&text)
        && !ends_in_page(last)
}

/// Without type to tell paragraphs apart: a filled line that ends no sentence, and a line at the same level or left of it.
fn untyped_goes_on(block: &Block, next: &Block) -> bool {
    let (Some(last), Some(first)) = (block.lines.last(), next.lines.first()) else { return false };
    let before = compose(&block.lines).text.plain;
    let after = compose([first]).text.plain;
    let level = first.indent - last.indent < LEVEL_LEFT && last.indent - first.indent < INDENTED;
    let ended = before.ends_with(['.', ':', '!', '?', ';', ']', ')']);
    let small = after.starts_with(char::is_lowercase);
    let opens = after.contains(".—")
        || after.contains(".–")
        || opens_labelled(&after)
        || !after.contains(char::is_lowercase);
    let words = before.contains(' ') && before.contains(char::is_lowercase);
    let targets = last.runs.iter().chain(&first.runs).any(|run| run.before == Gap::Leader);
    words
        && level
        && follows(last, first)
        && !targets
        && !ended
        && (small && before.ends_with('-')
            || last.room < RAGGED && (small || !opens && !is_key_line(&before)))
}

/// Leads of keys open with a label.
fn is_key_line(text: &str) -> bool {
    opens_labelled(text)
}

/// A word that a joined line ends in is broken where a small letter follows the hyphen.
fn mark_broken(block: &mut Block) {
    let broken = compose(&block.lines).text.plain.ends_with(['-', '‐']);
    if let Some(last) = block.lines.last_mut().filter(|line| broken && line.end == LineEnd::Space) {
        last.end = LineEnd::Broken;
    }
}

/// Points of white space after a filled line, and by which the first line of a paragraph is indented, where a text
/// layer places lines badly.
const RAGGED: f32 = 6.0;
const INDENTED: f32 = 16.0;
/// Points of indent up to which a line stands at the left edge, where edges are ragged.
const LEVEL_LEFT: f32 = 4.0;
/// Points by which sizes of type vary in the text layer of a scanned page.
const SIZE_NOISE: f32 = 1.5;

fn opens_labelled(text: &str) -> bool {
    let label: String = text.chars().take_while(|c| c.is_alphanumeric()).collect();
    let after = text[label.len()..].chars().next();
    label.is_empty() && !text.starts_with(['(', '[', '×', '“'])
        || label.chars().count() <= 3 && matches!(after, Some('.' | ')' | '\'' | '’' | '*'))
}

fn ends_in_page(line: &Line) -> bool {
    line.runs.last().is_some_and(|run| {
        matches!(run.before, Gap::Wide | Gap::Leader) && run.text.chars().all(|c| !c.is_lowercase())
    })
}

/// Sets the legends of figures aside: short numbered paragraphs of which most tell how much the figure is enlarged (P6),
/// and the title above them.
fn set_legends_aside(blocks: &mut [Block], body_size: f32) {
    let mut at = 0;
    while at < blocks.len() {
        let len = legend(&blocks[at..]);
        let beside_aside = [at.checked_sub(1), Some(at + len)]
            .into_iter()
            .flatten()
            .any(|beside| blocks.get(beside).is_some_and(|block| block.kind == BlockKind::Aside));
        if len >= LEAST_LEGEND || len > 0 && beside_aside {
            let mut top = at;
            while top > 0
                && at - top < MOST_TITLE
                && (blocks[top - 1].kind == BlockKind::Aside
                    || is_legend_title(&blocks[top - 1], &blocks[at], body_size))
            {
                top -= 1;
            }
            for block in &mut blocks[top..at + len] {
                block.kind = BlockKind::Aside;
            }
        }
        at += len.max(1);
    }
}

/// Returns how many paragraphs of a legend stand first: numbered, or what is left of a number in a bad text layer.
fn legend(blocks: &[Block]) -> usize {
    let (mut len, mut scaled) = (0, 0);
    for block in blocks.iter().take_while(|block| block.lines.len() <= 2) {
        let text = compose(&block.lines).text.plain;
        let number = |number: &str| {
            number.chars().count() <= LONGEST_NUMBER && !number.chars().any(char::is_lowercase)
        };
        let mut parted = [". ", ", ", "- "].iter().filter_map(|mark| text.split_once(mark));
        let rest = parted.find(|(label, _)| number(label)).map(|(_, rest)| rest);
        let scale = SCALE.is_match(&text);
        if text.chars().count() > LONGEST_LEGEND || !(scale || rest.is_some_and(|rest| rest.ends_with('.'))) {
            break;
        }
        len += 1;
        scaled += usize::from(scale);
    }
    if scaled * 2 >= len { len } else { 0 }
}

/// Characters of the longest number of a legend (`10-11`).
const LONGEST_NUMBER: usize = 5;
/// Characters of the longest paragraph of a legend.
const LONGEST_LEGEND: usize = 120;
/// Blocks above a legend, those already aside among them, that its title is looked for in.
const MOST_TITLE: usize = 5;

fn is_legend_title(block: &Block, first: &Block, body_size: f32) -> bool {
    let seen = look::look(block, body_size);
    let same_page = block.lines.last().map(|line| line.page) == first.lines.first().map(|line| line.page);
    let name = name::parse(&compose(&block.lines).text.plain);
    same_page
        && seen.short
        && seen.centred
        && name.is_none_or(|parsed| {
            parsed.rank != Rank::Family && (parsed.authorship.is_none() || !parsed.name.contains(' '))
        })
}
