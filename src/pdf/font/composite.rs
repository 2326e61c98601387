//! Fonts whose codes may take several bytes (Type 0), with their widths by glyph number.
//!
//! Text comes from the map to Unicode, else from the name of a Unicode encoding, else from the font program's own tables.

use std::collections::HashMap;

use lopdf::{Dictionary, Document, Object};

use crate::pdf::font::program::Program;
use crate::pdf::font::to_unicode::ToUnicode;
use crate::pdf::font::{Code, Place, Sign, Texts};
use crate::pdf::objects::{array, get, name, number, number_of, resolve, stream_bytes};
use crate::pdf::unicode::cmap::CharacterMap;

/// Width where none is given, as the standard has it.
const DEFAULT_WIDTH: f32 = 1000.0;

/// A font with codes of several bytes.
#[derive(Debug)]
pub(super) struct Composite {
    texts: Texts,
    by_code: HashMap<u32, Place>,
    /// Whether the texts by code are believed before those by glyph.
    is_sound: bool,
    by_glyph: HashMap<u32, Place>,
    widths: HashMap<u32, f32>,
    default_width: f32,
    encoding: Encoding,
    /// Text and width of the first codes, where codes are glyph numbers: a table is far quicker than the maps.
    table: Vec<Code>,
}

/// Codes that the table holds at most; fonts cut to what a book uses number their glyphs low.
const MAX_TABLE: u32 = 4096;

/// How codes are cut and turned into glyph numbers.
#[derive(Debug)]
enum Encoding {
    /// Two bytes, which are the glyph number.
    Identity,
    /// By an embedded map.
    Map(CharacterMap),
}

/// Returns the dictionary of the font that holds the glyphs.
pub(super) fn descendant<'a>(document: &'a Document, font: &'a Dictionary) -> Option<&'a Dictionary> {
    match resolve(document, array(document, font, b"DescendantFonts")?.first()?) {
        Object::Dictionary(dict) => Some(dict),
        _ => None,
    }
}

impl Composite {
    /// Reads encoding, texts and widths.
    pub(super) fn read(
        document: &Document,
        font: &Dictionary,
        program: &Program,
        unicode: &ToUnicode,
    ) -> Self {
        let encoding = match stream_bytes(document, font, b"Encoding") {
            Some(data) => Encoding::Map(CharacterMap::read(&data)),
            None => Encoding::Identity,
        };
        let mut texts = Texts::default();
        let mut by_code: HashMap<u32, Place> = HashMap::new();
        for (&code, text) in &unicode.texts {
            by_code.insert(code, texts.add(text));
        }
        let holder = descendant(document, font);
        let to_glyph = holder.and_then(|holder| stream_bytes(document, holder, b"CIDToGIDMap"));
        let named = name(document, font, b"Encoding").unwrap_or_default();
        let by_glyph = if named.contains("UCS2") || named.contains("UTF16") {
            (32..=0xffff_u32)
                .filter_map(|code| Some((code, texts.add(&char::from_u32(code)?.to_string()))))
                .collect()
        } else {
            glyph_texts(program, to_glyph.as_deref(), &mut texts)
        };
        let mut font = Self {
            texts,
            by_code,
            is_sound: unicode.is_sound,
            by_glyph,
            widths: holder.map(|holder| widths(document, holder)).unwrap_or_default(),
            default_width: holder.and_then(|holder| number(document, holder, b"DW")).unwrap_or(DEFAULT_WIDTH),
            encoding,
            table: Vec::new(),
        };
        if matches!(font.encoding, Encoding::Identity) {
            font.table = (0..MAX_TABLE).map(|code| font.look_up(code, code)).collect();
        }
        font
    }

    fn look_up(&self, code: u32, glyph: u32) -> Code {
        let (mapped, own) = (self.by_code.get(&code), self.by_glyph.get(&glyph));
        let place = if self.is_sound { mapped.or(own) } else { own.or(mapped) };
        let width = self.widths.get(&glyph).copied().unwrap_or(self.default_width);
        (place.copied().unwrap_or(Place::NOWHERE), width / 1000.0)
    }

    /// Returns what the first code stands for, and the bytes after it.
    #[inline]
    pub(super) fn next_sign<'b>(&self, bytes: &'b [u8]) -> Option<(Sign<'_>, &'b [u8])> {
        if let [high, low, rest @ ..] = bytes
            && let Some(&(place, width)) = self.table.get(usize::from(*high) << 8 | usize::from(*low))
        {
            return Some((Sign { text: self.texts.get(place), width, word_space: false }, rest));
        }
        self.next_by_maps(bytes)
    }

    fn next_by_maps<'b>(&self, bytes: &'b [u8]) -> Option<(Sign<'_>, &'b [u8])> {
        if bytes.is_empty() {
            return None;
        }
        let (code, length) = match &self.encoding {
            Encoding::Identity => match bytes {
                [high, low, ..] => (u32::from(*high) << 8 | u32::from(*low), 2),
                _ => (u32::from(bytes.first().copied().unwrap_or_default()), 1),
            },
            Encoding::Map(map) => map.next_code(bytes),
        };
        let glyph = match &self.encoding {
            Encoding::Identity => code,
            Encoding::Map(map) => map.glyph(code).unwrap_or(code),
        };
        let (place, width) = self.look_up(code, glyph);
        let rest = &bytes[length.clamp(1, bytes.len())..];
        Some((Sign { text: self.texts.get(place), width, word_space: length == 1 && code == 32 }, rest))
    }
}

/// Returns the texts by glyph number of the PDF, which a table may lead to other numbers in the program.
fn glyph_texts(program: &Program, to_glyph: Option<&[u8]>, texts: &mut Texts) -> HashMap<u32, Place> {
    match to_glyph {
        Some(table) => table
            .chunks_exact(2)
            .zip(0_u32..)
            .filter_map(|(pair, number)| {
                let text = program.glyphs.get(&u16::from_be_bytes([pair[0], pair[1]]))?;
                Some((number, texts.add(text)))
            })
            .collect(),
        None => program.glyphs.iter().map(|(&glyph, text)| (u32::from(glyph), texts.add(text))).collect(),
    }
}

/// Glyphs that one entry of the widths may name at most.
const MAX_RANGE: u32 = 0x1_0000;

fn widths(document: &Document, holder: &Dictionary) -> HashMap<u32, f32> {
    let mut widths = HashMap::new();
    let Some(Object::Array(entries)) = get(document, holder, b"W") else { return widths };
    let mut entries = entries.iter().map(|entry| resolve(document, entry));
    while let (Some(first), Some(second)) = (entries.next(), entries.next()) {
        let Some(first) = number_of(document, first).map(|number| number as u32) else { break };
        if let Object::Array(list) = second {
            for (width, glyph) in list.iter().zip(first..) {
                widths.insert(glyph, number_of(document, width).unwrap_or(DEFAULT_WIDTH));
            }
        } else {
            let last = number_of(document, second).unwrap_or(0.0) as u32;
            let Some(width) = entries.next().and_then(|width| number_of(document, width)) else { break };
            for glyph in first..=last.min(first.saturating_add(MAX_RANGE)) {
                widths.insert(glyph, width);
            }
        }
    }
    widths
}
