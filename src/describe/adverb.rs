//! The small words that change what is said: how often, how strongly, whether at all (G5, G10, G14, G16, G17).

use serde::{Deserialize, Serialize};

/// How often a character is met with, the rarest first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Frequency {
    /// By exception, or in brackets.
    Rarely,
    /// Now and then.
    Sometimes,
    /// As a rule.
    Usually,
    /// Without a word on it.
    #[default]
    Always,
}

impl Frequency {
    /// Returns the word for it; empty where nothing is said.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rarely => "rarely",
            Self::Sometimes => "sometimes",
            Self::Usually => "usually",
            Self::Always => "",
        }
    }
}

/// How strongly a character is marked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Degree {
    /// Nearly so, or a little (almost, sub-, -ish).
    Weakly,
    /// One of two that it lies between (`oblong-lanceolate`).
    Between,
    /// Without a word on it.
    #[default]
    Plainly,
    /// Much so.
    Strongly,
}

/// Returns how often a word says that something is so.
pub(crate) fn frequency(word: &str) -> Option<Frequency> {
    Some(match word {
        "rarely" | "seldom" | "exceptionally" | "very rarely" => Frequency::Rarely,
        "sometimes" | "occasionally" | "frequently" | "perhaps" | "at times" => Frequency::Sometimes,
        "usually" | "mostly" | "generally" | "commonly" | "often" | "normally" | "mainly" | "chiefly"
        | "typically" => Frequency::Usually,
        "always" | "constantly" | "invariably" => Frequency::Always,
        _ => return None,
    })
}

/// Returns how strongly a word says that something is so.
pub(crate) fn degree(word: &str) -> Option<Degree> {
    Some(match word {
        "almost" | "nearly" | "scarcely" | "hardly" | "somewhat" | "slightly" | "sparsely" | "sparingly"
        | "weakly" | "obscurely" | "minutely" | "faintly" | "thinly" | "subtly" | "rather"
        | "indistinctly" | "shallowly" => Degree::Weakly,
        "densely" | "strongly" | "coarsely" | "deeply" | "conspicuously" | "very" | "distinctly"
        | "thickly" | "markedly" | "prominently" | "boldly" | "closely" => Degree::Strongly,
        "moderately" | "finely" | "loosely" | "broadly" | "narrowly" | "abruptly" | "gradually"
        | "shortly" | "more" | "less" | "evenly" | "bluntly" | "sharply" | "completely" | "entirely"
        | "throughout" => Degree::Plainly,
        _ => return None,
    })
}

/// Words that deny what comes after them (G14).
const DENYING_BEFORE: &[&str] = &[
    "not",
    "never",
    "no",
    "without",
    "lacking",
    "wanting",
    "neither",
    "nor",
    "non",
    "nil",
    "sans",
    "destitute",
    "devoid",
];

/// Words that deny the noun before them.
const DENYING_AFTER: &[&str] =
    &["absent", "none", "lacking", "wanting", "nil", "missing", "suppressed", "obsolete"];

/// Words after `not` with which it denies nothing: a limit or a remark (G16).
const NOT_DENIED: &[&str] =
    &["more", "less", "over", "exceeding", "only", "or", "above", "under", "quite", "always"];

/// Says whether a word denies what comes after it, given the word that follows.
pub(crate) fn denies_after(word: &str, next: Option<&str>) -> bool {
    let softened = word == "not" && next.is_some_and(|next| NOT_DENIED.contains(&next));
    DENYING_BEFORE.contains(&word) && !softened
}

/// Says whether a word denies the noun before it.
pub(crate) fn denies_before(word: &str) -> bool {
    DENYING_AFTER.contains(&word)
}

/// Says whether denial ends at a word: what follows is said anew.
pub(crate) fn ends_denial(word: &str) -> bool {
    matches!(word, "but" | "except" | "though" | "although" | "yet" | "instead" | "with" | "when" | "if")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn g17_words_of_frequency_fall_from_always_to_rarely() {
        let found = ["always", "mostly", "sometimes", "seldom"].map(|word| frequency(word).expect("listed"));
        assert!(found.is_sorted_by(|more, less| more > less), "{found:?}");
    }

    #[test]
    fn g16_a_limit_denies_nothing() {
        assert!(!denies_after("not", Some("over")));
        assert!(!denies_after("not", Some("only")));
        assert!(denies_after("not", Some("inflated")));
        assert!(denies_after("without", Some("stipules")));
    }
}
