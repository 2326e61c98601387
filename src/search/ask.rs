//! What is asked, as typed: words that must all occur, quoted phrases, and a last word that may still be unfinished.

use tantivy::Term;
use tantivy::query::{BooleanQuery, ConstScoreQuery, Occur, PhraseQuery, Query, RegexQuery, TermQuery};
use tantivy::schema::{Field, IndexRecordOption};

use crate::search::index::Fields;
use crate::search::words::{self, Word};

/// Score for documents with a name that is exactly what was asked; scores of plain words stay far below.
const WHOLE_NAME: f32 = 4000.0;
/// Score for documents that have all words in their names.
const IN_NAMES: f32 = 2000.0;
/// Score for documents that tell something, over mere lists.
const TELLING: f32 = 1000.0;

/// Letters before an unfinished word is taken for the beginning of longer ones.
const SHORTEST_PREFIX: usize = 2;

/// One thing that must occur.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Want {
    /// A word.
    Word(Word),
    /// A word or the beginning of one.
    Beginning(Word),
    /// Words in this order.
    Phrase(Vec<Word>),
}

/// Reads what was typed.
pub(crate) fn wants(typed: &str) -> Vec<Want> {
    let mut wants = Vec::new();
    for (at, part) in typed.split(['"', '“', '”']).enumerate() {
        let quoted = at % 2 == 1;
        if quoted {
            wants.extend(phrase(words::words(part)));
        } else {
            wants.extend(part.split_whitespace().filter_map(|typed| phrase(words::words(typed))));
        }
    }
    let finished = typed.ends_with(|last: char| !last.is_alphanumeric());
    if !finished && let Some(last) = wants.pop() {
        wants.extend(unfinished(last));
    }
    wants
}

/// Returns words that stand together as one want.
fn phrase(mut words: Vec<Word>) -> Option<Want> {
    match words.len() {
        0 => None,
        1 => words.pop().map(Want::Word),
        _ => Some(Want::Phrase(words)),
    }
}

/// Returns the last want as one that the typist may go on with.
fn unfinished(last: Want) -> Vec<Want> {
    match last {
        Want::Word(word) | Want::Beginning(word) if word.surface.chars().count() >= SHORTEST_PREFIX => {
            vec![Want::Beginning(word)]
        }
        Want::Phrase(mut words) => {
            let last = words.pop().into_iter().flat_map(|word| unfinished(Want::Word(word)));
            phrase(words).into_iter().chain(last).collect()
        }
        Want::Word(_) | Want::Beginning(_) => vec![last],
    }
}

impl Want {
    /// Returns the words.
    pub(crate) fn words(&self) -> &[Word] {
        match self {
            Self::Word(word) | Self::Beginning(word) => std::slice::from_ref(word),
            Self::Phrase(words) => words,
        }
    }

    /// Says whether a word of a text is the one at `at`.
    pub(crate) fn fits(&self, at: usize, word: &Word) -> bool {
        let Some(wanted) = self.words().get(at) else { return false };
        word.root == wanted.root
            || matches!(self, Self::Beginning(_)) && word.surface.starts_with(&wanted.surface)
    }

    /// Returns the query for it in one field.
    fn query(&self, field: Field) -> Box<dyn Query> {
        let term = |word: &Word| Term::from_field_text(field, &word.root);
        match self {
            Self::Word(word) => Box::new(TermQuery::new(term(word), IndexRecordOption::WithFreqs)),
            Self::Beginning(word) => {
                let exact = Box::new(TermQuery::new(term(word), IndexRecordOption::WithFreqs));
                // The surface holds only letters and digits, so it is its own pattern; the pattern is always valid.
                match RegexQuery::from_pattern(&format!("{}.*", word.surface), field) {
                    Ok(begins) => Box::new(BooleanQuery::union(vec![exact, Box::new(begins)])),
                    Err(_) => exact,
                }
            }
            Self::Phrase(words) => Box::new(PhraseQuery::new(words.iter().map(term).collect())),
        }
    }
}

/// Returns the query for all wants: they must occur, and names count before texts, texts before lists.
pub(crate) fn query(wants: &[Want], fields: &Fields) -> BooleanQuery {
    let all = |field| BooleanQuery::intersection(wants.iter().map(|want| want.query(field)).collect());
    let whole =
        wants.iter().flat_map(Want::words).map(|word| word.root.as_str()).collect::<Vec<_>>().join(" ");
    let whole = TermQuery::new(Term::from_field_text(fields.whole, &whole), IndexRecordOption::Basic);
    let telling =
        TermQuery::new(Term::from_field_text(fields.weight, super::index::TELLING), IndexRecordOption::Basic);
    let plus = |query: Box<dyn Query>, score| {
        (Occur::Should, Box::new(ConstScoreQuery::new(query, score)) as Box<dyn Query>)
    };
    BooleanQuery::new(vec![
        (Occur::Must, Box::new(all(fields.text))),
        (Occur::Should, Box::new(all(fields.names))),
        plus(Box::new(all(fields.names)), IN_NAMES),
        plus(Box::new(whole), WHOLE_NAME),
        plus(Box::new(telling), TELLING),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_wants(typed: &str, expected: &str) {
        let show = |want: &Want| match want {
            Want::Word(word) => word.surface.clone(),
            Want::Beginning(word) => format!("{}…", word.surface),
            Want::Phrase(words) => {
                format!("({})", words.iter().map(|word| word.surface.as_str()).collect::<Vec<_>>().join(" "))
            }
        };
        assert_eq!(wants(typed).iter().map(show).collect::<Vec<_>>().join(" "), expected);
    }

    #[test]
    fn the_last_word_may_go_on() {
        check_wants("calyx infl", "calyx infl…");
        check_wants("calyx inflated ", "calyx inflated");
        check_wants("calyx s", "calyx s");
    }

    #[test]
    fn quoted_words_are_a_phrase() {
        check_wants("\"calyx inflated\" glab", "(calyx inflated) glab…");
        check_wants("“calyx inflated”", "(calyx inflated)");
        check_wants("hairs \"on both", "hairs on both…");
    }

    #[test]
    fn a_compound_is_a_phrase_until_it_is_unfinished() {
        check_wants("half-inferior ovary ", "(half inferior) ovary");
        check_wants("half-inf", "half inf…");
    }

    #[test]
    fn signs_alone_ask_for_nothing() {
        check_wants(" × – \"\" ", "");
    }
}
