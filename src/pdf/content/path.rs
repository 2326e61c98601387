//! Paths come in; straight rules, boxes, coloured grounds and clips go out. Of other drawings nothing is kept.

use crate::pdf::Area;
use crate::pdf::content::Reader;
use crate::pdf::content::state::Fill;
use crate::pdf::lexer::Lexer;

/// Lines of one path that are kept; longer paths are drawings.
const MAX_PATH: usize = 64;

/// A point on the page.
type Point = (f32, f32);

/// The path so far, on the page.
#[derive(Debug, Default)]
pub(super) struct Path {
    lines: Vec<(Point, Point)>,
    pen: Point,
    /// What all of its points lie in.
    extent: Option<Area>,
    /// Whether it will clip what is painted after it.
    clips: bool,
}

impl Path {
    fn reach(&mut self, point: Point) {
        let here = Area { left: point.0, top: point.1, right: point.0, bottom: point.1 };
        self.extent = Some(self.extent.map_or(here, |extent| extent.with(here)));
    }

    fn line(&mut self, from: Point, to: Point) {
        self.reach(from);
        self.reach(to);
        if self.lines.len() < MAX_PATH {
            self.lines.push((from, to));
        }
    }
}

impl Reader<'_> {
    /// Follows an operator that draws or paints a path, or clips by it.
    pub(super) fn draw(&mut self, operator: &[u8], lexer: &Lexer) {
        let ctm = self.state.ctm;
        let at = |index: usize| ctm.at(lexer.number_at(index), lexer.number_at(index + 1));
        match operator {
            b"m" => self.path.pen = at(0),
            b"l" => {
                self.path.line(self.path.pen, at(0));
                self.path.pen = at(0);
            }
            b"re" => {
                let (x, y) = (lexer.number_at(0), lexer.number_at(1));
                self.path.line(at(0), ctm.at(x + lexer.number_at(2), y + lexer.number_at(3)));
            }
            b"c" | b"v" | b"y" => {
                let points = lexer.operands.len() / 2;
                (0..points).for_each(|point| self.path.reach(at(2 * point)));
                self.path.reach(self.path.pen);
                self.path.pen = at(2 * points.saturating_sub(1));
            }
            b"W" | b"W*" => self.path.clips = true,
            _ => self.paint(operator),
        }
    }

    fn paint(&mut self, operator: &[u8]) {
        let path = std::mem::take(&mut self.path);
        let fills = matches!(operator, b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*");
        if let Some(extent) = path.extent.filter(|_| fills && self.state.fill == Fill::Ink) {
            self.canvas.add_ground(extent);
        }
        if let Some(extent) = path.extent.filter(|_| path.clips) {
            self.clip(extent);
        }
        if operator == b"n" {
            return;
        }
        // A closed path of three or four straight lines may be a box, seen by its two opposite corners.
        if let [(from, _), (_, corner), .., (_, last)] = path.lines[..]
            && path.lines.len() <= 4
            && ((last.0 - from.0).abs() < 0.01 || (last.1 - from.1).abs() < 0.01)
        {
            self.canvas.add_box(from, corner);
        }
        for (from, to) in path.lines {
            self.canvas.add_line(from, to);
            self.canvas.add_box(from, to);
        }
    }

    /// Narrows what can be seen of what is painted from now on.
    pub(super) fn clip(&mut self, area: Area) {
        self.state.clip = Some(self.state.clip.map_or(area, |clip| clip.within(area)));
    }
}
