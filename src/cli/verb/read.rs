//! `ligule read`: the reader, where it was left or at a place.

use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::world::{World, at_terminal};
use crate::reader::{self, Manner, Session, Signs};
use crate::search::Index;
use crate::store::Book;

/// What `ligule read` takes.
#[derive(Debug, Default, clap::Args)]
#[command(after_help = "Examples:
  ligule read
  ligule read morvane --at 'Silene alta'
  ligule read --at key:Silene
  ligule read --at term:calyx
  ligule read --at page:214      (page of the PDF)
  ligule read --at folio:198     (page as printed)
  ligule read --linear")]
pub(crate) struct Args {
    /// The flora [default: the only one, or the one read last]
    name: Option<String>,
    /// Where to begin: a taxon, `key:NAME`, `term:WORD`, `page:NUMBER` or `folio:NUMBER`
    #[arg(long, value_name = "WHERE")]
    at: Option<String>,
    #[command(flatten)]
    showing: Showing,
}

/// How the reader is to show itself, where the terminal does not say.
#[derive(Clone, Copy, Debug, Default, clap::Args)]
pub(crate) struct Showing {
    /// Print what changes line by line instead of drawing screens: for screen readers and Braille, and for scripts, which
    /// give the keys in lines on standard input [as with `LIGULE_LINEAR=1`, or `TERM=dumb`]
    #[arg(long)]
    linear: bool,
    /// Show nothing but ASCII [as in a locale that is set and is not UTF-8]
    #[arg(long)]
    ascii: bool,
}

impl Showing {
    /// Adds what the call asks for to what the terminal says.
    pub(crate) fn asked_of(self, world: &mut World) {
        if self.linear {
            world.manner = Manner::Linear;
        }
        if self.ascii {
            world.signs = Signs::Ascii;
        }
    }
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    args.showing.asked_of(world);
    terminal(world)?;
    match choose::book(world, args.name.as_deref(), Named::ByArgument) {
        Ok(book) => open(world, Some(book), args.at.as_deref()),
        // The reader itself has a list of the floras to choose from, but a place is in one of them.
        Err(Failure::WhichFlora { .. }) if args.at.is_none() => open(world, None, None),
        Err(failure) => Err(failure),
    }
}

/// Checks that there is a terminal for the reader, if it is to draw.
pub(crate) fn terminal(world: &World) -> Result<(), Failure> {
    if world.manner == Manner::Linear || at_terminal() { Ok(()) } else { Err(Failure::NoTerminal) }
}

/// Opens the reader on a flora, or on the list of all.
pub(crate) fn open(world: &World, book: Option<Book>, at: Option<&str>) -> Result<(), Failure> {
    let shelf = world.shelf()?;
    // Without an index the reader can do all but search, and says so there.
    let index = book.as_ref().and_then(|book| Index::open(&shelf.index_dir(book.name())).ok());
    let session = Session {
        shelf: Some(shelf),
        home: Some(world.home()?.to_owned()),
        book,
        index,
        at: at.map(str::to_owned),
        theme: String::new(),
        colour: world.colour,
        signs: world.signs,
        manner: world.manner,
        dots: Some(world.dots),
    };
    Ok(reader::run(session)?)
}
