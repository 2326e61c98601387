//! What lies outside the state: an effect in, what comes of it out. The shelf, the seat and the texts are `store`'s.

use std::path::PathBuf;

use crate::amend::{self, Amendment, Outcome};
use crate::reader::library::Library;
use crate::reader::state::{Effect, Event};
use crate::reader::{Error, Session, words};
use crate::search::Index;
use crate::store::look_ups::{self, Care};
use crate::store::stand::Seat;
use crate::store::{Shelf, texts};

/// What the effects of a state act on.
pub(super) struct Outside {
    pub(super) shelf: Option<Shelf>,
    pub(super) seat: Option<Seat>,
    pub(super) home: Option<PathBuf>,
}

impl Outside {
    /// Takes a seat where the session is kept.
    pub(super) fn of(session: &Session) -> Result<Self, Error> {
        let seat = session.home.as_deref().map(Seat::take).transpose()?;
        Ok(Self { shelf: session.shelf.clone(), seat, home: session.home.clone() })
    }

    /// Does what an effect says; returns what comes of it.
    pub(super) fn perform(&self, effect: &Effect) -> Option<Event> {
        match effect {
            // A full disk must not end the walk in the field: it is said, and the reading goes on.
            Effect::KeepStand(json) => {
                let failed = self.seat.as_ref().and_then(|seat| seat.keep(json).err());
                failed.map(|error| Event::Failed(format!("Where you stand was not kept: {error}")))
            }
            Effect::Open(name) => self.shelf.as_ref().map(|shelf| match open(shelf, name) {
                Ok(library) => Event::Opened(Box::new(library)),
                Err(error) => Event::Failed(error.to_string()),
            }),
            Effect::Amend(name, amendment) => Some(self.amend(name, amendment)),
            Effect::Remember(line) => {
                let add = |seat: &Seat| look_ups::add(seat.root(), line, Care::Quick);
                let failed = self.seat.as_ref().and_then(|seat| add(seat).err());
                failed.map(|error| Event::Failed(format!("What you looked up was not kept: {error}")))
            }
            Effect::Forget => {
                let failed = self.seat.as_ref().and_then(|seat| look_ups::forget(seat.root()).err());
                failed.map(|error| Event::Failed(format!("Not all is forgotten: {error}")))
            }
            Effect::Print(name, text) => Some(self.print(name, text)),
            // Only a terminal has these.
            Effect::Copy(_) | Effect::Mouse(_) | Effect::Quit => None,
        }
    }

    /// Writes a text to a file of its own, and says where.
    fn print(&self, name: &str, text: &str) -> Event {
        let Some(home) = &self.home else {
            return Event::Failed("Nothing can be written: no folder is set for it.".to_owned());
        };
        match texts::keep(home, name, text) {
            Ok(path) => Event::Done(format!("Written to {}", path.display())),
            Err(error) => Event::Failed(format!("Not written: {error}")),
        }
    }

    /// Keeps an amendment beside its flora, then applies it to the flora on the shelf.
    fn amend(&self, name: &str, amendment: &Amendment) -> Event {
        let Some(floras) = self.shelf.as_ref().filter(|shelf| shelf.row(name).is_ok()) else {
            return Event::Failed(
                "This flora is not on the shelf, so nothing can be kept for it.".to_owned(),
            );
        };
        let written = match keep_amendment(floras, name, amendment) {
            Ok(written) => written,
            Err(sorry) => return Event::Failed(format!("Not saved: {sorry}")),
        };
        match amended(floras, name, &written, amendment) {
            Ok((library, told)) => Event::Amended(Box::new(library), told),
            Err(error) => Event::Failed(format!("Saved, but it holds only after the next ingest: {error}")),
        }
    }
}

/// Adds an amendment to those of a flora; when this returns it is on the disk.
fn keep_amendment(shelf: &Shelf, name: &str, amendment: &Amendment) -> Result<String, String> {
    let mut written = shelf.amendments(name).map_err(|error| error.to_string())?;
    if written.is_empty() {
        amend::PREAMBLE.clone_into(&mut written);
    }
    written.push_str(&amend::entry(amendment));
    let file = shelf.amendments_path(name);
    amend::read(&written).map_err(|error| format!("{} can't be read: {error}", file.display()))?;
    shelf.keep_amendments(name, &written).map_err(|error| error.to_string())?;
    Ok(written)
}

/// Applies all amendments to a flora on the shelf, and says what became of the last one.
fn amended(shelf: &Shelf, name: &str, written: &str, last: &Amendment) -> Result<(Library, String), Error> {
    let amendments = amend::read(written).unwrap_or_default();
    let mut as_read = shelf.as_read(name)?;
    // What the descriptions contradict is found anew in the amended flora.
    as_read.doubts.retain(|doubt| doubt.kind != crate::model::DoubtKind::Contradicted);
    let (mut flora, outcomes) = amend::apply(as_read.clone(), &amendments);
    let lexicon = crate::terms::Lexicon::built_in();
    let stated = crate::describe::stated(&flora, &lexicon);
    flora.doubts.extend(crate::describe::conflicts(&flora, &lexicon, &stated));
    let pending = shelf.amend(name, (&flora, &as_read), written)?;
    // Without an index the search screen says so; the amendment holds all the same.
    _ = crate::search::build(&pending.index_dir(), &flora);
    pending.finish()?;
    let outcome = amendments.iter().zip(&outcomes).rfind(|(amendment, _)| *amendment == last);
    let told = match outcome {
        Some((_, Outcome::Unfit(why))) => format!("Saved, but it fits nowhere: {why}."),
        Some((_, Outcome::Held)) | None => "Saved, here and for every later ingest.".to_owned(),
    };
    Ok((open(shelf, name)?, told))
}

pub(super) fn open(shelf: &Shelf, name: &str) -> Result<Library, crate::store::Error> {
    let book = shelf.open(name)?;
    let (lexicon, _) = words::lexicon(Some(shelf), Some(&book));
    Ok(Library::with_words(book, index(shelf, name), lexicon).beside(Some(shelf)))
}

/// Opens a flora's index; without one the search screen says so.
pub(super) fn index(shelf: &Shelf, name: &str) -> Option<Index> {
    Index::open(&shelf.index_dir(name)).ok()
}
