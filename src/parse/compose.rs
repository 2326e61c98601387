//! Lines put together to one text, with what the typesetter showed beside it: gaps, leaders, sizes, line starts.

use unicode_normalization::UnicodeNormalization;

use crate::layout::{Gap, Line, LineEnd, Run};
use crate::model::{Page, Style, StyleRun, Text};

/// A run of the source inside a composed text.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chunk {
    /// Byte where it starts.
    pub(crate) start: usize,
    /// Byte where it ends.
    pub(crate) end: usize,
    /// Style of its type.
    pub(crate) style: Style,
    /// Size of its type in points.
    pub(crate) size: f32,
    /// What stands before it; the first run of a line has the gap that its line opens with.
    pub(crate) before: Gap,
}

/// A text made of lines, and where its parts come from.
#[derive(Clone, Debug, Default)]
pub(crate) struct Composed {
    /// The words.
    pub(crate) text: Text,
    /// The runs in order.
    pub(crate) chunks: Vec<Chunk>,
    /// Byte where each line starts.
    pub(crate) lines: Vec<usize>,
}

impl Composed {
    /// Returns the words.
    pub(crate) fn str(&self) -> &str {
        &self.text.plain
    }

    /// Returns the run that holds a byte.
    pub(crate) fn chunk_at(&self, byte: usize) -> Option<&Chunk> {
        let after = self.chunks.partition_point(|chunk| chunk.start <= byte);
        after.checked_sub(1).map(|at| &self.chunks[at])
    }
}

/// Share of the column that stands empty before a line that is set right.
const SET_RIGHT_SHARE: f32 = 0.35;
/// Points of white space that may be left after a line that is set right.
const SET_RIGHT_ROOM: f32 = 3.0;

/// Says whether a line stands at the right edge of its column, far from the left.
pub(crate) fn is_set_right(line: &Line) -> bool {
    let width = line.indent + (line.x1 - line.x0) + line.room;
    line.room < SET_RIGHT_ROOM && line.indent > width * SET_RIGHT_SHARE
}

/// Puts lines together: words broken at line ends are rejoined, leaders and gaps become one space.
pub(crate) fn compose<'a>(lines: impl IntoIterator<Item = &'a Line>) -> Composed {
    let mut maker = Maker::default();
    for line in lines {
        maker.line(line);
    }
    maker.finish()
}

#[derive(Default)]
struct Maker {
    done: Composed,
    join: LineEnd,
    page: u32,
    /// A leader ran to the end of the line before.
    led: bool,
}

impl Maker {
    fn line(&mut self, line: &Line) {
        let number = self.done.lines.len();
        let mut first = true;
        let led = line.runs.last().is_some_and(|run| run.text.is_empty() && run.before == Gap::Leader);
        for run in line.runs.iter().filter(|run| !run.text.is_empty()) {
            if first {
                self.join_line();
                self.done.lines.push(self.done.text.plain.len());
            } else if run.before != Gap::None {
                self.space();
            }
            self.run(run, line, number, first);
            first = false;
        }
        if !first {
            self.join = line.end;
            self.led = led;
        }
    }

    fn join_line(&mut self) {
        let plain = &mut self.done.text.plain;
        match self.join {
            LineEnd::Broken if plain.ends_with(['-', '‐', '\u{ad}']) => {
                plain.pop();
                let end = plain.len();
                if let Some(chunk) = self.done.chunks.last_mut() {
                    chunk.end = chunk.end.min(end);
                }
            }
            LineEnd::Broken | LineEnd::Compound => {}
            LineEnd::Space => self.space(),
        }
    }

    fn space(&mut self) {
        let plain = &mut self.done.text.plain;
        if !plain.is_empty() && !plain.ends_with(' ') {
            plain.push(' ');
        }
    }

    fn run(&mut self, run: &Run, line: &Line, number: usize, first: bool) {
        let start = self.done.text.plain.len();
        if self.page != line.page {
            self.page = line.page;
            self.done.text.pages.push((start as u32, Page(line.page)));
        }
        let style = Style {
            bold: run.style.bold,
            italic: run.style.italic,
            small_caps: run.style.small_caps,
            raised: run.style.raised,
        };
        if self.done.text.styles.last().is_none_or(|last| last.style != style) {
            self.done.text.styles.push(StyleRun { start: start as u32, style });
        }
        self.done.text.plain.extend(run.text.nfc());
        let before = match run.before {
            Gap::None | Gap::Space if first && self.led => Gap::Leader,
            Gap::None if first && number > 0 && is_set_right(line) => Gap::Wide,
            Gap::None if first => Gap::Space,
            other => other,
        };
        self.done.chunks.push(Chunk {
            start,
            end: self.done.text.plain.len(),
            style,
            size: run.size,
            before,
        });
    }

    fn finish(mut self) -> Composed {
        if self.done.text.styles.iter().all(|run| run.style == Style::default()) {
            self.done.text.styles.clear();
        }
        self.done
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    #[test]
    fn a_broken_word_is_one_word() {
        let lines = crate::parse::fixture::lines("Leaves oppo¬\nsite, white-\nhairy");
        assert_eq!(compose(&lines).str(), "Leaves opposite, white-hairy");
    }
}
