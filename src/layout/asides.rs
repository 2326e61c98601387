//! Measured columns come in; for each line it is said whether it interrupts the text: captions, tables, footnotes.
//!
//! Captions are known by their first word or by the picture above them, footnotes by their mark, size and place.

use std::sync::LazyLock;

use rayon::prelude::*;
use regex::Regex;

use crate::layout::geometry::Column;
use crate::layout::{Gap, Line};
use crate::pdf::{Area, Page, Rule};

/// Share of the body's size below which text is set small.
const SMALL: f32 = 0.96;
/// Distance from the line above, in the note's own size, from which it stands apart at the foot of the column.
const NOTE_APART: f32 = 1.75;
/// Lines that footnotes without a raised mark take up at most; more of them are a key or a list in small type.
const MAX_PLAIN_NOTES: usize = 8;
/// Distance of lines, in their size, up to which they follow each other in one caption or table.
const TOGETHER: f32 = 1.7;
/// The same between a caption and the head of its table.
const TABLE_APART: f32 = 2.2;
/// Distance below a picture, in the caption's size, within which its caption starts.
const BELOW_PICTURE: f32 = 4.0;
/// Letters of a label within a drawing at most.
const MAX_LABEL: usize = 2;
/// Smallest side of a picture in points; smaller boxes are signs or cells.
const MIN_PICTURE: f32 = 28.0;
/// Share of the page's height that a picture takes at most; a larger one is a background, or the picture of a scan.
const MAX_PICTURE: f32 = 0.8;
/// White space above a line, in its size, in which the scan of a page may show a picture.
const MIN_BLANK: f32 = 4.5;
/// Lines of such a picture's title at most.
const MAX_TITLE: usize = 2;
/// Lines of its caption at most.
const MAX_CAPTION: usize = 15;
/// Share of the body's size below which the caption is set; keys may be little smaller than the text.
const SMALLER: f32 = 0.9;

/// First words of captions.
static CAPTION: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?i:fig(?:ure|s|ures)?|plates?|table|map|photo(?:graph)?)\.?\s+(?:\d{1,4}|[IVXLC]{1,7})\b[a-z]?\s*[.:,–—-]?")
        .expect("the pattern is fixed and valid")
});

/// Marks at the start of a footnote that is not marked by a raised sign.
static NOTE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:\d{1,3}[.)]?|[*†‡§¶]{1,3}|[a-zA-Z][.)])\s").expect("the pattern is fixed and valid")
});

/// Says for each line of each column whether it interrupts the text.
pub(super) fn find(columns: &[Column], pages: &[Page], body: f32) -> Vec<Vec<bool>> {
    let tops = tops(columns, pages.len());
    columns
        .par_iter()
        .map(|column| {
            let mut aside = vec![false; column.lines.len()];
            let Some(first) = column.lines.first() else { return aside };
            mark_notes(&column.lines, body, &mut aside);
            mark_captions(&column.lines, body, &mut aside);
            let index = first.page as usize - 1;
            if let Some(page) = pages.get(index) {
                mark_below_pictures(&column.lines, &pictures(page), body, &mut aside);
                if is_scan(page) {
                    mark_below_blanks(&column.lines, tops[index], body, &mut aside);
                }
            }
            aside
        })
        .collect()
}

/// Returns the height of the first line of each page.
fn tops(columns: &[Column], pages: usize) -> Vec<f32> {
    let mut tops = vec![f32::INFINITY; pages];
    for line in columns.iter().filter_map(|column| column.lines.first()) {
        if let Some(top) = tops.get_mut(line.page as usize - 1) {
            *top = top.min(line.y);
        }
    }
    tops
}

/// Tells whether the page is a picture itself.
fn is_scan(page: &Page) -> bool {
    page.pictures.iter().any(|area| area.bottom - area.top >= MAX_PICTURE * page.size.1)
}

/// Marks the captions below white spaces that are high enough for a picture: few lines in small type that leave room.
fn mark_below_blanks(lines: &[Line], top: f32, body: f32, aside: &mut [bool]) {
    let above = |line: &Line| if line.above.is_finite() { line.above } else { line.y - top };
    let small = |line: &&Line| line.size < SMALLER * body;
    for at in (0..lines.len()).filter(|&at| above(&lines[at]) > MIN_BLANK * lines[at].size) {
        let title = lines[at..].iter().take(MAX_TITLE).take_while(|line| !small(line)).count();
        let start = at + title;
        let together = |index: &usize| {
            small(&&lines[*index])
                && (*index == start || lines[*index].above <= TOGETHER * lines[*index].size)
        };
        let end = start + (start..lines.len()).take_while(together).count();
        let full = lines[start..end].iter().filter(|line| line.room < line.size).count();
        if end - start <= MAX_CAPTION && full * 3 <= end - start {
            aside[start..end].fill(true);
        }
    }
}

/// Marks the footnotes at the foot of a column.
fn mark_notes(lines: &[Line], body: f32, aside: &mut [bool]) {
    let mut start = None;
    for (index, line) in lines.iter().enumerate().rev() {
        if line.size >= SMALL * body {
            break;
        }
        let apart = line.above > NOTE_APART * line.size && line.above.is_finite();
        if apart && is_note_start(line) && are_notes(lines, index) {
            start = Some(index);
        }
    }
    if let Some(start) = start {
        aside[start..].fill(true);
    }
}

/// Tells footnotes from a key in small type, whose leads open with labels too: a letter on the line is a note's only
/// where the same letter stands raised above.
fn are_notes(lines: &[Line], start: usize) -> bool {
    let Some(run) = lines[start].runs.first() else { return false };
    let led = lines[start..]
        .iter()
        .flat_map(|line| &line.runs)
        .any(|run| matches!(run.before, Gap::Wide | Gap::Leader));
    let letter = run.text.chars().next().filter(char::is_ascii_alphabetic);
    let called = |letter: char| {
        let raised = lines[..start].iter().flat_map(|line| &line.runs).filter(|run| run.style.raised);
        raised.into_iter().any(|run| run.text.contains(letter))
    };
    run.style.raised || !led && lines.len() - start <= MAX_PLAIN_NOTES && letter.is_none_or(called)
}

fn is_note_start(line: &Line) -> bool {
    let Some(run) = line.runs.first() else { return false };
    run.style.raised || NOTE.is_match(&opening(line))
}

fn mark_captions(lines: &[Line], body: f32, aside: &mut [bool]) {
    let mut index = 0;
    while index < lines.len() {
        let line = &lines[index];
        if aside[index] || !is_caption_start(line, body) {
            index += 1;
            continue;
        }
        let table = opening(line).to_lowercase().starts_with("table");
        let end = caption_end(lines, index, table, body);
        aside[index..end].fill(true);
        mark_labels(&lines[..index], line.size, &mut aside[..index]);
        index = end;
    }
}

fn is_caption_start(line: &Line, body: f32) -> bool {
    let styled =
        line.runs.first().is_some_and(|run| run.style.bold || run.style.italic || run.style.small_caps);
    (line.size < SMALL * body || styled) && line.above > 1.1 * line.size && CAPTION.is_match(&opening(line))
}

/// Returns the end of the caption that starts at a line, with the rows of its table.
fn caption_end(lines: &[Line], start: usize, table: bool, body: f32) -> usize {
    let size = lines[start].size;
    let mut end = start + 1;
    while let Some(line) = lines.get(end) {
        let reach = if table && end == start + 1 { TABLE_APART } else { TOGETHER };
        let small = line.size < SMALL * body && line.size <= size * 1.03;
        let row = table && line.runs.iter().any(|run| run.before == Gap::Wide);
        if line.above > reach * line.size || !(small || row) {
            break;
        }
        end += 1;
    }
    end
}

/// Marks the letters in a drawing above its caption.
fn mark_labels(above: &[Line], size: f32, aside: &mut [bool]) {
    for (line, mark) in above.iter().zip(aside).rev() {
        let label =
            line.runs.iter().all(|run| run.text.split(' ').all(|word| word.chars().count() <= MAX_LABEL));
        if !label || line.size > size * 1.03 {
            break;
        }
        *mark = true;
    }
}

fn mark_below_pictures(lines: &[Line], pictures: &[Area], body: f32, aside: &mut [bool]) {
    for picture in pictures {
        let below = |line: &Line| {
            let distance = line.y - picture.bottom;
            distance > 0.0
                && distance < BELOW_PICTURE * line.size
                && line.size < SMALL * body
                && f32::midpoint(line.x0, line.x1) > picture.left - line.size
                && f32::midpoint(line.x0, line.x1) < picture.right + line.size
        };
        let Some(start) = lines.iter().position(below) else { continue };
        let mut end = start + 1;
        while lines
            .get(end)
            .is_some_and(|line| line.size < SMALL * body && line.above <= TOGETHER * line.size)
        {
            end += 1;
        }
        aside[start..end].fill(true);
    }
}

/// Returns the pictures of a page, and the frames drawn with nothing in them.
fn pictures(page: &Page) -> Vec<Area> {
    let mut areas: Vec<Area> = page.pictures.clone();
    let upright: Vec<&Rule> =
        page.rules.iter().filter(|rule| rule.to.1 - rule.from.1 > MIN_PICTURE).collect();
    for (index, left) in upright.iter().enumerate() {
        let right = upright[index + 1..].iter().find(|right| {
            (right.from.1 - left.from.1).abs() < 1.0
                && (right.to.1 - left.to.1).abs() < 1.0
                && (right.from.0 - left.from.0).abs() > 1.0
        });
        if let Some(right) = right {
            areas.push(Area {
                left: left.from.0.min(right.from.0),
                top: left.from.1,
                right: left.from.0.max(right.from.0),
                bottom: left.to.1,
            });
        }
    }
    areas.retain(|area| {
        let (wide, high) = (area.right - area.left, area.bottom - area.top);
        wide > MIN_PICTURE && high > MIN_PICTURE && high < MAX_PICTURE * page.size.1 && is_empty(area, page)
    });
    areas
}

fn is_empty(area: &Area, page: &Page) -> bool {
    page.spans.iter().all(|span| {
        let y = span.y < area.top || span.y > area.bottom;
        let glyphs = &page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize];
        y || glyphs.iter().all(|glyph| glyph.x < area.left || glyph.x > area.right)
    })
}

fn opening(line: &Line) -> String {
    line.runs.iter().take(3).map(|run| run.text.as_str()).collect::<Vec<_>>().join(" ")
}
