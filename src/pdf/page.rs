//! A page's object comes in; its content is unpacked and read onto a canvas of the page's size, as it is turned.
//!
//! What is missing of it is said, and whether another back end might find it.

use lopdf::{Dictionary, Object, ObjectId};

use crate::pdf::Page;
use crate::pdf::content::{self, Read, Shared, Source};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{dictionary, four, get, number, resolve};
use crate::pdf::paint::Canvas;

/// Bytes of content of one page at most.
const MAX_CONTENT: usize = 64 << 20;
/// Size of a page that gives none: US letter, in points.
const LETTER: [f32; 4] = [0.0, 0.0, 612.0, 792.0];
/// Parents of a page that are asked for what the page leaves out.
const MAX_PARENTS: usize = 32;

/// What one page after the other is read in: asking for new memory takes longer than reading.
#[derive(Default)]
pub(super) struct Room {
    /// The page before.
    pub(super) page: Page,
    content: Vec<u8>,
}

/// Returns a page of which nothing is known but why.
pub(super) fn lost(what: &str) -> Read {
    Read { page: Page { lost: Some(what.to_owned()), ..Page::default() }, open: true }
}

/// Reads a page into the room of another one.
pub(super) fn read(shared: &Shared, id: ObjectId, room: &mut Room) -> Read {
    let file = shared.file;
    let Some(Object::Dictionary(page)) = file.objects.get(&id) else {
        return lost("the page is missing from the file");
    };
    let chain = parents(file, page);
    let media = chain.iter().find_map(|dict| four(file, dict, b"MediaBox")).map(upright);
    let media = media.and_then(|media| overlap(media, media)).unwrap_or(LETTER);
    let crop = chain.iter().find_map(|dict| four(file, dict, b"CropBox")).map(upright);
    let shown = crop.and_then(|crop| overlap(crop, media)).unwrap_or(media);
    let turn = chain.iter().find_map(|dict| number(file, dict, b"Rotate")).unwrap_or(0.0);
    let (base, size) = page_matrix(shown, (turn / 90.0).rem_euclid(4.0) as u8);
    let resources = chain.iter().find_map(|dict| dictionary(file, dict, b"Resources"));
    let Some(whole) = unpack_content(shared, page, &mut room.content) else {
        return Read { open: false, ..lost(content::TOO_MUCH) };
    };
    let canvas = Canvas::new(size, std::mem::take(&mut room.page));
    let source = Source { page, content: &room.content, resources };
    let mut read = content::read(shared, &source, base, canvas);
    if !whole {
        read.page.lost = Some("the page's content is damaged".to_owned());
        read.open = true;
    }
    read
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

/// Unpacks the content of a page and tells whether all of it is there; nothing where it is more than is sensible.
fn unpack_content(shared: &Shared, page: &Dictionary, content: &mut Vec<u8>) -> Option<bool> {
    let file = shared.file;
    content.clear();
    let parts = match get(file, page, b"Contents") {
        Some(Object::Array(parts)) => parts.as_slice(),
        Some(single) => std::slice::from_ref(single),
        None => return Some(!page.has(b"Contents")),
    };
    let mut whole = true;
    for part in parts {
        let Object::Stream(stream) = resolve(file, part) else {
            whole = false;
            continue;
        };
        if content.len() >= MAX_CONTENT {
            return None;
        }
        whole &=
            shared.unpack(stream, content)? && (!stream.content.is_empty() || is_empty(file, &stream.dict));
        content.push(b'\n');
    }
    Some(whole)
}

/// Tells whether a stream says itself that it holds nothing.
fn is_empty(file: &lopdf::Document, stream: &Dictionary) -> bool {
    number(file, stream, b"Length").is_some_and(|length| length <= 0.0)
}
