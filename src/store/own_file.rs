//! Files that the reader may write and that need not be there: a path in, the text out. What it says is not known here.

use std::fs;
use std::io;
use std::path::Path;

use crate::store::error::Error;

/// Returns the text of a file, if it is there; what is no UTF-8 in it comes out as replacement signs.
pub(crate) fn text(path: &Path) -> Result<Option<String>, Error> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(String::from_utf8_lossy(&bytes).into_owned())),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Error::disk("read", path)(error)),
    }
}
