//! Made-up scans through the whole of layout: tilted, with sizes at random and margins that wander.

use crate::layout::{BlockKind, Gap, Setting, set, words};
use crate::pdf::{Area, Document, Face, Glyph, Page, Role, Span};

const SIZE: (f32, f32) = (400.0, 600.0);
/// Words of the text.
const TEXT: &str = "stems erect branched from the base leaves opposite ovate hairy below margins \
                    toothed flowers solitary petals white calyx inflated capsule ovoid seeds black";

/// How a page lies on the glass.
#[derive(Clone, Copy, Default)]
struct Lie {
    /// How far text runs to the right for each point downwards.
    tilt: f32,
    /// How far it is moved to the right.
    shift: f32,
    /// By how much of its size its type is smaller.
    smaller: f32,
}

/// White space between words.
const SPACE: f32 = 2.5;

/// Adds the words of a line set from `x` on as wide as they are in print, each with a size of the recogniser's own and
/// squeezed by the space after it.
fn put(page: &mut Page, at: (f32, f32), text: &str, lie: Lie) {
    put_spaced(page, at, (text, SPACE), lie);
}

fn put_spaced(page: &mut Page, (x, y): (f32, f32), (text, space): (&str, f32), lie: Lie) {
    let mut left = x;
    for (index, word) in text.split(' ').enumerate() {
        let wide: f32 = word.chars().map(|letter| 10.0 * (1.0 - lie.smaller) * width(letter)).sum();
        let count = word.chars().count() as f32;
        let start = page.glyphs.len() as u32;
        let pitch = wide / (count + 1.0);
        let from = left + lie.tilt * (y - SIZE.1 / 2.0) + lie.shift;
        for (at, character) in word.chars().chain([' ']).enumerate() {
            page.glyphs.push(Glyph { character, x: from + pitch * at as f32, width: pitch });
        }
        let middle = x + 70.0 - SIZE.0 / 2.0;
        page.spans.push(Span {
            face: Face::default(),
            size: 8.0 + ((index * 7 + y as usize) % 3) as f32,
            y: y - lie.tilt * middle,
            turn: 0,
            role: Role::Unseen,
            glyphs: start..page.glyphs.len() as u32,
        });
        left += wide + space;
    }
}

/// Width of a letter in em; any will do.
fn width(letter: char) -> f32 {
    match letter {
        'i' | 'l' | 't' | '.' | ',' | 'f' | 'r' => 0.3,
        'm' | 'w' => 0.75,
        _ => 0.48,
    }
}

/// White space between the words of a line that fills its room.
fn space(text: &str, room: f32) -> f32 {
    let wide: f32 = text.chars().filter(|letter| *letter != ' ').map(|letter| 10.0 * width(letter)).sum();
    (room - wide) / text.matches(' ').count() as f32
}

/// Words until they are as wide as a column, from the `from`-th on; returns them with the place of the next.
fn line(from: usize, room: f32) -> (String, usize) {
    let all: Vec<&str> = TEXT.split_whitespace().collect();
    let (mut text, mut at, mut wide) = (String::new(), from, 0.0);
    loop {
        let word = all[at % all.len()];
        wide += word.chars().map(|letter| 10.0 * width(letter)).sum::<f32>() + 2.5;
        if wide > room {
            return (text, at);
        }
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(word);
        at += 1;
    }
}

/// A page with a running head and two columns of paragraphs of four lines, their first lines indented.
fn leaf(number: usize, lie: Lie) -> Page {
    let mut page = Page { size: SIZE, ..Page::default() };
    put(&mut page, (40.0, 40.0), "MORVANE", lie);
    put(&mut page, (340.0, 40.0), &format!("{}", 20 + number), lie);
    let mut at = number;
    for left in [40.0, 210.0] {
        for row in 0..32_u8 {
            let indent = if row % 4 == 0 { 12.0 } else { 0.0 };
            let (text, next) = line(at, 150.0 - indent);
            at = next;
            let text = if row % 4 == 0 { format!("P{}", &text[1..]) } else { text };
            let text = if row % 4 == 3 { format!("{}.", &text[..text.len() - 1]) } else { text };
            let space = if row % 4 == 3 { SPACE } else { space(&text, 150.0 - indent) };
            put_spaced(&mut page, (left + indent, 80.0 + 12.0 * f32::from(row)), (&text, space), lie);
        }
    }
    page
}

fn read(lies: &[Lie]) -> Setting {
    let pages = lies.iter().enumerate().map(|(number, lie)| leaf(number, *lie)).collect();
    set(&Document { pages, ..Document::default() }, &|_| false)
}

/// Blocks and heads of a book, as text.
fn shown(setting: &Setting) -> String {
    let blocks: Vec<String> = setting.blocks.iter().map(|block| words(&block.lines)).collect();
    let heads: Vec<String> = setting.pages.iter().map(|page| page.heads.join("|")).collect();
    format!("{}\n{}", blocks.join("\n"), heads.join("\n"))
}

#[track_caller]
fn check_like_level(lies: &[Lie]) {
    let level = read(&vec![Lie::default(); lies.len()]);
    assert_eq!(level.blocks.len(), 16 * lies.len(), "a paragraph is a block");
    let (found, expected) = (shown(&read(lies)), shown(&level));
    let other = found.lines().zip(expected.lines()).find(|(found, expected)| found != expected);
    assert_eq!(other, None, "the first block that differs");
}

#[test]
fn a_tilted_scan_reads_like_a_level_one() {
    let tilts = [0.008, -0.012, 0.015, -0.004, 0.01, -0.009];
    check_like_level(&tilts.map(|tilt| Lie { tilt, ..Lie::default() }));
}

#[test]
fn margins_that_wander_make_no_indents() {
    let shifts = [0.0, 6.0, -9.0, 4.0, 11.0, -5.0, 3.0, -12.0];
    check_like_level(&shifts.map(|shift| Lie { shift, ..Lie::default() }));
}

#[test]
fn heads_and_folios_of_a_tilted_scan_are_taken_away() {
    let setting = read(&[Lie { tilt: 0.014, shift: 2.0, smaller: 0.0 }; 6]);
    let folios: Vec<&str> = setting.pages.iter().filter_map(|page| page.folio.as_deref()).collect();
    assert_eq!(folios.join(" "), "20 21 22 23 24 25");
    assert!(!shown(&setting).split("MORVANE").next().expect("there is a first part").contains("MORVANE"));
}

#[test]
fn a_scan_has_the_sizes_that_its_words_are_wide() {
    let setting = read(&[Lie::default(); 4]);
    let mut sizes: Vec<f32> =
        setting.blocks.iter().flat_map(|block| &block.lines).map(|line| line.size).collect();
    sizes.dedup();
    assert_eq!(sizes.len(), 1, "the file gives three sizes at random: {sizes:?}");
}

#[test]
fn a_leader_read_as_letters_is_a_leader() {
    let mut pages: Vec<Page> = (0..4).map(|number| leaf(number, Lie::default())).collect();
    let y = 80.0 + 12.0 * 34.0;
    put(&mut pages[2], (40.0, y), "stems erect.", Lie::default());
    let start = pages[2].glyphs.len();
    put(&mut pages[2], (120.0, y), "esoeeocaeeesa", Lie::default());
    // Squeezed to less than half its width: no letters are so narrow.
    let from = pages[2].glyphs[start].x;
    for glyph in &mut pages[2].glyphs[start..] {
        (glyph.x, glyph.width) = (from + (glyph.x - from) * 0.45, glyph.width * 0.45);
    }
    put(&mut pages[2], (163.0, y), "Silene", Lie::default());
    let setting = set(&Document { pages, ..Document::default() }, &|_| false);
    let lead = setting
        .blocks
        .iter()
        .flat_map(|block| &block.lines)
        .find(|line| line.runs.iter().any(|run| run.text == "Silene"));
    let lead = lead.expect("the target is read");
    let runs: Vec<(Gap, &str)> = lead.runs.iter().map(|run| (run.before, run.text.as_str())).collect();
    assert_eq!(runs, [(Gap::None, "stems erect."), (Gap::Leader, "Silene")]);
}

#[test]
fn a_caption_below_the_white_space_of_a_picture_is_an_aside() {
    let mut pages: Vec<Page> = (0..4).map(|number| leaf(number, Lie::default())).collect();
    let small = Lie { smaller: 0.2, ..Lie::default() };
    for (row, text) in ["Silene alta.", "capsule, opened.", "seeds, white margins."].iter().enumerate() {
        put(&mut pages[1], (60.0, 540.0 + 10.0 * row as f32), text, small);
    }
    for page in &mut pages {
        page.pictures.push(Area { left: 0.0, top: 0.0, right: SIZE.0, bottom: SIZE.1 });
    }
    let setting = set(&Document { pages, ..Document::default() }, &|_| false);
    let asides = setting.blocks.iter().filter(|block| block.kind == BlockKind::Aside);
    let asides: Vec<String> = asides.map(|block| words(&block.lines)).collect();
    assert_eq!(asides.join(" "), "Silene alta. capsule, opened. seeds, white margins.");
}
