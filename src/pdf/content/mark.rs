//! Marked pieces of content: what belongs to the page and not to the text, what is not shown, what stands for another text.

use lopdf::Object;

use crate::pdf::content::{MAX_SAVED, Reader, Resources, text_string};
use crate::pdf::font::push_letters;
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::objects::{dictionary, get, named, resolve};

/// What a marked piece of content means for the text in it.
pub(super) enum Mark {
    /// Nothing.
    Plain,
    /// It belongs to the page and not to the text.
    Furniture,
    /// It is on a layer that is not shown.
    Hidden,
    /// It stands for another text; the glyphs before it are counted.
    Instead(String, usize),
}

impl Reader<'_> {
    /// Begins a marked piece.
    pub(super) fn begin_mark(&mut self, lexer: &Lexer, resources: Resources) {
        let mark = match lexer.operands.first() {
            Some(Operand::Name(b"Artifact")) => Mark::Furniture,
            Some(Operand::Name(b"OC")) if self.is_hidden(lexer, resources) => Mark::Hidden,
            _ => match self.actual_text(lexer, resources) {
                Some(text) => {
                    let mut letters = String::new();
                    push_letters(&text, &mut letters);
                    Mark::Instead(letters, self.canvas.mark())
                }
                None => Mark::Plain,
            },
        };
        if self.marks.len() < MAX_SAVED {
            self.marks.push(mark);
        }
    }

    /// Ends it.
    pub(super) fn end_mark(&mut self) {
        if let Some(Mark::Instead(text, mark)) = self.marks.pop() {
            self.canvas.replace_since(mark, &text);
        }
    }

    fn properties<'r>(&'r self, lexer: &Lexer, resources: Resources<'r>) -> Option<&'r Object> {
        let [_, Operand::Name(key)] = lexer.operands[..] else { return None };
        named(dictionary(self.shared.file, resources?, b"Properties")?, key)
    }

    fn is_hidden(&self, lexer: &Lexer, resources: Resources) -> bool {
        self.properties(lexer, resources)
            .is_some_and(|layer| self.shared.layers.hide(self.shared.file, layer))
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
            Operand::Text(text) => Some(text_string(lexer.string(text))),
            _ => None,
        }
    }
}
