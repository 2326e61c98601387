//! Weight, slant and size of type: words drawn from the reference PDFs against what `mutool draw -F stext` says of their
//! fonts, and the names that head treatments against the books' own lists.
//!
//! Which words are drawn depends on a seed only. A font without a name says nothing of itself and is set aside.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use flate2::read::GzDecoder;
use ligule::layout::{self, Block, BlockKind, LineEnd, Run};
use ligule::pdf::{self, Page};
use serde_json::Value;

use crate::support::{note, pdfs_below, shared, skip};

/// Words drawn from all files together, some of them in fonts without a name.
const WORDS: usize = 2200;
/// Words that must remain.
const LEAST: usize = 2000;
/// Pages asked of each file.
const PAGES: u64 = 8;
/// Share of the words, and of the names, that must be right.
const RIGHT: f64 = 0.995;
/// Points within which a glyph is where the other tool has it.
const NEAR: f32 = 0.7;
/// Share of the size by which sizes may differ: the other tool takes the mean of height and width of type that the
/// typesetter stretched a little to fill its line, by up to 3 in 100.
const SAME_SIZE: f32 = 0.016;

/// Numbers that look drawn by lot and are the same every time.
struct Lot(u64);

impl Lot {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end.max(1)
    }
}

/// The first letter of a word, as the other tool has it.
#[derive(Clone, Debug)]
struct First {
    page: usize,
    letter: char,
    x: f32,
    y: f32,
    font: String,
    size: f32,
}

/// Returns the born-digital books below a folder.
fn books(folder: &Path) -> Vec<PathBuf> {
    let is_set = |path: &PathBuf| {
        let parts: Vec<_> = path.iter().rev().take(2).map(|part| part.to_string_lossy()).collect();
        parts[1] != "hostile" && !parts[0].contains("ocr")
    };
    pdfs_below(folder).into_iter().filter(is_set).collect()
}

/// Returns the value of an attribute.
fn attribute<'a>(line: &'a str, name: &str) -> Option<&'a str> {
    let start = line.find(&format!(" {name}=\""))? + name.len() + 3;
    let end = start + line[start..].find('"')?;
    Some(&line[start..end])
}

/// Returns the first letters of all words on some pages.
fn firsts(pdf: &Path, pages: &[usize]) -> Option<Vec<First>> {
    let list: Vec<String> = pages.iter().map(|page| (page + 1).to_string()).collect();
    let output =
        Command::new("mutool").args(["draw", "-q", "-F", "stext"]).arg(pdf).arg(list.join(",")).output();
    let said = String::from_utf8_lossy(&output.ok()?.stdout).into_owned();
    let mut found = Vec::new();
    let (mut page, mut font, mut size, mut inside) = (0, String::new(), 0.0, false);
    for line in said.lines() {
        if line.starts_with("<page ") {
            page = attribute(line, "id")?.strip_prefix("page")?.parse::<usize>().ok()? - 1;
        } else if line.starts_with("<line ") {
            inside = false;
        } else if line.starts_with("<font ") {
            attribute(line, "name")?.clone_into(&mut font);
            size = attribute(line, "size")?.parse().ok()?;
        } else if line.starts_with("<char ") {
            let letter = attribute(line, "c")?.chars().next().unwrap_or(' ');
            if letter.is_ascii_alphabetic() && !inside {
                let (x, y) = (attribute(line, "x")?.parse().ok()?, attribute(line, "y")?.parse().ok()?);
                found.push(First { page, letter, x, y, font: font.clone(), size });
            }
            inside = letter.is_alphabetic();
        }
    }
    Some(found)
}

/// Returns whether a font's name says bold, and whether it says italic, in the words that type foundries use; the other
/// tool cuts long names.
fn said_by(name: &str) -> (bool, bool) {
    let short = name.strip_prefix("LinLibertineO").unwrap_or_default();
    let bold = ["Bold", "Medi", "Semibold"].iter().any(|word| name.contains(word));
    let italic = ["Ital", "Oblique"].iter().any(|word| name.contains(word)) || name.ends_with("-I");
    (bold || short.starts_with(['B', 'Z']), italic || short.contains('I'))
}

/// Returns bold, italic and size of the glyph where the other tool has it; nothing where there is none.
fn found_at(page: &Page, first: &First) -> Option<(bool, bool, f32)> {
    let spans = page.spans.iter().filter(|span| span.turn == 0 && (span.y - first.y).abs() < NEAR);
    spans
        .flat_map(|span| {
            let glyphs = &page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize];
            glyphs.iter().map(move |glyph| (span, glyph))
        })
        .find(|(_, glyph)| glyph.character == first.letter && (glyph.x - first.x).abs() < NEAR)
        .map(|(span, _)| (span.face.bold, span.face.italic, span.size))
}

#[test]
fn words_are_as_bold_as_slanted_and_as_large_as_their_fonts_say() {
    let test = "words_are_as_bold_as_slanted_and_as_large_as_their_fonts_say";
    let Some(folder) = shared("reference") else {
        return skip(test, "the reading matter is not in ../shared");
    };
    if Command::new("mutool").arg("-v").output().is_err() {
        return skip(test, "mutool is not installed");
    }
    let books = books(&folder);
    assert!(!books.is_empty(), "no PDF lies in {}", folder.display());
    let mut lot = Lot(1887);
    let (mut right, mut all, mut nameless, mut wrong) = (0, 0, 0, Vec::new());
    for book in &books {
        let bytes = fs::read(book).expect("the file was listed");
        let document = pdf::read(bytes, &|_, _| {}).expect("reference files can be read");
        let mut pages: Vec<usize> =
            (0..PAGES).map(|_| lot.below(document.pages.len() as u64) as usize).collect();
        pages.sort_unstable();
        pages.dedup();
        let firsts = firsts(book, &pages).expect("mutool writes what it is asked for");
        assert!(!firsts.is_empty(), "{} has no words on pages {pages:?}", book.display());
        for _ in 0..WORDS.div_ceil(books.len()) {
            let first = &firsts[lot.below(firsts.len() as u64) as usize];
            if first.font.is_empty() || first.font.starts_with("Unnamed") {
                nameless += 1;
                continue;
            }
            let (bold, italic) = said_by(&first.font);
            let found = found_at(&document.pages[first.page], first);
            let agrees = found.is_some_and(|(is_bold, is_italic, size)| {
                is_bold == bold && is_italic == italic && (size - first.size).abs() < SAME_SIZE * size
            });
            all += 1;
            right += usize::from(agrees);
            if !agrees {
                wrong.push(format!("{}: {first:?} is {found:?}", book.display()));
            }
        }
    }
    let share = f64::from(right as u32) / f64::from(all as u32);
    let said = format!("{right} of {all} words agree ({share:.4}), {nameless} are in fonts without a name");
    assert!(all >= LEAST, "too few words are in fonts with names: {said}");
    assert!(share >= RIGHT, "{said}\n{}", wrong.join("\n"));
}

/// Returns a book's list of what is in it, which lies packed beside the largest.
fn gold(folder: &Path) -> Option<Value> {
    if let Ok(plain) = fs::read(folder.join("gold.json")) {
        return serde_json::from_slice(&plain).ok();
    }
    let packed = fs::read(folder.join("gold.json.gz")).ok()?;
    serde_json::from_reader(GzDecoder::new(&packed[..])).ok()
}

/// Returns the ways in which a name may head its treatment, in small letters: whole, with the sign of hybrids set close, with
/// another short form for the subspecies, or its last rank and epithet alone.
fn forms(name: &str) -> Vec<String> {
    let name = name.to_lowercase();
    let mut forms = vec![name.clone(), name.replace("× ", "×"), name.replace("subsp.", "ssp.")];
    let words: Vec<&str> = name.split(' ').collect();
    if let [_, _, .., rank, epithet] = words[..]
        && rank.ends_with('.')
    {
        forms.push(format!("{rank} {epithet}"));
    }
    forms
}

/// Tells whether a run is the number or letter before a name, which the books set apart by a style of their own.
fn is_number(run: &Run) -> bool {
    let text = run.text.trim_end_matches('.');
    let is_letter = text.len() == 1 && run.text.ends_with('.');
    is_letter || text.starts_with(|sign: char| sign.is_ascii_digit()) && !text.contains(' ')
}

/// Returns what a paragraph opens with in one style, after its number, up to the stop that ends it. A span that the end of
/// a line parts is one where both parts are alike.
fn opening(block: &Block) -> String {
    let number = usize::from(block.lines[0].runs.first().is_some_and(is_number));
    let Some(first) = block.lines[0].runs.get(number) else { return String::new() };
    let mut text = first.text.clone();
    let mut is_whole = block.lines[0].runs.len() == number + 1;
    for pair in block.lines.windows(2) {
        let Some(run) = pair[1].runs.first().filter(|run| is_whole && run.style == first.style) else {
            break;
        };
        match pair[0].end {
            LineEnd::Space => text.push(' '),
            LineEnd::Broken => _ = text.pop(),
            LineEnd::Compound => {}
        }
        text.push_str(&run.text);
        is_whole = pair[1].runs.len() == 1;
    }
    let text = text.trim_start_matches(|sign: char| sign.is_ascii_digit() || ". ".contains(sign));
    text.trim_end_matches([' ', '.', ':', '—', '–']).to_lowercase()
}

/// Counts the names of a book's treatments, and those that are, in one style and with nothing else, the opening of a
/// paragraph on their page. Adds the others to `wrong`.
///
/// In all these books rank words and the sign of hybrids are printed in the style of the name: every name counts whole.
fn names_in_one_style(folder: &Path, wrong: &mut Vec<String>) -> Option<(usize, usize)> {
    let gold = gold(folder)?;
    let bytes = fs::read(folder.join("flora.pdf")).ok()?;
    let sheets = pdf::read_each(bytes, &|_, _| {}, &layout::sheet).ok()?;
    let set = layout::set_sheets(sheets.pages, &|_| false);
    let mut openings: BTreeMap<u32, BTreeSet<String>> = BTreeMap::new();
    for block in set.blocks.iter().filter(|block| block.kind == BlockKind::Flow && !block.lines.is_empty()) {
        openings.entry(block.lines[0].page).or_default().insert(opening(block));
    }
    let (mut all, mut right) = (0, 0);
    for taxon in gold["taxa"].as_array()? {
        let name = taxon["scientificName"].as_str()?;
        let page = taxon["pages"][0].as_u64()? as u32;
        let is_right =
            openings.get(&page).is_some_and(|texts| forms(name).iter().any(|form| texts.contains(form)));
        all += 1;
        right += usize::from(is_right);
        if !is_right {
            wrong.push(format!("{}, page {page}: {name}", folder.display()));
        }
    }
    Some((all, right))
}

#[test]
fn the_name_that_heads_a_treatment_is_one_span_of_one_style() {
    let test = "the_name_that_heads_a_treatment_is_one_span_of_one_style";
    let Some(folder) = shared("reference/sim") else {
        return skip(test, "the reading matter is not in ../shared");
    };
    let mut folders: Vec<PathBuf> =
        fs::read_dir(folder).expect("it is there").filter_map(|entry| Some(entry.ok()?.path())).collect();
    folders.sort();
    let (mut wrong, mut books, mut worst) = (Vec::new(), 0, 1.0_f64);
    for folder in &folders {
        let Some((all, right)) = names_in_one_style(folder, &mut wrong) else { continue };
        let name = folder.file_name().unwrap_or_default().display();
        note(test, &format!("{name}: {right} of {all}"));
        books += 1;
        worst = worst.min(f64::from(right as u32) / f64::from(all as u32));
    }
    assert!(books > 1, "the books with lists of names are not there");
    assert!(worst >= RIGHT, "{worst:.4} in a book\n{}", wrong.join("\n"));
}
