//! Numbers as floras print them: ranges with extremes, fractions, limits, alternatives (T20–T32). Units come after.

use std::ops::Range;

use crate::describe::span::Span;

/// Fractions that are one character.
const FRACTIONS: &[(char, f32)] = &[
    ('½', 0.5),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('¼', 0.25),
    ('¾', 0.75),
    ('⅕', 0.2),
    ('⅖', 0.4),
    ('⅗', 0.6),
    ('⅘', 0.8),
    ('⅙', 1.0 / 6.0),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
];

/// What joins the ends of a range.
const DASHES: &[&str] = &["–", "-", "—", "‒", "−", "‐", "‑", " – ", " - ", " to "];

/// Words for a number without an upper limit behind a dash (`10–many`, `5–∞`).
const ENDLESS: &[&str] = &["∞", "many", "numerous", "more"];

/// A printed number.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Number {
    /// The bytes that it takes.
    pub(crate) range: Range<usize>,
    /// What it says.
    pub(crate) span: Span,
    /// A further value that is another state, with nothing between (`5 or 10`), and whether it is exceptional.
    pub(crate) other: Option<(Span, Standing)>,
}

/// How an alternative stands beside the first number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Standing {
    /// As good as the first.
    Equal,
    /// In brackets, so rarer.
    Bracketed,
}

/// Reads the number that begins at a byte, bracketed extremes included.
pub(crate) fn at(text: &str, start: usize) -> Option<Number> {
    let (least, rarer, mut at) = lead_in(text, start);
    let (first, next) = value(text, at)?;
    at = next;
    let mut span = Span::exactly(first);
    if let Some((mean, next)) = deviation(text, at, first) {
        return Some(Number { range: start..next, span: mean, other: None });
    }
    if let Some((upper, next)) = upper(text, at) {
        span = Span::from_to(first, upper);
        at = next;
    }
    let (most, after) = lead_out(text, at);
    span = span.with_extremes(least, most);
    at = after;
    let mut other = rarer.map(|rarer| (Span::exactly(rarer), Standing::Bracketed));
    if let Some((bracketed, next)) = bracketed_or(text, at) {
        other = Some((Span::exactly(bracketed), Standing::Bracketed));
        at = next;
    } else if let Some((second, next)) =
        text[at..].strip_prefix(" or ").and_then(|_| self::at_plain(text, at + 4))
    {
        other = Some((second, Standing::Equal));
        at = next;
    } else if text[at..].starts_with(" or more") {
        span = Span::at_least(span.low);
        at += " or more".len();
    }
    Some(Number { range: start..at, span, other })
}

/// Reads a number without alternatives.
fn at_plain(text: &str, start: usize) -> Option<(Span, usize)> {
    let (first, at) = value(text, start)?;
    Some(match upper(text, at) {
        Some((upper, next)) => (Span::from_to(first, upper), next),
        None => (Span::exactly(first), at),
    })
}

/// Reads a bracket before the number: its extreme (`(2–)`, `(2)`), or a rarer state (`(3 or)`).
fn lead_in(text: &str, start: usize) -> (Option<f32>, Option<f32>, usize) {
    let none = (None, None, start);
    let Some(inside) = text[start..].strip_prefix('(') else { return none };
    let Some((least, next)) = value(text, start + 1) else { return none };
    let _ = inside;
    let rest = &text[next..];
    for (close, is_state) in [(" or)", true), (" or )", true), (")", false)] {
        if let Some(after) = rest.strip_prefix(close)
            && value(text, text.len() - after.trim_start().len()).is_some()
        {
            let after = text.len() - after.trim_start().len();
            return if is_state { (None, Some(least), after) } else { (Some(least), None, after) };
        }
    }
    let joined = DASHES.iter().find_map(|dash| rest.strip_prefix(dash)?.trim_start().strip_prefix(')'));
    match joined {
        Some(after) => (Some(least), None, text.len() - after.trim_start().len()),
        None => none,
    }
}

/// Reads the end of a range.
fn upper(text: &str, at: usize) -> Option<(f32, usize)> {
    let rest = &text[at..];
    let after = DASHES.iter().find_map(|dash| rest.strip_prefix(dash))?;
    let from = text.len() - after.len();
    if let Some(word) = ENDLESS.iter().find(|word| after.starts_with(**word)) {
        return Some((f32::INFINITY, from + word.len()));
    }
    value(text, from)
}

/// Reads a bracketed extreme behind a number: `(–7)`, `(7)`.
fn lead_out(text: &str, at: usize) -> (Option<f32>, usize) {
    let rest = &text[at..];
    let Some(inside) = rest.strip_prefix('(').or_else(|| rest.strip_prefix(" (")) else { return (None, at) };
    let bare = DASHES.iter().find_map(|dash| inside.strip_prefix(dash)).unwrap_or(inside);
    let from = text.len() - bare.len();
    if let Some(after) = ENDLESS.iter().find_map(|word| bare.strip_prefix(word)?.strip_prefix(')')) {
        return (Some(f32::INFINITY), text.len() - after.len());
    }
    match value(text, from) {
        Some((most, next)) if text[next..].starts_with(')') => (Some(most), next + 1),
        Some(_) | None => (None, at),
    }
}

/// Reads a bracketed alternative behind a number: `(or 6)`.
fn bracketed_or(text: &str, at: usize) -> Option<(f32, usize)> {
    let rest = text[at..].trim_start_matches(' ').strip_prefix("(or ")?;
    let (value, next) = value(text, text.len() - rest.len())?;
    text[next..].starts_with(')').then_some((value, next + 1))
}

/// Reads a deviation behind a mean: `3.2 ± 0.4`.
fn deviation(text: &str, at: usize, mean: f32) -> Option<(Span, usize)> {
    let rest = text[at..].trim_start();
    let rest = rest.strip_prefix('±')?.trim_start();
    let (by, next) = value(text, text.len() - rest.len())?;
    Some((Span::from_to(mean - by, mean + by), next))
}

/// Reads one value: whole, decimal (`2.5`, `2·5`, `2,5`), a fraction, or whole and fraction (`1½`, `1-1/2`).
pub(crate) fn value(text: &str, at: usize) -> Option<(f32, usize)> {
    if let Some((part, next)) = fraction(text, at) {
        return Some((part, next));
    }
    let (mut whole, mut next) = digits(text, at)?;
    if let Some((decimal, after)) = decimals(text, next) {
        return Some((whole + decimal, after));
    }
    while let Some((thousands, after)) = thousands(text, next) {
        whole = whole * 1000.0 + thousands;
        next = after;
    }
    let joint = ["", " ", "-"].into_iter().find_map(|joint| {
        text[next..].strip_prefix(joint)?;
        fraction(text, next + joint.len()).filter(|(part, _)| *part < 1.0)
    });
    Some(joint.map_or((whole, next), |(part, after)| (whole + part, after)))
}

fn digits(text: &str, at: usize) -> Option<(f32, usize)> {
    let length = text[at..].bytes().take_while(u8::is_ascii_digit).count();
    let value = text[at..at + length].parse().ok()?;
    Some((value, at + length))
}

fn decimals(text: &str, at: usize) -> Option<(f32, usize)> {
    let point = text[at..].chars().next().filter(|sign| matches!(sign, '.' | '·' | '‧' | ','))?;
    let from = at + point.len_utf8();
    let length = text[from..].bytes().take_while(u8::is_ascii_digit).count();
    if length == 0 || point == ',' && length > 2 {
        return None;
    }
    let value: f32 = text[from..from + length].parse().ok()?;
    Some((value / 10_f32.powi(length as i32), from + length))
}

fn thousands(text: &str, at: usize) -> Option<(f32, usize)> {
    let from = text[at..].strip_prefix(',').map(|_| at + 1)?;
    let length = text[from..].bytes().take_while(u8::is_ascii_digit).count();
    (length == 3).then(|| digits(text, from)).flatten()
}

/// Reads a fraction: `½`, `3/8`.
fn fraction(text: &str, at: usize) -> Option<(f32, usize)> {
    let sign = text[at..].chars().next()?;
    if let Some((_, value)) = FRACTIONS.iter().find(|(one, _)| *one == sign) {
        return Some((*value, at + sign.len_utf8()));
    }
    let (above, next) = digits(text, at)?;
    let slash = text[next..].chars().next().filter(|sign| matches!(sign, '/' | '⁄'))?;
    let (below, end) = digits(text, next + slash.len_utf8())?;
    (below > 0.0).then_some((above / below, end))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks usual and exceptional limits of the number that a text begins with, and what is left of the text.
    #[track_caller]
    fn check(text: &str, expected: [f32; 4], rest: &str) {
        let number = at(text, 0).expect("a number");
        let span = number.span;
        let found = [span.least, span.low, span.high, span.most];
        let same = found
            .iter()
            .zip(expected)
            .all(|(a, b)| (a - b).abs() < 0.001 || a.is_infinite() && b.is_infinite());
        assert!(same, "{text}: {found:?}");
        assert_eq!(&text[number.range.end..], rest);
    }

    #[track_caller]
    fn check_other(text: &str, first: f32, other: f32, standing: Standing) {
        let number = at(text, 0).expect("a number");
        assert!((number.span.low - first).abs() < 0.001);
        assert_eq!(number.other, Some((Span::exactly(other), standing)));
    }

    #[test]
    fn t20_a_range() {
        check("3–5 cm", [3.0, 3.0, 5.0, 5.0], " cm");
        check("3-5 cm", [3.0, 3.0, 5.0, 5.0], " cm");
        check("1 to 3 m", [1.0, 1.0, 3.0, 3.0], " m");
    }

    #[test]
    fn t21_extremes_stand_in_brackets() {
        check("(2–)3–5(–7) cm", [2.0, 3.0, 5.0, 7.0], " cm");
        check("(2)3–5(7)", [2.0, 3.0, 5.0, 7.0], "");
        check("3–5(7)", [3.0, 3.0, 5.0, 7.0], "");
        check("3–5(–7) cm", [3.0, 3.0, 5.0, 7.0], " cm");
        check("(55–)70–105 cm", [55.0, 70.0, 105.0, 105.0], " cm");
        check("2-5(-10) mm", [2.0, 2.0, 5.0, 10.0], " mm");
    }

    #[test]
    fn t28_separate_states_have_nothing_between() {
        check_other("5 or 10", 5.0, 10.0, Standing::Equal);
        check_other("5(or 6)", 5.0, 6.0, Standing::Bracketed);
        check_other("5(or 10)", 5.0, 10.0, Standing::Bracketed);
        check_other("(3 or)4-lobed", 4.0, 3.0, Standing::Bracketed);
    }

    #[test]
    fn t30_one_hyphen_is_of_the_mixed_number_and_one_of_the_range() {
        check("1-1/2-2-1/2 in.", [1.5, 1.5, 2.5, 2.5], " in.");
        check("1/2-1-1/4 inches", [0.5, 0.5, 1.25, 1.25], " inches");
        check("1/8-3/8 inch", [0.125, 0.125, 0.375, 0.375], " inch");
        check("1 ½ in.", [1.5, 1.5, 1.5, 1.5], " in.");
        check("1½–2×", [1.5, 1.5, 2.0, 2.0], "×");
        check("4·5–8·5(–11)", [4.5, 4.5, 8.5, 11.0], "");
        check("2,5 mm", [2.5, 2.5, 2.5, 2.5], " mm");
        check("2,400 m", [2400.0, 2400.0, 2400.0, 2400.0], " m");
    }

    #[test]
    fn t31_a_mean_has_its_deviation() {
        check("3.2 ± 0.4 mm", [2.8, 2.8, 3.6, 3.6], " mm");
    }

    #[test]
    fn t36_a_range_may_have_no_end() {
        check("5–∞", [5.0, 5.0, f32::INFINITY, f32::INFINITY], "");
        check("10–many", [10.0, 10.0, f32::INFINITY, f32::INFINITY], "");
        check("2 or more", [2.0, 2.0, f32::INFINITY, f32::INFINITY], "");
    }

    #[test]
    fn what_is_no_number_is_none() {
        assert_eq!(at("(see p. 5)", 0), None);
        assert_eq!(at("", 0), None);
        assert_eq!(at("(5", 0), None);
    }
}
