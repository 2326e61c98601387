//! Chance that is none: seed, day and words in, one number out, the same for the same.

use serde::{Deserialize, Serialize};

/// The start of the FNV-1a hash of 64 bits, as published.
const START: u64 = 0xcbf2_9ce4_8422_2325;
/// Its multiplier.
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// What a question is drawn with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Draw {
    /// Any number; another one draws other questions.
    pub seed: u64,
    /// The day.
    pub day: u64,
    /// How often the term was asked before.
    pub nth: usize,
}

impl Draw {
    /// Returns the number drawn for a word.
    pub(crate) fn number(self, word: &str) -> u64 {
        let numbers = [self.seed, self.day, self.nth as u64];
        let start = numbers.iter().flat_map(|number| number.to_le_bytes()).fold(START, stirred);
        let mixed = word.bytes().fold(start, stirred);
        // The high bits of this hash are good, the low ones less so.
        mixed ^ (mixed >> 32)
    }
}

fn stirred(hash: u64, byte: u8) -> u64 {
    (hash ^ u64::from(byte)).wrapping_mul(PRIME)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(day: u64) -> Draw {
        Draw { seed: 1, day, nth: 0 }
    }

    #[test]
    fn the_same_draws_the_same_and_another_day_another() {
        assert_eq!(on(20_000).number("ovate"), on(20_000).number("ovate"));
        assert_ne!(on(20_000).number("ovate"), on(20_001).number("ovate"));
        assert_ne!(on(20_000).number("ovate"), on(20_000).number("obovate"));
    }

    #[test]
    fn every_place_of_four_is_drawn() {
        let mut drawn = [0; 4];
        for day in 0..400 {
            drawn[(on(day).number("ovate") % 4) as usize] += 1;
        }
        assert!(drawn.iter().all(|times| *times > 50), "{drawn:?}");
    }
}
