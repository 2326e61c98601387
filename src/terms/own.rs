//! The reader's own glossary: its TOML text in, entries out, and every broken entry by its line. The file is not looked for here.

use std::ops::Range;

use crate::terms::{Error, Origin, Term, file};

/// The reader's own entries, as far as they could be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Own {
    /// The entries that are whole.
    pub terms: Vec<Term>,
    /// Those that are not.
    pub broken: Vec<Broken>,
}

/// An entry that can't be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    /// The line of the file on which its fault stands, from 1.
    pub line: usize,
    /// What is wrong.
    pub reason: String,
}

/// The line that begins an entry.
const ENTRY: &str = "[[term]]";

impl Own {
    /// Reads a file entry by entry, so that one broken entry costs no other.
    pub fn read(text: &str) -> Self {
        let mut own = Self::default();
        for part in parts(text) {
            let first = text[..part.start].lines().count();
            match entry(&text[part]) {
                Ok(terms) => own.terms.extend(terms),
                Err((line, reason)) => own.broken.push(Broken { line: first + line, reason }),
            }
        }
        own
    }
}

/// Returns what stands before the first entry, if anything, and every entry.
fn parts(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let (mut start, mut at) = (0, 0);
    for line in text.split_inclusive('\n') {
        if line.trim() == ENTRY {
            parts.push(start..at);
            start = at;
        }
        at += line.len();
    }
    parts.push(start..at);
    parts
}

/// Reads one entry; the line of a fault counts from 1 within it.
fn entry(text: &str) -> Result<Vec<Term>, (usize, String)> {
    file::read("", text, &Origin::Reader).map_err(|error| match error {
        Error::Broken { reason, .. } => (fault_line(text), reason),
        Error::SenseOrSee { headword, .. } => {
            (1, format!("entry `{headword}` needs a sense or `see`, and not both"))
        }
    })
}

/// Returns the line that the TOML crate points to, that of the entry where it points nowhere.
fn fault_line(text: &str) -> usize {
    let at = file::fault(text).unwrap_or(0);
    text.get(..at).map_or(1, |before| before.matches('\n').count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_own(text: &str, names: &[&str], broken: &[(usize, &str)]) {
        let own = Own::read(text);
        assert_eq!(own.terms.iter().map(|term| term.name.as_str()).collect::<Vec<_>>(), names);
        let found: Vec<(usize, &str)> =
            own.broken.iter().map(|fault| (fault.line, fault.reason.as_str())).collect();
        assert_eq!(found, broken);
    }

    const WHOLE: &str = "[[term]]\nname = \"zonk\"\n\n[[term.sense]]\ndefinition = 'an odd ridge'\n\n";

    #[test]
    fn whole_entries_are_read() {
        check_own(WHOLE, &["zonk"], &[]);
        check_own("# mine\n\n[[term]]\nname = \"zink\"\nsee = \"calyx\"\n", &["zink"], &[]);
        check_own("", &[], &[]);
    }

    #[test]
    fn a_broken_entry_is_told_by_its_line_and_costs_no_other() {
        let text = format!(
            "{WHOLE}[[term]]\nname = \"zink\"\nhue = \"x\"\n\n[[term]]\nname = \"zunk\"\nsee = \"calyx\"\n"
        );
        let reason = "unknown field `hue`, expected one of `name`, `forms`, `see`, `sense`";
        check_own(&text, &["zonk", "zunk"], &[(9, reason)]);
    }

    #[test]
    fn a_line_that_is_no_toml_is_told() {
        let own = Own::read(&format!("{WHOLE}[[term]]\nname = zink\nsee = \"calyx\"\n"));
        assert_eq!((own.terms.len(), own.broken.len(), own.broken[0].line), (1, 1, 8));
    }

    #[test]
    fn an_entry_without_a_meaning_is_told() {
        check_own(
            "[[term]]\nname = \"zink\"\n",
            &[],
            &[(1, "entry `zink` needs a sense or `see`, and not both")],
        );
    }
}
