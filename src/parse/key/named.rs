//! What the words of a printed target name (K21–K27): couplets, taxa, keys, pages.
//!
//! Which couplet, taxon or key that is, is found in `resolve`, when the whole book is known.

use std::sync::LazyLock;

use regex::Regex;

use crate::model::Rank;
use crate::name;
use crate::parse::words;

use super::{label, noise, vernacular};

/// One thing that a printed target names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Named {
    /// A couplet of this key by its number, perhaps one lead of it.
    Number(u32),
    /// A couplet of this key by its position, where the layout tells it.
    Couplet(usize),
    /// A taxon by its name, perhaps with an abbreviated genus.
    Name {
        /// The name as parsed.
        name: String,
        /// The rank that its form shows.
        rank: Rank,
    },
    /// The last part of a name alone: `subsp. alba` or `alba`.
    Epithet {
        /// The connecting term as this program writes it; empty for a bare epithet.
        term: &'static str,
        /// The epithet.
        epithet: String,
    },
    /// The name above again (K24), with what is changed in it; empty where nothing is.
    Ditto(String),
    /// Another key by what its title begins with.
    Key(String),
    /// Something else.
    Other(String),
}

/// A target as printed and what it names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Printed {
    /// All that stands there.
    pub(crate) words: String,
    /// What it names, in order.
    pub(crate) named: Vec<Named>,
    /// The page that it cites.
    pub(crate) cites: Option<String>,
}

pub(super) static PAGE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"[,;.]?\s*[(\[]?\b(?:pp?|pag|page|S)\.?\s?(\d{1,4}|[ivxlc]{1,7})\b\.?\s*[)\]]?")
        .expect("a fixed pattern")
});
static TAXON_NUMBER: LazyLock<Regex> = LazyLock::new(|| {
    // A Roman number stands before a capital; `C. alba` is a genus cut short.
    Regex::new(r"^(?:(?:\d+(?:\.\d+)*[a-z]?[.)]?|[a-z]\.)\s+|[IVXLC]+\.\s+(?P<name>\p{Lu}))")
        .expect("a fixed pattern")
});
static DITTO: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r#"^(?:[Dd]o\.|[Dd]itto\.?|["″”„]|[—–-]{1,2})(?:\s+(.+))?$"#).expect("a fixed pattern")
});
pub(super) static BARE_NUMBER: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^[(\[]?(\d{1,3})[a-h]?[)\]]?\.?$").expect("a fixed pattern"));
/// A bracketed figure before a target is a mark that a note explains (K26).
static FOOTNOTE: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^\[\d{1,2}\]\p{Lu}?\s+").expect("a fixed pattern"));

/// Reads what a printed target names.
pub(crate) fn read(words: &str) -> Printed {
    let words = &noise::without(words);
    let trimmed = FOOTNOTE.replace(words.trim().trim_start_matches(['.', '…', '→', '—', '–', ' ']), "");
    let trimmed = trimmed.trim();
    let cites = PAGE.captures(trimmed).and_then(|found| found.get(1)).map(|page| page.as_str().to_owned());
    let mut printed = Printed { words: trimmed.to_owned(), named: Vec::new(), cites };
    let bare = PAGE.replace_all(trimmed, " ; ");
    if let Some(latin) =
        vernacular::after(bare.trim_end_matches(['.', ' ']).trim()).filter(|_| bare.contains(';'))
    {
        printed.named.extend(names(latin));
        return printed;
    }
    for part in bare.split(';').map(str::trim).filter(|part| part.chars().any(char::is_alphanumeric)) {
        printed.named.extend(part_names(part));
    }
    printed
}

fn part_names(part: &str) -> Vec<Named> {
    let part = part.trim_end_matches(|c: char| matches!(c, '.' | ',' | ':') || c.is_whitespace());
    let part = part.strip_prefix("go to ").or_else(|| part.strip_prefix("see ")).unwrap_or(part).trim();
    if let Some(number) = BARE_NUMBER.captures(part).and_then(|found| found.get(1)?.as_str().parse().ok()) {
        return vec![Named::Number(number)];
    }
    if words::is_key_target(part) {
        return vec![Named::Key(part.to_owned())];
    }
    if let Some(epithet) = below_species(part) {
        return vec![epithet];
    }
    if let Some(figures) = misread_number(part) {
        return vec![Named::Number(figures)];
    }
    let part = TAXON_NUMBER.replace(part, "$name");
    if let Some(found) = DITTO.captures(&part) {
        return vec![Named::Ditto(found.get(1).map_or("", |rest| rest.as_str()).trim().to_owned())];
    }
    let part = part.trim_start_matches(['†', '*', '‡', '§', ' ']);
    if let Some(epithet) = below_species(part) {
        return vec![epithet];
    }
    names(part)
}

/// A number some of whose figures were taken for letters (K18), beside figures or alone.
fn misread_number(part: &str) -> Option<u32> {
    let figures: Option<String> = part.chars().map(label::figure).collect();
    let alone = part.len() <= 3 && !part.starts_with('0') && !part.eq_ignore_ascii_case("o");
    figures.filter(|_| alone)?.parse().ok()
}

/// Reads one name after another: `P. alba or P. nigra`, `P. alba, P. nigra`.
fn names(part: &str) -> Vec<Named> {
    let mut named = Vec::new();
    let mut rest = part.trim();
    // `Carex spp.` is the genus.
    rest = ["spp", "sp"].iter().find_map(|some| rest.strip_suffix(some)?.strip_suffix(' ')).unwrap_or(rest);
    if let Some(latin) = vernacular::after(rest) {
        rest = latin;
    }
    while let Some(parsed) = name::parse(rest) {
        named.push(Named::Name { name: parsed.name, rank: parsed.rank });
        let after = rest[parsed.end..].trim_start_matches(|c: char| {
            matches!(c, ',' | '.' | ';' | '&' | '[' | ']' | '(' | ')')
                || c.is_ascii_digit()
                || c.is_whitespace()
        });
        let after =
            ["or ", "and ", "et "].iter().find_map(|joiner| after.strip_prefix(joiner)).unwrap_or(after);
        if after.is_empty() || after == rest {
            return named;
        }
        rest = after;
    }
    let prose =
        rest.split_whitespace().filter(|word| word.chars().all(|c| c.is_lowercase() || c == ',')).count() > 1;
    if !named.is_empty() && prose {
        named.push(Named::Other(rest.to_owned()));
    }
    if named.is_empty() {
        let one = rest.trim();
        let bare = one.strip_prefix('×').map_or(one, str::trim_start);
        let plain = !bare.is_empty() && bare.chars().all(|c| c.is_lowercase() || c == '-');
        named.push(if plain {
            Named::Epithet { term: "", epithet: one.to_owned() }
        } else {
            Named::Other(one.to_owned())
        });
    }
    named
}

fn below_species(part: &str) -> Option<Named> {
    let (term, rest) = part.split_once(' ')?;
    let term = words::connecting_term(term)?;
    let epithet: String = rest.trim().chars().take_while(|c| c.is_alphabetic() || *c == '-').collect();
    (!epithet.is_empty()).then_some(Named::Epithet { term, epithet })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_target(words: &str, named: &[Named], cites: Option<&str>) {
        let printed = read(words);
        assert_eq!((printed.named.as_slice(), printed.cites.as_deref()), (named, cites));
    }

    fn name(name: &str, rank: Rank) -> Named {
        Named::Name { name: name.to_owned(), rank }
    }

    #[test]
    fn all_common_target_forms_are_read() {
        check_target("12", &[Named::Number(12)], None);
        check_target("→ 12.", &[Named::Number(12)], None);
        check_target("go to 12", &[Named::Number(12)], None);
        check_target("Group 3, p. 2", &[Named::Key("Group 3".to_owned())], Some("2"));
        check_target("9. PAPAVERACEAE (p. 46)", &[name("Papaveraceae", Rank::Family)], Some("46"));
        check_target("6. Trachysperma", &[name("Trachysperma", Rank::Genus)], None);
        check_target("3. P. alba", &[name("P. alba", Rank::Species)], None);
        check_target("P. strobus, p. 7.", &[name("P. strobus", Rank::Species)], Some("7"));
        check_target(
            "P. alba p. 53. P. nigra p. 55.",
            &[name("P. alba", Rank::Species), name("P. nigra", Rank::Species)],
            Some("53"),
        );
        check_target(
            "P. alba or P. nigra",
            &[name("P. alba", Rank::Species), name("P. nigra", Rank::Species)],
            None,
        );
        check_target(
            "subsp. alpina",
            &[Named::Epithet { term: "subsp.", epithet: "alpina".to_owned() }],
            None,
        );
        check_target("3. rupestris", &[Named::Epithet { term: "", epithet: "rupestris".to_owned() }], None);
        check_target("8. L. × microphyllum", &[name("L. ×microphyllum", Rank::Hybrid)], None);
        check_target("White oak, Quercus alba", &[name("Quercus alba", Rank::Species)], None);
    }
}
