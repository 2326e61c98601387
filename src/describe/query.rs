//! What is asked, in the words of a flora or in plain ones, into parts: characters, months, districts, names, phrases
//! and words that only the text can answer. Nothing is looked for here.

use std::ops::Range;

use crate::clause::organ_of;
use crate::describe::concept::{Concepts, Named};
use crate::describe::kin::Thesaurus;
use crate::describe::read::{self, Ground, Inherits};
use crate::describe::season::{self, Months, Phase};
use crate::describe::token::{Lexeme, Token, tokens};
use crate::describe::{Degree, Fact, Frequency, Said, Span, What, adverb, colour, unit};

/// Words of the longest plain equivalent, district or name that is looked for.
const LONGEST: usize = 6;

/// Words that a question may hold without asking anything.
const IDLE: &[&str] = &[
    "in",
    "on",
    "at",
    "the",
    "a",
    "an",
    "and",
    "with",
    "of",
    "is",
    "are",
    "plant",
    "plants",
    "flowering",
    "seen",
    "found",
    "from",
    "leaves?",
];

/// What is known of a flora that a question may name.
pub trait Words {
    /// Returns a district's own name.
    fn district(&self, words: &str) -> Option<String>;
    /// Says whether a taxon has this name, scientific or vernacular, whole.
    fn is_name(&self, words: &str) -> bool;
    /// Says whether a taxon's name begins so or is spelled nearly so.
    fn is_nearly_name(&self, words: &str) -> bool;
    /// Says whether any description uses this state.
    fn says(&self, state: &str) -> bool;
}

/// One part of a question.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The words that it was read from, as typed.
    pub words: String,
    /// What is asked.
    pub asked: Asked,
}

/// What a part of a question asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Asked {
    /// A character; of several readings of the same words any will do.
    Character(Vec<Fact>),
    /// A taxon by name.
    Name(String),
    /// Quoted words in their order.
    Phrase(String),
    /// A word that no description uses as a state: it is looked for in the text.
    Word(String),
    /// Nothing that is known, with the terms spelled most like it.
    NotUnderstood(Vec<String>),
}

/// A question as it was understood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// Its parts in the order typed.
    pub parts: Vec<Part>,
}

/// A reader of questions.
struct Reader<'a> {
    /// What is left to read: blanks stand for what was taken out.
    left: String,
    /// What was typed, with blanks where a term is longer than the plain words it stands for.
    typed: String,
    concepts: &'a Concepts<'a>,
    thesaurus: &'a Thesaurus,
    words: &'a dyn Words,
    /// Parts with the byte that they begin at.
    found: Vec<(usize, Part)>,
    /// Plain words that were put into the glossary's: where, what was typed, and the same folded.
    put: Vec<(Range<usize>, String, String)>,
}

/// Reads a question.
pub fn asked(typed: &str, concepts: &Concepts<'_>, thesaurus: &Thesaurus, words: &dyn Words) -> Reading {
    let mut reader = Reader {
        left: typed.to_owned(),
        typed: typed.to_owned(),
        concepts,
        thesaurus,
        words,
        found: Vec::new(),
        put: Vec::new(),
    };
    reader.phrases();
    reader.runs();
    reader.elevations();
    reader.months();
    reader.characters();
    let mut found = reader.found;
    found.sort_by_key(|(at, _)| *at);
    Reading { parts: found.into_iter().map(|(_, part)| part).collect() }
}

impl Reader<'_> {
    fn add(&mut self, range: Range<usize>, asked: Asked) {
        let words = self.typed.get(range.clone()).unwrap_or_default().trim().to_owned();
        self.found.push((range.start, Part { words, asked }));
    }

    /// Puts blanks in the place of what was read, so that all else keeps its place.
    fn take(&mut self, range: Range<usize>) {
        let blanks = " ".repeat(range.len());
        self.left.replace_range(range, &blanks);
    }

    /// Takes out what stands in quotes.
    fn phrases(&mut self) {
        let mut from = 0;
        while let Some((open, close)) = quoted(&self.left, from) {
            let inside = self.left[open.end..close.start].trim().to_owned();
            let range = open.start..close.end;
            if !inside.is_empty() {
                self.add(range.clone(), Asked::Phrase(inside));
            }
            from = range.end;
            self.take(range);
        }
    }

    /// Takes out names and districts, and puts plain equivalents of several words into the glossary's own.
    fn runs(&mut self) {
        let mut at = 0;
        loop {
            let words: Vec<Token> = tokens(&self.left, 0..self.left.len())
                .into_iter()
                .filter(|token| token.range.start >= at)
                .collect();
            let Some(first) = words.iter().position(|token| token.word().is_some()) else { return };
            at = self.run(&words[first..]);
        }
    }

    /// Reads the longest name, district or plain equivalent that begins at the first word; returns where to go on.
    fn run(&mut self, words: &[Token]) -> usize {
        let count = words.iter().take(LONGEST).take_while(|token| token.word().is_some()).count();
        for length in (1..=count).rev() {
            let range = words[0].range.start..words[length - 1].range.end;
            let run = self.left[range.clone()].to_owned();
            let folded: Vec<&str> = words[..length].iter().filter_map(Token::word).collect();
            let folded = folded.join(" ");
            let known = length == 1 && self.is_plant_word(&folded);
            if let Some(district) = self.words.district(&run).filter(|_| !known) {
                self.add(
                    range.clone(),
                    Asked::Character(vec![fact(What::District(district), range.clone())]),
                );
                self.take(range.clone());
                return range.end;
            }
            let described = length > 1
                && folded.split(' ').all(|word| self.is_plant_word(word))
                && run.len() < self.typed.trim().len();
            if !known && !described && self.words.is_name(&run) && season::named(&run).is_none() {
                self.add(range.clone(), Asked::Name(run));
                self.take(range.clone());
                return range.end;
            }
            let hyphened = length == 1 && folded.contains('-');
            if (length > 1 || hyphened)
                && let Some(state) = self.plain(&folded, range.start)
            {
                let end = range.start + state.len().max(range.len());
                let blanks = |width: usize| " ".repeat(end - range.start - width);
                let wider = blanks(range.len());
                self.typed.insert_str(range.end, &wider);
                self.left.replace_range(range.clone(), &format!("{state}{}", blanks(state.len())));
                self.put.push((range.start..range.start + state.len(), run, folded));
                return end;
            }
        }
        words[0].range.end
    }

    /// Returns the first term that several plain words stand for.
    ///
    /// Where something is (`at the tip`) is no state, and of counted organs the number is asked (`3 joined carpels`).
    fn plain(&self, words: &str, start: usize) -> Option<String> {
        let counted = self.left[..start].trim_end().ends_with(|letter: char| letter.is_ascii_digit());
        let organs = words.split(' ').any(|word| organ_of(word).is_some());
        let colours = words.split(' ').all(colour::is_colour);
        if colours
            || words.starts_with("at ")
            || counted && organs
            || self.concepts.phrase(&words.replace('-', " ")).is_some()
        {
            return None;
        }
        self.thesaurus.meant(words, None).into_iter().next()
    }

    /// Says whether a word is known to descriptions: an organ, a term, a number, an adverb.
    fn is_plant_word(&self, word: &str) -> bool {
        let named = self.concepts.name(word);
        organ_of(word).is_some()
            || matches!(named, Some(Named::Known(_)))
            || adverb::frequency(word).is_some()
            || adverb::degree(word).is_some()
            || IDLE.contains(&word)
            || !self.thesaurus.meant(word, None).is_empty()
    }

    /// Takes out elevations: a height that `at`, `altitude` or `elevation` stands before, in metres or feet.
    fn elevations(&mut self) {
        let tokens = tokens(&self.left, 0..self.left.len());
        for (at, token) in tokens.iter().enumerate() {
            let Lexeme::Number(number, None) = &token.what else { continue };
            let unit = match tokens.get(at + 1).and_then(Token::word) {
                Some("m" | "metres" | "meters") => 1.0,
                Some("ft" | "feet") => 0.3048,
                Some(_) | None => continue,
            };
            let before = tokens[..at].iter().rev().take(2).filter_map(Token::word);
            let cue = before
                .into_iter()
                .any(|word| matches!(word, "at" | "altitude" | "elevation" | "alt" | "elev"));
            let behind = tokens.get(at + 2).and_then(Token::word);
            if cue || matches!(behind, Some("above" | "altitude" | "elevation" | "asl" | "a")) {
                let end = tokens[at + 1].range.end;
                let mut first = tokens[..at].iter().rev().take(2).filter(|token| {
                    token.word().is_some_and(|word| {
                        matches!(word, "at" | "altitude" | "elevation" | "alt" | "elev" | "of")
                    })
                });
                let start = first.next_back().map_or(token.range.start, |token| token.range.start);
                let span: Span = number.span.times(unit);
                self.add(start..end, Asked::Character(vec![fact(What::Elevation(span), start..end)]));
                self.take(start..end);
            }
        }
    }

    /// Takes out months: `July`, `flowering in July`, `June–August`, `fruiting in October`.
    fn months(&mut self) {
        let text = self.left.clone();
        let mut start = 0;
        for piece in text.split_inclusive([',', ';', '.']) {
            let range = start..start + piece.trim_end_matches([',', ';', '.']).len();
            start += piece.len();
            self.month(&text, range);
        }
    }

    fn month(&mut self, text: &str, range: Range<usize>) {
        let words: Vec<&str> = text[range.clone()]
            .split(|letter: char| !letter.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .collect();
        let is_month = |word: &&&str| season::named(word).is_some();
        let is_cue = |word: &str| {
            season::phase(word).is_some()
                || matches!(
                    word.to_lowercase().as_str(),
                    "in" | "from" | "to" | "and" | "or" | "early" | "late" | "mid"
                )
        };
        if !words.iter().any(|word| is_month(&word)) {
            return;
        }
        let may_alone = words.iter().filter(is_month).all(|word| word.eq_ignore_ascii_case("may"));
        let pure = words.iter().all(|word| season::named(word).is_some() || is_cue(word));
        let behind_in = words
            .windows(2)
            .any(|pair| pair[0].eq_ignore_ascii_case("in") && season::named(pair[1]).is_some());
        if !(pure || behind_in || !may_alone) {
            return;
        }
        let piece = &text[range.clone()];
        let mut phase = Phase::Flower;
        let mut months = Months::default();
        for period in season::periods(piece, season::Cue::Missing) {
            months = months.and(period.months).and(period.rarely);
            phase = period.phase;
        }
        let asked = What::Season(phase, months);
        if pure {
            self.add(range.clone(), Asked::Character(vec![fact(asked, range.clone())]));
            self.take(range);
            return;
        }
        let mut taken = Vec::new();
        for token in tokens(text, range.clone()) {
            let Some(word) = token.word() else { continue };
            if season::named(word).is_some() || matches!(word, "in" | "flowering" | "fruiting") {
                taken.push(token.range);
            }
        }
        if let (Some(first), Some(last)) = (taken.first(), taken.last()) {
            self.add(first.start..last.end, Asked::Character(vec![fact(asked, first.start..last.end)]));
        }
        for range in taken {
            self.take(range);
        }
    }

    /// Reads what is left as a description.
    fn characters(&mut self) {
        let ground = Ground { organ: None, inherits: Inherits::Nothing };
        let facts = read::facts(&self.left, self.concepts, ground);
        let described: Vec<&str> = facts
            .iter()
            .filter(|fact| fact.what != What::Presence)
            .flat_map(|fact| [fact.organ, fact.of])
            .flatten()
            .collect();
        let idle = |fact: &Fact| {
            fact.what == What::Presence
                && fact.said == Said::Is
                && fact.organ.is_some_and(|organ| described.contains(&organ))
                && organ_of(&self.left[fact.range.clone()].to_lowercase()).is_some()
        };
        let kept: Vec<Fact> = facts.iter().filter(|fact| !idle(fact)).cloned().collect();
        let mut at = 0;
        while at < kept.len() {
            let same = kept[at..]
                .iter()
                .take_while(|fact| fact.range == kept[at].range && alternative(fact, &kept[at]))
                .count();
            let group = kept[at..at + same].to_vec();
            if self.is_asked(&group[0]) {
                at += same;
                continue;
            }
            at += same + self.character(group, &kept[at + same..]);
        }
        self.blocked();
    }

    /// Says whether the same was asked before in other words (`nectary disc present`).
    fn is_asked(&self, fact: &Fact) -> bool {
        let same = |own: &Fact| {
            (own.organ, own.of, own.said) == (fact.organ, fact.of, fact.said) && own.what == fact.what
        };
        self.found.iter().any(
            |(_, part)| matches!(&part.asked, Asked::Character(facts) if facts.first().is_some_and(same)),
        )
    }

    /// Adds a character, or the name or word that it turns out to be; returns how many of the facts behind it took part.
    fn character(&mut self, mut group: Vec<Fact>, behind: &[Fact]) -> usize {
        let range = group[0].range.clone();
        let typed = self.typed[range.clone()].to_owned();
        let What::State(state) = group[0].what.clone() else {
            self.add(range, Asked::Character(group));
            return 0;
        };
        let state = state.as_str();
        let word = self.left[range.clone()].trim().to_lowercase();
        let known = matches!(self.concepts.name(&word), Some(Named::Known(_) | Named::Almost(_)))
            || self.concepts.phrase(&word).is_some()
            || group.len() > 1
            || !self.thesaurus.meant(&word, None).is_empty()
            || word.contains('-')
                && group
                    .iter()
                    .any(|fact| matches!(&fact.what, What::State(state) if self.words.says(state)));
        if known || self.words.says(state) {
            let mut words = self.typed[range.clone()].to_owned();
            if group.iter().all(|fact| fact.degree != Degree::Between) {
                let others = self.thesaurus.meant(&word, group[0].organ).into_iter().map(What::State);
                let others: Vec<Fact> = others.map(|what| Fact { what, ..group[0].clone() }).collect();
                group.extend(others);
            }
            if let Some((_, typed, folded)) = self.put.iter().find(|(put, ..)| put.start == range.start) {
                words.clone_from(typed);
                let others = self.thesaurus.meant(folded, group[0].organ).into_iter().map(What::State);
                let others: Vec<Fact> = others.map(|what| Fact { what, ..group[0].clone() }).collect();
                let own = group[0].what.clone();
                group.extend(others.into_iter().filter(|fact| fact.what != own));
            }
            self.found.push((range.start, Part { words, asked: Asked::Character(group) }));
            return 0;
        }
        // Unknown words beside one another may be a name together.
        let mut end = range.end;
        let mut taken = 0;
        for fact in behind {
            let joined = self.left[end..].len() >= self.left[fact.range.start.max(end)..].len()
                && self.left[end..fact.range.start.max(end)]
                    .chars()
                    .all(|letter| letter == ' ' || letter == '.');
            if !joined || !matches!(fact.what, What::State(_)) || fact.range.start < end {
                break;
            }
            let run = &self.typed[range.start..fact.range.end];
            if !self.words.is_nearly_name(run) {
                break;
            }
            end = fact.range.end;
            taken += 1;
        }
        if taken > 0 || self.words.is_nearly_name(&typed) {
            let name = self.typed[range.start..end].to_owned();
            self.add(range.start..end, Asked::Name(name));
            return taken;
        }
        let lexicon = self.concepts.lexicon();
        let near: Vec<String> =
            lexicon.nearest(&word, NEAREST).into_iter().map(|id| lexicon.get(id).name.clone()).collect();
        let asked = if near.is_empty() { Asked::Word(typed) } else { Asked::NotUnderstood(near) };
        self.add(range, asked);
        0
    }

    /// Adds what is left over because no fact was read from it: words of a part that are neither known nor idle.
    fn blocked(&mut self) {
        let left = tokens(&self.left, 0..self.left.len());
        for (at, token) in left.iter().enumerate() {
            let Lexeme::Number(..) = token.what else { continue };
            let used = self.found.iter().any(|(start, part)| {
                let end = start + part.words.len();
                token.range.start < end && token.range.end > *start
            });
            let unit = left.get(at + 1).and_then(Token::word).and_then(unit::millimetres);
            if !used && unit.is_none() {
                self.add(token.range.clone(), Asked::NotUnderstood(Vec::new()));
            }
        }
    }
}

/// Terms that are offered for a word that is not understood.
const NEAREST: usize = 3;

/// Says whether two facts are readings of the same words, of which either will do.
fn alternative(one: &Fact, first: &Fact) -> bool {
    let bare = |fact: &Fact| matches!(fact.what, What::State(_) | What::Presence);
    std::ptr::eq(one, first)
        || one.what == first.what
        || bare(one) && bare(first) && one.degree == first.degree
        || matches!((&one.what, &first.what), (What::Count(_), What::Count(_)))
}

/// Returns where the next quotes open and close; quotes that are not closed yet reach to the end.
fn quoted(text: &str, from: usize) -> Option<(Range<usize>, Range<usize>)> {
    let quotes = ['"', '“', '”'];
    let open = from + text[from..].find(quotes)?;
    let after = open + text[open..].chars().next().map_or(1, char::len_utf8);
    let close = text[after..].find(quotes).map_or(text.len(), |at| after + at);
    let end = close + text[close..].chars().next().map_or(0, char::len_utf8);
    Some((open..after, close..end))
}

fn fact(what: What, range: Range<usize>) -> Fact {
    let (degree, frequency) = (Degree::Plainly, Frequency::Always);
    Fact { organ: None, of: None, what, degree, frequency, said: Said::Is, range }
}
