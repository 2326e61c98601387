//! The taxa still possible, by family: below a couplet with the leads that end in each, or for the plant at hand.

use std::collections::{BTreeMap, BTreeSet};

use crate::keying::{End, EndId, Spot, Step};
use crate::model::{Rank, TaxonId};
use crate::reader::library::{Library, count, first_names};
use crate::reader::place::Item;
use crate::reader::plants::Plants;
use crate::reader::sheet::{Composer, Desk, Go, Sheet};
use crate::store::TaxonRow;

/// Puts the list together.
pub(super) fn sheet(library: &Library, spot: Option<Spot>, plants: &Plants) -> Sheet {
    let graph = library.graph();
    let branch = plants.here().branch();
    let open = |at: Spot, lead: usize| branch.keeps(at, lead);
    let (title, ends) = match spot {
        Some(spot) => {
            let label = library.couplet_label(spot.key, spot.couplet);
            (
                format!("Below couplet {label}"),
                graph.reach(&[Step::Couplet(spot)], |at, lead| at == spot || open(at, lead)),
            )
        }
        None => (format!("Still possible for {}", plants.here().name), branch.possible(graph)),
    };
    let mut sheet = Sheet::titled(title);
    sheet.about = count(ends.len() as u32, "taxon", "taxa");
    let leads = spot.map(|spot| below_leads(library, spot));
    for (family, ends) in by_family(library, &ends) {
        sheet.heading(&format!("{family} ({})", ends.len()));
        for end in ends {
            let warned = against_trip(library, plants, end);
            row(
                &mut sheet,
                library,
                end,
                &format!("{}{warned}{}", leads_to(leads.as_deref(), end), caution(library, end)),
            );
        }
    }
    if ends.is_empty() {
        sheet.faint("No lead from here ends in a taxon.");
    }
    let elsewhere = spot.map(|spot| kept_elsewhere(library, plants, spot)).unwrap_or_default();
    if !elsewhere.is_empty() {
        sheet.heading(&format!("Kept open elsewhere ({})", elsewhere.len()));
        for end in elsewhere {
            let warned = against_trip(library, plants, end);
            row(&mut sheet, library, end, &format!("{warned}{}", caution(library, end)));
        }
    }
    sheet
}

/// Returns what is possible for the plant at hand beside what lies below a couplet on its way, as a character that could
/// not be told kept it open.
pub(super) fn kept_elsewhere(library: &Library, plants: &Plants, spot: Spot) -> BTreeSet<EndId> {
    let (graph, branch) = (library.graph(), plants.here().branch());
    if !branch.decisions.iter().any(|decision| decision.kept.len() > 1) {
        return BTreeSet::new();
    }
    let (all, below) = (branch.possible(graph), graph.reach(&[Step::Couplet(spot)], |_, _| true));
    if all.is_disjoint(&below) { BTreeSet::new() } else { all.difference(&below).copied().collect() }
}

/// Puts together what may be here: every species of the flora, first those that the trip does not speak against.
pub(super) fn here(library: &Library, desk: &Desk<'_>) -> Sheet {
    let plants = desk.plants;
    let trip = &plants.trip;
    let mut sheet = Sheet::titled("What may be here");
    if trip.is_blank() {
        sheet.faint(
            &desk
                .keys
                .fill("No trip is set yet: {trip} on the trail ({trail}) takes place, month and elevation."),
        );
        return sheet;
    }
    if !trip.place.is_empty() && !library.knows_place(trip) {
        sheet.faint(&format!(
            "No district of this flora is called {}; the place is not compared.",
            trip.place
        ));
    }
    let rows = library.contents().taxa.iter().filter(|row| row.rank >= Rank::Species);
    let with_remarks = rows.map(|row| (row, library.remarks(trip, row.id)));
    let (against, fits): (Vec<_>, Vec<_>) =
        with_remarks.partition(|(_, remarks)| remarks.iter().any(|remark| !remark.fits));
    sheet.about = format!("{} · {} may be here, {} less likely", trip.words(), fits.len(), against.len());
    for (heading, taxa) in [("Nothing speaks against", fits), ("Something speaks against", against)] {
        if !taxa.is_empty() {
            sheet.heading(&format!("{heading} ({})", taxa.len()));
        }
        for (row, remarks) in taxa {
            let warns = remarks.iter().any(|remark| !remark.fits);
            let reasons = remarks.iter().filter(|remark| !warns || !remark.fits);
            let reasons: Vec<&str> = reasons.map(|remark| remark.words.as_str()).collect();
            let reasons =
                if reasons.is_empty() { "nothing said of it".to_owned() } else { reasons.join(" · ") };
            let text = Composer::new().italic(&row.name).add(&format!(" · {reasons}")).text();
            sheet.push_short_row(text, Go::To(Item::Treatment(row.id)));
        }
    }
    sheet
}

/// Returns what can be reached through each lead of a couplet.
fn below_leads(library: &Library, spot: Spot) -> Vec<BTreeSet<EndId>> {
    let graph = library.graph();
    (0..graph.leads(spot)).map(|lead| graph.below(spot, lead)).collect()
}

/// Returns the numbers of the couplet's leads that can end in a taxon.
fn leads_to(leads: Option<&[BTreeSet<EndId>]>, end: EndId) -> String {
    let Some(leads) = leads else { return String::new() };
    let numbers: Vec<String> = (1..)
        .zip(leads)
        .filter(|(_, ends)| ends.contains(&end))
        .map(|(number, _)| number.to_string())
        .collect();
    if numbers.len() == leads.len() {
        return " · every lead".to_owned();
    }
    format!(" · lead {}", numbers.join(" and "))
}

/// Returns what speaks against a taxon on the trip that is set; it stays in the list.
fn against_trip(library: &Library, plants: &Plants, end: EndId) -> String {
    let Some(End::Treated(id)) = library.graph().end(end) else { return String::new() };
    let remarks = library.remarks(&plants.trip, *id).into_iter().filter(|remark| !remark.fits);
    remarks.fold(String::new(), |said, remark| said + " · check: " + &remark.words)
}

/// Says that the book prints a caution that speaks of a taxon.
fn caution(library: &Library, end: EndId) -> String {
    let Some(End::Treated(id)) = library.graph().end(end) else { return String::new() };
    let rows = library.cautions_of(*id);
    let others: Vec<&TaxonRow> = rows.iter().copied().filter(|row| row.id != *id).collect();
    match (rows.len(), others.len()) {
        (0, _) => String::new(),
        (_, 0) => " · caution".to_owned(),
        (_, _) => format!(" · caution: {}", first_names(&others, 1)),
    }
}

/// Gathers end points under the name of their family, in the order of the book.
fn by_family(library: &Library, ends: &BTreeSet<EndId>) -> Vec<(String, Vec<EndId>)> {
    let mut families: BTreeMap<(u32, String), Vec<EndId>> = BTreeMap::new();
    for end in ends {
        let family = match library.graph().end(*end) {
            Some(End::Treated(id)) => family_of(library, *id),
            Some(End::Named(_)) | None => (u32::MAX, "Not treated in this flora".to_owned()),
        };
        families.entry(family).or_default().push(*end);
    }
    let mut families: Vec<(String, Vec<EndId>)> =
        families.into_iter().map(|((_, name), ends)| (name, ends)).collect();
    for (_, ends) in &mut families {
        ends.sort_by_key(|end| library.end_name(*end));
    }
    families
}

/// Returns the topmost taxon above one, which is its family in most floras.
fn family_of(library: &Library, id: TaxonId) -> (u32, String) {
    let mut top = library.taxon_row(id);
    while let Some(row) = top.filter(|row| row.rank != Rank::Family)
        && let Some(parent) = row.parent.filter(|parent| *parent < row.id)
    {
        top = library.taxon_row(parent);
    }
    top.map_or((u32::MAX, String::new()), |row| (row.id.0, row.name.clone()))
}

fn row(sheet: &mut Sheet, library: &Library, end: EndId, leads: &str) {
    let name = library.end_name(end);
    match library.graph().end(end) {
        Some(End::Treated(id)) => {
            let vernacular = library.taxon_row(*id).and_then(|row| row.vernacular.first().cloned());
            let vernacular = vernacular.map(|name| format!(" · {name}")).unwrap_or_default();
            let text = Composer::new().italic(&name).add(&vernacular).add(leads).text();
            sheet.push_row(text, 1, Go::To(Item::Treatment(*id)));
        }
        Some(End::Named(_)) | None => {
            let text = Composer::new().add("   ").italic(&name).add(leads).text();
            sheet.push(crate::reader::sheet::Kind::Body, text);
        }
    }
}
