//! Labels that print or scan made unreadable (K18): a few letters before a stop in, the label that the key expects
//! there out, or none. Where labels are expected is known in `grow`.

use super::label::{Label, Rival, Scheme, Series};

/// Letters and figures of the longest token that may be a label.
const LONGEST: usize = 4;
/// Points by which a misread label may stand off the place where the key expects it.
const TOLERANCE: f32 = 4.0;

/// Points by which words without a label may stand off the place where words of that level begin.
const LOST_TOLERANCE: f32 = 2.5;
/// Points that a label of two letters is wide (two half ems of ten points; common practice).
const LABEL_WIDTH: f32 = 9.0;

/// A label that would fit next.
#[derive(Clone, Copy, Debug)]
pub(super) struct Expected {
    /// What its couplet shares.
    pub(super) series: Series,
    /// Which lead of it this is.
    pub(super) rival: Rival,
    /// Left edge from the column's edge, points, where labels of its level stand.
    pub(super) indent: f32,
}

/// A token that may be a misread label.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Token<'a> {
    /// Its letters and figures; none where only the stop was read.
    letters: &'a str,
    /// Bytes of token, stop and blanks.
    pub(super) len: usize,
}

/// Reads a token with its stop before a capital or a figure.
pub(super) fn token(text: &str) -> Option<Token<'_>> {
    let letters = text.find(|c: char| !is_part(c)).unwrap_or(text.len());
    if text[..letters].chars().count() > LONGEST {
        return None;
    }
    let after = text[letters..].strip_prefix(['.', ',', ';', ':'])?;
    let rest = after.trim_start();
    let begins = rest
        .trim_start_matches(['‘', '“', '\'', '"'])
        .starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit());
    (begins && rest.len() < after.len())
        .then(|| Token { letters: &text[..letters], len: text.len() - rest.len() })
}

fn is_part(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '|' | '!' | '@' | '&' | '¢' | '£' | '\'' | '’')
}

/// Returns the expected label that a token at this indent was most likely printed as.
pub(super) fn mend(token: Token<'_>, indent: f32, expected: &[Expected]) -> Option<Label> {
    // Where only the stop was read it stands behind the label.
    let shift = if token.letters.is_empty() { LABEL_WIDTH } else { 0.0 };
    let near = |one: &&Expected| (one.indent + shift - indent).abs() < TOLERANCE;
    let nearest = expected
        .iter()
        .filter(near)
        .filter(|one| alike(token.letters, &printed(one)))
        .min_by(|one, other| (one.indent - indent).abs().total_cmp(&(other.indent - indent).abs()))?;
    Some(label(nearest, token.letters.to_owned(), token.len))
}

fn label(expected: &Expected, seen: String, len: usize) -> Label {
    let printed = printed(expected);
    let scheme = if printed.starts_with(char::is_lowercase) { Scheme::Lower } else { Scheme::Upper };
    let seen = (seen != printed).then_some(seen);
    Label { printed, series: expected.series, rival: expected.rival, scheme, back: Vec::new(), len, seen }
}

/// Returns the label that must stand before words at this indent whose own was not read at all; `hang` tells by how
/// much words stand right of their label.
pub(super) fn lost(indent: f32, hang: f32, expected: &[Expected]) -> Option<Label> {
    let off = |one: &Expected| (one.indent + hang - indent).abs();
    let nearest = expected
        .iter()
        .filter(|one| off(one) < LOST_TOLERANCE)
        .min_by(|one, other| off(one).total_cmp(&off(other)))?;
    Some(label(nearest, String::new(), 0))
}

/// A label of letters as it is printed.
fn printed(one: &Expected) -> String {
    let Series::Letter(letter) = one.series else { return String::new() };
    let count = match one.rival {
        Rival::Nth(nth) => usize::from(nth) + 1,
        Rival::Unsaid => 1,
    };
    std::iter::repeat_n(letter, count).collect()
}

/// Says whether a token can be a misread label: the same shapes, or one of two letters wrong.
fn alike(token: &str, label: &str) -> bool {
    let (seen, wanted): (Vec<char>, Vec<char>) =
        (token.chars().map(shape).collect(), label.chars().map(shape).collect());
    let doubled = wanted.len() == 1 && seen.len() == 2 && seen[0] == wanted[0] && seen[1] == wanted[0];
    seen == wanted || doubled || wanted.len() > 1 && (seen.is_empty() || distance(&seen, &wanted) <= 1)
}

/// One letter for all that are read for one another (K18).
fn shape(c: char) -> char {
    match c {
        'l' | 'I' | '1' | '|' | '!' | 'i' | 'j' | 'L' => 'l',
        'c' | 'C' | 'e' | '¢' | 'o' | 'O' | '0' => 'c',
        's' | 'S' | '5' => 's',
        'b' | 'h' | '6' => 'b',
        'g' | 'q' | '9' => 'g',
        'f' | 't' => 'f',
        'a' | '@' | '&' => 'a',
        other => other.to_ascii_lowercase(),
    }
}

/// The letters to add, leave out or change to make one word the other.
fn distance(one: &[char], other: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (at, letter) in one.iter().enumerate() {
        let mut before = row[0];
        row[0] = at + 1;
        for (column, wanted) in other.iter().enumerate() {
            let changed = before + usize::from(letter != wanted);
            before = row[column + 1];
            row[column + 1] = changed.min(before + 1).min(row[column] + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_mended(text: &str, indent: f32, label: Option<&str>) {
        let expected = [
            Expected { series: Series::Letter('b'), rival: Rival::Nth(1), indent: 5.0 },
            Expected { series: Series::Letter('c'), rival: Rival::Nth(1), indent: 10.0 },
            Expected { series: Series::Letter('l'), rival: Rival::Nth(0), indent: 15.0 },
        ];
        let mended = token(text).and_then(|token| mend(token, indent, &expected));
        assert_eq!(mended.map(|label| label.printed).as_deref(), label);
    }

    #[test]
    fn a_misread_label_is_the_one_expected_at_its_indent() {
        check_mended("ce. Leaves", 10.2, Some("cc"));
        check_mended("ec, Leaves", 9.8, Some("cc"));
        check_mended("hb. Leaves", 5.0, Some("bb"));
        check_mended("1. Leaves", 15.0, Some("l"));
        check_mended(". Leaves", 19.0, Some("cc"));
        check_mended("ce. Leaves", 40.0, None);
        check_mended("ft. Leaves", 10.0, None);
        check_mended("so. leaves", 10.0, None);
    }
}
