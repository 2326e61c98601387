//! The screens on terminals that show less, and with the lines closer: nothing but ASCII where that is all there is.

use super::{EVERY_SCREEN, Reader, SIZES};
use crate::reader::ascii::Signs;
use crate::reader::measure::{self, Row, areas};
use crate::reader::state::Overlay;
use crate::reader::textflow::columns;

/// Walks that come by more of what is seen: words marked, lists typed into and unfolded, what lies over a screen.
const LAID_OVER: &[&str] =
    &["enter", "enter tab", "enter t", "T", "e /", "i l", "s r o c k enter", "x -", "?"];

fn in_ascii(size: (u16, u16)) -> Reader {
    let mut reader = Reader::open(size);
    reader.state.signs = Signs::Ascii;
    reader.state.stale();
    reader.state.settle();
    reader
}

#[test]
fn no_byte_above_127_reaches_an_ascii_screen() {
    for (keys, size) in EVERY_SCREEN.iter().chain(LAID_OVER).flat_map(|keys| SIZES.map(|size| (keys, size))) {
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
    assert_eq!(gaps(reader.walk("Z j")), 0, "{}", reader.text());
    let again = Reader::again((80, 24), &reader.kept);
    assert_eq!(gaps(&again), 0, "{}", again.text());
    assert!(gaps(reader.walk("Z j")) > 0);
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

/// The smallest window, and those in use.
const WINDOWS: [(u16, u16); 4] = [measure::SMALLEST, SIZES[0], SIZES[1], SIZES[2]];

#[test]
fn a_text_that_goes_on_says_so_and_where_one_is() {
    for (keys, size) in EVERY_SCREEN.iter().chain(LAID_OVER).flat_map(|keys| WINDOWS.map(|size| (keys, size)))
    {
        let mut reader = Reader::open(size);
        let text = reader.walk(keys).text();
        let state = &reader.state;
        let (height, all) = (usize::from(areas(state).body.height), state.flow.lines.len());
        let over = !matches!(state.overlay, Overlay::None | Overlay::Typing);
        if all > height && state.sheet.leads.is_empty() && !over {
            let about = text.lines().nth(1).unwrap_or_default();
            assert!(about.contains(&format!("of {all}")), "{keys} at {size:?}\n{text}");
        }
    }
}

#[test]
fn a_couplet_never_hides_that_a_lead_has_rivals_nor_where_it_stands() {
    for (keys, size) in ["", "j", "tab", "t", "enter", "enter j", "enter j j", "enter j j space", "enter t"]
        .iter()
        .flat_map(|keys| WINDOWS.map(|size| (keys, size)))
    {
        let mut reader = Reader::open(size);
        let text = reader.walk(keys).text();
        let about = text.lines().nth(1).unwrap_or_default();
        assert!(
            about.contains("couplet ") && about.contains(" of ") && about.contains("folio 13"),
            "{about}"
        );
        let plan = measure::plan(&reader.state, areas(&reader.state).body.height);
        let is_shown = |lead: usize| {
            plan.rows.iter().any(|row| matches!(row, Row::Lead { lead: shown, .. } if *shown == lead))
        };
        let hidden = plan.rows.iter().any(|row| matches!(row, Row::Hidden(_)));
        let rivals = (0..reader.state.sheet.leads.len()).filter(|lead| is_shown(*lead)).count();
        assert!(
            rivals >= 2 && (hidden || rivals == reader.state.sheet.leads.len()),
            "{keys} at {size:?}\n{text}"
        );
    }
}

#[test]
fn no_message_and_no_caution_is_cut() {
    for size in WINDOWS {
        let mut reader = Reader::open(size);
        reader.state.message = Some(LONG.to_owned());
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words(&reader.text()).contains(LONG), "{}", reader.text());
        let text = reader.walk("enter 2").text();
        assert!(words(&text).contains("A name from a key is no leave to eat, touch or pick."), "{text}");
    }
}

/// A message as long as the longest that the reader has without a path in it.
const LONG: &str = "This lead can't be followed here (→ not found: Halimora p. 90, which is in another volume of this work); r shows its page.";

#[test]
fn the_foot_of_what_lies_over_a_screen_is_never_cut() {
    for (keys, size) in ["T", "t", "?", "w /", "A"].iter().flat_map(|keys| WINDOWS.map(|size| (keys, size))) {
        let mut reader = Reader::open(size);
        let text = reader.walk(keys).text();
        let foot = text.lines().last().unwrap_or_default();
        assert!(foot.ends_with("close") || foot.ends_with("take it back"), "{keys} at {size:?}: {foot}");
    }
}
