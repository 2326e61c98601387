//! The grammar of a scientific name at the start of a text (ICN Art. 4, 18.5, 24, 26, H.2, H.3; N1–N14).

use crate::model::Rank;

use super::author;

/// Family names without the ending -aceae that stay valid (ICN Art. 18.5), with Papilionaceae's older sister names.
const OLD_FAMILIES: &[&str] = &[
    "compositae",
    "cruciferae",
    "gramineae",
    "guttiferae",
    "labiatae",
    "leguminosae",
    "palmae",
    "umbelliferae",
];

/// Connecting terms: as printed, as written here, rank. `f.` counts only before an epithet.
const TERMS: &[(&str, &str, Rank)] = &[
    ("subsp.", "subsp.", Rank::Subspecies),
    ("ssp.", "subsp.", Rank::Subspecies),
    ("nothosubsp.", "subsp.", Rank::Subspecies),
    ("var.", "var.", Rank::Variety),
    ("Var.", "var.", Rank::Variety),
    ("v.", "var.", Rank::Variety),
    ("nothovar.", "var.", Rank::Variety),
    ("subvar.", "subvar.", Rank::Variety),
    ("f.", "f.", Rank::Form),
    ("forma", "f.", Rank::Form),
    ("subf.", "subf.", Rank::Form),
    ("nothof.", "f.", Rank::Form),
    // Greek letters count varieties in older books; which rank they mean is not known, so they stay (N7).
    ("α", "α", Rank::Variety),
    ("β", "β", Rank::Variety),
    ("γ", "γ", Rank::Variety),
    ("δ", "δ", Rank::Variety),
    ("subsect.", "subsect.", Rank::Section),
    ("ser.", "ser.", Rank::Section),
    ("sect.", "sect.", Rank::Section),
    ("subg.", "subg.", Rank::Subgenus),
    ("subgen.", "subg.", Rank::Subgenus),
];

/// English and Latin words that follow a genus in running text and are no epithets.
const NO_EPITHETS: &[&str] = &[
    "and", "or", "with", "in", "is", "are", "has", "have", "of", "to", "the", "from", "see", "not", "on",
    "at", "by", "but", "ex", "et", "de", "van", "von", "der", "du", "nec", "non", "sensu", "auct", "family",
    "genus", "species", "which", "when", "was", "were", "for", "sp", "spp", "as", "a", "an",
];

/// A name read from the start of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parsed {
    /// The name alone, connecting terms normalised, the hybrid sign as `×`; an abbreviated genus stays so.
    pub name: String,
    /// The authorship as printed, if any.
    pub authorship: Option<String>,
    /// The rank that the form of the name shows.
    pub rank: Rank,
    /// Byte where the name (without a last authorship) ends.
    pub name_end: usize,
    /// Byte where name and authorship end.
    pub end: usize,
}

/// Endings of single names between family and genus (ICN Art. 19; N3).
const BETWEEN: &[(&str, Rank)] = &[("oideae", Rank::Subfamily), ("eae", Rank::Tribe)];

/// Endings by which an epithet with a capital, as older books print those after persons and genera, is told from an author
/// (N1): no author's name in common use has them.
const CAPITAL_EPITHETS: &[&str] =
    &["ii", "iana", "ianus", "ianum", "oides", "ensis", "ense", "oideus", "ifolia", "ifolius", "ifolium"];

/// Says whether a single word is the name of a family.
pub fn is_family(word: &str) -> bool {
    let lower = super::fold(word);
    !lower.contains(' ')
        && (lower.ends_with("aceae") && lower.len() > 6 || OLD_FAMILIES.contains(&lower.as_str()))
}

/// Reads a scientific name at the very start of `text`; `None` when there is none.
///
/// Whole names in capitals (`PINUS STROBUS`) are given back in mixed case. A single capitalised word is taken for a
/// genus (or family), so callers ask for more evidence before they believe it.
pub fn parse(text: &str) -> Option<Parsed> {
    let mut reader = Reader { text, at: 0, epithets: 0 };
    let mut name = String::new();
    if let Some(rest) = text.strip_prefix('+') {
        // A graft chimaera (N17): no hybrid, and its sign belongs to its name.
        name.push('+');
        reader.at = 1 + rest.len() - rest.trim_start().len();
    }
    let mut rank = Rank::Genus;
    if reader.hybrid_sign() {
        name.push('×');
        rank = Rank::Hybrid;
    }
    let genus = reader.genus()?;
    let capitals =
        genus.chars().filter(|c| c.is_alphabetic()).count() > 1 && !genus.chars().any(char::is_lowercase);
    name.push_str(&if capitals { title_case(genus) } else { genus.to_owned() });
    if is_family(genus) {
        rank = Rank::Family;
    } else if let Some(between) = between(genus) {
        rank = between;
    } else if let Some(found) = reader.members(&mut name, capitals) {
        rank = found;
    }
    if genus.ends_with('.') && reader.epithets == 0 {
        return None;
    }
    let name_end = reader.at;
    let authors = author::length(&text[name_end..]);
    let authorship =
        (authors > 0).then(|| author::without_book(text[name_end..name_end + authors].trim()).to_owned());
    Some(Parsed { name, authorship, rank, name_end, end: name_end + authors })
}

/// Returns the rank that a single name shows by its ending, where it stands between family and genus.
fn between(word: &str) -> Option<Rank> {
    let lower = super::fold(word);
    let long = |ending: &str| lower.len() > ending.len() + 3;
    BETWEEN.iter().find(|(ending, _)| lower.ends_with(ending) && long(ending)).map(|(_, rank)| *rank)
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    epithets: usize,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    fn word(&self) -> (&'a str, usize) {
        let rest = self.rest();
        let start = rest.len() - rest.trim_start().len();
        let word = &rest[start..];
        let word = &word[..word.find(char::is_whitespace).unwrap_or(word.len())];
        (word, self.at + start)
    }

    fn hybrid_sign(&mut self) -> bool {
        let rest = self.rest().trim_start();
        let skipped = self.rest().len() - rest.len();
        if rest.starts_with('×') {
            self.at += skipped + '×'.len_utf8();
            return true;
        }
        if (rest.starts_with("x ") || rest.starts_with("X ")) && self.at > 0 {
            self.at += skipped + 1;
            return true;
        }
        false
    }

    fn genus(&mut self) -> Option<&'a str> {
        let (word, start) = self.word();
        if start > self.at && self.at == 0 {
            return None;
        }
        let core_len = word
            .find(|c: char| !(c.is_alphabetic() || matches!(c, '-' | '‐' | '\u{ad}')))
            .unwrap_or(word.len());
        let core = &word[..core_len];
        let letters = core.chars().filter(|c| c.is_alphabetic()).count();
        let mut chars = core.chars();
        if !chars.next().is_some_and(char::is_uppercase) {
            return None;
        }
        if word[core_len..].starts_with('.') && letters <= 3 {
            self.at = start + core_len + 1;
            return Some(&word[..=core_len]);
        }
        let tail_lower = core.chars().skip(1).all(|c| !c.is_uppercase());
        let all_upper = core.chars().all(|c| !c.is_lowercase());
        if letters < 3 || !(tail_lower || all_upper) {
            return None;
        }
        self.at = start + core_len;
        Some(core)
    }

    /// Reads what stands below the genus and says the rank.
    fn members(&mut self, name: &mut String, capitals: bool) -> Option<Rank> {
        if let Some((term, epithet, rank)) = self.connected(capitals)
            && matches!(rank, Rank::Section | Rank::Subgenus)
        {
            for part in [" ", term, " ", &epithet] {
                name.push_str(part);
            }
            return Some(rank);
        }
        let before = self.at;
        let hybrid = self.hybrid_sign();
        let Some(epithet) = self.epithet(capitals) else {
            self.at = before;
            return None;
        };
        name.push_str(if hybrid { " ×" } else { " " });
        name.push_str(&epithet.to_lowercase());
        let mut rank = if hybrid { Rank::Hybrid } else { Rank::Species };
        let at_species = self.at;
        // An autonym's author stands in the middle (ICN Art. 26.1).
        let term_next = TERMS.iter().any(|(term, ..)| *term == self.word().0);
        let mut middle = if term_next { 0 } else { author::length(self.rest()) };
        // `f.` before an epithet is a form, after an author the author's son (N10).
        let (authors, after) = self.rest().split_at(middle);
        let epithet_next = after.split_whitespace().next().is_some_and(is_epithet);
        if let Some(father) = authors.strip_suffix(" f.").filter(|_| epithet_next) {
            middle = father.len();
        }
        if middle > 0 && (epithet_next || !self.rest()[..middle].ends_with(" f.")) {
            self.at += middle;
        }
        let base = name.clone();
        let mut any = false;
        while let Some((term, epithet, found)) = self.connected(capitals) {
            *name = format!("{base} {term} {epithet}");
            rank = found;
            any = true;
        }
        if !any {
            self.at = at_species;
            let (word, _) = self.word();
            if middle == 0
                && !hybrid
                && !capitals
                && is_epithet(word.trim_end_matches([',', ';', '.', ':']))
                && !word.ends_with('.')
            {
                let third = self.epithet(false)?;
                name.push(' ');
                name.push_str(third);
                rank = Rank::Variety;
            }
        }
        Some(rank)
    }

    fn epithet(&mut self, capitals: bool) -> Option<&'a str> {
        let (word, start) = self.word();
        let len = word
            .find(|c: char| !(c.is_alphabetic() || matches!(c, '-' | '‐' | '\u{ad}' | '’')))
            .unwrap_or(word.len());
        let core = &word[..len];
        let fits = is_epithet(core)
            || is_old_epithet(core)
            || self.epithets == 0 && is_capital_epithet(core, &word[len..])
            || (capitals
                && core.chars().count() > 2
                && !core.chars().any(char::is_lowercase)
                && core.chars().all(|c| c.is_alphabetic() || c == '-'));
        if !fits || self.text[self.at..start].contains(',') {
            return None;
        }
        self.at = start + len;
        self.epithets += 1;
        Some(core)
    }

    fn connected(&mut self, capitals: bool) -> Option<(&'static str, String, Rank)> {
        let before = self.at;
        let lead = self.rest().trim_start();
        let lead = lead.strip_prefix(',').map_or(lead, str::trim_start);
        let start = self.text.len() - lead.len();
        let word = lead.split_whitespace().next().unwrap_or_default();
        let &(_, ours, rank) = TERMS.iter().find(|(printed, _, _)| *printed == word)?;
        self.at = start + word.len();
        let upper_epithet = matches!(rank, Rank::Section | Rank::Subgenus);
        let (next, next_start) = self.word();
        let core: String = next.chars().take_while(|c| c.is_alphabetic() || matches!(c, '-' | '‐')).collect();
        let good = if upper_epithet {
            core.chars().next().is_some_and(char::is_uppercase)
        } else {
            is_epithet(&core) || capitals
        };
        if !good || core.is_empty() {
            self.at = before;
            return None;
        }
        self.at = next_start + core.len();
        self.epithets += 1;
        Some((ours, if upper_epithet { core } else { core.to_lowercase() }, rank))
    }
}

fn is_epithet(word: &str) -> bool {
    word.chars().count() > 1
        && word.chars().next().is_some_and(char::is_lowercase)
        && word.chars().all(|c| c.is_lowercase() || matches!(c, '-' | '‐' | '\u{ad}'))
        && !NO_EPITHETS.contains(&word)
}

/// Older floras write an epithet taken from a name in capitals (ICN Art. 60F); of two words the second tells that it
/// is no person (`Plantago-aquatica`).
fn is_old_epithet(word: &str) -> bool {
    let Some((first, second)) = word.split_once('-') else { return false };
    let upper = |word: &str| word.chars().next().is_some_and(char::is_uppercase);
    upper(first)
        && first.chars().skip(1).all(char::is_lowercase)
        && first.chars().count() > 3
        && is_epithet(second)
}

/// Says whether a word with a capital can only be an epithet after a person or a genus (N1).
fn is_capital_epithet(word: &str, after: &str) -> bool {
    let mut letters = word.chars();
    let capital = letters.next().is_some_and(char::is_uppercase) && letters.all(char::is_lowercase);
    capital
        && !after.starts_with('.')
        && CAPITAL_EPITHETS.iter().any(|end| word.ends_with(end) && word.len() > end.len() + 3)
}

fn title_case(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map(|first| first.to_string() + &chars.as_str().to_lowercase()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_name(text: &str, name: &str, authorship: Option<&str>, rank: Rank) {
        let parsed = parse(text).expect("a name");
        assert_eq!(
            (parsed.name.as_str(), parsed.authorship.as_deref(), parsed.rank),
            (name, authorship, rank)
        );
    }

    #[test]
    fn the_names_of_the_code_parse() {
        // Examples of names from ICN Art. 4, 24, 26, 46, H.3 (Turland & al. 2018).
        check_name(
            "Rosa gallica var. versicolor L.",
            "Rosa gallica var. versicolor",
            Some("L."),
            Rank::Variety,
        );
        check_name("Rosa gallica L. var. gallica", "Rosa gallica var. gallica", None, Rank::Variety);
        check_name(
            "Saxifraga aizoon var. aizoon subvar. brevifolia f. multicaulis subf. surculosa Engl. & Irmsch.",
            "Saxifraga aizoon subf. surculosa",
            Some("Engl. & Irmsch."),
            Rank::Form,
        );
        check_name(
            "Solanum melongena var. insanum (L.) Prain",
            "Solanum melongena var. insanum",
            Some("(L.) Prain"),
            Rank::Variety,
        );
        check_name(
            "×Agropogon littoralis (Sm.) C. E. Hubb.",
            "×Agropogon littoralis",
            Some("(Sm.) C. E. Hubb."),
            Rank::Species,
        );
        check_name("Salix ×capreola Andersson", "Salix ×capreola", Some("Andersson"), Rank::Hybrid);
        check_name(
            "Mentha × smithiana R. A. Graham",
            "Mentha ×smithiana",
            Some("R. A. Graham"),
            Rank::Hybrid,
        );
    }

    #[test]
    fn headings_in_capitals_come_back_in_mixed_case() {
        check_name("CARYOPHYLLACEAE Juss.", "Caryophyllaceae", Some("Juss."), Rank::Family);
        check_name("SILENE L.", "Silene", Some("L."), Rank::Genus);
    }

    #[test]
    fn a_name_stops_before_prose() {
        check_name("Silene alta L. Perennial herb", "Silene alta", Some("L."), Rank::Species);
        check_name("P. strobus, p. 7.", "P. strobus", None, Rank::Species);
        assert_eq!(parse("leaves opposite"), None);
    }

    #[test]
    fn a_trinomial_without_a_term_is_a_variety() {
        check_name("Silene alta nigra Halv.", "Silene alta nigra", Some("Halv."), Rank::Variety);
    }
}
