//! The facts of all taxa of a flora, each with the section that says it. What a species leaves out is said once at its
//! genus or family (T16, T17): whoever asks a taxon goes on to [`lineage`].

use rayon::prelude::*;

use crate::clause;
use crate::describe::concept::Concepts;
use crate::describe::read::{self, Ground, Inherits};
use crate::describe::season::{self, Cue, Period};
use crate::describe::{Degree, Fact, Frequency, Said, What, place};
use crate::model::{Flora, Section, SectionKind, Sign, Taxon, TaxonId};
use crate::terms::Lexicon;

/// Taxa that one thread reads at a time.
const CHUNK: usize = 64;

/// Ranks above one another at most, so that a wrong parent can't make a circle.
const MOST_RANKS: usize = 12;

/// A fact and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// The taxon whose treatment says it.
    pub taxon: TaxonId,
    /// The section, counted from 0.
    pub section: u32,
    /// Whether it is the taxon's own or from a note that compares it with others (T46).
    pub standing: Standing,
    /// The fact; its bytes are those of the section's text.
    pub fact: Fact,
}

/// Whose character a fact tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The taxon's own.
    Own,
    /// Perhaps another's: it stands in a note.
    Compared,
}

/// Reads the facts of all taxa, in the order of the book.
pub fn stated(flora: &Flora, lexicon: &Lexicon) -> Vec<Stated> {
    let read = |taxa: &[Taxon]| {
        let concepts = Concepts::new(lexicon);
        taxa.iter().flat_map(|taxon| of_taxon(taxon, &flora.legend, &concepts)).collect::<Vec<Stated>>()
    };
    let chunks: Vec<Vec<Stated>> = flora.taxa.par_chunks(CHUNK).map(read).collect();
    chunks.into_iter().flatten().collect()
}

/// Returns a taxon and those it belongs to, one after another.
pub fn lineage(id: TaxonId, parent: impl Fn(TaxonId) -> Option<TaxonId>) -> impl Iterator<Item = TaxonId> {
    std::iter::successors(Some(id), move |id| parent(*id)).take(MOST_RANKS)
}

/// Reads the facts of one taxon.
pub fn of_taxon(taxon: &Taxon, legend: &[Sign], concepts: &Concepts<'_>) -> Vec<Stated> {
    let mut all = Vec::new();
    for (at, section) in taxon.sections.iter().enumerate() {
        let text = section.text.plain.as_str();
        for fact in of_section(section, legend, concepts) {
            let compared = section.kind == SectionKind::Notes || is_compared(text, fact.range.start);
            let standing = if compared { Standing::Compared } else { Standing::Own };
            all.push(Stated { taxon: taxon.id, section: at as u32, standing, fact });
        }
    }
    all
}

/// Words behind which a sentence may tell another taxon's characters (T46).
const COMPARING: &[&str] = &["differs from", "differing from", "distinguished from", "unlike", "resembles"];

/// Says whether words that compare the taxon with another stand before a byte, in the same sentence.
fn is_compared(text: &str, byte: usize) -> bool {
    let before = text.get(..byte).unwrap_or_default();
    // A stop before a small letter is that of an abbreviation (`S. alta`, `subsp. minor`).
    let ends = |stop: &usize| before[stop + 2..].chars().next().is_none_or(char::is_uppercase);
    let stop = before.match_indices(". ").map(|(stop, _)| stop).filter(ends).last();
    let sentence = stop.map_or(before, |stop| &before[stop..]).to_lowercase();
    COMPARING.iter().any(|words| sentence.contains(words))
}

fn of_section(section: &Section, legend: &[Sign], concepts: &Concepts<'_>) -> Vec<Fact> {
    let text = &section.text.plain;
    match section.kind {
        SectionKind::Description => described(text, section.heading.as_deref(), concepts),
        SectionKind::Notes => read::facts(text, concepts, Ground::default()),
        SectionKind::Habitat => place::habitats(text),
        SectionKind::Distribution => place::places(text, legend),
        SectionKind::Conservation => {
            let mut facts = place::places(text, legend);
            facts.retain(|fact| matches!(fact.what, What::Status(_)));
            facts
        }
        SectionKind::Phenology => seasons(text, 0, Cue::Given),
        SectionKind::Elevation => place::elevations(text),
        SectionKind::Chromosomes | SectionKind::Etymology | SectionKind::Uses | SectionKind::Other => {
            Vec::new()
        }
    }
}

/// Reads a description; months that open a clause of it are its season (`FLOWERS: April–May; …`).
fn described(text: &str, heading: Option<&str>, concepts: &Concepts<'_>) -> Vec<Fact> {
    let organ = heading.and_then(read::heading_organ);
    let mut facts = read::facts(text, concepts, Ground { organ, inherits: Inherits::LastOrgan });
    for clause in clause::clauses(text) {
        let words = &text[clause.range.clone()];
        let opens = words.split(|letter: char| !letter.is_alphabetic()).next().is_some_and(|word| {
            season::named(word).is_some() || season::phase(word).is_some() && word.ends_with("ing")
        });
        if opens {
            facts.extend(seasons(words, clause.range.start, Cue::Missing));
        }
    }
    facts
}

fn seasons(text: &str, offset: usize, cue: Cue) -> Vec<Fact> {
    let mut facts = Vec::new();
    for Period { phase, months, rarely, range } in season::periods(text, cue) {
        let range = range.start + offset..range.end + offset;
        for (months, frequency) in [(months, Frequency::Always), (rarely, Frequency::Rarely)] {
            if !months.is_empty() {
                facts.push(Fact {
                    organ: None,
                    of: None,
                    what: What::Season(phase, months),
                    degree: Degree::Plainly,
                    frequency,
                    said: Said::Is,
                    range: range.clone(),
                });
            }
        }
    }
    facts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Page, Text};

    fn section(kind: SectionKind, heading: Option<&str>, text: &str) -> Section {
        Section { kind, heading: heading.map(str::to_owned), text: Text::plain(text, Page(1)) }
    }

    #[track_caller]
    fn check(section: &Section, expected: &str) {
        let lexicon = Lexicon::built_in();
        let facts = of_section(section, &[], &Concepts::new(&lexicon));
        let found: Vec<String> = facts.iter().map(crate::describe::tests::shown).collect();
        assert!(found.iter().any(|fact| fact == expected), "{expected} in {found:?}");
    }

    #[test]
    fn t15_a_heading_stands_for_the_noun() {
        check(&section(SectionKind::Description, Some("LEAVES"), "Opposite; hairy."), "leaf opposite");
        check(&section(SectionKind::Description, Some("LEAVES"), "Opposite; hairy."), "leaf hairy");
        check(&section(SectionKind::Description, Some("WINTER-BUDS"), "Ovoid, acute."), "bud acute");
        check(
            &section(SectionKind::Description, Some("HABIT"), "A tree 20-30 feet high."),
            "plant 6096..9144 mm tall",
        );
        check(
            &section(SectionKind::Description, Some("BARK"), "Twigs green; thin on the trunk."),
            "bark thin",
        );
    }

    #[test]
    fn t38_months_may_open_a_description_of_flowers() {
        check(&section(SectionKind::Description, Some("FLOWERS"), "April-May; yellow."), "- ?");
    }

    #[test]
    fn t46_what_is_compared_with_another_taxon_is_kept_apart() {
        assert!(!is_compared("Petals red, unlike S. alta.", 7));
        assert!(is_compared("Differs from S. alta in red petals.", 25));
        assert!(is_compared("Hairy. It differs from S. alta in red petals.", 35));
        assert!(!is_compared("Differs from S. alta in size. Petals red.", 37));
    }

    #[test]
    fn t37_a_section_on_chromosomes_says_nothing() {
        let lexicon = Lexicon::built_in();
        let facts =
            of_section(&section(SectionKind::Chromosomes, None, "2n = 24."), &[], &Concepts::new(&lexicon));
        assert_eq!(facts, []);
    }
}
