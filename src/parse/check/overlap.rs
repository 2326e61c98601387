//! Ranges of one measure that overlap between rivals (K42): said of the same part in the same words, so that a plant may
//! fit both leads.

use std::sync::LazyLock;

use regex::Regex;

use crate::model::{Doubt, DoubtAbout, DoubtKind, Key};

static RANGE: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"(\d+(?:\.\d+)?)\s?[–-]\s?(\d+(?:\.\d+)?)").expect("a fixed pattern"));
/// Exceptional values in brackets (T21).
static EXTREME: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"\(\s?[–-]?\s?\d+(?:\.\d+)?\s?[–-]?\s?\)").expect("a fixed pattern"));

/// Words that let a range reach beyond itself.
const LOOSE: &[&str] =
    &["usually", "mostly", "often", "sometimes", "rarely", "about", "ca", "±", "to", "seldom"];

/// A clause with one range in it.
struct Ranged {
    /// Its words with the range taken out.
    words: String,
    low: f64,
    high: f64,
    printed: String,
}

/// Share of couplets from which on overlaps are the habit of a book, and are told in one sentence.
const HABIT: f32 = 0.08;
/// Overlaps below which a share tells nothing.
const FEWEST: usize = 8;

/// Tells of the couplets whose rivals overlap.
pub(super) fn doubts(keys: &[Key], doubts: &mut Vec<Doubt>) {
    let mut found = Vec::new();
    for key in keys {
        of_key(key, &mut found);
    }
    let couplets: usize = keys.iter().map(|key| key.couplets.len()).sum();
    if found.len() > FEWEST && found.len() as f32 > couplets as f32 * HABIT {
        let advice = format!(
            "in {} places ranges of rivals overlap in this book, this being the first; there a range alone does not decide",
            found.len()
        );
        found.truncate(1);
        for doubt in &mut found {
            doubt.advice.clone_from(&advice);
        }
    }
    doubts.extend(found);
}

fn of_key(key: &Key, doubts: &mut Vec<Doubt>) {
    for couplet in &key.couplets {
        let said: Vec<Vec<Ranged>> = couplet.leads.iter().map(|lead| ranges(&lead.text.plain)).collect();
        let pairs = (0..said.len()).flat_map(|one| (one + 1..said.len()).map(move |other| (one, other)));
        for (one, other) in pairs {
            for mine in &said[one] {
                // The same range in both leads is no contrast.
                let differs = |theirs: &Ranged| (theirs.low, theirs.high) != (mine.low, mine.high);
                let same = said[other].iter().find(|theirs| theirs.words == mine.words && differs(theirs));
                let Some(theirs) =
                    same.filter(|theirs| mine.low.max(theirs.low) < mine.high.min(theirs.high))
                else {
                    continue;
                };
                let lead = &couplet.leads[one];
                let advice = format!(
                    "the ranges of rivals overlap here, {} and {}; a plant between them fits both leads",
                    mine.printed, theirs.printed
                );
                doubts.push(Doubt {
                    kind: DoubtKind::Overlap,
                    page: lead.text.page(),
                    text: lead.text.plain.clone(),
                    advice,
                    about: DoubtAbout::Key(key.id),
                });
            }
        }
    }
}

fn ranges(text: &str) -> Vec<Ranged> {
    text.split([';', ',']).filter_map(ranged).collect()
}

fn ranged(clause: &str) -> Option<Ranged> {
    let usual = EXTREME.replace_all(clause, "");
    let mut found = RANGE.captures_iter(&usual);
    let (range, None) = (found.next()?, found.next()) else { return None };
    let whole = range.get(0)?;
    let words = format!("{} # {}", &usual[..whole.start()], &usual[whole.end()..]).to_lowercase();
    let words: Vec<&str> = words.split_whitespace().map(|word| word.trim_end_matches('.')).collect();
    if words.iter().any(|word| LOOSE.contains(word) || word.contains(|c: char| c.is_ascii_digit())) {
        return None;
    }
    let (low, high) = (range[1].parse().ok()?, range[2].parse().ok()?);
    Some(Ranged { words: words.join(" "), low, high, printed: whole.as_str().to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_overlap(one: &str, other: &str, overlaps: bool) {
        let found = ranges(one).iter().any(|mine| {
            ranges(other).iter().any(|theirs| {
                mine.words == theirs.words && mine.low.max(theirs.low) < mine.high.min(theirs.high)
            })
        });
        assert_eq!(found, overlaps, "{one} / {other}");
    }

    #[test]
    fn ranges_overlap_where_a_plant_fits_both() {
        check_overlap("Leaves 3–6 cm long", "Leaves 5–9 cm long", true);
        check_overlap("Leaves 3–5 cm long", "Leaves 5–9 cm long", false);
        check_overlap("Leaves 3–6(–8) cm long", "Leaves (5–)6–9 cm long", false);
        check_overlap("Leaves 3–6 cm long", "Petals 5–9 cm long", false);
        check_overlap("Leaves usually 3–6 cm long", "Leaves usually 5–9 cm long", false);
    }
}
