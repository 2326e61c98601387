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
}

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
        for (block, paragraph) in sheet.blocks.iter().enumerate() {
            if paragraph.kind == Kind::Heading && block > 0 {
                let behind = sheet.blocks[block - 1].text.plain.len() + 1;
                lines.push(Line { block: block - 1, range: behind..behind, indent: 0 });
            }
            let indent = paragraph.indent.min(width / 2);
            let hang = paragraph.hang.min(width / 2);
            let plain = &paragraph.text.plain;
            let columns = usize::from(width - hang.max(indent));
            if paragraph.kind == Kind::Set {
                lines.push(Line { block, range: 0..plain.len(), indent: 0 });
                continue;
            }
            let rows = if paragraph.kind == Kind::ShortRow { 1 } else { usize::MAX };
            for (at, range) in wrap(plain, columns).into_iter().enumerate().take(rows) {
                lines.push(Line { block, range, indent: if at == 0 { indent } else { hang } });
            }
        }
        Self { lines }
    }

    /// Returns the line that an anchor stands on.
    pub(crate) fn line_of(&self, anchor: Anchor) -> usize {
        let before = |line: &Line| (line.block, line.range.start) <= (anchor.paragraph, anchor.byte);
        self.lines.partition_point(before).saturating_sub(1)
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
