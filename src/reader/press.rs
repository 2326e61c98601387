//! Key presses: what the terminal reports, or a word such as `enter`, in; one plain value out.
//!
//! What a press does is decided by `command`.

use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

/// One press of one key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Press {
    /// A key that types a character; space is one of them.
    Char(char),
    /// Enter or Return.
    Enter,
    /// Tab.
    Tab,
    /// Tab with Shift.
    BackTab,
    /// Backspace.
    Backspace,
    /// Escape.
    Esc,
    /// The upward arrow.
    Up,
    /// The downward arrow.
    Down,
    /// The arrow to the left.
    Left,
    /// The arrow to the right.
    Right,
    /// Home.
    Home,
    /// End.
    End,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
    /// A function key, by its number.
    Function(u8),
    /// The keys a terminal program must always end on: Ctrl-C.
    Interrupt,
}

/// Keys that have a word, as it is written in the command table, and as it is shown.
const WORDS: &[(Press, &str, &str)] = &[
    (Press::Char(' '), "space", "Space"),
    (Press::Enter, "enter", "Enter"),
    (Press::Tab, "tab", "Tab"),
    (Press::BackTab, "backtab", "Shift-Tab"),
    (Press::Backspace, "backspace", "Backspace"),
    (Press::Esc, "esc", "Esc"),
    (Press::Up, "up", "↑"),
    (Press::Down, "down", "↓"),
    (Press::Left, "left", "←"),
    (Press::Right, "right", "→"),
    (Press::Home, "home", "Home"),
    (Press::End, "end", "End"),
    (Press::PageUp, "pageup", "PgUp"),
    (Press::PageDown, "pagedown", "PgDn"),
    (Press::Function(1), "f1", "F1"),
    (Press::Function(2), "f2", "F2"),
    (Press::Function(3), "f3", "F3"),
    (Press::Function(4), "f4", "F4"),
    (Press::Function(5), "f5", "F5"),
    (Press::Function(6), "f6", "F6"),
    (Press::Function(7), "f7", "F7"),
    (Press::Function(8), "f8", "F8"),
    (Press::Function(9), "f9", "F9"),
    (Press::Function(10), "f10", "F10"),
    (Press::Function(11), "f11", "F11"),
    (Press::Function(12), "f12", "F12"),
    (Press::Interrupt, "ctrl-c", "Ctrl-C"),
];

impl Press {
    /// Reads one word of the command table: a key's name, or the single character that it types.
    pub(crate) fn parse(word: &str) -> Option<Self> {
        if let Some((press, ..)) = WORDS.iter().find(|(_, name, _)| *name == word) {
            return Some(*press);
        }
        let mut letters = word.chars();
        let only = letters.next()?;
        letters.next().is_none().then_some(Self::Char(only))
    }

    /// Returns how the key is named on screen.
    pub(crate) fn shown(self) -> String {
        let word = WORDS.iter().find(|(press, ..)| *press == self);
        match (self, word) {
            (_, Some((_, _, shown))) => (*shown).to_owned(),
            (Self::Char(letter), None) => letter.to_string(),
            (_, None) => String::new(),
        }
    }

    /// Returns what a key event of the terminal means, if it means anything here.
    pub(crate) fn of(event: KeyEvent) -> Option<Self> {
        if event.kind == KeyEventKind::Release {
            return None;
        }
        let chord = event.modifiers.intersects(KeyModifiers::CONTROL | KeyModifiers::ALT);
        Some(match event.code {
            KeyCode::Char('c') if event.modifiers.contains(KeyModifiers::CONTROL) => Self::Interrupt,
            KeyCode::Char('h') if event.modifiers.contains(KeyModifiers::CONTROL) => Self::Backspace,
            KeyCode::Char(_) if chord => return None,
            KeyCode::Char(letter) => Self::Char(letter),
            KeyCode::Enter => Self::Enter,
            KeyCode::Tab if event.modifiers.contains(KeyModifiers::SHIFT) => Self::BackTab,
            KeyCode::Tab => Self::Tab,
            KeyCode::BackTab => Self::BackTab,
            KeyCode::Backspace => Self::Backspace,
            KeyCode::Esc => Self::Esc,
            KeyCode::Up => Self::Up,
            KeyCode::Down => Self::Down,
            KeyCode::Left => Self::Left,
            KeyCode::Right => Self::Right,
            KeyCode::Home => Self::Home,
            KeyCode::End => Self::End,
            KeyCode::PageUp => Self::PageUp,
            KeyCode::PageDown => Self::PageDown,
            KeyCode::F(number) => Self::Function(number),
            _ => return None,
        })
    }

    /// Returns the figure that the key types, 1 to 9.
    pub(crate) fn figure(self) -> Option<usize> {
        let Self::Char(letter) = self else { return None };
        letter.to_digit(10).filter(|figure| *figure > 0).map(|figure| figure as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_shown(word: &str, shown: &str) {
        let press = Press::parse(word).expect("a key of that name");
        assert_eq!(press.shown(), shown);
    }

    #[test]
    fn a_key_is_read_by_name_or_by_its_character() {
        check_shown("backtab", "Shift-Tab");
        check_shown("/", "/");
        check_shown("space", "Space");
        assert_eq!(Press::parse("nokey"), None);
    }

    #[test]
    fn a_chord_types_no_letter() {
        let event = KeyEvent::new(KeyCode::Char('d'), KeyModifiers::CONTROL);
        assert_eq!(Press::of(event), None);
    }

    #[test]
    fn backspace_sent_as_ctrl_h_is_backspace() {
        let event = KeyEvent::new(KeyCode::Char('h'), KeyModifiers::CONTROL);
        assert_eq!(Press::of(event), Some(Press::Backspace));
    }
}
