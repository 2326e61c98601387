//! A treatment: the heading's facts, the sections in the printed words, and the taxa and keys around it.

use crate::model::{CoupletId, KeyId, Section, SectionKind, Taxon, TaxonId, Text};
use crate::reader::library::{Library, count, first_names};
use crate::reader::place::Item;
use crate::reader::plants::Plants;
use crate::reader::sheet::character::Ticks;
use crate::reader::sheet::{Composer, Desk, Go, Kind, Sheet, findings};
use crate::store::TaxonRow;

/// The line that stands under every treatment in which a lead ends.
pub(crate) const STANDING: &str = "A name from a key is no leave to eat, touch or pick.";

/// Puts a treatment together.
pub(super) fn sheet(library: &Library, id: TaxonId, desk: &Desk<'_>) -> Sheet {
    let Some(row) = library.taxon_row(id) else { return Sheet::titled("Taxon") };
    let mut sheet = Sheet::titled(row.name.clone());
    sheet.page = Some(row.pages.0);
    sheet.grounds = library.grounds_of(id);
    sheet.about = format!("{} · {}", row.rank.word(), library.page_words(row.pages.0));
    if let Some((key, couplet)) = came_by(row, desk) {
        let label = library.couplet_label(key, couplet);
        let came = format!(" · came by couplet {label} of {}", library.key_title(key));
        sheet.about.push_str(&came);
    }
    sheet.standing = (!row.keyed.is_empty()).then(|| STANDING.to_owned());
    name(&mut sheet, row);
    if library.book.taxon(id).is_some_and(|taxon| taxon.amended) {
        sheet.about.push_str(" · amended");
    }
    cautions(&mut sheet, library, row);
    signs(&mut sheet, library, id);
    on_this_trip(&mut sheet, library, (id, desk.plants));
    findings::kept_open(&mut sheet, library, (row, desk.plants));
    findings::checked(&mut sheet, library, (row, desk.plants));
    match library.book.taxon(id) {
        Some(taxon) => {
            if !taxon.misapplied.is_empty() {
                let names = taxon.misapplied.join("; ");
                sheet.push(Kind::Body, Composer::new().add("Names misused for it: ").italic(&names).text());
            }
            sections(&mut sheet, library, (taxon, desk.plants));
        }
        None => sheet.faint("The treatment could not be read from the shelf."),
    }
    around(&mut sheet, library, (row, desk));
    sheet
}

fn name(sheet: &mut Sheet, row: &TaxonRow) {
    let number = row.number.as_ref().map(|number| format!("{number}. ")).unwrap_or_default();
    let authorship = row.authorship.as_ref().map(|authorship| format!(" {authorship}")).unwrap_or_default();
    sheet.push(Kind::Heading, Composer::new().add(&number).bold(&row.name).add(&authorship).text());
    if !row.vernacular.is_empty() {
        sheet.push(Kind::Body, Composer::new().add(&row.vernacular.join(", ")).text());
    }
    if !row.synonyms.is_empty() {
        sheet.push(Kind::Body, Composer::new().add("Synonyms: ").italic(&row.synonyms.join("; ")).text());
    }
}

/// Lifts the cautions that the book prints here, and those for the taxa above, to the head.
fn cautions(sheet: &mut Sheet, library: &Library, row: &TaxonRow) {
    let mut any = false;
    for source in std::iter::once(row).chain(library.above(row.id)).filter(|row| row.cautioned) {
        let printed = library.book.taxon(source.id).map_or(&[][..], |taxon| &taxon.cautions);
        any = any || !printed.is_empty();
        let own = library.book.taxon(source.id).filter(|_| source.id == row.id);
        for caution in printed.iter().filter(|caution| own.is_none_or(|own| !is_near(own, caution))) {
            let composer = Composer::new().bold("! ");
            let of = format!("(of the {} {}) ", source.rank.word(), source.name);
            let composer = if source.id == row.id { composer } else { composer.add(&of) };
            let from = composer.len();
            sheet.push_linked(library, composer.text_of(&lifted(caution)).text(), from);
        }
    }
    let below = library.cautions_of(row.id);
    if any || (below.is_empty() && row.keyed.is_empty()) {
        return;
    }
    if below.is_empty() {
        sheet.faint(NO_CAUTION);
    } else {
        sheet.push(
            Kind::Body,
            Composer::new()
                .bold("! ")
                .add(&format!("In this {} a caution is printed for ", row.rank.word()))
                .italic(&first_names(&below, CAUTIONED))
                .add(".")
                .text(),
        );
    }
}

/// Members that are named where cautions are printed for more.
const CAUTIONED: usize = 3;

/// Says whether a caution stands so near below the head that it is not lifted there: in its place it has a sign then.
fn is_near(taxon: &Taxon, caution: &Text) -> bool {
    let before = |text: &str| text.find(&caution.plain);
    let mut above = 0;
    for section in &taxon.sections {
        if let Some(at) = before(&section.text.plain) {
            return above + at < NEAR;
        }
        above += section.text.plain.len();
    }
    false
}

/// Bytes of text above a caution that is in view with the head: about eight lines of 80 columns.
const NEAR: usize = 600;

/// Returns a sentence lifted from a text: one that was cut from within a sentence begins with an ellipsis.
fn lifted(caution: &Text) -> Text {
    let cut = caution.plain.chars().next().is_some_and(char::is_lowercase);
    if cut { Composer::new().add("… ").text_of(caution).text() } else { caution.clone() }
}

/// Tells what the signs mean that the book prints before the name, or in a distribution or status, by its own legend.
fn signs(sheet: &mut Sheet, library: &Library, id: TaxonId) {
    let Some(taxon) = library.book.taxon(id) else { return };
    let genus = taxon.name.split(' ').next().unwrap_or_default();
    let before = taxon.heading.plain.find(genus).map_or("", |at| taxon.heading.plain[..at].trim_end());
    let told =
        |section: &&Section| matches!(section.kind, SectionKind::Distribution | SectionKind::Conservation);
    let told: Vec<&str> =
        taxon.sections.iter().filter(told).map(|section| section.text.plain.as_str()).collect();
    for sign in &library.contents().legend {
        let printed = before.ends_with(&sign.sign)
            || told.iter().any(|text| text.split([' ', ',', ';', '.']).any(|word| word == sign.sign));
        if printed {
            let text = Composer::new().bold(&sign.sign).add(&format!(" {}", sign.meaning)).text();
            sheet.push(Kind::Body, text);
        }
    }
}

/// Says what of season, elevation and district fits the trip that is set, and what does not.
fn on_this_trip(sheet: &mut Sheet, library: &Library, (id, plants): (TaxonId, &Plants)) {
    for remark in library.remarks(&plants.trip, id) {
        let sign = if remark.fits { "fits" } else { "check" };
        let text =
            Composer::new().bold(sign).add(&format!(" · {} · {}", plants.trip.words(), remark.words)).text();
        sheet.push(Kind::Body, text);
    }
}

/// What is said where the book prints no caution.
const NO_CAUTION: &str = "No caution is printed here, which does not mean that there is no danger.";

fn sections(sheet: &mut Sheet, library: &Library, (taxon, plants): (&Taxon, &Plants)) {
    let ticks = plants.here().ticks.get(&taxon.name).filter(|ticks| !ticks.is_empty());
    if taxon.sections.is_empty() {
        sheet.faint("The book prints a heading here and no description.");
    }
    // A heading whose words were all read as a section of their own says nothing alone.
    for Section { heading, text, kind } in
        taxon.sections.iter().filter(|section| !section.text.plain.is_empty())
    {
        let near = |caution: &Text| text.plain.contains(&caution.plain) && is_near(taxon, caution);
        let warns = taxon.cautions.iter().any(near);
        let composer = if warns { Composer::new().bold("! ") } else { Composer::new() };
        let composer = match heading {
            Some(heading) => composer.bold(heading).add(separator(heading, &text.plain)),
            None => composer,
        };
        let from = composer.len();
        match ticks.filter(|_| *kind == SectionKind::Description) {
            Some(ticks) => push_ticked(sheet, library, (composer, text), ticks),
            None => sheet.push_linked(library, composer.text_of(text).text(), from),
        }
    }
}

/// Adds a description with what was ticked behind its characters; its words lead where they did.
fn push_ticked(sheet: &mut Sheet, library: &Library, (before, text): (Composer, &Text), ticks: &Ticks) {
    let (from, first) = (before.len(), sheet.stops.len());
    let (marked, put_in) = findings::with_ticks(library, text, ticks);
    sheet.link(library, text, 0..text.plain.len());
    for stop in sheet.stops.iter_mut().skip(first) {
        let range = findings::shifted(&stop.range, &put_in);
        stop.range = range.start + from..range.end + from;
    }
    sheet.push(Kind::Body, before.text_of(&marked).text());
}

/// Returns what stands between a run-in heading and its text.
fn separator(heading: &str, text: &str) -> &'static str {
    match text.chars().next() {
        _ if heading.ends_with(['.', ':', '—', '–']) => " ",
        Some(first) if first.is_lowercase() => ": ",
        Some(_) | None => ". ",
    }
}

/// Adds the key to the members, the parent, the members, and the couplets where the taxon is keyed.
fn around(sheet: &mut Sheet, library: &Library, (row, desk): (&TaxonRow, &Desk<'_>)) {
    if let Some((key, start)) = row.key.and_then(|key| Some((key, library.key_start(key)?))) {
        let taxa = library.key_row(key).map_or(0, |key| key.reaches);
        sheet.heading("Its key");
        let words = format!("{} · {}", library.key_title(key), count(taxa, "taxon", "taxa"));
        sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(start));
    }
    if let Some(parent) = row.parent.and_then(|parent| library.taxon_row(parent)) {
        sheet.heading("Belongs to");
        sheet.push_row(taxon_words(parent), 0, Go::To(Item::Treatment(parent.id)));
    }
    let members = library.contents().taxa.iter().filter(|other| other.parent == Some(row.id));
    for (at, member) in members.enumerate() {
        if at == 0 {
            sheet.heading("Members");
        }
        sheet.push_row(taxon_words(member), 0, Go::To(Item::Treatment(member.id)));
    }
    let came_by = came_by(row, desk);
    let others = row.keyed.iter().filter(|keyed| Some(**keyed) != came_by);
    for (at, (key, couplet)) in came_by.iter().chain(others).enumerate() {
        if at == 0 {
            sheet.heading("Keyed at");
        }
        let hand = if came_by == Some((*key, *couplet)) { " · came by this" } else { "" };
        let label = library.couplet_label(*key, *couplet);
        let words = format!("couplet {label} · {}{hand}", library.key_title(*key));
        sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(Item::Couplet(*key, *couplet)));
    }
}

/// Returns the couplet that one came from along a lead to this taxon. It is told by the way alone, so that stepping back
/// shows the same again, whatever was decided since.
fn came_by(row: &TaxonRow, desk: &Desk<'_>) -> Option<(KeyId, CoupletId)> {
    let Some(Item::Couplet(key, couplet)) = desk.from else { return None };
    Some((*key, *couplet)).filter(|spot| row.keyed.contains(spot))
}

/// Returns a taxon's rank, name and first vernacular name for a row.
fn taxon_words(row: &TaxonRow) -> crate::model::Text {
    let vernacular = row.vernacular.first().map(|name| format!(" · {name}")).unwrap_or_default();
    Composer::new().add(&format!("{} ", row.rank.word())).italic(&row.name).add(&vernacular).text()
}
