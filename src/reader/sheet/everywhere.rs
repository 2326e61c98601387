//! What a question finds in all floras of the shelf: how many taxa fit in each, then the taxa of all, the best first, each
//! with its flora. A row of another flora opens it there.

use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Desk, Go, Sheet, find};
use crate::search::{Answer, Narrow, Ranked, Says};
use crate::store::{RowState, ShelfRow};

/// Most taxa that are listed.
const MOST_TAXA: usize = 60;

/// Puts together what a question finds in all floras.
pub(super) fn sheet(library: &Library, words: &str, desk: &Desk<'_>) -> Sheet {
    let mut sheet = Sheet::titled("Search all floras");
    sheet.faint(&desk.keys.fill(
        "All floras of the shelf are searched; {among} searches this one. A row of another flora opens it.",
    ));
    if words.trim().is_empty() {
        return sheet;
    }
    let ready = desk.shelf.iter().filter(|row| row.state == RowState::Ready);
    let mut asked: Vec<(&ShelfRow, Answer)> = Vec::new();
    for row in ready {
        match library.ask_in(&row.name, words, &Narrow::default(), MOST_TAXA) {
            Ok(answer) => asked.push((row, answer)),
            Err(sorry) => sheet.faint(&format!("{}: {sorry}", row.title)),
        }
    }
    echoes(&mut sheet, library, &asked);
    for (row, answer) in &asked {
        let text = Composer::new().bold(&row.title).add(&format!(" · {}", find::about(answer)));
        sheet.push_row(text.text(), 0, go(library, row, Item::Find(words.to_owned())));
    }
    let mut taxa: Vec<(&ShelfRow, &Answer, &Ranked)> = Vec::new();
    for (row, answer) in &asked {
        taxa.extend(answer.taxa.iter().map(|taxon| (*row, answer, taxon)));
    }
    taxa.sort_by(|one, other| other.2.score.total_cmp(&one.2.score));
    if !taxa.is_empty() {
        sheet.heading("Taxa");
    }
    for (row, answer, taxon) in taxa.into_iter().take(MOST_TAXA) {
        push_taxon(&mut sheet, library, (row, answer), taxon);
    }
    sheet
}

/// Says what was understood: as the flora at hand has it, then which others have their own words for it.
fn echoes(sheet: &mut Sheet, library: &Library, asked: &[(&ShelfRow, Answer)]) {
    let here = asked.iter().find(|(row, _)| row.name == library.book.name()).or(asked.first());
    let Some((_, answer)) = here else { return };
    find::echo(sheet, answer);
    let common = find::understood(answer);
    for (row, other) in asked {
        let own = find::understood(other);
        if own != common {
            sheet.faint(&format!("{} by its own words: {own}", row.title));
        }
    }
}

fn push_taxon(sheet: &mut Sheet, library: &Library, (row, answer): (&ShelfRow, &Answer), taxon: &Ranked) {
    let mut text = Composer::new().bold(&taxon.name).add(&format!(" · {}", row.title));
    match &taxon.through {
        Some((name, true)) => text = text.add(&format!(" · found as its synonym {name}")),
        Some((name, false)) => text = text.add(&format!(" · {name}")),
        None => {}
    }
    for says in [Says::Contradicts, Says::Agrees, Says::Rarely, Says::Unstated] {
        let words: Vec<&str> = find::said(answer, taxon, says).into_iter().map(|(words, _)| words).collect();
        if !words.is_empty() {
            text = text.add(&format!(" · {}: {}", says.word(), words.join(", ")));
        }
    }
    sheet.push_row(text.text(), 0, go(library, row, Item::Treatment(taxon.id)));
}

/// Returns where a row of a flora leads.
fn go(library: &Library, row: &ShelfRow, item: Item) -> Go {
    if library.book.name() == row.name { Go::To(item) } else { Go::Beyond(row.name.clone(), item) }
}
