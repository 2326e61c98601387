//! Ways of setting text that were met in files of other typesetters, as small made-up pages through the whole of layout.

use super::{Put, check_pages, page, show};
use crate::layout::set;
use crate::pdf::{Document, Face, Page, Span};

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
    check_pages(vec![moved("Stipules none. Alnus", 15, -1.0)], "Stipules none. Alnus");
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

#[test]
fn a_full_stop_in_a_heading_of_letters_set_apart_is_no_leader() {
    let mut page = page(&[Put(40.0, 300.0, 10.0, "9.POACEAE")]);
    for (place, glyph) in (0_u8..).zip(&mut page.glyphs) {
        glyph.x += 1.5 * f32::from(place);
    }
    check_pages(vec![page], "9.POACEAE");
}

/// Returns lines one below the other; what stands before `|` is bold, and italic too where it stands after `/`.
fn faced(lines: &[&str]) -> Page {
    let bare: Vec<String> = lines.iter().map(|line| line.replace(['|', '/'], "")).collect();
    let puts = (0_u8..).zip(&bare).map(|(row, line)| Put(40.0, 100.0 + 12.0 * f32::from(row), 10.0, line));
    let mut page = page(&puts.collect::<Vec<_>>());
    let spans = std::mem::take(&mut page.spans);
    for (span, line) in spans.into_iter().zip(lines) {
        let (bold, _) = line.split_once('|').unwrap_or(("", line));
        let upright = bold.split('/').next().unwrap_or(bold).chars().count() as u32;
        let all = bold.replace('/', "").chars().count() as u32;
        let start = span.glyphs.start;
        let parts = [
            (start..start + upright, Face { bold: true, ..Face::default() }),
            (start + upright..start + all, Face { bold: true, italic: true, ..Face::default() }),
            (start + all..span.glyphs.end, Face::default()),
        ];
        let parts = parts.into_iter().filter(|(glyphs, _)| !glyphs.is_empty());
        page.spans.extend(parts.map(|(glyphs, face)| Span { face, glyphs, ..span.clone() }));
    }
    page
}

#[test]
fn an_entry_that_fills_its_line_is_followed_by_another_one() {
    let lines =
        ["acute:| ending in a point with straight sides.", "beak:| a narrow pointed end of some fruits."];
    check_pages(vec![faced(&lines)], &lines.join("\n").replace('|', ""));
    let lines =
        ["acute:| ending in a point with straight sides", "beak:| a narrow pointed end of some fruits."];
    check_pages(vec![faced(&lines)], &lines.join(" ").replace('|', ""));
}

#[test]
fn a_number_and_a_name_in_bold_open_a_block_below_a_full_line() {
    let text = "Shores, on shingle. Flowers from May to July.";
    for number in ["3.", "4a."] {
        let name = format!("{number} /Silene holmiana| Ulst.");
        check_pages(vec![faced(&[text, &name])], &format!("{text}\n{}", name.replace(['/', '|'], "")));
    }
    check_pages(vec![faced(&[text, "3 cm above the sea."])], &format!("{text} 3 cm above the sea."));
}
