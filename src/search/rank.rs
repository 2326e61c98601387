//! Taxa ranked by what agrees: every part weighed against the facts of every taxon, what is unstated inherited, members
//! summed up for higher ranks.

use crate::describe::{Asked, Fact, Part, Spoken, Thesaurus, Wanted, Weight, What, lineage};
use crate::model::{Rank, TaxonId};
use crate::search::answer::{Says, Source, Verdict};
use crate::search::names::Named;
use crate::search::postings::{Group, Kind, Posting, Postings};
use crate::search::table::{Row, Table};

/// How much an agreement counts that is inherited.
const INHERITED: f32 = 0.7;
/// How much one counts that is by exception.
const RARELY: f32 = 0.4;
/// What a sure contradiction costs; the agreement of a rare character brings about as much.
const CONTRADICTION: f32 = 3.0;
/// The most and least that agreement on one part can bring.
const MOST: f32 = 6.0;
const LEAST: f32 = 0.25;
/// Share of members that must agree before a higher taxon does.
const MOST_MEMBERS: f32 = 0.5;
/// How well a member of a taxon fits whose name is asked.
const AS_MEMBER: f32 = 0.5;

/// What a table and what was made of it say together.
#[derive(Clone, Copy)]
pub(crate) struct Ground<'a> {
    pub(crate) table: &'a Table,
    pub(crate) postings: &'a Postings,
    pub(crate) thesaurus: &'a Thesaurus,
    pub(crate) members: &'a Members,
}

/// The candidates weighed against one part.
#[derive(Default)]
pub(crate) struct Column {
    /// The characters asked; any will do.
    wanted: Vec<Wanted>,
    /// What each taxon says itself, by its place; empty where no character is asked.
    own: Vec<Weighed>,
    /// What each candidate says, or is said for it.
    said: Vec<Weighed>,
    /// What agreement brings.
    worth: f32,
}

/// A verdict as far as taxa are ranked by it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Weighed {
    says: Says,
    by: By,
    surely: f32,
    /// The row that says it.
    row: u32,
}

/// Who says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum By {
    /// Nobody in so many words: it has the name or the text.
    Itself,
    /// A treatment of its own.
    Own,
    /// The treatment of a taxon that it belongs to.
    Above,
    /// Its members.
    Members,
}

const UNSTATED: Weighed = Weighed { says: Says::Unstated, by: By::Itself, surely: 0.0, row: 0 };

/// One asked fact that is looked for.
struct Lens<'a> {
    wanted: &'a Wanted,
    ground: Ground<'a>,
}

/// Weighs the characters of one part against the candidates.
pub(crate) fn column(ground: Ground<'_>, part: &Part, candidates: &[TaxonId]) -> Column {
    let Asked::Character(facts) = &part.asked else {
        return Column { said: vec![UNSTATED; candidates.len()], ..Column::default() };
    };
    let mut own = vec![UNSTATED; ground.table.taxa.len()];
    let wanted: Vec<Wanted> =
        facts.iter().map(|fact: &Fact| Wanted::new(fact.clone(), ground.thesaurus)).collect();
    for wanted in &wanted {
        Lens { wanted, ground }.look(&mut own);
    }
    let said = candidates.iter().map(|id| said_for(ground, &own, *id)).collect();
    Column { wanted, own, said, worth: 0.0 }
}

impl Column {
    /// Makes a column of the taxa whose texts hold some words, in the order of the book.
    pub(crate) fn of_texts(taxa: &[TaxonId], candidates: &[TaxonId]) -> Self {
        let agrees = Weighed { says: Says::Agrees, surely: 1.0, ..UNSTATED };
        let weigh = |id: &TaxonId| if taxa.binary_search(id).is_ok() { agrees } else { UNSTATED };
        Self { said: candidates.iter().map(weigh).collect(), ..Self::default() }
    }

    /// Makes a column of taxa found by name: those and their members agree, all others contradict.
    pub(crate) fn of_names(table: &Table, found: &[Named<'_>], candidates: &[TaxonId]) -> Self {
        let mut fits = vec![0.0_f32; table.taxa.len()];
        for named in found {
            fits[named.taxon.index()] = named.fit;
        }
        let weigh = |id: &TaxonId| {
            let mut line = lineage(*id, |id| parent(table, id)).map(|above| fits[above.index()]).enumerate();
            match line.find(|(_, fit)| *fit > 0.0) {
                Some((steps, fit)) => {
                    let surely = if steps == 0 { fit } else { fit * AS_MEMBER };
                    Weighed { says: Says::Agrees, surely, ..UNSTATED }
                }
                None => Weighed { says: Says::Contradicts, surely: 1.0, ..UNSTATED },
            }
        };
        Self { said: candidates.iter().map(weigh).collect(), ..Self::default() }
    }

    /// Sets what agreement brings by how few of the candidates agree.
    pub(crate) fn set_worth(&mut self) {
        let agreeing: f32 = self
            .said
            .iter()
            .map(|said| match said.says {
                Says::Agrees => said.surely,
                Says::Rarely => said.surely * RARELY,
                Says::Unstated | Says::Contradicts => 0.0,
            })
            .sum();
        self.worth = ((self.said.len() as f32 + 2.0) / (agreeing + 1.0)).ln().clamp(LEAST, MOST);
    }

    /// Returns what a candidate says, by its place among them.
    pub(crate) fn says(&self, at: usize) -> Says {
        self.said[at].says
    }

    /// Returns how surely it is said of a candidate.
    pub(crate) fn surely(&self, at: usize) -> f32 {
        self.said[at].surely
    }

    /// Returns what agreement in this part brings.
    pub(crate) fn worth(&self) -> f32 {
        self.worth
    }

    /// Returns what this part brings a candidate.
    pub(crate) fn score(&self, at: usize) -> f32 {
        let said = &self.said[at];
        let share = if said.by == By::Above { INHERITED } else { 1.0 };
        match said.says {
            Says::Agrees => self.worth * said.surely * share,
            Says::Rarely => self.worth * said.surely * share * RARELY,
            Says::Unstated => 0.0,
            Says::Contradicts => -CONTRADICTION * said.surely * share,
        }
    }

    /// Returns the verdict on a candidate, with who says it and where.
    pub(crate) fn verdict(&self, ground: Ground<'_>, (at, id): (usize, TaxonId)) -> Verdict {
        let said = &self.said[at];
        let (source, members) = match said.by {
            By::Itself => (None, None),
            By::Own | By::Above => (Some(source(ground.table, said.row)), None),
            By::Members => {
                let asked = Tally::of(&self.own, &ground.members.0[id.index()]);
                (None, Some((asked.agree + asked.rarely, asked.said())))
            }
        };
        Verdict { says: said.says, surely: said.surely, source, members }
    }

    /// Returns what a note on a taxon says to this part: perhaps of another taxon, so it counts for nothing (T46).
    pub(crate) fn compared(&self, table: &Table, id: TaxonId) -> Option<(Says, Source)> {
        let weigh = |row: &Row| {
            let what = table.what(&row.what);
            let spoken = Spoken { what: &what, degree: row.degree, frequency: row.frequency, said: row.said };
            let weighed = self.wanted.iter().filter_map(|wanted| {
                let (organ, of) = table.place(row.place);
                wanted.weigh(wanted.place(organ, of), spoken)
            });
            weighed.map(|weight| verdict(weight).0).min()
        };
        let rows = table.compared_of(id).iter();
        let said = rows.filter_map(|(_, row)| Some((weigh(row)?, source_of(id, row))));
        said.min_by_key(|(says, _)| *says)
    }
}

impl Lens<'_> {
    /// Weighs every row that may say something; agreement goes before exceptions, those before contradiction.
    fn look(&self, own: &mut [Weighed]) {
        let postings = self.ground.postings;
        match &self.wanted.fact.what {
            What::State(_) => self.look_at_states(own),
            What::Presence => {
                self.look_at_presence(own);
                self.look_at(postings.of_kind(Kind::Presence), own);
            }
            What::Measure(..) => self.look_at(postings.of_kind(Kind::Measure), own),
            What::Count(_) => self.look_at(postings.of_kind(Kind::Count), own),
            What::Ratio(..) => self.look_at(postings.of_kind(Kind::Ratio), own),
            What::Season(..) => self.look_at(postings.of_kind(Kind::Season), own),
            What::Elevation(_) => self.look_at(postings.of_kind(Kind::Elevation), own),
            What::District(_) => self.look_at_words(postings.of_kind(Kind::District), own),
            What::Status(_) => self.look_at_words(postings.of_kind(Kind::Status), own),
        }
    }

    /// Weighs the states that are near the asked one or exclude it.
    fn look_at_states(&self, own: &mut [Weighed]) {
        let (postings, kin) = (self.ground.postings, &self.wanted.kin);
        let colours = if kin.is_colour() { postings.colours() } else { &[] };
        let mut words: Vec<u32> = kin.named().filter_map(|word| postings.number(word)).collect();
        words.extend(colours);
        words.sort_unstable();
        words.dedup();
        let nothing = What::State(String::new());
        for word in words {
            let near = self.ground.table.word(word).map_or(0.0, |word| kin.nearness(word));
            for (place, group) in self.placed(postings.of_state(word)) {
                for posting in postings.of_group(group) {
                    note(posting, own, self.wanted.weigh_state(place, near, spoken(posting, &nothing)));
                }
            }
        }
    }

    /// Weighs what is said of an organ as saying that it is there.
    fn look_at_presence(&self, own: &mut [Weighed]) {
        let postings = self.ground.postings;
        let kinds = [Kind::Measure, Kind::Count, Kind::Ratio].map(|kind| postings.of_kind(kind));
        let something = What::State(String::new());
        for groups in std::iter::once(postings.states()).chain(kinds) {
            for (place, group) in self.placed(groups) {
                for posting in postings.of_group(group) {
                    note(posting, own, self.wanted.weigh(place, spoken(posting, &something)));
                }
            }
        }
    }

    /// Weighs the facts of a kind, row by row.
    fn look_at(&self, groups: &[Group], own: &mut [Weighed]) {
        let Ground { table, postings, .. } = self.ground;
        for (place, group) in self.placed(groups) {
            for posting in postings.of_group(group) {
                let what = table.what(&table.rows[posting.row as usize].what);
                note(posting, own, self.wanted.weigh(place, spoken(posting, &what)));
            }
        }
    }

    /// Weighs facts that are a word each.
    fn look_at_words(&self, groups: &[Group], own: &mut [Weighed]) {
        let Ground { table, postings, .. } = self.ground;
        for group in groups {
            let postings = postings.of_group(group);
            let Some(first) = postings.first() else { continue };
            let what = table.what(&table.rows[first.row as usize].what);
            for posting in postings {
                note(posting, own, self.wanted.weigh(1.0, spoken(posting, &what)));
            }
        }
    }

    /// Returns those groups whose places say something to the question, and how much.
    fn placed<'g>(&self, groups: &'g [Group]) -> impl Iterator<Item = (f32, &'g Group)> {
        let weigh = |group: &'g Group| {
            let (organ, of) = self.ground.table.place(group.place);
            (self.wanted.place(organ, of), group)
        };
        groups.iter().map(weigh).filter(|(place, _)| *place > 0.0)
    }
}

fn spoken<'a>(posting: &Posting, what: &'a What) -> Spoken<'a> {
    Spoken { what, degree: posting.degree, frequency: posting.frequency, said: posting.said }
}

/// Keeps what a row says where it says more than those before.
fn note(posting: &Posting, own: &mut [Weighed], weight: Option<Weight>) {
    let Some(weight) = weight else { return };
    let (says, surely) = verdict(weight);
    let best = &mut own[posting.taxon as usize];
    let more = order(says).cmp(&order(best.says)).then(surely.total_cmp(&best.surely));
    if more.then(best.row.cmp(&posting.row)).is_gt() {
        *best = Weighed { says, by: By::Own, surely, row: posting.row };
    }
}

fn verdict(weight: Weight) -> (Says, f32) {
    match weight {
        Weight::Agrees(surely) => (Says::Agrees, surely),
        Weight::Rarely(surely) => (Says::Rarely, surely),
        Weight::Against(surely) => (Says::Contradicts, surely),
    }
}

fn order(says: Says) -> u8 {
    match says {
        Says::Agrees => 3,
        Says::Rarely => 2,
        Says::Contradicts => 1,
        Says::Unstated => 0,
    }
}

/// Returns where a row of the table stands.
fn source(table: &Table, row: u32) -> Source {
    let next = table.taxa.partition_point(|taxon| taxon.first <= row);
    source_of(TaxonId(next as u32 - 1), &table.rows[row as usize])
}

fn source_of(taxon: TaxonId, row: &Row) -> Source {
    let range = row.start as usize..(row.start + row.bytes) as usize;
    Source { taxon, section: row.section, range }
}

/// The members of each higher taxon that are species or below.
#[derive(Debug)]
pub(crate) struct Members(Vec<Vec<TaxonId>>);

impl Members {
    /// Gathers them.
    pub(crate) fn of(table: &Table) -> Self {
        let mut members = vec![Vec::new(); table.taxa.len()];
        for at in 0..table.taxa.len() {
            let id = TaxonId(at as u32);
            if table.taxa[at].rank == Rank::Species {
                for above in lineage(id, |id| parent(table, id)).skip(1) {
                    members[above.index()].push(id);
                }
            }
        }
        Self(members)
    }
}

/// Returns the taxon that one belongs to.
pub(crate) fn parent(table: &Table, id: TaxonId) -> Option<TaxonId> {
    table.taxa.get(id.index()).and_then(|taxon| taxon.parent).filter(|above| above.index() < table.taxa.len())
}

/// Lets what a taxon leaves unsaid be said by those it belongs to, or for higher ranks by its members.
fn said_for(ground: Ground<'_>, own: &[Weighed], id: TaxonId) -> Weighed {
    let said = own[id.index()];
    if said.says != Says::Unstated {
        return said;
    }
    if ground.table.taxa[id.index()].rank < Rank::Species {
        let said = Tally::of(own, &ground.members.0[id.index()]).weighed();
        if said.says != Says::Unstated {
            return said;
        }
    }
    let above = lineage(id, |id| parent(ground.table, id)).skip(1).map(|above| own[above.index()]);
    let said = above.into_iter().find(|said| said.says != Says::Unstated);
    said.map_or(UNSTATED, |said| Weighed { by: By::Above, ..said })
}

/// How many members say what.
#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    agree: u32,
    rarely: u32,
    against: u32,
}

impl Tally {
    fn of(own: &[Weighed], members: &[TaxonId]) -> Self {
        let mut tally = Self::default();
        for id in members {
            match own[id.index()].says {
                Says::Agrees => tally.agree += 1,
                Says::Rarely => tally.rarely += 1,
                Says::Contradicts => tally.against += 1,
                Says::Unstated => {}
            }
        }
        tally
    }

    fn said(self) -> u32 {
        self.agree + self.rarely + self.against
    }

    /// Sums up what they say together.
    fn weighed(self) -> Weighed {
        if self.said() == 0 {
            return UNSTATED;
        }
        let share = (self.agree as f32 + self.rarely as f32 * RARELY) / self.said() as f32;
        let (says, surely) = if share >= MOST_MEMBERS {
            (Says::Agrees, share)
        } else if self.agree + self.rarely > 0 {
            (Says::Rarely, share.max(RARELY))
        } else {
            (Says::Contradicts, 1.0)
        };
        Weighed { says, by: By::Members, surely, row: 0 }
    }
}
