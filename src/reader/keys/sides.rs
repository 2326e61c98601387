//! The keys of the layouts for one hand: rows of a command and its keys, for either side of the keyboard.
//!
//! Keys that lie outside the letters (arrows, Enter, Tab, Esc …), figures and `?` are those of the command table in every
//! layout. What has no row here is reached through the menu, so no layout needs a chord.

use crate::reader::command::Command;
use crate::reader::keys::Layout;

/// One command with its keys in the layouts for one hand.
struct Row {
    command: Command,
    left: &'static str,
    right: &'static str,
}

const fn row(command: Command, left: &'static str, right: &'static str) -> Row {
    Row { command, left, right }
}

/// Every command that has a letter for one hand; the fingers rest on `s d f` and on `h j k l`.
const ROWS: &[Row] = &[
    row(Command::Down, "d", "j"),
    row(Command::Up, "e", "k"),
    row(Command::Follow, "f", "l"),
    row(Command::Back, "s", "h"),
    row(Command::Menu, "q", "m"),
    row(Command::Trail, "a", "-"),
    row(Command::NextWord, "r", "i"),
    row(Command::WordBefore, "w", "u"),
    row(Command::Letters, "t", "o"),
    row(Command::Define, "g", "p"),
    row(Command::Open, "v", "y"),
    row(Command::CannotTell, "x", "n"),
    row(Command::Neither, "z", "."),
    row(Command::Doubt, "c", ","),
    row(Command::Possible, "b", "0"),
    row(Command::Check, "x", "n"),
    row(Command::Alike, "c", ","),
    row(Command::Route, "b", "0"),
    row(Command::Next, "z", "."),
    row(Command::Look, "x", "n"),
    row(Command::Across, "c", ","),
    row(Command::Narrow, "t", "o"),
    row(Command::Unfold, "r", "i"),
    row(Command::Fold, "w", "u"),
    row(Command::NewPlant, "t", "o"),
    row(Command::Drill, "t", "o"),
];

/// Letters and figures in the order in which words get them: those under the resting fingers first, then their row's
/// neighbours, then the other hand's, which are only met where there are more words than keys.
const BOTH_SIGNS: &str = "abcdefghijklmnopqrstuvwxyz0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const LEFT_SIGNS: &str = "fdsarewgtvcxbqz12345hjkluiopynm67890ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const RIGHT_SIGNS: &str = "jklhuiopynm67890fdsarewgtvcxbqz12345ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// Returns a command's own keys in a layout for one hand; for both hands it has only those of the command table.
pub(super) fn letters_of(command: Command, layout: Layout) -> &'static str {
    let row = ROWS.iter().find(|row| row.command == command);
    match layout {
        Layout::Both => "",
        Layout::Left => row.map_or("", |row| row.left),
        Layout::Right => row.map_or("", |row| row.right),
    }
}

/// Returns the signs that stand beside words and rows, the nearest to the fingers first.
pub(super) fn signs(layout: Layout) -> &'static str {
    match layout {
        Layout::Both => BOTH_SIGNS,
        Layout::Left => LEFT_SIGNS,
        Layout::Right => RIGHT_SIGNS,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks that a hand's letters are reached without the other hand.
    #[track_caller]
    fn check_hand(keys: &str, reach: &str) {
        let far = keys.chars().find(|key| !reach.contains(*key));
        assert_eq!(far, None, "{keys:?}");
    }

    #[test]
    fn every_letter_of_a_hand_lies_under_it() {
        for row in ROWS {
            check_hand(row.left, "qwertasdfgzxcvb");
            check_hand(row.right, "yuiophjklnm,.-67890");
        }
        check_hand(&LEFT_SIGNS[..20], "qwertasdfgzxcvb12345");
        check_hand(&RIGHT_SIGNS[..16], "yuiophjklnm67890");
    }

    #[test]
    fn every_hand_has_the_same_signs() {
        let sorted = |signs: &str| {
            let mut signs: Vec<char> = signs.chars().collect();
            signs.sort_unstable();
            signs
        };
        assert_eq!(sorted(LEFT_SIGNS), sorted(BOTH_SIGNS));
        assert_eq!(sorted(RIGHT_SIGNS), sorted(BOTH_SIGNS));
    }
}
