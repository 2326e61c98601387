//! `ligule define` through the binary: whose entry comes first, the reader's own words, organs, composed words.

use std::fs;

use crate::cli::{check_fails, home, json};
use crate::support::{Done, Home, flora};

#[test]
fn define_prints_the_floras_own_entry_first_with_its_source() {
    let out = home().run(&["define", "calyces"]).out;
    assert!(
        out.starts_with(
            "calyx (also calyces)\n  the whole of a flower's sepals\n  — this flora, p. 9 (PDF page 2)\n"
        ),
        "{out}"
    );
    let entry = &json(&["define", "calyx", "--json"])["entries"][0];
    assert_eq!((entry["term"].as_str(), entry["page"].as_u64()), (Some("calyx"), Some(2)));
}

#[test]
fn a_glossary_answers_without_any_flora() {
    check_fails(&Home::new(), &["define", "zeppelin"], 3, &["no glossary has “zeppelin”"]);
}

/// A glossary of the reader's own, with a broken entry in line 8.
const OWN: &str = "[[term]]\nname = \"zawn\"\n[[term.sense]]\norgans = [\"leaf\"]\ndefinition = \"a deep notch\"\n\n\
    [[term]]\nname = \"zink\"\nhue = \"x\"\nsee = \"calyx\"\n\n[[term]]\nname = \"wick\"\nsee = \"calyx\"\n";

#[test]
fn the_readers_own_entries_answer_and_a_broken_one_is_told_by_its_line() {
    let home = home();
    fs::write(home.path().join("kept/glossary.toml"), OWN).expect("a temporary file can be written");
    let done = home.run(&["define", "zawns"]);
    assert_eq!(done.code, 0, "{done:?}");
    assert!(done.out.contains("a deep notch") && done.out.contains("— your own glossary"), "{}", done.out);
    assert!(done.err.contains("glossary.toml, line 9: unknown field `hue`"), "{}", done.err);
    let wick = home.run(&["define", "wick"]);
    assert!(wick.out.contains("ligule's glossary"), "{}", wick.out);
    check_fails_with_remark(&home.run(&["define", "zink"]));
}

#[track_caller]
fn check_fails_with_remark(done: &Done) {
    assert_eq!((done.code, done.out.as_str()), (3, ""), "{done:?}");
    assert!(done.err.contains("no glossary has “zink”"), "{}", done.err);
}

#[test]
fn the_glossary_of_another_flora_on_the_shelf_answers_with_its_title() {
    let home = home();
    flora::put(&home, "other");
    let done = home.run(&["define", "calyx", "--flora", "skerry"]);
    let sources: Vec<&str> = done.out.lines().filter(|line| line.starts_with("  — ")).collect();
    assert_eq!(sources.len(), 3, "{}", done.out);
    assert!(sources[0].starts_with("  — this flora, p."), "{sources:?}");
    assert!(!sources[1].contains("this flora") && sources[1].contains(", p. "), "{sources:?}");
    assert_eq!(sources[2], "  — ligule's glossary");
}

#[test]
fn define_shows_only_the_senses_of_an_organ() {
    let done = Home::new().run(&["define", "keel", "--organ", "lemmas"]);
    assert_eq!(done.code, 0, "{done:?}");
    assert!(done.out.contains("ridge") && !done.out.contains("pea flower"), "{}", done.out);
    assert!(done.out.contains("(1 more sense, of other organs)"), "{}", done.out);
    check_fails(&Home::new(), &["define", "keel", "--organ", "boat"], 3, &["“boat” is no organ"]);
}

#[test]
fn define_explains_a_word_from_its_parts_and_says_so() {
    let done = Home::new().run(&["define", "subglabrous"]);
    assert_eq!(done.code, 0, "{done:?}");
    assert!(
        done.out.starts_with("subglabrous: almost hairless (composed: sub- + glabrous)\n"),
        "{}",
        done.out
    );
    let done = Home::new().run(&["define", "oblong-lanceolate"]);
    assert!(done.out.starts_with("oblong-lanceolate: between its parts, nearer the last"), "{}", done.out);
}

#[test]
fn an_unknown_term_is_answered_with_the_nearest_ones() {
    let done = Home::new().run(&["define", "stigmatta"]);
    assert_eq!(done.code, 3);
    assert!(done.err.contains("Near it: stigma"), "{}", done.err);
}
