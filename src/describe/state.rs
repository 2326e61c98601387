//! The words and numbers of one item into facts: states with degree, frequency and denial, presence, measures, counts.

use std::ops::Range;

use crate::clause::organ_of;
use crate::describe::adverb::{self, Degree, Frequency};
use crate::describe::concept::{Concepts, Named, singular};
use crate::describe::count::{self, Counted};
use crate::describe::item::{self, Bearing, Noun, Role};
use crate::describe::measure;
use crate::describe::number::Standing;
use crate::describe::parts::{self, Presence};
use crate::describe::token::{Lexeme, Token};
use crate::describe::unit::Dimension;
use crate::describe::{Fact, Said, What, colour, unit};

/// Words that say nothing of a plant by themselves.
const EMPTY: &[&str] = &[
    "and", "or", "is", "are", "was", "be", "being", "been", "has", "have", "having", "bearing", "with",
    "without", "when", "while", "where", "which", "that", "but", "if", "so", "then", "also", "only", "quite",
    "too", "some", "any", "other", "others", "another", "same", "long", "wide", "tall", "high", "broad",
    "deep", "thick", "across", "diam", "diameter", "length", "width", "height", "side", "sides", "part",
    "parts", "number", "numbers", "kind", "kinds", "time", "times", "usually", "present", "absent", "none",
    "not", "never", "nor", "neither", "no", "of", "for", "off", "out", "up", "down", "most", "least", "than",
    "more", "less", "ones", "one", "it", "them", "they", "who", "whose", "there", "here", "form", "forming",
    "pair", "pairs", "region", "what", "seen", "plants", "plant", "like", "half", "third", "upto", "about",
    "circa", "nearly", "almost", "becoming", "turning", "till", "until", "per", "upon", "least",
];

/// Reads one item.
pub(crate) struct Speaker<'a> {
    /// The tokens of the clause.
    pub(crate) tokens: &'a [Token],
    /// The names of states.
    pub(crate) concepts: &'a Concepts<'a>,
    /// The nouns of the item.
    pub(crate) nouns: &'a [Noun],
    /// Its tokens.
    pub(crate) item: Range<usize>,
    /// What it is about where it has no noun before the word.
    pub(crate) subject: Bearing,
}

/// What the adverbs and denials met so far make of the next word.
#[derive(Clone, Copy, Debug, Default)]
struct Mood {
    degree: Degree,
    frequency: Frequency,
    said: Said,
}

impl Speaker<'_> {
    /// Adds the facts of the item.
    pub(crate) fn speak(&self, facts: &mut Vec<Fact>) {
        let mut mood = Mood::default();
        let mut at = self.item.start;
        while at < self.item.end {
            at = self.step(at, &mut mood, facts);
        }
    }

    /// Reads what begins at a token and returns the token after it.
    fn step(&self, at: usize, mood: &mut Mood, facts: &mut Vec<Fact>) -> usize {
        if let Some(next) = self.amount(at, *mood, facts) {
            return next;
        }
        let token = &self.tokens[at];
        let Some(word) = token.word() else {
            if token.is_sign('±') {
                mood.degree = Degree::Weakly;
            }
            return at + 1;
        };
        let next = self.tokens.get(at + 1).filter(|_| at + 1 < self.item.end).and_then(Token::word);
        if self.changes_mood(word, next, mood) {
            return at + 1;
        }
        if let Some(noun) = self.nouns.iter().find(|noun| noun.at.contains(&at)) {
            self.noun(noun, *mood, facts);
            return noun.at.end;
        }
        if word == "present" {
            self.present(at, *mood, facts);
            return at + 1;
        }
        let (length, names) = self.names(at, word);
        let weak = names.len() > 1 && self.blends(&names);
        for named in names {
            let mut own = *mood;
            if self.tokens[at].depth > 0 {
                own.frequency = Frequency::Rarely;
            }
            match (&named, weak) {
                (_, true) => own.degree = Degree::Between,
                (Named::Almost(_), false) => own.degree = Degree::Weakly,
                (Named::Known(_) | Named::Unknown(_), false) => {}
            }
            self.state(at..at + length, named.name(), own, facts);
        }
        mood.degree = Degree::Plainly;
        at + length
    }

    /// Takes in an adverb or a denial.
    fn changes_mood(&self, word: &str, next: Option<&str>, mood: &mut Mood) -> bool {
        let scarcely = matches!((word, next), ("not", Some("or")));
        if scarcely {
            mood.frequency = Frequency::Rarely;
            return true;
        }
        if adverb::denies_after(word, next) {
            mood.said = Said::IsNot;
            return true;
        }
        if adverb::ends_denial(word) {
            *mood = Mood::default();
            return true;
        }
        if let Some(frequency) = adverb::frequency(word) {
            mood.frequency = frequency;
            return true;
        }
        if let Some(degree) = adverb::degree(word) {
            if !matches!((word, next), ("more", Some("or")) | ("less", _)) {
                mood.degree = degree;
            } else if word == "less" {
                mood.degree = Degree::Weakly;
            }
            return true;
        }
        false
    }

    /// Adds what a noun says by being there: presence, or that the plant or organ is of its kind.
    fn noun(&self, noun: &Noun, mood: Mood, facts: &mut Vec<Fact>) {
        let denied_after =
            self.tokens.get(noun.at.end).filter(|_| noun.at.end < self.item.end).is_some_and(|token| {
                token.word().is_some_and(adverb::denies_before)
                    || matches!(&token.what, Lexeme::Number(number, None) if number.span.high == 0.0)
            });
        let soft = self.tokens[self.item.start..self.item.end].iter().any(|token| token.word() == Some("if"));
        let said = if denied_after && !soft { mood.said.not() } else { mood.said };
        if noun.role != Role::Described {
            return;
        }
        let word = self.tokens[noun.at.end - 1].word().unwrap_or_default();
        let range = self.bytes(noun.at.clone());
        let bearing = (
            Some(noun.organ),
            noun.of.or(self.subject.0.filter(|organ| *organ != noun.organ && *organ != "plant")),
        );
        let mood = Mood { said, ..mood };
        if noun.organ == "plant" {
            let kind = singular(word);
            if !matches!(kind.as_str(), "plant") {
                self.push((Some("plant"), None), What::State(kind), mood, range, facts);
            }
            return;
        }
        if parts::is_kind(noun.organ)
            && !matches!(noun.organ, "blade" | "leaflet" | "corolla" | "calyx" | "tepal")
        {
            let whole = organ_of(parts::whole(noun.organ));
            self.push((whole, None), What::State(noun.organ.to_owned()), mood, range.clone(), facts);
        }
        self.push(bearing, What::Presence, mood, range, facts);
    }

    /// Adds that the noun before is there: `stipules present`.
    fn present(&self, at: usize, mood: Mood, facts: &mut Vec<Fact>) {
        let bearing = self.bearing(at);
        if bearing.0.is_some() {
            self.push(bearing, What::Presence, mood, self.bytes(at..at + 1), facts);
        }
    }

    /// Reads a measure, ratio or count at a token.
    fn amount(&self, at: usize, mood: Mood, facts: &mut Vec<Fact>) -> Option<usize> {
        let tokens = &self.tokens[..self.item.end];
        let read = measure::ratio(tokens, at, self.item.start).or_else(|| {
            matches!(tokens[at].what, Lexeme::Number(..))
                .then(|| measure::measure(tokens, at, self.item.start))
                .flatten()
        });
        // A limit denies nothing: `not over 2 mm`.
        let mood = Mood { said: Said::Is, ..mood };
        if let Some((whats, next)) = read {
            let bearing = self.bearing(at);
            for what in whats {
                let what = match what {
                    What::Measure(Dimension::Length, span) if bearing.0 == Some("plant") => {
                        What::Measure(Dimension::Height, span)
                    }
                    what => what,
                };
                self.push(bearing, what, mood, self.bytes(at..next), facts);
            }
            return Some(next);
        }
        let magnifies = at.checked_sub(1).is_some_and(|before| tokens[before].is_sign('×'));
        if magnifies {
            return Some(at + 1);
        }
        let Counted { spans, organ, next } = count::count(tokens, at, self.item.start)?;
        let own = self.bearing(at);
        let (bearing, counts) = match organ {
            Some(organ) if own.0 != Some(organ) => ((Some(organ), own.0.or(self.subject.0)), true),
            Some(organ) => ((Some(organ), own.1.or(self.subject.0.filter(|bearer| *bearer != organ))), true),
            None => (own, own.0.is_some_and(|organ| organ != "plant")),
        };
        if !counts {
            return if matches!(tokens[at].what, Lexeme::Number(..)) { Some(next) } else { None };
        }
        let nothing = spans.iter().all(|(span, _)| span.most == 0.0);
        for (span, standing) in spans {
            let mut mood = mood;
            if standing == Standing::Bracketed {
                mood.frequency = Frequency::Rarely;
            }
            let (what, said) =
                if nothing { (What::Presence, Said::IsNot) } else { (What::Count(span), Said::Is) };
            self.push(bearing, what, Mood { said, ..mood }, self.bytes(at..next), facts);
        }
        // A number word is a state as well (solitary), and so is what a number is joined to (3-lobed).
        if let Lexeme::Number(_, Some(suffix)) = &tokens[at].what {
            if let Some(Named::Known(state)) = self.concepts.name(suffix) {
                self.state(at..next, &state, mood, facts);
            }
        } else if tokens[at].word() == Some("solitary") {
            self.state(at..next, "solitary", mood, facts);
        }
        Some(next)
    }

    /// Returns the states that a word names, and how many tokens they take.
    fn names(&self, at: usize, word: &str) -> (usize, Vec<Named>) {
        if EMPTY.contains(&word)
            || item::is_article(word)
            || item::is_preposition(word)
            || adverb::denies_before(word)
        {
            return (1, Vec::new());
        }
        if unit::dimension(word).is_some() || count::is_number_word(word) && !word.contains('-') {
            return (1, Vec::new());
        }
        let longest = self.concepts.lexicon().longest_phrase(word).min(self.item.end - at);
        for count in (2..=longest).rev() {
            let words: Vec<&str> = self.tokens[at..at + count].iter().map_while(Token::word).collect();
            let has_noun = self.nouns.iter().any(|noun| noun.at.start < at + count && noun.at.end > at);
            if words.len() == count
                && !has_noun
                && let Some(name) = self.concepts.phrase(&words.join(" "))
            {
                return (count, vec![Named::Known(name)]);
            }
        }
        if word.contains('-') && !colour::is_colour(word) {
            if let Some(name) = self.concepts.phrase(&word.replace('-', " ")) {
                return (1, vec![Named::Known(name)]);
            }
            let parts: Vec<Named> = word.split('-').filter_map(|part| self.concepts.name(part)).collect();
            let known =
                parts.iter().filter(|part| matches!(part, Named::Known(_) | Named::Almost(_))).count();
            if known > 0 {
                return (1, parts);
            }
            return (1, vec![Named::Unknown(word.to_owned())]);
        }
        (1, self.concepts.name(word).into_iter().collect())
    }

    /// Says whether joined states are of one kind, so that what is meant lies between them (G1).
    fn blends(&self, names: &[Named]) -> bool {
        let kinds: Vec<Option<String>> =
            names.iter().map(|named| self.concepts.broader(named.name())).collect();
        kinds.windows(2).all(|pair| pair[0].is_some() && pair[0] == pair[1])
    }

    /// Adds a state, and what it says of the presence of an organ.
    fn state(&self, at: Range<usize>, name: &str, mood: Mood, facts: &mut Vec<Fact>) {
        let mut bearing = self.bearing(at.start);
        let denied_noun = mood.said == Said::IsNot
            && item::owner(self.tokens, self.nouns, at.start).is_some_and(|noun| noun.at.start > at.start);
        if denied_noun {
            return;
        }
        if let Some(place) = item::place_behind(self.nouns, &self.tokens[..self.item.end], at.end - 1) {
            bearing = (Some(place), bearing.0.filter(|organ| *organ != place));
        }
        let range = self.bytes(at);
        self.push(bearing, What::State(name.to_owned()), mood, range.clone(), facts);
        if let Some((organ, presence)) = parts::meaning(name)
            && mood.degree != Degree::Weakly
        {
            let there = match presence {
                Presence::Present => mood.said,
                Presence::Absent => mood.said.not(),
            };
            let of = bearing.0.filter(|own| *own != organ);
            self.push((Some(organ), of), What::Presence, Mood { said: there, ..mood }, range, facts);
        }
    }

    /// Returns the organ that a token belongs to, with its bearer.
    fn bearing(&self, at: usize) -> Bearing {
        item::owner(self.tokens, self.nouns, at).map_or(self.subject, |noun| (Some(noun.organ), noun.of))
    }

    fn bytes(&self, at: Range<usize>) -> Range<usize> {
        self.tokens[at.start].range.start..self.tokens[at.end - 1].range.end
    }

    fn push(&self, (organ, of): Bearing, what: What, mood: Mood, range: Range<usize>, facts: &mut Vec<Fact>) {
        let Mood { degree, frequency, said } = mood;
        facts.push(Fact { organ, of, what, degree, frequency, said, range });
    }
}
