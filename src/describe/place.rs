//! Where a taxon grows: metres above the sea (T39), districts, status and rarity with what the book's legend says of
//! them (T40–T43).

use std::ops::Range;

use crate::describe::adverb;
use crate::describe::concept::singular;
use crate::describe::measure::limited;
use crate::describe::number::Standing;
use crate::describe::span::Span;
use crate::describe::token::{Lexeme, tokens};
use crate::describe::{Degree, Fact, Frequency, Said, What};
use crate::model::Sign;

/// Millimetres of a metre.
const METRE: f32 = 1000.0;

/// Units of elevation with their metres.
const UNITS: &[(&str, f32)] =
    &[("m", 1.0), ("metres", 1.0), ("meters", 1.0), ("km", METRE), ("ft", 0.3048), ("feet", 0.3048)];

/// Words on status and rarity (T42).
const STATUS: &[&str] = &[
    "native",
    "endemic",
    "introduced",
    "naturalised",
    "naturalized",
    "established",
    "adventive",
    "casual",
    "waif",
    "escaped",
    "cultivated",
    "archaeophyte",
    "neophyte",
    "extinct",
    "extirpated",
    "historical",
    "excluded",
    "alien",
    "rare",
    "scarce",
    "local",
    "scattered",
    "occasional",
    "frequent",
    "common",
    "abundant",
    "widespread",
    "protected",
    "endangered",
    "vulnerable",
    "threatened",
];

/// Words of a distribution that stand for every district.
const EVERYWHERE: &[&str] = &["throughout", "all districts", "all islands", "all the islands", "all isles"];

/// The name under which a taxon of every district is kept.
pub const EVERY_DISTRICT: &str = "*";

/// Reads elevations; the text is about nothing else.
pub(crate) fn elevations(text: &str) -> Vec<Fact> {
    let tokens = tokens(text, 0..text.len());
    let mut facts = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        let Lexeme::Number(number, None) = &token.what else { continue };
        let unit = tokens[at + 1..].iter().take(2).find_map(|next| {
            let word = next.word()?;
            UNITS.iter().find(|(unit, _)| *unit == word).map(|(_, metres)| *metres)
        });
        let Some(unit) = unit else { continue };
        let sea_level = text[..token.range.start].to_lowercase().contains("sea level to");
        let mut span = if sea_level { number.span } else { limited(number.span, &tokens, at, 0) };
        if sea_level {
            span = Span { least: 0.0, low: 0.0, ..span };
        }
        facts.push(fact(What::Elevation(span.times(unit)), token.range.clone()));
        if let Some((other, Standing::Equal)) = number.other {
            facts.push(fact(What::Elevation(other.times(unit)), token.range.clone()));
        }
    }
    facts
}

/// Reads districts and words on rarity out of a distribution, or words on status alone.
pub(crate) fn places(text: &str, legend: &[Sign]) -> Vec<Fact> {
    let mut facts = Vec::new();
    let local = text.find("Also ").map_or(text.len(), |at| at);
    let folded = text[..local].to_lowercase();
    if let Some(word) = EVERYWHERE.iter().find_map(|word| folded.find(word).map(|at| at..at + word.len())) {
        facts.push(fact(What::District(EVERY_DISTRICT.to_owned()), word));
    }
    for range in pieces(text, local) {
        piece(text, range, &mut facts);
    }
    for sign in legend {
        if let Some(at) = standing_sign(text, &sign.sign) {
            facts.push(fact(What::Status(sign.meaning.clone()), at..at + sign.sign.len()));
        }
    }
    facts
}

/// Returns where a sign of the legend stands by itself.
fn standing_sign(text: &str, sign: &str) -> Option<usize> {
    let free = |letter: Option<char>| letter.is_none_or(|letter| !letter.is_alphanumeric());
    let matches = text.match_indices(sign).map(|(at, _)| at);
    matches
        .into_iter()
        .find(|at| free(text[..*at].chars().next_back()) && free(text[at + sign.len()..].chars().next()))
}

/// Reads one piece between stops: a status word, a district, or nothing.
fn piece(text: &str, range: Range<usize>, facts: &mut Vec<Fact>) {
    let words = &text[range.clone()];
    let folded = words.to_lowercase();
    let denied = folded.split_whitespace().next().is_some_and(|word| word == "not" || word == "absent");
    let said = if denied { Said::IsNot } else { Said::Is };
    let doubted = words.contains('?');
    let frequency = if doubted { Frequency::Rarely } else { Frequency::Always };
    let mut status = false;
    for word in folded.split(|letter: char| !letter.is_alphabetic()).filter(|word| STATUS.contains(word)) {
        status = true;
        let weak = folded.contains("very");
        let mut one = fact(What::Status(word.to_owned()), range.clone());
        one.said = said;
        one.degree = if weak { Degree::Strongly } else { Degree::Plainly };
        facts.push(one);
    }
    let name = words.trim_matches(|letter: char| !letter.is_alphanumeric());
    let name = ["Not in ", "not in ", "Absent from ", "absent from "]
        .iter()
        .find_map(|denial| name.strip_prefix(denial))
        .unwrap_or(name);
    let is_name =
        name.starts_with(|letter: char| letter.is_uppercase()) && name.split(' ').count() <= WORDS_OF_NAME;
    if is_name && !status && !EVERYWHERE.iter().any(|word| folded.contains(word)) || denied && !status {
        facts.push(Fact { frequency, said, ..fact(What::District(name.to_owned()), range) });
    }
}

/// Words that the name of a district has at most.
const WORDS_OF_NAME: usize = 5;

/// Cuts a text at commas, semicolons, full stops and brackets; what stands in brackets is left out.
fn pieces(text: &str, end: usize) -> Vec<Range<usize>> {
    let mut pieces = Vec::new();
    let (mut start, mut depth) = (0, 0_usize);
    for (at, letter) in text[..end].char_indices().chain([(end, ';')]) {
        let cuts = matches!(letter, ',' | ';' | '.' | '(' | ')' | ':');
        if cuts && depth == 0 && !text[start..at].trim().is_empty() {
            let lead = text[start..at].len() - text[start..at].trim_start().len();
            pieces.push(start + lead..start + lead + text[start..at].trim().len());
        }
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if cuts {
            start = (at + letter.len_utf8()).min(end);
        }
    }
    pieces
}

/// Reads the words of a habitat as states of it.
pub(crate) fn habitats(text: &str) -> Vec<Fact> {
    let mut facts = Vec::new();
    let mut said = Said::Is;
    for token in tokens(text, 0..text.len()) {
        let Some(word) = token.word() else {
            said = Said::Is;
            continue;
        };
        if adverb::denies_after(word, None) || word == "avoiding" {
            said = Said::IsNot;
        } else if word.len() > SHORTEST_WORD {
            let mut one = fact(What::State(singular(word)), token.range);
            one.organ = Some("habitat");
            one.said = said;
            facts.push(one);
        }
    }
    facts
}

/// Letters of words that say nothing of a habitat.
const SHORTEST_WORD: usize = 2;

fn fact(what: What, range: Range<usize>) -> Fact {
    let (degree, frequency) = (Degree::Plainly, Frequency::Always);
    Fact { organ: None, of: None, what, degree, frequency, said: Said::Is, range }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Page;

    #[track_caller]
    fn check_elevation(text: &str, low: f32, high: f32) {
        let facts = elevations(text);
        let What::Elevation(span) = facts[0].what else { panic!("{facts:?}") };
        assert!(
            (span.low - low).abs() < 1.0
                && ((span.high - high).abs() < 1.0 || span.high.is_infinite() && high.is_infinite()),
            "{span:?}"
        );
    }

    #[track_caller]
    fn check_places(text: &str, expected: &[&str]) {
        let show = |fact: Fact| {
            let not = if fact.said == Said::IsNot { "not " } else { "" };
            match fact.what {
                What::District(name) => format!("{not}{name}"),
                What::Status(word) => format!("{not}({word})"),
                _ => String::new(),
            }
        };
        let legend = [Sign { sign: "*".into(), meaning: "brought in by people".into(), page: Page(1) }];
        assert_eq!(places(text, &legend).into_iter().map(show).collect::<Vec<_>>(), expected, "{text}");
    }

    #[test]
    fn t39_elevation() {
        check_elevation("300–1200 m.", 300.0, 1200.0);
        check_elevation("to 2400 m", 0.0, 2400.0);
        check_elevation("above 1800 m a.s.l.", 1800.0, f32::INFINITY);
        check_elevation("Sea level to 250 m.", 0.0, 250.0);
        check_elevation("1000–3000 feet", 304.8, 914.4);
    }

    #[test]
    fn t43_districts_and_rarity() {
        check_places("WK, EK; locally frequent.", &["WK", "EK", "(frequent)"]);
        check_places(
            "Lower Skerry Valley, Sornfell; very rare. Also in the eastern steppes.",
            &["Lower Skerry Valley", "Sornfell", "(rare)"],
        );
        check_places("Throughout the region; common (near Morn).", &["*", "(common)"]);
        check_places("Not in the north.", &["not the north"]);
    }

    #[test]
    fn t41_a_doubted_district_is_kept_as_doubtful() {
        let facts = places("Vane?, Skerry", &[]);
        assert_eq!(facts[0].frequency, Frequency::Rarely);
        assert_eq!(facts[1].frequency, Frequency::Always);
    }

    #[test]
    fn t40_a_sign_means_what_the_legend_says() {
        check_places("* Vane", &["Vane", "(brought in by people)"]);
    }

    #[test]
    fn t42_status_words() {
        check_places("Native.", &["(native)"]);
        check_places("Introduced, casual", &["(introduced)", "(casual)"]);
    }
}
