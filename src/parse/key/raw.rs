//! Keys as printed, before anything that they name is looked for.

use std::ops::Range;

use crate::model::Text;

use super::label::{Label, Series};
use super::target::Printed;

/// A lead as printed.
#[derive(Clone, Debug)]
pub(crate) struct RawLead {
    /// Its label.
    pub(crate) label: Label,
    /// The characters alone.
    pub(crate) text: Text,
    /// What it leads to as printed.
    pub(crate) target: Printed,
    /// Whether its label was mended by its neighbours.
    pub(crate) odd: bool,
}

/// A key as printed.
#[derive(Clone, Debug)]
pub(crate) struct RawKey {
    /// Its title.
    pub(crate) title: Option<Text>,
    /// The leads in the order of the book.
    pub(crate) leads: Vec<RawLead>,
    /// The couplets: positions of their leads.
    pub(crate) couplets: Vec<RawCouplet>,
    /// The blocks that it takes up, title included.
    pub(crate) blocks: Range<usize>,
}

/// A couplet as printed.
#[derive(Clone, Debug)]
pub(crate) struct RawCouplet {
    /// What its leads share.
    pub(crate) series: Series,
    /// Positions of its leads in the key.
    pub(crate) leads: Vec<usize>,
}
