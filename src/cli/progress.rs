//! How far the reading of a book has come, on standard error: a bar on a terminal, else a plain line now and then.

use std::io::{self, IsTerminal};
use std::sync::atomic::{AtomicU32, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::cli::world::remark;

/// Plain lines for a whole book.
const PLAIN_LINES: u32 = 10;

/// The bar's line: pages done of all, and the time left.
const TEMPLATE: &str = "{prefix} {wide_bar} page {pos} of {len}, {eta} left";

/// Shows how far a reading has come.
pub(crate) struct Progress {
    name: String,
    way: Way,
}

/// How it is shown.
enum Way {
    Bar(ProgressBar),
    Plain(AtomicU32),
}

impl Progress {
    /// Begins to show the reading of the book `name`.
    pub(crate) fn of(name: &str) -> Self {
        let way = if io::stderr().is_terminal() {
            let style = ProgressStyle::with_template(TEMPLATE).expect("the template is written in this file");
            let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
            Way::Bar(bar.with_style(style).with_prefix(name.to_owned()))
        } else {
            Way::Plain(AtomicU32::new(0))
        };
        Self { name: name.to_owned(), way }
    }

    /// Tells that `done` of `all` pages are read; calls may come from several threads and out of order.
    pub(crate) fn tell(&self, done: u32, all: u32) {
        match &self.way {
            Way::Bar(bar) => {
                bar.set_length(u64::from(all));
                bar.set_position(u64::from(done).max(bar.position()));
            }
            Way::Plain(told) => {
                let step = u64::from(done) * u64::from(PLAIN_LINES) / u64::from(all.max(1));
                let step = step as u32;
                if told.fetch_max(step, Ordering::Relaxed) < step {
                    remark(&format!("{}: page {done} of {all}", self.name));
                }
            }
        }
    }

    /// Takes the bar away.
    pub(crate) fn done(&self) {
        match &self.way {
            Way::Bar(bar) => bar.finish_and_clear(),
            Way::Plain(_) => {}
        }
    }
}
