//! Texts put together from pieces, each keeping its styles and pages. No words are changed.

use crate::model::{Style, StyleRun, Text};

/// A text in the making.
#[derive(Debug, Default)]
pub(crate) struct Composer {
    text: Text,
}

impl Composer {
    /// Begins an empty text.
    pub(crate) fn new() -> Self {
        Self::default()
    }

    /// Adds roman words.
    pub(crate) fn add(mut self, words: &str) -> Self {
        self.run(Style::default());
        self.text.plain.push_str(words);
        self
    }

    /// Adds bold words.
    pub(crate) fn bold(mut self, words: &str) -> Self {
        self.run(Style { bold: true, ..Style::default() });
        self.text.plain.push_str(words);
        self
    }

    /// Adds italic words.
    pub(crate) fn italic(mut self, words: &str) -> Self {
        self.run(Style { italic: true, ..Style::default() });
        self.text.plain.push_str(words);
        self
    }

    /// Adds a text of the book with its styles and pages.
    pub(crate) fn text_of(mut self, text: &Text) -> Self {
        let start = self.text.plain.len() as u32;
        self.run(text.style_at(0));
        let later = text.styles.iter().filter(|run| run.start > 0);
        self.text.styles.extend(later.map(|run| StyleRun { start: run.start + start, style: run.style }));
        let first_page = self.text.pages.is_empty();
        let at = |byte: u32| if first_page && byte == 0 { 0 } else { byte + start };
        self.text.pages.extend(text.pages.iter().map(|(byte, page)| (at(*byte), *page)));
        self.text.plain.push_str(&text.plain);
        self
    }

    /// Returns the bytes so far, where the next piece begins.
    pub(crate) fn len(&self) -> usize {
        self.text.plain.len()
    }

    /// Returns the finished text.
    pub(crate) fn text(self) -> Text {
        self.text
    }

    fn run(&mut self, style: Style) {
        self.text.styles.push(StyleRun { start: self.text.plain.len() as u32, style });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Page;

    #[test]
    fn a_piece_keeps_its_style_and_page_behind_a_heading() {
        let text = Composer::new().bold("Habitat. ").text_of(&Text::plain("wet rock", Page(4))).text();
        assert_eq!(text.plain, "Habitat. wet rock");
        assert!(text.style_at(0).bold && !text.style_at(9).bold);
        assert_eq!(text.page_at(0), Page(4));
    }
}
