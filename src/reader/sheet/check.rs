//! A determination checked: every character of the description, the taxa above included, with what the reader ticked.

use crate::clause;
use crate::keying::Tick;
use crate::model::{SectionKind, TaxonId};
use crate::reader::library::{Library, count};
use crate::reader::plants::Plants;
use crate::reader::sheet::{Composer, Go, Kind, Sheet};

/// Puts the characters together.
pub(super) fn sheet(library: &Library, taxon: TaxonId, plants: &Plants) -> Sheet {
    let Some(row) = library.taxon_row(taxon) else { return Sheet::titled("Check") };
    let plant = plants.here();
    let mut sheet = Sheet::titled(format!("{} checked against {}", plant.name, row.name));
    let ticks = plant.ticks.get(&row.name);
    let (mut agree, mut disagree, mut open) = (0, 0, 0);
    for source in std::iter::once(row).chain(library.above(taxon)) {
        let of = if source.id == taxon { String::new() } else { format!("of the {} ", source.rank.word()) };
        sheet.heading(&format!("{of}{}", source.name));
        let sections = library.book.taxon(source.id).map_or(&[][..], |taxon| &taxon.sections);
        for section in sections.iter().filter(|section| section.kind == SectionKind::Description) {
            for clause in clause::clauses(&section.text.plain) {
                let words = section.text.slice(clause.range);
                let sign = match ticks.and_then(|ticks| ticks.get(&words.plain)) {
                    Some(Tick::Agrees) => {
                        agree += 1;
                        "agrees     "
                    }
                    Some(Tick::Disagrees) => {
                        disagree += 1;
                        "DISAGREES  "
                    }
                    None => {
                        open += 1;
                        "not seen   "
                    }
                };
                let go = Go::Tick(taxon, words.plain.clone());
                sheet.push_row(Composer::new().add(sign).text_of(&words).text(), 0, go);
            }
        }
    }
    for remark in library.remarks(&plants.trip, taxon) {
        let sign = if remark.fits { "fits" } else { "check" };
        sheet.push(Kind::Body, Composer::new().bold(sign).add(&format!(" · {}", remark.words)).text());
    }
    sheet.about = format!(
        "{} · {} · {} not looked at",
        count(agree, "agrees", "agree"),
        count(disagree, "disagrees", "disagree"),
        open
    );
    sheet.faint("1 agrees, 2 disagrees, 3 not seen. What agrees does not prove the name; one that disagrees may be the plant's own whim.");
    sheet
}
