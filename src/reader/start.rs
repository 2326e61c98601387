//! Where reading begins: `--at WHERE` in, an item of the flora out.

use crate::model::Page;
use crate::name;
use crate::reader::library::Library;
use crate::reader::place::Item;

/// Names offered in place of one that is not there.
const NEAR: usize = 5;

/// Finds what `--at` names: a taxon, `key:NAME`, `term:WORD`, `page:NUMBER` or `folio:FOLIO`; else says what is near it.
pub(crate) fn find(library: &Library, at: &str) -> Result<Item, Vec<String>> {
    let (kind, what) = at.split_once(':').unwrap_or(("taxon", at));
    let what = what.trim();
    match kind.trim() {
        "key" => key(library, what),
        "term" => term(library, what),
        "page" => what.parse().ok().and_then(|page| on_page(library, page)).ok_or_else(|| pages(library)),
        "folio" => folio(library, what).ok_or_else(Vec::new),
        _ => taxon(library, what),
    }
}

fn taxon(library: &Library, what: &str) -> Result<Item, Vec<String>> {
    let wanted = name::fold(what);
    let taxa = &library.contents().taxa;
    let names = |row: &&crate::store::TaxonRow| name::fold(&row.name) == wanted;
    let others = |row: &&crate::store::TaxonRow| {
        row.vernacular.iter().chain(&row.synonyms).any(|other| name::fold(other) == wanted)
    };
    if let Some(row) = taxa.iter().find(names).or_else(|| taxa.iter().find(others)) {
        return Ok(Item::Treatment(row.id));
    }
    let first = wanted.split(' ').next().unwrap_or_default();
    let near = taxa.iter().filter(|row| {
        let genus = row.name.split(' ').next().unwrap_or_default();
        !first.is_empty() && (name::fold(&row.name).contains(first) || name::same_word(genus, first))
    });
    Err(near.take(NEAR).map(|row| row.name.clone()).collect())
}

fn key(library: &Library, what: &str) -> Result<Item, Vec<String>> {
    let wanted = name::fold(what);
    let keys = &library.contents().keys;
    let of_taxon = taxon(library, what).ok().and_then(|item| match item {
        Item::Treatment(id) => library.taxon_row(id)?.key,
        _ => None,
    });
    let same = keys.iter().find(|row| row.scope.as_deref().is_some_and(|scope| name::fold(scope) == wanted));
    let titled = || {
        keys.iter().find(|row| !wanted.is_empty() && name::fold(&library.key_title(row.id)).contains(&wanted))
    };
    let found = same.map(|row| row.id).or(of_taxon).or_else(|| titled().map(|row| row.id));
    let start = found.and_then(|id| library.key_start(id));
    start.ok_or_else(|| keys.iter().take(NEAR).map(|row| library.key_title(row.id)).collect())
}

fn term(library: &Library, what: &str) -> Result<Item, Vec<String>> {
    if library.lexicon.knows(what) {
        return Ok(Item::Term(vec![what.to_owned()]));
    }
    let near = library.lexicon.nearest(what, NEAR).into_iter();
    Err(near.map(|id| library.lexicon.get(id).name.clone()).collect())
}

fn on_page(library: &Library, page: u32) -> Option<Item> {
    Some(Item::Page(Page(page))).filter(|item| library.has(item))
}

fn pages(library: &Library) -> Vec<String> {
    vec![format!("pages 1 to {}", library.contents().pages)]
}

fn folio(library: &Library, what: &str) -> Option<Item> {
    let at = library.contents().folios.iter().position(|folio| folio.as_deref() == Some(what))?;
    on_page(library, at as u32 + 1)
}
