//! Strings that are shown come in; their glyphs are put on the canvas where the matrices say.

use crate::pdf::content::Reader;
use crate::pdf::content::mark::Mark;
use crate::pdf::content::state::Fill;
use crate::pdf::font::Font;
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::paint::{Placed, Setting, Way, turn_of};
use crate::pdf::{Area, Role};

/// Modes of painting that paint nothing.
const UNPAINTED: [u8; 2] = [3, 7];

/// Bytes of one string that are shown at most; the standard allows half as many.
const MAX_STRING: usize = 1 << 16;

/// What all strings of one operator share.
struct Showing {
    /// Size on the page.
    size: f32,
    /// Whether they go onto the page: text askew or on a hidden layer doesn't.
    shown: bool,
    /// Points on the page for one unit along the line.
    length: f32,
}

impl Reader<'_> {
    /// Follows an operator that shows text.
    pub(super) fn show_operator(&mut self, operator: &[u8], lexer: &Lexer) {
        let state = &mut self.state;
        match operator {
            b"\"" => {
                state.word_space = lexer.number_at(0);
                state.character_space = lexer.number_at(1);
                state.next_line(0.0, -state.leading);
            }
            b"'" => state.next_line(0.0, -state.leading),
            _ => {}
        }
        // Lent out, not cloned: the count of a font's users is shared by all threads.
        let Some(font) = self.state.font.take() else {
            let letters = lexer.operands.iter().map(|operand| match operand {
                Operand::Text(text) => lexer.string(text).len(),
                _ => 0,
            });
            self.missing.letters += letters.sum::<usize>();
            return;
        };
        let showing = self.showing(&font);
        for operand in &lexer.operands {
            match operand {
                Operand::Text(text) => {
                    if let Some(showing) = &showing {
                        self.show(&font, lexer.string(text), showing);
                    }
                }
                Operand::Number(kern) if operator == b"TJ" => {
                    let back = kern / 1000.0 * self.state.size * self.state.stretch;
                    self.state.text = self.state.text.moved(-back, 0.0);
                }
                _ => {}
            }
        }
        self.state.font = Some(font);
    }

    /// Returns how the strings of the next operator are set, and begins them; nothing where they have no extent.
    fn showing(&mut self, font: &Font) -> Option<Showing> {
        let state = &self.state;
        let map = state.text.then(state.ctm);
        let along = state.stretch.signum() * state.size.signum();
        let length = hypotenuse(map.a, map.b);
        if length == 0.0 || !length.is_finite() {
            return None;
        }
        let hidden = self.marks.iter().any(|mark| matches!(mark, Mark::Hidden));
        let turn = turn_of((map.a * along, map.b * along)).filter(|_| !hidden);
        let size = state.size.abs() * hypotenuse(map.c, map.d);
        let role = self.role(map.at(0.0, state.rise));
        self.canvas.begin(Setting { face: font.face, size, role, turn: turn.unwrap_or_default() });
        Some(Showing { size, shown: turn.is_some(), length })
    }

    fn show(&mut self, font: &Font, bytes: &[u8], showing: &Showing) {
        if self.canvas.is_full() {
            return;
        }
        let state = &self.state;
        let mut signs = Signs {
            font,
            bytes: &bytes[..bytes.len().min(MAX_STRING)],
            size: state.size,
            stretch: state.stretch,
            character_space: state.character_space,
            word_space: state.word_space,
            x: 0.0,
        };
        let way = Way { map: state.text.then(state.ctm), rise: state.rise, length: showing.length };
        self.add_all(&mut signs, &way, showing);
        self.state.text = self.state.text.moved(signs.x, 0.0);
    }

    fn add_all(&mut self, signs: &mut Signs, way: &Way, showing: &Showing) {
        let clip = self.state.clip;
        let is_level = showing.shown && way.map.b == 0.0 && self.canvas.is_upright();
        let plain = is_level.then(|| clip.unwrap_or(Area::EVERYWHERE));
        while let Some(sign) = self.canvas.add_letters(signs, way, plain) {
            let (from, to) = (way.at(sign.x), way.at(sign.x + sign.width));
            if showing.shown && clip.is_none_or(|clip| clip.meets(from, to, showing.size)) {
                self.canvas.add(sign.text, from, sign.width.abs() * way.length);
            }
        }
    }

    /// Returns what text painted now is to the page.
    fn role(&self, origin: (f32, f32)) -> Role {
        let clear = match self.state.fill {
            Fill::Ink => false,
            Fill::White => self.state.mode == 0 && !self.canvas.is_on_ground(origin),
            Fill::Clear => self.state.mode == 0,
        };
        if clear || UNPAINTED.contains(&self.state.mode) {
            Role::Unseen
        } else if self.marks.iter().any(|mark| matches!(mark, Mark::Furniture)) {
            Role::Furniture
        } else {
            Role::Text
        }
    }
}

/// The signs of a string, each with its place on the line.
struct Signs<'f> {
    font: &'f Font,
    bytes: &'f [u8],
    size: f32,
    stretch: f32,
    character_space: f32,
    word_space: f32,
    /// Where the next sign stands.
    x: f32,
}

impl<'f> Iterator for Signs<'f> {
    type Item = Placed<'f>;

    #[inline]
    fn next(&mut self) -> Option<Placed<'f>> {
        let (sign, rest) = self.font.next_sign(self.bytes)?;
        self.bytes = rest;
        let wide = sign.width * self.size;
        let spaces = self.character_space + if sign.word_space { self.word_space } else { 0.0 };
        let x = self.x;
        self.x += (wide + spaces) * self.stretch;
        Some(Placed { text: sign.text, x, width: wide * self.stretch })
    }
}

/// Returns the length of a vector; nearly all lie along an axis.
fn hypotenuse(x: f32, y: f32) -> f32 {
    if y == 0.0 {
        x.abs()
    } else if x == 0.0 {
        y.abs()
    } else {
        x.hypot(y)
    }
}
