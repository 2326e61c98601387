//! A font's map to Unicode comes in; its texts by code, and whether it is to be believed first, go out.
//!
//! A map that is damaged, or made to hide the text, must not hide what encoding and font program say.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document};

use crate::pdf::objects::stream_bytes;
use crate::pdf::unicode::cmap::CharacterMap;

/// Codes from which on a map that gives all of them the same text says nothing.
const MIN_SAME: usize = 4;

/// Bytes that one text takes once it is read.
const OF_TEXT: usize = 64;

/// What a map to Unicode says.
#[derive(Debug, Default)]
pub(super) struct ToUnicode {
    /// Text by code, as far as a reader could see it.
    pub(super) texts: BTreeMap<u32, String>,
    /// Whether it is believed before all else that the font says.
    pub(super) is_sound: bool,
    /// Bytes of the map, and of the texts read from it.
    pub(super) size: usize,
}

impl ToUnicode {
    /// Reads the map of a font; one that is missing or can't be read says nothing.
    pub(super) fn read(document: &Document, font: &Dictionary) -> Self {
        let Some(data) = stream_bytes(document, font, b"ToUnicode") else { return Self::default() };
        let mut texts = CharacterMap::read(&data).texts;
        texts.values_mut().for_each(turn_bytes);
        let all = texts.len();
        texts.retain(|_, text| is_sensible(text));
        let first = texts.values().next();
        let same = texts.len() >= MIN_SAME && texts.values().all(|text| Some(text) == first);
        let is_sound = !same && 2 * texts.len() >= all;
        Self { texts, is_sound, size: data.len() + OF_TEXT * all }
    }
}

/// Puts the bytes of letters right that were written the wrong way round: a common PostScript interpreter did so for years
/// where a code stands for several letters, and `fi` comes as two ideographs. It adds up the last two of three.
fn turn_bytes(text: &mut String) {
    if text.is_ascii() || text.chars().nth(1).is_none() {
        return;
    }
    let turned = |c: char| {
        let [0, 0, byte, 0] = u32::from(c).to_be_bytes() else { return None };
        match byte {
            ADDED_UP_FI => Some("fi".to_owned()),
            ADDED_UP_FL => Some("fl".to_owned()),
            _ => byte.is_ascii_alphabetic().then(|| char::from(byte).to_string()),
        }
    };
    if let Some(letters) = text.chars().map(turned).collect() {
        *text = letters;
    }
}

/// The sum of the two letters that end `ffi`.
const ADDED_UP_FI: u8 = b'f' + b'i';
/// The sum of the two letters that end `ffl`.
const ADDED_UP_FL: u8 = b'f' + b'l';

/// Tells whether text could be seen by a reader: letters that only the maker of a font knows could not.
fn is_sensible(text: &str) -> bool {
    let is_private = |c| matches!(c, '\u{e000}'..='\u{f8ff}' | '\u{f0000}'..='\u{10ffff}');
    let is_none = |c| c == '\u{fffd}' || u32::from(c) & 0xfffe == 0xfffe;
    !text.is_empty() && text.chars().all(|c| !is_none(c) && !c.is_control() && !is_private(c))
}
