//! What the pane below a text says of the marked word: its meaning by organ, its source, both parts of a compound.

use crate::model::Text;
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Sheet, term};
use crate::store::TaxonRow;
use crate::terms::{Sense, Term, TermId};

/// A definition, ready to be laid out.
#[derive(Clone, Debug)]
pub(crate) struct Pane {
    /// The word.
    pub(crate) title: String,
    /// Where the definition comes from.
    pub(crate) source: String,
    /// The paragraphs.
    pub(crate) texts: Vec<Text>,
    /// What is said beside the source where the pane is too low for all of it.
    pub(crate) goes_on: &'static str,
}

/// What is said of a definition that is cut.
const SHOWN_IN_FULL: &str = "▼ d shows all";

/// Returns what is to be said of a stop, if it is a word and no row.
pub(crate) fn pane(library: &Library, sheet: &Sheet, stop: usize) -> Option<Pane> {
    let stop = sheet.stops.get(stop)?;
    let printed = sheet.blocks.get(stop.block)?.text.plain.get(stop.range.clone())?;
    match &stop.go {
        Go::Terms(ids, sense) => Some(of_terms(library, printed, (ids, *sense))),
        Go::To(Item::Treatment(id)) => library.taxon_row(*id).map(|row| of_taxon(library, row)),
        Go::To(Item::Term(words)) => {
            let ids: Vec<TermId> =
                words.iter().filter_map(|word| library.lexicon.look_up(word).first().copied()).collect();
            Some(of_terms(library, printed, (&ids, None)))
        }
        Go::To(_)
        | Go::Paragraph(..)
        | Go::Flora(_)
        | Go::Decision(..)
        | Go::Branch(_)
        | Go::Plant(_)
        | Go::Tick(..) => None,
    }
}

/// Returns the list of letters with the words that they mark.
pub(crate) fn letters_pane<'a>(words: impl Iterator<Item = (char, &'a str)>) -> Pane {
    let mut composer = Composer::new();
    for (letter, word) in words {
        // The blank inside an item does not break, so that a letter stays with its word.
        composer =
            composer.bold(&letter.to_string()).add(&format!("\u{a0}{}   ", word.replace(' ', "\u{a0}")));
    }
    Pane {
        title: "press the letter of a word".to_owned(),
        source: "Esc closes".to_owned(),
        texts: vec![composer.text()],
        goes_on: "▼ goes on",
    }
}

fn of_terms(library: &Library, printed: &str, (ids, sense): (&[TermId], Option<usize>)) -> Pane {
    let terms: Vec<&Term> = ids.iter().map(|id| library.lexicon.get(*id)).collect();
    let mut sources: Vec<String> = terms.iter().map(|term| term::source(library, term)).collect();
    sources.dedup();
    let mut texts: Vec<Text> = Vec::new();
    for (at, term) in terms.iter().enumerate() {
        let picked = if at == 0 { sense } else { None };
        texts.push(meaning(term, picked));
    }
    Pane { title: printed.to_owned(), source: sources.join(" · "), texts, goes_on: SHOWN_IN_FULL }
}

/// Returns the sense that fits, and says that there are others.
fn meaning(term: &Term, picked: Option<usize>) -> Text {
    let composer = Composer::new().bold(&term.name).add(": ");
    let Some(sense) = picked.and_then(|at| term.senses.get(at)).or_else(|| term.senses.first()) else {
        return composer.add("no definition").text();
    };
    let mut composer = composer;
    if !sense.organs.is_empty() {
        composer = composer.italic(&format!("({}) ", sense.organs.join(", ")));
    }
    composer = composer.add(&sentence(sense));
    match term.senses.len() {
        0 | 1 => composer.text(),
        senses => composer.add(&format!(" (1 of {senses} senses; d shows all)")).text(),
    }
}

fn sentence(sense: &Sense) -> String {
    let mut words = sense.definition.trim_end_matches('.').to_owned();
    if !sense.plain.is_empty() {
        words.push_str("; in plain words ");
        words.push_str(&sense.plain.join(", "));
    }
    words.push('.');
    if !sense.contrasts.is_empty() {
        words.push_str(" Not ");
        words.push_str(&sense.contrasts.join(", "));
        words.push('.');
    }
    words
}

fn of_taxon(library: &Library, row: &TaxonRow) -> Pane {
    let authorship = row.authorship.as_ref().map(|authorship| format!(" {authorship}")).unwrap_or_default();
    let vernacular = match row.vernacular.as_slice() {
        [] => String::new(),
        names => format!(", {}", names.join(", ")),
    };
    let about = Composer::new()
        .bold(&row.name)
        .add(&format!("{authorship}{vernacular}: {} treated here.", row.rank.word()));
    Pane {
        title: row.name.clone(),
        source: library.page_words(row.pages.0),
        texts: vec![about.text()],
        goes_on: SHOWN_IN_FULL,
    }
}
