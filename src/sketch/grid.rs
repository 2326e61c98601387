//! Strokes and areas in, dots out: a grid of square dots with the frame in its middle. Knows no character.

use crate::sketch::curve::At;
use crate::sketch::pen::{Mark, Tone, Weight};

/// Units across the frame, with the room that a thick stroke on its edge needs.
pub(super) const FRAME: f32 = 104.0;

/// Dots across the frame for each dot that a bold stroke is wide: two at sixteen cells, four at thirty-two.
const BOLD_PART: f32 = 17.0;

/// The same for a line, which is one dot wide up to thirty-two cells.
const LINE_PART: f32 = 45.0;

/// Dots of a faint stroke of which one is left out.
const BROKEN: usize = 2;

/// Dots of a row of grey of which one is set.
const GREY_EVERY: i64 = 4;

/// Square dots, row by row from the top.
pub(super) struct Grid {
    wide: usize,
    high: usize,
    side: f32,
    dots: Vec<bool>,
}

impl Grid {
    /// Draws marks on a grid of so many dots.
    pub(super) fn new(wide: usize, high: usize, marks: &[Mark]) -> Grid {
        let mut grid = Grid { wide, high, side: wide.min(high) as f32, dots: vec![false; wide * high] };
        for mark in marks {
            match mark {
                Mark::Stroke(points, weight) => grid.stroke(&grid.places(points), *weight),
                Mark::Area(points, tone) => grid.area(&grid.places(points), *tone),
            }
        }
        grid
    }

    /// Says whether a dot is set; there are none beyond the edges.
    pub(super) fn dot(&self, x: usize, y: usize) -> bool {
        x < self.wide && y < self.high && self.dots[y * self.wide + x]
    }

    /// Returns where points lie, in dots from the upper left corner.
    fn places(&self, points: &[At]) -> Vec<At> {
        let (scale, middle) = (self.side / FRAME, [self.wide as f32 / 2.0, self.high as f32 / 2.0]);
        points.iter().map(|[x, y]| [middle[0] + x * scale, middle[1] - y * scale]).collect()
    }

    fn stroke(&mut self, points: &[At], weight: Weight) {
        let part = match weight {
            Weight::Faint => return self.trace(points, BROKEN),
            Weight::Line => LINE_PART,
            Weight::Bold => BOLD_PART,
        };
        let thick = (self.side / part).round();
        if thick < 2.0 {
            self.trace(points, 0);
        } else {
            points.windows(2).for_each(|pair| self.bar([pair[0], pair[1]], thick / 2.0));
        }
    }

    /// Sets dots in a line one dot wide, leaving out one of so many if that is not zero.
    fn trace(&mut self, points: &[At], broken: usize) {
        let (mut done, mut before) = (0, None);
        for pair in points.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            let steps = (to[0] - from[0]).abs().max((to[1] - from[1]).abs()).ceil().max(1.0);
            for step in 0..=steps as usize {
                let share = step as f32 / steps;
                let on = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
                let dot = on.map(|along| along.floor() as i64);
                if before.replace(dot) == Some(dot) {
                    continue;
                }
                done += 1;
                if broken == 0 || done % broken != 0 {
                    self.set(dot, true);
                }
            }
        }
    }

    /// Sets all dots whose middle is near a straight line.
    fn bar(&mut self, [from, to]: [At; 2], reach: f32) {
        let span = |axis: usize| {
            let (low, high) = (from[axis].min(to[axis]) - reach, from[axis].max(to[axis]) + reach);
            low.floor() as i64..=high.ceil() as i64
        };
        for y in span(1) {
            for x in span(0) {
                let middle = [x as f32 + 0.5, y as f32 + 0.5];
                if from_line(middle, [from, to]) <= reach {
                    self.set([x, y], true);
                }
            }
        }
    }

    /// Sets or clears the dots within a closed line, by how often it is crossed on the way there.
    fn area(&mut self, points: &[At], tone: Tone) {
        for y in 0..self.high {
            let middle = y as f32 + 0.5;
            let mut crossed = crossings(points, middle);
            crossed.sort_by(f32::total_cmp);
            for pair in crossed.chunks_exact(2) {
                for x in (pair[0] - 0.5).ceil() as i64..=(pair[1] - 0.5).floor() as i64 {
                    let dot = match tone {
                        Tone::Paper => false,
                        Tone::Grey => (x + 2 * (y as i64)) % GREY_EVERY == 0,
                        Tone::Ink => true,
                    };
                    self.set([x, y as i64], dot);
                }
            }
        }
    }

    fn set(&mut self, [x, y]: [i64; 2], dot: bool) {
        let inside = |along: i64, end: usize| usize::try_from(along).ok().filter(|along| *along < end);
        if let (Some(x), Some(y)) = (inside(x, self.wide), inside(y, self.high)) {
            self.dots[y * self.wide + x] = dot;
        }
    }
}

/// Returns where a closed line crosses a level.
fn crossings(points: &[At], level: f32) -> Vec<f32> {
    let next = points.iter().cycle().skip(1);
    points
        .iter()
        .zip(next)
        .filter(|(from, to)| (from[1] <= level) != (to[1] <= level))
        .map(|(from, to)| from[0] + (level - from[1]) / (to[1] - from[1]) * (to[0] - from[0]))
        .collect()
}

/// Returns how far a point is from a straight line between two others.
pub(super) fn from_line(point: At, [from, to]: [At; 2]) -> f32 {
    let way = [to[0] - from[0], to[1] - from[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    let share = if square > 0.0 {
        (((point[0] - from[0]) * way[0] + (point[1] - from[1]) * way[1]) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (point[0] - from[0] - way[0] * share).hypot(point[1] - from[1] - way[1] * share)
}
