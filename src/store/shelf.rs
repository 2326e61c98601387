//! The shelf: which floras there are, opening one, putting one there and taking one away.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use unicode_normalization::UnicodeNormalization;

use crate::model::Flora;
use crate::store::book::Book;
use crate::store::error::Error;
use crate::store::file::Fault;
use crate::store::pending::{self, KeepSource, Pending, SourceBytes};
use crate::store::row::ShelfRow;

/// The folder of the floras below the root.
const FLORAS: &str = "floras";

/// How the folder of a dropped flora begins until it is gone; no flora can have such a name.
const DROPPED: &str = ".dropped-";

/// Bytes that a flora's name may have, well below what file systems allow.
const LONGEST_NAME: usize = 60;

/// Bytes of a name that is made from a file's, so that a number can be put behind it.
const LONGEST_SLUG: usize = 50;

/// All floras below one folder.
#[derive(Clone, Debug)]
pub struct Shelf {
    root: PathBuf,
    today: String,
}

impl Shelf {
    /// Returns the shelf below `root`, which need not exist yet.
    pub fn at(root: &Path) -> Self {
        Self { root: root.to_owned(), today: String::new() }
    }

    /// Returns the same shelf with the day, as `2026-05-17`, that is noted with what is put there.
    #[must_use]
    pub fn on(mut self, today: &str) -> Self {
        today.clone_into(&mut self.today);
        self
    }

    /// Returns the folder that holds the shelf.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// Lists the floras by name, also those that can't be opened.
    pub fn rows(&self) -> Result<Vec<ShelfRow>, Error> {
        let floras = self.root.join(FLORAS);
        let entries = match fs::read_dir(&floras) {
            Ok(entries) => entries,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(Error::disk("read", &floras)(error)),
        };
        let mut rows = Vec::new();
        for entry in entries {
            let name = entry.map_err(Error::disk("read", &floras))?.file_name();
            if let Some(name) = name.to_str()
                && let Some(folder) = self.folder(name)
            {
                rows.push(ShelfRow::read(name, &folder));
            }
        }
        rows.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(rows)
    }

    /// Returns the row of one flora.
    pub fn row(&self, name: &str) -> Result<ShelfRow, Error> {
        let folder = self.folder(name).ok_or_else(|| missing(name))?;
        Ok(ShelfRow::read(name, &folder))
    }

    /// Opens a flora; only its contents are read at once.
    pub fn open(&self, name: &str) -> Result<Book, Error> {
        let folder = self.folder(name).ok_or_else(|| missing(name))?;
        let path = folder.join(pending::FLORA);
        Book::open(name, &path).map_err(|fault| match fault {
            Fault::Io(source) if source.kind() == io::ErrorKind::NotFound => {
                Error::Damaged { path, what: "it is not there" }
            }
            Fault::Io(source) => Error::Disk { doing: "read", path, source },
            Fault::Damaged(what) => Error::Damaged { path, what },
            Fault::OtherFormat => {
                Error::OtherVersion { name: name.to_owned(), sources: ShelfRow::read(name, &folder).paths() }
            }
        })
    }

    /// Puts a flora on the shelf in one go, in place of one that has its name.
    pub fn put(
        &self,
        name: &str,
        flora: &Flora,
        sources: &[SourceBytes],
        keep: KeepSource,
    ) -> Result<(), Error> {
        let pending = self.begin(name)?;
        pending.write(flora, sources, keep)?;
        pending.finish()
    }

    /// Begins to put a flora on the shelf, for a caller who adds a profile and an index before it counts.
    pub fn begin(&self, name: &str) -> Result<Pending, Error> {
        if !may_name(name) {
            return Err(Error::BadName { name: name.to_owned() });
        }
        self.sweep();
        Pending::begin(name, self.home(name), &self.today)
    }

    /// Begins to put a flora of the shelf there anew without reading its book; also gives the folder that counts now.
    pub(crate) fn begin_again(&self, name: &str) -> Result<(Pending, PathBuf), Error> {
        let now = self.folder(name).ok_or_else(|| missing(name))?;
        Ok((Pending::begin(name, self.home(name), &self.today)?, now))
    }

    /// Takes a flora from the shelf with everything that lies in its folder.
    pub fn remove(&self, name: &str) -> Result<(), Error> {
        self.folder(name).ok_or_else(|| missing(name))?;
        let home = self.home(name);
        let lock = pending::lock(name, &home)?;
        let gone = self.root.join(FLORAS).join(format!("{DROPPED}{}-{name}", std::process::id()));
        fs::rename(&home, &gone).map_err(Error::disk("remove", &home))?;
        drop(lock);
        fs::remove_dir_all(&gone).map_err(Error::disk("remove", &gone))
    }

    /// Returns the folder of a flora's search index; it need not exist.
    pub fn index_dir(&self, name: &str) -> PathBuf {
        self.folder(name).unwrap_or_else(|| self.home(name)).join(pending::INDEX)
    }

    /// Returns what ingesting told of a book's conventions; empty where it told nothing.
    pub fn profile(&self, name: &str) -> Result<String, Error> {
        let path = self.folder(name).ok_or_else(|| missing(name))?.join(pending::PROFILE);
        match fs::read_to_string(&path) {
            Ok(profile) => Ok(profile),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(String::new()),
            Err(error) => Err(Error::disk("read", &path)(error)),
        }
    }

    /// Returns a flora's folder, whether it exists or not.
    pub(crate) fn home(&self, name: &str) -> PathBuf {
        self.root.join(FLORAS).join(name)
    }

    /// Returns the numbered folder of a flora that counts, if the shelf has the flora.
    pub(crate) fn folder(&self, name: &str) -> Option<PathBuf> {
        if !may_name(name) {
            return None;
        }
        let home = self.home(name);
        let number = fs::read_to_string(home.join(pending::NOW)).ok()?;
        // A damaged `now` must not lead out of the folder.
        let number: u64 = number.trim().parse().unwrap_or(0);
        Some(home.join(number.to_string()))
    }

    /// Removes what an interrupted [`Shelf::remove`] left.
    fn sweep(&self) {
        let Ok(entries) = fs::read_dir(self.root.join(FLORAS)) else { return };
        for entry in entries.flatten() {
            if entry.file_name().to_string_lossy().starts_with(DROPPED) {
                _ = fs::remove_dir_all(entry.path());
            }
        }
    }
}

/// Returns a name for a flora made from the name of its file: small letters without accents, digits and hyphens.
pub fn slug(stem: &str) -> String {
    let mut name = String::new();
    for letter in stem.nfd().flat_map(char::to_lowercase) {
        if letter.is_ascii_alphanumeric() {
            name.push(letter);
        } else if !unicode_normalization::char::is_combining_mark(letter)
            && !name.is_empty()
            && !name.ends_with('-')
        {
            name.push('-');
        }
    }
    name.truncate(LONGEST_SLUG);
    let name = name.trim_end_matches('-');
    if name.is_empty() { "flora".to_owned() } else { name.to_owned() }
}

/// Says whether a flora may have this name.
pub(crate) fn may_name(name: &str) -> bool {
    let fits = |letter: u8| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == b'-';
    !name.is_empty() && name.len() <= LONGEST_NAME && !name.starts_with('-') && name.bytes().all(fits)
}

/// Returns the error for a flora that is not there.
pub(crate) fn missing(name: &str) -> Error {
    Error::Missing { name: name.to_owned() }
}
