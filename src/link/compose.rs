//! Words that no glossary has, explained from parts that one has: `subglabrous`, almost hairless; and what the parts
//! of a compound have to do with one another. A composed explanation is never passed off as a glossary's.

use crate::clause::organ_of;
use crate::link::everyday::{ADJECTIVES, LOOSE_ADJECTIVES, NOUNS, listed};
use crate::link::parts::{
    BELOW, FIRST, NEGATED, PLACES, PREFIXES, Prefix, SECOND, SUFFIXES, Suffix, UNCOUNTED, WHOLE,
};
use crate::terms::form::fold;
use crate::terms::{Lexicon, Term, TermId, topic};

/// A word put together from an entry and what a prefix or suffix says of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Composed {
    /// The explanation, in our words: `almost hairless`.
    pub words: String,
    /// The prefix with a hyphen behind or the suffix with one before: `sub-`, `-ish`.
    pub affix: String,
    /// The entry of the rest.
    pub part: TermId,
}

impl Composed {
    /// Returns the explanation with how it was made: `almost hairless (composed: sub- + glabrous)`.
    pub fn explained(&self, lexicon: &Lexicon) -> String {
        let part = &lexicon.get(self.part).name;
        let (one, other) =
            if self.affix.starts_with('-') { (part, &self.affix) } else { (&self.affix, part) };
        format!("{} (composed: {one} + {other})", self.words)
    }
}

/// How the parts of a hyphened word go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relation {
    /// Parts of one kind: what is meant lies between them, nearer the last.
    Between,
    /// Parts of different kinds: all of them hold.
    Both,
}

/// Letters of the shortest word that is taken apart.
const SHORTEST: usize = 6;

/// Explains a word that no glossary has from a part that one has; none where it can't be done.
///
/// ```
/// use ligule::link::compose;
/// use ligule::terms::Lexicon;
/// let lexicon = Lexicon::built_in();
/// assert_eq!(compose("nonglandular", &lexicon).expect("it is composed").affix, "non-");
/// assert_eq!(compose("glandular", &lexicon), None);
/// ```
pub fn compose(word: &str, lexicon: &Lexicon) -> Option<Composed> {
    let key = fold(word);
    if lexicon.find(&key).is_empty() { compose_unknown(&key, lexicon) } else { None }
}

/// Does what [`compose`] does for a folded word of which it is known already that no glossary has it.
pub(crate) fn compose_unknown(key: &str, lexicon: &Lexicon) -> Option<Composed> {
    if key.len() < SHORTEST || WHOLE.contains(&key) {
        return None;
    }
    match key.split_once(' ') {
        Some(parts) => hyphened(parts, lexicon),
        None => prefixed(key, lexicon).or_else(|| suffixed(key, lexicon)),
    }
}

/// Says how the entries of a hyphened word go together.
pub fn relation(parts: &[TermId], lexicon: &Lexicon) -> Relation {
    let kinds: Vec<Option<&str>> = parts.iter().map(|id| kind(&lexicon.get(*id).name)).collect();
    let one = kinds.first().copied().flatten();
    if one.is_some() && kinds.iter().all(|kind| *kind == one) { Relation::Between } else { Relation::Both }
}

/// Topics of the built-in glossary whose adjectives shade into one another.
const SHADING: &[&str] = &["colour.toml", "leaf-apex-base.toml", "leaf-margin.toml", "leaf-shape.toml"];

/// Adjectives of other topics that shade into one another, by what they are of.
const SHADES: &[(&str, &[&str])] = &[
    (
        "form of a flower",
        &[
            "campanulate",
            "funnelform",
            "rotate",
            "salverform",
            "tubular",
            "urceolate",
            "cruciform",
            "ligulate",
        ],
    ),
    (
        "growth",
        &["ascending", "climbing", "creeping", "decumbent", "erect", "procumbent", "prostrate", "spreading"],
    ),
    (
        "hairiness",
        &[
            "arachnoid",
            "canescent",
            "downy",
            "floccose",
            "hirsute",
            "hispid",
            "lanate",
            "pilose",
            "puberulent",
            "pubescent",
            "scabrous",
            "sericeous",
            "strigose",
            "tomentose",
            "velutinous",
            "villous",
        ],
    ),
    ("inflorescence", &["corymbose", "cymose", "paniculate", "racemose", "spicate", "umbellate", "capitate"]),
];

fn kind(name: &str) -> Option<&'static str> {
    let key = fold(name);
    let shade = SHADES.iter().find(|(_, words)| words.contains(&&*key)).map(|(kind, _)| *kind);
    shade.or_else(|| topic(&key).filter(|topic| SHADING.contains(topic)))
}

/// Explains `bract-like`, `gland-bearing`, `half-clasping`.
fn hyphened((first, second): (&str, &str), lexicon: &Lexicon) -> Option<Composed> {
    let says = |table: &[(&str, &'static str)], word: &str| {
        table.iter().find(|(listed, _)| *listed == word).map(|(_, says)| *says)
    };
    if let Some(says) = says(SECOND, second) {
        return composed(says, (format!("-{second}"), first), lexicon);
    }
    composed(says(FIRST, first)?, (format!("{first}-"), second), lexicon)
}

fn prefixed(key: &str, lexicon: &Lexicon) -> Option<Composed> {
    PREFIXES.iter().find_map(|Prefix(prefix, says, least)| {
        let rest = key.strip_prefix(prefix).filter(|rest| rest.len() >= *least)?;
        let negates = says.starts_with("not") && !matches!(*prefix, "non" | "un");
        if negates && !NEGATED.iter().any(|ending| rest.ends_with(ending)) || is_english(rest, prefix) {
            return None;
        }
        let says = if *prefix == "sub" && PLACES.contains(&rest) { BELOW } else { says };
        composed(says, (format!("{prefix}-"), rest), lexicon)
            .filter(|made| is_listed(rest, made.part, lexicon))
    })
}

/// Says whether a rest is a headword or listed form and no plural: `districts` has nothing of `strict`.
fn is_listed(rest: &str, part: TermId, lexicon: &Lexicon) -> bool {
    let term = lexicon.get(part);
    std::iter::once(&term.name).chain(&term.forms).any(|word| fold(word) == rest)
        || NEGATED.iter().any(|ending| rest.ends_with(ending))
}

/// Says whether the rest is too much of everyday English for the prefix to make a term of it (`uncommon`).
fn is_english(rest: &str, prefix: &str) -> bool {
    let tables = [ADJECTIVES, LOOSE_ADJECTIVES, NOUNS];
    !matches!(prefix, "sub" | "semi") && tables.into_iter().any(|table| listed(table, rest).is_some())
}

fn suffixed(key: &str, lexicon: &Lexicon) -> Option<Composed> {
    SUFFIXES.iter().find_map(|Suffix(suffix, instead, says)| {
        let stem = key.strip_suffix(suffix).filter(|stem| stem.len() >= SHORTEST_STEM)?;
        instead.iter().find_map(|ending| {
            let whole = format!("{stem}{ending}");
            composed(says, (format!("-{suffix}"), &whole), lexicon)
        })
    })
}

/// Letters of the shortest stem before a suffix.
const SHORTEST_STEM: usize = 3;

/// Makes the explanation where the lexicon has the part.
fn composed(says: &str, (affix, part): (String, &str), lexicon: &Lexicon) -> Option<Composed> {
    let id = *lexicon.find(part).first()?;
    let term = lexicon.get(id);
    // A part that is a shortened word of an entry, or an organ before `-ish`, makes no term.
    if term.name.ends_with('.') || affix == "-ish" && organ_of(part).is_some() {
        return None;
    }
    let vowel = part.starts_with(['a', 'e', 'i', 'o', 'u']);
    let uncounted = UNCOUNTED.contains(&part) || part.ends_with('s') && !part.ends_with("ss");
    let says = match (uncounted, vowel) {
        (true, _) => says.replace("a []", "[]"),
        (false, true) => says.replace("a []", "an []"),
        (false, false) => says.to_owned(),
    };
    Some(Composed { words: says.replace("[]", part).replace("{}", plainly(term)), affix, part: id })
}

/// Returns the shortest way to say what a term means that can stand in a sentence: one plain word, else its name.
fn plainly(term: &Term) -> &str {
    let plain = term.senses.first().and_then(|sense| sense.plain.first());
    plain.filter(|words| !words.contains(' ')).map_or(&term.name, |words| words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_composed(word: &str, expected: Option<&str>) {
        let lexicon = Lexicon::built_in();
        let found = compose(word, &lexicon).map(|composed| composed.explained(&lexicon));
        assert_eq!(found.as_deref(), expected, "{word}");
    }

    #[track_caller]
    fn check_relation(parts: &[&str], expected: Relation) {
        let lexicon = Lexicon::built_in();
        let parts: Vec<TermId> = parts.iter().map(|part| lexicon.look_up(part)[0]).collect();
        assert_eq!(relation(&parts, &lexicon), expected, "{parts:?}");
    }

    #[test]
    fn a_prefix_is_explained_by_the_rest() {
        check_composed("subglabrous", Some("almost hairless (composed: sub- + glabrous)"));
        check_composed("nonglandular", Some("not glandular (composed: non- + glandular)"));
        check_composed("semiterete", Some("half terete (composed: semi- + terete)"));
        check_composed("obtriangular", Some("upside down: triangle-shaped (composed: ob- + deltoid)"));
    }

    #[test]
    fn below_is_not_almost() {
        check_composed("subapical", Some("just below or close to: apical (composed: sub- + apical)"));
    }

    #[test]
    fn a_privative_negates_adjectives_alone() {
        check_composed("ecarinate", Some("not keeled (composed: e- + keeled)"));
        check_composed("another", None);
        check_composed("across", None);
        check_composed("inside", None);
    }

    #[test]
    fn a_suffix_is_explained_by_the_stem() {
        check_composed("bract-like", Some("like a bract (composed: bract + -like)"));
        check_composed("spineless", Some("without any spine (composed: spine + -less)"));
        check_composed("acutish", Some("somewhat pointed (composed: acute + -ish)"));
    }

    #[test]
    fn words_of_a_glossary_and_ordinary_words_are_not_composed() {
        for word in [
            "glabrous",
            "exstipulate",
            "united",
            "uncommon",
            "unless",
            "reddish",
            "because",
            "subject",
            "districts",
        ] {
            check_composed(word, None);
        }
    }

    #[test]
    fn parts_of_one_kind_shade_into_one_another() {
        check_relation(&["oblong", "lanceolate"], Relation::Between);
        check_relation(&["tubular", "campanulate"], Relation::Between);
        check_relation(&["crenate", "dentate"], Relation::Between);
    }

    #[test]
    fn parts_of_different_kinds_hold_together() {
        check_relation(&["ovate", "acuminate"], Relation::Both);
        check_relation(&["glandular", "pubescent"], Relation::Both);
        check_relation(&["stellate", "tomentose"], Relation::Both);
    }
}
