//! A font program embedded in the file comes in; what it says of its weight, slant and encoding goes out.
//!
//! Only facts beside the outlines are read: no outline is drawn.

use std::collections::BTreeMap;

use crate::pdf::unicode::names::text_of;

/// What a font program says.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Program {
    /// Whether it calls itself bold; `None` where it says nothing.
    pub(super) bold: Option<bool>,
    /// Whether it calls itself italic or is slanted.
    pub(super) italic: Option<bool>,
    /// Text by code of one byte, by its built-in encoding.
    pub(super) codes: BTreeMap<u8, String>,
    /// Text by glyph number.
    pub(super) glyphs: BTreeMap<u16, String>,
    /// Advance by glyph number in thousandths of the size.
    pub(super) advances: Vec<f32>,
    /// Bytes of it.
    pub(super) size: usize,
}

/// Weight in OpenType's scale from which a face counts as bold: semibold.
const SEMIBOLD: u16 = 600;

/// Reads the clear text at the head of a Type 1 program.
pub(super) fn type1(data: &[u8]) -> Program {
    let end = data.windows(5).position(|word| word == b"eexec").unwrap_or(data.len());
    let clear = String::from_utf8_lossy(&data[..end]);
    let mut program = Program {
        bold: after(&clear, "/Weight").and_then(bracketed).map(|weight| is_bold_word(&weight)),
        italic: after(&clear, "/ItalicAngle")
            .and_then(|rest| rest.split_whitespace().next()?.parse().ok())
            .map(|angle: f32| angle.abs() > MIN_SLANT),
        ..Program::default()
    };
    let mut words = clear.split_whitespace();
    while let Some(word) = words.next() {
        if word != "dup" {
            continue;
        }
        let (Some(code), Some(name)) = (words.next(), words.next()) else { break };
        if let (Ok(code), Some(name)) = (code.parse(), name.strip_prefix('/'))
            && let Some(text) = text_of(name)
        {
            program.codes.insert(code, text);
        }
    }
    program
}

/// Degrees of slant below which a face is upright (upright text faces say 0).
const MIN_SLANT: f32 = 2.0;

fn after<'a>(text: &'a str, key: &str) -> Option<&'a str> {
    text.find(key).map(|at| text[at + key.len()..].trim_start())
}

fn bracketed(text: &str) -> Option<String> {
    let inner = text.strip_prefix('(')?;
    Some(inner[..inner.find(')')?].to_owned())
}

/// Tells whether a word for a weight means bold.
pub(super) fn is_bold_word(weight: &str) -> bool {
    let weight = weight.to_ascii_lowercase();
    ["bold", "black", "heavy"].iter().any(|word| weight.contains(word)) || weight == "demi"
}

/// Reads a bare CFF program.
pub(super) fn cff(data: &[u8]) -> Program {
    let mut program = top_dict(data).unwrap_or_default();
    let Some(table) = ttf_parser::cff::Table::parse(data) else { return program };
    for code in 0..=u8::MAX {
        if let Some(glyph) = table.glyph_index(code).filter(|glyph| glyph.0 != 0)
            && let Some(text) = table.glyph_name(glyph).and_then(text_of)
        {
            program.codes.insert(code, text);
        }
    }
    for glyph in 1..table.number_of_glyphs() {
        if let Some(text) = table.glyph_name(ttf_parser::GlyphId(glyph)).and_then(text_of) {
            program.glyphs.insert(glyph, text);
        }
    }
    program
}

/// Reads weight and slant from the top dictionary of a CFF program.
fn top_dict(data: &[u8]) -> Option<Program> {
    let header = usize::from(*data.get(2)?);
    let (_, after_names) = index(data, header)?;
    let (dicts, after_dicts) = index(data, after_names)?;
    let (strings, _) = index(data, after_dicts)?;
    let mut program = Program::default();
    let dict = dicts.first()?;
    let mut numbers: Vec<f32> = Vec::new();
    let mut at = 0;
    while let Some(&byte) = dict.get(at) {
        at += 1;
        match byte {
            12 => {
                if dict.get(at) == Some(&2) {
                    program.italic = numbers.last().map(|angle| angle.abs() > MIN_SLANT);
                }
                at += 1;
                numbers.clear();
            }
            0..=21 => {
                if byte == 4 {
                    program.bold = numbers.last().and_then(|&sid| weight_of(sid as usize, &strings));
                }
                numbers.clear();
            }
            _ => {
                let (number, length) = dict_number(byte, &dict[at..])?;
                numbers.push(number);
                at += length;
            }
        }
    }
    Some(program)
}

/// Number of strings that every CFF program shares.
const STANDARD_STRINGS: usize = 391;
/// The eight standard strings that name weights, from 383 on, with their meaning.
const STANDARD_WEIGHTS: [bool; 8] = [true, true, false, false, false, false, false, true];

fn weight_of(sid: usize, strings: &[&[u8]]) -> Option<bool> {
    if sid < STANDARD_STRINGS {
        return STANDARD_WEIGHTS.get(sid.checked_sub(STANDARD_STRINGS - STANDARD_WEIGHTS.len())?).copied();
    }
    strings.get(sid - STANDARD_STRINGS).map(|word| is_bold_word(&String::from_utf8_lossy(word)))
}

/// Reads a number of a CFF dictionary; returns it with the number of bytes after the first.
fn dict_number(first: u8, rest: &[u8]) -> Option<(f32, usize)> {
    let first = i32::from(first);
    let next = |index: usize| rest.get(index).map(|&byte| i32::from(byte));
    Some(match first {
        28 => (i16::from_be_bytes([*rest.first()?, *rest.get(1)?]).into(), 2),
        29 => (i32::from_be_bytes([*rest.first()?, *rest.get(1)?, *rest.get(2)?, *rest.get(3)?]) as f32, 4),
        30 => {
            let mut digits = String::new();
            let mut length = 0;
            'bytes: for &byte in rest {
                length += 1;
                for half in [byte >> 4, byte & 15] {
                    match half {
                        0..=9 => digits.push(char::from(b'0' + half)),
                        10 => digits.push('.'),
                        11 => digits.push('e'),
                        12 => digits.push_str("e-"),
                        14 => digits.push('-'),
                        _ => break 'bytes,
                    }
                }
            }
            (digits.parse().unwrap_or(0.0), length)
        }
        32..=246 => ((first - 139) as f32, 0),
        247..=250 => (((first - 247) * 256 + next(0)? + 108) as f32, 1),
        251..=254 => ((-(first - 251) * 256 - next(0)? - 108) as f32, 1),
        _ => (0.0, 0),
    })
}

/// Reads an index of a CFF program; returns its members and the place after it.
fn index(data: &[u8], at: usize) -> Option<(Vec<&[u8]>, usize)> {
    let count = usize::from(u16::from_be_bytes([*data.get(at)?, *data.get(at + 1)?]));
    if count == 0 {
        return Some((Vec::new(), at + 2));
    }
    let size = usize::from(*data.get(at + 2)?);
    if !(1..=4).contains(&size) {
        return None;
    }
    let offset = |number: usize| {
        let start = at + 3 + number * size;
        let bytes = data.get(start..start + size)?;
        Some(bytes.iter().fold(0_usize, |sum, &byte| sum << 8 | usize::from(byte)))
    };
    let base = at + 3 + (count + 1) * size - 1;
    let members: Option<Vec<&[u8]>> =
        (0..count).map(|number| data.get(base + offset(number)?..base + offset(number + 1)?)).collect();
    Some((members?, base + offset(count)?))
}

/// Reads a TrueType or OpenType program.
pub(super) fn truetype(data: &[u8]) -> Program {
    let Ok(face) = ttf_parser::Face::parse(data, 0) else { return Program::default() };
    let mut program = Program::default();
    if face.tables().os2.is_some() {
        program.bold = Some(face.weight().to_number() >= SEMIBOLD || face.is_bold());
        program.italic = Some(face.is_italic() || face.is_oblique());
    } else if let Some(flags) = mac_style(&face) {
        program.bold = Some(flags & 1 != 0);
        program.italic = Some(flags & 2 != 0);
    }
    read_cmaps(&face, &mut program);
    for glyph in 1..face.number_of_glyphs() {
        let glyph = ttf_parser::GlyphId(glyph);
        if !program.glyphs.contains_key(&glyph.0)
            && let Some(text) = face.glyph_name(glyph).and_then(text_of)
        {
            program.glyphs.insert(glyph.0, text);
        }
    }
    let scale = 1000.0 / f32::from(face.units_per_em());
    program.advances = (0..face.number_of_glyphs())
        .map(|glyph| {
            face.glyph_hor_advance(ttf_parser::GlyphId(glyph)).map_or(0.0, |width| f32::from(width) * scale)
        })
        .collect();
    program
}

fn mac_style(face: &ttf_parser::Face) -> Option<u16> {
    let head = face.raw_face().table(ttf_parser::Tag::from_bytes(b"head"))?;
    Some(u16::from_be_bytes([*head.get(44)?, *head.get(45)?]))
}

/// First code of the private range that symbol fonts map their bytes to.
const SYMBOL_BASE: u32 = 0xf000;

/// Fills in which glyph stands for which character, and which byte for which glyph.
fn read_cmaps(face: &ttf_parser::Face, program: &mut Program) {
    let Some(cmap) = face.tables().cmap else { return };
    let mut bytes: BTreeMap<u8, u16> = BTreeMap::new();
    for subtable in cmap.subtables {
        let unicode = subtable.is_unicode();
        subtable.codepoints(|code| {
            let Some(glyph) = subtable.glyph_index(code) else { return };
            let private = (SYMBOL_BASE..SYMBOL_BASE + 256).contains(&code);
            if unicode && !private {
                if let Some(character) = char::from_u32(code) {
                    program.glyphs.entry(glyph.0).or_insert_with(|| character.to_string());
                }
            } else if private || code < 256 {
                bytes.entry((code & 0xff) as u8).or_insert(glyph.0);
            }
        });
    }
    let mac = crate::pdf::unicode::encodings::Base::Mac.table();
    for (byte, glyph) in bytes {
        let text = program
            .glyphs
            .get(&glyph)
            .cloned()
            .or_else(|| face.glyph_name(ttf_parser::GlyphId(glyph)).and_then(text_of))
            .or_else(|| mac[usize::from(byte)].map(String::from));
        if let Some(text) = text {
            program.codes.insert(byte, text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_type1(clear: &str, bold: Option<bool>, italic: Option<bool>, code: u8, text: &str) {
        let program = type1(clear.as_bytes());
        assert_eq!((program.bold, program.italic), (bold, italic));
        assert_eq!(program.codes.get(&code).map_or("nothing", String::as_str), text);
    }

    #[test]
    fn the_clear_text_of_a_type1_program_names_weight_slant_and_codes() {
        let clear = "/Weight (Bold) readonly def /ItalicAngle -14.04 def\ndup 12 /fi put\ndup 65 /A put\n";
        check_type1(clear, Some(true), Some(true), 12, "fi");
        check_type1(
            "/Weight (Medium) def /ItalicAngle 0 def currentfile eexec dup 12 /fi put",
            Some(false),
            Some(false),
            12,
            "nothing",
        );
        check_type1("%!PS-AdobeFont-1.0", None, None, 12, "nothing");
    }

    #[test]
    fn numbers_of_a_cff_dictionary_are_read() {
        assert_eq!(dict_number(139, &[]), Some((0.0, 0)));
        assert_eq!(dict_number(28, &[0xff, 0xf4]), Some((-12.0, 2)));
        assert_eq!(dict_number(30, &[0xe1, 0x2a, 0x5f]), Some((-12.5, 3)));
    }

    #[test]
    fn bytes_that_are_no_font_say_nothing() {
        assert_eq!(truetype(b"no font"), Program::default());
        assert_eq!(cff(b"no"), Program::default());
    }
}
