//! Notes and form fields that come without an appearance: what they say is set in lines within their rectangle.
//!
//! Whoever shows such a file makes the appearance; where exactly the lines stand is not said by it.

use lopdf::{Dictionary, Document, Object};

use crate::pdf::content::annotation::usual_resources;
use crate::pdf::content::{Reader, text_string};
use crate::pdf::font::{Text, usual_width};
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::objects::{dictionary, get, name};
use crate::pdf::paint::{Setting, turn_of};
use crate::pdf::{Face, Role};

/// Fields above a field that are asked for what it leaves out.
const MAX_PARENTS: usize = 8;
/// Bytes of one note that are set at most.
const MAX_NOTE: usize = 1 << 16;
/// Bits of a field's flags for one of several lines, and for one whose value is secret.
const SEVERAL_LINES: u32 = 1 << 12;
const SECRET: u32 = 1 << 13;
/// Size where none is given, or zero, which is "as fits".
const USUAL_SIZE: f32 = 12.0;
/// Share of a field's height that its letters take where they are made to fit.
const FITTING: f32 = 0.7;
/// Distance from one line to the next in em.
const LEADING: f32 = 1.15;
/// Points between the edge of the rectangle and what is in it.
const MARGIN: f32 = 2.0;
/// Part of the size by which the middle of the letters is above the baseline.
const MIDDLE: f32 = 0.35;

/// What a note says, and how it is to be set.
pub(super) struct Note<'a> {
    text: String,
    /// Where the lines go from the upper edge, and not on one line in the middle.
    from_top: bool,
    /// Name of the font, and its size.
    font: (Vec<u8>, f32),
    fonts: Option<&'a Dictionary>,
}

/// Returns what an annotation says that is of a kind which shows text.
pub(super) fn read<'a>(file: &'a Document, annotation: &'a Dictionary) -> Option<Note<'a>> {
    let flags = inherited(file, annotation, b"Ff").and_then(|flags| flags.as_i64().ok()).unwrap_or(0) as u32;
    let (said, from_top) = match name(file, annotation, b"Subtype")?.as_str() {
        "FreeText" => (get(file, annotation, b"Contents"), true),
        "Widget" if flags & SECRET == 0 && is_text(file, annotation) => {
            (inherited(file, annotation, b"V"), flags & SEVERAL_LINES != 0)
        }
        _ => return None,
    };
    let Some(Object::String(bytes, _)) = said else { return None };
    let text = text_string(&bytes[..bytes.len().min(MAX_NOTE)]);
    let font = match inherited(file, annotation, b"DA") {
        Some(Object::String(bytes, _)) => font_of(bytes),
        _ => (Vec::new(), 0.0),
    };
    let fonts = usual_resources(file).and_then(|dict| dictionary(file, dict, b"Font"));
    (!text.trim().is_empty()).then_some(Note { text, from_top, font, fonts })
}

/// Tells whether a field holds text or a choice of texts.
fn is_text(file: &Document, annotation: &Dictionary) -> bool {
    matches!(inherited(file, annotation, b"FT"), Some(Object::Name(kind)) if kind == b"Tx" || kind == b"Ch")
}

/// Returns a member of a field, or of the nearest field above it that has one.
fn inherited<'a>(file: &'a Document, field: &'a Dictionary, key: &[u8]) -> Option<&'a Object> {
    let mut chain = std::iter::successors(Some(field), |field| dictionary(file, field, b"Parent"));
    chain.by_ref().take(MAX_PARENTS).find_map(|field| get(file, field, key))
}

/// Returns name and size of the font that a default appearance sets.
fn font_of(appearance: &[u8]) -> (Vec<u8>, f32) {
    let mut lexer = Lexer::new(appearance);
    while let Some(operator) = lexer.next_operator() {
        if let (b"Tf", [Operand::Name(name), Operand::Number(size)]) = (operator, &lexer.operands[..]) {
            return (name.to_vec(), size.abs());
        }
    }
    (Vec::new(), 0.0)
}

impl Reader<'_> {
    /// Sets a note within its rectangle.
    pub(super) fn write(&mut self, note: &Note, [left, bottom, right, top]: [f32; 4]) {
        let (left, right) = (left.min(right) + MARGIN, left.max(right) - MARGIN);
        let (bottom, top) = (bottom.min(top), bottom.max(top));
        let size = match note.font.1 {
            size if size > 0.0 => size,
            _ if note.from_top => USUAL_SIZE,
            _ => USUAL_SIZE.min(FITTING * (top - bottom)),
        };
        let font = note.fonts.and_then(|fonts| fonts.get(&note.font.0).ok());
        let face = font.and_then(|font| self.shared.font(font)).map_or(Face::default(), |font| font.face);
        let first =
            if note.from_top { top - MARGIN - size } else { f32::midpoint(top, bottom) - MIDDLE * size };
        let room = if note.from_top { right - left } else { f32::INFINITY };
        for (index, line) in lines(&note.text, room / size).iter().enumerate() {
            self.write_line(line, (left, first - LEADING * size * index as f32), (face, size));
        }
    }

    fn write_line(&mut self, line: &str, (mut x, y): (f32, f32), (face, size): (Face, f32)) {
        let base = self.state.ctm;
        let Some(turn) = turn_of((base.a, base.b)) else { return };
        let length = base.a.hypot(base.b);
        self.canvas.begin(Setting { face, size: size * length, role: Role::Text, turn });
        for character in line.chars() {
            let width = usual_width(character) * size;
            self.canvas.add(Text::One(character), base.at(x, y), width * length);
            x += width;
        }
    }
}

/// Breaks a text into lines that are so many em wide at most.
fn lines(text: &str, room: f32) -> Vec<String> {
    let width = |text: &str| text.chars().map(usual_width).sum::<f32>();
    let mut lines = Vec::new();
    for paragraph in text.split(['\r', '\n']).filter(|paragraph| !paragraph.trim().is_empty()) {
        let (mut line, mut wide) = (String::new(), 0.0);
        for word in paragraph.split_whitespace() {
            let more = width(word) + usual_width(' ');
            if !line.is_empty() && wide + more > room {
                lines.push(std::mem::take(&mut line));
                wide = 0.0;
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            wide += more;
        }
        lines.push(line);
    }
    lines
}
