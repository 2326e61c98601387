//! `ligule check`: how a book is set, what was found in it, and everything that is doubtful.

use std::io::{self, Write};

use serde_json::json;

use crate::amend;
use crate::cli::amendments;
use crate::cli::choose::{self, Named};
use crate::cli::doubts;
use crate::cli::failure::Failure;
use crate::cli::verb::ingest::titled;
use crate::cli::wording;
use crate::cli::world::World;
use crate::dump;
use crate::model::Doubt;
use crate::store::{Book, Counts, Licence};

/// What `ligule check` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule check morvane
  ligule check morvane --json

Doubts are grouped by kind, the worst first, each with its page, what to do about it and the call that shows it.")]
pub(crate) struct Args {
    /// The flora [default: the only one, or the one read last]
    name: Option<String>,
    /// Print the report as JSON
    #[arg(long)]
    json: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let book = choose::book(world, args.name.as_deref(), Named::ByArgument)?;
    let profile = world.shelf()?.profile(book.name())?;
    let flora = book.whole()?;
    let counts = Counts::of(&flora);
    let shelf = world.shelf()?;
    let applied = shelf.amendments_applied(book.name())?;
    let changed = (applied != shelf.amendments(book.name())?)
        .then(|| shelf.amendments_path(book.name()).display().to_string());
    let amended = amend::read(&applied).unwrap_or_default();
    let amended = amendments::rows(&amended, book.doubts());
    if args.json {
        return json(world, &book, &counts, (&profile, &amended));
    }
    print(world, &book, &counts, &profile)?;
    Ok(amendments::print(world, &amended, changed.as_deref())?)
}

/// Prints the report.
fn print(world: &mut World, book: &Book, counts: &Counts, profile: &str) -> io::Result<()> {
    let (look, contents) = (world.look, book.contents());
    writeln!(world.out, "{}", look.heading(&titled(&contents.title)))?;
    for source in book.sources() {
        writeln!(world.out, "source    {} ({} pages, SHA-256 {})", source.file, source.pages, source.sha256)?;
    }
    writeln!(world.out, "licence   {}", Licence::told(contents.license.as_deref()))?;
    if !profile.is_empty() {
        writeln!(world.out, "\n{}\n{}", look.heading("How the book is set"), profile.trim_end())?;
    }
    writeln!(world.out, "\n{}", look.heading("What was found"))?;
    for line in wording::found(counts) {
        writeln!(world.out, "{line}")?;
    }
    for (heading, doubts) in doubts::grouped(book.doubts()) {
        writeln!(world.out, "\n{} ({})", look.heading(&sentence(heading)), doubts.len())?;
        for doubt in doubts {
            look.paragraph(&mut world.out, "  ", &wording::doubt(contents, doubt))?;
            look.paragraph(&mut world.out, "    ", &seen_by(book.name(), doubt))?;
        }
    }
    Ok(())
}

/// Returns the call that shows where a doubt stands in the book.
fn seen_by(name: &str, doubt: &Doubt) -> String {
    format!("ligule read {name} --at page:{}", doubt.page)
}

/// Prints the report as JSON.
fn json(
    world: &mut World,
    book: &Book,
    counts: &Counts,
    (profile, amended): (&str, &[amendments::Row]),
) -> Result<(), Failure> {
    let contents = book.contents();
    let groups = doubts::grouped(book.doubts());
    let doubts: Vec<serde_json::Value> = (groups.into_iter().flat_map(|(_, doubts)| doubts))
        .map(|doubt| {
            let mut value = dump::doubt_json(doubt);
            value["folio"] = json!(wording::folio(contents, doubt.page));
            value["seenBy"] = json!(seen_by(book.name(), doubt));
            value
        })
        .collect();
    world.json(&json!({
        "name": book.name(),
        "title": contents.title,
        "license": contents.license,
        "licenseStanding": Licence::of(contents.license.as_deref()).words(),
        "pages": contents.pages,
        "profile": profile,
        "counts": wording::found_json(counts),
        "amendments": amended.iter().map(|row| json!({"words": row.words, "says": row.says, "holds": row.holds}))
            .collect::<Vec<_>>(),
        "doubts": doubts,
    }))
}

/// Returns words with a capital first.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
