//! What surrounds a call: streams, environment, day. They are read here once and handed on as arguments.

use std::env;
use std::ffi::OsString;
use std::io::{self, BufWriter, IsTerminal, Stdout, Write};
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

use crate::cli::drawing;
use crate::cli::failure::Failure;
use crate::drill::DAY;
use crate::reader::{Colour, Manner, Signs};
use crate::sketch::Dots;
use crate::store::Shelf;

/// Columns that text is broken to on a terminal; in a pipe a paragraph stays one line.
const COLUMNS: usize = 80;

/// The surroundings of one call.
pub(crate) struct World {
    /// Standard output.
    pub(crate) out: BufWriter<Stdout>,
    /// How to write on it.
    pub(crate) look: Look,
    /// Which colours the terminal shows.
    pub(crate) colour: Colour,
    /// Which characters it shows.
    pub(crate) signs: Signs,
    /// Whether the reader draws screens or prints lines.
    pub(crate) manner: Manner,
    /// What drawings are made of.
    pub(crate) dots: Dots,
    /// Seconds since 1970 when the call was made.
    pub(crate) now: u64,
    home: Option<PathBuf>,
    today: String,
}

/// How results are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Look {
    /// Whether headings stand out.
    pub(crate) paint: Paint,
    /// Where lines are broken.
    pub(crate) lines: Lines,
}

/// Whether terminal codes are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Paint {
    /// No codes at all.
    Plain,
    /// Headings in bold.
    Bold,
}

/// Where lines are broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lines {
    /// A paragraph is a line.
    Whole,
    /// Lines have at most so many columns.
    Broken(usize),
}

impl World {
    /// Returns the surroundings of this process.
    pub(crate) fn of_process() -> Self {
        let terminal = io::stdout().is_terminal();
        let colour = colour(|name| env::var_os(name));
        let look = Look {
            paint: if terminal && colour != Colour::Never { Paint::Bold } else { Paint::Plain },
            lines: if terminal { Lines::Broken(COLUMNS) } else { Lines::Whole },
        };
        let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
        let signs = signs(|name| env::var_os(name));
        Self {
            out: BufWriter::new(io::stdout()),
            look,
            colour,
            signs,
            dots: drawing::dots(signs, &small(&|name: &str| env::var_os(name), "TERM")),
            manner: manner(|name| env::var_os(name)),
            now: seconds,
            home: home(|name| env::var_os(name)),
            today: date(seconds / DAY),
        }
    }

    /// Returns the folder that holds all that ligule keeps.
    pub(crate) fn home(&self) -> Result<&Path, Failure> {
        self.home.as_deref().ok_or(Failure::NoHome)
    }

    /// Returns the shelf.
    pub(crate) fn shelf(&self) -> Result<Shelf, Failure> {
        Ok(Shelf::at(self.home()?).on(&self.today))
    }

    /// Prints a value as JSON.
    pub(crate) fn json(&mut self, value: &serde_json::Value) -> Result<(), Failure> {
        serde_json::to_writer_pretty(&mut self.out, value).map_err(io::Error::from)?;
        Ok(writeln!(self.out)?)
    }

    /// Hands everything printed to the system.
    pub(crate) fn flush(&mut self) -> Result<(), Failure> {
        Ok(self.out.flush()?)
    }
}

/// Prints a remark on standard error.
pub(crate) fn remark(remark: &str) {
    // A remark that nobody can read is no reason to stop.
    _ = writeln!(io::stderr(), "{remark}");
}

/// Returns standard input, to be read line by line.
pub(crate) fn lines_in() -> io::StdinLock<'static> {
    io::stdin().lock()
}

/// Says whether standard input and output are a terminal.
pub(crate) fn at_terminal() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// Returns a variable's value in small letters, empty where it is not set.
fn small(variable: &impl Fn(&str) -> Option<OsString>, name: &str) -> String {
    variable(name).map(|value| value.to_string_lossy().to_lowercase()).unwrap_or_default()
}

/// Finds which colours the terminal shows: none with `NO_COLOR`, else as `COLORTERM` and `TERM` say.
fn colour(variable: impl Fn(&str) -> Option<OsString>) -> Colour {
    let (wanted, term) = (small(&variable, "COLORTERM"), small(&variable, "TERM"));
    if !small(&variable, "NO_COLOR").is_empty() {
        Colour::Never
    } else if matches!(wanted.as_str(), "truecolor" | "24bit") || term.ends_with("-direct") {
        Colour::True
    } else if term.contains("256color") {
        Colour::Indexed
    } else {
        Colour::Unknown
    }
}

/// Finds which characters the terminal shows: ASCII alone where a locale is set that is not UTF-8.
fn signs(variable: impl Fn(&str) -> Option<OsString>) -> Signs {
    let set = ["LC_ALL", "LC_CTYPE", "LANG"].map(|name| small(&variable, name));
    match set.iter().find(|locale| !locale.is_empty()) {
        Some(locale) if !locale.contains("utf-8") && !locale.contains("utf8") => Signs::Ascii,
        Some(_) | None => Signs::Unicode,
    }
}

/// Finds whether lines are wanted instead of screens: `LIGULE_LINEAR` asks for them, and a dumb terminal can't draw.
fn manner(variable: impl Fn(&str) -> Option<OsString>) -> Manner {
    let asked = !small(&variable, "LIGULE_LINEAR").is_empty();
    if asked || small(&variable, "TERM") == "dumb" { Manner::Linear } else { Manner::Screen }
}

/// Finds the folder to keep things in: `LIGULE_HOME`, else the data folder of the XDG base directories.
fn home(variable: impl Fn(&str) -> Option<OsString>) -> Option<PathBuf> {
    let path = |name: &str| variable(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    if let Some(home) = path("LIGULE_HOME") {
        // A relative path is meant from where the call was made, also if that changes later.
        return std::path::absolute(home).ok();
    }
    // The base directory specification has relative paths ignored.
    let data = path("XDG_DATA_HOME").filter(|path| path.is_absolute());
    let data = data.or_else(|| path("HOME").map(|home| home.join(".local/share")));
    data.map(|data| data.join("ligule"))
}

/// Returns the date of a day counted from 1 January 1970, as `2026-05-17`.
pub(crate) fn date(days: u64) -> String {
    let leap = |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let (mut year, mut left) = (1970, days);
    loop {
        let length = if leap(year) { 366 } else { 365 };
        if left < length {
            break;
        }
        left -= length;
        year += 1;
    }
    let february = if leap(year) { 29 } else { 28 };
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if left < length {
            break;
        }
        left -= length;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", left + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_home(variables: &[(&str, &str)], expected: Option<&str>) {
        let find = |name: &str| variables.iter().find(|(key, _)| *key == name).map(|(_, value)| value.into());
        assert_eq!(home(find), expected.map(PathBuf::from));
    }

    #[test]
    fn ligule_home_comes_before_the_xdg_folders() {
        check_home(&[("LIGULE_HOME", "/l"), ("XDG_DATA_HOME", "/x"), ("HOME", "/h")], Some("/l"));
        check_home(&[("LIGULE_HOME", ""), ("XDG_DATA_HOME", "/x"), ("HOME", "/h")], Some("/x/ligule"));
        check_home(&[("XDG_DATA_HOME", "x"), ("HOME", "/h")], Some("/h/.local/share/ligule"));
        check_home(&[], None);
    }

    #[track_caller]
    fn check_colour(variables: &[(&str, &str)], expected: Colour) {
        let find = |name: &str| variables.iter().find(|(key, _)| *key == name).map(|(_, value)| value.into());
        assert_eq!(colour(find), expected, "{variables:?}");
    }

    #[test]
    fn colours_are_those_that_the_terminal_names() {
        check_colour(&[("COLORTERM", "truecolor"), ("TERM", "xterm-256color")], Colour::True);
        check_colour(&[("TERM", "xterm-direct")], Colour::True);
        check_colour(&[("TERM", "screen-256color")], Colour::Indexed);
        check_colour(&[("TERM", "linux")], Colour::Unknown);
        check_colour(&[], Colour::Unknown);
        check_colour(&[("COLORTERM", "truecolor"), ("NO_COLOR", "1")], Colour::Never);
        check_colour(&[("COLORTERM", "truecolor"), ("NO_COLOR", "")], Colour::True);
    }

    #[track_caller]
    fn check_signs(variables: &[(&str, &str)], expected: Signs) {
        let find = |name: &str| variables.iter().find(|(key, _)| *key == name).map(|(_, value)| value.into());
        assert_eq!(signs(find), expected, "{variables:?}");
    }

    #[test]
    fn a_locale_that_is_not_utf_8_shows_ascii() {
        check_signs(&[("LANG", "C")], Signs::Ascii);
        check_signs(&[("LC_ALL", "nb_NO.ISO-8859-1"), ("LANG", "nb_NO.UTF-8")], Signs::Ascii);
        check_signs(&[("LC_ALL", ""), ("LANG", "nb_NO.utf8")], Signs::Unicode);
        check_signs(&[], Signs::Unicode);
    }

    #[test]
    fn days_are_counted_over_leap_years() {
        let dates = [0, 58, 59, 789, 11_016, 20_590].map(date);
        assert_eq!(
            dates,
            ["1970-01-01", "1970-02-28", "1970-03-01", "1972-02-29", "2000-02-29", "2026-05-17"]
        );
    }
}
