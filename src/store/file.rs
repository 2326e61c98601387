//! The file of one flora: items written one after the other, then a head with their places; read back piece by piece.
//!
//! The first bytes name the format, the last ones the head, so that a file cut short is noticed when it is opened.
//! Every piece carries a check sum. What the items mean is not known here beyond their types.

use std::fs::File;
use std::io::{self, Write};
use std::os::unix::fs::FileExt;
use std::path::Path;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::model::{Flora, Source};
use crate::store::contents::Contents;

/// The first bytes of every flora file; the control characters show when a file was sent through something for text.
const MAGIC: [u8; 8] = *b"ligule\x1a\n";

/// The format that this version writes and reads; raise it whenever a type of the model or of the head changes.
pub(crate) const FORMAT: u32 = 3;

/// Bytes before the first item: the magic and the format.
const HEADER: u64 = 12;

/// Bytes after the head: its offset, its length and its check sum.
const TRAILER: u64 = 8 + 8 + 8;

/// Where an item stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Slot {
    at: u64,
    len: u64,
    check: u64,
}

/// Everything that is read when a flora is opened.
#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct Head {
    /// The table of contents.
    pub(crate) contents: Contents,
    /// The files that the flora was read from.
    pub(crate) sources: Vec<Source>,
    /// Places of the taxa.
    pub(crate) taxa: Vec<Slot>,
    /// Places of the keys.
    pub(crate) keys: Vec<Slot>,
    /// Places of the pieces of matter.
    pub(crate) matter: Vec<Slot>,
    /// Places of the pages.
    pub(crate) pages: Vec<Slot>,
    /// Place of the glossary, which is one item.
    pub(crate) glossary: Slot,
    /// Place of the doubts, which are one item.
    pub(crate) doubts: Slot,
}

/// Why a flora file can't be read.
#[derive(Debug)]
pub(crate) enum Fault {
    /// The system says no.
    Io(io::Error),
    /// It has another format.
    OtherFormat,
    /// Its bytes are not those that were written.
    Damaged(&'static str),
}

impl From<io::Error> for Fault {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::UnexpectedEof => Self::Damaged("it ends too early"),
            _ => Self::Io(error),
        }
    }
}

/// Writes a flora.
pub(crate) fn write(flora: &Flora, out: &mut dyn Write) -> io::Result<()> {
    let mut items = Items { out, at: 0 };
    items.bytes(&MAGIC)?;
    items.bytes(&FORMAT.to_le_bytes())?;
    let head = Head {
        contents: Contents::of(flora),
        sources: flora.sources.clone(),
        taxa: items.all(&flora.taxa)?,
        keys: items.all(&flora.keys)?,
        matter: items.all(&flora.matter)?,
        pages: items.all(&flora.pages)?,
        glossary: items.one(&flora.glossary)?,
        doubts: items.one(&flora.doubts)?,
    };
    let slot = items.one(&head)?;
    for number in [slot.at, slot.len, slot.check] {
        items.bytes(&number.to_le_bytes())?;
    }
    Ok(())
}

/// The file while it is written.
struct Items<'a> {
    out: &'a mut dyn Write,
    at: u64,
}

impl Items<'_> {
    fn bytes(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.out.write_all(bytes)?;
        self.at += bytes.len() as u64;
        Ok(())
    }

    fn one<T: Serialize>(&mut self, item: &T) -> io::Result<Slot> {
        let bytes = postcard::to_stdvec(item).map_err(io::Error::other)?;
        let slot = Slot { at: self.at, len: bytes.len() as u64, check: check(&bytes) };
        self.bytes(&bytes)?;
        Ok(slot)
    }

    fn all<T: Serialize>(&mut self, items: &[T]) -> io::Result<Vec<Slot>> {
        items.iter().map(|item| self.one(item)).collect()
    }
}

/// A flora file that is open for reading.
#[derive(Debug)]
pub(crate) struct Stored {
    file: File,
    size: u64,
}

impl Stored {
    /// Opens a flora file and reads its head.
    pub(crate) fn open(path: &Path) -> Result<(Self, Head), Fault> {
        let file = File::open(path)?;
        let size = file.metadata()?.len();
        let stored = Self { file, size };
        let mut header = [0; HEADER as usize];
        stored.file.read_exact_at(&mut header, 0)?;
        if header[..8] != MAGIC {
            return Err(Fault::Damaged("it does not begin as a flora file"));
        }
        if header[8..] != FORMAT.to_le_bytes() {
            return Err(Fault::OtherFormat);
        }
        let mut trailer = [0; TRAILER as usize];
        let start = size.checked_sub(TRAILER).ok_or(Fault::Damaged("it ends too early"))?;
        stored.file.read_exact_at(&mut trailer, start)?;
        let slot = Slot { at: number(&trailer, 0), len: number(&trailer, 1), check: number(&trailer, 2) };
        let head = stored.item(slot)?;
        Ok((stored, head))
    }

    /// Reads one item.
    pub(crate) fn item<T: DeserializeOwned>(&self, slot: Slot) -> Result<T, Fault> {
        if slot.at.checked_add(slot.len).is_none_or(|end| end > self.size) {
            return Err(Fault::Damaged("a place in it lies outside of it"));
        }
        let mut bytes = vec![0; slot.len as usize];
        self.file.read_exact_at(&mut bytes, slot.at)?;
        if check(&bytes) != slot.check {
            return Err(Fault::Damaged("a check sum does not fit"));
        }
        postcard::from_bytes(&bytes).map_err(|_| Fault::Damaged("an item can't be decoded"))
    }
}

/// Returns the check sum of an item: the first eight bytes of its SHA-256, enough to notice a bad disk.
fn check(bytes: &[u8]) -> u64 {
    number(&Sha256::digest(bytes), 0)
}

/// Returns the number at a place of eight bytes each.
fn number(bytes: &[u8], at: usize) -> u64 {
    bytes[at * 8..].first_chunk().map_or(0, |eight| u64::from_le_bytes(*eight))
}
