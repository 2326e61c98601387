//! `ligule ingest`: a flora's PDF onto the shelf, and what was found and what is doubtful in it.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf, absolute};
use std::time::Instant;

use sha2::{Digest, Sha256};

use crate::cli::amendments;
use crate::cli::doubts;
use crate::cli::failure::Failure;
use crate::cli::lost;
use crate::cli::progress::Progress;
use crate::cli::verb::demo;
use crate::cli::wording;
use crate::cli::world::{World, remark};
use crate::ingest::{self, Known, Report, SourceFile};
use crate::model::{DoubtKind, Flora};
use crate::parse::Overrides;
use crate::search;
use crate::store::{Contents, Counts, KeepSource, Licence, Shelf, ShelfRow, SourceBytes, slug};

/// Doubts that are printed at once; `ligule check` has them all.
const FIRST_DOUBTS: usize = 3;

/// What `ligule ingest` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ligule ingest morvane.pdf --as morvane
  ligule ingest volume1.pdf volume2.pdf --as big-flora
  ligule ingest morvane.pdf --as morvane --profile morvane.toml

A book that can't be read (no PDF, locked, damaged, a scan without text, not there) ends with exit code 4, and a flora
that has this name already stays as it was.")]
pub(crate) struct Args {
    /// The flora's PDF, or its volumes in order
    #[arg(required = true, value_name = "FILE.pdf")]
    files: Vec<PathBuf>,
    /// The name on the shelf: small letters, digits and hyphens; a flora that has it is replaced [default: made from the
    /// first file's name, and never another book's]
    #[arg(long = "as", value_name = "NAME")]
    name: Option<String>,
    /// A TOML file that says how the book is set, where it was learned wrongly; `ligule check` prints one to begin with
    #[arg(long, value_name = "FILE.toml")]
    profile: Option<PathBuf>,
    /// Keep only the path and the hash of the PDF, not a copy
    #[arg(long)]
    no_copy: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let keep = if args.no_copy { KeepSource::PathOnly } else { KeepSource::Copy };
    let profile = args.profile.as_deref().map(profile).transpose()?.unwrap_or_default();
    let files = args.files.iter().map(|file| Source::open(file)).collect::<Result<Vec<_>, _>>()?;
    let name = match &args.name {
        Some(name) if name == demo::NAME => return Err(Failure::DemoName),
        Some(name) => name.clone(),
        None => free_name(&world.shelf()?, &files),
    };
    let flora = onto_shelf(world, &name, (files, profile), keep)?;
    Ok(print(world, &name, &flora)?)
}

/// Reads what a reader says of how a book is set.
fn profile(path: &Path) -> Result<Overrides, Failure> {
    let fail = |why: String| Failure::Profile { file: path.to_owned(), why };
    let text = fs::read_to_string(path).map_err(|error| fail(why(path, &error)))?;
    Overrides::read(&text).map_err(|error| fail(error.to_string()))
}

/// A file of a book, with its bytes.
pub(crate) struct Source {
    path: PathBuf,
    bytes: Vec<u8>,
}

impl Source {
    /// Reads a file.
    pub(crate) fn open(path: &Path) -> Result<Self, Failure> {
        let fail = |error: io::Error| Failure::File { file: path.to_owned(), why: why(path, &error) };
        let bytes = fs::read(path).map_err(fail)?;
        Ok(Self { path: absolute(path).map_err(fail)?, bytes })
    }

    /// Returns a file that is built in.
    pub(crate) fn built_in(name: &str, bytes: &[u8]) -> Self {
        Self { path: name.into(), bytes: bytes.to_vec() }
    }

    /// Returns the file as the reading of a book takes it.
    pub(crate) fn file(self) -> SourceFile {
        let name = self.path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        SourceFile { name, bytes: self.bytes }
    }
}

/// Returns a name made from the first file's: the plain one, or a numbered one where another book has that. The same
/// book takes its own place again.
fn free_name(shelf: &Shelf, files: &[Source]) -> String {
    let stem = files.first().and_then(|file| file.path.file_stem()).unwrap_or_default();
    let plain = slug(&stem.to_string_lossy());
    let hashes: Vec<String> = files.iter().map(|file| sha256(&file.bytes)).collect();
    let own = |row: &ShelfRow| row.sources.iter().map(|source| &source.sha256).eq(&hashes);
    let free = |name: &String| name != demo::NAME && shelf.row(name).map_or(true, |row| own(&row));
    let numbered = (2_u32..).map(|number| format!("{plain}-{number}"));
    std::iter::once(plain.clone()).chain(numbered).find(free).unwrap_or(plain)
}

/// Returns the SHA-256 of bytes as lower-case hexadecimal.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    let digits = Sha256::digest(bytes).into_iter().flat_map(|byte| [byte >> 4, byte & 15]);
    digits.filter_map(|digit| char::from_digit(u32::from(digit), 16)).collect()
}

/// Reads a book and puts it on the shelf as `name`, with its index.
pub(crate) fn onto_shelf(
    world: &World,
    name: &str,
    (files, profile): (Vec<Source>, Overrides),
    keep: KeepSource,
) -> Result<Flora, Failure> {
    // Taken first, so that a name that can't be is told before the book is read.
    let shelf = world.shelf()?;
    let pending = shelf.begin(name)?;
    let (written, amendments) = amendments::of(&shelf, name)?;
    let known = Known { profile, amendments };
    let kept: Vec<(PathBuf, Vec<u8>)> = match keep {
        KeepSource::Copy => files.iter().map(|file| (file.path.clone(), file.bytes.clone())).collect(),
        KeepSource::PathOnly => files.iter().map(|file| (file.path.clone(), Vec::new())).collect(),
    };
    let began = Instant::now();
    let (flora, Report { profile, as_read, amended }) = read(name, files, &known)?;
    let sources: Vec<SourceBytes> = kept.iter().map(|(path, bytes)| SourceBytes { path, bytes }).collect();
    pending.write(&flora, &sources, keep)?;
    if let Some(as_read) = as_read {
        pending.write_as_read(&as_read, &written)?;
    }
    pending.write_profile(&profile.to_string())?;
    search::build(&pending.index_dir(), &flora)?;
    pending.finish()?;
    remark(&format!("{name}: {} pages in {:.1} s", flora.pages.len(), began.elapsed().as_secs_f32()));
    if !amended.is_empty() {
        remark(&amendments::counted(&amended));
    }
    Ok(flora)
}

/// Reads a book while showing how far it is.
fn read(name: &str, files: Vec<Source>, known: &Known) -> Result<(Flora, Report), Failure> {
    let progress = Progress::of(name);
    let files = files.into_iter().map(Source::file).collect();
    let read = ingest::read_knowing(files, known, &|done, all| progress.tell(done, all));
    progress.done();
    Ok(read?)
}

/// Prints what was found and the first of what is doubtful.
fn print(world: &mut World, name: &str, flora: &Flora) -> io::Result<()> {
    let contents = Contents::of(flora);
    writeln!(world.out, "{} is on the shelf as `{name}`", world.look.heading(&titled(&flora.title)))?;
    writeln!(world.out, "licence   {}", Licence::told(flora.license.as_deref()))?;
    for line in wording::found(&Counts::of(flora)) {
        writeln!(world.out, "{line}")?;
    }
    if flora.taxa.is_empty() && flora.keys.is_empty() {
        remark(
            "No key and no treatment was recognised; the book can still be read page by page and searched.",
        );
    }
    let unread = flora.doubts.iter().filter(|doubt| doubt.kind == DoubtKind::Unreadable);
    for line in lost::told(unread.map(|doubt| (doubt.page.0, doubt.advice.clone()))) {
        remark(&line);
    }
    let doubts: Vec<_> = doubts::grouped(&flora.doubts).into_iter().flat_map(|(_, doubts)| doubts).collect();
    for doubt in doubts.iter().take(FIRST_DOUBTS) {
        world.look.paragraph(&mut world.out, "  ", &wording::doubt(&contents, doubt))?;
    }
    if doubts.len() > FIRST_DOUBTS {
        writeln!(world.out, "  … {} more: `ligule check {name}`", doubts.len() - FIRST_DOUBTS)?;
    }
    Ok(())
}

/// Returns a title, or words for a book without.
pub(crate) fn titled(title: &str) -> String {
    if title.is_empty() { "A book without a title".to_owned() } else { format!("“{title}”") }
}

/// Says why a file can't be opened, and what to do.
fn why(path: &Path, error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file; check its name and folder".to_owned(),
        io::ErrorKind::PermissionDenied => "you may not read it; change its permissions".to_owned(),
        _ if path.is_dir() => "it is a folder; name the PDF in it".to_owned(),
        _ => error.to_string(),
    }
}
