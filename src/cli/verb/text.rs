//! `ligule text`: a PDF's text, in reading order or as set on the page, without putting it on the shelf.

use std::borrow::Cow;
use std::io::{self, Write};
use std::ops::RangeInclusive;
use std::path::PathBuf;

use crate::cli::failure::Failure;
use crate::cli::lost;
use crate::cli::progress::Progress;
use crate::cli::verb::ingest::Source;
use crate::cli::world::{World, remark};
use crate::ingest;
use crate::layout::{self, Line, Setting};

/// What `ligule text` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule text morvane.pdf
  ligule text morvane.pdf --page 12 --layout

Running heads and folios are left out of the reading order; --layout has them where they are printed.")]
pub(crate) struct Args {
    /// The PDF
    #[arg(value_name = "FILE.pdf")]
    file: PathBuf,
    /// Only this page of the PDF, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    page: Option<u32>,
    /// Set it as on the page
    #[arg(long)]
    layout: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let file = Source::open(&args.file)?.file();
    let progress = Progress::of(&file.name);
    let set = ingest::text(file, &|done, all| progress.tell(done, all));
    progress.done();
    let set = set?;
    let pages = set.pages.len() as u32;
    if let Some(page) = args.page.filter(|page| *page > pages) {
        return Err(Failure::NoPage { page, pages });
    }
    let wanted = args.page.map_or(1..=pages, |page| page..=page);
    tell_lost(&set, &wanted);
    if args.layout {
        for page in wanted {
            print_page(&mut world.out, &set, page)?;
        }
        return Ok(());
    }
    for block in &set.blocks {
        let lines = lines_on(&block.lines, &wanted);
        if !lines.is_empty() {
            writeln!(world.out, "{}", layout::words(&lines))?;
        }
    }
    // The call ends here, and all its memory goes back at once.
    std::mem::forget(set);
    Ok(())
}

/// Says which of the wanted pages could not be read, or only in part, and why.
fn tell_lost(set: &Setting, wanted: &RangeInclusive<u32>) {
    let numbered = (1..).zip(&set.pages).filter(|(page, _)| wanted.contains(page));
    let lost = numbered.filter_map(|(page, set)| Some((page, set.lost.as_ref()?)));
    for line in lost::told(lost.map(|(page, why)| (page, format!("could not be read in full: {why}")))) {
        remark(&line);
    }
}

/// Returns the lines on the wanted pages; nearly always all of them.
fn lines_on<'a>(lines: &'a [Line], wanted: &RangeInclusive<u32>) -> Cow<'a, [Line]> {
    let is_wanted = |line: &&Line| wanted.contains(&line.page);
    if lines.iter().all(|line| is_wanted(&line)) {
        return Cow::Borrowed(lines);
    }
    Cow::Owned(lines.iter().filter(is_wanted).cloned().collect())
}

/// Prints a page as set out, ended by a form feed.
fn print_page(out: &mut dyn Write, set: &Setting, page: u32) -> io::Result<()> {
    let Some(sheet) = set.pages.get(page as usize - 1) else { return Ok(()) };
    let printed = set.blocks.iter().flat_map(|block| &block.lines).filter(|line| line.page == page);
    let lines: Vec<&Line> = sheet.margins.iter().chain(printed).collect();
    for row in layout::set_out(&lines, sheet.size) {
        writeln!(out, "{}", row.text)?;
    }
    writeln!(out, "\x0c")
}
