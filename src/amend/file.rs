//! The file of amendments: TOML in, amendments out, and one amendment as the lines that are added to it.

use serde::{Deserialize, Serialize};

use crate::model::Rank;

use super::{Amendment, HeadingAt, HeadingChange, LeadAt, LeadChange, To};

/// Why a file of amendments can't be read.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// It is no TOML, or has members that nobody knows.
    #[error("{0}")]
    Form(String),
    /// An entry says nothing, or several things at once.
    #[error("the {what} “{words}” must have exactly one of {choice}")]
    Choice {
        /// Lead or heading.
        what: &'static str,
        /// Its words.
        words: String,
        /// What it may have.
        choice: &'static str,
    },
    /// A rank that there is not.
    #[error("the heading “{words}” has the rank “{rank}”; ranks are {}", ranks())]
    Rank {
        /// Its words.
        words: String,
        /// The rank.
        rank: String,
    },
}

#[derive(Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct RawFile {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    lead: Vec<RawLead>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    heading: Vec<RawHeading>,
}

#[derive(Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct RawLead {
    words: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    label: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    key: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    page: Option<u32>,
    #[serde(default, skip_serializing_if = "is_false")]
    no_lead: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    as_read: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    goes_to: Option<RawTo>,
}

#[derive(Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct RawTo {
    #[serde(skip_serializing_if = "Option::is_none")]
    couplet: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    words: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    taxon: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    key: Option<String>,
}

#[derive(Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct RawHeading {
    words: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    page: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rank: Option<String>,
    #[serde(default, skip_serializing_if = "is_false")]
    no_heading: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    as_read: bool,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it with a reference")]
fn is_false(value: &bool) -> bool {
    !*value
}

/// Reads a file of amendments.
pub fn read(text: &str) -> Result<Vec<Amendment>, Error> {
    let raw: RawFile = toml::from_str(text).map_err(|error| Error::Form(form(text, &error)))?;
    let leads = raw.lead.into_iter().map(lead);
    leads.chain(raw.heading.into_iter().map(heading)).collect()
}

/// Returns an amendment as the lines that are put at the end of the file.
pub fn entry(amendment: &Amendment) -> String {
    let mut raw = RawFile::default();
    match amendment {
        Amendment::Lead(at, change) => raw.lead.push(raw_lead(at, change)),
        Amendment::Heading(at, change) => raw.heading.push(RawHeading {
            words: at.words.clone(),
            page: at.page,
            rank: if let HeadingChange::Rank(rank) = change { Some(rank.word().to_owned()) } else { None },
            no_heading: *change == HeadingChange::NoHeading,
            as_read: *change == HeadingChange::AsRead,
        }),
    }
    let text = toml::to_string(&raw).expect("texts, numbers and truth values can be written");
    format!("\n{}\n", text.trim())
}

/// Says in one line where a file is no file of amendments.
fn form(text: &str, error: &toml::de::Error) -> String {
    let line = error.span().map(|span| text[..span.start.min(text.len())].matches('\n').count() + 1);
    let message = error.message().lines().next().unwrap_or_default();
    line.map_or_else(|| message.to_owned(), |line| format!("line {line}: {message}"))
}

fn lead(raw: RawLead) -> Result<Amendment, Error> {
    let choice = "goes-to (with couplet, taxon or key), no-lead, as-read";
    let fault = |words: &str| Error::Choice { what: "lead", words: words.to_owned(), choice };
    let change = match (raw.goes_to, raw.no_lead, raw.as_read) {
        (Some(to), false, false) => match (to.couplet, to.taxon, to.key) {
            (Some(label), None, None) => LeadChange::GoesTo(To::Couplet(label, to.words)),
            (None, Some(name), None) => LeadChange::GoesTo(To::Taxon(name)),
            (None, None, Some(title)) => LeadChange::GoesTo(To::Key(title)),
            _ => return Err(fault(&raw.words)),
        },
        (None, true, false) => LeadChange::NoLead,
        (None, false, true) => LeadChange::AsRead,
        _ => return Err(fault(&raw.words)),
    };
    let at = LeadAt { words: raw.words, label: raw.label, key: raw.key, page: raw.page };
    Ok(Amendment::Lead(at, change))
}

fn heading(raw: RawHeading) -> Result<Amendment, Error> {
    let change = match (raw.rank, raw.no_heading, raw.as_read) {
        (Some(rank), false, false) => match Rank::of_word(&rank) {
            Some(rank) => HeadingChange::Rank(rank),
            None => return Err(Error::Rank { words: raw.words, rank }),
        },
        (None, true, false) => HeadingChange::NoHeading,
        (None, false, true) => HeadingChange::AsRead,
        _ => {
            let choice = "rank, no-heading, as-read";
            return Err(Error::Choice { what: "heading", words: raw.words, choice });
        }
    };
    Ok(Amendment::Heading(HeadingAt { words: raw.words, page: raw.page }, change))
}

fn raw_lead(at: &LeadAt, change: &LeadChange) -> RawLead {
    let goes_to = match change {
        LeadChange::GoesTo(To::Couplet(label, words)) => {
            Some(RawTo { couplet: Some(label.clone()), words: words.clone(), ..RawTo::default() })
        }
        LeadChange::GoesTo(To::Taxon(name)) => Some(RawTo { taxon: Some(name.clone()), ..RawTo::default() }),
        LeadChange::GoesTo(To::Key(title)) => Some(RawTo { key: Some(title.clone()), ..RawTo::default() }),
        LeadChange::NoLead | LeadChange::AsRead => None,
    };
    RawLead {
        words: at.words.clone(),
        label: at.label.clone(),
        key: at.key.clone(),
        page: at.page,
        no_lead: *change == LeadChange::NoLead,
        as_read: *change == LeadChange::AsRead,
        goes_to,
    }
}

fn ranks() -> String {
    Rank::ALL.iter().map(|rank| rank.word()).collect::<Vec<_>>().join(", ")
}
