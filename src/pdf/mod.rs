//! PDF bytes in, pages of positioned glyphs with their style out.
//!
//! Structure comes from lopdf; content streams, fonts and encodings are read here. Words and lines are `layout`'s.

/// Weight and slant of a glyph, and whether its font holds small capitals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Face {
    /// Bold or semibold.
    pub bold: bool,
    /// Italic or oblique.
    pub italic: bool,
    /// A small-capitals font.
    pub small_caps: bool,
}

/// A glyph on its page. Positions are in points, upright after the page's own rotation, y downwards from the top.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// What it stands for: usually one character, ligatures spelled out.
    pub text: String,
    /// Left end of the baseline.
    pub x: f32,
    /// Baseline.
    pub y: f32,
    /// Advance along the baseline.
    pub width: f32,
    /// Font size as seen on the page.
    pub size: f32,
    /// Weight and slant.
    pub face: Face,
}

/// One page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// Glyphs in the order of the content stream.
    pub glyphs: Vec<Glyph>,
    /// Width and height in points, upright.
    pub size: (f32, f32),
}

/// A book's pages.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// The pages in order.
    pub pages: Vec<Page>,
    /// The title that the file's metadata give.
    pub title: Option<String>,
}
