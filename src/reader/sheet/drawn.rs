//! Which drawings stand beside a text: of a term and what it is told apart from, of the leads of a couplet, of a question.
//!
//! Where they stand and how large they are is not known here.

use std::collections::BTreeMap;

use crate::clause::bearers;
use crate::drill::{Kind, Question};
use crate::reader::library::Library;
use crate::reader::sheet::{Go, Sheet};
use crate::sketch::{self, Sketch};
use crate::terms::{Term, topic};

/// Terms drawn for one lead at most: the ends of a range.
const MOST_OF_A_LEAD: usize = 2;

/// Terms drawn on a term's screen at most, itself among them.
const MOST_OF_A_TERM: usize = 5;

/// A drawing that stands beside the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Drawing {
    /// What stands over it.
    pub(crate) caption: String,
    /// The term drawn.
    name: String,
    /// The term that it is set against, so that what differs stands out.
    against: Option<String>,
}

impl Drawing {
    fn of(caption: &str, name: &str) -> Self {
        Self { caption: caption.to_owned(), name: key(name), against: None }
    }

    fn against(self, other: &str) -> Self {
        Self { against: Some(key(other)), ..self }
    }

    /// Returns the drawing itself.
    pub(crate) fn sketch(&self) -> Option<Sketch> {
        let pair = self.against.as_ref().and_then(|other| sketch::pair(&self.name, other));
        pair.map(|[own, _]| own).or_else(|| sketch::of(&self.name))
    }
}

/// Says whether a term can be drawn.
pub(crate) fn is_drawn(name: &str) -> bool {
    let name = key(name);
    sketch::names().any(|drawn| drawn == name)
}

/// Returns the headword as drawings are named.
fn key(name: &str) -> String {
    name.to_lowercase()
}

/// Returns the drawings of a term, or of the parts of a compound, with those of the terms that it is not.
pub(super) fn of_term(library: &Library, words: &[String]) -> Vec<Drawing> {
    let entries = |word: &String| library.lexicon.look_up(word);
    let own: Vec<String> = words
        .iter()
        .filter_map(|word| {
            let names = entries(word).into_iter().map(|id| library.lexicon.get(id).name.clone());
            names.chain([word.clone()]).find(|name| is_drawn(name))
        })
        .collect();
    let senses = words.iter().flat_map(entries).flat_map(|id| &library.lexicon.get(id).senses);
    let mut others: Vec<&String> = Vec::new();
    for other in senses.flat_map(|sense| &sense.contrasts).filter(|other| is_drawn(other)) {
        if !others.contains(&other) && !own.iter().any(|name| key(name) == key(other)) {
            others.push(other);
        }
    }
    let [name] = own.as_slice() else {
        return own.iter().map(|name| Drawing::of(name, name)).collect();
    };
    let first = Drawing::of(name, name);
    let first = match others.first() {
        Some(other) => first.against(other),
        None => first,
    };
    let others = others.into_iter().map(|other| Drawing::of(&format!("not {other}"), other).against(name));
    std::iter::once(first).chain(others).take(MOST_OF_A_TERM).collect()
}

/// Returns the drawings of the terms by which the leads of a couplet differ: of the topic that most leads speak of.
pub(super) fn of_leads(library: &Library, sheet: &Sheet) -> Vec<Drawing> {
    let leads = drawn_by_lead(library, sheet);
    let mut topics: BTreeMap<&str, usize> = BTreeMap::new();
    for names in &leads {
        let mut of_lead: Vec<&str> = names.iter().map(|name| topic(name).unwrap_or_default()).collect();
        of_lead.sort_unstable();
        of_lead.dedup();
        for topic in of_lead {
            *topics.entry(topic).or_default() += 1;
        }
    }
    // Of topics that equally many leads speak of, the one that the first lead names first.
    let most = topics.values().max().copied().unwrap_or(0);
    let named = leads.iter().flatten().map(|name| topic(name).unwrap_or_default());
    let Some(chosen) = named.clone().find(|topic| topics.get(topic) == Some(&most)) else {
        return Vec::new();
    };
    let mut drawings = Vec::new();
    for (at, names) in leads.iter().enumerate() {
        let of_topic = names.iter().filter(|name| topic(name).unwrap_or_default() == chosen);
        let label = label(sheet, at);
        drawings
            .extend(of_topic.take(MOST_OF_A_LEAD).map(|name| Drawing::of(&format!("{label} {name}"), name)));
    }
    if let [one, other] = &mut drawings[..] {
        (one.against, other.against) = (Some(other.name.clone()), Some(one.name.clone()));
    }
    drawings
}

/// Returns for each lead the terms that can be drawn, without those that all leads name.
fn drawn_by_lead(library: &Library, sheet: &Sheet) -> Vec<Vec<String>> {
    let mut leads: Vec<Vec<String>> = vec![Vec::new(); sheet.leads.len()];
    for stop in &sheet.stops {
        let (Go::Terms(ids, _), Some(lead)) = (&stop.go, leads.get_mut(stop.block)) else { continue };
        let terms = ids.iter().map(|id| library.lexicon.get(*id));
        let fitting = terms.filter(|term| stop.organ.is_none_or(|organ| is_said_of(term, organ)));
        for name in fitting.map(|term| key(&term.name)) {
            if is_drawn(&name) && !lead.contains(&name) {
                lead.push(name);
            }
        }
    }
    let all: Vec<String> = leads.first().cloned().unwrap_or_default();
    let all: Vec<String> =
        all.into_iter().filter(|name| leads.iter().all(|lead| lead.contains(name))).collect();
    for lead in &mut leads {
        lead.retain(|name| !all.contains(name));
    }
    leads
}

/// Says whether a term is said of an organ in its first sense, which is the one that is drawn: a divided tuber is not
/// drawn as a leaf that is divided.
fn is_said_of(term: &Term, organ: &str) -> bool {
    term.senses.first().is_none_or(|sense| {
        sense.organs.is_empty() || bearers(organ).any(|bearer| sense.organs.iter().any(|own| own == bearer))
    })
}

/// Returns what a lead is called over its drawing: its label where no other lead has the same, else its number.
fn label(sheet: &Sheet, at: usize) -> String {
    let own = &sheet.leads[at].label;
    let same = sheet.leads.iter().filter(|lead| lead.label == *own).count();
    if same == 1 { own.clone() } else { format!("{}.", at + 1) }
}

/// Returns the drawings of a question: the one that is to be named, or those to choose from.
pub(super) fn of_question(question: &Question, chosen: Option<usize>) -> Vec<Drawing> {
    let named = |at: usize, term: &str| {
        let number = (at + 1).to_string();
        if chosen.is_some() { format!("{number} {term}") } else { number }
    };
    match question.kind {
        Kind::Name | Kind::Meaning => Vec::new(),
        Kind::Drawing if chosen.is_some() => vec![Drawing::of(&question.term, &question.term)],
        Kind::Drawing => vec![Drawing::of("?", &question.term)],
        Kind::Which => {
            let choices = question.choices.iter().enumerate();
            choices.map(|(at, choice)| Drawing::of(&named(at, &choice.term), &choice.term)).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terms::Lexicon;

    #[track_caller]
    fn check_said_of(name: &str, organ: &str, said: bool) {
        let lexicon = Lexicon::built_in();
        let term = lexicon.get(lexicon.by_name(name).expect("a headword"));
        assert_eq!(is_said_of(term, organ), said, "{name} of {organ}");
    }

    #[test]
    fn what_is_said_of_leaves_is_not_drawn_for_tubers() {
        check_said_of("palmatisect", "leaf", true);
        check_said_of("palmatisect", "leaflet", true);
        check_said_of("palmatisect", "tuber", false);
    }
}
