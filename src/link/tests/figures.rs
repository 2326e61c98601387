//! Figures of speech, words of Red Lists, times of year, and senses that the rest of a text tells.

use super::*;

#[test]
fn work_bears_no_fruit_and_an_idea_takes_no_root() {
    check_word("A second wave of work bore fruit between the wars", "fruit", false);
    check_word("The old pear bore fruit between the wars", "fruit", true);
    check_word("It has never borne fruit in the isles", "fruit", true);
    check_word("The idea took root over a winter", "root", false);
    check_word("The cuttings took root over a winter", "root", true);
}

#[test]
fn a_branch_of_a_society_is_none() {
    check_word("A society was formed with a branch on each island", "branch", false);
    check_word("A bud was formed with a branch on each side", "branch", true);
}

#[test]
fn a_category_of_a_red_list_is_named_as_such() {
    check_word("Young plants are vulnerable to frost", "vulnerable", false);
    check_word("Some stands are threatened by drainage", "threatened", false);
    check_word("Status: vulnerable in the isles", "vulnerable", true);
    check_word("Rare; endangered", "endangered", true);
    check_word("Nationally threatened", "threatened", true);
    check_word("On the island Red List it stands as endangered since 2011", "endangered", true);
}

#[test]
fn what_a_plant_is_in_is_explained_as_a_time() {
    check_marks("Pedicels erect in fruit", &["Pedicels→pedicel", "erect", "fruit→in fruit"]);
    check_marks("Nodding in bud, 2 cm", &["Nodding→nodding", "bud→in bud"]);
    check_marks("Differs in fruit colour", &["fruit"]);
    check_marks("Seeds 3 in each fruit", &["Seeds→seed", "fruit"]);
}

#[test]
fn parts_of_one_flower_vouch_for_one_another() {
    check_word("The keel is blunt and much shorter than the wings", "keel", true);
    check_word("The claw of the puffin is shorter than its wings", "claw", false);
    check_word("The lip is broad; it is cut into three, with a stout spur behind", "spur", true);
}

#[test]
fn bees_vouch_for_a_part_of_a_flower_and_a_pine_for_its_cone() {
    check_word("Bees visit it for the honey held in the hood", "hood", true);
    check_word("He held the jar in the hood", "hood", false);
    check_word("Of the pine nobody had kept a cone", "cone", true);
    check_word("Of the road works nobody had kept a cone", "cone", false);
}

#[test]
fn what_stands_before_a_plants_name_may_be_its_status() {
    check_word("The debate over the native pine was long", "native", true);
    check_word("Known here as keeled vetch", "keeled", false);
    check_word("The island meadow-rue was not seen", "meadow", false);
}

#[test]
fn a_height_above_the_sea_is_no_habit() {
    check_word("Heaths and moorland, ascending to 650 m above the glen", "ascending", false);
    check_word("Stems ascending to erect", "ascending", true);
}

#[test]
fn what_a_part_carries_is_not_what_it_is_of() {
    check_sense("Mericarps smooth; beak 20–25 mm, with stigmas 3–4 mm", "beak", "fruit");
}

#[test]
fn the_rest_of_a_text_tells_the_sense_of_a_noun_that_opens_its_clause() {
    check_sense("Drupe with one stone; spurs thorny", "spurs", "branch");
    check_sense("Limb flat; throat closed; flowers pin-eyed; teeth acute", "teeth", "calyx");
    check_sense("Disc yellow; rays 12–18, white", "Disc", "head");
    check_sense("Rays 12–20; disc fleshy; ribs winged", "Rays", "umbel");
    check_sense("Rays 8–12, on a lobed disc; capsule with pores", "Rays", "stigma");
    check_sense("Scape 1-flowered; crown cup-shaped", "crown", "flower");
    check_sense("Bark rough; crown wide", "crown", "tree");
}

#[test]
fn a_part_of_a_group_gives_way_to_the_organ_that_is_named() {
    check_sense("Pappus white; heads few, peduncles with small scales", "scales", "peduncle");
}

#[test]
fn the_parts_of_a_compound_have_senses_by_the_organ() {
    let lexicon = Lexicon::built_in();
    let sense = |word: &str, organ: &str| {
        let term = lexicon.get(lexicon.look_up(word)[0]);
        sense_for(term, Some(organ)).map(|at| term.senses[at].organs.clone())
    };
    assert!(sense("rounded", "base").is_some_and(|organs| organs == ["base"]));
    assert!(sense("rounded", "apex").is_some_and(|organs| organs.iter().any(|organ| organ == "apex")));
    assert_eq!(sense("rounded", "root"), None);
}
