//! What a term may be taken for: the wrong answers of a question, the likeliest first, none of which is right as well.

use std::collections::BTreeSet;

use crate::drill::chance::Draw;
use crate::terms::form::fold;
use crate::terms::{Lexicon, Sense, Term, TermId, gloss, topic};

/// The term that is asked.
#[derive(Clone, Copy)]
pub(crate) struct Asked<'a> {
    /// Its entry.
    pub(crate) id: TermId,
    /// The entry itself.
    pub(crate) term: &'a Term,
    /// The sense that fitted where it stood.
    pub(crate) sense: &'a Sense,
}

/// How near a term comes to the one that is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Nearness {
    /// An entry says that the two are not the same.
    Contrast,
    /// They belong to one topic and are said of one organ.
    TopicAndOrgan,
    /// They belong to one topic.
    Topic,
    /// They are said of one organ.
    Organ,
    /// Neither.
    Far,
}

/// Returns the rivals that a test lets through, at most so many, each with the sense that it would have here.
pub(crate) fn rivals<'a>(
    lexicon: &'a Lexicon,
    asked: Asked<'a>,
    draw: Draw,
    (most, fits): (usize, &dyn Fn(&str) -> bool),
) -> Vec<(&'a Term, &'a Sense)> {
    let own: BTreeSet<TermId> = lexicon.look_up(&asked.term.name).into_iter().chain([asked.id]).collect();
    let known = Known::of(lexicon, asked, &own);
    let organ = known.organs.first().map(|organ| organ.as_str());
    let mut found: Vec<(Nearness, u64, &Term, &Sense)> = Vec::new();
    for (name, id) in lexicon.names() {
        let term = lexicon.get(id);
        let Some(sense) = gloss(term, organ) else { continue };
        let same = own.contains(&id) || lexicon.look_up(name).iter().any(|id| own.contains(id));
        if same || sense.definition == asked.sense.definition || is_kin(asked, term) || !fits(name) {
            continue;
        }
        found.push((known.nearness(term, sense), draw.number(name), term, sense));
    }
    found.sort_by(|one, other| (one.0, one.1, &one.2.name).cmp(&(other.0, other.1, &other.2.name)));
    found.into_iter().take(most).map(|(_, _, term, sense)| (term, sense)).collect()
}

/// Says whether one is a kind of the other, so that both would be right.
fn is_kin(asked: Asked<'_>, other: &Term) -> bool {
    let wider = |term: &Term, name: &str| {
        term.senses
            .iter()
            .filter_map(|sense| sense.broader.as_deref())
            .any(|broader| fold(broader) == fold(name))
    };
    wider(asked.term, &other.name) || wider(other, &asked.term.name)
}

/// What all glossaries say of the term that is asked; that of a book seldom tells organs and contrasts.
struct Known<'a> {
    name: &'a str,
    organs: Vec<&'a String>,
    contrasts: BTreeSet<String>,
    topic: Option<&'static str>,
}

impl<'a> Known<'a> {
    fn of(lexicon: &'a Lexicon, asked: Asked<'a>, own: &BTreeSet<TermId>) -> Self {
        let others = own.iter().flat_map(|id| &lexicon.get(*id).senses);
        let senses: Vec<&Sense> = std::iter::once(asked.sense).chain(others).collect();
        let told = senses.iter().find(|sense| !sense.organs.is_empty());
        Self {
            name: &asked.term.name,
            organs: told.map(|sense| sense.organs.iter().collect()).unwrap_or_default(),
            contrasts: senses
                .iter()
                .flat_map(|sense| &sense.contrasts)
                .map(|name| fold(name).into_owned())
                .collect(),
            topic: topic(&fold(&asked.term.name)),
        }
    }

    fn nearness(&self, term: &Term, sense: &Sense) -> Nearness {
        let name = fold(&term.name);
        let names_it = sense.contrasts.iter().any(|other| fold(other) == fold(self.name));
        if names_it || self.contrasts.contains(&*name) {
            return Nearness::Contrast;
        }
        let topic = self.topic.is_some() && self.topic == topic(&name);
        let organ = sense.organs.iter().any(|organ| self.organs.contains(&organ));
        match (topic, organ) {
            (true, true) => Nearness::TopicAndOrgan,
            (true, false) => Nearness::Topic,
            (false, true) => Nearness::Organ,
            (false, false) => Nearness::Far,
        }
    }
}
