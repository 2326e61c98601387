//! The log of looked-up terms: lines that are only ever added, until all of them are forgotten at once.
//!
//! A line is in the file when `add` returns, so a kill loses none. What a line says is not known here; whoever reads
//! them tells which are damaged, and those are put aside in a file of their own.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use crate::store::error::Error;
use crate::store::own_file;

/// The file below the root.
const FILE: &str = "looked-up.jsonl";
/// How the names of files begin that hold damaged lines.
const DAMAGED: &str = "looked-up.damaged-";

/// How much is done for a line before it counts as kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Care {
    /// It is handed to the system; no press has to wait for the disk.
    Quick,
    /// It is on the disk.
    Sure,
}

/// Adds a line.
pub fn add(root: &Path, line: &str, care: Care) -> Result<(), Error> {
    fs::create_dir_all(root).map_err(Error::disk("make the folder", root))?;
    let path = root.join(FILE);
    let write = || -> io::Result<()> {
        // A disk that knows no locks takes the line all the same.
        let _lock = locked(root).ok();
        let mut file = OpenOptions::new().create(true).read(true).append(true).open(&path)?;
        // The end of a line that was cut off must not take the next one with it.
        let start = if ends_a_line(&mut file)? { "" } else { "\n" };
        file.write_all(format!("{start}{line}\n").as_bytes())?;
        match care {
            Care::Quick => Ok(()),
            Care::Sure => file.sync_data(),
        }
    };
    write().map_err(Error::disk("write", &path))
}

/// Returns all lines; what is no UTF-8 in them comes out as replacement signs.
pub fn text(root: &Path) -> Result<String, Error> {
    Ok(own_file::text(&root.join(FILE))?.unwrap_or_default())
}

/// Takes the damaged lines out of the file into one of their own, byte for byte, and returns where that lies.
///
/// `damaged` says of all lines of a text which are; it is asked anew, as others may have added lines meanwhile, or have
/// put the damaged ones aside themselves.
pub fn put_aside(root: &Path, damaged: impl Fn(&str) -> Vec<String>) -> Result<PathBuf, Error> {
    let path = root.join(FILE);
    let move_out = || -> io::Result<PathBuf> {
        let _lock = locked(root)?;
        let (before, aside) = names_aside(root);
        let (kept, moved) = parted(&fs::read(&path)?, damaged);
        if moved.is_empty() {
            return Ok(before);
        }
        written(File::create_new(&aside)?, &moved)?;
        let beside = root.join(format!("{FILE}.new"));
        written(File::create(&beside)?, &kept)?;
        fs::rename(&beside, &path)?;
        Ok(aside)
    };
    move_out().map_err(Error::disk("put aside", &path))
}

/// Returns the name of the last file of damaged lines, that of the log where there is none, and the first free one.
fn names_aside(root: &Path) -> (PathBuf, PathBuf) {
    let name = |number: u64| root.join(format!("{DAMAGED}{number}.jsonl"));
    let mut free = 1;
    while name(free).exists() {
        free += 1;
    }
    let before = if free == 1 { root.join(FILE) } else { name(free - 1) };
    (before, name(free))
}

/// Parts the lines of a file into those that stay and the damaged ones.
fn parted(bytes: &[u8], damaged: impl Fn(&str) -> Vec<String>) -> (Vec<u8>, Vec<u8>) {
    let mut out = damaged(&String::from_utf8_lossy(bytes));
    let (mut kept, mut moved) = (Vec::new(), Vec::new());
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        let text = String::from_utf8_lossy(line);
        let words = text.lines().next().unwrap_or_default();
        match out.iter().position(|damaged| damaged == words) {
            Some(at) => {
                out.remove(at);
                moved.extend_from_slice(line);
            }
            None => kept.extend_from_slice(line),
        }
    }
    (kept, moved)
}

/// Forgets everything, also the damaged lines that were put aside; says whether there was anything.
pub fn forget(root: &Path) -> Result<bool, Error> {
    let entries = match fs::read_dir(root) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
        Err(error) => return Err(Error::disk("read", root)(error)),
    };
    let remove = || -> io::Result<bool> {
        let _lock = locked(root).ok();
        let mut found = false;
        for entry in entries {
            let entry = entry?;
            let name = entry.file_name();
            let name = name.to_string_lossy();
            if name.starts_with(FILE) || name.starts_with(DAMAGED) {
                fs::remove_file(entry.path())?;
                found = true;
            }
        }
        Ok(found)
    };
    remove().map_err(Error::disk("clear", root))
}

/// Locks the folder against another who writes here; the lock ends with the value.
fn locked(root: &Path) -> io::Result<File> {
    let folder = File::open(root)?;
    folder.lock()?;
    Ok(folder)
}

/// Says whether a file is empty or ends with a whole line.
fn ends_a_line(file: &mut File) -> io::Result<bool> {
    if file.metadata()?.len() == 0 {
        return Ok(true);
    }
    file.seek(SeekFrom::End(-1))?;
    let mut last = [0];
    file.read_exact(&mut last)?;
    Ok(last == *b"\n")
}

/// Writes to a file and has it on the disk.
fn written(mut file: File, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Says which lines are damaged: those that do not begin with a brace.
    fn damaged(text: &str) -> Vec<String> {
        text.lines().filter(|line| !line.starts_with('{')).map(str::to_owned).collect()
    }

    fn names(root: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(root)
            .expect("the folder is there")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn lines_are_added_and_a_line_cut_off_takes_none_with_it() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let root = home.path().join("not yet there");
        assert_eq!(text(&root).expect("nothing to read"), "");
        add(&root, "{1}", Care::Quick).expect("a line");
        fs::write(root.join(FILE), "{1}\n{2").expect("a line cut off");
        add(&root, "{3}", Care::Sure).expect("a line");
        assert_eq!(text(&root).expect("the file"), "{1}\n{2\n{3}\n");
    }

    #[test]
    fn damaged_lines_are_put_aside_and_the_others_stay() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let root = home.path();
        fs::write(root.join(FILE), b"{1}\nrubbish\n{2}\n\xff\xfe\n").expect("a damaged file");
        let aside = put_aside(root, damaged).expect("it can be put aside");
        assert_eq!(text(root).expect("the file"), "{1}\n{2}\n");
        assert_eq!(fs::read(&aside).expect("the other file"), b"rubbish\n\xff\xfe\n");
        assert_eq!(put_aside(root, damaged).expect("nothing is damaged any more"), aside);
        assert_eq!(fs::read(&aside).expect("the other file"), b"rubbish\n\xff\xfe\n");
        assert_eq!(names(root).len(), 2);
        fs::write(root.join(FILE), "worse\n").expect("a damaged file");
        assert_ne!(put_aside(root, damaged).expect("it can be put aside"), aside);
    }

    #[test]
    fn forgetting_leaves_nothing_behind() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let root = home.path();
        fs::write(root.join("stand.json"), "{}").expect("something else");
        fs::write(root.join(FILE), "{1}\nrubbish\n").expect("a damaged file");
        put_aside(root, damaged).expect("it can be put aside");
        fs::write(root.join(format!("{FILE}.new")), "{").expect("what a kill left");
        assert!(forget(root).expect("it can be forgotten"));
        assert_eq!(names(root), ["stand.json"]);
        assert!(!forget(root).expect("nothing is left"));
        assert!(!forget(&root.join("none")).expect("nothing was there"));
    }

    #[test]
    fn writers_at_the_same_time_lose_no_line() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let root = home.path();
        std::thread::scope(|scope| {
            for writer in 0..4 {
                scope.spawn(move || {
                    for line in 0..50 {
                        add(root, &format!("{{{writer}-{line}}}"), Care::Quick).expect("a line");
                        add(root, &format!("rubbish {writer}-{line}"), Care::Quick).expect("a line");
                        put_aside(root, damaged).expect("damaged lines can be put aside");
                    }
                });
            }
        });
        assert_eq!(text(root).expect("the file").lines().count(), 200);
        let aside = names(root).into_iter().filter(|name| name.starts_with(DAMAGED));
        let aside: String = aside.map(|name| fs::read_to_string(root.join(name)).expect("a file")).collect();
        assert_eq!(aside.lines().count(), 200);
    }
}
