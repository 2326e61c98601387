//! The conventions of a book, learned from how it is set and what was found in it.

use std::collections::BTreeMap;

use crate::layout::{Block, BlockKind, Gap, Setting};
use crate::model::{Rank, Sign, Taxon};
use crate::parse::compose::compose;
use crate::parse::heading::{self, Heading};
use crate::parse::key::label::Scheme;
use crate::parse::key::read::RawKey;
use crate::parse::key::target::Named;

use super::{GlossaryLook, HeadLook, KeyStyle, Layout, Profile, Way};

/// Share of the lines that must begin at a distance for it to be a step.
const STEP_SHARE: f32 = 0.01;
/// Points within which lines begin at the same step.
const STEP_WIDTH: f32 = 2.0;
/// Share of a key's leads that must have their targets set in a way for it to be the key's.
const WAY_SHARE: f32 = 0.2;

/// What was found in a book.
pub(crate) struct Found<'a> {
    /// Its blocks.
    pub(crate) blocks: &'a [Block],
    /// Its keys.
    pub(crate) keys: &'a [RawKey],
    /// The headings of its taxa.
    pub(crate) headings: &'a [Heading],
    /// Its taxa.
    pub(crate) taxa: &'a [Taxon],
    /// How its glossary is set.
    pub(crate) glossary: Option<GlossaryLook>,
    /// The signs of its legend.
    pub(crate) legend: &'a [Sign],
}

/// Learns the conventions.
pub(crate) fn learn(setting: &Setting, body_size: f32, found: &Found<'_>) -> Profile {
    let mut columns: BTreeMap<u8, u32> = BTreeMap::new();
    for page in &setting.pages {
        *columns.entry(page.columns).or_default() += 1;
    }
    let styles: Vec<(Option<String>, KeyStyle)> =
        found.keys.iter().map(|key| style(found.blocks, key)).collect();
    let (keys, odd_keys) = common(&styles);
    let sections = found.taxa.iter().flat_map(|taxon| &taxon.sections);
    let run_in =
        sections.filter_map(|one| Some((one.heading.clone()?, one.kind.word().to_owned()))).collect();
    Profile {
        body_size,
        indent_steps: steps(found.blocks),
        columns,
        headings: looks(found, body_size),
        keys,
        odd_keys,
        run_in,
        glossary: found.glossary,
        signs: found.legend.iter().map(|sign| (sign.sign.clone(), sign.meaning.clone())).collect(),
    }
}

/// Returns the distances at which lines begin often.
fn steps(blocks: &[Block]) -> Vec<f32> {
    let flow = blocks.iter().filter(|block| block.kind == BlockKind::Flow);
    let mut indents: Vec<f32> = flow.flat_map(|block| &block.lines).map(|line| line.indent).collect();
    indents.sort_by(f32::total_cmp);
    let least = (indents.len() as f32 * STEP_SHARE).max(1.0);
    let groups = indents.chunk_by(|one, other| other - one < STEP_WIDTH / 4.0);
    let common = groups.filter(|group| group.len() as f32 >= least).map(|group| group[group.len() / 2]);
    let mut steps: Vec<f32> = Vec::new();
    for step in common {
        if steps.last().is_none_or(|last| step - last >= STEP_WIDTH) {
            // Tenths of a point are as fine as anybody writes them.
            steps.push((step * 10.0).round() / 10.0);
        }
    }
    steps
}

/// Returns how the headings of each rank look, the commonest look first.
fn looks(found: &Found<'_>, body_size: f32) -> BTreeMap<Rank, Vec<HeadLook>> {
    let mut counts: BTreeMap<Rank, BTreeMap<HeadLook, usize>> = BTreeMap::new();
    for heading in found.headings {
        if let Some((rank, look)) = heading::look_of(found.blocks, heading, body_size) {
            *counts.entry(rank).or_default().entry(look).or_default() += 1;
        }
    }
    let sorted = |looks: BTreeMap<HeadLook, usize>| {
        let mut looks: Vec<(HeadLook, usize)> = looks.into_iter().collect();
        looks.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
        looks.into_iter().map(|(look, _)| look).collect()
    };
    counts.into_iter().map(|(rank, looks)| (rank, sorted(looks))).collect()
}

/// Returns a key's title and how it is set.
fn style(blocks: &[Block], key: &RawKey) -> (Option<String>, KeyStyle) {
    let numbers = key
        .leads
        .iter()
        .filter(|lead| lead.target.named.iter().any(|named| matches!(named, Named::Number(_))));
    let numbers = numbers.count();
    let layout = match (numbers, key.couplets.len()) {
        (0, 1) => None,
        (0, _) => Some(Layout::Indented),
        _ => Some(Layout::Bracketed),
    };
    // The rows of a synopsis stand below its outline.
    let coded = key.leads.last().map(|lead| lead.label.scheme).filter(|scheme| *scheme == Scheme::Coded);
    let first = key.leads.first().map(|lead| lead.label.scheme);
    let scheme = coded.or(first).filter(|scheme| *scheme != Scheme::Dash);
    let enough = (key.leads.len() as f32 * WAY_SHARE).max(1.0);
    let lines = || blocks[key.blocks.clone()].iter().flat_map(|block| &block.lines);
    let with = |test: &dyn Fn(&crate::layout::Line) -> bool| {
        lines().filter(|line| test(line)).count() as f32 >= enough
    };
    let leader =
        with(&|line| line.runs.iter().skip(1).any(|run| matches!(run.before, Gap::Leader | Gap::Wide)));
    let dash = with(&|line| compose([line]).str().contains(['—', '→']));
    let typed = with(&|line| {
        let style = |run: Option<&crate::layout::Run>| run.map(|run| run.style);
        line.runs.len() > 1 && style(line.runs.first()) != style(line.runs.last())
    });
    let cited = key.leads.iter().filter(|lead| lead.target.cites.is_some()).count() as f32 >= enough;
    let ways = [
        (leader, Way::Leader),
        (dash, Way::Dash),
        (numbers as f32 >= enough, Way::Number),
        (typed, Way::Type),
        (cited, Way::Page),
        (!(leader || dash || typed || cited), Way::Name),
    ];
    let targets = ways.into_iter().filter(|(holds, _)| *holds).map(|(_, way)| way).collect();
    let title = key.title.as_ref().map(|title| title.plain.clone());
    (title, KeyStyle { scheme, layout, targets: Some(targets) })
}

/// Returns the commonest style, and the keys by title that have another.
fn common(styles: &[(Option<String>, KeyStyle)]) -> (KeyStyle, Vec<(String, KeyStyle)>) {
    let count = |style: &KeyStyle| styles.iter().filter(|(_, other)| other == style).count();
    let mut most: Option<(usize, &KeyStyle)> = None;
    for (_, style) in styles {
        if most.is_none_or(|(before, _)| count(style) > before) {
            most = Some((count(style), style));
        }
    }
    let common = most.map(|(_, style)| style.clone()).unwrap_or_default();
    let mut odd: Vec<(String, KeyStyle)> = Vec::new();
    let otherwise = |style: &KeyStyle| style.beside(&common) != KeyStyle::default();
    for (title, style) in styles.iter().filter(|(_, style)| otherwise(style)) {
        if let Some(title) = title.clone().filter(|title| !odd.iter().any(|(other, _)| other == title)) {
            odd.push((title, style.clone()));
        }
    }
    (common, odd)
}
