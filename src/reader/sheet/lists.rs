//! Lists: keys, words of the glossary, floras on the shelf.

use crate::name;
use crate::reader::keys::KeyMap;
use crate::reader::library::{Library, count, phrase};
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Kind, Sheet};
use crate::store::{KeyRow, Licence, RowState, ShelfRow};

/// Puts together the list of keys: those whose title, taxon, family or page is typed; where there is none, those in which a
/// taxon of that name keys out.
pub(super) fn keys(library: &Library, narrow: &str) -> Sheet {
    let mut sheet = Sheet::titled("Keys");
    let wanted = name::fold(narrow);
    let rows = &library.contents().keys;
    let page = page_typed(narrow);
    let mut found: Vec<(&KeyRow, String)> = rows
        .iter()
        .filter(|row| {
            page.is_some_and(|page| begins_on(library, row, page)) || named(library, row).contains(&wanted)
        })
        .map(|row| (row, String::new()))
        .collect();
    if found.is_empty() {
        found = match page {
            Some(page) => before_page(library, page),
            None => keying_out(library, &wanted),
        };
    }
    for (row, why) in found {
        let needs = library.needed_by(row.id).map(|needs| format!(" · {}", phrase(needs)));
        let facts = format!(
            "{} · {} · {} · {}{why}",
            needs.unwrap_or_default(),
            library.page_short(row.page),
            count(row.couplets, "couplet", "couplets"),
            count(row.reaches, "taxon", "taxa")
        );
        let start = library.key_start(row.id).unwrap_or(Item::Page(row.page));
        let title = library.key_title(row.id);
        sheet.push_row(Composer::new().bold(&title).add(&facts).text(), 0, Go::To(start));
    }
    counted(&mut sheet, rows.len(), narrow)
}

/// Returns everything that a key may be asked for by: its title, and the names of its taxon and those above.
fn named(library: &Library, row: &KeyRow) -> String {
    let mut words = library.key_title(row.id);
    let scope = row.scope_id.and_then(|id| library.taxon_row(id));
    let above = row.scope_id.into_iter().flat_map(|id| library.above(id));
    for taxon in scope.into_iter().chain(above) {
        for name in std::iter::once(&taxon.name).chain(&taxon.vernacular).chain(&taxon.synonyms) {
            words.push(' ');
            words.push_str(name);
        }
    }
    name::fold(&words)
}

/// Reads `10`, `p 10` or `p. 10` as a page.
fn page_typed(narrow: &str) -> Option<&str> {
    let typed = narrow.trim();
    let rest = typed.strip_prefix(['p', 'P']).map_or(typed, |rest| rest.trim_start_matches('.'));
    let number = rest.trim();
    (!number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit())).then_some(number)
}

/// Says whether a key begins on a page, by its place in the PDF or by the folio printed on it.
fn begins_on(library: &Library, row: &KeyRow, page: &str) -> bool {
    row.page.to_string() == page || library.folio(row.page) == Some(page)
}

/// Returns the last key that begins before a page, which may go on there.
fn before_page<'a>(library: &'a Library, page: &str) -> Vec<(&'a KeyRow, String)> {
    let Ok(number) = page.parse::<u32>() else { return Vec::new() };
    let rows = library.contents().keys.iter().filter(|row| row.page.0 < number);
    let inside = number <= library.contents().pages;
    let last = rows.max_by_key(|row| row.page).filter(|_| inside);
    last.map(|row| (row, format!(" · the last to begin before page {number}"))).into_iter().collect()
}

/// Returns the keys in which taxa keyed out, of which a name begins with what was typed.
fn keying_out<'a>(library: &'a Library, wanted: &str) -> Vec<(&'a KeyRow, String)> {
    let mut found: Vec<(&KeyRow, String)> = Vec::new();
    let begins = |name: &String| name::fold(name).starts_with(wanted);
    for taxon in &library.contents().taxa {
        let mut names = std::iter::once(&taxon.name).chain(&taxon.vernacular).chain(&taxon.synonyms);
        if !names.any(begins) {
            continue;
        }
        for (key, _) in &taxon.keyed {
            let row = library.key_row(*key).filter(|row| found.iter().all(|(other, _)| other.id != row.id));
            found.extend(row.map(|row| (row, format!(" · {} keys out here", taxon.name))));
        }
    }
    found
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
pub(super) fn shelf(rows: &[ShelfRow], keys: &KeyMap) -> Sheet {
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
        empty(&mut sheet, keys);
    }
    sheet
}

/// What a newcomer reads on an empty shelf: headings and paragraphs.
const FIRST: &[(Kind, &str)] = &[
    (
        Kind::Body,
        "There is no flora on the shelf yet. Ligule reads the PDF of a flora and then leads you through its keys, every term one key press from its meaning.",
    ),
    (Kind::Heading, "To look around"),
    (
        Kind::Body,
        "Press {quit}, then type `ligule demo --tour`: a small invented flora, and a tour of five steps. `ligule demo` opens it without the tour.",
    ),
    (Kind::Heading, "To read your own flora"),
    (
        Kind::Body,
        "Press {quit}, then type `ligule ingest FILE.pdf --as NAME`. `ligule check NAME` lists what is doubtful, and `ligule` opens the reader.",
    ),
    (Kind::Heading, "Here"),
    (
        Kind::Body,
        "{help} explains the screen that you see, {layout} changes the keys for one hand, {theme} changes the light.",
    ),
];

fn empty(sheet: &mut Sheet, keys: &KeyMap) {
    for (kind, words) in FIRST {
        sheet.push(*kind, Composer::new().add(&keys.fill(words)).text());
    }
}

fn counted(sheet: &mut Sheet, all: usize, narrow: &str) -> Sheet {
    let shown = sheet.stops.len();
    sheet.about = if narrow.is_empty() { format!("{all} in all") } else { format!("{shown} of {all}") };
    if shown == 0 {
        sheet.faint("Nothing fits what was typed.");
    }
    std::mem::take(sheet)
}
