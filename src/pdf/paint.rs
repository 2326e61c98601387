//! What a page has been painted with so far: glyphs gathered into spans, and rules.
//!
//! Positions come in as seen on the upright page; glyphs of turned text are kept as on the page turned back.

use crate::pdf::accents;
use crate::pdf::font::Text;
use crate::pdf::matrix::Matrix;
use crate::pdf::{Area, Face, Glyph, Page, Role, Rule, Span};

/// Glyphs of one page at most, against files made to exhaust memory.
const MAX_GLYPHS: usize = 500_000;
/// Points that baselines may differ within one span: rounding of the files' numbers.
const SAME_BASELINE: f32 = 0.05;
/// Points that sizes may differ within one span.
const SAME_SIZE: f32 = 0.01;
/// Slope from which text is askew (a stamp or watermark) and belongs to no line: about 14 degrees.
const ASKEW: f32 = 0.25;
/// Rules shorter than this many points are parts of drawings.
const MIN_RULE: f32 = 12.0;
/// Rules thicker than this many points are bars or boxes.
const MAX_THICKNESS: f32 = 3.0;
/// Boxes with a side shorter than this many points are signs.
const MIN_BOX: f32 = 20.0;
/// Points that glyphs may start outside of the page: rounding of the files' numbers.
const MARGIN: f32 = 1.0;
/// Rules of one page at most.
const MAX_RULES: usize = 10_000;

/// Glyphs that stand farther than this many em outside of a clip are not seen: less than a line, more than an overhang.
const CLIP_REACH: f32 = 0.5;
/// Coloured areas of one page that are told apart; where there are more, white counts as seen everywhere.
const MAX_GROUNDS: usize = 256;
/// How far in em a line may go back before it is another one, drawn over the first.
const BACK: f32 = 0.6;
/// Lines before it that a line may be drawn over.
const MAX_OVER: usize = 64;
/// Distance in em within which a line drawn over another one is the same: it was drawn twice to look bold or shaded.
const TWICE: f32 = 0.12;
/// Distance in em from which such a line was moved on purpose.
const MOVED: f32 = 0.005;

/// How the next glyphs are set.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Setting {
    /// Weight and slant.
    pub(super) face: Face,
    /// Size on the page.
    pub(super) size: f32,
    /// What they are to the page.
    pub(super) role: Role,
    /// Quarter turns against the clock of the direction of writing.
    pub(super) turn: u8,
}

/// A sign with its place on its line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed<'f> {
    /// What it stands for.
    pub(super) text: Text<'f>,
    /// Where it starts.
    pub(super) x: f32,
    /// How far it goes; backwards where less than nothing.
    pub(super) width: f32,
}

/// The way from a line to the upright page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    /// From where the line starts.
    pub(super) map: Matrix,
    /// How far signs are raised from the line.
    pub(super) rise: f32,
    /// Points on the page for one unit along the line.
    pub(super) length: f32,
}

impl Way {
    /// Returns where a place on the line is on the page.
    pub(super) fn at(&self, x: f32) -> (f32, f32) {
        self.map.at(x, self.rise)
    }
}

/// Gathers what is painted.
#[derive(Debug, Default)]
pub(super) struct Canvas {
    /// The page so far.
    pub(super) page: Page,
    /// Signs painted whose character no one knows.
    pub(super) unknown: usize,
    /// Areas painted in a colour, on which white can be seen.
    grounds: Vec<Area>,
    /// Whether the last glyph is an accent that waits for its letter.
    accent: bool,
    /// How the next glyphs are set.
    setting: Setting,
    /// Where glyphs may start.
    extent: Area,
}

impl Area {
    /// The area that holds all places.
    pub(super) const EVERYWHERE: Self =
        Self { left: -f32::INFINITY, top: -f32::INFINITY, right: f32::INFINITY, bottom: f32::INFINITY };
    /// An area that holds no place.
    const NOWHERE: Self =
        Self { left: f32::INFINITY, top: f32::INFINITY, right: -f32::INFINITY, bottom: -f32::INFINITY };

    /// Returns the area between two opposite corners.
    pub(super) fn between(from: (f32, f32), to: (f32, f32)) -> Self {
        Self {
            left: from.0.min(to.0),
            top: from.1.min(to.1),
            right: from.0.max(to.0),
            bottom: from.1.max(to.1),
        }
    }

    /// Returns the smallest area that holds both.
    pub(super) fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Returns what both share; where that is nothing, its edges are crossed.
    pub(super) fn within(self, other: Self) -> Self {
        Self {
            left: self.left.max(other.left),
            top: self.top.max(other.top),
            right: self.right.min(other.right),
            bottom: self.bottom.min(other.bottom),
        }
    }

    /// Tells whether a glyph on the baseline between two points may be seen in it.
    pub(super) fn meets(self, from: (f32, f32), to: (f32, f32), size: f32) -> bool {
        let reach = CLIP_REACH * size;
        from.0.min(to.0) <= self.right + reach
            && from.0.max(to.0) >= self.left - reach
            && from.1.min(to.1) <= self.bottom + reach
            && from.1.max(to.1) >= self.top - reach
    }

    fn holds(&self, (x, y): (f32, f32)) -> bool {
        (self.left..=self.right).contains(&x) && (self.top..=self.bottom).contains(&y)
    }
}

impl Canvas {
    /// Starts an empty page of that size in the room of another one.
    pub(super) fn new(size: (f32, f32), room: Page) -> Self {
        let Page { mut spans, mut glyphs, mut rules, mut pictures, .. } = room;
        spans.clear();
        glyphs.clear();
        rules.clear();
        pictures.clear();
        let far = |side: f32| (side + MARGIN).min(f32::MAX);
        let extent = Area { left: -MARGIN, top: -MARGIN, right: far(size.0), bottom: far(size.1) };
        let page = Page { spans, glyphs, rules, pictures, size, lost: None };
        Self { page, extent, ..Self::default() }
    }

    /// Tells whether no more glyphs are taken.
    pub(super) fn is_full(&self) -> bool {
        self.page.glyphs.len() >= MAX_GLYPHS
    }

    /// Says how what is added from now on is set.
    pub(super) fn begin(&mut self, setting: Setting) {
        self.setting = setting;
    }

    /// Tells whether what is added stands upright.
    pub(super) fn is_upright(&self) -> bool {
        self.setting.turn == 0
    }

    /// Adds the text of one code that starts at `origin` and is `width` wide.
    pub(super) fn add(&mut self, text: Text, origin: (f32, f32), width: f32) {
        if !self.extent.holds(origin) || self.is_full() {
            return;
        }
        let at = self.turned_back(origin);
        match text {
            Text::One(character) => self.add_one(character, at, width),
            Text::Several(text) => self.add_several(text, at, width),
        }
    }

    /// Adds signs of a line as long as they are what nearly all are: letters without an accent, in an area where all are
    /// seen that lie on a level line. Returns the first other one, which is not added.
    pub(super) fn add_letters<'f>(
        &mut self,
        signs: &mut impl Iterator<Item = Placed<'f>>,
        way: &Way,
        seen: Option<Area>,
    ) -> Option<Placed<'f>> {
        let seen = seen.filter(|_| !self.accent).map_or(Area::NOWHERE, |seen| seen.within(self.extent));
        let (_, y) = way.at(0.0);
        let start = self.page.glyphs.len();
        let goes_on = self.is_open_at(start, y);
        let mut left = if goes_on { self.back_from(start - 1) } else { f32::NEG_INFINITY };
        let odd = signs.find(|sign| {
            let Text::One(character @ '!'..='~') = sign.text else { return true };
            let (x, _) = way.at(sign.x);
            if character == '`' || x <= left || !seen.holds((x, y)) || self.is_full() {
                return true;
            }
            let width = sign.width.abs() * way.length;
            self.page.glyphs.push(Glyph { character, x, width });
            left = x - BACK * self.setting.size;
            false
        });
        if self.page.glyphs.len() > start {
            self.end_span(goes_on, start, y);
        }
        odd
    }

    fn add_one(&mut self, character: char, (x, y): (f32, f32), width: f32) {
        let Some(character) = self.accented(character, ((x, y), width), self.setting.size) else { return };
        let start = self.page.glyphs.len();
        self.push(character, x, width);
        self.extend_span(start, y);
    }

    fn add_several(&mut self, text: &str, (x, y): (f32, f32), width: f32) {
        let start = self.page.glyphs.len();
        let count = text.chars().count();
        self.unknown += usize::from(count == 0);
        let share = width / count as f32;
        for (index, character) in text.chars().enumerate() {
            self.push(character, x + share * index as f32, share);
        }
        self.extend_span(start, y);
    }

    /// Puts accents that are set as glyphs of their own, before or after their letter, together with it.
    ///
    /// Returns what is to be painted; nothing where the accent went to the letter before it.
    fn accented(&mut self, character: char, (at, width): ((f32, f32), f32), size: f32) -> Option<char> {
        let waiting = std::mem::replace(&mut self.accent, accents::mark_of(character).is_some());
        let Some(last) = self.page.glyphs.last().copied() else { return Some(character) };
        let Some(span) = self.page.spans.last() else { return Some(character) };
        if (span.y - at.1).abs() > accents::REACH * size || span.glyphs.end as usize != self.page.glyphs.len()
        {
            return Some(character);
        }
        let next = Glyph { character, x: at.0, width };
        if waiting && let Some(letter) = accents::over(&last, &next) {
            self.page.glyphs.pop();
            let end = self.page.glyphs.len() as u32;
            if let Some(span) = self.page.spans.last_mut() {
                span.glyphs.end = end;
            }
            self.page.spans.pop_if(|span| span.glyphs.is_empty());
            return Some(letter);
        }
        if self.accent
            && let Some(letter) = accents::over(&next, &last)
        {
            if let Some(glyph) = self.page.glyphs.last_mut() {
                glyph.character = letter;
            }
            self.accent = false;
            return None;
        }
        Some(character)
    }

    fn push(&mut self, character: char, x: f32, width: f32) {
        let character = match character {
            '!'..='~' | ' ' => character,
            '\u{a0}' | '\t' | '\u{2002}'..='\u{200a}' | '\u{202f}' | '\u{3000}' => ' ',
            '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' => return,
            control if control.is_control() => return,
            other => other,
        };
        self.page.glyphs.push(Glyph { character, x, width });
    }

    /// Puts the glyphs from `start` on into the last span, or into one of their own.
    fn extend_span(&mut self, start: usize, y: f32) {
        let glyphs = &self.page.glyphs;
        if start == glyphs.len() {
            return;
        }
        let goes_on = self.is_open_at(start, y) && glyphs[start].x > self.back_from(start - 1);
        self.end_span(goes_on, start, y);
    }

    /// Tells whether glyphs from `start` on may go on with the last span.
    fn is_open_at(&self, start: usize, y: f32) -> bool {
        let Setting { face, size, role, turn } = self.setting;
        self.page.spans.last().is_some_and(|last| {
            last.face == face
                && last.role == role
                && last.turn == turn
                && (last.y - y).abs() < SAME_BASELINE
                && (last.size - size).abs() < SAME_SIZE
                && last.glyphs.end as usize == start
        })
    }

    /// Returns how far back a glyph may start after another one in the same line.
    fn back_from(&self, glyph: usize) -> f32 {
        self.page.glyphs[glyph].x - BACK * self.setting.size
    }

    fn end_span(&mut self, goes_on: bool, start: usize, y: f32) {
        let Page { spans, glyphs, .. } = &mut self.page;
        let end = glyphs.len() as u32;
        match spans.last_mut().filter(|_| goes_on) {
            Some(last) => last.glyphs.end = end,
            None => {
                let Setting { face, size, role, turn } = self.setting;
                spans.push(Span { face, size, y, turn, role, glyphs: start as u32..end });
            }
        }
    }

    /// Returns how many glyphs there are, to be given to [`Canvas::replace_since`] later.
    pub(super) fn mark(&self) -> usize {
        self.page.glyphs.len()
    }

    /// Puts other text in the place of all glyphs since the mark, spread over their width.
    pub(super) fn replace_since(&mut self, mark: usize, text: &str) {
        let Some(first) = self.page.glyphs.get(mark).copied() else { return };
        let position = self.page.spans.iter().rposition(|span| (span.glyphs.start as usize) <= mark);
        let Some(position) = position else { return };
        let span_end = self.page.spans[position].glyphs.end as usize;
        let right = self.page.glyphs[mark..span_end]
            .iter()
            .map(|glyph| glyph.x + glyph.width)
            .fold(first.x, f32::max);
        self.page.glyphs.truncate(mark);
        self.page.spans.truncate(position + 1);
        let count = text.chars().count().max(1);
        let share = (right - first.x) / count as f32;
        for (index, character) in text.chars().filter(|c| !c.is_control()).enumerate() {
            self.page.glyphs.push(Glyph { character, x: first.x + share * index as f32, width: share });
        }
        self.page.spans[position].glyphs.end = self.page.glyphs.len() as u32;
        if self.page.spans[position].glyphs.is_empty() {
            self.page.spans.pop();
        }
    }

    /// Adds a rule where a painted line or thin box is one.
    pub(super) fn add_line(&mut self, from: (f32, f32), to: (f32, f32)) {
        let (left, right) = (from.0.min(to.0), from.0.max(to.0));
        let (top, bottom) = (from.1.min(to.1), from.1.max(to.1));
        let (wide, high) = (right - left, bottom - top);
        let level = high <= MAX_THICKNESS && wide >= MIN_RULE;
        let upright = wide <= MAX_THICKNESS && high >= MIN_RULE;
        if self.page.rules.len() >= MAX_RULES {
            return;
        }
        if level {
            let y = f32::midpoint(top, bottom);
            self.page.rules.push(Rule { from: (left, y), to: (right, y) });
        } else if upright {
            let x = f32::midpoint(left, right);
            self.page.rules.push(Rule { from: (x, top), to: (x, bottom) });
        }
    }

    /// Adds a picture or box, given by two opposite corners.
    pub(super) fn add_box(&mut self, from: (f32, f32), to: (f32, f32)) {
        let area = Area::between(from, to);
        let large = area.right - area.left > MIN_BOX && area.bottom - area.top > MIN_BOX;
        if large && self.page.pictures.len() < MAX_RULES {
            self.page.pictures.push(area);
        }
    }

    /// Adds an area painted in a colour.
    pub(super) fn add_ground(&mut self, area: Area) {
        if self.grounds.len() < MAX_GROUNDS {
            self.grounds.push(area);
        } else {
            self.ground_all();
        }
    }

    /// Counts all of the page as painted in a colour.
    pub(super) fn ground_all(&mut self) {
        self.grounds.clear();
        self.grounds.resize(MAX_GROUNDS, Area::EVERYWHERE);
    }

    /// Tells whether a point lies on a ground that is not white.
    pub(super) fn is_on_ground(&self, point: (f32, f32)) -> bool {
        self.grounds.iter().any(|ground| ground.holds(point))
    }

    /// Ends the page: text under a picture is dropped where the page has text that can be seen.
    pub(super) fn finish(mut self) -> Page {
        let count = |unseen: bool| -> usize {
            self.page
                .spans
                .iter()
                .filter(|span| (span.role == Role::Unseen) == unseen)
                .map(|span| span.glyphs.len())
                .sum()
        };
        let (seen, unseen) = (count(false), count(true));
        if unseen > 0 && seen * SEEN_SHARE >= unseen {
            self.page.spans.retain(|span| span.role != Role::Unseen);
        }
        self.drop_doubles();
        self.page
    }

    /// Drops lines drawn twice in the same place, and makes those bold that were moved a little on purpose.
    fn drop_doubles(&mut self) {
        let Page { spans, glyphs, .. } = &mut self.page;
        let text = |span: &Span| &glyphs[span.glyphs.start as usize..span.glyphs.end as usize];
        let same = |one: &Span, other: &Span| {
            let near = TWICE * one.size;
            (one.y - other.y).abs() < near
                && one.turn == other.turn
                && one.glyphs.len() == other.glyphs.len()
                && one.glyphs.len() > 1
                && text(one)
                    .iter()
                    .zip(text(other))
                    .all(|(glyph, over)| glyph.character == over.character && (glyph.x - over.x).abs() < near)
        };
        let heights: Vec<f32> = spans.iter().map(|span| span.y).collect();
        let near = TWICE * spans.iter().map(|span| span.size).fold(0.0, f32::max);
        let mut doubled = Vec::new();
        for index in 1..spans.len() {
            let from = index.saturating_sub(MAX_OVER);
            // Asked of all at once, which is quick: few lines stand where another one does.
            let is_near = |any, height: &f32| any | ((height - heights[index]).abs() < near);
            if !heights[from..index].iter().fold(false, is_near) {
                continue;
            }
            let before = &spans[from..index];
            let over = before.iter().rposition(|span| same(span, &spans[index]));
            if let Some(place) = over {
                doubled.push((index, index - before.len() + place));
            }
        }
        for (index, first) in &doubled {
            let moved = text(&spans[*index])[0].x - text(&spans[*first])[0].x;
            spans[*first].face.bold |= moved.abs() > MOVED * spans[*first].size;
        }
        let mut doubled = doubled.into_iter().map(|(index, _)| index).peekable();
        let mut place = 0;
        spans.retain(|_| {
            place += 1;
            doubled.next_if_eq(&(place - 1)).is_none()
        });
    }

    fn turned_back(&self, (x, y): (f32, f32)) -> (f32, f32) {
        let (width, height) = self.page.size;
        match self.setting.turn {
            1 => (height - y, x),
            2 => (width - x, height - y),
            3 => (y, width - x),
            _ => (x, y),
        }
    }
}

/// Text that can be seen makes unseen text a copy of it when it is at least one part in so many.
const SEEN_SHARE: usize = 5;

/// Returns the quarter turns of a direction on the page (y downwards), or `None` for text that is askew.
pub(super) fn turn_of((x, y): (f32, f32)) -> Option<u8> {
    if x > 0.0 && y.abs() <= ASKEW * x {
        Some(0)
    } else if y < 0.0 && x.abs() <= ASKEW * -y {
        Some(1)
    } else if x < 0.0 && y.abs() <= ASKEW * -x {
        Some(2)
    } else if y > 0.0 && x.abs() <= ASKEW * y {
        Some(3)
    } else {
        None
    }
}
