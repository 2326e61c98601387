//! A couplet: all its leads in the printed words, each with label and target.

use crate::keying::{Need, Spot};
use crate::model::{Couplet, CoupletId, Key, KeyId, Lead};
use crate::reader::library::{Library, count, first_names};
use crate::reader::plants::{Plants, mark_of};
use crate::reader::sheet::{Block, Desk, Kind, LeadFace, Sheet, drawn, possible};

/// Puts a couplet together.
pub(super) fn sheet(library: &Library, (key_id, id): (KeyId, CoupletId), desk: &Desk<'_>) -> Sheet {
    let mut sheet = Sheet::titled(library.key_title(key_id));
    let found = library.book.key(key_id).and_then(|key| Some((key, key.couplet(id)?)));
    let Some((key, couplet)) = found else {
        sheet.faint("This couplet could not be read from the shelf.");
        return sheet;
    };
    let page = couplet
        .leads
        .iter()
        .find(|lead| !lead.text.pages.is_empty())
        .map_or(key.page, |lead| lead.text.page());
    sheet.page = Some(page);
    sheet.about = about(library, (key, id), couplet, desk.plants);
    sheet.standing =
        (id.0 == 0).then(|| other_keys(library, key_id)).flatten().map(|words| desk.keys.fill(&words));
    let spot = Spot { key: key_id, couplet: id };
    let reached: u32 = couplet.leads.iter().map(|lead| lead.reaches).sum();
    let shared = library.possible(key_id, id).filter(|taxa| reached > *taxa);
    let mut grounds = library.grounds_of_leads(key, id).into_iter();
    for (number, lead) in couplet.leads.iter().enumerate() {
        sheet.grounds = grounds.next().unwrap_or_default();
        sheet.link(library, &lead.text, 0..lead.text.plain.len());
        sheet.blocks.push(Block { kind: Kind::Body, text: lead.text.clone(), indent: 0, hang: 0 });
        let mut face = face(library, key_id, lead);
        if shared.is_some() && number + 1 == couplet.leads.len() {
            face.target.push_str(if number == 1 { ON_BOTH } else { ON_SEVERAL });
        }
        let cautioned = library.cautioned(spot, number);
        if !cautioned.is_empty() {
            face.target.push_str(CAUTION);
            face.target.push_str(&first_names(&cautioned, CAUTIONED));
        }
        face.target.push_str(mark_of(desk.plants, spot, number));
        sheet.leads.push(face);
    }
    sheet.drawings = drawn::of_leads(library, &sheet);
    sheet
}

fn about(library: &Library, (key, id): (&Key, CoupletId), couplet: &Couplet, plants: &Plants) -> String {
    let number = (id.0 + 1).to_string();
    let of = key.couplets.len();
    let place = if couplet.label == number {
        format!("couplet {number} of {of}")
    } else {
        format!("couplet {} ({number} of {of})", couplet.label)
    };
    let page = couplet.leads.first().map_or(key.page, |lead| lead.text.page());
    let spot = Spot { key: key.id, couplet: id };
    let elsewhere = match possible::kept_elsewhere(library, plants, spot).len() {
        0 => String::new(),
        more => format!(" here, {more} more kept open"),
    };
    let taxa = library
        .possible(key.id, id)
        .map(|taxa| format!("{} possible{elsewhere} · ", count(taxa, "taxon", "taxa")));
    let ahead = library.ahead(spot);
    let ahead: Vec<&str> = ahead.into_iter().map(Need::word).collect();
    let ahead =
        if ahead.is_empty() { String::new() } else { format!(" · later you need: {}", ahead.join(", ")) };
    format!("{place} · {}{}{ahead}", taxa.unwrap_or_default(), library.page_words(page))
}

/// Says which other keys there are to the same taxa, and what each of them needs.
fn other_keys(library: &Library, key: KeyId) -> Option<String> {
    let others = library.other_keys(key);
    let words: Vec<String> =
        others.iter().map(|(other, needs)| library.key_with_needs(*other, *needs)).collect();
    let keys = if others.len() == 1 { "other key" } else { "other keys" };
    (!others.is_empty()).then(|| format!("{{other-key}} {keys} to the same taxa: {}", words.join("; ")))
}

fn face(library: &Library, key: KeyId, lead: &Lead) -> LeadFace {
    let destinations = library.destinations(key, lead);
    let words: Vec<String> = destinations.into_iter().map(|destination| destination.words).collect();
    let taxa = match lead.reaches {
        0 => String::new(),
        reaches => format!(" · {}", count(reaches, "taxon", "taxa")),
    };
    LeadFace {
        label: lead.label.clone().unwrap_or_else(|| UNLABELLED.to_owned()),
        target: format!("→ {}{taxa}{}", words.join(" or "), if lead.amended { AMENDED } else { "" }),
    }
}

/// What stands behind the target of a lead that its reader set right.
const AMENDED: &str = " · amended";
/// What stands behind the last number of taxa where the leads have some of them in common.
const ON_BOTH: &str = " (some on both ways)";
/// The same where there are more than two.
const ON_SEVERAL: &str = " (some on several ways)";
/// What stands before the names of taxa for which the book prints a caution.
const CAUTION: &str = " · caution: ";
/// Taxa that are named behind a lead where the book prints cautions for more.
const CAUTIONED: usize = 1;

/// What stands for the label of a lead that has none in print.
const UNLABELLED: &str = "–";
