//! Fonts whose codes are single bytes: Type 1, TrueType, CFF and Type 3.
//!
//! A code's text comes from the map to Unicode, then the differences, the base encoding, and what is built into the font.

use lopdf::{Dictionary, Document, Object};

use crate::pdf::font::program::Program;
use crate::pdf::font::to_unicode::ToUnicode;
use crate::pdf::font::{Code, Sign, Texts, face, widths};
use crate::pdf::objects::{array, dictionary, get, name, number, number_of};
use crate::pdf::unicode::encodings::Base;
use crate::pdf::unicode::names::text_of;

/// A font of 256 codes.
#[derive(Debug)]
pub(super) struct Simple {
    texts: Texts,
    codes: Box<[Code; 256]>,
}

impl Simple {
    /// Reads encoding and widths.
    pub(super) fn read(
        document: &Document,
        font: &Dictionary,
        program: &Program,
        unicode: &ToUnicode,
    ) -> Self {
        let encoded = encoding(document, font, program);
        let widths = Widths::read(document, font);
        let mut texts = Texts::default();
        let codes = std::array::from_fn(|index| {
            let code = index as u8;
            let (mapped, encoded) = (unicode.texts.get(&code.into()), encoded[index].as_ref());
            let text = if unicode.is_sound { mapped.or(encoded) } else { encoded.or(mapped) };
            let text = text.map_or("", String::as_str);
            (texts.add(text), widths.of(code, text) / 1000.0)
        });
        Self { texts, codes: Box::new(codes) }
    }

    /// Returns what the first byte stands for, and the other bytes.
    #[inline]
    pub(super) fn next_sign<'b>(&self, bytes: &'b [u8]) -> Option<(Sign<'_>, &'b [u8])> {
        let (&code, rest) = bytes.split_first()?;
        let (place, width) = self.codes[usize::from(code)];
        Some((Sign { text: self.texts.get(place), width, word_space: code == b' ' }, rest))
    }
}

/// Returns the text of each code as font and program give it.
fn encoding(document: &Document, font: &Dictionary, program: &Program) -> Vec<Option<String>> {
    let said = get(document, font, b"Encoding");
    let base = match said {
        Some(Object::Name(name)) => Base::named(name),
        Some(Object::Dictionary(dict)) => {
            name(document, dict, b"BaseEncoding").and_then(|name| Base::named(name.as_bytes()))
        }
        _ => None,
    };
    let mut codes = built_in(document, font, program, base);
    if let Some(Object::Dictionary(dict)) = said {
        let names = differences(document, dict);
        let type3 = name(document, font, b"Subtype").as_deref() == Some("Type3");
        let bitmap = type3.then(|| tex_bitmap(&names)).flatten();
        for (code, glyph) in names {
            codes[usize::from(code)] = match &bitmap {
                Some(table) => table[usize::from(code)].map(String::from),
                None => {
                    text_of(&glyph).or_else(|| codes[usize::from(code)].take().filter(|_| glyph != ".notdef"))
                }
            };
        }
    }
    codes
}

fn built_in(
    document: &Document,
    font: &Dictionary,
    program: &Program,
    base: Option<Base>,
) -> Vec<Option<String>> {
    let from = |base: Base| base.table().into_iter().map(|c| c.map(String::from)).collect::<Vec<_>>();
    if let Some(base) = base {
        return from(base);
    }
    if !program.codes.is_empty() {
        let mut codes = vec![None; 256];
        for (&code, text) in &program.codes {
            codes[usize::from(code)] = Some(text.clone());
        }
        return codes;
    }
    let font_name = name(document, font, b"BaseFont").unwrap_or_default();
    match face::plain_name(&font_name) {
        "Symbol" => from(Base::Symbol),
        "ZapfDingbats" => from(Base::Dingbats),
        _ if name(document, font, b"Subtype").as_deref() == Some("TrueType") => from(Base::Win),
        _ => from(Base::Standard),
    }
}

fn differences(document: &Document, encoding: &Dictionary) -> Vec<(u8, String)> {
    let mut names = Vec::new();
    let mut code = 0_u32;
    for object in array(document, encoding, b"Differences").unwrap_or_default() {
        match object {
            Object::Integer(first) => code = u32::try_from(*first).unwrap_or(u32::MAX),
            Object::Name(name) => {
                if let Ok(code) = u8::try_from(code) {
                    names.push((code, String::from_utf8_lossy(name).into_owned()));
                }
                code = code.saturating_add(1);
            }
            _ => {}
        }
    }
    names
}

/// Returns TeX's encoding where every glyph is named by its code, as in fonts made of bitmaps: `a27` or `x1B`.
fn tex_bitmap(names: &[(u8, String)]) -> Option<Vec<Option<char>>> {
    let by_code =
        |form: fn(u8) -> String| names.iter().all(|(code, name)| name == ".notdef" || *name == form(*code));
    let used: Vec<u8> = names.iter().filter(|(_, name)| name != ".notdef").map(|(code, _)| *code).collect();
    let are_codes = by_code(|code| format!("a{code}")) || by_code(|code| format!("x{code:02X}"));
    (are_codes && !used.is_empty()).then(|| tex_encoding(&used).table())
}

/// Finds out by the codes in use which of TeX's encodings a font has.
fn tex_encoding(used: &[u8]) -> Base {
    let signs = Base::TexSigns.table();
    let has = |codes: &[std::ops::RangeInclusive<u8>]| {
        used.iter().any(|used| codes.iter().any(|codes| codes.contains(used)))
    };
    if has(&[128..=255]) {
        let are_signs = used.iter().all(|code| signs[usize::from(*code)].is_some());
        return if are_signs { Base::TexSigns } else { Base::TexCork };
    }
    // Ligatures, dashes and the hyphen of breaks stand in places of their own.
    let (old, cork) = (has(&[11..=15, 123..=124]), has(&[21..=22, 27..=31, 127..=127]));
    if cork && !old { Base::TexCork } else { Base::TexOld }
}

/// Widths of the codes.
struct Widths {
    first: u8,
    given: Vec<f32>,
    missing: Option<f32>,
    /// Thousandths of the size in one unit.
    scale: f32,
    font: String,
}

impl Widths {
    fn read(document: &Document, font: &Dictionary) -> Self {
        let given = array(document, font, b"Widths").unwrap_or_default();
        let descriptor = dictionary(document, font, b"FontDescriptor");
        let matrix =
            array(document, font, b"FontMatrix").and_then(|matrix| number_of(document, matrix.first()?));
        let type3 = name(document, font, b"Subtype").as_deref() == Some("Type3");
        Self {
            first: number(document, font, b"FirstChar").unwrap_or(0.0) as u8,
            given: given.iter().map(|width| number_of(document, width).unwrap_or(0.0)).collect(),
            missing: descriptor.and_then(|descriptor| number(document, descriptor, b"MissingWidth")),
            scale: if type3 { matrix.map_or(1.0, |unit| unit * 1000.0) } else { 1.0 },
            font: name(document, font, b"BaseFont").unwrap_or_default(),
        }
    }

    fn of(&self, code: u8, text: &str) -> f32 {
        let given = code.checked_sub(self.first).and_then(|index| self.given.get(usize::from(index)));
        match given {
            Some(width) => width * self.scale,
            None if self.given.is_empty() => widths::standard(&self.font, text),
            None => self.missing.unwrap_or(0.0),
        }
    }
}
