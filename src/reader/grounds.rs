//! What the texts of a book stand under: the genus and the groups of plants that the names and titles above them tell.
//!
//! Which sense of a word is meant for it is the linker's to say.

use crate::link::{Groups, Mark, Under};
use crate::model::{BookPage, CoupletId, Key, Lead, Rank, ReadAs, Target, TaxonId};
use crate::reader::library::Library;
use crate::reader::textflow::columns;
use crate::store::{Contents, TaxonRow};

/// What a text stands under.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Grounds {
    genus: Option<String>,
    groups: Groups,
}

impl Grounds {
    /// Returns them as the linker takes them.
    pub(crate) fn under(&self) -> Under<'_> {
        Under { genus: self.genus.as_deref(), groups: self.groups }
    }
}

/// Returns the column of a page that a cell of it stands in.
pub(crate) fn column(page: &BookPage, cell: usize) -> usize {
    let column = page.columns.iter().rev().find(|column| **column as usize <= cell);
    column.map_or(0, |column| *column as usize)
}

/// Returns the groups of every taxon, by what its name and those above it tell.
pub(crate) fn of_taxa(contents: &Contents) -> Vec<Groups> {
    let mut all: Vec<Groups> = Vec::with_capacity(contents.taxa.len());
    for row in &contents.taxa {
        let above = row.parent.and_then(|parent| all.get(parent.index())).copied().unwrap_or_default();
        let own = own_groups(row);
        all.push(if own.is_empty() { above } else { own });
    }
    all
}

/// Returns the groups that the names of a taxon above the genus tell.
fn own_groups(row: &TaxonRow) -> Groups {
    if row.rank >= Rank::Genus {
        return Groups::default();
    }
    let names = std::iter::once(&row.name).chain(&row.synonyms).chain(&row.vernacular);
    let told = |name: &String| Some(Groups::told_by(name)).filter(|groups| !groups.is_empty());
    names.into_iter().find_map(told).unwrap_or_default()
}

/// Returns what every lead of a key stands under: what its title and scope tell, else what all that it leads to is.
pub(crate) fn of_key(key: &Key, contents: &Contents, taxa: &[Groups]) -> Vec<Vec<Grounds>> {
    let base = of_title(key.title.as_deref(), key.scope.as_deref(), (key.scope_id, taxa));
    let genus = genus_of(key, contents);
    let led = led_to(key, contents, taxa);
    let grounds = |led: &Option<Groups>| {
        let one = led.map(Groups::if_one).filter(|groups| !groups.is_empty());
        let groups = match base.if_one() {
            whole if !whole.is_empty() => whole,
            _ => one.or(led.filter(|led| !led.is_empty())).unwrap_or(base),
        };
        Grounds { genus: genus.clone(), groups }
    };
    led.iter().map(|leads| leads.iter().map(grounds).collect()).collect()
}

/// Returns the groups that a key's title or scope tells, else those of the taxon that it divides.
fn of_title(title: Option<&str>, scope: Option<&str>, (id, taxa): (Option<TaxonId>, &[Groups])) -> Groups {
    let told =
        [title, scope].into_iter().flatten().map(Groups::told_by).fold(Groups::default(), Groups::with);
    let of_scope = || id.and_then(|id| taxa.get(id.index())).copied().unwrap_or_default();
    if told.is_empty() { of_scope() } else { told }
}

fn genus_of(key: &Key, contents: &Contents) -> Option<String> {
    let mut row = key.scope_id.and_then(|id| contents.taxa.get(id.index()));
    let above = |row: &TaxonRow| row.parent.filter(|parent| *parent < row.id);
    while let Some(found) = row {
        if found.rank == Rank::Genus {
            return Some(found.name.clone());
        }
        row = above(found).and_then(|id| contents.taxa.get(id.index()));
    }
    None
}

/// Returns the groups that each lead of a key leads to in the end; none where one of them is not known.
///
/// Leads mostly go forward, so that few rounds from the end are enough; a cycle only adds nothing.
fn led_to(key: &Key, contents: &Contents, taxa: &[Groups]) -> Vec<Vec<Option<Groups>>> {
    let outward = |lead: &Lead| Outward::of(lead, contents, taxa);
    let couplets = key.couplets.iter();
    let outward: Vec<Vec<Outward>> =
        couplets.map(|couplet| couplet.leads.iter().map(outward).collect()).collect();
    let mut of_couplets: Vec<Option<Groups>> = vec![Some(Groups::default()); outward.len()];
    for _ in 0..=outward.len() {
        let mut changed = false;
        for (at, leads) in outward.iter().enumerate().rev() {
            let all = leads.iter().map(|lead| lead.groups(&of_couplets));
            let all = all.into_iter().try_fold(Groups::default(), |all, groups| Some(all.with(groups?)));
            changed |= all != of_couplets[at];
            of_couplets[at] = all;
        }
        if !changed {
            break;
        }
    }
    let of_couplet = |leads: &Vec<Outward>| leads.iter().map(|lead| lead.groups(&of_couplets)).collect();
    outward.iter().map(of_couplet).collect()
}

/// What a lead leads to: the groups of all that lies outside its key, which is asked for once, and couplets of the key.
struct Outward {
    outside: Option<Groups>,
    couplets: Vec<CoupletId>,
}

impl Outward {
    fn of(lead: &Lead, contents: &Contents, taxa: &[Groups]) -> Self {
        let mut found = Self { outside: Some(Groups::default()), couplets: Vec::new() };
        for target in std::iter::once(&lead.to).chain(&lead.also) {
            if let Target::Couplet(id) = target {
                found.couplets.push(*id);
            } else {
                let groups = of_target(target, contents, taxa);
                found.outside = found.outside.and_then(|all| Some(all.with(groups?)));
            }
        }
        found
    }

    /// Returns all of its groups, given those of the couplets of the key.
    fn groups(&self, of_couplets: &[Option<Groups>]) -> Option<Groups> {
        let of = |id: &CoupletId| of_couplets.get(id.index()).copied().flatten();
        self.couplets.iter().map(of).try_fold(self.outside?, |all, groups| Some(all.with(groups?)))
    }
}

/// Returns the groups of a target outside the key; none for a couplet of it, or where nothing is known.
fn of_target(target: &Target, contents: &Contents, taxa: &[Groups]) -> Option<Groups> {
    let known = |groups: Groups| Some(groups).filter(|groups| !groups.is_empty());
    match target {
        Target::Couplet(_) => None,
        Target::Taxon { name, id } => {
            let of_taxon = id.and_then(|id| taxa.get(id.index())).copied().and_then(known);
            of_taxon.or_else(|| known(Groups::told_by(name)))
        }
        Target::Key(id) => {
            let row = contents.keys.get(id.index())?;
            known(of_title(row.title.as_deref(), row.scope.as_deref(), (row.scope_id, taxa)))
        }
        Target::Unresolved(printed) => known(Groups::told_by(printed)),
    }
}

/// What stands on a printed page, in reading order: the column and the row from which on it is, and what the words there
/// stand under.
#[derive(Debug, Default)]
pub(crate) struct OnPage(Vec<((usize, usize), Grounds)>);

impl OnPage {
    /// Returns what a row of a column stands under.
    pub(crate) fn at(&self, column: usize, row: usize) -> Grounds {
        let after = self.0.partition_point(|(from, _)| *from <= (column, row));
        after.checked_sub(1).map(|at| self.0[at].1.clone()).unwrap_or_default()
    }
}

impl Library {
    /// Returns the groups of every taxon; made when they are first asked for.
    pub(crate) fn groups_of_taxa(&self) -> &[Groups] {
        self.groups.get_or_init(|| of_taxa(self.contents()))
    }

    /// Returns what the treatment of a taxon stands under.
    pub(crate) fn grounds_of(&self, id: TaxonId) -> Grounds {
        let own = self.taxon_row(id).into_iter();
        let genus = own.chain(self.above(id)).find(|row| row.rank == Rank::Genus);
        let groups = self.groups_of_taxa().get(id.index()).copied().unwrap_or_default();
        Grounds { genus: genus.map(|row| row.name.clone()), groups }
    }

    /// Returns what each lead of a couplet stands under; worked out for its whole key when that is first asked for.
    pub(crate) fn grounds_of_leads(&self, key: &Key, couplet: CoupletId) -> Vec<Grounds> {
        let mut known = self.grounds.borrow_mut();
        let worked_out = || of_key(key, self.contents(), self.groups_of_taxa());
        let all = known.entry(key.id).or_insert_with(worked_out);
        all.get(couplet.index()).cloned().unwrap_or_default()
    }

    /// Returns what the words of a printed page stand under: the treatment or the lead that begins above them, else the
    /// treatment that goes on from the page before.
    pub(crate) fn grounds_on(&self, page: &BookPage) -> OnPage {
        let goes_on = |row: &&TaxonRow| row.pages.0 < page.page && page.page <= row.pages.1;
        let before = self.contents().taxa.iter().rev().find(goes_on).map(|row| self.grounds_of(row.id));
        let mut all: Vec<((usize, usize), Grounds)> =
            before.map(|grounds| ((0, 0), grounds)).into_iter().collect();
        for mark in &page.recognised {
            let grounds = match mark.read_as {
                ReadAs::Heading(id) => Some(self.grounds_of(id)),
                ReadAs::Lead(key, couplet, lead) => {
                    let leads = self.book.key(key).map(|key| self.grounds_of_leads(key, couplet));
                    leads.and_then(|leads| leads.into_iter().nth(lead as usize))
                }
                ReadAs::KeyTitle(_) | ReadAs::MatterTitle(_) | ReadAs::Glossary => Some(Grounds::default()),
                ReadAs::Entry(_) | ReadAs::Section(..) | ReadAs::Aside => None,
            };
            let Some(grounds) = grounds else { continue };
            let row = mark.row as usize;
            let words = page.set.get(row).and_then(|row| row.plain.get(..mark.start as usize));
            all.push(((column(page, words.map_or(0, columns)), row), grounds));
        }
        all.sort_by_key(|(from, _)| *from);
        OnPage(all)
    }

    /// Returns the marks of a text that stands somewhere.
    pub(crate) fn marks_on(&self, text: &str, grounds: &Grounds) -> Vec<Mark> {
        self.linker().marks_under(text, &self.lexicon, grounds.under())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Couplet, KeyId, Page, Text};

    fn row(id: u32, rank: Rank, name: &str, parent: Option<u32>) -> TaxonRow {
        TaxonRow {
            id: TaxonId(id),
            rank,
            name: name.to_owned(),
            authorship: None,
            vernacular: Vec::new(),
            synonyms: Vec::new(),
            number: None,
            parent: parent.map(TaxonId),
            pages: (Page(1), Page(1)),
            key: None,
            keyed: Vec::new(),
            cautioned: false,
        }
    }

    fn lead(to: Target) -> Lead {
        Lead {
            label: None,
            text: Text::plain("Ligule short", Page(1)),
            printed: String::new(),
            to,
            also: Vec::new(),
            cites: None,
            reaches: 0,
            amended: false,
        }
    }

    fn treated(id: u32) -> Target {
        Target::Taxon { name: "Morvania".to_owned(), id: Some(TaxonId(id)) }
    }

    fn key(title: Option<&str>, couplets: Vec<[Target; 2]>) -> Key {
        let couplets = couplets
            .into_iter()
            .map(|leads| Couplet { label: String::new(), leads: leads.into_iter().map(lead).collect() });
        Key {
            id: KeyId(0),
            title: title.map(str::to_owned),
            scope: None,
            scope_id: None,
            page: Page(1),
            couplets: couplets.collect(),
        }
    }

    /// Checks what the leads of a key stand under, by the name of a family for each, in a book of grasses and sedges.
    #[track_caller]
    fn check_leads(key: &Key, expected: &[&[&str]]) {
        let taxa = vec![
            row(0, Rank::Family, "Gramineae", None),
            row(1, Rank::Family, "Cyperaceae", None),
            row(2, Rank::Genus, "Morvania", Some(0)),
        ];
        let contents = Contents { taxa, ..Contents::default() };
        let found = of_key(key, &contents, &of_taxa(&contents));
        let found: Vec<Vec<Groups>> =
            found.iter().map(|leads| leads.iter().map(|grounds| grounds.groups).collect()).collect();
        let told = |names: &&[&str]| names.iter().map(|name| Groups::told_by(name)).collect();
        let expected: Vec<Vec<Groups>> = expected.iter().map(told).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn a_lead_stands_under_the_group_that_all_of_its_ends_are_of() {
        let key = key(None, vec![[Target::Couplet(CoupletId(1)), treated(1)], [treated(2), treated(0)]]);
        check_leads(&key, &[&["Poaceae", "Cyperaceae"], &["Poaceae", "Poaceae"]]);
    }

    #[test]
    fn a_column_of_a_page_goes_on_with_what_the_one_before_ended_with() {
        let of = |genus: &str| Grounds { genus: Some(genus.to_owned()), ..Grounds::default() };
        let page = OnPage(vec![((0, 3), of("Morvania")), ((40, 5), of("Orrania"))]);
        let genus = |column, row| page.at(column, row).genus;
        assert_eq!(genus(0, 2), None);
        assert_eq!(genus(0, 3).as_deref(), Some("Morvania"));
        assert_eq!(genus(40, 0).as_deref(), Some("Morvania"));
        assert_eq!(genus(40, 6).as_deref(), Some("Orrania"));
    }

    #[test]
    fn the_title_of_a_key_goes_before_its_ends() {
        let key = key(Some("Key to the orchids"), vec![[treated(1), treated(2)]]);
        check_leads(&key, &[&["Orchidaceae", "Orchidaceae"]]);
    }

    #[test]
    fn a_key_that_leads_in_a_circle_or_nowhere_ends_in_no_group() {
        let key = key(None, vec![[Target::Couplet(CoupletId(0)), Target::Unresolved(String::new())]]);
        check_leads(&key, &[&["", ""]]);
    }
}
