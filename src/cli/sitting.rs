//! One sitting of the drill, line by line: questions out, answers in, each answer kept before the next question.
//!
//! Which terms, and what an answer is worth, is decided in `drill`.

use std::collections::VecDeque;
use std::io::{BufRead, Write};

use crate::cli::drawing::side_by_side;
use crate::cli::failure::Failure;
use crate::cli::wording::count;
use crate::cli::world::{Look, date, remark};
use crate::drill::{self, Answer, DAY, Draw, Glossary, Judged, Kind, Log, Question, Record, Word};
use crate::sketch::{self, Dots};
use crate::store;

/// Columns and rows of a drawing that stands alone.
const ALONE: (u16, u16) = (24, 12);

/// Columns and rows of one among four, which fit on a line of 80 columns.
const AMONG: (u16, u16) = (16, 8);

/// What ends a sitting.
const END: &str = "q";

/// What a sitting is held with.
#[derive(Clone, Copy)]
pub(crate) struct Given<'a> {
    /// Words and drawings.
    pub(crate) glossary: Glossary<'a>,
    /// Seconds since 1970 at its beginning.
    pub(crate) now: u64,
    /// What questions are drawn with.
    pub(crate) seed: u64,
    /// What drawings are made of.
    pub(crate) dots: Dots,
    /// How to write.
    pub(crate) look: Look,
}

/// What keeps a line of the log.
pub(crate) type Keep<'a> = dyn FnMut(&str) -> Result<(), store::Error> + 'a;

/// Where answers come from and questions go to.
type Ways<'a> = (&'a mut dyn BufRead, &'a mut dyn Write);

/// A sitting.
pub(crate) struct Sitting<'a> {
    given: Given<'a>,
    log: Log,
    keep: &'a mut Keep<'a>,
}

impl<'a> Sitting<'a> {
    /// Begins a sitting.
    pub(crate) fn new(given: Given<'a>, log: Log, keep: &'a mut Keep<'a>) -> Self {
        Self { given, log, keep }
    }

    /// Asks the terms until each was known; the end of the input, or `q`, ends it at once.
    pub(crate) fn hold(&mut self, terms: Vec<String>, (input, out): Ways<'_>) -> Result<(), Failure> {
        let asked = count(terms.len() as u32, "term", "terms");
        writeln!(out, "{asked} to learn. Type the answer or its number; Enter alone asks for help; q ends.")?;
        let mut waiting = VecDeque::from(terms);
        while let Some(term) = waiting.pop_front() {
            let Some((word, question)) = self.question(&term) else {
                remark(&format!("“{term}” is left out: no glossary has it now."));
                continue;
            };
            writeln!(out)?;
            let Some(judged) = self.ask(&question, (input, out))? else { break };
            let answer = Answer {
                at: self.given.now,
                term: word.term.clone(),
                kind: question.kind,
                quality: judged.quality,
            };
            let record = Record::Answered(answer);
            (self.keep)(&record.line())?;
            self.log.push(record);
            self.say((&word, &question), judged, out)?;
            if judged.quality.wants_again() {
                waiting.push_back(term);
            }
        }
        let left = self.log.due(self.given.now / DAY).len() as u32;
        let next = self.log.next_day(self.given.now / DAY).map(date).unwrap_or_default();
        match left {
            0 => writeln!(out, "\nDone for today. The next is due on {next}.")?,
            left => writeln!(out, "\n{} still due today.", count(left, "term is", "terms are"))?,
        }
        Ok(())
    }

    fn question(&self, term: &str) -> Option<(Word, Question)> {
        let word = self.log.word(term)?;
        let draw = Draw { seed: self.given.seed, day: self.given.now / DAY, nth: word.answers.len() };
        let question = Question::of(&word, self.given.glossary, draw)?;
        Some((word, question))
    }

    /// Asks one question; `None` when the sitting is to end.
    fn ask(&self, question: &Question, (input, out): Ways<'_>) -> Result<Option<Judged>, Failure> {
        self.given.look.paragraph(out, "", &question.words())?;
        self.draw(question, out)?;
        if matches!(question.kind, Kind::Name | Kind::Drawing) {
            let Some(words) = read(input, out)? else { return Ok(None) };
            if !words.is_empty() {
                return Ok(Some(drill::typed(question, &words, self.given.glossary.lexicon)));
            }
            return Ok(self.choose(question, (input, out))?.map(Judged::helped));
        }
        self.choose(question, (input, out))
    }

    /// Draws what is to be named, or what is to be chosen from.
    fn draw(&self, question: &Question, out: &mut dyn Write) -> Result<(), Failure> {
        let drawing = |caption: String, term: &str| Some((caption, sketch::of(&term.to_lowercase())?));
        let (drawings, size): (Vec<_>, _) = match question.kind {
            Kind::Name | Kind::Meaning => return Ok(()),
            Kind::Drawing => (drawing(String::new(), &question.term).into_iter().collect(), ALONE),
            Kind::Which => {
                let choices = question.choices.iter().enumerate();
                (
                    choices.filter_map(|(at, choice)| drawing((at + 1).to_string(), &choice.term)).collect(),
                    AMONG,
                )
            }
        };
        for row in side_by_side(&drawings, size, self.given.dots) {
            writeln!(out, "  {row}")?;
        }
        Ok(())
    }

    /// Lists the answers and lets one be chosen.
    fn choose(&self, question: &Question, (input, out): Ways<'_>) -> Result<Option<Judged>, Failure> {
        // Drawings to choose from stand there already, each under its number.
        let listed = if question.kind == Kind::Which { 0 } else { question.choices.len() };
        for at in 0..listed {
            self.given.look.paragraph(out, &format!("  {} ", at + 1), question.choice_words(at))?;
        }
        loop {
            let Some(words) = read(input, out)? else { return Ok(None) };
            match words.parse::<usize>() {
                Ok(number) if (1..=question.choices.len()).contains(&number) => {
                    return Ok(Some(drill::chosen(question, number - 1)));
                }
                Err(_) if words.is_empty() || question.kind != Kind::Meaning => {
                    return Ok(Some(drill::typed(question, &words, self.given.glossary.lexicon)));
                }
                Ok(_) | Err(_) => {
                    writeln!(out, "A number from 1 to {}, or Enter to be told.", question.choices.len())?;
                }
            }
        }
    }

    /// Says how it was, with the definition, its source and where the term was met.
    fn say(
        &self,
        (word, question): (&Word, &Question),
        judged: Judged,
        out: &mut dyn Write,
    ) -> Result<(), Failure> {
        let verdict = match (judged.quality.is_right(), judged.misspelled) {
            (true, false) => "Right.".to_owned(),
            (true, true) => format!("Right; it is spelled {}.", question.term),
            (false, _) => "Not yet.".to_owned(),
        };
        let look = self.given.look;
        writeln!(out, "{verdict}")?;
        look.paragraph(out, "  ", &format!("{}: {}", look.heading(&question.term), question.definition))?;
        writeln!(out, "  — {}", question.source)?;
        if let Some(met) = word.last() {
            let said = if met.said.is_empty() { String::new() } else { format!(": “{}”", met.said) };
            look.paragraph(out, "  ", &format!("You met it in {}{said}", met.met()))?;
        }
        Ok(())
    }
}

/// Reads one line; `None` at the end of the input and where the sitting is to end.
fn read(input: &mut dyn BufRead, out: &mut dyn Write) -> Result<Option<String>, Failure> {
    write!(out, "> ")?;
    out.flush()?;
    let mut line = String::new();
    if input.read_line(&mut line)? == 0 {
        writeln!(out)?;
        return Ok(None);
    }
    let words = line.trim();
    Ok((words != END).then(|| words.to_owned()))
}
