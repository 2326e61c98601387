//! Terms in, drawings out: shapes and arrangements as points and lines, made from numbers and never from a picture.
//! A drawing fills a square frame, the same for all, so that terms stand beside one another at one scale.
//! What a term means is not said here, and nothing is shown: the reader asks for rows of characters, exports for SVG.

mod cells;
mod curve;
mod flower;
mod grid;
mod leaf;
mod pair;
mod pen;
mod plant;
mod svg;

use crate::sketch::pen::{Mark, Pen};

pub use crate::sketch::cells::Dots;
pub use crate::sketch::pair::pair;

/// A term with what draws it.
type Row = (&'static str, fn(&mut Pen));

/// The topics, each a table of terms.
const TOPICS: &[&[Row]] = &[
    leaf::outline::ROWS,
    leaf::end::ROWS,
    leaf::margin::ROWS,
    leaf::lobe::ROWS,
    leaf::division::ROWS,
    leaf::stand::ROWS,
    leaf::vein::ROWS,
    flower::cluster::ROWS,
    flower::part_of_cluster::ROWS,
    flower::corolla::ROWS,
    flower::section::ROWS,
    flower::plan::ROWS,
    flower::stamen::ROWS,
    plant::fruit::ROWS,
    plant::hair::ROWS,
    plant::underground::ROWS,
    plant::stem::ROWS,
];

/// The drawing of one term.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    name: &'static str,
    marks: Vec<Mark>,
}

impl Sketch {
    /// Returns the glossary headword that is drawn.
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// Returns the drawing in a window of so many columns and rows, as one text a row, each exactly as wide as the window.
    pub fn cells(&self, size: (u16, u16), dots: Dots) -> Vec<String> {
        cells::rows(&self.marks, size, dots)
    }

    /// Returns the drawing as a whole SVG document.
    pub fn svg(&self) -> String {
        svg::document(self.name, &self.marks)
    }
}

/// Draws a term, named by its headword of the glossary in lower case; most terms have no drawing.
pub fn of(name: &str) -> Option<Sketch> {
    let (name, draw) = rows().find(|(other, _)| *other == name)?;
    let mut pen = Pen::default();
    draw(&mut pen);
    Some(Sketch { name, marks: pen.marks() })
}

/// Returns the terms that have a drawing, topic by topic.
pub fn names() -> impl Iterator<Item = &'static str> {
    rows().map(|(name, _)| *name)
}

/// Returns the tables of all topics as one.
fn rows() -> impl Iterator<Item = &'static Row> {
    TOPICS.iter().copied().flatten()
}

#[cfg(test)]
mod tests;
