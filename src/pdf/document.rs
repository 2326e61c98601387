//! A file's bytes come in, its pages with their glyphs go out, read side by side.
//!
//! A page that can't be read from what the first back end found is looked for with the second; what is lost then, it says.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use lopdf::{Object, ObjectId};
use rayon::prelude::*;

use crate::pdf::content::{self, Read, Shared};
use crate::pdf::labels;
use crate::pdf::objects::{dictionary, get, name};
use crate::pdf::page::{self, Room};
use crate::pdf::structure::{self, File, HEADING_REACH, place_of};
use crate::pdf::{Document, Error, Page};

/// What is wanted of a page, and how well it was read.
struct Kept<T> {
    wanted: T,
    /// How many glyphs it has that are not blank; of a page that is not open it counts only whether there are any.
    glyphs: usize,
    lost: Option<String>,
    /// Whether another back end might find more.
    open: bool,
}

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
    let bytes = Arc::new(bytes);
    let (file, other_left) = structure::open(&bytes)?;
    let mut pages = read_pages((&file, bytes.len()), progress, each);
    if other_left && pages.iter().any(|page| page.open) {
        look_again((&bytes, &file), &mut pages, each);
    }
    if pages.iter().all(|page| page.glyphs == 0) {
        let lost = pages.iter_mut().find_map(|page| page.lost.take());
        return Err(lost.map_or(Error::NoText { pages: pages.len() }, |what| Error::Unreadable { what }));
    }
    let labels = labels::read(&file.objects, pages.len());
    Ok(Document {
        pages: pages.into_iter().map(|page| page.wanted).collect(),
        title: title(&file.objects),
        labels,
    })
}

/// Reads the pages of which something is missing with the second back end, and takes those of which it finds more.
fn look_again<T: Send>(
    (bytes, file): (&Arc<Vec<u8>>, &File),
    pages: &mut [Kept<T>],
    each: &(dyn Fn(&Page) -> T + Sync),
) {
    let open = pages.iter().zip(&file.pages).zip(0..).filter(|((page, _), _)| page.open);
    let open: BTreeMap<ObjectId, usize> = open.map(|((_, id), index)| (*id, index)).collect();
    let wanted = |id: ObjectId| open.contains_key(&id);
    let Some(mut other) = structure::open_again(bytes, &wanted) else { return };
    other.pages.retain(|id| wanted(*id));
    let again = read_pages((&other, bytes.len()), &|_, _| {}, each);
    for (id, again) in other.pages.iter().zip(again) {
        let before = &mut pages[open[id]];
        if again.glyphs > before.glyphs || again.lost.is_none() && again.glyphs == before.glyphs {
            *before = again;
        }
    }
}

fn looks_like_pdf(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(HEADING_REACH)];
    contains(head, b"%PDF") || (contains(bytes, b" obj") && contains(bytes, b"endobj"))
}

fn contains(bytes: &[u8], word: &[u8]) -> bool {
    place_of(bytes, word).is_some()
}

/// Reads the pages side by side.
fn read_pages<T: Send>(
    (file, length): (&File, usize),
    progress: &(dyn Fn(u32, u32) + Sync),
    each: &(dyn Fn(&Page) -> T + Sync),
) -> Vec<Kept<T>> {
    let shared = Shared::new(&file.objects, length);
    let done = AtomicU32::new(0);
    let of = file.pages.len() as u32;
    file.pages
        .par_iter()
        .map_init(Room::default, |room, &id| {
            let read = catch_unwind(AssertUnwindSafe(|| page::read(&shared, id, room)));
            let Read { page, open } =
                read.unwrap_or_else(|_| page::lost("the page's content can't be followed"));
            progress(done.fetch_add(1, Ordering::Relaxed) + 1, of);
            let most = if open { usize::MAX } else { 1 };
            let inked = page.glyphs.iter().filter(|glyph| !glyph.character.is_whitespace());
            let glyphs = inked.take(most).count();
            let kept = Kept { wanted: each(&page), glyphs, lost: page.lost.clone(), open };
            room.page = page;
            kept
        })
        .collect()
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
