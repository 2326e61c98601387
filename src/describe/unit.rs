//! Units of length and the words that say which way was measured (T24, T25, T34). Numbers are read in `number`.

use serde::{Deserialize, Serialize};

/// Which way was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Dimension {
    /// Along; a bare measure too (T24).
    Length,
    /// Across a flat part.
    Width,
    /// Up from the ground.
    Height,
    /// Across a round part.
    Diameter,
    /// Through.
    Thickness,
}

impl Dimension {
    /// Returns the word for it behind a measure.
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "long",
            Self::Width => "wide",
            Self::Height => "tall",
            Self::Diameter => "across",
            Self::Thickness => "thick",
        }
    }

    /// Returns the word for what was measured.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Width => "width",
            Self::Height => "height",
            Self::Diameter => "diameter",
            Self::Thickness => "thickness",
        }
    }
}

/// Units with their millimetres (T34).
const UNITS: &[(&str, f32)] = &[
    ("mm", 1.0),
    ("millimetre", 1.0),
    ("millimetres", 1.0),
    ("cm", 10.0),
    ("centimetre", 10.0),
    ("centimetres", 10.0),
    ("dm", 100.0),
    ("m", 1000.0),
    ("metre", 1000.0),
    ("metres", 1000.0),
    ("meter", 1000.0),
    ("meters", 1000.0),
    ("µm", 0.001),
    ("μm", 0.001),
    ("in", 25.4),
    ("inch", 25.4),
    ("inches", 25.4),
    ("ft", 304.8),
    ("foot", 304.8),
    ("feet", 304.8),
    ("yard", 914.4),
    ("yards", 914.4),
    ("line", 2.117),
    ("lines", 2.117),
];

/// Words for a dimension, behind the measure or before it.
const DIMENSIONS: &[(&str, Dimension)] = &[
    ("long", Dimension::Length),
    ("length", Dimension::Length),
    ("wide", Dimension::Width),
    ("broad", Dimension::Width),
    ("width", Dimension::Width),
    ("breadth", Dimension::Width),
    ("tall", Dimension::Height),
    ("high", Dimension::Height),
    ("height", Dimension::Height),
    ("across", Dimension::Diameter),
    ("diam", Dimension::Diameter),
    ("diameter", Dimension::Diameter),
    ("thick", Dimension::Thickness),
    ("thickness", Dimension::Thickness),
    ("deep", Dimension::Thickness),
];

/// Returns the millimetres of a unit.
pub fn millimetres(word: &str) -> Option<f32> {
    UNITS.iter().find(|(unit, _)| *unit == word).map(|(_, factor)| *factor)
}

/// Returns the dimension that a word names.
pub(crate) fn dimension(word: &str) -> Option<Dimension> {
    DIMENSIONS.iter().find(|(name, _)| *name == word).map(|(_, dimension)| *dimension)
}
