//! The reader's own key map: the text of `keys.toml` below the root, if there is one. What it says is the reader's business.

use std::path::{Path, PathBuf};

use crate::store::error::Error;
use crate::store::own_file;

/// The file below the root.
const FILE: &str = "keys.toml";

/// Returns the file with its text, if there is one.
pub fn own(root: &Path) -> Result<Option<(PathBuf, String)>, Error> {
    let path = root.join(FILE);
    Ok(own_file::text(&path)?.map(|text| (path, text)))
}
