//! A fact in plain words, for the echo of what was understood.

use std::ops::Range;

use crate::clause;
use crate::describe::{Degree, Fact, Frequency, Phase, Said, Span, What, month_names};

/// Millimetres from which a measure is told in centimetres, and in metres.
const CENTIMETRE: f32 = 10.0;
const METRE: f32 = 1000.0;

/// Returns the bytes of the clause that a byte of a text stands in, to be shown as what says a fact.
pub fn clause_at(text: &str, byte: usize) -> Option<Range<usize>> {
    let mut clauses = clause::clauses(text).into_iter();
    clauses.find(|clause| clause.range.contains(&byte)).map(|clause| clause.range)
}

/// Says what a fact says.
pub fn words_of(fact: &Fact) -> String {
    let organ = match (fact.of, fact.organ) {
        (Some(of), Some(organ)) => format!("{of} {organ}: "),
        (None, Some(organ)) => format!("{organ}: "),
        (_, None) => String::new(),
    };
    let not = if fact.said == Said::IsNot { "not " } else { "" };
    let often = match fact.frequency {
        Frequency::Always => "",
        other => other.word(),
    };
    let blank = if often.is_empty() { "" } else { " " };
    let nearly = if fact.degree == Degree::Weakly { "nearly " } else { "" };
    let between = if fact.degree == Degree::Between { " or near it" } else { "" };
    let what = match &fact.what {
        What::State(state) => format!("{state}{between}"),
        What::Presence => {
            return format!("{organ}{}", if fact.said == Said::Is { "there" } else { "absent" });
        }
        What::Measure(dimension, span) => format!("{} {}", lengths(span), dimension.word()),
        What::Count(span) => format!("{} of them", numbers(span)),
        What::Ratio(span, to) => format!("{} times the {}", numbers(span), to.as_deref().unwrap_or("other")),
        What::Season(phase, months) => {
            let names: Vec<&str> =
                months.list().into_iter().map(|month| month_names()[month as usize - 1]).collect();
            let does = match phase {
                Phase::Flower => "in flower",
                Phase::Fruit => "in fruit",
                Phase::Spore => "with spores",
                Phase::Leaf => "in leaf",
            };
            format!("{does} in {}", names.join(", "))
        }
        What::Elevation(span) => format!("at {} m above the sea", numbers(span)),
        What::District(name) => format!("in {name}"),
        What::Status(word) => word.clone(),
    };
    format!("{organ}{not}{often}{blank}{nearly}{what}")
}

fn lengths(span: &Span) -> String {
    let largest = if span.high.is_finite() { span.high } else { span.low };
    let (factor, unit) = if largest >= METRE {
        (METRE, "m")
    } else if largest >= CENTIMETRE * CENTIMETRE {
        (CENTIMETRE, "cm")
    } else {
        (1.0, "mm")
    };
    format!("{} {unit}", numbers(&span.times(1.0 / factor)))
}

fn numbers(span: &Span) -> String {
    let about = if span.about { "about " } else { "" };
    let number = |value: f32| format!("{}", (value * 100.0).round() / 100.0);
    let stretch = if span.is_lower_only() {
        format!("at least {}", number(span.low))
    } else if span.is_upper_only() {
        format!("up to {}", number(span.high))
    } else if (span.low - span.high).abs() < f32::EPSILON {
        number(span.low)
    } else {
        format!("{}–{}", number(span.low), number(span.high))
    };
    format!("{about}{stretch}")
}
