//! The reader in the terminal: a flora, or the shelf, in; a reader who keys plants out.
//!
//! A key press becomes a command, `update` changes the state, `view` draws it; only `run` knows the terminal.

mod ascii;
mod command;
mod explain;
mod form;
mod grounds;
mod guide;
mod keys;
mod library;
mod linear;
mod looked_up;
mod marks;
mod measure;
mod out;
mod outside;
mod palette;
mod pick;
mod place;
mod plants;
mod pointer;
mod press;
mod rehearsal;
mod run;
mod seen;
mod sheet;
mod side;
mod stand;
mod start;
mod state;
mod textflow;
mod theme;
mod title;
mod update;
mod view;
mod words;

#[cfg(test)]
mod tests;

use std::io;
use std::path::PathBuf;

use crate::search::Index;
use crate::sketch::Dots;
use crate::store::{Book, Shelf};

pub use ascii::Signs;
pub use keys::{Layout, key_table_markdown};
pub use rehearsal::{Rehearsal, Shown};
pub use run::{picture, run};
pub use state::{Colour, Mouse};
pub use theme::names as themes;
pub use words::lexicon;

/// What the reader begins with; everything has a default.
#[derive(Debug, Default)]
pub struct Session {
    /// The floras to choose from.
    pub shelf: Option<Shelf>,
    /// The folder in which it is kept where the reader stood; without it nothing is kept.
    pub home: Option<PathBuf>,
    /// The flora to read; without it the one read last, or the only one, is opened from the shelf.
    pub book: Option<Book>,
    /// Its index.
    pub index: Option<Index>,
    /// Where to begin, as `--at` has it.
    pub at: Option<String>,
    /// The theme; empty for the one used last.
    pub theme: String,
    /// Which colours the terminal shows.
    pub colour: Colour,
    /// Which characters it shows.
    pub signs: Signs,
    /// What drawings are made of; braille where nothing is said.
    pub dots: Option<Dots>,
    /// Whether screens are drawn, or lines spoken.
    pub manner: Manner,
    /// The layout of the keys; without one that used last.
    pub keys: Option<Layout>,
    /// Whether the mouse is listened to; without a word on it as last.
    pub mouse: Option<Mouse>,
    /// What a newcomer is told.
    pub tell: Tell,
}

/// What a newcomer is told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tell {
    /// Nothing new.
    #[default]
    Nothing,
    /// Three lines of orientation at the first couplet, until something is decided.
    Welcome,
    /// The tour, from its first step.
    Tour,
}

/// How the reader shows itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Manner {
    /// It draws screens.
    #[default]
    Screen,
    /// It prints what changed, line after line, for screen readers, Braille and terminals that can't draw.
    Linear,
}

/// What can keep the reader from beginning or going on.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Input or output is no terminal.
    #[error("the reader needs a terminal")]
    NoTerminal,
    /// The terminal failed.
    #[error("the terminal failed: {0}")]
    Terminal(#[source] io::Error),
    /// The flora has no such place.
    #[error("there is no {at:?} in this flora{}", near_words(near))]
    NothingThere {
        /// What was asked for.
        at: String,
        /// What comes near it.
        near: Vec<String>,
    },
    /// No flora is open in which a place could be looked for.
    #[error("no flora is open in which {at:?} could be looked for")]
    NoFlora {
        /// What was asked for.
        at: String,
    },
    /// The shelf failed.
    #[error(transparent)]
    Shelf(#[from] crate::store::Error),
    /// The theme could not be read.
    #[error(transparent)]
    Theme(#[from] theme::Error),
}

fn near_words(near: &[String]) -> String {
    if near.is_empty() { String::new() } else { format!("; near it: {}", near.join(", ")) }
}
