//! What a call says of the hands at the keyboard: options of the verbs that open the reader in, layout and mouse out.

use crate::reader::{Layout, Mouse};

/// The options.
#[derive(Clone, Copy, Debug, Default, clap::Args)]
pub(crate) struct Hands {
    /// Which hands press the letters: both, left or right; kept for the next time, and changed in the reader with `layout`
    #[arg(long, value_name = "NAME", value_parser = layout)]
    keys: Option<Layout>,
    /// Leave the mouse to the terminal, for its own selection; kept for the next time, and F3 in the reader takes it back
    #[arg(long)]
    no_mouse: bool,
}

impl Hands {
    /// Returns the layout that was asked for.
    pub(crate) fn keys(self) -> Option<Layout> {
        self.keys
    }

    /// Returns what was said of the mouse.
    pub(crate) fn mouse(self) -> Option<Mouse> {
        self.no_mouse.then_some(Mouse::Off)
    }
}

fn layout(name: &str) -> Result<Layout, String> {
    let names: Vec<&str> = Layout::ALL.iter().map(|layout| layout.name()).collect();
    Layout::named(name).ok_or_else(|| format!("there are {}", names.join(", ")))
}
