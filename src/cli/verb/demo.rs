//! `ligule demo`: the reader on the flora that ligule brings along, put on the shelf the first time.

use crate::cli::failure::Failure;
use crate::cli::hands::Hands;
use crate::cli::verb::ingest::{self, onto_shelf, sha256};
use crate::cli::verb::read::{self, Showing};
use crate::cli::world::World;
use crate::parse::Overrides;
use crate::reader::Tell;
use crate::store::{KeepSource, RowState, Shelf};

/// The demo flora as it was typeset.
const PDF: &[u8] = include_bytes!("../../../corpus-demo/flora.pdf");

/// Its name on the shelf.
pub(crate) const NAME: &str = "demo";

/// What `ligule demo` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ligule demo
  ligule demo --tour

The demo is a flora of the Morvane Isles, which do not exist. It is kept on the shelf as `demo`.")]
pub(crate) struct Args {
    /// Begin with a tour of five steps: a couplet, a term, back, on to a species, its check and trail
    #[arg(long)]
    tour: bool,
    #[command(flatten)]
    hands: Hands,
    #[command(flatten)]
    showing: Showing,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    args.showing.asked_of(world);
    read::terminal(world)?;
    if !is_there(&world.shelf()?) {
        let demo = ingest::Source::built_in("morvane.pdf", PDF);
        onto_shelf(world, NAME, (vec![demo], Overrides::default()), KeepSource::Copy)?;
    }
    let book = world.shelf()?.open(NAME)?;
    let tell = if args.tour { Tell::Tour } else { Tell::Welcome };
    read::open(world, Some(book), (None, args.hands, tell))
}

/// Says whether the shelf has this very demo, made by this version.
fn is_there(shelf: &Shelf) -> bool {
    let Ok(row) = shelf.row(NAME) else { return false };
    let same = row.sources.iter().any(|source| source.sha256 == sha256(PDF));
    same && row.state == RowState::Ready && shelf.open(NAME).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Flora, Source};
    use crate::store::SourceBytes;

    /// Checks whether a shelf with a demo of this hash needs no other.
    #[track_caller]
    fn check_there(sha256: &str, expected: bool) {
        let folder = tempfile::tempdir().unwrap();
        let shelf = Shelf::at(folder.path());
        assert!(!is_there(&shelf));
        let source = Source { file: "morvane.pdf".to_owned(), sha256: sha256.to_owned(), pages: 1 };
        let flora = Flora { sources: vec![source], ..Flora::default() };
        let bytes = SourceBytes { path: "morvane.pdf".as_ref(), bytes: b"" };
        shelf.put(NAME, &flora, &[bytes], KeepSource::Copy).unwrap();
        assert_eq!(is_there(&shelf), expected);
    }

    #[test]
    fn the_demo_is_ingested_again_only_when_it_has_changed() {
        check_there(&sha256(PDF), true);
        check_there("0", false);
    }
}
