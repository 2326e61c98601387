//! Measures and ratios at a number (T20–T27, T30–T34): which unit, which way, how many times.

use crate::clause::organ_of;
use crate::describe::What;
use crate::describe::number::Number;
use crate::describe::span::Span;
use crate::describe::token::{Lexeme, Token};
use crate::describe::unit::{self, Dimension};

/// How far behind a measure the word for its dimension may stand (`3–5 cm in diam.`).
const WORDS_TO_DIMENSION: usize = 2;

/// How far before a measure the word for its dimension may stand (`with a diameter of about 2 feet`).
const WORDS_FROM_DIMENSION: usize = 3;

/// What was read, and the token after it.
pub(crate) type Read = (Vec<What>, usize);

/// Reads the measure whose number is at a token.
pub(crate) fn measure(tokens: &[Token], at: usize, start: usize) -> Option<Read> {
    let mut sides: Vec<(Span, Option<f32>, Option<Dimension>)> = Vec::new();
    let mut next = at;
    loop {
        let number = number(tokens, next)?;
        let span = limited(number.span, tokens, next, start);
        next += 1;
        let factor = tokens.get(next).and_then(Token::word).and_then(unit::millimetres);
        let inch_abbreviated = tokens.get(next).is_some_and(|token| token.word() == Some("in"));
        if inch_abbreviated && !ends_inch(tokens, next) {
            return None;
        }
        next += usize::from(factor.is_some());
        let dimension = behind(tokens, next);
        next = dimension.map_or(next, |(_, after)| after);
        sides.push((span, factor, dimension.map(|(dimension, _)| dimension)));
        let crossed = tokens.get(next).is_some_and(|token| token.is_sign('×') || token.word() == Some("x"));
        if !(crossed && number_at(tokens, next + 1)) {
            break;
        }
        next += 1;
    }
    let unit = sides.iter().rev().find_map(|side| side.1)?;
    let before = before(tokens, at, start);
    let usual = [Dimension::Length, Dimension::Width, Dimension::Thickness];
    let several = sides.len() > 1;
    let whats = sides.into_iter().enumerate().map(|(place, (span, factor, named))| {
        let dimension = named.filter(|_| !several || place > 0).or(before.filter(|_| !several));
        let dimension = dimension.unwrap_or(*usual.get(place).unwrap_or(&Dimension::Thickness));
        What::Measure(dimension, span.times(factor.unwrap_or(unit)))
    });
    Some((whats.collect(), next))
}

/// Says whether `in` behind a number is the inch: it ends the item, or a dimension follows.
fn ends_inch(tokens: &[Token], at: usize) -> bool {
    match tokens.get(at + 1) {
        None => true,
        Some(next) => match &next.what {
            Lexeme::Word(word) => unit::dimension(word).is_some(),
            Lexeme::Break | Lexeme::Sign(_) => true,
            Lexeme::Number(..) => false,
        },
    }
}

fn number(tokens: &[Token], at: usize) -> Option<&Number> {
    match &tokens.get(at)?.what {
        Lexeme::Number(number, None) => Some(number),
        Lexeme::Number(..) | Lexeme::Word(_) | Lexeme::Break | Lexeme::Sign(_) => None,
    }
}

fn number_at(tokens: &[Token], at: usize) -> bool {
    number(tokens, at).is_some()
}

/// Returns the dimension named behind a measure: `long`, `in diameter`.
fn behind(tokens: &[Token], at: usize) -> Option<(Dimension, usize)> {
    for step in 0..WORDS_TO_DIMENSION {
        let word = tokens.get(at + step)?.word()?;
        if let Some(dimension) = unit::dimension(word) {
            return Some((dimension, at + step + 1));
        }
        if word != "in" {
            return None;
        }
    }
    None
}

/// Returns the dimension named before a measure: `a diameter of about 2 feet`.
fn before(tokens: &[Token], at: usize, start: usize) -> Option<Dimension> {
    let words = tokens[start..at].iter().rev().take(WORDS_FROM_DIMENSION).map_while(Token::word);
    let mut of = false;
    for word in words {
        if let Some(dimension) = unit::dimension(word).filter(|_| of) {
            return Some(dimension);
        }
        of |= matches!(word, "of" | "to");
    }
    None
}

/// Returns a number as the words before it bound it (T22, T23, T32).
pub(crate) fn limited(span: Span, tokens: &[Token], at: usize, start: usize) -> Span {
    let word = |back: usize| at.checked_sub(back).filter(|place| *place >= start).map(|place| &tokens[place]);
    let is = |back: usize, words: &[&str]| {
        word(back).and_then(Token::word).is_some_and(|own| words.contains(&own))
    };
    let sign = |sign: char| word(1).is_some_and(|token| token.is_sign(sign));
    let negated = |back: usize| is(back, &["not", "never", "seldom", "scarcely", "hardly"]);
    let up = |span: Span| Span { least: 0.0, low: 0.0, ..span };
    let down = |span: Span| Span { high: f32::INFINITY, most: f32::INFINITY, ..span };
    if is(1, &["than"]) {
        let less = is(2, &["less", "fewer", "shorter", "narrower"]);
        let more = is(2, &["more", "greater", "longer", "wider"]);
        return match (less, more, negated(3)) {
            (true, _, false) | (_, true, true) => up(span),
            (_, true, false) | (true, _, true) => down(span),
            (false, false, _) => span,
        };
    }
    if is(1, &["over", "exceeding", "above"]) {
        return if negated(2) { up(span) } else { down(span) };
    }
    if is(1, &["to", "under", "below", "until"])
        || is(1, &["most"]) && is(2, &["at"])
        || sign('<')
        || sign('≤')
    {
        return up(span);
    }
    if is(1, &["least"]) && is(2, &["at"]) || sign('>') || sign('≥') {
        return down(span);
    }
    if is(
        1,
        &["ca", "c", "about", "circa", "approximately", "approx", "nearly", "almost", "roughly", "around"],
    ) || sign('±')
    {
        return if is(2, &["to"]) { up(span) } else { span.approximate() };
    }
    span
}

/// Reads a ratio: `2–3 × as long as the sepals`, `2–3 times longer than`, `half as long as`, `shorter than` (T26).
pub(crate) fn ratio(tokens: &[Token], at: usize, start: usize) -> Option<Read> {
    let (span, next) = factor(tokens, at, start)?;
    let words: Vec<Option<&str>> = tokens[next..].iter().take(3).map(Token::word).collect();
    let (factor, after) = match words.as_slice() {
        [Some("as"), Some("long" | "wide" | "tall" | "broad"), Some("as")] => (span, next + 3),
        [Some("the"), Some("length" | "width" | "height"), Some("of")] => (span, next + 3),
        [Some("longer"), Some("than"), ..] => (span.unwrap_or(Span::at_least(1.0)).into(), next + 2),
        [Some("shorter"), Some("than"), ..] => {
            (span.map(inverse).unwrap_or(Span::up_to(1.0)).into(), next + 2)
        }
        [Some("exceeding"), ..] if span.is_none() => (Some(Span::at_least(1.0)), next + 1),
        [Some("equalling" | "equaling"), ..] if span.is_none() => {
            (Some(Span::exactly(1.0).approximate()), next + 1)
        }
        _ => return None,
    };
    let to = tokens[after..].iter().map_while(Token::word).take(3).find_map(organ_of);
    to?;
    let span = factor.unwrap_or(Span::exactly(1.0).approximate());
    Some((vec![What::Ratio(span, to.map(str::to_owned))], after))
}

fn inverse(span: Span) -> Span {
    Span::from_to(1.0 / span.high.max(1.0), 1.0 / span.low.max(1.0))
}

/// Reads how many times: a number with `×` or `times`, or a word for one.
fn factor(tokens: &[Token], at: usize, start: usize) -> Option<(Option<Span>, usize)> {
    if let Some(number) = number(tokens, at) {
        let times = tokens
            .get(at + 1)
            .is_some_and(|next| next.is_sign('×') || matches!(next.word(), Some("times" | "x")));
        let span = limited(number.span, tokens, at, start);
        let bare = number.span.high <= 1.0;
        return (times || bare).then_some((Some(span), at + 1 + usize::from(times)));
    }
    match tokens.get(at)?.word()? {
        "twice" => Some((Some(Span::exactly(2.0)), at + 1)),
        "thrice" => Some((Some(Span::exactly(3.0)), at + 1)),
        "half" => Some((Some(Span::exactly(0.5)), at + 1)),
        "as" | "longer" | "shorter" | "exceeding" | "equalling" | "equaling" => Some((None, at)),
        _ => None,
    }
}
