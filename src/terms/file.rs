//! Glossary files: TOML in, terms out. Whether the terms that an entry names exist is not asked here.

use serde::Deserialize;

use crate::terms::{Error, Origin, Sense, Term, plain};

/// Reads a glossary file; `name` is for the error alone.
///
/// The built-in files are read before the first screen, so what is set as they are takes the quick way.
pub(crate) fn read(name: &str, text: &str, origin: &Origin) -> Result<Vec<Term>, Error> {
    plain::read(text, origin).map_or_else(|| read_toml(name, text, origin), Ok)
}

/// Reads any TOML that holds a glossary.
pub(crate) fn read_toml(name: &str, text: &str, origin: &Origin) -> Result<Vec<Term>, Error> {
    let file: File = toml::from_str(text).map_err(|error| Error::Broken {
        file: name.to_owned(),
        headword: error.span().and_then(|span| headword_before(text, span.start)),
        reason: error.message().to_owned(),
    })?;
    let terms: Vec<Term> = file.term.into_iter().map(|raw| raw.term(origin)).collect();
    match terms.iter().find(|term| term.senses.is_empty() == term.see.is_none()) {
        Some(term) => Err(Error::SenseOrSee { file: name.to_owned(), headword: term.name.clone() }),
        None => Ok(terms),
    }
}

/// Returns the byte at which the TOML crate finds a fault, where it says so.
pub(crate) fn fault(text: &str) -> Option<usize> {
    toml::from_str::<File>(text).err().and_then(|error| error.span()).map(|span| span.start)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    term: Vec<RawTerm>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTerm {
    name: String,
    #[serde(default)]
    forms: Vec<String>,
    see: Option<String>,
    #[serde(default)]
    sense: Vec<RawSense>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSense {
    #[serde(default)]
    organs: Vec<String>,
    definition: String,
    #[serde(default)]
    plain: Vec<String>,
    #[serde(default)]
    contrasts: Vec<String>,
    broader: Option<String>,
    note: Option<String>,
}

impl RawTerm {
    fn term(self, origin: &Origin) -> Term {
        Term {
            name: self.name,
            forms: self.forms,
            see: self.see,
            senses: self.sense.into_iter().map(RawSense::sense).collect(),
            origin: origin.clone(),
            page: None,
            entry: None,
        }
    }
}

impl RawSense {
    fn sense(self) -> Sense {
        let Self { organs, definition, plain, contrasts, broader, note } = self;
        Sense { organs, definition, plain, contrasts, broader, note }
    }
}

/// Returns the headword of the entry that an error's position falls into.
fn headword_before(text: &str, at: usize) -> Option<String> {
    let line_end = text[at..].find('\n').map_or(text.len(), |length| at + length);
    let entry = text[..line_end].rfind("[[term]]").map_or(text, |start| &text[start..]);
    let line = entry.lines().find(|line| line.trim_start().starts_with("name"))?;
    Some(line.split_once('=')?.1.trim().trim_matches('"').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_error(text: &str, expected: &str) {
        let error = read("odd.toml", text, &Origin::BuiltIn).expect_err("the file is broken");
        assert_eq!(error.to_string(), expected);
    }

    #[test]
    fn every_member_of_an_entry_is_read() {
        let text = r#"
[[term]]
name = "ligule"
forms = ["ligula"]
[[term.sense]]
organs = ["leaf"]
definition = "a flap where sheath and blade meet"
plain = ["flap"]
contrasts = ["auricle"]
broader = "appendage"
note = "a fringe of hairs in some grasses"
"#;
        let terms = read("x.toml", text, &Origin::Reader).expect("the entry is whole");
        let sense = Sense {
            organs: vec!["leaf".to_owned()],
            definition: "a flap where sheath and blade meet".to_owned(),
            plain: vec!["flap".to_owned()],
            contrasts: vec!["auricle".to_owned()],
            broader: Some("appendage".to_owned()),
            note: Some("a fringe of hairs in some grasses".to_owned()),
        };
        let term = Term {
            name: "ligule".to_owned(),
            forms: vec!["ligula".to_owned()],
            see: None,
            senses: vec![sense],
            origin: Origin::Reader,
            page: None,
            entry: None,
        };
        assert_eq!(terms, [term]);
    }

    #[test]
    fn an_unknown_member_is_told_with_file_and_headword() {
        check_error(
            "[[term]]\nname = \"awn\"\nsee = \"arista\"\n[[term]]\nname = \"beak\"\ncolour = \"x\"\n",
            "odd.toml, entry `beak`: unknown field `colour`, expected one of `name`, `forms`, `see`, `sense`",
        );
    }

    #[test]
    fn a_missing_definition_is_told_with_file_and_headword() {
        check_error(
            "[[term]]\nname = \"awn\"\n[[term.sense]]\norgans = [\"lemma\"]\n",
            "odd.toml, entry `awn`: missing field `definition`",
        );
    }

    #[test]
    fn an_entry_either_has_senses_or_sends_on() {
        check_error(
            "[[term]]\nname = \"awn\"\n",
            "odd.toml, entry `awn`: has neither a sense nor `see`, or both",
        );
    }
}
