//! The reader's own key map: the text of `keys.toml` below the root, if there is one. What it says is the reader's business.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::store::error::Error;

/// The file below the root.
const FILE: &str = "keys.toml";

/// Returns the file with its text, if there is one.
pub fn own(root: &Path) -> Result<Option<(PathBuf, String)>, Error> {
    let path = root.join(FILE);
    match fs::read(&path) {
        Ok(bytes) => Ok(Some((path, String::from_utf8_lossy(&bytes).into_owned()))),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Error::disk("read", &path)(error)),
    }
}
