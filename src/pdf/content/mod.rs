//! A page's content stream comes in; its glyphs, placed and styled, go out.
//!
//! All operators that show or place text are followed, also inside forms; of drawings only straight rules are kept.

mod annotation;
mod form;
mod layers;
mod mark;
mod note;
mod path;
mod show;
mod state;

use std::collections::HashMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, RwLock};

use lopdf::{Dictionary, Object, ObjectId, Stream};

use crate::pdf::Page;
use crate::pdf::content::layers::Layers;
use crate::pdf::content::mark::Mark;
use crate::pdf::content::path::Path;
use crate::pdf::content::state::State;
use crate::pdf::font::Font;
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{dictionary, named, resolve, unpack};
use crate::pdf::paint::Canvas;
use crate::pdf::unicode::encodings::Base;

/// Operators of one page at most.
const MAX_OPERATORS: u32 = 20_000_000;
/// Bytes of content and of fonts that all pages of a file may unpack to, and how many more for each byte of the file:
/// pages may share their content and their forms.
const MAX_CONTENT: (usize, usize) = (512 << 20, 16);
/// Forms within forms.
const MAX_DEPTH: usize = 12;
/// Saved states at most.
const MAX_SAVED: usize = 512;

/// What the pages of one file share.
pub(super) struct Shared<'a> {
    /// The file.
    pub(super) file: &'a lopdf::Document,
    layers: Layers,
    fonts: RwLock<HashMap<ObjectId, Arc<Font>>>,
    /// Bytes of content and of fonts that may still be unpacked.
    room: AtomicUsize,
}

impl<'a> Shared<'a> {
    /// Makes the store of fonts, empty; `length` is that of the file.
    pub(super) fn new(file: &'a lopdf::Document, length: usize) -> Self {
        let (least, by_byte) = MAX_CONTENT;
        let room = AtomicUsize::new(least.saturating_add(by_byte.saturating_mul(length)));
        Self { file, layers: Layers::read(file), fonts: RwLock::default(), room }
    }

    /// Unpacks content as [`unpack`] does; nothing where the file has had more than is sensible.
    pub(super) fn unpack(&self, stream: &Stream, out: &mut Vec<u8>) -> Option<bool> {
        if self.room.load(Ordering::Relaxed) == 0 {
            return None;
        }
        let before = out.len();
        let whole = unpack(self.file, stream, out);
        self.take(out.len() - before);
        Some(whole)
    }

    fn take(&self, bytes: usize) {
        let less = |room: usize| Some(room.saturating_sub(bytes));
        _ = self.room.fetch_update(Ordering::Relaxed, Ordering::Relaxed, less);
    }

    fn font(&self, object: &Object) -> Option<Arc<Font>> {
        let id = object.as_reference().ok();
        if let Some(id) = id
            && let Some(font) = self.fonts.read().ok()?.get(&id)
        {
            return Some(Arc::clone(font));
        }
        let Object::Dictionary(dict) = resolve(self.file, object) else { return None };
        if self.room.load(Ordering::Relaxed) == 0 {
            return None;
        }
        let font = Arc::new(Font::read(self.file, dict));
        self.take(font.unpacked);
        if let Some(id) = id {
            self.fonts.write().ok()?.insert(id, Arc::clone(&font));
        }
        Some(font)
    }
}

/// A page that was read.
pub(super) struct Read {
    /// The page.
    pub(super) page: Page,
    /// Whether something is missing that another back end might find in the file.
    pub(super) open: bool,
}

/// What is to be read of a page.
pub(super) struct Source<'a> {
    /// The page's object, for its annotations.
    pub(super) page: &'a Dictionary,
    /// Its content, unpacked.
    pub(super) content: &'a [u8],
    /// What it draws with.
    pub(super) resources: Option<&'a Dictionary>,
}

/// Reads a page onto an empty canvas; `base` leads from the file's coordinates to the page as seen.
pub(super) fn read(shared: &Shared, source: &Source, base: Matrix, canvas: Canvas) -> Read {
    let mut reader = Reader {
        shared,
        canvas,
        state: State::new(base),
        saved: Vec::new(),
        marks: Vec::new(),
        path: Path::default(),
        operators: 0,
        forms: Vec::new(),
        missing: Missing::default(),
    };
    reader.run(source.content, source.resources);
    reader.annotations(source.page, base);
    let cut = reader.operators >= MAX_OPERATORS;
    let (unknown, missing) = (reader.canvas.unknown, reader.missing);
    let mut page = reader.canvas.finish();
    page.lost = if cut {
        Some(TOO_MUCH.to_owned())
    } else if missing.forms > 0 {
        Some("a part of its content is missing or damaged".to_owned())
    } else if missing.letters > 0 {
        Some(format!("the font of {} of its signs is missing", missing.letters))
    } else {
        (unknown > MAX_UNKNOWN + page.glyphs.len() / UNKNOWN_SHARE)
            .then(|| format!("its font does not say which letters {unknown} of its signs are"))
    };
    Read { page, open: missing != Missing::default() && !cut }
}

/// What is said of a page that was not read to its end.
pub(super) const TOO_MUCH: &str = "the page has more content than is sensible";

/// What a page's content asks for in vain.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
struct Missing {
    /// Bytes of strings that have no font.
    letters: usize,
    /// Forms that are not there, or not whole.
    forms: usize,
}

/// Signs without a known character that a page may have unsaid: ornaments and drawn bullets.
const MAX_UNKNOWN: usize = 4;
/// A page says so when more than one sign in so many is unknown.
const UNKNOWN_SHARE: usize = 50;

/// Reads a text string, as of the file's metadata: what stands outside of contents.
pub(super) fn text_string(bytes: &[u8]) -> String {
    match bytes {
        [0xfe, 0xff, rest @ ..] => utf16(rest, u16::from_be_bytes),
        // Not in the standard, but met.
        [0xff, 0xfe, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        _ => {
            let table = Base::Doc.table();
            bytes.iter().filter_map(|&byte| table[usize::from(byte)]).collect()
        }
    }
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let units: Vec<u16> = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]])).collect();
    String::from_utf16_lossy(&units)
}

struct Reader<'a> {
    shared: &'a Shared<'a>,
    canvas: Canvas,
    state: State,
    saved: Vec<State>,
    marks: Vec<Mark>,
    path: Path,
    operators: u32,
    /// The forms that are being read, against loops.
    forms: Vec<ObjectId>,
    missing: Missing,
}

type Resources<'r> = Option<&'r Dictionary>;

/// The fonts that one content stream has named so far; there are few.
type Fonts<'c> = Vec<(&'c [u8], Option<Arc<Font>>)>;

impl Reader<'_> {
    fn run(&mut self, content: &[u8], resources: Resources) {
        let mut lexer = Lexer::new(content);
        let mut fonts = Vec::new();
        while let Some(operator) = lexer.next_operator() {
            self.operators += 1;
            if self.operators >= MAX_OPERATORS {
                return;
            }
            match operator {
                b"Tj" | b"TJ" | b"'" | b"\"" => self.show_operator(operator, &lexer),
                b"Tf" => self.set_font(&lexer, resources, &mut fonts),
                b"Do" => self.invoke(&lexer, resources),
                b"gs" => self.set_from_dictionary(&lexer, resources),
                b"BDC" | b"BMC" => self.begin_mark(&lexer, resources),
                b"EMC" => self.end_mark(),
                b"ID" => lexer.skip_inline_image(),
                b"sh" => self.canvas.ground_all(),
                b"m" | b"l" | b"re" | b"c" | b"v" | b"y" | b"W" | b"W*" | b"S" | b"s" | b"f" | b"F"
                | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"n" => self.draw(operator, &lexer),
                _ => self.set(operator, &lexer, resources),
            }
        }
    }

    fn set_font<'c>(&mut self, lexer: &Lexer<'c>, resources: Resources, fonts: &mut Fonts<'c>) {
        let [Operand::Name(key), Operand::Number(size)] = lexer.operands[..] else { return };
        self.state.size = size;
        if let Some((_, font)) = fonts.iter().find(|(name, _)| *name == key) {
            self.state.font.clone_from(font);
            return;
        }
        let file = self.shared.file;
        let object =
            resources.and_then(|dict| dictionary(file, dict, b"Font")).and_then(|list| named(list, key));
        let font = object.and_then(|object| self.shared.font(object));
        fonts.push((key, font.clone()));
        self.state.font = font;
    }
}
