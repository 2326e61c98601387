//! Ways of setting text that were met in files of other typesetters, as small made-up pages through the whole of layout.

use super::{Put, check_pages, page, show};
use crate::layout::set;
use crate::pdf::{Document, Page};

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

/// Checks what becomes of lines by a vocabulary.
#[track_caller]
fn check_known(lines: &[&str], known: &[&str], expected: &str) {
    let puts = (0_u8..).zip(lines).map(|(row, line)| Put(40.0, 100.0 + 12.0 * f32::from(row), 10.0, line));
    let document = Document { pages: vec![page(&puts.collect::<Vec<_>>())], ..Document::default() };
    assert_eq!(show(&set(&document, &|word| known.contains(&word))), expected);
}

#[test]
fn who_knows_a_compound_may_know_it_without_its_hyphen_as_well() {
    let lines = ["Flowers bisexual, 3 to 9 in a loose wing-", "sided cyme."];
    check_known(&lines, &["wing-sided", "wingsided"], "Flowers bisexual, 3 to 9 in a loose wing-sided cyme.");
    check_known(&lines, &["wingsided"], "Flowers bisexual, 3 to 9 in a loose wingsided cyme.");
}

#[test]
fn two_known_words_are_a_compound_where_nothing_is_known_of_both_together() {
    let lines = ["Leaves mostly large, glabrous, obovate-", "rhombic in outline."];
    check_known(
        &lines,
        &["obovate", "rhombic"],
        "Leaves mostly large, glabrous, obovate-rhombic in outline.",
    );
    check_known(&lines, &["rhombic"], "Leaves mostly large, glabrous, obovaterhombic in outline.");
}

#[test]
fn a_short_word_before_the_second_part_of_many_compounds_keeps_its_hyphen() {
    let lines = ["Heads few, one-rayed, or many-rayed, rarely two-rayed, the few-", "rayed ones small."];
    let whole = "Heads few, one-rayed, or many-rayed, rarely two-rayed, the few-rayed ones small.";
    check_known(&lines, &[], whole);
    let lines = ["Heads far, one-rayed, or many-rayed, rarely two-rayed, the ray-", "ed ones small."];
    check_known(&lines, &[], "Heads far, one-rayed, or many-rayed, rarely two-rayed, the rayed ones small.");
}
