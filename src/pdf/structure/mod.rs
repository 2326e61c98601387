//! A file's bytes come in; its objects and its pages in order go out, from one of two back ends.
//!
//! Both give the same kind of objects, so that whoever reads contents and fonts need not know which one was asked.

mod first;
mod second;
mod swelling;

use std::sync::Arc;

use lopdf::{Document, ObjectId};

use crate::pdf::Error;

/// Stack of the thread that reads the file's structure, in bytes: nested objects are read by recursion.
const STACK: usize = 64 << 20;
/// Bytes at the start of a file within which its heading must stand.
pub(super) const HEADING_REACH: usize = 1024;

/// The objects of a file.
pub(super) struct File {
    /// The objects, unlocked, by their numbers.
    pub(super) objects: Document,
    /// The pages in order; objects that are missing may be among them.
    pub(super) pages: Vec<ObjectId>,
    /// How many pages the file says that it has.
    pub(super) said: usize,
}

/// Which pages are asked for.
pub(super) type Wanted<'a> = &'a (dyn Fn(ObjectId) -> bool + Sync);

/// What reads a file's structure: its table of objects, its packed objects, its lock, its tree of pages.
pub(super) trait BackEnd: Sync {
    /// Opens a file; what belongs only to pages that are not wanted may be left out, the pages themselves may not.
    fn open(&self, bytes: &Arc<Vec<u8>>, wanted: Wanted) -> Result<File, Error>;
}

/// The quick one, asked before the other.
const FIRST: &dyn BackEnd = &first::Lopdf;
/// The sturdy one, asked where the first fails.
const SECOND: &dyn BackEnd = &second::Hayro;

/// Opens a file with the back end that can; tells whether it is worth asking the second one for single pages.
pub(super) fn open(bytes: &Arc<Vec<u8>>) -> Result<(File, bool), Error> {
    let first = open_with(FIRST, bytes, &|_| true);
    if first.as_ref().is_ok_and(|file| file.pages.len() >= file.said) {
        return first.map(|file| (file, true));
    }
    match (first, open_with(SECOND, bytes, &|_| true)) {
        (Ok(first), Ok(second)) if second.pages.len() > first.pages.len() => Ok((second, false)),
        (Ok(first), second) => Ok((first, second.is_ok())),
        (Err(_), Ok(second)) => Ok((second, false)),
        (Err(error), Err(_)) => Err(error),
    }
}

/// Opens a file once more, with the second back end, for some of its pages; nothing where it can't.
pub(super) fn open_again(bytes: &Arc<Vec<u8>>, wanted: Wanted) -> Option<File> {
    open_with(SECOND, bytes, wanted).ok()
}

/// Opens a file in a thread of its own: what breaks there is an error, whatever it is.
fn open_with(back_end: &dyn BackEnd, bytes: &Arc<Vec<u8>>, wanted: Wanted) -> Result<File, Error> {
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new()
            .stack_size(STACK)
            .spawn_scoped(scope, || back_end.open(bytes, wanted))
            .map_err(|error| damaged(&error.to_string()))?;
        thread.join().unwrap_or_else(|_| Err(damaged("its structure can't be followed")))
    })
}

fn damaged(what: &str) -> Error {
    Error::Damaged { what: what.to_lowercase() }
}

/// Returns where a word stands first.
pub(super) fn place_of(bytes: &[u8], word: &[u8]) -> Option<usize> {
    let (first, rest) = word.split_first()?;
    let mut from = 0;
    loop {
        let at = from + bytes.get(from..)?.iter().position(|byte| byte == first)?;
        if bytes[at + 1..].starts_with(rest) {
            return Some(at);
        }
        from = at + 1;
    }
}

#[cfg(test)]
mod tests;
