//! The first back end: lopdf reads the whole structure at once, on all cores.
//!
//! A missing heading is put before a copy, a broken table of objects is built anew; the data of pictures are let go.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use lopdf::{Dictionary, LoadOptions, Object, ObjectId, Stream};

use crate::pdf::Error;
use crate::pdf::inflate::inflate;
use crate::pdf::objects::{array, dictionary, is_picture, number, resolve};
use crate::pdf::structure::{BackEnd, File, HEADING_REACH, Wanted, damaged, place_of};

/// Bytes that a stream of packed objects, or of their table, may unpack to: writers pack some hundred objects into one.
const MAX_PACKED: usize = 16 << 20;
/// Parts that the objects of one such stream may have: a number of two bytes becomes one of a hundred.
const MAX_PARTS: usize = 1 << 20;
/// Parts that one object may have: as many as a list of the widths of a font with all glyphs.
const MAX_PARTS_OF_ONE: usize = 1 << 18;
/// Parts that all objects of a file may have, and how many more for each byte of the file.
const PARTS_OF_ALL: (usize, usize) = (1 << 21, 2);
/// Nodes of a tree of pages at most, against trees made to waste time.
const MAX_NODES: usize = 1 << 20;

/// How many parts the objects of the file that is being opened may still have: the filter that lopdf calls is a plain
/// function and can be told nothing else. [`OPENING`] is held as long as it counts.
static PARTS_LEFT: AtomicUsize = AtomicUsize::new(0);
static OPENING: Mutex<()> = Mutex::new(());

/// Reads with lopdf.
pub(super) struct Lopdf;

impl BackEnd for Lopdf {
    fn open(&self, bytes: &Arc<Vec<u8>>, _: Wanted) -> Result<File, Error> {
        let objects = load(bytes)?;
        let (mut pages, said) = tree(&objects);
        if pages.is_empty() && objects.is_encrypted() {
            return Err(Error::NeedsPassword);
        }
        if pages.is_empty() {
            pages = loose_pages(&objects);
        }
        if pages.is_empty() {
            return Err(Error::NoPages);
        }
        Ok(File { objects, pages, said })
    }
}

/// Returns the pages in the order of the tree, and how many it says there are. Pages whose objects are missing are among
/// them where the tree's count tells that they are pages.
fn tree(file: &lopdf::Document) -> (Vec<ObjectId>, usize) {
    let Some(root) = file.catalog().ok().and_then(|catalog| dictionary(file, catalog, b"Pages")) else {
        return (Vec::new(), 0);
    };
    let said = number(file, root, b"Count").unwrap_or(0.0) as usize;
    let (mut pages, mut found, mut seen) = (Vec::new(), 0, BTreeSet::new());
    let mut left: Vec<&Object> = array(file, root, b"Kids").unwrap_or_default().iter().rev().collect();
    while let Some(kid) = left.pop() {
        let Ok(id) = kid.as_reference() else { continue };
        if !seen.insert(id) || seen.len() > MAX_NODES {
            continue;
        }
        match resolve(file, kid) {
            Object::Dictionary(node) => match array(file, node, b"Kids") {
                Some(kids) if !node.has_type(b"Page") => left.extend(kids.iter().rev()),
                Some(_) | None => {
                    found += 1;
                    pages.push((id, true));
                }
            },
            _ => pages.push((id, false)),
        }
    }
    let missing_are_pages = pages.len() <= said;
    pages.retain(|(_, is_there)| *is_there || missing_are_pages && found > 0);
    (pages.into_iter().map(|(id, _)| id).collect(), said)
}

/// Returns all pages in the order of their numbers, for a file whose tree of pages leads to none.
fn loose_pages(file: &lopdf::Document) -> Vec<ObjectId> {
    let is_page = |object: &Object| matches!(object, Object::Dictionary(dict) if dict.has_type(b"Page"));
    file.objects.iter().filter(|(_, object)| is_page(object)).map(|(id, _)| *id).collect()
}

/// Loads the structure; a missing heading is put before a copy, a broken table of objects is built anew.
fn load(bytes: &[u8]) -> Result<lopdf::Document, Error> {
    let first = load_with(bytes, false);
    let second = match first {
        Ok(file) if usable(&file) => return Ok(file),
        Err(lopdf::Error::InvalidPassword | lopdf::Error::Decryption(_)) => return Err(Error::NeedsPassword),
        first if bytes.starts_with(b"%PDF-") => (first, load_with(bytes, true)),
        first => {
            let start = bytes.windows(5).take(HEADING_REACH).position(|word| word == b"%PDF-");
            let mended = match start {
                Some(start) => bytes[start..].to_vec(),
                None => [b"%PDF-1.4\n", bytes].concat(),
            };
            let again = load_with(&mended, false);
            (first, if again.as_ref().is_ok_and(usable) { again } else { load_with(&mended, true) })
        }
    };
    match second {
        (_, Ok(file)) if usable(&file) => Ok(file),
        (Ok(file), _) | (_, Ok(file)) => Ok(file),
        (Err(error), _) => Err(damaged(&error.to_string())),
    }
}

fn usable(file: &lopdf::Document) -> bool {
    file.is_encrypted() || file.page_iter().next().is_some()
}

fn load_with(bytes: &[u8], rebuild: bool) -> Result<lopdf::Document, lopdf::Error> {
    let options = LoadOptions {
        filter: Some(keep_text),
        force_reconstruct: rebuild,
        max_decompressed_size: Some(MAX_PACKED),
        ..LoadOptions::default()
    };
    let mut file = {
        let _opening = OPENING.lock().unwrap_or_else(PoisonError::into_inner);
        let (least, by_byte) = PARTS_OF_ALL;
        PARTS_LEFT.store(least + by_byte * bytes.len(), Ordering::Relaxed);
        lopdf::Document::load_mem_with_options(bytes, options)?
    };
    fill_streams(&mut file, bytes);
    Ok(file)
}

/// Fills the streams that don't say how long they are: each goes on to the word that ends streams.
fn fill_streams(file: &mut lopdf::Document, bytes: &[u8]) {
    /// Bytes looked through in all, as a multiple of the file's length, against files made to waste time.
    const MAX_LOOKED: usize = 4;
    let mut left = bytes.len().saturating_mul(MAX_LOOKED);
    for object in file.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        let Some(start) = stream.start_position.filter(|_| stream.content.is_empty()) else { continue };
        let Some(rest) = bytes
            .get(start..)
            .filter(|_| !is_picture(&stream.dict) && bytes[..start].trim_ascii_end().ends_with(b"stream"))
        else {
            continue;
        };
        let rest = &rest[..rest.len().min(left)];
        let length = place_of(rest, b"endstream");
        left -= length.unwrap_or(rest.len());
        if let Some(length) = length {
            stream.set_content(rest[..length].to_vec());
        }
    }
}

/// Leaves out what no text is read from: the data of pictures, the tree of tags, links; and what is made to exhaust memory.
///
/// The object of a stream is changed in place and its return value ignored; that of other objects may be stored.
fn keep_text(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    match object {
        Object::Stream(stream) => {
            if is_picture(&stream.dict) {
                stream.content = Vec::new();
            } else if stream.dict.has_type(b"ObjStm") && !unpack_objects(stream) {
                return None;
            }
            Some((id, Object::Null))
        }
        Object::Dictionary(dict) if dict.has_type(b"StructElem") || is_link(dict) => None,
        other => {
            let mut left = MAX_PARTS_OF_ONE;
            count_parts(other, &mut left);
            let parts = MAX_PARTS_OF_ONE - left;
            let counted =
                PARTS_LEFT.fetch_update(Ordering::Relaxed, Ordering::Relaxed, |all| all.checked_sub(parts));
            (left > 0 && counted.is_ok()).then(|| (id, other.clone()))
        }
    }
}

fn is_link(dict: &Dictionary) -> bool {
    matches!(dict.get(b"Subtype"), Ok(Object::Name(kind)) if kind == b"Link")
}

/// Unpacks a stream of packed objects in its place, and tells whether reading them would not exhaust memory.
fn unpack_objects(stream: &mut Stream) -> bool {
    let mut plain = Vec::new();
    let whole = match stream.filters().as_deref() {
        Ok([b"FlateDecode"]) if !stream.dict.has(b"DecodeParms") => {
            inflate(&stream.content, MAX_PACKED, &mut plain);
            plain.len() < MAX_PACKED
        }
        _ => stream.get_plain_content_with_limit(MAX_PACKED).map(|data| plain = data).is_ok(),
    };
    let opens =
        |byte: &&u8| matches!(byte, b' ' | b'\n' | b'\r' | b'\t' | 0 | 12 | b'[' | b'(' | b'<' | b'/');
    let fits = plain.len() <= MAX_PARTS || plain.iter().filter(opens).count() <= MAX_PARTS;
    stream.dict.remove(b"Filter");
    stream.dict.remove(b"DecodeParms");
    stream.set_content(plain);
    whole && fits
}

/// Counts an object and what it holds down from a number, until that is used up.
fn count_parts(object: &Object, left: &mut usize) {
    *left = left.saturating_sub(1);
    let mut each = |object: &Object| {
        if *left > 0 {
            count_parts(object, left);
        }
    };
    match object {
        Object::Array(objects) => objects.iter().for_each(&mut each),
        Object::Dictionary(dict) => dict.iter().for_each(|(_, object)| each(object)),
        _ => {}
    }
}
