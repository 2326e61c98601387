//! A terminal of a given size with ligule in it, by way of tmux: keys go in, screens come out, nothing sleeps blindly.

use std::fs;
use std::path::PathBuf;
use std::process::{self, Command};
use std::sync::atomic::{AtomicU32, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use crate::support::Home;

/// How long a screen may take to become as expected; long, as tests share the machine.
const PATIENCE: Duration = Duration::from_mins(1);

/// Time between two looks at the screen.
const LOOK: Duration = Duration::from_millis(10);

/// Looks in a row that must show the same before a screen counts as drawn.
const STILL: usize = 8;

/// Terminals started by this process, so that each has a server of its own.
static STARTED: AtomicU32 = AtomicU32::new(0);

/// A terminal that ends with the value.
pub(crate) struct Terminal {
    folder: PathBuf,
    socket: String,
}

/// What a terminal shows.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Screen {
    /// The letters, line by line.
    pub(crate) text: String,
    /// The same with colours and styles, as terminal codes.
    styled: String,
}

impl std::fmt::Debug for Screen {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "\n{}", self.styled)
    }
}

impl Terminal {
    /// Says whether there is a tmux at all.
    pub(crate) fn possible() -> bool {
        Command::new("tmux").arg("-V").output().is_ok_and(|output| output.status.success())
    }

    /// Calls ligule in a new terminal, and waits until it shows something.
    pub(crate) fn start(home: &Home, size: (u16, u16), verb: &str) -> Self {
        let terminal = Self::open(home, size, verb);
        terminal.settle("the first screen", |screen| !screen.text.trim().is_empty());
        terminal
    }

    /// Calls ligule in a new terminal, and waits only until it shows something.
    pub(crate) fn start_at_once(home: &Home, size: (u16, u16), verb: &str) -> Self {
        let terminal = Self::open(home, size, verb);
        let began = Instant::now();
        while terminal.screen().text.trim().is_empty() {
            assert!(began.elapsed() < PATIENCE, "nothing is shown");
            thread::sleep(LOOK / 5);
        }
        terminal
    }

    fn open(home: &Home, (width, height): (u16, u16), verb: &str) -> Self {
        let folder = home.path().to_owned();
        let number = STARTED.fetch_add(1, Ordering::Relaxed);
        let terminal = Self { socket: format!("ligule-test-{}-{number}", process::id()), folder };
        let (kept, pid) = (home.path().join("kept"), terminal.pid_file());
        let binary = env!("CARGO_BIN_EXE_ligule");
        let inner = format!("echo $$ >\"{}\"; exec \"{binary}\" {verb}", pid.display());
        let call = format!(
            "env -i LIGULE_HOME='{}' TERM=\"$TERM\" sh -c '{inner}'; echo \"ended with $?\"; stty -a; exec cat",
            kept.display()
        );
        let size = (width.to_string(), height.to_string());
        terminal.tmux(&["new-session", "-d", "-x", &size.0, "-y", &size.1, &call]);
        terminal
    }

    /// Sends keys without waiting for what they do.
    pub(crate) fn send(&self, keys: &[&str]) {
        self.tmux(&[&["send-keys"], keys].concat());
    }

    /// Returns what it shows now.
    pub(crate) fn screen(&self) -> Screen {
        let screen = |more: &[&str]| self.tmux(&[&["capture-pane", "-p"], more].concat());
        Screen { text: screen(&[]), styled: screen(&["-e", "-N"]) }
    }

    /// Presses a key, named as tmux does, and returns the screen that it gives; the screen must change.
    #[track_caller]
    pub(crate) fn press(&self, key: &str) -> Screen {
        let before = self.screen();
        self.tmux(&["send-keys", key]);
        self.settle(&format!("another screen after {key}"), |screen| *screen != before)
    }

    /// Presses a key after which the screen must become this one, letter for letter and style for style.
    #[track_caller]
    pub(crate) fn press_for(&self, key: &str, expected: &Screen) {
        self.tmux(&["send-keys", key]);
        self.wait_for(expected);
    }

    /// Waits until it shows exactly this.
    #[track_caller]
    pub(crate) fn wait_for(&self, expected: &Screen) {
        self.settle(&format!("this screen:{expected:?}\n"), |screen| screen == expected);
    }

    /// Waits until it shows anything but this.
    #[track_caller]
    pub(crate) fn wait_until_not(&self, unwanted: &Screen) {
        self.settle("another screen", |screen| screen != unwanted);
    }

    /// Waits until it shows these words.
    #[track_caller]
    pub(crate) fn wait_for_words(&self, words: &str) -> Screen {
        self.settle(words, |screen| screen.text.contains(words))
    }

    /// Marks a word on the screen through its letter.
    #[track_caller]
    pub(crate) fn mark(&self, word: &str) -> Screen {
        let before = self.screen();
        let place = before.text.lines().enumerate().find_map(|(row, line)| {
            line.find(&format!(" {word}")).map(|byte| (row, line[..byte].chars().count()))
        });
        let (row, column) = place.unwrap_or_else(|| panic!("{word} is not on the screen{before:?}"));
        let lettered = self.press("t");
        let letter = lettered.text.lines().nth(row).and_then(|line| line.chars().nth(column));
        let letter = letter.filter(char::is_ascii_alphabetic);
        self.press(&letter.unwrap_or_else(|| panic!("{word} has no letter{lettered:?}")).to_string())
    }

    /// Changes the size of the window.
    pub(crate) fn resize(&self, (width, height): (u16, u16)) {
        self.tmux(&["resize-window", "-x", &width.to_string(), "-y", &height.to_string()]);
    }

    /// Sends a signal to ligule.
    pub(crate) fn signal(&self, signal: &str) {
        let call = format!("kill -{signal} {}", self.pid());
        assert!(Command::new("sh").args(["-c", &call]).status().expect("there is a shell").success());
    }

    /// Ends ligule without a warning, and waits until it is gone with all its locks.
    #[track_caller]
    pub(crate) fn kill(&self) {
        self.signal("KILL");
        let (call, began) = (format!("kill -0 {} 2>&1", self.pid()), Instant::now());
        while Command::new("sh").args(["-c", &call]).output().expect("there is a shell").status.success() {
            assert!(began.elapsed() < PATIENCE, "it does not end");
            thread::sleep(LOOK / 5);
        }
    }

    /// Returns the number of ligule's process.
    pub(crate) fn pid(&self) -> String {
        fs::read_to_string(self.pid_file()).expect("the shell wrote it").trim().to_owned()
    }

    /// Waits for ligule's end and checks its exit code and that the terminal is as it was before.
    #[track_caller]
    pub(crate) fn check_given_back(&self, code: i32) {
        // The last setting that stty names, which the settings looked for come before.
        let screen = self.wait_for_words("extproc");
        assert!(screen.text.contains(&format!("ended with {code}\n")), "{screen:?}");
        for setting in ["icanon", "echo", "isig", "opost", "icrnl"] {
            assert!(screen.text.split_whitespace().any(|word| word == setting), "{setting} is off{screen:?}");
        }
        let modes = self.tmux(&["display-message", "-p", "#{alternate_on} #{cursor_flag}"]);
        assert_eq!(modes.trim(), "0 1", "alternate screen and cursor");
    }

    fn pid_file(&self) -> PathBuf {
        self.folder.join(format!("{}.pid", self.socket))
    }

    /// Waits for a screen that stays for a moment and is as wanted.
    #[track_caller]
    fn settle(&self, what: &str, accept: impl Fn(&Screen) -> bool) -> Screen {
        let began = Instant::now();
        let (mut last, mut looks) = (self.screen(), 0);
        while looks < STILL || !accept(&last) {
            assert!(began.elapsed() < PATIENCE, "waited for {what}, but there is{last:?}");
            thread::sleep(LOOK);
            let now = self.screen();
            looks = if now == last { looks + 1 } else { 0 };
            last = now;
        }
        last
    }

    /// Calls tmux on a server of this terminal's own.
    #[track_caller]
    fn tmux(&self, args: &[&str]) -> String {
        let mut command = Command::new("tmux");
        command.args(["-u", "-L", &self.socket, "-f", "/dev/null"]).args(args).env_remove("TMUX");
        let output = command.output().expect("tmux was there when the test began");
        assert!(output.status.success(), "tmux {args:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("tmux was told to speak Unicode")
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        // A server that is gone already is none the worse for it.
        _ = Command::new("tmux").args(["-L", &self.socket, "kill-server"]).output();
    }
}
