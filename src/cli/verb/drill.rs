//! `ligule drill`: a few of the terms that were looked up, asked; the log of them, printed or forgotten.

use std::io::Write;

use serde_json::json;

use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::sitting::{Given, Sitting};
use crate::cli::wording::count;
use crate::cli::world::{World, date, lines_in, remark};
use crate::drill::{A_FEW, DAY, Glossary, Log, LookUp};
use crate::reader;
use crate::sketch;
use crate::store::{Book, look_ups};

/// What `ligule drill` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule drill
  ligule drill --most 10
  ligule drill --list --json
  ligule drill --forget

Terms that you look up in the reader are remembered with the couplet or treatment where they stood. Each is asked the
day after you knew it, then after 6 days, then at ever longer intervals (the scheme SM-2); one that you did not know begins
anew and comes once more on the same day. No definition is ever hidden elsewhere because you know it.
All of it stands in `looked-up.jsonl` in LIGULE_HOME; --forget deletes that.")]
pub(crate) struct Args {
    /// Print the terms looked up with where and when, and ask nothing
    #[arg(long, conflicts_with = "forget")]
    list: bool,
    /// Print the list as JSON
    #[arg(long, requires = "list")]
    json: bool,
    /// Delete everything that is remembered of look-ups and answers
    #[arg(long)]
    forget: bool,
    /// Ask so many terms at most
    #[arg(long, value_name = "NUMBER", default_value_t = A_FEW)]
    most: usize,
    /// Draw other questions for the same terms and day
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    seed: u64,
    /// The flora whose own glossary comes first [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Option<String>,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    if args.forget {
        return forget(world);
    }
    let log = log(world)?;
    if args.list {
        return list(&log, args.json, world);
    }
    if log.is_empty() {
        return Err(nothing_looked_up());
    }
    ask(args, log, world)
}

/// Reads the log; damaged lines are put aside and told.
fn log(world: &World) -> Result<Log, Failure> {
    let root = world.home()?;
    let (log, damaged) = Log::read(&look_ups::text(root)?);
    if !damaged.is_empty() {
        let aside = look_ups::put_aside(root, |text| Log::read(text).1)?;
        let lines = count(damaged.len() as u32, "damaged line", "damaged lines");
        remark(&format!("{lines} of the log put aside in {}; the rest is used.", aside.display()));
    }
    Ok(log)
}

fn forget(world: &mut World) -> Result<(), Failure> {
    let found = look_ups::forget(world.home()?)?;
    let said = if found { "What you looked up is forgotten." } else { "Nothing was remembered." };
    Ok(writeln!(world.out, "{said}")?)
}

/// Prints what was looked up, the first first.
fn list(log: &Log, as_json: bool, world: &mut World) -> Result<(), Failure> {
    if as_json {
        let due = |look_up: &LookUp| log.word(&look_up.term).map(|word| date(word.memory.due));
        let rows: Vec<serde_json::Value> = (log.look_ups())
            .map(|look_up| {
                json!({
                    "term": look_up.term,
                    "at": look_up.at,
                    "date": date(look_up.at / DAY),
                    "flora": look_up.flora,
                    "place": look_up.place,
                    "said": look_up.said,
                    "plant": look_up.plant,
                    "due": due(look_up),
                })
            })
            .collect();
        return world.json(&json!(rows));
    }
    if log.is_empty() {
        return Err(nothing_looked_up());
    }
    let look = world.look;
    for look_up in log.look_ups() {
        writeln!(world.out, "{}  {}", date(look_up.at / DAY), look.heading(&look_up.term))?;
        look.paragraph(&mut world.out, "            ", &look_up.met())?;
        if !look_up.said.is_empty() {
            look.paragraph(&mut world.out, "            ", &format!("“{}”", look_up.said))?;
        }
    }
    Ok(())
}

fn nothing_looked_up() -> Failure {
    Failure::Nothing {
        what: "no term was looked up yet".to_owned(),
        hint: Some(
            "In the reader, t and a letter mark a term and d opens it; both are remembered.".to_owned(),
        ),
    }
}

/// Asks the terms that are due.
fn ask(args: &Args, log: Log, world: &mut World) -> Result<(), Failure> {
    let root = world.home()?.to_owned();
    let book = book(world, args.flora.as_deref())?;
    let (lexicon, wrong) = reader::lexicon(world.shelf().ok().as_ref(), book.as_ref());
    for wrong in &wrong {
        remark(wrong);
    }
    let day = world.now / DAY;
    let due = log.due(day);
    if due.is_empty() {
        let next = log.next_day(day).map(|day| format!(" The next is due on {}.", date(day)));
        writeln!(world.out, "Nothing is due today.{}", next.unwrap_or_default())?;
        return Ok(());
    }
    let terms = due.into_iter().take(args.most).map(|word| word.term).collect();
    let given = Given {
        glossary: Glossary { lexicon: &lexicon, drawn: &|term| sketch::of(&term.to_lowercase()).is_some() },
        dots: world.dots,
        now: world.now,
        seed: args.seed,
        look: world.look,
    };
    let mut keep = |line: &str| look_ups::add(&root, line, look_ups::Care::Sure);
    let mut sitting = Sitting::new(given, log, &mut keep);
    sitting.hold(terms, (&mut lines_in(), &mut world.out))
}

/// Returns the flora that is meant; where none is, its glossary is only one of many.
fn book(world: &World, asked: Option<&str>) -> Result<Option<Book>, Failure> {
    match choose::book(world, asked, Named::ByOption) {
        Ok(book) => Ok(Some(book)),
        Err(Failure::NoFlora | Failure::WhichFlora { .. }) => Ok(None),
        Err(failure) => Err(failure),
    }
}
