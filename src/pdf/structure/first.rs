//! The first back end: lopdf reads the whole structure at once, on all cores.
//!
//! A missing heading is put before a copy, a broken table of objects is built anew; the data of pictures are let go.

use std::collections::BTreeSet;
use std::sync::Arc;

use lopdf::{LoadOptions, Object, ObjectId};

use crate::pdf::Error;
use crate::pdf::objects::{MAX_STREAM, array, dictionary, is_picture, number, resolve};
use crate::pdf::structure::{BackEnd, File, HEADING_REACH, Wanted, damaged, place_of};

/// Bytes that one stream of packed objects may unpack to.
const MAX_PACKED: usize = 4 * MAX_STREAM;
/// Nodes of a tree of pages at most, against trees made to waste time.
const MAX_NODES: usize = 1 << 20;

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
    let mut file = lopdf::Document::load_mem_with_options(bytes, options)?;
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

/// Leaves out what no text is read from: the data of pictures, and the tree of tags.
///
/// The object of a stream is changed in place and its return value ignored; that of other objects may be stored.
fn keep_text(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    match object {
        Object::Stream(stream) => {
            if is_picture(&stream.dict) {
                stream.content = Vec::new();
            }
            Some((id, Object::Null))
        }
        Object::Dictionary(dict) if dict.has_type(b"StructElem") => None,
        other => Some((id, other.clone())),
    }
}
