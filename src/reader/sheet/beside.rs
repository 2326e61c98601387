//! The leads of a couplet character by character: under each organ what every lead says of it, in the printed words.
//!
//! Where a lead says nothing of an organ, that is said: it is unstated there, and not denied.

use crate::clause;
use crate::keying::Spot;
use crate::model::{Page, Text};
use crate::reader::grounds::Grounds;
use crate::reader::library::Library;
use crate::reader::sheet::{Composer, Sheet};

/// What stands under an organ of which a text says nothing.
pub(super) const SILENT: &str = "– says nothing of it";

/// What is said of one organ: the organ, and the words.
pub(super) type Said = (String, Text);

/// Puts the leads beside each other.
pub(super) fn sheet(library: &Library, spot: Spot) -> Sheet {
    let label = library.couplet_label(spot.key, spot.couplet);
    let mut sheet = Sheet::titled(format!("{}, couplet {label}", library.key_title(spot.key)));
    let couplet = library.book.key(spot.key).and_then(|key| key.couplet(spot.couplet));
    let Some(couplet) = couplet else {
        sheet.faint("This couplet could not be read from the shelf.");
        return sheet;
    };
    sheet.page = couplet.leads.first().map(|lead| lead.text.page());
    sheet.about = format!("{} leads by organ; what one does not say it does not deny", couplet.leads.len());
    let leads: Vec<(String, Vec<Said>)> = couplet
        .leads
        .iter()
        .enumerate()
        .map(|(at, lead)| {
            let label = lead.label.clone().unwrap_or_else(|| (at + 1).to_string());
            (label, by_organ(&lead.text))
        })
        .collect();
    let grounds = library.book.key(spot.key).map(|key| library.grounds_of_leads(key, spot.couplet));
    bands(&mut sheet, library, (&leads, &grounds.unwrap_or_default()));
    sheet
}

/// Adds a heading and a band for every organ, in the order in which they are first named.
///
/// Each of the texts has what it stands under.
pub(super) fn bands(
    sheet: &mut Sheet,
    library: &Library,
    (texts, grounds): (&[(String, Vec<Said>)], &[Grounds]),
) {
    let mut organs: Vec<&str> = Vec::new();
    for (organ, _) in texts.iter().flat_map(|(_, said)| said) {
        if !organs.contains(&organ.as_str()) {
            organs.push(organ);
        }
    }
    for organ in organs {
        let of_organ: Vec<(&str, Option<&Text>)> = texts
            .iter()
            .map(|(who, said)| {
                (who.as_str(), said.iter().find(|(other, _)| other == organ).map(|(_, text)| text))
            })
            .collect();
        sheet.heading(&format!("{organ}{}", comparison(&of_organ)));
        let cell = |(who, text): &(&str, Option<&Text>)| {
            let composer = Composer::new().bold(who).add("  ");
            let from = composer.len();
            if let Some(text) = text {
                return (composer.text_of(text).text(), from);
            }
            let text = composer.add(SILENT).text();
            let end = text.plain.len();
            (text, end)
        };
        sheet.push_band(library, of_organ.iter().map(cell).collect(), grounds);
    }
}

/// Says in words how the texts of an organ stand to each other.
fn comparison(texts: &[(&str, Option<&Text>)]) -> &'static str {
    let spoken: Vec<&Text> = texts.iter().filter_map(|(_, text)| *text).collect();
    if spoken.len() < texts.len() {
        return " · not said of all";
    }
    let same = |text: &&Text| {
        Some(text.plain.trim().to_lowercase()) == spoken.first().map(|text| text.plain.trim().to_lowercase())
    };
    if spoken.iter().all(same) { " · the same words" } else { " · differs" }
}

/// Parts a text by organ, in the order in which the organs are first named; what has none is the whole plant's.
pub(super) fn by_organ(text: &Text) -> Vec<Said> {
    let mut said: Vec<Said> = Vec::new();
    for clause in clause::clauses(&text.plain) {
        let organ = clause.organ.unwrap_or_else(|| "plant".to_owned());
        let words = text.slice(clause.range);
        match said.iter_mut().find(|(other, _)| *other == organ) {
            Some((_, before)) => *before = joined(before, &words),
            None => said.push((organ, words)),
        }
    }
    said
}

fn joined(before: &Text, words: &Text) -> Text {
    let mut text = Composer::new().text_of(before).add("; ").text_of(words).text();
    if text.pages.is_empty() {
        text.pages.push((0, Page(1)));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_parts(text: &str, parts: &[(&str, &str)]) {
        let said = by_organ(&Text::plain(text, Page(1)));
        let said: Vec<(&str, &str)> =
            said.iter().map(|(organ, text)| (organ.as_str(), text.plain.as_str())).collect();
        assert_eq!(said, parts);
    }

    #[test]
    fn clauses_of_one_organ_come_together() {
        check_parts(
            "Leaves ovate; petals white; leaves hairy",
            &[("leaf", "Leaves ovate; leaves hairy"), ("petal", "petals white")],
        );
    }

    #[test]
    fn what_names_no_organ_is_of_the_whole_plant() {
        check_parts("Tall, hairy", &[("plant", "Tall, hairy")]);
    }
}
