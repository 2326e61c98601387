//! A list that lies over the screen, to pick from: rows, what picking one does, what was typed. Picking is `update`'s.
//!
//! It is no place: neither opening nor closing it touches the way.

use crate::name;
use crate::reader::command::Command;

/// What picking a row does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Does {
    /// Does what a command says.
    Command(Command),
    /// Goes to the mark of this number.
    Mark(usize),
    /// Goes so many steps back along the way.
    Back(usize),
    /// Goes so many steps forward along the way.
    Forward(usize),
    /// Stays here.
    Stay,
}

/// How a row is picked beside moving to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum By {
    /// By the sign that stands before it.
    Signs,
    /// By typing a part of its words.
    Typing,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// What stands before it, such as the keys of a command.
    pub(crate) before: String,
    /// What it says.
    pub(crate) words: String,
    /// What picking it does.
    pub(crate) does: Does,
}

/// The list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pick {
    /// What is picked.
    pub(crate) title: String,
    /// What is said at the right of the title.
    pub(crate) hint: String,
    /// All rows.
    pub(crate) rows: Vec<Row>,
    /// How a row is picked.
    pub(crate) by: By,
    /// What was typed.
    pub(crate) typed: String,
    /// The row at hand among those shown.
    pub(crate) at: usize,
}

impl Pick {
    /// Returns the rows in which every typed word stands.
    pub(crate) fn shown(&self) -> Vec<&Row> {
        let typed = name::fold(&self.typed);
        let words: Vec<&str> = typed.split(' ').filter(|word| !word.is_empty()).collect();
        let fits = |row: &&Row| {
            let folded = name::fold(&row.words);
            words.iter().all(|word| folded.contains(word))
        };
        self.rows.iter().filter(fits).collect()
    }

    /// Returns the first row in view where so many have room: whole windows of them, so that signs stay with their rows.
    pub(crate) fn top(&self, room: usize) -> usize {
        self.at - self.at % room.max(1)
    }
}
