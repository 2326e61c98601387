//! The log: its lines in, the terms with what was looked up and answered of each out; lines that say nothing are told.

use crate::drill::{Answer, DAY, LookUp, Memory, Record};

/// Everything that was looked up and answered, in the order of the lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    records: Vec<Record>,
}

/// A term with all that the log has of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Its number among all terms, in the order in which they were first looked up, counted from 0.
    pub number: usize,
    /// The headword, as it was looked up last.
    pub term: String,
    /// Where it was looked up, the first time first; never empty.
    pub look_ups: Vec<LookUp>,
    /// The answers.
    pub answers: Vec<Answer>,
    /// How well it is known.
    pub memory: Memory,
}

impl Word {
    /// Returns the look-up made last.
    pub fn last(&self) -> Option<&LookUp> {
        self.look_ups.last()
    }

    /// Says whether it was answered on a day, and is wanted once more because it was not known well.
    fn wants_again(&self, day: u64) -> bool {
        self.answers.last().is_some_and(|answer| answer.at / DAY == day && answer.quality.wants_again())
    }
}

impl Log {
    /// Reads lines; those that are no records are returned as they are.
    pub fn read(text: &str) -> (Self, Vec<String>) {
        let (mut records, mut damaged) = (Vec::new(), Vec::new());
        for line in text.lines().filter(|line| !line.trim().is_empty()) {
            match serde_json::from_str(line) {
                Ok(record) => records.push(record),
                Err(_) => damaged.push(line.to_owned()),
            }
        }
        (Self { records }, damaged)
    }

    /// Adds a record.
    pub fn push(&mut self, record: Record) {
        self.records.push(record);
    }

    /// Returns the text of all lines.
    pub fn text(&self) -> String {
        self.records.iter().map(|record| record.line() + "\n").collect()
    }

    /// Says whether nothing was looked up.
    pub fn is_empty(&self) -> bool {
        self.look_ups().next().is_none()
    }

    /// Returns what was looked up, the first first.
    pub fn look_ups(&self) -> impl Iterator<Item = &LookUp> {
        self.records.iter().filter_map(|record| match record {
            Record::LookedUp(look_up) => Some(look_up),
            Record::Answered(_) => None,
        })
    }

    /// Says whether a term was looked up at a place of a flora since a time.
    pub fn has_since(&self, since: u64, other: &LookUp) -> bool {
        let same = |one: &&LookUp| {
            is_same(&one.term, &other.term) && one.place == other.place && one.flora == other.flora
        };
        self.look_ups().filter(|one| one.at >= since).any(|one| same(&one))
    }

    /// Returns every term once, in the order in which they were first looked up.
    pub fn words(&self) -> Vec<Word> {
        let mut words: Vec<Word> = Vec::new();
        for record in &self.records {
            match record {
                Record::LookedUp(look_up) => looked_up(&mut words, look_up),
                Record::Answered(answer) => answered(&mut words, answer),
            }
        }
        words
    }

    /// Returns a term of the log.
    pub fn word(&self, term: &str) -> Option<Word> {
        self.words().into_iter().find(|word| is_same(&word.term, term))
    }

    /// Returns the terms to be asked on a day, the longest due first, then those that were not known well today.
    pub fn due(&self, day: u64) -> Vec<Word> {
        let (mut due, later): (Vec<Word>, Vec<Word>) =
            self.words().into_iter().partition(|word| word.memory.due <= day);
        due.sort_by_key(|word| word.memory.due);
        due.extend(later.into_iter().filter(|word| word.wants_again(day)));
        due
    }

    /// Returns the first day after this one on which a term is due.
    pub fn next_day(&self, day: u64) -> Option<u64> {
        self.words().iter().map(|word| word.memory.due).filter(|due| *due > day).min()
    }
}

fn looked_up(words: &mut Vec<Word>, look_up: &LookUp) {
    match words.iter_mut().find(|word| is_same(&word.term, &look_up.term)) {
        Some(word) => {
            word.term.clone_from(&look_up.term);
            word.look_ups.push(look_up.clone());
        }
        None => words.push(Word {
            number: words.len(),
            term: look_up.term.clone(),
            look_ups: vec![look_up.clone()],
            answers: Vec::new(),
            memory: Memory::new(look_up.at / DAY),
        }),
    }
}

/// Adds an answer to its term; where the line of the look-up was lost, there is nothing that it could be asked from.
fn answered(words: &mut [Word], answer: &Answer) {
    let Some(word) = words.iter_mut().find(|word| is_same(&word.term, &answer.term)) else { return };
    word.answers.push(answer.clone());
    word.memory = word.memory.answered(answer.at / DAY, answer.quality);
}

fn is_same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}
