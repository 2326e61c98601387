//! Pages drawn in mono-spaced text, for tests. One cell is 5 pt wide, one line 12 pt high.
//! `*bold*`, `_italic_`, `^raised^`; three blanks or more are a wide gap, three dots or more a leader; a blank line parts
//! blocks; `\f` begins a page; `#12` is the folio of its page; `@` at the start of a line marks a new block without white space above. A line that ends in
//! `-` goes on with a compound, in `¬` with a broken word. The right edge is where the longest line of the page ends.

use crate::layout::{Block, BlockKind, Gap, Line, LineEnd, Run, SetPage, Setting, Style};

const CELL: f32 = 5.0;
const LEADING: f32 = 12.0;
/// White space at the right edge that does not count, as styles are drawn with signs that take up cells.
const RAGGED: f32 = 5.0 * CELL;

/// Returns the lines of one drawn page.
pub(crate) fn lines(drawn: &str) -> Vec<Line> {
    setting(drawn).blocks.into_iter().flat_map(|block| block.lines).collect()
}

/// Returns a drawn book as set.
pub(crate) fn setting(drawn: &str) -> Setting {
    let mut blocks: Vec<Block> = Vec::new();
    let mut pages = Vec::new();
    for (index, page) in drawn.split('\u{c}').enumerate() {
        pages.push(SetPage { columns: 1, size: (500.0, 700.0), ..SetPage::default() });
        let edge =
            page.lines().map(|drawn| line(drawn.trim_start_matches('@'), 1, 0.0, 0.0).x1).fold(0.0, f32::max);
        let mut new = true;
        let mut last_y = f32::NEG_INFINITY;
        for (row, drawn_line) in page.lines().enumerate() {
            let bare = drawn_line.strip_prefix('@').inspect(|_| new = true).unwrap_or(drawn_line);
            if bare.trim().is_empty() {
                new = true;
                continue;
            }
            if let Some(folio) = bare.strip_prefix('#') {
                pages[index].folio = Some(folio.trim().to_owned());
                continue;
            }
            let y = row as f32 * LEADING;
            let mut line = line(bare, index as u32 + 1, y, y - last_y);
            line.room = if edge - line.x1 <= RAGGED { 0.0 } else { edge - line.x1 };
            last_y = y;
            match blocks.last_mut() {
                Some(block) if !new => block.lines.push(line),
                _ => blocks.push(Block { kind: BlockKind::Flow, lines: vec![line] }),
            }
            new = false;
        }
    }
    Setting { pages, blocks, body_size: 10.0 }
}

fn line(drawn: &str, page: u32, y: f32, above: f32) -> Line {
    let end = match drawn.chars().next_back() {
        Some('-') => LineEnd::Compound,
        Some('¬') => LineEnd::Broken,
        _ => LineEnd::Space,
    };
    let drawn = &drawn.replace('¬', "-");
    let mut runs: Vec<Run> = Vec::new();
    let mut style = Style::default();
    let (mut text, mut x0, mut gap) = (String::new(), 0.0, Gap::None);
    let cells: Vec<char> = drawn.chars().collect();
    let (mut at, mut column) = (0, 0);
    let blanks = |from: usize, what: char| cells[from..].iter().take_while(|c| **c == what).count();
    while at < cells.len() {
        let toggled = match cells[at] {
            '*' => Some(Style { bold: !style.bold, ..style }),
            '_' => Some(Style { italic: !style.italic, ..style }),
            '^' => Some(Style { raised: !style.raised, ..style }),
            _ => None,
        };
        let (step, next) = if let Some(next) = toggled {
            push(&mut runs, &mut text, style, (x0, column as f32 * CELL), &mut gap);
            style = next;
            (1, None)
        } else if blanks(at, '.') >= 3 {
            (blanks(at, '.'), Some(Gap::Leader))
        } else if cells[at] == ' ' && (blanks(at, ' ') >= 3 || text.is_empty()) {
            let wide = if blanks(at, ' ') >= 3 && !runs.is_empty() | !text.is_empty() {
                Gap::Wide
            } else {
                Gap::Space
            };
            (blanks(at, ' '), Some(wide))
        } else {
            if text.is_empty() {
                x0 = column as f32 * CELL;
            }
            text.push(cells[at]);
            (1, None)
        };
        if let Some(next) = next {
            push(&mut runs, &mut text, style, (x0, column as f32 * CELL), &mut gap);
            gap = match (gap, next) {
                (Gap::Leader, _) | (_, Gap::Leader) => Gap::Leader,
                (_, other) => other,
            };
        }
        at += step;
        column += if toggled.is_some() { 0 } else { step };
    }
    push(&mut runs, &mut text, style, (x0, column as f32 * CELL), &mut gap);
    if gap == Gap::Leader {
        runs.push(Run { text: String::new(), style, size: 10.0, x0: 0.0, x1: 0.0, before: Gap::Leader });
    }
    let x0 = runs.first().map_or(0.0, |run| run.x0);
    let x1 = runs.last().map_or(0.0, |run| run.x1);
    Line { page, column: 0, y, x0, x1, indent: x0, room: 0.0, size: 10.0, above, runs, end }
}

fn push(runs: &mut Vec<Run>, text: &mut String, style: Style, (x0, x1): (f32, f32), gap: &mut Gap) {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        if !text.is_empty() && *gap == Gap::None {
            *gap = Gap::Space;
        }
        text.clear();
        return;
    }
    let before = if text.starts_with(' ') && *gap == Gap::None { Gap::Space } else { *gap };
    let before = if runs.is_empty() && before == Gap::Space { Gap::None } else { before };
    runs.push(Run { text: trimmed.to_owned(), style, size: 10.0, x0, x1, before });
    *gap = if text.ends_with(' ') { Gap::Space } else { Gap::None };
    text.clear();
}
