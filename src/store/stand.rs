//! Where the reader stood: a short text that is kept after every key press and found again at the next start.
//!
//! It is written beside and renamed, so it is whole or the one before; it is not forced to the disk, since that would
//! make every press wait. Readers that run at once each have a seat with a file of its own, so none overwrites another's.
//! What the text says, and how two of them are joined, is the reader's own business.

use std::cell::Cell;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use crate::store::error::Error;

/// The file below the root.
const FILE: &str = "stand.json";

/// Seats that are tried; more readers than this at once share the last one.
const MOST_SEATS: u32 = 64;

/// The seat of one running reader. The first reader has the usual file, each further one a file beside it.
#[derive(Debug)]
pub struct Seat {
    root: PathBuf,
    number: u32,
    /// What was kept when it was taken.
    begun: Option<String>,
    /// Whether what was kept then was written down beside its own file.
    noted: Cell<bool>,
    /// Held while the reader runs; the system lets go of it however the reader ends.
    _lock: Option<File>,
}

/// What a reader left that ran beside the first one.
#[derive(Debug)]
pub struct Beside {
    /// What was kept when it began, if anything was.
    pub begun: Option<String>,
    /// What it kept last.
    pub kept: String,
    files: [PathBuf; 2],
    _lock: Option<File>,
}

impl Seat {
    /// Takes the first seat that no running reader has.
    pub fn take(root: &Path) -> Result<Self, Error> {
        fs::create_dir_all(root).map_err(Error::disk("make the folder", root))?;
        let begun = last(root)?;
        for number in 1..=MOST_SEATS {
            // A file that waits to be joined is not written over.
            if number > 1 && own_file(root, number).exists() {
                continue;
            }
            let held = match lock(root, number) {
                Lock::Held(file) => Some(file),
                Lock::Unknown => None,
                Lock::Taken => continue,
            };
            let noted = Cell::new(number == 1);
            return Ok(Self { root: root.to_owned(), number, begun, noted, _lock: held });
        }
        Ok(Self { root: root.to_owned(), number: MOST_SEATS, begun, noted: Cell::new(false), _lock: None })
    }

    /// Says whether no other reader ran when it was taken.
    pub fn is_first(&self) -> bool {
        self.number == 1
    }

    /// Returns the folder in which all is kept.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// Returns the text that was kept last when the seat was taken.
    pub fn begun(&self) -> Option<&str> {
        self.begun.as_deref()
    }

    /// Keeps the text in place of the last one of this seat.
    pub fn keep(&self, json: &str) -> Result<(), Error> {
        if !self.noted.get() {
            let begun = self.begun.as_deref().unwrap_or_default();
            write(&begun_file(&self.root, self.number), begun)?;
            self.noted.set(true);
        }
        write(&own_file(&self.root, self.number), json)
    }

    /// Returns what readers beside this one left that run no more, the oldest seat first; nothing but for the first seat.
    pub fn beside(&self) -> Vec<Beside> {
        let numbers = (2..=MOST_SEATS).filter(|_| self.is_first());
        numbers.filter_map(|number| self.left(number)).collect()
    }

    /// Forgets what a reader beside this one left, once it is kept elsewhere.
    pub fn forget(&self, beside: &Beside) {
        for file in &beside.files {
            // What stays is only joined once more, and found to be known already.
            _ = fs::remove_file(file);
        }
    }

    /// Moves the text of this seat aside, under a name that nothing else has, and returns where it lies.
    pub fn put_aside(&self) -> Result<PathBuf, Error> {
        let names = (1..).map(|number| self.root.join(format!("stand.damaged-{number}.json")));
        let path = own_file(&self.root, self.number);
        let free = names.into_iter().find(|name| !name.exists()).unwrap_or_else(|| path.clone());
        fs::rename(&path, &free).map_err(Error::disk("put aside", &path))?;
        Ok(free)
    }

    fn left(&self, number: u32) -> Option<Beside> {
        let files = [own_file(&self.root, number), begun_file(&self.root, number)];
        if !files[0].exists() {
            return None;
        }
        let held = match lock(&self.root, number) {
            Lock::Held(file) => Some(file),
            Lock::Unknown => None,
            Lock::Taken => return None,
        };
        let kept = fs::read_to_string(&files[0]).ok()?;
        let begun = fs::read_to_string(&files[1]).ok().filter(|begun| !begun.is_empty());
        Some(Beside { begun, kept, files, _lock: held })
    }
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

/// Whether a seat could be locked.
enum Lock {
    /// It is locked as long as this file is open.
    Held(File),
    /// The disk knows no locks; the seat is had without one.
    Unknown,
    /// A running reader has it.
    Taken,
}

fn lock(root: &Path, number: u32) -> Lock {
    let path = root.join(format!("stand.{number}.lock"));
    let Ok(file) = File::options().create(true).truncate(false).write(true).open(path) else {
        return Lock::Unknown;
    };
    match file.try_lock() {
        Ok(()) => Lock::Held(file),
        Err(TryLockError::WouldBlock) => Lock::Taken,
        Err(TryLockError::Error(_)) => Lock::Unknown,
    }
}

fn own_file(root: &Path, number: u32) -> PathBuf {
    if number == 1 { root.join(FILE) } else { root.join(format!("stand.{number}.json")) }
}

fn begun_file(root: &Path, number: u32) -> PathBuf {
    root.join(format!("stand.{number}.begun.json"))
}

fn write(path: &Path, json: &str) -> Result<(), Error> {
    let beside = path.with_extension(format!("json.{}.new", std::process::id()));
    fs::write(&beside, json).map_err(Error::disk("write", &beside))?;
    fs::rename(&beside, path).map_err(Error::disk("write", path))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn home() -> tempfile::TempDir {
        tempfile::tempdir().expect("the system has a folder for temporary files")
    }

    #[test]
    fn the_last_text_is_found_again() {
        let home = home();
        let root = home.path().join("new");
        let seat = Seat::take(&root).expect("a folder can be made");
        assert_eq!(seat.begun(), None);
        seat.keep("{\"at\": 1}").expect("the disk takes it");
        seat.keep("{\"at\": 2}").expect("the disk takes it");
        assert_eq!(last(&root).expect("the folder can be read").as_deref(), Some("{\"at\": 2}"));
    }

    #[test]
    fn two_readers_at_once_write_two_files_and_the_next_first_one_finds_both() {
        let home = home();
        let first = Seat::take(home.path()).expect("the first");
        first.keep("old").expect("the disk takes it");
        let second = Seat::take(home.path()).expect("the second");
        assert_eq!((first.is_first(), second.is_first(), second.begun()), (true, false, Some("old")));
        second.keep("beside").expect("the disk takes it");
        first.keep("new").expect("the disk takes it");
        assert!(first.beside().is_empty(), "the second still runs");
        drop(second);
        let left = first.beside();
        let found: Vec<_> = left.iter().map(|one| (one.begun.as_deref(), one.kept.as_str())).collect();
        assert_eq!(found, [(Some("old"), "beside")]);
        for one in &left {
            first.forget(one);
        }
        drop(left);
        assert!(first.beside().is_empty());
    }

    #[test]
    fn what_waits_to_be_joined_is_not_written_over() {
        let home = home();
        let first = Seat::take(home.path()).expect("the first");
        let second = Seat::take(home.path()).expect("the second");
        second.keep("beside").expect("the disk takes it");
        drop(second);
        assert_eq!(first.beside().first().map(|one| one.begun.as_deref()), Some(None));
        let third = Seat::take(home.path()).expect("the third");
        third.keep("beside as well").expect("the disk takes it");
        drop(third);
        let left: Vec<String> = first.beside().into_iter().map(|one| one.kept).collect();
        assert_eq!(left, ["beside", "beside as well"]);
    }
}
