//! What tests of the whole program share: a home of their own, the reading matter, floras made in code, PDFs made by hand.

pub(crate) mod flora;
pub(crate) mod pdf;
pub(crate) mod terminal;

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// Returns the PDFs below a folder, in the order of their names.
pub(crate) fn pdfs_below(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.sort();
    paths
        .into_iter()
        .flat_map(|path| match path.extension() {
            _ if path.is_dir() => pdfs_below(&path),
            Some(extension) if extension == "pdf" => vec![path],
            _ => Vec::new(),
        })
        .collect()
}

/// A folder that holds everything a test's calls of ligule keep, removed at its end.
pub(crate) struct Home(TempDir);

/// What a call gave.
#[derive(Debug)]
pub(crate) struct Done {
    /// The exit code.
    pub(crate) code: i32,
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
}

impl Home {
    /// Makes an empty home.
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().expect("the system has a folder for temporary files"))
    }

    /// Returns its folder, which is also where calls are made from.
    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    /// Writes a file into it.
    pub(crate) fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.path().join(name);
        fs::write(&path, bytes).expect("a temporary file can be written");
        path
    }

    /// Returns a call of ligule that knows nothing of the user's own files and settings.
    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ligule"));
        command.args(args).current_dir(self.path()).env_clear().env("LIGULE_HOME", self.path().join("kept"));
        command.stdin(Stdio::null());
        command
    }

    /// Calls ligule and waits for its end.
    pub(crate) fn run(&self, args: &[&str]) -> Done {
        done(&mut self.command(args))
    }

    /// Calls ligule, hands it this on standard input, and waits for its end.
    pub(crate) fn run_on(&self, args: &[&str], input: &str) -> Done {
        let mut command = self.command(args);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("the binary can be started");
        let mut pipe = child.stdin.take().expect("it was piped");
        pipe.write_all(input.as_bytes()).expect("ligule reads");
        drop(pipe);
        given(child.wait_with_output().expect("it was started here"))
    }
}

/// Carries a call out.
pub(crate) fn done(command: &mut Command) -> Done {
    given(command.output().expect("the binary can be started"))
}

/// Returns what a call gave.
fn given(output: Output) -> Done {
    let text = |bytes| String::from_utf8(bytes).expect("ligule prints Unicode");
    let code = output.status.code().expect("ligule ends by itself");
    Done { code, out: text(output.stdout), err: text(output.stderr) }
}

/// Returns a path of the reading matter beside the project, if it is there.
pub(crate) fn shared(path: &str) -> Option<PathBuf> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared").join(path);
    path.exists().then_some(path)
}

/// Says aloud that a test can't do its work, also where the output of tests is captured; under `LIGULE_NO_SKIP=1` it fails.
pub(crate) fn skip(test: &str, why: &str) {
    let line = format!("SKIPPED {test}: {why}");
    assert!(std::env::var_os("LIGULE_NO_SKIP").is_none_or(|value| value != "1"), "{line}");
    // `eprintln!` would be captured.
    _ = writeln!(std::io::stderr(), "{line}");
}

/// Tells a figure that a test measured, also where the output of tests is captured.
pub(crate) fn note(test: &str, figure: &str) {
    // `eprintln!` would be captured.
    _ = writeln!(std::io::stderr(), "{test}: {figure}");
}
