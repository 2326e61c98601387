//! The part of the graphics state that text depends on, and the operators that change nothing but it.
//!
//! Colours are followed only as far as telling white from the rest.

use std::sync::Arc;

use lopdf::Object;

use crate::pdf::Area;
use crate::pdf::content::{MAX_SAVED, Reader, Resources};
use crate::pdf::font::Font;
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{array, dictionary, named, number, number_of, resolve};

/// Share of full light from which a colour is white.
const WHITE: f32 = 0.98;

/// What text is painted with and where.
#[derive(Clone)]
pub(super) struct State {
    pub(super) ctm: Matrix,
    pub(super) text: Matrix,
    pub(super) line: Matrix,
    pub(super) font: Option<Arc<Font>>,
    pub(super) size: f32,
    pub(super) character_space: f32,
    pub(super) word_space: f32,
    pub(super) stretch: f32,
    pub(super) leading: f32,
    pub(super) rise: f32,
    pub(super) mode: u8,
    /// How what is filled comes out.
    pub(super) fill: Fill,
    /// Whether numbers of the colour space that was named say how much light there is, and not how much ink.
    light: bool,
    /// What is painted outside of this is not seen.
    pub(super) clip: Option<Area>,
}

/// How what is filled comes out on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    /// To be seen.
    Ink,
    /// Seen only on a ground that is not white.
    White,
    /// Not at all.
    Clear,
}

impl State {
    /// The state at the start of a page.
    pub(super) fn new(ctm: Matrix) -> Self {
        Self {
            ctm,
            text: Matrix::IDENTITY,
            line: Matrix::IDENTITY,
            font: None,
            size: 0.0,
            character_space: 0.0,
            word_space: 0.0,
            stretch: 1.0,
            leading: 0.0,
            rise: 0.0,
            mode: 0,
            fill: Fill::Ink,
            light: true,
            clip: None,
        }
    }

    /// Goes to a place measured from the start of the line.
    pub(super) fn next_line(&mut self, x: f32, y: f32) {
        self.line = self.line.moved(x, y);
        self.text = self.line;
    }
}

impl Reader<'_> {
    /// Follows the operators that only change the state.
    pub(super) fn set(&mut self, operator: &[u8], lexer: &Lexer, resources: Resources) {
        let state = &mut self.state;
        let first = lexer.number_at(0);
        match operator {
            b"Td" => state.next_line(first, lexer.number_at(1)),
            b"Tm" => {
                state.line = six(lexer);
                state.text = state.line;
            }
            b"q" if self.saved.len() < MAX_SAVED => self.saved.push(state.clone()),
            b"Q" => {
                if let Some(saved) = self.saved.pop() {
                    self.state = saved;
                }
            }
            b"cm" => state.ctm = six(lexer).then(state.ctm),
            b"BT" => (state.text, state.line) = (Matrix::IDENTITY, Matrix::IDENTITY),
            b"TD" => {
                state.leading = -lexer.number_at(1);
                state.next_line(first, lexer.number_at(1));
            }
            b"T*" => state.next_line(0.0, -state.leading),
            b"Tc" => state.character_space = first,
            b"Tw" => state.word_space = first,
            b"Tz" => state.stretch = first / 100.0,
            b"TL" => state.leading = first,
            b"Ts" => state.rise = first,
            b"Tr" => state.mode = first as u8,
            b"g" | b"rg" | b"k" | b"sc" | b"scn" | b"cs" => self.set_colour(operator, lexer, resources),
            _ => {}
        }
    }

    fn set_colour(&mut self, operator: &[u8], lexer: &Lexer, resources: Resources) {
        let all = |is: fn(f32) -> bool| {
            !lexer.operands.is_empty()
                && lexer.operands.iter().all(|operand| matches!(operand, Operand::Number(part) if is(*part)))
        };
        let white = match operator {
            b"g" | b"rg" => all(|light| light >= WHITE),
            b"k" => all(|ink| ink <= 1.0 - WHITE),
            b"cs" => {
                self.state.light = self.is_light(lexer, resources);
                false
            }
            // Four numbers are amounts of ink, whatever they are called.
            _ => self.state.light && lexer.operands.len() < 4 && all(|light| light >= WHITE),
        };
        if self.state.fill != Fill::Clear {
            self.state.fill = if white { Fill::White } else { Fill::Ink };
        }
    }

    /// Tells whether the colour space that the operator names counts light.
    fn is_light(&self, lexer: &Lexer, resources: Resources) -> bool {
        let file = self.shared.file;
        let Some(Operand::Name(key)) = lexer.operands.first() else { return false };
        let plain =
            |name: &[u8]| matches!(name, b"DeviceGray" | b"DeviceRGB" | b"CalGray" | b"CalRGB" | b"ICCBased");
        let named = || {
            let spaces = dictionary(file, resources?, b"ColorSpace")?;
            let space = resolve(file, named(spaces, key)?);
            space
                .as_name()
                .or_else(|_| resolve(file, space.as_array()?.first().unwrap_or(space)).as_name())
                .ok()
        };
        plain(key) || named().is_some_and(plain)
    }

    /// Takes font and transparency from a dictionary of graphics state.
    pub(super) fn set_from_dictionary(&mut self, lexer: &Lexer, resources: Resources) {
        let file = self.shared.file;
        let Some(Operand::Name(key)) = lexer.operands.first() else { return };
        let Some(Object::Dictionary(said)) = resources
            .and_then(|dict| dictionary(file, dict, b"ExtGState"))
            .and_then(|states| named(states, key))
            .map(|said| resolve(file, said))
        else {
            return;
        };
        if let Some([font, size]) = array(file, said, b"Font") {
            self.state.font = self.shared.font(font);
            self.state.size = number_of(file, size).unwrap_or(self.state.size);
        }
        match number(file, said, b"ca") {
            Some(opaque) if opaque <= 1.0 - WHITE => self.state.fill = Fill::Clear,
            Some(_) if self.state.fill == Fill::Clear => self.state.fill = Fill::Ink,
            Some(_) | None => {}
        }
    }
}

/// Returns the matrix that an operator's six numbers make.
fn six(lexer: &Lexer) -> Matrix {
    Matrix::of(std::array::from_fn(|index| lexer.number_at(index)))
}
