//! Everything the screen depends on, as one value; what changes it is in `update`, what draws it in `view`.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use crate::amend::Amendment;
use crate::drill::{DAY, Log};
use crate::keying::Spot;
use crate::reader::ascii::{self, Signs};
use crate::reader::form::Form;
use crate::reader::guide::Guide;
use crate::reader::keys::KeyMap;
use crate::reader::library::Library;
use crate::reader::marks::Marked;
use crate::reader::measure::{self, Flow};
use crate::reader::pick::Pick;
use crate::reader::place::{Item, Place, Screen, Way};
use crate::reader::plants::Plants;
use crate::reader::pointer::Pointed;
use crate::reader::press::Press;
use crate::reader::sheet::{Desk, Sheet};
use crate::reader::side::Side;
use crate::reader::stand::{FloraStand, Stands};
use crate::sketch::Dots;
use crate::store::ShelfRow;

/// Something that happened.
pub(crate) enum Event {
    /// A key was pressed.
    Press(Press),
    /// The mouse did something.
    Mouse(Pointed),
    /// The window has this size, columns and rows.
    Resize(u16, u16),
    /// A flora that was asked for is open.
    Opened(Box<Library>),
    /// The flora at hand was amended; one sentence.
    Amended(Box<Library>, String),
    /// Something that was asked for did not work; one sentence.
    Failed(String),
    /// Something that was asked for is done; one sentence.
    Done(String),
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
    /// Hand a text to the terminal's clipboard.
    Copy(String),
    /// Keep a text in a file whose name begins so.
    Print(String, String),
    /// Listen to the mouse, or leave it to the terminal.
    Mouse(Mouse),
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
    /// A list to pick from.
    Pick(Pick),
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

/// Whether the mouse is listened to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Mouse {
    /// It is; the terminal's own selection then needs its own key, mostly Shift.
    #[default]
    On,
    /// It is not.
    Off,
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
    /// What is told after that.
    pub(crate) untold: VecDeque<String>,
    /// Which keys do what.
    pub(crate) keys: KeyMap,
    /// Whether the mouse is listened to.
    pub(crate) mouse: Mouse,
    /// What a newcomer is told.
    pub(crate) guide: Option<Guide>,
    /// The marks that were set in this flora.
    pub(crate) marks: Vec<Marked>,
    /// The place beside the one that is read.
    pub(crate) side: Option<Side>,
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
            untold: VecDeque::new(),
            keys: KeyMap::new(stands.keys, Vec::new()),
            mouse: stands.mouse,
            guide: stands.guide,
            marks: Vec::new(),
            side: None,
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
        self.marks = kept.as_ref().map(|stand| stand.marks.clone()).unwrap_or_default();
        self.side = None;
        let mut side = kept.as_ref().and_then(|stand| stand.side.clone());
        let stamp = library.stamp();
        let start = library.first_couplet().unwrap_or(Item::Contents);
        match kept {
            Some(FloraStand { stamp: before, mut way, .. }) if before == stamp => {
                let found = way.keep(|item| library.has(item));
                side = side.filter(|place| library.has(&place.item));
                self.way = if found { way } else { Way::from(start) };
            }
            Some(_) => {
                side = None;
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
        self.set_beside(side);
        self.settle();
    }

    /// Tells one sentence, after what is told already.
    pub(crate) fn say(&mut self, words: impl Into<String>) {
        let words = words.into();
        if self.message.as_ref() == Some(&words) || self.untold.contains(&words) {
            return;
        }
        if self.message.is_none() {
            self.message = Some(words);
        } else {
            self.untold.push_back(words);
        }
    }

    /// Sets a place beside the one that is read, or none.
    pub(crate) fn set_beside(&mut self, place: Option<Place>) {
        let (desk, width) = (self.desk(), measure::side_columns(self.size));
        let beside = place.zip(self.library.as_ref());
        self.side = beside.map(|(place, library)| Side::of(library, place, (&desk, width)));
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
        self.side = None;
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
        if let Some(side) = &mut self.side {
            side.settle(measure::side_columns(self.size));
        }
        let wanted = (self.way.here.item.clone(), measure::main_width(self));
        let Some((item, width)) = &self.shown else { return self.rebuild(wanted) };
        if *item != wanted.0 {
            self.rebuild(wanted);
        } else if *width != wanted.1 {
            self.flow = measure::flow_of(&self.sheet, self.screen(), (wanted.1, self.density));
            self.shown = Some(wanted);
        }
    }

    /// Returns the text that says where the reader stands in every flora.
    pub(crate) fn stand(&self) -> String {
        let mut stands = self.stands.clone();
        stands.theme.clone_from(&self.theme);
        stands.keys = self.keys.layout();
        stands.mouse = self.mouse;
        stands.guide = self.guide;
        stands.density = self.density;
        stands.drawings = self.drawings;
        if let Some(library) = &self.library {
            let name = library.book.name().to_owned();
            let asking = match &self.overlay {
                Overlay::Ask { ask, words } => Some((*ask, words.clone())),
                _ => None,
            };
            let plants = self.plants.clone();
            let stand = FloraStand {
                stamp: library.stamp(),
                way: self.way.clone(),
                plants,
                asking,
                marks: self.marks.clone(),
                side: self.side.as_ref().map(|side| side.place.clone()),
            };
            stands.last = Some(name.clone());
            stands.floras.insert(name, stand);
        }
        stands.json()
    }

    /// Has the sheet put together anew, after something that it shows was changed.
    pub(crate) fn stale(&mut self) {
        self.shown = None;
    }

    /// Says whether the sheet is to be put together anew.
    pub(crate) fn is_stale(&self) -> bool {
        self.shown.is_none()
    }

    /// Returns what lies beside the book.
    fn desk(&self) -> Desk<'_> {
        Desk {
            shelf: &self.shelf,
            plants: &self.plants,
            log: &self.log,
            day: self.today(),
            keys: &self.keys,
            from: self.way.places().0.last().map(|place| &place.item),
        }
    }

    fn rebuild(&mut self, wanted: (Item, u16)) {
        self.sheet = match &self.library {
            Some(library) => Sheet::of(library, &wanted.0, &self.desk()),
            None => Sheet::of_shelf(&self.shelf, &self.keys),
        };
        if self.signs == Signs::Ascii {
            ascii::sheet(&mut self.sheet);
        }
        self.flow = measure::flow_of(&self.sheet, wanted.0.screen(), (wanted.1, self.density));
        self.shown = Some(wanted);
        let width = measure::side_columns(self.size);
        if let (Some(side), Some(library)) = (self.side.take(), &self.library) {
            let side = Side::of(library, side.place, (&self.desk(), width));
            self.side = Some(side);
        }
    }
}
