//! Look-ups and the drill as their user has them: kept through a kill, read through damage, forgotten without a trace.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::support::terminal::Terminal;
use crate::support::{Done, Home, skip};

/// Columns and rows of the usual window.
const USUAL: (u16, u16) = (80, 24);

/// The file of the log.
const LOG: &str = "looked-up.jsonl";

/// Two lines of a log, looked up on the first day of 1970.
const LINES: &str = r#"{"looked-up":{"at":0,"term":"crenate","organ":"leaf","place":"couplet 4 of Key to the herbs","said":"Leaves zawnlike and crenate"}}
{"looked-up":{"at":0,"term":"calyx","place":"the treatment of Skerria alba","plant":"plant 7"}}
"#;

/// Makes a home in which that was looked up, with more lines.
fn home_with(more: &str) -> Home {
    let home = Home::new();
    fs::create_dir(home.path().join("kept")).expect("a folder in a temporary one");
    home.file(&format!("kept/{LOG}"), format!("{LINES}{more}").as_bytes());
    home
}

/// Holds a sitting in which this is typed.
fn sit(home: &Home, typed: &str) -> Done {
    home.run_on(&["drill"], typed)
}

/// Returns the terms of the list.
fn listed(home: &Home) -> Vec<String> {
    let done = home.run(&["drill", "--list", "--json"]);
    assert_eq!(done.code, 0, "{done:?}");
    let rows: Value = serde_json::from_str(&done.out).expect("the list is JSON");
    let term = |row: &Value| row["term"].as_str().expect("a row has its term").to_owned();
    rows.as_array().expect("the list is one").iter().map(term).collect()
}

/// Returns every file below a folder that holds some words or is named so.
fn holding(folder: &Path, words: &str) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(holding(&path, words));
        } else {
            let bytes = fs::read(&path).expect("the file can be read");
            let named = path.display().to_string();
            if named.contains(words) || String::from_utf8_lossy(&bytes).contains(words) {
                found.push(named);
            }
        }
    }
    found
}

#[test]
fn what_was_looked_up_outlives_a_kill_and_is_forgotten_without_a_trace() {
    let test = "what_was_looked_up_outlives_a_kill_and_is_forgotten_without_a_trace";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, USUAL, "demo");
    terminal.wait_for_words("Key to the families");
    terminal.press("2");
    terminal.mark("inferior");
    terminal.kill();
    drop(terminal);
    assert_eq!(listed(&home), ["inferior"]);

    // Answered on the screen, and ended suddenly again.
    let terminal = Terminal::start(&home, USUAL, "read");
    terminal.press("L");
    terminal.press("n");
    terminal.press("1");
    terminal.kill();
    drop(terminal);
    assert_eq!(listed(&home), ["inferior"]);
    let kept = home.path().join("kept");
    assert_eq!(holding(&kept, "\"answered\"").len(), 1);

    let done = home.run(&["drill", "--forget"]);
    assert_eq!((done.code, done.out.as_str()), (0, "What you looked up is forgotten.\n"));
    for words in ["looked-up", "\"answered\"", "\"said\""] {
        assert_eq!(holding(&kept, words), Vec::<String>::new(), "{words} is still there");
    }
    assert_eq!(listed(&home), Vec::<String>::new());
}

#[test]
fn a_damaged_line_is_put_aside_and_said_and_the_rest_is_used() {
    let home = home_with("{\"looked-up\":{\"at\":17,\"ter\n\u{0}\u{0}\n");
    let done = home.run(&["drill", "--list", "--json"]);
    assert!(done.err.contains("2 damaged lines of the log put aside"), "{done:?}");
    assert_eq!(listed(&home), ["crenate", "calyx"]);
    let again = home.run(&["drill", "--list"]);
    assert_eq!(again.err, "", "it is said once");
    let aside = fs::read_to_string(home.path().join("kept/looked-up.damaged-1.jsonl"));
    assert!(aside.is_ok_and(|text| text.contains("{\"looked-up\":{\"at\":17,\"ter")));
    home.run(&["drill", "--forget"]);
    assert_eq!(holding(&home.path().join("kept"), "looked-up"), Vec::<String>::new());
}

#[test]
fn an_answer_is_kept_before_the_next_question() {
    let home = home_with("");
    let done = sit(&home, "crenate\n");
    assert_eq!(done.code, 0, "{done:?}");
    assert_eq!(done.out.matches("\n> ").count(), 2, "{done:?}");
    let log = fs::read_to_string(home.path().join("kept").join(LOG)).expect("the log");
    assert_eq!(log.matches("\"answered\"").count(), 1, "{log}");
    assert!(log.starts_with(LINES));
}

#[test]
fn the_answer_comes_with_its_source_and_the_place_where_the_term_was_met() {
    let home = home_with("");
    let done = sit(&home, "\n\n\n\nq\n");
    assert!(done.out.contains("— ligule's glossary"), "{done:?}");
    assert!(done.out.contains("You met it in couplet 4 of Key to the herbs: “Leaves zawnlike and crenate”"));
    assert!(done.out.contains("You met it in the treatment of Skerria alba (for plant 7)"));
}

#[test]
fn two_sittings_over_the_same_log_on_a_day_ask_the_same() {
    let asked = |seed: &str| home_with("").run(&["drill", "--seed", seed]).out;
    assert_eq!(asked("1"), asked("1"));
    let some: std::collections::BTreeSet<String> = ["1", "2", "3", "4"].into_iter().map(asked).collect();
    assert!(some.len() > 1, "another seed draws other questions");
}

#[test]
fn without_a_look_up_there_is_nothing_to_ask() {
    let done = Home::new().run(&["drill"]);
    assert_eq!(done.code, 3, "{done:?}");
    assert!(done.err.contains("no term was looked up yet"), "{done:?}");
    let done = Home::new().run(&["drill", "--forget"]);
    assert_eq!((done.code, done.out.as_str()), (0, "Nothing was remembered.\n"));
}
