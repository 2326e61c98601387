//! A content stream or character map comes in as bytes; operators with their operands go out.
//!
//! Strings stay where they stand, or are spelled out into one reused buffer, so that reading an operator costs no
//! allocation. What an operator means is not known here.

mod inline;

use std::ops::Range;

/// Operands kept before one operator; more are dropped (a `TJ` array of a long line has some hundreds).
const MAX_OPERANDS: usize = 1 << 20;

/// An operand.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Operand<'a> {
    /// An integer or a real.
    Number(f32),
    /// A string, to be asked for with [`Lexer::string`].
    Text(Text<'a>),
    /// A name, without its slash and as written.
    Name(&'a [u8]),
    /// `[`.
    ArrayOpen,
    /// `]`.
    ArrayClose,
    /// `<<`.
    DictOpen,
    /// `>>`.
    DictClose,
    /// `true`, `false` or `null`.
    Constant,
}

/// A string as it is kept.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Text<'a> {
    /// As it is written.
    Written(&'a [u8]),
    /// Its place among the strings that had to be spelled out.
    SpelledOut(Range<usize>),
}

/// Reads operators one by one.
pub(super) struct Lexer<'a> {
    data: &'a [u8],
    at: usize,
    /// The operands of the last operator.
    pub(super) operands: Vec<Operand<'a>>,
    /// The bytes of those string operands of the last operator that had to be spelled out.
    strings: Vec<u8>,
}

impl<'a> Lexer<'a> {
    /// Starts at the first byte.
    pub(super) fn new(data: &'a [u8]) -> Self {
        Self { data, at: 0, operands: Vec::with_capacity(64), strings: Vec::with_capacity(256) }
    }

    /// Reads up to the next operator and returns its name; its operands then stand in `operands`.
    pub(super) fn next_operator(&mut self) -> Option<&'a [u8]> {
        self.operands.clear();
        self.strings.clear();
        loop {
            let operand = match self.skip_blanks()? {
                b'0'..=b'9' | b'+' | b'-' | b'.' => Operand::Number(self.number()),
                b'(' => self.literal(),
                b'/' => self.name(),
                b'<' if self.data.get(self.at + 1) == Some(&b'<') => self.step(2, Operand::DictOpen),
                b'<' => self.hexadecimal(),
                b'>' if self.data.get(self.at + 1) == Some(&b'>') => self.step(2, Operand::DictClose),
                b'[' => self.step(1, Operand::ArrayOpen),
                b']' => self.step(1, Operand::ArrayClose),
                b')' | b'>' | b'{' | b'}' => {
                    self.at += 1;
                    continue;
                }
                _ => match self.word() {
                    b"true" | b"false" | b"null" => Operand::Constant,
                    operator => return Some(operator),
                },
            };
            if self.operands.len() < MAX_OPERANDS {
                self.operands.push(operand);
            }
        }
    }

    /// Returns the bytes of a string operand.
    pub(super) fn string<'s>(&'s self, text: &Text<'s>) -> &'s [u8] {
        match text {
            Text::Written(bytes) => bytes,
            Text::SpelledOut(range) => self.strings.get(range.clone()).unwrap_or_default(),
        }
    }

    /// Returns the operand's number, counted from the first; zero where there is none.
    pub(super) fn number_at(&self, index: usize) -> f32 {
        match self.operands.get(index) {
            Some(Operand::Number(number)) => *number,
            _ => 0.0,
        }
    }

    fn step(&mut self, bytes: usize, operand: Operand<'a>) -> Operand<'a> {
        self.at += bytes;
        operand
    }

    /// Goes on to the next byte that is neither blank nor in a comment, and returns it.
    fn skip_blanks(&mut self) -> Option<u8> {
        while let Some(&byte) = self.data.get(self.at) {
            if byte == b'%' {
                while self.data.get(self.at).is_some_and(|&b| b != b'\n' && b != b'\r') {
                    self.at += 1;
                }
            } else if is_blank(byte) {
                self.at += 1;
            } else {
                return Some(byte);
            }
        }
        None
    }

    fn number(&mut self) -> f32 {
        match plain_number(&self.data[self.at..]) {
            Some((number, length)) => {
                self.at += length;
                number
            }
            None => self.strange_number(),
        }
    }

    /// Reads a number that is long or that the standard does not allow.
    fn strange_number(&mut self) -> f32 {
        let start = self.at;
        let mut sign = 1.0;
        let mut whole: f64 = 0.0;
        let mut scale: f64 = 0.0;
        while let Some(&byte) = self.data.get(self.at) {
            match byte {
                b'0'..=b'9' => {
                    whole = whole * 10.0 + f64::from(byte - b'0');
                    scale *= 10.0;
                }
                // Within a number it means nothing.
                b'-' if self.at > start => {}
                b'-' => sign = -1.0,
                b'+' => {}
                b'.' if scale == 0.0 => scale = 1.0,
                _ => break,
            }
            self.at += 1;
        }
        let value = if scale > 1.0 { whole / scale } else { whole };
        let power = if matches!(self.data.get(self.at), Some(b'e' | b'E')) { self.power() } else { 1.0 };
        (sign * value * power) as f32
    }

    /// Reads the power of ten after a number, which the standard does not allow; one where letters follow.
    fn power(&mut self) -> f64 {
        let rest = &self.data[self.at + 1..];
        let signs = usize::from(matches!(rest.first(), Some(b'-' | b'+')));
        let digits = rest[signs..].iter().take_while(|byte| byte.is_ascii_digit()).count();
        let length = signs + digits;
        let power = std::str::from_utf8(&rest[..length]).ok().and_then(|power| power.parse().ok());
        let Some(power) = power.filter(|_| digits > 0) else { return 1.0 };
        self.at += 1 + length;
        10_f64.powi(power)
    }

    fn name(&mut self) -> Operand<'a> {
        self.at += 1;
        Operand::Name(self.word())
    }

    /// Returns the regular characters from here on; never an empty word unless a name is empty.
    fn word(&mut self) -> &'a [u8] {
        let start = self.at;
        let rest = &self.data[start..];
        let length = rest.iter().position(|&byte| is_blank(byte) || is_delimiter(byte)).unwrap_or(rest.len());
        self.at += length;
        &rest[..length]
    }

    fn literal(&mut self) -> Operand<'a> {
        let rest = &self.data[self.at + 1..];
        let end = rest.iter().position(|byte| matches!(byte, b'(' | b')' | b'\\'));
        if let Some(end) = end.filter(|&end| rest[end] == b')') {
            return self.step(end + 2, Operand::Text(Text::Written(&rest[..end])));
        }
        self.at += 1;
        Operand::Text(self.spelled_out_literal())
    }

    /// Reads the rest of a string with escapes or parentheses, or one that breaks off.
    fn spelled_out_literal(&mut self) -> Text<'a> {
        let start = self.strings.len();
        let mut depth = 1_u32;
        while let Some(&byte) = self.data.get(self.at) {
            self.at += 1;
            match byte {
                b'\\' => {
                    self.escape();
                    continue;
                }
                b'(' => depth += 1,
                b')' => {
                    depth -= 1;
                    if depth == 0 {
                        break;
                    }
                }
                _ => {}
            }
            self.strings.push(byte);
        }
        Text::SpelledOut(start..self.strings.len())
    }

    fn escape(&mut self) {
        let Some(&byte) = self.data.get(self.at) else { return };
        self.at += 1;
        let plain = match byte {
            b'n' => b'\n',
            b'r' => b'\r',
            b't' => b'\t',
            b'b' => 8,
            b'f' => 12,
            b'\n' => return,
            b'\r' => {
                if self.data.get(self.at) == Some(&b'\n') {
                    self.at += 1;
                }
                return;
            }
            b'0'..=b'7' => self.octal(byte - b'0'),
            other => other,
        };
        self.strings.push(plain);
    }

    fn octal(&mut self, first: u8) -> u8 {
        let mut value = first;
        for _ in 0..2 {
            match self.data.get(self.at) {
                Some(&digit @ b'0'..=b'7') => value = value.wrapping_mul(8).wrapping_add(digit - b'0'),
                _ => break,
            }
            self.at += 1;
        }
        value
    }

    fn hexadecimal(&mut self) -> Operand<'a> {
        let start = self.strings.len();
        self.at += 1;
        let mut half = None;
        while let Some(&byte) = self.data.get(self.at) {
            self.at += 1;
            if byte == b'>' {
                break;
            }
            let Some(digit) = char::from(byte).to_digit(16) else { continue };
            let digit = digit as u8;
            half = match half {
                None => Some(digit),
                Some(high) => {
                    self.strings.push(high << 4 | digit);
                    None
                }
            };
        }
        if let Some(high) = half {
            self.strings.push(high << 4);
        }
        Operand::Text(Text::SpelledOut(start..self.strings.len()))
    }
}

/// Digits of a number that are counted exactly, whatever its size.
const MAX_DIGITS: usize = 15;
/// What digits behind the point divide a number by, by how many there are.
const TENS: [f64; MAX_DIGITS + 1] = {
    let mut tens = [1.0; MAX_DIGITS + 1];
    let mut at = 1;
    while at < tens.len() {
        tens[at] = tens[at - 1] * 10.0;
        at += 1;
    }
    tens
};

/// Returns the number that bytes begin with and its length; nothing where it is long or the standard does not allow it.
fn plain_number(bytes: &[u8]) -> Option<(f32, usize)> {
    let sign = usize::from(bytes.first() == Some(&b'-'));
    let (mut whole, mut at, mut point) = (0_u64, sign, None);
    let next = loop {
        match bytes.get(at) {
            Some(digit @ b'0'..=b'9') => whole = whole.wrapping_mul(10).wrapping_add(u64::from(digit - b'0')),
            Some(b'.') if point.is_none() => point = Some(at),
            next => break next,
        }
        at += 1;
    };
    if at - sign > MAX_DIGITS || matches!(next, Some(b'+' | b'-' | b'e' | b'E')) {
        return None;
    }
    let value = whole as f64 / point.map_or(1.0, |point| TENS[at - point - 1]);
    Some((if sign > 0 { -value } else { value } as f32, at))
}

/// Returns a name with the bytes that it writes as `#` and two digits.
pub(super) fn spelled_out(name: &[u8]) -> Vec<u8> {
    let (mut spelled, mut rest) = (Vec::with_capacity(name.len()), name);
    while let [first, after @ ..] = rest {
        let digits = match after {
            [high, low, ..] if *first == b'#' => {
                let digit = |byte: &u8| char::from(*byte).to_digit(16);
                digit(high).zip(digit(low))
            }
            _ => None,
        };
        let (byte, length) = digits.map_or((*first, 1), |(high, low)| ((high << 4 | low) as u8, 3));
        spelled.push(byte);
        rest = &rest[length..];
    }
    spelled
}

fn is_blank(byte: u8) -> bool {
    matches!(byte, b' ' | b'\n' | b'\r' | b'\t' | 0 | 12)
}

fn is_delimiter(byte: u8) -> bool {
    matches!(byte, b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_operators(content: &str, expected: &str) {
        let mut lexer = Lexer::new(content.as_bytes());
        let mut lines = Vec::new();
        while let Some(operator) = lexer.next_operator() {
            let mut line = String::from_utf8_lossy(operator).into_owned();
            for operand in &lexer.operands {
                line.push(' ');
                line.push_str(&shown(operand, &lexer));
            }
            if operator == b"ID" {
                lexer.skip_inline_image();
            }
            lines.push(line);
        }
        assert_eq!(lines.join("; "), expected);
    }

    fn shown(operand: &Operand, lexer: &Lexer) -> String {
        match operand {
            Operand::Number(number) => number.to_string(),
            Operand::Text(text) => format!("{:?}", String::from_utf8_lossy(lexer.string(text))),
            Operand::Name(name) => ["/", &String::from_utf8_lossy(name)].concat(),
            Operand::ArrayOpen => "[".into(),
            Operand::ArrayClose => "]".into(),
            Operand::DictOpen => "<<".into(),
            Operand::DictClose => ">>".into(),
            Operand::Constant => "const".into(),
        }
    }

    #[test]
    fn operands_come_before_their_operator() {
        check_operators("/F1 9.5 Tf 1 0 0 -1 .5 -.25 cm", "Tf /F1 9.5; cm 1 0 0 -1 0.5 -0.25");
    }

    #[test]
    fn numbers_written_against_the_standard_are_read() {
        check_operators("1e3 -2.5E-1 1EI 5ET", "EI 1000 -0.25 1; ET 5");
        check_operators("--5 0.5-25 +.5 cm", "cm -5 0.525 0.5");
    }

    #[test]
    fn strings_keep_nested_parentheses_and_escapes() {
        check_operators(r"(a(b)\)\101\n) Tj <4a4> Tj", r#"Tj "a(b))A\n"; Tj "J@""#);
    }

    #[test]
    fn an_array_of_strings_and_kerns_is_read_in_order() {
        check_operators("[(Ab)-250(c)]TJ", r#"TJ [ "Ab" -250 "c" ]"#);
    }

    #[test]
    fn the_data_of_an_inline_image_is_no_operator() {
        check_operators("BI /W 1 ID \u{1}(EIx Tj\nEI Q", "BI; ID /W 1; Q");
    }

    #[test]
    fn an_inline_image_ends_where_content_goes_on() {
        check_operators("BI /W 1 ID \u{1} EI (\u{2} EI x\u{ff} EI Q", "BI; ID /W 1; Q");
        check_operators("BI /F /A85 ID zz~>EI\nBT", "BI; ID /F /A85; BT");
        check_operators("BI /W 9 /H 1 /CS /G /BPC 8 ID (a EI Q bEI Q", "BI; ID /W 9 /H 1 /CS /G /BPC 8; Q");
        check_operators("BI /W 9 /IM true ID abEI/X Do", "BI; ID /W 9 /IM const; Do /X");
        check_operators("BI /W 9 ID ab EI (odd)Tj", "BI; ID /W 9; Tj \"odd\"");
        check_operators("BI /W 9 ID ab", "BI; ID /W 9");
    }

    #[track_caller]
    fn check_spelled_out(name: &str, expected: &str) {
        assert_eq!(String::from_utf8_lossy(&spelled_out(name.as_bytes())), expected);
    }

    #[test]
    fn a_name_spells_out_its_bytes() {
        check_spelled_out("A#20b#2f", "A b/");
        check_spelled_out("#4", "#4");
        check_spelled_out("F#g1", "F#g1");
    }

    #[test]
    fn a_stream_that_breaks_off_ends_without_an_operator() {
        check_operators("BT (abc", "BT");
    }
}
