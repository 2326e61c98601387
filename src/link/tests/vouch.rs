//! Words that are also ordinary English: what vouches for them and what makes English of them.

use super::*;

#[test]
fn words_of_status_vouch_for_one_another() {
    check_word("An alien, introduced with ballast and now naturalised on quays", "introduced", true);
    check_word("Of the 612 in this book, 431 are native and 97 casual", "native", true);
    check_word("An alien that has held its ground is treated here as established", "established", true);
    check_word("The trust was established in the spring of that year", "established", false);
    check_word("A new boat was introduced by the company", "introduced", false);
}

#[test]
fn a_habitat_vouches_for_another_in_prose() {
    check_word("We have used flush for wet ground, and mire for any place with peat", "flush", true);
    check_word("We felt a flush of pride", "flush", false);
}

#[test]
fn a_habitat_in_a_plants_name_is_none() {
    check_word("The tubers of the marsh orchid are palmate", "marsh", false);
    check_word("Known from bog asphodel by its leaves", "bog", false);
    check_word("The marsh below the dunes", "marsh", true);
}

#[test]
fn a_place_that_an_organ_lies_on_is_a_part() {
    check_word("It differs in having calyx hairs all round the margin", "margin", true);
    check_word("In pencil along the margin of page 40 stands that the pods were dehiscing", "margin", false);
    check_word("It was found by the men all round the margin", "margin", false);
}

#[test]
fn a_noun_of_the_group_that_the_text_tells_is_its_part() {
    check_word("The calyptra falls with the lid still inside it", "lid", true);
    check_word("The jar falls with the lid still inside it", "lid", false);
    check_sense("Leaves crisped; when moist they spread and show a strong nerve", "nerve", "moss");
    check_word("The palea closes on the young grain", "grain", true);
}

#[test]
fn an_adjective_is_said_of_a_plant_by_its_name_or_of_a_hybrid() {
    check_word("Hairy Tideweed is not hairy at all in the isles", "hairy", true);
    check_word("Brannock Ness is not hairy at all in the isles", "hairy", false);
    check_word("A hybrid was seen in 2004, sterile and taller than its parents", "sterile", true);
}

#[test]
fn an_adjective_of_a_thing_is_english() {
    check_word("The road is rough, so the leaves are better seen from below", "rough", false);
    check_word("The stem is rough, with leaves from below", "rough", true);
}

#[test]
fn an_organ_of_a_trust_or_a_bird_is_none() {
    check_word("A branch of the trust keeps the gate", "branch", false);
    check_word("The beaks of puffins may carry fruits", "beaks", false);
    check_word("Her second visit bore fruit: they were achenes", "fruit", false);
    check_word("A tree that bore fruit in August", "fruit", true);
    check_word("Banner headlines greeted the find", "Banner", false);
}

#[test]
fn shoots_are_organs_in_any_prose() {
    check_word("Beware of young shoots of the hemlock", "shoots", true);
    check_word("They hang in bunches from the bare shoots", "shoots", true);
}

#[test]
fn the_sense_is_that_of_the_organ_beside_the_noun_within_one_group() {
    check_sense("Heads radiate; receptacle with chaffy scales; pappus none", "scales", "receptacle");
    check_sense("Heads radiate; pappus of 5 scales", "scales", "pappus");
    check_sense("Keel drawn out into a beak; pod torulose", "Keel", "petal");
    check_sense("Lemma 5-nerved; keel scabrid", "keel", "lemma");
    check_sense("Keel beaked; pod constricted", "beaked", "petal");
}
