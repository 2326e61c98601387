//! PDF bytes in, pages of positioned glyphs with their style out.
//!
//! A file's structure comes from one of two back ends; content streams, fonts and encodings are read here. Words and
//! lines are `layout`'s.

mod accents;
mod content;
mod document;
mod font;
mod inflate;
mod labels;
mod lexer;
mod matrix;
mod objects;
mod page;
mod paint;
mod structure;
mod unicode;

/// Why a file gives no book.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// The bytes are of another kind of file.
    #[error("this is no PDF file: it has neither a PDF's heading nor its objects; give the flora as PDF")]
    NotPdf,
    /// There are no bytes.
    #[error("the file is empty (0 bytes): copy or download it once more")]
    Empty,
    /// The file opens only with a password.
    #[error(
        "the file is locked with a password: take the password away with a PDF program, then read it again"
    )]
    NeedsPassword,
    /// The file holds no pages.
    #[error("the file holds no pages: it may be damaged, so copy or download it once more")]
    NoPages,
    /// The file is broken beyond mending.
    #[error("the file is damaged and can't be read ({what}): copy or download it once more")]
    Damaged {
        /// What the reader of the file's structure says.
        what: String,
    },
    /// The pages are pictures.
    #[error(
        "no text was found on any page ({pages} in all), so the file is a scan: it needs OCR (text recognition) first"
    )]
    NoText {
        /// Number of pages.
        pages: usize,
    },
    /// The pages hold something, but no text came of it.
    #[error(
        "no text can be read from the file ({what}): give another copy of the book, or one after OCR (text recognition)"
    )]
    Unreadable {
        /// What was lost on the first such page.
        what: String,
    },
}

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

/// One character on its page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// What it stands for; ligatures come as several glyphs that share the width.
    pub character: char,
    /// Left end of the baseline, in points along the direction of writing.
    pub x: f32,
    /// Advance along the baseline.
    pub width: f32,
}

/// Whether a span can be seen, and whether the file calls it furniture.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Role {
    /// Text of the page.
    #[default]
    Text,
    /// Marked by the file as belonging to the page and not to the text: a running head or folio.
    Furniture,
    /// Not painted: text laid under the picture of a scanned page.
    Unseen,
}

/// Glyphs that follow each other on one baseline in one face and size.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// Weight and slant.
    pub face: Face,
    /// Font size as seen on the page.
    pub size: f32,
    /// Baseline in points from the top of the page as it stands for this span's direction.
    pub y: f32,
    /// Quarter turns against the clock of the direction of writing; positions are those on the page turned back.
    pub turn: u8,
    /// What it is to the page.
    pub role: Role,
    /// Its glyphs in [`Page::glyphs`].
    pub glyphs: std::ops::Range<u32>,
}

/// A straight rule, as under a table's head or above footnotes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Left, or upper, end.
    pub from: (f32, f32),
    /// Right, or lower, end.
    pub to: (f32, f32),
}

/// Where a picture or a box is painted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Area {
    /// Left edge.
    pub left: f32,
    /// Upper edge.
    pub top: f32,
    /// Right edge.
    pub right: f32,
    /// Lower edge.
    pub bottom: f32,
}

/// One page. Positions are in points, upright after the page's own rotation, y downwards from the top.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// Spans in the order of the content stream.
    pub spans: Vec<Span>,
    /// The glyphs of all spans.
    pub glyphs: Vec<Glyph>,
    /// Level and upright rules.
    pub rules: Vec<Rule>,
    /// Pictures and painted boxes.
    pub pictures: Vec<Area>,
    /// Width and height in points, upright.
    pub size: (f32, f32),
    /// Why part of it could not be read, if so: one plain clause.
    pub lost: Option<String>,
}

/// A book's pages, or what was wanted of each.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document<P = Page> {
    /// The pages in order.
    pub pages: Vec<P>,
    /// The title that the file's metadata give.
    pub title: Option<String>,
    /// The folio of each page as the file has it, whatever is printed; none where it gives none.
    pub labels: Vec<Option<String>>,
}

/// Reads a file; `progress` is told how many pages are done, of how many.
pub fn read(bytes: Vec<u8>, progress: &(dyn Fn(u32, u32) + Sync)) -> Result<Document, Error> {
    document::read(bytes, progress, &Page::clone)
}

/// Reads a file as [`read`] does, but keeps of each page only what `each` returns for it: the glyphs of a whole book take
/// far more room than what is made of them.
pub fn read_each<T: Send>(
    bytes: Vec<u8>,
    progress: &(dyn Fn(u32, u32) + Sync),
    each: &(dyn Fn(&Page) -> T + Sync),
) -> Result<Document<T>, Error> {
    document::read(bytes, progress, each)
}

#[cfg(test)]
mod tests;
