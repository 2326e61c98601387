//! `ligule define`: a term with all its senses, from the flora's own glossary first.

use std::io::{self, Write};

use serde_json::json;

use crate::clause::{bearers, organ_of};
use crate::cli::choose::{self, Named};
use crate::cli::drawing::side_by_side;
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::{Lines, World, remark};
use crate::link::{Composed, Leads, Linker, Mark, Relation, compose, relation};
use crate::reader;
use crate::sketch::{self, Sketch};
use crate::store::Contents;
use crate::terms::{Lexicon, Origin, Sense, Term, TermId};

/// Columns and rows of a drawing.
const SIZE: (u16, u16) = (24, 12);

/// Terms offered where none fits, at most.
const OFFERED: usize = 5;

/// What `ligule define` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule define calyx
  ligule define half-inferior
  ligule define keel --organ glume
  ligule define stigmata --json
  ligule define ovate --svg > ovate.svg

Plurals and other forms are found too; a compound is answered by its parts, and a word that no glossary has by what
it is built from, and that is said. The flora's own glossary comes first, then your own entries, then those of other
floras on the shelf, then ligule's. Your own entries stand in `glossary.toml` in LIGULE_HOME, one like this:

  [[term]]
  name = \"zawn\"
  forms = [\"zawns\"]
  [[term.sense]]
  organs = [\"leaf\"]
  definition = \"a deep notch\"

An entry may also have `see = \"TERM\"` in place of senses; a sense may have `plain`, `contrasts`, `broader`, `note`.")]
pub(crate) struct Args {
    /// The term
    #[arg(required = true)]
    term: Vec<String>,
    /// Only the senses that are said of this organ
    #[arg(long, value_name = "ORGAN")]
    organ: Option<String>,
    /// The flora whose own glossary comes first [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Option<String>,
    /// Print the entries as JSON
    #[arg(long)]
    json: bool,
    /// Print the drawing too where the output is no terminal
    #[arg(long, conflicts_with = "json")]
    sketch: bool,
    /// Print only the drawing, as an SVG document
    #[arg(long, conflicts_with_all = ["json", "sketch"])]
    svg: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let Glossary { lexicon, contents } = glossary(world, args.flora.as_deref())?;
    let asked = args.term.join(" ");
    let found = look_up(&lexicon, &asked);
    let organ = args.organ.as_deref().map(organ).transpose()?;
    let of = |id: &TermId| senses(lexicon.get(*id), organ);
    if organ.is_some() && found.parts().iter().all(|id| of(id).len() == lexicon.get(*id).senses.len()) {
        remark("No sense is told apart by this organ; all are shown.");
    }
    if args.svg {
        return svg(&lexicon, (&found, &asked), world);
    }
    if args.json {
        let entries: Vec<serde_json::Value> =
            found.parts().iter().map(|id| term_json((lexicon.get(*id), &of(id)), &contents)).collect();
        let near: Vec<&str> = if entries.is_empty() { nearest(&lexicon, &asked) } else { Vec::new() };
        let made = found.said(&lexicon);
        world.json(&json!({"asked": asked, "composed": made, "entries": entries, "nearest": near}))?;
    } else {
        if let Some(made) = found.said(&lexicon) {
            let look = world.look;
            look.paragraph(&mut world.out, "", &format!("{asked}: {made}"))?;
        }
        if args.sketch || world.look.lines != Lines::Whole {
            draw(&lexicon, found.parts(), world)?;
        }
        found.parts().iter().try_for_each(|id| print(world, (lexicon.get(*id), &of(id)), &contents))?;
    }
    if found.parts().is_empty() {
        let near = nearest(&lexicon, &asked);
        let hint = (!near.is_empty()).then(|| format!("Near it: {}.", near.join(", ")));
        return Err(Failure::Nothing { what: format!("no glossary has “{asked}”"), hint });
    }
    Ok(())
}

/// Returns the drawings of entries, each once.
fn drawn(lexicon: &Lexicon, ids: &[TermId]) -> Vec<(String, Sketch)> {
    let mut found: Vec<(String, Sketch)> = Vec::new();
    for sketch in ids.iter().filter_map(|id| sketch::of(&lexicon.get(*id).name.to_lowercase())) {
        if !found.iter().any(|(name, _)| name == sketch.name()) {
            found.push((sketch.name().to_owned(), sketch));
        }
    }
    found
}

/// Prints what can be drawn, with what it is first to be told apart from.
fn draw(lexicon: &Lexicon, ids: &[TermId], world: &mut World) -> io::Result<()> {
    let mut drawings = drawn(lexicon, ids);
    if let [(name, _)] = drawings.as_slice() {
        let contrasts = ids.iter().flat_map(|id| &lexicon.get(*id).senses).flat_map(|sense| &sense.contrasts);
        let pair = |other: &String| Some((other.clone(), sketch::pair(name, &other.to_lowercase())?));
        if let Some((other, [own, against])) = contrasts.clone().find_map(pair) {
            drawings = vec![(name.clone(), own), (format!("not {other}"), against)];
        }
    }
    if drawings.is_empty() {
        return Ok(());
    }
    side_by_side(&drawings, SIZE, world.dots).iter().try_for_each(|row| writeln!(world.out, "  {row}"))
}

/// Prints a drawing as a document.
fn svg(lexicon: &Lexicon, (found, asked): (&Answer, &str), world: &mut World) -> Result<(), Failure> {
    let Some((_, sketch)) = drawn(lexicon, found.parts()).into_iter().next() else {
        let hint = sketch::names().take(OFFERED).collect::<Vec<_>>().join(", ");
        return Err(Failure::Nothing {
            what: format!("“{asked}” has no drawing"),
            hint: Some(format!("Others have one, such as {hint}.")),
        });
    };
    Ok(write!(world.out, "{}", sketch.svg())?)
}

/// What a word or words lead to.
enum Answer {
    /// The entries of all sources.
    Entries(Vec<TermId>),
    /// The entries of the parts of a compound.
    Parts(Vec<TermId>),
    /// A word that no glossary has, put together.
    Composed(Composed),
}

impl Answer {
    /// Returns the entries.
    fn parts(&self) -> &[TermId] {
        match self {
            Self::Entries(ids) | Self::Parts(ids) => ids,
            Self::Composed(composed) => std::slice::from_ref(&composed.part),
        }
    }

    /// Says how the word is put together, if it is.
    fn said(&self, lexicon: &Lexicon) -> Option<String> {
        match self {
            Self::Entries(_) => None,
            Self::Parts(ids) => Some(match relation(ids, lexicon) {
                Relation::Between => "between its parts, nearer the last (composed)".to_owned(),
                Relation::Both => "all of its parts at once (composed)".to_owned(),
            }),
            Self::Composed(composed) => Some(composed.explained(lexicon)),
        }
    }
}

/// Returns the entries for a word or words, else those of the parts of a compound (`oblong-lanceolate`), else how the
/// word is composed.
fn look_up(lexicon: &Lexicon, asked: &str) -> Answer {
    let found = lexicon.look_up(asked);
    if !found.is_empty() {
        return Answer::Entries(found);
    }
    if let Some(composed) = compose(asked, lexicon) {
        return Answer::Composed(composed);
    }
    let marks = Linker::new(std::iter::empty()).marks(asked, lexicon);
    match marks.as_slice() {
        [Mark { range, leads: Leads::Compound(parts), .. }] if *range == (0..asked.len()) => {
            Answer::Parts(parts.clone())
        }
        _ => Answer::Entries(Vec::new()),
    }
}

/// Returns the organ that a word names.
fn organ(word: &str) -> Result<&'static str, Failure> {
    organ_of(word).ok_or_else(|| Failure::Nothing {
        what: format!("“{word}” is no organ that ligule knows"),
        hint: Some("Name it as floras do: leaf, petal, stamen, fruit.".to_owned()),
    })
}

/// Returns the senses said of an organ, or of what it is a kind or part of; all where none is, or no organ is asked for.
fn senses<'a>(term: &'a Term, organ: Option<&str>) -> Vec<&'a Sense> {
    let all = || term.senses.iter().collect();
    let Some(organ) = organ else { return all() };
    let of = |organ: &str| -> Vec<&'a Sense> {
        term.senses.iter().filter(|sense| sense.organs.iter().any(|own| own == organ)).collect()
    };
    bearers(organ).map(of).find(|found| !found.is_empty()).unwrap_or_else(all)
}

/// The entries to look in, and the book that some of them stand in.
struct Glossary {
    lexicon: Lexicon,
    contents: Contents,
}

/// Returns the words of the flora that is meant and of all other sources; no flora at all is no failure.
fn glossary(world: &World, flora: Option<&str>) -> Result<Glossary, Failure> {
    let book = match choose::book(world, flora, Named::ByOption) {
        Ok(book) => Some(book),
        Err(Failure::NoFlora | Failure::NoHome) => None,
        Err(failure) => return Err(failure),
    };
    let shelf = world.shelf().ok();
    let (lexicon, wrong) = reader::lexicon(shelf.as_ref(), book.as_ref());
    for wrong in &wrong {
        remark(wrong);
    }
    let contents = book.map(|book| book.contents().clone()).unwrap_or_default();
    Ok(Glossary { lexicon, contents })
}

/// Returns the headwords spelled most like the word.
fn nearest<'a>(lexicon: &'a Lexicon, asked: &str) -> Vec<&'a str> {
    lexicon.nearest(asked, OFFERED).into_iter().map(|id| lexicon.get(id).name.as_str()).collect()
}

/// Prints one entry.
fn print(world: &mut World, (term, senses): (&Term, &[&Sense]), contents: &Contents) -> io::Result<()> {
    let look = world.look;
    let forms =
        if term.forms.is_empty() { String::new() } else { format!(" (also {})", term.forms.join(", ")) };
    writeln!(world.out, "{}{forms}", look.heading(&term.name))?;
    for (at, sense) in senses.iter().enumerate() {
        let number = if senses.len() > 1 { format!("{}. ", at + 1) } else { String::new() };
        let organs =
            if sense.organs.is_empty() { String::new() } else { format!("of {}: ", sense.organs.join(", ")) };
        look.paragraph(&mut world.out, &format!("  {number}"), &format!("{organs}{}", sense.definition))?;
        for (label, words) in additions(sense) {
            look.paragraph(&mut world.out, &format!("     {label}: "), &words)?;
        }
    }
    match term.senses.len() - senses.len() {
        0 => {}
        1 => writeln!(world.out, "  (1 more sense, of other organs)")?,
        more => writeln!(world.out, "  ({more} more senses, of other organs)")?,
    }
    if let Some(see) = &term.see {
        writeln!(world.out, "  see {see}")?;
    }
    writeln!(world.out, "  — {}", source(term, contents))?;
    match (&term.origin, term.page) {
        (Origin::Flora(_), Some(page)) => {
            look.paragraph(&mut world.out, "  ", &contents.citation(Some((page, page))))
        }
        (Origin::Flora(_) | Origin::Reader | Origin::Other(_) | Origin::BuiltIn, _) => Ok(()),
    }
}

/// Returns the words that say where an entry comes from, a flora's own with the page as a book is cited.
fn source(term: &Term, contents: &Contents) -> String {
    match (&term.origin, term.page) {
        (Origin::Flora(_), Some(page)) => format!("this flora, {}", wording::place(contents, page)),
        (Origin::Flora(_) | Origin::Reader | Origin::Other(_) | Origin::BuiltIn, _) => term.source(),
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
fn term_json((term, senses): (&Term, &[&Sense]), contents: &Contents) -> serde_json::Value {
    let senses: Vec<serde_json::Value> = (senses.iter())
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
