//! Questions drawn by seed from a flora's own descriptions: characters of a species, reworded with the glossary.

use ligule::model::{Flora, Rank, SectionKind, Taxon, TaxonId};
use ligule::terms::Lexicon;

/// Every so many species is asked for.
const EVERY: usize = 5;
/// Characters of a question.
const CHARACTERS: usize = 5;
/// What the draw begins with.
const SEED: u64 = 20_261_125;

/// Nouns that open a clause of the floras that the draw is made from.
const NOUNS: &[&str] = &[
    "stems",
    "stem",
    "twigs",
    "petioles",
    "leaves",
    "blades",
    "leaflets",
    "margins",
    "veins",
    "inflorescence",
    "bracts",
    "pedicels",
    "flowers",
    "calyx",
    "teeth",
    "sepals",
    "petals",
    "corolla",
    "stamens",
    "filaments",
    "anthers",
    "disc",
    "ovary",
    "placentation",
    "styles",
    "style",
    "stigma",
    "fruit",
    "drupe",
    "capsule",
    "achene",
    "nut",
    "legume",
    "berry",
    "follicle",
    "seeds",
    "hairs",
    "bark",
    "branches",
    "stipules",
    "herb",
    "tree",
    "shrub",
    "receptacle",
];

/// A question with the species that it was drawn from.
pub(crate) struct Drawn {
    /// The species.
    pub(crate) taxon: TaxonId,
    /// The question.
    pub(crate) words: String,
    /// The items that it was made from, as printed.
    pub(super) printed: Vec<String>,
}

/// A small generator of numbers that are the same on every machine (xorshift).
pub(crate) struct Draw(u64);

impl Draw {
    /// Begins at a seed.
    pub(crate) fn from(seed: u64) -> Self {
        Self(seed | 1)
    }

    /// Returns a number below `most`.
    pub(crate) fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as usize % most.max(1)
    }

    /// Takes one of several.
    pub(crate) fn one<'a, T>(&mut self, of: &'a [T]) -> Option<&'a T> {
        let at = self.below(of.len());
        of.get(at)
    }
}

/// What sort of character an item tells.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sort {
    Measure,
    Count,
    State,
}

/// An item of a description: its noun, and its words.
struct Item {
    sort: Sort,
    noun: String,
    words: String,
}

/// Cuts a description at stops outside brackets.
fn cut(text: &str, stops: &[char]) -> Vec<String> {
    let (mut parts, mut part, mut depth) = (Vec::new(), String::new(), 0);
    let letters: Vec<char> = text.chars().collect();
    for (at, letter) in letters.iter().enumerate() {
        match letter {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        let ends = *letter != '.'
            || letters.get(at + 1).is_none_or(|next| *next == ' ')
                && !part.ends_with(" c")
                && !part.ends_with("ca");
        if depth == 0 && stops.contains(letter) && ends {
            parts.push(part.trim().to_owned());
            part = String::new();
        } else {
            part.push(*letter);
        }
    }
    parts.push(part.trim().to_owned());
    parts.retain(|part| !part.is_empty());
    parts
}

/// Takes a description apart into items with their nouns.
fn items(text: &str) -> Vec<Item> {
    let mut items = Vec::new();
    for clause in cut(text, &[';', '.']) {
        let mut noun = String::new();
        for (at, part) in cut(&clause, &[',']).into_iter().enumerate() {
            let mut words: Vec<&str> = part.split(' ').collect();
            let last = words.iter().take(3).rposition(|word| NOUNS.contains(&word.to_lowercase().as_str()));
            if let Some(last) = last.filter(|last| at == 0 || *last == 0) {
                noun = words[..=last].join(" ").to_lowercase();
                words.drain(..=last);
            }
            if words.is_empty() || noun.is_empty() {
                continue;
            }
            let words = words.join(" ");
            let sort = if [" mm", " cm", " m "].iter().any(|unit| format!("{words} ").contains(unit))
                && words.starts_with(|letter: char| letter.is_ascii_digit() || letter == '(')
            {
                Sort::Measure
            } else if words.contains(" pairs")
                || words.ends_with(" flowers")
                || words.len() <= 4 && words.starts_with(|letter: char| letter.is_ascii_digit())
            {
                Sort::Count
            } else {
                Sort::State
            };
            items.push(Item { sort, noun: noun.clone(), words });
        }
    }
    items
}

/// Returns the usual limits of the first range in some words.
fn limits(words: &str) -> Option<(f32, f32)> {
    let usual: String = {
        let mut depth = 0;
        let keep = |letter: &char| {
            match letter {
                '(' => depth += 1,
                ')' => depth -= 1,
                _ => {}
            }
            depth == 0 && *letter != ')'
        };
        words.chars().filter(keep).collect::<String>().replace('·', ".")
    };
    let numbers: Vec<f32> = usual
        .split(|letter: char| !letter.is_ascii_digit() && letter != '.')
        .filter_map(|number| number.trim_matches('.').parse().ok())
        .collect();
    let ranged = usual.contains('–') || usual.contains('-');
    let low = *numbers.first()?;
    Some((low, if ranged { *numbers.get(1)? } else { low }))
}

/// Words one item as someone would who has the plant before them.
fn worded(item: &Item, lexicon: &Lexicon, draw: &mut Draw) -> Option<String> {
    let noun = noun(&item.noun, lexicon, draw);
    match item.sort {
        Sort::Measure => {
            let (low, high) = limits(&item.words)?;
            let share = draw.below(101) as f32 / 100.0;
            let value = (((low + (high - low) * share) * 10.0).round() / 10.0).clamp(low, high);
            let unit = ["mm", "cm", "m"]
                .into_iter()
                .find(|unit| format!("{} ", item.words).contains(&format!(" {unit} ")))?;
            let across =
                ["wide", "tall", "across", "diam"].into_iter().find(|word| item.words.contains(word));
            if item.words.contains('×') {
                return Some(format!("{noun} {value} {unit} long"));
            }
            Some(format!("{noun} {value} {unit} {}", across.unwrap_or("long")))
        }
        Sort::Count => {
            let (low, high) = limits(&item.words)?;
            let count = low as usize + draw.below((high - low) as usize + 1);
            Some(if item.words.contains("pairs") {
                format!("{count} pairs of {noun}")
            } else if item.words.ends_with("flowers") {
                format!("inflorescence of {count} flowers")
            } else {
                format!("{count} {noun}")
            })
        }
        Sort::State => {
            let words: Vec<String> = item.words.split(' ').map(|word| synonym(word, lexicon, draw)).collect();
            Some(format!("{noun} {}", words.join(" ")))
        }
    }
}

/// Rewords a noun now and then.
fn noun(noun: &str, lexicon: &Lexicon, draw: &mut Draw) -> String {
    if draw.below(3) > 0 {
        return noun.to_owned();
    }
    noun.split(' ').map(|word| synonym(word, lexicon, draw)).collect::<Vec<_>>().join(" ")
}

/// Returns a synonym of a word out of the glossary: another form, or plain words for it; itself where there is none.
fn synonym(word: &str, lexicon: &Lexicon, draw: &mut Draw) -> String {
    let Some(id) = lexicon.look_up(word).into_iter().next() else { return word.to_owned() };
    let term = lexicon.get(id);
    let Some(sense) = term.senses.first() else { return word.to_owned() };
    // Plain words such as `at the tip` cannot stand where an adjective stood.
    let stands =
        |plain: &&String| plain.as_str() != word && !plain.starts_with("at ") && !plain.starts_with("in ");
    let others: Vec<&String> = sense.plain.iter().filter(stands).collect();
    draw.one(&others).map_or_else(|| word.to_owned(), |plain| (*plain).clone())
}

/// Returns a taxon's description.
pub(crate) fn description(taxon: &Taxon) -> String {
    let sections = taxon.sections.iter().filter(|section| section.kind == SectionKind::Description);
    sections.map(|section| section.text.plain.as_str()).collect::<Vec<_>>().join(" ")
}

/// Draws the questions of a flora.
pub(crate) fn drawn(flora: &Flora, lexicon: &Lexicon) -> Vec<Drawn> {
    let mut draw = Draw::from(SEED);
    let species = flora.taxa.iter().filter(|taxon| taxon.rank == Rank::Species);
    let mut questions = Vec::new();
    for taxon in species.step_by(EVERY) {
        let mut items = items(&description(taxon));
        let (mut words, mut printed) = (Vec::new(), Vec::new());
        for sort in [Sort::Measure, Sort::Count] {
            let fitting: Vec<usize> = (0..items.len()).filter(|at| items[*at].sort == sort).collect();
            if let Some(at) = draw.one(&fitting).copied() {
                let item = items.swap_remove(at);
                words.extend(worded(&item, lexicon, &mut draw));
                printed.push(item.words);
            }
        }
        items.retain(|item| item.sort == Sort::State);
        while words.len() < CHARACTERS && !items.is_empty() {
            let item = items.swap_remove(draw.below(items.len()));
            words.extend(worded(&item, lexicon, &mut draw));
            printed.push(item.words);
        }
        if words.len() == CHARACTERS {
            questions.push(Drawn { taxon: taxon.id, words: words.join("; "), printed });
        }
    }
    questions
}
