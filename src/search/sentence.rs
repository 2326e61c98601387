//! Of a document that was found, the sentence that holds the most of the words, cut where it is very long.

use std::ops::Range;

use crate::model::Page;
use crate::search::ask::Want;
use crate::search::document::Piece;
use crate::search::words::{self, Word};

/// Bytes of a sentence that is shown whole; about three lines of a narrow screen.
const LONGEST: usize = 240;

/// Bytes kept before the first word found in a sentence that is too long.
const BEFORE: usize = 60;

/// Letters of the longest word before a full stop that may be an abbreviation's (`subsp.`).
const LONGEST_ABBREVIATION: usize = 6;

/// Abbreviations after which a capital or figure does not begin a sentence.
const ABBREVIATIONS: &[&str] = &[
    "al", "alt", "approx", "auct", "ca", "cf", "cult", "diam", "e.g", "elev", "excl", "fig", "fl", "flor",
    "fls", "fr", "i.e", "incl", "lvs", "nr", "pl", "pp", "sect", "sp", "spp", "ssp", "subg", "subsp", "syn",
    "var", "viz",
];

/// A sentence that was chosen.
struct Chosen<'a> {
    piece: &'a Piece,
    range: Range<usize>,
    held: Held<'a>,
}

/// How much of the wants a sentence holds.
#[derive(Default)]
struct Held<'a> {
    /// Words held; a phrase in its order counts one more.
    count: usize,
    /// Where the first of them stands.
    first: Option<usize>,
    /// The wants that are not held whole.
    unmet: Vec<&'a Want>,
}

/// Returns the best sentence for the wants and its page; what it lacks is shown by a second one.
pub(crate) fn best(pieces: &[Piece], wants: &[Want]) -> (String, Page) {
    let wants: Vec<&Want> = wants.iter().collect();
    let Some(best) = choose(pieces, &wants) else { return (String::new(), Page(1)) };
    let page = best.piece.page_at(best.held.first.unwrap_or(best.range.start));
    let mut shown = best.shown();
    if best.held.count > 0
        && let Some(second) = choose(pieces, &best.held.unmet).filter(|second| second.held.count > 0)
    {
        shown = format!("{shown} … {}", second.shown());
    }
    (shown, page)
}

/// Returns the sentence that holds most of the wants, the first of several.
fn choose<'a>(pieces: &'a [Piece], wants: &[&'a Want]) -> Option<Chosen<'a>> {
    let mut best: Option<Chosen> = None;
    for piece in pieces {
        let words = words::words(&piece.text);
        for range in sentences(&piece.text) {
            let from = words.partition_point(|word| word.range.start < range.start);
            let to = words.partition_point(|word| word.range.start < range.end);
            let held = held(&words[from..to], wants);
            if best.as_ref().is_none_or(|best| held.count > best.held.count) {
                best = Some(Chosen { piece, range, held });
            }
        }
    }
    best
}

/// Finds how much of the wants the words hold.
fn held<'a>(words: &[Word], wants: &[&'a Want]) -> Held<'a> {
    let mut held = Held::default();
    for &want in wants {
        let length = want.words().len();
        let whole =
            words.windows(length).find(|run| run.iter().enumerate().all(|(at, word)| want.fits(at, word)));
        let met = if let Some(run) = whole {
            held.count += length + 1;
            run.first().map(|word| word.range.start)
        } else {
            held.unmet.push(want);
            let parts = (0..length).filter_map(|at| words.iter().find(|word| want.fits(at, word)));
            let starts: Vec<usize> = parts.map(|word| word.range.start).collect();
            held.count += starts.len();
            starts.into_iter().min()
        };
        held.first = held.first.into_iter().chain(met).min();
    }
    held
}

impl Chosen<'_> {
    /// Returns the sentence's words.
    fn shown(&self) -> String {
        shortened(&self.piece.text, self.range.clone(), self.held.first.unwrap_or(self.range.start))
    }
}

/// Returns the sentences of a text.
pub(crate) fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut sentences = Vec::new();
    let mut start = 0;
    for (at, _) in text.match_indices(['.', '?', '!']) {
        let after = &text[at + 1..];
        let begins = after.strip_prefix(' ').and_then(|next| next.chars().next());
        let new =
            begins.is_some_and(|next| next.is_uppercase() || next.is_numeric() || "“\"(".contains(next));
        if new && !is_abbreviation(&text[start..at]) {
            sentences.push(start..at + 1);
            start = at + 2;
        }
    }
    if start < text.len() {
        sentences.push(start..text.len());
    }
    sentences
}

/// Says whether the text ends with an abbreviation or an initial.
fn is_abbreviation(text: &str) -> bool {
    let word = text.rsplit([' ', '(', '–']).next().unwrap_or_default();
    let letters = word.chars().count();
    let initial = letters == 1 && word.chars().all(char::is_alphabetic);
    initial || letters <= LONGEST_ABBREVIATION && ABBREVIATIONS.contains(&word.to_lowercase().as_str())
}

/// Returns a sentence, cut at word ends around the first word found where it is too long.
fn shortened(text: &str, range: Range<usize>, first: usize) -> String {
    if range.len() <= LONGEST {
        return text[range].to_owned();
    }
    let blanks = |from: usize, to: usize| text[from..to].match_indices(' ').map(move |(at, _)| from + at);
    let from = match first - range.start {
        0..=BEFORE => range.start,
        _ => blanks(range.start, first).map(|at| at + 1).find(|at| first - at <= BEFORE).unwrap_or(first),
    };
    let to = match range.end - from {
        0..=LONGEST => range.end,
        _ => blanks(from, range.end).take_while(|at| at - from <= LONGEST).last().unwrap_or(range.end),
    };
    let (before, after) =
        (if from > range.start { "… " } else { "" }, if to < range.end { " …" } else { "" });
    format!("{before}{}{after}", &text[from..to])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::search::ask;

    /// Checks the sentence shown for `asked`; a `|` in the text begins page 2.
    #[track_caller]
    fn check_best(text: &str, asked: &str, expected: &str, page: u32) {
        let mut pages = vec![(0, Page(1))];
        pages.extend(text.find('|').map(|at| (at as u32, Page(2))));
        let piece = Piece { text: text.replace('|', ""), pages };
        assert_eq!(best(&[piece], &ask::wants(asked)), (expected.to_owned(), Page(page)));
    }

    #[test]
    fn the_sentence_with_most_words_is_shown_with_its_page() {
        check_best("Leaves hairy. |Calyx hairy below. Seeds many.", "calyx hairy ", "Calyx hairy below.", 2);
    }

    #[test]
    fn a_word_that_the_sentence_lacks_is_shown_by_a_second_one() {
        check_best(
            "Leaves hairy. Calyx red, ribbed. |Seeds many.",
            "ribbed calyx seeds ",
            "Calyx red, ribbed. … Seeds many.",
            1,
        );
    }

    #[test]
    fn a_phrase_in_its_order_is_better_than_its_words() {
        check_best("Style red, calyx long. Style long, red.", "\"style long\"", "Style long, red.", 1);
    }

    #[test]
    fn an_abbreviation_ends_no_sentence() {
        check_best(
            "Like S. alba subsp. Rupestris. Petals red.",
            "rupestris ",
            "Like S. alba subsp. Rupestris.",
            1,
        );
        check_best("Petals red. Seeds ca. 5, flat.", "flat ", "Seeds ca. 5, flat.", 1);
    }

    #[test]
    fn a_long_sentence_is_cut_at_words_around_the_first_one_found() {
        let long = format!("{}spur short {}end.", "petals white, ".repeat(20), "seeds black, ".repeat(30));
        let (shown, _) = best(&[Piece { text: long, pages: Vec::new() }], &ask::wants("spur "));
        assert!(shown.starts_with("… ") && shown.ends_with(" …") && shown.contains("spur short"), "{shown}");
        assert!(shown.len() <= LONGEST + 2 * "… ".len(), "{}", shown.len());
    }
}
