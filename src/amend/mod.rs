//! A flora as it was read and what its reader amended in, the amended flora out: leads that go elsewhere or are none,
//! headings that were missed or are none. Each amendment names its place by the words printed there, so that it holds for
//! every reading of the book; one that fits nowhere becomes a doubt and is never dropped.
//!
//! Files are not touched here: `store` keeps the text that [`read`] takes and [`entry`] adds to.

mod file;
mod find;
mod heading;
mod lead;
mod renumber;
#[cfg(test)]
mod tests;

use crate::model::{Doubt, DoubtAbout, DoubtKind, Flora, Page, Rank};
use crate::parse;

pub use file::{Error, entry, read};

/// What stands at the top of a new file of amendments.
pub const PREAMBLE: &str = "\
# Amendments: where the reading of this book was set right. Each entry names its place by the words printed there; the
# page (of the PDF) only helps where the same words stand twice. They hold again after every new ingest.
#
#   [[lead]]                                   [[heading]]
#   words = \"Leaves hairy below\"               words = \"3. Silene alta Mor.\"
#   label = \"4b\"                               page = 31
#   key = \"Key to the species of Silene\"       rank = \"species\"
#   page = 30
#   goes-to = { taxon = \"Silene alta\" }
#
# A lead has one of: goes-to = { couplet = \"7\" }, { taxon = \"…\" } or { key = \"…\" }; no-lead = true; as-read = true.
# A heading has one of: rank = \"…\"; no-heading = true; as-read = true. `as-read` undoes what stands before it.
";

/// One thing that a reader set right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amendment {
    /// Of a lead.
    Lead(LeadAt, LeadChange),
    /// Of a heading.
    Heading(HeadingAt, HeadingChange),
}

/// Which lead, by what is printed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeadAt {
    /// The first words of its characters, or all of them.
    pub words: String,
    /// Its label.
    pub label: Option<String>,
    /// The title of its key, or the name of the taxon that the key divides.
    pub key: Option<String>,
    /// The page of the PDF, a hint.
    pub page: Option<u32>,
}

/// What is right of a lead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadChange {
    /// It leads there.
    GoesTo(To),
    /// It is none: its words belong to the lead before.
    NoLead,
    /// It was read rightly; earlier amendments of it are taken back.
    AsRead,
}

/// Where a lead leads, in the book's own words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum To {
    /// To a couplet of its key, by label; where labels repeat, by the first words of its first lead as well.
    Couplet(String, Option<String>),
    /// To a taxon by its name, treated in this book or not.
    Taxon(String),
    /// To another key, by its title or by the taxon that it divides.
    Key(String),
}

/// Which heading, by what is printed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HeadingAt {
    /// Its first words, or all of them.
    pub words: String,
    /// The page of the PDF, a hint.
    pub page: Option<u32>,
}

/// What is right of a heading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadingChange {
    /// It is the heading of a taxon of this rank.
    Rank(Rank),
    /// It is none.
    NoHeading,
    /// It was read rightly; earlier amendments of it are taken back.
    AsRead,
}

/// What became of an amendment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It holds.
    Held,
    /// It fits nowhere, and why.
    Unfit(String),
}

impl Amendment {
    /// Returns the printed words that it is about, and what it says of them.
    pub fn told(&self) -> (String, String) {
        match self {
            Self::Lead(at, change) => {
                let label = at.label.as_ref().map(|label| format!("{label} ")).unwrap_or_default();
                let says = match change {
                    LeadChange::GoesTo(To::Couplet(label, _)) => format!("goes to couplet {label}"),
                    LeadChange::GoesTo(To::Taxon(name) | To::Key(name)) => format!("goes to {name}"),
                    LeadChange::NoLead => "is no lead".to_owned(),
                    LeadChange::AsRead => "is as it was read".to_owned(),
                };
                (format!("{label}{}", at.words), says)
            }
            Self::Heading(at, change) => {
                let says = match change {
                    HeadingChange::Rank(rank) => format!("is a heading of rank {}", rank.word()),
                    HeadingChange::NoHeading => "is no heading".to_owned(),
                    HeadingChange::AsRead => "is as it was read".to_owned(),
                };
                (at.words.clone(), says)
            }
        }
    }

    fn page(&self) -> Option<u32> {
        match self {
            Self::Lead(at, _) => at.page,
            Self::Heading(at, _) => at.page,
        }
    }

    /// Says whether it takes back what an earlier one says.
    fn takes_back(&self, earlier: &Self) -> bool {
        match (self, earlier) {
            (Self::Lead(at, LeadChange::AsRead), Self::Lead(before, _)) => {
                find::letters(&at.words) == find::letters(&before.words)
                    && at.label == before.label
                    && at.key == before.key
            }
            (Self::Heading(at, HeadingChange::AsRead), Self::Heading(before, _)) => {
                find::letters(&at.words) == find::letters(&before.words) && at.page == before.page
            }
            (Self::Lead(..) | Self::Heading(..), _) => false,
        }
    }
}

/// Amends a flora as it was read; says for each amendment, in their order, what became of it.
///
/// Headings come first, then what is no lead, then where leads go, so that a lead may go to a treatment that an amendment
/// found. The same flora and amendments give the same result, always.
pub fn apply(mut flora: Flora, amendments: &[Amendment]) -> (Flora, Vec<Outcome>) {
    if amendments.is_empty() {
        return (flora, Vec::new());
    }
    let before = parse::doubts(&flora);
    // The same doubt may have been told with more words, from the print.
    let told = |doubt: &Doubt| {
        let same = |other: &Doubt| {
            other.kind == doubt.kind
                && other.page == doubt.page
                && other.text == doubt.text
                && other.about == doubt.about
        };
        before.iter().any(same)
    };
    flora.doubts.retain(|doubt| !told(doubt));
    let mut outcomes = vec![Outcome::Held; amendments.len()];
    for stage in [Stage::Headings, Stage::NoLeads, Stage::Targets] {
        for (at, amendment) in amendments.iter().enumerate().filter(|(_, one)| stage_of(one) == stage) {
            if amendments[at + 1..].iter().any(|later| later.takes_back(amendment)) {
                continue;
            }
            if let Err(why) = one(&mut flora, amendment) {
                outcomes[at] = Outcome::Unfit(why);
            }
        }
    }
    parse::count(&mut flora);
    let found = parse::doubts(&flora);
    flora.doubts.extend(found);
    flora.doubts.extend(amendments.iter().zip(&outcomes).filter_map(|(one, outcome)| unfit(one, outcome)));
    flora.doubts.sort_by_key(|doubt| (doubt.kind, doubt.page));
    (flora, outcomes)
}

/// The order in which amendments are carried out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stage {
    Headings,
    NoLeads,
    Targets,
}

fn stage_of(amendment: &Amendment) -> Stage {
    match amendment {
        Amendment::Heading(..) => Stage::Headings,
        Amendment::Lead(_, LeadChange::NoLead) => Stage::NoLeads,
        Amendment::Lead(_, LeadChange::GoesTo(_) | LeadChange::AsRead) => Stage::Targets,
    }
}

fn one(flora: &mut Flora, amendment: &Amendment) -> Result<(), String> {
    match amendment {
        Amendment::Lead(at, LeadChange::GoesTo(to)) => lead::goes_to(flora, at, to),
        Amendment::Lead(at, LeadChange::NoLead) => lead::is_none(flora, at),
        Amendment::Heading(at, HeadingChange::Rank(rank)) => heading::is_of(flora, at, *rank),
        Amendment::Heading(at, HeadingChange::NoHeading) => heading::is_none(flora, at),
        Amendment::Lead(_, LeadChange::AsRead) | Amendment::Heading(_, HeadingChange::AsRead) => Ok(()),
    }
}

/// Returns the doubt that tells of an amendment that fits nowhere.
fn unfit(amendment: &Amendment, outcome: &Outcome) -> Option<Doubt> {
    let Outcome::Unfit(why) = outcome else { return None };
    let (text, says) = amendment.told();
    let advice = format!("the amendment that this {says} no longer fits: {why}; set it right or take it out");
    let page = Page(amendment.page().unwrap_or(1));
    Some(Doubt { kind: DoubtKind::Amendment, page, text, advice, about: DoubtAbout::Book })
}
