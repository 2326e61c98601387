//! At rest nothing runs: the system calls of a reader that is left alone are watched, and there are none.

use std::fs;
use std::process::Command;
use std::thread;
use std::time::Duration;

use crate::support::terminal::Terminal;
use crate::support::{Home, skip};

/// How long the reader is left alone; `tests/bench/at-rest` does it for a minute.
const REST: Duration = Duration::from_secs(5);

/// Returns the system calls that ended while the reader was left alone.
fn calls_at_rest(terminal: &Terminal, home: &Home) -> Vec<String> {
    let log = home.path().join("calls");
    let pid = terminal.pid();
    let mut strace = Command::new("strace");
    strace.args(["-f", "-qq", "-p", &pid, "-o"]).arg(&log);
    let mut strace = strace.spawn().expect("strace was there when the test began");
    thread::sleep(REST);
    let end = format!("kill -INT {}", strace.id());
    assert!(Command::new("sh").args(["-c", &end]).status().expect("there is a shell").success());
    strace.wait().expect("it was started here");
    let text = fs::read_to_string(log).expect("strace wrote it");
    assert!(!text.is_empty(), "nothing was watched");
    text.lines()
        .filter(|line| line.contains(") = ") || line.contains("resumed>"))
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_reader_left_alone_makes_no_system_call() {
    let test = "a_reader_left_alone_makes_no_system_call";
    let watches = Command::new("strace").args(["-o", "/dev/null", "true"]).status();
    if !Terminal::possible() || !watches.is_ok_and(|status| status.success()) {
        return skip(test, "tmux or strace is not installed, or strace may not watch");
    }
    let home = Home::new();
    let terminal = Terminal::start(&home, (80, 24), "demo");
    terminal.wait_for_words("? help");
    assert_eq!(calls_at_rest(&terminal, &home), [""; 0]);
    terminal.press("j");
    assert_eq!(calls_at_rest(&terminal, &home), [""; 0]);
}
