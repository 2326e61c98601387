//! A page's annotations: notes, stamps and form fields, read as they appear on the page after its content.
//!
//! Their drawings are left out: a mark over a line is no picture that the book is set around.

use lopdf::{Dictionary, Document, Object, Stream};

use crate::pdf::content::form::{bounds, matrix};
use crate::pdf::content::state::State;
use crate::pdf::content::{Reader, Resources, note};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{array, dictionary, four, get, number, resolve};

/// Annotations of one page at most.
const MAX_ANNOTATIONS: usize = 1 << 16;
/// Kinds that show nothing of the page: ways to other places, and windows of a program.
const SILENT: [&[u8]; 2] = [b"Link", b"Popup"];
/// The kinds of the standard, but those that are silent.
const KNOWN: [&[u8]; 24] = [
    b"3D",
    b"Caret",
    b"Circle",
    b"FileAttachment",
    b"FreeText",
    b"Highlight",
    b"Ink",
    b"Line",
    b"Movie",
    b"PolyLine",
    b"Polygon",
    b"PrinterMark",
    b"Redact",
    b"RichMedia",
    b"Screen",
    b"Sound",
    b"Square",
    b"Squiggly",
    b"Stamp",
    b"StrikeOut",
    b"Text",
    b"Underline",
    b"Watermark",
    b"Widget",
];
/// Bit of the flags for a kind that is not shown where it is unknown.
const INVISIBLE: u32 = 1;
/// Bits of the flags for what is never shown, and not on a screen.
const HIDDEN: u32 = 1 << 1 | 1 << 5;

impl Reader<'_> {
    /// Reads the annotations of a page whose content has been read; `base` leads to the page as seen.
    pub(super) fn annotations(&mut self, page: &Dictionary, base: Matrix) {
        let file = self.shared.file;
        let Some(annotations) = array(file, page, b"Annots") else { return };
        for object in annotations.iter().take(MAX_ANNOTATIONS) {
            let Object::Dictionary(annotation) = resolve(file, object) else { continue };
            if is_shown(file, annotation)
                && !annotation.get(b"OC").is_ok_and(|layer| self.shared.layers.hide(file, layer))
            {
                self.annotation(annotation, base);
            }
        }
    }

    fn annotation(&mut self, annotation: &Dictionary, base: Matrix) {
        let file = self.shared.file;
        let Some(rectangle) = four(file, annotation, b"Rect") else { return };
        (self.state, self.saved) = (State::new(base), Vec::new());
        self.marks.clear();
        let drawn = (self.canvas.page.rules.len(), self.canvas.page.pictures.len());
        match appearance(file, annotation) {
            Appearance::Form(form) => {
                self.state.ctm = fitted(file, &form.dict, rectangle).then(base);
                self.enter(form, Default::default(), usual_resources(file));
            }
            Appearance::Left => {
                if let Some(note) = note::read(file, annotation) {
                    self.write(&note, rectangle);
                }
            }
            Appearance::None => {}
        }
        self.canvas.page.rules.truncate(drawn.0);
        self.canvas.page.pictures.truncate(drawn.1);
    }
}

/// Tells whether an annotation is of a kind that shows something, and not hidden.
fn is_shown(file: &Document, annotation: &Dictionary) -> bool {
    let Some(Object::Name(kind)) = get(file, annotation, b"Subtype") else { return false };
    let kind = kind.as_slice();
    if SILENT.contains(&kind) {
        return false;
    }
    let flags = number(file, annotation, b"F").unwrap_or(0.0) as u32;
    flags & HIDDEN == 0 && (flags & INVISIBLE == 0 || KNOWN.contains(&kind))
}

/// How an annotation appears.
enum Appearance<'a> {
    /// As this form.
    Form(&'a Stream),
    /// As whoever shows it makes it.
    Left,
    /// Not at all.
    None,
}

/// Returns the normal appearance of an annotation, in the state that holds.
fn appearance<'a>(file: &'a Document, annotation: &'a Dictionary) -> Appearance<'a> {
    let normal = dictionary(file, annotation, b"AP").and_then(|appearances| get(file, appearances, b"N"));
    match normal {
        Some(Object::Stream(form)) => Appearance::Form(form),
        Some(Object::Dictionary(states)) => {
            let state = match get(file, annotation, b"AS") {
                Some(Object::Name(state)) => get(file, states, state),
                _ => None,
            };
            match state {
                Some(Object::Stream(form)) => Appearance::Form(form),
                _ => Appearance::None,
            }
        }
        _ => Appearance::Left,
    }
}

/// Returns the map that fits a form's box, as its own matrix leads it, into a rectangle (ISO 32000, 12.5.5).
fn fitted(file: &Document, form: &Dictionary, [left, bottom, right, top]: [f32; 4]) -> Matrix {
    let Some(held) = bounds(file, form, matrix(file, form)) else { return Matrix::IDENTITY };
    let scale = |wanted: f32, has: f32| if has > 0.0 { wanted.abs() / has } else { 1.0 };
    let (wide, high) =
        (scale(right - left, held.right - held.left), scale(top - bottom, held.bottom - held.top));
    let (x, y) = (left.min(right) - wide * held.left, bottom.min(top) - high * held.top);
    Matrix::of([wide, 0.0, 0.0, high, x, y])
}

/// Returns what forms without resources of their own draw with: those that the file holds ready for its fields.
pub(super) fn usual_resources(file: &Document) -> Resources<'_> {
    dictionary(file, file.catalog().ok()?, b"AcroForm").and_then(|fields| dictionary(file, fields, b"DR"))
}
