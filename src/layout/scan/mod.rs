//! The pages of a file come in; those with text laid under the picture of a scan go out straightened, the others as they are.
//!
//! Text recognition keeps the tilt of the page on the glass, gives every word a size of its own and reads dots as letters.
//! Nothing is read anew here.

mod dots;
mod face;
mod sizes;
mod skew;
mod words;

use std::borrow::Cow;

use rayon::prelude::*;

use crate::layout::pieces;
use crate::layout::scan::face::Face;
use crate::layout::scan::words::{Row, Word};
use crate::pdf::{self, Glyph, Page, Role, Span};

/// Glyphs laid under a picture, as a share of all of the page, from which the page is one of a scan.
const MOSTLY: f32 = 0.8;

/// A page of a scan, as rows of words.
#[derive(Debug)]
struct Leaf {
    /// Its place among the pages.
    index: usize,
    /// Its rows in the order of the file.
    rows: Vec<Row>,
}

/// Returns the pages with those of a scan straightened; `known` tells whether a word, in lower case, is one.
pub(super) fn mend<'a>(pages: &'a [Page], known: &dyn Fn(&str) -> bool) -> Cow<'a, [Page]> {
    let mut leaves: Vec<Leaf> = pages
        .par_iter()
        .enumerate()
        .filter(|(_, page)| is_scan(page))
        .map(|(index, page)| Leaf { index, rows: words::rows(page) })
        .collect();
    if leaves.is_empty() {
        return Cow::Borrowed(pages);
    }
    leaves.par_iter_mut().for_each(|leaf| skew::straighten(&mut leaf.rows, pages[leaf.index].size));
    skew::register(&mut leaves);
    let face = Face::of(&leaves);
    sizes::settle(&mut leaves, &face);
    dots::find(&mut leaves, &face, known);
    // Without the dots rows before a target tell their size more truly.
    sizes::settle(&mut leaves, &face);
    let mut mended = pages.to_vec();
    for leaf in leaves {
        put(&leaf.rows, &face, &mut mended[leaf.index]);
    }
    Cow::Owned(mended)
}

fn is_scan(page: &Page) -> bool {
    let unseen: usize =
        page.spans.iter().filter(|span| span.role == Role::Unseen).map(|span| span.glyphs.len()).sum();
    unseen > 0 && unseen as f32 >= MOSTLY * page.glyphs.len() as f32
}

/// Puts the rows in the place of the page's unseen spans.
fn put(rows: &[Row], face: &Face, page: &mut Page) {
    let turn = pieces::main_turn(page);
    page.spans.retain(|span| span.role != Role::Unseen || span.turn != turn);
    for row in rows {
        let start = page.glyphs.len() as u32;
        for (index, word) in row.words.iter().enumerate() {
            if index > 0 {
                page.glyphs.push(Glyph { character: ' ', x: row.words[index - 1].x1, width: 0.0 });
            }
            page.glyphs.extend(glyphs(word, row.size, face));
        }
        let glyphs = start..page.glyphs.len() as u32;
        let plain = pdf::Face::default();
        page.spans.push(Span { face: plain, size: row.size, y: row.y, turn, role: Role::Unseen, glyphs });
    }
}

/// Returns the glyphs of a word, spread over its width as their letters are wide; or dots all along it.
fn glyphs(word: &Word, size: f32, face: &Face) -> Vec<Glyph> {
    let wide = word.x1 - word.x0;
    if word.dots {
        let count = (wide / (dots::PITCH * size)).max(2.0) as usize;
        let pitch = wide / count as f32;
        return (0..count)
            .map(|dot| Glyph { character: '.', x: word.x0 + pitch * dot as f32, width: 0.4 * pitch })
            .collect();
    }
    let scale = wide / face.width(word);
    let mut x = word.x0;
    word.text
        .chars()
        .map(|character| {
            let width = face.letter(character) * scale;
            x += width;
            Glyph { character, x: x - width, width }
        })
        .collect()
}

#[cfg(test)]
mod tests;
