//! `ligule dump`: everything recognised in a flora, as JSON.

use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::world::World;
use crate::dump;

/// What `ligule dump` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ligule dump morvane > morvane.json")]
pub(crate) struct Args {
    /// The flora [default: the only one, or the one read last]
    name: Option<String>,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let flora = choose::book(world, args.name.as_deref(), Named::ByArgument)?.whole()?;
    Ok(dump::write(&flora, &mut world.out)?)
}
