//! The lines of a sheet for a width; each line knows its paragraph and bytes, so that places need no rows.

use std::ops::Range;

use crate::reader::place::Anchor;
use crate::reader::sheet::{Kind, Sheet};
use crate::reader::textflow::wrap;

/// One line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// The paragraph; of an empty line the one above.
    pub(crate) block: usize,
    /// The bytes in it; an empty line stands behind the last byte.
    pub(crate) range: Range<usize>,
    /// Columns that it is set in.
    pub(crate) indent: u16,
    /// The lines of the paragraphs that are set beside this one.
    pub(crate) beside: Vec<Line>,
}

impl Line {
    fn new(block: usize, range: Range<usize>, indent: u16) -> Self {
        Self { block, range, indent, beside: Vec::new() }
    }
}

/// Columns from which on paragraphs of a band are set beside each other; two of them then have a readable width each.
const BESIDE: u16 = 90;

/// Columns between two paragraphs set beside each other.
const BETWEEN: u16 = 3;

/// All lines of a sheet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Flow {
    /// The lines from top to bottom.
    pub(crate) lines: Vec<Line>,
}

impl Flow {
    /// Lays a sheet out in lines of at most `width` columns.
    pub(crate) fn of(sheet: &Sheet, width: u16) -> Self {
        let mut lines = Vec::new();
        let mut bands = sheet.bands.iter().peekable();
        let mut set_to = 0;
        for (block, paragraph) in sheet.blocks.iter().enumerate() {
            if width >= BESIDE
                && let Some(band) = bands.next_if(|band| band.start == block)
            {
                lines.extend(side_by_side(sheet, band, width));
                set_to = band.end;
            }
            if block < set_to {
                continue;
            }
            if paragraph.kind == Kind::Heading && block > 0 {
                let behind = sheet.blocks[block - 1].text.plain.len() + 1;
                let above = lines.last().map_or(block - 1, |line: &Line| line.block);
                let behind =
                    if above == block - 1 { behind } else { sheet.blocks[above].text.plain.len() + BEHIND };
                lines.push(Line::new(above, behind..behind, 0));
            }
            let indent = paragraph.indent.min(width / 2);
            let hang = paragraph.hang.min(width / 2);
            let plain = &paragraph.text.plain;
            let columns = usize::from(width - hang.max(indent));
            if paragraph.kind == Kind::Set {
                lines.push(Line::new(block, 0..plain.len(), 0));
                continue;
            }
            let rows = if paragraph.kind == Kind::ShortRow { 1 } else { usize::MAX };
            for (at, range) in wrap(plain, columns).into_iter().enumerate().take(rows) {
                lines.push(Line::new(block, range, if at == 0 { indent } else { hang }));
            }
        }
        Self { lines }
    }

    /// Returns the same without the empty lines above headings.
    pub(crate) fn closed_up(mut self, sheet: &Sheet) -> Self {
        let is_text = |line: &Line| {
            let text = sheet.blocks.get(line.block).map_or(0, |block| block.text.plain.len());
            line.range.start <= text || !line.beside.is_empty()
        };
        self.lines.retain(is_text);
        self
    }

    /// Returns the line that an anchor stands on.
    pub(crate) fn line_of(&self, anchor: Anchor) -> usize {
        let before = |line: &Line| (line.block, line.range.start) <= (anchor.paragraph, anchor.byte);
        let line = self.lines.partition_point(before).saturating_sub(1);
        // A paragraph set beside others stands on their lines, above the place where it would stand alone.
        let is_it = |line: &Line| {
            line.beside
                .iter()
                .any(|beside| beside.block == anchor.paragraph && beside.range.start <= anchor.byte)
        };
        let near = self.lines.get(..=line).unwrap_or_default();
        let band = near.iter().rev().take_while(|line| !line.beside.is_empty()).count();
        let inside = near.len() - band;
        near[inside..].iter().rposition(is_it).map_or(line, |at| inside + at)
    }

    /// Returns the anchor of a line.
    pub(crate) fn anchor(&self, line: usize) -> Anchor {
        let line = self.lines.get(line).or(self.lines.last());
        line.map_or_else(Anchor::default, |line| Anchor { paragraph: line.block, byte: line.range.start })
    }

    /// Returns the line at the top of a window of `height` rows, as the anchor wants it but with line `keep` in view.
    pub(crate) fn top(&self, anchor: Anchor, keep: Option<usize>, height: usize) -> usize {
        let most = self.lines.len().saturating_sub(height);
        let top = self.line_of(anchor).min(most);
        match keep {
            Some(line) if line < top => line,
            Some(line) if line >= top + height => (line + 1).saturating_sub(height),
            Some(_) | None => top,
        }
    }

    /// Returns the lines of one paragraph.
    pub(crate) fn of_block(&self, block: usize) -> Range<usize> {
        let start = self.lines.partition_point(|line| line.block < block);
        start..self.lines.partition_point(|line| line.block <= block)
    }
}

/// More than the last line of a paragraph set beside a longer one stands behind its last byte, as anchors go.
const BEHIND: usize = 1000;

/// Sets the paragraphs of a band beside each other, each in a column of its own.
fn side_by_side(sheet: &Sheet, band: &Range<usize>, width: u16) -> Vec<Line> {
    let count = (band.len() as u16).max(1);
    let column = (width.saturating_sub(BETWEEN * (count - 1)) / count).max(1);
    let set = |(at, block): (usize, usize)| {
        let paragraph = &sheet.blocks[block];
        let x = at as u16 * (column + BETWEEN);
        let hang = paragraph.hang.min(column / 2);
        let ranges = wrap(&paragraph.text.plain, usize::from(column - hang)).into_iter().enumerate();
        ranges
            .map(|(row, range)| Line::new(block, range, x + if row == 0 { 0 } else { hang }))
            .collect::<Vec<_>>()
    };
    let mut columns: Vec<std::vec::IntoIter<Line>> =
        band.clone().enumerate().map(|cell| set(cell).into_iter()).collect();
    let rows = columns.iter().map(ExactSizeIterator::len).max().unwrap_or(0);
    let behind = sheet.blocks[band.start].text.plain.len() + 1;
    (0..rows)
        .map(|row| {
            let mut cells = columns.iter_mut().map(Iterator::next);
            let first = cells.next().flatten();
            let mut line = first.unwrap_or_else(|| Line::new(band.start, behind + row..behind + row, 0));
            line.beside = cells.flatten().collect();
            line
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Page, Text};
    use crate::reader::sheet::Block;

    fn sheet() -> Sheet {
        let block = |kind, words: &str| Block { kind, text: Text::plain(words, Page(1)), indent: 0, hang: 2 };
        let blocks = vec![
            block(Kind::Heading, "Leaves"),
            block(Kind::Body, "blade ovate"),
            block(Kind::Heading, "Stem"),
        ];
        Sheet { blocks, ..Sheet::default() }
    }

    #[test]
    fn every_line_is_found_by_its_own_anchor() {
        let sheet = sheet();
        for width in 1..30 {
            let flow = Flow::of(&sheet, width);
            for line in 0..flow.lines.len() {
                assert_eq!(flow.line_of(flow.anchor(line)), line, "width {width}");
            }
        }
    }

    #[test]
    fn a_flow_closed_up_has_no_empty_lines() {
        let sheet = sheet();
        let flow = Flow::of(&sheet, 40);
        assert_eq!(flow.lines.len(), 4);
        assert_eq!(flow.closed_up(&sheet).lines.len(), 3);
    }

    #[test]
    fn an_anchor_stays_with_its_words_in_another_width() {
        let sheet = sheet();
        let anchor = Anchor { paragraph: 1, byte: 6 };
        assert_eq!(Flow::of(&sheet, 8).line_of(anchor), 2);
        assert_eq!(Flow::of(&sheet, 40).line_of(anchor), 1);
    }

    #[test]
    fn the_line_to_keep_moves_the_window_least() {
        let flow = Flow::of(&sheet(), 40);
        assert_eq!(flow.top(Anchor::default(), Some(3), 2), 2);
        assert_eq!(flow.top(Anchor::default(), Some(1), 2), 0);
    }
}
