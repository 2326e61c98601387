//! Pages that leads cite, held against the folios of the treatments that they name (K42).

use crate::model::{Doubt, DoubtAbout, DoubtKind, Page, Target};

use super::Book;

/// Share of cited pages that do not fit from which on the book is told to cite another setting.
const OTHER_SETTING: f32 = 0.2;
/// Citations below which a share tells nothing.
const FEWEST: usize = 8;

/// Tells of cited pages on which the treatment does not stand.
pub(super) fn doubts(book: &Book<'_>, doubts: &mut Vec<Doubt>) {
    let mut wrong: Vec<Doubt> = Vec::new();
    let mut held = 0;
    for key in book.keys {
        for lead in key.couplets.iter().flat_map(|couplet| &couplet.leads) {
            let (Some(cites), Target::Taxon { name, id: Some(id) }) = (lead.cites.as_deref(), &lead.to)
            else {
                continue;
            };
            let folios = folios(book, book.taxa[id.index()].pages);
            if folios.is_empty() || book.taxa[id.index()].heading.is_empty() {
                continue;
            }
            held += 1;
            let keyed = book.keys.iter().filter(|key| key.scope_id == Some(*id));
            let keyed = keyed.filter_map(|key| book.folio(key.page)).any(|folio| folio == cites);
            if !keyed && !folios.iter().any(|folio| folio.eq_ignore_ascii_case(cites)) {
                let advice = format!(
                    "the lead sends to p. {cites} for {name}, whose treatment stands on p. {}",
                    folios.join("–")
                );
                wrong.push(Doubt {
                    kind: DoubtKind::WrongPage,
                    page: lead.text.last_page(),
                    text: lead.printed.clone(),
                    advice,
                    about: DoubtAbout::Key(key.id),
                });
            }
        }
    }
    doubts.extend(told(wrong, held));
}

fn folios<'a>(book: &'a Book<'_>, (first, last): (Page, Page)) -> Vec<&'a str> {
    let mut folios: Vec<&str> = (first.0..=last.0).filter_map(|page| book.folio(Page(page))).collect();
    if folios.len() > 2 {
        folios.drain(1..folios.len() - 1);
    }
    folios
}

/// Many wrong pages are those of another setting of the book, and are told in one sentence.
fn told(wrong: Vec<Doubt>, held: usize) -> Vec<Doubt> {
    if held < FEWEST || (wrong.len() as f32) < held as f32 * OTHER_SETTING {
        return wrong;
    }
    let Some(first) = wrong.first().cloned() else { return Vec::new() };
    let advice = format!(
        "of {held} pages that leads send to, {} are not those of the treatments: the keys cite the pages of another setting of this book",
        wrong.len()
    );
    vec![Doubt { advice, about: DoubtAbout::Book, ..first }]
}
