//! What a newcomer is told at the foot of the screen: three lines of orientation, or the step of the tour. State in, words
//! out; keys are named through the key map, so that no word of it can be older than the keys.

use serde::{Deserialize, Serialize};

use crate::reader::place::{Item, Screen};
use crate::reader::state::State;

/// Where the newcomer is in what is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Guide {
    /// Three lines at the first couplet where the way begins: gone with the first decision, and as they were for whoever
    /// steps back all the way.
    Welcome,
    /// This step of the tour, counted from 0.
    Tour(usize),
}

/// One step of the tour.
struct Step {
    title: &'static str,
    words: &'static str,
    done: fn(&State, &Before) -> bool,
}

/// What a step is measured against: the screen before the press.
pub(crate) struct Before {
    screen: Screen,
    lead: usize,
}

/// The five steps, each done by doing it.
const STEPS: &[Step] = &[
    Step {
        title: "read a couplet",
        words: "Above stand all leads of one couplet: of them one fits your plant. Read each; {down} and {up} take another in hand, {scroll-on} shows more of a long one.",
        done: |state, before| state.screen() == Screen::Couplet && state.lead() != before.lead,
    },
    Step {
        title: "look up a term",
        words: "{next-word} marks the next technical term, and its meaning stands below the leads; {letters} gives every term a letter. Now {define} opens all that is known of the marked one.",
        done: |state, _| state.screen() == Screen::Term,
    },
    Step {
        title: "step back",
        words: "However far you went, {back} leads back step by step, to the same lead and the same marked word. Go back to the couplet.",
        done: |state, before| before.screen == Screen::Term && state.screen() == Screen::Couplet,
    },
    Step {
        title: "take leads to a species",
        words: "{follow} takes the lead with the bar, a figure that lead at once. Go on until a treatment of a species opens; {cannot-tell} keeps all leads open where the plant doesn't show it.",
        done: |state, _| is_end(state),
    },
    Step {
        title: "check it, and see the trail",
        words: "A name from a key is only the best fit. {check} goes through the characters, where 1, 2 and 3 tick what agrees, disagrees or was not seen; then {trail} shows the trail, which is kept.",
        done: |state, _| state.screen() == Screen::Trail,
    },
];

/// The three lines of orientation.
const WELCOME: &[&str] = &[
    "Leads: {down} and {up} go from one to the other, {follow} or its figure takes one.",
    "Terms: {next-word} marks the next and tells its meaning; {back} steps back exactly.",
    "{help} explains each screen, {tour} is a tour of five steps, {menu} lists all keys.",
];

/// What is said at the end of the tour.
const ENDED: &str =
    "That was the tour. {tour} begins it again, {help} explains each screen; where you stand is always kept.";

impl Guide {
    /// Returns the title and the paragraphs to be shown, if they are shown here.
    pub(crate) fn words(self, state: &State) -> Option<(String, Vec<String>)> {
        let filled = |words: &&str| state.keys.fill(words);
        match self {
            Self::Welcome => {
                let library = state.library.as_ref()?;
                let first = library.first_couplet().is_some_and(|first| first == state.way.here.item);
                let shown = first && !state.way.has_back();
                shown.then(|| ("Welcome".to_owned(), WELCOME.iter().map(filled).collect()))
            }
            Self::Tour(at) => {
                let step = STEPS.get(at)?;
                let title = format!("Tour, step {} of {}: {}", at + 1, STEPS.len(), step.title);
                Some((title, vec![state.keys.fill(step.words)]))
            }
        }
    }
}

/// Notes what a step is measured against.
pub(crate) fn before(state: &State) -> Before {
    Before { screen: state.screen(), lead: state.lead() }
}

/// Goes on to the next step once the one at hand was done, and ends what has been told.
pub(crate) fn advance(state: &mut State, before: &Before) {
    match state.guide {
        Some(Guide::Tour(at)) => {
            let Some(step) = STEPS.get(at) else { return state.guide = None };
            if !(step.done)(state, before) {
                return;
            }
            state.guide = (at + 1 < STEPS.len()).then_some(Guide::Tour(at + 1));
            if state.guide.is_none() {
                state.say(ENDED);
            }
        }
        Some(Guide::Welcome) | None => {}
    }
}

/// Says whether anything was ever decided in this flora.
pub(crate) fn is_begun(state: &State) -> bool {
    state.plants.all().iter().flat_map(|plant| &plant.branches).any(|branch| !branch.decisions.is_empty())
}

/// Says whether a treatment is shown that no key divides further.
fn is_end(state: &State) -> bool {
    let Item::Treatment(id) = state.way.here.item else { return false };
    let row = state.library.as_ref().and_then(|library| library.taxon_row(id));
    row.is_some_and(|row| row.key.is_none())
}
