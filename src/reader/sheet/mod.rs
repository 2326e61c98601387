//! What an item says: paragraphs with the words and rows in them that lead somewhere. Sizes and colours are not known here.

mod alike;
mod beside;
mod character;
mod check;
mod compose;
mod couplet;
mod definition;
mod drawn;
mod drill;
mod everywhere;
mod find;
mod findings;
mod groups;
mod lists;
mod matter;
mod measured;
mod page;
mod possible;
mod route;
mod taxa;
mod term;
mod trail;
mod treatment;
mod uses;

use std::ops::Range;

use crate::drill::Log;
use crate::keying::Spot;
use crate::link::Leads;
use crate::model::{Page, TaxonId, Text};
use crate::reader::grounds::Grounds;
use crate::reader::keys::KeyMap;
use crate::reader::library::Library;
use crate::reader::place::Item;
use crate::reader::plants::Plants;
use crate::store::ShelfRow;
use crate::terms::TermId;

pub(crate) use alike::{MOST_COMPARED, suggested};
pub(crate) use character::statement;
pub(crate) use compose::Composer;
pub(crate) use definition::{Pane, glosses, letters_pane, pane};
pub(crate) use drawn::Drawing;
pub(crate) use drill::made;
pub(crate) use measured::against as measured_against;

/// How a paragraph is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A heading.
    Heading,
    /// Running text.
    Body,
    /// A row that leads somewhere.
    Row,
    /// A row of which only the first line is shown.
    ShortRow,
    /// What is said beside the text.
    Faint,
    /// A row of a page as printed, which is never broken.
    Set,
}

/// One paragraph.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    /// How it is set.
    pub(crate) kind: Kind,
    /// The words.
    pub(crate) text: Text,
    /// Columns that its first line is set in.
    pub(crate) indent: u16,
    /// Columns that its other lines are set in.
    pub(crate) hang: u16,
}

/// Where a stop leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Go {
    /// To a term or to the parts of a compound, with the sense that fits.
    Terms(Vec<TermId>, Option<usize>),
    /// To another item.
    To(Item),
    /// To a paragraph of another item.
    Paragraph(Item, usize),
    /// To another flora of the shelf.
    Flora(String),
    /// To an item of another flora of the shelf.
    Beyond(String, Item),
    /// To the couplet of a decision, which has this place in its branch.
    Decision(usize, Spot),
    /// To another branch of the plant at hand.
    Branch(usize),
    /// To another plant.
    Plant(usize),
    /// To the tick beside a character, by its printed words.
    Tick(TaxonId, String),
    /// To an answer of the drill, counted from 0.
    Answer(usize),
    /// To the next question of the drill.
    Ask,
}

impl Go {
    /// Returns the item of this flora that it leads to, or into.
    pub(crate) fn item(&self) -> Option<&Item> {
        if let Self::To(item) | Self::Paragraph(item, _) = self { Some(item) } else { None }
    }
}

/// A word or row that can be marked.
#[derive(Clone, Debug)]
pub(crate) struct Stop {
    /// The paragraph.
    pub(crate) block: usize,
    /// The bytes in it.
    pub(crate) range: Range<usize>,
    /// Where it leads.
    pub(crate) go: Go,
    /// The organ that a term of a text is said of, as far as that can be told.
    pub(crate) organ: Option<&'static str>,
    /// The taxon that a row of the tree, or the heading of a treatment, stands for.
    pub(crate) taxon: Option<TaxonId>,
}

/// What stands beside the words of a lead.
#[derive(Clone, Debug)]
pub(crate) struct LeadFace {
    /// The printed label.
    pub(crate) label: String,
    /// Where it leads, in words, with the number of taxa.
    pub(crate) target: String,
}

/// How a page as printed is made up.
#[derive(Clone, Debug)]
pub(crate) struct Printed {
    /// The cells at which its columns begin, each with the sign of what is recognised in it.
    pub(crate) columns: Vec<usize>,
    /// Cells of its widest row.
    pub(crate) width: usize,
}

/// What lies beside the book: other books, and the reader's own plants.
pub(crate) struct Desk<'a> {
    /// The floras that there are.
    pub(crate) shelf: &'a [ShelfRow],
    /// The plants keyed out in this one.
    pub(crate) plants: &'a Plants,
    /// The keys in force.
    pub(crate) keys: &'a KeyMap,
    /// What was looked up.
    pub(crate) log: &'a Log,
    /// The day, counted from 1 January 1970.
    pub(crate) day: u64,
    /// The place that one came from.
    pub(crate) from: Option<&'a Item>,
}

/// Everything that a screen says of an item.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sheet {
    /// What it is, for the head of the screen.
    pub(crate) title: String,
    /// Where it stands in the book, and what is to be known of it.
    pub(crate) about: String,
    /// The paragraphs; the leads of a couplet.
    pub(crate) blocks: Vec<Block>,
    /// Everything that can be marked, in reading order.
    pub(crate) stops: Vec<Stop>,
    /// Labels and targets; empty for anything but a couplet.
    pub(crate) leads: Vec<LeadFace>,
    /// What stands at the foot whatever is scrolled: a caution, or the other keys to the same taxa.
    pub(crate) standing: Option<String>,
    /// The page of the book that it stands on.
    pub(crate) page: Option<Page>,
    /// Paragraphs that are set beside each other where there is room, each band as a range of them.
    pub(crate) bands: Vec<Range<usize>>,
    /// What the text that is added next stands under.
    pub(crate) grounds: Grounds,
    /// The drawings that stand beside the text.
    pub(crate) drawings: Vec<Drawing>,
    /// The columns of a page as printed; none for anything else.
    pub(crate) printed: Option<Printed>,
}

impl Sheet {
    /// Puts together what a screen says of an item.
    pub(crate) fn of(library: &Library, item: &Item, desk: &Desk<'_>) -> Self {
        match item {
            Item::Couplet(key, couplet) => couplet::sheet(library, (*key, *couplet), desk),
            Item::Treatment(taxon) => treatment::sheet(library, *taxon, desk),
            Item::Term(words) => term::sheet(library, words),
            Item::Uses(words) => uses::sheet(library, words),
            Item::Page(page) => page::sheet(library, *page),
            Item::Text(page) => matter::page(library, *page),
            Item::Matter(matter) => matter::piece(library, *matter),
            Item::Contents => matter::contents(library),
            Item::Keys(narrow) => lists::keys(library, narrow),
            Item::Taxa { narrow, open } => taxa::sheet(library, narrow, open),
            Item::Words(narrow) => lists::words(library, narrow),
            Item::Find(words) => find::sheet(library, words, desk),
            Item::FindPossible(words) => find::among_possible(library, words, desk),
            Item::FindAll(words) => everywhere::sheet(library, words, desk),
            Item::Groups(among, words) => groups::sheet(library, (*among, words), desk.plants),
            Item::Shelf => lists::shelf(desk.shelf, desk.keys),
            Item::Trail => trail::trail(library, desk),
            Item::Plants => trail::plants(library, desk.plants),
            Item::Possible(spot) => possible::sheet(library, *spot, desk.plants),
            Item::Route(taxon) => route::sheet(library, *taxon),
            Item::Beside(spot) => beside::sheet(library, *spot),
            Item::Here => possible::here(library, desk),
            Item::Check(taxon) => check::sheet(library, *taxon, desk.plants),
            Item::Alike(taxon) => alike::list(library, *taxon),
            Item::Compare(taxa) => alike::compare(library, taxa),
            Item::LookedUp => drill::looked_up(desk),
            Item::Drill(asked) => drill::question(library, asked.as_ref(), desk),
            Item::MeasuredLeads(spot, typed) => measured::leads(library, *spot, typed),
            Item::MeasuredTaxon(taxon, typed) => measured::treatment(library, *taxon, typed),
        }
    }

    /// Says what the shelf holds, for when no flora is open.
    pub(crate) fn of_shelf(shelf: &[ShelfRow], keys: &KeyMap) -> Self {
        lists::shelf(shelf, keys)
    }

    fn titled(title: impl Into<String>) -> Self {
        Self { title: title.into(), ..Self::default() }
    }

    fn push(&mut self, kind: Kind, text: Text) {
        let hang = match kind {
            Kind::Body | Kind::Row | Kind::ShortRow => HANG,
            Kind::Heading | Kind::Faint | Kind::Set => 0,
        };
        self.blocks.push(Block { kind, text, indent: 0, hang });
    }

    /// Adds a paragraph whose words lead somewhere, from a byte on.
    fn push_linked(&mut self, library: &Library, text: Text, from: usize) {
        self.link(library, &text, from..text.plain.len());
        self.push(Kind::Body, text);
    }

    /// Makes stops of the marks in part of a text that is about to be added.
    fn link(&mut self, library: &Library, text: &Text, part: Range<usize>) {
        let block = self.blocks.len();
        for mark in library.marks_on(&text.plain[part.clone()], &self.grounds) {
            let range = mark.range.start + part.start..mark.range.end + part.start;
            let go = match mark.leads {
                Leads::Term(id) => Go::Terms(vec![id], mark.sense),
                Leads::Compound(ids) => Go::Terms(ids, mark.sense),
                Leads::Composed(_) => Go::To(Item::Term(vec![text.plain[range.clone()].to_lowercase()])),
                Leads::Name(id) => Go::To(Item::Treatment(id)),
            };
            self.stops.push(Stop { block, range, go, organ: mark.organ, taxon: None });
        }
    }

    /// Adds paragraphs that are set beside each other where there is room, each with its words linked from a byte on.
    fn push_band(&mut self, library: &Library, cells: Vec<(Text, usize)>, grounds: &[Grounds]) {
        let start = self.blocks.len();
        for (at, (text, from)) in cells.into_iter().enumerate() {
            self.grounds = grounds.get(at).cloned().unwrap_or_default();
            self.push_linked(library, text, from);
        }
        self.bands.push(start..self.blocks.len());
    }

    /// Adds a row that leads somewhere.
    fn push_row(&mut self, text: Text, indent: u16, go: Go) {
        let stop =
            Stop { block: self.blocks.len(), range: 0..text.plain.len(), go, organ: None, taxon: None };
        self.stops.push(stop);
        self.blocks.push(Block { kind: Kind::Row, text, indent, hang: indent + HANG });
    }

    /// Adds a row of which only the first line is shown.
    fn push_short_row(&mut self, text: Text, go: Go) {
        self.push_row(text, 0, go);
        if let Some(row) = self.blocks.last_mut() {
            row.kind = Kind::ShortRow;
        }
    }

    fn heading(&mut self, words: &str) {
        self.push(Kind::Heading, Composer::new().add(words).text());
    }

    fn faint(&mut self, words: &str) {
        self.push(Kind::Faint, Composer::new().add(words).text());
    }
}

/// Columns by which the further lines of a paragraph are set in, so that one sees where the next begins.
const HANG: u16 = 2;
