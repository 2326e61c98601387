//! `ligule define`: a term with all its senses, from the flora's own glossary first.

use std::io::{self, Write};

use serde_json::json;

use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::link::{Leads, Linker, Mark};
use crate::store::Contents;
use crate::terms::{Lexicon, Origin, Sense, Term, TermId};

/// Terms offered where none fits, at most.
const OFFERED: usize = 5;

/// What `ligule define` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule define calyx
  ligule define half-inferior
  ligule define stigmata --json

Plurals and other forms are found too. Without a flora on the shelf, ligule's own glossary answers.")]
pub(crate) struct Args {
    /// The term
    #[arg(required = true)]
    term: Vec<String>,
    /// The flora whose own glossary comes first [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Option<String>,
    /// Print the entries as JSON
    #[arg(long)]
    json: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let Glossary { lexicon, contents } = glossary(world, args.flora.as_deref())?;
    let asked = args.term.join(" ");
    let found = look_up(&lexicon, &asked);
    if args.json {
        let entries: Vec<serde_json::Value> =
            found.iter().map(|id| term_json(lexicon.get(*id), &contents)).collect();
        let near: Vec<&str> = if found.is_empty() { nearest(&lexicon, &asked) } else { Vec::new() };
        world.json(&json!({"asked": asked, "entries": entries, "nearest": near}))?;
    } else {
        found.iter().try_for_each(|id| print(world, lexicon.get(*id), &contents))?;
    }
    if found.is_empty() {
        let near = nearest(&lexicon, &asked);
        let hint = (!near.is_empty()).then(|| format!("Near it: {}.", near.join(", ")));
        return Err(Failure::Nothing { what: format!("no glossary has “{asked}”"), hint });
    }
    Ok(())
}

/// Returns the entries for a word or words; those of its parts for a compound (`oblong-lanceolate`).
fn look_up(lexicon: &Lexicon, asked: &str) -> Vec<TermId> {
    let found = lexicon.look_up(asked);
    if !found.is_empty() {
        return found;
    }
    let marks = Linker::new(lexicon, std::iter::empty()).marks(asked, lexicon);
    match marks.as_slice() {
        [Mark { range, leads: Leads::Compound(parts), .. }] if *range == (0..asked.len()) => parts.clone(),
        _ => Vec::new(),
    }
}

/// The entries to look in, and the book that some of them stand in.
struct Glossary {
    lexicon: Lexicon,
    contents: Contents,
}

/// Returns the glossary of the flora that is meant, above ligule's own; no flora at all is no failure.
fn glossary(world: &World, flora: Option<&str>) -> Result<Glossary, Failure> {
    match choose::book(world, flora, Named::ByOption) {
        Ok(book) => {
            let contents = book.contents().clone();
            Ok(Glossary { lexicon: Lexicon::with_flora(&contents.title, book.glossary()), contents })
        }
        Err(Failure::NoFlora | Failure::NoHome) => {
            Ok(Glossary { lexicon: Lexicon::built_in(), contents: Contents::default() })
        }
        Err(failure) => Err(failure),
    }
}

/// Returns the headwords spelled most like the word.
fn nearest<'a>(lexicon: &'a Lexicon, asked: &str) -> Vec<&'a str> {
    lexicon.nearest(asked, OFFERED).into_iter().map(|id| lexicon.get(id).name.as_str()).collect()
}

/// Prints one entry.
fn print(world: &mut World, term: &Term, contents: &Contents) -> io::Result<()> {
    let look = world.look;
    let forms =
        if term.forms.is_empty() { String::new() } else { format!(" (also {})", term.forms.join(", ")) };
    writeln!(world.out, "{}{forms}", look.heading(&term.name))?;
    for (at, sense) in term.senses.iter().enumerate() {
        let number = if term.senses.len() > 1 { format!("{}. ", at + 1) } else { String::new() };
        let organs =
            if sense.organs.is_empty() { String::new() } else { format!("of {}: ", sense.organs.join(", ")) };
        look.paragraph(&mut world.out, &format!("  {number}"), &format!("{organs}{}", sense.definition))?;
        for (label, words) in additions(sense) {
            look.paragraph(&mut world.out, &format!("     {label}: "), &words)?;
        }
    }
    if let Some(see) = &term.see {
        writeln!(world.out, "  see {see}")?;
    }
    writeln!(world.out, "  — {}", source(term, contents))
}

/// Returns the words that say where an entry comes from, a flora's own with the page as a book is cited.
fn source(term: &Term, contents: &Contents) -> String {
    match (&term.origin, term.page) {
        (Origin::Flora(_), Some(page)) => format!("this flora, {}", wording::place(contents, page)),
        (Origin::Flora(_) | Origin::Reader | Origin::BuiltIn, _) => term.source(),
    }
}

/// Returns what a sense says besides its definition, each with a label.
fn additions(sense: &Sense) -> Vec<(&'static str, String)> {
    let lists = [
        ("in plain words", sense.plain.join("; ")),
        ("not to be taken for", sense.contrasts.join(", ")),
        ("a kind of", sense.broader.clone().unwrap_or_default()),
        ("note", sense.note.clone().unwrap_or_default()),
    ];
    lists.into_iter().filter(|(_, words)| !words.is_empty()).collect()
}

/// Returns one entry as JSON.
fn term_json(term: &Term, contents: &Contents) -> serde_json::Value {
    let senses: Vec<serde_json::Value> = (term.senses.iter())
        .map(|sense| {
            json!({
                "organs": sense.organs,
                "definition": sense.definition,
                "plain": sense.plain,
                "contrasts": sense.contrasts,
                "broader": sense.broader,
                "note": sense.note,
            })
        })
        .collect();
    json!({
        "term": term.name,
        "forms": term.forms,
        "see": term.see,
        "senses": senses,
        "source": source(term, contents),
        "page": term.page.map(|page| page.0),
    })
}
