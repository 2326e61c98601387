//! A file's bytes come in; whether a back end that unpacks without a limit may have them goes out.
//!
//! The table of objects may call any stream packed objects, so all streams are measured, whatever they say of themselves.

use hayro_syntax::object::{Dict, FromBytes, MaybeRef, Name, Object as Found};
use lopdf::{Dictionary, Object, Stream};

use crate::pdf::Error;
use crate::pdf::inflate::{self, Sizes};
use crate::pdf::structure::{damaged, place_of};

/// Bytes that all streams of a file may take beyond what is usual for their length.
const MAX_SWELLING: usize = 128 << 20;
/// How many times its length a stream unpacks to at most, as a rule: contents and packed objects to 3 to 15 times.
const USUAL_GROWTH: usize = 20;
/// Bytes that a number may take once it is read, as part of the list of what is packed.
const OF_NUMBER: usize = 24;
/// What is usual still counts one part in so many, against streams that lie within each other.
const SHARE: usize = 64;
/// Bytes looked through for dictionaries, as a multiple of the file's length, against those that lie within each other.
const MAX_LOOKED: usize = 8;
/// Bytes that one stream packed otherwise may unpack to, as all of them are kept while they are counted.
const MAX_UNPACKED: usize = 32 << 20;
/// Ways of packing, other than deflating once, that one file may use.
const MAX_WAYS: usize = 4;

/// Refuses a file that is made to exhaust memory, or which can't be told not to be: under a lock nothing can be measured.
pub(super) fn refuse(bytes: &[u8]) -> Result<(), Error> {
    let ways = ways(bytes)?;
    let (mut rest, mut sum) = (bytes, 0);
    while let Some(at) = place_of(rest, b"stream") {
        let data = &rest[at + b"stream".len()..];
        let ends = rest[..at].ends_with(b"end");
        rest = data;
        if ends {
            continue;
        }
        let data = data.trim_ascii_start();
        sum += swelling(inflate::counted(data, 2 * MAX_SWELLING));
        for way in &ways {
            sum += unpacked(way, data).map_or(MAX_SWELLING, swelling);
        }
        if sum >= MAX_SWELLING {
            return Err(damaged("it unpacks to more than is sensible"));
        }
    }
    Ok(())
}

/// Returns how much more a stream takes than is usual.
fn swelling(sizes: Sizes) -> usize {
    let taken = sizes.plain + OF_NUMBER * sizes.numbers;
    taken.saturating_sub(USUAL_GROWTH * sizes.packed).max(taken / SHARE)
}

/// Looks at all dictionaries of objects for the ways in which streams are packed, and whether packed objects are locked.
fn ways(bytes: &[u8]) -> Result<Vec<Vec<Vec<u8>>>, Error> {
    let is_locked = has_name(bytes, b"Encrypt");
    let (mut rest, mut ways, mut left) = (bytes, Vec::new(), bytes.len().saturating_mul(MAX_LOOKED));
    while let Some(at) = place_of(rest, b"obj") {
        rest = &rest[at + b"obj".len()..];
        let object = after_comments(rest);
        if !object.starts_with(b"<<") {
            continue;
        }
        let dict = Dict::from_bytes(object);
        let looked = dict.as_ref().map_or(object.len(), |dict| dict.data().len());
        left = left.checked_sub(looked).ok_or_else(|| damaged("its objects lie within each other"))?;
        let Some(dict) = dict else { continue };
        let packs = dict.contains_key("First") || dict.contains_key("W") && dict.contains_key("Size");
        if is_locked && packs {
            return Err(damaged("what it packs under its lock can't be measured"));
        }
        if !after_comments(&object[looked.min(object.len())..]).starts_with(b"stream") {
            continue;
        }
        let way = way(&dict).ok_or_else(|| damaged("how its streams are packed can't be told"))?;
        if !way.is_empty() && way != [b"FlateDecode"] && way != [b"Fl"] && !ways.contains(&way) {
            ways.push(way);
        }
        if ways.len() > MAX_WAYS {
            return Err(damaged("its streams are packed in more ways than is sensible"));
        }
    }
    Ok(ways)
}

/// Returns the filters of a stream's dictionary that unpack, none where a picture's is among them; nothing where they
/// are elsewhere.
fn way(dict: &Dict) -> Option<Vec<Vec<u8>>> {
    const OF_PICTURES: [&[u8]; 6] =
        [b"DCTDecode", b"DCT", b"JPXDecode", b"JBIG2Decode", b"CCITTFaxDecode", b"CCF"];
    let mut way: Vec<Vec<u8>> = Vec::new();
    for key in ["F", "Filter"] {
        match dict.get_raw::<Found>(key) {
            Some(MaybeRef::Ref(_)) => return None,
            Some(MaybeRef::NotRef(Found::Name(name))) => way.push(name.to_vec()),
            Some(MaybeRef::NotRef(Found::Array(filters))) => {
                way.extend(filters.iter::<Name>().map(|name| name.to_vec()));
            }
            Some(_) | None => {}
        }
    }
    way.retain(|name| name != b"Crypt");
    if way.iter().any(|name| OF_PICTURES.contains(&name.as_slice())) {
        way.clear();
    }
    Some(way)
}

/// Unpacks data in one way; nothing where that gives more than is sensible.
fn unpacked(way: &[Vec<u8>], data: &[u8]) -> Option<Sizes> {
    let data = &data[..place_of(data, b"endstream").unwrap_or(data.len())];
    let mut dict = Dictionary::new();
    let name = |filter: &Vec<u8>| Object::Name(full_name(filter).to_vec());
    dict.set("Filter", way.iter().map(name).collect::<Vec<_>>());
    let packed = Stream::new(dict, data.to_vec());
    match packed.decompressed_content_with_limit(MAX_UNPACKED) {
        Ok(plain) => Some(Sizes {
            packed: data.len(),
            plain: plain.len(),
            numbers: inflate::numbers_in(&plain, &mut b' '),
        }),
        Err(lopdf::Error::Decompress(lopdf::DecompressError::MemoryLimitExceeded { .. })) => None,
        Err(_) => Some(Sizes::default()),
    }
}

/// Spells out a filter's short name.
fn full_name(filter: &[u8]) -> &[u8] {
    match filter {
        b"Fl" => b"FlateDecode",
        b"LZW" => b"LZWDecode",
        b"A85" => b"ASCII85Decode",
        b"AHx" => b"ASCIIHexDecode",
        b"RL" => b"RunLengthDecode",
        full => full,
    }
}

fn after_comments(bytes: &[u8]) -> &[u8] {
    let mut rest = bytes;
    loop {
        let blanks = rest.iter().position(|byte| !matches!(byte, b' ' | b'\n' | b'\r' | b'\t' | 0 | 12));
        rest = &rest[blanks.unwrap_or(rest.len())..];
        if !rest.starts_with(b"%") {
            return rest;
        }
        let line = rest.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
        rest = &rest[line.unwrap_or(rest.len())..];
    }
}

/// Tells whether a name stands anywhere, with some of its letters written as `#` and two digits or not.
fn has_name(bytes: &[u8], name: &[u8]) -> bool {
    let mut rest = bytes;
    while let Some(at) = place_of(rest, b"/") {
        rest = &rest[at + 1..];
        let mut written = rest;
        let same = name.iter().all(|letter| {
            let digit = |byte: &u8| char::from(*byte).to_digit(16);
            let length = match written {
                [b'#', high, low, ..]
                    if digit(high).zip(digit(low)).map(|(high, low)| high << 4 | low)
                        == Some(u32::from(*letter)) =>
                {
                    3
                }
                [first, ..] => usize::from(first == letter),
                [] => 0,
            };
            written = &written[length..];
            length > 0
        });
        if same {
            return true;
        }
    }
    false
}
