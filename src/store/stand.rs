//! Where the reader stood: a short text that is kept after every key press and found again at the next start.
//!
//! It is written beside and renamed, so it is whole or the one before; it is not forced to the disk, since that would
//! make every press wait. What it says is the reader's own business.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::store::error::Error;

/// The file below the root.
const FILE: &str = "stand.json";

/// Keeps the text in place of the last one.
pub fn keep(root: &Path, json: &str) -> Result<(), Error> {
    fs::create_dir_all(root).map_err(Error::disk("make the folder", root))?;
    let beside = root.join(format!("{FILE}.{}.new", std::process::id()));
    fs::write(&beside, json).map_err(Error::disk("write", &beside))?;
    let path = root.join(FILE);
    fs::rename(&beside, &path).map_err(Error::disk("write", &path))
}

/// Returns the text kept last, if there is one.
pub fn last(root: &Path) -> Result<Option<String>, Error> {
    let path = root.join(FILE);
    match fs::read_to_string(&path) {
        Ok(json) => Ok(Some(json)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) if error.kind() == io::ErrorKind::InvalidData => Ok(Some(String::new())),
        Err(error) => Err(Error::disk("read", &path)(error)),
    }
}

/// Moves the text kept last aside, under a name that nothing else has, and returns where it lies.
pub fn put_aside(root: &Path) -> Result<PathBuf, Error> {
    let names = (1..).map(|number| root.join(format!("stand.damaged-{number}.json")));
    let path = root.join(FILE);
    let free = names.into_iter().find(|name| !name.exists()).unwrap_or_else(|| path.clone());
    fs::rename(&path, &free).map_err(Error::disk("put aside", &path))?;
    Ok(free)
}
