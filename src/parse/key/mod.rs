//! Keys, whatever their printed style: blocks in, raw leads with their printed targets out.

mod blurred;
mod first;
mod grow;
pub(crate) mod label;
pub(crate) mod read;
mod rows;
pub(crate) mod target;
mod vernacular;
