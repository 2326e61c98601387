//! The common leaf: an outline by length to width, by where it is widest, and by how blunt its ends are.
//! Which numbers stand for which term is said in the tables of the topics.

use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Units of the longer of length and width.
const LONGEST: f32 = 84.0;

/// How far the middle of a leaf lies above that of the frame, to leave room for its stalk.
const RAISED: f32 = 4.0;

/// Where the stalk of a leaf begins.
const FOOT: f32 = -50.0;

/// Length by width above which a leaf has no room for a midrib.
const NARROW: f32 = 6.5;

/// Points between an end of a leaf and where it is widest.
const STEPS: usize = 14;

/// How an end of a leaf draws in: a half breadth of `(1 - (1 - s)^full)^tip` at a share `s` of the way to the widest place.
#[derive(Clone, Copy, Debug)]
pub(in crate::sketch) struct End {
    /// How long the sides keep their breadth: 2 for an ellipse, more for parallel sides.
    full: f32,
    /// How sharp it ends: 0.5 for an ellipse, 1 for a point, more for one that is drawn out.
    tip: f32,
}

/// As the end of an ellipse.
pub(in crate::sketch) const ROUND: End = End { full: 2.0, tip: 0.5 };
/// Bluntly pointed.
pub(in crate::sketch) const BLUNT: End = End { full: 2.0, tip: 0.72 };
/// Pointed.
pub(in crate::sketch) const SHARP: End = End { full: 2.0, tip: 1.0 };
/// At the end of parallel sides, round.
pub(in crate::sketch) const SQUARE: End = End { full: 6.0, tip: 0.5 };
/// At the end of parallel sides, pointed.
pub(in crate::sketch) const SWORD: End = End { full: 5.0, tip: 1.0 };
/// Drawn out, with hollow sides.
pub(in crate::sketch) const DRAWN: End = End { full: 2.0, tip: 1.5 };

/// The outline of a leaf.
#[derive(Clone, Copy, Debug)]
pub(in crate::sketch) struct Leaf {
    /// Length by width.
    ratio: f32,
    /// Where it is widest, as a share of its length from the base.
    widest: f32,
    /// How the base draws in.
    base: End,
    /// How the apex does.
    apex: End,
}

impl Leaf {
    /// Returns a leaf.
    pub(in crate::sketch) const fn new(ratio: f32, widest: f32, [base, apex]: [End; 2]) -> Leaf {
        Leaf { ratio, widest, base, apex }
    }

    /// Returns length and width.
    fn size(&self) -> (f32, f32) {
        if self.ratio >= 1.0 { (LONGEST, LONGEST / self.ratio) } else { (LONGEST * self.ratio, LONGEST) }
    }

    /// Returns the height of base and apex.
    fn ends(&self) -> (f32, f32) {
        let (length, _) = self.size();
        (RAISED - length / 2.0, RAISED + length / 2.0)
    }

    /// Returns half the breadth at a share of the length from the base.
    pub(in crate::sketch) fn breadth(&self, share: f32) -> f32 {
        let (end, way) = if share < self.widest {
            (self.base, share / self.widest)
        } else {
            (self.apex, (1.0 - share) / (1.0 - self.widest))
        };
        let (_, width) = self.size();
        width / 2.0 * (1.0 - (1.0 - way.clamp(0.0, 1.0)).powf(end.full)).powf(end.tip)
    }

    /// Returns the right margin from base to apex.
    pub(in crate::sketch) fn margin(&self) -> Vec<At> {
        let (base, apex) = self.ends();
        // Closer together near the ends, where the line bends most.
        let way = |step: usize| 1.0 - (step as f32 / STEPS as f32 * std::f32::consts::FRAC_PI_2).cos();
        let below = (0..=STEPS).map(|step| self.widest * way(step));
        let above = (0..STEPS).rev().map(|step| 1.0 - (1.0 - self.widest) * way(step));
        below.chain(above).map(|share| [self.breadth(share), base + (apex - base) * share]).collect()
    }

    /// Draws the leaf with stalk and midrib.
    pub(in crate::sketch) fn draw(&self, pen: &mut Pen, look: Look) {
        pen.twin(&self.margin(), look);
        self.midrib(pen);
    }

    /// Draws stalk and midrib.
    fn midrib(&self, pen: &mut Pen) {
        let (base, apex) = self.ends();
        stalk(pen, base);
        if self.ratio < NARROW {
            pen.line(&[[0.0, base], [0.0, base + (apex - base) * 0.88]], Look::Faint);
        }
    }
}

/// Draws the stalk of a leaf up to its base.
pub(in crate::sketch) fn stalk(pen: &mut Pen, base: f32) {
    pen.line(&[[0.0, FOOT.max(base - 20.0)], [0.0, base]], Look::Line);
}

/// The right margin of a small leaf from its base upwards.
const SMALL: [At; 6] = [[0.0, 0.0], [4.5, 4.0], [6.5, 10.0], [5.5, 17.0], [2.5, 23.0], [0.0, 27.0]];

/// Draws a small leaf or leaflet from its base, leaning by degrees to the left of upright, and grown.
pub(in crate::sketch) fn small(pen: &mut Pen, base: At, (lean, size): (f32, f32), look: Look) {
    pen.at(base, (lean, size), |pen| pen.twin(&curve::smooth(&SMALL), look));
}
