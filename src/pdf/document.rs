//! A file's bytes come in, its pages with their glyphs go out, read side by side.
//!
//! Broken files are mended as far as that can be done blindly; a page that can't be read says so and stays empty.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicU32, Ordering};

use lopdf::{Dictionary, LoadOptions, Object, ObjectId};
use rayon::prelude::*;

use crate::pdf::content::{self, Shared};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{MAX_STREAM, dictionary, four, get, name, number, resolve, unpacked};
use crate::pdf::paint::Canvas;
use crate::pdf::{Document, Error, Page};

/// Stack of the thread that reads the file's structure, in bytes: nested objects are read by recursion.
const STACK: usize = 64 << 20;
/// Bytes at the start of a file within which its heading must stand.
const HEADING_REACH: usize = 1024;
/// Bytes of content of one page at most.
const MAX_CONTENT: usize = 256 << 20;
/// Size of a page that gives none: US letter, in points.
const LETTER: [f32; 4] = [0.0, 0.0, 612.0, 792.0];
/// Parents of a page that are asked for what the page leaves out.
const MAX_PARENTS: usize = 32;

/// Reads the whole file, and each page to what is wanted of it.
pub(super) fn read<T: Send>(
    bytes: Vec<u8>,
    progress: &(dyn Fn(u32, u32) + Sync),
    each: &(dyn Fn(&Page) -> T + Sync),
) -> Result<Document<T>, Error> {
    if bytes.is_empty() {
        return Err(Error::Empty);
    }
    if !looks_like_pdf(&bytes) {
        return Err(Error::NotPdf);
    }
    let inside = || std::thread::Builder::new().stack_size(STACK);
    let file = std::thread::scope(|scope| {
        let thread =
            inside().spawn_scoped(scope, || load(&bytes)).map_err(|error| damaged(&error.to_string()))?;
        thread.join().unwrap_or_else(|_| Err(damaged("its structure can't be followed")))
    })?;
    drop(bytes);
    let mut pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    if pages.is_empty() && file.is_encrypted() {
        return Err(Error::NeedsPassword);
    }
    if pages.is_empty() {
        pages = loose_pages(&file);
    }
    if pages.is_empty() {
        return Err(Error::NoPages);
    }
    let keep = |page: &Page| (each(page), blank(page));
    let pages = read_pages(&file, &pages, progress, &keep);
    if pages.iter().all(|(_, blank)| blank.is_some()) {
        let lost = pages.iter().find_map(|(_, blank)| blank.clone().flatten());
        return Err(lost.map_or(Error::NoText { pages: pages.len() }, |what| Error::Unreadable { what }));
    }
    Ok(Document { pages: pages.into_iter().map(|(page, _)| page).collect(), title: title(&file) })
}

/// Returns why a page has no text, if it has none; the text laid under the picture of a page may be nothing but blanks.
#[expect(clippy::option_option, reason = "whether it is blank, and whether it says why")]
fn blank(page: &Page) -> Option<Option<String>> {
    page.glyphs.iter().all(|glyph| glyph.character.is_whitespace()).then(|| page.lost.clone())
}

/// Returns all pages in the order of their numbers, for a file whose tree of pages leads to none.
fn loose_pages(file: &lopdf::Document) -> Vec<ObjectId> {
    let is_page = |object: &Object| matches!(object, Object::Dictionary(dict) if dict.has_type(b"Page"));
    file.objects.iter().filter(|(_, object)| is_page(object)).map(|(id, _)| *id).collect()
}

fn looks_like_pdf(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(HEADING_REACH)];
    contains(head, b"%PDF") || (contains(bytes, b" obj") && contains(bytes, b"endobj"))
}

fn contains(bytes: &[u8], word: &[u8]) -> bool {
    place_of(bytes, word).is_some()
}

fn place_of(bytes: &[u8], word: &[u8]) -> Option<usize> {
    bytes.windows(word.len()).position(|window| window == word)
}

fn damaged(what: &str) -> Error {
    Error::Damaged { what: what.to_lowercase() }
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
        max_decompressed_size: Some(MAX_CONTENT),
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
        let is_picture = matches!(stream.dict.get(b"Subtype"), Ok(Object::Name(kind)) if kind == b"Image");
        let Some(rest) = bytes
            .get(start..)
            .filter(|_| !is_picture && bytes[..start].trim_ascii_end().ends_with(b"stream"))
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
            if matches!(stream.dict.get(b"Subtype"), Ok(Object::Name(kind)) if kind == b"Image") {
                stream.content = Vec::new();
            }
            Some((id, Object::Null))
        }
        Object::Dictionary(dict) if dict.has_type(b"StructElem") => None,
        other => Some((id, other.clone())),
    }
}

fn read_pages<T: Send>(
    file: &lopdf::Document,
    pages: &[ObjectId],
    progress: &(dyn Fn(u32, u32) + Sync),
    each: &(dyn Fn(&Page) -> T + Sync),
) -> Vec<T> {
    let shared = Shared::new(file);
    let done = AtomicU32::new(0);
    let of = pages.len() as u32;
    pages
        .par_iter()
        // A page's room for glyphs is used again for the next one: asking for new memory takes longer than reading.
        .map_init(Page::default, |room, &id| {
            let empty = std::mem::take(room);
            let read = catch_unwind(AssertUnwindSafe(|| read_page(&shared, id, empty)));
            let page = read.unwrap_or_else(|_| lost("the page's content can't be followed"));
            progress(done.fetch_add(1, Ordering::Relaxed) + 1, of);
            let wanted = each(&page);
            *room = page;
            wanted
        })
        .collect()
}

fn lost(what: &str) -> Page {
    Page { lost: Some(what.to_owned()), ..Page::default() }
}

/// Reads a page into the room of another one.
fn read_page(shared: &Shared, id: ObjectId, room: Page) -> Page {
    let file = shared.file;
    let Some(Object::Dictionary(page)) = file.objects.get(&id) else {
        return lost("the page is missing from the file");
    };
    let chain = parents(file, page);
    let media = chain.iter().find_map(|dict| four(file, dict, b"MediaBox")).map_or(LETTER, upright);
    let crop = chain.iter().find_map(|dict| four(file, dict, b"CropBox")).map(upright);
    let shown = crop.and_then(|crop| overlap(crop, media)).unwrap_or(media);
    let turn = chain.iter().find_map(|dict| number(file, dict, b"Rotate")).unwrap_or(0.0);
    let (base, size) = page_matrix(shown, (turn / 90.0).rem_euclid(4.0) as u8);
    let resources = chain.iter().find_map(|dict| dictionary(file, dict, b"Resources"));
    let content = page_content(file, page);
    content::read(shared, (&content, resources), base, Canvas::new(size, room))
}

/// Returns the page and the nodes of the page tree above it.
fn parents<'a>(file: &'a lopdf::Document, page: &'a Dictionary) -> Vec<&'a Dictionary> {
    let mut chain = vec![page];
    while let Some(parent) = chain.last().and_then(|dict| dictionary(file, dict, b"Parent")) {
        if chain.len() > MAX_PARENTS {
            break;
        }
        chain.push(parent);
    }
    chain
}

fn upright([a, b, c, d]: [f32; 4]) -> [f32; 4] {
    [a.min(c), b.min(d), a.max(c), b.max(d)]
}

fn overlap(one: [f32; 4], other: [f32; 4]) -> Option<[f32; 4]> {
    let shared = [one[0].max(other[0]), one[1].max(other[1]), one[2].min(other[2]), one[3].min(other[3])];
    (shared[2] - shared[0] > 1.0 && shared[3] - shared[1] > 1.0).then_some(shared)
}

/// Returns the map from the file's coordinates to the page as seen, y downwards, and the page's size.
fn page_matrix([left, bottom, right, top]: [f32; 4], quarter_turns: u8) -> (Matrix, (f32, f32)) {
    let (wide, high) = (right - left, top - bottom);
    match quarter_turns {
        1 => (Matrix::of([0.0, 1.0, 1.0, 0.0, -bottom, -left]), (high, wide)),
        2 => (Matrix::of([-1.0, 0.0, 0.0, 1.0, right, -bottom]), (wide, high)),
        3 => (Matrix::of([0.0, -1.0, -1.0, 0.0, top, right]), (high, wide)),
        _ => (Matrix::of([1.0, 0.0, 0.0, -1.0, -left, top]), (wide, high)),
    }
}

fn page_content(file: &lopdf::Document, page: &Dictionary) -> Vec<u8> {
    let mut content = Vec::new();
    let mut add = |object: &Object| {
        if let Object::Stream(stream) = resolve(file, object)
            && let Some(data) = unpacked(stream)
            && content.len() + data.len() <= MAX_CONTENT.max(MAX_STREAM)
        {
            content.extend_from_slice(&data);
            content.push(b'\n');
        }
    };
    match get(file, page, b"Contents") {
        Some(Object::Array(parts)) => parts.iter().for_each(&mut add),
        Some(single) => add(single),
        None => {}
    }
    content
}

fn title(file: &lopdf::Document) -> Option<String> {
    let info = dictionary(file, &file.trailer, b"Info")?;
    let Some(Object::String(bytes, _)) = get(file, info, b"Title") else {
        return name(file, info, b"Title");
    };
    let title = content::text_string(bytes);
    let title = title.split_whitespace().collect::<Vec<_>>().join(" ");
    (!title.is_empty()).then_some(title)
}
