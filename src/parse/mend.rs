//! Blocks as the layout gathered them in, blocks as the book means them out: headings parted from the paragraph before,
//! lines joined that a wide gap or a hanging indent tore apart, legends of figures set aside. No line is lost or moved.

use std::sync::LazyLock;

use regex::Regex;

use crate::layout::{Block, BlockKind, Gap, Line};
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
    Regex::new(r"(?:[×xX] ?[\d½¼¾/]+|enlarged|reduced|natural size|nat\. size)\.?$").expect("a fixed pattern")
});

/// Returns the blocks mended.
pub(crate) fn blocks(blocks: &[Block], body_size: f32) -> Vec<Block> {
    let mut joined = joined(parted(blocks), body_size);
    set_legends_aside(&mut joined, body_size);
    joined
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

fn joined(blocks: Vec<Block>, body_size: f32) -> Vec<Block> {
    let mut done: Vec<Block> = Vec::new();
    let mut whole = true;
    for block in blocks {
        match done.last_mut() {
            Some(last) if last.kind == block.kind && block.kind == BlockKind::Flow => {
                if whole && heading_goes_on(last, &block, body_size)
                    || line_goes_on(last, &block)
                    || bracket_goes_on(last, &block)
                {
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
            opening.style.bold && (opening.number.is_some() || opening.parsed.authorship.is_some())
        })
    };
    let labelled = hanging.runs.first().is_some_and(|run| run.before == Gap::Leader);
    unstyled && !labelled && !centred && line.room < width * HEADING_ROOM && opens()
}

/// Lines of a heading that ends in the midst of a bracket, and the line that closes it.
fn bracket_goes_on(block: &Block, next: &Block) -> bool {
    let open = |text: &str| text.matches('[').count() > text.matches(']').count();
    let text = compose(&block.lines).text.plain;
    let follows =
        block.lines.last().zip(next.lines.first()).is_some_and(|(last, first)| follows(last, first));
    follows
        && block.lines.len() <= LONGEST_HEADING
        && next.lines.len() <= LONGEST_HEADING
        && open(&text)
        && name::parse(&text).is_some()
        && compose(&next.lines).text.plain.split('[').next().is_some_and(|first| first.contains(']'))
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

/// Returns how many paragraphs of a legend stand first: their numbers rise.
fn legend(blocks: &[Block]) -> usize {
    let (mut last, mut len, mut scaled) = (0, 0, 0);
    for block in blocks.iter().take_while(|block| block.kind == BlockKind::Flow && block.lines.len() <= 2) {
        let text = compose(&block.lines).text.plain;
        let Some((number, rest)) = text.split_once(". ") else { break };
        let first = number.split(['-', '–']).next().and_then(|digits| digits.parse::<u32>().ok());
        let Some(first) = first.filter(|first| *first > last) else { break };
        if rest.chars().count() > LONGEST_LEGEND || !rest.ends_with('.') {
            break;
        }
        last = first;
        len += 1;
        scaled += usize::from(SCALE.is_match(rest));
    }
    if scaled * 2 >= len { len } else { 0 }
}

/// Characters of the longest paragraph of a legend.
const LONGEST_LEGEND: usize = 120;
/// Blocks above a legend, those already aside among them, that its title is looked for in.
const MOST_TITLE: usize = 5;

fn is_legend_title(block: &Block, first: &Block, body_size: f32) -> bool {
    let seen = look::look(block, body_size);
    let same_page = block.lines.last().map(|line| line.page) == first.lines.first().map(|line| line.page);
    let name = name::parse(&compose(&block.lines).text.plain);
    same_page && seen.bold && seen.centred && name.is_none_or(|parsed| parsed.authorship.is_none())
}
