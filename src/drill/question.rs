//! One question: a term of the log, a glossary and a draw in; what is asked and the answers to choose from out.
//!
//! How a drawing looks is not known here; a choice only says that it is to be drawn.

use serde::{Deserialize, Serialize};

use crate::drill::chance::Draw;
use crate::drill::rivals::{Asked, rivals};
use crate::drill::{LookUp, Word};
use crate::terms::form::fold;
use crate::terms::{Lexicon, Origin, Sense, Term, TermId, gloss};

/// Answers to choose from, the right one among them.
pub const CHOICES: usize = 4;

/// Letters that may follow a term and still be its form (`ovately`); more make another word of it (`spikelet`).
const ENDING: usize = 3;

/// What stands in place of a term that would give itself away.
const HIDDEN: &str = "…";

/// Ways to ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The definition is given, the term is wanted.
    Name,
    /// The term is given, its definition is wanted.
    Meaning,
    /// A drawing is given, the term is wanted.
    Drawing,
    /// The term is given, its drawing is wanted.
    Which,
}

/// The words and drawings that questions are made of.
#[derive(Clone, Copy)]
pub struct Glossary<'a> {
    /// Every term that is known.
    pub lexicon: &'a Lexicon,
    /// Says whether a term can be drawn.
    pub drawn: &'a dyn Fn(&str) -> bool,
}

/// One answer to choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// The headword.
    pub term: String,
    /// Its definition, in which the term that is asked for is hidden.
    pub definition: String,
}

/// A question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// How it is asked.
    pub kind: Kind,
    /// The headword.
    pub term: String,
    /// The organs that it is said of here.
    pub organs: Vec<String>,
    /// Its definition in full, for after the answer.
    pub definition: String,
    /// Where the definition comes from.
    pub source: String,
    /// Other spellings and synonyms, which are right as well.
    pub forms: Vec<String>,
    /// The answers to choose from.
    pub choices: Vec<Choice>,
    /// Which of them is right.
    pub right: usize,
}

impl Question {
    /// Makes the question that is drawn for a term; there is none for a term that no glossary has any more.
    pub fn of(word: &Word, glossary: Glossary<'_>, draw: Draw) -> Option<Self> {
        let met = word.look_ups.first()?;
        let (id, term) = entry(glossary.lexicon, met)?;
        let sense = gloss(term, met.organ.as_deref())?;
        let asked = Asked { id, term, sense };
        let (kind, mut choices) = drawn_kind(glossary, asked, draw)?;
        let right = (draw.number(&term.name) % (choices.len() as u64 + 1)) as usize;
        choices.insert(right, choice((term, sense), term));
        Some(Self {
            kind,
            term: term.name.clone(),
            organs: sense.organs.clone(),
            definition: sense.definition.clone(),
            source: term.source(),
            forms: term.forms.clone(),
            choices,
            right,
        })
    }

    /// Returns the question in words, without its answers.
    pub fn words(&self) -> String {
        match self.kind {
            Kind::Name => format!("Which term means: {}", self.choices[self.right].definition),
            Kind::Meaning => format!("What does “{}” mean{}?", self.term, self.said_of()),
            Kind::Drawing => format!("Which term does this drawing show{}?", self.said_of()),
            Kind::Which => format!("Which of these is “{}”{}?", self.term, self.said_of()),
        }
    }

    /// Returns the words of an answer; those of a drawing stand beside it, and would tell.
    pub fn choice_words(&self, at: usize) -> &str {
        let choice = self.choices.get(at);
        match self.kind {
            Kind::Name | Kind::Drawing => choice.map_or("", |choice| &choice.term),
            Kind::Meaning => choice.map_or("", |choice| &choice.definition),
            Kind::Which => "",
        }
    }

    fn said_of(&self) -> String {
        if self.organs.is_empty() { String::new() } else { format!(" (of {})", self.organs.join(", ")) }
    }
}

/// Returns the entry that explained a term where it was looked up, else the most trusted one.
fn entry<'a>(lexicon: &'a Lexicon, met: &LookUp) -> Option<(TermId, &'a Term)> {
    let entries = || lexicon.look_up(&met.term).into_iter().map(|id| (id, lexicon.get(id)));
    let title = |term: &Term| match &term.origin {
        Origin::Flora(title) | Origin::Other(title) => Some(title.clone()),
        Origin::Reader | Origin::BuiltIn => None,
    };
    let explained = entries().filter(|(_, term)| !term.senses.is_empty());
    let same = explained.clone().find(|(_, term)| title(term) == met.explained_by);
    same.or_else(|| explained.clone().next())
}

/// Draws how a term is asked, with the wrong answers; where there are none it can't be asked.
fn drawn_kind(glossary: Glossary<'_>, asked: Asked<'_>, draw: Draw) -> Option<(Kind, Vec<Choice>)> {
    let choices = |fits: &dyn Fn(&str) -> bool| -> Vec<Choice> {
        let wrong = rivals(glossary.lexicon, asked, draw, (CHOICES - 1, fits));
        wrong.into_iter().map(|rival| choice(rival, asked.term)).collect()
    };
    let worded = choices(&|_| true);
    let drawn = if (glossary.drawn)(&asked.term.name) { choices(glossary.drawn) } else { Vec::new() };
    let mut kinds: Vec<(Kind, &Vec<Choice>)> = vec![(Kind::Name, &worded), (Kind::Meaning, &worded)];
    kinds.extend([(Kind::Drawing, &drawn), (Kind::Which, &drawn)]);
    kinds.retain(|(_, choices)| !choices.is_empty());
    // Which kind comes first depends on the term; the others follow in turn.
    let first = Draw { nth: 0, day: 0, ..draw }.number(&asked.term.name) as usize % kinds.len().max(1);
    let (kind, choices) = kinds.get((first + draw.nth) % kinds.len().max(1))?;
    Some((*kind, (*choices).clone()))
}

/// Makes a choice in whose definition the term that is asked for is hidden.
fn choice((term, sense): (&Term, &Sense), asked: &Term) -> Choice {
    let names = std::iter::once(&asked.name).chain(&asked.forms);
    let definition = names.fold(sense.definition.clone(), |text, name| without(&text, name));
    Choice { term: term.name.clone(), definition }
}

/// Returns a text in which a name and its forms are hidden.
fn without(text: &str, name: &str) -> String {
    let mut hidden = String::new();
    let mut rest = text;
    while let Some(at) = find(rest, name) {
        let after = &rest[at + name.len()..];
        let ending =
            after.chars().take_while(|letter| letter.is_alphabetic()).map(char::len_utf8).sum::<usize>();
        let alone = !rest[..at].chars().next_back().is_some_and(char::is_alphabetic);
        let kept = if alone && ending <= ENDING { HIDDEN } else { &rest[at..at + name.len() + ending] };
        hidden.push_str(&rest[..at]);
        hidden.push_str(kept);
        rest = &after[ending..];
    }
    hidden + rest
}

/// Returns where a name begins in a text, upper and lower case alike.
fn find(text: &str, name: &str) -> Option<usize> {
    let same = |at: &usize| text.get(*at..at + name.len()).is_some_and(|part| fold(part) == fold(name));
    text.char_indices().map(|(at, _)| at).find(same).filter(|_| !name.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_without(text: &str, name: &str, expected: &str) {
        assert_eq!(without(text, name), expected);
    }

    #[test]
    fn a_term_does_not_give_itself_away() {
        check_without("with a crenate margin, Crenates too", "crenate", "with a … margin, … too");
        check_without("an indentation", "dentate", "an indentation");
        check_without("inside of an aril", "aril", "inside of an …");
        check_without("set like spikelets", "spike", "set like spikelets");
    }
}
