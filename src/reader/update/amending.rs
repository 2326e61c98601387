//! Setting a lead or a heading right: the form opened, typed into and taken. What is kept is an amendment that names its
//! place in the book's own words; keeping it is done outside.

use std::collections::BTreeMap;

use crate::amend::{Amendment, HeadingAt, HeadingChange, LeadAt, LeadChange, To};
use crate::keying::Spot;
use crate::model::{Key, Lead, Rank, TaxonId};
use crate::reader::form::{Choice, Form, Row};
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::press::Press;
use crate::reader::state::{Effect, Overlay, State};

/// Characters of the printed words by which a place is known again; the words of a lead differ long before (measured on
/// the demo flora: all within 40).
const KNOWN_BY: usize = 80;
/// Most characters that can be typed.
const LONGEST_TYPED: usize = 100;
/// White space that parts the columns of a page as printed.
const APART: &str = "   ";

/// Opens the form for what is at hand: a lead, the heading of a treatment, or the lines of a page.
pub(super) fn open(state: &mut State) {
    let form = match &state.way.here.item {
        Item::Couplet(..) => of_lead(state),
        Item::Treatment(id) => of_heading(state, *id),
        Item::Page(page) | Item::Text(page) => of_page(state, page.0),
        _ => None,
    };
    match form {
        Some(form) => state.overlay = Overlay::Amend(form),
        None => state.message = Some("The book prints nothing here that could be set right.".to_owned()),
    }
}

/// Types into the form, moves in it, takes its row or closes it.
pub(super) fn pressed(state: &mut State, press: Press) -> Vec<Effect> {
    let Overlay::Amend(form) = &mut state.overlay else { return Vec::new() };
    let rows = form.shown().len();
    match press {
        Press::Char(letter) if form.typed.chars().count() < LONGEST_TYPED => {
            form.typed.push(letter);
            form.at = 0;
        }
        Press::Backspace => {
            form.typed.pop();
            form.at = 0;
        }
        Press::Down | Press::Tab => form.at = (form.at + 1).min(rows.saturating_sub(1)),
        Press::Up | Press::BackTab => form.at = form.at.saturating_sub(1),
        Press::Home => form.at = 0,
        Press::End => form.at = rows.saturating_sub(1),
        Press::Enter => return take(state),
        Press::Esc => state.overlay = Overlay::None,
        Press::Char(_)
        | Press::Left
        | Press::Right
        | Press::PageUp
        | Press::PageDown
        | Press::Function(_)
        | Press::Interrupt => {}
    }
    Vec::new()
}

/// Takes the row at hand: asks on, or has the amendment kept.
fn take(state: &mut State) -> Vec<Effect> {
    let Overlay::Amend(form) = &state.overlay else { return Vec::new() };
    let shown = form.shown();
    let Some(row) = shown.get(form.at) else {
        state.message = Some("No row has these words.".to_owned());
        return Vec::new();
    };
    match row.choice.clone() {
        Choice::Targets(at) => {
            let form = targets(state, &at);
            state.overlay = form.map_or(Overlay::None, Overlay::Amend);
            Vec::new()
        }
        Choice::Ranks(at) => {
            let title = format!("“{}” is a heading of which rank?", at.words);
            state.overlay = Overlay::Amend(Form::new(title, ranks(&at, None)));
            Vec::new()
        }
        Choice::Keep(amendment) => {
            state.overlay = Overlay::None;
            let name = state.library.as_ref().map(|library| library.book.name().to_owned());
            name.map(|name| Effect::Amend(name, amendment)).into_iter().collect()
        }
    }
}

/// Returns the first words of a printed text, by which it is known again.
fn first_words(words: &str) -> String {
    let end = words.char_indices().nth(KNOWN_BY).map_or(words.len(), |(at, _)| at);
    let cut = if end < words.len() { words[..end].rfind(' ').unwrap_or(end) } else { end };
    words[..cut].to_owned()
}

fn of_lead(state: &State) -> Option<Form> {
    let library = state.library.as_ref()?;
    let (key, lead) = state.lead_at_hand()?;
    let at = lead_at(library.book.key(key)?, lead);
    let title = format!("The lead “{} {}”", lead.label.as_deref().unwrap_or("–"), at.words);
    let keep = |change| Choice::Keep(Amendment::Lead(at.clone(), change));
    let mut rows = vec![
        Row::new("goes to …".to_owned(), Choice::Targets(at.clone())),
        Row::new("is no lead: its words belong to the lead before it".to_owned(), keep(LeadChange::NoLead)),
    ];
    if lead.amended {
        rows.push(Row::new("is as the book was read at first".to_owned(), keep(LeadChange::AsRead)));
    }
    Some(Form::new(title, rows))
}

fn lead_at(key: &Key, lead: &Lead) -> LeadAt {
    LeadAt {
        words: first_words(&lead.text.plain),
        label: lead.label.clone(),
        key: key.title.clone().or_else(|| key.scope.clone()),
        page: Some(lead.text.page().0),
    }
}

/// Returns the form that asks where a lead goes: couplets of its key first, then keys, then taxa.
fn targets(state: &State, at: &LeadAt) -> Option<Form> {
    let library = state.library.as_ref()?;
    let (key, _) = state.lead_at_hand()?;
    let keep = |to| Choice::Keep(Amendment::Lead(at.clone(), LeadChange::GoesTo(to)));
    let mut rows = couplets(library.book.key(key)?, &keep);
    for other in library.contents().keys.iter().filter(|row| row.id != key) {
        if let Some(name) = other.title.clone().or_else(|| other.scope.clone()) {
            let words = format!("key: {} · {}", library.key_title(other.id), library.page_short(other.page));
            rows.push(Row::new(words, keep(To::Key(name))));
        }
    }
    for taxon in &library.contents().taxa {
        let words = format!("{} {} · {}", taxon.rank.word(), taxon.name, library.page_short(taxon.pages.0));
        rows.push(Row::new(words, keep(To::Taxon(taxon.name.clone()))));
    }
    Some(Form::new(format!("“{}” goes to which couplet, key or taxon?", at.words), rows))
}

fn couplets(key: &Key, keep: &dyn Fn(To) -> Choice) -> Vec<Row> {
    let mut labels: BTreeMap<&str, usize> = BTreeMap::new();
    for couplet in &key.couplets {
        *labels.entry(&couplet.label).or_default() += 1;
    }
    let rows = key.couplets.iter().filter_map(|couplet| {
        let words = first_words(&couplet.leads.first()?.text.plain);
        let says = format!("couplet {}: {words}", couplet.label);
        let alone = labels.get(couplet.label.as_str()) == Some(&1) && !couplet.label.is_empty();
        let to = To::Couplet(couplet.label.clone(), if alone { None } else { Some(words) });
        Some(Row::new(says, keep(to)))
    });
    rows.collect()
}

fn of_heading(state: &State, id: TaxonId) -> Option<Form> {
    let taxon = state.library.as_ref()?.book.taxon(id).filter(|taxon| !taxon.heading.is_empty())?;
    let at = HeadingAt { words: first_words(&taxon.heading.plain), page: Some(taxon.heading.page().0) };
    let none = Choice::Keep(Amendment::Heading(at.clone(), HeadingChange::NoHeading));
    let mut rows =
        vec![Row::new("is no heading: its words belong to the treatment before it".to_owned(), none)];
    rows.extend(ranks(&at, Some(taxon.rank)));
    Some(Form::new(format!("The heading “{}”", at.words), rows))
}

fn ranks(at: &HeadingAt, own: Option<Rank>) -> Vec<Row> {
    let others = Rank::ALL.iter().filter(|rank| Some(**rank) != own);
    let row = |rank: &Rank| {
        let keep = Choice::Keep(Amendment::Heading(at.clone(), HeadingChange::Rank(*rank)));
        Row::new(format!("is a heading of rank {}", rank.word()), keep)
    };
    others.map(row).collect()
}

/// Returns the form that asks which line of a page is a heading.
fn of_page(state: &State, page: u32) -> Option<Form> {
    let library = state.library.as_ref()?;
    let lines = lines(library, page);
    let row = |words: String| {
        let at = HeadingAt { words: first_words(&words), page: Some(page) };
        Row::new(words, Choice::Ranks(at))
    };
    let rows: Vec<Row> = lines.into_iter().map(row).collect();
    (!rows.is_empty()).then(|| Form::new("Which line of this page is a heading?".to_owned(), rows))
}

/// Returns the lines of a page column by column of each row, or its paragraphs where it was not set out.
fn lines(library: &Library, page: u32) -> Vec<String> {
    let Some(page) = library.book.page(crate::model::Page(page)) else { return Vec::new() };
    let rows = page.set.iter().flat_map(|row| row.plain.split(APART));
    let lines = rows.map(str::trim).filter(|words| words.chars().any(char::is_alphabetic));
    let lines: Vec<String> = lines.map(str::to_owned).collect();
    if lines.is_empty() {
        return page.paragraphs.iter().map(|text| text.plain.clone()).collect();
    }
    lines
}

/// Returns the item of the amended book that an item of the book before is, if it is still there.
pub(super) fn same_item(before: &Library, now: &Library, item: &Item) -> Option<Item> {
    match item {
        Item::Couplet(key, couplet) => {
            let leads = |library: &Library, at: usize| {
                Some(library.book.key(*key)?.couplets.get(at)?.leads.clone())
                    .filter(|leads| !leads.is_empty())
            };
            let old = leads(before, couplet.index())?;
            let shares = |at: &usize| {
                leads(now, *at)
                    .is_some_and(|new| new.iter().any(|lead| old.iter().any(|one| one.text == lead.text)))
            };
            let all = now.book.key(*key)?.couplets.len();
            let found = Some(couplet.index()).filter(shares).or_else(|| (0..all).find(shares));
            found.map(|at| Item::Couplet(*key, crate::model::CoupletId(at as u32)))
        }
        Item::Treatment(id) => same_taxon(before, now, *id).map(Item::Treatment),
        Item::Matter(id) => {
            let old = before.contents().matter.get(id.index())?;
            let same = |row: &&crate::store::MatterRow| row.title == old.title && row.pages.0 == old.pages.0;
            now.contents().matter.iter().find(same).map(|row| Item::Matter(row.id))
        }
        Item::Taxa { narrow, open } => Some(Item::Taxa {
            narrow: narrow.clone(),
            open: open.iter().filter_map(|id| same_taxon(before, now, *id)).collect(),
        }),
        Item::Possible(Some(spot)) => Some(Item::Possible(Some(same_spot(before, now, *spot)?))),
        Item::Beside(spot) => same_spot(before, now, *spot).map(Item::Beside),
        Item::MeasuredLeads(spot, words) => {
            Some(Item::MeasuredLeads(same_spot(before, now, *spot)?, words.clone()))
        }
        Item::Route(id) => same_taxon(before, now, *id).map(Item::Route),
        Item::Alike(id) => same_taxon(before, now, *id).map(Item::Alike),
        Item::Check(id) => same_taxon(before, now, *id).map(Item::Check),
        Item::MeasuredTaxon(id, words) => {
            Some(Item::MeasuredTaxon(same_taxon(before, now, *id)?, words.clone()))
        }
        Item::Compare(ids) => {
            let same: Option<Vec<TaxonId>> = ids.iter().map(|id| same_taxon(before, now, *id)).collect();
            same.map(Item::Compare)
        }
        Item::Possible(None)
        | Item::Trail
        | Item::Plants
        | Item::Here
        | Item::LookedUp
        | Item::Drill(_)
        | Item::Term(_)
        | Item::Uses(_)
        | Item::Page(_)
        | Item::Text(_)
        | Item::Contents
        | Item::Keys(_)
        | Item::Words(_)
        | Item::Find(_)
        | Item::FindPossible(_)
        | Item::FindAll(_)
        | Item::Groups(..)
        | Item::Shelf => Some(item.clone()),
    }
}

fn same_spot(before: &Library, now: &Library, spot: Spot) -> Option<Spot> {
    match same_item(before, now, &Item::Couplet(spot.key, spot.couplet))? {
        Item::Couplet(key, couplet) => Some(Spot { key, couplet }),
        _ => None,
    }
}

fn same_taxon(before: &Library, now: &Library, id: TaxonId) -> Option<TaxonId> {
    let old = before.taxon_row(id)?;
    let named = || now.contents().taxa.iter().filter(|row| row.name == old.name);
    let found = named().find(|row| row.pages.0 == old.pages.0).or_else(|| named().next());
    found.map(|row| row.id)
}
