//! What was found out about a taxon for the plant at hand, as its treatment shows it: couplets that were kept open on the
//! way to it, and the characters that were ticked. Nothing is decided here.

use std::ops::Range;

use crate::keying::{Decision, Spot, Sureness, Turn};
use crate::model::{SectionKind, Style, StyleRun, Text};
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::plants::Plants;
use crate::reader::sheet::character::{Counts, Found, Ticks, characters, found};
use crate::reader::sheet::{Composer, Go, Kind, Sheet, Stop, check};
use crate::store::TaxonRow;

/// Adds the couplets on the way to a taxon at which every lead was kept open; each leads there.
pub(super) fn kept_open(sheet: &mut Sheet, library: &Library, (row, plants): (&TaxonRow, &Plants)) {
    let open = on_the_way(library, row, plants);
    let mut text = Composer::new().add("Kept open on the way: ");
    for (at, decision) in open.iter().enumerate() {
        let spot = decision.spot;
        let couplet = format!("couplet {}", library.couplet_label(spot.key, spot.couplet));
        text = text.add(if at > 0 { " · " } else { "" });
        let range = text.len()..text.len() + couplet.len();
        text = text.add(&couplet).add(&format!(" of {}", library.key_title(spot.key)));
        let go = Go::To(Item::Couplet(spot.key, spot.couplet));
        sheet.stops.push(Stop { block: sheet.blocks.len(), range, go, organ: None, taxon: None });
    }
    if !open.is_empty() {
        sheet.push(Kind::Body, text.text());
    }
}

/// Returns the decisions of the branch at hand that keep every lead open and can lead to a taxon.
fn on_the_way<'a>(library: &Library, row: &TaxonRow, plants: &'a Plants) -> Vec<&'a Decision> {
    let all = plants.here().branch().decisions.iter();
    let open: Vec<&Decision> =
        all.filter(|decision| decision.sureness == Sureness::CannotTell && !decision.lost).collect();
    if open.is_empty() {
        return open;
    }
    let graph = library.graph();
    let above = graph.end_of(row.id).map(|end| graph.above(end)).unwrap_or_default();
    let key = row.key.map(Spot::start);
    let leads_here = |decision: &&Decision| {
        let spot = decision.spot;
        decision.kept.iter().any(|lead| above.contains(&Turn { spot, lead: *lead }))
            || key.is_some_and(|key| key != spot && graph.leads_to(spot, key))
    };
    open.into_iter().filter(leads_here).collect()
}

/// Adds how many characters were ticked and for which plant; the row leads to them.
pub(super) fn checked(sheet: &mut Sheet, library: &Library, (row, plants): (&TaxonRow, &Plants)) {
    let plant = plants.here();
    let Some(ticks) = plant.ticks.get(&row.name).filter(|ticks| !ticks.is_empty()) else { return };
    let mut counts = Counts::default();
    for source in std::iter::once(row).chain(library.above(row.id)) {
        let sections = library.book.taxon(source.id).map_or(&[][..], |taxon| &taxon.sections);
        for section in sections.iter().filter(|section| section.kind == SectionKind::Description) {
            for one in characters(&section.text.plain, Some(ticks)) {
                counts.add(found(library, Some(ticks), &one.kept).as_ref());
            }
        }
    }
    let words = format!("Checked for {}: {}", plant.name, check::said(&counts));
    sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(Item::Check(row.id)));
}

/// Returns a description with what was ticked, in brackets behind each character, and where each bracket was put in.
pub(super) fn with_ticks(library: &Library, text: &Text, ticks: &Ticks) -> (Text, Vec<(usize, usize)>) {
    let mut marked = text.clone();
    let mut put_in = Vec::new();
    // From the end on, so that what stands before keeps its place.
    for one in characters(&text.plain, Some(ticks)).iter().rev() {
        let Some(found) = found(library, Some(ticks), &one.kept) else { continue };
        let bracket = bracket(found);
        put_in.push((one.range.end, bracket.len()));
        insert(&mut marked, one.range.end, &bracket);
    }
    (marked, put_in)
}

/// Puts bold words into a text; all others keep their styles and pages.
fn insert(text: &mut Text, at: usize, words: &str) {
    let (from, length) = (at as u32, words.len() as u32);
    let after = text.style_at(at);
    let later = text.styles.partition_point(|run| run.start < from);
    text.styles.iter_mut().skip(later).for_each(|run| run.start += length);
    text.pages
        .iter_mut()
        .filter(|(byte, _)| *byte > 0 && *byte >= from)
        .for_each(|(byte, _)| *byte += length);
    let bold = StyleRun { start: from, style: Style { bold: true, ..Style::default() } };
    let back = StyleRun { start: from + length, style: after };
    let again = text.styles.get(later).is_some_and(|run| run.start == from + length);
    text.styles.splice(later..later, [bold].into_iter().chain((!again).then_some(back)));
    text.plain.insert_str(at, words);
}

/// Returns the bytes of a word after brackets were put in before it.
pub(super) fn shifted(range: &Range<usize>, put_in: &[(usize, usize)]) -> Range<usize> {
    let by =
        |at: usize| put_in.iter().filter(|(place, _)| *place <= at).map(|(_, length)| length).sum::<usize>();
    let by = by(range.start);
    range.start + by..range.end + by
}

fn bracket(found: Found) -> String {
    match found {
        Found::Agrees => " [agrees]".to_owned(),
        Found::Disagrees => " [DISAGREES]".to_owned(),
        Found::NotSeen => " [not seen]".to_owned(),
        Found::Inside(words) | Found::Outside(words) => format!(" [{words}]"),
    }
}
