//! Senses by what a text stands under, and by lists, places and times.

use super::*;

/// Checks that the sense chosen for a word names the organ, where the text stands under a name.
#[track_caller]
fn check_sense_under(under: &str, text: &str, word: &str, organ: &str) {
    let lexicon = Lexicon::built_in();
    let under_it = Under { genus: None, groups: Groups::told_by(under) };
    let marks = linker().marks_under(text, &lexicon, under_it);
    let mark = marks.iter().find(|mark| &text[mark.range.clone()] == word);
    let mark = mark.unwrap_or_else(|| panic!("{word} is not marked in {text}"));
    let Leads::Term(id) = mark.leads else { panic!("{word} is no single term") };
    let sense = mark.sense.unwrap_or_else(|| panic!("no sense of {word} is told in {text}"));
    let sense = &lexicon.get(id).senses[sense];
    assert!(sense.organs.iter().any(|own| own == organ), "{word} under {under}: {sense:?}");
}

#[test]
fn what_a_text_stands_under_picks_the_sense_of_a_noun() {
    check_sense_under("Poaceae", "Ligules 3 mm long", "Ligules", "grass");
    check_sense_under("Compositae", "Ligules 3 mm long", "Ligules", "head");
    check_sense_under("Cyperaceae", "Utricles 3 mm long, ribbed", "Utricles", "sedge");
    check_sense_under("Umbelliferae", "Rays 5–8, hairy", "Rays", "umbel");
    check_sense_under("Asteraceae", "Rays 5–8, hairy", "Rays", "head");
    check_sense_under("Gramineae", "Florets 3–5", "Florets", "spikelet");
    check_sense_under("Key to the orchids", "Lip 3-lobed, the calyx hairy", "Lip", "orchid");
}

#[test]
fn an_adjective_goes_by_its_organ_whatever_it_stands_under() {
    check_sense_under("Asteraceae", "Outer florets ligulate", "ligulate", "floret");
}

#[test]
fn a_sense_of_another_group_alone_is_not_shown() {
    let lexicon = Lexicon::built_in();
    let text = "Carpophore 3 mm long, in fruit";
    let marks = linker().marks(text, &lexicon);
    let Leads::Term(id) = marks[0].leads else { panic!("it is one term") };
    let sense = marks[0].sense.map(|sense| &lexicon.get(id).senses[sense].definition);
    assert!(sense.is_some_and(|sense| !sense.contains("carrot family")), "{sense:?}");
    check_sense_under("Apiaceae", text, "Carpophore", "schizocarp");
}

#[test]
fn a_place_that_follows_adjectives_is_theirs() {
    check_sense("Leaf blades cuneate or cordate at the base", "cuneate", "base");
    check_sense("Leaf blades cuneate or cordate at the base", "cordate", "base");
    check_sense("Known by its leaf blades (rounded at the base)", "rounded", "base");
    check_sense("Leaflets ovate, entire and cuneate below", "cuneate", "base");
    check_sense("Leaves cordate, hairy at the base", "cordate", "leaf");
}

#[test]
fn a_new_noun_of_a_list_is_what_the_rest_of_it_is_said_of() {
    check_sense("Sepals 3, stamens 6, ovary 3-celled, superior", "superior", "ovary");
    check_sense("Calyx lobed, hairs, when present, simple", "simple", "hair");
}

#[test]
fn what_a_plant_is_in_is_a_time_and_no_organ() {
    check_sense("Sepals nodding, free in fruit", "free", "sepal");
}

#[test]
fn a_word_without_a_fitting_sense_has_the_first_that_is_general() {
    check_sense("Spirally arranged", "Spirally", "leaf");
    check_sense("Involucre of hairy bracts", "Involucre", "head");
}

#[test]
fn plain_words_are_english_beside_plain_words() {
    for (text, word) in [
        ("Flowers open during the day", "open"),
        ("Keep clear of cut stems", "cut"),
        ("Poisonous to people and to stock", "stock"),
        ("Stony tarn margins", "margins"),
        ("Moss on shell-sand banks", "shell"),
        ("Wooded ravines", "Wooded"),
        ("Bud-scars 4–6 in a curved line", "line"),
        ("Pith of the twigs cream coloured", "coloured"),
        ("Water plants attached to stones in burns, the leaves narrow", "stones"),
    ] {
        check_word(text, word, false);
    }
    check_word("Leaves 3 mm long; sessile. Persistent for several years.", "Persistent", true);
}

#[test]
fn a_group_of_plants_picks_its_own_sense() {
    check_sense("Pleurocarpous; nerve double", "nerve", "moss");
    check_sense("Fronds pinnate; rhizome with brown scales", "scales", "fern");
    check_sense("Lip 3-lobed; spur short", "Lip", "orchid");
}

#[test]
fn the_clause_before_lends_its_organ() {
    check_sense("Peristome double; outer teeth 16", "teeth", "peristome");
    check_sense("Shrubs, the leaves opposite, simple", "simple", "leaf");
}

#[test]
fn a_noun_is_owned_by_what_is_named_before() {
    check_word("The flowers and their crests are whole", "crests", true);
    check_word("Plants forming a low cushion", "cushion", true);
}

#[test]
fn a_clause_with_a_verb_is_of_the_description_that_it_stands_in() {
    let described = "The five segments meet in a hood, below which hangs the lip; spur none; tubers ovoid";
    check_word(described, "hood", true);
    check_word(described, "lip", true);
    check_word("We met at the lip of the crater; the spur was bare; nobody spoke", "lip", false);
}
