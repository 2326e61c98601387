//! Themes: TOML files in; the style of every role on screen out.
//!
//! A theme says how a role looks and never what it means: every role differs from running text without colour too.

use std::str::FromStr;

use ratatui::style::{Color, Modifier, Style};
use serde::Deserialize;

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

/// The themes that are built in, in the order in which one key changes between them.
const BUILT_IN: &[(&str, &str)] = &[
    ("sun", include_str!("../../themes/sun.toml")),
    ("dusk", include_str!("../../themes/dusk.toml")),
    (PLAIN, include_str!("../../themes/plain.toml")),
];

/// The theme without any colour.
pub(crate) const PLAIN: &str = "plain";

macro_rules! roles {
    ($($variant:ident $field:ident $doc:literal;)*) => {
        /// What a piece of the screen is.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(crate) enum Role {
            $(#[doc = $doc] $variant,)*
        }

        impl Role {
            /// All roles.
            pub(crate) const ALL: &[Self] = &[$(Self::$variant,)*];
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
    Text     text     "Running text.";
    Faint    faint    "What is said beside the text: sources, pages, counts.";
    Head     head     "The lines at the head of the screen.";
    Foot     foot     "The line of keys at the foot.";
    Heading  heading  "Headings inside a text.";
    Label    label    "The label of a lead.";
    Hand     hand     "The label of the lead at hand, or the row at hand.";
    Bar      bar      "The bar beside the lead or row at hand.";
    Word     word     "A term or name that leads somewhere.";
    Marked   marked   "The marked term or name.";
    Letter   letter   "The letter beside a term.";
    Target   target   "Where a lead leads.";
    Rule     rule     "The line above a definition.";
    Caution  caution  "A standing caution.";
    Message  message  "What the reader has to be told.";
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
    name: &'static str,
    file: File,
    ground: Style,
}

impl Theme {
    /// Returns a built-in theme by name.
    pub(crate) fn named(name: &str) -> Result<Self, Error> {
        let found = BUILT_IN.iter().find(|(known, _)| *known == name);
        let (name, source) =
            found.ok_or_else(|| Error::Unknown { name: name.to_owned(), known: names().join(", ") })?;
        Self::read(name, source)
    }

    /// Returns the name of the theme that follows in turn.
    pub(crate) fn after(name: &str) -> &'static str {
        let at = BUILT_IN.iter().position(|(known, _)| *known == name);
        BUILT_IN[at.map_or(0, |at| (at + 1) % BUILT_IN.len())].0
    }

    /// Returns the theme's name.
    pub(crate) fn name(&self) -> &'static str {
        self.name
    }

    /// Returns the style of a role.
    pub(crate) fn style(&self, role: Role) -> Style {
        let look = self.file.look(role);
        let marks = [
            (look.bold, Modifier::BOLD),
            (look.italic, Modifier::ITALIC),
            (look.underline, Modifier::UNDERLINED),
            (look.reverse, Modifier::REVERSED),
        ];
        let style = marks
            .iter()
            .filter(|(on, _)| *on)
            .fold(self.ground, |style, (_, mark)| style.add_modifier(*mark));
        let fg = look.fg.as_deref().and_then(|fg| Color::from_str(fg).ok());
        let bg = look.bg.as_deref().and_then(|bg| Color::from_str(bg).ok());
        Style { fg: fg.or(style.fg), bg: bg.or(style.bg), ..style }
    }

    fn read(name: &'static str, source: &str) -> Result<Self, Error> {
        let wrong = |what: String| Error::File { name: name.to_owned(), what };
        let file: File = toml::from_str(source).map_err(|error| wrong(error.to_string()))?;
        for look in Role::ALL.iter().map(|role| file.look(*role)) {
            for colour in [&look.fg, &look.bg].into_iter().flatten() {
                let hex =
                    colour.len() == HEX_LENGTH && colour.starts_with('#') && Color::from_str(colour).is_ok();
                if !hex {
                    return Err(wrong(format!("{colour:?} is no colour; write it as #rrggbb")));
                }
            }
        }
        let text =
            |colour: &Option<String>| colour.as_deref().and_then(|colour| Color::from_str(colour).ok());
        let ground = Style { fg: text(&file.text.fg), bg: text(&file.text.bg), ..Style::default() };
        Ok(Self { name, file, ground })
    }
}

/// Characters of `#rrggbb`.
const HEX_LENGTH: usize = 7;

fn names() -> Vec<&'static str> {
    BUILT_IN.iter().map(|(name, _)| *name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The least contrast of text and ground: success criterion 1.4.6 (enhanced) of WCAG 2.2.
    const LEAST_CONTRAST: f64 = 7.0;

    /// Returns the relative luminance of a colour as WCAG 2.2 defines it.
    fn luminance(colour: Color) -> f64 {
        let Color::Rgb(red, green, blue) = colour else { panic!("{colour} is no true colour") };
        let linear = |part: u8| {
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
    }

    /// Returns the contrast ratio as WCAG 2.2 defines it.
    fn contrast(style: Style) -> f64 {
        let fg = luminance(style.fg.expect("a colour theme has a foreground"));
        let bg = luminance(style.bg.expect("a colour theme has a background"));
        (fg.max(bg) + 0.05) / (fg.min(bg) + 0.05)
    }

    #[test]
    fn every_role_of_the_colour_themes_reaches_the_contrast_of_wcag() {
        for name in names().into_iter().filter(|name| *name != PLAIN) {
            let theme = Theme::named(name).expect("a built-in theme");
            for role in Role::ALL {
                let ratio = contrast(theme.style(*role));
                assert!(ratio >= LEAST_CONTRAST, "{name} {role:?} has {ratio:.2}");
            }
        }
    }

    #[test]
    fn black_on_white_has_the_contrast_that_wcag_gives() {
        let style =
            Style { fg: Some(Color::Rgb(0, 0, 0)), bg: Some(Color::Rgb(255, 255, 255)), ..Style::default() };
        assert!((contrast(style) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn the_plain_theme_has_no_colour() {
        let theme = Theme::named(PLAIN).expect("a built-in theme");
        assert!(
            Role::ALL.iter().all(|role| theme.style(*role).fg.is_none() && theme.style(*role).bg.is_none())
        );
    }

    #[test]
    fn what_is_at_hand_or_marked_is_told_without_colour() {
        for name in names() {
            let theme = Theme::named(name).expect("a built-in theme");
            let signs = |role| theme.style(role).add_modifier;
            assert!(signs(Role::Word).contains(Modifier::UNDERLINED), "{name}");
            for role in [Role::Hand, Role::Marked, Role::Letter] {
                assert!(signs(role).intersects(Modifier::REVERSED | Modifier::BOLD), "{name} {role:?}");
            }
        }
    }

    #[track_caller]
    fn check_refused(change: (&str, &str), names: &str) {
        let source = BUILT_IN[0].1.replacen(change.0, change.1, 1);
        let error = Theme::read("test", &source).err().expect("a refusal").to_string();
        assert!(error.contains(names), "{error}");
    }

    #[test]
    fn an_unknown_role_or_field_is_refused_with_the_known_ones() {
        check_refused(("[faint]", "[paint]"), "`faint`");
        check_refused(("bold", "blink"), "`underline`");
        check_refused(("#000000", "black"), "#rrggbb");
    }

    #[test]
    fn the_themes_follow_each_other_in_turn() {
        assert_eq!(["sun", "dusk", PLAIN].map(Theme::after), ["dusk", PLAIN, "sun"]);
    }
}
