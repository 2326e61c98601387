//! Where a command would go from here: the places in words, the nearest first. Nobody is moved.

use std::collections::BTreeSet;

use crate::keying::Spot;
use crate::model::{CoupletId, KeyId, MatterId, Page, Target, TaxonId};
use crate::reader::command::Command;
use crate::reader::library::Library;
use crate::reader::measure;
use crate::reader::place::{Item, Screen};
use crate::reader::sheet::{self, Go, Stop};
use crate::reader::state::{Overlay, State};
use crate::reader::update::going;

/// A place in words.
pub(super) type Way = (String, Item);

/// Returns the places that a command leads to; none where it leads nowhere or does not lead at all.
pub(super) fn places(state: &State, command: Command) -> Vec<Way> {
    let Some(library) = &state.library else { return Vec::new() };
    let single = |item: Option<Item>| item.into_iter().map(|item| (String::new(), item)).collect();
    match command {
        Command::Define => single(defined(state, library)),
        Command::Open => named(state, library),
        Command::Arrival => arrivals(state, library),
        Command::Members => single(members(state, library)),
        Command::Parent => single(parent(state, library)),
        Command::BookPage => single(book_page(state)),
        Command::Next => single(neighbour(state, library, 1)),
        Command::Previous => single(neighbour(state, library, -1)),
        Command::Start => {
            let start = library.first_couplet().unwrap_or(Item::Contents);
            single(Some(start).filter(|start| *start != state.way.here.item))
        }
        Command::Follow if state.screen() == Screen::Couplet => of_lead(state, state.lead()),
        Command::Follow if state.screen() == Screen::Treatment && marked(state).is_none() => {
            single(members(state, library))
        }
        Command::Follow => match marked(state).map(|stop| &stop.go) {
            Some(Go::To(item) | Go::Paragraph(item, _)) => single(Some(item.clone())),
            Some(Go::Terms(..)) => single(defined(state, library)),
            Some(Go::Decision(_, spot)) => single(Some(Item::Couplet(spot.key, spot.couplet))),
            Some(
                Go::Flora(_)
                | Go::Beyond(..)
                | Go::Branch(_)
                | Go::Plant(_)
                | Go::Tick(..)
                | Go::Answer(_)
                | Go::Ask,
            )
            | None => Vec::new(),
        },
        Command::Possible => match state.way.here.item {
            Item::Couplet(key, couplet) => single(Some(Item::Possible(Some(Spot { key, couplet })))),
            _ => single(Some(Item::Possible(None))),
        },
        Command::Beside => match state.way.here.item {
            Item::Couplet(key, couplet) => single(Some(Item::Beside(Spot { key, couplet }))),
            _ => Vec::new(),
        },
        Command::OtherKey => match state.way.here.item {
            Item::Couplet(key, _) => other_keys(library, key),
            _ => Vec::new(),
        },
        Command::Check => match &state.way.here.item {
            Item::Treatment(id) => single(Some(Item::Check(*id))),
            _ => Vec::new(),
        },
        Command::Alike => match &state.way.here.item {
            Item::Treatment(id) => single(Some(Item::Alike(*id))),
            Item::Compare(taxa) => further(library, taxa),
            _ => Vec::new(),
        },
        Command::Route => match &state.way.here.item {
            Item::Treatment(id) if !library.graph().routes(*id).routes.is_empty() => {
                single(Some(Item::Route(*id)))
            }
            _ => Vec::new(),
        },
        _ => Vec::new(),
    }
}

/// Returns the places that a lead leads to.
pub(super) fn of_lead(state: &State, lead: usize) -> Vec<Way> {
    let (Some(library), Some((key, lead))) = (&state.library, state.lead_number(lead)) else {
        return Vec::new();
    };
    library.destinations(key, lead).into_iter().filter_map(|to| Some((to.words, to.item?))).collect()
}

/// Returns where the other keys to the same taxa begin.
fn other_keys(library: &Library, key: KeyId) -> Vec<Way> {
    let others = library.other_keys(key).into_iter();
    others
        .filter_map(|(other, needs)| Some((library.key_with_needs(other, needs), library.key_start(other)?)))
        .collect()
}

/// Returns the stop that is marked or at hand.
pub(super) fn marked(state: &State) -> Option<&Stop> {
    state.way.here.cursor.stop.and_then(|stop| state.sheet.stops.get(stop))
}

/// Says whether a command does something from here; the foot line offers no other.
pub(crate) fn possible(state: &State, command: Command) -> bool {
    if !command.applies(state.screen()) || state.overlay != Overlay::None {
        return false;
    }
    let rows = state.sheet.stops.len();
    match command {
        Command::Down => can_step(state, (state.sheet.leads.len(), rows)).1,
        Command::Up => can_step(state, (state.sheet.leads.len(), rows)).0,
        Command::ScrollOn if state.screen() != Screen::Couplet => can_step(state, (0, rows)).1,
        Command::ScrollBack if state.screen() != Screen::Couplet => can_step(state, (0, rows)).0,
        Command::ScrollOn | Command::ScrollBack => {
            let plan = measure::plan(state, measure::areas(state).body.height);
            plan.shown < plan.all
        }
        Command::NextWord | Command::WordBefore | Command::Tick => rows > 0,
        Command::Letters => !state.letters().is_empty(),
        Command::Glosses => state.sheet.stops.iter().any(|stop| matches!(stop.go, Go::Terms(..))),
        Command::Back => state.way.has_back(),
        Command::Follow => {
            let flora = matches!(
                marked(state).map(|stop| &stop.go),
                Some(Go::Flora(_) | Go::Beyond(..) | Go::Branch(_) | Go::Plant(_) | Go::Answer(_) | Go::Ask)
            );
            flora || !places(state, command).is_empty()
        }
        Command::Define
        | Command::Open
        | Command::Arrival
        | Command::Members
        | Command::Parent
        | Command::BookPage
        | Command::Next
        | Command::Previous
        | Command::Possible
        | Command::Route
        | Command::Beside
        | Command::OtherKey
        | Command::Alike
        | Command::Check
        | Command::Start => !places(state, command).is_empty(),
        Command::CannotTell => state.sheet.leads.len() > 1,
        Command::Neither | Command::Doubt | Command::Note => {
            !state.plants.here().branch().decisions.is_empty()
        }
        Command::Among => going::next_among(state).is_some(),
        Command::Groups => !matches!(state.way.here.item, Item::FindAll(_)),
        Command::Unfold | Command::Fold => folds(state, command),
        Command::Close => rows > 0 && state.way.here.cursor.stop.is_some(),
        Command::Keys
        | Command::Taxa
        | Command::Words
        | Command::Find
        | Command::Contents
        | Command::Trail
        | Command::Plants
        | Command::LookedUp
        | Command::Shelf => state.library.is_some() && !is_of(state.screen(), command),
        Command::Take => !state.sheet.leads.is_empty(),
        Command::Answer => {
            matches!(&state.way.here.item, Item::Drill(Some(asked)) if asked.chosen.is_none())
        }
        Command::Drawings => measure::drawings_fit(state),
        Command::Drill => !state.log.due(state.today()).is_empty(),
        Command::Forget => !state.log.is_empty(),
        Command::Look => matches!(state.way.here.item, Item::Page(_) | Item::Text(_)),
        Command::Across => measure::page::next(state).is_some(),
        Command::Marks => !state.marks.is_empty(),
        Command::Swap => state.side.is_some(),
        Command::Mark | Command::Places | Command::Split | Command::Copy | Command::Print | Command::Tour => {
            state.library.is_some()
        }
        Command::Menu
        | Command::Layout
        | Command::Mouse
        | Command::Forward
        | Command::NewPlant
        | Command::Rename
        | Command::Drop
        | Command::Measure
        | Command::Trip
        | Command::Here
        | Command::Amend
        | Command::Narrow
        | Command::First
        | Command::Last
        | Command::Theme
        | Command::Density
        | Command::Help
        | Command::Quit => true,
    }
}

/// Says whether one can go up and down.
fn can_step(state: &State, (leads, rows): (usize, usize)) -> (bool, bool) {
    let row = state.way.here.cursor.stop.unwrap_or(0);
    match state.screen() {
        Screen::Couplet => (state.lead() > 0, state.lead() + 1 < leads),
        screen if screen.is_list() => (row > 0, row + 1 < rows),
        _ => {
            let height = measure::areas(state).body.height;
            let top = state.top(height);
            (top > 0, top + usize::from(height) < state.flow.lines.len())
        }
    }
}

fn folds(state: &State, command: Command) -> bool {
    let Item::Taxa { narrow, open } = &state.way.here.item else { return false };
    let Some(taxon) = marked(state).and_then(|stop| stop.taxon) else { return false };
    let has_members = || {
        let library = state.library.as_ref();
        library.is_some_and(|library| library.contents().taxa.iter().any(|row| row.parent == Some(taxon)))
    };
    narrow.is_empty() && open.contains(&taxon) == (command == Command::Fold) && has_members()
}

fn is_of(screen: Screen, command: Command) -> bool {
    matches!(
        (screen, command),
        (Screen::Keys, Command::Keys)
            | (Screen::Taxa, Command::Taxa)
            | (Screen::Words, Command::Words)
            | (Screen::Find, Command::Find)
            | (Screen::Contents, Command::Contents)
            | (Screen::Shelf, Command::Shelf)
            | (Screen::LookedUp, Command::LookedUp)
            | (Screen::Trail, Command::Trail)
            | (Screen::Plants, Command::Plants)
    )
}

/// Returns the comparisons with one taxon more.
fn further(library: &Library, taxa: &[TaxonId]) -> Vec<Way> {
    if taxa.len() >= sheet::MOST_COMPARED {
        return Vec::new();
    }
    let Some(suggested) = taxa.first().map(|first| sheet::suggested(library, *first)) else {
        return Vec::new();
    };
    let others = suggested.iter().filter(|(id, _)| !taxa.contains(id));
    others
        .filter_map(|(id, reason)| {
            let words = format!("{} · {reason}", library.taxon_row(*id)?.name);
            Some((words, Item::Compare(taxa.iter().copied().chain([*id]).collect())))
        })
        .collect()
}

fn defined(state: &State, library: &Library) -> Option<Item> {
    let go = &marked(state)?.go;
    let item = if let Go::Terms(ids, _) = go {
        Item::Term(ids.iter().map(|id| library.lexicon.get(*id).name.clone()).collect())
    } else if let Go::To(item @ (Item::Term(_) | Item::Treatment(_))) = go {
        item.clone()
    } else {
        return None;
    };
    Some(item).filter(|item| *item != state.way.here.item)
}

/// Returns the treatment of the marked name, else those that the lead at hand names.
fn named(state: &State, library: &Library) -> Vec<Way> {
    let row = |id: TaxonId| Some((library.taxon_row(id)?.name.clone(), Item::Treatment(id)));
    if let Some(Go::To(Item::Treatment(id))) = marked(state).map(|stop| &stop.go) {
        return row(*id).into_iter().collect();
    }
    named_by_lead(state, library).into_iter().filter_map(row).collect()
}

/// Returns the taxa that the lead at hand names: its targets, and the scopes of the keys that it leads to.
fn named_by_lead(state: &State, library: &Library) -> BTreeSet<TaxonId> {
    let Some((_, lead)) = state.lead_at_hand() else { return BTreeSet::new() };
    let taxon = |target: &Target| match target {
        Target::Taxon { id, .. } => *id,
        Target::Key(key) => library.key_row(*key).and_then(|row| row.scope_id),
        Target::Couplet(_) | Target::Unresolved(_) => None,
    };
    std::iter::once(&lead.to).chain(&lead.also).filter_map(taxon).collect()
}

fn arrivals(state: &State, library: &Library) -> Vec<Way> {
    let couplets = match &state.way.here.item {
        Item::Couplet(key, couplet) => library.arrivals(*key, *couplet),
        Item::Treatment(id) => library.taxon_row(*id).map(|row| row.keyed.clone()).unwrap_or_default(),
        _ => Vec::new(),
    };
    let row = |(key, couplet): (KeyId, CoupletId)| {
        let words = format!("couplet {} · {}", library.couplet_label(key, couplet), library.key_title(key));
        (words, Item::Couplet(key, couplet))
    };
    couplets.into_iter().map(row).collect()
}

fn members(state: &State, library: &Library) -> Option<Item> {
    let taxa = match &state.way.here.item {
        Item::Treatment(id) => BTreeSet::from([*id]),
        _ => named_by_lead(state, library),
    };
    taxa.iter().find_map(|id| library.taxon_row(*id)?.key.and_then(|key| library.key_start(key)))
}

fn parent(state: &State, library: &Library) -> Option<Item> {
    let parent = match &state.way.here.item {
        Item::Treatment(id) => library.taxon_row(*id)?.parent,
        Item::Couplet(key, _) => library.key_row(*key)?.scope_id,
        _ => None,
    }?;
    library.taxon_row(parent).map(|row| Item::Treatment(row.id))
}

/// Returns the page that the lead at hand, or the text at the top of the window, stands on.
fn book_page(state: &State) -> Option<Item> {
    let lead = state.lead_at_hand().filter(|(_, lead)| !lead.text.pages.is_empty());
    let anchor = state.way.here.anchor;
    let text = state.sheet.blocks.get(anchor.paragraph).map(|block| &block.text);
    let page = match (lead, text) {
        (Some((_, lead)), _) => Some(lead.text.page()),
        (None, Some(text)) if !text.pages.is_empty() => Some(text.page_at(anchor.byte)),
        (None, _) => state.sheet.page,
    };
    let here =
        |page: &Page| state.way.here.item == Item::Page(*page) || state.way.here.item == Item::Text(*page);
    page.filter(|page| !here(page)).map(Item::Page)
}

fn neighbour(state: &State, library: &Library, by: i32) -> Option<Item> {
    let item = match &state.way.here.item {
        Item::Treatment(id) => Item::Treatment(TaxonId(id.0.checked_add_signed(by)?)),
        Item::Page(page) => Item::Page(Page(page.0.checked_add_signed(by)?)),
        Item::Text(page) => Item::Text(Page(page.0.checked_add_signed(by)?)),
        Item::Matter(id) => Item::Matter(MatterId(id.0.checked_add_signed(by)?)),
        Item::Term(words) => {
            let mut names: Vec<&str> = library.lexicon.names().map(|(name, _)| name).collect();
            names.dedup();
            let word = words.first()?;
            let headword =
                || library.lexicon.look_up(word).first().map(|id| library.lexicon.get(*id).name.as_str());
            let position = |word: &str| names.iter().position(|name| *name == word);
            let at = position(word).or_else(|| position(headword()?))?;
            let name = names.get(at.checked_add_signed(by as isize)?)?;
            Item::Term(vec![(*name).to_owned()])
        }
        _ => return None,
    };
    Some(item).filter(|item| library.has(item))
}
