//! `ligule show`: a taxon's treatment as text, with the taxa above it, its keys and its members.

use std::io::{self, Write};

use serde_json::json;

use crate::cli::choose::{self, Asked};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::dump;
use crate::model::Taxon;
use crate::store::{Book, Contents, TaxonRow};

/// What `ligule show` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule show Silene alta
  ligule show 'tall campion' --flora morvane
  ligule show S. alta --json

A synonym or a vernacular name does too, and so do the beginnings of a name's words.")]
pub(crate) struct Args {
    /// The taxon's name
    #[arg(required = true)]
    taxon: Vec<String>,
    #[command(flatten)]
    asked: Asked,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let book = args.asked.book(world)?;
    let rows = choose::taxa(book.contents(), &args.taxon.join(" "))?;
    let mut values = Vec::new();
    for (at, row) in rows.into_iter().enumerate() {
        let taxon = choose::item(&book, book.taxon(row.id))?;
        if args.asked.json {
            values.push(taxon_json(book.contents(), row, taxon));
            continue;
        }
        if at > 0 {
            writeln!(world.out)?;
        }
        print(world, &book, row, taxon)?;
    }
    if args.asked.json { world.json(&values.into()) } else { Ok(()) }
}

/// Prints one treatment.
fn print(world: &mut World, book: &Book, row: &TaxonRow, taxon: &Taxon) -> io::Result<()> {
    let (look, contents) = (world.look, book.contents());
    for above in above(contents, row) {
        writeln!(
            world.out,
            "{} {}, {}",
            above.rank.word(),
            above.name,
            wording::places(contents, above.pages)
        )?;
    }
    let number = taxon.number.as_ref().map_or_else(String::new, |number| format!("{number}. "));
    let author = taxon.authorship.as_ref().map_or_else(String::new, |author| format!(" {author}"));
    let name = look.heading(&format!("{number}{}{author}", taxon.name));
    writeln!(world.out, "{name} ({}), {}", taxon.rank.word(), wording::places(contents, taxon.pages))?;
    let named = [
        ("called", &taxon.vernacular),
        ("synonyms", &taxon.synonyms),
        ("names misused for it", &taxon.misapplied),
    ];
    for (label, names) in named {
        if !names.is_empty() {
            look.paragraph(&mut world.out, &format!("{label}: "), &names.join("; "))?;
        }
    }
    for section in &taxon.sections {
        let heading = section.heading.clone().unwrap_or_else(|| section.kind.word().to_owned());
        writeln!(world.out, "\n{}", look.heading(&heading))?;
        look.paragraph(&mut world.out, "", &section.text.plain)?;
    }
    around(world, contents, row)
}

/// Prints where a taxon is keyed, the key to its members and its members.
fn around(world: &mut World, contents: &Contents, row: &TaxonRow) -> io::Result<()> {
    let members: Vec<&str> = contents
        .taxa
        .iter()
        .filter(|member| member.parent == Some(row.id))
        .map(|row| row.name.as_str())
        .collect();
    writeln!(world.out)?;
    if !members.is_empty() {
        world.look.paragraph(&mut world.out, "members: ", &members.join(", "))?;
    }
    for key in contents.keys.iter().filter(|key| key.scope_id == Some(row.id)) {
        writeln!(
            world.out,
            "key to its members: {}, {}",
            choose::title(key),
            wording::place(contents, key.page)
        )?;
    }
    for (id, _) in &row.keyed {
        if let Some(key) = choose::key_row(contents, *id) {
            writeln!(world.out, "keyed in: {}, {}", choose::title(key), wording::place(contents, key.page))?;
        }
    }
    world.look.paragraph(&mut world.out, "", &contents.citation(Some(row.pages)))?;
    if row.keyed.is_empty() { Ok(()) } else { writeln!(world.out, "{}", wording::CAUTION) }
}

/// Returns the taxa above a taxon, the highest first.
fn above<'a>(contents: &'a Contents, row: &TaxonRow) -> Vec<&'a TaxonRow> {
    let parent = |row: &TaxonRow| row.parent.and_then(|id| choose::taxon_row(contents, id));
    // A book may be read so that a taxon lies below itself; there are no more ranks than this.
    let mut above: Vec<&TaxonRow> =
        std::iter::successors(parent(row), |row| parent(row)).take(MOST_RANKS).collect();
    above.reverse();
    above
}

/// Ranks above a taxon at most.
const MOST_RANKS: usize = 11;

/// Returns one treatment as JSON.
fn taxon_json(contents: &Contents, row: &TaxonRow, taxon: &Taxon) -> serde_json::Value {
    let above: Vec<serde_json::Value> = (above(contents, row).into_iter())
        .map(|row| {
            let (first, last) = row.pages;
            json!({"taxonRank": row.rank.word(), "scientificName": row.name, "pages": [first.0, last.0]})
        })
        .collect();
    let keyed: Vec<serde_json::Value> = row
        .keyed
        .iter()
        .map(|(key, couplet)| json!({"key": key.to_string(), "couplet": couplet.0}))
        .collect();
    let mut value = dump::taxon_json(taxon);
    value["higher"] = json!(above);
    value["keyed"] = json!(keyed);
    value["key"] = json!(row.key.map(|id| id.to_string()));
    value
}
