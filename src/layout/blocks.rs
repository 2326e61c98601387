//! Measured lines in reading order come in; blocks go out: paragraphs, headings, leads, entries.
//!
//! A line that ends where the next word would still have found room ends its block. What a block means is not known here.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::layout::habits::{Habits, Place};
use crate::layout::labels::{self, Label};
use crate::layout::{Block, BlockKind, Gap, Line, Run};

/// Difference of indents in em that means something.
pub(super) const INDENT: f32 = 0.45;
/// Ratio of sizes from which two lines are set in different sizes.
const OTHER_SIZE: f32 = 1.07;
/// Distance of lines, as a multiple of their size, from which there is space between them where nothing is known better.
const SPACED: f32 = 1.5;
/// Pairs of lines from which the usual distance is known.
const MIN_PAIRS: usize = 20;
/// Share of the pairs that stand farther apart by chance: raised figures, and pictures between them.
const OUTLIERS: f32 = 0.1;
/// Multiple of the usual distance that is still usual: signs taller than the line push lines apart.
const LOOSER: f32 = 1.09;
/// Deepest first-line indent in em.
const MAX_FIRST_INDENT: f32 = 4.0;
/// Width of a word space in em.
const SPACE: f32 = 0.25;
/// Share of its width that the first line of a paragraph may leave empty though its sentence goes on.
const SPACE_LEFT: f32 = 0.2;
/// Share of the column's width that a line may leave empty though its sentence goes on.
const MAX_ROOM: f32 = 0.6;
/// Width in em of the shortest lead before a target; less is a label.
const MIN_LEAD: f32 = 5.0;
/// Distance from the right edge in em within which a target is set flush right.
const FLUSH: f32 = 1.0;

/// Gathers lines into blocks; of each line it is told whether it interrupts the text, and such blocks go after the one they
/// interrupt.
pub(super) fn gather(lines: Vec<Line>, asides: &[bool]) -> Vec<Block> {
    let habits = Habits::of(&lines);
    let limits = limits(&lines, &habits);
    let mut blocks: Vec<Block> = Vec::new();
    let mut waiting: Vec<Block> = Vec::new();
    let mut flow: Option<Block> = None;
    let mut after_aside = false;
    for ((index, mut line), &aside) in lines.into_iter().enumerate().zip(asides) {
        let place = |line: &Line| habits.at(index, line);
        if aside {
            match waiting.last_mut().filter(|_| after_aside) {
                Some(block) if !starts_block(&block.lines, (&line, &place), &limits) => {
                    block.lines.push(line);
                }
                _ => waiting.push(Block { kind: BlockKind::Aside, lines: vec![line] }),
            }
            after_aside = true;
            continue;
        }
        if after_aside {
            line.above = f32::INFINITY;
        }
        after_aside = false;
        match &mut flow {
            Some(block) if !starts_block(&block.lines, (&line, &place), &limits) => block.lines.push(line),
            _ => {
                blocks.extend(flow.take());
                blocks.append(&mut waiting);
                flow = Some(Block { kind: BlockKind::Flow, lines: vec![line] });
            }
        }
    }
    blocks.extend(flow);
    blocks.append(&mut waiting);
    blocks
}

/// Returns by size the distance of lines from which there is space between them: more than in sentences that run on.
fn limits(lines: &[Line], habits: &Habits) -> BTreeMap<i32, f32> {
    let mut distances: BTreeMap<i32, Vec<f32>> = BTreeMap::new();
    for (index, next) in lines.iter().skip(1).enumerate() {
        if next.above.is_finite() && habits.runs_on_from(index) {
            distances.entry(size_key(next.size)).or_default().push(next.above);
        }
    }
    distances.retain(|_, distances| distances.len() >= MIN_PAIRS);
    distances
        .into_iter()
        .map(|(size, mut distances)| {
            distances.sort_by(f32::total_cmp);
            let last = (distances.len() - 1) as f32 * (1.0 - OUTLIERS);
            (size, distances[last as usize] * LOOSER)
        })
        .collect()
}

/// Returns the distance from which there is space between two lines.
fn limit(last: &Line, next: &Line, limits: &BTreeMap<i32, f32>) -> f32 {
    let of = |line: &Line| limits.get(&size_key(line.size)).copied().unwrap_or(SPACED * line.size);
    of(last).max(of(next))
}

fn size_key(size: f32) -> i32 {
    (size * 10.0).round() as i32
}

/// Tells whether a line starts a block after the lines of the one before.
fn starts_block(
    block: &[Line],
    (next, place): (&Line, &dyn Fn(&Line) -> Place),
    limits: &BTreeMap<i32, f32>,
) -> bool {
    let Some(last) = block.last() else { return true };
    let em = last.size.max(next.size);
    if last.runs.last().is_some_and(|run| run.text.is_empty()) && next.above < 2.0 * em {
        return false;
    }
    if !shares_size(last, next) {
        return true;
    }
    if next.above.is_finite() && next.above > limit(last, next, limits) {
        return true;
    }
    if is_target_alone(last, next, em) {
        return false;
    }
    let full = is_full(last, next);
    if is_broken_word(last, next) || last_text(last).ends_with(['—', '=']) || is_target_below(last, next, em)
    {
        return false;
    }
    if ends_with_page(last) && (ends_with_page(next) || first_text(next).starts_with(char::is_uppercase)) {
        return true;
    }
    if opens_heading(last, next) || opens_entry(block, next, em) {
        return true;
    }
    if runs_on_by_words(block, next, em) {
        return false;
    }
    if ends_with_target(last, em) || !full {
        return true;
    }
    if is_bold(last) != is_bold(next) && (block.iter().all(is_bold) || is_bold(next)) {
        return true;
    }
    match place(next) {
        Place::Start => true,
        Place::Unknown => breaks_by_indent(block, next, em),
    }
}

fn breaks_by_indent(block: &[Line], next: &Line, em: f32) -> bool {
    let (Some(first), Some(last)) = (block.first(), block.last()) else { return true };
    let step = next.indent - last.indent;
    let label = labels::of(&first_text(next));
    let opening = labels::of(&first_text(first));
    if step.abs() <= INDENT * em {
        let hangs = block.len() > 1 && first.indent < last.indent - INDENT * em;
        return label.is_some() && !hangs && opening.is_some();
    }
    if step > 0.0 {
        return block.len() > 1 || labels::follows(opening, label);
    }
    // The line goes back to the left: from the first line of a paragraph, or to the next entry of a hanging list.
    let from_first = block.len() == 1 && -step <= MAX_FIRST_INDENT * em;
    !from_first || label.is_some() && ends_sentence(last)
}

fn ends_sentence(line: &Line) -> bool {
    last_text(line).ends_with(['.', ':', ';', '!', '?', ')', ','])
}

/// Tells whether two lines have words in one size, so that one text may run through both.
fn shares_size(one: &Line, other: &Line) -> bool {
    let words = |run: &&Run| !run.style.raised && !run.text.is_empty();
    let alike = |one: f32, other: f32| one.max(other) / one.min(other).max(0.1) <= OTHER_SIZE;
    let mut runs = one.runs.iter().filter(words);
    runs.any(|one| other.runs.iter().filter(words).any(|other| alike(one.size, other.size)))
}

/// Tells whether the next line's first word would not have fitted in the room that the last line leaves.
fn is_full(last: &Line, next: &Line) -> bool {
    let Some(run) = next.runs.first() else { return true };
    let letters = run.text.chars().count().max(1) as f32;
    let word = unbreakable(&run.text).chars().count();
    let mut width = (run.x1 - run.x0) * word as f32 / letters;
    if word == run.text.chars().count()
        && let Some(second) = next.runs.get(1)
        && (second.before == Gap::None || is_tied(&run.text))
    {
        let part = second.text.split(' ').next().unwrap_or_default().chars().count() as f32
            / second.text.chars().count().max(1) as f32;
        width = second.x0 - run.x0 + (second.x1 - second.x0) * part;
    }
    last.room < width + SPACE * last.size
}

/// Returns the first words that stay together on a line: numbers with their units, initials with their names.
fn unbreakable(text: &str) -> &str {
    let mut end = 0;
    for word in text.split_inclusive(' ') {
        end += word.len();
        if !is_tied(word.trim_end()) {
            break;
        }
    }
    text[..end].trim_end()
}

/// Tells whether typesetters keep a word with the next one.
fn is_tied(word: &str) -> bool {
    let short = word.chars().count() <= 4 && word.ends_with('.');
    let number = word.ends_with(|c: char| c.is_numeric() || c == ')') && word.contains(char::is_numeric);
    let sign = word.chars().all(|c| !c.is_alphanumeric());
    short || number || sign
}

fn is_broken_word(last: &Line, next: &Line) -> bool {
    let text = last_text(last);
    let mut end = text.chars().rev();
    let hyphen = end.next().is_some_and(|character| matches!(character, '-' | '–' | '\u{2010}' | '\u{ad}'));
    let goes_on = first_text(next).starts_with(|c: char| c.is_lowercase() || c.is_numeric());
    let page = (text.ends_with(" p.") || text == "p." || text.ends_with(" pp."))
        && first_text(next).starts_with(char::is_numeric);
    page || hyphen && end.next().is_some_and(char::is_alphanumeric) && goes_on
}

/// Tells whether a line opens after a full stop with a number and a name in bold, or with either at the top of a column,
/// where no distance tells.
fn opens_heading(last: &Line, next: &Line) -> bool {
    let Some(run) = next.runs.first() else { return false };
    let has_figure = run.text.starts_with(|c: char| c.is_ascii_digit());
    let is_number = || has_figure && run.text.chars().all(|c| c.is_ascii_digit() || c == '.');
    let is_label = || has_figure && !run.text.contains(' ') && run.text.ends_with('.');
    let named = || {
        (is_number() || is_label())
            && next.runs.get(1).is_some_and(|name| name.style.bold && name.style.italic)
    };
    let opens = run.style.bold && (run.style.italic || is_number() || labels::of(&run.text).is_some());
    let at_top = next.above.is_infinite();
    run.style.bold && (at_top && opens || named()) && last_text(last).ends_with(['.', ')', ']'])
}

/// Tells whether one entry that fills its line with a word in bold and what it means is followed by another one.
fn opens_entry(block: &[Line], next: &Line, em: f32) -> bool {
    let [last] = block else { return false };
    let opens =
        |line: &Line| matches!(&line.runs[..], [word, rest, ..] if word.style.bold && !rest.style.bold);
    let level = (next.indent - last.indent).abs() <= INDENT * em;
    level && opens(last) && opens(next) && last_text(last).ends_with('.')
}

/// Tells whether a line ends with a target behind a leader or flush right behind white space.
fn ends_with_target(line: &Line, em: f32) -> bool {
    let Some(last) = line.runs.iter().rposition(|run| matches!(run.before, Gap::Leader | Gap::Wide)) else {
        return false;
    };
    let after_label = line.runs[last].before == Gap::Wide && line.runs[last].x0 - line.x0 < MIN_LEAD * em;
    !line.runs[last].text.is_empty() && line.room <= FLUSH * em && !after_label
}

fn ends_with_leader(line: &Line) -> bool {
    line.runs.iter().any(|run| run.before == Gap::Leader)
}

/// Tells whether a line is nothing but a target set flush right, so that it belongs to the lead above.
fn is_target_alone(last: &Line, next: &Line, em: f32) -> bool {
    if next.runs.first().is_some_and(|run| run.before == Gap::Leader) {
        return true;
    }
    let width = next.indent + (next.x1 - next.x0) + next.room;
    let flush = next.room <= FLUSH * em && next.indent > 4.0 * em && next.indent > 0.2 * width;
    flush && next.indent > last.indent + 3.0 * em && !ends_with_target(last, em)
}

/// Tells whether a line stands right below the target of the line above, so that it goes on with it.
fn is_target_below(last: &Line, next: &Line, em: f32) -> bool {
    let target = last.runs.iter().rfind(|run| matches!(run.before, Gap::Leader | Gap::Wide));
    target.is_some_and(|target| (target.x0 - next.x0).abs() < INDENT * em && next.indent > MIN_LEAD * em)
}

/// Tells whether a line ends as entries of an index do: with a comma or space and a page number.
fn ends_with_page(line: &Line) -> bool {
    let text = last_text(line);
    let text = text.trim_end_matches('.');
    let stem = text.trim_end_matches(|c: char| c.is_ascii_digit());
    stem.len() < text.len() && (stem.ends_with(", ") || stem.is_empty() && line.runs.len() > 1)
}

/// Tells whether a sentence without a stop goes on in small letters where follow-on lines stand, whatever room was left.
fn runs_on_by_words(block: &[Line], next: &Line, em: f32) -> bool {
    let (Some(first), Some(last)) = (block.first(), block.last()) else { return false };
    let hangs = next.indent > first.indent + INDENT * em;
    let step = next.indent - last.indent;
    let back = block.len() == 1 && (-MAX_FIRST_INDENT * em..0.0).contains(&step);
    let level = step.abs() <= INDENT * em;
    let straight =
        block.len() > 1 && level || (back || level) && last.room < SPACE_LEFT * (last.x1 - last.x0);
    let text = first_text(next);
    let end = last_text(last);
    let open = end.ends_with(|c: char| c.is_lowercase() || matches!(c, ',' | ';') || hangs && c.is_numeric());
    let words =
        open && text.starts_with(char::is_lowercase) && !ends_with_leader(last) && !ends_with_page(last);
    let dash = hangs && text.starts_with('—');
    let room = last.room < MAX_ROOM * (last.indent + last.x1 - last.x0 + last.room);
    (hangs || straight) && (words && room && !matches!(labels::of(&text), Some(Label::Letter(..))) || dash)
}

fn is_bold(line: &Line) -> bool {
    line.runs.iter().all(|run| run.style.bold || !run.text.contains(char::is_alphabetic))
        && line.runs.iter().any(|run| run.style.bold)
}

/// Returns the text of the line's last run.
pub(super) fn last_text(line: &Line) -> &str {
    line.runs.last().map_or("", |run| run.text.as_str())
}

/// Returns the line's first words, with what follows them in other styles.
fn first_text(line: &Line) -> Cow<'_, str> {
    if let [run] = &line.runs[..] {
        return Cow::Borrowed(&run.text);
    }
    Cow::Owned(line.runs.iter().take(2).map(|run| run.text.as_str()).collect::<Vec<_>>().join(" "))
}
