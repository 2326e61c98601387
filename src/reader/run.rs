//! The terminal: events in, frames out, and the terminal as it was before on every way out.
//!
//! The main loop waits on one channel that the input and signal threads send to; nothing happens without an event.

use std::io::{self, IsTerminal, Write};
use std::panic;
use std::path::Path;
use std::sync::mpsc::{self, Receiver, Sender};
use std::thread;
use std::time::{SystemTime, UNIX_EPOCH};

use crossterm::cursor::Show;
use crossterm::event::{self, Event as Report};
use crossterm::execute;
use crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
use signal_hook::iterator::Signals;

use crate::reader::guide::{self, Guide};
use crate::reader::keys::Layout;
use crate::reader::library::{self, Library};
use crate::reader::linear::{self, Heard};
use crate::reader::out;
use crate::reader::outside::{Outside, index, open};
use crate::reader::place::Item;
use crate::reader::pointer::{self, Pointed};
use crate::reader::press::Press;
use crate::reader::rehearsal::Rehearsal;
use crate::reader::stand::Stands;
use crate::reader::state::{Effect, Event, Mouse, State};
use crate::reader::theme::{PLAIN, Theme};
use crate::reader::update::{begin_tour, own_keys, update};
use crate::reader::view::view;
use crate::reader::{Error, Manner, Session, Tell, looked_up, start, words};
use crate::store::stand::Seat;
use crate::store::{Shelf, keymap};

/// Runs the reader until it is left.
pub fn run(session: Session) -> Result<(), Error> {
    if session.manner == Manner::Linear {
        return speak(session);
    }
    if !io::stdout().is_terminal() || !io::stdin().is_terminal() {
        return Err(Error::NoTerminal);
    }
    let home = session.home.clone();
    let outside = Outside::of(&session)?;
    let mut state = begin(session, outside.seat.as_ref())?;
    state.now = now();
    state.stale();
    state.settle();
    let guard = Guard::enter().map_err(Error::Terminal)?;
    let done = converse(&mut state, &outside);
    drop(guard);
    leave(home.as_deref(), outside);
    done
}

/// Joins what was kept beside another reader at once if that one has ended meanwhile, else the next start does it.
fn leave(home: Option<&Path>, outside: Outside) {
    drop(outside);
    if let Some(seat) = home.and_then(|home| Seat::take(home).ok()) {
        _ = gathered(&seat);
    }
}

/// Returns the screen as text, for a window of this size after these keys: words of the key table with blanks between.
pub fn picture(session: Session, size: (u16, u16), keys: &str) -> Result<String, Error> {
    let mut reader = Rehearsal::open(session, size)?;
    reader.keep_nothing();
    for key in keys.split_whitespace() {
        reader.press(key)?;
    }
    Ok(reader.text())
}

/// Makes the state to begin with: where the reader stood, or where `--at` wants to be.
pub(super) fn begin(session: Session, seat: Option<&Seat>) -> Result<State, Error> {
    let (stands, told) = seat.map(gathered).unwrap_or_default();
    let mut told: Vec<String> = told.into_iter().collect();
    let rows = session.shelf.as_ref().map(Shelf::rows).transpose()?.unwrap_or_default();
    let library = match (session.book, &session.shelf) {
        (Some(book), shelf) => {
            let index = session.index.or_else(|| shelf.as_ref().and_then(|shelf| index(shelf, book.name())));
            let (lexicon, wrong) = words::lexicon(shelf.as_ref(), Some(&book));
            told.extend(wrong.into_iter().next());
            Some(Library::with_words(book, index, lexicon).beside(shelf.as_ref()))
        }
        (None, Some(shelf)) => {
            let last = stands.last.clone().filter(|last| rows.iter().any(|row| row.name == *last));
            let only = || (rows.len() == 1).then(|| rows[0].name.clone());
            last.or_else(only)
                .and_then(|name| open(shelf, &name).map_err(|error| told.push(error.to_string())).ok())
        }
        (None, None) => None,
    };
    let mut state = State::new(library, rows, stands);
    if session.at.is_some() {
        // That a flora read anew begins at its start does not hold then.
        state.message = None;
    }
    if let Some((log, damaged)) = session.home.as_deref().map(looked_up::log) {
        state.log = log;
        told.extend(damaged);
    }
    if seat.is_some() {
        state.seat = format!("{:x}-{:x}", now(), std::process::id());
        state.plants.number(&state.seat);
    }
    state.colour = session.colour;
    state.dots = session.dots.or(state.dots);
    state.signs = session.signs;
    if !session.theme.is_empty() {
        state.theme = session.theme;
    }
    if state.theme.is_empty() || theme(&state).is_err() && state.theme == state.stands.theme {
        Theme::after(PLAIN).clone_into(&mut state.theme);
    }
    for words in told {
        state.say(words);
    }
    hands(&mut state, (session.keys, session.mouse, session.home.as_deref()));
    match session.tell {
        Tell::Nothing => {}
        Tell::Welcome if guide::is_begun(&state) => {}
        Tell::Welcome => _ = state.guide.get_or_insert(Guide::Welcome),
        Tell::Tour => begin_tour(&mut state),
    }
    if let Some(at) = session.at {
        let item = place(&state, at)?;
        state.visit(item);
    }
    theme(&state)?;
    Ok(state)
}

/// Sets keys and mouse as the call has them, else as they were, with the reader's own key map.
fn hands(state: &mut State, (keys, mouse, home): (Option<Layout>, Option<Mouse>, Option<&std::path::Path>)) {
    if let Some(layout) = keys {
        state.keys = state.keys.with(layout);
    }
    state.mouse = mouse.unwrap_or(state.mouse);
    match home.map(keymap::own).transpose().map(Option::flatten) {
        Ok(Some((file, text))) => {
            for wrong in own_keys(state, &text) {
                state.say(format!("{}, {wrong}.", file.display()));
            }
        }
        Ok(None) => {}
        Err(error) => state.say(error.to_string()),
    }
    state.stale();
    state.settle();
}

/// Returns where the reader stood, with what was decided in readers that ran beside; and what there is to say about it.
fn gathered(seat: &Seat) -> (Stands, Option<String>) {
    let (mut stands, mut told) = match seat.begun().map(Stands::parse) {
        Some(Some(stands)) => (stands, None),
        Some(None) if seat.is_first() => (Stands::default(), Some(put_aside(seat))),
        Some(None) | None => (Stands::default(), None),
    };
    if !seat.is_first() {
        return (stands, Some(OPEN_ELSEWHERE.to_owned()));
    }
    let mut plants = 0;
    let mut left = seat.beside();
    left.retain(|one| {
        // What can't be read stays where it lies.
        let Some(kept) = Stands::parse(&one.kept) else { return false };
        let begun = one.begun.as_deref().map(Stands::read).unwrap_or_default();
        plants += stands.join(begun, kept);
        true
    });
    // Only what is kept may be forgotten where it lay.
    if !left.is_empty() && seat.keep(&stands.json()).is_ok() {
        for one in &left {
            seat.forget(one);
        }
    }
    if plants > 0 {
        let plants = library::count(plants, "plant", "plants");
        told = told.or_else(|| Some(format!("What was decided in another window is here now: {plants}.")));
    }
    (stands, told)
}

/// What is said at a start beside another reader.
const OPEN_ELSEWHERE: &str =
    "Also open elsewhere: what you decide here is kept beside it, and joined at a later start.";

/// Puts a damaged text of where the reader stood aside, since it holds decisions; returns what to say about it.
fn put_aside(seat: &Seat) -> String {
    match seat.put_aside() {
        Ok(path) => {
            format!("What was kept of your plants can't be read; it lies in {} as it was.", path.display())
        }
        Err(error) => format!("What was kept of your plants can't be read, nor put aside: {error}"),
    }
}

fn place(state: &State, at: String) -> Result<Item, Error> {
    match &state.library {
        None => Err(Error::NoFlora { at }),
        Some(library) => start::find(library, &at).map_err(|near| Error::NothingThere { at, near }),
    }
}

pub(super) fn theme(state: &State) -> Result<Theme, Error> {
    Ok(Theme::named(&state.theme, state.colour)?)
}

/// Draws and waits in turn until the reader is left.
fn converse(state: &mut State, outside: &Outside) -> Result<(), Error> {
    let mut terminal = Terminal::new(CrosstermBackend::new(io::stdout())).map_err(Error::Terminal)?;
    let size = terminal.size().map_err(Error::Terminal)?;
    update(state, Event::Resize(size.width, size.height));
    if state.mouse == Mouse::On {
        send(pointer::LISTEN)?;
    }
    let events = listen().map_err(Error::Terminal)?;
    let (mut look, mut lit) = (theme(state)?, state.theme.clone());
    loop {
        if lit != state.theme {
            (look, lit) = (theme(state)?, state.theme.clone());
        }
        terminal.draw(|frame| view(state, &look, frame)).map_err(Error::Terminal)?;
        let Ok(event) = events.recv() else { return Ok(()) };
        if happen(state, (outside, Port::Screen), event.map_err(Error::Terminal)?) {
            return Ok(());
        }
    }
}

/// Where standard output goes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Port {
    /// To a terminal with screens.
    Screen,
    /// To a terminal with lines alone.
    Lines,
    /// To whatever reads the lines of a script.
    Pipe,
}

/// Returns what only a terminal can do, as the control sequence that asks for it: none for what reads no such sequences, and
/// no mouse where nothing is drawn to point at.
fn sequence(effect: &Effect, port: Port) -> Option<String> {
    match (effect, port) {
        (Effect::Copy(text), Port::Screen | Port::Lines) => Some(out::to_clipboard(text)),
        (Effect::Mouse(Mouse::On), Port::Screen) => Some(pointer::LISTEN.to_owned()),
        (Effect::Mouse(Mouse::Off), Port::Screen) => Some(pointer::LEAVE.to_owned()),
        (
            Effect::Copy(_)
            | Effect::Mouse(_)
            | Effect::KeepStand(_)
            | Effect::Open(_)
            | Effect::Amend(..)
            | Effect::Print(..)
            | Effect::Remember(_)
            | Effect::Forget
            | Effect::Quit,
            Port::Screen | Port::Lines | Port::Pipe,
        ) => None,
    }
}

/// Sends a control sequence to the terminal.
fn send(sequence: &str) -> Result<(), Error> {
    let mut out = io::stdout();
    out.write_all(sequence.as_bytes()).and_then(|()| out.flush()).map_err(Error::Terminal)
}

/// Prints what there is to be heard and waits in turn: from a terminal each key as it is pressed, else words line by line.
fn speak(session: Session) -> Result<(), Error> {
    let home = session.home.clone();
    let outside = Outside::of(&session)?;
    let mut state = begin(session, outside.seat.as_ref())?;
    // Nobody hears a drawing, so none is asked either.
    state.dots = None;
    state.now = now();
    state.stale();
    state.settle();
    update(&mut state, Event::Resize(linear::WINDOW.0, linear::WINDOW.1));
    let at_keys = io::stdin().is_terminal();
    let keyboard = at_keys.then(Keyboard::take).transpose().map_err(Error::Terminal)?;
    let events = if at_keys { listen().map_err(Error::Terminal)? } else { lines() };
    let port = if io::stdout().is_terminal() { Port::Lines } else { Port::Pipe };
    let (mut out, ends) = (io::stdout().lock(), if at_keys { "\r\n" } else { "\n" });
    let mut heard: Option<Heard> = None;
    let mut ended = false;
    while !ended {
        for line in linear::say(&mut heard, &state) {
            write!(out, "{line}{ends}").map_err(Error::Terminal)?;
        }
        out.flush().map_err(Error::Terminal)?;
        ended = match events.recv() {
            // The window of the lines stays as it is, however the terminal's changes.
            Ok(Ok(Event::Resize(..))) => false,
            Ok(event) => happen(&mut state, (&outside, port), event.map_err(Error::Terminal)?),
            Err(_) => true,
        };
    }
    drop(keyboard);
    leave(home.as_deref(), outside);
    Ok(())
}

/// Starts the thread that reads lines of keys, as a script or a terminal without single keys gives them.
fn lines() -> Receiver<io::Result<Event>> {
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        for line in io::stdin().lines() {
            let presses = line.map(|line| linear::presses(&line));
            let events: Vec<io::Result<Event>> = match presses {
                Ok(presses) => presses.into_iter().map(|press| Ok(Event::Press(press))).collect(),
                Err(error) => vec![Err(error)],
            };
            if events.into_iter().any(|event| sender.send(event).is_err()) {
                return;
            }
        }
    });
    receiver
}

/// Lets an event and all that comes of it happen; says whether the reader is left.
fn happen(state: &mut State, (outside, port): (&Outside, Port), event: Event) -> bool {
    let mut waiting = vec![event];
    state.now = now();
    while let Some(event) = waiting.pop() {
        for effect in update(state, event) {
            if effect == Effect::Quit {
                return true;
            }
            waiting.extend(outside.perform(&effect));
            // What a terminal does not take is no failure of the reader: the message says that it may not.
            _ = sequence(&effect, port).map(|sequence| send(&sequence));
        }
    }
    false
}

/// Returns the seconds since 1970.
fn now() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs())
}

/// Starts the threads that wait for keys and for signals.
fn listen() -> io::Result<Receiver<io::Result<Event>>> {
    let (sender, receiver) = mpsc::channel();
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT])?;
    let end = sender.clone();
    thread::spawn(move || {
        if signals.forever().next().is_some() {
            // The main loop may be gone already, and then there is nothing left to end.
            _ = end.send(Ok(Event::End));
        }
    });
    thread::spawn(move || input(&sender));
    Ok(receiver)
}

fn input(sender: &Sender<io::Result<Event>>) {
    loop {
        let event = match event::read() {
            Ok(Report::Key(key)) => Press::of(key).map(Event::Press),
            Ok(Report::Resize(width, height)) => Some(Event::Resize(width, height)),
            Ok(Report::Mouse(mouse)) => Pointed::of(mouse).map(Event::Mouse),
            Ok(Report::FocusGained | Report::FocusLost | Report::Paste(_)) => None,
            Err(error) => {
                _ = sender.send(Err(error));
                return;
            }
        };
        if let Some(event) = event
            && sender.send(Ok(event)).is_err()
        {
            return;
        }
    }
}

/// Holds the terminal in the reader's mode, and gives it back when dropped.
struct Guard;

impl Guard {
    fn enter() -> io::Result<Self> {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            restore();
            before(info);
        }));
        enable_raw_mode()?;
        let guard = Self;
        execute!(io::stdout(), EnterAlternateScreen)?;
        Ok(guard)
    }
}

/// Has a terminal give every key at once, without anything drawn, until dropped.
struct Keyboard;

impl Keyboard {
    fn take() -> io::Result<Self> {
        enable_raw_mode()?;
        Ok(Self)
    }
}

impl Drop for Keyboard {
    fn drop(&mut self) {
        _ = disable_raw_mode();
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        restore();
    }
}

/// Gives the terminal back as it was; what fails here can't be told anywhere.
fn restore() {
    _ = send(pointer::LEAVE);
    _ = execute!(io::stdout(), LeaveAlternateScreen, Show);
    _ = disable_raw_mode();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::look_ups;

    #[test]
    fn only_a_terminal_with_screens_is_asked_for_the_mouse_and_no_pipe_for_anything() {
        let (copy, mouse) = (Effect::Copy("calyx".to_owned()), Effect::Mouse(Mouse::On));
        let asked = |port| [&copy, &mouse].map(|effect| sequence(effect, port).is_some());
        assert_eq!(
            [Port::Screen, Port::Lines, Port::Pipe].map(asked),
            [[true, true], [true, false], [false; 2]]
        );
    }

    #[test]
    fn everything_that_was_put_aside_is_told_at_the_start() {
        let folder = tempfile::tempdir().expect("a folder for the test");
        Seat::take(folder.path()).and_then(|seat| seat.keep("{ torn")).expect("the disk takes it");
        look_ups::add(folder.path(), "{ torn", look_ups::Care::Sure).expect("the disk takes it");
        let seat = Seat::take(folder.path()).expect("nobody else reads here");
        let session = Session { home: Some(folder.path().to_owned()), ..Session::default() };
        let state = begin(session, Some(&seat)).expect("a reader without a flora");
        let told: Vec<&String> = state.message.iter().chain(&state.untold).collect();
        let tells = |words: &str| told.iter().any(|told| told.contains(words));
        assert!(tells("kept of your plants can't be read; it lies in"), "{told:?}");
        assert!(tells("Some of what you looked up was damaged"), "{told:?}");
    }

    #[test]
    fn a_stand_that_can_not_be_kept_is_said_and_the_reading_goes_on() {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let seat = Seat::take(&folder.path().join("home")).expect("a folder in it");
        std::fs::remove_dir_all(folder.path()).expect("a folder that goes away");
        let outside = Outside { shelf: None, seat: Some(seat), home: None };
        let said = outside.perform(&Effect::KeepStand("{}".to_owned()));
        assert!(
            matches!(said, Some(Event::Failed(sorry)) if sorry.starts_with("Where you stand was not kept"))
        );
    }
}
