//! Which blocks are headings of taxa. A heading is proved by what it is called in keys and by its look being shared
//! with others that are (T6), not by type alone.

use std::collections::{BTreeMap, BTreeSet};

use crate::layout::{Block, BlockKind};
use crate::model::Rank;
use crate::name;

use super::compose::{Composed, compose};
use super::look::{self, Look, Opening};
use super::profile::{HeadLook, Steer};
use super::words;

/// A heading of a taxon.
#[derive(Clone, Debug)]
pub(crate) struct Heading {
    /// Position of its block.
    pub(crate) block: usize,
    /// The name as printed there.
    pub(crate) name: HeadName,
    /// The number before it.
    pub(crate) number: Option<String>,
    /// Bytes of the block that are number, name and authorship.
    pub(crate) end: usize,
    /// Whether the treatment goes on in the same block.
    pub(crate) run_in: bool,
}

/// What a heading calls its taxon.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum HeadName {
    /// A name, perhaps with an abbreviated genus.
    Full(name::Parsed),
    /// A part below the species: `subsp. alba`.
    Below {
        /// The connecting term.
        term: &'static str,
        /// The epithet.
        epithet: String,
        /// Its author.
        authorship: Option<String>,
    },
}

/// How headings of one sort look.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(clippy::struct_excessive_bools, reason = "independent properties of type")]
struct Sort {
    form: Rank,
    numbered: bool,
    bold: bool,
    italic: bool,
    capitals: bool,
    larger: bool,
    centred: bool,
    run_in: bool,
}

impl Sort {
    /// Returns the look as a profile tells it.
    fn look(self) -> HeadLook {
        let words = [
            (self.numbered, "numbered"),
            (self.bold, "bold"),
            (self.italic, "italic"),
            (self.capitals, "capitals"),
            (self.larger, "larger"),
            (self.centred, "centred"),
            (self.run_in, "run-in"),
        ];
        HeadLook(words.into_iter().filter(|(holds, _)| *holds).map(|(_, word)| word).collect())
    }
}

/// Returns the rank that a heading's form shows, and how it looks.
pub(crate) fn look_of(blocks: &[Block], heading: &Heading, body_size: f32) -> Option<(Rank, HeadLook)> {
    let candidate = candidate(blocks, heading.block, &Keyed::default(), body_size)?;
    Some((candidate.sort.form, candidate.sort.look()))
}

struct Candidate {
    heading: Heading,
    sort: Sort,
    keyed: bool,
    look: Look,
}

/// Share of a sort's headings that must be named in keys for the sort to be believed.
const KEYED_SHARE: f32 = 0.4;
/// Headings of a sort that must be there when no key can witness.
const UNWITNESSED: usize = 3;

/// Folded names that keys lead to.
#[derive(Clone, Debug, Default)]
pub(crate) struct Keyed {
    /// Names in full.
    pub(crate) full: BTreeSet<String>,
    /// First letter of an abbreviated genus and the rest of the name.
    pub(crate) short: BTreeSet<(char, String)>,
}

impl Keyed {
    /// Says whether a folded name is keyed, in full or abbreviated.
    pub(crate) fn has(&self, folded: &str) -> bool {
        self.full.contains(folded)
            || folded.split_once(' ').is_some_and(|(genus, rest)| {
                let initial = genus.chars().next().unwrap_or(' ');
                self.short.contains(&(initial, rest.to_owned()))
                    || self.short.contains(&(' ', rest.to_owned()))
            })
    }

    fn is_empty(&self) -> bool {
        self.full.is_empty() && self.short.is_empty()
    }
}

/// Folded names that blocks open with and that stand out: what a key's target may be recognised by.
pub(crate) fn known_names(blocks: &[Block], body_size: f32) -> BTreeSet<String> {
    let mut known = BTreeSet::new();
    for block in blocks {
        let composed = compose(block.lines.iter().take(2));
        if let Some(opening) = look::opening(block, &composed, body_size)
            && !is_page_reference(&composed.str()[opening.start + opening.parsed.end..])
            && opening.in_own_type
            && (opening.parsed.rank != Rank::Genus || opening.number.is_some())
        {
            known.insert(name::fold(&opening.parsed.name));
        }
    }
    known
}

/// Finds the headings of taxa among blocks that `free` lets through.
pub(crate) fn find(
    blocks: &[Block],
    free: &dyn Fn(usize) -> bool,
    keyed: &Keyed,
    (body_size, steer): (f32, &Steer),
) -> Vec<Heading> {
    let candidates: Vec<Candidate> = (0..blocks.len())
        .filter(|at| free(*at))
        .filter_map(|at| candidate(blocks, at, keyed, body_size))
        .collect();
    let mut sorts: BTreeMap<Sort, (usize, usize)> = BTreeMap::new();
    for candidate in &candidates {
        let count = sorts.entry(candidate.sort).or_default();
        count.0 += 1;
        count.1 += usize::from(candidate.keyed);
    }
    let believed: Vec<bool> = candidates
        .iter()
        .map(|candidate| {
            if let Some(said) = steer.heading(candidate.sort.form, &candidate.sort.look()) {
                return said;
            }
            let (all, witnessed) = sorts.get(&candidate.sort).copied().unwrap_or_default();
            let share = witnessed as f32 / all.max(1) as f32;
            let sort_good = if keyed.is_empty() { all >= UNWITNESSED } else { share >= KEYED_SHARE };
            // An abbreviated name without a number opens sentences as well as treatments.
            let bare = candidate.heading.number.is_none() && is_abbreviated(&candidate.heading.name);
            believe(candidate, sort_good) && (!bare || all >= UNWITNESSED)
        })
        .collect();
    let genera: BTreeSet<String> = candidates
        .iter()
        .zip(&believed)
        .filter(|(candidate, good)| **good && candidate.sort.form >= Rank::Species)
        .filter_map(|(candidate, _)| genus_of(&candidate.heading.name))
        .collect();
    candidates
        .into_iter()
        .zip(believed)
        .filter(|(candidate, good)| {
            *good
                || candidate.sort.form == Rank::Genus
                    && steer.heading(Rank::Genus, &candidate.sort.look()).is_none()
                    && candidate.look.stands_out()
                    && is_genus_of(candidate, &genera)
        })
        .map(|(candidate, _)| candidate.heading)
        .collect()
}

fn genus_of(name: &HeadName) -> Option<String> {
    match name {
        HeadName::Full(parsed) => name::fold(&parsed.name).split(' ').next().map(str::to_owned),
        HeadName::Below { .. } => None,
    }
}

fn is_abbreviated(name: &HeadName) -> bool {
    match name {
        HeadName::Full(parsed) => parsed.name.split(' ').next().is_some_and(|genus| genus.ends_with('.')),
        HeadName::Below { .. } => false,
    }
}

fn is_genus_of(candidate: &Candidate, genera: &BTreeSet<String>) -> bool {
    genus_of(&candidate.heading.name).is_some_and(|genus| genera.contains(&genus))
}

fn believe(candidate: &Candidate, sort_good: bool) -> bool {
    match candidate.sort.form {
        Rank::Family | Rank::Subfamily | Rank::Tribe => {
            candidate.look.short || candidate.heading.run_in && candidate.sort.numbered
        }
        Rank::Genus | Rank::Subgenus | Rank::Section => {
            candidate.keyed && (sort_good || candidate.sort.numbered) || candidate.sort.numbered && sort_good
        }
        Rank::Species | Rank::Hybrid => sort_good || candidate.keyed && candidate.sort.numbered,
        Rank::Subspecies | Rank::Variety | Rank::Form => {
            sort_good || candidate.keyed || candidate.sort.numbered
        }
    }
}

fn candidate(blocks: &[Block], at: usize, keyed: &Keyed, body_size: f32) -> Option<Candidate> {
    let block = blocks.get(at).filter(|block| block.kind == BlockKind::Flow)?;
    let composed = compose(&block.lines);
    let look = look::look(block, body_size);
    if let Some(part) = below(composed.str()) {
        let keyed = keyed.short.contains(&(' ', name::fold(&format!("{} {}", part.term, part.epithet))));
        return Some(from_below(at, part, &composed, (keyed, look)));
    }
    let opening = look::opening(block, &composed, body_size)?;
    let end = opening.start + opening.parsed.end;
    let rest = &composed.str()[end..];
    if is_page_reference(rest) || reads_on(rest, &opening) {
        return None;
    }
    let run_in = !is_heading_rest(rest);
    let sort = Sort {
        form: opening.parsed.rank,
        numbered: opening.number.is_some(),
        bold: opening.style.bold,
        italic: opening.style.italic,
        capitals: opening.capitals || opening.style.small_caps,
        larger: look.larger,
        centred: look.centred,
        run_in,
    };
    let keyed = keyed.has(&name::fold(&opening.parsed.name));
    let heading =
        Heading { block: at, name: HeadName::Full(opening.parsed), number: opening.number, end, run_in };
    Some(Candidate { heading, sort, keyed, look })
}

fn from_below(at: usize, part: Below, composed: &Composed, (keyed, look): (bool, Look)) -> Candidate {
    let run_in = !is_heading_rest(&composed.str()[part.end..]);
    let form = match part.term {
        "var." => Rank::Variety,
        "f." => Rank::Form,
        _ => Rank::Subspecies,
    };
    let style = composed.chunk_at(part.start).map(|chunk| chunk.style).unwrap_or_default();
    let sort = Sort {
        form,
        numbered: part.number.is_some(),
        bold: style.bold,
        italic: style.italic,
        capitals: false,
        larger: look.larger,
        centred: look.centred,
        run_in,
    };
    let name = HeadName::Below { term: part.term, epithet: part.epithet, authorship: part.authorship };
    Candidate {
        heading: Heading { block: at, name, number: part.number, end: part.end, run_in },
        sort,
        keyed,
        look,
    }
}

/// `4b. subsp. alba Author` taken apart.
struct Below {
    term: &'static str,
    epithet: String,
    authorship: Option<String>,
    number: Option<String>,
    start: usize,
    end: usize,
}

fn below(plain: &str) -> Option<Below> {
    let start = below_start(plain);
    let (word, rest) = plain[start..].split_once(' ')?;
    let term = words::connecting_term(word)?;
    let epithet: String = rest.chars().take_while(|c| c.is_lowercase() || *c == '-').collect();
    if epithet.chars().count() < 3 {
        return None;
    }
    let epithet_end = start + word.len() + 1 + epithet.len();
    // The authorship is read by the one grammar that knows it, behind a stand-in name.
    let stand_in = "Xxx yyy";
    let parsed = name::parse(&format!("{stand_in}{}", &plain[epithet_end..]))
        .filter(|parsed| parsed.name_end == stand_in.len());
    let end = epithet_end + parsed.as_ref().map_or(0, |parsed| parsed.end - stand_in.len());
    let number = (start > 0).then(|| plain[..start].trim().trim_end_matches(['.', ')']).to_owned());
    Some(Below { term, epithet, authorship: parsed.and_then(|parsed| parsed.authorship), number, start, end })
}

fn below_start(plain: &str) -> usize {
    let number = look::number_length(plain);
    if number > 0 {
        return number;
    }
    let mut chars = plain.chars();
    let lettered = chars.next().is_some_and(|c| c.is_ascii_lowercase())
        && chars.next() == Some('.')
        && chars.next() == Some(' ');
    if lettered { 3 } else { 0 }
}

/// Words after a name that are only page numbers: an index, a list of contents, a key's target.
pub(crate) fn is_page_reference(rest: &str) -> bool {
    let bare = rest.trim().trim_matches(|c: char| matches!(c, ',' | '.' | '…' | ' ' | ';' | ':'));
    let pages = bare.trim_start_matches("p.").trim_start_matches("pp.").trim();
    !pages.is_empty()
        && (pages.chars().all(|c| c.is_ascii_digit() || matches!(c, ',' | ' ' | '–' | '-' | '.' | '*' | 'f'))
            && pages.contains(|c: char| c.is_ascii_digit())
            || bare.rsplit([' ', '.']).next().is_some_and(|last| last.parse::<u32>().is_ok())
                && bare.len() < 60
                && (bare.contains(". .") || bare.contains("....")))
}

/// What follows reads like the rest of a sentence that merely begins with a capitalised word or a name.
fn reads_on(rest: &str, opening: &Opening) -> bool {
    let next = rest.trim_start();
    let lower = next.chars().next().is_some_and(char::is_lowercase);
    // A formula of parents (N9) describes a hybrid and heads nothing.
    let formula = next.starts_with('×') && opening.parsed.rank == Rank::Species;
    formula || lower && opening.number.is_none() && !next.starts_with("subsp") && !next.starts_with("var.")
}

/// What may follow a name in a heading that is not run in: nothing, synonyms in brackets, vernacular names.
fn is_heading_rest(rest: &str) -> bool {
    let rest = rest.trim();
    rest.chars().count() < 160 && !has_sentences(rest)
}

fn has_sentences(rest: &str) -> bool {
    let mut depth = 0_i32;
    let mut words = 0;
    for word in rest.split_whitespace() {
        depth += word.matches(['[', '(', '“']).count() as i32;
        let outside = depth <= 0;
        depth -= word.matches([']', ')', '”']).count() as i32;
        if outside && word.chars().next().is_some_and(char::is_lowercase) && word.chars().count() > 2 {
            words += 1;
        }
    }
    words >= 3
}
