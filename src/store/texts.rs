//! Texts that the reader has written out: a name and a text in, the path of a new file out. No file is ever overwritten.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::store::error::Error;

/// The folder below the root.
const FOLDER: &str = "texts";

/// Keeps a text in a file of that name, or of a numbered one where there is such a file already.
pub fn keep(root: &Path, name: &str, text: &str) -> Result<PathBuf, Error> {
    let folder = root.join(FOLDER);
    fs::create_dir_all(&folder).map_err(Error::disk("make the folder", &folder))?;
    let name = if name.is_empty() { "text" } else { name };
    for number in 1_u32.. {
        let name = if number == 1 { format!("{name}.txt") } else { format!("{name}-{number}.txt") };
        let path = folder.join(name);
        match OpenOptions::new().write(true).create_new(true).open(&path) {
            Ok(mut file) => {
                file.write_all(text.as_bytes()).map_err(Error::disk("write", &path))?;
                return Ok(path);
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(Error::disk("write", &path)(error)),
        }
    }
    unreachable!("a folder holds fewer files than there are numbers")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_never_takes_the_place_of_another() {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let first = keep(folder.path(), "silene", "one").expect("a file");
        let second = keep(folder.path(), "silene", "two").expect("a file");
        assert_eq!(fs::read_to_string(first).expect("the first"), "one");
        assert_eq!(fs::read_to_string(&second).expect("the second"), "two");
        assert!(second.ends_with("texts/silene-2.txt"), "{}", second.display());
    }
}
