//! When a term is asked again: the last answers in, the day of the next one out.
//!
//! The scheme is SM-2 of P. A. Woźniak ("Optimization of learning", 1990), as remembered: intervals of 1 day, 6 days,
//! then the last one times the easiness factor; the factor begins at 2.5, moves with every answer and never falls below
//! 1.3; an answer below 3 begins anew and leaves the factor alone; fractions of a day are rounded up.

use serde::{Deserialize, Serialize};

/// The factor of a term that was never asked, in hundredths.
const FIRST_EASINESS: u32 = 250;
/// The least factor, in hundredths.
const LEAST_EASINESS: u32 = 130;
/// Days after the first answer that was right.
const FIRST_INTERVAL: u64 = 1;
/// Days after the second in a row.
const SECOND_INTERVAL: u64 = 6;
/// Hundredths of one.
const ONE: u64 = 100;

/// How well a term was known, from nothing at all to perfectly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "u8", into = "u8")]
pub enum Quality {
    /// Nothing came to mind.
    Blank = 0,
    /// Wrong.
    Wrong = 1,
    /// Wrong, though it seemed easy.
    Slipped = 2,
    /// Right with help.
    Helped = 3,
    /// Right after a doubt, or out of a few.
    Hesitant = 4,
    /// Right at once.
    Perfect = 5,
}

impl Quality {
    /// All grades by their number.
    const ALL: [Self; 6] =
        [Self::Blank, Self::Wrong, Self::Slipped, Self::Helped, Self::Hesitant, Self::Perfect];

    /// Says whether the answer counts as known.
    pub fn is_right(self) -> bool {
        self >= Self::Helped
    }

    /// Says whether the term is asked once more on the same day.
    pub fn wants_again(self) -> bool {
        self < Self::Hesitant
    }
}

impl TryFrom<u8> for Quality {
    type Error = String;

    fn try_from(number: u8) -> Result<Self, String> {
        let found = Self::ALL.get(usize::from(number)).copied();
        found.ok_or_else(|| format!("{number} is no grade; they go from 0 to 5"))
    }
}

impl From<Quality> for u8 {
    fn from(quality: Quality) -> Self {
        quality as Self
    }
}

/// What is known of how well a term is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Memory {
    /// Right answers in a row.
    pub repetitions: u32,
    /// Days between the last answer that counted and the next.
    pub interval: u64,
    /// The easiness factor in hundredths.
    pub easiness: u32,
    /// The day from which on it is asked.
    pub due: u64,
}

impl Memory {
    /// Begins with a term that is to be asked from a day on.
    pub fn new(day: u64) -> Self {
        Self { repetitions: 0, interval: 0, easiness: FIRST_EASINESS, due: day }
    }

    /// Returns what is known after an answer; one given before the term is due is exercise and changes nothing.
    #[must_use]
    pub fn answered(self, day: u64, quality: Quality) -> Self {
        if day < self.due {
            return self;
        }
        if !quality.is_right() {
            let interval = FIRST_INTERVAL;
            return Self { repetitions: 0, interval, due: day + interval, ..self };
        }
        let easiness = eased(self.easiness, quality);
        let interval = match self.repetitions {
            0 => FIRST_INTERVAL,
            1 => SECOND_INTERVAL,
            _ => self.interval.saturating_mul(u64::from(easiness)).div_ceil(ONE),
        };
        let due = day.saturating_add(interval);
        Self { repetitions: self.repetitions + 1, interval, easiness, due }
    }
}

/// Returns the factor after an answer: EF + (0.1 − (5 − q)(0.08 + (5 − q) 0.02)), never below the least.
fn eased(easiness: u32, quality: Quality) -> u32 {
    let short = i64::from(5 - u8::from(quality));
    let moved = i64::from(easiness) + 10 - short * (8 + short * 2);
    u32::try_from(moved).unwrap_or(0).max(LEAST_EASINESS)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks the intervals of a term that is always asked on the day it is due.
    #[track_caller]
    fn check_intervals(qualities: &[u8], expected: &[u64]) {
        let mut memory = Memory::new(100);
        let after = |quality: &u8| {
            memory = memory.answered(memory.due, Quality::try_from(*quality).expect("a grade"));
            memory.interval
        };
        assert_eq!(qualities.iter().map(after).collect::<Vec<_>>(), expected);
    }

    #[track_caller]
    fn check_easiness(from: u32, quality: u8, expected: u32) {
        assert_eq!(eased(from, Quality::try_from(quality).expect("a grade")), expected);
    }

    #[test]
    fn the_published_intervals_come_out() {
        // 1, 6, then the last times 2.5, rounded up; a grade of 4 leaves the factor as it is.
        check_intervals(&[4, 4, 4, 4, 4], &[1, 6, 15, 38, 95]);
    }

    #[test]
    fn the_factor_moves_by_the_published_steps() {
        for (quality, expected) in [(5, 260), (4, 250), (3, 236), (2, 218), (1, 196), (0, 170)] {
            check_easiness(250, quality, expected);
        }
        check_easiness(135, 3, 130);
    }

    #[test]
    fn perfect_answers_stretch_the_intervals() {
        // 6 × 2.8 = 16.8; 17 × 2.9 = 49.3.
        check_intervals(&[5, 5, 5, 5], &[1, 6, 17, 50]);
    }

    #[test]
    fn a_wrong_answer_begins_anew_and_leaves_the_factor() {
        check_intervals(&[4, 4, 4, 1, 4, 4, 4], &[1, 6, 15, 1, 1, 6, 15]);
    }

    #[test]
    fn a_term_asked_too_early_is_exercise() {
        let memory = Memory::new(100).answered(100, Quality::Wrong);
        assert_eq!(memory.answered(100, Quality::Perfect), memory);
    }

    #[test]
    fn a_grade_that_is_none_is_refused() {
        assert!(serde_json::from_str::<Quality>("6").is_err());
        assert_eq!(serde_json::from_str::<Quality>("3").ok(), Some(Quality::Helped));
    }
}
