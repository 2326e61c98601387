//! Lists of other names of a taxon (T9–T11): words in, synonyms and names misused for it out (T10, N13).

use std::sync::LazyLock;

use regex::Regex;

use crate::model::{Taxon, Text};
use crate::name;

/// Another name, and how it was used for the taxon.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Used {
    /// The name, spelled out.
    pub(super) name: String,
    /// Whether it belongs to another taxon.
    misapplied: bool,
}

impl Used {
    fn new(name: String, before: Option<&Self>, misapplied: bool) -> Self {
        let genus = before.and_then(|last| last.name.split(' ').next()).unwrap_or_default();
        Self { name: name::expand(&name, genus).unwrap_or(name), misapplied }
    }
}

/// Gives the names to their taxon.
pub(super) fn give(taxon: &mut Taxon, names: Vec<Used>) {
    for used in names {
        if used.misapplied { taxon.misapplied.push(used.name) } else { taxon.synonyms.push(used.name) }
    }
}

/// `auct.`, `sensu Halv.`, `hort.` behind a name, with the author that the name belongs to: `auct., non L.`
static MISUSE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(concat!(
        r"^,? ?(?:auct\.|auctt\.|hort\.|sensu \p{Lu}[\p{L}.\-]*|auct\. [a-z]+\.)",
        r"(?:,? (?:non|nec|not) (?:\([^)]*\) ?)?\p{Lu}[\p{L}.\-]*(?: f\.)?)*"
    ))
    .expect("a fixed pattern")
});

/// The bytes of a remark that a name was misused, right behind it; 0 when there is none.
fn misuse(behind: &str) -> usize {
    MISUSE.find(behind).map_or(0, |found| found.end())
}

/// Reads a name; old books give epithets from persons a capital (N1).
pub(super) fn parse(text: &str) -> Option<name::Parsed> {
    let parsed = name::parse(text)?;
    let mut words = text.splitn(3, ' ');
    let (genus, epithet) = (words.next()?, words.next().unwrap_or_default());
    let personal = epithet.chars().next().is_some_and(char::is_uppercase)
        && epithet.chars().skip(1).all(char::is_lowercase)
        && PERSONAL.iter().any(|ending| epithet.ends_with(ending));
    if parsed.name.contains(' ') || !personal {
        return Some(parsed);
    }
    let lowered = format!("{genus} {}{}", epithet.to_lowercase(), &text[genus.len() + 1 + epithet.len()..]);
    name::parse(&lowered)
}

/// Endings of epithets made from a person's name.
const PERSONAL: &[&str] = &["i", "ae", "æ", "anus", "ana", "anum"];

/// Reads the list of names that stands at a byte and that goes on as long as names with authors, or in the same type,
/// follow; gives the byte behind it.
pub(super) fn list(text: &Text, from: usize) -> (Vec<Used>, usize) {
    let plain = &text.plain;
    let start = plain.len() - plain[from..].trim_start_matches([':', ' ', '=', '≡']).len();
    let italic = text.style_at(start).italic;
    let mut found: Vec<Used> = Vec::new();
    let (mut at, mut end) = (start, 0);
    while let Some(parsed) = parse(&plain[at..]) {
        let kept = parsed.name.contains(' ')
            && (found.is_empty() && !italic
                || parsed.authorship.is_some() && text.style_at(at).italic == italic
                || italic && text.style_at(at).italic);
        if !kept {
            break;
        }
        end = at + parsed.end;
        let misuse = misuse(&plain[end..]);
        found.push(Used::new(parsed.name, found.last(), misuse > 0));
        end += misuse;
        let after = &plain[end..];
        let next = after.trim_start_matches([',', ';', '=', '≡', ' ', '.']);
        if next.len() == after.len()
            || after.starts_with(". ") && !text.style_at(plain.len() - next.len()).italic
        {
            break;
        }
        at = plain.len() - next.len();
    }
    (found, end)
}

/// Reads names parted by `;`, `,`, `=` or `≡`; authors are left out.
pub(super) fn names(list: &str) -> Vec<Used> {
    let mut found: Vec<Used> = Vec::new();
    for part in list.split([';', '=', '≡']) {
        let mut rest = part.trim().trim_start_matches([':', ' ']);
        while let Some(parsed) = parse(rest) {
            let behind = &rest[parsed.end.min(rest.len())..];
            let misuse = misuse(behind);
            if parsed.name.contains(' ') {
                found.push(Used::new(parsed.name, found.last(), misuse > 0));
            }
            rest = behind[misuse..].trim_start_matches([',', ' ', '.']);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_names(list: &str, synonyms: &[&str], misapplied: &[&str]) {
        let (misused, other): (Vec<Used>, Vec<Used>) =
            names(list).into_iter().partition(|used| used.misapplied);
        let plain = |names: Vec<Used>| names.into_iter().map(|used| used.name).collect::<Vec<_>>();
        assert_eq!(
            (plain(other), plain(misused)),
            (
                synonyms.iter().map(|name| (*name).to_owned()).collect(),
                misapplied.iter().map(|name| (*name).to_owned()).collect(),
            )
        );
    }

    #[test]
    fn a_misapplied_name_is_no_synonym() {
        check_names("Silene lata Halv.; S. nana auct., non L.", &["Silene lata"], &["Silene nana"]);
        check_names(
            "Silene nana sensu Tor, non (Halv.) Skerrow; S. lata Tor",
            &["Silene lata"],
            &["Silene nana"],
        );
        check_names("Silene nana hort.", &[], &["Silene nana"]);
    }

    #[test]
    fn a_later_namesake_of_another_is_a_synonym() {
        check_names("Silene nana Tor., non Halv.", &["Silene nana"], &[]);
    }
}
