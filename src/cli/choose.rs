//! Which flora, taxon or key a call means: names as typed in, open books and rows out.

use serde::Deserialize;

use crate::cli::failure::Failure;
use crate::cli::world::World;
use crate::model::{KeyId, TaxonId};
use crate::name;
use crate::store::{Book, Contents, KeyRow, TaxonRow, stand};

/// Names offered where nothing fits, at most; as many as one line holds.
const OFFERED: usize = 5;

/// How a call names its flora, for the hint where it names none.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Named {
    /// With `--flora NAME`.
    ByOption,
    /// As the argument of the verb.
    ByArgument,
}

/// Which flora is asked, and for whom it answers.
#[derive(Debug, clap::Args)]
pub(crate) struct Asked {
    /// The flora [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Option<String>,
    /// Print JSON, with the fields of `ligule dump` where it has them
    #[arg(long)]
    pub(crate) json: bool,
}

impl Asked {
    /// Opens the flora asked for, or else the only one, or else the one read last.
    pub(crate) fn book(&self, world: &World) -> Result<Book, Failure> {
        book(world, self.flora.as_deref(), Named::ByOption)
    }
}

/// What the reader keeps of where it stood, as far as it is needed here.
#[derive(Deserialize)]
struct Stand {
    last: Option<String>,
}

/// Opens the flora asked for, or else the only one, or else the one read last.
pub(crate) fn book(world: &World, asked: Option<&str>, how: Named) -> Result<Book, Failure> {
    let shelf = world.shelf()?;
    if let Some(name) = asked {
        return Ok(shelf.open(name)?);
    }
    let mut names: Vec<String> = shelf.rows()?.into_iter().map(|row| row.name).collect();
    if names.len() > 1 {
        let stand = stand::last(shelf.root())?.and_then(|json| serde_json::from_str::<Stand>(&json).ok());
        if let Some(last) = stand.and_then(|stand| stand.last).filter(|last| names.contains(last)) {
            return Ok(shelf.open(&last)?);
        }
        let with = match how {
            Named::ByOption => "`--flora NAME`",
            Named::ByArgument => "the last word of the call",
        };
        return Err(Failure::WhichFlora { names, with });
    }
    match names.pop() {
        Some(name) => Ok(shelf.open(&name)?),
        None => Err(Failure::NoFlora),
    }
}

/// Returns the taxa that a name means: by scientific name, else by synonym, vernacular name, or the beginning of a name.
pub(crate) fn taxa<'a>(contents: &'a Contents, asked: &str) -> Result<Vec<&'a TaxonRow>, Failure> {
    let wanted = name::fold(asked);
    let fits =
        |test: &dyn Fn(&TaxonRow) -> bool| contents.taxa.iter().filter(|row| test(row)).collect::<Vec<_>>();
    let same = |own: &String| name::fold(own) == wanted;
    let exact = fits(&|row| same(&row.name));
    if !exact.is_empty() {
        return Ok(exact);
    }
    let other = fits(&|row| row.synonyms.iter().chain(&row.vernacular).any(same));
    let begins = |own: &String| !wanted.is_empty() && abbreviates(&wanted, &name::fold(own));
    let found = if other.is_empty() { fits(&|row| begins(&row.name)) } else { other };
    match found.len() {
        0 => Err(no_taxon(contents, asked)),
        1 => Ok(found),
        _ => Err(several(asked, found.into_iter().map(|row| row.name.clone()))),
    }
}

/// Returns the keys that are meant: to the members of a taxon, or by title.
pub(crate) fn keys<'a>(contents: &'a Contents, asked: &str) -> Result<Vec<&'a KeyRow>, Failure> {
    let wanted = name::fold(asked);
    let scoped = |row: &&KeyRow| row.scope.as_ref().is_some_and(|scope| name::fold(scope) == wanted);
    let titled = |row: &&KeyRow| row.title.as_ref().is_some_and(|title| name::fold(title) == wanted);
    let exact: Vec<&KeyRow> = contents.keys.iter().filter(|row| scoped(row) || titled(row)).collect();
    if !exact.is_empty() {
        return Ok(exact);
    }
    if let Ok(taxa) = taxa(contents, asked) {
        let of = |row: &&KeyRow| row.scope_id.is_some_and(|id| taxa.iter().any(|taxon| taxon.id == id));
        let keys: Vec<&KeyRow> = contents.keys.iter().filter(of).collect();
        return if keys.is_empty() { Err(no_key_to(contents, taxa[0])) } else { Ok(keys) };
    }
    let holds = |row: &&KeyRow| row.title.as_ref().is_some_and(|title| name::fold(title).contains(&wanted));
    let found: Vec<&KeyRow> = contents.keys.iter().filter(holds).collect();
    match found.len() {
        0 => Err(Failure::Nothing {
            what: format!("no key of “{}” is titled or leads to members of “{asked}”", contents.title),
            hint: None,
        }),
        1 => Ok(found),
        _ => Err(several(asked, found.into_iter().map(title))),
    }
}

/// Returns an item of a book, or says what is damaged.
pub(crate) fn item<'a, T>(book: &Book, item: Option<&'a T>) -> Result<&'a T, Failure> {
    let why = || book.damage().map_or_else(|| "this item is not in the book".to_owned(), ToString::to_string);
    item.ok_or_else(|| Failure::Item(why()))
}

/// Returns a key's title, or words for one without.
pub(crate) fn title(row: &KeyRow) -> String {
    match (&row.title, &row.scope) {
        (Some(title), _) => title.clone(),
        (None, Some(scope)) => format!("Key to {scope}"),
        (None, None) => "Key without a title".to_owned(),
    }
}

/// Returns the row of a taxon.
pub(crate) fn taxon_row(contents: &Contents, id: TaxonId) -> Option<&TaxonRow> {
    contents.taxa.get(id.index())
}

/// Returns the row of a key.
pub(crate) fn key_row(contents: &Contents, id: KeyId) -> Option<&KeyRow> {
    contents.keys.get(id.index())
}

/// Says whether each word as typed begins the word of the name at the same place (`s alta`, `sil al`).
fn abbreviates(typed: &str, name: &str) -> bool {
    let mut own = name.split(' ');
    typed.split(' ').all(|word| own.next().is_some_and(|own| own.starts_with(word))) && own.next().is_none()
}

/// Returns the failure for a name that several things have.
fn several(asked: &str, names: impl Iterator<Item = String>) -> Failure {
    let mut names: Vec<String> = names.collect();
    if names.len() > OFFERED {
        let more = names.len() - OFFERED;
        names.truncate(OFFERED);
        names.push(format!("{more} more"));
    }
    Failure::Several { asked: asked.to_owned(), names }
}

/// Returns the failure for a name that no taxon has, with the names that differ least.
fn no_taxon(contents: &Contents, asked: &str) -> Failure {
    let wanted = name::fold(asked);
    let words: Vec<&str> = wanted.split(' ').collect();
    let near = |row: &&TaxonRow| {
        let own = name::fold(&row.name);
        let own: Vec<&str> = own.split(' ').collect();
        own.len() == words.len() && own.iter().zip(&words).all(|(own, word)| name::same_word(own, word))
    };
    let near: Vec<&str> =
        contents.taxa.iter().filter(near).take(OFFERED).map(|row| row.name.as_str()).collect();
    let hint = if near.is_empty() {
        format!("`ligule find {asked}` looks in all texts.")
    } else {
        format!("Near it: {}.", near.join(", "))
    };
    Failure::Nothing {
        what: format!("“{}” treats no taxon named “{asked}”", contents.title),
        hint: Some(hint),
    }
}

/// Returns the failure for a taxon without a key to its members, naming the keys that it is in.
fn no_key_to(contents: &Contents, taxon: &TaxonRow) -> Failure {
    let within: Vec<String> = taxon
        .keyed
        .iter()
        .filter_map(|(id, _)| key_row(contents, *id))
        .map(|row| format!("“{}”", title(row)))
        .collect();
    let hint = (!within.is_empty()).then(|| format!("It is named in {}.", within.join(", ")));
    Failure::Nothing { what: format!("there is no key to the members of {}", taxon.name), hint }
}
