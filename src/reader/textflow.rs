//! Running text: a paragraph and a width in; lines that know their bytes out, and those lines painted into cells.
//!
//! Nothing is hyphenated or changed: a printed word is broken only where it is wider than the whole line.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::Position;
use ratatui::style::Style;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Returns how many columns a text takes; control characters take none, as they are never painted.
pub(crate) fn columns(text: &str) -> usize {
    text.graphemes(true).map(grapheme_columns).sum()
}

/// Breaks a text into lines of at most `width` columns; blanks at the breaks belong to no line.
pub(crate) fn wrap(text: &str, width: usize) -> Vec<Range<usize>> {
    let width = width.max(1);
    let mut lines = Vec::new();
    let (mut start, mut used) = (0, 0);
    let mut chance: Option<(usize, usize)> = None;
    let mut graphemes = text.grapheme_indices(true).peekable();
    let mut before = "";
    while let Some((at, grapheme)) = graphemes.next() {
        let after = at + grapheme.len();
        if is_blank(grapheme) {
            chance = Some((at, after));
            used += 1;
        } else {
            let wide = grapheme_columns(grapheme);
            if used + wide > width && at > start {
                let (end, next) = chance.take().unwrap_or((at, at));
                lines.push(start..end);
                start = next;
                used = columns(&text[next..at]);
            }
            used += wide;
            let next = graphemes.peek().map_or("", |(_, next)| next);
            if breaks_after(before, grapheme, next) && used < width {
                chance = Some((after, after));
            }
        }
        before = grapheme;
    }
    let end = text.trim_end().len();
    lines.push(start.min(end)..end);
    lines
}

/// Returns the byte of the first character of a text that stands in a cell or behind it.
pub(crate) fn byte_at(text: &str, cell: usize) -> usize {
    let mut used = 0;
    for (at, grapheme) in text.grapheme_indices(true) {
        if used >= cell {
            return at;
        }
        used += grapheme_columns(grapheme);
    }
    text.len()
}

/// Shortens a text to `width` columns, with an ellipsis where something was left out.
pub(crate) fn shorten(text: &str, width: usize) -> String {
    if columns(text) <= width {
        return text.to_owned();
    }
    let mut short = String::new();
    let mut used = 0;
    for grapheme in text.graphemes(true) {
        let wide = grapheme_columns(grapheme);
        if used + wide + 1 > width {
            break;
        }
        used += wide;
        short.push_str(grapheme);
    }
    if width > 0 {
        short.truncate(short.trim_end().len());
        short.push('…');
    }
    short
}

/// Paints part of a text from a cell on, at most `room` columns; `look` gives the style of a byte. Returns the columns taken.
pub(crate) fn paint(
    buffer: &mut Buffer,
    (at, room): (Position, u16),
    (text, range): (&str, Range<usize>),
    look: impl Fn(usize) -> Style,
) -> u16 {
    let Some(part) = text.get(range.clone()) else { return 0 };
    let mut used = 0;
    for (offset, grapheme) in part.grapheme_indices(true) {
        let shown = if is_blank(grapheme) { " " } else { grapheme };
        let wide = grapheme_columns(shown) as u16;
        if used + wide > room {
            break;
        }
        if wide > 0 && buffer.area.contains(Position::new(at.x + used, at.y)) {
            buffer.set_stringn(at.x + used, at.y, shown, wide as usize, look(range.start + offset));
        }
        used += wide;
    }
    used
}

/// Paints a line of one style; returns the columns taken.
pub(crate) fn print(buffer: &mut Buffer, place: (Position, u16), words: &str, style: Style) -> u16 {
    paint(buffer, place, (words, 0..words.len()), |_| style)
}

fn grapheme_columns(grapheme: &str) -> usize {
    if is_blank(grapheme) {
        1
    } else if grapheme.chars().any(char::is_control) {
        0
    } else {
        grapheme.width()
    }
}

fn is_blank(grapheme: &str) -> bool {
    matches!(grapheme, " " | "\n" | "\t" | "\r\n")
}

/// Says whether a line may end behind a hyphen, dash or stroke: between letters, never inside a range of numbers.
fn breaks_after(before: &str, grapheme: &str, next: &str) -> bool {
    let letter = |grapheme: &str| grapheme.chars().next().is_some_and(char::is_alphabetic);
    matches!(grapheme, "-" | "–" | "—" | "/" | "\u{2010}") && letter(before) && letter(next)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{any, proptest};

    #[track_caller]
    fn check_lines(text: &str, width: usize, expected: &[&str]) {
        let lines: Vec<&str> = wrap(text, width).into_iter().map(|range| &text[range]).collect();
        assert_eq!(lines, expected);
    }

    #[test]
    fn a_line_ends_at_the_last_blank_that_fits() {
        check_lines("leaves ovate, hairy", 13, &["leaves ovate,", "hairy"]);
        check_lines("leaves ovate, hairy", 12, &["leaves", "ovate, hairy"]);
    }

    #[test]
    fn a_compound_may_break_behind_its_hyphen() {
        check_lines("blade oblong-lanceolate", 14, &["blade oblong-", "lanceolate"]);
    }

    #[test]
    fn a_range_of_numbers_stays_together() {
        check_lines("stem 10–15 mm", 8, &["stem", "10–15 mm"]);
    }

    #[test]
    fn a_word_wider_than_the_line_is_broken() {
        check_lines("a pneumatophore", 6, &["a", "pneuma", "tophor", "e"]);
    }

    #[test]
    fn an_empty_text_has_one_line() {
        check_lines("", 10, &[""]);
    }

    #[test]
    fn a_shortened_text_says_that_it_goes_on() {
        assert_eq!(shorten("Key to the species", 9), "Key to t…");
        assert_eq!(shorten("Key", 3), "Key");
    }

    proptest! {
        #[test]
        fn no_letter_is_lost_and_no_line_too_wide(text in "[a-zé×\u{301} –/,-]{0,80}", width in 2_usize..30) {
            let lines = wrap(&text, width);
            let kept: String = lines.iter().map(|range| text[range.clone()].replace(' ', "")).collect();
            assert_eq!(kept, text.replace(' ', ""));
            assert!(lines.iter().all(|range| columns(text[range.clone()].trim_end()) <= width), "{lines:?}");
        }

        #[test]
        fn any_text_can_be_wrapped(text in any::<String>(), width in 0_usize..300) {
            assert!(!wrap(&text, width).is_empty());
        }
    }
}
