//! What a search can be narrowed to: families, genera, ranks, districts and months with how many taxa fit in each.
//!
//! A row goes to the same search with one part more; what the search finds is put together in `find`.

use crate::reader::library::{Library, count};
use crate::reader::place::{Among, Item};
use crate::reader::plants::Plants;
use crate::reader::sheet::{Composer, Go, Sheet, find};
use crate::search::Share;

/// Groups of one kind that are listed at most.
const MOST: usize = 20;

/// Puts together what a search can be narrowed to.
pub(super) fn sheet(library: &Library, (among, words): (Among, &str), plants: &Plants) -> Sheet {
    let mut sheet = Sheet::titled("Narrow the search");
    sheet.faint("A row narrows the search to it, with a part that you may also type: only Rosaceae, only families, only July.");
    if words.trim().is_empty() {
        sheet.faint("Type words first: what you see, as a flora would say it or in plain words, or a name.");
        return sheet;
    }
    let narrow = match among {
        Among::Flora => crate::search::Narrow::default(),
        Among::Possible => find::possible(library, plants),
    };
    let answer = match library.ask(words, &narrow, 1) {
        Ok(answer) => answer,
        Err(sorry) => {
            sheet.faint(&sorry);
            return sheet;
        }
    };
    sheet.about = find::about(&answer);
    find::echo(&mut sheet, &answer);
    for (title, shares) in [
        ("Families", &answer.families),
        ("Genera", &answer.genera),
        ("Ranks", &answer.ranks),
        ("Districts", &answer.districts),
        ("Months", &answer.months),
    ] {
        push_shares(&mut sheet, title, shares, (among, words));
    }
    if sheet.stops.is_empty() {
        sheet
            .faint("No taxon agrees in something and contradicts nothing, so there is nothing to narrow to.");
    }
    sheet
}

fn push_shares(sheet: &mut Sheet, title: &str, shares: &[Share], (among, words): (Among, &str)) {
    let typed: Vec<&str> = words.split(';').map(str::trim).collect();
    let part = |share: &Share| format!("only {}", share.name);
    let open: Vec<&Share> = shares.iter().filter(|share| !typed.contains(&part(share).as_str())).collect();
    if open.is_empty() {
        return;
    }
    sheet.heading(title);
    for share in open.iter().take(MOST) {
        let taxa = format!(" · {}", count(share.taxa, "taxon", "taxa"));
        let row = Composer::new().bold(&share.name).add(&taxa).text();
        let narrowed = format!("{}; {}", words.trim().trim_end_matches(';'), part(share));
        let item = match among {
            Among::Flora => Item::Find(narrowed),
            Among::Possible => Item::FindPossible(narrowed),
        };
        sheet.push_short_row(row, Go::To(item));
    }
    if open.len() > MOST {
        sheet.faint(&format!("{} more; type `only` and the name.", open.len() - MOST));
    }
}
