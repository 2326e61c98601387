//! The routes of a taxon: every lead that is true of it, from the start of the flora to where it keys out.

use crate::keying::Turn;
use crate::model::TaxonId;
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Sheet};

/// Puts the routes together.
pub(super) fn sheet(library: &Library, taxon: TaxonId) -> Sheet {
    let name = library.taxon_row(taxon).map(|row| row.name.clone()).unwrap_or_default();
    let routes = library.graph().routes(taxon);
    let mut sheet = Sheet::titled(format!("Why {name}"));
    let more = if routes.more { ", and more" } else { "" };
    sheet.about =
        format!("{}{more} from the start of the flora", count(routes.routes.len() as u32, "route", "routes"));
    for (at, route) in routes.routes.iter().enumerate() {
        sheet.heading(&format!("Route {} · {}", at + 1, count(route.len() as u32, "lead", "leads")));
        let mut key = None;
        for turn in route {
            if key != Some(turn.spot.key) {
                sheet.faint(&library.key_title(turn.spot.key));
                key = Some(turn.spot.key);
            }
            row(&mut sheet, library, *turn);
        }
    }
    if routes.routes.is_empty() {
        sheet.faint("No key of this flora leads to it.");
    }
    sheet
}

fn row(sheet: &mut Sheet, library: &Library, turn: Turn) {
    let couplet = library.book.key(turn.spot.key).and_then(|key| key.couplet(turn.spot.couplet));
    let Some(lead) = couplet.and_then(|couplet| couplet.leads.get(turn.lead)) else { return };
    let label = lead.label.clone().unwrap_or_else(|| library.couplet_label(turn.spot.key, turn.spot.couplet));
    let text = Composer::new().bold(&label).add(" ").text_of(&lead.text).text();
    sheet.push_row(text, 1, Go::Paragraph(Item::Couplet(turn.spot.key, turn.spot.couplet), turn.lead));
}
