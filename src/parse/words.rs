//! The words by which books name their own parts: keys, sections, glossaries. One table each; other languages add rows.

use crate::model::{MatterKind, SectionKind};
use crate::name::fold;

/// First words of a key's title or of a lead's target that is a key (K21, K28, K30).
const KEY_PARTS: &[&str] = &["group", "key", "subkey", "clavis", "gruppe", "groupe"];

/// Words that tell a key's title wherever they stand in it.
const KEY_WORDS: &[&str] = &["key", "keys", "clavis", "conspectus", "clef", "schlussel", "clave"];

/// Headings that open a glossary.
const GLOSSARIES: &[&str] =
    &["glossary", "glossarium", "vocabulary", "explanation of terms", "botanical terms"];

/// Words of a heading in whose midst a word still tells what it heads.
const MOST_WORDS: usize = 5;

/// Words in a heading that tell a piece of matter, and what it is.
const MATTER: &[(&str, MatterKind)] = &[
    ("how to use", MatterKind::HowTo),
    ("use of the key", MatterKind::HowTo),
    ("how the key", MatterKind::HowTo),
    ("contents", MatterKind::Contents),
    ("index", MatterKind::Index),
    ("signs", MatterKind::Signs),
    ("symbols", MatterKind::Signs),
    ("abbreviations", MatterKind::Abbreviations),
    ("authors", MatterKind::Abbreviations),
    ("references", MatterKind::Literature),
    ("literature", MatterKind::Literature),
    ("bibliography", MatterKind::Literature),
    ("introduction", MatterKind::Introduction),
    ("preface", MatterKind::Introduction),
    ("plate", MatterKind::Plate),
];

/// Words by which a sentence warns of eating, touching, picking or the law (common practice, no source).
const CAUTIONS: &[&str] = &[
    "caution",
    "warning",
    "poison",
    "toxic",
    "venomous",
    "irritant",
    "irritates the skin",
    "irritate the skin",
    "irritating to the skin",
    "irritation of the skin",
    "burns the skin",
    "burn the skin",
    "blister",
    "dermatitis",
    "stinging hairs",
    "stings",
    "not be eaten",
    "not be touched",
    "not be picked",
    "not be gathered",
    "not be collected",
    "not be tasted",
    "should be tasted",
    "not to be eaten",
    "not to be touched",
    "not to be picked",
    "not to be gathered",
    "not to be collected",
    "not to be taken",
    "protected by law",
    "legally protected",
    "strictly protected",
    "by law",
    "permit",
    "forbidden",
    "prohibited",
    "giftig",
    "toxique",
    "vénéneu",
];

/// Says whether a sentence warns.
pub(crate) fn is_caution(sentence: &str) -> bool {
    let sentence = sentence.to_lowercase();
    CAUTIONS.iter().any(|words| starts_a_word(&sentence, words))
}

/// Says whether words stand in a text from the beginning of a word on.
fn starts_a_word(text: &str, words: &str) -> bool {
    text.match_indices(words).any(|(at, _)| !text[..at].ends_with(char::is_alphabetic))
}

/// Run-in headings of a treatment's sections, folded, and what they head.
const SECTIONS: &[(&str, SectionKind)] = &[
    ("habit", SectionKind::Description),
    ("description", SectionKind::Description),
    ("leaves", SectionKind::Description),
    ("flowers", SectionKind::Description),
    ("fruit", SectionKind::Description),
    ("fruits", SectionKind::Description),
    ("winter buds", SectionKind::Description),
    ("winterbuds", SectionKind::Description),
    ("buds", SectionKind::Description),
    ("bark", SectionKind::Description),
    ("wood", SectionKind::Description),
    ("stem", SectionKind::Description),
    ("stems", SectionKind::Description),
    ("inflorescence", SectionKind::Description),
    ("seeds", SectionKind::Description),
    ("roots", SectionKind::Description),
    ("habitat", SectionKind::Habitat),
    ("hab", SectionKind::Habitat),
    ("ecology", SectionKind::Habitat),
    ("distribution", SectionKind::Distribution),
    ("distr", SectionKind::Distribution),
    ("range", SectionKind::Distribution),
    ("districts", SectionKind::Distribution),
    ("occurrence", SectionKind::Distribution),
    ("flowering", SectionKind::Phenology),
    ("flowering period", SectionKind::Phenology),
    ("flowering time", SectionKind::Phenology),
    ("fl", SectionKind::Phenology),
    ("fr", SectionKind::Phenology),
    ("phenology", SectionKind::Phenology),
    ("season", SectionKind::Phenology),
    ("months", SectionKind::Phenology),
    ("elevation", SectionKind::Elevation),
    ("altitude", SectionKind::Elevation),
    ("alt", SectionKind::Elevation),
    ("elev", SectionKind::Elevation),
    ("chromosomes", SectionKind::Chromosomes),
    ("chromosome number", SectionKind::Chromosomes),
    ("chromosome numbers", SectionKind::Chromosomes),
    ("chrom", SectionKind::Chromosomes),
    ("conservation", SectionKind::Conservation),
    ("conservation status", SectionKind::Conservation),
    ("threat status", SectionKind::Conservation),
    ("threat", SectionKind::Conservation),
    ("status", SectionKind::Conservation),
    ("protection", SectionKind::Conservation),
    ("etymology", SectionKind::Etymology),
    ("name", SectionKind::Etymology),
    ("uses", SectionKind::Uses),
    ("use", SectionKind::Uses),
    ("note", SectionKind::Notes),
    ("notes", SectionKind::Notes),
    ("comments", SectionKind::Notes),
    ("comment", SectionKind::Notes),
    ("remarks", SectionKind::Notes),
    ("caution", SectionKind::Notes),
];

/// Words before a list of synonyms.
pub(crate) const SYNONYM_MARKS: &[&str] = &["syn.:", "syn.", "synonyms:", "synonym:", "synonyms.", "≡", "="];

/// Connecting terms below the species and as this program writes them.
const TERMS: &[(&str, &str)] = &[
    ("subsp.", "subsp."),
    ("ssp.", "subsp."),
    ("var.", "var."),
    ("v.", "var."),
    ("f.", "f."),
    ("forma", "f."),
    ("nothosubsp.", "subsp."),
    ("nothovar.", "var."),
];

/// Says whether a printed target names another key.
pub(crate) fn is_key_target(part: &str) -> bool {
    let folded = fold(part);
    let mut words = folded.split_whitespace();
    words.next().is_some_and(|first| KEY_PARTS.contains(&first)) && words.next().is_some()
}

/// Says whether a heading is the title of a key.
pub(crate) fn is_key_title(heading: &str) -> bool {
    let folded = fold(heading);
    is_key_target(heading)
        || folded
            .split_whitespace()
            .any(|word| KEY_WORDS.contains(&word.trim_matches(|c: char| !c.is_alphabetic())))
}

/// Says whether a heading opens a glossary.
pub(crate) fn is_glossary(heading: &str) -> bool {
    let folded = fold(heading);
    let folded = folded.trim_matches(|c: char| !c.is_alphanumeric());
    GLOSSARIES.iter().any(|word| {
        folded == *word || folded.starts_with(&format!("{word} ")) || folded.ends_with(&format!(" {word}"))
    })
}

/// Returns what a heading says of the matter below it.
pub(crate) fn matter_kind(heading: &str) -> Option<MatterKind> {
    let folded = fold(heading);
    let few = folded.split_whitespace().count() <= MOST_WORDS;
    MATTER
        .iter()
        .find(|(word, _)| folded.starts_with(word) || few && has_word(&folded, word))
        .map(|(_, kind)| *kind)
}

fn has_word(folded: &str, word: &str) -> bool {
    let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
    folded.match_indices(word).any(|(at, _)| {
        edge(folded[..at].chars().next_back()) && edge(folded[at + word.len()..].chars().next())
    })
}

/// Returns the kind of section that a run-in heading opens.
pub(crate) fn section_kind(heading: &str) -> Option<SectionKind> {
    let folded = fold(heading.trim().trim_end_matches([':', '.', '—', '–', '-', ' ']));
    SECTIONS.iter().find(|(word, _)| *word == folded).map(|(_, kind)| *kind)
}

/// Returns a connecting term as this program writes it.
pub(crate) fn connecting_term(word: &str) -> Option<&'static str> {
    TERMS.iter().find(|(printed, _)| *printed == word).map(|(_, ours)| *ours)
}
