//! Amendments beside a flora: a text that its reader may write by hand, and the flora as it was read before they were
//! applied. What the text says is not known here.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::model::Flora;

use super::book::Book;
use super::error::Error;
use super::pending::{self, Pending};
use super::shelf::{Shelf, may_name, missing};

/// How the name of the file ends.
const ENDING: &str = ".amendments.toml";

impl Shelf {
    /// Returns the file of a flora's amendments; it need not exist, and stays when the flora goes.
    pub fn amendments_path(&self, name: &str) -> PathBuf {
        self.home(name).with_file_name(format!("{name}{ENDING}"))
    }

    /// Returns a flora's amendments as they are written; empty where there are none.
    pub fn amendments(&self, name: &str) -> Result<String, Error> {
        read(&self.amendments_path(name))
    }

    /// Returns the amendments that hold in the flora on the shelf, as they were written when they were applied.
    pub fn amendments_applied(&self, name: &str) -> Result<String, Error> {
        read(&self.folder(name).ok_or_else(|| missing(name))?.join(pending::AMENDED))
    }

    /// Keeps a flora's amendments: when this returns they are on the disk, whole, in place of the ones before.
    pub fn keep_amendments(&self, name: &str, text: &str) -> Result<(), Error> {
        if !may_name(name) {
            return Err(Error::BadName { name: name.to_owned() });
        }
        let path = self.amendments_path(name);
        let beside = path.with_extension("new");
        let folder = path.parent().unwrap_or(&path);
        let write = || -> io::Result<()> {
            fs::create_dir_all(folder)?;
            let mut file = File::create(&beside)?;
            file.write_all(text.as_bytes())?;
            file.sync_all()?;
            fs::rename(&beside, &path)?;
            File::open(folder)?.sync_all()
        };
        write().map_err(Error::disk("write", &path))
    }

    /// Returns a flora as it was read, without amendments.
    pub fn as_read(&self, name: &str) -> Result<Flora, Error> {
        let path = self.folder(name).ok_or_else(|| missing(name))?.join(pending::AS_READ);
        if !path.is_file() {
            return self.open(name)?.whole();
        }
        let damaged = |_| Error::Damaged { path: path.clone(), what: "it can't be opened" };
        Book::open(name, &path).map_err(damaged)?.whole()
    }

    /// Begins to put a flora on the shelf amended: `flora` made of `as_read` by these amendments.
    ///
    /// Sources and profile are those of before; an index is the caller's to make before it finishes.
    pub fn amend(
        &self,
        name: &str,
        (flora, as_read): (&Flora, &Flora),
        amendments: &str,
    ) -> Result<Pending, Error> {
        let (pending, now) = self.begin_again(name)?;
        pending.write_again(flora, &now)?;
        pending.write_as_read(as_read, amendments)?;
        Ok(pending)
    }
}

fn read(path: &Path) -> Result<String, Error> {
    match fs::read_to_string(path) {
        Ok(text) => Ok(text),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(String::new()),
        Err(error) => Err(Error::disk("read", path)(error)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Source;
    use crate::store::{KeepSource, SourceBytes};

    fn flora(title: &str) -> Flora {
        let source = Source { file: "isles.pdf".to_owned(), sha256: "00".to_owned(), pages: 1 };
        Flora { title: title.to_owned(), sources: vec![source], ..Flora::default() }
    }

    #[test]
    fn an_amended_flora_keeps_its_source_its_profile_and_what_was_read() {
        let folder = tempfile::tempdir().unwrap();
        let shelf = Shelf::at(folder.path());
        let read = flora("As read");
        let bytes = SourceBytes { path: Path::new("/books/isles.pdf"), bytes: b"the book" };
        let pending = shelf.begin("isles").unwrap();
        pending.write(&read, &[bytes], KeepSource::Copy).unwrap();
        pending.write_profile("body-size = 10.0").unwrap();
        pending.finish().unwrap();
        assert_eq!(shelf.as_read("isles").unwrap(), read);
        for title in ["Amended", "Amended again"] {
            shelf.amend("isles", (&flora(title), &read), "# words").unwrap().finish().unwrap();
            assert_eq!(shelf.open("isles").unwrap().contents().title, title);
            assert_eq!(shelf.as_read("isles").unwrap(), read);
        }
        assert_eq!(shelf.amendments_applied("isles").unwrap(), "# words");
        assert_eq!(shelf.profile("isles").unwrap(), "body-size = 10.0");
        let kept = &shelf.row("isles").unwrap().sources[0].path;
        assert_eq!(fs::read(kept).unwrap(), b"the book");
    }

    #[test]
    fn amendments_are_replaced_whole_and_stay_when_their_flora_goes() {
        let folder = tempfile::tempdir().unwrap();
        let shelf = Shelf::at(folder.path());
        let bytes = SourceBytes { path: Path::new("/books/isles.pdf"), bytes: b"" };
        shelf.put("isles", &flora("Isles"), &[bytes], KeepSource::PathOnly).unwrap();
        assert_eq!(shelf.amendments("isles").unwrap(), "");
        shelf.keep_amendments("isles", "first").unwrap();
        shelf.keep_amendments("isles", "second").unwrap();
        shelf.remove("isles").unwrap();
        assert_eq!(shelf.amendments("isles").unwrap(), "second");
        assert_eq!(shelf.rows().unwrap(), []);
        assert!(shelf.keep_amendments("../isles", "x").is_err());
    }
}
