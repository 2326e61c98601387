//! `ligule route`: every lead that is true of a taxon, from the start of the flora to where it keys out.

use std::collections::BTreeSet;
use std::io::{self, Write};

use serde_json::{Value, json};

use crate::cli::choose::{self, Asked};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::keying::{Graph, Routes, Turn};
use crate::model::{Key, Lead, Page};
use crate::store::{Book, TaxonRow};

/// What `ligule route` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule route Silene rupicola
  ligule route 'rock campion' --json

Where a taxon keys out in several places, every route is printed.")]
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
    let graph = Graph::of(book.contents().keys.iter().map(|row| book.key(row.id)));
    let mut values = Vec::new();
    for row in rows {
        let routes = graph.routes(row.id);
        if routes.routes.is_empty() {
            return Err(Failure::Nothing {
                what: format!("no key of this flora leads to {}", row.name),
                hint: Some(format!("`ligule show {}` prints its treatment.", row.name)),
            });
        }
        if args.asked.json {
            values.extend(routes.routes.iter().map(|route| route_json(&book, row, route)));
        } else {
            print(world, &book, (row, &routes))?;
        }
    }
    if args.asked.json {
        return world.json(&values.into());
    }
    Ok(writeln!(world.out, "{}", wording::CAUTION)?)
}

/// Prints the routes of one taxon.
fn print(world: &mut World, book: &Book, (row, routes): (&TaxonRow, &Routes)) -> io::Result<()> {
    let look = world.look;
    for (at, route) in routes.routes.iter().enumerate() {
        let title = format!("{}, route {} of {}", row.name, at + 1, routes.routes.len());
        writeln!(world.out, "{}{}", if at > 0 { "\n" } else { "" }, look.heading(&title))?;
        let mut before = None;
        for turn in route {
            let Some((key, lead)) = lead_of(book, *turn) else { continue };
            if before != Some(key.id) {
                let key_row = &book.contents().keys[key.id.index()];
                let place = wording::place(book.contents(), lead.text.page());
                writeln!(world.out, "  {}, {place}", choose::title(key_row))?;
                before = Some(key.id);
            }
            let label = format!("    {:6} ", label_of(key, *turn));
            look.paragraph(&mut world.out, &label, &lead.text.plain)?;
        }
    }
    if routes.more {
        writeln!(world.out, "\nThere are more routes than these.")?;
    }
    let turns = routes.routes.iter().flatten();
    let pages: BTreeSet<Page> = turns.filter_map(|turn| Some(lead_of(book, *turn)?.1.text.page())).collect();
    let ends = pages.first().copied().zip(pages.last().copied());
    writeln!(world.out)?;
    look.paragraph(&mut world.out, "", &book.contents().citation(ends))
}

fn lead_of(book: &Book, turn: Turn) -> Option<(&Key, &Lead)> {
    let key = book.key(turn.spot.key)?;
    Some((key, key.couplet(turn.spot.couplet)?.leads.get(turn.lead)?))
}

/// Returns the label of a lead, else that of its couplet.
fn label_of(key: &Key, turn: Turn) -> &str {
    let couplet = key.couplet(turn.spot.couplet);
    let lead = couplet.and_then(|couplet| couplet.leads.get(turn.lead)?.label.as_deref());
    lead.or(couplet.map(|couplet| couplet.label.as_str())).unwrap_or_default()
}

fn route_json(book: &Book, row: &TaxonRow, route: &[Turn]) -> Value {
    let leads = route.iter().filter_map(|turn| {
        let (key, lead) = lead_of(book, *turn)?;
        let title = choose::title(&book.contents().keys[key.id.index()]);
        Some(json!({
            "key": title,
            "couplet": turn.spot.couplet.0,
            "lead": turn.lead,
            "label": label_of(key, *turn),
            "text": lead.text.plain,
            "page": lead.text.page().0,
        }))
    });
    json!({ "scientificName": row.name, "leads": leads.collect::<Vec<_>>() })
}
