//! Look-ups noticed: a term opened, marked by its letter, or marked long enough to be read. Each is remembered once a day
//! for the place where it stood.

use crate::describe::clause_at;
use crate::drill::{DAY, LookUp, Record};
use crate::link::compose;
use crate::reader::command::Command;
use crate::reader::library::Library;
use crate::reader::place::{Item, Screen};
use crate::reader::press::Press;
use crate::reader::sheet::{Go, Stop};
use crate::reader::state::{Effect, Overlay, State};
use crate::reader::textflow::shorten;
use crate::reader::update::leads;
use crate::terms::{Origin, TermId};

/// Seconds that a definition stands before it counts as read; going from word to word takes less.
const LONG_ENOUGH: u64 = 2;

/// Most columns of the words that a term stood among.
const MOST_SAID: usize = 200;

/// What there was before a press.
pub(super) struct Before {
    item: Item,
    /// The marked term's look-ups, where it is one.
    marked: Vec<LookUp>,
    /// Whether its definition stood long enough.
    read: bool,
    /// Whether the press goes along the way, where nothing is looked up.
    steps: bool,
    /// Whether the press picks a letter.
    letter: bool,
}

/// Notes what may turn into a look-up; without a press the mouse was used, or the reader ends.
pub(super) fn before(state: &State, press: Option<Press>) -> Before {
    let stop = state.way.here.cursor.stop;
    let since = state.shown_since.as_ref().filter(|(item, at, _)| {
        // A mark that was found again at the start has been read all the while.
        *item == state.way.here.item && Some(*at) == stop
    });
    let press = press.filter(|_| state.overlay == Overlay::None);
    let command = press.and_then(|press| state.keys.command(press, state.screen()));
    Before {
        item: state.way.here.item.clone(),
        marked: marked(state),
        read: since.is_none_or(|(_, _, since)| state.now.saturating_sub(*since) >= LONG_ENOUGH),
        steps: matches!(command, Some(Command::Back | Command::Forward)),
        letter: state.overlay == Overlay::Letters,
    }
}

/// Returns the lines to keep of what a press made a look-up.
pub(super) fn after(state: &mut State, before: Before) -> Vec<Effect> {
    let here = state.way.here.item.clone();
    let mut found = Vec::new();
    if before.letter {
        found.extend(marked(state));
    }
    // Whoever learns a term opens what they looked up already.
    let learning = matches!(before.item, Item::Drill(_) | Item::LookedUp);
    let opened = here != before.item && !before.steps && !learning && matches!(here, Item::Term(_));
    if opened && before.marked.is_empty() {
        found.extend(opened_from(state, &before.item, &here));
    }
    if before.read || opened {
        found.extend(before.marked);
    }
    let shown = state.way.here.cursor.stop.filter(|_| !state.screen().is_list());
    let same = matches!(&state.shown_since, Some((item, at, _)) if *item == here && Some(*at) == shown);
    if !same {
        state.shown_since = shown.map(|at| (here, at, state.now));
    }
    found.into_iter().filter_map(|look_up| remember(state, look_up)).collect()
}

/// Adds a look-up to the log, unless the same was looked up at the same place within a day.
fn remember(state: &mut State, look_up: LookUp) -> Option<Effect> {
    if state.log.has_since(state.now.saturating_sub(DAY), &look_up) {
        return None;
    }
    let record = Record::LookedUp(look_up);
    let line = record.line();
    state.log.push(record);
    if state.screen() == Screen::LookedUp {
        state.stale();
    }
    Some(Effect::Remember(line))
}

/// Returns the look-ups that the marked word would be: one for a term, one for each part of a compound.
fn marked(state: &State) -> Vec<LookUp> {
    let text = !state.screen().is_list();
    let (Some(library), Some(stop)) = (&state.library, leads::marked(state).filter(|_| text)) else {
        return Vec::new();
    };
    let (ids, sense) = terms_of(library, stop);
    let met = LookUp { said: said(state, stop), ..met(state, &state.way.here.item) };
    let one = |(at, id): (usize, TermId)| {
        let organ = sense.filter(|_| at == 0);
        of_term(library, (id, organ), met.clone())
    };
    ids.into_iter().enumerate().map(one).collect()
}

/// Returns the look-ups of a term opened from somewhere where no word was marked, such as the list of words.
fn opened_from(state: &State, from: &Item, term: &Item) -> Vec<LookUp> {
    let (Some(library), Item::Term(words)) = (&state.library, term) else { return Vec::new() };
    let ids = words.iter().filter_map(|word| entry(library, word));
    ids.map(|id| of_term(library, (id, None), met(state, from))).collect()
}

/// Returns the terms that a word leads to, with the sense that fits the first.
fn terms_of(library: &Library, stop: &Stop) -> (Vec<TermId>, Option<usize>) {
    match &stop.go {
        Go::Terms(ids, sense) => (ids.clone(), *sense),
        Go::To(Item::Term(words)) => (words.iter().filter_map(|word| entry(library, word)).collect(), None),
        _ => (Vec::new(), None),
    }
}

/// Returns the entry of a word, or of the part that a composed word is explained by.
fn entry(library: &Library, word: &str) -> Option<TermId> {
    let known = library.lexicon.look_up(word).first().copied();
    known.or_else(|| compose(word, &library.lexicon).map(|composed| composed.part))
}

fn of_term(library: &Library, (id, sense): (TermId, Option<usize>), met: LookUp) -> LookUp {
    let term = library.lexicon.get(id);
    let organ = sense.and_then(|at| term.senses.get(at)?.organs.first().cloned());
    let explained_by = match &term.origin {
        Origin::Flora(title) | Origin::Other(title) => Some(title.clone()),
        Origin::Reader | Origin::BuiltIn => None,
    };
    LookUp { term: term.name.clone(), organ, explained_by, ..met }
}

/// Returns time, flora, place and plant, without the term.
fn met(state: &State, item: &Item) -> LookUp {
    let flora = state.library.as_ref().map(|library| library.contents().title.clone());
    let plant = state.plants.is_keyed().then(|| state.plants.here().name.clone());
    let place = state.library.as_ref().map(|library| place(library, item)).unwrap_or_default();
    LookUp { at: state.now, flora, place, plant, ..LookUp::default() }
}

/// Returns a place in words.
fn place(library: &Library, item: &Item) -> String {
    let taxon = |id| library.taxon_row(id).map(|row| row.name.clone()).unwrap_or_default();
    match item {
        Item::Couplet(key, couplet) => {
            format!("couplet {} of {}", library.couplet_label(*key, *couplet), library.key_title(*key))
        }
        Item::Beside(spot) | Item::MeasuredLeads(spot, _) => {
            place(library, &Item::Couplet(spot.key, spot.couplet))
        }
        Item::Treatment(id) | Item::MeasuredTaxon(id, _) => format!("the treatment of {}", taxon(*id)),
        Item::Compare(taxa) => {
            format!("the comparison of {}", taxa.iter().map(|id| taxon(*id)).collect::<Vec<_>>().join(", "))
        }
        Item::Page(page) | Item::Text(page) => library.page_words(*page),
        Item::Term(words) | Item::Uses(words) => format!("the entry of {}", words.join(" + ")),
        Item::Matter(_) => "another piece of the book".to_owned(),
        _ => "the glossary".to_owned(),
    }
}

/// Returns the clause that a word stands in.
fn said(state: &State, stop: &Stop) -> String {
    let text = state.sheet.blocks.get(stop.block).map_or("", |block| &block.text.plain);
    let clause = clause_at(text, stop.range.start).and_then(|range| text.get(range)).unwrap_or_default();
    shorten(clause.trim(), MOST_SAID)
}
