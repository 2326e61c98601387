//! The screens on terminals that show less, and with the lines closer: nothing but ASCII where that is all there is.

use super::{Reader, SIZES};
use crate::reader::ascii::Signs;
use crate::reader::measure::{self, areas};
use crate::reader::textflow::columns;

/// Walks that come by every kind of screen and of what lies over one.
const WALKS: [&str; 24] = [
    "",
    "enter",
    "enter tab",
    "enter t",
    "T",
    "enter 2",
    "enter tab d",
    "r",
    "r y",
    "c",
    "e",
    "e /",
    "i",
    "i l",
    "w",
    "s r o c k enter",
    "v",
    "x -",
    "- p",
    ",",
    ".",
    "= 5 enter",
    "?",
    "1 1 1 y enter",
];

fn in_ascii(size: (u16, u16)) -> Reader {
    let mut reader = Reader::open(size);
    reader.state.signs = Signs::Ascii;
    reader.state.stale();
    reader.state.settle();
    reader
}

#[test]
fn no_byte_above_127_reaches_an_ascii_screen() {
    for (keys, size) in WALKS.iter().flat_map(|keys| SIZES.map(|size| (keys, size))) {
        let mut reader = in_ascii(size);
        let text = reader.walk(keys).text();
        assert!(text.is_ascii(), "{keys}\n{text}");
    }
}

#[test]
fn an_ascii_screen_keeps_arrows_bars_and_ends() {
    let text = in_ascii((80, 24)).text();
    assert!(
        text.contains("-> couplet 2 | 5 taxa") && text.contains("couplet 1 of 2 | 5 taxa possible"),
        "{text}"
    );
    assert!(text.lines().any(|line| line.starts_with('|')), "{text}");
}

#[test]
fn a_term_is_marked_and_defined_in_ascii_as_elsewhere() {
    for keys in ["tab", "tab tab", "enter tab", "enter t c"] {
        let (mut ascii, mut other) = (in_ascii((80, 24)), Reader::open((80, 24)));
        ascii.walk(keys);
        other.walk(keys);
        let word = |reader: &Reader| {
            reader.state.way.here.cursor.stop.map(|stop| reader.state.word(stop).to_owned())
        };
        assert_eq!(word(&ascii), word(&other));
    }
}

#[test]
fn closer_lines_leave_no_gap_between_leads_and_stay_so() {
    let gaps = |reader: &Reader| {
        let text = reader.text();
        let body = areas(&reader.state).body;
        let rows = text.lines().skip(usize::from(body.y)).take(usize::from(body.height));
        let rows: Vec<&str> = rows.collect();
        let last = rows.iter().rposition(|row| !row.is_empty()).unwrap_or(0);
        rows[..last].iter().filter(|row| row.is_empty()).count()
    };
    let mut reader = Reader::open((80, 24));
    assert!(gaps(reader.walk("")) > 0, "{}", reader.text());
    assert_eq!(gaps(reader.walk("Z")), 0, "{}", reader.text());
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(gaps(&again), 0, "{}", again.text());
    assert!(gaps(reader.walk("Z")) > 0);
}

#[test]
fn no_line_of_prose_is_too_long_to_be_read_on_a_wide_screen() {
    for (keys, width) in
        ["", "enter 2", "r y", "enter tab d"].iter().flat_map(|keys| [100, 200].map(|to| (keys, to)))
    {
        let mut reader = Reader::open((width, 40));
        reader.walk(keys);
        let sheet = &reader.state.sheet;
        for line in reader.state.flow.lines.iter().filter(|line| line.beside.is_empty()) {
            let text = sheet.blocks[line.block].text.plain.get(line.range.clone()).unwrap_or_default();
            assert!(columns(text) <= 80, "{text}");
        }
        assert!(measure::areas(&reader.state).body.width <= width);
    }
}
