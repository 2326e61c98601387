//! How far the reading of a book has come, on standard error: a bar on a terminal, else a plain line now and then.

use std::io::{self, IsTerminal};
use std::sync::atomic::{AtomicU32, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::cli::world::remark;

/// Plain lines for a whole book.
const PLAIN_LINES: u32 = 10;

/// The bar's line: pages done of all, and the time left.
const TEMPLATE: &str = "{prefix} {wide_bar} page {pos} of {len}, {eta} left";

/// The bar's line once all pages of a file are read, while they are made sense of.
const TEMPLATE_READ: &str = "{prefix} all {len} pages read, finding keys and treatments …";

/// Shows how far a reading has come.
pub(crate) struct Progress {
    name: String,
    way: Way,
    /// The most pages told of the file at hand.
    most: AtomicU32,
}

/// How it is shown.
enum Way {
    Bar(ProgressBar),
    /// With the number of lines printed for the file at hand.
    Plain(AtomicU32),
}

impl Progress {
    /// Begins to show the reading of the book `name`.
    pub(crate) fn of(name: &str) -> Self {
        let way = if io::stderr().is_terminal() {
            let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
            Way::Bar(bar.with_style(style(TEMPLATE)).with_prefix(name.to_owned()))
        } else {
            Way::Plain(AtomicU32::new(0))
        };
        Self { name: name.to_owned(), way, most: AtomicU32::new(0) }
    }

    /// Tells that `done` of `all` pages of the file at hand are read; calls may come from several threads and out of
    /// order, so only a number far below the last ones is taken for the next volume's.
    pub(crate) fn tell(&self, done: u32, all: u32) {
        let before = self.most.fetch_max(done, Ordering::Relaxed);
        if done < before / 2 {
            self.most.store(done, Ordering::Relaxed);
            match &self.way {
                Way::Bar(bar) => {
                    bar.set_style(style(TEMPLATE));
                    bar.reset();
                }
                Way::Plain(printed) => printed.store(0, Ordering::Relaxed),
            }
        }
        match &self.way {
            Way::Bar(bar) => {
                bar.set_length(u64::from(all));
                bar.set_position(u64::from(self.most.load(Ordering::Relaxed)));
                if done >= all {
                    bar.set_style(style(TEMPLATE_READ));
                    bar.force_draw();
                }
            }
            Way::Plain(printed) => {
                let step = (u64::from(done) * u64::from(PLAIN_LINES) / u64::from(all.max(1))) as u32;
                if printed.fetch_max(step, Ordering::Relaxed) < step {
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

/// Returns the style of a line of the bar.
fn style(template: &str) -> ProgressStyle {
    ProgressStyle::with_template(template).expect("the templates are written in this file")
}
