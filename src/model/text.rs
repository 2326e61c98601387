//! A text with its styles and the source pages that it stands on. It is never changed after the book was read.

use serde::{Deserialize, Serialize};

/// A page of the source by its position, counted from 1 through all files of the flora; not the printed folio.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Page(pub u32);

impl std::fmt::Display for Page {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

/// How a run of text is set, as far as it carries meaning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[expect(clippy::struct_excessive_bools, reason = "four independent properties of type")]
pub struct Style {
    /// Bold or semibold weight.
    pub bold: bool,
    /// Italic or oblique.
    pub italic: bool,
    /// Small capitals.
    pub small_caps: bool,
    /// Superior figures and letters (footnote marks, exponents).
    pub raised: bool,
}

/// One style from `start` up to the next run's start.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct StyleRun {
    /// Byte offset in the text.
    pub start: u32,
    /// The style from there on.
    pub style: Style,
}

/// A paragraph's text: NFC, one space between words, words broken at line ends rejoined.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Text {
    /// The words.
    pub plain: String,
    /// Style runs in order of `start`; empty when all is roman.
    pub styles: Vec<StyleRun>,
    /// Byte offset and page, in order; the first offset is 0. Empty only for texts that stand on no page.
    pub pages: Vec<(u32, Page)>,
}

impl Text {
    /// Returns a roman text that stands on one page.
    pub fn plain(words: &str, page: Page) -> Self {
        Self { plain: words.to_owned(), styles: Vec::new(), pages: vec![(0, page)] }
    }

    /// Returns the style at a byte offset.
    pub fn style_at(&self, byte: usize) -> Style {
        let after = self.styles.partition_point(|run| run.start as usize <= byte);
        after.checked_sub(1).map_or_else(Style::default, |at| self.styles[at].style)
    }

    /// Returns the page that a byte offset stands on, or page 1 for a text without pages.
    pub fn page_at(&self, byte: usize) -> Page {
        let after = self.pages.partition_point(|(start, _)| *start as usize <= byte);
        after.checked_sub(1).map_or(Page(1), |at| self.pages[at].1)
    }

    /// Returns the first page.
    pub fn page(&self) -> Page {
        self.page_at(0)
    }

    /// Returns the last page.
    pub fn last_page(&self) -> Page {
        self.pages.last().map_or(Page(1), |(_, page)| *page)
    }

    /// Says whether there is no word at all.
    pub fn is_empty(&self) -> bool {
        self.plain.is_empty()
    }

    /// Returns this text with another behind it, a blank between them; one that is empty adds nothing.
    #[must_use]
    pub fn followed_by(&self, other: &Self) -> Self {
        if self.is_empty() || other.is_empty() {
            return if self.is_empty() { other.clone() } else { self.clone() };
        }
        let mut text = self.clone();
        text.plain.push(' ');
        let start = text.plain.len() as u32;
        text.plain.push_str(&other.plain);
        if !(self.styles.is_empty() && other.styles.is_empty()) {
            let run = |start, style| StyleRun { start, style };
            if self.styles.is_empty() {
                text.styles.push(run(0, Style::default()));
            }
            if other.styles.first().is_none_or(|first| first.start > 0) {
                text.styles.push(run(start, Style::default()));
            }
            text.styles.extend(other.styles.iter().map(|one| run(one.start + start, one.style)));
        }
        let last = text.last_page();
        let turned = other.pages.iter().filter(|(at, page)| *at > 0 || *page != last);
        text.pages.extend(turned.map(|(at, page)| (at + start, *page)));
        text
    }

    /// Returns a part, trimmed of blanks at both ends, with its styles and pages.
    ///
    /// `range` is in bytes and must lie on character boundaries.
    #[must_use]
    pub fn slice(&self, range: std::ops::Range<usize>) -> Self {
        let part = &self.plain[range.clone()];
        let start = range.start + (part.len() - part.trim_start().len());
        let end = (start + part.trim().len()).max(start);
        let mut styles: Vec<StyleRun> = Vec::new();
        let mut pages: Vec<(u32, Page)> = Vec::new();
        if !self.styles.is_empty() {
            styles.push(StyleRun { start: 0, style: self.style_at(start) });
            let inside =
                self.styles.iter().filter(|run| (run.start as usize) > start && (run.start as usize) < end);
            styles.extend(inside.map(|run| StyleRun { start: run.start - start as u32, style: run.style }));
            if styles.iter().all(|run| run.style == Style::default()) {
                styles.clear();
            }
        }
        if !self.pages.is_empty() {
            pages.push((0, self.page_at(start)));
            let inside = self.pages.iter().filter(|(at, _)| (*at as usize) > start && (*at as usize) < end);
            pages.extend(inside.map(|(at, page)| (at - start as u32, *page)));
        }
        Self { plain: self.plain[start..end].to_owned(), styles, pages }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slice_keeps_styles_and_pages() {
        let italic = Style { italic: true, ..Style::default() };
        let text = Text {
            plain: "the Silene here".to_owned(),
            styles: vec![
                StyleRun { start: 0, style: Style::default() },
                StyleRun { start: 4, style: italic },
                StyleRun { start: 10, style: Style::default() },
            ],
            pages: vec![(0, Page(3)), (11, Page(4))],
        };
        let part = text.slice(3..15);
        assert_eq!(part.plain, "Silene here");
        assert_eq!(part.style_at(0), italic);
        assert_eq!(part.style_at(7), Style::default());
        assert_eq!((part.page_at(0), part.page_at(7)), (Page(3), Page(4)));
    }
}
