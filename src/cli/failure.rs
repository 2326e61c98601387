//! What ends a call early: one sentence for the user, a hint where one helps, and the exit code.

use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use crate::ingest;
use crate::reader;
use crate::search;
use crate::store;

/// The exit codes, for `--help`.
pub(crate) const EXIT_CODES: &str = "\
Exit codes: 0 done; 1 internal fault; 2 wrong call; 3 nothing found; 4 the book can't be read (also: its file is not
there); 5 the disk or the shelf; 6 refused, to protect a place or a licence.

Everything is kept below LIGULE_HOME, or else in ligule/ below XDG_DATA_HOME (usually ~/.local/share).";

/// Why a call ends early.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    /// A panic, whose message was printed already.
    #[error("this is a fault of ligule itself; what is on the shelf is as it was")]
    Fault,
    /// No folder to keep things in is known.
    #[error("there is no folder to keep floras in: set LIGULE_HOME to one")]
    NoHome,
    /// The shelf is empty.
    #[error("the shelf is empty")]
    NoFlora,
    /// Several floras might be meant.
    #[error("there are several floras; name one of {}", names.join(", "))]
    WhichFlora {
        /// The floras.
        names: Vec<String>,
        /// How a call names one.
        with: &'static str,
    },
    /// Several items might be meant.
    #[error("“{asked}” fits {}; name one of them", names.join(", "))]
    Several {
        /// What was asked for.
        asked: String,
        /// What fits.
        names: Vec<String>,
    },
    /// A word of an option that is none of those known.
    #[error("there is no {what} “{typed}”")]
    Unknown {
        /// What it should name.
        what: &'static str,
        /// The word.
        typed: String,
        /// What is known.
        known: Vec<String>,
    },
    /// Nothing was found.
    #[error("{what}")]
    Nothing {
        /// The sentence.
        what: String,
        /// Names that are near, or what else to try.
        hint: Option<String>,
    },
    /// A page that the book does not have.
    #[error("the book has {pages} pages, so there is no page {page}")]
    NoPage {
        /// The page asked for.
        page: u32,
        /// The last page.
        pages: u32,
    },
    /// The name of the built-in flora, asked for another.
    #[error("`demo` is the name of the built-in flora; choose another with --as")]
    DemoName,
    /// The reader was called without a terminal.
    #[error("the reader needs a terminal, and here is none")]
    NoTerminal,
    /// A book's file can't be opened.
    #[error("can't read {}: {why}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What the system says, and what to do.
        why: String,
    },
    /// A book's file is no book.
    #[error(transparent)]
    Book(#[from] ingest::Error),
    /// A profile that can't be read.
    #[error("the profile {} can't be used: {why}", file.display())]
    Profile {
        /// The file.
        file: PathBuf,
        /// What is wrong, and what is known.
        why: String,
    },
    /// A file of amendments that can't be read.
    #[error("the amendments in {} can't be read: {why}", file.display())]
    Amendments {
        /// The file.
        file: PathBuf,
        /// What is wrong, and where.
        why: String,
    },
    /// The shelf.
    #[error(transparent)]
    Store(#[from] store::Error),
    /// An item of the shelf is not there.
    #[error("{0}")]
    Item(String),
    /// The index.
    #[error(transparent)]
    Search(#[from] search::Error),
    /// The reader.
    #[error(transparent)]
    Reader(#[from] reader::Error),
    /// Standard output refused.
    #[error("can't write the result: {0}")]
    Output(#[from] io::Error),
}

/// The codes of a failure, as listed in [`EXIT_CODES`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Code {
    Fault = 1,
    WrongCall = 2,
    Nothing = 3,
    Book = 4,
    Disk = 5,
}

impl Failure {
    /// Prints the sentence and returns the exit code. A pipe closed by whoever reads our result is no failure.
    pub(crate) fn report(self) -> ExitCode {
        if let Self::Output(error) = &self
            && error.kind() == io::ErrorKind::BrokenPipe
        {
            return ExitCode::SUCCESS;
        }
        let mut remarks = io::stderr().lock();
        // Nobody is left to be told when standard error is closed too.
        _ = writeln!(remarks, "ligule: {self}");
        if let Some(hint) = self.hint() {
            _ = writeln!(remarks, "{hint}");
        }
        ExitCode::from(self.code() as u8)
    }

    /// Returns the exit code.
    fn code(&self) -> Code {
        match self {
            Self::Fault => Code::Fault,
            Self::WhichFlora { .. }
            | Self::Several { .. }
            | Self::Unknown { .. }
            | Self::NoTerminal
            | Self::DemoName
            | Self::Profile { .. }
            | Self::NoPage { .. }
            | Self::Reader(reader::Error::NoTerminal) => Code::WrongCall,
            Self::NoFlora
            | Self::Nothing { .. }
            | Self::Reader(reader::Error::NothingThere { .. } | reader::Error::NoFlora { .. }) => {
                Code::Nothing
            }
            Self::File { .. } | Self::Book(_) => Code::Book,
            Self::Store(error) | Self::Reader(reader::Error::Shelf(error)) => shelf_code(error),
            Self::NoHome
            | Self::Amendments { .. }
            | Self::Item(_)
            | Self::Search(_)
            | Self::Reader(reader::Error::Terminal(_) | reader::Error::Theme(_))
            | Self::Output(_) => Code::Disk,
        }
    }

    /// Returns what to try next, where the sentence does not say it.
    fn hint(&self) -> Option<String> {
        match self {
            Self::NoFlora => {
                Some("Put a flora on it with `ligule ingest FILE.pdf`, or look at the built-in one: `ligule demo`.".to_owned())
            }
            Self::WhichFlora { with, .. } => Some(format!("Write it as {with}.")),
            Self::Unknown { known, .. } if known.is_empty() => Some("Nothing like it is named here.".to_owned()),
            Self::Unknown { known, .. } => Some(format!("Known: {}.", known.join(", "))),
            Self::Nothing { hint, .. } => hint.clone(),
            Self::Store(store::Error::Missing { .. }) => Some("`ligule shelf` lists the floras.".to_owned()),
            Self::Store(store::Error::OtherVersion { name, .. }) => Some(format!("Keep its name with `--as {name}`.")),
            Self::NoTerminal => {
                Some("In a pipe, use `ligule show`, `ligule key`, `ligule find` or `ligule define`.".to_owned())
            }
            Self::Search(_) => Some("Ingest the book again to make its index anew.".to_owned()),
            Self::Amendments { .. } => {
                Some("Set it right there, or move the file away; the flora on the shelf is as it was.".to_owned())
            }
            Self::Fault
            | Self::NoHome
            | Self::Profile { .. }
            | Self::DemoName
            | Self::Several { .. }
            | Self::NoPage { .. }
            | Self::File { .. }
            | Self::Book(_)
            | Self::Store(_)
            | Self::Item(_)
            | Self::Reader(_)
            | Self::Output(_) => None,
        }
    }
}

/// Returns the code of a failure of the shelf.
fn shelf_code(error: &store::Error) -> Code {
    match error {
        store::Error::BadName { .. } => Code::WrongCall,
        store::Error::Missing { .. } => Code::Nothing,
        store::Error::OtherVersion { .. }
        | store::Error::Damaged { .. }
        | store::Error::Busy { .. }
        | store::Error::Disk { .. } => Code::Disk,
    }
}
