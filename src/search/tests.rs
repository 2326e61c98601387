//! Searches on a small flora made in code, in memory and on disk.

use crate::model::{
    Couplet, CoupletId, Entry, EntryId, Flora, Key, KeyId, Lead, Matter, MatterId, MatterKind, Page, Rank,
    Section, SectionKind, Target, Taxon, TaxonId, Text,
};
use crate::search::{Error, Found, Index, Narrow, Says, build};
use crate::terms::Lexicon;

fn taxon(id: u32, rank: Rank, names: [&str; 3], description: &str) -> Taxon {
    let list = |name: &str| if name.is_empty() { Vec::new() } else { vec![name.to_owned()] };
    let page = Page(id + 1);
    Taxon {
        id: TaxonId(id),
        rank,
        name: names[0].to_owned(),
        authorship: None,
        number: None,
        vernacular: list(names[1]),
        synonyms: list(names[2]),
        misapplied: Vec::new(),
        parent: None,
        heading: Text::plain(names[0], page),
        pages: (page, page),
        sections: vec![Section {
            kind: SectionKind::Description,
            heading: None,
            text: Text::plain(description, page),
        }],
        amended: false,
        cautions: Vec::new(),
    }
}

fn lead(text: &str, printed: &str, to: Target) -> Lead {
    let text = Text::plain(text, Page(20));
    Lead {
        label: None,
        text,
        printed: printed.to_owned(),
        to,
        also: Vec::new(),
        cites: None,
        reaches: 1,
        amended: false,
    }
}

fn flora() -> Flora {
    let to = |name: &str, id| Target::Taxon { name: name.to_owned(), id: Some(TaxonId(id)) };
    let matter = |id, kind, title: &str, text: &str| Matter {
        id: MatterId(id),
        kind,
        title: title.to_owned(),
        pages: (Page(30 + id), Page(30 + id)),
        paragraphs: vec![Text::plain(text, Page(30 + id))],
    };
    Flora {
        title: "Plants of the Morvane Isles".to_owned(),
        taxa: vec![
            taxon(0, Rank::Genus, ["Silene", "campions", ""], "Herbs. Calyx inflated or not."),
            taxon(
                1,
                Rank::Species,
                ["Silene skerrica", "skerry campion", "Lychnis skerrica"],
                "Leaves hairy.",
            ),
            taxon(
                2,
                Rank::Species,
                ["Silene alta", "", ""],
                "Leaf blades smooth, unlike the skerry campion's. Spur 0.",
            ),
            taxon(
                3,
                Rank::Species,
                ["Isoëtes morvanica", "sea quill", ""],
                "Spores grey, not inflated. Valves 2.",
            ),
        ],
        keys: vec![Key {
            id: KeyId(0),
            title: Some("Key to Silene".to_owned()),
            scope: Some("Silene".to_owned()),
            scope_id: Some(TaxonId(0)),
            page: Page(20),
            couplets: vec![Couplet {
                label: "1".to_owned(),
                leads: vec![
                    lead("Stems with sticky rings", "S. skerrica", to("Silene skerrica", 1)),
                    lead("Stems without them", "S. alta", to("Silene alta", 2)),
                ],
            }],
        }],
        glossary: vec![Entry {
            id: EntryId(0),
            term: "calyx".to_owned(),
            variants: vec!["calyces".to_owned()],
            definition: Text::plain("all sepals of a flower", Page(25)),
            see: None,
        }],
        matter: vec![
            matter(0, MatterKind::Index, "Index", "Silene alta 3, skerrica 2; spores 4"),
            matter(
                1,
                MatterKind::Introduction,
                "To the reader",
                "Boats land at low water. Spores are best seen in May.",
            ),
        ],
        ..Flora::default()
    }
}

/// Checks what is found, in its order.
#[track_caller]
fn check_found(asked: &str, expected: &[Found]) {
    let hits = Index::in_memory(&flora()).unwrap().find(asked, 10).unwrap();
    assert_eq!(hits.into_iter().map(|hit| hit.what).collect::<Vec<_>>(), expected, "{asked}");
}

const GENUS: Found = Found::Taxon(TaxonId(0));
const SKERRICA: Found = Found::Taxon(TaxonId(1));
const ALTA: Found = Found::Taxon(TaxonId(2));
const ISOETES: Found = Found::Taxon(TaxonId(3));
const COUPLET: Found = Found::Couplet(KeyId(0), CoupletId(0));
const CALYX: Found = Found::Entry(EntryId(0));
const INDEX: Found = Found::Matter(MatterId(0), 0);
const READER: Found = Found::Matter(MatterId(1), 0);

#[test]
fn names_come_before_texts_and_texts_before_lists() {
    check_found("Silene alta", &[ALTA, INDEX]);
    check_found("spores", &[READER, ISOETES, INDEX]);
    check_found("skerry campion", &[SKERRICA, ALTA]);
    check_found("lychnis skerrica", &[SKERRICA]);
}

#[test]
fn the_name_itself_comes_before_longer_names() {
    check_found("silene ", &[GENUS, ALTA, SKERRICA, INDEX]);
    check_found("calyx", &[CALYX, GENUS]);
}

#[test]
fn case_accents_and_number_make_no_difference() {
    check_found("ISOETES morvanica", &[ISOETES]);
    check_found("isoëtes", &[ISOETES]);
    check_found("leaf hairy ", &[SKERRICA]);
    check_found("leaves smooth", &[ALTA]);
    check_found("valve", &[ISOETES]);
}

#[test]
fn all_words_must_occur_in_one_place() {
    check_found("calyx sticky", &[]);
    check_found("stems sticky rings ", &[COUPLET]);
}

#[test]
fn only_the_last_word_may_be_unfinished() {
    check_found("infl", &[GENUS, ISOETES]);
    check_found("infl ", &[]);
    check_found("infl calyx", &[]);
}

#[test]
fn quoted_words_stand_in_their_order() {
    check_found("\"calyx inflated\"", &[GENUS]);
    check_found("\"inflated calyx\"", &[]);
}

#[test]
fn a_hit_shows_the_sentence_with_its_page() {
    let hits = Index::in_memory(&flora()).unwrap().find("best spores seen", 5).unwrap();
    assert_eq!(hits[0].snippet, "Spores are best seen in May.");
    assert_eq!((hits[0].title.as_str(), hits[0].page), ("To the reader", Page(31)));
}

#[test]
fn an_index_on_disk_answers_as_one_in_memory_and_is_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let dir = folder.path().join("index");
    build(&dir, &Flora::default()).unwrap();
    assert_eq!(Index::open(&dir).unwrap().find("silene", 5).unwrap(), Vec::new());
    build(&dir, &flora()).unwrap();
    let stored = Index::open(&dir).unwrap().find("silene", 5).unwrap();
    assert_eq!(stored, Index::in_memory(&flora()).unwrap().find("silene", 5).unwrap());
    assert!(!dir.with_extension("new").exists());
}

#[test]
fn a_folder_without_an_index_says_so() {
    let folder = tempfile::tempdir().unwrap();
    for dir in [folder.path().to_owned(), folder.path().join("none")] {
        assert!(matches!(Index::open(&dir), Err(Error::Missing { .. })));
    }
}

#[test]
fn a_damaged_index_is_an_error() {
    let folder = tempfile::tempdir().unwrap();
    let dir = folder.path().join("index");
    build(&dir, &flora()).unwrap();
    std::fs::write(dir.join("meta.json"), "{").unwrap();
    assert!(Index::open(&dir).is_err());
}

/// Returns the small flora with a note and districts.
fn told() -> Flora {
    let mut flora = flora();
    let mut tell = |at: usize, kind: SectionKind, text: &str| {
        let text = Text::plain(text, Page(at as u32 + 1));
        flora.taxa[at].sections.push(Section { kind, heading: None, text });
        flora.taxa[at].parent = (at == 1 || at == 2).then_some(TaxonId(0));
    };
    tell(1, SectionKind::Notes, "Unlike S. alta: stems sticky.");
    tell(1, SectionKind::Phenology, "Fl. June–July.");
    tell(2, SectionKind::Phenology, "Fl. August.");
    flora
}

/// Checks which taxa a question finds, in their order.
#[track_caller]
fn check_answer(asked: &str, expected: &[&str]) {
    let index = Index::in_memory(&told()).unwrap();
    let answer = index.answer(asked, &Narrow::default(), 10, &Lexicon::built_in()).unwrap();
    let names: Vec<&str> = answer.taxa.iter().map(|taxon| taxon.name.as_str()).collect();
    assert_eq!(names, expected, "{asked}: {answer:?}");
}

#[test]
fn a_question_is_narrowed_by_its_own_words() {
    check_answer("leaves hairy", &["Silene skerrica"]);
    check_answer("leaves hairy; only Silene skerrica", &["Silene skerrica"]);
    check_answer("only Silene", &["Silene skerrica", "Silene alta"]);
    check_answer("only genera", &["Silene"]);
    check_answer("only August", &["Silene alta", "Isoëtes morvanica"]);
}

#[test]
fn a_note_that_compares_is_shown_and_counts_for_nothing() {
    check_answer("stems sticky", &[]);
    let index = Index::in_memory(&told()).unwrap();
    let answer =
        index.answer("leaves hairy; stems sticky", &Narrow::default(), 1, &Lexicon::built_in()).unwrap();
    assert!(!answer.taxa.is_empty(), "{answer:?}");
    let found = &answer.taxa[0];
    let says: Vec<Says> = found.verdicts.iter().map(|verdict| verdict.says).collect();
    assert_eq!(says, [Says::Agrees, Says::Unstated]);
    let (part, said, source) = &found.compared[0];
    assert_eq!((*part, *said, source.section), (1, Says::Agrees, 1), "{found:?}");
}

#[test]
fn what_fits_is_counted_by_rank_genus_and_month() {
    let index = Index::in_memory(&told()).unwrap();
    let asked = "leaves hairy; only Silene skerrica";
    let answer = index.answer(asked, &Narrow::default(), 1, &Lexicon::built_in()).unwrap();
    let counted = |shares: &[crate::search::Share]| -> Vec<(String, u32)> {
        shares.iter().map(|share| (share.name.clone(), share.taxa)).collect()
    };
    assert_eq!(counted(&answer.genera), [("Silene".to_owned(), 1)], "{answer:?}");
    assert_eq!(counted(&answer.ranks), [("genus".to_owned(), 1), ("species".to_owned(), 1)]);
    assert_eq!(counted(&answer.months), [("June".to_owned(), 1), ("July".to_owned(), 1)]);
}
