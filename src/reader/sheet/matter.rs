//! The book as a book: its contents, its pages one by one, and the pieces that are neither key nor treatment.

use crate::model::{MatterId, Page};
use crate::reader::library::{Library, count};
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Kind, Sheet};
use crate::store::Licence;

/// What is said of a page without text.
pub(super) const NO_TEXT: &str = "No text was found on this page.";

/// Begins the sheet of a page.
pub(super) fn page_head(library: &Library, page: Page) -> Sheet {
    let mut sheet = Sheet::titled("The book");
    sheet.page = Some(page);
    let words = library.page_words(page);
    sheet.about = format!("{words} of {}", library.contents().pages);
    sheet
}

/// Puts one page together as running text, with what begins on it.
pub(super) fn page(library: &Library, page: Page) -> Sheet {
    let mut sheet = page_head(library, page);
    let paragraphs = library.book.page(page).map_or(&[][..], |page| &page.paragraphs);
    for paragraph in paragraphs {
        sheet.push_linked(library, paragraph.clone(), 0);
    }
    if paragraphs.is_empty() {
        sheet.faint(NO_TEXT);
    }
    begun(&mut sheet, library, page);
    sheet
}

/// Puts one piece of the book together.
pub(super) fn piece(library: &Library, id: MatterId) -> Sheet {
    let Some(row) = library.contents().matter.get(id.index()) else { return Sheet::titled("The book") };
    let mut sheet = Sheet::titled(row.title.clone());
    sheet.page = Some(row.pages.0);
    sheet.about = library.page_words(row.pages.0);
    let paragraphs = library.book.matter(id).map_or(&[][..], |matter| &matter.paragraphs);
    for paragraph in paragraphs {
        sheet.push_linked(library, paragraph.clone(), 0);
    }
    if paragraphs.is_empty() {
        sheet.faint("Nothing but its title was found.");
    }
    sheet
}

/// Puts together what the book holds.
pub(super) fn contents(library: &Library) -> Sheet {
    let contents = library.contents();
    let mut sheet = Sheet::titled("Contents");
    sheet.about = count(contents.pages, "page", "pages");
    sheet.push(Kind::Heading, Composer::new().bold(&contents.title).text());
    sheet.faint(&format!("Licence {}", Licence::told(contents.license.as_deref())));
    if contents.doubts > 0 {
        let doubts = count(contents.doubts, "doubt", "doubts");
        sheet.faint(&format!(
            "{doubts} about the reading; `ligule check {}` lists them.",
            library.book.name()
        ));
    }
    sheet.heading("Ways in");
    for (words, item) in ways_in(library) {
        sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(item));
    }
    if !contents.matter.is_empty() {
        sheet.heading("Parts of the book");
    }
    for row in &contents.matter {
        let words = format!("{} · {}", row.title, library.page_words(row.pages.0));
        sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(Item::Matter(row.id)));
    }
    sheet
}

fn ways_in(library: &Library) -> Vec<(String, Item)> {
    let contents = library.contents();
    let mut ways = Vec::new();
    if let Some(start) = library.first_couplet()
        && let Item::Couplet(key, _) = &start
    {
        ways.push((format!("First key: {}", library.key_title(*key)), start));
    }
    let taxa = count(contents.taxa.len() as u32, "taxon", "taxa");
    ways.push((count(contents.keys.len() as u32, "key", "keys"), Item::Keys(String::new())));
    ways.push((format!("{taxa}, families down to species"), taxa_item()));
    ways.push(("Words of the glossary".to_owned(), Item::Words(String::new())));
    ways.push(("Search the whole flora".to_owned(), Item::Find(String::new())));
    ways.push(("The book page by page".to_owned(), Item::Page(Page(1))));
    ways
}

fn taxa_item() -> Item {
    Item::Taxa { narrow: String::new(), open: std::collections::BTreeSet::new() }
}

/// Adds rows for the keys and treatments that begin on a page.
fn begun(sheet: &mut Sheet, library: &Library, page: Page) {
    let contents = library.contents();
    let keys = contents.keys.iter().filter(|row| row.page == page);
    let keys = keys.filter_map(|row| Some((library.key_title(row.id), library.key_start(row.id)?)));
    let taxa = contents.taxa.iter().filter(|row| row.pages.0 == page);
    let taxa = taxa.map(|row| (format!("{} {}", row.rank.word(), row.name), Item::Treatment(row.id)));
    for (at, (words, item)) in keys.chain(taxa).enumerate() {
        if at == 0 {
            sheet.heading("Begins on this page");
        }
        sheet.push_row(Composer::new().add(&words).text(), 0, Go::To(item));
    }
}
