//! A stretch of numbers as floras print them, usual and exceptional. How one is printed is read in `number`.

use serde::{Deserialize, Serialize};

/// Share by which a value may miss an approximate one (`ca. 3 mm`) and still be it.
const ABOUT: f32 = 0.2;

/// Share of a limit by which a value may pass it and be near; what two people measure on one plant differs so much.
const NEAR: f32 = 0.12;

/// What is usual lies from `low` to `high`, what occurs from `least` to `most`. A limit that is not stated is 0 or
/// infinite.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Span {
    /// The exceptional lower limit.
    pub least: f32,
    /// The usual lower limit.
    pub low: f32,
    /// The usual upper limit.
    pub high: f32,
    /// The exceptional upper limit.
    pub most: f32,
    /// Whether it is said to be approximate.
    pub about: bool,
}

/// How a stretch lies to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lies {
    /// It shares nothing with what occurs.
    Outside,
    /// It misses what occurs by little.
    JustOutside,
    /// It lies in what occurs exceptionally.
    Exceptional,
    /// It lies in what is usual, as far as the other says.
    Usual,
}

impl Span {
    /// Returns one value.
    pub fn exactly(value: f32) -> Self {
        Self::from_to(value, value)
    }

    /// Returns the stretch between two values, whichever is greater.
    pub fn from_to(one: f32, other: f32) -> Self {
        let (low, high) = (one.min(other), one.max(other));
        Self { least: low, low, high, most: high, about: false }
    }

    /// Returns what lies up to a value.
    pub fn up_to(value: f32) -> Self {
        Self::from_to(0.0, value)
    }

    /// Returns what lies from a value on.
    pub fn at_least(value: f32) -> Self {
        Self::from_to(value, f32::INFINITY)
    }

    /// Returns the same with its exceptional limits widened.
    #[must_use]
    pub fn with_extremes(self, least: Option<f32>, most: Option<f32>) -> Self {
        let least = least.map_or(self.least, |least| least.min(self.low));
        let most = most.map_or(self.most, |most| most.max(self.high));
        Self { least, most, ..self }
    }

    /// Returns the same, said to be approximate.
    #[must_use]
    pub fn approximate(self) -> Self {
        Self { about: true, ..self }
    }

    /// Returns the same in another unit.
    #[must_use]
    pub fn times(self, factor: f32) -> Self {
        Self {
            least: self.least * factor,
            low: self.low * factor,
            high: self.high * factor,
            most: self.most * factor,
            about: self.about,
        }
    }

    /// Says whether only the upper limit is stated (`to 3 m`).
    pub fn is_upper_only(&self) -> bool {
        self.low <= 0.0 && self.high > 0.0
    }

    /// Says whether only the lower limit is stated (`over 12`).
    pub fn is_lower_only(&self) -> bool {
        self.high.is_infinite()
    }

    /// Says how an asked stretch lies to this stated one.
    pub fn holds(&self, asked: &Self) -> Lies {
        let slack = if self.about || asked.about { 1.0 + ABOUT } else { 1.0 };
        let meets = |low: f32, high: f32, slack: f32| {
            asked.low <= high * slack * GRAIN && asked.high * slack * GRAIN >= low
        };
        if meets(self.low, self.high, slack) {
            Lies::Usual
        } else if meets(self.least, self.most, slack) {
            Lies::Exceptional
        } else if meets(self.least, self.most, slack + NEAR) {
            Lies::JustOutside
        } else {
            Lies::Outside
        }
    }

    /// Says how an asked count lies to this stated one: nothing is near that is not in it.
    pub fn counts(&self, asked: &Self) -> Lies {
        match self.holds(asked) {
            Lies::JustOutside => Lies::Outside,
            lies @ (Lies::Outside | Lies::Exceptional | Lies::Usual) => lies,
        }
    }
}

/// Widens limits by more than a conversion of units can err.
const GRAIN: f32 = 1.0001;

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_holds(stated: Span, asked: f32, expected: Lies) {
        assert_eq!(stated.holds(&Span::exactly(asked)), expected);
    }

    #[test]
    fn a_value_is_usual_exceptional_near_or_outside() {
        let petiole = Span::from_to(3.0, 5.0).with_extremes(Some(2.0), Some(7.0));
        check_holds(petiole, 4.0, Lies::Usual);
        check_holds(petiole, 5.0, Lies::Usual);
        check_holds(petiole, 2.5, Lies::Exceptional);
        check_holds(petiole, 7.0, Lies::Exceptional);
        check_holds(petiole, 7.5, Lies::JustOutside);
        check_holds(petiole, 12.0, Lies::Outside);
    }

    #[test]
    fn an_upper_limit_alone_has_no_lower_one() {
        check_holds(Span::up_to(3000.0), 200.0, Lies::Usual);
        check_holds(Span::up_to(3000.0), 9000.0, Lies::Outside);
    }

    #[test]
    fn an_approximate_value_is_met_by_what_is_near_it() {
        check_holds(Span::exactly(3.0).approximate(), 3.4, Lies::Usual);
        check_holds(Span::exactly(3.0).approximate(), 6.0, Lies::Outside);
    }

    #[test]
    fn a_count_is_in_it_or_not() {
        assert_eq!(Span::exactly(10.0).counts(&Span::exactly(11.0)), Lies::Outside);
        assert_eq!(Span::from_to(5.0, 10.0).counts(&Span::exactly(7.0)), Lies::Usual);
    }
}
