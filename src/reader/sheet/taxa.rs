//! The tree of taxa: families down to species, folded or not, or the names that fit what was typed.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{TaxonId, Text};
use crate::name;
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::sheet::{Composer, Go, Sheet};
use crate::store::TaxonRow;

/// Columns by which members are set in.
const STEP: u16 = 2;

/// Puts the tree together.
pub(super) fn sheet(library: &Library, narrow: &str, open: &BTreeSet<TaxonId>) -> Sheet {
    let mut sheet = Sheet::titled("Taxa");
    let taxa = &library.contents().taxa;
    let mut members: BTreeMap<Option<TaxonId>, Vec<&TaxonRow>> = BTreeMap::new();
    for row in taxa {
        members.entry(row.parent.filter(|parent| parent.index() < taxa.len())).or_default().push(row);
    }
    if name::fold(narrow).is_empty() {
        let mut tree = Tree { sheet: &mut sheet, members: &members, open };
        tree.branch(None, 0);
        sheet.about = format!("{} in all", taxa.len());
    } else {
        fitting(&mut sheet, library, narrow);
        sheet.about = format!("{} of {}", sheet.stops.len(), taxa.len());
    }
    if sheet.stops.is_empty() {
        sheet.faint("No taxon here fits.");
    }
    sheet
}

struct Tree<'a> {
    sheet: &'a mut Sheet,
    members: &'a BTreeMap<Option<TaxonId>, Vec<&'a TaxonRow>>,
    open: &'a BTreeSet<TaxonId>,
}

/// Deepest level shown; a book has eleven ranks at most, and a ring of parents must come to an end.
const DEEPEST: u16 = 12;

impl Tree<'_> {
    fn branch(&mut self, of: Option<TaxonId>, depth: u16) {
        let rows = self.members.get(&of).map_or(&[][..], |rows| rows);
        for row in rows {
            let sign = match (self.members.contains_key(&Some(row.id)), self.open.contains(&row.id)) {
                (true, true) => "− ",
                (true, false) => "+ ",
                (false, _) => "  ",
            };
            push(self.sheet, row, (sign, depth * STEP));
            if self.open.contains(&row.id) && depth < DEEPEST {
                self.branch(Some(row.id), depth + 1);
            }
        }
    }
}

/// Adds the taxa whose name, synonym or vernacular name has every word that was typed.
fn fitting(sheet: &mut Sheet, library: &Library, narrow: &str) {
    let wanted = name::fold(narrow);
    let wanted: Vec<&str> = wanted.split_whitespace().collect();
    let fits = |words: &str| {
        let words = name::fold(words);
        wanted.iter().all(|wanted| words.contains(wanted))
    };
    for row in &library.contents().taxa {
        if fits(&row.name) || row.vernacular.iter().any(|name| fits(name)) {
            push(sheet, row, ("", 0));
        } else if let Some(synonym) = row.synonyms.iter().find(|synonym| fits(synonym)) {
            let text = Composer::new().italic(synonym).add(", see ").italic(&row.name).text();
            push_text(sheet, row, (text, 0));
        }
    }
}

fn push(sheet: &mut Sheet, row: &TaxonRow, (sign, indent): (&str, u16)) {
    let vernacular = match row.vernacular.as_slice() {
        [] => String::new(),
        names => format!(" · {}", names.join(", ")),
    };
    let words =
        Composer::new().add(sign).italic(&row.name).add(&format!(" · {}{vernacular}", row.rank.word()));
    push_text(sheet, row, (words.text(), indent));
}

fn push_text(sheet: &mut Sheet, row: &TaxonRow, (text, indent): (Text, u16)) {
    sheet.push_row(text, indent, Go::To(Item::Treatment(row.id)));
    if let Some(stop) = sheet.stops.last_mut() {
        stop.taxon = Some(row.id);
    }
}
