//! Nothing is fetched and nothing is sent: the system calls of every kind of call are watched.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::support::{Home, skip};

/// System calls that open a connection or speak through one.
const NETWORK: &str =
    "trace=socket,connect,bind,listen,accept,accept4,sendto,sendmsg,sendmmsg,recvfrom,recvmsg";

/// Returns the calls to the network that a command makes.
fn calls(home: &Home, command: &[&str]) -> String {
    let log = home.path().join("calls");
    let mut strace = Command::new("strace");
    strace.args(["-f", "-qq", "-e", "signal=none", "-e", NETWORK, "-o"]).arg(&log).args(command);
    strace.env_clear().env("LIGULE_HOME", home.path().join("kept"));
    let output = strace.output().expect("strace was there when the test began");
    assert!(output.status.success(), "{command:?}: {}", String::from_utf8_lossy(&output.stderr));
    let text = fs::read_to_string(log).expect("strace wrote it");
    text.lines().filter(|line| line.contains('(')).collect::<Vec<_>>().join("\n")
}

#[test]
fn no_verb_opens_a_connection() {
    let test = "no_verb_opens_a_connection";
    if !Command::new("strace").args(["-o", "/dev/null", "true"]).status().is_ok_and(|status| status.success())
    {
        return skip(test, "strace is not installed, or may not watch");
    }
    let home = Home::new();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo/flora.pdf");
    let demo = demo.to_str().expect("names are ASCII");
    let verbs: &[&[&str]] = &[
        &["ingest", demo, "--as", "morvane"],
        &["check"],
        &["dump"],
        &["find", "calyx"],
        &["define", "calyx"],
        &["show", "Silene"],
    ];
    for verb in verbs {
        let call = [&[env!("CARGO_BIN_EXE_ligule")], *verb].concat();
        assert_eq!(calls(&home, &call), "", "{verb:?}");
    }
}

#[test]
fn a_connection_would_be_seen() {
    let home = Home::new();
    let call = "import socket; socket.socket().close()";
    let tools = ["strace", "python3"].map(|tool| Command::new(tool).arg("--version").output().is_ok());
    if tools != [true; 2] {
        return skip("a_connection_would_be_seen", "strace or python3 is not installed");
    }
    let python = Command::new("python3").args(["-c", "import sys; print(sys.executable)"]).output();
    let python = String::from_utf8(python.expect("it was there just now").stdout).expect("a path is text");
    assert!(calls(&home, &[python.trim(), "-c", call]).contains("socket("));
}
