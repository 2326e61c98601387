//! `ligule demo`: the reader on the flora that ligule brings along, put on the shelf the first time.

use sha2::{Digest, Sha256};

use crate::cli::failure::Failure;
use crate::cli::verb::ingest::{Source, onto_shelf};
use crate::cli::verb::read;
use crate::cli::world::World;
use crate::store::{KeepSource, RowState, Shelf};

/// The demo flora as it was typeset.
const PDF: &[u8] = include_bytes!("../../../corpus-demo/flora.pdf");

/// Its name on the shelf.
const NAME: &str = "demo";

/// What `ligule demo` takes: nothing.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ligule demo

The demo is a flora of the Morvane Isles, which do not exist. It is kept on the shelf as `demo`.")]
pub(crate) struct Args;

/// Carries it out.
pub(crate) fn run(_: &Args, world: &mut World) -> Result<(), Failure> {
    read::terminal()?;
    if !is_there(&world.shelf()?) {
        onto_shelf(world, NAME, vec![Source::built_in("morvane.pdf", PDF)], KeepSource::Copy)?;
    }
    let book = world.shelf()?.open(NAME)?;
    read::open(world, Some(book), None)
}

/// Says whether the shelf has this very demo, made by this version.
fn is_there(shelf: &Shelf) -> bool {
    let Ok(row) = shelf.row(NAME) else { return false };
    let hash: String =
        Sha256::digest(PDF).iter().flat_map(|byte| [byte >> 4, byte & 15]).filter_map(hex).collect();
    row.state == RowState::Ready
        && row.sources.iter().any(|source| source.sha256 == hash)
        && shelf.open(NAME).is_ok()
}

/// Returns the hexadecimal digit for four bits.
fn hex(bits: u8) -> Option<char> {
    char::from_digit(u32::from(bits), 16)
}
