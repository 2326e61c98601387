//! What is asked, in the words of a flora or in plain ones, into parts: characters, months, districts, names, phrases
//! and words that only the text can answer. Nothing is looked for here.

use std::ops::Range;

use crate::clause::organ_of;
use crate::describe::concept::{Concepts, Named};
use crate::describe::kin::Thesaurus;
use crate::describe::read::{self, Ground, Inherits};
use crate::describe::season::{self, Months, Phase};
use crate::describe::token::{Lexeme, Token, tokens};
use crate::describe::{Degree, Fact, Frequency, Said, Span, What, adverb, unit};

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
    typed: &'a str,
    concepts: &'a Concepts<'a>,
    thesaurus: &'a Thesaurus,
    words: &'a dyn Words,
    /// Parts with the byte that they begin at.
    found: Vec<(usize, Part)>,
    /// Plain words that were put into the glossary's: where, and what was typed.
    put: Vec<(Range<usize>, String)>,
}

/// Reads a question.
pub fn asked(typed: &str, concepts: &Concepts<'_>, thesaurus: &Thesaurus, words: &dyn Words) -> Reading {
    let mut reader = Reader {
        left: typed.to_owned(),
        typed,
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
            if !known && self.words.is_name(&run) && season::named(&run).is_none() {
                self.add(range.clone(), Asked::Name(run));
                self.take(range.clone());
                return range.end;
            }
            if length > 1
                && let Some(state) = self.plain(&folded)
            {
                let width = state.len();
                self.put.push((range.start..range.start + width.max(1), run));
                let padded = format!("{state}{}", " ".repeat(range.len().saturating_sub(width)));
                if padded.len() == range.len() {
                    self.left.replace_range(range.clone(), &padded);
                }
                return range.end;
            }
        }
        words[0].range.end
    }

    /// Returns the term that plain words of several words stand for, if it is no longer than they are.
    fn plain(&self, words: &str) -> Option<String> {
        if self.concepts.phrase(words).is_some() {
            return None;
        }
        let meant = self.thesaurus.meant(words, None);
        meant.into_iter().find(|name| name.len() <= words.len())
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
                let first = tokens[..at].iter().rev().take(2).filter(|token| {
                    token.word().is_some_and(|word| {
                        matches!(word, "at" | "altitude" | "elevation" | "alt" | "elev" | "of")
                    })
                });
                let start = first.last().map_or(token.range.start, |token| token.range.start);
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
        taken.into_iter().for_each(|range| self.take(range));
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
            at += same + self.character(group, &kept[at + same..]);
        }
        self.blocked();
    }

    /// Adds a character, or the name or word that it turns out to be; returns how many of the facts behind it took part.
    fn character(&mut self, group: Vec<Fact>, behind: &[Fact]) -> usize {
        let range = group[0].range.clone();
        let typed = self.typed[range.clone()].to_owned();
        let What::State(state) = &group[0].what else {
            self.add(range, Asked::Character(group));
            return 0;
        };
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
            let original =
                self.put.iter().find(|(put, _)| put.start == range.start).map(|(_, typed)| typed.clone());
            let words = original.unwrap_or_else(|| self.typed[range.clone()].to_owned());
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::describe::tests::shown;
    use crate::terms::Lexicon;

    struct Isles;

    impl Words for Isles {
        fn district(&self, words: &str) -> Option<String> {
            ["Vane", "North Skerry"]
                .into_iter()
                .find(|name| name.eq_ignore_ascii_case(words))
                .map(str::to_owned)
        }

        fn is_name(&self, words: &str) -> bool {
            ["silene alta", "silene", "skerry campion"].contains(&words.to_lowercase().as_str())
        }

        fn is_nearly_name(&self, words: &str) -> bool {
            ["silen", "skerry campi", "campion"].contains(&words.to_lowercase().as_str())
        }

        fn says(&self, state: &str) -> bool {
            ["bog", "lime-encrusted"].contains(&state)
        }
    }

    #[track_caller]
    fn check(typed: &str, expected: &[&str]) {
        let lexicon = Lexicon::built_in();
        let (concepts, thesaurus) = (Concepts::new(&lexicon), Thesaurus::new(&lexicon));
        let show = |part: &Part| match &part.asked {
            Asked::Character(facts) => facts
                .iter()
                .map(|fact| match &fact.what {
                    What::Season(_, months) => format!("months {:?}", months.list()),
                    What::District(name) => format!("in {name}"),
                    What::Elevation(span) => format!("at {} m", span.low),
                    _ => shown(fact),
                })
                .collect::<Vec<_>>()
                .join(" | "),
            Asked::Name(name) => format!("name {name}"),
            Asked::Phrase(words) => format!("“{words}”"),
            Asked::Word(word) => format!("word {word}"),
            Asked::NotUnderstood(near) => format!("{}? {}", part.words, near.join(" ")),
        };
        let reading = asked(typed, &concepts, &thesaurus, &Isles);
        assert_eq!(reading.parts.iter().map(show).collect::<Vec<_>>(), expected, "{typed}");
    }

    #[test]
    fn a_question_is_read_as_a_description() {
        check(
            "leaves opposite, hairless; petals 5, yellow, 8 mm; not spiny; July",
            &[
                "leaf opposite",
                "leaf hairless | leaf/hair not there",
                "petal #5..5",
                "petal yellow",
                "petal 8..8 mm",
                "- not spiny | spine not there",
                "months [7]",
            ],
        );
    }

    #[test]
    fn an_organ_alone_is_asked_for() {
        check("spines", &["spine there"]);
        check("no spines", &["spine not there"]);
        check("without stipules", &["stipule not there"]);
    }

    #[test]
    fn names_districts_and_phrases_are_known() {
        check("Silene alta", &["name Silene alta"]);
        check("skerry campi", &["name skerry campi"]);
        check("silen, leaves hairy", &["name silen", "leaf hairy | leaf/hair there"]);
        check("leaves hairy; North Skerry", &["leaf hairy | leaf/hair there", "in North Skerry"]);
        check("\"calyx inflated\" vane", &["“calyx inflated”", "in Vane"]);
    }

    #[test]
    fn plain_words_of_several_are_put_into_terms() {
        check("leaves long and narrow", &["leaf linear"]);
    }

    #[test]
    fn months_and_elevations_are_known() {
        check("flowering in May", &["months [5]"]);
        check("petals white; June-August", &["petal white", "months [6, 7, 8]"]);
        check("leaves hairy, at 800 m", &["leaf hairy | leaf/hair there", "at 800 m"]);
        check("tree 8 m tall", &["plant tree", "plant 8000..8000 mm tall"]);
    }

    #[test]
    fn what_is_not_understood_is_said() {
        check("leaves lancolate", &["lancolate? lanceolate lineolate"]);
        check("petals 5, bog", &["petal #5..5", "petal bog"]);
    }

    #[test]
    fn counts_may_stand_before_their_noun() {
        check("5 white petals", &["petal #5..5", "petal white"]);
        check("6 pairs of lateral veins", &["vein #6..6", "vein lateral"]);
    }
}
