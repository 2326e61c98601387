//! Amendments through the binary: written by hand or in the reader, they hold in the flora at hand, in the dump, and after
//! every new ingest.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::support::terminal::Terminal;
use crate::support::{Home, skip};

/// The demo flora's file.
const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/corpus-demo/flora.pdf");

/// An amendment that fits the demo flora, and one that fits no book.
const AMENDMENTS: &str = r#"
# By hand.
[[lead]]
words = "Petals white, deeply cleft"
goes-to = { taxon = "Silene morvanica" }

[[heading]]
words = "No such heading anywhere"
page = 9
rank = "genus"
"#;

fn file(home: &Home, name: &str) -> PathBuf {
    home.path().join(format!("kept/floras/{name}.amendments.toml"))
}

#[track_caller]
fn ingest(home: &Home) -> String {
    let done = home.run(&["ingest", DEMO, "--as", "isles"]);
    assert_eq!(done.code, 0, "{done:?}");
    done.err
}

fn dump(home: &Home, name: &str) -> Vec<u8> {
    home.command(&["dump", name]).output().expect("the binary runs").stdout
}

/// Returns the leads of a dump that are amended.
fn amended(dump: &[u8]) -> Vec<Value> {
    let dump: Value = serde_json::from_slice(dump).expect("a dump is JSON");
    let lists = |value: &Value, name: &str| value[name].as_array().cloned().unwrap_or_default();
    let keys = lists(&dump, "keys").into_iter();
    let leads = keys.flat_map(|key| lists(&key, "couplets")).flat_map(|couplet| lists(&couplet, "leads"));
    leads.filter(|lead| lead["amended"] == true).collect()
}

/// Returns an amendment of the first lead of the demo flora's first key that goes to a couplet.
fn first_lead(home: &Home) -> String {
    let dump: Value = serde_json::from_slice(&dump(home, "isles")).expect("a dump is JSON");
    let lead = dump["keys"][0]["couplets"][0]["leads"][0]["text"].as_str().expect("a lead").to_owned();
    AMENDMENTS.replace("Petals white, deeply cleft", &lead)
}

#[test]
fn amendments_hold_after_every_ingest_and_two_give_equal_dumps() {
    let home = Home::new();
    ingest(&home);
    fs::write(file(&home, "isles"), first_lead(&home)).expect("the shelf is a folder");
    assert!(ingest(&home).contains("1 amendment holds, 1 no longer fits"));
    let first = dump(&home, "isles");
    ingest(&home);
    assert!(first == dump(&home, "isles"), "two ingests with the same amendments differ");
    let leads = amended(&first);
    assert_eq!(leads.len(), 1, "{leads:?}");
    assert_eq!(leads[0]["to"]["taxon"], "Silene morvanica");
    let check = home.run(&["check", "isles"]).out;
    assert!(check.contains("goes to Silene morvanica\n"), "{check}");
    assert!(
        check.contains("“No such heading anywhere” is a heading of rank genus; no longer fits"),
        "{check}"
    );
    assert!(check.contains("Amendments that no longer fit (1)"), "{check}");
}

#[test]
fn amendments_outlive_their_flora_and_a_fault_in_them_stops_the_ingest() {
    let home = Home::new();
    ingest(&home);
    fs::write(file(&home, "isles"), "[[lead]]\nword = 3\n").expect("the shelf is a folder");
    let done = home.run(&["ingest", DEMO, "--as", "isles"]);
    assert_eq!(done.code, 5, "{done:?}");
    assert!(done.err.contains("can't be read: line 2: unknown field `word`"), "{}", done.err);
    let dropped = home.run(&["shelf", "drop", "isles"]);
    assert!(dropped.err.contains("Its amendments stay in"), "{dropped:?}");
    assert!(file(&home, "isles").exists());
}

#[test]
fn a_lead_set_right_in_the_reader_is_saved_before_it_says_so_and_holds_when_it_is_opened_again() {
    let test = "a_lead_set_right_in_the_reader_is_saved_before_it_says_so_and_holds_when_it_is_opened_again";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, (80, 24), "demo");
    terminal.wait_for_words("Key to the families");
    terminal.press("A");
    terminal.wait_for_words("goes to …");
    terminal.press("Enter");
    terminal.wait_for_words("goes to which couplet, key or taxon?");
    for letter in "morvanica".chars() {
        terminal.press(&letter.to_string());
    }
    terminal.press("Enter");
    terminal.wait_for_words("Saved, here and for every later ingest.");
    let kept = fs::read_to_string(file(&home, "demo")).expect("it was saved");
    assert!(kept.contains("goes-to = ") || kept.contains("[lead.goes-to]"), "{kept}");
    terminal.wait_for_words("amended");
    terminal.press("q");
    drop(terminal);
    let again = Terminal::start(&home, (80, 24), "read");
    again.wait_for_words("amended");
    assert_eq!(amended(&dump(&home, "demo")).len(), 1);
    assert!(Path::new(&home.path().join("kept/floras/demo/2/as-read.ligule")).exists());
}
