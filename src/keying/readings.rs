//! Readings as they are typed (`leaf 62 58 66 mm x 15`), and how they lie to what a text says.

use crate::clause::organ_of;
use crate::describe::{Dimension, Fact, Lies, Span, What, millimetres};

/// What was measured or counted on a plant.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Readings {
    /// The organ, where one was typed.
    pub organ: Option<&'static str>,
    /// Lengths in millimetres.
    pub lengths: Vec<f32>,
    /// Widths in millimetres.
    pub widths: Vec<f32>,
    /// Counts.
    pub counts: Vec<f32>,
}

/// What can't be read in typed readings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unread {
    /// There is no number.
    #[error("there is no number in it; type readings such as 62 58 66 mm x 15")]
    NoNumber,
    /// A word is neither organ nor unit.
    #[error("{0:?} is no organ and no unit that is known; units are mm, cm, dm, m, in, ft and line")]
    Word(String),
}

/// How readings lie to one measure or count of a text.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The place of the fact among those of the text.
    pub fact: usize,
    /// How each reading lies, in the order typed.
    pub lies: Vec<Lies>,
    /// The stated stretch.
    pub span: Span,
}

impl Readings {
    /// Reads what was typed. A unit holds for every number before it that has none; numbers without any unit are
    /// counts, unless two sides are parted by `x`: then they are millimetres.
    pub fn parse(typed: &str) -> Result<Self, Unread> {
        let mut readings = Self::default();
        let mut sides: [Vec<(f32, Option<f32>)>; 2] = [Vec::new(), Vec::new()];
        let mut side = 0;
        for word in words(typed) {
            if matches!(word.as_str(), "x" | "×" | "by") {
                side = 1;
            } else if let Some(number) = number(&word) {
                sides[side].push((number, None));
            } else if let Some(factor) = millimetres(&word) {
                let open = sides.iter_mut().flatten().filter(|(_, unit)| unit.is_none());
                open.for_each(|(_, unit)| *unit = Some(factor));
            } else if let Some(organ) = organ_of(&word) {
                readings.organ = Some(organ);
            } else if !matches!(word.as_str(), "long" | "wide" | "broad" | "and" | "or" | ",") {
                return Err(Unread::Word(word));
            }
        }
        let unit = sides.iter().flatten().find_map(|(_, unit)| *unit);
        let fallback = unit.or((side == 1).then_some(1.0));
        let [first, second] = sides;
        let scaled = |side: Vec<(f32, Option<f32>)>, unit: f32| {
            side.into_iter().map(|(number, own)| number * own.unwrap_or(unit)).collect()
        };
        match fallback {
            Some(unit) => {
                readings.lengths = scaled(first, unit);
                readings.widths = scaled(second, unit);
            }
            None => readings.counts = scaled(first, 1.0),
        }
        if readings.lengths.is_empty() && readings.widths.is_empty() && readings.counts.is_empty() {
            return Err(Unread::NoNumber);
        }
        Ok(readings)
    }

    /// Sets the readings against every measure or count that can be compared with them.
    pub fn against(&self, facts: &[Fact]) -> Vec<Verdict> {
        let verdict = |(at, fact): (usize, &Fact)| {
            if self.organ.is_some() && fact.organ != self.organ && fact.of != self.organ {
                return None;
            }
            let (read, span) = match &fact.what {
                What::Measure(Dimension::Length | Dimension::Height, span) => (&self.lengths, span),
                What::Measure(Dimension::Width | Dimension::Diameter | Dimension::Thickness, span) => {
                    (&self.widths, span)
                }
                What::Count(span) => (&self.counts, span),
                _ => return None,
            };
            let one = |value: &f32| match fact.what {
                What::Count(_) => span.counts(&Span::exactly(*value)),
                _ => span.holds(&Span::exactly(*value)),
            };
            let lies: Vec<Lies> = read.iter().map(one).collect();
            (!lies.is_empty()).then_some(Verdict { fact: at, lies, span: *span })
        };
        facts.iter().enumerate().filter_map(verdict).collect()
    }

    /// Returns the mean length to the mean width, where both were read.
    pub fn ratio(&self) -> Option<f32> {
        let mean = |values: &[f32]| values.iter().sum::<f32>() / values.len() as f32;
        let both = !self.lengths.is_empty() && !self.widths.is_empty();
        both.then(|| mean(&self.lengths) / mean(&self.widths)).filter(|ratio| ratio.is_finite())
    }

    /// Says whether something was read only once.
    pub fn is_single(&self) -> bool {
        self.lengths.len() == 1 || self.widths.len() == 1
    }
}

/// Parts what was typed at blanks, and units from the numbers before them: `6.2cm`.
fn words(typed: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in typed.to_lowercase().split([' ', ';', '/']).filter(|word| !word.is_empty()) {
        let word = word.trim_end_matches(',');
        let end = word.find(|letter: char| !letter.is_ascii_digit() && letter != '.' && letter != ',');
        match end {
            Some(end) if end > 0 => words.extend([word[..end].to_owned(), word[end..].to_owned()]),
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Reads a number with a decimal point or comma.
fn number(word: &str) -> Option<f32> {
    let number: f32 = word.replace(',', ".").parse().ok()?;
    (number.is_finite() && number >= 0.0).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::describe::{Concepts, facts};
    use crate::terms::Lexicon;

    #[track_caller]
    fn check_parse(typed: &str, lengths: &[f32], widths: &[f32], counts: &[f32]) {
        let readings = Readings::parse(typed).expect("readings");
        assert_eq!(
            (readings.lengths, readings.widths, readings.counts),
            (lengths.into(), widths.into(), counts.into())
        );
    }

    #[test]
    fn readings_are_typed_as_they_come() {
        check_parse("62 58 66 mm x 15", &[62.0, 58.0, 66.0], &[15.0], &[]);
        check_parse("6.2cm", &[62.0], &[], &[]);
        check_parse("leaf 6,2 cm × 15 mm", &[62.0], &[15.0], &[]);
        check_parse("60 x 15", &[60.0], &[15.0], &[]);
        check_parse("petals 5 5 6", &[], &[], &[5.0, 5.0, 6.0]);
    }

    #[test]
    fn what_can_not_be_read_is_said() {
        assert_eq!(Readings::parse("leaf mm"), Err(Unread::NoNumber));
        assert_eq!(Readings::parse("5 parsecs"), Err(Unread::Word("parsecs".to_owned())));
    }

    #[track_caller]
    fn check_against(typed: &str, text: &str, expected: &[&[Lies]]) {
        let lexicon = Lexicon::built_in();
        let facts = facts(text, &Concepts::new(&lexicon));
        let verdicts = Readings::parse(typed).expect("readings").against(&facts);
        assert_eq!(verdicts.iter().map(|verdict| verdict.lies.as_slice()).collect::<Vec<_>>(), expected);
    }

    #[test]
    fn each_reading_lies_inside_exceptionally_or_outside() {
        check_against(
            "leaf 40 65 90 mm",
            "Leaves 3–5(–7) cm, hairy; petals 8 mm",
            &[&[Lies::Usual, Lies::Exceptional, Lies::Outside]],
        );
    }

    #[test]
    fn length_and_width_are_set_each_against_its_own() {
        check_against("60 x 15 mm", "Leaves 3–7 × 2–3 cm", &[&[Lies::Usual], &[Lies::Outside]]);
    }

    #[test]
    fn an_upper_limit_alone_excludes_nothing_small() {
        check_against("20 cm", "Stem to 3 m", &[&[Lies::Usual]]);
    }

    #[test]
    fn a_text_without_a_measure_can_not_be_compared() {
        check_against("leaf 60 mm", "Leaves ovate; petals 5", &[]);
    }
}
