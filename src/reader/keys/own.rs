//! The reader's own key map: the text of `keys.toml` in, changes and what is wrong in it by line out.
//!
//! What is wrong costs nothing but its own line; nothing is read from the disk here.

use std::collections::BTreeMap;

use crate::reader::command::Command;
use crate::reader::press::Press;

/// A line of the key map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Change {
    /// The line, counted from 1.
    pub(crate) line: usize,
    /// The command.
    pub(crate) command: Command,
    /// Its keys, in place of those that it had.
    pub(crate) keys: Vec<Press>,
}

/// The keys that always mean the same, so that nobody can be locked out.
const KEPT: &[Command] = &[Command::Help, Command::Close, Command::Quit, Command::Menu];

/// Reads a key map: lines such as `down = "j down"`.
pub(crate) fn read(text: &str) -> (Vec<Change>, Vec<String>) {
    let (mut changes, mut wrong) = (Vec::new(), Vec::new());
    for (number, line) in text.lines().enumerate().map(|(at, line)| (at + 1, line.trim())) {
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        match of_line(number, line, &mut wrong) {
            Ok(change) => take(change, &mut changes, &mut wrong),
            Err(reason) => wrong.push(format!("line {number}: {reason}; this line is left out")),
        }
    }
    (changes, wrong)
}

fn of_line(number: usize, line: &str, wrong: &mut Vec<String>) -> Result<Change, String> {
    let Ok(pair) = toml::from_str::<BTreeMap<String, String>>(line) else {
        return Err("not of the form down = \"j down\"".to_owned());
    };
    let (name, words) = pair.into_iter().next().ok_or("no command")?;
    let command = Command::ALL.iter().copied().find(|command| command.row().name == name);
    let command = command.ok_or_else(|| format!("there is no command {name:?}"))?;
    let mut keys = Vec::new();
    for word in words.split_whitespace() {
        match Press::parse(word) {
            None => wrong.push(format!("line {number}: there is no key {word:?}; it is left out")),
            Some(press) => match keeper(press).filter(|keeper| *keeper != command) {
                Some(keeper) => wrong.push(format!(
                    "line {number}: {} always means {}; it is left out",
                    press.shown(),
                    keeper.row().name
                )),
                None => keys.push(press),
            },
        }
    }
    Ok(Change { line: number, command, keys })
}

/// Returns the command that a key always means, whatever a key map says.
pub(super) fn keeper(press: Press) -> Option<Command> {
    let always = |command: &Command| always_of(*command).contains(&press);
    KEPT.iter().copied().find(always)
}

/// Returns the keys that a command keeps whatever a key map says.
pub(super) fn always_of(command: Command) -> &'static [Press] {
    match command {
        Command::Help => &[Press::Char('?'), Press::Function(1)],
        Command::Menu => &[Press::Function(2)],
        Command::Close => &[Press::Esc],
        Command::Quit => &[Press::Interrupt],
        _ => &[],
    }
}

/// Adds a line to those before it, without the keys that one of them has on the same screen.
fn take(mut change: Change, changes: &mut Vec<Change>, wrong: &mut Vec<String>) {
    if let Some(first) = changes.iter().find(|other| other.command == change.command) {
        let name = change.command.row().name;
        wrong.push(format!(
            "line {}: {name} has its keys in line {} already; this line is left out",
            change.line, first.line
        ));
        return;
    }
    let line = change.line;
    change.keys.retain(|press| {
        let clash = changes
            .iter()
            .find(|other| other.keys.contains(press) && on_one_screen(other.command, change.command));
        if let Some(other) = clash {
            let (name, key) = (other.command.row().name, press.shown());
            wrong.push(format!(
                "line {line}: {key} is the key of {name} in line {}; it is left out",
                other.line
            ));
        }
        clash.is_none()
    });
    changes.push(change);
}

/// Says whether two commands apply to a common screen.
pub(super) fn on_one_screen(one: Command, other: Command) -> bool {
    one.row().on.iter().any(|screen| other.applies(*screen))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, taken: &[(&str, &str)], wrong: &[&str]) {
        let (changes, said) = read(text);
        let shown = |change: &Change| {
            let keys: Vec<String> = change.keys.iter().map(|key| key.shown()).collect();
            (change.command.row().name, keys.join(" "))
        };
        let changes: Vec<(&str, String)> = changes.iter().map(shown).collect();
        let changes: Vec<(&str, &str)> = changes.iter().map(|(name, keys)| (*name, keys.as_str())).collect();
        assert_eq!(changes, taken);
        assert_eq!(said, wrong);
    }

    #[test]
    fn a_line_gives_a_command_its_keys() {
        check("# mine\n\ndown = \"n down\" # by hand\n", &[("down", "n ↓")], &[]);
    }

    #[test]
    fn a_line_that_is_wrong_is_said_and_the_rest_is_used() {
        check(
            "walk = \"w\"\n[keys]\nup = \"p nokey\"",
            &[("up", "p")],
            &[
                "line 1: there is no command \"walk\"; this line is left out",
                "line 2: not of the form down = \"j down\"; this line is left out",
                "line 3: there is no key \"nokey\"; it is left out",
            ],
        );
    }

    #[test]
    fn a_clash_is_said_by_line_and_the_first_line_keeps_the_key() {
        check(
            "down = \"n\"\nup = \"n p\"\nup = \"q\"",
            &[("down", "n"), ("up", "p")],
            &[
                "line 2: n is the key of down in line 1; it is left out",
                "line 3: up has its keys in line 2 already; this line is left out",
            ],
        );
    }

    #[test]
    fn one_key_may_do_different_things_on_different_screens() {
        check("unfold = \"o\"\ncannot-tell = \"o\"", &[("unfold", "o"), ("cannot-tell", "o")], &[]);
    }

    #[test]
    fn nobody_can_be_locked_out() {
        check(
            "down = \"? esc ctrl-c f2 j\"\nquit = \"x\"",
            &[("down", "j"), ("quit", "x")],
            &[
                "line 1: ? always means help; it is left out",
                "line 1: Esc always means close; it is left out",
                "line 1: Ctrl-C always means quit; it is left out",
                "line 1: F2 always means menu; it is left out",
            ],
        );
    }
}
