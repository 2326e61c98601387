//! Ways of setting text that were met in files of other typesetters, as small made-up pages through the whole of layout.

use super::{Put, check_pages, page};
use crate::pdf::Page;

/// Returns a page with one line, whose glyphs from the one numbered `from` on are moved by so many advances.
fn moved(text: &str, from: usize, advances: f32) -> Page {
    let mut page = page(&[Put(40.0, 300.0, 10.0, text)]);
    for glyph in &mut page.glyphs[from..] {
        glyph.x += advances * glyph.width;
    }
    page
}

#[test]
fn a_blank_that_is_taken_back_parts_no_words() {
    check_pages(vec![moved("the lan ceolate leaves", 8, -1.0)], "the lanceolate leaves");
    check_pages(vec![moved("the lan ceolate leaves", 8, -0.8)], "the lan ceolate leaves");
    let mut back_and_forth = moved("the lan ceolate leaves", 7, -0.3);
    back_and_forth.glyphs[8..].iter_mut().for_each(|glyph| glyph.x -= 0.7 * glyph.width);
    check_pages(vec![back_and_forth], "the lanceolate leaves");
}
