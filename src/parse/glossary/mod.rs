//! The book's own glossary: the blocks below its heading in, entries out (P4).

use std::ops::Range;

use crate::layout::{Block, BlockKind, Line};
use crate::model::{Entry, EntryId, Style};

use super::compose::{Composed, compose};
use super::profile::GlossaryLook;
use super::words;

mod head;

/// Longest headword in characters; longer openings are prose.
const LONGEST_HEADWORD: usize = 60;
/// Points by which lines of one level may differ.
const LEVEL_TOLERANCE: f32 = 2.5;

/// Share of lines that must hang for hanging to part the entries.
const HANGING_SHARE: f32 = 0.08;

/// Reads the entries of the blocks below a glossary's heading.
pub(crate) fn entries(blocks: &[Block], said: GlossaryLook) -> Vec<Entry> {
    let (pieces, typed, mark) = pieces(blocks, said);
    let mut entries: Vec<Entry> = Vec::new();
    for piece in &pieces {
        let Some((head, body)) = opening(piece, typed, mark) else { continue };
        let parts =
            if typed { head::parts(piece, body) } else { std::iter::once(body..piece.str().len()).collect() };
        let mut head = head;
        for part in parts {
            if part.start > body {
                head = part.start..own_type_end(piece, part.start);
            }
            let own = if part.start > body { head.end..part.end } else { part };
            if let Some(entry) = entry(piece, head.clone(), own, typed) {
                entries.push(Entry { id: EntryId(entries.len() as u32), ..entry });
            }
        }
    }
    entries
}

/// The headword that an entry sends on to, where it only does that.
fn sends_on(definition: &str) -> Option<String> {
    let lower = definition.to_lowercase();
    let see = words::SEE.iter().rev().find(|see| lower.starts_with(&format!("{see} ")))?;
    let rest = definition.get(see.len() + 1..)?.trim_end_matches('.').trim();
    (rest.split(' ').count() <= 3).then(|| rest.to_owned())
}

/// Returns how the headwords are set.
pub(crate) fn look_of(blocks: &[Block], said: GlossaryLook) -> GlossaryLook {
    let (_, typed, mark) = pieces(blocks, said);
    GlossaryLook {
        own_type: Some(typed),
        mark: Some(mark),
        hanging: Some(said.hanging.unwrap_or_else(|| hangs(blocks))),
    }
}

/// Returns the entries, whether their headwords have their own type, and the mark that ends those of the others.
fn pieces(blocks: &[Block], said: GlossaryLook) -> (Vec<Composed>, bool, &'static str) {
    let hanging = said.hanging.unwrap_or_else(|| hangs(blocks));
    let pieces: Vec<Composed> = split(blocks, hanging).iter().map(compose).collect();
    let typed = said.own_type.unwrap_or_else(|| most_open_in_own_type(&pieces));
    let mark = said.mark.unwrap_or_else(|| usual_mark(&pieces));
    (pieces, typed, mark)
}

/// Says whether the further lines of entries hang.
fn hangs(blocks: &[Block]) -> bool {
    let flow = blocks.iter().filter(|block| block.kind == BlockKind::Flow);
    let lines = flow.flat_map(|block| &block.lines);
    let count = lines.clone().count();
    lines.filter(|line| line.indent > LEVEL_TOLERANCE).count() as f32 > count as f32 * HANGING_SHARE
}

/// Cuts the lines into entries: by hanging indents and type where the glossary has them, else block by block.
fn split(blocks: &[Block], hanging: bool) -> Vec<Vec<Line>> {
    let flow = || blocks.iter().filter(|block| block.kind == BlockKind::Flow);
    let lines = flow().flat_map(|block| &block.lines);
    let count = lines.clone().count();
    let typed =
        lines.filter(|line| line.indent <= LEVEL_TOLERANCE && opens_in_own_type(line)).count() * 4 > count;
    let mut pieces: Vec<Vec<Line>> = Vec::new();
    for (number, line) in flow().flat_map(|block| block.lines.iter().enumerate()) {
        let outdented = line.indent <= LEVEL_TOLERANCE;
        let opens = if hanging { outdented && (!typed || opens_in_own_type(line)) } else { number == 0 };
        match pieces.last_mut() {
            Some(piece) if !opens => piece.push(line.clone()),
            _ => pieces.push(vec![line.clone()]),
        }
    }
    pieces
}

fn opens_in_own_type(line: &Line) -> bool {
    line.runs.first().is_some_and(|run| run.style.bold || run.style.italic || run.style.small_caps)
}

fn most_open_in_own_type(pieces: &[Composed]) -> bool {
    let typed = pieces.iter().filter(|piece| own_type(piece).is_some()).count();
    typed * 2 > pieces.len()
}

/// The byte where the type of the opening words ends, if they have a type of their own.
fn own_type(piece: &Composed) -> Option<usize> {
    let first = piece.chunks.first()?;
    let upper =
        |chunk: &super::compose::Chunk| !piece.str()[chunk.start..chunk.end].chars().any(char::is_lowercase);
    if first.style == Style::default() {
        return None;
    }
    let end = own_type_end(piece, first.start);
    let whole = end >= piece.str().len();
    (!whole || upper(first)).then_some(end)
}

/// The byte where the type that begins at a byte ends.
fn own_type_end(piece: &Composed, start: usize) -> usize {
    let chunks = piece.chunks.iter().skip_while(|chunk| chunk.start < start);
    let style = piece.text.style_at(start);
    chunks.take_while(|chunk| chunk.style == style).last().map_or(start, |chunk| chunk.end)
}

/// Where the headword of a piece stands and where what follows it begins.
fn opening(piece: &Composed, typed: bool, mark: &str) -> Option<(Range<usize>, usize)> {
    match (typed, own_type(piece)) {
        (true, None) => None,
        (true, Some(end)) => Some((0..end, end)),
        (false, _) => separator(piece.str(), mark).map(|(end, body)| (0..end, body)),
    }
}

fn entry(piece: &Composed, head: Range<usize>, body: Range<usize>, typed: bool) -> Option<Entry> {
    let plain = piece.str();
    let printed = plain[head.clone()].trim();
    if printed.chars().count() > LONGEST_HEADWORD || !printed.chars().any(char::is_alphabetic) {
        return None;
    }
    let mut names = headwords(printed);
    let mut start = body.start;
    if typed {
        let (more, behind) = head::more(piece, piece.text.style_at(head.start), body.clone());
        names.extend(more);
        start = behind;
    }
    let marks = |c: char| c.is_whitespace() || matches!(c, ',' | ':' | '—' | '–' | '-' | '.' | '=');
    start = body.end - plain[start..body.end].trim_start_matches(marks).len();
    if let Some((plural, len)) = printed_plural(&plain[start..body.end]) {
        names.push(plural);
        start += len;
    }
    let term = names.first()?.clone();
    let definition = piece.text.slice(start.min(body.end)..body.end);
    let see = sends_on(&definition.plain);
    let only_pages = !definition.plain.chars().any(char::is_alphabetic);
    (!only_pages).then(|| Entry { id: EntryId(0), term, variants: names.split_off(1), definition, see })
}

/// Marks that may end a headword in roman type, the clearest first.
pub(crate) const MARKS: &[&str] = &[" – ", " — ", "—", ": ", " = ", ". ", ", "];
/// Words of the longest headword in roman type.
const MOST_WORDS: usize = 5;

/// The mark that ends the headwords of most entries.
fn usual_mark(pieces: &[Composed]) -> &'static str {
    let count = |mark: &str| pieces.iter().filter(|piece| separator(piece.str(), mark).is_some()).count();
    MARKS.iter().rev().max_by_key(|mark| count(mark)).copied().unwrap_or(", ")
}

/// Where a roman headword ends and its definition begins.
fn separator(plain: &str, mark: &str) -> Option<(usize, usize)> {
    let at = plain.find(mark).filter(|at| *at > 0)?;
    let head = &plain[..at];
    let fits = head.chars().count() <= LONGEST_HEADWORD
        && head.split_whitespace().count() <= MOST_WORDS
        && !head.contains(['.', ';']);
    fits.then_some((at, at + mark.len()))
}

/// Parts `Achænium, or Achenium (pl. achenia)` into its headwords.
fn headwords(head: &str) -> Vec<String> {
    let head = head.trim_end_matches([',', ':', '.', '—', '–', ';', ' ']);
    let (names, inner) = match (head.find('('), head.rfind(')')) {
        (Some(open), Some(close)) if open < close && open > 0 => (&head[..open], Some(&head[open..=close])),
        _ => (head, None),
    };
    let mut found: Vec<String> = names
        .split([',', ';'])
        .flat_map(|part| part.split(" or "))
        .map(|part| part.trim().trim_start_matches("or ").trim().to_owned())
        .filter(|part| !part.is_empty())
        .collect();
    found.extend(inner.and_then(printed_plural).map(|(plural, _)| plural));
    found
}

/// Reads `(pl. stigmata)`, `(plural stigmata)` or `pl. stigmata,`; gives the word and the bytes taken.
pub(super) fn printed_plural(text: &str) -> Option<(String, usize)> {
    let bracketed = text.starts_with('(');
    let inner = text.strip_prefix('(').unwrap_or(text);
    let rest = words::PLURALS.iter().find_map(|mark| inner.strip_prefix(mark))?;
    let word: String = rest.chars().take_while(|c| c.is_alphabetic() || *c == '-').collect();
    let mut len = text.len() - rest.len() + word.len();
    if bracketed {
        len += text[len..].find(')')? + 1;
    }
    let after = text[len..].len() - text[len..].trim_start_matches([',', ' ', ':', '.', '–', '—']).len();
    (!word.is_empty()).then_some((word, len + after))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parse::fixture;

    #[track_caller]
    fn check_entries(drawn: &str, expected: &[(&str, &[&str], &str)]) {
        let found = entries(&fixture::setting(drawn).blocks, GlossaryLook::default());
        let found: Vec<(String, Vec<String>, String)> =
            found.into_iter().map(|e| (e.term, e.variants, e.definition.plain)).collect();
        let expected: Vec<(String, Vec<String>, String)> = expected
            .iter()
            .map(|(t, v, d)| ((*t).to_owned(), v.iter().map(|w| (*w).to_owned()).collect(), (*d).to_owned()))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn headwords_in_their_own_type() {
        check_entries(
            "*achene* a dry fruit with one seed\n\n*stigma* (pl. stigmata) the part that takes the pollen\n\n*corona*: see crown",
            &[
                ("achene", &[], "a dry fruit with one seed"),
                ("stigma", &["stigmata"], "the part that takes the pollen"),
                ("corona", &[], "see crown"),
            ],
        );
    }

    #[test]
    fn several_headwords_in_their_own_type_are_variants() {
        check_entries(
            "_Achenium_, or _Akene_ (plural _achenia_), a dry fruit, 12.\n\n_Filamentose_ or _Filamentous_. Made of threads.\n\n\
             _Albuminous_ (seeds), with albumen, 21.\n\n_Ascendent_, _ascending_, rising, 39.",
            &[
                ("Achenium", &["Akene", "achenia"], "a dry fruit, 12."),
                ("Filamentose", &["Filamentous"], "Made of threads."),
                ("Albuminous", &[], "with albumen, 21."),
                ("Ascendent", &["ascending"], "rising, 39."),
            ],
        );
    }

    #[test]
    fn a_sentence_with_a_headword_of_its_own_is_an_entry() {
        check_entries(
            "_Dentate_, toothed, 55. _Denticulate_, with fine teeth. _Dentations_, teeth.\n\n_Dense_, close. See _lax_.",
            &[
                ("Dentate", &[], "toothed, 55."),
                ("Denticulate", &[], "with fine teeth."),
                ("Dentations", &[], "teeth."),
                ("Dense", &[], "close. See lax."),
            ],
        );
    }

    #[test]
    fn pages_alone_define_nothing() {
        check_entries("_Air-cells_, 36, 40.\n\n_Akene_, a dry fruit.", &[("Akene", &[], "a dry fruit.")]);
    }

    #[test]
    fn roman_headwords_end_at_their_mark() {
        check_entries(
            "Achene – a dry fruit.\n\nApex – the tip.",
            &[("Achene", &[], "a dry fruit."), ("Apex", &[], "the tip.")],
        );
        check_entries(
            "ACHENE. A dry fruit.\n\nAPEX. The tip.",
            &[("ACHENE", &[], "A dry fruit."), ("APEX", &[], "The tip.")],
        );
    }

    #[test]
    fn several_entries_in_one_block_are_parted_by_their_hanging_lines() {
        check_entries(
            "*Acute*, with a sharp\n   angle.\n*Apex*, the tip.",
            &[("Acute", &[], "with a sharp angle."), ("Apex", &[], "the tip.")],
        );
    }
}
