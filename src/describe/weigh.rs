//! One stated fact weighed against what is asked: agrees, agrees rarely, contradicts, or says nothing of it.

use crate::describe::adverb::{Degree, Frequency};
use crate::describe::kin::{Kin, Thesaurus};
use crate::describe::span::Lies;
use crate::describe::unit::Dimension;
use crate::describe::{Fact, Said, Span, What, parts, place};

/// What a fact says to what is asked, and how surely, of 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weight {
    /// It contradicts.
    Against(f32),
    /// It agrees by exception.
    Rarely(f32),
    /// It agrees.
    Agrees(f32),
}

/// How much a state counts that is said to be weak, or that lies between two.
const WEAKLY: f32 = 0.6;
const BETWEEN: f32 = 0.85;
/// How near a state must be for its denial to contradict.
const SAME: f32 = 0.9;
/// States nearer than this agree; farther ones agree rarely.
const NEAR_ENOUGH: f32 = 0.3;
/// How surely a measure contradicts that is only just outside.
const JUST_OUTSIDE: f32 = 0.35;
/// How surely a month, an elevation or a district contradicts: plants do not read floras.
const ELSEWHERE: f32 = 0.6;
/// How surely a fact about an organ says that the organ is there.
const IMPLIED: f32 = 0.95;
/// How surely a fact about an organ says that it is of one of its kinds.
const IMPLIED_BY_WHOLE: f32 = 0.5;
/// How near a place must be for a contradiction there to count.
const SAME_PLACE: f32 = 0.75;

/// What is asked, ready to be weighed against many facts.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// The asked fact.
    pub fact: Fact,
    /// For a state: what it has to do with others.
    pub kin: Kin,
}

/// What is stated, as far as it is weighed; a fact of the index or one just read.
#[derive(Clone, Copy, Debug)]
pub struct Spoken<'a> {
    /// What is said.
    pub what: &'a What,
    /// How strongly.
    pub degree: Degree,
    /// How often.
    pub frequency: Frequency,
    /// Whether it is said or denied.
    pub said: Said,
}

impl Wanted {
    /// Prepares a fact that is asked.
    pub fn new(fact: Fact, thesaurus: &Thesaurus) -> Self {
        let kin = match &fact.what {
            What::State(state) => thesaurus.kin(state, fact.organ),
            What::Presence
            | What::Measure(..)
            | What::Count(_)
            | What::Ratio(..)
            | What::Season(..)
            | What::Elevation(_)
            | What::District(_)
            | What::Status(_) => Kin::default(),
        };
        Self { fact, kin }
    }

    /// Returns how much what is said of a place counts for this question; 0 where it says nothing to it.
    pub fn place(&self, organ: Option<&str>, of: Option<&str>) -> f32 {
        let asked = (self.fact.organ, self.fact.of);
        match self.fact.what {
            What::State(_) => parts::state_likeness(asked, (organ, of)),
            // A leaf that is named need not have hairs.
            What::Presence if parts::is_only_bearer(asked, organ) => 0.0,
            // A fruit of which something is said need not be a nut.
            What::Presence if parts::is_one_of_kinds(asked.0, organ) => IMPLIED_BY_WHOLE,
            What::Measure(..) | What::Count(_) | What::Ratio(..) | What::Presence => {
                parts::likeness(asked, (organ, of))
            }
            What::Season(..) | What::Elevation(_) | What::District(_) | What::Status(_) => 1.0,
        }
    }

    /// Weighs a fact.
    pub fn weigh_fact(&self, fact: &Fact) -> Option<Weight> {
        let Fact { what, degree, frequency, said, .. } = fact;
        let stated = Spoken { what, degree: *degree, frequency: *frequency, said: *said };
        self.weigh(self.place(fact.organ, fact.of), stated)
    }

    /// Weighs what is stated of a place that counts so much.
    pub fn weigh(&self, place: f32, stated: Spoken<'_>) -> Option<Weight> {
        if place <= 0.0 {
            return None;
        }
        match (&self.fact.what, stated.what) {
            (What::State(_), What::State(state)) => self.weigh_state(place, self.kin.nearness(state), stated),
            (What::Presence, _) => self.presence(place, stated),
            (What::Measure(asked, span), What::Measure(dimension, own)) => {
                let same = dimensions(*asked, *dimension)?;
                lies(own.holds(span), own, stated.frequency, place * same)
            }
            (What::Count(span), What::Count(own)) => lies(own.counts(span), own, stated.frequency, place),
            (What::Ratio(span, to), What::Ratio(own, other)) if to == other => {
                lies(own.holds(span), own, stated.frequency, place)
            }
            (What::Season(phase, months), What::Season(own_phase, own)) => {
                if phase != own_phase {
                    return None;
                }
                let rarely = stated.frequency == Frequency::Rarely;
                Some(match (own.meets(*months), own.widened().meets(*months)) {
                    (true, _) if rarely => Weight::Rarely(1.0),
                    (true, _) => Weight::Agrees(1.0),
                    (false, true) => Weight::Against(ELSEWHERE * JUST_OUTSIDE),
                    (false, false) => Weight::Against(ELSEWHERE),
                })
            }
            (What::Elevation(span), What::Elevation(own)) => match own.holds(span) {
                Lies::Usual => Some(Weight::Agrees(1.0)),
                Lies::Exceptional | Lies::JustOutside => Some(Weight::Rarely(1.0)),
                Lies::Outside => Some(Weight::Against(ELSEWHERE)),
            },
            (What::District(name), What::District(own)) => {
                Some(match (own == name, own == place::EVERY_DISTRICT, stated.said) {
                    (true, _, Said::Is) if stated.frequency == Frequency::Rarely => Weight::Rarely(1.0),
                    (true, _, Said::Is) | (false, true, _) => Weight::Agrees(1.0),
                    (true, _, Said::IsNot) | (false, false, _) => Weight::Against(ELSEWHERE),
                })
            }
            (What::Status(word), What::Status(own)) => (own == word).then_some(match stated.said {
                Said::Is => Weight::Agrees(1.0),
                Said::IsNot => Weight::Against(1.0),
            }),
            _ => None,
        }
    }

    /// Weighs a state that is so near to the asked one, as [`Kin::nearness`] has it.
    pub fn weigh_state(&self, place: f32, near: f32, stated: Spoken<'_>) -> Option<Weight> {
        if near == 0.0 {
            return None;
        }
        let degree = match stated.degree {
            Degree::Weakly => WEAKLY,
            Degree::Between => BETWEEN,
            Degree::Plainly | Degree::Strongly => 1.0,
        };
        let firm = place >= SAME_PLACE;
        match (self.fact.said, stated.said) {
            (Said::Is, Said::Is) if near < 0.0 => {
                let surely = match stated.frequency {
                    Frequency::Always => 1.0,
                    Frequency::Usually => 0.8,
                    Frequency::Sometimes | Frequency::Rarely => return None,
                };
                firm.then_some(Weight::Against(surely * place * degree))
            }
            (Said::Is, Said::Is) => Some(agrees(near * place * degree, stated.frequency)),
            (Said::Is, Said::IsNot) => (near >= SAME && firm).then_some(Weight::Against(place)),
            (Said::IsNot, Said::Is) if near < 0.0 => Some(agrees(WEAKLY * place, stated.frequency)),
            (Said::IsNot, Said::Is) => {
                let rare = matches!(stated.frequency, Frequency::Rarely | Frequency::Sometimes);
                (near >= NEAR_ENOUGH && firm && !rare).then_some(Weight::Against(near * place))
            }
            (Said::IsNot, Said::IsNot) => (near >= SAME).then(|| agrees(place, stated.frequency)),
        }
    }

    fn presence(&self, place: f32, stated: Spoken<'_>) -> Option<Weight> {
        let (there, surely) = match stated.what {
            What::Presence => (stated.said, 1.0),
            // What is said of the organ, also what is denied of it, says that it is there.
            What::State(_) | What::Measure(..) | What::Count(_) | What::Ratio(..) => (Said::Is, IMPLIED),
            What::Season(..) | What::Elevation(_) | What::District(_) | What::Status(_) => return None,
        };
        // A leaf of which something is said need not have hairs, nor a capsule be a berry.
        if stated.what != &What::Presence && place < SAME_PLACE {
            return None;
        }
        let rarely = stated.what == &What::Presence
            && matches!(stated.frequency, Frequency::Rarely | Frequency::Sometimes);
        if there == self.fact.said {
            return Some(if rarely { Weight::Rarely(place) } else { Weight::Agrees(place * surely) });
        }
        if rarely {
            return None;
        }
        (place >= SAME_PLACE).then_some(Weight::Against(place * surely))
    }
}

fn agrees(near: f32, frequency: Frequency) -> Weight {
    match frequency {
        Frequency::Rarely => Weight::Rarely(near),
        Frequency::Sometimes => Weight::Agrees(near * BETWEEN),
        Frequency::Usually | Frequency::Always => {
            if near < NEAR_ENOUGH {
                Weight::Rarely(near / NEAR_ENOUGH)
            } else {
                Weight::Agrees(near)
            }
        }
    }
}

/// Weighs how an asked number lies to a stated one. Where the stated one is a wide range it tells less.
fn lies(lies: Lies, own: &Span, frequency: Frequency, place: f32) -> Option<Weight> {
    let rare = frequency == Frequency::Rarely;
    Some(match lies {
        Lies::Usual if rare => Weight::Rarely(place),
        Lies::Usual if own.is_upper_only() || own.is_lower_only() => Weight::Agrees(place * BETWEEN),
        Lies::Usual => Weight::Agrees(place),
        Lies::Exceptional => Weight::Rarely(place),
        Lies::JustOutside if !rare => Weight::Against(place * JUST_OUTSIDE),
        Lies::Outside if !rare => Weight::Against(place),
        Lies::JustOutside | Lies::Outside => return None,
    })
}

/// Returns how far two dimensions are the same; none where a measure of one says nothing of the other.
fn dimensions(asked: Dimension, stated: Dimension) -> Option<f32> {
    use Dimension::{Diameter, Height, Length, Thickness, Width};
    match (asked, stated) {
        (Length, Length)
        | (Width, Width)
        | (Height, Height)
        | (Diameter, Diameter)
        | (Thickness, Thickness) => Some(1.0),
        (Length, Height) | (Height, Length) | (Width, Diameter) | (Diameter, Width) => Some(IMPLIED),
        (Length | Thickness, Diameter) | (Diameter, Length | Thickness) => Some(SAME_PLACE),
        (Length, Width | Thickness)
        | (Width, Length | Height | Thickness)
        | (Height, Width | Diameter | Thickness)
        | (Diameter, Height)
        | (Thickness, Length | Width | Height) => None,
    }
}
