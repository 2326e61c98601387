//! What each screen is, in plain words for someone who never saw it: a screen in, its paragraphs out. Keys stand in braces
//! by the name of their command and are put in by the key map.

use crate::reader::place::Screen;

/// Returns what one sees on a screen, and what to do there.
pub(crate) fn of(screen: Screen) -> &'static [&'static str] {
    match screen {
        Screen::Couplet => &[
            "You see one couplet of a key: two or more leads that exclude each other. Read all of them, then take the one that fits your plant.",
            "The bar at the left marks the lead at hand; {down} and {up} change it, {follow} takes it, and its figure takes any lead at once. Behind each arrow stands where the lead goes. {back} steps back exactly.",
            "Underlined words lead to their meaning: {next-word} marks the next one and its meaning appears; {letters} gives each a letter. Where the plant does not show what is asked, {cannot-tell} keeps every lead open; where none fits, {neither} leads back to the doubtful decisions.",
        ],
        Screen::Treatment => &[
            "You see what the book says of one taxon. If a key led you here, compare every character with your plant before you trust the name.",
            "{check} lists the characters to tick, {alike} the taxa that it may be taken for, {route} every lead that is true of it. A genus or family has its own key: {members} opens it. {back} steps back to where you came from.",
        ],
        Screen::Term => &[
            "You see all that is known of a term: each sense with the organ that it is said of, and whose glossary it is from.",
            "{back} steps back to the very word that you came from.",
        ],
        Screen::Printed => &[
            "You see a page of the book as it is printed, column beside column. A sign stands before all that ligule recognised.",
            "{look} shows the same page as running text, {next} and {previous} turn the page, {across} goes across a wide one, {back} steps back.",
        ],
        Screen::Page => &[
            "You see a page, or a piece of the book that is neither key nor treatment, as running text.",
            "{next} and {previous} go on and back in the book, {look} shows the page as printed, {back} steps back.",
        ],
        Screen::Contents => {
            &["You see what the book holds. {down} and {up} move to a row, {follow} opens it."]
        }
        Screen::Keys => &[
            "You see every key of the flora. If you know the family or genus of your plant, begin at its key.",
            "{narrow} and then letters of a name narrow the list; {follow} opens the key at its first couplet.",
        ],
        Screen::Taxa => &[
            "You see the taxa, families with their members folded away. {unfold} shows the members, {fold} hides them, {follow} opens the treatment.",
            "{narrow} and then letters of a name find any taxon, also by a synonym or a vernacular name.",
        ],
        Screen::Words => &[
            "You see the words of all glossaries. {narrow} and then the first letters find one, {follow} opens it.",
        ],
        Screen::Find => &[
            "Type what you see on the plant, in your own words or the book's; the taxa whose descriptions say so are listed with the sentence. Enter ends the typing, {narrow} begins it again.",
            "{down} and {up} move to a row, {follow} opens it, {among} searches only what is still possible.",
        ],
        Screen::Shelf => &[
            "You see the floras that were read onto this machine. {down} and {up} move, {follow} opens one where you left it.",
            "Another is added outside the reader with `ligule ingest FILE.pdf`.",
        ],
        Screen::Trail => &[
            "You see every decision for the plant at hand. {follow} goes back to the couplet of a row; the later decisions stay.",
            "{doubt} marks a decision as doubtful, {note} writes a note to it, {new-plant} begins another plant, {plants} lists all of them.",
            "Another answer at a couplet begins a branch beside the one before. {drop} gives up the branch at hand, and takes up again one that was given up; both stay in the list.",
        ],
        Screen::Plants => {
            &["You see the plants that you key out, each with its own trail. {follow} takes one in hand."]
        }
        Screen::Possible => &[
            "You see the taxa that are not excluded, by family. {follow} opens a treatment, {back} steps back.",
        ],
        Screen::Route => &[
            "You see why a plant is this taxon: every lead that is true of it, from the start of the flora on. {follow} opens the couplet of a row.",
        ],
        Screen::Beside => &[
            "You see the leads of a couplet set beside each other, organ by organ; where a lead says nothing of an organ, that is said. {back} steps back to the couplet.",
        ],
        Screen::Alike => &["You see the taxa that this one may be taken for. {follow} sets one beside it."],
        Screen::Compare => &[
            "You see treatments beside each other, character by character. {alike} adds one more, {back} takes the last one away.",
        ],
        Screen::Measured => &[
            "You see what the book says of your readings: within its usual range, only within the exceptional one, outside it, or not to be compared. {measure} takes other readings.",
        ],
        Screen::LookedUp => &[
            "You see the terms that you looked up, with the lead or treatment where each stood. {follow} opens a term, {drill} asks those that are due, {back} steps back.",
        ],
        Screen::Drill => &[
            "You are asked one of the terms that you looked up. A figure chooses an answer, and the right one is then shown; {drill} asks the next. {back} ends it at any time.",
        ],
        Screen::Check => &[
            "You see the characters of the treatment, one a row. Look at each on your plant: 1 agrees, 2 disagrees, 3 was not seen. The ticks are kept with the plant and stand in the treatment as well; {trail} shows its trail.",
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reader::keys::{KeyMap, Layout};

    #[test]
    fn every_key_that_an_explanation_names_is_a_command_of_that_screen() {
        use crate::reader::command::Command;
        for screen in Screen::ALL {
            for words in of(*screen) {
                for name in words.split('{').skip(1).filter_map(|rest| rest.split('}').next()) {
                    let command = Command::ALL.iter().find(|command| command.row().name == name);
                    let command = command.unwrap_or_else(|| panic!("no command {name}"));
                    assert!(command.applies(*screen), "{name} on {screen:?}");
                }
            }
        }
    }

    #[test]
    fn an_explanation_names_the_keys_in_force() {
        let said = |layout| KeyMap::new(layout, Vec::new()).fill(of(Screen::Couplet)[1]);
        assert!(said(Layout::Both).contains("j and k change it, Enter takes it"), "{}", said(Layout::Both));
        assert!(said(Layout::Left).contains("d and e change it, f takes it"), "{}", said(Layout::Left));
    }
}
