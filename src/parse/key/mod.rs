//! Keys, whatever their printed style: blocks in, raw leads with their printed targets out.

mod blurred;
mod depth;
mod double;
mod first;
mod grow;
mod jump;
pub(crate) mod label;
mod named;
mod noise;
mod once;
mod outline;
mod raw;
pub(crate) mod read;
mod rows;
mod serial;
mod signs;
mod statement;
mod synopsis;
pub(crate) mod target;
mod title;
mod vernacular;
