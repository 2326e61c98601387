//! Text for terminals that show nothing but ASCII: any text in, the same in ASCII letters out, readable as before.
//!
//! Fractions, signs and letters get words or signs of their own; accents are left off. Nothing is folded for other terminals.

use ratatui::buffer::Buffer;
use unicode_normalization::UnicodeNormalization;

use crate::model::{StyleRun, Text};
use crate::reader::sheet::{Kind, Pane, Sheet};
use crate::reader::state::{Overlay, State};

/// Which characters the terminal shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Signs {
    /// All.
    #[default]
    Unicode,
    /// ASCII alone.
    Ascii,
}

/// Characters that leaving off accents does not help, with what stands for them in a text, and in a single cell.
const FORMS: &[(char, &str, &str)] = &[
    ('▌', "|", "|"),
    ('─', "-", "-"),
    ('▲', "^", "^"),
    ('▼', "v", "v"),
    ('↕', ":", ":"),
    ('◀', "<", "<"),
    ('▶', ">", ">"),
    ('→', "->", ">"),
    ('←', "<-", "<"),
    ('↑', "Up", "^"),
    ('↓', "Down", "v"),
    ('…', "...", "~"),
    ('–', "-", "-"),
    ('—', "--", "-"),
    ('―', "--", "-"),
    ('‒', "-", "-"),
    ('‐', "-", "-"),
    ('−', "-", "-"),
    ('×', "x", "x"),
    ('·', ".", "."),
    ('•', "*", "*"),
    ('°', " deg", "o"),
    ('′', "'", "'"),
    ('″', "\"", "\""),
    ('±', "+-", "+"),
    ('≤', "<=", "<"),
    ('≥', ">=", ">"),
    ('≈', "~", "~"),
    ('∞', "many", "8"),
    ('²', "^2", "2"),
    ('³', "^3", "3"),
    ('♂', "male", "m"),
    ('♀', "female", "f"),
    ('⚥', "bisexual", "b"),
    ('†', "+", "+"),
    ('‡', "++", "+"),
    ('§', "sect.", "S"),
    ('©', "(c)", "c"),
    ('‘', "'", "'"),
    ('’', "'", "'"),
    ('‹', "'", "'"),
    ('›', "'", "'"),
    ('“', "\"", "\""),
    ('”', "\"", "\""),
    ('„', "\"", "\""),
    ('«', "\"", "\""),
    ('»', "\"", "\""),
    ('æ', "ae", "e"),
    ('Æ', "Ae", "E"),
    ('œ', "oe", "e"),
    ('Œ', "Oe", "E"),
    ('ß', "ss", "s"),
    ('ø', "o", "o"),
    ('Ø', "O", "O"),
    ('ł', "l", "l"),
    ('Ł', "L", "L"),
    ('đ', "d", "d"),
    ('ð', "d", "d"),
    ('Ð', "D", "D"),
    ('þ', "th", "t"),
    ('Þ', "Th", "T"),
    ('ı', "i", "i"),
    ('µ', "u", "u"),
    ('μ', "u", "u"),
    ('α', "alpha", "a"),
    ('β', "beta", "b"),
    ('γ', "gamma", "g"),
    ('δ', "delta", "d"),
    ('Δ', "Delta", "D"),
];

/// What stands for a character that has no form.
const UNKNOWN: &str = "?";

/// Between the two numbers of a fraction, as compatibility decomposition has it.
const FRACTION: char = '\u{2044}';

/// Returns a text in ASCII.
pub(crate) fn fold(text: &str) -> String {
    folded(text, Width::Free).0
}

/// Folds everything that a sheet says; stops keep their words.
pub(crate) fn sheet(sheet: &mut Sheet) {
    for (block, paragraph) in sheet.blocks.iter_mut().enumerate() {
        let width = if paragraph.kind == Kind::Set { Width::Kept } else { Width::Free };
        let places = text(&mut paragraph.text, width);
        if places.is_empty() {
            continue;
        }
        for stop in sheet.stops.iter_mut().filter(|stop| stop.block == block) {
            stop.range = place(&places, stop.range.start)..place(&places, stop.range.end);
        }
    }
    for words in [&mut sheet.title, &mut sheet.about].into_iter().chain(&mut sheet.standing) {
        *words = fold(words);
    }
    for lead in &mut sheet.leads {
        lead.label = fold(&lead.label);
        lead.target = fold(&lead.target);
    }
}

/// Folds a definition.
pub(crate) fn pane(mut pane: Pane) -> Pane {
    pane.title = fold(&pane.title);
    pane.source = fold(&pane.source);
    for paragraph in &mut pane.texts {
        text(paragraph, Width::Free);
    }
    pane
}

/// Folds what the reader is told and asked.
pub(crate) fn said(state: &mut State) {
    state.message = state.message.take().map(|message| fold(&message));
    if let Overlay::Choose { title, rows, .. } = &mut state.overlay {
        *title = fold(title);
        for (words, _) in rows {
            *words = fold(words);
        }
    }
}

/// Puts ASCII into every cell of a screen that still has something else: signs that the screen itself draws.
pub(crate) fn screen(buffer: &mut Buffer) {
    for cell in &mut buffer.content {
        if !cell.symbol().is_ascii() {
            let form = cell.symbol().chars().next().map_or(UNKNOWN.to_owned(), in_a_cell);
            cell.set_symbol(&form);
        }
    }
}

/// Whether a text keeps its columns.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Width {
    /// It may grow.
    Free,
    /// What it grows by is taken from the next wide gap, so that the columns of a page stay under each other.
    Kept,
}

/// Folds a text with its styles and pages; returns where each of its bytes went.
fn text(text: &mut Text, width: Width) -> Vec<usize> {
    if text.plain.is_ascii() {
        return Vec::new();
    }
    let (plain, places) = folded(&text.plain, width);
    let moved = |start: u32| place(&places, start as usize) as u32;
    text.styles =
        text.styles.iter().map(|run| StyleRun { start: moved(run.start), style: run.style }).collect();
    text.pages = text.pages.iter().map(|(start, page)| (moved(*start), *page)).collect();
    text.plain = plain;
    places
}

/// Returns where a byte went; without a list everything stayed.
fn place(places: &[usize], byte: usize) -> usize {
    if places.is_empty() { byte } else { places[byte.min(places.len() - 1)] }
}

/// Returns the text in ASCII, and for each byte before, and the end, where it stands now.
fn folded(text: &str, width: Width) -> (String, Vec<usize>) {
    let mut plain = String::with_capacity(text.len());
    let mut places = Vec::with_capacity(text.len() + 1);
    let mut owed = 0;
    for (at, letter) in text.char_indices() {
        let gap = text[at..].starts_with("  ") && plain.ends_with(' ');
        places.extend(std::iter::repeat_n(plain.len(), letter.len_utf8()));
        if gap && owed > 0 {
            owed -= 1;
            continue;
        }
        let before = plain.len();
        append(&mut plain, letter, text[at + letter.len_utf8()..].chars().next());
        if width == Width::Kept {
            owed += (plain.len() - before).saturating_sub(1);
        }
    }
    places.push(plain.len());
    (plain, places)
}

/// Adds the form of a character.
fn append(plain: &mut String, letter: char, next: Option<char>) {
    if letter.is_ascii() {
        plain.push(letter);
        return;
    }
    let blank = |letter: Option<char>| letter.is_none_or(char::is_whitespace);
    if letter == '·' && blank(plain.chars().next_back()) && blank(next) {
        plain.push('|');
        return;
    }
    if let Some((_, form, _)) = FORMS.iter().find(|(known, ..)| *known == letter) {
        plain.push_str(form);
        if letter == '°' && next.is_some_and(|next| next.is_ascii_digit()) {
            plain.push(' ');
        }
        return;
    }
    let parts: Vec<char> = std::iter::once(letter).nfkd().collect();
    if parts.contains(&FRACTION) && plain.ends_with(|before: char| before.is_ascii_digit()) {
        plain.push(' ');
    }
    let accent = unicode_normalization::char::is_combining_mark;
    for part in parts.into_iter().filter(|part| !accent(*part)) {
        match part {
            FRACTION => plain.push('/'),
            _ if part.is_ascii() => plain.push(part),
            _ => {
                let form = FORMS.iter().find(|(known, ..)| *known == part);
                plain.push_str(form.map_or(UNKNOWN, |(_, form, _)| form));
            }
        }
    }
}

/// Returns the form of a character that has but one cell.
fn in_a_cell(letter: char) -> String {
    if let Some((.., cell)) = FORMS.iter().find(|(known, ..)| *known == letter) {
        return (*cell).to_owned();
    }
    let drawn = match letter {
        '\u{2801}'..='\u{28ff}' => Some(SHADES[(u32::from(letter) & 0xff).count_ones() as usize / 3]),
        '\u{2580}'..='\u{259f}' => Some("#"),
        '\u{2500}'..='\u{257f}' => Some("+"),
        '\u{2800}' => Some(" "),
        _ => None,
    };
    let form = drawn.map_or_else(|| fold(&letter.to_string()), str::to_owned);
    if form.len() == 1 { form } else { UNKNOWN.to_owned() }
}

/// What stands for a cell of up to eight dots, by how many of them are black.
const SHADES: [&str; 3] = [".", "o", "#"];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Page, Style};

    #[track_caller]
    fn check_folded(text: &str, expected: &str) {
        assert_eq!(fold(text), expected);
    }

    #[test]
    fn numbers_and_signs_stay_readable() {
        check_folded("petals 2½–3 mm × ⅓", "petals 2 1/2-3 mm x 1/3");
        check_folded("½ as long", "1/2 as long");
        check_folded("♂ flowers ≤ 5 · ♀ ∞", "male flowers <= 5 | female many");
        check_folded("61°20′ N, 30 µm, 4 cm²", "61 deg 20' N, 30 um, 4 cm^2");
        check_folded("a 2·5 mm", "a 2.5 mm");
    }

    #[test]
    fn letters_lose_their_accents_and_ligatures() {
        check_folded("Ångström, Æthusa, fœtida, ﬁlaments", "Angstrom, Aethusa, foetida, filaments");
        check_folded("“naïve” – var. β", "\"naive\" - var. beta");
        check_folded("漢", "?");
    }

    #[test]
    fn every_form_is_ascii_and_every_cell_has_one() {
        for (letter, form, cell) in FORMS {
            assert!(form.is_ascii() && cell.is_ascii() && cell.len() == 1, "{letter}");
        }
    }

    #[test]
    fn a_cell_of_dots_or_blocks_keeps_its_weight() {
        let cells = ['\u{2800}', '\u{2801}', '\u{281b}', '\u{28ff}', '█', '│', '漢'].map(in_a_cell);
        assert_eq!(cells, [" ", ".", "o", "#", "#", "+", "?"]);
    }

    #[test]
    fn styles_and_pages_move_with_their_words() {
        let italic = Style { italic: true, ..Style::default() };
        let mut folded = Text {
            plain: "½ Silene æ".to_owned(),
            styles: vec![StyleRun { start: 3, style: italic }],
            pages: vec![(0, Page(1)), (10, Page(2))],
        };
        let places = text(&mut folded, Width::Free);
        assert_eq!(folded.plain, "1/2 Silene ae");
        assert_eq!((folded.style_at(3), folded.style_at(4)), (Style::default(), italic));
        assert_eq!((folded.page_at(10), folded.page_at(11)), (Page(1), Page(2)));
        let word = place(&places, 3)..place(&places, 9);
        assert_eq!(&folded.plain[word], "Silene");
    }

    #[test]
    fn the_columns_of_a_page_stay_under_each_other() {
        let (row, _) = folded("2½ mm        leaves", Width::Kept);
        assert_eq!(row.find("leaves"), Some("2h mm        ".len()));
    }
}
