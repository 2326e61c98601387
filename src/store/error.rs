//! What can go wrong on the shelf: one variant for each thing that happened, with the flora or path it happened to.

use std::io;
use std::path::{Path, PathBuf};

/// A fault of the shelf or of the disk under it.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The shelf has no flora of that name.
    #[error("the shelf has no flora named `{name}`")]
    Missing {
        /// The name asked for.
        name: String,
    },
    /// A name that can't be the name of a flora.
    #[error(
        "`{name}` can't name a flora: use small letters, digits and hyphens, 60 at most, a letter or digit first"
    )]
    BadName {
        /// The name asked for.
        name: String,
    },
    /// The flora's file has another format than this version writes.
    #[error("flora `{name}` was made by another version of ligule; ingest {} again", list(sources))]
    OtherVersion {
        /// The flora.
        name: String,
        /// The kept source files, or their paths where no copy was kept.
        sources: Vec<PathBuf>,
    },
    /// A file of the shelf is not as it was written.
    #[error("the file {} is damaged ({what}); ingest the book again", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What does not fit.
        what: &'static str,
    },
    /// Another ligule writes the same flora at this moment.
    #[error("another ligule is writing flora `{name}` at this moment; wait until it is done")]
    Busy {
        /// The flora.
        name: String,
    },
    /// The disk refused.
    #[error("can't {doing} {}: {source}", path.display())]
    Disk {
        /// What was tried, as a verb (`write`).
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

impl Error {
    /// Returns a closure that makes a disk error out of what the system says, for `map_err`.
    pub(crate) fn disk(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        move |source| Self::Disk { doing, path, source }
    }
}

/// Returns the paths as a list for a sentence.
fn list(sources: &[PathBuf]) -> String {
    if sources.is_empty() {
        return "its PDF".to_owned();
    }
    sources.iter().map(|path| path.display().to_string()).collect::<Vec<_>>().join(" ")
}
