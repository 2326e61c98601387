//! What is shown as plain text with its citation, to be copied or kept; and the bytes that hand a text to the terminal's
//! clipboard. Nothing is written here.

use std::fmt::Write;

use crate::model::Page;
use crate::reader::library::Library;
use crate::reader::measure;
use crate::reader::place::{Item, Screen};
use crate::reader::sheet::{Kind, Sheet};
use crate::reader::state::State;
use crate::reader::textflow::{columns, wrap};

/// Columns of the text, as mail and notebooks have them.
const COLUMNS: usize = 76;

/// Returns the text of what is shown: its title, every paragraph, and where it comes from.
pub(crate) fn plain(state: &State) -> String {
    let mut out = format!("{}\n", state.sheet.title);
    if let Some(library) = &state.library {
        body(&mut out, &state.sheet);
        if let Some(pane) = state.pane().filter(|_| state.screen() == Screen::Couplet) {
            let words: Vec<&str> = pane.texts.iter().map(|text| text.plain.as_str()).collect();
            line(&mut out, "");
            paragraph(&mut out, "", &format!("{} ({}): {}", pane.title, pane.source, words.join(" ")));
        }
        let cited = citation(library, &state.way.here.item, state.sheet.page);
        line(&mut out, "");
        paragraph(&mut out, "", &cited);
    }
    out
}

/// Returns what the text of an item comes from: the flora, the page and its folio, the licence that it states.
fn citation(library: &Library, item: &Item, page: Option<Page>) -> String {
    let page = match item {
        Item::Treatment(id) => library.taxon_row(*id).map(|row| row.pages),
        Item::Page(page) | Item::Text(page) => Some((*page, *page)),
        _ => page.map(|page| (page, page)),
    };
    library.contents().citation(page)
}

/// Adds all paragraphs, the leads of a couplet with their labels and targets.
fn body(out: &mut String, sheet: &Sheet) {
    let labels = measure::label_width(sheet);
    for (at, block) in sheet.blocks.iter().enumerate() {
        match (sheet.leads.get(at), block.kind) {
            (Some(lead), _) => {
                let label = format!("{:labels$} ", lead.label);
                paragraph(out, &label, &format!("{} {}", block.text.plain, lead.target));
            }
            (None, Kind::Heading) => heading(out, &block.text.plain),
            (None, Kind::Set) => line(out, block.text.plain.trim_end()),
            (None, Kind::Body | Kind::Row | Kind::ShortRow | Kind::Faint) => {
                paragraph(out, &" ".repeat(usize::from(block.indent)), &block.text.plain);
            }
        }
    }
}

fn heading(out: &mut String, words: &str) {
    line(out, "");
    paragraph(out, "", words);
}

fn line(out: &mut String, words: &str) {
    writeln!(out, "{words}").expect("a string takes any text");
}

/// Adds a paragraph broken into lines: the first behind `before`, the others set in as far.
fn paragraph(out: &mut String, before: &str, words: &str) {
    let indent = columns(before);
    for (at, range) in wrap(words, COLUMNS.saturating_sub(indent).max(1)).into_iter().enumerate() {
        let before = if at == 0 { before } else { &" ".repeat(indent) };
        line(out, &format!("{before}{}", &words[range]));
    }
}

/// Returns the control sequence that hands a text to the terminal's clipboard (OSC 52, ended by BEL).
pub(crate) fn to_clipboard(text: &str) -> String {
    format!("\x1b]52;c;{}\x07", base64(text.as_bytes()))
}

/// The signs of base64 (RFC 4648, section 4).
const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

fn base64(bytes: &[u8]) -> String {
    let mut coded = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let byte = |at: usize| group.get(at).map_or(0, |byte| u32::from(*byte));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for at in 0..4 {
            let sign = SIGNS[(bits >> (18 - 6 * at) & 63) as usize];
            coded.push(if at <= group.len() { char::from(sign) } else { '=' });
        }
    }
    coded
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_are_coded_as_rfc_4648_has_it() {
        let cases = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (plain, coded) in cases {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn a_text_goes_to_the_clipboard_in_these_very_bytes() {
        assert_eq!(to_clipboard("petals 5–6"), "\x1b]52;c;cGV0YWxzIDXigJM2\x07");
    }
}
