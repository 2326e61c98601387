//! The verbs, one file each: what they take, and what they do with the other rooms.

pub(crate) mod check;
pub(crate) mod define;
pub(crate) mod demo;
pub(crate) mod drill;
pub(crate) mod dump;
pub(crate) mod find;
pub(crate) mod ingest;
pub(crate) mod key;
pub(crate) mod read;
pub(crate) mod route;
pub(crate) mod shelf;
pub(crate) mod show;
pub(crate) mod text;
