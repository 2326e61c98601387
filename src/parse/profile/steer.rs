//! What may be said of a book's conventions, and how it steers the reading: looks of headings, styles of keys, the look of
//! a glossary, indents. Each part has a word for every value, by which it is written and read.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use crate::layout::Block;
use crate::model::{Page, Rank, Sign, Taxon};
use crate::name;
use crate::parse::compose::{Composed, compose};
use crate::parse::key::label::{Label, Scheme};
use crate::parse::key::target::{self, Hints};

/// What differs from the conventions learned.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Steer {
    pub(super) body_size: Option<f32>,
    pub(super) indent_steps: Option<Vec<f32>>,
    pub(super) headings: BTreeMap<Rank, Vec<HeadLook>>,
    pub(super) keys: KeyStyle,
    pub(super) odd_keys: Vec<(String, KeyStyle)>,
    /// Run-in headings as printed, and what they head.
    pub(crate) run_in: BTreeMap<String, String>,
    /// The look of the glossary.
    pub(crate) glossary: GlossaryLook,
    /// Signs before names, and what they mean.
    pub(crate) signs: BTreeMap<String, String>,
}

impl Steer {
    /// Returns the size of the running text.
    pub(crate) fn body_size(&self, learned: f32) -> f32 {
        self.body_size.unwrap_or(learned)
    }

    /// Returns blocks whose lines begin at the steps said, and whose signs before names stand apart from them.
    pub(crate) fn blocks<'a>(&self, blocks: &'a [Block]) -> Cow<'a, [Block]> {
        let signs: Vec<&str> = self.signs.keys().map(String::as_str).collect();
        let steps = self.indent_steps.as_deref().unwrap_or_default();
        if signs.is_empty() && steps.is_empty() {
            return Cow::Borrowed(blocks);
        }
        let mut blocks = blocks.to_vec();
        for line in blocks.iter_mut().flat_map(|block| &mut block.lines) {
            let away = |step: &&f32| (**step - line.indent).abs();
            if let Some(step) = steps.iter().min_by(|a, b| away(a).total_cmp(&away(b))) {
                line.indent = *step;
            }
        }
        for block in &mut blocks {
            // A sign that is known to stand before names is read like those that every flora has.
            if let Some(sign) = signs.iter().find(|sign| is_before_name(block, sign))
                && let Some(run) = block.lines.first_mut().and_then(|line| line.runs.first_mut())
            {
                run.text = run.text.replacen(sign, USUAL_SIGN, 1);
            }
        }
        Cow::Owned(blocks)
    }

    /// Returns the legend with what is said of signs.
    pub(crate) fn legend(&self, mut learned: Vec<Sign>) -> Vec<Sign> {
        for (sign, meaning) in &self.signs {
            match learned.iter_mut().find(|known| known.sign == *sign) {
                Some(known) => known.meaning.clone_from(meaning),
                None => learned.push(Sign { sign: sign.clone(), meaning: meaning.clone(), page: Page(1) }),
            }
        }
        learned
    }

    /// Gives headings the signs back that they are printed with.
    pub(crate) fn restore(&self, taxa: &mut [Taxon], printed: &[Block]) {
        for taxon in taxa.iter_mut().filter(|_| !self.signs.is_empty()) {
            let Some(words) = taxon.heading.plain.strip_prefix(USUAL_SIGN) else { continue };
            let page = taxon.heading.page().0;
            let opens = |block: &&Block, sign: &str| {
                block.lines.first().is_some_and(|line| line.page == page)
                    && compose(&block.lines)
                        .str()
                        .strip_prefix(sign)
                        .is_some_and(|rest| rest.starts_with(words))
            };
            let sign = self.signs.keys().find(|sign| printed.iter().any(|block| opens(&block, sign)));
            if let Some(sign) = sign {
                let grown = sign.len() - USUAL_SIGN.len();
                taxon.heading.plain = format!("{sign}{words}");
                for run in taxon.heading.styles.iter_mut().filter(|run| run.start > 0) {
                    run.start += grown as u32;
                }
                for (at, _) in taxon.heading.pages.iter_mut().filter(|(at, _)| *at > 0) {
                    *at += grown as u32;
                }
            }
        }
    }

    /// Says of headings of a rank whether they are believed by their look; nothing where nothing is said of the rank.
    pub(crate) fn heading(&self, rank: Rank, look: &HeadLook) -> Option<bool> {
        let looks = self.headings.get(&rank)?;
        Some(looks.iter().any(|wanted| wanted.0.is_subset(&look.0)))
    }

    /// Returns how the key that begins at a block is set, as far as something is said of it.
    pub(crate) fn key_at(&self, blocks: &[Block], start: usize) -> KeyStyle {
        if self.odd_keys.is_empty() {
            return self.keys.clone();
        }
        let above = (1..=LONGEST_TITLE.min(start)).map(|count| {
            letters(compose(blocks[start - count..start].iter().flat_map(|block| &block.lines)).str())
        });
        let mut titles = above;
        let own = titles.find_map(|above| self.odd_keys.iter().find(|(title, _)| letters(title) == above));
        own.map_or_else(|| self.keys.clone(), |(_, style)| style.clone().over(&self.keys))
    }
}

/// The sign that stands for one that is said to stand before names.
const USUAL_SIGN: &str = "*";
/// Blocks that a title runs over at most.
const LONGEST_TITLE: usize = 3;

/// Says whether a block opens with a sign and a name behind it.
fn is_before_name(block: &Block, sign: &str) -> bool {
    let composed = compose(block.lines.iter().take(1));
    let Some(rest) = composed.str().strip_prefix(sign) else { return false };
    let rest = rest.trim_start();
    name::parse(rest).is_some_and(|parsed| {
        parsed.rank != Rank::Genus || !rest[..parsed.name_end].chars().any(char::is_lowercase)
    })
}

/// Returns the letters and figures of words, small.
fn letters(words: &str) -> String {
    words.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// How headings of one rank look: words of [`HeadLook::WORDS`], all of which hold.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct HeadLook(pub(crate) BTreeSet<&'static str>);

impl HeadLook {
    /// All words of a look.
    pub(crate) const WORDS: &[&str] =
        &["numbered", "bold", "italic", "capitals", "larger", "centred", "run-in"];
}

/// How a key is set, as far as it is known or said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct KeyStyle {
    /// The look of its labels.
    pub(crate) scheme: Option<Scheme>,
    /// How its couplets follow one another.
    pub(crate) layout: Option<Layout>,
    /// How its targets are set.
    pub(crate) targets: Option<Vec<Way>>,
}

/// How the couplets of a key follow one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Layout {
    /// Leads of a couplet stand together and end in numbers.
    Bracketed,
    /// Leads are followed by what lies below them.
    Indented,
}

/// How a target is told from the characters before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Way {
    /// By a leader or a wide gap.
    Leader,
    /// By a dash or an arrow.
    Dash,
    /// A number at the end.
    Number,
    /// By another type.
    Type,
    /// A name with a page, or in capitals.
    Page,
    /// A name that the book has as a heading.
    Name,
}

/// The words for layouts.
pub(super) const LAYOUTS: &[(&str, Layout)] =
    &[("bracketed", Layout::Bracketed), ("indented", Layout::Indented)];

/// The words for ways.
pub(super) const WAYS: &[(&str, Way)] = &[
    ("leader", Way::Leader),
    ("dash", Way::Dash),
    ("number", Way::Number),
    ("type", Way::Type),
    ("page", Way::Page),
    ("name", Way::Name),
];

/// The words for schemes.
pub(super) const SCHEMES: &[(&str, Scheme)] = &[
    ("number-letter", Scheme::NumberLetter),
    ("number", Scheme::Number),
    ("number-in-brackets", Scheme::Bracketed),
    ("small-letter", Scheme::Lower),
    ("capital-letter", Scheme::Upper),
    ("bullet", Scheme::Bullet),
    ("serial-number", Scheme::Serial),
    ("jumping-letter", Scheme::Jump),
    ("outline", Scheme::Outline),
    ("printed-once", Scheme::Once),
    ("sign", Scheme::Signs),
    ("code", Scheme::Coded),
];

/// Returns the word for a value of a table.
pub(super) fn word_of<T: PartialEq>(table: &[(&'static str, T)], value: &T) -> &'static str {
    table.iter().find(|(_, other)| other == value).map_or("dash", |(word, _)| word)
}

impl KeyStyle {
    /// Says whether a label may open a lead of such a key.
    pub(crate) fn allows(&self, label: &Label) -> bool {
        self.scheme.is_none_or(|scheme| scheme == label.scheme || label.scheme == Scheme::Dash)
    }

    /// Finds where the target of a lead begins, as [`target::start`] does.
    pub(crate) fn start(&self, lead: &Composed, from: usize, hints: &Hints<'_>) -> Option<usize> {
        let hints = &match self.layout {
            Some(Layout::Indented) => Hints { couplet: None, numbered: false, ..*hints },
            Some(Layout::Bracketed) => Hints { numbered: true, ..*hints },
            None => Hints { ..*hints },
        };
        match &self.targets {
            None => target::start(lead, from, hints),
            Some(ways) => ways.iter().find_map(|way| target::start_by(*way, lead, from, hints)),
        }
    }

    /// Returns what differs from a style that was learned.
    pub(super) fn beside(&self, learned: &Self) -> Self {
        Self {
            scheme: self.scheme.filter(|scheme| learned.scheme != Some(*scheme)),
            layout: self.layout.filter(|layout| learned.layout != Some(*layout)),
            targets: self.targets.clone().filter(|targets| learned.targets.as_ref() != Some(targets)),
        }
    }

    /// Returns this style, and another where it says nothing.
    pub(super) fn over(self, other: &Self) -> Self {
        Self {
            scheme: self.scheme.or(other.scheme),
            layout: self.layout.or(other.layout),
            targets: self.targets.or_else(|| other.targets.clone()),
        }
    }
}

/// How the headwords of a glossary are set, as far as it is known or said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct GlossaryLook {
    /// Whether they have a type of their own.
    pub(crate) own_type: Option<bool>,
    /// The mark that ends them.
    pub(crate) mark: Option<&'static str>,
    /// Whether the further lines of an entry hang.
    pub(crate) hanging: Option<bool>,
}

impl GlossaryLook {
    fn zip(self, other: Self, one: fn(bool, bool) -> bool) -> Self {
        let keep = |said: Option<bool>, learned: Option<bool>| {
            said.filter(|said| learned.is_none_or(|learned| one(*said, learned)))
        };
        Self {
            own_type: keep(self.own_type, other.own_type),
            mark: self.mark.filter(|mark| other.mark != Some(*mark)),
            hanging: keep(self.hanging, other.hanging),
        }
    }

    /// Returns what differs from the look that was learned.
    pub(super) fn beside(&self, learned: &Self) -> Self {
        self.zip(*learned, |said, learned| said != learned)
    }

    /// Returns this look, and another where it says nothing.
    pub(super) fn over(&self, other: Self) -> Self {
        Self {
            own_type: self.own_type.or(other.own_type),
            mark: self.mark.or(other.mark),
            hanging: self.hanging.or(other.hanging),
        }
    }
}
