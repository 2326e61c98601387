//! Amendments of headings: one that was missed, or is of another rank, and one that is none. The words themselves stay
//! in the order of the book; only what they belong to changes.

use crate::model::{
    Flora, Matter, MatterId, MatterKind, Page, Rank, ReadAs, Recognised, Section, SectionKind,
};
use crate::model::{Target, Taxon, TaxonId, Text};
use crate::name;
use crate::parse;

use super::find::{self, letters};
use super::{HeadingAt, renumber};

/// Where words stand that are to be a heading.
#[derive(Clone, Copy)]
enum Spot {
    /// In a section of a treatment, from a byte on.
    Section(TaxonId, usize, usize),
    /// In a paragraph of other matter, from a byte on.
    Paragraph(MatterId, usize, usize),
    /// The title of other matter.
    Title(MatterId),
}

/// Makes words the heading of a taxon, or gives a heading another rank.
pub(super) fn is_of(flora: &mut Flora, at: &HeadingAt, rank: Rank) -> Result<(), String> {
    if let Ok(id) = headed(flora, at) {
        flora.taxa[id.index()].rank = rank;
        flora.taxa[id.index()].amended = true;
        place_in_tree(flora, id);
        return Ok(());
    }
    let spot = spot(flora, at)?;
    let (paragraph, body, place) = cut_out(flora, spot);
    let page = paragraph.page();
    let id = place.unwrap_or_else(|| behind(flora, page));
    let before = &flora.taxa[..id.index()];
    let last = |rank: fn(Rank) -> bool| {
        before.iter().rev().find(|taxon| rank(taxon.rank)).map(|taxon| taxon.name.clone()).unwrap_or_default()
    };
    let context =
        (last(|rank| rank == Rank::Genus), last(|rank| matches!(rank, Rank::Species | Rank::Hybrid)));
    let mut taxon = parse::treated(&paragraph, rank, &context, body);
    taxon.amended = true;
    let words = taxon.heading.plain.clone();
    let id = enter(flora, id, taxon);
    mark(flora, page, &words, id);
    connect(flora, id);
    place_in_tree(flora, id);
    Ok(())
}

/// Finds the taxon that has the heading.
fn headed(flora: &Flora, at: &HeadingAt) -> Result<TaxonId, String> {
    let wanted = letters(&at.words);
    let found = flora.taxa.iter().filter(|taxon| {
        !taxon.heading.is_empty() && !wanted.is_empty() && find::begins(&taxon.heading.plain, &wanted)
    });
    let away = |page: Page| at.page.map_or(0, |hint| hint.abs_diff(page.0));
    let found = found.map(|taxon| {
        let longer = letters(&taxon.heading.plain) != wanted;
        ((longer, away(taxon.heading.page())), taxon.id)
    });
    find::nearest(found.collect(), "heading")
}

/// Finds where the words of a missed heading stand.
fn spot(flora: &Flora, at: &HeadingAt) -> Result<Spot, String> {
    let wanted = letters(&at.words);
    let away = |page: Page| at.page.map_or(0, |hint| hint.abs_diff(page.0));
    // Words at the start of a paragraph are a heading sooner than words in its midst.
    let mut found: Vec<((u32, bool), Spot)> = Vec::new();
    let mut look = |text: &Text, spot: &dyn Fn(usize) -> Spot| {
        for range in find::words_in(&text.plain, &wanted) {
            found.push(((away(text.page_at(range.start)), range.start > 0), spot(range.start)));
        }
    };
    for taxon in &flora.taxa {
        for (number, section) in taxon.sections.iter().enumerate() {
            look(&section.text, &|byte| Spot::Section(taxon.id, number, byte));
        }
    }
    for piece in &flora.matter {
        let title = Text::plain(&piece.title, piece.pages.0);
        if find::begins(&piece.title, &wanted) {
            look(&title, &|_| Spot::Title(piece.id));
        }
        for (number, paragraph) in piece.paragraphs.iter().enumerate() {
            look(paragraph, &|byte| Spot::Paragraph(piece.id, number, byte));
        }
    }
    found.sort_by_key(|(near, _)| *near);
    match found.as_slice() {
        [] => Err("no heading and no paragraph of the book has these words".to_owned()),
        [(one, _), (other, _), ..] if one == other => {
            Err("these words stand there more than once; write more of them".to_owned())
        }
        [(_, spot), ..] => Ok(*spot),
    }
}

/// Takes the paragraph of a heading and what stands below it out of where it was; also gives the place of the new taxon
/// where that is known from there.
fn cut_out(flora: &mut Flora, spot: Spot) -> (Text, Vec<Text>, Option<TaxonId>) {
    match spot {
        Spot::Section(id, number, byte) => {
            let taxon = &mut flora.taxa[id.index()];
            let mut later = taxon.sections.split_off(number).into_iter();
            let section = later.next();
            let own = section.as_ref().map(|section| section.text.clone()).unwrap_or_default();
            if let Some(section) = section {
                keep(&mut taxon.sections, section, byte);
            }
            parse::warn(taxon);
            taxon.pages.1 = own.page_at(byte).max(taxon.pages.0);
            let left = taxon.sections.len() as u32;
            renumber::marks(flora, &|read_as| match read_as {
                ReadAs::Section(of, at) if of == id && at >= left => None,
                other => Some(other),
            });
            let body = later.map(|section| with_heading(&section)).collect();
            (own.slice(byte..own.plain.len()), body, Some(TaxonId(id.0 + 1)))
        }
        Spot::Paragraph(id, number, byte) => {
            let piece = &mut flora.matter[id.index()];
            let mut later = piece.paragraphs.split_off(number).into_iter();
            let own = later.next().unwrap_or_default();
            let kept = own.slice(0..byte);
            if !kept.is_empty() {
                piece.paragraphs.push(kept);
            }
            piece.pages.1 = own.page_at(byte).max(piece.pages.0);
            if piece.paragraphs.is_empty() && piece.title.is_empty() {
                renumber::without_matter(flora, id);
            }
            (own.slice(byte..own.plain.len()), later.collect(), None)
        }
        Spot::Title(id) => {
            let piece = flora.matter[id.index()].clone();
            renumber::without_matter(flora, id);
            (Text::plain(&piece.title, piece.pages.0), piece.paragraphs, None)
        }
    }
}

/// Keeps what stands before a byte of a section, and its run-in heading in any case.
fn keep(sections: &mut Vec<Section>, section: Section, byte: usize) {
    let before = section.text.slice(0..byte);
    match (before.is_empty(), section.heading.clone()) {
        (false, _) => sections.push(Section { text: before, ..section }),
        (true, Some(heading)) => {
            let text = Text::plain(&heading, section.text.page());
            sections.push(Section { heading: None, text, ..section });
        }
        (true, None) => {}
    }
}

/// Returns a section with its run-in heading before it again.
fn with_heading(section: &Section) -> Text {
    let Some(heading) = &section.heading else { return section.text.clone() };
    let mark = if heading.ends_with(['.', ':']) { "" } else { ":" };
    Text::plain(&format!("{heading}{mark}"), section.text.page()).followed_by(&section.text)
}

/// Returns the place of a taxon whose heading stands on a page outside of all treatments.
fn behind(flora: &Flora, page: Page) -> TaxonId {
    let after = flora.taxa.iter().position(|taxon| taxon.pages.0 > page);
    TaxonId(after.unwrap_or(flora.taxa.len()) as u32)
}

/// Puts a taxon in its place, or in that of a genus that had species but no heading.
fn enter(flora: &mut Flora, at: TaxonId, taxon: Taxon) -> TaxonId {
    let folded = name::fold(&taxon.name);
    let bare = |other: &&Taxon| other.heading.is_empty() && name::fold(&other.name) == folded;
    if let Some(id) = flora.taxa.iter().find(bare).map(|other| other.id) {
        let parent = flora.taxa[id.index()].parent;
        flora.taxa[id.index()] = Taxon { id, parent, ..taxon };
        return id;
    }
    renumber::taxa(flora, &|id| Some(if id >= at { TaxonId(id.0 + 1) } else { id }));
    flora.taxa.insert(at.index(), taxon);
    for (number, taxon) in flora.taxa.iter_mut().enumerate() {
        taxon.id = TaxonId(number as u32);
    }
    at
}

/// Marks the heading on its page as printed: in the row that has most of its words.
fn mark(flora: &mut Flora, page: Page, words: &str, id: TaxonId) {
    let Some(page) = (page.0 as usize).checked_sub(1).and_then(|at| flora.pages.get_mut(at)) else { return };
    let ends: Vec<usize> = words.match_indices(' ').map(|(at, _)| at).chain([words.len()]).collect();
    let found = ends.iter().rev().find_map(|end| {
        let wanted = letters(&words[..*end]);
        let rows = page.set.iter().enumerate();
        rows.map(|(row, set)| (row, find::words_in(&set.plain, &wanted)))
            .find_map(|(row, ranges)| Some((row, ranges.into_iter().next()?)))
    });
    if let Some((row, range)) = found {
        let (row, start, end) = (row as u32, range.start as u32, range.end as u32);
        page.recognised.retain(|mark| !(mark.row == row && mark.start < end && start < mark.end));
        let behind = page.recognised.iter().position(|mark| mark.row > row);
        let mark = Recognised { row, start, end, read_as: ReadAs::Heading(id) };
        page.recognised.insert(behind.unwrap_or(page.recognised.len()), mark);
    }
}

/// Lets leads and keys that name a taxon without a treatment lead to the treatment found.
fn connect(flora: &mut Flora, new: TaxonId) {
    let folded = name::fold(&flora.taxa[new.index()].name);
    for key in &mut flora.keys {
        if key.scope_id.is_none() && key.scope.as_ref().is_some_and(|scope| name::fold(scope) == folded) {
            key.scope_id = Some(new);
        }
        for lead in key.couplets.iter_mut().flat_map(|couplet| &mut couplet.leads) {
            for target in std::iter::once(&mut lead.to).chain(&mut lead.also) {
                match target {
                    Target::Taxon { name, id: id @ None } if name::fold(name) == folded => *id = Some(new),
                    Target::Taxon { .. } | Target::Couplet(_) | Target::Key(_) | Target::Unresolved(_) => {}
                }
            }
        }
    }
}

/// Gives a taxon its parent, and itself as parent to those after it that belong below it.
fn place_in_tree(flora: &mut Flora, id: TaxonId) {
    flora.taxa[id.index()].parent = parent(&flora.taxa, id);
    let rank = flora.taxa[id.index()].rank;
    let behind = &flora.taxa[id.index() + 1..];
    let members = behind.iter().take_while(|taxon| taxon.rank > rank).map(|taxon| taxon.id);
    let own: Vec<TaxonId> = members.filter(|member| parent(&flora.taxa, *member) == Some(id)).collect();
    for member in own {
        flora.taxa[member.index()].parent = Some(id);
    }
}

/// Finds the parent of a taxon among those before it.
fn parent(taxa: &[Taxon], id: TaxonId) -> Option<TaxonId> {
    let (own, before) = (&taxa[id.index()], &taxa[..id.index()]);
    let last =
        |fits: &dyn Fn(&Taxon) -> bool| before.iter().rev().find(|taxon| fits(taxon)).map(|taxon| taxon.id);
    let folded = name::fold(&own.name);
    let named = |words: usize| {
        let wanted = folded.split(' ').take(words).collect::<Vec<_>>().join(" ");
        last(&|taxon: &Taxon| name::fold(&taxon.name) == wanted)
    };
    let family = || last(&|taxon: &Taxon| taxon.rank == Rank::Family);
    match own.rank {
        Rank::Family => None,
        Rank::Subfamily | Rank::Tribe | Rank::Genus => family(),
        Rank::Subgenus | Rank::Section => {
            last(&|taxon: &Taxon| matches!(taxon.rank, Rank::Genus | Rank::Family))
        }
        Rank::Species | Rank::Hybrid => named(1).or(own.parent),
        Rank::Subspecies | Rank::Variety | Rank::Form => named(2).or_else(|| named(1)).or(own.parent),
    }
}

/// Gives a heading and what stands below it back to the treatment before, or to the matter of the book.
pub(super) fn is_none(flora: &mut Flora, at: &HeadingAt) -> Result<(), String> {
    let id = headed(flora, at)?;
    let gone = flora.taxa[id.index()].clone();
    let heir = flora.taxa[..id.index()].iter().rev().find(|taxon| !taxon.heading.is_empty());
    let heir = heir.map(|taxon| taxon.id);
    flora.taxa.remove(id.index());
    let children: Vec<usize> =
        (0..flora.taxa.len()).filter(|at| flora.taxa[*at].parent == Some(id)).collect();
    renumber::taxa(flora, &|other| match other.cmp(&id) {
        std::cmp::Ordering::Less => Some(other),
        std::cmp::Ordering::Equal => None,
        std::cmp::Ordering::Greater => Some(TaxonId(other.0 - 1)),
    });
    for child in children {
        flora.taxa[child].parent = gone.parent.filter(|parent| *parent < id);
        flora.taxa[child].parent = parent(&flora.taxa, TaxonId(child as u32)).or(flora.taxa[child].parent);
    }
    match heir {
        Some(heir) => inherit(&mut flora.taxa[heir.index()], gone),
        None => flora.matter.push(as_matter(&gone, flora.matter.len())),
    }
    Ok(())
}

/// Puts a heading that is none, and what stands below it, at the end of a treatment.
fn inherit(heir: &mut Taxon, gone: Taxon) {
    let mut sections = gone.sections.into_iter().peekable();
    let first = sections.next_if(|section| section.heading.is_none());
    let text = first.map_or(gone.heading.clone(), |first| gone.heading.followed_by(&first.text));
    heir.sections.push(Section { kind: SectionKind::Notes, heading: None, text });
    heir.sections.extend(sections);
    parse::warn(heir);
    heir.pages.1 = heir.pages.1.max(gone.pages.1);
    heir.amended = true;
}

fn as_matter(gone: &Taxon, at: usize) -> Matter {
    Matter {
        id: MatterId(at as u32),
        kind: MatterKind::Other,
        title: gone.heading.plain.clone(),
        pages: gone.pages,
        paragraphs: gone.sections.iter().map(with_heading).collect(),
    }
}
