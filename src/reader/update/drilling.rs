//! Keys of the drill: the next question, an answer, and forgetting all of it. What is asked is decided in `drill`.

use crate::drill::{self, Answer, CHOICES, Draw, Log, Record};
use crate::reader::measure;
use crate::reader::place::{Asked, Item, Place};
use crate::reader::sheet;
use crate::reader::state::{Ask, Effect, State};
use crate::reader::update::deciding;

/// What forgetting is confirmed with.
const YES: &str = "yes";

/// Goes to the next question, which takes the place of one that was not answered.
pub(super) fn ask(state: &mut State) {
    let open = matches!(&state.way.here.item, Item::Drill(Some(asked)) if asked.chosen.is_none());
    let item = Item::Drill(next(state));
    if open && item == state.way.here.item {
        state.message = Some("This is the one that is due; Enter or its number answers it.".to_owned());
    } else if open {
        state.way.here = at_first_row(item);
    } else {
        state.visit(item);
    }
}

/// Chooses an answer, counted from 0; it is kept at once.
pub(super) fn answer(state: &mut State, at: usize) -> Vec<Effect> {
    let (Some(library), Item::Drill(Some(asked))) = (&state.library, &state.way.here.item) else {
        return Vec::new();
    };
    if asked.chosen.is_some() {
        state.message = Some("This one is answered; {drill} asks the next.".to_owned());
        return Vec::new();
    }
    let Some((word, question)) = sheet::made(library, &state.log, asked) else { return Vec::new() };
    if at >= question.choices.len() {
        state.message = Some(format!("There is no answer {}.", at + 1));
        return Vec::new();
    }
    let quality = drill::chosen(&question, at).quality;
    let record = Record::Answered(Answer { at: state.now, term: word.term, kind: question.kind, quality });
    let answered = Asked { chosen: Some(at), ..asked.clone() };
    let line = record.line();
    state.log.push(record);
    state.way.here = at_first_row(Item::Drill(Some(answered)));
    vec![Effect::Remember(line)]
}

/// Asks whether to forget.
pub(super) fn ask_forget(state: &mut State) {
    if state.log.is_empty() {
        state.message = Some("Nothing is remembered.".to_owned());
    } else {
        deciding::ask(state, Ask::Forget, String::new());
    }
}

/// Forgets what was looked up and answered, also the questions on the way, if that was confirmed.
pub(super) fn forget(state: &mut State, words: &str) -> Vec<Effect> {
    if words.to_lowercase() != YES {
        state.message = Some("Nothing was forgotten.".to_owned());
        return Vec::new();
    }
    state.log = Log::default();
    state.way.keep(|item| !matches!(item, Item::Drill(_)));
    state.message = Some("All that you looked up and answered is forgotten.".to_owned());
    vec![Effect::Forget]
}

/// Returns the question that is due first.
fn next(state: &State) -> Option<Asked> {
    let day = state.today();
    let word = state.log.due(day).into_iter().next()?;
    let draw = Draw { seed: 0, day, nth: word.answers.len() };
    Some(Asked {
        word: word.number,
        draw,
        drawn: measure::drawings_to_choose(state, CHOICES as u16),
        chosen: None,
    })
}

fn at_first_row(item: Item) -> Place {
    let mut place = Place::at(item);
    place.cursor.stop = Some(0);
    place
}
