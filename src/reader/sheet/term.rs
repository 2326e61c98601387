//! A term in full: every source that has it, every sense with its organs, and the terms around it.

use crate::link::{Composed, compose};
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::sheet::{Block, Composer, Go, Kind, Sheet, Stop, drawn};
use crate::terms::{Origin, Sense, Term, TermId};

/// Puts one term together, or the parts of a compound one after the other.
pub(super) fn sheet(library: &Library, words: &[String]) -> Sheet {
    let mut sheet = Sheet::titled(words.join(" + "));
    sheet.drawings = drawn::of_term(library, words);
    let mut sources = 0;
    for word in words {
        let ids = library.lexicon.look_up(word);
        sources += ids.len();
        if ids.is_empty() {
            match compose(word, &library.lexicon) {
                Some(composed) => composed_entry(&mut sheet, library, (word, &composed)),
                None => unknown(&mut sheet, library, word),
            }
        }
        for id in ids {
            entry(&mut sheet, library, (word, id));
        }
    }
    if sources > 0 {
        let row = Composer::new().add("Where it is used in this flora, by organ").text();
        sheet.push_row(row, 0, Go::To(Item::Uses(words.to_vec())));
    }
    sheet.about = if sources == 1 { "glossary".to_owned() } else { format!("glossary · {sources} entries") };
    sheet
}

/// Returns where a term comes from, in words.
pub(super) fn source(library: &Library, term: &Term) -> String {
    match (&term.origin, term.page) {
        (Origin::Flora(_), Some(page)) => format!("this flora, {}", library.page_words(page)),
        (Origin::Flora(_) | Origin::Reader | Origin::Other(_) | Origin::BuiltIn, _) => term.source(),
    }
}

/// Says how a word that no glossary has is composed, and what its part means.
fn composed_entry(sheet: &mut Sheet, library: &Library, (word, composed): (&str, &Composed)) {
    sheet.heading(word);
    let words = format!("{}.", composed.explained(&library.lexicon));
    sheet.push(Kind::Body, Composer::new().add(&words).text());
    sheet.faint("No glossary here has this word; it is explained from its parts.");
    let name = library.lexicon.get(composed.part).name.clone();
    entry(sheet, library, (&name, composed.part));
}

fn unknown(sheet: &mut Sheet, library: &Library, word: &str) {
    sheet.heading(word);
    sheet.faint("No glossary here has this word.");
    let near = library.lexicon.nearest(word, NEAR);
    if !near.is_empty() {
        let names: Vec<String> = near.iter().map(|id| library.lexicon.get(*id).name.clone()).collect();
        listed(sheet, library, ("Near it", &names));
    }
}

/// Words offered in place of one that is unknown.
const NEAR: usize = 6;

fn entry(sheet: &mut Sheet, library: &Library, (word, id): (&str, TermId)) {
    let term = library.lexicon.get(id);
    let sent = library.lexicon.by_name(word).is_some_and(|own| library.lexicon.get(own).see.is_some());
    let composer = if sent && term.name != word {
        Composer::new().add(&format!("{word}, see "))
    } else {
        Composer::new()
    };
    sheet.push(Kind::Heading, composer.bold(&term.name).text());
    if !term.forms.is_empty() {
        sheet.push(Kind::Body, Composer::new().add("Also ").italic(&term.forms.join(", ")).text());
    }
    for (at, sense) in term.senses.iter().enumerate() {
        let number = if term.senses.len() > 1 { format!("{}. ", at + 1) } else { String::new() };
        senses(sheet, library, (&number, sense));
    }
    sheet.faint(&format!("From {}.", source(library, term)));
    if let (Origin::Flora(_), Some(page)) = (&term.origin, term.page) {
        sheet.page.get_or_insert(page);
        let words = format!("Read it in the book, {}", library.page_words(page));
        sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(Item::Page(page)));
    }
}

fn senses(sheet: &mut Sheet, library: &Library, (number, sense): (&str, &Sense)) {
    let mut composer = Composer::new().add(number);
    if !sense.organs.is_empty() {
        composer = composer.italic(&format!("{}: ", sense.organs.join(", ")));
    }
    let from = composer.len();
    sheet.push_linked(library, composer.add(&sense.definition).text(), from);
    if !sense.plain.is_empty() {
        sheet.push(Kind::Body, Composer::new().add("In plain words: ").add(&sense.plain.join(", ")).text());
    }
    listed(sheet, library, ("Not the same as", &sense.contrasts));
    listed(sheet, library, ("A kind of", &sense.broader.iter().cloned().collect::<Vec<_>>()));
    if let Some(note) = &sense.note {
        let composer = Composer::new().add("Note: ");
        let from = composer.len();
        sheet.push_linked(library, composer.add(note).text(), from);
    }
}

/// Adds a line of terms, each of which leads to its own screen.
fn listed(sheet: &mut Sheet, library: &Library, (label, names): (&str, &[String])) {
    if names.is_empty() {
        return;
    }
    let mut composer = Composer::new().add(&format!("{label}: "));
    for (at, name) in names.iter().enumerate() {
        if at > 0 {
            composer = composer.add(", ");
        }
        let start = composer.len();
        composer = composer.add(name);
        if library.lexicon.knows(name) {
            let go = Go::To(Item::Term(vec![name.clone()]));
            sheet.stops.push(Stop {
                block: sheet.blocks.len(),
                range: start..composer.len(),
                go,
                organ: None,
                taxon: None,
            });
        }
    }
    sheet.blocks.push(Block { kind: Kind::Body, text: composer.text(), indent: 2, hang: 4 });
}
