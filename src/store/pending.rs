//! A flora on its way to the shelf: written into a new folder beside the old one, and made the one that counts at the end.
//!
//! Until then, or if that never comes, the old flora stays as it is.

use std::fs::{self, File, TryLockError};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use crate::model::{Flora, Source};
use crate::store::error::Error;
use crate::store::file;
use crate::store::row::{self, Counts, KeptSource, RowState, ShelfRow};

/// The file that names the folder that counts.
pub(crate) const NOW: &str = "now";
/// The file that is locked by whoever writes.
const LOCK: &str = "lock";
/// The flora itself.
pub(crate) const FLORA: &str = "flora.ligule";
/// What ingesting told of the book's conventions.
pub(crate) const PROFILE: &str = "profile.txt";
/// The flora as it was read, where amendments changed it.
pub(crate) const AS_READ: &str = "as-read.ligule";
/// The amendments that hold in it, as they were written.
pub(crate) const AMENDED: &str = "amended.toml";
/// The folder of the search index.
pub(crate) const INDEX: &str = "index";
/// The folder of the copies of the sources.
const SOURCES: &str = "sources";

/// Whether the shelf keeps a copy of the source files.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeepSource {
    /// A copy.
    Copy,
    /// Only the path and the hash.
    PathOnly,
}

/// A source file as it was read.
#[derive(Clone, Copy, Debug)]
pub struct SourceBytes<'a> {
    /// Where it was read from; a bare name for one that is built in.
    pub path: &'a Path,
    /// Its bytes.
    pub bytes: &'a [u8],
}

/// A flora that is being put on the shelf.
#[derive(Debug)]
pub struct Pending {
    name: String,
    today: String,
    home: PathBuf,
    folder: PathBuf,
    lock: File,
    finished: bool,
}

impl Pending {
    /// Begins a new numbered folder in the flora's folder `home`.
    pub(crate) fn begin(name: &str, home: PathBuf, today: &str) -> Result<Self, Error> {
        fs::create_dir_all(&home).map_err(Error::disk("make the folder", &home))?;
        let lock = lock(name, &home)?;
        let number = numbered(&home)?.into_iter().map(|(number, _)| number).max().unwrap_or(0) + 1;
        let folder = home.join(number.to_string());
        fs::create_dir(&folder).map_err(Error::disk("make the folder", &folder))?;
        Ok(Self { name: name.to_owned(), today: today.to_owned(), home, folder, lock, finished: false })
    }

    /// Writes the flora, its row and its sources.
    pub fn write(&self, flora: &Flora, sources: &[SourceBytes], keep: KeepSource) -> Result<(), Error> {
        self.write_flora(flora, FLORA)?;
        let kept = (flora.sources.iter().zip(sources).enumerate())
            .map(|(at, (source, read))| self.keep(at + 1, source, *read, keep))
            .collect::<Result<Vec<_>, _>>()?;
        self.write_row(flora, kept)
    }

    /// Writes what ingesting told of the book's conventions.
    pub fn write_profile(&self, profile: &str) -> Result<(), Error> {
        let path = self.folder.join(PROFILE);
        fs::write(&path, profile).map_err(Error::disk("write", &path))
    }

    /// Writes the flora as it was read, and the amendments that made the other one of it.
    pub fn write_as_read(&self, flora: &Flora, amendments: &str) -> Result<(), Error> {
        self.write_flora(flora, AS_READ)?;
        let path = self.folder.join(AMENDED);
        fs::write(&path, amendments).map_err(Error::disk("write", &path))
    }

    /// Writes the flora anew from the one that counts now: with its sources and its profile, which are not read again.
    pub fn write_again(&self, flora: &Flora, now: &Path) -> Result<(), Error> {
        self.write_flora(flora, FLORA)?;
        let before = ShelfRow::read(&self.name, now);
        let kept = before.sources.into_iter().map(|source| self.carry(source, now));
        self.write_row(flora, kept.collect::<Result<Vec<_>, _>>()?)?;
        let profile = now.join(PROFILE);
        let copied = fs::copy(&profile, self.folder.join(PROFILE)).map(|_| ());
        copied
            .or_else(|error| if error.kind() == io::ErrorKind::NotFound { Ok(()) } else { Err(error) })
            .map_err(Error::disk("read", &profile))
    }

    /// Returns the folder for the search index of the new flora.
    pub fn index_dir(&self) -> PathBuf {
        self.folder.join(INDEX)
    }

    /// Makes the new flora the one that counts, once all of it is on the disk, and takes the old one away.
    pub fn finish(mut self) -> Result<(), Error> {
        sync_all(&self.folder).map_err(Error::disk("write", &self.folder))?;
        let beside = self.home.join(format!("{NOW}.new"));
        let number = self.folder.file_name().expect("the folder was named by its number").to_string_lossy();
        let write = |path: &Path| -> io::Result<()> {
            let mut file = File::create(path)?;
            file.write_all(number.as_bytes())?;
            file.sync_all()
        };
        write(&beside).map_err(Error::disk("write", &beside))?;
        let now = self.home.join(NOW);
        fs::rename(&beside, &now).map_err(Error::disk("write", &now))?;
        self.finished = true;
        sync_folder(&self.home).map_err(Error::disk("write", &self.home))?;
        for (_, folder) in numbered(&self.home)? {
            if folder != self.folder {
                // What can't be removed now is removed by the next ingest.
                _ = fs::remove_dir_all(folder);
            }
        }
        Ok(())
    }

    /// Writes a flora into a file of the folder.
    fn write_flora(&self, flora: &Flora, name: &str) -> Result<(), Error> {
        let path = self.folder.join(name);
        let file = File::create(&path).map_err(Error::disk("write", &path))?;
        let mut out = BufWriter::new(file);
        file::write(flora, &mut out).and_then(|()| out.flush()).map_err(Error::disk("write", &path))
    }

    /// Takes a source over from the folder that counts now: a copy there by a second name, else by copying it once more.
    fn carry(&self, source: KeptSource, now: &Path) -> Result<KeptSource, Error> {
        let Ok(inside) = source.path.strip_prefix(now).map(Path::to_owned) else { return Ok(source) };
        let copy = self.folder.join(&inside);
        if let Some(folder) = copy.parent() {
            fs::create_dir_all(folder).map_err(Error::disk("make the folder", folder))?;
        }
        let linked = fs::hard_link(&source.path, &copy);
        linked
            .or_else(|_| fs::copy(&source.path, &copy).map(|_| ()))
            .map_err(Error::disk("copy", &source.path))?;
        Ok(KeptSource { path: inside, ..source })
    }

    /// Keeps a source, as a copy or by its path.
    fn keep(
        &self,
        number: usize,
        source: &Source,
        read: SourceBytes,
        keep: KeepSource,
    ) -> Result<KeptSource, Error> {
        let path = match keep {
            KeepSource::PathOnly => read.path.to_owned(),
            KeepSource::Copy => {
                let inside = Path::new(SOURCES).join(number.to_string());
                let folder = self.folder.join(&inside);
                fs::create_dir_all(&folder).map_err(Error::disk("make the folder", &folder))?;
                let name = read.path.file_name().unwrap_or("flora.pdf".as_ref());
                let copy = folder.join(name);
                fs::write(&copy, read.bytes).map_err(Error::disk("write", &copy))?;
                inside.join(name)
            }
        };
        let Source { file, sha256, pages } = source.clone();
        Ok(KeptSource { file, sha256, pages, path })
    }

    /// Writes the row for the list of floras.
    fn write_row(&self, flora: &Flora, sources: Vec<KeptSource>) -> Result<(), Error> {
        let row = ShelfRow {
            name: self.name.clone(),
            title: flora.title.clone(),
            license: flora.license.clone(),
            pages: flora.pages.len() as u32,
            counts: Counts::of(flora),
            date: self.today.clone(),
            sources,
            format: file::FORMAT,
            state: RowState::Ready,
        };
        let path = self.folder.join(row::FILE);
        let json = serde_json::to_vec_pretty(&row).map_err(io::Error::from);
        json.and_then(|json| fs::write(&path, json)).map_err(Error::disk("write", &path))
    }
}

impl Drop for Pending {
    fn drop(&mut self) {
        if !self.finished {
            // Nothing refers to the folder; if it stays, the next ingest removes it.
            _ = fs::remove_dir_all(&self.folder);
            if !self.home.join(NOW).exists() {
                // There was no flora before; its folder goes too, unless something else lies in it.
                _ = fs::remove_file(self.home.join(LOCK)).and_then(|()| fs::remove_dir(&self.home));
            }
        }
        _ = self.lock.unlock();
    }
}

/// Locks a flora's folder against a second writer.
pub(crate) fn lock(name: &str, home: &Path) -> Result<File, Error> {
    let path = home.join(LOCK);
    let file = File::create(&path).map_err(Error::disk("write", &path))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(Error::Busy { name: name.to_owned() }),
        Err(TryLockError::Error(error)) => Err(Error::disk("lock", &path)(error)),
    }
}

/// Returns the numbered folders of a flora's folder, in the order of their numbers.
fn numbered(home: &Path) -> Result<Vec<(u64, PathBuf)>, Error> {
    let mut folders = Vec::new();
    for entry in fs::read_dir(home).map_err(Error::disk("read", home))? {
        let entry = entry.map_err(Error::disk("read", home))?;
        if let Some(number) = entry.file_name().to_str().and_then(|name| name.parse().ok()) {
            folders.push((number, entry.path()));
        }
    }
    folders.sort();
    Ok(folders)
}

/// Forces all files below a folder, and the folder itself, to the disk.
fn sync_all(folder: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            sync_all(&entry.path())?;
        } else {
            File::open(entry.path())?.sync_all()?;
        }
    }
    sync_folder(folder)
}

/// Forces the names in a folder to the disk.
fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}
