//! A whole session in a real terminal, as the worked script of the job has it, and sudden ends at any moment of one.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::thread;
use std::time::Duration;

use serde_json::Value;

use crate::support::terminal::{Screen, Terminal};
use crate::support::{Home, note, skip};

/// Columns and rows of the usual window.
const USUAL: (u16, u16) = (80, 24);

/// Presses that the script may take at most: what it takes now, and a few.
const MOST_PRESSES: usize = 90;

/// Sudden ends.
const KILLS: u64 = 200;

/// The keys of the recorded session that is ended suddenly: down the key, doubt, a branch, the trail, a term, lists.
const SESSION: &[&str] = &[
    "2", "2", "y", "2", "2", "j", "Tab", "d", "b", "x", "1", "m", "1", "m", "-", "b", "2", "b", "1", ",",
    "b", "x", "e", "b", "-", "Enter", "n", "Enter", "b", "i",
];

/// A terminal whose presses are counted.
struct Counted {
    terminal: Terminal,
    presses: usize,
    /// The steps of the script with the presses that each took.
    steps: Vec<(&'static str, usize)>,
}

impl Counted {
    /// Counts the presses from here on for another step.
    fn step(&mut self, name: &'static str) {
        let before: usize = self.steps.iter().map(|(_, presses)| presses).sum();
        if let Some((_, presses)) = self.steps.last_mut() {
            *presses = self.presses - before;
        }
        self.steps.push((name, 0));
    }

    #[track_caller]
    fn press(&mut self, key: &str, words: &str) -> Screen {
        self.presses += 1;
        let screen = self.terminal.press(key);
        assert!(screen.text.contains(words), "{words} is not on the screen after {key}{screen:?}");
        screen
    }

    #[track_caller]
    fn type_in(&mut self, typed: &str, words: &str) -> Screen {
        for letter in typed.chars() {
            let key = if letter == ' ' { "Space".to_owned() } else { letter.to_string() };
            self.press(&key, "");
        }
        self.press("Enter", words)
    }

    #[track_caller]
    fn look_up(&mut self, word: &str, definition: &str) {
        let marked = self.terminal.mark(word);
        self.presses += 2;
        assert!(marked.text.contains(definition), "{definition} is not on the screen{marked:?}");
        self.press("d", definition);
        self.presses += 1;
        self.terminal.press_for("b", &marked);
    }
}

#[test]
fn the_worked_script_runs_up_to_the_look_alike_compared() {
    let test = "the_worked_script_runs_up_to_the_look_alike_compared";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, USUAL, "demo");
    terminal.wait_for_words("Key to the families");
    let left = terminal.press("2");
    terminal.press("q");
    drop(terminal);

    // The couplet left yesterday.
    let terminal = Terminal::start(&home, USUAL, "read");
    terminal.wait_for(&left);
    let mut reader = Counted { terminal, presses: 0, steps: Vec::new() };
    reader.step("a new plant, named");
    reader.press("-", "Trail of plant 1");
    reader.press("n", "Name of the new plant");
    reader.type_in("cliff", "This is cliff now");
    reader.step("the key of its genus by name");
    reader.press("e", "Keys");
    reader.press("/", "narrow");
    let first = reader.type_in("Silene", "couplet 1 of 4");
    assert!(first.text.contains("later you need: "), "what the leads ahead need is said{first:?}");
    reader.step("two couplets and two terms, one a plural");
    reader.look_up("dichasium", "flower");
    reader.press("2", "couplet 2 of 4");
    reader.look_up("Styles", "stigma");
    reader.press("2", "couplet 3 of 4");
    reader.step("a character missing, both leads kept");
    reader.press("x", "All leads stay open");
    reader.step("a leaf measured");
    reader.press("=", "Readings");
    reader.type_in("leaf 60 62 58 x 15 mm", "lanceolate");
    reader.press("b", "couplet 4 of 4");
    reader.step("three answers, a branch given up with its reason");
    reader.press("3", "brennii");
    reader.press("b", "taken");
    reader.press("2", "kept in branch A");
    reader.press("-", "branch B of 2");
    reader.press("b", "Silene rupicola");
    reader.press("b", "couplet 4 of 4");
    reader.press("3", "branch A, which is at hand again");
    reader.press("-", "branch A of 2");
    reader.press("X", "Why is this branch given up?");
    reader.type_in("seeds well formed", "is given up and kept");
    reader.press("b", "brennii");
    reader.press("b", "couplet 4 of 4");
    reader.step("the treatment, why it is this one, the look-alike");
    reader.press("2", "Silene rupicola");
    reader.press("x", "Why Silene rupicola");
    reader.press("b", "A name from a key is no leave");
    reader.press("y", "Look-alikes of Silene rupicola");
    reader.press("Enter", "Silene rupicola and Silene");
    reader.step("end");
    let steps: Vec<String> =
        reader.steps.iter().map(|(step, presses)| format!("\n  {presses:3} {step}")).collect();
    note("presses of the worked script", &format!("{}{}", reader.presses, steps.concat()));
    assert!(reader.presses <= MOST_PRESSES, "{} presses", reader.presses);
}

/// Returns what is kept of where the reader stands, without the times and the ids made of them; nothing while there is no such file.
fn kept(home: &Home) -> Option<Value> {
    let path = home.path().join("kept/stand.json");
    let path = if path.exists() { path } else { find(&home.path().join("kept"))? };
    let text = fs::read_to_string(path).ok()?;
    let mut value: Value = serde_json::from_str(&text).expect("what is kept is whole at any moment");
    forget_times(&mut value);
    Some(value)
}

fn find(folder: &Path) -> Option<std::path::PathBuf> {
    let entries: Vec<_> = fs::read_dir(folder).ok()?.flatten().map(|entry| entry.path()).collect();
    let is_it = |path: &&std::path::PathBuf| path.ends_with("stand.json");
    entries
        .iter()
        .find(is_it)
        .cloned()
        .or_else(|| entries.iter().filter(|path| path.is_dir()).find_map(|path| find(path)))
}

/// Removes what every reader kept that ran in the folder of this file.
fn forget_stands(stand: &Path) {
    let folder = stand.parent().expect("it lies in a folder");
    for entry in fs::read_dir(folder).expect("it can be read").flatten() {
        if entry.file_name().to_string_lossy().starts_with("stand.") {
            fs::remove_file(entry.path()).expect("it can be removed");
        }
    }
}

fn forget_times(value: &mut Value) {
    match value {
        Value::Object(members) => {
            members.remove("time");
            members.remove("id");
            members.values_mut().for_each(forget_times);
        }
        Value::Array(items) => items.iter_mut().for_each(forget_times),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[test]
fn after_a_sudden_end_at_any_moment_place_and_trail_are_those_of_a_press() {
    let test = "after_a_sudden_end_at_any_moment_place_and_trail_are_those_of_a_press";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, USUAL, "demo");
    terminal.wait_for_words("Key to the families");
    let (mut states, mut screens) = (vec![None], vec![terminal.screen()]);
    for key in SESSION {
        screens.push(terminal.press(key));
        states.push(Some(kept(&home).expect("a press is kept at once")));
    }
    // Not ended politely: it would write where it stands once more, into what comes next.
    terminal.kill();
    drop(terminal);
    let stand = find(&home.path().join("kept")).expect("what is kept");
    let mut random: u64 = 0x9e37_79b9_7f4a_7c15;
    let mut seen = std::collections::BTreeSet::new();
    for kill in 0..KILLS {
        forget_stands(&stand);
        let terminal = Terminal::start_at_once(&home, USUAL, "read");
        terminal.send(SESSION);
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        thread::sleep(Duration::from_micros((random >> 33) % 60_000));
        terminal.kill();
        drop(terminal);
        let found = kept(&home);
        let at = states.iter().position(|state| *state == found);
        let at = at.unwrap_or_else(|| panic!("kill {kill} left what no press left: {found:?}"));
        seen.insert(at);
        if kill % 20 == 0 {
            let again = Terminal::start(&home, USUAL, "read");
            let first = again.screen();
            again.kill();
            assert!(
                first.text.lines().next() == screens[at].text.lines().next(),
                "{first:?}{:?}",
                screens[at]
            );
        }
    }
    assert!(seen.len() > 5, "the kills fell on {seen:?} only");
    let left = Command::new("sh").args(["-c", &format!("ls {}/kept", home.path().display())]).output();
    assert!(left.is_ok_and(|output| !String::from_utf8_lossy(&output.stdout).contains("damaged")));
}

/// Begins a plant of this name on the trail.
#[track_caller]
fn begin(terminal: &Terminal, name: &str) {
    terminal.press("-");
    terminal.press("n");
    for letter in name.chars() {
        terminal.press(&letter.to_string());
    }
    terminal.press("Enter");
    terminal.press("b");
}

#[test]
fn two_readers_at_once_lose_no_decision_even_if_both_end_suddenly() {
    let test = "two_readers_at_once_lose_no_decision_even_if_both_end_suddenly";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let one = Terminal::start(&home, USUAL, "demo");
    one.wait_for_words("Key to the families");
    begin(&one, "cliff");
    one.press("2");
    let other = Terminal::start(&home, USUAL, "read");
    other.wait_for_words("Also open elsewhere");
    begin(&other, "bank");
    // In turn, so that each writes after the other.
    other.press("0");
    other.press("1");
    one.press("2");
    other.press("2");
    one.press("2");
    let (first, second) = (one.screen(), other.screen());
    assert!(first != second);
    one.kill();
    other.kill();
    drop((one, other));
    let again = Terminal::start(&home, USUAL, "read");
    let told = again.wait_for_words("What was decided in another window is here now: 1 plant.");
    assert_eq!(told.text.lines().next(), first.text.lines().next(), "where the first reader stood");
    again.press("-");
    let plants = again.press("p").text;
    for row in ["cliff · 3 decisions", "bank · 2 decisions"] {
        assert!(plants.contains(row), "{row:?} is not on\n{plants}");
    }
    again.kill();
}

#[test]
fn a_reader_that_outlives_the_first_joins_what_was_decided_at_its_own_end() {
    let test = "a_reader_that_outlives_the_first_joins_what_was_decided_at_its_own_end";
    if !Terminal::possible() {
        return skip(test, "tmux is not installed");
    }
    let home = Home::new();
    let one = Terminal::start(&home, USUAL, "demo");
    one.wait_for_words("Key to the families");
    let other = Terminal::start(&home, USUAL, "read");
    other.wait_for_words("Also open elsewhere");
    begin(&other, "bank");
    other.press("2");
    one.press("q");
    other.press("q");
    let kept = kept(&home).expect("what is kept").to_string();
    assert!(kept.contains("bank"), "{kept}");
    let names = fs::read_dir(home.path().join("kept")).expect("the home").flatten();
    let names: Vec<String> = names.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    assert!(!names.iter().any(|name| name == "stand.2.json"), "{names:?}");
}
