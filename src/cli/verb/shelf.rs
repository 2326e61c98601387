//! `ligule shelf`: the floras that there are, and taking one away.

use std::io::{self, Write};

use clap::Subcommand;
use serde_json::json;

use crate::cli::failure::Failure;
use crate::cli::verb::ingest::titled;
use crate::cli::wording::{self, count};
use crate::cli::world::{World, remark};
use crate::store::{Licence, RowState, ShelfRow};

/// What `ligule shelf` takes.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:
  ligule shelf
  ligule shelf --json
  ligule shelf drop morvane",
    args_conflicts_with_subcommands = true
)]
pub(crate) struct Args {
    #[command(subcommand)]
    change: Option<Change>,
    /// Print the list as JSON
    #[arg(long)]
    json: bool,
}

/// What can be done with the shelf.
#[derive(Debug, Subcommand)]
enum Change {
    /// Takes a flora away with its index and its copy of the PDF
    #[command(after_help = "Example:\n  ligule shelf drop morvane")]
    Drop {
        /// The flora
        name: String,
    },
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let shelf = world.shelf()?;
    if let Some(Change::Drop { name }) = &args.change {
        shelf.remove(name)?;
        if !shelf.amendments(name)?.is_empty() {
            remark(&format!("Its amendments stay in {}.", shelf.amendments_path(name).display()));
        }
        return Ok(writeln!(world.out, "`{name}` is no longer on the shelf")?);
    }
    let rows = shelf.rows()?;
    if args.json {
        let rows: Vec<_> = rows.iter().map(row_json).collect();
        return world.json(&rows.into());
    }
    if rows.is_empty() {
        remark(
            "The shelf is empty. Put a flora on it with `ligule ingest FILE.pdf`, or look at `ligule demo`.",
        );
    }
    Ok(rows.iter().try_for_each(|row| print(world, row))?)
}

/// Prints one flora.
fn print(world: &mut World, row: &ShelfRow) -> io::Result<()> {
    let name = world.look.heading(&row.name);
    let what = match row.state {
        RowState::Ready => format!(
            "{}: {}, {}, {}, {}",
            titled(&row.title),
            count(row.pages, "page", "pages"),
            count(row.counts.all_taxa(), "taxon", "taxa"),
            count(row.counts.keys, "key", "keys"),
            format_args!("licence {}", Licence::told(row.license.as_deref())),
        ),
        RowState::OtherVersion => {
            let sources: Vec<String> =
                row.sources.iter().map(|source| source.path.display().to_string()).collect();
            format!("{}: made by another version; ingest {} again", titled(&row.title), sources.join(" "))
        }
        RowState::Damaged => "damaged; ingest the book again".to_owned(),
    };
    let date = if row.date.is_empty() { String::new() } else { format!(" ({})", row.date) };
    writeln!(world.out, "{name}  {what}{date}")
}

/// Returns one flora as JSON.
fn row_json(row: &ShelfRow) -> serde_json::Value {
    let state = match row.state {
        RowState::Ready => "ready",
        RowState::OtherVersion => "other-version",
        RowState::Damaged => "damaged",
    };
    let sources: Vec<serde_json::Value> = (row.sources.iter())
        .map(|source| {
            json!({"file": source.file, "sha256": source.sha256, "pages": source.pages, "path": source.path.to_string_lossy()})
        })
        .collect();
    json!({
        "name": row.name,
        "state": state,
        "title": row.title,
        "license": row.license,
        "licenseStanding": Licence::of(row.license.as_deref()).words(),
        "pages": row.pages,
        "date": row.date,
        "counts": wording::found_json(&row.counts),
        "sources": sources,
    })
}
