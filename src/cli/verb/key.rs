//! `ligule key`: a key as text, couplet by couplet, each lead with where it leads.

use std::collections::BTreeSet;
use std::io::{self, Write};

use crate::cli::choose::{self, Asked};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::dump;
use crate::model::{CoupletId, Key, Lead, Target};
use crate::store::{Contents, KeyRow};

/// What `ligule key` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule key Silene
  ligule key 'Key to the families'
  ligule key Caryophyllaceae --json

Where a taxon has several keys (in flower, in fruit), all are printed.")]
pub(crate) struct Args {
    /// The taxon whose members are to be told apart, or the key's title
    #[arg(required = true, value_name = "TAXON|TITLE")]
    what: Vec<String>,
    #[command(flatten)]
    asked: Asked,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let book = args.asked.book(world)?;
    let rows = choose::keys(book.contents(), &args.what.join(" "))?;
    let mut values = Vec::new();
    for (at, row) in rows.into_iter().enumerate() {
        let key = choose::item(&book, book.key(row.id))?;
        if args.asked.json {
            values.push(dump::key_json(key));
            continue;
        }
        if at > 0 {
            writeln!(world.out)?;
        }
        print(world, book.contents(), row, key)?;
    }
    if args.asked.json {
        return world.json(&values.into());
    }
    Ok(writeln!(world.out, "{}", wording::CAUTION)?)
}

/// Prints one key.
fn print(world: &mut World, contents: &Contents, row: &KeyRow, key: &Key) -> io::Result<()> {
    let (look, names) = (world.look, Names::of(key));
    writeln!(world.out, "{}, {}", look.heading(&choose::title(row)), wording::place(contents, key.page))?;
    for (at, couplet) in key.couplets.iter().enumerate() {
        writeln!(world.out, "\n{}", look.heading(&names.couplet(key, CoupletId(at as u32))))?;
        let widest = couplet
            .leads
            .iter()
            .filter_map(|lead| lead.label.as_ref())
            .map(|label| label.chars().count())
            .max();
        for lead in &couplet.leads {
            let label = lead.label.as_deref().unwrap_or_default();
            let targets: Vec<String> = std::iter::once(&lead.to)
                .chain(&lead.also)
                .map(|target| names.target(contents, key, target))
                .collect();
            let text = format!("{} → {}", lead.text.plain, targets.join("; ")) + &cited(lead);
            look.paragraph(
                &mut world.out,
                &format!("  {label:width$}  ", width = widest.unwrap_or(0)),
                &text,
            )?;
        }
    }
    let pages = key.couplets.iter().flat_map(|couplet| &couplet.leads).map(|lead| lead.text.page());
    let last = pages.max().filter(|page| *page > key.page).unwrap_or(key.page);
    writeln!(world.out)?;
    look.paragraph(&mut world.out, "", &contents.citation(Some((key.page, last))))
}

/// Returns the printed page that a lead cites.
fn cited(lead: &Lead) -> String {
    lead.cites.as_ref().map_or_else(String::new, |page| format!(" (p. {page})"))
}

/// How couplets are named.
enum Names {
    /// By the label in the book, which no two couplets share.
    ByLabel,
    /// By their place, since labels repeat.
    ByPlace,
}

impl Names {
    /// Returns how the couplets of a key are named.
    fn of(key: &Key) -> Self {
        let labels: BTreeSet<&str> = key.couplets.iter().map(|couplet| couplet.label.as_str()).collect();
        if labels.len() == key.couplets.len() && !labels.contains("") { Self::ByLabel } else { Self::ByPlace }
    }

    /// Returns the name of a couplet.
    fn couplet(&self, key: &Key, id: CoupletId) -> String {
        match (self, key.couplet(id)) {
            (Self::ByLabel, Some(couplet)) => format!("couplet {}", couplet.label),
            (Self::ByLabel | Self::ByPlace, _) => format!("couplet no. {}", id.0 + 1),
        }
    }

    /// Returns the words for a target.
    fn target(&self, contents: &Contents, key: &Key, target: &Target) -> String {
        match target {
            Target::Couplet(id) => self.couplet(key, *id),
            Target::Taxon { name, id: None } => format!("{name}, not treated here"),
            Target::Taxon { name, id: Some(id) } => match choose::taxon_row(contents, *id) {
                Some(row) => format!("{name}, {}", wording::place(contents, row.pages.0)),
                None => name.clone(),
            },
            Target::Key(id) => match choose::key_row(contents, *id) {
                Some(row) => format!("{}, {}", choose::title(row), wording::place(contents, row.page)),
                None => "another key".to_owned(),
            },
            Target::Unresolved(text) if text.is_empty() => "no target printed".to_owned(),
            Target::Unresolved(text) => format!("not found: {text}"),
        }
    }
}
