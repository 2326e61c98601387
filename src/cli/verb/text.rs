//! `ligule text`: a PDF's text, in reading order or as set on the page, without putting it on the shelf.

use std::io::{self, Write};
use std::path::PathBuf;

use unicode_width::UnicodeWidthStr;

use crate::cli::failure::Failure;
use crate::cli::progress::Progress;
use crate::cli::verb::ingest::Source;
use crate::cli::world::World;
use crate::ingest;
use crate::layout::{self, Gap, Line, Setting};

/// Width of a column of the character grid, in ems of the book's body size: about the mean advance of text type.
const COLUMN: f32 = 0.42;

/// Lines whose baselines differ by less than this share of their size stand in one row of the grid.
const SAME_ROW: f32 = 0.4;

/// Baselines farther apart than this many sizes are parted by an empty row; usual leading is 1.2.
const EMPTY_ROW: f32 = 2.0;

/// What `ligule text` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule text morvane.pdf
  ligule text morvane.pdf --page 12 --layout

Running heads and folios are left out of the reading order; --layout has them at the head of their page.")]
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
    if args.layout {
        for page in wanted {
            print_page(&mut world.out, &set, page)?;
        }
        return Ok(());
    }
    for block in &set.blocks {
        let lines: Vec<Line> =
            block.lines.iter().filter(|line| wanted.contains(&line.page)).cloned().collect();
        if !lines.is_empty() {
            writeln!(world.out, "{}", layout::words(&lines))?;
        }
    }
    Ok(())
}

/// Prints a page on a grid of characters, ended by a form feed.
fn print_page(out: &mut dyn Write, set: &Setting, page: u32) -> io::Result<()> {
    if let Some(heads) = set.pages.get(page as usize - 1).map(|page| &page.heads) {
        heads.iter().try_for_each(|head| writeln!(out, "{head}"))?;
    }
    let mut lines: Vec<&Line> =
        set.blocks.iter().flat_map(|block| &block.lines).filter(|line| line.page == page).collect();
    lines.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x0.total_cmp(&b.x0)));
    let left = lines.iter().map(|line| line.x0).fold(f32::INFINITY, f32::min);
    let column = COLUMN * set.body_size.max(1.0);
    let mut above: Option<&Line> = None;
    for row in lines.chunk_by(|a, b| b.y - a.y < SAME_ROW * a.size) {
        if above.is_some_and(|above| row[0].y - above.y > EMPTY_ROW * above.size) {
            writeln!(out)?;
        }
        let mut runs: Vec<Placed> = row.iter().flat_map(|line| placed(line, left, column)).collect();
        runs.sort_by_key(|run| run.column);
        writeln!(out, "{}", on_grid(&runs))?;
        above = row.last().copied();
    }
    writeln!(out, "\x0c")
}

/// A run on the grid.
struct Placed<'a> {
    text: &'a str,
    before: Gap,
    column: usize,
}

/// Returns the runs of a line with their columns; what stands in another column of the page stays well apart.
fn placed(line: &Line, left: f32, column: f32) -> impl Iterator<Item = Placed<'_>> {
    line.runs.iter().enumerate().map(move |(at, run)| Placed {
        text: &run.text,
        before: if at == 0 { Gap::Wide } else { run.before },
        column: ((run.x0 - left) / column).round().max(0.0) as usize,
    })
}

/// Returns runs in a line of text, each at its column or as soon as the one before it ends.
fn on_grid(runs: &[Placed]) -> String {
    let mut text = String::new();
    for run in runs {
        let (least, fill) = match run.before {
            Gap::None => (0, " "),
            Gap::Space => (1, " "),
            Gap::Wide => (2, " "),
            Gap::Leader => (2, "."),
        };
        let room = run.column.saturating_sub(text.width());
        let room = match (text.is_empty(), run.before) {
            (true, _) => room,
            // A change of style within a word or between words must not tear them apart.
            (false, Gap::None | Gap::Space) => least,
            (false, Gap::Wide | Gap::Leader) => room.max(least),
        };
        text.push_str(&fill.repeat(room));
        // At a line's end a soft hyphen is printed, so it is here.
        text.push_str(&run.text.replace('\u{ad}', "-"));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks how runs at the columns given are set.
    #[track_caller]
    fn check_grid(runs: &[(Gap, usize, &str)], expected: &str) {
        let runs: Vec<Placed> = runs
            .iter()
            .map(|(before, column, text)| Placed { text, before: *before, column: *column })
            .collect();
        assert_eq!(on_grid(&runs), expected);
    }

    #[test]
    fn runs_stand_at_their_columns() {
        check_grid(&[(Gap::None, 2, "1a"), (Gap::Wide, 6, "Petals red")], "  1a  Petals red");
        check_grid(&[(Gap::None, 0, "Petals red"), (Gap::Leader, 14, "2")], "Petals red....2");
    }

    #[test]
    fn runs_never_touch_and_words_are_not_torn() {
        check_grid(&[(Gap::None, 0, "Petals"), (Gap::Wide, 3, "red")], "Petals  red");
        check_grid(&[(Gap::None, 0, "Sil"), (Gap::None, 5, "ene"), (Gap::Space, 12, "alta")], "Silene alta");
    }

    #[test]
    fn a_soft_hyphen_is_printed() {
        check_grid(&[(Gap::None, 0, "func\u{ad}")], "func-");
    }
}
