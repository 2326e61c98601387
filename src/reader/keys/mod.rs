//! The keys in force: the command table, a layout and the reader's own changes in; the command of a press, and the keys of
//! a command in words, out. Screens, help, messages and the tour name keys only through this.

mod own;
mod sides;

use std::fmt::Write;

use serde::{Deserialize, Serialize};

use crate::reader::command::Command;
use crate::reader::place::Screen;
use crate::reader::press::Press;

pub(crate) use own::{Change, read};

/// The layouts that there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Layout {
    /// The keys of the command table, for both hands.
    #[default]
    Both,
    /// Letters under the left hand alone.
    Left,
    /// Letters under the right hand alone.
    Right,
}

impl Layout {
    /// All layouts, in the order in which one key changes between them.
    pub const ALL: &[Self] = &[Self::Both, Self::Left, Self::Right];

    /// Returns its name, as the command line has it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// Returns what it is in words.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Both => "Keys for both hands",
            Self::Left => "Letters under the left hand",
            Self::Right => "Letters under the right hand",
        }
    }

    /// Returns the layout of a name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|layout| layout.name() == name)
    }

    /// Returns the layout that follows in turn.
    pub(crate) fn after(self) -> Self {
        match self {
            Self::Both => Self::Left,
            Self::Left => Self::Right,
            Self::Right => Self::Both,
        }
    }
}

/// Which keys do what.
#[derive(Clone, Debug)]
pub(crate) struct KeyMap {
    layout: Layout,
    changes: Vec<Change>,
    keys: Vec<(Command, Vec<Press>)>,
}

impl Default for KeyMap {
    fn default() -> Self {
        Self::new(Layout::default(), Vec::new())
    }
}

impl KeyMap {
    /// Makes the map of a layout with the reader's own changes.
    pub(crate) fn new(layout: Layout, changes: Vec<Change>) -> Self {
        let mut keys: Vec<(Command, Vec<Press>)> =
            Command::ALL.iter().map(|command| (*command, presses(*command, layout))).collect();
        for change in &changes {
            for (command, presses) in &mut keys {
                if *command == change.command {
                    presses.clone_from(&change.keys);
                    let always = own::always_of(*command).iter().copied();
                    let missing: Vec<Press> = always.filter(|press| !change.keys.contains(press)).collect();
                    presses.extend(missing);
                } else if own::on_one_screen(*command, change.command) {
                    let of_own = |press: &Press| {
                        changes.iter().any(|own| own.command == *command && own.keys.contains(press))
                    };
                    presses.retain(|press| !change.keys.contains(press) || of_own(press));
                }
            }
        }
        Self { layout, changes, keys }
    }

    /// Returns the same changes on another layout.
    pub(crate) fn with(&self, layout: Layout) -> Self {
        Self::new(layout, self.changes.clone())
    }

    /// Returns the layout.
    pub(crate) fn layout(&self) -> Layout {
        self.layout
    }

    /// Returns the command that a press means on a screen.
    pub(crate) fn command(&self, press: Press, screen: Screen) -> Option<Command> {
        let found = self.keys.iter().find(|(command, keys)| command.applies(screen) && keys.contains(&press));
        found.map(|(command, _)| *command)
    }

    /// Returns the keys of a command.
    pub(crate) fn presses(&self, command: Command) -> &[Press] {
        let found = self.keys.iter().find(|(other, _)| *other == command);
        found.map_or(&[], |(_, keys)| keys)
    }

    /// Returns all keys of a command as they are shown: `j or ↓`, `1–9` for the figures; none for what only the menu has.
    pub(crate) fn shown(&self, command: Command) -> String {
        shown(self.presses(command))
    }

    /// Returns the key named in the foot line and in texts; of what has no key of its own, the way through the menu.
    pub(crate) fn first(&self, command: Command) -> String {
        match self.presses(command) {
            [first, .., last] if command.row().on != Screen::ALL && first.figure().is_some() => {
                format!("{}–{}", first.shown(), last.shown())
            }
            [first, ..] => first.shown(),
            [] => {
                let menu = self.presses(Command::Menu).first().map(|press| press.shown());
                format!("{} ({})", menu.unwrap_or_default(), command.row().name)
            }
        }
    }

    /// Puts keys into words: every `{name}` of a command becomes its key; a stop or dash among words stands in quotes.
    pub(crate) fn fill(&self, words: &str) -> String {
        let mut filled = String::with_capacity(words.len());
        let mut rest = words;
        while let Some((before, after)) = rest.split_once('{') {
            filled.push_str(before);
            let named = after.split_once('}').and_then(|(name, after)| {
                let command = Command::ALL.iter().find(|command| command.row().name == name)?;
                Some((*command, after))
            });
            if let Some((command, after)) = named {
                let key = self.first(command);
                let quoted = key.len() == 1 && key.starts_with(LIKE_STOPS);
                filled.push_str(&if quoted { format!("“{key}”") } else { key });
                rest = after;
            } else {
                filled.push('{');
                rest = after;
            }
        }
        filled.push_str(rest);
        filled
    }

    /// Returns the letters and figures that stand beside words and rows, the nearest to the fingers first.
    pub(crate) fn signs(&self) -> impl Iterator<Item = char> + use<> {
        sides::signs(self.layout).chars()
    }

    /// Returns the signs of the rows of a choice: the figures, then the letters that neither move in it nor leave it.
    pub(crate) fn row_signs(&self) -> impl Iterator<Item = char> + '_ {
        let is_free = |sign: &char| {
            !sign.is_ascii_digit()
                && LEAVE_OR_MOVE.iter().all(|command| !self.presses(*command).contains(&Press::Char(*sign)))
        };
        ('1'..='9').chain(self.signs().filter(is_free))
    }
}

/// Keys that would be read as stops or dashes of the sentence that they stand in.
const LIKE_STOPS: [char; 5] = [',', '.', ';', '-', '\''];

/// What keeps its keys while a choice is open.
const LEAVE_OR_MOVE: &[Command] =
    &[Command::Down, Command::Up, Command::Follow, Command::Back, Command::Help];

/// Keys of one command that are listed singly; only the figures are more.
const MOST_KEYS: usize = 4;

fn shown(presses: &[Press]) -> String {
    let keys: Vec<String> = presses.iter().map(|press| press.shown()).collect();
    match (keys.first(), keys.last()) {
        (Some(first), Some(last)) if keys.len() > MOST_KEYS => format!("{first}–{last}"),
        (_, Some(last)) if keys.len() > 1 => format!("{} or {last}", keys[..keys.len() - 1].join(", ")),
        _ => keys.concat(),
    }
}

/// Returns the keys of a command in a layout.
fn presses(command: Command, layout: Layout) -> Vec<Press> {
    let table = command.presses();
    if layout == Layout::Both {
        return table.collect();
    }
    let own = sides::letters_of(command, layout).split(' ').filter_map(Press::parse);
    let common = table.filter(|press| in_every_layout(command, *press));
    own.chain(common).collect()
}

/// Says whether a key of the command table holds in every layout: any but letters and signs.
fn in_every_layout(command: Command, press: Press) -> bool {
    match press {
        Press::Char(' ') => true,
        Press::Char(_) => press.figure().is_some() || own::keeper(press) == Some(command),
        _ => true,
    }
}

/// Returns the table of keys in Markdown, as README shows it.
pub fn key_table_markdown() -> String {
    let mut table = String::from(
        "| Keys | Left hand | Right hand | Command | What it does | Where |\n|---|---|---|---|---|---|\n",
    );
    for command in Command::ALL {
        let row = command.row();
        let keys = |layout: Layout| {
            let shown = shown(&presses(*command, layout));
            let quoted = |key: &str| if key == "|" { "`\\|`".to_owned() } else { format!("`{key}`") };
            let words = shown.split(' ').filter(|word| !word.is_empty());
            let words = words.map(|word| match word.strip_suffix(',') {
                _ if word == "or" => word.to_owned(),
                Some(key) if !key.is_empty() => format!("{},", quoted(key)),
                Some(_) | None => quoted(word),
            });
            words.collect::<Vec<_>>().join(" ")
        };
        let on = if row.on.len() == Screen::ALL.len() {
            "everywhere".to_owned()
        } else {
            row.on.iter().map(|screen| screen.word()).collect::<Vec<_>>().join(", ")
        };
        let [both, left, right] = [Layout::Both, Layout::Left, Layout::Right].map(keys);
        writeln!(table, "| {both} | {left} | {right} | {} | {} | {on} |", row.name, row.help)
            .expect("a string takes any text");
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_has_two_meanings_on_one_screen_in_any_layout() {
        for layout in Layout::ALL {
            let keys = KeyMap::new(*layout, Vec::new());
            for screen in Screen::ALL {
                for command in Command::ALL.iter().filter(|command| command.applies(*screen)) {
                    for press in keys.presses(*command) {
                        let found = keys.command(*press, *screen);
                        assert_eq!(found, Some(*command), "{press:?} on {screen:?} in {layout:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn every_layout_has_the_keys_that_are_no_letters() {
        for command in Command::ALL {
            for press in command.presses().filter(|press| !matches!(press, Press::Char(_))) {
                for layout in Layout::ALL {
                    assert!(presses(*command, *layout).contains(&press), "{press:?} in {layout:?}");
                }
            }
        }
    }

    /// Checks what a press means on the couplet under a key map of one's own.
    #[track_caller]
    fn check_own(text: &str, press: char, command: Option<Command>) {
        let (changes, _) = read(text);
        let keys = KeyMap::new(Layout::Both, changes);
        assert_eq!(keys.command(Press::Char(press), Screen::Couplet), command);
    }

    #[test]
    fn an_own_key_takes_the_place_of_the_layouts() {
        check_own("down = \"n\"", 'n', Some(Command::Down));
        check_own("down = \"n\"", 'j', None);
        check_own("up = \"j\"\ndown = \"k\"", 'j', Some(Command::Up));
        check_own("up = \"j\"\ndown = \"k\"", 'k', Some(Command::Down));
    }

    #[test]
    fn help_and_the_menu_stay_whatever_a_key_map_says() {
        check_own("help = \"h\"", '?', Some(Command::Help));
        check_own("help = \"h\"", 'h', Some(Command::Help));
    }

    /// Checks how words name keys in a layout.
    #[track_caller]
    fn check_filled(layout: Layout, words: &str, expected: &str) {
        assert_eq!(KeyMap::new(layout, Vec::new()).fill(words), expected);
    }

    #[test]
    fn words_name_the_keys_in_force() {
        check_filled(
            Layout::Both,
            "{back} steps back; {take} takes a lead",
            "b steps back; 1–9 takes a lead",
        );
        check_filled(Layout::Left, "{back} steps back; {quit} {braces}", "s steps back; Ctrl-C {braces}");
        check_filled(Layout::Right, "{print}", "m (print)");
        check_filled(Layout::Both, "taxa: {possible} lists them", "taxa: “,” lists them");
    }
}
