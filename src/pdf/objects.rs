//! Short ways to an object's members, references followed; what is missing or of another kind is `None`.

use lopdf::{Dictionary, Document, Object, Stream};

use crate::pdf::inflate::inflate;
use crate::pdf::lexer::spelled_out;

/// Bytes that one stream may unpack to.
pub(super) const MAX_STREAM: usize = 64 << 20;
/// References followed one after the other at most.
const MAX_STEPS: usize = 32;

/// Follows references.
pub(super) fn resolve<'a>(document: &'a Document, mut object: &'a Object) -> &'a Object {
    for _ in 0..MAX_STEPS {
        match object {
            Object::Reference(id) => object = document.objects.get(id).unwrap_or(&Object::Null),
            _ => return object,
        }
    }
    &Object::Null
}

/// Returns a member.
pub(super) fn get<'a>(document: &'a Document, dict: &'a Dictionary, key: &[u8]) -> Option<&'a Object> {
    dict.get(key)
        .ok()
        .map(|object| resolve(document, object))
        .filter(|object| !matches!(object, Object::Null))
}

/// Returns a member by its name as a content stream writes it, as it is found.
pub(super) fn named<'a>(dict: &'a Dictionary, name: &[u8]) -> Option<&'a Object> {
    match dict.get(name) {
        Ok(object) => Some(object),
        Err(_) if name.contains(&b'#') => dict.get(&spelled_out(name)).ok(),
        Err(_) => None,
    }
}

/// Returns a member that is a dictionary, or that of a stream.
pub(super) fn dictionary<'a>(
    document: &'a Document,
    dict: &'a Dictionary,
    key: &[u8],
) -> Option<&'a Dictionary> {
    match get(document, dict, key)? {
        Object::Dictionary(dict) => Some(dict),
        Object::Stream(stream) => Some(&stream.dict),
        _ => None,
    }
}

/// Returns a member that is an array.
pub(super) fn array<'a>(document: &'a Document, dict: &'a Dictionary, key: &[u8]) -> Option<&'a [Object]> {
    match get(document, dict, key)? {
        Object::Array(array) => Some(array),
        _ => None,
    }
}

/// Returns a member that is a name.
pub(super) fn name(document: &Document, dict: &Dictionary, key: &[u8]) -> Option<String> {
    match get(document, dict, key)? {
        Object::Name(name) => Some(String::from_utf8_lossy(name).into_owned()),
        _ => None,
    }
}

/// Returns a member that is a number.
pub(super) fn number(document: &Document, dict: &Dictionary, key: &[u8]) -> Option<f32> {
    number_of(document, dict.get(key).ok()?)
}

/// Returns an object's number.
pub(super) fn number_of(document: &Document, object: &Object) -> Option<f32> {
    match resolve(document, object) {
        Object::Integer(number) => Some(*number as f32),
        Object::Real(number) => Some(*number),
        _ => None,
    }
}

/// Returns four numbers, as of a box.
pub(super) fn four(document: &Document, dict: &Dictionary, key: &[u8]) -> Option<[f32; 4]> {
    let numbers: Option<Vec<f32>> =
        array(document, dict, key)?.iter().map(|object| number_of(document, object)).collect();
    numbers?.try_into().ok()
}

/// Tells whether what a stream says of itself is that it holds a picture.
pub(super) fn is_picture(dict: &Dictionary) -> bool {
    matches!(dict.get(b"Subtype"), Ok(Object::Name(kind)) if kind == b"Image")
}

/// Returns the unpacked bytes of a member that is a stream.
pub(super) fn stream_bytes(document: &Document, dict: &Dictionary, key: &[u8]) -> Option<Vec<u8>> {
    let Object::Stream(stream) = get(document, dict, key)? else { return None };
    let mut data = Vec::new();
    unpack(document, stream, &mut data);
    (!data.is_empty()).then_some(data)
}

/// Adds the unpacked bytes of a stream to `out`, within the limit; tells whether all of them could be had.
pub(super) fn unpack(document: &Document, stream: &Stream, out: &mut Vec<u8>) -> bool {
    let filters: Vec<&[u8]> = match get(document, &stream.dict, b"Filter") {
        Some(Object::Name(filter)) => vec![filter],
        Some(Object::Array(filters)) => {
            filters.iter().filter_map(|filter| resolve(document, filter).as_name().ok()).collect()
        }
        _ => Vec::new(),
    };
    // What was locked is unlocked already.
    let filters: Vec<&[u8]> = filters.into_iter().filter(|filter| *filter != b"Crypt").collect();
    let hints = get(document, &stream.dict, b"DecodeParms");
    match filters[..] {
        [] => {
            out.extend_from_slice(&stream.content[..stream.content.len().min(MAX_STREAM)]);
            stream.content.len() <= MAX_STREAM
        }
        [b"FlateDecode" | b"Fl"] if hints.is_none() => inflate(&stream.content, MAX_STREAM, out),
        _ => {
            let mut dict = Dictionary::new();
            let name = |filter: &&[u8]| Object::Name(filter.to_vec());
            dict.set("Filter", filters.iter().map(name).collect::<Vec<_>>());
            if let Some(hints) = hints {
                dict.set("DecodeParms", hints.clone());
            }
            let packed = Stream::new(dict, stream.content.clone());
            let data = packed.decompressed_content_with_limit(MAX_STREAM);
            data.map(|data| out.extend_from_slice(&data)).is_ok()
        }
    }
}
