//! A name as somebody identified a plant by it: the name alone, and the doubt with the part that it doubts (N14); formulas of
//! hybrids with their parents (N8, N9).

use super::grammar::{Parsed, parse};

/// Words that qualify an identification and are no part of a name.
const QUALIFIERS: &[&str] = &["cf.", "cf", "aff.", "aff", "?"];
/// Words that stand where an epithet is not known.
const UNKNOWN: &[&str] = &["sp.", "spp.", "indet.", "sp", "spp"];

/// An identification taken apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Identified {
    /// The name, without any doubt.
    pub name: Parsed,
    /// The doubt and the part of the name that it doubts, as Darwin Core's `identificationQualifier` has it.
    pub qualifier: Option<String>,
}

/// Takes an identification apart; `None` where no name begins it.
pub fn identified(text: &str) -> Option<Identified> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let doubted = words.iter().position(|word| QUALIFIERS.contains(word));
    let unknown = words.iter().position(|word| UNKNOWN.contains(word));
    let kept: Vec<&str> = words
        .iter()
        .enumerate()
        .filter(|(at, _)| Some(*at) != doubted && unknown.is_none_or(|unknown| *at < unknown))
        .map(|(_, word)| *word)
        .collect();
    // A question mark may stand at the word that it doubts.
    let marked = kept.iter().position(|word| word.starts_with('?') || word.ends_with('?'));
    let bare: Vec<&str> = kept.iter().map(|word| word.trim_matches('?')).collect();
    let name = parse(&bare.join(" "))?;
    let part = |from: usize| words[from..].join(" ");
    let qualifier = match (doubted, unknown, marked) {
        (Some(at), ..) | (None, Some(at), _) => Some(part(at)),
        (None, None, Some(at)) => Some(format!("? {}", bare[at..].join(" "))),
        (None, None, None) => None,
    };
    Some(Identified { name, qualifier })
}

/// A parent in a formula.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parent {
    /// Its name, genus spelled out.
    pub name: String,
    /// Its authorship as printed.
    pub authorship: Option<String>,
    /// Whether the genus is printed with it, in full or by its initial; the Code wants it so (ICN Art. H.2).
    pub has_genus: bool,
}

/// Reads a formula of parents (`A. b × A. c`); `None` for a name, also of a hybrid, and for anything else.
pub fn formula(text: &str) -> Option<Vec<Parent>> {
    let first = parse(text)?;
    if !first.name.contains(' ') {
        return None;
    }
    let genus = first.name.split(' ').next()?.to_owned();
    let mut rest = &text[first.end..];
    let mut parents = vec![Parent { name: first.name, authorship: first.authorship, has_genus: true }];
    while let Some(next) = crossed(rest) {
        let (name, authorship, end, has_genus) = if let Some(parsed) = parse(next) {
            let name = super::expand(&parsed.name, &genus).unwrap_or(parsed.name);
            (name, parsed.authorship, parsed.end, true)
        } else {
            let whole = format!("{genus} {next}");
            let parsed = parse(&whole)?;
            (parsed.name, parsed.authorship, parsed.end - genus.len() - 1, false)
        };
        parents.push(Parent { name, authorship, has_genus });
        rest = &next[end..];
    }
    (parents.len() > 1).then_some(parents)
}

/// Returns what stands behind a sign of crossing at the start of a text.
fn crossed(rest: &str) -> Option<&str> {
    let rest = rest.trim_start().trim_start_matches(['♀', '♂']).trim_start();
    let after =
        rest.strip_prefix('×').or_else(|| rest.strip_prefix("x ").or_else(|| rest.strip_prefix("X ")))?;
    Some(after.trim_start().trim_start_matches(['♀', '♂']).trim_start())
}
