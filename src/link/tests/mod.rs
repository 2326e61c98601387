//! Marks of short texts, written `word→headword` or `word→headword#sense`.

mod figures;
mod standing;
mod vouch;

use proptest::prelude::{ProptestConfig, proptest};

use super::*;
use crate::clause::is_organ;

/// Names of an invented flora of the Morvane Isles, by position.
const NAMES: &[&str] = &[
    "Caryophyllaceae",
    "Silene",
    "Silene insulana",
    "Silene ventosa subsp. litoralis",
    "Salix",
    "Salix ventosa",
    "Salix ×morvanica",
    "Sedum",
    "Sedum aestivale",
    "Anagallis anagallis-maris",
];

fn linker() -> Linker {
    let names = NAMES.iter().enumerate().map(|(at, name)| ((*name).to_owned(), TaxonId(at as u32)));
    Linker::new(names)
}

fn shown(text: &str, mark: &Mark, lexicon: &Lexicon) -> String {
    let target = match &mark.leads {
        Leads::Term(id) => lexicon.get(*id).name.clone(),
        Leads::Compound(ids) => {
            ids.iter().map(|id| lexicon.get(*id).name.as_str()).collect::<Vec<_>>().join("+")
        }
        Leads::Composed(composed) => composed.explained(lexicon),
        Leads::Name(id) => NAMES[id.index()].to_owned(),
    };
    let word = &text[mark.range.clone()];
    if word == target { target } else { format!("{word}→{target}") }
}

#[track_caller]
fn check_marks(text: &str, expected: &[&str]) {
    let lexicon = Lexicon::built_in();
    let marks = linker().marks(text, &lexicon);
    let found: Vec<String> = marks.iter().map(|mark| shown(text, mark, &lexicon)).collect();
    assert_eq!(found, expected, "{text}");
    assert!(marks.windows(2).all(|pair| pair[0].range.end <= pair[1].range.start));
}

/// Checks one word of a text: whether it is marked.
#[track_caller]
fn check_word(text: &str, word: &str, marked: bool) {
    let lexicon = Lexicon::built_in();
    let marks = linker().marks(text, &lexicon);
    assert_eq!(
        marks.iter().any(|mark| &text[mark.range.clone()] == word),
        marked,
        "{word} in {text}: {marks:?}"
    );
}

/// Checks that the sense chosen for a word names the organ.
#[track_caller]
fn check_sense(text: &str, word: &str, organ: &str) {
    let lexicon = Lexicon::built_in();
    let marks = linker().marks(text, &lexicon);
    let mark = marks.iter().find(|mark| &text[mark.range.clone()] == word);
    let mark = mark.unwrap_or_else(|| panic!("{word} is not marked in {text}"));
    let Leads::Term(id) = mark.leads else { panic!("{word} is no single term") };
    let sense = mark.sense.unwrap_or_else(|| panic!("no sense of {word} fits in {text}"));
    let sense = &lexicon.get(id).senses[sense];
    assert!(sense.organs.iter().any(|own| own == organ), "{word} in {text}: {sense:?}");
}

#[test]
fn plurals_lead_to_their_singular() {
    check_marks("Stigmata 2; calyces hairy", &["Stigmata→stigma", "calyces→calyx", "hairy"]);
    check_marks("Ovaries superior", &["Ovaries→ovary", "superior"]);
}

#[test]
fn a_compound_leads_to_its_parts() {
    check_marks("Leaves oblong-lanceolate", &["Leaves→leaf", "oblong-lanceolate→oblong+lanceolate"]);
    check_marks(
        "petioles glandular-pubescent",
        &["petioles→petiole", "glandular-pubescent→glandular+pubescent"],
    );
}

#[test]
fn the_known_part_of_a_compound_is_marked_alone() {
    check_marks("leaves 3–5-lobed", &["leaves→leaf", "lobed"]);
    check_marks(
        "leaves quite-ovate",
        &["leaves→leaf", "quite-ovate→ovate"].map(|mark| if mark.starts_with('q') { "ovate" } else { mark }),
    );
}

#[test]
fn a_term_of_several_words_is_one_mark() {
    check_marks("Ovary half inferior", &["Ovary→ovary", "half inferior→half-inferior"]);
    check_marks("placentation free central", &["placentation", "free central→free-central"]);
    check_marks("leaf scars 3", &["leaf scars→leaf scar"]);
}

#[test]
fn a_phrase_does_not_end_within_a_hyphened_word() {
    check_word("leaf scar-coloured", "leaf scar", false);
}

#[test]
fn a_word_built_from_known_parts_is_marked_as_a_whole() {
    check_marks(
        "Leaves subglabrous, the stipules bract-like",
        &[
            "Leaves→leaf",
            "subglabrous→almost hairless (composed: sub- + glabrous)",
            "stipules→stipule",
            "bract-like→like a bract (composed: bract + -like)",
        ],
    );
    check_word("It grows in most districts", "districts", false);
}

#[test]
fn a_noun_that_is_an_organ_has_its_own_sense() {
    check_sense("Flowers in dense heads", "heads", "inflorescence");
    check_sense("Berry red, with two seeds", "Berry", "fruit");
}

#[test]
fn free_from_a_part_of_the_flower_is_a_term() {
    check_word("Stamens free from the petals", "free", true);
    check_word("Leaves free from hairs", "free", false);
}

#[test]
fn names_lead_to_their_taxa() {
    check_marks("like Silene insulana of the Caryophyllaceae", &["Silene insulana", "Caryophyllaceae"]);
    check_marks(
        "Silene ventosa ssp. litoralis",
        &["Silene ventosa ssp. litoralis→Silene ventosa subsp. litoralis"],
    );
    check_marks("SALIX × morvanica", &["SALIX × morvanica→Salix ×morvanica"]);
    check_marks("Sedum æstivale", &["Sedum æstivale→Sedum aestivale"]);
    check_marks("Anagallis anagallis-maris", &["Anagallis anagallis-maris"]);
}

#[test]
fn a_name_that_the_flora_lacks_leads_to_its_genus_at_most() {
    check_marks("Silene nusquama, Carex nusquama", &["Silene"]);
}

#[test]
fn an_abbreviated_genus_is_the_only_one_that_fits() {
    check_marks("near S. insulana", &["S. insulana→Silene insulana"]);
    check_marks("near S. nusquama", &[]);
}

#[test]
fn an_abbreviated_genus_is_the_last_one_spelled_out() {
    check_marks("Salix insulae, S. ventosa", &["Salix", "S. ventosa→Salix ventosa"]);
    let lexicon = Lexicon::built_in();
    let text = "near S. ventosa";
    let marks = linker().marks_under(text, &lexicon, Under { genus: Some("Salix"), ..Under::default() });
    assert_eq!(
        marks.iter().map(|mark| shown(text, mark, &lexicon)).collect::<Vec<_>>(),
        ["S. ventosa→Salix ventosa"]
    );
}

#[test]
fn an_initial_and_an_author_are_no_name() {
    check_marks("seen by S. Insulana and C. insulana", &[]);
}

#[test]
fn ordinary_words_are_not_marked() {
    for (text, word) in [
        ("The plant is simple to find", "simple"),
        ("Common in wet places", "Common"),
        ("Flowers in May at the head of the valley", "head"),
        ("On the margins of ponds", "margins"),
        ("The regular bus stops there", "regular"),
        ("Leaves free from hairs", "free"),
        ("Petals double the length of the calyx", "double"),
        ("At the base of cliffs", "base"),
        ("This process needs patience", "process"),
        ("Leaves shed in dry woods", "woods"),
        ("Fruit coated with down", "coated"),
        ("Sap of the stem sharp; keep it from the eyes", "eyes"),
        ("(short dry turf)", "dry"),
        ("It may be told by this standard", "standard"),
        ("It may be told by this standard", "may"),
        ("Found in every district, and on a mass of rock", "mass"),
        ("Leaf bases joined round the stem", "round"),
        ("Stems on high, dry uplands", "dry"),
        ("Flowers late; field margins", "margins"),
        ("Lichens hang on the tree; cotton-grass fills the pools", "grass"),
        ("Dr. Hood saw the flowers", "Hood"),
        ("Wings of mist hid the ridge", "ridge"),
    ] {
        check_word(text, word, false);
    }
}

#[test]
fn the_same_words_are_marked_where_an_organ_vouches_for_them() {
    for (text, word) in [
        ("Leaves simple to pinnate", "simple"),
        ("Leaves opposite; simple or lobed", "simple"),
        ("Heads 2 cm across", "Heads"),
        ("Flowers in a dense head", "head"),
        ("Margins of the leaves entire", "Margins"),
        ("Margins of the leaves entire", "entire"),
        ("Corolla regular", "regular"),
        ("Stamens free", "free"),
        ("Keel of the corolla blunt", "Keel"),
        ("Base cordate", "Base"),
        ("Corolla white, the eye of the flower yellow", "eye"),
    ] {
        check_word(text, word, true);
    }
}

#[test]
fn names_of_plants_are_not_taken_for_terms() {
    check_word("like Bell Heather in habit", "Bell", false);
    check_word("Stone Pine is planted", "Stone", false);
    check_word("Yellow-eyed Grass is rare", "eyed", false);
    check_word("Ribes grows in the shade", "Ribes", false);
    check_word("Leaves like those of Crown Vetch", "Crown", false);
}

#[test]
fn the_organ_of_the_clause_picks_the_sense() {
    check_sense("Leaves opposite; simple", "simple", "leaf");
    check_sense("Hairs simple", "simple", "hair");
    check_sense("Petals erect; stamens free", "free", "stamen");
    check_sense("Glumes with a keel", "keel", "glume");
    check_sense("Ovules erect", "erect", "ovule");
    check_sense("Stems erect", "erect", "stem");
}

#[test]
fn the_noun_next_to_a_word_goes_before_the_organ_of_the_clause() {
    check_sense("Stems with erect ovules", "erect", "ovule");
}

#[test]
fn words_of_many_senses_follow_the_organ() {
    for (text, word, organ) in [
        ("Leaf apex acute", "acute", "apex"),
        ("Leaves obtuse", "obtuse", "leaf"),
        ("Stems simple", "simple", "stem"),
        ("Racemes simple", "simple", "raceme"),
        ("Flowers perfect", "perfect", "flower"),
        ("Placentation free", "free", "placenta"),
        ("Anthers free", "free", "stamen"),
        ("Corolla regular", "regular", "corolla"),
        ("Petals 5, the lower two joined in a keel", "keel", "corolla"),
        ("Seeds with a keel", "keel", "seed"),
        ("Petals with long wings", "wings", "corolla"),
        ("Achenes with a broad wing", "wing", "achene"),
        ("Petals with a spur", "spur", "petal"),
        ("Twigs with spurs", "spurs", "twig"),
        ("Lip of the corolla 3-lobed", "Lip", "corolla"),
        ("Bulbs with dry scales", "scales", "bulb"),
        ("Buds with 4 scales", "scales", "bud"),
        ("Ovary with 3 cells", "cells", "ovary"),
        ("Anthers with 2 cells", "cells", "anther"),
        ("Umbels with 8 rays", "rays", "umbel"),
        ("Leaves alternate", "alternate", "leaf"),
        ("Stamens alternate with the petals", "alternate", "stamen"),
        ("Stamens opposite the petals", "opposite", "stamen"),
        ("Stamens exserted", "exserted", "stamen"),
        ("Ovary superior", "superior", "ovary"),
        ("Sepals deciduous", "deciduous", "sepal"),
        ("Trees deciduous", "deciduous", "plant"),
        ("Hairs appressed", "appressed", "hair"),
    ] {
        check_sense(text, word, organ);
    }
}

#[test]
fn every_organ_of_the_glossary_is_known_to_the_clauses() {
    let lexicon = Lexicon::built_in();
    let mut lost = Vec::new();
    for (_, id) in lexicon.names() {
        let organs = lexicon.get(id).senses.iter().flat_map(|sense| &sense.organs);
        lost.extend(organs.filter(|organ| !organ.split(' ').next_back().is_some_and(is_organ)).cloned());
    }
    lost.sort();
    lost.dedup();
    assert_eq!(lost, Vec::<String>::new());
}

/// Pieces of texts that no book has, but that a broken page may.
const ODD: &[&str] = &[
    " ",
    "  ",
    ", ",
    "; ",
    ". ",
    ".",
    "-",
    "–",
    "(",
    ")",
    "[",
    "]",
    "“",
    "’",
    "'",
    " × ",
    "×",
    "\u{ad}",
    "\u{301}",
    "\u{200b}",
    "\u{feff}",
    "ß",
    "ŒUVRE",
    "İ",
    "ﬁ",
    "𝒜",
    "🌿",
    "½",
    "\n",
    "\t",
    "3–5",
    "2.5",
    "a",
    "the",
    "with",
    "from",
    "of",
    "in",
    "at",
    "and",
    "or",
    "below",
    "base",
    "apex",
    "to the",
    "in fruit",
    "wood",
    "ridges",
    "lines",
    "S.",
    "Silene",
    "×morvanica",
];

/// Returns a text of the pieces that numbers pick: every second a word of the glossary, the rest odd ones.
fn odd_text(lexicon: &Lexicon, picks: &[(usize, usize, bool)]) -> String {
    let names: Vec<&str> = lexicon.names().map(|(name, _)| name).collect();
    let mut text = String::new();
    for (name, odd, upper) in picks {
        let name = names[name % names.len()];
        text.push_str(&if *upper { name.to_uppercase() } else { name.to_owned() });
        text.push_str(ODD[odd % ODD.len()]);
    }
    text
}

#[track_caller]
fn check_order(text: &str, marks: &[Mark]) {
    assert!(marks.windows(2).all(|pair| pair[0].range.end <= pair[1].range.start), "{marks:?} in {text:?}");
    for mark in marks {
        let word = text.get(mark.range.clone());
        assert!(word.is_some_and(|word| !word.trim().is_empty()), "{mark:?} in {text:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn words_in_any_order_have_whole_marks_with_senses_that_there_are(
        picks in proptest::collection::vec((0..20_000_usize, 0..1000_usize, proptest::bool::weighted(0.1)), 0..24),
        family in 0..5_usize,
    ) {
        let lexicon = Lexicon::built_in();
        let text = odd_text(&lexicon, &picks);
        let family = ["", "Poaceae", "Umbelliferae", "Rosaceae", "Key to grasses and sedges"][family];
        let under = Under { genus: Some("Salix"), groups: Groups::told_by(family) };
        let marks = linker().marks_under(&text, &lexicon, under);
        check_order(&text, &marks);
        for mark in &marks {
            if let Leads::Term(id) = mark.leads {
                assert!(mark.sense.is_none_or(|sense| sense < lexicon.get(id).senses.len()), "{mark:?}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn marks_of_any_text_are_in_order_and_whole_words(
        text in "(([A-Z]?[a-zæé’]{1,9}|leaves|Silene|free|S|subsp|head|oblong|[0-9]{1,2})[-–×.;,() ]{1,2}){0,12}",
        noise in "\\PC{0,8}",
    ) {
        let text = format!("{text}{noise}{text}");
        let lexicon = Lexicon::built_in();
        let marks = linker().marks(&text, &lexicon);
        assert!(marks.windows(2).all(|pair| pair[0].range.end <= pair[1].range.start), "{marks:?}");
        for mark in &marks {
            assert!(text.get(mark.range.clone()).is_some_and(|word| !word.trim().is_empty()), "{mark:?} in {text}");
        }
        assert_eq!(linker().marks(&text, &lexicon), marks);
    }
}

#[test]
fn a_verb_or_a_part_of_a_thing_vouches_for_no_term() {
    check_word("A branch of the river runs dry in August", "dry", false);
    check_word("The burn runs dry and leaves a ring of mud", "leaves", false);
    check_word("The path leaves the shore and climbs to the head of the glen", "climbs", false);
    check_word("Stem with leaves a third as long as the flowers", "leaves", true);
}

#[test]
fn places_vouch_for_one_another() {
    check_word("In fens and flushes", "flushes", true);
    check_word("In a flush of pride", "flush", false);
}

#[test]
fn a_word_of_origin_opens_a_statement() {
    check_word("Native in woods", "Native", true);
    check_word("The bird is native in the isles", "native", false);
}

#[test]
fn a_noun_behind_a_persons_name_is_english() {
    check_word("The author's style is plain", "style", false);
    check_word("Petal's keel hairy", "keel", true);
}

#[test]
fn a_hyphened_word_may_have_half_before_two_words() {
    check_word("Stipules half-arrow-shaped", "half-arrow-shaped", true);
    check_word("Leaves wavy-edged", "wavy-edged", true);
}

#[test]
fn an_organ_of_a_measure_is_an_organ() {
    check_word("Umbel with 3 rays of equal length", "rays", true);
    check_word("The rays of evening light", "rays", false);
}

#[test]
fn an_adjective_before_a_thing_of_daily_life_is_none() {
    check_word("The stems hang over the double gates of the manor", "double", false);
    check_word("By the smell, to a blunt man, and by the leaf", "blunt", false);
    check_word("The flowers have a simple lid with blunt teeth", "simple", true);
    check_word("Leaves with a smooth surface", "smooth", true);
}

#[test]
fn a_noun_in_a_thing_is_none() {
    check_word("It grows from every joint in the rock, its leaves narrow", "joint", false);
    check_word("Stem with a joint in the middle", "joint", true);
}

#[test]
fn an_adjective_of_a_vernacular_name_is_none() {
    check_word("Confused with the winged pea, which has other leaves", "winged", false);
    check_word("Plants known as fox-spur, the petals with a spur", "fox-spur", false);
}

#[test]
fn a_phrase_of_ordinary_english_is_none() {
    check_word("The pores of the anther are fine as the eye of a needle", "needle", false);
}

#[test]
fn the_number_of_a_lead_makes_no_name_of_its_first_word() {
    check_word("12b Leaves ovate", "Leaves", true);
    check_word("12 Hairy Bittercress", "Hairy", false);
}

#[test]
fn an_abbreviation_with_two_stops_is_one_mark() {
    check_word("Sedum aestivale s.str. is rare", "s.str", true);
}

#[test]
fn a_status_alone_between_commas_is_a_term() {
    check_word("Flushes, native, rare", "native", true);
    check_word("(native)", "native", true);
}
