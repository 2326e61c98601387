//! Everything the screen depends on, as one value; what changes it is in `update`, what draws it in `view`.

use serde::{Deserialize, Serialize};

use crate::amend::Amendment;
use crate::drill::{DAY, Log};
use crate::keying::Spot;
use crate::model::{KeyId, Lead};
use crate::reader::ascii::{self, Signs};
use crate::reader::form::Form;
use crate::reader::library::Library;
use crate::reader::measure::{self, Flow};
use crate::reader::place::{Anchor, Item, Place, Screen, Way};
use crate::reader::plants::Plants;
use crate::reader::press::Press;
use crate::reader::sheet::{self, Desk, Pane, Sheet};
use crate::reader::stand::{FloraStand, Stands};
use crate::sketch::Dots;
use crate::store::ShelfRow;

/// Something that happened.
pub(crate) enum Event {
    /// A key was pressed.
    Press(Press),
    /// The window has this size, columns and rows.
    Resize(u16, u16),
    /// A flora that was asked for is open.
    Opened(Box<Library>),
    /// The flora at hand was amended; one sentence.
    Amended(Box<Library>, String),
    /// Something that was asked for did not work; one sentence.
    Failed(String),
    /// The system wants the program to end.
    End,
}

/// Something to be done outside the state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Effect {
    /// Keep this text, which says where the reader stands.
    KeepStand(String),
    /// Open a flora of the shelf.
    Open(String),
    /// Keep an amendment of the flora of this name, and apply it.
    Amend(String, Amendment),
    /// Keep this line of the log of look-ups.
    Remember(String),
    /// Forget what was looked up.
    Forget,
    /// End the program.
    Quit,
}

/// What lies over the screen or takes its keys.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Overlay {
    /// Nothing.
    None,
    /// Letters stand beside the words; the next one marks its word.
    Letters,
    /// What is typed goes into the list.
    Typing,
    /// What is typed answers a question.
    Ask {
        /// The question.
        ask: Ask,
        /// What was typed so far.
        words: String,
    },
    /// Help, from this line on.
    Help(usize),
    /// A lead or a heading is set right.
    Amend(Form),
    /// Several places to choose from.
    Choose {
        /// What is chosen.
        title: String,
        /// The places in words.
        rows: Vec<(String, Item)>,
        /// The row at hand.
        at: usize,
    },
}

/// A question that is answered by typing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Ask {
    /// A note to the decision at a couplet, else to the last one.
    Note(Option<Spot>),
    /// Another name for the plant at hand.
    Name,
    /// The name of a new plant.
    NewPlant,
    /// Why the branch at hand is given up.
    Reason,
    /// Readings, as they come.
    Readings,
    /// Place, month and elevation of the trip.
    Trip,
    /// Whether to forget what was looked up.
    Forget,
}

/// Which colours the terminal shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Colour {
    /// Any that is asked for.
    #[default]
    True,
    /// 256, of which all but the first sixteen are the same everywhere.
    Indexed,
    /// Sixteen or fewer, which every owner of a terminal sets otherwise: none is used.
    Unknown,
    /// None are wanted: `NO_COLOR` is set.
    Never,
}

/// How closely things stand on the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Density {
    /// Empty lines between leads and above headings, where there is room.
    #[default]
    Comfortable,
    /// None of them, so that more is in view.
    Dense,
}

/// The state of the reader.
pub(crate) struct State {
    /// The flora that is read.
    pub(crate) library: Option<Library>,
    /// The floras that there are.
    pub(crate) shelf: Vec<ShelfRow>,
    /// Where the reader stands, and the places before and after.
    pub(crate) way: Way,
    /// What lies over the screen.
    pub(crate) overlay: Overlay,
    /// Columns and rows of the window.
    pub(crate) size: (u16, u16),
    /// The theme's name.
    pub(crate) theme: String,
    /// Which colours the terminal shows.
    pub(crate) colour: Colour,
    /// Which characters the terminal shows.
    pub(crate) signs: Signs,
    /// How closely things stand.
    pub(crate) density: Density,
    /// What drawings are made of; nothing where none are shown.
    pub(crate) dots: Option<Dots>,
    /// Whether the drawings of a couplet are shown.
    pub(crate) drawings: bool,
    /// What the reader has to be told; it stays until the next press.
    pub(crate) message: Option<String>,
    /// What the item says.
    pub(crate) sheet: Sheet,
    /// Its lines.
    pub(crate) flow: Flow,
    /// Where the reader stood in other floras.
    pub(crate) stands: Stands,
    /// The plants keyed out in this flora, with all that was decided for them.
    pub(crate) plants: Plants,
    /// What was looked up and answered in the drill.
    pub(crate) log: Log,
    /// The marked word whose definition is shown, with the time since when.
    pub(crate) shown_since: Option<(Item, usize, u64)>,
    /// Seconds since 1970, as whoever runs the reader last said; 0 without a clock.
    pub(crate) now: u64,
    /// What tells this run of the reader from every other; empty where nothing is kept.
    pub(crate) seat: String,
    /// Another flora that was asked for, and where in it.
    pub(crate) arriving: Option<(String, Item)>,
    shown: Option<(Item, u16)>,
}

impl State {
    /// Begins where the reader last stood in this flora, else at its first key; without a flora on the shelf.
    pub(crate) fn new(library: Option<Library>, shelf: Vec<ShelfRow>, stands: Stands) -> Self {
        let mut state = Self {
            library: None,
            shelf,
            way: Way::from(Item::Shelf),
            overlay: Overlay::None,
            size: measure::SMALLEST,
            theme: stands.theme.clone(),
            colour: Colour::True,
            signs: Signs::Unicode,
            density: stands.density,
            dots: Some(Dots::Braille),
            drawings: stands.drawings,
            message: None,
            sheet: Sheet::default(),
            flow: Flow::default(),
            stands,
            plants: Plants::default(),
            log: Log::default(),
            shown_since: None,
            now: 0,
            seat: String::new(),
            arriving: None,
            shown: None,
        };
        match library {
            Some(library) => state.read(library),
            None => state.settle(),
        }
        state
    }

    /// Turns to another flora, at the place where it was left.
    pub(crate) fn read(&mut self, library: Library) {
        let kept = self.stands.floras.remove(library.book.name());
        self.plants = kept.as_ref().map(|stand| stand.plants.clone()).unwrap_or_default();
        if kept.is_some() {
            // Plants kept by an older version have no ids; they get the same ones wherever they are read.
            self.plants.number("");
        }
        let asking = kept.as_ref().and_then(|stand| stand.asking.clone());
        let stamp = library.stamp();
        let start = library.first_couplet().unwrap_or(Item::Contents);
        match kept {
            Some(FloraStand { stamp: before, mut way, .. }) if before == stamp => {
                let found = way.keep(|item| library.has(item));
                self.way = if found { way } else { Way::from(start) };
            }
            Some(_) => {
                self.message = Some(self.plants.read_anew(&library));
                self.way = Way::from(start);
            }
            None => self.way = Way::from(start),
        }
        if let Some((name, item)) = self.arriving.take()
            && name == library.book.name()
            && library.has(&item)
            && item != self.way.here.item
        {
            let mut place = Place::at(item);
            place.cursor.stop = place.item.screen().is_list().then_some(0);
            self.way.visit(place);
        }
        self.library = Some(library);
        self.overlay = asking.map_or(Overlay::None, |(ask, words)| Overlay::Ask { ask, words });
        self.shown = None;
        self.settle();
    }

    /// Goes on in the amended flora at the same places, as far as they are still there.
    pub(crate) fn amended(
        &mut self,
        library: Library,
        same: impl Fn(&Library, &Library, &Item) -> Option<Item>,
    ) {
        let Some(before) = self.library.replace(library) else { return };
        let Some(now) = &self.library else { return };
        if !self.way.renew(|item| same(&before, now, item)) {
            self.way = Way::from(now.first_couplet().unwrap_or(Item::Contents));
        }
        // Couplets may have moved; what was decided at them goes with their words.
        _ = self.plants.read_anew(now);
        self.overlay = Overlay::None;
        self.shown = None;
        self.settle();
    }

    /// Returns the day, counted from 1 January 1970.
    pub(crate) fn today(&self) -> u64 {
        self.now / DAY
    }

    /// Returns the kind of screen shown.
    pub(crate) fn screen(&self) -> Screen {
        self.way.here.item.screen()
    }

    /// Goes to an item.
    pub(crate) fn visit(&mut self, item: Item) {
        if item == self.way.here.item {
            return;
        }
        let list = item.screen().is_list();
        let mut place = Place::at(item);
        place.cursor.stop = list.then_some(0);
        self.way.visit(place);
        self.settle();
    }

    /// Brings sheet and lines up to the place and the width of the window.
    pub(crate) fn settle(&mut self) {
        let wanted = (self.way.here.item.clone(), self.size.0);
        let Some((item, width)) = &self.shown else { return self.rebuild(wanted) };
        if *item != wanted.0 {
            self.rebuild(wanted);
        } else if *width != wanted.1 {
            self.flow = measure::flow_of(&self.sheet, self.screen(), (self.size.0, self.density));
            self.shown = Some(wanted);
        }
    }

    /// Returns the number of the lead at hand.
    pub(crate) fn lead(&self) -> usize {
        self.way.here.cursor.lead.min(self.sheet.leads.len().saturating_sub(1))
    }

    /// Returns the lead at hand with its key.
    pub(crate) fn lead_at_hand(&self) -> Option<(KeyId, &Lead)> {
        self.lead_number(self.lead())
    }

    /// Returns a lead of the couplet by its number, counted from 0.
    pub(crate) fn lead_number(&self, at: usize) -> Option<(KeyId, &Lead)> {
        let Item::Couplet(key, couplet) = &self.way.here.item else { return None };
        let couplet = self.library.as_ref()?.book.key(*key)?.couplet(*couplet)?;
        Some((*key, couplet.leads.get(at)?))
    }

    /// Returns how many columns a lead's text has.
    pub(crate) fn lead_width(&self) -> usize {
        usize::from(measure::text_columns(&self.sheet, self.screen(), self.size.0))
    }

    /// Returns the definition to be shown, or the list of letters.
    pub(crate) fn pane(&self) -> Option<Pane> {
        let pane = self.unfolded_pane()?;
        Some(if self.signs == Signs::Ascii { ascii::pane(pane) } else { pane })
    }

    fn unfolded_pane(&self) -> Option<Pane> {
        let text = !self.screen().is_list();
        if self.overlay == Overlay::Letters && self.screen() == Screen::Couplet {
            let mut letters = self.letters();
            letters.sort_by_key(|(letter, stop)| (!letter.is_ascii_lowercase(), *letter, *stop));
            letters.dedup_by_key(|(letter, _)| *letter);
            let words = letters.iter().map(|(letter, stop)| (*letter, self.word(*stop)));
            return Some(sheet::letters_pane(words));
        }
        let stop = self.way.here.cursor.stop.filter(|_| text)?;
        sheet::pane(self.library.as_ref()?, &self.sheet, stop)
    }

    /// Returns the printed words of a stop.
    pub(crate) fn word(&self, stop: usize) -> &str {
        let found = self.sheet.stops.get(stop).and_then(|stop| {
            let text = &self.sheet.blocks.get(stop.block)?.text;
            text.plain.get(stop.range.clone())
        });
        found.unwrap_or_default()
    }

    /// Returns the letters with the stops that they mark: all of a couplet, else those in view.
    ///
    /// Words that lead to the same place have the same letter.
    pub(crate) fn letters(&self) -> Vec<(char, usize)> {
        let mut seen = 0..self.sheet.stops.len();
        let seen: Vec<usize> = match self.screen() {
            Screen::Couplet => seen.collect(),
            Screen::Printed => seen.filter(|stop| self.in_view(*stop)).collect(),
            screen if !screen.is_list() => {
                let top = seen.find(|stop| self.in_view(*stop));
                top.into_iter().chain(seen.take_while(|stop| self.in_view(*stop))).collect()
            }
            _ => Vec::new(),
        };
        let mut free = ('a'..='z').chain('0'..='9').chain('A'..='Z');
        let mut letters: Vec<(char, usize)> = Vec::new();
        for stop in seen {
            let same = |(_, other): &&(char, usize)| self.sheet.stops[*other].go == self.sheet.stops[stop].go;
            let letter = letters.iter().find(same).map(|(letter, _)| *letter).or_else(|| free.next());
            letters.extend(letter.map(|letter| (letter, stop)));
        }
        letters
    }

    /// Returns the line that a stop begins on.
    pub(crate) fn line_of_stop(&self, stop: usize) -> Option<usize> {
        let stop = self.sheet.stops.get(stop)?;
        Some(self.flow.line_of(Anchor { paragraph: stop.block, byte: stop.range.start }))
    }

    /// Returns the first line in view of a text or list, given the rows of its area.
    pub(crate) fn top(&self, height: u16) -> usize {
        let keep = self.way.here.cursor.stop.and_then(|stop| self.line_of_stop(stop));
        self.flow.top(self.way.here.anchor, keep, usize::from(height))
    }

    /// Says whether a stop begins on a line in view of a text, and on a page as printed that all of it is in view.
    pub(crate) fn in_view(&self, stop: usize) -> bool {
        let body = measure::areas(self).body;
        let top = self.top(body.height);
        let line = self.line_of_stop(stop);
        line.is_some_and(|line| (top..top + usize::from(body.height)).contains(&line))
            && measure::page::shows(self, stop)
    }

    /// Returns the text that says where the reader stands in every flora.
    pub(crate) fn stand(&self) -> String {
        let mut stands = self.stands.clone();
        stands.theme.clone_from(&self.theme);
        stands.density = self.density;
        stands.drawings = self.drawings;
        if let Some(library) = &self.library {
            let name = library.book.name().to_owned();
            let asking = match &self.overlay {
                Overlay::Ask { ask, words } => Some((*ask, words.clone())),
                _ => None,
            };
            let plants = self.plants.clone();
            let stand = FloraStand { stamp: library.stamp(), way: self.way.clone(), plants, asking };
            stands.last = Some(name.clone());
            stands.floras.insert(name, stand);
        }
        stands.json()
    }

    /// Has the sheet put together anew, after something that it shows was changed.
    pub(crate) fn stale(&mut self) {
        self.shown = None;
    }

    fn rebuild(&mut self, wanted: (Item, u16)) {
        self.sheet = match &self.library {
            Some(library) => {
                let desk =
                    Desk { shelf: &self.shelf, plants: &self.plants, log: &self.log, day: self.today() };
                Sheet::of(library, &wanted.0, &desk)
            }
            None => Sheet::of_shelf(&self.shelf),
        };
        if self.signs == Signs::Ascii {
            ascii::sheet(&mut self.sheet);
        }
        self.flow = measure::flow_of(&self.sheet, wanted.0.screen(), (wanted.1, self.density));
        self.shown = Some(wanted);
    }
}
