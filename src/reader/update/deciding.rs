//! Deciding for the plant at hand: taking a lead, keeping all open, doubting, noting, giving a branch up.
//!
//! Decisions are changed on purpose only; stepping along the way never touches them.

use crate::keying::{Decided, Spot, Step, Sureness, Tick, Trip};
use crate::model::KeyId;
use crate::reader::command::Command;
use crate::reader::place::{Item, Place, Screen};
use crate::reader::plants::{self, branch_name};
use crate::reader::press::Press;
use crate::reader::sheet::{self, Go};
use crate::reader::state::{Ask, Effect, Overlay, State};
use crate::reader::update::{drilling, going, leads, moving};

/// Most characters of an answer.
const LONGEST_ANSWER: usize = 400;

/// Notes that a lead of the couplet was taken.
pub(super) fn take(state: &mut State, lead: usize) {
    let Some(spot) = here(state) else { return };
    decide(state, spot, Some(lead));
}

/// Says which couplets still wait, once a lead has ended in a taxon while others were kept open.
pub(super) fn say_what_waits(state: &mut State) {
    let Some(library) = &state.library else { return };
    let plant = state.plants.here();
    if state.screen() != Screen::Treatment || !plant.begun || state.message.is_some() {
        return;
    }
    let here = match state.way.here.item {
        Item::Treatment(id) => Some(id),
        _ => None,
    };
    let mut waiting = plant.branch().waiting(library.graph());
    // A key to its own members is no other way that was left open.
    waiting.retain(|spot| library.key_row(spot.key).is_none_or(|row| row.scope_id != here));
    if let Some(first) = waiting.first() {
        let label = library.couplet_label(first.key, first.couplet);
        let more = if waiting.len() > 1 { format!(" and {} more", waiting.len() - 1) } else { String::new() };
        state.message =
            Some(format!("This is one end; couplet {label}{more} still waits: {{trail}} shows the trail."));
    }
}

/// Keeps every lead of the couplet open and goes on along the first that has a couplet.
pub(super) fn cannot_tell(state: &mut State) {
    let Some(spot) = here(state).filter(|_| state.sheet.leads.len() > 1) else {
        state.message = Some("There is nothing to choose between here.".to_owned());
        return;
    };
    state.plants.here_mut().begun = true;
    decide(state, spot, None);
    let Some(library) = &state.library else { return };
    let graph = library.graph();
    let steps = (0..graph.leads(spot)).flat_map(|lead| graph.steps(spot, lead));
    let next: Vec<Spot> = steps
        .filter_map(|step| match step {
            Step::Couplet(spot) => Some(*spot),
            Step::End(_) => None,
        })
        .collect();
    let label = |spot: &Spot| library.couplet_label(spot.key, spot.couplet);
    let said = match next.as_slice() {
        [] => "All leads stay open; each ends in a taxon: {possible} lists them.".to_owned(),
        [_] => "All leads stay open; you go on at this couplet. {trail} shows the trail.".to_owned(),
        [_, rest @ ..] => {
            let rest: Vec<String> = rest.iter().map(label).collect();
            format!(
                "All leads stay open; couplet {} waits as well ({{trail}} shows the trail).",
                rest.join(", ")
            )
        }
    };
    if let Some(next) = next.first() {
        state.visit(Item::Couplet(next.key, next.couplet));
    }
    state.message = Some(said);
}

/// Offers the decisions of the branch, the doubted ones first, for when no lead fits.
pub(super) fn neither(state: &mut State) {
    let Some(library) = &state.library else { return };
    let plant = state.plants.here();
    let branch = plant.branch();
    let here = here(state);
    let rows = branch.doubted().into_iter().map(|at| &branch.decisions[at]).filter(|one| !one.lost);
    let rows = rows.filter(|one| Some(one.spot) != here).map(|one| {
        let words = match one.sureness {
            Sureness::Sure => "sure",
            Sureness::Doubtful => "doubted",
            Sureness::CannotTell => "could not be told",
        };
        let (key, couplet) = (one.spot.key, one.spot.couplet);
        let label = library.couplet_label(key, couplet);
        (format!("couplet {label} · {words} · {}", library.key_title(key)), Item::Couplet(key, couplet))
    });
    let rows: Vec<(String, Item)> = rows.collect();
    if rows.is_empty() {
        return going::go_to_one(state, rows, Command::Neither);
    }
    let title = "No lead fits: look at a decision again, the doubted first".to_owned();
    state.overlay = Overlay::Choose { title, rows, at: 0 };
}

/// Doubts a decision, or is sure of it again.
pub(super) fn doubt(state: &mut State) {
    let spot = decision_here(state);
    let Some(decision) = state.plants.here_mut().decision_mut(spot) else {
        state.message = Some("Nothing was decided yet that could be doubted.".to_owned());
        return;
    };
    let (sureness, words) = match decision.sureness {
        Sureness::Doubtful => (Sureness::Sure, "sure again"),
        Sureness::Sure => (Sureness::Doubtful, "doubtful"),
        Sureness::CannotTell => (Sureness::CannotTell, "open anyway: it could not be told"),
    };
    decision.sureness = sureness;
    let said = format!("Couplet {} is {words}.", decision.printed.couplet);
    state.plants.here_mut().begun = true;
    state.stale();
    state.message = Some(said);
}

/// Asks why the branch at hand is given up; one that was given up is taken up again.
pub(super) fn drop(state: &mut State) {
    let plant = state.plants.here_mut();
    if plant.branch().dropped.is_none() {
        return ask(state, Ask::Reason, String::new());
    }
    plant.branch_mut().dropped = None;
    let name = branch_name(plant.at);
    state.stale();
    state.message = Some(format!("{name} is taken up again."));
}

/// Asks for a note to the decision at hand.
pub(super) fn ask_note(state: &mut State) {
    let spot = decision_here(state);
    match state.plants.here_mut().decision_mut(spot).map(|decision| decision.note.clone()) {
        Some(note) => ask(state, Ask::Note(spot), note),
        None => state.message = Some("Nothing was decided yet that a note could stand beside.".to_owned()),
    }
}

/// Asks a question, with what there is to begin with.
pub(super) fn ask(state: &mut State, ask: Ask, words: String) {
    state.overlay = Overlay::Ask { ask, words };
}

/// Types an answer; Enter gives it, Esc leaves everything as it was.
pub(super) fn answer(state: &mut State, press: Press) -> Vec<Effect> {
    let Overlay::Ask { ask, words } = &mut state.overlay else { return Vec::new() };
    match press {
        Press::Char(letter) if words.chars().count() < LONGEST_ANSWER => words.push(letter),
        Press::Backspace => {
            words.pop();
        }
        Press::Enter => {
            let (ask, words) = (*ask, words.trim().to_owned());
            state.overlay = Overlay::None;
            let effects = answered(state, ask, &words);
            state.stale();
            return effects;
        }
        Press::Esc => state.overlay = Overlay::None,
        _ => {}
    }
    Vec::new()
}

fn answered(state: &mut State, ask: Ask, words: &str) -> Vec<Effect> {
    let plant = state.plants.here_mut();
    match ask {
        Ask::Note(spot) => {
            if let Some(decision) = plant.decision_mut(spot) {
                words.clone_into(&mut decision.note);
                plant.begun = true;
            }
        }
        Ask::Name if words.is_empty() => {
            state.message = Some("A plant needs a name; it keeps its own.".to_owned());
        }
        Ask::Name => {
            words.clone_into(&mut plant.name);
            plant.begun = true;
        }
        Ask::NewPlant => {
            state.plants.begin(words);
            let name = &state.plants.here().name;
            state.message = Some(format!(
                "This is {name} now; begin at any key: {{start}} the first, {{keys}} all of them."
            ));
        }
        Ask::Readings => measured(state, words),
        Ask::Trip => set_trip(state, words),
        Ask::Forget => return drilling::forget(state, words),
        Ask::Reason => {
            let given_up = branch_name(plant.at);
            plant.drop_branch(words);
            plant.begun = true;
            state.message = Some(match plant.branch().dropped {
                None => format!("{given_up} is given up and kept; {} is at hand.", branch_name(plant.at)),
                Some(_) => format!(
                    "{given_up} is given up and kept; another answer at any couplet begins a new one."
                ),
            });
        }
    }
    Vec::new()
}

/// Sets the trip, and says so where the flora knows no district of that name.
fn set_trip(state: &mut State, words: &str) {
    let trip = Trip::parse(words);
    let known =
        trip.place.is_empty() || state.library.as_ref().is_none_or(|library| library.knows_place(&trip));
    let words = trip.words();
    state.message = Some(if words.is_empty() {
        "No trip is set.".to_owned()
    } else if known {
        format!("The trip is {words}; what it speaks against is said, never hidden.")
    } else {
        let place = &trip.place;
        format!(
            "The trip is {words}. This flora tells of no district {place}, so nothing is held against that."
        )
    });
    state.plants.trip = trip;
}

/// Ticks the character at hand, and goes on to the next.
pub(super) fn tick(state: &mut State, figure: usize) {
    let Some(Go::Tick(taxon, words)) = leads::marked(state).map(|stop| stop.go.clone()) else { return };
    let Some(name) =
        state.library.as_ref().and_then(|library| library.taxon_row(taxon)).map(|row| row.name.clone())
    else {
        return;
    };
    let plant = state.plants.here_mut();
    plant.begun = true;
    let ticks = plant.ticks.entry(name).or_default();
    let tick = match figure {
        1 => Tick::Agrees,
        2 => Tick::Disagrees,
        _ => Tick::NotSeen,
    };
    ticks.insert(words, tick);
    state.stale();
    moving::step(state, moving::Step::On);
}

/// Shows readings beside what they are set against; new readings take the place of the ones before.
fn measured(state: &mut State, typed: &str) {
    if typed.is_empty() {
        return;
    }
    let typed = typed.to_owned();
    match state.way.here.item.clone() {
        Item::Couplet(key, couplet) => state.visit(Item::MeasuredLeads(Spot { key, couplet }, typed)),
        Item::Treatment(taxon) => state.visit(Item::MeasuredTaxon(taxon, typed)),
        Item::MeasuredLeads(spot, _) => state.way.here = Place::at(Item::MeasuredLeads(spot, typed)),
        Item::MeasuredTaxon(taxon, _) => state.way.here = Place::at(Item::MeasuredTaxon(taxon, typed)),
        Item::Check(_) => measured_character(state, typed),
        _ => {}
    }
}

/// Keeps readings for the character at hand, if it states a measure of that kind, and says how they lie to it.
fn measured_character(state: &mut State, typed: String) {
    let Some(Go::Tick(taxon, words)) = leads::marked(state).map(|stop| stop.go.clone()) else { return };
    let Some(library) = &state.library else { return };
    let Some(name) = library.taxon_row(taxon).map(|row| row.name.clone()) else { return };
    match sheet::measured_against(library, &typed, sheet::statement(&words)) {
        Ok((_, verdict)) => {
            let plant = state.plants.here_mut();
            plant.begun = true;
            plant.ticks.entry(name).or_default().insert(words, Tick::Measured(typed));
            state.message = Some(format!("Measured: {verdict}."));
        }
        Err(sorry) => state.message = Some(format!("This character can't be measured so; {sorry}.")),
    }
}

/// Takes in hand the branch or plant of the row.
pub(super) fn take_in_hand(state: &mut State) {
    match leads::marked(state).map(|stop| stop.go.clone()) {
        Some(Go::Branch(branch)) => {
            state.plants.here_mut().at = branch;
            state.message = Some(format!("{} is at hand.", branch_name(branch)));
        }
        Some(Go::Plant(plant)) => {
            state.plants.take(plant);
            state.visit(Item::Trail);
        }
        _ => return,
    }
    state.stale();
}

fn decide(state: &mut State, spot: Spot, lead: Option<usize>) {
    let Some(library) = &state.library else { return };
    let before = branch_name(state.plants.here().at);
    let decided = plants::decide(&mut state.plants, library, (spot, lead), state.now);
    let plant = state.plants.here();
    let now = branch_name(plant.at);
    state.message = match decided {
        Decided::Branched if plant.begun => {
            Some(format!("The answer before is kept in {before}; this one goes on in {now}."))
        }
        Decided::TakenUp if plant.begun => {
            Some(format!("This was the answer in {now}, which is at hand again; {before} is kept."))
        }
        Decided::Branched | Decided::TakenUp | Decided::First | Decided::Again => state.message.take(),
    };
    state.stale();
}

/// Returns the couplet that is looked at.
fn here(state: &State) -> Option<Spot> {
    match state.way.here.item {
        Item::Couplet(key, couplet) => Some(Spot { key: KeyId(key.0), couplet }),
        _ => None,
    }
}

/// Returns the couplet of the decision at hand: that of the row, else the one looked at.
fn decision_here(state: &State) -> Option<Spot> {
    match leads::marked(state).map(|stop| &stop.go) {
        Some(Go::Decision(_, spot)) => Some(*spot),
        _ => here(state),
    }
}
