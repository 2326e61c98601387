//! A determination checked: every character of the description, the taxa above included, with what the reader ticked.

use crate::model::{SectionKind, TaxonId};
use crate::reader::library::{Library, count};
use crate::reader::plants::Plants;
use crate::reader::sheet::character::{Counts, Found, characters, found};
use crate::reader::sheet::{Composer, Go, Kind, Sheet};

/// Puts the characters together.
pub(super) fn sheet(library: &Library, taxon: TaxonId, plants: &Plants) -> Sheet {
    let Some(row) = library.taxon_row(taxon) else { return Sheet::titled("Check") };
    let plant = plants.here();
    let mut sheet = Sheet::titled(format!("{} checked against {}", plant.name, row.name));
    let ticks = plant.ticks.get(&row.name);
    let mut counts = Counts::default();
    for source in std::iter::once(row).chain(library.above(taxon)) {
        let of = if source.id == taxon { String::new() } else { format!("of the {} ", source.rank.word()) };
        sheet.heading(&format!("{of}{}", source.name));
        let sections = library.book.taxon(source.id).map_or(&[][..], |taxon| &taxon.sections);
        for section in sections.iter().filter(|section| section.kind == SectionKind::Description) {
            for one in characters(&section.text.plain, ticks) {
                let found = found(library, ticks, &one.kept);
                counts.add(found.as_ref());
                let (sign, behind) = shown(found);
                let text = Composer::new().add(sign).add(if one.goes_on { DEEPER } else { "" });
                let text = text.text_of(&section.text.slice(one.range)).add(&behind).text();
                sheet.push_row(text, 0, Go::Tick(taxon, one.kept));
                if let Some(row) = sheet.blocks.last_mut() {
                    row.hang = HANG;
                }
            }
        }
    }
    for remark in library.remarks(&plants.trip, taxon) {
        let sign = if remark.fits { "fits" } else { "check" };
        sheet.push(Kind::Body, Composer::new().bold(sign).add(&format!(" · {}", remark.words)).text());
    }
    sheet.about = format!("{} · {} to look at", said(&counts), counts.open);
    sheet.standing = Some(TICKS.to_owned());
    sheet.faint("What agrees does not prove the name; one that disagrees may be the plant's own whim.");
    sheet
}

/// Returns in words how many characters were found to be what.
pub(super) fn said(counts: &Counts) -> String {
    format!(
        "{} · {} · {} not seen",
        count(counts.agree, "agrees", "agree"),
        count(counts.disagree, "disagrees", "disagree"),
        counts.not_seen
    )
}

/// What the figures do, which must be in view wherever the reader ticks.
const TICKS: &str = "1 agrees · 2 disagrees · 3 not seen";

/// What stands before a part that goes on with the organ of the one before.
const DEEPER: &str = "  ";

/// Columns by which the further lines of a character are set in: the sign, and the step of a part.
const HANG: u16 = 13;

/// Returns what stands before and behind a character.
fn shown(found: Option<Found>) -> (&'static str, String) {
    match found {
        Some(Found::Agrees) => ("agrees     ", String::new()),
        Some(Found::Disagrees) => ("DISAGREES  ", String::new()),
        Some(Found::NotSeen) => ("not seen   ", String::new()),
        Some(Found::Inside(words)) => ("measured   ", format!(" · {words}")),
        Some(Found::Outside(words)) => ("OUTSIDE    ", format!(" · {words}")),
        None => ("–          ", String::new()),
    }
}
