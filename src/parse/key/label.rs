//! The label that opens a lead (K14–K20): number, letter, mark or dash, with a back reference that may follow.
//!
//! Whether a label fits its key is decided in `grow`.

/// What leads of one couplet share.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Series {
    /// A couplet number.
    Number(u32),
    /// A letter that stands for a level, case-sensitive (K15).
    Letter(char),
    /// A bullet that all leads share.
    Bullet,
    /// A dash or plus: the rival of what stands above.
    Dash,
}

/// Which lead of its couplet a label says that it opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rival {
    /// The label does not say (`1.` and again `1.`).
    Unsaid,
    /// Counted from 0 (`1a` is 0, `1b` is 1, `1'` is 1, `bb` is 1).
    Nth(u8),
}

/// The looks of labels that may not be mixed in one key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Scheme {
    /// `1a`, `1b`.
    NumberLetter,
    /// `1`, with `1`, `1'`, `1*`, a dash or a plus for the rival.
    Number,
    /// `(1)`.
    Bracketed,
    /// `a`, `aa`.
    Lower,
    /// `A`, `AA` or `A'`.
    Upper,
    /// A bullet.
    Bullet,
    /// A dash or plus, only ever a rival.
    Dash,
    /// A number of its own with the rival's number in brackets (K7).
    Serial,
    /// A letter that leads end in (K8).
    Jump,
    /// A row of labels, or none (K10).
    Outline,
    /// A code of an outline (K9).
    Coded,
    /// A number that a couplet prints once, or what stands for it in the other leads.
    Once,
    /// Signs whose count tells the level, or stars before letters.
    Signs,
}

/// A label read from the start of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Label {
    /// As printed, with its back reference, without full stop or closing bracket; primes are `'`.
    pub(crate) printed: String,
    /// What the couplet's leads share.
    pub(crate) series: Series,
    /// Which of them this is.
    pub(crate) rival: Rival,
    /// Its look.
    pub(crate) scheme: Scheme,
    /// Couplets named in the back reference (K19).
    pub(crate) back: Vec<u32>,
    /// Bytes of label, back reference and the blanks after it.
    pub(crate) len: usize,
    /// What stands there, where the label was mended by its neighbours (K18).
    pub(crate) seen: Option<String>,
}

const PRIMES: &[char] = &['\'', '’', '‘', '′', '´', '*', '∗', '″', '"', '”'];
const DASHES: &[char] = &['–', '—', '−', '-', '+'];
const BULLETS: &[char] = &['•', '●', '▪', '■', '◦', '·'];

/// Reads a label at the start of `text`; `None` when there is none that could open a lead.
pub(crate) fn read(text: &str) -> Option<Label> {
    let first = text.chars().next()?;
    let (label, len) = if first.is_ascii_digit() || first == '(' {
        number(text)?
    } else if first.is_ascii_alphabetic() {
        letter(text)?
    } else if DASHES.contains(&first) || BULLETS.contains(&first) {
        sign(text, first)?
    } else {
        return None;
    };
    finish(text, label, len)
}

/// Reads a number at the start of `text` some of whose figures were taken for letters (K18): `l.` for `1.`, `S.` for `5.`.
pub(crate) fn misread(text: &str) -> Option<Label> {
    let figures: String = text.chars().map_while(figure).collect();
    let printed: String = text.chars().take(figures.len()).collect();
    let rest = &text[printed.len()..];
    let looks_so =
        !figures.is_empty() && figures.len() <= 3 && figures != printed && rest.starts_with(['.', ')']);
    let mut label = looks_so.then(|| read(&format!("{figures}{rest}"))).flatten()?;
    // Letters and figures taken for one another are one byte each, so that the label's length holds.
    label.seen = Some(printed);
    Some(label)
}

/// The figure that a sign may stand for where a number is wanted.
pub(crate) fn figure(sign: char) -> Option<char> {
    match sign {
        '0'..='9' => Some(sign),
        'l' | 'I' | '|' => Some('1'),
        'O' | 'o' => Some('0'),
        'S' | 's' => Some('5'),
        'B' => Some('8'),
        _ => None,
    }
}

fn label(printed: &str, series: Series, rival: Rival, scheme: Scheme) -> Label {
    // Typesetters make several signs of one prime.
    let printed = printed
        .chars()
        .map(|c| match c {
            '’' | '‘' | '′' | '´' => '\'',
            '∗' => '*',
            other => other,
        })
        .collect();
    Label { printed, series, rival, scheme, back: Vec::new(), len: 0, seen: None }
}

fn number(text: &str) -> Option<(Label, usize)> {
    let open = usize::from(text.starts_with('('));
    let digits = text[open..].bytes().take_while(u8::is_ascii_digit).count();
    if digits == 0 || digits > 3 {
        return None;
    }
    let value: u32 = text[open..open + digits].parse().ok()?;
    let mut at = open + digits;
    let after = text[at..].chars().next();
    let (rival, scheme) = match after {
        Some(c @ 'a'..='h')
            if !text[at + 1..].starts_with(|n: char| n.is_alphabetic() && n.is_lowercase()) =>
        {
            at += 1;
            (Rival::Nth(c as u8 - b'a'), Scheme::NumberLetter)
        }
        Some(c) if PRIMES.contains(&c) => {
            let marks: usize = text[at..]
                .chars()
                .take_while(|c| PRIMES.contains(c))
                .map(|c| if matches!(c, '″' | '"' | '”') { 2 } else { 1 })
                .sum();
            at += text[at..].chars().take_while(|c| PRIMES.contains(c)).map(char::len_utf8).sum::<usize>();
            (Rival::Nth(marks as u8), Scheme::Number)
        }
        _ => (Rival::Unsaid, Scheme::Number),
    };
    let printed = &text[open..at];
    if open == 1 {
        at += text[at..].starts_with(')').then_some(1)?;
        return Some((
            label(
                printed,
                Series::Number(value),
                rival,
                if rival == Rival::Unsaid { Scheme::Bracketed } else { scheme },
            ),
            at,
        ));
    }
    Some((label(printed, Series::Number(value), rival, scheme), at))
}

fn letter(text: &str) -> Option<(Label, usize)> {
    let first = text.chars().next()?;
    let count = text.chars().take_while(|c| *c == first).count();
    if count > 4 {
        return None;
    }
    let marks = text[count..].chars().take_while(|c| PRIMES.contains(c)).count();
    let mark_len: usize = text[count..].chars().take(marks).map(char::len_utf8).sum();
    let at = count + mark_len;
    let closed = text[at..].starts_with(['.', ')', ';', ':']);
    if !closed && marks == 0 || marks > 0 && count > 1 {
        return None;
    }
    let rival = if marks > 0 { marks } else { count - 1 };
    let scheme = if first.is_lowercase() { Scheme::Lower } else { Scheme::Upper };
    Some((label(&text[..at], Series::Letter(first), Rival::Nth(rival as u8), scheme), at))
}

fn sign(text: &str, first: char) -> Option<(Label, usize)> {
    let len = first.len_utf8();
    if !text[len..].starts_with([' ', '\u{a0}']) && !text[len..].starts_with(char::is_uppercase) {
        return None;
    }
    let (series, scheme) = if BULLETS.contains(&first) {
        (Series::Bullet, Scheme::Bullet)
    } else {
        (Series::Dash, Scheme::Dash)
    };
    Some((label(&text[..len], series, Rival::Unsaid, scheme), len))
}

/// Takes the stop, the back reference and the blanks, and refuses what cannot be a label by what follows.
fn finish(text: &str, mut label: Label, mut at: usize) -> Option<Label> {
    let closed = text[at..].starts_with(['.', ')', ';', ':']);
    at += usize::from(closed);
    let spaced = text[at..].len() - text[at..].trim_start().len();
    if let Some((back, len)) = back_reference(&text[at + spaced..], &label) {
        label.printed.push_str(&text[at + spaced..at + spaced + len]);
        label.back = back;
        at += spaced + len;
        at += usize::from(text[at..].starts_with(['.', ':']));
    }
    let rest = &text[at..];
    let blanks = rest.len() - rest.trim_start().len();
    let next = rest.trim_start().chars().next()?;
    let fits = if blanks > 0 {
        next.is_alphanumeric()
            || matches!(
                next,
                '(' | '±'
                    | '×'
                    | '♂'
                    | '♀'
                    | '“'
                    | '‘'
                    | '"'
                    | '<'
                    | '>'
                    | '½'
                    | '¼'
                    | '¾'
                    | '†'
                    | '~'
                    | '['
            )
    } else {
        next.is_uppercase()
    };
    let bare_number = !closed
        && label.back.is_empty()
        && matches!(label.scheme, Scheme::Number)
        && label.rival == Rival::Unsaid;
    if !fits || bare_number && !next.is_uppercase() {
        return None;
    }
    label.len = at + blanks;
    Some(label)
}

fn back_reference(text: &str, label: &Label) -> Option<(Vec<u32>, usize)> {
    if !matches!(label.series, Series::Number(_)) {
        return None;
    }
    let inner = text.strip_prefix('(')?;
    let end = inner.find(')')?;
    let parts: Option<Vec<u32>> = inner[..end]
        .split([',', ';'])
        .map(|part| part.trim().trim_end_matches(|c: char| c.is_ascii_lowercase()).parse().ok())
        .collect();
    parts.map(|back| (back, end + 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_label(text: &str, printed: &str, series: Series, rival: Rival, rest: &str) {
        let label = read(text).expect("a label");
        assert_eq!(
            (label.printed.as_str(), label.series, label.rival, &text[label.len..]),
            (printed, series, rival, rest)
        );
    }

    #[test]
    fn all_common_labels_are_read() {
        use Series::{Bullet, Dash, Letter, Number};
        check_label("1a. Leaves", "1a", Number(1), Rival::Nth(0), "Leaves");
        check_label("12b Leaves", "12b", Number(12), Rival::Nth(1), "Leaves");
        check_label("3. Leaves", "3", Number(3), Rival::Unsaid, "Leaves");
        check_label("3 Leaves", "3", Number(3), Rival::Unsaid, "Leaves");
        check_label("3’’. Leaves", "3''", Number(3), Rival::Nth(2), "Leaves");
        check_label("3*. Leaves", "3*", Number(3), Rival::Nth(1), "Leaves");
        check_label("(3) Leaves", "3", Number(3), Rival::Unsaid, "Leaves");
        check_label("7(3b). Leaves", "7(3b)", Number(7), Rival::Unsaid, "Leaves");
        check_label("mm.Trunk", "mm", Letter('m'), Rival::Nth(1), "Trunk");
        check_label("AA. Leaves", "AA", Letter('A'), Rival::Nth(1), "Leaves");
        check_label("A'. Leaves", "A'", Letter('A'), Rival::Nth(1), "Leaves");
        check_label("– Leaves", "–", Dash, Rival::Unsaid, "Leaves");
        check_label("• Leaves", "•", Bullet, Rival::Unsaid, "Leaves");
    }

    #[test]
    fn a_figure_taken_for_a_letter_is_told_as_printed() {
        let label = misread("l. Leaves").expect("a label");
        assert_eq!((label.seen.as_deref(), label.series, label.len), (Some("l"), Series::Number(1), 3));
        let label = misread("1Ob. Leaves");
        assert_eq!(label, None);
        assert_eq!(misread("a. Leaves"), None);
        assert_eq!(misread("12. Leaves"), None);
    }

    #[test]
    fn prose_at_a_line_start_is_no_label() {
        for text in ["3–5 cm long", "i.e., whorled", "30 cm tall", "2n = 24", "a plant", "3.5 mm", "–5 cm"]
        {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn a_back_reference_is_kept_apart() {
        assert_eq!(read("5(1, 3). Calyx").map(|label| label.back), Some(vec![1, 3]));
    }
}
