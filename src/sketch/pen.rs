//! What drawings are made with: strokes and areas, put down in turn, each over what was there.
//! Units are hundredths of the frame, from its middle; up and right are positive. How thick a stroke comes out is not
//! said here.

use crate::sketch::curve::{self, At, Turn};

/// How much a stroke weighs on the eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Weight {
    /// What stands around.
    Faint,
    /// The drawing.
    Line,
    /// What the term is about.
    Bold,
}

/// What an area is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tone {
    /// Nothing: it hides what lies behind.
    Paper,
    /// Sparse dots.
    Grey,
    /// All dots.
    Ink,
}

/// One stroke or area.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Mark {
    /// A line through points.
    Stroke(Vec<At>, Weight),
    /// What a line through points encloses.
    Area(Vec<At>, Tone),
}

/// How a closed figure is put down: its line, its area, or both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// A faint line.
    Faint,
    /// A line.
    Line,
    /// A bold line.
    Bold,
    /// A faint line around paper.
    FaintPaper,
    /// A line around paper.
    Paper,
    /// A bold line around paper.
    BoldPaper,
    /// A line around grey.
    Grey,
    /// A bold line around grey.
    BoldGrey,
    /// Ink.
    Ink,
}

impl Look {
    /// Returns the weight of the line.
    fn weight(self) -> Weight {
        match self {
            Look::Faint | Look::FaintPaper => Weight::Faint,
            Look::Line | Look::Paper | Look::Grey | Look::Ink => Weight::Line,
            Look::Bold | Look::BoldPaper | Look::BoldGrey => Weight::Bold,
        }
    }

    /// Returns the line of a figure alone.
    pub(super) fn line(self) -> Look {
        match self.weight() {
            Weight::Faint => Look::Faint,
            Weight::Line => Look::Line,
            Weight::Bold => Look::Bold,
        }
    }

    /// Returns the tone of the area.
    fn tone(self) -> Option<Tone> {
        match self {
            Look::Faint | Look::Line | Look::Bold => None,
            Look::FaintPaper | Look::Paper | Look::BoldPaper => Some(Tone::Paper),
            Look::Grey | Look::BoldGrey => Some(Tone::Grey),
            Look::Ink => Some(Tone::Ink),
        }
    }
}

/// Draws.
#[derive(Debug, Default)]
pub(super) struct Pen {
    marks: Vec<Mark>,
    turn: Turn,
}

impl Pen {
    /// Returns what was drawn.
    pub(super) fn marks(self) -> Vec<Mark> {
        self.marks
    }

    /// Draws straight lines from point to point.
    pub(super) fn line(&mut self, points: &[At], look: Look) {
        let points = points.iter().map(|point| self.turn.of(*point)).collect();
        self.marks.push(Mark::Stroke(points, look.weight()));
    }

    /// Draws a smooth line through points.
    pub(super) fn smooth(&mut self, points: &[At], look: Look) {
        self.line(&curve::smooth(points), look);
    }

    /// Draws a closed figure with corners at points.
    pub(super) fn figure(&mut self, points: &[At], look: Look) {
        let mut points: Vec<At> = points.iter().map(|point| self.turn.of(*point)).collect();
        if let Some(tone) = look.tone() {
            self.marks.push(Mark::Area(points.clone(), tone));
        }
        points.extend(points.first().copied());
        self.marks.push(Mark::Stroke(points, look.weight()));
    }

    /// Draws a smooth closed figure through points.
    pub(super) fn blob(&mut self, points: &[At], look: Look) {
        self.figure(&curve::smooth_ring(points), look);
    }

    /// Draws a figure that is alike on both sides of the upright through the middle, from its right side, first to last.
    pub(super) fn twin(&mut self, right: &[At], look: Look) {
        self.figure(&curve::twin(right), look);
    }

    /// Draws the same line on both sides of the upright through the middle.
    pub(super) fn both(&mut self, right: &[At], look: Look) {
        let right = curve::smooth(right);
        self.line(&right, look);
        self.line(&curve::mirror(&right), look);
    }

    /// Draws a circle.
    pub(super) fn circle(&mut self, middle: At, radius: f32, look: Look) {
        self.oval(middle, [radius, radius], look);
    }

    /// Draws an upright ellipse.
    pub(super) fn oval(&mut self, middle: At, radii: At, look: Look) {
        self.figure(&curve::arc(middle, radii, (0.0, 360.0)), look);
    }

    /// Draws an arc of an ellipse from one angle to another, in degrees from the right, against the clock.
    pub(super) fn arc(&mut self, middle: At, radii: At, angles: (f32, f32), look: Look) {
        self.line(&curve::arc(middle, radii, angles), look);
    }

    /// Draws with another middle, turned by degrees against the clock and grown by a factor.
    pub(super) fn at(&mut self, middle: At, (degrees, factor): (f32, f32), draw: impl FnOnce(&mut Pen)) {
        let turn = self.turn.then(Turn::new(middle, degrees, factor));
        let before = std::mem::replace(&mut self.turn, turn);
        draw(self);
        self.turn = before;
    }
}
