//! The command line: the call in, results on standard output, remarks on standard error, an exit code out.
//!
//! Each verb has its file in `verb/`; what a failure is called and which code it gives is decided in `failure.rs` alone.

mod amendments;
mod answers;
mod choose;
mod doubts;
mod drawing;
mod failure;
mod lost;
mod progress;
mod sitting;
mod verb;
mod wording;
mod world;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::cli::failure::{EXIT_CODES, Failure};
use crate::cli::verb::{check, define, demo, drill, dump, find, ingest, key, read, route, shelf, show, text};
use crate::cli::world::World;

/// Reads a flora's PDF and lets you work through its keys offline, every term one key press from its meaning.
///
/// Without a verb, ligule opens the reader where you left it.
#[derive(Debug, Parser)]
#[command(name = "ligule", version, after_help = EXIT_CODES, max_term_width = 100)]
struct Call {
    #[command(subcommand)]
    verb: Option<Verb>,
}

/// What can be asked for.
#[derive(Debug, Subcommand)]
enum Verb {
    /// Opens the reader on the built-in demo flora
    Demo(demo::Args),
    /// Reads a flora's PDF onto the shelf and says what was found and what is doubtful
    Ingest(ingest::Args),
    /// Lists the floras on the shelf, or takes one away
    Shelf(shelf::Args),
    /// Opens the reader where it was left, or at a place
    Read(read::Args),
    /// Reports on a flora: how it is set, what was found, everything that is doubtful
    Check(check::Args),
    /// Prints a PDF's text in reading order, one paragraph a line
    Text(text::Args),
    /// Prints everything recognised in a flora as JSON
    Dump(dump::Args),
    /// Finds the taxa whose descriptions say what you see, and names
    Find(find::Args),
    /// Explains a term
    Define(define::Args),
    /// Asks a few of the terms that you looked up, lists them or forgets them
    Drill(drill::Args),
    /// Prints a taxon's treatment
    Show(show::Args),
    /// Prints a key
    Key(key::Args),
    /// Prints every lead that is true of a taxon, from the start of the flora to it
    Route(route::Args),
}

/// Carries out the call that the process was started with.
pub fn run() -> ExitCode {
    let call = match Call::try_parse() {
        Ok(call) => call,
        Err(error) => return wrong_call(&error),
    };
    let mut world = World::of_process();
    // The message of a panic was printed when it happened; here it gets its exit code.
    let done = catch_unwind(AssertUnwindSafe(|| {
        let done = carry_out(call.verb, &mut world);
        done.and_then(|()| world.flush())
    }));
    done.unwrap_or(Err(Failure::Fault)).map_or_else(Failure::report, |()| ExitCode::SUCCESS)
}

/// Carries out one verb.
fn carry_out(verb: Option<Verb>, world: &mut World) -> Result<(), Failure> {
    match verb {
        None => read::run(&read::Args::default(), world),
        Some(Verb::Demo(args)) => demo::run(&args, world),
        Some(Verb::Ingest(args)) => ingest::run(&args, world),
        Some(Verb::Shelf(args)) => shelf::run(&args, world),
        Some(Verb::Read(args)) => read::run(&args, world),
        Some(Verb::Check(args)) => check::run(&args, world),
        Some(Verb::Text(args)) => text::run(&args, world),
        Some(Verb::Dump(args)) => dump::run(&args, world),
        Some(Verb::Find(args)) => find::run(&args, world),
        Some(Verb::Define(args)) => define::run(&args, world),
        Some(Verb::Drill(args)) => drill::run(&args, world),
        Some(Verb::Show(args)) => show::run(&args, world),
        Some(Verb::Key(args)) => key::run(&args, world),
        Some(Verb::Route(args)) => route::run(&args, world),
    }
}

/// Prints help, the version, or what is wrong with the call; a pipe that is closed meanwhile is no failure.
fn wrong_call(error: &clap::Error) -> ExitCode {
    _ = error.print();
    ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn every_call_is_well_formed() {
        Call::command().debug_assert();
    }

    #[test]
    fn every_verb_shows_an_example() {
        for verb in Call::command().get_subcommands() {
            let help = verb.get_after_help().map(ToString::to_string).unwrap_or_default();
            let example = format!("ligule {}", verb.get_name());
            assert!(help.starts_with("Example") && help.contains(&example), "{example}");
        }
    }
}
