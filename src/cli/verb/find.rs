//! `ligule find`: the taxa whose descriptions say what is asked, each with what it says, and other places with the words.

use std::io::{self, Write};

use serde_json::json;

use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::describe::{Months, clause_at, month_names};
use crate::model::{Page, Rank};
use crate::search::{self, Answer, Found, Hit, Index, Narrow, Ranked, Says, Share, Source, Verdict};
use crate::store::{Book, Contents};
use crate::terms::Lexicon;

/// Groups that a line of counts names at most.
const MOST_GROUPS: usize = 6;

/// What `ligule find` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule find 'leaves opposite, hairless; petals 5, yellow, 8 mm; not spiny; July'
  ligule find campion --rank genus
  ligule find '\"lime-encrusted\"' --flora morvane --json

Say what you see as a flora would, or in plain words: organ first, commas between what is said of it, a semicolon before
the next organ. Names may be begun or misspelled; words in quotes stand together in the text. What contradicts sinks in the
list and stays in it; silence contradicts nothing.")]
pub(crate) struct Args {
    /// What you see, or a name
    #[arg(required = true)]
    words: Vec<String>,
    /// The flora [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Option<String>,
    /// Only this rank, such as family or genus [default: species and below]
    #[arg(long, value_name = "RANK")]
    rank: Option<String>,
    /// Only members of this family, genus or other taxon
    #[arg(long, value_name = "TAXON")]
    family: Option<String>,
    /// Only what flowers or fruits in this month, or says nothing of it
    #[arg(long, value_name = "MONTH")]
    month: Option<String>,
    /// Only what grows in this district, or says nothing of it
    #[arg(long, value_name = "DISTRICT")]
    district: Option<String>,
    /// Print at most so many
    #[arg(long, value_name = "NUMBER", default_value_t = 10)]
    most: usize,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let narrow = narrow(args)?;
    let book = choose::book(world, args.flora.as_deref(), Named::ByOption)?;
    let words = args.words.join(" ");
    let lexicon = Lexicon::with_flora(&book.contents().title, book.glossary());
    let answer = index(world, &book)?.answer(&words, &narrow, args.most, &lexicon)?;
    let nothing = answer.taxa.is_empty() && answer.elsewhere.is_empty();
    if args.json {
        world.json(&answer_json(&book, &words, &answer))?;
    } else if !nothing {
        print(world, &book, &answer)?;
    }
    if nothing {
        let what = format!("nothing in “{}” answers to: {words}", book.contents().title);
        let hint = Some("Fewer characters find more; `ligule define` explains a term.".to_owned());
        return Err(Failure::Nothing { what, hint });
    }
    Ok(())
}

/// Reads what narrows the taxa.
fn narrow(args: &Args) -> Result<Narrow, Failure> {
    let wrong = |what: String| Failure::Nothing { what, hint: None };
    let rank = args.rank.as_deref().map(|word| {
        let ranks = [
            Rank::Family,
            Rank::Subfamily,
            Rank::Tribe,
            Rank::Genus,
            Rank::Subgenus,
            Rank::Section,
            Rank::Species,
            Rank::Subspecies,
            Rank::Variety,
            Rank::Form,
            Rank::Hybrid,
        ];
        let found = ranks.into_iter().find(|rank| rank.word().eq_ignore_ascii_case(word));
        found.ok_or_else(|| wrong(format!("there is no rank “{word}”")))
    });
    let month = args.month.as_deref().map(|word| {
        let begins =
            |name: &&'static str| word.len() >= 3 && name.to_lowercase().starts_with(&word.to_lowercase());
        let at = month_names().iter().position(begins);
        let number =
            at.map(|at| at as u32 + 1).or_else(|| word.parse().ok().filter(|month| (1..=12).contains(month)));
        number.map(Months::one).ok_or_else(|| wrong(format!("there is no month “{word}”")))
    });
    Ok(Narrow {
        rank: rank.transpose()?,
        within: args.family.clone(),
        months: month.transpose()?,
        district: args.district.clone(),
        among: None,
    })
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

/// Prints an answer: what was understood, the taxa, other places.
fn print(world: &mut World, book: &Book, answer: &Answer) -> io::Result<()> {
    let contents = book.contents();
    for part in &answer.parts {
        writeln!(world.out, "{} = {}", part.words, search::echo(part))?;
    }
    if !answer.taxa.is_empty() {
        let fitting = wording::count(answer.fitting, "taxon", "taxa");
        writeln!(
            world.out,
            "{fitting} of {} contradicted by nothing{}",
            answer.candidates,
            groups(&answer.families)
        )?;
    }
    for taxon in &answer.taxa {
        print_taxon(world, book, answer, taxon)?;
    }
    if !answer.elsewhere.is_empty() {
        writeln!(world.out, "\n{}", world.look.heading("Elsewhere in the book"))?;
    }
    answer.elsewhere.iter().try_for_each(|hit| print_hit(world, contents, hit))
}

/// Returns the largest groups for the end of a line.
fn groups(shares: &[Share]) -> String {
    if shares.is_empty() {
        return String::new();
    }
    let named: Vec<String> =
        shares.iter().take(MOST_GROUPS).map(|share| format!("{} {}", share.name, share.taxa)).collect();
    let more = if shares.len() > MOST_GROUPS { ", …" } else { "" };
    format!(": {}{more}", named.join(", "))
}

/// Prints one taxon with its verdicts.
fn print_taxon(world: &mut World, book: &Book, answer: &Answer, taxon: &Ranked) -> io::Result<()> {
    let contents = book.contents();
    let name = world.look.heading(&taxon.name);
    let through = match &taxon.through {
        Some((name, true)) => format!(" (found as its synonym {name})"),
        Some((name, false)) => format!(" ({name})"),
        None => String::new(),
    };
    writeln!(world.out, "\n{name}{through}, {}", wording::place(contents, taxon.page))?;
    let mut unstated = Vec::new();
    for (part, verdict) in answer.parts.iter().zip(&taxon.verdicts) {
        if !search::is_understood(part) {
            continue;
        }
        if verdict.says == Says::Unstated {
            unstated.push(part.words.as_str());
            continue;
        }
        let whence = whence(contents, taxon, verdict);
        let said = verdict.source.as_ref().and_then(|source| sentence(book, source));
        let said = said.map_or_else(String::new, |(words, _)| format!(": {words}"));
        let line = format!("{} {}{whence}{said}", part.words, verdict.says.word());
        world.look.paragraph(&mut world.out, "  ", &line)?;
    }
    if !unstated.is_empty() {
        world.look.paragraph(&mut world.out, "  ", &format!("unstated: {}", unstated.join("; ")))?;
    }
    Ok(())
}

/// Says whose words a verdict rests on, where they are not the taxon's own.
fn whence(contents: &Contents, taxon: &Ranked, verdict: &Verdict) -> String {
    if let Some((agree, said)) = verdict.members {
        return format!(" ({agree} of {said} members that say)");
    }
    let other = verdict.source.as_ref().filter(|source| source.taxon != taxon.id);
    let row = other.and_then(|source| contents.taxa.get(source.taxon.index()));
    row.map_or_else(String::new, |row| format!(" (inherited from {})", row.name))
}

/// Returns the clause that says something, with its page.
fn sentence(book: &Book, source: &Source) -> Option<(String, Page)> {
    let section = book.taxon(source.taxon)?.sections.get(source.section as usize)?;
    let text = &section.text;
    let words = text.plain.get(clause_at(&text.plain, source.range.start)?)?.to_owned();
    Some((words, text.page_at(source.range.start)))
}

/// Prints one hit of the text.
fn print_hit(world: &mut World, contents: &Contents, hit: &Hit) -> io::Result<()> {
    let title = world.look.heading(&hit.title);
    let term = match hit.what {
        Found::Entry(_) => " (glossary)",
        Found::Taxon(_) | Found::Couplet(..) | Found::Matter(..) => "",
    };
    writeln!(world.out, "{title}{term}, {}", wording::place(contents, hit.page))?;
    world.look.paragraph(&mut world.out, "  ", &hit.snippet)
}

/// Returns an answer as JSON.
fn answer_json(book: &Book, words: &str, answer: &Answer) -> serde_json::Value {
    let contents = book.contents();
    let parts: Vec<serde_json::Value> = (answer.parts.iter())
        .map(|part| json!({"words": part.words, "means": search::echo(part), "understood": search::is_understood(part)}))
        .collect();
    let taxa: Vec<serde_json::Value> =
        answer.taxa.iter().map(|taxon| taxon_json(book, answer, taxon)).collect();
    let shares = |shares: &[Share]| -> Vec<serde_json::Value> {
        shares.iter().map(|share| json!({"name": share.name, "taxa": share.taxa})).collect()
    };
    let hits: Vec<serde_json::Value> = answer.elsewhere.iter().map(|hit| hit_json(contents, hit)).collect();
    json!({
        "flora": book.name(),
        "words": words,
        "parts": parts,
        "candidates": answer.candidates,
        "fitting": answer.fitting,
        "taxa": taxa,
        "families": shares(&answer.families),
        "genera": shares(&answer.genera),
        "districts": shares(&answer.districts),
        "months": shares(&answer.months),
        "hits": hits,
    })
}

/// Returns one taxon as JSON.
fn taxon_json(book: &Book, answer: &Answer, taxon: &Ranked) -> serde_json::Value {
    let contents = book.contents();
    let verdicts = answer.parts.iter().zip(&taxon.verdicts).filter(|(part, _)| search::is_understood(part));
    let verdicts: Vec<serde_json::Value> = verdicts
        .map(|(part, verdict)| {
            let said = verdict.source.as_ref().and_then(|source| sentence(book, source));
            let inherited = verdict.source.as_ref().filter(|source| source.taxon != taxon.id);
            json!({
                "words": part.words,
                "says": verdict.says.word(),
                "inheritedFrom": inherited.map(|source| source.taxon.to_string()),
                "members": verdict.members.map(|(agree, said)| json!({"agree": agree, "say": said})),
                "sentence": said.as_ref().map(|(words, _)| words),
                "page": said.as_ref().map(|(_, page)| page.0),
            })
        })
        .collect();
    json!({
        "id": taxon.id.to_string(),
        "taxonRank": taxon.rank.word(),
        "scientificName": taxon.name,
        "through": taxon.through.as_ref().map(|(name, synonym)| json!({"name": name, "synonym": synonym})),
        "page": taxon.page.0,
        "folio": wording::folio(contents, taxon.page),
        "verdicts": verdicts,
        "keyed": taxon.keyed.map(|(key, couplet)| json!({"key": key.to_string(), "couplet": couplet.0})),
    })
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
