//! The whole pipeline on one page: bytes of PDF files in, a flora and a report of how it was read out.

use std::cell::LazyCell;

use sha2::{Digest, Sha256};

use crate::amend::{self, Amendment, Outcome};
use crate::describe;
use crate::layout::{self, Setting};
use crate::model::{Flora, Source};
use crate::parse::{self, Overrides, Profile};
use crate::pdf;
use crate::terms::Lexicon;

/// A file to read.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Its name without folders.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Why a file could not be read at all.
#[derive(Debug, thiserror::Error)]
#[error("{file}: {why}")]
pub struct Error {
    /// The file's name.
    pub file: String,
    /// What is wrong with it.
    #[source]
    pub why: pdf::Error,
}

/// How a book was read.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// The book's conventions as they were found.
    pub profile: Profile,
    /// The flora as it was read, where amendments changed it.
    pub as_read: Option<Flora>,
    /// What became of each amendment.
    pub amended: Vec<Outcome>,
}

/// What the reader of a book knows of it beforehand.
#[derive(Clone, Debug, Default)]
pub struct Known {
    /// How it is set.
    pub profile: Overrides,
    /// What was set right in an earlier reading.
    pub amendments: Vec<Amendment>,
}

/// Reads one flora from its files, volume by volume; pages count on through them.
///
/// `progress` is called with the pages done and the pages of the file at hand.
pub fn read(files: Vec<SourceFile>, progress: &(dyn Fn(u32, u32) + Sync)) -> Result<(Flora, Report), Error> {
    read_knowing(files, &Known::default(), progress)
}

/// Reads one flora from its files with what is known of it beforehand.
pub fn read_knowing(
    files: Vec<SourceFile>,
    known: &Known,
    progress: &(dyn Fn(u32, u32) + Sync),
) -> Result<(Flora, Report), Error> {
    let lexicon = Lexicon::built_in();
    let mut whole = Setting::default();
    let (mut sources, mut title) = (Vec::new(), None);
    for file in files {
        let sha256 = hexadecimal(&Sha256::digest(&file.bytes));
        let document = pdf::read_each(file.bytes, progress, &layout::sheet)
            .map_err(|why| Error { file: file.name.clone(), why })?;
        let mut setting = layout::set_sheets(document.pages, &|word| lexicon.knows(word));
        layout::fill_folios(&mut setting.pages, &document.labels);
        title = title.or_else(|| document.title.filter(|title| !title.trim().is_empty()));
        sources.push(Source { file: file.name, sha256, pages: setting.pages.len() as u32 });
        append(&mut whole, setting);
    }
    let (mut flora, profile) = parse::flora_set_so(&whole, &known.profile);
    flora.title =
        title.unwrap_or_else(|| sources.first().map(|source| source.file.clone()).unwrap_or_default());
    flora.license = parse::license(&whole);
    flora.sources = sources;
    let as_read = (!known.amendments.is_empty()).then(|| flora.clone());
    let (mut flora, amended) = amend::apply(flora, &known.amendments);
    let stated = describe::stated(&flora, &lexicon);
    flora.doubts.extend(describe::conflicts(&flora, &lexicon, &stated));
    Ok((flora, Report { profile, as_read, amended }))
}

/// Puts a volume behind the ones before it: its pages count on.
fn append(whole: &mut Setting, mut volume: Setting) {
    let before = whole.pages.len() as u32;
    for line in volume.blocks.iter_mut().flat_map(|block| &mut block.lines) {
        line.page += before;
    }
    if before == 0 {
        whole.body_size = volume.body_size;
    }
    whole.pages.append(&mut volume.pages);
    whole.blocks.append(&mut volume.blocks);
}

/// Reads one file as set, for its text alone.
pub fn text(file: SourceFile, progress: &(dyn Fn(u32, u32) + Sync)) -> Result<Setting, Error> {
    // Many books settle their broken words by themselves.
    let lexicon = LazyCell::new(Lexicon::built_in);
    let document =
        pdf::read_each(file.bytes, progress, &layout::sheet).map_err(|why| Error { file: file.name, why })?;
    Ok(layout::set_sheets(document.pages, &|word| lexicon.knows(word)))
}

fn hexadecimal(bytes: &[u8]) -> String {
    use std::fmt::Write;
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}
