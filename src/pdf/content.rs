//! A page's content stream comes in; its glyphs, placed and styled, go out.
//!
//! All operators that show or place text are followed, also inside forms; of drawings only straight rules are kept.

use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, RwLock};

use lopdf::{Dictionary, Object, ObjectId};

use crate::pdf::font::Font;
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{array, dictionary, get, name, number_of, resolve, unpacked};
use crate::pdf::paint::{Canvas, Setting, turn_of};
use crate::pdf::unicode::encodings::Base;
use crate::pdf::{Page, Role};

/// Operators of one page at most.
const MAX_OPERATORS: u32 = 20_000_000;
/// Forms within forms.
const MAX_DEPTH: usize = 12;
/// Saved states at most.
const MAX_SAVED: usize = 512;

/// What the pages of one file share.
pub(super) struct Shared<'a> {
    /// The file.
    pub(super) file: &'a lopdf::Document,
    hidden: BTreeSet<ObjectId>,
    fonts: RwLock<HashMap<ObjectId, Arc<Font>>>,
}

impl<'a> Shared<'a> {
    /// Makes the store of fonts, empty.
    pub(super) fn new(file: &'a lopdf::Document, hidden: BTreeSet<ObjectId>) -> Self {
        Self { file, hidden, fonts: RwLock::default() }
    }

    fn font(&self, object: &Object) -> Option<Arc<Font>> {
        let id = object.as_reference().ok();
        if let Some(id) = id
            && let Some(font) = self.fonts.read().ok()?.get(&id)
        {
            return Some(Arc::clone(font));
        }
        let Object::Dictionary(dict) = resolve(self.file, object) else { return None };
        let font = Arc::new(Font::read(self.file, dict));
        if let Some(id) = id {
            self.fonts.write().ok()?.insert(id, Arc::clone(&font));
        }
        Some(font)
    }
}

/// Reads a page's content onto an empty canvas; `base` leads from the file's coordinates to the page as seen.
pub(super) fn read(
    shared: &Shared,
    (content, resources): (&[u8], Option<&Dictionary>),
    base: Matrix,
    canvas: Canvas,
) -> Page {
    let mut reader = Reader {
        shared,
        canvas,
        state: State::new(base),
        saved: Vec::new(),
        marks: Vec::new(),
        path: Vec::new(),
        operators: 0,
        forms: Vec::new(),
    };
    reader.run(content, resources);
    let cut = reader.operators >= MAX_OPERATORS;
    let unknown = reader.canvas.unknown;
    let mut page = reader.canvas.finish();
    page.lost = if cut {
        Some("the page has more content than is sensible".to_owned())
    } else {
        (unknown > MAX_UNKNOWN + page.glyphs.len() / UNKNOWN_SHARE)
            .then(|| format!("its font does not say which letters {unknown} of its signs are"))
    };
    page
}

/// Signs without a known character that a page may have unsaid: ornaments and drawn bullets.
const MAX_UNKNOWN: usize = 4;
/// A page says so when more than one sign in so many is unknown.
const UNKNOWN_SHARE: usize = 50;

/// Reads a text string of the file's metadata.
pub(super) fn text_string(bytes: &[u8]) -> String {
    match bytes {
        [0xfe, 0xff, rest @ ..] => {
            let units: Vec<u16> =
                rest.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
            String::from_utf16_lossy(&units)
        }
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        _ => {
            let table = Base::Win.table();
            bytes.iter().filter_map(|&byte| table[usize::from(byte)]).collect()
        }
    }
}

/// The part of the graphics state that text depends on.
#[derive(Clone)]
struct State {
    ctm: Matrix,
    text: Matrix,
    line: Matrix,
    font: Option<Arc<Font>>,
    size: f32,
    character_space: f32,
    word_space: f32,
    stretch: f32,
    leading: f32,
    rise: f32,
    mode: u8,
}

impl State {
    fn new(ctm: Matrix) -> Self {
        Self {
            ctm,
            text: Matrix::IDENTITY,
            line: Matrix::IDENTITY,
            font: None,
            size: 0.0,
            character_space: 0.0,
            word_space: 0.0,
            stretch: 1.0,
            leading: 0.0,
            rise: 0.0,
            mode: 0,
        }
    }
}

/// What a marked piece of content means for the text in it.
enum Mark {
    /// Nothing.
    Plain,
    /// It belongs to the page and not to the text.
    Furniture,
    /// It is on a layer that is not shown.
    Hidden,
    /// It stands for another text; the glyphs before it are counted.
    Instead(String, usize),
}

struct Reader<'a> {
    shared: &'a Shared<'a>,
    canvas: Canvas,
    state: State,
    saved: Vec<State>,
    marks: Vec<Mark>,
    /// Lines of the path so far, on the page.
    path: Vec<((f32, f32), (f32, f32))>,
    operators: u32,
    /// The forms that are being read, against loops.
    forms: Vec<ObjectId>,
}

type Resources<'r> = Option<&'r Dictionary>;

/// The fonts that one content stream has named so far; there are few.
type Fonts<'c> = Vec<(&'c [u8], Option<Arc<Font>>)>;

impl Reader<'_> {
    fn run(&mut self, content: &[u8], resources: Resources) {
        let mut lexer = Lexer::new(content);
        let mut fonts = Vec::new();
        let mut pen = (0.0, 0.0);
        while let Some(operator) = lexer.next_operator() {
            self.operators += 1;
            if self.operators >= MAX_OPERATORS {
                return;
            }
            match operator {
                b"Tf" => self.set_font(&lexer, resources, &mut fonts),
                b"Do" => self.invoke(&lexer, resources),
                b"gs" => self.set_from_dictionary(&lexer, resources),
                b"BDC" | b"BMC" => self.begin_mark(&lexer, resources),
                b"EMC" => self.end_mark(),
                b"ID" => lexer.skip_inline_image(),
                b"Tj" | b"TJ" | b"'" | b"\"" => self.show_operator(operator, &lexer),
                b"m" | b"l" | b"re" | b"S" | b"s" | b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*"
                | b"n" => {
                    self.draw(operator, &lexer, &mut pen);
                }
                _ => self.set(operator, &lexer),
            }
        }
    }

    /// Follows the operators that only change the state.
    fn set(&mut self, operator: &[u8], lexer: &Lexer) {
        let state = &mut self.state;
        let first = lexer.number_at(0);
        match operator {
            b"q" if self.saved.len() < MAX_SAVED => self.saved.push(state.clone()),
            b"Q" => {
                if let Some(saved) = self.saved.pop() {
                    self.state = saved;
                }
            }
            b"cm" => state.ctm = six(lexer).then(state.ctm),
            b"BT" => (state.text, state.line) = (Matrix::IDENTITY, Matrix::IDENTITY),
            b"Tm" => {
                state.line = six(lexer);
                state.text = state.line;
            }
            b"Td" => self.next_line(first, lexer.number_at(1)),
            b"TD" => {
                state.leading = -lexer.number_at(1);
                self.next_line(first, lexer.number_at(1));
            }
            b"T*" => self.next_line(0.0, -self.state.leading),
            b"Tc" => state.character_space = first,
            b"Tw" => state.word_space = first,
            b"Tz" => state.stretch = first / 100.0,
            b"TL" => state.leading = first,
            b"Ts" => state.rise = first,
            b"Tr" => state.mode = first as u8,
            _ => {}
        }
    }

    fn next_line(&mut self, x: f32, y: f32) {
        self.state.line = self.state.line.moved(x, y);
        self.state.text = self.state.line;
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
            resources.and_then(|dict| dictionary(file, dict, b"Font")).and_then(|list| list.get(key).ok());
        let font = object.and_then(|object| self.shared.font(object));
        fonts.push((key, font.clone()));
        self.state.font = font;
    }

    /// Takes a font from a dictionary of graphics state.
    fn set_from_dictionary(&mut self, lexer: &Lexer, resources: Resources) {
        let file = self.shared.file;
        let Some(Operand::Name(key)) = lexer.operands.first() else { return };
        let state = resources
            .and_then(|dict| dictionary(file, dict, b"ExtGState"))
            .and_then(|states| dictionary(file, states, key));
        if let Some([font, size]) = state.and_then(|state| array(file, state, b"Font")) {
            self.state.font = self.shared.font(font);
            self.state.size = number_of(file, size).unwrap_or(self.state.size);
        }
    }

    fn show_operator(&mut self, operator: &[u8], lexer: &Lexer) {
        match operator {
            b"\"" => {
                self.state.word_space = lexer.number_at(0);
                self.state.character_space = lexer.number_at(1);
                self.next_line(0.0, -self.state.leading);
            }
            b"'" => self.next_line(0.0, -self.state.leading),
            _ => {}
        }
        let Some(font) = self.state.font.clone() else { return };
        for operand in &lexer.operands {
            match operand {
                Operand::Text(range) => self.show(&font, lexer.string(range)),
                Operand::Number(kern) if operator == b"TJ" => {
                    let back = kern / 1000.0 * self.state.size * self.state.stretch;
                    self.state.text = self.state.text.moved(-back, 0.0);
                }
                _ => {}
            }
        }
    }

    fn show(&mut self, font: &Font, mut bytes: &[u8]) {
        let hidden = self.marks.iter().any(|mark| matches!(mark, Mark::Hidden));
        let state = &self.state;
        let map = state.text.then(state.ctm);
        let along = state.stretch.signum() * state.size.signum();
        let length = map.a.hypot(map.b);
        if length == 0.0 || !length.is_finite() {
            return;
        }
        let turn = turn_of((map.a * along, map.b * along)).filter(|_| !hidden);
        let setting = Setting {
            face: font.face,
            size: state.size.abs() * map.c.hypot(map.d),
            role: self.role(),
            turn: turn.unwrap_or_default(),
        };
        let (size, stretch) = (state.size, state.stretch);
        let mut x = 0.0;
        while !bytes.is_empty() {
            let sign = font.next_sign(bytes);
            bytes = &bytes[sign.bytes.clamp(1, bytes.len())..];
            let wide = sign.width / 1000.0 * size;
            let spaces = state.character_space + if sign.word_space { state.word_space } else { 0.0 };
            if turn.is_some() {
                self.canvas.add(sign.text, map.at(x, state.rise), (wide * stretch).abs() * length, &setting);
            }
            x += (wide + spaces) * stretch;
        }
        self.state.text = self.state.text.moved(x, 0.0);
    }

    fn role(&self) -> Role {
        /// Modes of painting that paint nothing.
        const UNPAINTED: [u8; 2] = [3, 7];
        if UNPAINTED.contains(&self.state.mode) {
            Role::Unseen
        } else if self.marks.iter().any(|mark| matches!(mark, Mark::Furniture)) {
            Role::Furniture
        } else {
            Role::Text
        }
    }

    fn begin_mark(&mut self, lexer: &Lexer, resources: Resources) {
        let mark = match lexer.operands.first() {
            Some(Operand::Name(b"Artifact")) => Mark::Furniture,
            Some(Operand::Name(b"OC")) if self.is_hidden(lexer, resources) => Mark::Hidden,
            _ => match self.actual_text(lexer, resources) {
                Some(text) => Mark::Instead(text, self.canvas.mark()),
                None => Mark::Plain,
            },
        };
        if self.marks.len() < MAX_SAVED {
            self.marks.push(mark);
        }
    }

    fn end_mark(&mut self) {
        if let Some(Mark::Instead(text, mark)) = self.marks.pop() {
            self.canvas.replace_since(mark, &text);
        }
    }

    fn properties<'r>(&'r self, lexer: &Lexer, resources: Resources<'r>) -> Option<&'r Object> {
        let [_, Operand::Name(key)] = lexer.operands[..] else { return None };
        dictionary(self.shared.file, resources?, b"Properties")?.get(key).ok()
    }

    fn is_hidden(&self, lexer: &Lexer, resources: Resources) -> bool {
        self.properties(lexer, resources)
            .and_then(|object| object.as_reference().ok())
            .is_some_and(|id| self.shared.hidden.contains(&id))
    }

    /// Returns the text that a mark says its content stands for.
    fn actual_text(&self, lexer: &Lexer, resources: Resources) -> Option<String> {
        if let Some(object) = self.properties(lexer, resources) {
            let Object::Dictionary(dict) = resolve(self.shared.file, object) else { return None };
            let Some(Object::String(bytes, _)) = get(self.shared.file, dict, b"ActualText") else {
                return None;
            };
            return Some(text_string(bytes));
        }
        let key = lexer.operands.iter().position(|operand| *operand == Operand::Name(b"ActualText"))?;
        match lexer.operands.get(key + 1)? {
            Operand::Text(range) => Some(text_string(lexer.string(range))),
            _ => None,
        }
    }

    /// Reads a form where the operator names one.
    fn invoke(&mut self, lexer: &Lexer, resources: Resources) {
        let file = self.shared.file;
        let Some(Operand::Name(key)) = lexer.operands.first() else { return };
        let Some(object) =
            resources.and_then(|dict| dictionary(file, dict, b"XObject")).and_then(|list| list.get(key).ok())
        else {
            return;
        };
        let Object::Stream(form) = resolve(file, object) else { return };
        let id = object.as_reference().unwrap_or_default();
        let layer = form.dict.get(b"OC").ok().and_then(|layer| layer.as_reference().ok());
        let hidden = layer.is_some_and(|layer| self.shared.hidden.contains(&layer));
        let kind = name(file, &form.dict, b"Subtype");
        if kind.as_deref() == Some("Image") && !hidden {
            self.canvas.add_box(self.state.ctm.at(0.0, 0.0), self.state.ctm.at(1.0, 1.0));
        }
        let is_form = kind.as_deref() == Some("Form");
        if !is_form || hidden || self.forms.contains(&id) || self.forms.len() >= MAX_DEPTH {
            return;
        }
        let Some(content) = unpacked(form) else { return };
        let (state, saved, marks) = (self.state.clone(), std::mem::take(&mut self.saved), self.marks.len());
        let numbers = array(file, &form.dict, b"Matrix").unwrap_or_default();
        let numbers: Vec<f32> = numbers.iter().filter_map(|number| number_of(file, number)).collect();
        if let Ok(numbers) = <[f32; 6]>::try_from(numbers) {
            self.state.ctm = Matrix::of(numbers).then(self.state.ctm);
        }
        self.forms.push(id);
        self.run(&content, dictionary(file, &form.dict, b"Resources").or(resources));
        self.forms.pop();
        self.marks.truncate(marks);
        (self.state, self.saved) = (state, saved);
    }

    /// Follows paths as far as they may be rules.
    fn draw(&mut self, operator: &[u8], lexer: &Lexer, pen: &mut (f32, f32)) {
        /// Lines of one path that are kept; longer paths are drawings.
        const MAX_PATH: usize = 64;
        let ctm = self.state.ctm;
        let point = ctm.at(lexer.number_at(0), lexer.number_at(1));
        match operator {
            b"m" => *pen = point,
            b"l" | b"re" if self.path.len() < MAX_PATH => {
                if operator == b"l" {
                    self.path.push((*pen, point));
                    *pen = point;
                } else {
                    let (x, y) = (lexer.number_at(0), lexer.number_at(1));
                    self.path.push((point, ctm.at(x + lexer.number_at(2), y + lexer.number_at(3))));
                }
            }
            b"n" => self.path.clear(),
            b"l" | b"re" => {}
            _ => {
                let path = std::mem::take(&mut self.path);
                // A closed path of three or four straight lines may be a box, seen by its two opposite corners.
                if let [(from, _), (_, corner), .., (_, last)] = path[..]
                    && path.len() <= 4
                    && ((last.0 - from.0).abs() < 0.01 || (last.1 - from.1).abs() < 0.01)
                {
                    self.canvas.add_box(from, corner);
                }
                for (from, to) in path {
                    self.canvas.add_line(from, to);
                    self.canvas.add_box(from, to);
                }
            }
        }
    }
}

fn six(lexer: &Lexer) -> Matrix {
    Matrix::of(std::array::from_fn(|index| lexer.number_at(index)))
}
