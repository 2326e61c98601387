//! Lists: keys, words of the glossary, floras on the shelf.

use crate::name;
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Kind, Sheet};
use crate::store::{Licence, RowState, ShelfRow};

/// Puts together the list of keys.
pub(super) fn keys(library: &Library, narrow: &str) -> Sheet {
    let mut sheet = Sheet::titled("Keys");
    let wanted = name::fold(narrow);
    for row in &library.contents().keys {
        let title = library.key_title(row.id);
        let vernacular =
            row.scope_id.and_then(|id| library.taxon_row(id)).map(|scope| scope.vernacular.join(" "));
        if !name::fold(&format!("{title} {}", vernacular.unwrap_or_default())).contains(&wanted) {
            continue;
        }
        let facts = format!(
            " · {} · {} · {}",
            library.page_words(row.page),
            count(row.couplets, "couplet", "couplets"),
            count(row.reaches, "taxon", "taxa")
        );
        if let Some(start) = library.key_start(row.id) {
            sheet.push_row(Composer::new().bold(&title).add(&facts).text(), 0, Go::To(start));
        }
    }
    counted(&mut sheet, library.contents().keys.len(), narrow)
}

/// Puts together the list of words.
pub(super) fn words(library: &Library, narrow: &str) -> Sheet {
    let mut sheet = Sheet::titled("Words of the glossary");
    let wanted = name::fold(narrow);
    let mut all = 0;
    let mut before = "";
    for (word, id) in library.lexicon.names() {
        if word == before {
            continue;
        }
        before = word;
        all += 1;
        if !name::fold(word).starts_with(&wanted) {
            continue;
        }
        let term = library.lexicon.get(id);
        let gist = match (&term.see, term.senses.first()) {
            (Some(see), _) => format!(": see {see}"),
            (None, Some(sense)) => format!(": {}", sense.definition),
            (None, None) => String::new(),
        };
        let text = Composer::new().bold(word).add(&gist).text();
        sheet.push_short_row(text, Go::To(Item::Term(vec![word.to_owned()])));
    }
    counted(&mut sheet, all, narrow)
}

/// Puts together the list of floras.
pub(super) fn shelf(rows: &[ShelfRow]) -> Sheet {
    let mut sheet = Sheet::titled("Shelf");
    sheet.about = count(rows.len() as u32, "flora", "floras");
    for row in rows {
        let facts = match row.state {
            RowState::Ready => {
                let taxa = count(row.counts.all_taxa(), "taxon", "taxa");
                let licence = Licence::of(row.license.as_deref()).words();
                let pages = count(row.pages, "page", "pages");
                format!(" · {} · {taxa} · {pages} · licence {licence}", row.name)
            }
            RowState::OtherVersion => format!(" · {} · made by another version: ingest it again", row.name),
            RowState::Damaged => format!(" · {} · damaged: ingest it again", row.name),
        };
        let title = if row.title.is_empty() { &row.name } else { &row.title };
        sheet.push_row(Composer::new().bold(title).add(&facts).text(), 0, Go::Flora(row.name.clone()));
    }
    if rows.is_empty() {
        sheet.push(Kind::Body, Composer::new().add("There is no flora on the shelf yet.").text());
        let how = "Quit with q, then type `ligule demo` for a small invented flora, or `ligule ingest FILE.pdf` for your own.";
        sheet.push(Kind::Body, Composer::new().add(how).text());
    }
    sheet
}

fn counted(sheet: &mut Sheet, all: usize, narrow: &str) -> Sheet {
    let shown = sheet.stops.len();
    sheet.about = if narrow.is_empty() { format!("{all} in all") } else { format!("{shown} of {all}") };
    if shown == 0 {
        sheet.faint("Nothing fits what was typed.");
    }
    std::mem::take(sheet)
}
