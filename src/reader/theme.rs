//! Themes: TOML files in; the style of every role on screen out.
//!
//! A theme says how a role looks and never what it means: every role differs from running text without colour too.

use ratatui::style::{Color, Modifier, Style};
use serde::Deserialize;

use crate::reader::palette::{self, Rgb};
use crate::reader::state::Colour;

/// A theme that could not be read.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// No theme has that name.
    #[error("there is no theme {name:?}; there are {known}")]
    Unknown {
        /// The name asked for.
        name: String,
        /// The names that there are.
        known: String,
    },
    /// The file has a role, field or value that is not known.
    #[error("theme {name}: {what}")]
    File {
        /// The theme's name.
        name: String,
        /// What is wrong, with the names that are known.
        what: String,
    },
}

/// A built-in theme: its name, what it is for, and its file.
type BuiltIn = (&'static str, &'static str, &'static str);

/// The themes that are built in, in the order in which one key changes between them.
const BUILT_IN: &[BuiltIn] = &[
    ("sun", "black on white, for daylight", include_str!("../../themes/sun.toml")),
    ("dusk", "pale on near black, for poor light", include_str!("../../themes/dusk.toml")),
    ("night", "red on black, for eyes used to the dark", include_str!("../../themes/night.toml")),
    ("contrast", "white and yellow on black", include_str!("../../themes/contrast.toml")),
    (
        "distinct",
        "blue and brown on white, for eyes that see fewer hues",
        include_str!("../../themes/distinct.toml"),
    ),
    (PLAIN, "no colours, only bold, underlined and reversed", PLAIN_FILE),
];

/// The theme without any colour.
pub(crate) const PLAIN: &str = "plain";

/// Its file.
const PLAIN_FILE: &str = include_str!("../../themes/plain.toml");

macro_rules! roles {
    ($($variant:ident $field:ident $told:ident $doc:literal;)*) => {
        /// What a piece of the screen is.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(crate) enum Role {
            $(#[doc = $doc] $variant,)*
        }

        impl Role {
            /// All roles.
            pub(crate) const ALL: &[Self] = &[$(Self::$variant,)*];

            /// Returns how it is told from running text where no colour is seen.
            #[cfg(test)]
            pub(crate) const fn told(self) -> Told {
                match self {
                    $(Self::$variant => Told::$told,)*
                }
            }
        }

        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct File {
            $($field: Look,)*
        }

        impl File {
            fn look(&self, role: Role) -> &Look {
                match role {
                    $(Role::$variant => &self.$field,)*
                }
            }
        }
    };
}

roles! {
    Text     text     Text  "Running text.";
    Faint    faint    Words "What is said beside the text: sources, pages, counts.";
    Head     head     Place "The lines at the head of the screen.";
    Foot     foot     Place "The line of keys at the foot.";
    Heading  heading  Style "Headings inside a text.";
    Label    label    Style "The label of a lead.";
    Hand     hand     Style "The label of the lead at hand, or the row at hand.";
    Bar      bar      Sign  "The bar beside the lead or row at hand.";
    Word     word     Style "A term or name that leads somewhere.";
    Marked   marked   Style "The marked term or name.";
    Letter   letter   Style "The letter beside a term.";
    Target   target   Sign  "Where a lead leads.";
    Rule     rule     Sign  "The line above a definition.";
    Caution  caution  Style "A standing caution.";
    Message  message  Style "What the reader has to be told.";
}

/// How a role is told from running text without colour.
#[cfg(test)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Told {
    /// It is running text.
    Text,
    /// By its own words: nothing depends on telling it apart.
    Words,
    /// By its place at the edge of the screen, and by its style or colour.
    Place,
    /// By bold, underlined or reversed letters.
    Style,
    /// By a sign: a bar, an arrow, a line.
    Sign,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[expect(clippy::struct_excessive_bools, reason = "independent properties, as the file writes them")]
struct Look {
    fg: Option<String>,
    bg: Option<String>,
    bold: bool,
    italic: bool,
    underline: bool,
    reverse: bool,
}

/// The style of every role.
pub(crate) struct Theme {
    styles: Vec<Style>,
}

impl Theme {
    /// Returns a built-in theme by name, in the colours that the terminal has.
    pub(crate) fn named(name: &str, colour: Colour) -> Result<Self, Error> {
        let found = BUILT_IN.iter().find(|(known, ..)| *known == name);
        let unknown = || Error::Unknown { name: name.to_owned(), known: names().join(", ") };
        let (name, _, source) = found.ok_or_else(unknown)?;
        let (name, source) = match colour {
            Colour::True | Colour::Indexed => (*name, *source),
            Colour::Unknown | Colour::Never => (PLAIN, PLAIN_FILE),
        };
        Self::read(name, source, colour)
    }

    /// Returns the name of the theme that follows in turn.
    pub(crate) fn after(name: &str) -> &'static str {
        let at = BUILT_IN.iter().position(|(known, ..)| *known == name);
        BUILT_IN[at.map_or(0, |at| (at + 1) % BUILT_IN.len())].0
    }

    /// Says what a theme is for.
    pub(crate) fn about(name: &str) -> &'static str {
        BUILT_IN.iter().find(|(known, ..)| *known == name).map_or("", |(_, about, _)| about)
    }

    /// Returns the style of a role.
    pub(crate) fn style(&self, role: Role) -> Style {
        self.styles[role as usize]
    }

    /// Reads a theme's file.
    pub(crate) fn read(name: &'static str, source: &str, colour: Colour) -> Result<Self, Error> {
        let wrong = |what: String| Error::File { name: name.to_owned(), what };
        let file: File = toml::from_str(source).map_err(|error| wrong(error.to_string()))?;
        let ground = file.text.colours().map_err(wrong)?;
        let styles = Role::ALL.iter().map(|role| file.look(*role).style(ground, colour));
        Ok(Self { styles: styles.collect::<Result<_, _>>().map_err(wrong)? })
    }
}

impl Look {
    /// Returns the colours of text and ground, if it has them.
    fn colours(&self) -> Result<[Option<Rgb>; 2], String> {
        let read = |written: &Option<String>| {
            let Some(written) = written else { return Ok(None) };
            let wrong = || format!("{written:?} is no colour; write it as #rrggbb");
            palette::read(written).map(Some).ok_or_else(wrong)
        };
        Ok([read(&self.fg)?, read(&self.bg)?])
    }

    /// Returns the style, with the colours of running text where it has none of its own.
    fn style(&self, [text, ground]: [Option<Rgb>; 2], colour: Colour) -> Result<Style, String> {
        let marks = [
            (self.bold, Modifier::BOLD),
            (self.italic, Modifier::ITALIC),
            (self.underline, Modifier::UNDERLINED),
            (self.reverse, Modifier::REVERSED),
        ];
        let marks = marks.iter().filter(|(on, _)| *on);
        let style = marks.fold(Style::default(), |style, (_, mark)| style.add_modifier(*mark));
        let [own, behind] = self.colours()?;
        let colours = match (own.or(text), behind.or(ground), colour) {
            (Some(text), Some(ground), Colour::Indexed) => {
                let (text, ground) = palette::indexed(text, ground);
                [Some(Color::Indexed(text)), Some(Color::Indexed(ground))]
            }
            (text, ground, _) => [text, ground].map(|colour| colour.map(palette::truly)),
        };
        Ok(Style { fg: colours[0], bg: colours[1], ..style })
    }
}

/// Returns the names of the themes, in the order in which one key changes between them.
pub fn names() -> Vec<&'static str> {
    BUILT_IN.iter().map(|(name, ..)| *name).collect()
}
