//! The command table: every command with its name, keys, help and the screens that it applies to.
//!
//! Key maps (`keys`), help, foot line, tour and README's key table come from this table; what a command does is `update`'s.

use crate::reader::place::Screen;
use crate::reader::press::Press;

/// All screens.
const ANYWHERE: &[Screen] = Screen::ALL;
/// Screens of running text, whose words can be marked.
const TEXTS: &[Screen] = &[
    Screen::Couplet,
    Screen::Treatment,
    Screen::Term,
    Screen::Printed,
    Screen::Page,
    Screen::Beside,
    Screen::Compare,
    Screen::Measured,
];
/// Screens on which one goes through the book in its own order.
const IN_ORDER: &[Screen] = &[Screen::Treatment, Screen::Term, Screen::Printed, Screen::Page];
/// A page of the book in either look.
const PAGES: &[Screen] = &[Screen::Printed, Screen::Page];
/// A page as printed alone.
const PRINTED: &[Screen] = &[Screen::Printed];
/// Lists that can be narrowed by typing.
const NARROWED: &[Screen] = &[Screen::Keys, Screen::Taxa, Screen::Words, Screen::Find];
/// A search alone.
const SEARCH: &[Screen] = &[Screen::Find];
/// The couplet alone.
const COUPLET: &[Screen] = &[Screen::Couplet];
/// Screens on which the reading of the book can be set right.
const AMENDED: &[Screen] = &[Screen::Couplet, Screen::Treatment, Screen::Printed, Screen::Page];
/// Screens that a lead leads to.
const KEYED: &[Screen] = &[Screen::Couplet, Screen::Treatment];
/// Screens that decisions are seen on.
const DECIDED: &[Screen] = &[Screen::Couplet, Screen::Trail];
/// The trail alone.
const TRAIL: &[Screen] = &[Screen::Trail];
/// Screens that look-alikes are asked for on.
const ALIKE: &[Screen] = &[Screen::Treatment, Screen::Compare];
/// Screens that readings are set against.
const MEASURED: &[Screen] = &[Screen::Couplet, Screen::Treatment, Screen::Measured, Screen::Check];
/// Characters to tick.
const CHECKED: &[Screen] = &[Screen::Check];
/// A question of the drill.
const DRILL: &[Screen] = &[Screen::Drill];
/// Screens on which one goes on learning.
const LEARNED: &[Screen] = &[Screen::LookedUp, Screen::Drill];
/// The list of what was looked up.
const LOOKED_UP: &[Screen] = &[Screen::LookedUp];
/// A treatment alone.
const TREATMENT: &[Screen] = &[Screen::Treatment];
/// The tree alone.
const TREE: &[Screen] = &[Screen::Taxa];

macro_rules! commands {
    ($($variant:ident $name:literal $keys:literal $short:literal $help:literal $on:ident;)*) => {
        /// Everything that a key can do.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(crate) enum Command {
            $(#[doc = $help] $variant,)*
        }

        impl Command {
            /// All commands in the order of the help screen.
            pub(crate) const ALL: &[Self] = &[$(Self::$variant,)*];

            /// Returns the row of the table.
            pub(crate) fn row(self) -> CommandRow {
                match self {
                    $(Self::$variant => CommandRow { name: $name, keys: $keys, short: $short, help: $help, on: $on },)*
                }
            }
        }
    };
}

/// One row of the command table.
pub(crate) struct CommandRow {
    /// The name, as a key map writes it.
    pub(crate) name: &'static str,
    /// The keys, words of [`Press::parse`] with blanks between; the first is the one shown in the foot line.
    pub(crate) keys: &'static str,
    /// A word or two for the foot line.
    pub(crate) short: &'static str,
    /// One line of help.
    pub(crate) help: &'static str,
    /// The screens that it applies to.
    pub(crate) on: &'static [Screen],
}

commands! {
    Down         "down"          "j down"            "down"     "Move to the next lead, row or line" ANYWHERE;
    Up           "up"            "k up"              "up"       "Move to the lead, row or line before" ANYWHERE;
    Take         "take"          "1 2 3 4 5 6 7 8 9" "take"     "Take the lead of that number at once" COUPLET;
    Follow       "follow"        "enter"             "go"       "Go where the lead, row or marked word leads" ANYWHERE;
    NextWord     "next-word"     "tab l right"       "term"     "Mark the next term or name" TEXTS;
    WordBefore   "word-before"   "backtab h left"    "term back" "Mark the term or name before" TEXTS;
    Letters      "letters"       "t"                 "letters"  "Put a letter beside every term; that letter then marks it" TEXTS;
    Glosses      "glosses"       "T"                 "terms"    "List every term here with its meaning in one line" TEXTS;
    Define       "define"        "d"                 "define"   "Open the marked term with all its senses" TEXTS;
    Open         "open"          "o"                 "open"     "Open the treatment of the marked name, or of what the lead names" TEXTS;
    Back         "back"          "b backspace"       "back"     "Step back to the place before, exactly as it was" ANYWHERE;
    Forward      "forward"       "f"                 "forward"  "Step forward again" ANYWHERE;
    Arrival      "arrival"       "u"                 "came by"  "Go up to the couplet that leads here" KEYED;
    Members      "members"       "m K"               "its key"  "Open the key to the members of this taxon" KEYED;
    Parent       "parent"        "p"                 "parent"   "Open the taxon that this one, or this key, belongs to" KEYED;
    BookPage     "page"          "r"                 "page"     "Look at the page of the book that this stands on, as printed" TEXTS;
    Look         "look"          "y"                 "look"     "Change between the page as printed and as running text" PAGES;
    Across       "across"        "x"                 "across"   "Go across a page wider than the window, and from its right edge back" PRINTED;
    Next         "next"          ". n"               "next"     "Go on to the next treatment, term or page" IN_ORDER;
    Previous     "previous"      ","                 "previous" "Go to the treatment, term or page before" IN_ORDER;
    Amend        "amend"         "A"                 "amend"    "Set right where the lead at hand goes, or what is a heading" AMENDED;
    Unfold       "unfold"        "l right"           "unfold"   "Show the members of the taxon" TREE;
    Fold         "fold"          "h left"            "fold"     "Hide the members of the taxon again" TREE;
    CannotTell   "cannot-tell"   "x"                 "can't tell" "Keep every lead of the couplet open: it can't be told on the plant" COUPLET;
    Neither      "neither"       "n"                 "none fits" "No lead fits: go back to a decision, the doubted ones first" COUPLET;
    Doubt        "doubt"         "y"                 "doubt"    "Doubt the decision here, else the last one; again: be sure of it" DECIDED;
    Note         "note"          "/"                 "note"     "Write a note to the decision here, else to the last one" DECIDED;
    Possible     "possible"      ","                 "possible" "List the taxa that are still possible" DECIDED;
    Route        "route"         "x"                 "why"      "Show every lead that is true of this taxon, from the start of the flora" TREATMENT;
    Measure      "measure"       "= +"               "measure"  "Type readings and set them against the leads, the treatment or the character at hand" MEASURED;
    Beside       "beside"        "."                 "by organ" "Set the leads beside each other, organ by organ" COUPLET;
    Drawings     "drawings"      "D"                 "drawings" "Show the drawings of what tells the leads apart, or hide them again" COUPLET;
    OtherKey     "other-key"    "O"                 "other key" "Go to the other key to the same taxa, which needs other parts" COUPLET;
    Alike        "alike"         "y"                 "alike"    "List the taxa that this one may be taken for, to compare them" ALIKE;
    Trail        "trail"         "-"                 "trail"    "Show what was decided for the plant at hand" ANYWHERE;
    Check        "check"         "/"                 "check"    "Tick what agrees and what does not, character by character" TREATMENT;
    Tick         "tick"          "1 2 3"             "tick"     "The character at hand agrees, disagrees, was not seen" CHECKED;
    Trip         "trip"          "m"                 "trip"     "Set place, month and elevation; what they speak against is said" TRAIL;
    Here         "here"          "l"                 "here"     "List what may be here on the trip that is set" TRAIL;
    NewPlant     "new-plant"     "n"                 "new plant" "Begin a new plant; the one before stays as it is" TRAIL;
    Rename       "rename"        "o"                 "name"     "Give the plant at hand another name" TRAIL;
    Drop         "drop"          "X"                 "give up"  "Give up the branch at hand with a reason; it is kept; again: take it up again" TRAIL;
    Plants       "plants"        "p"                 "plants"   "List the plants that you key out" TRAIL;
    Narrow       "narrow"        "/"                 "type"     "Type to narrow the list" NARROWED;
    Among        "among"         ","                 "possible" "Search by turns the taxa still possible for the plant at hand, all floras, this flora" SEARCH;
    Groups       "groups"        "n"                 "narrow to" "List families, genera, ranks, districts and months with counts, to narrow the search" SEARCH;
    ScrollOn     "scroll-on"     "space pagedown"    "more"     "Scroll on by a screenful" ANYWHERE;
    ScrollBack   "scroll-back"   "a pageup"          "scroll back" "Scroll back by a screenful" ANYWHERE;
    First        "first"         "g home"            "top"      "Go to the first lead, row or line" ANYWHERE;
    Last         "last"          "G end"             "end"      "Go to the last lead, row or line" ANYWHERE;
    Start        "start"         "0"                 "start"    "Begin at the first key of the flora" ANYWHERE;
    Keys         "keys"          "e"                 "keys"     "List every key" ANYWHERE;
    Taxa         "taxa"          "i"                 "taxa"     "Show the index of taxa, families down to species" ANYWHERE;
    Words        "words"         "w"                 "words"    "List the words of the glossary" ANYWHERE;
    LookedUp     "looked-up"     "L"                 "looked up" "List the terms that you looked up, to learn them" ANYWHERE;
    Drill        "drill"         "n ."               "ask"      "Ask the next term that is due" LEARNED;
    Answer       "answer"        "1 2 3 4"           "answer"   "Choose the answer of that number" DRILL;
    Forget       "forget"        "X"                 "forget"   "Forget all that you looked up and answered" LOOKED_UP;
    Find         "find"          "s"                 "search"   "Search the whole flora for words" ANYWHERE;
    Contents     "contents"      "c"                 "contents" "Show what the book holds" ANYWHERE;
    Shelf        "shelf"         "v"                 "volumes"  "Choose another flora from the shelf" ANYWHERE;
    Theme        "theme"         "z"                 "light"    "Change the light: sun, dusk, night, contrast, distinct or plain" ANYWHERE;
    Density      "density"       "Z"                 "closer"   "Leave out the empty lines between leads and above headings; again: set them" ANYWHERE;
    Help         "help"          "? f1"              "help"     "Explain this screen, then say which keys there are" ANYWHERE;
    Close        "close"         "esc"               "unmark"   "Take the mark away, or close what lies over the screen" ANYWHERE;
    Menu         "menu"          "; f2"              "more"     "List everything that can be done here, each with a letter" ANYWHERE;
    Mark         "mark"          "M"                 "mark"     "Set a mark here, to come back to" ANYWHERE;
    Marks        "marks"         "'"                 "marks"    "List your marks, to go to one or to take one away" ANYWHERE;
    Places       "places"        "H"                 "been"     "List the places that you came by, to go to one; the way is kept" ANYWHERE;
    Split        "split"         "S"                 "split"    "Set the treatment, term or place before beside this, or close what stands there" ANYWHERE;
    Swap         "swap"          "B"                 "swap"     "Change this place for the one beside it" ANYWHERE;
    Copy         "copy"          "C"                 "copy"     "Copy what is shown, with its citation, to the clipboard" ANYWHERE;
    Print        "print"         "P"                 "print"    "Write what is shown, with its citation, to a text file" ANYWHERE;
    Layout       "layout"        "Y"                 "layout"   "Change the keys: for both hands, for the left, for the right" ANYWHERE;
    Mouse        "mouse"         "f3"                "mouse"    "Switch the mouse off, for the terminal's own selection, and on" ANYWHERE;
    Tour         "tour"          "N"                 "tour"     "Begin the tour of five steps, or leave it" ANYWHERE;
    Quit         "quit"          "q ctrl-c"          "quit"     "Quit; the next start is exactly here" ANYWHERE;
}

impl Command {
    /// Says whether the command applies to a screen.
    pub(crate) fn applies(self, screen: Screen) -> bool {
        self.row().on.contains(&screen)
    }

    /// Returns its keys in the layout for both hands.
    pub(crate) fn presses(self) -> impl Iterator<Item = Press> {
        self.row().keys.split(' ').filter_map(Press::parse)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_word_of_the_table_is_a_key() {
        for command in Command::ALL {
            let words = command.row().keys.split(' ').count();
            assert_eq!(command.presses().count(), words, "{}", command.row().name);
        }
    }

    #[test]
    fn names_are_unique() {
        let mut names: Vec<&str> = Command::ALL.iter().map(|command| command.row().name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Command::ALL.len());
    }
}
