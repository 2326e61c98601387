//! `ligule find` through the binary: several floras together, what narrows, and words that nothing is known by.

use serde_json::Value;

use crate::support::{Home, flora};

/// A home with two floras on its shelf.
fn home() -> Home {
    let home = Home::new();
    flora::put(&home, "skerry");
    flora::put(&home, "holm");
    home
}

/// Checks that a call is wrong, and that it says what is known.
#[track_caller]
fn check_unknown(args: &[&str], known: &[&str]) {
    let done = home().run(args);
    assert_eq!((done.code, done.out.as_str()), (2, ""), "{args:?}: {done:?}");
    assert!(known.iter().all(|word| done.err.contains(word)), "{args:?}: {}", done.err);
}

#[test]
fn a_word_that_names_no_rank_month_or_district_is_a_wrong_call() {
    check_unknown(&["find", "seeds", "--flora", "holm", "--rank", "famly"], &["famly", "family", "genus"]);
    check_unknown(&["find", "seeds", "--flora", "holm", "--month", "Juli"], &["Juli", "July"]);
    check_unknown(&["find", "seeds", "--all", "--district", "Zeppelin"], &["Zeppelin"]);
    check_unknown(
        &["find", "seeds", "--flora", "holm", "--family", "Caryophylaceae"],
        &["Caryophylaceae", "Caryophyllaceae"],
    );
    check_unknown(&["find", "seeds", "--all", "--family", "Zonkaceae"], &["Zonkaceae", "Caryophyllaceae"]);
}

#[test]
fn several_floras_answer_together_and_each_hit_names_its_own() {
    let home = home();
    let all = home.run(&["find", "seed", "warty", "--all", "--json"]);
    assert_eq!(all.code, 0, "{all:?}");
    let all: Value = serde_json::from_str(&all.out).expect("it is JSON");
    let floras = all["floras"].as_array().expect("a list of floras");
    let names: Vec<&str> = floras.iter().filter_map(|own| own["flora"].as_str()).collect();
    assert_eq!(names, ["holm", "skerry"]);
    assert!(floras.iter().all(|own| own["taxa"][0]["scientificName"] == "Silene alta"), "{all}");
    let two = home.run(&["find", "seed", "warty", "--flora", "skerry", "--flora", "holm"]);
    assert_eq!(two.out.matches("\nSilene alta, ").count(), 2, "{}", two.out);
}

#[test]
fn a_part_of_the_question_narrows_it() {
    let done = home().run(&["find", "seed warty; only families", "--flora", "holm"]);
    assert!(done.out.contains("only families = rank family"), "{done:?}");
    assert!(done.out.contains("\nCaryophyllaceae, "), "{done:?}");
}
