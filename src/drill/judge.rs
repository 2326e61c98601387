//! What an answer is worth: the number that was chosen, or the words that were typed, against what was asked.

use crate::drill::question::Question;
use crate::drill::spacing::Quality;
use crate::terms::Lexicon;
use crate::terms::form::fold;
use crate::terms::near::distance;

/// Letters of a word for each slip of the pen that it may have and still be known.
const LETTERS_PER_SLIP: usize = 5;

/// What became of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Judged {
    /// Its grade.
    pub quality: Quality,
    /// Whether it was spelled otherwise.
    pub misspelled: bool,
}

impl Judged {
    /// Returns what the same answer is worth after help.
    #[must_use]
    pub fn helped(self) -> Self {
        Self { quality: self.quality.min(Quality::Helped), ..self }
    }
}

/// Judges the choice of an answer; one right answer of four is less than a word that came to mind.
pub fn chosen(question: &Question, at: usize) -> Judged {
    let quality = if at == question.right { Quality::Hesitant } else { Quality::Wrong };
    Judged { quality, misspelled: false }
}

/// Judges a typed term: any of its names counts; nothing typed is nothing known.
pub fn typed(question: &Question, words: &str, lexicon: &Lexicon) -> Judged {
    let typed = fold(words.trim());
    if typed.is_empty() {
        return Judged { quality: Quality::Blank, misspelled: false };
    }
    let asked = lexicon.look_up(&question.term);
    let other = lexicon.look_up(&typed);
    if other.iter().any(|id| asked.contains(id)) || typed == fold(&question.term) {
        return Judged { quality: Quality::Perfect, misspelled: false };
    }
    let slips = question.term.chars().count() / LETTERS_PER_SLIP;
    let names = || std::iter::once(&question.term).chain(&question.forms);
    // A word that is a term itself was meant as that one, however alike the two are.
    let near = other.is_empty() && names().any(|name| distance(&typed, &fold(name), slips).is_some());
    let quality = if near { Quality::Hesitant } else { Quality::Wrong };
    Judged { quality, misspelled: near }
}
