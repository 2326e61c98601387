//! Drawings on standard output: side by side, each under its caption; what a terminal can show is read off its settings.

use unicode_width::UnicodeWidthStr;

use crate::reader::Signs;
use crate::sketch::{Dots, Sketch};

/// Blanks between two drawings.
const BETWEEN: &str = "  ";

/// Returns drawings of one size side by side, row by row, under their captions.
pub(crate) fn side_by_side(drawings: &[(String, Sketch)], size: (u16, u16), dots: Dots) -> Vec<String> {
    let width = usize::from(size.0);
    let caption = |(words, _): &(String, Sketch)| {
        let short: String = words.chars().take(width).collect();
        format!("{short}{}", " ".repeat(width.saturating_sub(short.width())))
    };
    let mut columns: Vec<Vec<String>> = Vec::new();
    for drawing in drawings {
        let mut rows = vec![caption(drawing)];
        rows.extend(drawing.1.cells(size, dots));
        columns.push(rows);
    }
    let row = |at: usize| {
        let cells: Vec<&str> = columns.iter().filter_map(|rows| rows.get(at).map(String::as_str)).collect();
        cells.join(BETWEEN).trim_end().to_owned()
    };
    (0..=usize::from(size.1)).map(row).collect()
}

/// Returns what drawings can be made of: braille where there is more than ASCII, but blocks on the console of the kernel,
/// whose font has no braille.
pub(crate) fn dots(signs: Signs, term: &str) -> Dots {
    match (signs, term) {
        (Signs::Ascii, _) => Dots::Ascii,
        (Signs::Unicode, "linux") => Dots::Blocks,
        (Signs::Unicode, _) => Dots::Braille,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_terminal_gets_what_it_can_show() {
        assert_eq!(dots(Signs::Unicode, "xterm-256color"), Dots::Braille);
        assert_eq!(dots(Signs::Unicode, "linux"), Dots::Blocks);
        assert_eq!(dots(Signs::Ascii, "linux"), Dots::Ascii);
    }

    #[test]
    fn drawings_stand_side_by_side_under_their_captions() {
        let draw = |name: &str| (name.to_owned(), crate::sketch::of(name).expect("it has a drawing"));
        let rows = side_by_side(&[draw("ovate"), draw("obovate")], (16, 8), Dots::Ascii);
        assert_eq!(rows.len(), 9);
        assert_eq!(rows[0], "ovate             obovate");
        assert!(rows[1..].iter().all(|row| row.is_ascii() && row.len() <= 34));
        assert!(rows[1..].iter().any(|row| row.len() > 18), "{rows:?}");
    }
}
