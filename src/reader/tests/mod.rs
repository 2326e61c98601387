//! The reader driven by keys, as its user drives it, on a small invented flora.

mod amend;
mod answers;
mod deciding;
mod drawings;
mod flora;
mod hands;
mod learning;
mod light;
mod linear;
mod newcomer;
mod pages;
mod screens;
mod searching;
mod start;
mod themes;
mod walks;

use proptest::prelude::ProptestConfig;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;

use crate::reader::library::Library;
use crate::reader::press::Press;
use crate::reader::stand::Stands;
use crate::reader::state::{Effect, Event, State};
use crate::reader::theme::Theme;
use crate::reader::update::update;
use crate::reader::view::view;
use crate::search::Index;
use crate::store::Book;

/// The window sizes that every screen has to fit.
const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

/// Keys after which every kind of screen is shown once or more.
const EVERY_SCREEN: &[&str] = &[
    ".",
    "1 1 1 /",
    "= 5 enter",
    "1 1 1 y",
    "1 1 1 y enter",
    "",
    "enter 2",
    "enter tab d",
    "r",
    "r y",
    "c",
    "e",
    "i",
    "w",
    "s",
    "v",
    "-",
    "- p",
    ",",
    "enter 2 x",
    "L",
    "L n",
];

/// Returns so many times fewer random cases than usual; `PROPTEST_CASES` sets what is usual, for a long search.
fn cases_by(fewer: u32) -> ProptestConfig {
    let usual = ProptestConfig::default();
    ProptestConfig { cases: usual.cases.div_ceil(fewer), ..usual }
}

/// A reader at work.
struct Reader {
    state: State,
    kept: String,
}

impl Reader {
    /// Opens the test flora in a window.
    fn open(size: (u16, u16)) -> Self {
        Self::again(size, &Stands::default().json())
    }

    /// Opens the test flora where a kept text says that one stood.
    fn again((width, height): (u16, u16), kept: &str) -> Self {
        let flora = flora::flora();
        let index = Index::in_memory(&flora).expect("an index of a small flora");
        let library = Library::new(Book::of("morvane", flora), Some(index));
        let mut state = State::new(Some(library), Vec::new(), Stands::read(kept));
        if state.theme.is_empty() {
            state.theme = "sun".to_owned();
        }
        update(&mut state, Event::Resize(width, height));
        Self { state, kept: kept.to_owned() }
    }

    /// Presses keys: words of the command table; `t:calyx` presses `t` and then the letter beside that word.
    fn walk(&mut self, keys: &str) -> &mut Self {
        for word in keys.split(' ').filter(|word| !word.is_empty()) {
            match word.strip_prefix("t:") {
                Some(printed) => self.walk("t").letter_of(printed),
                None => self.press(Press::parse(word).unwrap_or_else(|| panic!("no key {word}"))),
            }
        }
        self
    }

    fn letter_of(&mut self, printed: &str) {
        let letters = self.state.letters();
        let found = letters.iter().find(|(_, stop)| self.state.word(*stop).replace(' ', "_") == printed);
        let (letter, _) = found.unwrap_or_else(|| panic!("no {printed} in\n{}", self.text()));
        self.press(Press::Char(*letter));
    }

    fn press(&mut self, press: Press) {
        for effect in update(&mut self.state, Event::Press(press)) {
            if let Effect::KeepStand(json) = effect {
                self.kept = json;
            }
        }
    }

    fn resize(&mut self, (width, height): (u16, u16)) {
        update(&mut self.state, Event::Resize(width, height));
    }

    /// Returns the screen with its colours.
    fn screen(&self) -> Buffer {
        let (width, height) = self.state.size;
        let theme = Theme::named(&self.state.theme, self.state.colour).expect("a built-in theme");
        let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("a test terminal");
        terminal.draw(|frame| view(&self.state, &theme, frame)).expect("a test terminal draws");
        terminal.backend().buffer().clone()
    }

    /// Returns the screen as text.
    fn text(&self) -> String {
        let buffer = self.screen();
        let width = usize::from(buffer.area.width.max(1));
        let rows = buffer.content().chunks(width);
        let rows = rows.map(|row| {
            row.iter().map(ratatui::buffer::Cell::symbol).collect::<String>().trim_end().to_owned()
        });
        rows.collect::<Vec<_>>().join("\n")
    }
}

/// Checks that after these keys the screen of 80 x 24 has these words.
#[track_caller]
fn check_says(keys: &str, words: &[&str]) {
    let mut reader = Reader::open((80, 24));
    let text = reader.walk(keys).text();
    for words in words {
        assert!(text.contains(words), "{words:?} is not on\n{text}");
    }
}
