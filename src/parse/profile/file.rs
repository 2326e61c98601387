//! A profile as TOML: what was learned written out, and what a reader says read back, every unknown entry with the known ones.

use std::collections::BTreeMap;
use std::fmt;

use serde::Deserialize;

use crate::model::{Rank, SectionKind};
use crate::parse::glossary::MARKS;

use super::steer::{LAYOUTS, SCHEMES, WAYS, word_of};
use super::{GlossaryLook, HeadLook, KeyStyle, Overrides, Profile, run_in};

/// Why a profile can't be read: one sentence, with what is known.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub struct Error(String);

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Raw {
    body_size: Option<f32>,
    indent_steps: Option<Vec<f32>>,
    #[serde(default)]
    headings: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    keys: RawStyle,
    #[serde(default)]
    key: Vec<RawKey>,
    #[serde(default)]
    run_in: BTreeMap<String, String>,
    #[serde(default)]
    glossary: RawGlossary,
    #[serde(default)]
    signs: BTreeMap<String, String>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct RawStyle {
    scheme: Option<String>,
    layout: Option<String>,
    targets: Option<Vec<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawKey {
    title: String,
    scheme: Option<String>,
    layout: Option<String>,
    targets: Option<Vec<String>>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct RawGlossary {
    own_type: Option<bool>,
    mark: Option<String>,
    hanging: Option<bool>,
}

/// Reads a profile or part of one.
pub(super) fn read(text: &str) -> Result<Overrides, Error> {
    let raw: Raw = toml::from_str(text).map_err(|error| {
        let line = error.span().map(|span| text[..span.start.min(text.len())].matches('\n').count() + 1);
        let message = error.message().lines().next().unwrap_or_default().to_owned();
        Error(line.map_or_else(|| message.clone(), |line| format!("line {line}: {message}")))
    })?;
    if raw.body_size.is_some_and(|size| !(size.is_finite() && size > 0.0)) {
        return Err(Error("`body-size` is a number of points above 0".to_owned()));
    }
    let style = |title: &str, style: RawStyle| {
        Ok(KeyStyle {
            scheme: style.scheme.map(|word| known(SCHEMES, &word, &format!("{title}scheme"))).transpose()?,
            layout: style.layout.map(|word| known(LAYOUTS, &word, &format!("{title}layout"))).transpose()?,
            targets: style
                .targets
                .map(|words| words.iter().map(|word| known(WAYS, word, &format!("{title}targets"))).collect())
                .transpose()?,
        })
    };
    let odd_keys = raw.key.into_iter().map(|key| {
        let RawKey { title, scheme, layout, targets } = key;
        let said = style(&format!("the key “{title}”: "), RawStyle { scheme, layout, targets })?;
        Ok((title, said))
    });
    Ok(Overrides {
        body_size: raw.body_size,
        indent_steps: raw.indent_steps,
        headings: raw.headings.into_iter().map(looks).collect::<Result<_, _>>()?,
        keys: style("keys: ", raw.keys)?,
        odd_keys: odd_keys.collect::<Result<_, Error>>()?,
        run_in: raw.run_in.into_iter().map(section).collect::<Result<_, _>>()?,
        glossary: glossary(raw.glossary)?,
        signs: raw.signs,
    })
}

/// Returns the value of a word, or says which words there are.
fn known<T: Copy>(table: &[(&'static str, T)], word: &str, what: &str) -> Result<T, Error> {
    let found = table.iter().find(|(known, _)| *known == word).map(|(_, value)| *value);
    found.ok_or_else(|| unknown(what, word, table.iter().map(|(known, _)| *known)))
}

fn unknown(what: &str, word: &str, known: impl Iterator<Item = &'static str>) -> Error {
    Error(format!("{what}: there is no “{word}”; known are {}", known.collect::<Vec<_>>().join(", ")))
}

fn looks((rank, looks): (String, Vec<String>)) -> Result<(Rank, Vec<HeadLook>), Error> {
    let ranks = || Rank::ALL.iter().map(|rank| rank.word());
    let found = Rank::of_word(&rank).ok_or_else(|| unknown("headings", &rank, ranks()))?;
    let look = |words: &String| {
        let words = words.split_whitespace().map(|word| {
            let found = HeadLook::WORDS.iter().find(|known| **known == word).copied();
            found.ok_or_else(|| {
                unknown(&format!("headings of rank {rank}"), word, HeadLook::WORDS.iter().copied())
            })
        });
        words.collect::<Result<_, _>>().map(HeadLook)
    };
    Ok((found, looks.iter().map(look).collect::<Result<_, _>>()?))
}

fn section((word, kind): (String, String)) -> Result<(String, String), Error> {
    if kind == run_in::NONE || SectionKind::of_word(&kind).is_some() {
        return Ok((word, kind));
    }
    let kinds = SectionKind::ALL.iter().map(|kind| kind.word()).chain([run_in::NONE]);
    Err(unknown(&format!("run-in heading “{word}”"), &kind, kinds))
}

fn glossary(raw: RawGlossary) -> Result<GlossaryLook, Error> {
    let quoted = |mark: &str| format!("“{mark}”");
    let mark = raw.mark.map(|word| {
        let found = MARKS.iter().find(|known| **known == word).copied();
        let marks = MARKS.iter().map(|mark| quoted(mark)).collect::<Vec<_>>().join(", ");
        found.ok_or_else(|| Error(format!("glossary: no mark is {}; known are {marks}", quoted(&word))))
    });
    Ok(GlossaryLook { own_type: raw.own_type, mark: mark.transpose()?, hanging: raw.hanging })
}

impl fmt::Display for Profile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "body-size = {:?}", self.body_size)?;
        writeln!(f, "indent-steps = {:?}", self.indent_steps)?;
        for (columns, pages) in &self.columns {
            writeln!(f, "# {pages} pages have {columns} columns")?;
        }
        if !self.headings.is_empty() {
            writeln!(f, "\n[headings]")?;
        }
        for (rank, looks) in &self.headings {
            let looks: Vec<String> = looks.iter().map(|look| quoted(&look.to_string())).collect();
            writeln!(f, "{} = [{}]", rank.word(), looks.join(", "))?;
        }
        if self.keys != KeyStyle::default() {
            write!(f, "\n[keys]\n{}", self.keys)?;
        }
        for (title, style) in &self.odd_keys {
            write!(f, "\n[[key]]\ntitle = {}\n{style}", quoted(title))?;
        }
        table(f, "run-in", &self.run_in)?;
        if let Some(look) = &self.glossary {
            writeln!(f, "\n[glossary]")?;
            write!(f, "{look}")?;
        }
        table(f, "signs", &self.signs)
    }
}

fn table(f: &mut fmt::Formatter<'_>, name: &str, rows: &BTreeMap<String, String>) -> fmt::Result {
    if !rows.is_empty() {
        writeln!(f, "\n[{name}]")?;
    }
    rows.iter().try_for_each(|(word, value)| writeln!(f, "{} = {}", quoted(word), quoted(value)))
}

/// Returns words as a text of TOML.
fn quoted(words: &str) -> String {
    toml::Value::String(words.to_owned()).to_string()
}

impl fmt::Display for HeadLook {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words: Vec<&str> = Self::WORDS.iter().copied().filter(|word| self.0.contains(word)).collect();
        f.write_str(&words.join(" "))
    }
}

impl fmt::Display for KeyStyle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(scheme) = &self.scheme {
            writeln!(f, "scheme = {}", quoted(word_of(SCHEMES, scheme)))?;
        }
        if let Some(layout) = &self.layout {
            writeln!(f, "layout = {}", quoted(word_of(LAYOUTS, layout)))?;
        }
        if let Some(ways) = &self.targets {
            let words: Vec<String> = ways.iter().map(|way| quoted(word_of(WAYS, way))).collect();
            writeln!(f, "targets = [{}]", words.join(", "))?;
        }
        Ok(())
    }
}

impl fmt::Display for GlossaryLook {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(own) = self.own_type {
            writeln!(f, "own-type = {own}")?;
        }
        if let Some(mark) = self.mark {
            writeln!(f, "mark = {}", quoted(mark))?;
        }
        if let Some(hanging) = self.hanging {
            writeln!(f, "hanging = {hanging}")?;
        }
        Ok(())
    }
}
