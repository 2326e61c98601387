//! What the pane below a text says of the marked word: its meaning by organ, its source, both parts of a compound.

use crate::link::{Composed, Relation, compose, relation, sense_for};
use crate::model::Text;
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Sheet, Stop, term};
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
    pub(crate) goes_on: String,
}

/// What is said of a definition that is cut.
const SHOWN_IN_FULL: &str = "▼ {define} shows all";

/// Returns what is to be said of a stop, if it is a word and no row.
pub(crate) fn pane(library: &Library, sheet: &Sheet, stop: usize) -> Option<Pane> {
    let stop = sheet.stops.get(stop)?;
    let printed = sheet.blocks.get(stop.block)?.text.plain.get(stop.range.clone())?;
    if let Go::Terms(ids, sense) = &stop.go {
        let mut pane = of_terms(library, printed, (ids, *sense, stop.organ));
        pane.texts.extend(range_to(sheet, stop).map(|end| {
            Composer::new().add(&format!("Here a range: {printed} to {end}, and all between.")).text()
        }));
        return Some(pane);
    }
    if let Go::To(Item::Term(words)) = &stop.go {
        let ids: Vec<TermId> =
            words.iter().filter_map(|word| library.lexicon.look_up(word).first().copied()).collect();
        let composed =
            words.first().filter(|_| ids.is_empty()).and_then(|word| compose(word, &library.lexicon));
        return Some(composed.map_or_else(
            || of_terms(library, printed, (&ids, None, None)),
            |composed| of_composed(library, printed, &composed),
        ));
    }
    let Go::To(Item::Treatment(id)) = &stop.go else { return None };
    library.taxon_row(*id).map(|row| of_taxon(library, row))
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
        goes_on: "▼ goes on".to_owned(),
    }
}

/// Returns the term that a range beginning with this stop goes up to: `lanceolate to ovate`.
fn range_to<'a>(sheet: &'a Sheet, stop: &Stop) -> Option<&'a str> {
    let text = &sheet.blocks.get(stop.block)?.text.plain;
    let start = stop.range.end + text.get(stop.range.end..)?.strip_prefix(TO).map(|_| TO.len())?;
    let other = sheet.stops.iter().find(|other| other.block == stop.block && other.range.start == start)?;
    matches!(other.go, Go::Terms(..)).then(|| text.get(other.range.clone()))?
}

/// What stands between the ends of a range.
const TO: &str = " to ";

/// Returns every term of a sheet once, in order, with its meaning in one line and its screen.
pub(crate) fn glosses(library: &Library, sheet: &Sheet) -> Vec<(String, Item)> {
    let mut rows: Vec<(String, Item)> = Vec::new();
    for stop in &sheet.stops {
        let printed = sheet.blocks.get(stop.block).and_then(|block| block.text.plain.get(stop.range.clone()));
        let Some((printed, row)) = printed.zip(gloss(library, stop)) else { continue };
        if !rows.iter().any(|(_, item)| *item == row.1) {
            rows.push((format!("{}: {}", printed.to_lowercase(), row.0), row.1));
        }
    }
    rows
}

/// Returns the meaning of one stop, if it is a term.
fn gloss(library: &Library, stop: &Stop) -> Option<(String, Item)> {
    match &stop.go {
        Go::Terms(ids, sense) => {
            let terms: Vec<&Term> = ids.iter().map(|id| library.lexicon.get(*id)).collect();
            let one = |(at, term): (usize, &&Term)| {
                let picked = if at == 0 { *sense } else { sense_for(term, stop.organ) };
                let picked = picked.and_then(|at| term.senses.get(at));
                picked.or_else(|| term.senses.first()).map(|sense| sense.definition.clone())
            };
            let meanings: Vec<String> = terms.iter().enumerate().filter_map(one).collect();
            let names = terms.iter().map(|term| term.name.clone()).collect();
            Some((meanings.join(" + "), Item::Term(names)))
        }
        Go::To(item @ Item::Term(words)) => {
            let composed = compose(words.first()?, &library.lexicon)?;
            Some((composed.explained(&library.lexicon), item.clone()))
        }
        Go::To(_)
        | Go::Paragraph(..)
        | Go::Flora(_)
        | Go::Beyond(..)
        | Go::Decision(..)
        | Go::Branch(_)
        | Go::Plant(_)
        | Go::Tick(..)
        | Go::Answer(_)
        | Go::Ask => None,
    }
}

/// Says how a word that no glossary has is composed, and what its part means.
fn of_composed(library: &Library, printed: &str, composed: &Composed) -> Pane {
    let term = library.lexicon.get(composed.part);
    let explained = composed.explained(&library.lexicon);
    let texts = vec![
        Composer::new().bold(&printed.to_lowercase()).add(&format!(": {explained}.")).text(),
        meaning(term, None),
    ];
    let source = format!("no entry; composed after {}", term::source(library, term));
    Pane { title: printed.to_owned(), source, texts, goes_on: SHOWN_IN_FULL.to_owned() }
}

fn of_terms(
    library: &Library,
    printed: &str,
    (ids, sense, organ): (&[TermId], Option<usize>, Option<&str>),
) -> Pane {
    let terms: Vec<&Term> = ids.iter().map(|id| library.lexicon.get(*id)).collect();
    let mut sources: Vec<String> = terms.iter().map(|term| term::source(library, term)).collect();
    sources.dedup();
    let mut texts: Vec<Text> = Vec::new();
    if ids.len() > 1 {
        let words = match relation(ids, &library.lexicon) {
            Relation::Between => "Between the two, nearer the last:",
            Relation::Both => "Both at once:",
        };
        texts.push(Composer::new().add(words).text());
    }
    for (at, term) in terms.iter().enumerate() {
        let picked = if at == 0 { sense } else { sense_for(term, organ) };
        texts.push(meaning(term, picked));
    }
    Pane { title: printed.to_owned(), source: sources.join(" · "), texts, goes_on: SHOWN_IN_FULL.to_owned() }
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
        senses => composer.add(&format!(" (1 of {senses} senses; {{define}} shows all)")).text(),
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
        goes_on: SHOWN_IN_FULL.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Page;
    use crate::reader::sheet::{Block, Kind};
    use crate::terms::Lexicon;

    /// Checks up to what a range goes that begins with the first of two words of a text.
    #[track_caller]
    fn check_range(text: &str, (first, second): (&str, &str), expected: Option<&str>) {
        let lexicon = Lexicon::built_in();
        let stop = |word: &str| {
            let start = text.find(word).expect("the word is there");
            let go = Go::Terms(lexicon.look_up(word), None);
            Stop { block: 0, range: start..start + word.len(), go, organ: None, taxon: None }
        };
        let block = Block { kind: Kind::Body, text: Text::plain(text, Page(1)), indent: 0, hang: 0 };
        let sheet = Sheet { blocks: vec![block], stops: vec![stop(first), stop(second)], ..Sheet::default() };
        assert_eq!(range_to(&sheet, &sheet.stops[0]), expected, "{text}");
    }

    #[test]
    fn a_range_goes_from_one_term_to_the_other() {
        check_range("Leaves lanceolate to ovate", ("lanceolate", "ovate"), Some("ovate"));
        check_range("Leaves lanceolate or ovate", ("lanceolate", "ovate"), None);
        check_range("Leaves lanceolate to 3 cm, ovate", ("lanceolate", "ovate"), None);
    }
}
