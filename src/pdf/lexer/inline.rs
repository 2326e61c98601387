//! Images written into a content stream: where their data end and content goes on.
//!
//! The data may hold any bytes, the word that ends them among them.

use crate::pdf::lexer::{Lexer, Operand, is_blank, is_delimiter};

impl Lexer<'_> {
    /// Goes past the data of an inline image, to be called after the operator `ID`.
    ///
    /// Where the image says how long its data are, they are that long; else they end at the first `EI` that an operator
    /// may follow, or where none does, at one between blanks.
    pub(in crate::pdf) fn skip_inline_image(&mut self) {
        if let Some(end) = self.inline_length().and_then(|length| self.end_at(self.at + 1 + length)) {
            self.at = end;
            return;
        }
        let (mut from, mut between_blanks) = (self.at, None);
        while let Some(found) = self.data[from..].windows(2).position(|pair| pair == b"EI") {
            let start = from + found;
            from = start + 2;
            if !self.data.get(from).is_none_or(|&byte| is_blank(byte) || is_delimiter(byte)) {
                continue;
            }
            if self.goes_on_at(from) {
                self.at = from;
                return;
            }
            let before = start.checked_sub(1).is_none_or(|index| is_blank(self.data[index]));
            if before && between_blanks.is_none() && self.data.get(from).is_some_and(|&byte| is_blank(byte)) {
                between_blanks = Some(from);
            }
        }
        self.at = between_blanks.unwrap_or(self.data.len());
    }

    /// Returns the place after the `EI` that stands somewhere, after blanks.
    fn end_at(&self, place: usize) -> Option<usize> {
        let rest = self.data.get(place..)?;
        let blanks = rest.iter().position(|&byte| !is_blank(byte))?;
        let after = rest[blanks..].strip_prefix(b"EI")?;
        after.first().is_none_or(|&byte| is_blank(byte) || is_delimiter(byte)).then_some(place + blanks + 2)
    }

    /// Returns how many bytes the data of an inline image are that is not packed, by the operands of `ID`.
    fn inline_length(&self) -> Option<usize> {
        let after = |names: [&[u8]; 2]| {
            let is_key = |operand: &Operand| matches!(operand, Operand::Name(name) if names.contains(name));
            let key = self.operands.iter().step_by(2).position(is_key)?;
            self.operands.get(2 * key + 1)
        };
        let number = |names| match after(names) {
            Some(Operand::Number(number)) if *number >= 0.0 => Some(*number as usize),
            _ => None,
        };
        if after([b"F", b"Filter"]).is_some() {
            return None;
        }
        let parts = match after([b"CS", b"ColorSpace"]) {
            Some(Operand::Name(b"G" | b"DeviceGray")) => 1,
            Some(Operand::Name(b"RGB" | b"DeviceRGB")) => 3,
            Some(Operand::Name(b"CMYK" | b"DeviceCMYK")) => 4,
            None if after([b"IM", b"ImageMask"]).is_some() => 1,
            _ => return None,
        };
        let bits = number([b"BPC", b"BitsPerComponent"]).unwrap_or(1);
        let row = number([b"W", b"Width"])?.checked_mul(bits)?.checked_mul(parts)?.div_ceil(8);
        row.checked_mul(number([b"H", b"Height"])?)
    }

    /// Tells whether content may go on after an inline image: by an operator or an operand that can begin there.
    fn goes_on_at(&self, place: usize) -> bool {
        const OPERATORS: [&[u8]; 31] = [
            b"q", b"Q", b"BT", b"ET", b"BI", b"BMC", b"BDC", b"EMC", b"Do", b"S", b"s", b"f", b"F", b"f*",
            b"B", b"B*", b"b", b"b*", b"n", b"W", b"W*", b"h", b"m", b"l", b"cm", b"gs", b"sh", b"BX", b"EX",
            b"MP", b"T*",
        ];
        let mut rest = self.data.get(place..).unwrap_or_default();
        while let [first, after @ ..] = rest
            && is_blank(*first)
        {
            rest = after;
        }
        let length = rest.iter().position(|&byte| is_blank(byte) || is_delimiter(byte));
        let word = &rest[..length.unwrap_or(rest.len())];
        match rest {
            [] | [b'%' | b'[' | b'<', ..] => true,
            [b'/', name, ..] => name.is_ascii_alphanumeric(),
            _ => {
                let is_number = word.iter().all(|byte| matches!(byte, b'0'..=b'9' | b'+' | b'-' | b'.'));
                OPERATORS.contains(&word) || is_number && !word.is_empty()
            }
        }
    }
}
