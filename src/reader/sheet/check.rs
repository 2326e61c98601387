//! A determination checked: every character of the description, the taxa above included, with what the reader ticked.

use crate::clause;
use crate::keying::Tick;
use crate::model::{SectionKind, TaxonId};
use crate::reader::library::{Library, count};
use crate::reader::plants::Plants;
use crate::reader::sheet::{Composer, Go, Kind, Sheet, measured};

/// How many characters were found to be what.
#[derive(Default)]
struct Counts {
    agree: u32,
    disagree: u32,
    not_seen: u32,
    open: u32,
}

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
            for clause in clause::clauses(&section.text.plain) {
                let words = section.text.slice(clause.range);
                let tick = ticks.and_then(|ticks| ticks.get(&words.plain));
                let (sign, behind) = said(library, tick, &words.plain, &mut counts);
                let go = Go::Tick(taxon, words.plain.clone());
                sheet.push_row(Composer::new().add(sign).text_of(&words).add(&behind).text(), 0, go);
            }
        }
    }
    for remark in library.remarks(&plants.trip, taxon) {
        let sign = if remark.fits { "fits" } else { "check" };
        sheet.push(Kind::Body, Composer::new().bold(sign).add(&format!(" · {}", remark.words)).text());
    }
    sheet.about = format!(
        "{} · {} · {} not seen · {} to look at",
        count(counts.agree, "agrees", "agree"),
        count(counts.disagree, "disagrees", "disagree"),
        counts.not_seen,
        counts.open
    );
    sheet.standing = Some(TICKS.to_owned());
    sheet.faint("What agrees does not prove the name; one that disagrees may be the plant's own whim.");
    sheet
}

/// What the figures do, which must be in view wherever the reader ticks.
const TICKS: &str = "1 agrees · 2 disagrees · 3 not seen";

/// Returns what stands before and behind a character, and counts it.
fn said(library: &Library, tick: Option<&Tick>, words: &str, counts: &mut Counts) -> (&'static str, String) {
    match tick {
        Some(Tick::Agrees) => {
            counts.agree += 1;
            ("agrees     ", String::new())
        }
        Some(Tick::Disagrees) => {
            counts.disagree += 1;
            ("DISAGREES  ", String::new())
        }
        Some(Tick::NotSeen) => {
            counts.not_seen += 1;
            ("not seen   ", String::new())
        }
        Some(Tick::Measured(typed)) => {
            let found = measured::against(library, typed, words);
            let (fits, verdict) = found.unwrap_or_else(|sorry| (true, sorry));
            let count = if fits { &mut counts.agree } else { &mut counts.disagree };
            *count += 1;
            let sign = if fits { "measured   " } else { "OUTSIDE    " };
            (sign, format!(" · {typed}: {verdict}"))
        }
        None => {
            counts.open += 1;
            ("–          ", String::new())
        }
    }
}
