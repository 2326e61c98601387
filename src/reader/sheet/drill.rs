//! The terms that were looked up, as a list; and a question of the drill, with the answer once one was chosen.

use crate::drill::{DAY, Glossary, Kind, Log, LookUp, Question, Word};
use crate::reader::library::{Library, count};
use crate::reader::place::{Asked, Item};
use crate::reader::sheet::{Composer, Desk, Go, Kind as Set, Sheet, drawn};

/// The row that begins the drill.
const ASK: &str = "Ask me those that are due";
/// The same where there is nothing to ask.
const NOTHING_DUE: &str = "Nothing is due now";

/// Puts together what was looked up, the first first.
pub(super) fn looked_up(desk: &Desk<'_>) -> Sheet {
    let (log, day) = (desk.log, desk.day);
    let mut sheet = Sheet::titled("What you looked up");
    let look_ups: Vec<&LookUp> = log.look_ups().collect();
    let due = log.due(day).len() as u32;
    sheet.about =
        format!("{} · {}", count(look_ups.len() as u32, "look-up", "look-ups"), due_words(log, day));
    if look_ups.is_empty() {
        sheet.faint("Terms that you mark by letter, read or open are remembered here, with the place where they stood.");
        return sheet;
    }
    // This row stays when nothing is due, and new look-ups stand last, so that a row marked stays the one marked.
    sheet.push_row(Composer::new().bold(if due > 0 { ASK } else { NOTHING_DUE }).text(), 0, Go::Ask);
    for look_up in look_ups {
        let met = format!(" · {} · {}", look_up.met(), ago(day.saturating_sub(look_up.at / DAY)));
        let row = Composer::new().bold(&look_up.term).add(&met).text();
        sheet.push_short_row(row, Go::To(Item::Term(vec![look_up.term.clone()])));
    }
    sheet.faint(
        &desk.keys.fill("`ligule drill --forget` deletes this list with all answers; so does {forget} here."),
    );
    sheet
}

/// Puts a question together, and what there is to know once it is answered.
pub(super) fn question(library: &Library, asked: Option<&Asked>, desk: &Desk<'_>) -> Sheet {
    let mut sheet = Sheet::titled("Drill");
    sheet.about = due_words(desk.log, desk.day);
    let Some(asked) = asked else {
        sheet.faint("Nothing is due now. What you look up is asked from the same day on.");
        sheet.push_row(Composer::new().add("What you looked up").text(), 0, Go::To(Item::LookedUp));
        return sheet;
    };
    let Some((word, question)) = made(library, desk.log, asked) else {
        sheet.faint("This can't be asked: the term is forgotten, or no glossary here has it now.");
        sheet.push_row(Composer::new().add("The next question").text(), 0, Go::Ask);
        return sheet;
    };
    sheet.heading(&question.words());
    sheet.drawings = drawn::of_question(&question, asked.chosen);
    choices(&mut sheet, &question, asked.chosen);
    if let Some(chosen) = asked.chosen {
        answer(&mut sheet, &question, (&word, chosen == question.right));
        if !desk.log.due(desk.day).is_empty() {
            sheet.push_row(Composer::new().add("The next question").text(), 0, Go::Ask);
        }
        more(&mut sheet, &question);
    }
    sheet
}

/// Returns the question that stands at a place of the drill, with what the log has of its term.
pub(crate) fn made(library: &Library, log: &Log, asked: &Asked) -> Option<(Word, Question)> {
    let word = log.words().into_iter().nth(asked.word)?;
    let glossary =
        Glossary { lexicon: &library.lexicon, drawn: &|term| asked.drawn && drawn::is_drawn(term) };
    let question = Question::of(&word, glossary, asked.draw)?;
    Some((word, question))
}

fn choices(sheet: &mut Sheet, question: &Question, chosen: Option<usize>) {
    for at in 0..question.choices.len() {
        let words = match (question.kind, chosen) {
            (Kind::Which, None) => "this drawing",
            (Kind::Which, Some(_)) => question.choices[at].term.as_str(),
            (Kind::Name | Kind::Meaning | Kind::Drawing, _) => question.choice_words(at),
        };
        let number = Composer::new().bold(&(at + 1).to_string()).add("  ");
        match chosen {
            None => sheet.push_row(number.add(words).text(), 0, Go::Answer(at)),
            Some(chosen) => {
                let verdict = match (at == question.right, at == chosen) {
                    (true, true) => "  – right, your answer",
                    (true, false) => "  – right",
                    (false, true) => "  – your answer, not right",
                    (false, false) => "",
                };
                sheet.push(Set::Body, number.add(words).bold(verdict).text());
            }
        }
    }
}

/// Says what is right, where that comes from and where the term was met.
fn answer(sheet: &mut Sheet, question: &Question, (word, right): (&Word, bool)) {
    sheet.heading(if right { "Right" } else { "Not yet" });
    let definition = Composer::new().bold(&question.term).add(&format!(": {}", question.definition));
    sheet.push(Set::Body, definition.text());
    sheet.faint(&format!("From {}.", question.source));
    if let Some(met) = word.last() {
        let said = if met.said.is_empty() { String::new() } else { format!(": “{}”", met.said) };
        sheet.push(Set::Body, Composer::new().add(&format!("You met it in {}{said}", met.met())).text());
    }
}

/// Adds the rows that lead on from an answer.
fn more(sheet: &mut Sheet, question: &Question) {
    let terms = vec![question.term.clone()];
    let open = Composer::new().add(&format!("All senses of {}", question.term)).text();
    sheet.push_row(open, 0, Go::To(Item::Term(terms.clone())));
    let uses = Composer::new().add("Where this flora uses it, by organ").text();
    sheet.push_row(uses, 0, Go::To(Item::Uses(terms)));
}

/// Says how many terms are due, or when the next one is.
fn due_words(log: &Log, day: u64) -> String {
    match (log.due(day).len() as u32, log.next_day(day)) {
        (0, None) => "nothing to learn yet".to_owned(),
        (0, Some(next)) => format!("nothing due; the next {}", ahead(next - day)),
        (due, _) => format!("{} due", count(due, "term", "terms")),
    }
}

fn ahead(days: u64) -> String {
    if days == 1 { "tomorrow".to_owned() } else { format!("in {days} days") }
}

fn ago(days: u64) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        days => format!("{days} days ago"),
    }
}
