//! Keying a plant out: the keys of a flora as one graph, and the decisions taken in it for each plant.
//!
//! Answers what is still possible, where a taxon keys out and which couplet tells two taxa apart. Nothing is shown or
//! kept here; where the reader stands is not known.

mod graph;
mod need;
mod readings;
mod route;
mod shape;
#[cfg(test)]
mod tests;
mod trail;

use serde::{Deserialize, Serialize};

use crate::model::{CoupletId, KeyId};

pub use graph::{End, EndId, Graph, Step, Turn};
pub use need::{Need, needs};
pub use readings::{Readings, Unread, Verdict};
pub use route::Routes;
pub use shape::{Widest, outline};
pub use trail::{Branch, Decided, Decision, Plant, Printed, Sureness, letter};

/// A couplet of a flora.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Spot {
    /// Its key.
    pub key: KeyId,
    /// Its place in the key.
    pub couplet: CoupletId,
}

impl Spot {
    /// Returns where a key begins.
    pub fn start(key: KeyId) -> Self {
        Self { key, couplet: CoupletId(0) }
    }
}
