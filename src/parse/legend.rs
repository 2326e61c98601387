//! The book's own legend of signs: the matter that tells of signs in, each sign with its meaning out (T40).

use crate::model::{Matter, MatterKind, Sign};

/// Characters of the longest meaning; what is longer is prose about signs.
const LONGEST: usize = 120;

/// Reads the signs that the matter of a book explains.
pub(crate) fn signs(matter: &[Matter]) -> Vec<Sign> {
    let told = matter.iter().filter(|piece| piece.kind == MatterKind::Signs);
    let mut signs: Vec<Sign> = Vec::new();
    for paragraph in told.flat_map(|piece| &piece.paragraphs) {
        for (at, sign, meaning) in rows(&paragraph.plain) {
            if !signs.iter().any(|known| known.sign == sign) {
                signs.push(Sign { sign, meaning, page: paragraph.page_at(at) });
            }
        }
    }
    signs
}

/// Parts `* endemic; † extinct` into its signs; prose has none.
fn rows(plain: &str) -> Vec<(usize, String, String)> {
    let starts: Vec<usize> =
        plain.char_indices().filter(|(at, _)| opens(plain, *at)).map(|(at, _)| at).collect();
    if starts.first() != Some(&0) {
        return Vec::new();
    }
    let row = |(number, at): (usize, &usize)| {
        let end = starts.get(number + 1).copied().unwrap_or(plain.len());
        let (sign, meaning) = plain[*at..end].split_once([' ', '='])?;
        let trim = |c: char| c.is_whitespace() || matches!(c, '=' | ':' | ';' | ',' | '.' | '–' | '—');
        let meaning = meaning.trim_matches(trim);
        let fits = !meaning.is_empty() && meaning.chars().count() <= LONGEST;
        fits.then(|| (*at, sign.to_owned(), meaning.to_owned()))
    };
    starts.iter().enumerate().filter_map(row).collect()
}

/// Says whether a sign of one or two characters that are neither letters nor figures stands here, at the start or behind a
/// blank, and a blank or `=` behind it.
fn opens(plain: &str, at: usize) -> bool {
    let word = plain[at..].split([' ', '=']).next().unwrap_or_default();
    let free = at == 0 || plain[..at].ends_with(' ');
    let sign = |c: char| {
        !c.is_alphanumeric()
            && !matches!(c, '(' | ')' | ',' | '.' | ';' | ':' | '"' | '“' | '”' | '–' | '—' | '-' | '=' | '…')
    };
    free && !word.is_empty()
        && word.chars().count() <= 2
        && word.chars().all(sign)
        && plain.len() > at + word.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_rows(plain: &str, expected: &[(&str, &str)]) {
        let found: Vec<(String, String)> =
            rows(plain).into_iter().map(|(_, sign, meaning)| (sign, meaning)).collect();
        let expected: Vec<(String, String)> =
            expected.iter().map(|(sign, meaning)| ((*sign).to_owned(), (*meaning).to_owned())).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn signs_are_read_one_to_a_line_or_several_in_one() {
        check_rows("* endemic to the isles", &[("*", "endemic to the isles")]);
        check_rows("† extinct; ‡ not seen since 1900.", &[("†", "extinct"), ("‡", "not seen since 1900")]);
        check_rows("!! = seen by the author", &[("!!", "seen by the author")]);
    }

    #[test]
    fn prose_about_signs_is_none() {
        check_rows("A star * is put before what is endemic.", &[]);
        check_rows("2n = 24", &[]);
    }
}
