//! Indented keys without labels, or with rows of labels (A, B; I, II; (a), (b)) on their upper levels alone (K10).
//!
//! Nothing but depth tells the couplets here, so only what stands below a key's title is tried, and a heading ends it.

use std::sync::LazyLock;

use regex::Regex;

use crate::layout::Gap;
use crate::parse::compose::{compose, is_set_right};
use crate::parse::look;

use super::depth::{self, Standing};
use super::label::{Label, Rival, Scheme, Series};
use super::read::{RawCouplet, RawKey, RawLead, names_something};
use super::statement::{HANGING, Role, Seen, Source, Statement, gather, names_taxon, raw_key};
use super::target::Printed;
use super::title;

static ROW_LABEL: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:\(([IVX]{1,5}|[ivx]{1,5}|[A-Za-z]|\d{1,2})\)|([IVX]{1,5}|[ivx]{1,5}|[A-Za-z]|\d{1,2})[.)])\s+\S")
        .expect("a fixed pattern")
});

/// Share of couplets that have two leads at least.
const RIVALS_SHARE: f32 = 0.8;
/// Share of leads that end in a taxon.
const NAMED_SHARE: f32 = 0.35;
/// Share of labels that may stand out of their row.
const STRAY_SHARE: f32 = 0.15;
/// Share of leads that may stand at a depth of their own.
const ODD_SHARE: f32 = 0.2;
/// Most leads of a key that has one couplet alone.
const MOST_RIVALS: usize = 6;

/// A label without back reference or rival's mark.
pub(super) fn row_label(printed: &str, len: usize, scheme: Scheme) -> Label {
    Label {
        printed: printed.to_owned(),
        series: Series::Bullet,
        rival: Rival::Unsaid,
        scheme,
        back: Vec::new(),
        len,
        seen: None,
    }
}

/// Reads the key that begins at a block below a title.
pub(super) fn read(source: &Source<'_>, start: usize) -> Option<RawKey> {
    title::above(source.blocks, start, source.body_size)?;
    let (statements, _) = gather(source, start, &mut |seen| role(seen, source, &label));
    let mut statements = parted(statements, &label);
    let mut targets: Vec<(usize, Printed)> = statements.iter().map(|one| one.target(source)).collect();
    let kept = targets.iter().rposition(|(_, printed)| names_taxon(printed))? + 1;
    statements.truncate(kept);
    targets.truncate(kept);
    let end = statements.last()?.block + 1;
    let standing: Vec<Standing> = statements
        .iter()
        .zip(&targets)
        .map(|(one, (_, printed))| Standing {
            indent: one.indent(),
            has_target: !printed.words.is_empty(),
            label: in_row(&one.label.printed),
        })
        .collect();
    let found = depth::couplets(&standing);
    if !is_key(&found, &standing, &targets) {
        return None;
    }
    let leads: Vec<RawLead> = statements
        .iter()
        .zip(targets)
        .enumerate()
        .map(|(at, (one, target))| RawLead { odd: found.odd.contains(&at), ..one.lead(target) })
        .collect();
    let couplets =
        found.couplets.into_iter().map(|leads| RawCouplet { series: Series::Bullet, leads }).collect();
    Some(raw_key(source, leads, couplets, start..end))
}

/// What a line does in a key whose leads begin where a block begins, or below a line that ended in a target.
pub(super) fn role(seen: &Seen<'_>, source: &Source<'_>, label: &dyn Fn(&str) -> Label) -> Role {
    let words = seen.words.str();
    let target_line = is_set_right(seen.line) && names_something(words)
        || seen.line.runs.first().is_some_and(|run| run.before == Gap::Leader);
    let made = label(words);
    let begins = words[made.len..].trim_start_matches('(').starts_with(char::is_uppercase);
    if seen.first {
        if seen.last.is_some() && target_line {
            return Role::GoesOn;
        }
        if ends(seen, source) {
            return Role::Ends;
        }
        if begins {
            return Role::Opens(made);
        }
        return if seen.goes_on(source) { Role::GoesOn } else { Role::Ends };
    }
    let ended = seen.last.is_some_and(|last| {
        let composed = last.composed();
        let led = composed.chunks.iter().any(|chunk| chunk.before == Gap::Leader);
        led && !last.target(source).1.words.is_empty() || composed.str().ends_with(':')
    });
    let hangs = seen.last.is_some_and(|last| {
        let further = last.lines.iter().skip(1).map(|line| line.indent);
        seen.line.indent > further.fold(f32::INFINITY, f32::min) - 1.0
    });
    if ended && begins && !target_line && !hangs { Role::Opens(made) } else { Role::GoesOn }
}

/// Statements parted where a line stands neither at their label nor where further lines of this key hang: a short lead
/// and the one below it are easily taken for one paragraph.
pub(super) fn parted(statements: Vec<Statement>, label: &dyn Fn(&str) -> Label) -> Vec<Statement> {
    let Some(hang) = usual_hang(&statements) else { return statements };
    let mut parts: Vec<Statement> = Vec::new();
    for statement in statements {
        let Some(first) = statement.lines.first() else { continue };
        let mut at = (first.indent, first.column);
        let mut part = Statement { lines: Vec::new(), ..statement.clone() };
        for line in statement.lines {
            let words = compose([&line]);
            let made = label(words.str());
            let begins = words.str()[made.len..].starts_with(char::is_uppercase);
            let off = line.indent - at.0;
            let own = off > HANGING && (off - hang).abs() > HANGING && !is_set_right(&line);
            if !part.lines.is_empty() && line.column == at.1 && own && begins && ended(&part) {
                at = (line.indent, line.column);
                let next = Statement { label: made, lines: Vec::new(), block: part.block };
                parts.push(std::mem::replace(&mut part, next));
            }
            part.lines.push(line);
        }
        parts.push(part);
    }
    parts
}

fn ended(part: &Statement) -> bool {
    part.composed().str().ends_with(['.', ':', ';'])
}

/// How far further lines stand in from their labels in most statements, points.
fn usual_hang(statements: &[Statement]) -> Option<f32> {
    let mut hangs: Vec<f32> = statements
        .iter()
        .filter(|one| one.lines.len() > 1 && one.lines[0].column == one.lines[1].column)
        .map(|one| one.lines[1].indent - one.lines[0].indent)
        .filter(|hang| *hang > HANGING)
        .collect();
    hangs.sort_by(f32::total_cmp);
    hangs.get(hangs.len() / 2).copied()
}

/// A heading or the name of a taxon in its own type ends the key.
fn ends(seen: &Seen<'_>, source: &Source<'_>) -> bool {
    let look = look::look(seen.block, source.body_size);
    let composed = compose(&seen.block.lines);
    let led = composed.chunks.iter().any(|chunk| chunk.before == Gap::Leader);
    let names =
        look::opening(seen.block, &composed, source.body_size).is_some_and(|opening| opening.in_own_type);
    !led && (names
        || look.short && (look.bold || look.larger || look.italic || look.centred && !look.goes_on))
}

fn label(words: &str) -> Label {
    let Some(found) = ROW_LABEL.captures(words) else { return row_label("", 0, Scheme::Outline) };
    let len = found[0].len() - found[0].chars().next_back().map_or(0, char::len_utf8);
    let printed = found.get(1).or(found.get(2)).map_or("", |printed| printed.as_str());
    row_label(printed, len, Scheme::Outline)
}

/// The sort of a row's label and its place in the row. A lone I, V or X is Roman, as rows of letters seldom go so far.
fn in_row(printed: &str) -> Option<(u8, u32)> {
    let first = printed.chars().next()?;
    let from = |base: char| first as u32 - base as u32;
    if printed.chars().all(|c| matches!(c, 'I' | 'V' | 'X')) {
        return roman(printed).map(|value| (0, value - 1));
    }
    if printed.chars().all(|c| matches!(c, 'i' | 'v' | 'x')) {
        return roman(printed).map(|value| (1, value - 1));
    }
    if first.is_ascii_digit() {
        return printed.parse::<u32>().ok().filter(|value| *value > 0).map(|value| (2, value - 1));
    }
    Some(if first.is_uppercase() { (3, from('A')) } else { (4, from('a')) })
}

fn roman(printed: &str) -> Option<u32> {
    const ROW: [&str; 12] = ["i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"];
    let lower = printed.to_lowercase();
    ROW.iter().position(|one| *one == lower).map(|at| at as u32 + 1)
}

fn is_key(found: &depth::Depths, standing: &[Standing], targets: &[(usize, Printed)]) -> bool {
    let rivals = found.couplets.iter().filter(|leads| leads.len() > 1).count();
    let named = targets.iter().filter(|(_, printed)| names_taxon(printed)).count();
    let labelled = standing.iter().filter(|one| one.label.is_some()).count();
    let stray = found.couplets.iter().map(|leads| strays(leads, standing)).sum::<usize>();
    let one_couplet = found.couplets.len() == 1;
    rivals as f32 >= found.couplets.len() as f32 * RIVALS_SHARE
        && named as f32 >= standing.len() as f32 * NAMED_SHARE
        && stray as f32 <= labelled as f32 * STRAY_SHARE
        && found.odd.len() as f32 <= standing.len() as f32 * ODD_SHARE
        && (!one_couplet || standing.len() <= MOST_RIVALS && named == standing.len())
}

/// Labels that do not follow the one before them in their couplet.
fn strays(leads: &[usize], standing: &[Standing]) -> usize {
    let mut row: Option<(u8, u32)> = None;
    let mut strays = 0;
    for (nth, label) in leads.iter().map(|lead| standing[*lead].label).enumerate() {
        let fits = match (label, row) {
            (None, None) => true,
            (Some((_, at)), None) => nth == 0 && at == 0,
            (Some((sort, at)), Some((other, before))) => sort == other && at == before + 1,
            (None, Some(_)) => false,
        };
        strays += usize::from(!fits);
        row = label.or(row);
    }
    strays
}
