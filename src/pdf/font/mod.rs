//! A font's dictionary comes in; a font that turns the bytes of a string into text and widths goes out.
//!
//! Outlines are not drawn here.

mod composite;
mod face;
mod program;
mod simple;
mod to_unicode;
mod widths;

use lopdf::{Dictionary, Document};

use crate::pdf::Face;
use crate::pdf::font::composite::Composite;
use crate::pdf::font::face::Descriptor;
use crate::pdf::font::program::Program;
use crate::pdf::font::simple::Simple;
use crate::pdf::font::to_unicode::ToUnicode;
use crate::pdf::objects::{dictionary, name, number, stream_bytes};

/// A font ready for use.
#[derive(Debug)]
pub(super) struct Font {
    /// Weight, slant and small capitals.
    pub(super) face: Face,
    /// Bytes that were unpacked to read it.
    pub(super) unpacked: usize,
    codes: Codes,
}

#[derive(Debug)]
enum Codes {
    Simple(Simple),
    Composite(Box<Composite>),
}

/// What one code of a string stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sign<'a> {
    /// Its text.
    pub(super) text: Text<'a>,
    /// Its advance in em.
    pub(super) width: f32,
    /// Whether word spacing is added to it.
    pub(super) word_space: bool,
}

/// The text of a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Text<'a> {
    /// One character, as nearly all have.
    One(char),
    /// Several characters, as a ligature has; none where it is not known.
    Several(&'a str),
}

impl Font {
    /// Reads a font from its dictionary. What is missing is filled in as well as can be.
    pub(super) fn read(document: &Document, font: &Dictionary) -> Self {
        let subtype = name(document, font, b"Subtype").unwrap_or_default();
        if subtype == "Type0" {
            let descendant = composite::descendant(document, font);
            let (face, program) = read_face(document, font, descendant.unwrap_or(font));
            let unicode = ToUnicode::read(document, font);
            let unpacked = program.size + unicode.size;
            let codes = Composite::read(document, font, &program, &unicode);
            return Self { face, unpacked, codes: Codes::Composite(Box::new(codes)) };
        }
        let (face, program) = read_face(document, font, font);
        let unicode = ToUnicode::read(document, font);
        let unpacked = program.size + unicode.size;
        Self { face, unpacked, codes: Codes::Simple(Simple::read(document, font, &program, &unicode)) }
    }

    /// Cuts the first code from the bytes of a string; returns its sign and the other bytes, or nothing at the end.
    #[inline]
    pub(super) fn next_sign<'b>(&self, bytes: &'b [u8]) -> Option<(Sign<'_>, &'b [u8])> {
        match &self.codes {
            Codes::Simple(font) => font.next_sign(bytes),
            Codes::Composite(font) => font.next_sign(bytes),
        }
    }
}

/// Finds out a font's style, and reads its program on the way; `holder` is the dictionary with the descriptor.
fn read_face(document: &Document, font: &Dictionary, holder: &Dictionary) -> (Face, Program) {
    let base_name =
        name(document, font, b"BaseFont").or_else(|| name(document, font, b"Name")).unwrap_or_default();
    let Some(descriptor) = dictionary(document, holder, b"FontDescriptor") else {
        return (face::face(&base_name, Descriptor::default(), &Program::default()), Program::default());
    };
    let program = read_program(document, descriptor);
    let said = Descriptor {
        flags: number(document, descriptor, b"Flags").unwrap_or(0.0) as u32,
        angle: number(document, descriptor, b"ItalicAngle").unwrap_or(0.0),
    };
    (face::face(&base_name, said, &program), program)
}

fn read_program(document: &Document, descriptor: &Dictionary) -> Program {
    let (data, read): (_, fn(&[u8]) -> Program) =
        if let Some(data) = stream_bytes(document, descriptor, b"FontFile") {
            (data, program::type1)
        } else if let Some(data) = stream_bytes(document, descriptor, b"FontFile2") {
            (data, program::truetype)
        } else {
            match stream_bytes(document, descriptor, b"FontFile3") {
                Some(data) if data.starts_with(b"OTTO") || data.starts_with(&[0, 1, 0, 0]) => {
                    (data, program::truetype)
                }
                Some(data) => (data, program::cff),
                None => return Program::default(),
            }
        };
    Program { size: data.len(), ..read(&data) }
}

/// Returns the advance in em that a character has in most faces, for text that comes without a font.
pub(super) fn usual_width(character: char) -> f32 {
    widths::standard("", character.encode_utf8(&mut [0; 4])) / 1000.0
}

/// The Latin presentation forms with their letters.
const LIGATURES: [(char, &str); 7] =
    [('ﬀ', "ff"), ('ﬁ', "fi"), ('ﬂ', "fl"), ('ﬃ', "ffi"), ('ﬄ', "ffl"), ('ﬅ', "st"), ('ﬆ', "st")];

/// Adds a text, the ligatures of the Latin presentation forms spelled out.
pub(super) fn push_letters(text: &str, to: &mut String) {
    for character in text.chars() {
        match LIGATURES.iter().find(|(ligature, _)| *ligature == character) {
            Some((_, letters)) => to.push_str(letters),
            None => to.push(character),
        }
    }
}

/// The texts of many codes, so that each costs a few bytes.
#[derive(Debug, Default)]
struct Texts {
    /// Those that are not one character.
    several: String,
}

/// A text, or its place in [`Texts`].
#[derive(Clone, Copy, Debug)]
enum Place {
    One(char),
    Several { start: u32, end: u32 },
}

/// What a code stands for, and its advance in em.
type Code = (Place, f32);

impl Place {
    /// The place of a text that is not known.
    const NOWHERE: Self = Self::Several { start: 0, end: 0 };
}

impl Texts {
    /// Adds a text, the ligatures of the Latin presentation forms spelled out.
    fn add(&mut self, text: &str) -> Place {
        let start = self.several.len();
        push_letters(text, &mut self.several);
        let mut characters = self.several[start..].chars();
        if let (Some(one), None) = (characters.next(), characters.next()) {
            self.several.truncate(start);
            return Place::One(one);
        }
        Place::Several { start: start as u32, end: self.several.len() as u32 }
    }

    #[inline]
    fn get(&self, place: Place) -> Text<'_> {
        match place {
            Place::One(character) => Text::One(character),
            Place::Several { start, end } => Text::Several(&self.several[start as usize..end as usize]),
        }
    }
}
