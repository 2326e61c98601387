//! `ligule find`: the places of a flora that hold all the words, with the sentence that holds them.

use std::io::{self, Write};

use serde_json::json;

use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::search::{self, Found, Hit, Index};
use crate::store::{Book, Contents};

/// What `ligule find` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule find calyx inflated
  ligule find '\"leaves opposite\"' hairy
  ligule find spines --flora morvane --json

All words must occur; quoted words in their order. Case, accents and the plural's s make no difference. Names come first.")]
pub(crate) struct Args {
    /// The words
    #[arg(required = true)]
    words: Vec<String>,
    /// The flora [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Option<String>,
    /// Print at most so many
    #[arg(long, value_name = "NUMBER", default_value_t = 20)]
    most: usize,
    /// Print the hits as JSON
    #[arg(long)]
    json: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let book = choose::book(world, args.flora.as_deref(), Named::ByOption)?;
    // The blank at the end says that the last word is whole.
    let words = args.words.join(" ") + " ";
    let hits = index(world, &book)?.find(&words, args.most)?;
    if args.json {
        let hits: Vec<serde_json::Value> = hits.iter().map(|hit| hit_json(book.contents(), hit)).collect();
        world.json(&json!({"flora": book.name(), "words": words.trim_end(), "hits": hits}))?;
    } else {
        hits.iter().try_for_each(|hit| print(world, book.contents(), hit))?;
    }
    if hits.is_empty() {
        let what = format!("no text of “{}” holds all of: {}", book.contents().title, words.trim_end());
        let hint = Some("Fewer words find more.".to_owned());
        return Err(Failure::Nothing { what, hint });
    }
    Ok(())
}

/// Opens the flora's index, made anew where this version can't read it.
fn index(world: &World, book: &Book) -> Result<Index, Failure> {
    let dir = world.shelf()?.index_dir(book.name());
    match Index::open(&dir) {
        Ok(index) => Ok(index),
        Err(search::Error::Missing { .. } | search::Error::Engine { .. }) => {
            search::build(&dir, &book.whole()?)?;
            Ok(Index::open(&dir)?)
        }
        Err(error) => Err(error.into()),
    }
}

/// Prints one hit.
fn print(world: &mut World, contents: &Contents, hit: &Hit) -> io::Result<()> {
    let title = world.look.heading(&hit.title);
    let term = match hit.what {
        Found::Entry(_) => " (glossary)",
        Found::Taxon(_) | Found::Couplet(..) | Found::Matter(..) => "",
    };
    writeln!(world.out, "{title}{term}, {}", wording::place(contents, hit.page))?;
    world.look.paragraph(&mut world.out, "  ", &hit.snippet)
}

/// Returns one hit as JSON.
fn hit_json(contents: &Contents, hit: &Hit) -> serde_json::Value {
    let mut value = match hit.what {
        Found::Taxon(id) => json!({"kind": "taxon", "id": id.to_string()}),
        Found::Couplet(key, couplet) => {
            json!({"kind": "couplet", "id": key.to_string(), "couplet": couplet.0})
        }
        Found::Matter(id, paragraph) => {
            json!({"kind": "matter", "id": id.to_string(), "paragraph": paragraph})
        }
        Found::Entry(id) => json!({"kind": "term", "id": id.to_string()}),
    };
    value["title"] = json!(hit.title);
    value["sentence"] = json!(hit.snippet);
    value["page"] = json!(hit.page.0);
    value["folio"] = json!(wording::folio(contents, hit.page));
    value
}
