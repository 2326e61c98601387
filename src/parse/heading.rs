//! Which blocks are headings of taxa. A heading is proved by what it is called in keys and by its look being shared
//! with others that are (T6), not by type alone.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::layout::{Block, BlockKind, Gap};
use crate::model::Rank;
use crate::name;

use super::above;
use super::believe::{Candidate, Evidence, Sort};
use super::compose::{Composed, compose};
use super::look::{self, Look, Opening};
use super::phrases;
use super::profile::{HeadLook, Steer};
use super::words;

/// A heading of a taxon.
#[derive(Clone, Debug)]
pub(crate) struct Heading {
    /// Position of its block.
    pub(crate) block: usize,
    /// Position of the first block that belongs to it: vernacular names may stand above the scientific one.
    pub(crate) top: usize,
    /// What it opens.
    pub(crate) opens: Opens,
    /// The name as printed there.
    pub(crate) name: HeadName,
    /// The number before it.
    pub(crate) number: Option<String>,
    /// Bytes of the block that are number, name and authorship.
    pub(crate) end: usize,
    /// Whether the treatment goes on in the same block.
    pub(crate) run_in: bool,
}

/// What a heading opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Opens {
    /// A treatment.
    Treatment,
    /// Nothing: it sends on to another place in the book (T8).
    Nothing,
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

/// Characters that a heading has at most after its name when it only sends on.
const LONGEST_REFERENCE: usize = 80;

/// Returns the rank that a heading's form shows, and how it looks.
pub(crate) fn look_of(blocks: &[Block], heading: &Heading, body_size: f32) -> Option<(Rank, HeadLook)> {
    let candidate = candidate(blocks, heading.block, &Keyed::default(), body_size)?;
    Some((candidate.sort.form, candidate.sort.look()))
}

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
    let evidence = Evidence::new(candidates, keyed.is_empty());
    let believed = evidence.believed(steer);
    let sure: Vec<&Candidate> =
        evidence.candidates.iter().zip(&believed).filter(|(_, good)| **good).map(|(c, _)| c).collect();
    let taken: BTreeSet<usize> = sure.iter().map(|candidate| candidate.heading.block).collect();
    let below: Vec<usize> =
        sure.iter().filter(|c| c.sort.form >= Rank::Species).map(|c| c.heading.block).collect();
    let mut tops = above::tops(blocks, &below, &|at| free(at) && !taken.contains(&at), body_size);
    let over = |block: usize| tops.iter().any(|(heading, top)| (*top..*heading).contains(&block));
    let kept = evidence.kept(&believed, &over, steer);
    let headings = evidence.candidates.into_iter().zip(kept).filter(|(_, kept)| *kept);
    headings
        .map(|(mut candidate, _)| {
            let heading = &mut candidate.heading;
            heading.top = tops.remove(&heading.block).unwrap_or(heading.block);
            candidate.heading
        })
        .collect()
}

/// Folded names that blocks open with and that stand out: what a key's target may be recognised by.
pub(crate) fn known_names(blocks: &[Block], body_size: f32) -> BTreeSet<String> {
    let mut known = BTreeSet::new();
    for block in blocks {
        let composed = compose(block.lines.iter().take(2));
        if let Some(opening) = look::opening(block, &composed, body_size)
            && !is_page_reference(&composed.str()[opening.start + opening.parsed.end..])
            && opening.in_own_type
            && (!opening.by_size || is_heading_rest(&composed.str()[opening.start + opening.parsed.end..]))
            && (opening.parsed.rank != Rank::Genus || opening.number.is_some())
        {
            known.insert(name::fold(&opening.parsed.name));
        }
    }
    known
}

/// What stands between a name and the words that send on from it.
const BEFORE_SEE: &[char] = &[' ', ',', ';', ':', '.', '–', '—', '-', '→', '(', '='];

fn opens(rest: &str) -> Opens {
    let rest = rest.trim_start_matches(BEFORE_SEE).to_lowercase();
    let sends = words::SEE.iter().any(|see| rest.strip_prefix(see).is_some_and(|on| on.starts_with(' ')));
    if sends && rest.chars().count() < LONGEST_REFERENCE { Opens::Nothing } else { Opens::Treatment }
}

fn candidate(blocks: &[Block], at: usize, keyed: &Keyed, body_size: f32) -> Option<Candidate> {
    let block = blocks.get(at).filter(|block| block.kind == BlockKind::Flow)?;
    let composed = compose(&block.lines);
    let look = look::look(block, body_size);
    if let Some(part) = below(&look::without_marks(&composed)) {
        let keyed = keyed.short.contains(&(' ', name::fold(&format!("{} {}", part.term, part.epithet))));
        return Some(from_below(at, part, &composed, (keyed, look)));
    }
    let opening = look::opening(block, &composed, body_size)?;
    let end = opening.start + opening.parsed.end;
    let rest = &composed.str()[end..];
    if is_lead(&composed, opening.start..end) {
        return None;
    }
    if opening.number.is_none() && is_heading_rest(rest) && words::is_key_title(composed.str()) {
        return None;
    }
    let opens = opens(rest);
    if is_page_reference(rest) || opens == Opens::Treatment && reads_on(rest, &opening) {
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
    let name = HeadName::Full(opening.parsed);
    let heading = Heading { block: at, top: at, opens, name, number: opening.number, end, run_in };
    Some(Candidate { heading, sort, keyed, look })
}

/// A lead of a key may read like a name: `11a. Leaves green beneath … Silver Willow`.
fn is_lead(composed: &Composed, name: Range<usize>) -> bool {
    let led = composed.chunks.iter().any(|chunk| {
        let inside = chunk.start > name.start && chunk.start <= name.end;
        inside && chunk.before == Gap::Leader
    });
    let first = composed.str()[name].split(' ').next().unwrap_or_default().to_lowercase();
    let one = first.strip_suffix('s').unwrap_or(&first);
    led || phrases::ORGANS.contains(&one) || phrases::ORGANS.contains(&first.as_str())
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
        heading: Heading {
            block: at,
            top: at,
            opens: Opens::Treatment,
            name,
            number: part.number,
            end: part.end,
            run_in,
        },
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
    // `f.` is a connecting term before it is a letter that counts.
    if plain.split_once(' ').is_some_and(|(word, _)| words::connecting_term(word).is_some()) {
        return 0;
    }
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
