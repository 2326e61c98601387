//! The amendments of a flora: read from the file beside it, counted after an ingest, listed by `ligule check`.

use std::io;

use crate::amend::{self, Amendment, Outcome};
use crate::cli::failure::Failure;
use crate::cli::wording::count;
use crate::cli::world::World;
use crate::model::{Doubt, DoubtKind};
use crate::store::Shelf;

/// Returns a flora's amendments as they are written, and what they say.
pub(crate) fn of(shelf: &Shelf, name: &str) -> Result<(String, Vec<Amendment>), Failure> {
    let written = shelf.amendments(name)?;
    let file = || shelf.amendments_path(name);
    let read = amend::read(&written)
        .map_err(|error| Failure::Amendments { file: file(), why: error.to_string() })?;
    Ok((written, read))
}

/// Returns the sentence that tells how many amendments hold.
pub(crate) fn counted(outcomes: &[Outcome]) -> String {
    let held = outcomes.iter().filter(|outcome| **outcome == Outcome::Held).count();
    let lost = outcomes.len() - held;
    let holding = count(held as u32, "amendment holds", "amendments hold");
    match lost {
        0 => format!("{holding}."),
        lost => {
            format!("{holding}, {} (see the doubts).", count(lost as u32, "no longer fits", "no longer fit"))
        }
    }
}

/// An amendment as `ligule check` tells it.
pub(crate) struct Row {
    /// The printed words.
    pub(crate) words: String,
    /// What it says of them.
    pub(crate) says: String,
    /// Whether it holds.
    pub(crate) holds: bool,
}

/// Returns what is amended in a flora that has these doubts.
pub(crate) fn rows(amendments: &[Amendment], doubts: &[Doubt]) -> Vec<Row> {
    let lost = |words: &str, says: &str| {
        let unfit = doubts.iter().filter(|doubt| doubt.kind == DoubtKind::Amendment);
        unfit.into_iter().any(|doubt| doubt.text == words && doubt.advice.contains(says))
    };
    let told = amendments.iter().map(Amendment::told);
    told.map(|(words, says)| Row { holds: !lost(&words, &says), words, says }).collect()
}

/// Prints what is amended, and that the file was changed since where it was.
pub(crate) fn print(world: &mut World, rows: &[Row], changed: Option<&str>) -> io::Result<()> {
    use std::io::Write;
    let look = world.look;
    if !rows.is_empty() {
        writeln!(world.out, "\n{} ({})", look.heading("Amendments"), rows.len())?;
    }
    for Row { words, says, holds } in rows {
        let state = if *holds { "" } else { "; no longer fits" };
        look.paragraph(&mut world.out, "  ", &format!("“{words}” {says}{state}"))?;
    }
    if let Some(file) = changed {
        look.paragraph(
            &mut world.out,
            "  ",
            &format!("{file} was changed since; ingest the book again to apply it"),
        )?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_holds_and_what_does_not_is_counted() {
        let lost = || Outcome::Unfit("no lead of the book begins so".to_owned());
        assert_eq!(counted(&[Outcome::Held]), "1 amendment holds.");
        assert_eq!(
            counted(&[Outcome::Held, lost(), Outcome::Held]),
            "2 amendments hold, 1 no longer fits (see the doubts)."
        );
    }
}
