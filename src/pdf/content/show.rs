//! Strings that are shown come in; their glyphs are put on the canvas where the matrices say.

use crate::pdf::Role;
use crate::pdf::content::Reader;
use crate::pdf::content::mark::Mark;
use crate::pdf::content::state::Fill;
use crate::pdf::font::Font;
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::paint::{Setting, turn_of};

/// Modes of painting that paint nothing.
const UNPAINTED: [u8; 2] = [3, 7];

/// Bytes of one string that are shown at most; the standard allows half as many.
const MAX_STRING: usize = 1 << 16;

/// What all strings of one operator share.
struct Showing {
    setting: Setting,
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
                Operand::Text(range) => lexer.string(range).len(),
                _ => 0,
            });
            self.missing.letters += letters.sum::<usize>();
            return;
        };
        let showing = self.showing(&font);
        for operand in &lexer.operands {
            match operand {
                Operand::Text(range) => {
                    if let Some(showing) = &showing {
                        self.show(&font, lexer.string(range), showing);
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

    /// Returns how the strings of the next operator are set; nothing where they have no extent.
    fn showing(&self, font: &Font) -> Option<Showing> {
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
        let setting = Setting { face: font.face, size, role, turn: turn.unwrap_or_default() };
        Some(Showing { setting, shown: turn.is_some(), length })
    }

    fn show(&mut self, font: &Font, bytes: &[u8], showing: &Showing) {
        let mut bytes = &bytes[..bytes.len().min(MAX_STRING)];
        if self.canvas.is_full() {
            return;
        }
        let state = &self.state;
        let (size, stretch, rise) = (state.size, state.stretch, state.rise);
        let (character_space, word_space) = (state.character_space, state.word_space);
        let map = state.text.then(state.ctm);
        let clip = state.clip;
        let mut x = 0.0;
        while !bytes.is_empty() {
            let sign = font.next_sign(bytes);
            bytes = &bytes[sign.bytes.clamp(1, bytes.len())..];
            let wide = sign.width / 1000.0 * size;
            let spaces = character_space + if sign.word_space { word_space } else { 0.0 };
            if showing.shown {
                let origin = map.at(x, rise);
                let width = (wide * stretch).abs() * showing.length;
                let seen = clip.is_none_or(|clip| {
                    let end = map.at(x + wide * stretch, rise);
                    clip.meets(origin, end, showing.setting.size)
                });
                if seen {
                    self.canvas.add(sign.text, origin, width, &showing.setting);
                }
            }
            x += (wide + spaces) * stretch;
        }
        self.state.text = self.state.text.moved(x, 0.0);
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
