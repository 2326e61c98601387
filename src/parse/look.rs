//! How a block looks beside the body of the book: what sets a heading apart from a paragraph.

use crate::layout::{Block, BlockKind, Line, Run};
use crate::name;

use super::compose::{Composed, compose};
use super::words;

/// A heading's type is larger than the body's by this factor at least (set sizes step by half points; common practice).
const LARGER: f32 = 1.06;
/// A heading of more characters than this is a paragraph.
const LONGEST_HEADING: usize = 260;
/// A heading of more lines than this is a paragraph.
const MOST_LINES: usize = 5;
/// White space on both sides, as a share of the column, from which a line is centred.
const CENTRED_SHARE: f32 = 0.08;
/// Points by which the two sides of a centred line may differ, as a share of the column.
const CENTRED_SLACK: f32 = 0.06;

/// What is seen of a block without reading it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[expect(clippy::struct_excessive_bools, reason = "independent properties of type")]
pub(crate) struct Look {
    /// All words are bold.
    pub(crate) bold: bool,
    /// All words are italic.
    pub(crate) italic: bool,
    /// All letters are capitals or small capitals.
    pub(crate) capitals: bool,
    /// Every line is centred.
    pub(crate) centred: bool,
    /// Type larger than the body's.
    pub(crate) larger: bool,
    /// Few lines and characters.
    pub(crate) short: bool,
    /// The first letter is a small one: the text goes on from somewhere.
    pub(crate) goes_on: bool,
}

impl Look {
    /// Says whether the block stands out as a heading does.
    pub(crate) fn stands_out(self) -> bool {
        self.short
            && (self.bold || self.larger || !self.goes_on && (self.capitals || self.centred || self.italic))
    }
}

/// Looks at a block; raised marks of footnotes do not count.
pub(crate) fn look(block: &Block, body_size: f32) -> Look {
    let runs: Vec<&Run> = block
        .lines
        .iter()
        .flat_map(|line| &line.runs)
        .filter(|run| !run.style.raised && has_letters(run))
        .collect();
    if runs.is_empty() {
        return Look::default();
    }
    let chars: usize = runs.iter().map(|run| run.text.chars().count()).sum();
    Look {
        bold: runs.iter().all(|run| run.style.bold),
        italic: runs.iter().all(|run| run.style.italic),
        capitals: runs.iter().all(|run| run.style.small_caps || !run.text.chars().any(char::is_lowercase)),
        centred: block.lines.iter().all(is_centred),
        larger: runs.iter().all(|run| run.size > body_size * LARGER),
        short: chars <= LONGEST_HEADING && block.lines.len() <= MOST_LINES,
        goes_on: runs[0].text.chars().find(|c| c.is_alphabetic()).is_some_and(char::is_lowercase),
    }
}

fn has_letters(run: &Run) -> bool {
    run.text.chars().any(char::is_alphabetic)
}

fn is_centred(line: &Line) -> bool {
    let width = line.x1 - line.x0 + line.indent + line.room;
    width > 0.0
        && line.indent > width * CENTRED_SHARE
        && line.room > width * CENTRED_SHARE
        && (line.indent - line.room).abs() < width * CENTRED_SLACK
}

/// The scientific name that a block opens with, set so that it stands out.
#[derive(Clone, Debug)]
pub(crate) struct Opening {
    /// The number printed before it.
    pub(crate) number: Option<String>,
    /// Byte where the name begins.
    pub(crate) start: usize,
    /// The name, positions counted from `start`.
    pub(crate) parsed: name::Parsed,
    /// The name's type.
    pub(crate) style: crate::model::Style,
    /// Whether its letters are all capitals (small capitals not counted).
    pub(crate) capitals: bool,
    /// Whether its type alone sets it apart from the body.
    pub(crate) in_own_type: bool,
}

/// Signs that may stand before a name; what they mean the book's legend says (T40).
const SIGNS: &[char] = &['†', '*', '‡', '§', '●', '○', '#', '+', '!', '◆', '▲'];

/// Reads the name that a block opens with, if it stands out from the body.
pub(crate) fn opening(block: &Block, composed: &Composed, body_size: f32) -> Option<Opening> {
    if block.kind != BlockKind::Flow {
        return None;
    }
    let plain = composed.str();
    let number_len = number_length(plain).max(letter_length(plain));
    let number = (number_len > 0).then(|| plain[..number_len].trim().trim_end_matches(['.', ')']).to_owned());
    let mut start = number_len;
    let sign = plain[start..].chars().next().filter(|c| SIGNS.contains(c));
    if let Some(sign) = sign {
        start += sign.len_utf8();
        start += plain[start..].len() - plain[start..].trim_start().len();
    }
    let parsed = name::parse(&plain[start..])?;
    let chunk = composed.chunk_at(start)?;
    let style = chunk.style;
    let word = &plain[start..start + parsed.name_end];
    let capitals = !word.chars().any(char::is_lowercase);
    let in_own_type =
        style.bold || style.italic || style.small_caps || capitals || chunk.size > body_size * LARGER;
    // Text recognition tells no face and no small step of size: what is left is where the name stands.
    let centred = block.lines.len() <= MOST_LINES && block.lines.iter().all(is_centred);
    let stands_out = in_own_type || (centred || number.is_some()) && parsed.authorship.is_some();
    let single_section = parsed.name_end > 0 && words::section_kind(word).is_some();
    (stands_out && !single_section).then_some(Opening { number, start, parsed, style, capitals, in_own_type })
}

/// Returns the bytes of a taxon's number with the blanks after it (`2.1.3. `, `4b. `, `GENUS 91. `).
pub(crate) fn number_length(plain: &str) -> usize {
    let digits_and_stops = plain.bytes().take_while(|b| b.is_ascii_digit() || *b == b'.').count();
    if digits_and_stops == 0 || !plain.starts_with(|c: char| c.is_ascii_digit()) {
        return 0;
    }
    let mut at = digits_and_stops;
    let letter = plain[at..].chars().next().filter(char::is_ascii_lowercase);
    if letter.is_some() {
        at += 1;
        at += usize::from(plain[at..].starts_with(['.', ')']));
    } else {
        at += usize::from(plain[at..].starts_with(')'));
    }
    let blanks = plain[at..].len() - plain[at..].trim_start().len();
    if blanks > 0 && digits_and_stops < 12 { at + blanks } else { 0 }
}

/// Returns the bytes of a letter that numbers a taxon below a species (`a. Silene alta subsp. alta`).
fn letter_length(plain: &str) -> usize {
    let rest = plain.strip_prefix(|c: char| c.is_ascii_lowercase()).and_then(|rest| rest.strip_prefix(". "));
    rest.filter(|rest| name::parse(rest).is_some_and(|parsed| parsed.rank > crate::model::Rank::Species))
        .map_or(0, |_| 3)
}

/// Composes a block.
pub(crate) fn of(block: &Block) -> Composed {
    compose(&block.lines)
}
