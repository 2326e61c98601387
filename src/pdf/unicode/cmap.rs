//! An embedded character map comes in; how codes are cut from a string, and what each stands for, go out.
//!
//! Both uses are read alike: to Unicode (`bfchar`, `bfrange`) and to glyph numbers (`cidchar`, `cidrange`).

use std::collections::BTreeMap;

use crate::pdf::lexer::{Lexer, Operand};

/// Entries read from one map at most, twice as many as there are codes of two bytes.
const MAX_ENTRIES: usize = 1 << 17;

/// A character map.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct CharacterMap {
    /// Ranges of codes: number of bytes, first and last code.
    pub(crate) spaces: Vec<(usize, u32, u32)>,
    /// Text by code.
    pub(crate) texts: BTreeMap<u32, String>,
    /// Ranges of codes with the glyph number of the first: first code, last code, glyph number.
    pub(crate) glyphs: Vec<(u32, u32, u32)>,
}

impl CharacterMap {
    /// Reads a map; what can't be read is left out.
    pub(crate) fn read(data: &[u8]) -> Self {
        let mut map = Self::default();
        let mut lexer = Lexer::new(data);
        while let Some(operator) = lexer.next_operator() {
            match operator {
                b"endcodespacerange" => map.add_spaces(&lexer),
                b"endbfchar" => map.add_texts(&lexer),
                b"endbfrange" => map.add_text_ranges(&lexer),
                b"endcidchar" => map.add_glyphs(&lexer, 2),
                b"endcidrange" => map.add_glyphs(&lexer, 3),
                _ => {}
            }
        }
        map.glyphs.sort_unstable();
        map
    }

    /// Returns the glyph number of a code, if the map gives one.
    pub(crate) fn glyph(&self, code: u32) -> Option<u32> {
        let after = self.glyphs.partition_point(|&(first, _, _)| first <= code);
        let &(first, last, glyph) = self.glyphs.get(after.checked_sub(1)?)?;
        (code <= last).then(|| glyph + (code - first))
    }

    /// Cuts the next code from the bytes: the code and the number of its bytes, one at least.
    pub(crate) fn next_code(&self, bytes: &[u8]) -> (u32, usize) {
        let mut code = 0;
        for (index, &byte) in bytes.iter().take(4).enumerate() {
            code = code << 8 | u32::from(byte);
            let length = index + 1;
            if self
                .spaces
                .iter()
                .any(|&(bytes, first, last)| bytes == length && in_space(code, first, last, length))
            {
                return (code, length);
            }
        }
        let length = self.spaces.iter().map(|space| space.0).min().unwrap_or(2).min(bytes.len()).max(1);
        (number(&bytes[..length.min(bytes.len())]), length)
    }

    fn add_spaces(&mut self, lexer: &Lexer) {
        for pair in lexer.operands.chunks(2) {
            if let [Operand::Text(first), Operand::Text(last)] = pair {
                let (first, last) = (lexer.string(first), lexer.string(last));
                if (1..=4).contains(&first.len()) && self.spaces.len() < MAX_ENTRIES {
                    self.spaces.push((first.len(), number(first), number(last)));
                }
            }
        }
    }

    fn add_texts(&mut self, lexer: &Lexer) {
        for pair in lexer.operands.chunks(2) {
            if let [Operand::Text(code), Operand::Text(text)] = pair {
                self.add_text(number(lexer.string(code)), utf16(lexer.string(text)));
            }
        }
    }

    fn add_text_ranges(&mut self, lexer: &Lexer) {
        let mut operands = lexer.operands.iter();
        while let (Some(Operand::Text(first)), Some(Operand::Text(last)), Some(start)) =
            (operands.next(), operands.next(), operands.next())
        {
            let (first, last) = (number(lexer.string(first)), number(lexer.string(last)));
            match start {
                Operand::Text(text) => self.add_text_range(first, last, lexer.string(text)),
                Operand::ArrayOpen => {
                    let mut code = first;
                    for operand in operands.by_ref() {
                        let Operand::Text(text) = operand else { break };
                        self.add_text(code, utf16(lexer.string(text)));
                        code = code.wrapping_add(1);
                    }
                }
                _ => return,
            }
        }
    }

    fn add_text_range(&mut self, first: u32, last: u32, start: &[u8]) {
        let mut units: Vec<u16> = units(start);
        for code in first..=last {
            if self.texts.len() >= MAX_ENTRIES {
                return;
            }
            self.add_text(code, String::from_utf16_lossy(&units));
            let Some(end) = units.last_mut() else { return };
            *end = end.wrapping_add(1);
        }
    }

    fn add_text(&mut self, code: u32, text: String) {
        if self.texts.len() < MAX_ENTRIES && !text.is_empty() {
            self.texts.insert(code, text);
        }
    }

    fn add_glyphs(&mut self, lexer: &Lexer, operands: usize) {
        for entry in lexer.operands.chunks(operands) {
            let (first, last, glyph) = match entry {
                [Operand::Text(code), Operand::Number(glyph)] => (code, code, glyph),
                [Operand::Text(first), Operand::Text(last), Operand::Number(glyph)] => (first, last, glyph),
                _ => continue,
            };
            if self.glyphs.len() < MAX_ENTRIES {
                self.glyphs.push((number(lexer.string(first)), number(lexer.string(last)), *glyph as u32));
            }
        }
    }
}

/// Tells whether each byte of the code lies between those of the ends, as the standard asks.
fn in_space(code: u32, first: u32, last: u32, length: usize) -> bool {
    (0..length).all(|index| {
        let byte = |number: u32| number >> (8 * index) & 0xff;
        (byte(first)..=byte(last)).contains(&byte(code))
    })
}

fn number(bytes: &[u8]) -> u32 {
    bytes.iter().take(4).fold(0, |number, &byte| number << 8 | u32::from(byte))
}

fn units(bytes: &[u8]) -> Vec<u16> {
    match bytes {
        [byte] => vec![u16::from(*byte)],
        _ => bytes.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect(),
    }
}

fn utf16(bytes: &[u8]) -> String {
    String::from_utf16_lossy(&units(bytes)).replace('\0', "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_text(map: &str, code: u32, expected: &str) {
        let map = CharacterMap::read(map.as_bytes());
        assert_eq!(map.texts.get(&code).map_or("nothing", String::as_str), expected);
    }

    #[test]
    fn single_codes_and_ranges_give_text() {
        let map = "1 begincodespacerange <00> <ff> endcodespacerange 1 beginbfchar <0c> <00660069> endbfchar \
                   2 beginbfrange <20> <7e> <0020> <80> <81> [<00e9> <2640>] endbfrange";
        check_text(map, 0x0c, "fi");
        check_text(map, 0x41, "A");
        check_text(map, 0x81, "♀");
        check_text(map, 0x90, "nothing");
    }

    #[test]
    fn codes_of_one_and_two_bytes_are_cut_by_their_spaces() {
        let map = CharacterMap::read(
            b"begincodespacerange <00> <7f> <8140> <9ffc> endcodespacerange begincidrange <20> <7e> 1 endcidrange",
        );
        assert_eq!(map.next_code(b"A\x81\x40"), (0x41, 1));
        assert_eq!(map.next_code(b"\x81\x40A"), (0x8140, 2));
        assert_eq!(map.glyph(0x21), Some(2));
        assert_eq!(map.glyph(0x7f), None);
    }
}
