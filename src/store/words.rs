//! The reader's own glossary: the text of a file that they may write, if it is there. What it says is not read here.

use std::path::{Path, PathBuf};

use crate::store::error::Error;
use crate::store::own_file;

/// The file below the root.
const FILE: &str = "glossary.toml";

/// Returns where the file is, or would be.
pub fn path(root: &Path) -> PathBuf {
    root.join(FILE)
}

/// Returns the text of the file; what is no UTF-8 in it comes out as replacement signs.
pub fn text(root: &Path) -> Result<Option<String>, Error> {
    own_file::text(&path(root))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_need_not_be_there() {
        let home = tempfile::tempdir().expect("the system has a folder for temporary files");
        assert_eq!(text(home.path()).expect("the folder can be read"), None);
        std::fs::write(path(home.path()), "# mine\n").expect("a temporary file can be written");
        assert_eq!(text(home.path()).expect("the file can be read").as_deref(), Some("# mine\n"));
    }
}
