//! Lettered keys that jump (K8): the leads of a couplet stand together under one letter, and a lead ends in the letter
//! that it leads to, in brackets, perhaps with a page.
//!
//! Letters are case-sensitive, and after z come aa, bb as couplets of their own (K15).

use std::sync::LazyLock;

use regex::Regex;

use super::label::{Label, Rival, Scheme, Series};
use super::read::{RawCouplet, RawKey};
use super::statement::{Role, Seen, Source, Statement, gather, raw_key};
use super::target::{Named, Printed};

static LABEL: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^(?:([*∗]{1,6})[.)]?|=?([A-Za-z]{1,3})[.)]=?)\s+\S").expect("a fixed pattern")
});
static JUMP: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(
        r"[(\[]\s?=?([A-Za-z]{1,3})\.?=?\s?[)\]]\.?(?:\s?,?\s?[(\[]?(?:pp?\.|pag\.|page)\s?(\d{1,4})[)\]]?)?\.?$",
    )
    .expect("a fixed pattern")
});
static LED: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"^([A-Za-z]{1,3})\.?$").expect("a fixed pattern"));

/// Share of couplets behind the first that a letter must lead to.
const CALLED_SHARE: f32 = 0.5;
/// Share of couplets that have two leads at least.
const RIVALS_SHARE: f32 = 0.8;

/// A statement and the letter or target that it ends in.
struct Ended {
    start: usize,
    letter: Option<String>,
    printed: Printed,
}

/// Reads the lettered key that begins at a block.
pub(super) fn read(source: &Source<'_>, start: usize) -> Option<RawKey> {
    let opening = source.blocks.get(start)?.lines.first()?;
    let first = label(crate::parse::compose::compose([opening]).str())?;
    matches!(first.printed.as_str(), "*" | "A" | "a").then_some(())?;
    let (statements, end) = gather(source, start, &mut |seen| role(seen, source));
    let couplets = couplets(&statements);
    let ended: Vec<Ended> = statements.iter().map(|statement| ended(statement, source)).collect();
    let wanted =
        |at: usize| ended[at].letter.as_deref().and_then(|letter| find(&couplets, &statements, (at, letter)));
    let mut called = vec![false; couplets.len()];
    (0..statements.len()).filter_map(wanted).for_each(|couplet| called[couplet] = true);
    let reached = called.iter().skip(1).filter(|called| **called).count();
    let rivals = couplets.iter().filter(|leads| leads.len() > 1).count();
    let is_key = reached > 0
        && reached as f32 >= (couplets.len() - 1) as f32 * CALLED_SHARE
        && rivals as f32 >= couplets.len() as f32 * RIVALS_SHARE;
    if !is_key {
        return None;
    }
    let leads = statements
        .iter()
        .zip(&ended)
        .enumerate()
        .map(|(at, (statement, ended))| {
            let mut printed = ended.printed.clone();
            if let Some(letter) = &ended.letter {
                let to = wanted(at).map_or_else(|| Named::Other(letter.clone()), Named::Couplet);
                printed.named = vec![to];
            }
            statement.lead((ended.start, printed))
        })
        .collect();
    let couplets = couplets
        .into_iter()
        .map(|leads| RawCouplet { series: statements[leads[0]].label.series, leads })
        .collect();
    Some(raw_key(source, leads, couplets, start..end))
}

fn role(seen: &Seen<'_>, source: &Source<'_>) -> Role {
    seen.role(label(seen.words.str()), source)
}

fn label(words: &str) -> Option<Label> {
    let found = LABEL.captures(words)?;
    let len = found[0].len() - found[0].chars().next_back().map_or(0, char::len_utf8);
    let (printed, series) = match (found.get(1), found.get(2)) {
        (Some(stars), _) => (stars.as_str().replace('∗', "*"), Series::Bullet),
        (None, letters) => {
            let letters = letters?.as_str();
            let first = letters.chars().next()?;
            letters.chars().all(|c| c == first).then_some(())?;
            (letters.to_owned(), Series::Letter(first))
        }
    };
    let next = words[len..].chars().next()?;
    (next.is_uppercase() || next == '(').then(|| Label {
        printed,
        series,
        rival: Rival::Unsaid,
        scheme: Scheme::Jump,
        back: Vec::new(),
        len,
        seen: None,
    })
}

/// Statements under one letter, one after another, are a couplet; a lone one found again later too.
fn couplets(statements: &[Statement]) -> Vec<Vec<usize>> {
    let word = |at: usize| match statements[at].label.series {
        Series::Bullet => "*",
        Series::Letter(_) | Series::Number(_) | Series::Dash => statements[at].label.printed.as_str(),
    };
    let mut couplets: Vec<Vec<usize>> = Vec::new();
    for at in 0..statements.len() {
        let lone = couplets.iter().position(|leads| leads.len() == 1 && word(leads[0]) == word(at));
        let last = couplets.len().checked_sub(1).filter(|last| word(couplets[*last][0]) == word(at));
        match last.or(lone) {
            Some(couplet) => couplets[couplet].push(at),
            None => couplets.push(vec![at]),
        }
    }
    couplets
}

/// The couplet of a letter: the next one below, else one above (K16).
fn find(couplets: &[Vec<usize>], statements: &[Statement], (from, letter): (usize, &str)) -> Option<usize> {
    let fits = |leads: &[usize]| statements[leads[0]].label.printed == letter && !leads.contains(&from);
    let below = couplets.iter().position(|leads| leads[0] > from && fits(leads));
    below.or_else(|| couplets.iter().position(|leads| fits(leads)))
}

fn ended(statement: &Statement, source: &Source<'_>) -> Ended {
    let composed = statement.composed();
    let plain = composed.str().trim_end();
    if let Some(found) = JUMP.captures(plain) {
        let start = found.get(0).map_or(plain.len(), |whole| whole.start());
        if start > statement.label.len {
            let printed = Printed {
                words: plain[start..].to_owned(),
                named: Vec::new(),
                cites: found.get(2).map(|page| page.as_str().to_owned()),
            };
            return Ended { start, letter: Some(found[1].to_owned()), printed };
        }
    }
    let (start, printed) = statement.target(source);
    let letter = LED.captures(printed.words.trim()).map(|found| found[1].to_owned());
    Ended { start, letter, printed }
}
