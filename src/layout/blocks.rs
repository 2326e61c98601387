//! Measured lines in reading order come in; blocks go out: paragraphs, headings, leads, entries.
//!
//! A line that ends where the next word would still have found room ends its block. What a block means is not known here.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use regex::Regex;

use crate::layout::{Block, BlockKind, Gap, Line};

/// Difference of indents in em that means something.
const INDENT: f32 = 0.45;
/// Ratio of sizes from which two lines are set in different sizes.
const OTHER_SIZE: f32 = 1.07;
/// Distance of lines, as a multiple of the usual, from which there is space between them.
const SPACED: f32 = 1.3;
/// Deepest first-line indent in em.
const MAX_FIRST_INDENT: f32 = 4.0;
/// Width of a word space in em.
const SPACE: f32 = 0.25;
/// Distance from the right edge in em within which a target is set flush right.
const FLUSH: f32 = 1.0;

/// Starts of lines that label a lead.
static LABEL: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(
        r#"(?x)^(?:
            \(?\d{1,4}[a-z]?\)?['′’"”*]*(?:\s?\(\d{1,4}[a-z]?['′’]?\))?[.)\s–-]
          | [A-Za-z]{1,3}['′’*]*[.)]
          | [–—+•*-]\s? )"#,
    )
    .expect("the pattern is fixed and valid")
});

/// Gathers lines into blocks.
pub(super) fn gather(lines: Vec<Line>) -> Vec<Block> {
    let leading = leadings(&lines);
    let mut blocks: Vec<Block> = Vec::new();
    for line in lines {
        match blocks.last_mut() {
            Some(block) if !starts_block(&block.lines, &line, &leading) => block.lines.push(line),
            _ => blocks.push(Block { kind: BlockKind::Flow, lines: vec![line] }),
        }
    }
    blocks
}

/// Returns the usual distance of lines by size, in tenths of points.
fn leadings(lines: &[Line]) -> BTreeMap<i32, f32> {
    let mut counts: BTreeMap<(i32, i32), usize> = BTreeMap::new();
    for pair in lines.windows(2) {
        let key = size_key(pair[1].size);
        if pair[1].above.is_finite() && size_key(pair[0].size) == key && pair[1].above < 3.0 * pair[1].size {
            *counts.entry((key, (pair[1].above * 2.0).round() as i32)).or_default() += 1;
        }
    }
    let mut best: BTreeMap<i32, (usize, f32)> = BTreeMap::new();
    for ((size, distance), count) in counts {
        let entry = best.entry(size).or_default();
        if count > entry.0 {
            *entry = (count, distance as f32 / 2.0);
        }
    }
    best.into_iter().map(|(size, (_, distance))| (size, distance)).collect()
}

fn size_key(size: f32) -> i32 {
    (size * 10.0).round() as i32
}

/// Tells whether a line starts a block after the lines of the one before.
fn starts_block(block: &[Line], next: &Line, leading: &BTreeMap<i32, f32>) -> bool {
    let Some(last) = block.last() else { return true };
    let em = last.size.max(next.size);
    if size_ratio(last, next) > OTHER_SIZE {
        return true;
    }
    let usual = leading.get(&size_key(next.size)).copied().unwrap_or(1.2 * next.size);
    if next.above.is_finite() && next.above > SPACED * usual {
        return true;
    }
    if is_target_alone(next, em) {
        return false;
    }
    let full = is_full(last, next);
    if is_broken_word(last, next) {
        return false;
    }
    if ends_with_target(last, em) || !full {
        return true;
    }
    if is_bold(last) != is_bold(next) && (block.iter().all(is_bold) || is_bold(next)) {
        return true;
    }
    breaks_by_indent(block, next, em)
}

fn breaks_by_indent(block: &[Line], next: &Line, em: f32) -> bool {
    let (Some(first), Some(last)) = (block.first(), block.last()) else { return true };
    let step = next.indent - last.indent;
    let ends_sentence = last_text(last).ends_with(['.', ':', ';', '!', '?', ')', ',']);
    let label = LABEL.is_match(&first_text(next));
    if step.abs() <= INDENT * em {
        let hangs = block.len() > 1 && first.indent < last.indent - INDENT * em;
        return label && !hangs && ends_sentence && LABEL.is_match(&first_text(first));
    }
    if step > 0.0 {
        return block.len() > 1;
    }
    // The line goes back to the left: from the first line of a paragraph, or to the next entry of a hanging list.
    let from_first = block.len() == 1 && -step <= MAX_FIRST_INDENT * em;
    !from_first || label && ends_sentence
}

fn size_ratio(one: &Line, other: &Line) -> f32 {
    one.size.max(other.size) / one.size.min(other.size).max(0.1)
}

/// Tells whether the next line's first word would not have fitted in the room that the last line leaves.
fn is_full(last: &Line, next: &Line) -> bool {
    let Some(run) = next.runs.first() else { return true };
    let letters = run.text.chars().count().max(1) as f32;
    let word = run.text.split([' ', '-', '–', '—', '/']).next().unwrap_or_default().chars().count() as f32;
    let width = (run.x1 - run.x0) * word / letters;
    last.room < width + SPACE * last.size
}

fn is_broken_word(last: &Line, next: &Line) -> bool {
    let text = last_text(last);
    let mut end = text.chars().rev();
    let hyphen = end.next().is_some_and(|character| matches!(character, '-' | '\u{2010}' | '\u{ad}'));
    hyphen && end.next().is_some_and(char::is_alphabetic) && first_text(next).starts_with(char::is_lowercase)
}

/// Tells whether a line ends with a target behind a leader or flush right behind white space.
fn ends_with_target(line: &Line, em: f32) -> bool {
    let Some(last) = line.runs.iter().rposition(|run| matches!(run.before, Gap::Leader | Gap::Wide)) else {
        return false;
    };
    !line.runs[last].text.is_empty() && line.room <= FLUSH * em
}

/// Tells whether a line is nothing but a target set flush right, so that it belongs to the lead above.
fn is_target_alone(line: &Line, em: f32) -> bool {
    line.runs.first().is_some_and(|run| run.before == Gap::Leader)
        || line.room <= FLUSH * em && line.indent > 3.0 * (line.x1 - line.x0) && line.indent > 8.0 * em
}

fn is_bold(line: &Line) -> bool {
    line.runs.iter().all(|run| run.style.bold || !run.text.contains(char::is_alphabetic))
        && line.runs.iter().any(|run| run.style.bold)
}

/// Returns the text of the line's last run.
pub(super) fn last_text(line: &Line) -> String {
    line.runs.last().map(|run| run.text.clone()).unwrap_or_default()
}

/// Returns the line's first words, with what follows them in other styles.
fn first_text(line: &Line) -> String {
    line.runs.iter().take(2).map(|run| run.text.as_str()).collect::<Vec<_>>().join(" ")
}
