//! What a place is called in lists of places: an item in, one line out. Nothing is opened or put together for it.

use crate::keying::Spot;
use crate::model::TaxonId;
use crate::reader::library::Library;
use crate::reader::place::Item;

/// Returns the words for an item.
pub(crate) fn of(library: &Library, item: &Item) -> String {
    let name = |id: &TaxonId| library.taxon_row(*id).map_or_else(|| "?".to_owned(), |row| row.name.clone());
    let typed = |list: &str, words: &str| {
        if words.is_empty() { list.to_owned() } else { format!("{list}: {words}") }
    };
    match item {
        Item::Couplet(key, couplet) => couplet_words(library, Spot { key: *key, couplet: *couplet }),
        Item::Treatment(id) => format!("{}, treatment", name(id)),
        Item::Term(words) => format!("term: {}", words.join(", ")),
        Item::Uses(words) => format!("uses of {}", words.join(", ")),
        Item::Page(page) => format!("{} as printed", library.page_words(*page)),
        Item::Text(page) => format!("{} as text", library.page_words(*page)),
        Item::Matter(id) => {
            let row = library.contents().matter.get(id.index());
            row.map_or_else(|| "a piece of the book".to_owned(), |row| row.title.clone())
        }
        Item::Contents => "contents".to_owned(),
        Item::Keys(words) => typed("keys", words),
        Item::Taxa { narrow, .. } => typed("taxa", narrow),
        Item::Words(words) => typed("words", words),
        Item::Find(words) => typed("search", words),
        Item::FindPossible(words) => typed("search what is possible", words),
        Item::FindAll(words) => typed("search all floras", words),
        Item::Groups(_, words) => typed("search by family", words),
        Item::LookedUp => "words looked up".to_owned(),
        Item::Drill(_) => "drill".to_owned(),
        Item::Shelf => "shelf".to_owned(),
        Item::Trail => "trail".to_owned(),
        Item::Plants => "plants".to_owned(),
        Item::Possible(Some(spot)) => format!("possible below {}", couplet_words(library, *spot)),
        Item::Possible(None) => "still possible".to_owned(),
        Item::Route(id) => format!("why {}", name(id)),
        Item::Beside(spot) => format!("by organ: {}", couplet_words(library, *spot)),
        Item::Alike(id) => format!("look-alikes of {}", name(id)),
        Item::Compare(ids) => ids.iter().map(name).collect::<Vec<_>>().join(" beside "),
        Item::MeasuredLeads(spot, words) => format!("{words} against {}", couplet_words(library, *spot)),
        Item::MeasuredTaxon(id, words) => format!("{words} against {}", name(id)),
        Item::Check(id) => format!("check of {}", name(id)),
        Item::Here => "what may be here".to_owned(),
    }
}

fn couplet_words(library: &Library, spot: Spot) -> String {
    let label = library.couplet_label(spot.key, spot.couplet);
    format!("couplet {label} · {}", library.key_title(spot.key))
}
