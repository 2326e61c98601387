//! Vernacular names before the Latin one in targets (`White Campion, Silene alba`; T12): whether a book prints them, and
//! where they begin in a lead whose target no gap, leader or type sets apart.

use crate::layout::{Block, Gap, Line};
use crate::name;
use crate::parse::compose::compose;

/// Leads with a leader or gap before such a target by which a book's convention is believed.
const BELIEVED: usize = 3;
/// Small words inside a vernacular name; before one they tell that a name of a place stands there.
const PARTICLES: &[&str] = &["of", "the", "in", "and", "or", "from", "on", "near", "to", "at", "by"];
/// Separators looked at from the end of a lead.
const MOST_SEPARATORS: usize = 3;

/// Says whether the book prints vernacular names before the Latin ones in the targets of its keys.
pub(super) fn is_convention(blocks: &[Block]) -> bool {
    let lines = blocks.iter().flat_map(|block| &block.lines);
    lines.filter(|line| led_words(line).is_some_and(|words| after(&words).is_some())).count() >= BELIEVED
}

/// The words after a line's leader or wide gap.
fn led_words(line: &Line) -> Option<String> {
    let at = line.runs.iter().rposition(|run| matches!(run.before, Gap::Leader | Gap::Wide))?;
    let tail = Line { runs: line.runs[at..].to_vec(), ..line.clone() };
    let words = compose([&tail]).text.plain;
    Some(words.trim_end_matches(['.', ' ']).to_owned())
}

/// Returns the Latin name of a target that opens with a vernacular one. Two Latin names after one another share their
/// genus or abbreviate it.
pub(super) fn after(words: &str) -> Option<&str> {
    let at = words.rfind([',', ';'])?;
    let (first, latin) = (&words[..at], words[at + 1..].trim_start());
    let parsed = name::parse(latin)?;
    let genus = |name: &str| name.split(' ').next().unwrap_or_default().to_owned();
    let other = name::parse(first).is_none_or(|one| {
        let own = genus(&one.name);
        // A genus alone before its species is what people call the plant.
        let bare = one.name == own && parsed.name.contains(' ');
        bare && one.rank != crate::model::Rank::Family || own != genus(&parsed.name) && !own.ends_with('.')
    });
    (other && parsed.end == latin.len() && !genus(&parsed.name).ends_with('.')).then_some(latin)
}

/// Finds the byte where a vernacular name and the Latin one after it begin, at the end of a lead.
pub(super) fn start(plain: &str, from: usize) -> Option<usize> {
    let plain = plain.trim_end().trim_end_matches('.');
    let tail = plain.get(from..)?;
    let separators = tail.rmatch_indices([',', ';']).take(MOST_SEPARATORS);
    separators.map(|(at, _)| from + at).find_map(|at| {
        let latin = plain[at + 1..].trim_start();
        let parsed = name::parse(latin)?;
        let species =
            parsed.name.contains(' ') && !parsed.name.contains('.') || parsed.name.contains(" var. ");
        let whole = parsed.end == latin.len() || latin[parsed.end..].trim() == "spp";
        (whole && (species || latin.ends_with(" spp"))).then(|| capitals_before(&plain[..at], from)).flatten()
    })
}

/// The byte where the capitalised words at the end of `plain` begin; some words must be left before them.
fn capitals_before(plain: &str, from: usize) -> Option<usize> {
    let mut start = None;
    let mut at = plain.len();
    while at > from {
        let word_start = plain[..at].rfind(' ').map_or(from, |blank| blank + 1).max(from);
        let word = &plain[word_start..at];
        let last = start.is_none();
        let closed = word.ends_with([',', ';', ':', ')', '.']) && word != "St.";
        if closed && !last {
            break;
        }
        if word.starts_with(char::is_uppercase) {
            start = Some(word_start);
        } else if last || !PARTICLES.contains(&word) {
            break;
        }
        at = plain[..word_start].trim_end().len();
    }
    let start = start?;
    let before = plain[from..start].trim_end().rsplit(' ').next().unwrap_or_default();
    (start > from && !before.is_empty() && !PARTICLES.contains(&before)).then_some(start)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_start(lead: &str, target: Option<&str>) {
        assert_eq!(start(lead, 0).map(|at| &lead[at..]), target);
    }

    #[test]
    fn a_vernacular_name_begins_after_the_last_small_word() {
        check_start("Leaves flat Sea Pink, Armeria alba.", Some("Sea Pink, Armeria alba."));
        check_start(
            "Leaves flat (1-2 dm. high) St. Olav's-wort, Silene alta.",
            Some("St. Olav's-wort, Silene alta."),
        );
        check_start("Leaves flat Star of the Shore; Silene alta", Some("Star of the Shore; Silene alta"));
        check_start("Plants of the Outer Skerries, Silene alta", None);
        check_start("Leaves flat, glabrous", None);
    }

    #[test]
    fn the_latin_name_stands_after_the_vernacular_one() {
        assert_eq!(after("White Campion, Silene alba"), Some("Silene alba"));
        assert_eq!(after("Silene, Silene alba"), Some("Silene alba"));
        assert_eq!(after("Silene alba, Silene nigra"), None);
    }
}
