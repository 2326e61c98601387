//! The reader without a terminal: keys in, screens out, everything else as with one. Pictures, tests and benches use it.

use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};

use crate::keying::Plant;
use crate::model::TaxonId;
use crate::reader::command::Command;
use crate::reader::outside::Outside;
use crate::reader::place::Screen;
use crate::reader::press::Press;
use crate::reader::run::{begin, theme};
use crate::reader::sheet::suggested;
use crate::reader::stand::Stands;
use crate::reader::state::{Event, Overlay, State};
use crate::reader::theme::Theme;
use crate::reader::update::update;
use crate::reader::view::view;
use crate::reader::{Error, Session};

/// A screen with its colours and styles.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Shown(Buffer);

/// A reader that is drawn into memory.
pub struct Rehearsal {
    state: State,
    outside: Outside,
    look: Theme,
    /// The name of the theme that `look` was made of.
    lit: String,
    terminal: Terminal<TestBackend>,
}

impl Rehearsal {
    /// Opens the reader in a window of this size, columns and rows; where it stands is kept if the session has a home.
    pub fn open(session: Session, (width, height): (u16, u16)) -> Result<Self, Error> {
        let outside = Outside::of(&session)?;
        let state = begin(session, outside.seat.as_ref())?;
        let look = theme(&state)?;
        let Ok(terminal) = Terminal::new(TestBackend::new(width, height));
        let lit = state.theme.clone();
        let mut reader = Self { state, outside, look, lit, terminal };
        reader.happen(Event::Resize(width, height))?;
        Ok(reader)
    }

    /// Presses a key, a word of the key table, and draws what comes of it; an unknown word is no press.
    pub fn press(&mut self, key: &str) -> Result<(), Error> {
        match Press::parse(key) {
            Some(press) => self.happen(Event::Press(press)),
            None => Ok(()),
        }
    }

    /// Begins anew in the same flora, as if nothing had ever been kept.
    pub fn begin_anew(&mut self) -> Result<(), Error> {
        let (library, rows) = (self.state.library.take(), std::mem::take(&mut self.state.shelf));
        let (size, theme) = (self.state.size, std::mem::take(&mut self.state.theme));
        self.state = State::new(library, rows, Stands { theme, ..Stands::default() });
        self.happen(Event::Resize(size.0, size.1))
    }

    /// Returns every word of the key table once.
    pub fn keys() -> Vec<&'static str> {
        let mut keys: Vec<&str> =
            Command::ALL.iter().flat_map(|command| command.row().keys.split(' ')).collect();
        keys.sort_unstable();
        keys.dedup();
        keys
    }

    /// Returns the screen with its colours.
    pub fn shown(&self) -> Shown {
        Shown(self.terminal.backend().buffer().clone())
    }

    /// Returns the screen as it is without what the reader has just been told.
    pub fn bare(&mut self) -> Shown {
        let told = self.state.message.take();
        self.draw();
        let bare = self.shown();
        self.state.message = told;
        self.draw();
        bare
    }

    /// Returns the taxa that one may be taken for, the nearest first, each with the reasons.
    pub fn look_alikes(&self, taxon: TaxonId) -> Vec<(TaxonId, String)> {
        let found = self.state.library.as_ref().map(|library| suggested(library, taxon));
        found.map(|found| found.to_vec()).unwrap_or_default()
    }

    /// Returns the plants that are keyed out.
    pub fn plants(&self) -> &[Plant] {
        self.state.plants.all()
    }

    /// Returns the plant at hand.
    pub fn plant(&self) -> &Plant {
        self.state.plants.here()
    }

    /// Returns how many places lie behind on the way.
    pub fn places_behind(&self) -> usize {
        self.state.way.depth()
    }

    /// Says whether something lies over the screen or takes its keys.
    pub fn is_overlaid(&self) -> bool {
        self.state.overlay != Overlay::None
    }

    /// Returns how screens are lit and set, and whether couplets show drawings, in words.
    pub fn light(&self) -> String {
        format!("{} {:?} {}", self.state.theme, self.state.density, self.state.drawings)
    }

    /// Returns the log of look-ups and answers where the screen tells of it.
    pub fn learned(&self) -> Option<String> {
        matches!(self.state.screen(), Screen::LookedUp | Screen::Drill).then(|| self.state.log.text())
    }

    /// Gives the window another size, columns and rows, and draws.
    pub fn resize(&mut self, (width, height): (u16, u16)) -> Result<(), Error> {
        self.terminal.backend_mut().resize(width, height);
        self.happen(Event::Resize(width, height))
    }

    /// Returns the screen as text.
    pub fn text(&self) -> String {
        let buffer = self.terminal.backend().buffer();
        let rows = buffer.content().chunks(usize::from(buffer.area.width.max(1)));
        let rows: Vec<String> = rows.map(|row| row.iter().map(Cell::symbol).collect::<String>()).collect();
        rows.iter().map(|row| row.trim_end()).collect::<Vec<_>>().join("\n")
    }

    /// Returns the screen row by row as runs of one look: the text, and its colours and marks in words.
    pub fn looks(&self) -> Vec<Vec<(String, String)>> {
        let buffer = self.terminal.backend().buffer();
        let rows = buffer.content().chunks(usize::from(buffer.area.width.max(1)));
        rows.map(|row| {
            let mut runs: Vec<(String, String)> = Vec::new();
            for cell in row {
                let look = look(cell);
                match runs.last_mut() {
                    Some((text, last)) if *last == look => text.push_str(cell.symbol()),
                    _ => runs.push((cell.symbol().to_owned(), look)),
                }
            }
            runs
        })
        .collect()
    }

    /// Has nothing kept from here on.
    pub(super) fn keep_nothing(&mut self) {
        self.outside.seat = None;
    }

    fn happen(&mut self, event: Event) -> Result<(), Error> {
        let mut waiting = vec![event];
        while let Some(event) = waiting.pop() {
            for effect in update(&mut self.state, event) {
                waiting.extend(self.outside.perform(&effect));
            }
        }
        if self.lit != self.state.theme {
            self.lit.clone_from(&self.state.theme);
            self.look = theme(&self.state)?;
        }
        self.draw();
        Ok(())
    }

    fn draw(&mut self) {
        let Self { state, look, terminal, .. } = self;
        let Ok(_) = terminal.draw(|frame| view(state, look, frame));
    }
}

/// Returns the look of a cell in words: `#000000 on #ffffff bold`.
fn look(cell: &Cell) -> String {
    let colour = |colour: Color| match colour {
        Color::Rgb(red, green, blue) => format!("#{red:02x}{green:02x}{blue:02x}"),
        Color::Indexed(index) => index.to_string(),
        _ => "own".to_owned(),
    };
    let mut words = format!("{} on {}", colour(cell.fg), colour(cell.bg));
    let marks = [
        (Modifier::BOLD, " bold"),
        (Modifier::ITALIC, " italic"),
        (Modifier::UNDERLINED, " underlined"),
        (Modifier::REVERSED, " reversed"),
    ];
    words.extend(marks.iter().filter(|(mark, _)| cell.modifier.contains(*mark)).map(|(_, word)| *word));
    words
}
