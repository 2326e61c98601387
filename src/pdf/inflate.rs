//! Deflated bytes come in, the bytes they stand for go out, as far as they can be had, and whether that is all of them.
//!
//! The sum at the end is not checked: where it alone is wrong, nothing of the text is lost.

use std::cell::RefCell;

use flate2::{Decompress, FlushDecompress, Status};

/// Bytes of the heading before deflated data.
const HEADING: usize = 2;
/// Bytes that the room for what comes out grows by at least.
const MIN_ROOM: usize = 1 << 12;
/// Bytes of what is only counted that are unpacked at a time.
const COUNTED_ROOM: usize = 1 << 16;
/// The room asked for at first, as a multiple of what comes in: page contents are deflated to a third or a quarter.
const USUAL_GROWTH: usize = 4;

thread_local! {
    /// The tables and the window of one thread, used again for each stream.
    static INFLATER: RefCell<Decompress> = RefCell::new(Decompress::new(false));
}

/// Adds what deflated data stand for to `out`, at most so many bytes; tells whether that is all.
pub(super) fn inflate(data: &[u8], limit: usize, out: &mut Vec<u8>) -> bool {
    let start = out.len();
    let body = data.get(HEADING..).unwrap_or_default();
    let whole = raw(body, limit, out);
    if out.len() == start && !whole && !data.is_empty() {
        return raw(data, limit, out);
    }
    whole
}

/// How large deflated data are, and what they stand for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Sizes {
    /// Bytes of the data.
    pub(super) packed: usize,
    /// Bytes of what they stand for.
    pub(super) plain: usize,
    /// Numbers in that.
    pub(super) numbers: usize,
}

/// Counts what deflated data stand for, up to a limit of bytes, without keeping it; data without a heading too.
pub(super) fn counted(data: &[u8], limit: usize) -> Sizes {
    let headed = counted_raw(data.get(HEADING..).unwrap_or_default(), limit);
    let bare = counted_raw(data, limit);
    if bare.plain > headed.plain { bare } else { headed }
}

fn counted_raw(data: &[u8], limit: usize) -> Sizes {
    let mut inflater = Decompress::new(false);
    let mut room = vec![0; COUNTED_ROOM];
    let (mut sizes, mut before) = (Sizes::default(), b' ');
    loop {
        let rest = data.get(sizes.packed..).unwrap_or_default();
        let status = inflater.decompress(rest, &mut room, FlushDecompress::None);
        let (taken, given) = (inflater.total_in() as usize, inflater.total_out() as usize);
        let new = &room[..given - sizes.plain];
        sizes.numbers += numbers_in(new, &mut before);
        let stuck = new.is_empty() && taken == sizes.packed;
        (sizes.packed, sizes.plain) = (taken, given);
        if stuck || !matches!(status, Ok(Status::Ok)) || given >= limit {
            return sizes;
        }
    }
}

/// Counts the numbers that begin in some bytes; `before` is the byte before them, and becomes the last one.
pub(super) fn numbers_in(bytes: &[u8], before: &mut u8) -> usize {
    bytes
        .iter()
        .filter(|byte| {
            let last = std::mem::replace(before, **byte);
            byte.is_ascii_digit() && !last.is_ascii_digit()
        })
        .count()
}

fn raw(data: &[u8], limit: usize, out: &mut Vec<u8>) -> bool {
    let start = out.len();
    INFLATER.with_borrow_mut(|inflater| {
        inflater.reset(false);
        out.reserve(data.len().saturating_mul(USUAL_GROWTH).clamp(MIN_ROOM, limit.max(MIN_ROOM)));
        loop {
            let (taken, given) = (inflater.total_in(), out.len());
            let rest = data.get(taken as usize..).unwrap_or_default();
            match inflater.decompress_vec(rest, out, FlushDecompress::None) {
                Ok(Status::StreamEnd) if out.len() - start <= limit => return true,
                Ok(Status::Ok | Status::BufError) if out.len() - start <= limit => {}
                Ok(Status::Ok | Status::BufError | Status::StreamEnd) => {
                    out.truncate(start + limit);
                    return false;
                }
                Err(_) => return false,
            }
            let full = out.len() == out.capacity();
            if !full && inflater.total_in() == taken && out.len() == given {
                return false;
            }
            if full {
                out.reserve(MIN_ROOM.max(out.len() - start));
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use super::*;

    fn deflated(bytes: &[u8]) -> Vec<u8> {
        let mut writer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::default());
        writer.write_all(bytes).expect("a vector takes all");
        writer.finish().expect("a vector takes all")
    }

    #[track_caller]
    fn check_inflated(data: &[u8], limit: usize, expected: (usize, bool)) {
        let mut out = b"before".to_vec();
        let whole = inflate(data, limit, &mut out);
        assert_eq!((out.len() - "before".len(), whole), expected);
        assert!(out.starts_with(b"before"));
    }

    /// Bytes that deflate badly, so that a part of them is a part of what they stand for.
    fn uneven(count: u32) -> Vec<u8> {
        (0..count).map(|number| (number.wrapping_mul(2_654_435_761) >> 13) as u8).collect()
    }

    #[test]
    fn all_bytes_come_back() {
        check_inflated(&deflated(&uneven(50_000)), 1 << 20, (50_000, true));
        check_inflated(&deflated(&vec![0; 3_000_000]), 1 << 22, (3_000_000, true));
        check_inflated(&deflated(b""), 1 << 20, (0, true));
        assert_eq!(counted(&deflated(&vec![0; 3_000_000]), 1 << 22).plain, 3_000_000);
        let numbers = counted(&deflated("10 2 [3]".repeat(50_000).as_bytes()), 1 << 20);
        assert_eq!((numbers.plain, numbers.numbers), (400_000, 150_000));
        assert_eq!(counted(&deflated(b"7 8")[2..], 1 << 20).numbers, 2);
    }

    #[test]
    fn more_than_the_limit_is_cut_off() {
        check_inflated(&deflated(&vec![0; 3_000_000]), 1000, (1000, false));
        assert!(counted(&deflated(&vec![0; 3_000_000]), 1000).plain < 100_000);
    }

    #[test]
    fn a_stream_cut_off_gives_what_it_has_and_says_so() {
        let data = deflated(&uneven(50_000));
        let mut out = Vec::new();
        assert!(!inflate(&data[..data.len() / 2], 1 << 20, &mut out));
        assert!(!out.is_empty() && uneven(50_000).starts_with(&out));
        check_inflated(b"", 1 << 20, (0, false));
    }

    #[test]
    fn a_wrong_sum_at_the_end_loses_nothing() {
        let mut data = deflated(&uneven(500));
        data.truncate(data.len() - 4);
        check_inflated(&data, 1 << 20, (500, true));
    }
}
