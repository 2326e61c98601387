//! A trip: where, when and how high one is, set against season, elevation and districts of a taxon.
//!
//! What does not fit is a warning with its reason, never a veto: floras are not complete, and plants do not read them.

use serde::{Deserialize, Serialize};

use crate::describe::{EVERY_DISTRICT, Fact, Lies, Months, Phase, Said, Span, What, month_names};

/// Where one is, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Trip {
    /// The place in the words of the reader; empty where none is set.
    pub place: String,
    /// The month, counted from 1.
    pub month: Option<u32>,
    /// Metres above the sea.
    pub elevation: Option<u32>,
}

/// What a trip has to do with a statement of the book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// Whether it fits.
    pub fits: bool,
    /// The reason in words.
    pub words: String,
}

impl Trip {
    /// Reads what was typed: parts with commas between, each a month or date, an elevation in metres, or a place.
    pub fn parse(typed: &str) -> Self {
        let mut trip = Self::default();
        for part in typed.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()) {
            if let Some(month) = month(part) {
                trip.month = Some(month);
            } else if let Some(elevation) = elevation(part) {
                trip.elevation = Some(elevation);
            } else if trip.place.is_empty() {
                part.clone_into(&mut trip.place);
            } else {
                trip.place = format!("{}, {part}", trip.place);
            }
        }
        trip
    }

    /// Says whether nothing is set.
    pub fn is_blank(&self) -> bool {
        *self == Self::default()
    }

    /// Returns it in words.
    pub fn words(&self) -> String {
        let month =
            self.month.and_then(|month| month_names().get(month as usize - 1)).map(|name| (*name).to_owned());
        let elevation = self.elevation.map(|metres| format!("{metres} m"));
        let place = (!self.place.is_empty()).then(|| self.place.clone());
        [place, month, elevation].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// Sets the trip against what a book says of a taxon; silence gives no remark.
    pub fn against(&self, facts: &[Fact]) -> Vec<Remark> {
        [self.season(facts), self.height(facts), self.district(facts)].into_iter().flatten().collect()
    }

    fn season(&self, facts: &[Fact]) -> Option<Remark> {
        let month = Months::one(self.month?);
        let seasons = facts.iter().filter_map(|fact| match fact.what {
            What::Season(phase, months) => Some((phase, months)),
            _ => None,
        });
        let seasons: Vec<(Phase, Months)> = seasons.collect();
        if seasons.is_empty() {
            return None;
        }
        let stated: Vec<String> = seasons
            .iter()
            .map(|(phase, months)| format!("{} {}", phase_word(*phase), months_words(*months)))
            .collect();
        let stated = stated.join(", ");
        if let Some((phase, months)) = seasons.iter().find(|(_, months)| months.meets(month)) {
            let words = format!("{} now: {}", phase_word(*phase), months_words(*months));
            return Some(Remark { fits: true, words });
        }
        let near = seasons.iter().any(|(_, months)| months.widened().meets(month));
        let words = if near { "a month beside its season" } else { "out of season" };
        Some(Remark { fits: false, words: format!("{words}: {stated}") })
    }

    fn height(&self, facts: &[Fact]) -> Option<Remark> {
        let here = Span::exactly(self.elevation? as f32);
        let spans: Vec<Span> = facts
            .iter()
            .filter_map(|fact| match fact.what {
                What::Elevation(span) => Some(span),
                _ => None,
            })
            .collect();
        let best = spans.iter().map(|span| span.holds(&here)).max()?;
        let stated: Vec<String> = spans.iter().map(span_words).collect();
        let stated = stated.join(", ");
        Some(match best {
            Lies::Usual => Remark { fits: true, words: format!("elevation fits: {stated}") },
            Lies::Exceptional => Remark { fits: true, words: format!("elevation exceptional: {stated}") },
            Lies::JustOutside | Lies::Outside => {
                Remark { fits: false, words: format!("elevation does not fit: {stated}") }
            }
        })
    }

    fn district(&self, facts: &[Fact]) -> Option<Remark> {
        if self.place.trim().is_empty() {
            return None;
        }
        let named = |said: Said| -> Vec<&str> {
            let of = facts.iter().filter(|fact| fact.said == said);
            of.filter_map(|fact| match &fact.what {
                What::District(words) => Some(words.as_str()),
                _ => None,
            })
            .collect()
        };
        let (districts, denied) = (named(Said::Is), named(Said::IsNot));
        if let Some(words) = denied.iter().find(|words| self.is_in(words)) {
            return Some(Remark { fits: false, words: format!("said not to grow here: {words}") });
        }
        if districts.contains(&EVERY_DISTRICT) {
            return Some(Remark { fits: true, words: "known throughout".to_owned() });
        }
        if districts.is_empty() {
            return None;
        }
        let stated = districts.join(", ");
        let fits = districts.iter().any(|words| self.is_in(words));
        let words = if fits { "known from here" } else { "not named from here" };
        Some(Remark { fits, words: format!("{words}: {stated}") })
    }

    /// Says whether its place is in a district, or the other way round, by their names.
    pub fn is_in(&self, district: &str) -> bool {
        let (place, district) = (folded(&self.place), folded(district));
        !place.is_empty() && (district.contains(&place) || place.contains(&district))
    }
}

/// Reads a month: its name or its first three letters or more, alone or in a date.
fn month(part: &str) -> Option<u32> {
    let mut words = part.split([' ', '.']).filter(|word| !word.is_empty() && word.parse::<u32>().is_err());
    let word = words.next()?.to_lowercase();
    if words.next().is_some() || word.len() < SHORTEST_MONTH {
        return None;
    }
    let at = month_names().iter().position(|name| name.to_lowercase().starts_with(&word))?;
    Some(at as u32 + 1)
}

/// Letters of a shortened month.
const SHORTEST_MONTH: usize = 3;

fn elevation(part: &str) -> Option<u32> {
    let part = part.to_lowercase();
    let number = part.trim_end_matches(" a.s.l.").trim_end_matches("metres").trim_end_matches('m').trim();
    (part.ends_with('m') || part.ends_with("metres") || part.ends_with("a.s.l."))
        .then(|| number.parse().ok())?
}

fn folded(words: &str) -> String {
    words.trim().to_lowercase()
}

fn phase_word(phase: Phase) -> &'static str {
    match phase {
        Phase::Flower => "in flower",
        Phase::Fruit => "in fruit",
        Phase::Spore => "with spores or cones",
        Phase::Leaf => "in leaf",
    }
}

fn months_words(months: Months) -> String {
    let names: Vec<&str> = months
        .list()
        .into_iter()
        .filter_map(|month| month_names().get(month as usize - 1))
        .map(|name| &name[..SHORTEST_MONTH])
        .collect();
    names.join(" ")
}

fn span_words(span: &Span) -> String {
    if span.is_upper_only() {
        format!("to {} m", span.high)
    } else if span.is_lower_only() {
        format!("from {} m", span.low)
    } else {
        format!("{}–{} m", span.low, span.high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::describe::{Degree, Frequency};

    fn fact(what: What) -> Fact {
        Fact {
            organ: None,
            of: None,
            what,
            degree: Degree::default(),
            frequency: Frequency::default(),
            said: Said::Is,
            range: 0..0,
        }
    }

    #[track_caller]
    fn check_remark(typed: &str, what: What, expected: Option<(bool, &str)>) {
        let remarks = Trip::parse(typed).against(&[fact(what)]);
        let found = remarks.first().map(|remark| (remark.fits, remark.words.as_str()));
        assert_eq!(found, expected);
    }

    #[test]
    fn a_trip_is_typed_in_any_order() {
        let trip = Trip { place: "Skerra".to_owned(), month: Some(7), elevation: Some(300) };
        assert_eq!(Trip::parse("Skerra, 17 July, 300 m"), trip);
        assert_eq!(Trip::parse("300 m; jul; Skerra"), trip);
        assert_eq!(trip.words(), "Skerra, July, 300 m");
    }

    #[test]
    fn a_season_over_the_turn_of_the_year_holds_january() {
        check_remark(
            "January",
            What::Season(Phase::Fruit, Months::from_to(11, 2)),
            Some((true, "in fruit now: Jan Feb Nov Dec")),
        );
    }

    #[test]
    fn a_month_late_and_far_out_of_season_are_told_apart() {
        let season = What::Season(Phase::Flower, Months::from_to(5, 6));
        check_remark("July", season.clone(), Some((false, "a month beside its season: in flower May Jun")));
        check_remark("October", season, Some((false, "out of season: in flower May Jun")));
    }

    #[test]
    fn elevation_and_district_warn_with_the_reason() {
        check_remark(
            "700 m",
            What::Elevation(Span::from_to(0.0, 400.0)),
            Some((false, "elevation does not fit: to 400 m")),
        );
        check_remark(
            "Skerra",
            What::District("Kerran".to_owned()),
            Some((false, "not named from here: Kerran")),
        );
        check_remark("Skerra", What::District("Skerra".to_owned()), Some((true, "known from here: Skerra")));
    }

    #[test]
    fn what_grows_throughout_grows_here() {
        check_remark("Skerra", What::District("*".to_owned()), Some((true, "known throughout")));
    }

    #[test]
    fn a_district_that_is_denied_goes_before_those_that_are_named() {
        let named = fact(What::District("Skerra".to_owned()));
        let denied = Fact { said: Said::IsNot, ..named.clone() };
        let remarks = Trip::parse("Skerra").against(&[named, denied]);
        let found: Vec<_> = remarks.iter().map(|remark| (remark.fits, remark.words.as_str())).collect();
        assert_eq!(found, [(false, "said not to grow here: Skerra")]);
    }

    #[test]
    fn silence_gives_no_remark() {
        check_remark("July", What::District("Skerra".to_owned()), None);
    }
}
